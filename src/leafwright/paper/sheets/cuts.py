"""Cut list and cut cards: what the person with the saw holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from leafwright.leaf import Leaf
from leafwright.paper.drawing import Dimension, DrawingItem
from leafwright.paper.font import text_width
from leafwright.paper.layout import Caution, Cell, Column, Table, heading, paragraph, rectangle
from leafwright.paper.scene import Box, Line, Polyline, Text
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import Block, Rows, Says, Title, flowed
from leafwright.records import Held
from leafwright.say import BY_HAND, JIG, LIES, edge_words, end_steps, end_words
from leafwright.say_cutting import in_cut_order, order_told, turn_words
from leafwright.shop.cut_list import CutEnd, CutItem, CutList
from leafwright.shop.cut_order import CutOrder

SAW = Caution(
    "Saw and grinder",
    "Eyes, ears and hands protected; long stock held up at both ends; sparks away from what "
    "burns. Deburr before anybody handles the piece.",
)

#: A card of the cut cards is at least this wide [mm].
CARD_WIDTH = 128.0
Sizes = tuple[float, float, float]
#: How high the cuts of an end are written, what is read off the picture, and the length: the
#: largest that there is room for [mm].
SIZES: Sequence[Sizes] = (
    (6.0, 6.0, 11.0),
    (5.0, 6.0, 11.0),
    (4.2, 6.0, 11.0),
    (3.6, 6.0, 11.0),
    (3.2, 6.0, 11.0),
    (3.2, 4.4, 9.0),
    (2.8, 4.4, 8.0),
    (2.8, 3.4, 7.0),
    (2.5, 2.6, 7.0),
    (2.2, 2.6, 7.0),
)
#: So large they are at the least where another card is put under them.
KEPT = SIZES[4]
#: On a sheet with less room than this a card is as wide as the sheet [mm].
LOW = 150.0
#: How much room there is beside the picture for dimensions that stand upright [mm].
ASIDE = 17.0
#: How high a piece is drawn on its card, where its slanted ends leave room; at the least [mm].
PICTURE_MM, LEAST_PICTURE_MM = 18.0, 11.0
#: Between two cards [mm].
APART = 4.0


def _cut_table(at: Desk, cuts: CutList) -> Table:
    rows = []
    for item in cuts.items:
        rows.append(
            (
                Cell("", tick=False),
                ", ".join(item.marks),
                str(len(item.marks)),
                f"{item.section.designation}, {item.section.grade.name}",
                at.words.length(item.length),
                edge_words(item, at.words),
                end_words(item.start),
                end_words(item.end),
                at.words.mass(item.mass),
            )
        )
    return Table(
        (
            Column("Cut", 9.0),
            Column("Marks", 62.0, bold=True),
            Column("How many", 14.0, align="right"),
            Column("Steel", 58.0),
            Column("Overall, long point to long point", 34.0, align="right", bold=True),
            Column("Along its edges", 46.0),
            Column("One end", 55.0),
            Column("Other end", 55.0),
            Column("Each weighs", 20.0, align="right"),
        ),
        tuple(rows),
        height_mm=3.2,
    )


def cut_list_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the cut list, alike pieces on one line, longest first within a section."""
    cuts = at.plan.cuts
    sheet = blank(at, "Cut list", cautions=(SAW,), seen=False)
    if isinstance(cuts, Held):
        text = f"There is no cut list: {cuts.why}. It needs {'; '.join(cuts.needs)}."
        return flowed(sheet, area(sheet), lambda: sheet, (Says(text, 5.0),))
    count = sum(len(i.marks) for i in cuts.items)
    name = f"{count} pieces, {at.words.mass(cuts.mass)}. Angles are from square (0 = square)"
    over = blank(at, "Cut list", seen=False)
    blocks: list[Block] = [Title(name, 4.0), Rows(_cut_table(at, cuts)), *_order_blocks(at)]
    return flowed(sheet, area(sheet), lambda: over, blocks)


def _order_blocks(at: Desk) -> list[Block]:
    """Return what joints leave, the order of cutting, and whether the leaves close as cut."""
    order = at.plan.order
    if not isinstance(order, CutOrder):
        return []
    told = order_told([x for x in at.plan.leaves if isinstance(x, Leaf)], order, at.words)
    steps = [Says(f"{n}. {step}", 3.2) for n, step in enumerate(told.steps, start=1)]
    return [
        Title("Cut in this order", 4.0),
        *steps,
        Title("How the pieces fit", 4.0),
        *(Says(line, 3.2) for line in (*told.fit, *told.closes)),
    ]


