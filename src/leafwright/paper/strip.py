"""The title strip at a sheet's lower edge and the band over a sheet that must not be cut from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import KW_ONLY, dataclass

from leafwright.paper.font import LEADING, text_width
from leafwright.paper.layout import paragraph, rectangle
from leafwright.paper.scene import Box, Fill, Line, Primitive, Text
from leafwright.paper.wrapping import wrapped

CAPTION_MM = 2.2
PADDING_MM = 1.5
VALUE_MM = 2.7
TITLE_MM = 4.2
NUMBER_MM = 6.0
TOTAL_MM = 2.6
CAPTION_GAP_MM = 1.8
TAB_WIDTH_MM = 22.0
# From this width on, the strip has one row.
ONE_ROW_FROM_MM = 240.0
BAND_MM = 10.0


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What a sheet's title strip says. A field left empty has no place in the strip.

    ``number`` and ``total`` are the sheet's number and how many there are.
    """

    _: KW_ONLY
    job: str = ""
    seen_from: str = ""
    scale: str = ""
    units: str = ""
    survey: str = ""
    revision: str = ""
    number: int = 1
    total: int = 1


@dataclass(frozen=True, slots=True)
class _Field:
    caption: str
    value: str
    weight: float
    height_mm: float = VALUE_MM
    bold: bool = False


def _rows(title: str, block: TitleBlock, width: float) -> list[list[_Field]]:
    first = [_Field("Sheet", title, 6.0, TITLE_MM, True), _Field("Job", block.job, 4.5)]
    second = [
        _Field("Seen from", block.seen_from, 3.0),
        _Field("Scale", block.scale, 3.0),
        _Field("Units", block.units, 3.0),
        _Field("Survey", block.survey, 4.0),
        _Field("Revision", block.revision, 3.0),
    ]
    first = [field for field in first if field.value]
    second = [field for field in second if field.value]
    if width >= ONE_ROW_FROM_MM or not second:
        return [first + second]
    return [first, second]


def _widths(row: Sequence[_Field], width: float) -> list[float]:
    total = sum(field.weight for field in row)
    return [width * field.weight / total for field in row]


def _row_height(row: Sequence[_Field], width: float) -> float:
    tallest = 0.0
    for field, room in zip(row, _widths(row, width), strict=True):
        lines = wrapped(
            field.value, room - 2.0 * PADDING_MM, height_mm=field.height_mm, bold=field.bold
        )
        tallest = max(tallest, field.height_mm * (1.35 + LEADING * (len(lines) - 1)))
    return tallest + CAPTION_MM + CAPTION_GAP_MM + 2.0 * PADDING_MM


def strip_height(title: str, block: TitleBlock, width: float) -> float:
    """Return the height of the title strip [mm]: it grows until every field can be read whole."""
    room = width - TAB_WIDTH_MM
    rows = _rows(title, block, width)
    return max(sum(_row_height(row, room) for row in rows), NUMBER_MM + 8.0)


def title_strip(
    title: str, block: TitleBlock, frame: Box, *, height: float
) -> tuple[Primitive, ...]:
    """Return the title strip along the lower edge of the frame, ``height`` high [mm]."""
    top = frame.bottom + height
    tab = Box(frame.right - TAB_WIDTH_MM, frame.bottom, frame.right, top)
    items: list[Primitive] = [Line((frame.left, top), (frame.right, top), "border")]
    items += _sheet_tab(block, tab)
    room = frame.width - TAB_WIDTH_MM
    rows = _rows(title, block, frame.width)
    heights = [_row_height(row, room) for row in rows]
    spare = (height - sum(heights)) / len(rows)
    y = top
    for number, (row, tall) in enumerate(zip(rows, heights, strict=True)):
        if number:
            items.append(Line((frame.left, y), (tab.left, y), "thin"))
        x = frame.left
        for field, wide in zip(row, _widths(row, room), strict=True):
            if x > frame.left:
                items.append(Line((x, y), (x, y - tall - spare), "thin"))
            items += _field(field, x + PADDING_MM, y - PADDING_MM, wide - 2.0 * PADDING_MM)
            x += wide
        y -= tall + spare
    return tuple(items)


def _field(field: _Field, left: float, top: float, width: float) -> tuple[Primitive, ...]:
    caption = Text((left, top), field.caption, height_mm=CAPTION_MM, anchor="left-top", ink="grey")
    value = paragraph(
        field.value,
        left=left,
        top=top - CAPTION_MM - CAPTION_GAP_MM,
        width=width,
        height_mm=field.height_mm,
        bold=field.bold,
    )
    return (caption, *value.items)


def _sheet_tab(block: TitleBlock, tab: Box) -> tuple[Primitive, ...]:
    """Return the black corner with the sheet's number, found by thumb on a clipboard."""
    x, y = tab.centre
    base = y + 0.5 * (NUMBER_MM + TOTAL_MM + 2.0) - NUMBER_MM
    return (
        Fill(tab.corners, "black", layer="border"),
        Text(
            (x, base),
            f"{block.number}",
            height_mm=NUMBER_MM,
            anchor="centre-bottom",
            bold=True,
            ink="white",
        ),
        Text(
            (x, base - 2.0),
            f"of {block.total}",
            height_mm=TOTAL_MM,
            anchor="centre-top",
            ink="white",
        ),
    )


def not_for_cutting_band(frame: Box, why: str) -> tuple[Primitive, ...]:
    """Return the band over a sheet that must not be cut from [mm], along the frame's upper edge."""
    band = Box(frame.left, frame.top - BAND_MM, frame.right, frame.top)
    words = "NOT FOR CUTTING"
    height = 5.0
    wide = text_width(words, height, bold=True)
    reason = _short(wrapped(why, 90.0, height_mm=2.6)) if why else ()
    reason_wide = max((text_width(line, 2.6) for line in reason), default=-4.0)
    total = wide + 4.0 + reason_wide
    left = band.centre[0] - 0.5 * total
    items: list[Primitive] = []
    for low, high in ((band.left, left - 4.0), (left + total + 4.0, band.right)):
        items += _stripes(Box(low, band.bottom, high, band.top))
    items.append(rectangle(band, "border"))
    items.append(
        Text((left, band.centre[1]), words, height_mm=height, anchor="left-middle", bold=True)
    )
    for number, line in enumerate(reason):
        up = (0.5 * (len(reason) - 1) - number) * 2.6 * LEADING
        items.append(
            Text(
                (left + wide + 4.0, band.centre[1] + up),
                line,
                height_mm=2.6,
                anchor="left-middle",
            )
        )
    return tuple(items)


def _short(lines: tuple[str, ...]) -> tuple[str, ...]:
    """Return as many lines as the band is high enough for, the last saying where the rest is."""
    most = max(1, int(BAND_MM / (2.6 * LEADING)))
    if len(lines) <= most:
        return lines
    return (*lines[: most - 1], "… the whole of it stands on the first sheet")


def _stripes(box: Box) -> tuple[Primitive, ...]:
    """Return slanted stripes in a box: as many whole ones as it holds."""
    wide, lean = 4.0, box.height
    stripes = []
    x = box.left
    while x + wide + lean <= box.right:
        corners = (
            (x, box.bottom),
            (x + wide, box.bottom),
            (x + wide + lean, box.top),
            (x + lean, box.top),
        )
        stripes.append(Fill(corners, "spot", layer="border"))
        x += 2.0 * wide
    return tuple(stripes)
