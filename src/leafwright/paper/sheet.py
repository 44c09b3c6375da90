"""Sheets: a page with its title strip, cautions, drawings and words, flattened to a scene."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import KW_ONLY, dataclass, field, replace
from types import MappingProxyType

from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem, extents
from leafwright.paper.font import ink_corners
from leafwright.paper.layout import Caution, caution_box, columns_of, rectangle
from leafwright.paper.scale import (
    IMPERIAL_SCALES,
    METRIC_SCALES,
    Scale,
    System,
    standard_scales,
    too_large,
)
from leafwright.paper.scene import (
    Box,
    Point,
    Primitive,
    Scene,
    Text,
    box_around,
    outline_points,
    union,
)
from leafwright.paper.strip import (
    BAND_MM,
    TitleBlock,
    not_for_cutting_band,
    strip_height,
    title_strip,
)

MARGIN_MM = 9.0
PADDING_MM = 4.0
CAPTION_MM = 3.4
CAPTION_ROOM_MM = 12.0
# From these widths of frame on, two cautions stand beside each other, and three.
CAUTIONS_BESIDE_FROM_MM = (180.0, 360.0)
_LONGEST_SCALE = max((scale.words for scale in IMPERIAL_SCALES + METRIC_SCALES), key=len)


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A size of paper [mm], named."""

    name: str
    width: float
    height: float

    @property
    def landscape(self) -> PaperSize:
        """The same paper with its long side level."""
        if self.width >= self.height:
            return self
        return PaperSize(f"{self.name} landscape", self.height, self.width)


LETTER = PaperSize("Letter", 215.9, 279.4)
TABLOID = PaperSize("Tabloid", 279.4, 431.8)
A4 = PaperSize("A4", 210.0, 297.0)
A3 = PaperSize("A3", 297.0, 420.0)

PAPER_SIZES: Mapping[str, PaperSize] = MappingProxyType(
    {
        size.name: size
        for upright in (LETTER, TABLOID, A4, A3)
        for size in (upright, upright.landscape)
    }
)


@dataclass(frozen=True, slots=True)
class Placed:
    """A drawing on a sheet: at a scale, its (0, 0) at ``origin_mm``, a caption beneath it."""

    drawing: Drawing
    scale: Scale
    origin_mm: Point
    _: KW_ONLY
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page to print.

    ``items`` are drawn in millimetres of paper (dimensions and leaders too). ``cautions`` stand
    above the title strip. ``not_for_cutting`` puts the band along the upper edge, with ``why``
    beside it. `area` says what room is left.
    """

    title: str
    size: PaperSize
    _: KW_ONLY
    block: TitleBlock = field(default_factory=TitleBlock)
    items: tuple[DrawingItem, ...] = ()
    placed: tuple[Placed, ...] = ()
    cautions: tuple[Caution, ...] = ()
    not_for_cutting: bool = False
    why: str = ""


def frame_of(size: PaperSize) -> Box:
    """Return the border of a page [mm]."""
    return Box(0.0, 0.0, size.width, size.height).inset(MARGIN_MM)


def area(sheet: Sheet) -> Box:
    """Return the room for a sheet's content [mm]: inside the frame, strip, cautions and band.

    Build the sheet without content first, ask for its area, then add content with
    ``dataclasses.replace``.
    """
    frame = frame_of(sheet.size)
    _, bottom = _cautions(sheet, frame)
    top = frame.top - (BAND_MM if sheet.not_for_cutting else 0.0)
    return Box(frame.left, bottom, frame.right, top).inset(PADDING_MM)


def _cautions(sheet: Sheet, frame: Box) -> tuple[tuple[Primitive, ...], float]:
    """Return the caution boxes, and the y above them and the title strip."""
    bottom = frame.bottom + _strip_height(sheet, frame)
    beside = 1 + sum(frame.width >= width for width in CAUTIONS_BESIDE_FROM_MM)
    items: list[Primitive] = []
    # From the last row up, so that the first caution stands highest.
    starts = range(0, len(sheet.cautions), beside)
    for start in reversed(starts):
        row = sheet.cautions[start : start + beside]
        place = Box(frame.left, 0.0, frame.right, 0.0).inset(PADDING_MM)
        boxes = columns_of(place, *[1.0] * len(row), gap_mm=PADDING_MM)
        height = max(
            -caution_box(caution, left=box.left, top=0.0, width=box.width).bottom
            for caution, box in zip(row, boxes, strict=True)
        )
        top = bottom + PADDING_MM + height
        for caution, box in zip(row, boxes, strict=True):
            items += caution_box(
                caution, left=box.left, top=top, width=box.width, least_height=height
            ).items
        bottom = top
    return tuple(items), bottom


def _block(sheet: Sheet) -> TitleBlock:
    """Return the title block with the scale of the sheet's drawings where none is given."""
    if sheet.block.scale:
        return sheet.block
    words = tuple(dict.fromkeys(placed.scale.words for placed in sheet.placed))
    scale = "–" if not words else words[0] if len(words) == 1 else "as noted"
    return replace(sheet.block, scale=scale)


