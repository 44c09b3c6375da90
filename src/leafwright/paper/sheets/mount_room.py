"""Drawings of pivots and hinges on their sheets: as large as they go, full size first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from leafwright.paper.drawing import Drawing, Hatch, extents
from leafwright.paper.font import text_width
from leafwright.paper.inspect import defects
from leafwright.paper.layout import Caution
from leafwright.paper.scale import Scale, scale_bar, standard_scales, too_large
from leafwright.paper.scene import Box
from leafwright.paper.sheet import (
    CAPTION_MM,
    CAPTION_ROOM_MM,
    PAPER_SIZES,
    PaperSize,
    Placed,
    Sheet,
    area,
    fitted,
    paper_extents,
    scene_of,
)
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import WIDE_ENOUGH, Block, Boxed, Title, flowed, in_columns
from leafwright.paper.sheets.mount_parts import Labels

#: Of a wide sheet a drawing takes this share at most, so that words have room beside it [-].
MOST_SHARE = 0.62
#: Room of the scale bar under a drawing, and between a drawing and its words [mm].
BAR_ROOM, AIR = 12.0, 6.0
#: Words go beside a drawing where this is left there, else under it where this is [mm].
LEAST_BESIDE, LEAST_UNDER = 110.0, 25.0
#: A drawing whose long parts can be broken off is shown whole down to 1 to this [-].
WHOLE_FROM = 2
#: Ways to set labels, the first in which none lies on another is taken.
SETTINGS = (
    Labels(),
    Labels(60.0),
    Labels(38.0),
    Labels(apart=True),
    Labels(60.0, apart=True),
    Labels(38.0, apart=True),
    Labels(60.0, 2.4),
    Labels(60.0, 2.4, apart=True),
    Labels(40.0, 2.4),
)


def both_ways(at: Desk) -> tuple[PaperSize, ...]:
    """Return the job's paper as a drawing is held, then turned a quarter."""
    size = at.drawing_size
    name = size.name.removesuffix(" landscape")
    turned = PAPER_SIZES[name if size.name != name else f"{name} landscape"]
    return size, turned


def large(
    at: Desk,
    title: str,
    make: Callable[[Labels], Drawing],
    blocks: Sequence[Block],
    *,
    caption: str,
    stops: Sequence[Caution] = (),
    cautions: Sequence[Caution] = (),
    breaks: bool = False,
) -> tuple[Sheet, ...]:
    """Return a drawing at the largest scale that the paper takes either way round, and its words.

    Args:
        at: the plan and its paper.
        title: of the sheets.
        make: the drawing, with its labels set one way or another.
        blocks: the words beside or after it.
        caption: under the drawing.
        stops: in their boxes above the title strip, whatever else.
        cautions: beside them, or first among the words where they would make the drawing small.
        breaks: whether its long parts are broken off where the paper does not take them whole at
            half size.
    """
    tried = _Tried(make)
    sheets = {
        above: _empty(at, title, (*stops, *cautions) if above else tuple(stops))
        for above in (True, False)
    }
    for settings, above, strict in _tries(at, breaks):
        for how, scale in settings:
            found = _alone(sheets[above], tried.around(how, scale), caption)
            if found is None or (strict and not tried.clear(how, scale)):
                continue
            sheet, box = found
            placed = fitted(tried.drawing(how), box, at.scales, caption=caption, scale=scale)
            # What has no room on the drawing's sheet is told first in its words.
            moved = [] if above else [Boxed(one) for one in cautions]
            return _with_words(at, sheet, (placed,), (box,), scale, [*moved, *blocks])
    raise _does_not_fit(at, title, make(SETTINGS[0]), stops)


def _empty(at: Desk, title: str, cautions: Sequence[Caution]) -> list[tuple[Sheet, Box]]:
    """Return a sheet without content each way round, with the room that it has."""
    sheets = [
        replace(blank(at, title, cautions=cautions, drawing=True), size=size)
        for size in both_ways(at)
    ]
    return [(sheet, area(sheet)) for sheet in sheets]


