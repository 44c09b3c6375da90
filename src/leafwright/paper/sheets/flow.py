"""Words, lists, boxes, tables and pictures set one under another, over as many sheets as needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.layout import (
    Caution,
    Table,
    bullets,
    caution_box,
    columns_of,
    figures,
    header_height,
    heading,
    laid_table,
    paragraph,
    row_heights,
    widened,
)
from leafwright.paper.scale import System, scale_bar
from leafwright.paper.scene import Box
from leafwright.paper.sheet import Sheet, area, fitted, item_box, placed_items

#: A table does not begin at the foot of a sheet with fewer rows than these, the rest overleaf.
FEWEST_ROWS = 3
#: Between a drawing and the words beside it [mm].
AIR = 8.0
#: A heading goes over to the next sheet where less than this would be left under it [mm].
KEPT_WITH_HEADING = 22.0


@dataclass(frozen=True, slots=True)
class Title:
    """A heading; it stays with what follows it."""

    text: str
    height_mm: float = 3.4


@dataclass(frozen=True, slots=True)
class Says:
    """A paragraph."""

    text: str
    height_mm: float = 2.7
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Listed:
    """A list, one line or more each."""

    texts: tuple[str, ...]
    height_mm: float = 2.7
    numbered_from: int = 0
    """1 for a list of steps, each behind its number; 0 for dashes."""


@dataclass(frozen=True, slots=True)
class Figures:
    """Big figures under small captions."""

    pairs: tuple[tuple[str, str], ...]
    columns: int = 2
    height_mm: float = 4.6


@dataclass(frozen=True, slots=True)
class Rows:
    """A table, widened to the room; its header is repeated on each sheet."""

    table: Table


@dataclass(frozen=True, slots=True)
class Boxed:
    """A caution or a stop, in its box."""

    caution: Caution
    height_mm: float = 3.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture made for its place on paper, as a graph is: it is given the place's box [mm]."""

    height_mm: float
    draw: Callable[[Box], Sequence[DrawingItem]]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing among words, as large as a standard scale lets it be in the room's width.

    It takes up no more than ``height_mm`` [mm], its caption counted.
    """

    drawing: Drawing
    height_mm: float
    scales: System
    caption: str


Block = Title | Says | Listed | Figures | Rows | Boxed | Picture | Drawn

_GAP = {
    Title: 1.5,
    Says: 3.0,
    Listed: 4.0,
    Figures: 4.0,
    Rows: 5.0,
    Boxed: 3.0,
    Picture: 4.0,
    Drawn: 5.0,
}


def _placed(
    block: Block, room: Box, top: float, under: float = KEPT_WITH_HEADING
) -> tuple[list[DrawingItem], float, Block | None]:
    """Return a block's items, the y under it, and what of it did not fit (all: itself).

    ``under`` is the room that a heading must have under it [mm].
    """
    if isinstance(block, Rows):
        table = widened(block.table, room.width)
        laid = laid_table(table, left=room.left, top=top, bottom=room.bottom)
        left = 0 if laid.rest is None else len(laid.rest.rows)
        few = len(table.rows) - left < FEWEST_ROWS and top < room.top - 1e-9
        if left == len(table.rows) or (left and few):
            return [], top, block
        rest = None if laid.rest is None else Rows(laid.rest)
        return [*laid.items], laid.bottom, rest
    if isinstance(block, Listed):
        return _list(block, room, top)
    if isinstance(block, Picture | Drawn):
        return _picture(block, room, top)
    if isinstance(block, Title):
        laid_block = heading(
            block.text, left=room.left, top=top, width=room.width, height_mm=block.height_mm
        )
        fits = laid_block.bottom - under >= room.bottom
    elif isinstance(block, Figures):
        laid_block = figures(
            block.pairs,
            left=room.left,
            top=top,
            width=room.width,
            columns=block.columns,
            height_mm=block.height_mm,
        )
        fits = laid_block.bottom >= room.bottom
    elif isinstance(block, Boxed):
        laid_block = caution_box(
            block.caution,
            left=room.left,
            top=top,
            width=room.width,
            height_mm=block.height_mm,
        )
        fits = laid_block.bottom >= room.bottom
    else:
        laid_block = paragraph(
            block.text,
            left=room.left,
            top=top,
            width=room.width,
            height_mm=block.height_mm,
            bold=block.bold,
        )
        fits = laid_block.bottom >= room.bottom
    if not fits:
        return [], top, block
    return [*laid_block.items], laid_block.bottom, None


def _kept_under(block: Block, room: Box) -> float:
    """Return the room that a heading must have under it for what follows [mm]."""
    if isinstance(block, Rows):
        table = widened(block.table, room.width)
        high = header_height(table) + sum(row_heights(table)[:FEWEST_ROWS])
        return min(max(high, KEPT_WITH_HEADING), room.height - KEPT_WITH_HEADING)
    if isinstance(block, Picture | Drawn):
        # On an empty sheet a picture as high as that still has to go under its heading.
        return min(block.height_mm + _GAP[Title], room.height - KEPT_WITH_HEADING)
    return KEPT_WITH_HEADING


def _picture(
    block: Picture | Drawn, room: Box, top: float
) -> tuple[list[DrawingItem], float, Block | None]:
    high = min(block.height_mm, room.height)
    if top - high < room.bottom - 1e-9:
        return [], top, block
    place = Box(room.left, top - high, room.right, top)
    if isinstance(block, Picture):
        return [*block.draw(place)], place.bottom, None
    items = placed_items(fitted(block.drawing, place, block.scales, caption=block.caption))
    low = min(item_box(item).bottom for item in items)
    # A drawing shallower than its place moves up to what stands over it.
    up = top - max(item_box(item).top for item in items)
    return [*on_paper(Drawing(items), Paper(1.0, (0.0, up)))], low + up, None


def _list(block: Listed, room: Box, top: float) -> tuple[list[DrawingItem], float, Block | None]:
    for count in range(len(block.texts), 0, -1):
        laid = bullets(
            block.texts[:count],
            left=room.left,
            top=top,
            width=room.width,
            height_mm=block.height_mm,
            numbered_from=block.numbered_from,
        )
        if laid.bottom >= room.bottom:
            rest = block.texts[count:]
            if not rest:
                return [*laid.items], laid.bottom, None
            start = block.numbered_from + count if block.numbered_from else 0
            return [*laid.items], laid.bottom, replace(block, texts=rest, numbered_from=start)
    return [], top, block


def flowed(
    first: Sheet, room: Box, later: Callable[[], Sheet], blocks: Sequence[Block]
) -> tuple[Sheet, ...]:
    """Return sheets that hold all blocks in order.

    Args:
        first: the sheet that they start on.
        room: their room on it [mm].
        later: makes the sheet, without content, that they go on over; all of it is their room.
        blocks: what to set.

    Raises:
        ValueError: a block that does not fit an empty sheet.
    """
    return _flowed(first, [room], later, lambda sheet: [area(sheet)], blocks)


def through_rooms(
    first: Sheet, rooms: Sequence[Box], later: Callable[[], Sheet], blocks: Sequence[Block]
) -> tuple[Sheet, ...]:
    """Return sheets that hold all blocks in order, through several rooms of the first one [mm].

    Raises:
        ValueError: a block that does not fit an empty sheet.
    """
    return _flowed(first, [*rooms], later, lambda sheet: [area(sheet)], blocks)


def in_columns(
    first: Sheet, later: Callable[[], Sheet], blocks: Sequence[Block]
) -> tuple[Sheet, ...]:
    """Return sheets that hold all blocks in order, in two columns where the paper is wide.

    Raises:
        ValueError: a block that does not fit an empty column.
    """

    def rooms(sheet: Sheet) -> list[Box]:
        room = area(sheet)
        if room.width < WIDE_ENOUGH:
            return [room]
        return [*columns_of(room, 1.0, 1.0, gap_mm=COLUMN_GAP)]

    return _flowed(first, rooms(first), later, rooms, blocks)


def _flowed(
    first: Sheet,
    rooms: list[Box],
    later: Callable[[], Sheet],
    rooms_of: Callable[[Sheet], list[Box]],
    blocks: Sequence[Block],
) -> tuple[Sheet, ...]:
    """Return sheets that hold all blocks, going through the rooms of each sheet in turn."""
    sheets: list[Sheet] = []
    sheet, items = first, list[DrawingItem]()
    waiting_rooms = list(rooms)
    room = waiting_rooms.pop(0)
    top = room.top
    waiting = list(blocks)
    # A room may be what another thing left over, so that a whole sheet is still to be tried.
    empty, whole = True, False
    while waiting:
        block = waiting.pop(0)
        under = _kept_under(waiting[0], room) if waiting else KEPT_WITH_HEADING
        laid, bottom, rest = _placed(block, room, top, under)
        items += laid
        if laid:
            top, empty = bottom - _GAP[type(block)], False
        if rest is None:
            continue
        if empty and whole and not laid:
            raise ValueError(f"an empty sheet has no room for {block!r}; make it smaller")
        waiting.insert(0, rest)
        if waiting_rooms:
            room = waiting_rooms.pop(0)
        else:
            sheets.append(replace(sheet, items=(*sheet.items, *items)))
            sheet, items, whole = later(), [], True
            waiting_rooms = rooms_of(sheet)
            room = waiting_rooms.pop(0)
        top, empty = room.top, True
    sheets.append(replace(sheet, items=(*sheet.items, *items)))
    return tuple(sheets)


#: Between two columns of a sheet [mm].
COLUMN_GAP = 9.0
#: A sheet narrower than this has no room for words beside its drawing [mm].
WIDE_ENOUGH = 330.0


def drawing_room(sheet: Sheet, *, share: float = 0.5, bar: bool = True) -> Box:
    """Return the room of a drawing with words beside it, or alone where the sheet is narrow [mm].

    ``share`` is the drawing's share of a wide sheet [-]; ``bar``: whether a scale bar goes with it.
    """
    room = area(sheet)
    wide = room.width >= WIDE_ENOUGH
    right = room.left + share * (room.width - AIR) if wide else room.right
    return Box(room.left, room.bottom + (12.0 if bar else 0.0), right, room.top)


def drawn(
    sheet: Sheet,
    drawing: Drawing,
    scales: System,
    later: Callable[[], Sheet],
    blocks: Sequence[Block],
    *,
    caption: str,
    share: float = 0.5,
    bar: bool = True,
) -> tuple[Sheet, ...]:
    """Return a drawing with words beside it, or after it where the sheet is narrow.

    Args:
        sheet: the sheet without content.
        drawing: what to draw, as large as a standard scale lets it be.
        scales: the family of scales.
        later: makes the sheets that the words go on over.
        blocks: the words.
        caption: what stands under the drawing.
        share: the drawing's share of a wide sheet [-].
        bar: whether a scale bar goes with it.
    """
    room, place = area(sheet), drawing_room(sheet, share=share, bar=bar)
    placed = fitted(drawing, place, scales, caption=caption)
    items = scale_bar((room.left, room.bottom), placed.scale, scales) if bar else ()
    first = replace(sheet, placed=(placed,), items=(*sheet.items, *items))
    if room.width >= WIDE_ENOUGH:
        beside = Box(place.right + AIR, room.bottom, room.right, room.top)
        return flowed(first, beside, later, blocks)
    following = later()
    return (first, *flowed(following, area(following), later, blocks))
