"""What every sheet of a packet shares: paper, title block, words, and tables over pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leafwright.paper.drawing import DrawingItem
from leafwright.paper.layout import Caution, Table, heading, laid_table, paragraph, widened
from leafwright.paper.scale import System
from leafwright.paper.scene import Box
from leafwright.paper.sheet import PAPER_SIZES, PaperSize, Sheet, area
from leafwright.paper.strip import TitleBlock
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, words_of
from leafwright.survey import Survey


@dataclass(frozen=True, slots=True)
class Desk:
    """What a sheet is drawn with: the plan, its words, the paper and the scales."""

    plan: Plan
    words: Words
    size: PaperSize
    scales: System


def desk(made: Plan) -> Desk:
    """Return what a plan's sheets are drawn with; the paper is the job's, or its family's usual."""
    metric = made.job.job.system == "metric"
    name = made.job.job.paper or ("A3" if metric else "Tabloid")
    size = PAPER_SIZES[name].landscape
    return Desk(made, words_of(made.job), size, "metric" if metric else "imperial")


def survey_words(found: Survey | Held) -> str:
    """Return how far the readings can be trusted, in a word or two."""
    return "not found" if isinstance(found, Held) else found.agreement


def blank(
    at: Desk,
    title: str,
    *,
    cautions: Sequence[Caution] = (),
    seen: bool = True,
    steel: bool = False,
) -> Sheet:
    """Return a sheet without content.

    Args:
        at: the plan and its paper.
        title: what the sheet shows.
        cautions: what can hurt where this sheet is in the hand.
        seen: whether it shows anything that has a left and a right.
        steel: whether steel is cut or fitted by it, so that a stop marks it not for cutting.
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
    stops = at.plan.stops
    held = isinstance(at.plan.cuts, Held) and not stops
    why = stops[0].why if stops else "a part of the plan is held" if held else ""
    return Sheet(
        title,
        at.size,
        block=block,
        cautions=tuple(cautions),
        not_for_cutting=steel and bool(why),
        why=why if steel else "",
    )


def with_items(sheet: Sheet, items: Sequence[DrawingItem]) -> Sheet:
    """Return the sheet with more items on it."""
    return replace(sheet, items=(*sheet.items, *items))


def table_sheets(
    first: Sheet, later: Sheet, table: Table, *, name: str = "", note: str = ""
) -> tuple[Sheet, ...]:
    """Return sheets that hold a whole table, the header repeated on each.

    Args:
        first: the sheet that it starts on.
        later: the sheet, without content, that it goes on over.
        table: the table; it is widened to the sheet.
        name: a heading over it on every sheet.
        note: a paragraph over it on the first sheet.
    """
    sheets: list[Sheet] = []
    rest: Table | None = widened(table, area(first).width)
    sheet = first
    while rest is not None:
        room = area(sheet)
        top = room.top
        items: list[DrawingItem] = []
        if name:
            words = name if not sheets else f"{name}, continued"
            laid_heading = heading(words, left=room.left, top=top, width=room.width)
            items += laid_heading.items
            top = laid_heading.bottom - 2.0
        if note and not sheets:
            words_over = paragraph(note, left=room.left, top=top, width=room.width, height_mm=2.8)
            items += words_over.items
            top = words_over.bottom - 3.0
        laid = laid_table(rest, left=room.left, top=top, bottom=room.bottom)
        sheets.append(with_items(sheet, [*items, *laid.items]))
        rest, sheet = laid.rest, later
    return tuple(sheets)


def title_of_leaf(key: str) -> str:
    """Return how a sheet calls a leaf."""
    return "The leaf" if key == "leaf" else f"{key.capitalize()} leaf"


Side = Literal["left", "right"]


def halves(room: Box, left: float, right: float) -> tuple[Box, Box]:
    """Return a room divided in two beside each other, with air between [mm]."""
    gap = 8.0
    width = (room.width - gap) * left / (left + right)
    return (
        Box(room.left, room.bottom, room.left + width, room.top),
        Box(room.left + width + gap, room.bottom, room.right, room.top),
    )
