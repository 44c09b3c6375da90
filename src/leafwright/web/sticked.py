"""Sticks on the page: what to buy and what it costs, each stick as it is cut, and what if."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from leafwright.documents.sticks import (
    STRAIGHT_RULE,
    CaseTold,
    StickTold,
    asked_words,
    buy_words,
    case_told,
    items_by_mark,
    least_words,
    nest_document,
    no_case_words,
    steel_name,
    sticks_told,
    unpriced_words,
    use_words,
)
from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing
from leafwright.paper.font import text_width
from leafwright.paper.scene import Box, Line, Polyline, Primitive, Scene, Text
from leafwright.paper.sheets.sticks import placed_outline
from leafwright.pipeline import Plan
from leafwright.say import Words, sentence, words_of
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.nest import Layout, Nest
from leafwright.shop.stock import Stock
from leafwright.shop.what_if import Asked
from leafwright.web.pictures import svg_of, touchable

STICK_WIDE, STICK_HIGH = 80.0, 8.0

#: How a question is asked in the address: these words, or `OUT` and what is out.
SHORT, RACK, OUT = "short", "rack", "out:"


@dataclass(frozen=True, slots=True)
class StickRow:
    """One stick: what it is, the picture of its pieces, and where the tape reads."""

    told: StickTold
    picture: Markup


@dataclass(frozen=True, slots=True)
class SectionRow:
    """One section to buy; ``held`` says why it could not be laid out.

    ``uses`` are the lines of the buying list: how many, which, what they weigh and cost.
    """

    name: str
    buy: str
    least: str
    unpriced: str
    uses: tuple[tuple[str, str, str, str], ...]
    straight: str
    sticks: tuple[StickRow, ...]
    held: str


def section_rows(made: Plan, page: str) -> tuple[SectionRow, ...]:
    """Return what to buy and how each stick is cut."""
    if not (isinstance(made.stock, Stock) and isinstance(made.cuts, CutList)):
        return ()
    words = words_of(made.job)
    pieces = items_by_mark(made.cuts)
    currency = made.stock.currency
    rows = []
    for one in made.stock.sections:
        name = steel_name(one)
        if not isinstance(one.nest, Nest):
            needs = f" It needs {'; '.join(one.nest.needs)}." if one.nest.needs else ""
            held = f"{sentence(one.nest.why)}.{needs}"
            rows.append(SectionRow(name, "", "", "", (), "", (), held))
            continue
        longest = max((layout.stick.length for layout in one.nest.layouts), default=1.0)
        told = sticks_told(one, words)
        rows.append(
            SectionRow(
                name,
                f"{buy_words(one)}, {words.mass(one.mass)}",
                sentence(least_words(one, words, currency)),
                unpriced_words(one),
                tuple(use_words(use, words, currency) for use in one.sticks),
                STRAIGHT_RULE if any(stick.straight for stick in told) else "",
                tuple(
                    StickRow(stick, _picture(stick, layout, pieces, longest, words, page))
                    for stick, layout in zip(told, one.nest.layouts, strict=True)
                ),
                "",
            )
        )
    return tuple(rows)


def _picture(
    stick: StickTold,
    layout: Layout,
    pieces: dict[str, CutItem],
    longest: float,
    words: Words,
    page: str,
) -> Markup:
    """Return a stick on its stands, each piece with its ends as sawn and a link to its numbers."""
    k = STICK_WIDE / longest
    end = k * layout.stick.length
    top = 3.0 + STICK_HIGH
    items: list[Primitive] = [
        Polyline(((0.0, 3.0), (end, 3.0), (end, top), (0.0, top)), "thin", closed=True)
    ]
    for share in (0.1, 0.9):
        x = share * end
        items.append(Polyline(((x - 1.6, 0.2), (x, 3.0), (x + 1.6, 0.2)), "thin"))
    for cut in layout.cuts:
        item = pieces[cut.key]
        wide = item.section.width
        shape = tuple((k * x, 3.0 + STICK_HIGH * u / wide) for x, u in placed_outline(cut, item))
        items.append(Polyline(shape, "cut", closed=True, key=cut.key))
        if cut.shared:
            near = len((item.end if cut.reversed else item.start).offsets)
            items.append(Line(shape[0], shape[near - 1], "border"))
        room = k * cut.length - k * sum(
            max(s for _, s in one.offsets) for one in (item.start, item.end)
        )
        shown = f"{cut.key} {words.length(cut.length)}"
        if text_width(shown, 2.4) > room - 1.5:
            shown = cut.key if text_width(cut.key, 2.4) < room - 1.0 else ""
        if shown:
            at = (k * (cut.start + cut.length / 2), 3.0 + STICK_HIGH / 2)
            items.append(Text(at, shown, height_mm=2.4, anchor="centre-middle"))
    page_box = Box(-0.6, 0.0, STICK_WIDE + 0.6, top + 0.6)
    moved = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (0.6, 0.0))))
    told = f"Stick {stick.number}: {stick.label}"
    scene = Scene(told, page_box.width, page_box.height, page_box, page_box, moved)
    names = {cut.key: f"{cut.key}, {words.length(cut.length)}" for cut in layout.cuts}
    svg = svg_of(scene, title=told, description="Its pieces in cutting order from the left")
    return touchable(svg, names, "", page)


# ---------------------------------------------------------------- what if


@dataclass(frozen=True, slots=True)
class WhatIfShown:
    """The question that is asked, the ones that can be, and what comes of it."""

    now: str
    ways: tuple[tuple[str, str], ...]
    asked: str
    cases: tuple[CaseTold, ...]
    nothing: str


def what_if_values(made: Plan, asked: Mapping[str, str]) -> WhatIfShown | None:
    """Return the questions about the sticks, and the answer to the one in the address."""
    if not (isinstance(made.stock, Stock) and isinstance(made.cuts, CutList)):
        return None
    ways = [("", "all of it comes as planned"), (SHORT, "one stick does not come")]
    out: dict[str, str] = {}
    for one in made.stock.sections:
        for use in one.sticks:
            if use.kind != "new":
                continue
            label = use.label.split(" from ")[0]
            out[f"{OUT}{label}"] = f"{label} is not to be had"
            if use.supplier:
                out[f"{OUT}{use.supplier}"] = f"{use.supplier} is shut"
    ways += list(out.items())
    ways.append((RACK, "nothing can be bought: only the rack"))
    now = asked.get("stick", "")
    question = _question(now)
    if question is None or now not in dict(ways):
        return WhatIfShown("", tuple(ways), "", (), "")
    answer = nest_document(made, question).what_if
    words = words_of(made.job)
    cases = tuple(
        case_told(case, words, made.stock.currency) for case in (answer.cases if answer else ())
    )
    nothing = "" if cases else no_case_words(question)
    return WhatIfShown(now, tuple(ways), asked_words(question), cases, nothing)


def _question(now: str) -> Asked | None:
    if now == SHORT:
        return Asked("short")
    if now == RACK:
        return Asked("rack only")
    return Asked("without", what=now.removeprefix(OUT)) if now.startswith(OUT) else None