class _Tried:
    """A drawing with its labels set one way and another, each made and measured once."""

    def __init__(self, make: Callable[[Labels], Drawing]) -> None:
        self._make = make
        self._drawings: dict[Labels, Drawing] = {}
        self._around: dict[tuple[Labels, Scale], Box] = {}
        self._clear: dict[tuple[Labels, Scale], bool] = {}

    def drawing(self, how: Labels) -> Drawing:
        if how not in self._drawings:
            self._drawings[how] = self._make(how)
        return self._drawings[how]

    def around(self, how: Labels, scale: Scale) -> Box:
        """Return the box round it on paper [mm]."""
        if (how, scale) not in self._around:
            self._around[how, scale] = paper_extents(_unhatched(self.drawing(how)), scale)
        return self._around[how, scale]

    def clear(self, how: Labels, scale: Scale) -> bool:
        """Return whether none of its words lies on others or on a heavy line."""
        if (how, scale) not in self._clear:
            scene = scene_of(_unhatched(self.drawing(how)), scale)
            self._clear[how, scale] = not defects(scene)
        return self._clear[how, scale]


def _unhatched(drawing: Drawing) -> Drawing:
    """Return a drawing without its hatches, which measure nothing: each has an outline."""
    return Drawing(tuple(item for item in drawing.items if not isinstance(item, Hatch)))


def _tries(at: Desk, breaks: bool) -> Iterator[tuple[list[tuple[Labels, Scale]], bool, bool]]:
    """Yield what to try in turn: settings with scales, cautions on the sheet, labels all clear."""
    scales = standard_scales(at.scales)
    every = [(how, scale) for scale in scales for how in SETTINGS]
    if breaks:
        whole = [one for one in every if one[1].ratio <= WHOLE_FROM]
        off = [replace(how, broken=True) for how in SETTINGS]
        every = [*whole, *((how, scale) for scale in scales for how in off)]
    close = [one for one in every if one[1].ratio <= WHOLE_FROM]
    yield close, True, True
    yield close, False, True
    yield every, True, True
    yield every, False, True
    yield every, False, False


def _alone(
    sheets: Sequence[tuple[Sheet, Box]], around: Box, caption: str
) -> tuple[Sheet, Box] | None:
    """Return the first sheet with room for a drawing, and that room; None where none has it."""
    across = max(around.width, _caption_width(caption)) + 0.2
    high = around.height + CAPTION_ROOM_MM + 0.2
    for sheet, room in sheets:
        wide = room.width >= WIDE_ENOUGH
        most = MOST_SHARE * (room.width - AIR) if wide else room.width
        if high > room.height - BAR_ROOM or across > most:
            continue
        right = room.left + max(across, 0.4 * most) if wide else room.right
        return sheet, Box(room.left, room.top - high, right, room.top)
    return None


def _caption_width(caption: str) -> float:
    return text_width(caption, CAPTION_MM, bold=True) + 1.0


def _does_not_fit(
    at: Desk, title: str, drawing: Drawing, cautions: Sequence[Caution]
) -> ValueError:
    bare = extents(drawing)
    room = area(blank(at, title, cautions=cautions, drawing=True))
    return too_large(
        (bare.width, bare.height), (room.width, room.height), standard_scales(at.scales)[-1]
    )


def views(
    at: Desk,
    title: str,
    drawings: Sequence[tuple[Drawing, str]],
    blocks: Sequence[Sequence[Block]],
    *,
    cautions: Sequence[Caution] = (),
) -> tuple[Sheet, ...]:
    """Return drawings with their captions at one scale on one sheet, and words after them.

    They stand beside each other on a wide sheet, under each other on a narrow one, whichever way
    round the paper is held.

    Args:
        at: the plan and its paper.
        title: of the sheets.
        drawings: each with its caption.
        blocks: each one's words.
        cautions: in their boxes above the title strip.
    """
    scales = standard_scales(at.scales)
    large_ones = [scale for scale in scales if scale.ratio <= WHOLE_FROM]
    words = [block for some in blocks for block in some]
    found = _together(at, title, drawings, large_ones, cautions)
    if found is not None:
        return _with_words(at, *found, words)
    # A sheet each, where that keeps them at half size.
    named = [title if number == 0 else f"{title}, on" for number in range(len(drawings))]
    alone = [
        _together(at, name, [one], large_ones, cautions)
        for name, one in zip(named, drawings, strict=True)
    ]
    parts = [one for one in alone if one is not None]
    if len(parts) == len(drawings):
        return tuple(
            sheet
            for one, some in zip(parts, blocks, strict=True)
            for sheet in _with_words(at, *one, some)
        )
    found = _together(at, title, drawings, scales, cautions)
    if found is not None:
        return _with_words(at, *found, words)
    raise _does_not_fit(at, title, drawings[0][0], cautions)


