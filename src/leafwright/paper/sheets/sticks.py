"""The stick map: what to buy, and each stick with its pieces in cutting order, ends as sawn."""

from __future__ import annotations

from dataclasses import replace

from leafwright.documents.sticks import (
    STRAIGHT_RULE,
    buy_words,
    items_by_mark,
    least_words,
    steel_name,
    unpriced_words,
    wants_straight,
)
from leafwright.paper.drawing import DrawingItem
from leafwright.paper.font import text_width
from leafwright.paper.layout import heading, paragraph
from leafwright.paper.scene import Box, Line, Polyline, Text
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.cuts import SAW
from leafwright.records import Held, Point2
from leafwright.say import kerf_words, sentence
from leafwright.shop.cut_list import CutItem
from leafwright.shop.nest import Cut, Layout, Nest
from leafwright.shop.stock import SectionStock, Stock

#: A stick with less left over than this is cut with care [m].
NO_SLIP = 0.025
#: How high a stick is drawn, and how much of the sheet it takes with its marks [mm].
TALL, ROW = 6.0, 26.0
#: Figures on the map [mm]: marks of pieces, and where the tape reads.
FIGURES = 2.8


def placed_outline(cut: Cut, item: CutItem) -> tuple[Point2, ...]:
    """Return a piece's outline as it lies in its stick: along from the hooked end, across [m]."""
    wide = item.section.width
    near, far = (item.end, item.start) if cut.reversed else (item.start, item.end)

    def profile(offsets: tuple[Point2, ...]) -> list[Point2]:
        if not cut.over:
            return list(offsets)
        return [(wide - u, s) for u, s in reversed(offsets)]

    end = cut.start + cut.length
    return (
        *((cut.start + s, u) for u, s in profile(near.offsets)),
        *((end - s, u) for u, s in reversed(profile(far.offsets))),
    )


def stick_items(
    at: Desk,
    label: str,
    layout: Layout,
    pieces: dict[str, CutItem],
    box: Box,
    k: float,
) -> list[DrawingItem]:
    """Return one stick on its stands, its pieces with their ends as sawn, and its running marks.

    Args:
        at: the plan and how it is written.
        label: what the stick is called.
        layout: the stick.
        pieces: the line of the cut list of each mark.
        box: where it is drawn [mm].
        k: paper per length [mm/m].
    """
    words = at.words
    base = box.top - 5.5 - TALL
    end = box.left + k * layout.stick.length
    items: list[DrawingItem] = [
        Polyline(Box(box.left, base, end, base + TALL).corners, "thin", closed=True)
    ]
    for share in (0.12, 0.88):
        x = box.left + share * (end - box.left)
        items.append(Polyline(((x - 2.0, base - 3.6), (x, base), (x + 2.0, base - 3.6)), "thin"))
    for cut in layout.cuts:
        items += _piece(at, cut, pieces[cut.key], box.left, base, k)
    items += _marks(at, layout, box, base, k)
    straight = " – pick it straight" if wants_straight(layout) else ""
    above, told = base + TALL + 1.3, f"{label}{straight}"
    items.append(Text((box.left, above), told, height_mm=FIGURES, anchor="left-bottom", bold=True))
    drop = f"drop {words.length(layout.drop)}" if layout.drop > 0.001 else "no drop"
    if layout.drop < NO_SLIP:
        drop += ": no room for a slip"
    shared = sum(cut.shared for cut in layout.cuts)
    if shared:
        drop = f"{shared} shared {'cut' if shared == 1 else 'cuts'}, {drop}"
    # Over a short stick it stands behind the name, past the stick's end.
    free = box.left + text_width(told, FIGURES, bold=True) + 4.0
    if end - text_width(drop, FIGURES) >= free:
        items.append(Text((end, above), drop, height_mm=FIGURES, anchor="right-bottom"))
    else:
        items.append(Text((free, above), drop, height_mm=FIGURES, anchor="left-bottom"))
    return items


def _piece(
    at: Desk, cut: Cut, item: CutItem, left: float, base: float, k: float
) -> list[DrawingItem]:
    wide = item.section.width
    corners = placed_outline(cut, item)
    shape = tuple((left + k * x, base + TALL * u / wide) for x, u in corners)
    items: list[DrawingItem] = [Polyline(shape, "cut", closed=True, key=cut.key)]
    if cut.shared:
        # A shared cut is drawn heavy across the stick.
        across = len(item.start.offsets)
        start = shape[: len(item.end.offsets) if cut.reversed else across]
        items.append(Line(start[0], start[-1], "border"))
    reach = k * sum(max(s for _, s in e.offsets) for e in (item.start, item.end))
    text = f"{cut.key}  {at.words.length(cut.length)}"
    room = k * cut.length - reach - 2.0
    height = FIGURES
    if text_width(text, height) > room:
        text = cut.key
    if text_width(text, height) > room:
        height = 2.2
    items.append(
        Text(
            (left + k * (cut.start + cut.length / 2), base + TALL / 2),
            text,
            height_mm=height,
            anchor="centre-middle",
        )
    )
    return items


