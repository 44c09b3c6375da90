"""Templates at true scale to wrap round the ends of round tube, with their stations in figures."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.font import text_width
from leafwright.paper.layout import Column, Table, heading, laid_table, paragraph
from leafwright.paper.scene import Box, Line, Polyline, Text
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.cuts import SAW
from leafwright.records import Held, Point2
from leafwright.say import WRAPPED, end_words, wrap_note, wrap_rows
from leafwright.shop.cut_list import CutItem
from leafwright.shop.wraps import STATIONS, Wrap

#: Straight paper under the farthest place of the line [m].
UNDER = 0.030
#: Room over the long point line for words [m].
OVER = 0.012
#: Height at its foot that is kept for what is written on it [m].
FOOT = 0.009
#: By so much two parts of one template lap [m].
LAP = 0.015
#: Width kept for words, stations and the test square [mm].
BESIDE = 108.0
#: Side of the test square [m].
TEST = {"feet-inch": 4 * 0.0254, "mm": 0.100}


def wrapped_ends(at: Desk) -> tuple[tuple[CutItem, str, Wrap], ...]:
    """Return every end of round tube that is not square: its piece, which end, its template."""
    cuts = at.plan.cuts
    if isinstance(cuts, Held):
        return ()
    return tuple(
        (item, name, end.wrap)
        for item in cuts.items
        for name, end in (("left end", item.start), ("right end", item.end))
        if end.wrap is not None
    )


def template(wrap: Wrap, told: str, *, start: float = 0.0, stop: float | None = None) -> Drawing:
    """Return a template, or the part of it between two places round the tube, at true size [m].

    x runs round the tube from the seam, y = 0 is the long point line, the end is up.

    Args:
        wrap: the template.
        told: what is written on it: marks, end and steel.
        start: where this part begins [m].
        stop: where it ends, once round without it [m].
    """
    last = wrap.around if stop is None else stop
    low = -wrap.back - UNDER
    inside = [p for p in wrap.line if start < p[0] < last]
    line = (_at(wrap.line, start), *inside, _at(wrap.line, last))
    items: list[DrawingItem] = [
        Polyline(tuple((x, -back) for x, back in line), "cut"),
        Line((start, 0.0), (last, 0.0), "thin"),
        Line((start, low), (last, low), "cut"),
    ]
    names = {0: "SEAM, LOWER EDGE", 4: wrap.first.upper(), 8: "UPPER EDGE", 16: "SEAM"}
    names[12] = "BACK" if wrap.first == "face" else "FACE"
    for n in range(STATIONS + 1):
        x = wrap.around * n / STATIONS
        if not start - 1e-9 <= x <= last + 1e-9:
            continue
        seam = n in (0, STATIONS)
        top = OVER if n in names else 0.0
        foot = low if seam else low + FOOT
        items.append(Line((x, foot), (x, top), "cut" if seam else "thin"))
        right = x > last - 0.02
        side, anchor = (-0.001, "right-bottom") if right else (0.001, "left-bottom")
        places = [(str(n % STATIONS), 0.001)]
        if n in names:
            places.append((names[n], 0.006))
        for shown, y in places:
            items.append(Text((x + side, y), shown, height_mm=2.4, anchor=anchor))  # type: ignore[arg-type]
    if 1000.0 * (last - start) < text_width(told, 2.6) + 12.0:
        told = ""
    if told:
        where = (start + 0.006, low + 0.003)
        items.append(Text(where, told, height_mm=2.6, anchor="left-bottom", bold=True))
    for x in (start, last):
        if 1e-9 < x < wrap.around - 1e-9:
            items += _register(x + (LAP / 2 if x == start else -LAP / 2), low + 0.016)
    return Drawing(tuple(items))


def _at(line: Sequence[Point2], x: float) -> Point2:
    """Return the place of a template's line at a distance round [m]."""
    for (x0, s0), (x1, s1) in itertools.pairwise(line):
        if x0 - 1e-12 <= x <= x1 + 1e-12:
            return (x, s0 + (s1 - s0) * (x - x0) / (x1 - x0))
    return line[-1]


def _register(x: float, y: float) -> list[DrawingItem]:
    """Return a cross that two lapping parts are laid on each other by [m]."""
    arm = 0.005
    return [Line((x - arm, y), (x + arm, y), "cut"), Line((x, y - arm), (x, y + arm), "cut")]


