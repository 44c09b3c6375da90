"""Words, lists, figures, boxes and tables set one under another, over as many sheets as needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.layout import (
    Caution,
    Table,
    bullets,
    caution_box,
    figures,
    heading,
    laid_table,
    paragraph,
    widened,
)
from leafwright.paper.scale import System, scale_bar
from leafwright.paper.scene import Box
from leafwright.paper.sheet import Sheet, area, fitted

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


Block = Title | Says | Listed | Figures | Rows | Boxed

_GAP = {Title: 1.5, Says: 3.0, Listed: 4.0, Figures: 4.0, Rows: 5.0, Boxed: 3.0}


def _placed(block: Block, room: Box, top: float) -> tuple[list[DrawingItem], float, Block | None]:
    """Return a block's items, the y under it, and what of it did not fit (all: itself)."""
    if isinstance(block, Rows):
        table = widened(block.table, room.width)
        laid = laid_table(table, left=room.left, top=top, bottom=room.bottom)
        if laid.rest is not None and len(laid.rest.rows) == len(table.rows):
            return [], top, block
        rest = None if laid.rest is None else Rows(laid.rest)
        return [*laid.items], laid.bottom, rest
    if isinstance(block, Listed):
        return _list(block, room, top)
    if isinstance(block, Title):
        laid_block = heading(
            block.text, left=room.left, top=top, width=room.width, height_mm=block.height_mm
        )
        fits = laid_block.bottom - KEPT_WITH_HEADING >= room.bottom
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
        laid_block = caution_box(block.caution, left=room.left, top=top, width=room.width)
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


def _list(block: Listed, room: Box, top: float) -> tuple[list[DrawingItem], float, Block | None]:
    for count in range(len(block.texts), 0, -1):
        laid = bullets(
            block.texts[:count],
            left=room.left,
            top=top,
            width=room.width,
            height_mm=block.height_mm,
        )
        if laid.bottom >= room.bottom:
            rest = block.texts[count:]
            return [*laid.items], laid.bottom, replace(block, texts=rest) if rest else None
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
    sheets: list[Sheet] = []
    sheet, top, items = first, room.top, list[DrawingItem]()
    waiting = list(blocks)
    empty = False
    while waiting:
        block = waiting.pop(0)
        laid, bottom, rest = _placed(block, room, top)
        items += laid
        if laid:
            top, empty = bottom - _GAP[type(block)], False
        if rest is None:
            continue
        if empty and not laid:
            raise ValueError(f"an empty sheet has no room for {block!r}; make it smaller")
        sheets.append(replace(sheet, items=(*sheet.items, *items)))
        sheet, items, empty = later(), [], True
        room = area(sheet)
        top = room.top
        waiting.insert(0, rest)
    sheets.append(replace(sheet, items=(*sheet.items, *items)))
    return tuple(sheets)


#: A sheet narrower than this has no room for words beside its drawing [mm].
WIDE_ENOUGH = 330.0


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
    room = area(sheet)
    wide = room.width >= WIDE_ENOUGH
    air = 8.0
    right_edge = room.left + share * (room.width - air) if wide else room.right
    low = 12.0 if bar else 0.0
    place = Box(room.left, room.bottom + low, right_edge, room.top)
    placed = fitted(drawing, place, scales, caption=caption)
    items = scale_bar((room.left, room.bottom), placed.scale, scales) if bar else ()
    first = replace(sheet, placed=(placed,), items=(*sheet.items, *items))
    if wide:
        beside = Box(right_edge + air, room.bottom, room.right, room.top)
        return flowed(first, beside, later, blocks)
    following = later()
    return (first, *flowed(following, area(following), later, blocks))