def _card(at: Desk, item: CutItem, box: Box, sizes: Sequence[Sizes] = SIZES) -> _Card:
    """Return one card: the mark, the length in large figures, both ends at one scale, offsets.

    It is written in the first of ``sizes`` that there is room for, or in the last.
    """
    words = at.words
    inner = box.inset(3.5)
    items: list[DrawingItem] = []
    marks = ", ".join(item.marks)
    head = heading(
        f"{len(item.marks)} × {marks}",
        left=inner.left,
        top=inner.top,
        width=inner.width,
        height_mm=4.4,
    )
    items += head.items
    steel = paragraph(
        f"{item.section.designation}, {item.section.grade.name} · "
        f"{', '.join(item.roles)} · {words.mass(item.mass)} each"
        + (f" · notch from the {item.notch.face}: see the cut list" if item.notch else ""),
        left=inner.left,
        top=head.bottom - 1.2,
        width=inner.width,
        height_mm=2.6,
    )
    items += steel.items
    turn = turn_words(item, at.plan.order, words)
    if turn:
        steel = paragraph(
            turn, left=inner.left, top=steel.bottom - 0.4, width=inner.width, height_mm=2.6
        )
        items += steel.items
    middle, top = (inner.left + inner.right) / 2, steel.bottom - 3.0
    under = inner.bottom + 6.0
    # The last way out of too little room is a lower picture.
    tried = [(*one, PICTURE_MM) for one in sizes] + [(*sizes[-1], LEAST_PICTURE_MM)]
    for size, read, large, high in tried:
        below = top - large - 2.4
        drawn: list[DrawingItem] = [
            Text(
                (middle, top),
                words.length(item.length),
                height_mm=large,
                anchor="centre-top",
                bold=True,
            ),
        ]
        if item.notch is not None or not _square(item):
            # The picture says what the length is measured between.
            low = bar_picture(at, item, inner, below - 2.0 * read - 5.5, drawn, read, high)
        else:
            # A square piece is its length: a picture of it says no more.
            drawn.append(Text((middle, below), overall(item), height_mm=2.8, anchor="centre-top"))
            low = below - 6.0
        told, bottom = _ends(at, item, inner, low, size)
        if bottom >= under:
            break
    ticks = _ticks(item, inner.left, inner.bottom + 1.0, inner.width)
    every = (rectangle(box, "thin"), *items, *drawn, *told, *ticks)
    return _Card(every, box.top - bottom + 9.5)


@dataclass(frozen=True, slots=True)
class _Card:
    """A card as it is drawn, and how high it has to be for what is on it [mm]."""

    items: tuple[DrawingItem, ...]
    needs: float


def _ends(
    at: Desk, item: CutItem, inner: Box, top: float, size: float
) -> tuple[list[DrawingItem], float]:
    """Return how both ends are cut, side by side in letters of a size, and the y under them."""
    middle = (inner.left + inner.right) / 2
    items: list[DrawingItem] = []
    lowest = top
    sides: tuple[tuple[str, CutEnd, float, float], ...]
    both = [end_steps(end, at.words) for end in (item.start, item.end)]
    sides = (
        ("Left end", item.start, inner.left, middle - 2),
        ("Right end", item.end, middle + 2, inner.right),
    )
    if _square(item) and both[0] == both[1]:
        sides = (("Both ends", item.start, inner.left, inner.right),)
    for name, end, left, right in sides:
        told = end_steps(end, at.words)
        texts = [f"{n}. {step}" for n, step in enumerate(told, start=1)] if told[1:] else told
        below = top
        for text in (f"{name}: {end_words(end)}", *texts):
            bold = below == top
            laid = paragraph(
                text, left=left, top=below, width=right - left, height_mm=size, bold=bold
            )
            items += laid.items
            below = laid.bottom - 1.0
        lowest = min(lowest, below)
    return items, lowest


def _ticks(item: CutItem, left: float, bottom: float, width: float) -> list[DrawingItem]:
    """Return a box to tick for each piece of a card, with its mark, in one row."""
    items: list[DrawingItem] = []
    room = width / len(item.marks)
    for number, mark in enumerate(item.marks):
        x = left + number * room
        items.append(rectangle(Box(x, bottom, x + 3.6, bottom + 3.6), "thin"))
        size = min(2.8, 2.8 * (room - 5.5) / max(text_width(mark, 2.8), 1e-9))
        items.append(Text((x + 4.8, bottom + 0.7), mark, height_mm=size, anchor="left-bottom"))
    return items


def overall(item: CutItem) -> str:
    """Return what a piece's length is measured between."""
    return "overall, square ends" if _square(item) else "long point to long point"


def _square(item: CutItem) -> bool:
    """Return whether a piece is square at both ends."""
    return all(s < 1e-9 for end in (item.start, item.end) for _, s in end.offsets)