def _strip_height(sheet: Sheet, frame: Box) -> float:
    """Return the title strip's height [mm]: the same before and after drawings are placed."""
    block = sheet.block
    if not block.scale:
        block = replace(block, scale=_LONGEST_SCALE)
    return strip_height(sheet.title, block, frame.width)


def numbered(sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """Return the sheets with "n of N" in their title blocks."""
    return tuple(
        replace(sheet, block=replace(sheet.block, number=number, total=len(sheets)))
        for number, sheet in enumerate(sheets, start=1)
    )


def item_box(item: Primitive) -> Box:
    """Return the box round a flat item [mm]; a text's is round its ink."""
    return box_around(ink_corners(item) if isinstance(item, Text) else outline_points(item))


def paper_extents(drawing: Drawing, scale: Scale) -> Box:
    """Return the box round a drawing with all its words and dimensions [mm from its (0, 0)]."""
    return union([item_box(i) for i in on_paper(drawing, Paper(scale.mm_per_m, (0.0, 0.0)))])


def fitted(
    drawing: Drawing, box: Box, system: System, *, caption: str = "", scale: Scale | None = None
) -> Placed:
    """Return the drawing in the middle of a box, at the largest standard scale that fits.

    Words and dimensions count, and so does the room of the caption.

    Args:
        drawing: what to place.
        box: the room [mm].
        system: "imperial" or "metric" scales.
        caption: words beneath the drawing, with its scale.
        scale: this scale and no other.

    Raises:
        ValueError: when it does not fit.
    """
    low = CAPTION_ROOM_MM if caption else 0.0
    room = Box(box.left, box.bottom + low, box.right, box.top)
    bare = extents(drawing)
    for tried in (scale,) if scale is not None else standard_scales(system):
        if bare.width * tried.mm_per_m > room.width or bare.height * tried.mm_per_m > room.height:
            continue
        around = paper_extents(drawing, tried)
        if around.width <= room.width + 1e-9 and around.height <= room.height + 1e-9:
            x, y = room.centre
            ax, ay = around.centre
            return Placed(drawing, tried, (x - ax, y - ay), caption=caption)
    smallest = scale or standard_scales(system)[-1]
    raise too_large((bare.width, bare.height), (room.width, room.height), smallest)


def placed_items(placed: Placed) -> tuple[Primitive, ...]:
    """Return a placed drawing and its caption as flat items [mm]."""
    items = on_paper(placed.drawing, Paper(placed.scale.mm_per_m, placed.origin_mm))
    if not placed.caption:
        return items
    around = union([item_box(item) for item in items])
    x, y = around.centre[0], around.bottom - 3.0
    caption = Text((x, y), placed.caption, height_mm=CAPTION_MM, anchor="centre-top", bold=True)
    scale = Text(
        (x, y - 1.7 * CAPTION_MM),
        f"Scale {placed.scale.words}",
        height_mm=2.5,
        anchor="centre-top",
    )
    return (*items, caption, scale)


def flatten(sheet: Sheet) -> Scene:
    """Return the sheet as one flat picture in millimetres of paper.

    Nothing is clipped: `inspect.defects` reports what stands outside.

    Raises:
        ValueError: for an item whose place is not a finite number.
    """
    frame = frame_of(sheet.size)
    cautions, _ = _cautions(sheet, frame)
    furniture: list[Primitive] = [
        rectangle(frame, "border"),
        *title_strip(sheet.title, _block(sheet), frame, height=_strip_height(sheet, frame)),
        *cautions,
    ]
    if sheet.not_for_cutting:
        furniture += not_for_cutting_band(frame, sheet.why)
    items: list[Primitive] = []
    for placed in sheet.placed:
        items += placed_items(placed)
    items += on_paper(Drawing(sheet.items), Paper(1.0, (0.0, 0.0)))
    _refuse_nowhere(items)
    return Scene(
        sheet.title,
        sheet.size.width,
        sheet.size.height,
        frame,
        area(sheet).inset(-PADDING_MM),
        tuple(items),
        tuple(furniture),
    )


def scene_of(drawing: Drawing, scale: Scale, *, title: str = "", margin_mm: float = 3.0) -> Scene:
    """Return a drawing alone as a flat picture just large enough for it, for a screen.

    Args:
        drawing: what to show.
        scale: how large; words keep their size.
        title: what it shows, in words.
        margin_mm: room around it [mm].
    """
    around = paper_extents(drawing, scale).inset(-margin_mm)
    items = on_paper(drawing, Paper(scale.mm_per_m, (-around.left, -around.bottom)))
    _refuse_nowhere(items)
    page = Box(0.0, 0.0, around.width, around.height)
    return Scene(title, around.width, around.height, page, page, items)


def _refuse_nowhere(items: Sequence[Primitive]) -> None:
    for item in items:
        points = (item.at,) if isinstance(item, Text) else outline_points(item)
        if not all(math.isfinite(value) for point in points for value in point):
            raise ValueError(
                f"a drawing item has no finite place on the paper: {item!r}; "
                "find the stage that gave a number that is not one"
            )