def wrap_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the templates at true scale, each over as many sheets as it needs."""
    sheets: list[Sheet] = []
    for item, name, wrap in wrapped_ends(at):
        sheets += _sheets_of(at, item, name, wrap)
    return tuple(sheets)


def _sheets_of(at: Desk, item: CutItem, name: str, wrap: Wrap) -> list[Sheet]:
    sheet = blank(at, "Template to wrap", cautions=(SAW,), seen=False)
    sheet = replace(sheet, block=replace(sheet.block, scale="full size, 1:1"))
    room = area(sheet)
    wide = (room.width - BESIDE) / 1000.0
    high = room.height / 1000.0
    marks = ", ".join(item.marks)
    told = f"{marks}: {name} · {item.section.designation} · THIS SIDE OUT, END UP"
    fits = wrap.back + UNDER + OVER <= high
    parts = _parts(wrap.around, wide) if fits else [(0.0, 0.0)]
    sheets = []
    for number, (start, stop) in enumerate(parts, start=1):
        items: list[DrawingItem] = []
        left = room.right - BESIDE + 8.0
        of = f", part {number} of {len(parts)}" if len(parts) > 1 else ""
        _beside(at, item, name, wrap, Box(left, room.bottom, room.right, room.top), of, items)
        if fits:
            paper = Paper(1000.0, (room.left - 1000.0 * start, room.top - 1000.0 * OVER))
            items += on_paper(template(wrap, told, start=start, stop=stop), paper)
        else:
            text = (
                "This end is cut back farther than this sheet is high: lay it out by the stations, "
                "or print the DXF that goes with the packet on larger paper."
            )
            items += paragraph(text, left=room.left, top=room.top, width=1000 * wide).items
        sheets.append(replace(sheet, items=tuple(items)))
    return sheets


def _parts(around: float, wide: float) -> list[tuple[float, float]]:
    """Return from where to where each part of a template goes, lapping by `LAP` [m]."""
    parts = []
    start = 0.0
    while start + wide < around:
        parts.append((start, start + wide))
        start += wide - LAP
    return [*parts, (start, around)]


def _beside(
    at: Desk, item: CutItem, name: str, wrap: Wrap, box: Box, of: str, items: list[DrawingItem]
) -> None:
    """Put the words, the stations and the test square beside a template."""
    words = at.words
    end = item.start if name == "left end" else item.end
    head = heading(
        f"{', '.join(item.marks)}, {name}{of}",
        left=box.left,
        top=box.top,
        width=box.width,
        height_mm=3.6,
    )
    items += head.items
    text = (
        f"{end_words(end)}. {words.length(wrap.around)} once round. {WRAPPED} "
        f"{wrap_note(wrap, words)} Serves every piece "
        "named; turned over, its seam still lies on the edge that is lower as drawn."
    )
    laid = paragraph(text, left=box.left, top=head.bottom, width=box.width, height_mm=2.5)
    items += laid.items
    rows = [(station.split()[0], around, back) for station, around, back in wrap_rows(wrap, words)]
    half = (box.width - 4.0) / 2
    for n, part in enumerate((rows[: STATIONS // 2], rows[STATIONS // 2 :])):
        table = Table(
            (
                Column("No.", 9.0),
                Column("Round to the right", half / 2 - 4.5, align="right"),
                Column("Back from long point", half / 2 - 4.5, align="right", bold=True),
            ),
            tuple(part),
            height_mm=2.3,
        )
        left = box.left + n * (half + 4.0)
        items += laid_table(table, left=left, top=laid.bottom - 2.0, bottom=box.bottom).items
    _test_square(at, box, items)


def _test_square(at: Desk, box: Box, items: list[DrawingItem]) -> None:
    """Put two sides of a square, the test of a printer's scale."""
    side = 1000.0 * TEST[at.words.system]
    told = "4 in" if at.words.system == "feet-inch" else "100 mm"
    left, low = box.left - 6.0, box.bottom
    items.append(Line((left, low), (left, low + side), "cut"))
    items.append(Line((left, low), (left + side, low), "cut"))
    for x, y in ((left, low + side), (left + side, low)):
        items.append(Line((x - 1.5, y - 1.5), (x + 1.5, y + 1.5), "cut"))
    items.append(
        Text(
            (left + 2.0, low + 1.0),
            f"TEST SQUARE: each side exactly {told}",
            height_mm=2.4,
            anchor="left-bottom",
        )
    )
