"""What every sheet of a packet shares: paper, title block, words, and tables over pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from leafwright.paper.layout import Caution, Table
from leafwright.paper.scale import System
from leafwright.paper.sheet import PAPER_SIZES, PaperSize, Sheet, area
from leafwright.paper.sheets.flow import Block, Rows, Says, Title, flowed
from leafwright.paper.strip import TitleBlock
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, words_of
from leafwright.survey import Survey

#: On these a tall drawing stands upright.
SMALL_PAPERS = ("Letter", "A4")


@dataclass(frozen=True, slots=True)
class Desk:
    """What a sheet is drawn with: the plan, its words, the paper and the scales.

    ``size`` lies flat, for tables; ``drawing_size`` is how a sheet with a drawing is held.
    """

    plan: Plan
    words: Words
    size: PaperSize
    drawing_size: PaperSize
    scales: System


def desk(made: Plan) -> Desk:
    """Return what a plan's sheets are drawn with; the paper is the job's, or its family's usual."""
    metric = made.job.job.system == "metric"
    paper = PAPER_SIZES[made.job.job.paper or ("A3" if metric else "Tabloid")]
    flat = paper.landscape
    # A tall opening on a small sheet wants the sheet upright; on a large one words stand beside it.
    upright = _is_tall(made.survey) and paper.name in SMALL_PAPERS
    scales: System = "metric" if metric else "imperial"
    return Desk(made, words_of(made.job), flat, paper if upright else flat, scales)


def _is_tall(found: Survey | Held) -> bool:
    """Return whether the opening is higher than it is wide."""
    if isinstance(found, Held):
        return False
    xs = [m.at[0] for m in found.marks]
    ys = [m.at[1] for m in found.marks if not m.name.startswith("plane ")]
    return max(ys) - min(ys) > max(xs) - min(xs)


def survey_words(found: Survey | Held) -> str:
    """Return how far the readings can be trusted, in a word or two."""
    return "not found" if isinstance(found, Held) else found.agreement


def blank(
    at: Desk,
    title: str,
    *,
    cautions: Sequence[Caution] = (),
    seen: bool = True,
    drawing: bool = False,
) -> Sheet:
    """Return a sheet without content.

    Args:
        at: the plan and its paper.
        title: what the sheet shows.
        cautions: what can hurt where this sheet is in the hand.
        seen: whether it shows anything that has a left and a right.
        drawing: whether a drawing is most of it.
    """
    job = at.plan.job.job
    metric = job.system == "metric"
    surveyed = f", {job.surveyed.isoformat()}" if job.surveyed else ""
    block = TitleBlock(
        job=job.name,
        seen_from=job.seen_from if seen else "–",
        units="millimetres" if metric else f"feet and inches to 1/{at.words.tape.per}",
        survey=survey_words(at.plan.survey) + surveyed,
        revision=job.revision,
    )
    why = at.plan.stops[0].why if at.plan.stops else ""
    return Sheet(
        title,
        at.drawing_size if drawing else at.size,
        block=block,
        cautions=tuple(cautions),
        not_for_cutting=not at.plan.for_cutting,
        why=why,
    )


def as_noted(sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """Return sheets whose drawings stand among words, each with its own scale beneath it."""
    first = sheets[0]
    return (replace(first, block=replace(first.block, scale="as noted")), *sheets[1:])


def table_sheets(
    first: Sheet, later: Sheet, table: Table, *, name: str = "", note: str = ""
) -> tuple[Sheet, ...]:
    """Return sheets that hold a whole table, the header repeated on each.

    Args:
        first: the sheet that it starts on.
        later: the sheet, without content, that it goes on over.
        table: the table; it is widened to the sheet.
        name: a heading over it.
        note: a paragraph over it.
    """
    blocks: list[Block] = [Title(name, 4.0)] if name else []
    blocks += [Says(note)] if note else []
    return flowed(first, area(first), lambda: later, [*blocks, Rows(table)])


def title_of_leaf(key: str) -> str:
    """Return how a sheet calls a leaf."""
    return "The leaf" if key == "leaf" else f"{key.capitalize()} leaf"