def _together(
    at: Desk,
    title: str,
    drawings: Sequence[tuple[Drawing, str]],
    scales: Sequence[Scale],
    cautions: Sequence[Caution],
) -> tuple[Sheet, tuple[Placed, ...], tuple[Box, ...], Scale] | None:
    """Return a sheet with drawings placed at the largest of some scales; None where none fits."""
    sheets = _empty(at, title, cautions)
    for scale in scales:
        for sheet, room in sheets:
            boxes = _stacked(drawings, scale, room)
            if boxes is None:
                continue
            placed = tuple(
                fitted(drawing, box, at.scales, caption=caption, scale=scale)
                for (drawing, caption), box in zip(drawings, boxes, strict=True)
            )
            return sheet, placed, boxes, scale
    return None


def _stacked(
    drawings: Sequence[tuple[Drawing, str]], scale: Scale, room: Box
) -> tuple[Box, ...] | None:
    """Return a box for each drawing at a scale, under each other or side by side; None if none fit.

    Under each other leaves room for words beside them, so that it is tried first.
    """
    sizes = [paper_extents(_unhatched(drawing), scale) for drawing, _ in drawings]
    low, gap = room.bottom + BAR_ROOM, 5.0
    highs = [size.height + CAPTION_ROOM_MM + 0.2 for size in sizes]
    widths = [
        max(size.width, _caption_width(caption)) + 0.2
        for size, (_, caption) in zip(sizes, drawings, strict=True)
    ]
    widest = max(widths)
    if widest <= room.width and sum(highs) + gap * (len(highs) - 1) <= room.top - low:
        boxes, top = [], room.top
        for high in highs:
            boxes.append(Box(room.left, top - high, room.left + widest, top))
            top -= high + gap
        return tuple(boxes)
    if sum(widths) + gap * (len(widths) - 1) <= room.width and max(highs) <= room.top - low:
        boxes, left = [], room.left
        for width in widths:
            boxes.append(Box(left, room.top - max(highs), left + width, room.top))
            left += width + gap
        return tuple(boxes)
    return None


def _with_words(
    at: Desk,
    sheet: Sheet,
    placed: tuple[Placed, ...],
    boxes: Sequence[Box],
    scale: Scale,
    blocks: Sequence[Block],
) -> tuple[Sheet, ...]:
    """Return a sheet with its drawings and scale bar, and words beside, under or after them."""
    room = area(sheet)
    right, low = max(box.right for box in boxes) + AIR, min(box.bottom for box in boxes)
    bar = scale_bar((room.left, low - BAR_ROOM), scale, at.scales)
    sheet = replace(sheet, placed=placed, items=(*sheet.items, *bar))
    beside = Box(right, room.bottom, room.right, room.top)
    under = Box(room.left, room.bottom, room.right, low - BAR_ROOM - AIR)

    def later() -> Sheet:
        return blank(at, f"{sheet.title.removesuffix(', on')}, on")

    room = beside if beside.width >= LEAST_BESIDE else under
    count = 0
    if room.height >= LEAST_UNDER:
        fitting = (n for n in range(len(blocks), 0, -1) if _one_sheet(sheet, room, blocks[:n]))
        count = next(fitting, 0)
    # A heading stays with what follows it.
    while count and count < len(blocks) and isinstance(blocks[count - 1], Title):
        count -= 1
    first = flowed(sheet, room, later, blocks[:count])[0] if count else sheet
    if count == len(blocks):
        return (first,)
    return (first, *in_columns(later(), later, blocks[count:]))


def _one_sheet(sheet: Sheet, room: Box, blocks: Sequence[Block]) -> bool:
    """Return whether blocks have room on a sheet beside or under its drawing."""
    return len(flowed(sheet, room, lambda: replace(sheet, placed=()), blocks)) == 1