def bar_picture(
    at: Desk,
    item: CutItem,
    inner: Box,
    top: float,
    items: list[DrawingItem],
    read: float = 2.6,
    high: float = PICTURE_MM,
) -> float:
    """Draw the piece, both ends at one scale and its middle broken out; return the y below it.

    It is no higher than ``high``; what is read off it is ``read`` high [mm].
    """
    second = 2.0 * read + 6.0
    reach = max(s for end in (item.start, item.end) for _, s in end.offsets)
    width = max(u for u, _ in item.start.offsets)
    k = min(high / width, 0.3 * inner.width / max(reach, 1e-9))
    bottom = top - k * width
    left_x, right_x = inner.left + ASIDE, inner.right - ASIDE
    middle, gap, lean = (left_x + right_x) / 2, 2.2, 1.2
    for end, x, sign, stop in (
        (item.start, left_x, 1.0, middle - gap),
        (item.end, right_x, -1.0, middle + gap),
    ):
        points = [(x + sign * k * s, bottom + k * u) for u, s in end.offsets]
        outline = [(stop - lean, bottom), *points, (stop + lean, bottom + k * width)]
        items.append(Polyline(tuple(outline), "cut"))
        items.append(Line(outline[0], outline[-1], "thin"))
        items += _end_dimensions(at, end, x, sign, bottom, k, read)
    items.append(
        Dimension(
            (left_x, bottom),
            (right_x, bottom),
            -second,
            overall(item),
            "x",
            base=bottom,
            height_mm=2.6,
        )
    )
    return bottom - second - 4.0


def _end_dimensions(
    at: Desk, end: CutEnd, x: float, sign: float, bottom: float, k: float, read: float
) -> list[DrawingItem]:
    """Return how far each edge of an end stands back from its long point, and where that is."""
    width, first = max(u for u, _ in end.offsets), read + 3.0
    items: list[DrawingItem] = []
    for u, s in (end.offsets[0], end.offsets[-1]):
        if s < 1e-9:
            continue
        below = u < width / 2
        y = bottom + k * u
        ends = sorted((x, x + sign * k * s))
        items.append(
            Dimension(
                (ends[0], y),
                (ends[1], y),
                -first if below else first,
                at.words.length(s),
                "x",
                base=bottom if below else bottom + k * width,
                height_mm=read,
                outside="after" if sign > 0 else "before",
            )
        )
    for u, s in end.offsets:
        if s < 1e-9 and 1e-9 < u < width - 1e-9:
            items.append(
                Dimension(
                    (x, bottom),
                    (x, bottom + k * u),
                    # On the right its words stand inside it, clear of a short dimension's arrow.
                    -first if sign > 0 else read + 6.5,
                    at.words.length(u),
                    "y",
                    height_mm=read,
                )
            )
    return items


def card_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the cut cards in the order of cutting, one a line of the cut list, several a sheet."""
    cuts = at.plan.cuts
    if isinstance(cuts, Held):
        return ()
    made = [cut for item in cuts.items for end in (item.start, item.end) for cut in end.cuts]
    said = [SAW]
    if any(cut.way == "jig" for cut in made):
        said.append(Caution("Jig square to the fence", JIG))
    sheet = blank(at, "Cut cards", cautions=tuple(said), seen=False)
    room = area(sheet)
    how = LIES + (f" {BY_HAND}" if any(c.way in ("by hand", "none") for c in made) else "")
    note = paragraph(how, left=room.left, top=room.top, width=room.width, height_mm=2.8)
    room = replace(room, top=note.bottom - 3.0)
    # Wider, its words need fewer lines.
    low = room.height < LOW
    across = 1 if low else max(1, int((room.width + APART) // (CARD_WIDTH + APART)))
    each = (room.width - APART * (across - 1)) / across
    tall = Box(room.left, room.bottom, room.left + each, room.top)
    columns: list[list[CutItem]] = []
    free = 0.0
    for item in in_cut_order(cuts, at.plan.order):
        needs = _card(at, item, tall, (KEPT,)).needs
        if not columns or needs > free:
            columns.append([])
            free = room.height
        columns[-1].append(item)
        free -= needs + APART
    sheets = []
    while columns:
        taken, columns = columns[:across], columns[across:]
        if low and columns and all(_square(item) for item in (*taken[0], *columns[0])):
            # Square pieces have few words: two of them share a sheet.
            taken, columns = [*taken, columns[0]], columns[1:]
        wide = (room.width - APART * (len(taken) - 1)) / len(taken)
        items: list[DrawingItem] = [*note.items]
        for n, column in enumerate(taken):
            left = room.left + n * (wide + APART)
            items += _column(at, column, Box(left, room.bottom, left + wide, room.top))
        sheets.append(replace(sheet, items=tuple(items)))
    return tuple(sheets)


def _column(at: Desk, cards: Sequence[CutItem], room: Box) -> list[DrawingItem]:
    """Return cards under each other, as large as they go, what is left over shared among them."""
    free = room.height - APART * (len(cards) - 1)
    heights = [free]
    sizes = SIZES
    if len(cards) > 1:
        for size in SIZES:
            sizes = (size,)
            heights = [_card(at, item, room, sizes).needs for item in cards]
            if sum(heights) <= free:
                break
    spare = (free - sum(heights)) / len(cards)
    items: list[DrawingItem] = []
    top = room.top
    for item, needs in zip(cards, heights, strict=True):
        box = Box(room.left, top - needs - spare, room.right, top)
        items += _card(at, item, box, sizes).items
        top = box.bottom - APART
    return items