def _marks(at: Desk, layout: Layout, box: Box, base: float, k: float) -> list[DrawingItem]:
    """Return where the tape, hooked at the left end once, reads at each long point.

    Where two pieces lie a saw cut apart both reads stand there, end of one over start of next.
    """
    items: list[DrawingItem] = []
    left = box.left
    free = [left - 100.0, left - 100.0]
    first = layout.cuts[0].start
    reads = [(first, f"{at.words.length(first)}")] if first > 0 else []
    for n, cut in enumerate(layout.cuts):
        here = cut.start + cut.length
        text = at.words.length(here)
        if n + 1 < len(layout.cuts):
            following = layout.cuts[n + 1]
            sign = "«" if following.shared else "|"
            text = f"{text} {sign} {at.words.length(following.start)}"
        reads.append((here, text))
    for place, text in reads:
        x = left + k * place
        width = text_width(text, FIGURES)
        from_x = min(max(left, x - width / 2), box.right - width)
        row = 0 if from_x > free[0] + 1.5 else 1
        if row == 1 and from_x <= free[1] + 1.5:
            from_x = free[1] + 1.5
        free[row] = from_x + width
        y = base - 4.6 - row * 3.8
        items.append(Line((x, base), (x, y + 0.8), "thin"))
        items.append(Text((from_x, y), text, height_mm=FIGURES, anchor="left-top"))
    return items


def _section_words(at: Desk, one: SectionStock, stock: Stock) -> str:
    least = least_words(one, at.words, stock.currency)
    return f"{steel_name(one)}: {buy_words(one)} ({at.words.mass(one.mass)}); {least}"


def stick_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the stick map: what to buy, and each stick with its pieces in cutting order."""
    stock, cuts = at.plan.stock, at.plan.cuts
    if isinstance(stock, Held) or isinstance(cuts, Held):
        return ()
    pieces = items_by_mark(cuts)
    sheet = blank(at, "Sticks to buy and cut", cautions=(SAW,), seen=False)
    room = area(sheet)
    sheets: list[Sheet] = []
    items: list[DrawingItem] = list(_intro(at, stock, room))
    top = min(_lowest(items), room.top) - 4.0
    k = room.width / _longest(stock)

    def turn() -> None:
        nonlocal items, top
        sheets.append(replace(sheet, items=tuple(items)))
        items, top = [], room.top

    for one in stock.sections:
        if isinstance(one.nest, Held):
            text = f"{steel_name(one)}: {one.nest.why}. Needs {'; '.join(one.nest.needs)}."
            said = paragraph(text, left=room.left, top=top, width=room.width, bold=True)
            if said.bottom < room.bottom:
                turn()
                said = paragraph(text, left=room.left, top=top, width=room.width, bold=True)
            items += said.items
            top = said.bottom - 5.0
            continue
        for n in (0, 1):
            title = heading(
                _section_words(at, one, stock),
                left=room.left,
                top=top,
                width=room.width,
                height_mm=3.4,
            )
            if n == 1 or title.bottom - ROW - 2.0 >= room.bottom:
                break
            turn()
        items += title.items
        top = title.bottom - 2.0
        if unpriced_words(one):
            said = paragraph(
                unpriced_words(one), left=room.left, top=top, width=room.width, height_mm=2.6
            )
            items += said.items
            top = said.bottom - 2.0
        for number, layout in enumerate(one.nest.layouts, start=1):
            if top - ROW < room.bottom:
                turn()
            box = Box(room.left, top - ROW, room.right, top)
            label = f"Stick {number}: {one.label(layout.stick.name)}"
            items += stick_items(at, label, layout, pieces, box, k)
            top -= ROW
        top -= 2.0
    sheets.append(replace(sheet, items=tuple(items)))
    return tuple(sheets)


def _intro(at: Desk, stock: Stock, room: Box) -> tuple[DrawingItem, ...]:
    """Return how the map is read, and how straight sticks are picked."""
    shares = any(isinstance(one.nest, Nest) and one.nest.shared_cuts for one in stock.sections)
    text = (
        "Each stick lies with its pieces in cutting order from the left, on its stands. "
        f"{at.words.length(stock.end_trim)} of mill end comes off both ends; a square cut takes "
        f"{kerf_words(stock.kerf, at.words)}, a slanted one more along the stick. Lengths are long "
        "point to long point. Under each stick: what a tape reads, hooked once at the left end – "
        "a piece's far long point | the next one's near long point."
    )
    if shares:
        text += (
            " « is one slanted cut that makes two ends: the next piece lies turned over and "
            "begins inside the length of the one before."
        )
    if any(
        wants_straight(layout)
        for one in stock.sections
        if isinstance(one.nest, Nest)
        for layout in one.nest.layouts
    ):
        text += f" {sentence(STRAIGHT_RULE)}"
    return tuple(
        paragraph(text, left=room.left, top=room.top, width=room.width, height_mm=FIGURES).items
    )


def _lowest(items: list[DrawingItem]) -> float:
    return min((item.at[1] for item in items if isinstance(item, Text)), default=1e9) - FIGURES


def _longest(stock: Stock) -> float:
    sizes = [
        layout.stick.length
        for one in stock.sections
        if isinstance(one.nest, Nest)
        for layout in one.nest.layouts
    ]
    return max(sizes, default=1.0)
