"""Words, figures, tables and boxes laid out downwards on a page, in millimetres of paper.

Each function that lays something out takes the ``left`` and ``top`` of its place and returns a
`Laid`: the primitives, and the ``bottom`` to go on from.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import KW_ONLY, dataclass, replace
from typing import Literal

from leafwright.paper.font import text_width
from leafwright.paper.scene import Box, Fill, Ink, Layer, Line, Polyline, Primitive, Text
from leafwright.paper.signs import stop_sign, tick_box, warning_triangle
from leafwright.paper.wrapping import Align, lines_at, lines_height, wrapped


@dataclass(frozen=True, slots=True)
class Laid:
    """Primitives laid out on a page, and the y of the lower edge of the place they take [mm]."""

    items: tuple[Primitive, ...]
    bottom: float


def paragraph(
    text: str,
    *,
    left: float,
    top: float,
    width: float,
    height_mm: float = 3.0,
    bold: bool = False,
    align: Align = "left",
    ink: Ink = "black",
    key: str = "",
) -> Laid:
    """Return a text wrapped to a width; the first line's capitals touch ``top`` [mm]."""
    lines = wrapped(text, width, height_mm=height_mm, bold=bold)
    items = lines_at(
        lines, left, top, width, height_mm=height_mm, bold=bold, align=align, ink=ink, key=key
    )
    return Laid(items, top - lines_height(len(lines), height_mm))


def heading(text: str, *, left: float, top: float, width: float, height_mm: float = 4.0) -> Laid:
    """Return a heading: bold words over a line as wide as the place [mm]."""
    laid = paragraph(text, left=left, top=top, width=width, height_mm=height_mm, bold=True)
    under = laid.bottom - 0.6
    line = Line((left, under), (left + width, under), "note")
    return Laid((*laid.items, line), under - 2.4)


def bullets(
    texts: Sequence[str],
    *,
    left: float,
    top: float,
    width: float,
    height_mm: float = 3.0,
    numbered_from: int = 0,
    gap_mm: float = 1.4,
) -> Laid:
    """Return wrapped texts under each other, each behind a dash or its number [mm].

    They are numbered from ``numbered_from`` on, where that is not 0.
    """
    signs = [f"{n + numbered_from}" if numbered_from else "–" for n in range(len(texts))]
    indent = max((text_width(sign, height_mm, bold=True) for sign in signs), default=0.0)
    indent += 0.7 * height_mm
    items: list[Primitive] = []
    for sign, text in zip(signs, texts, strict=True):
        items.append(Text((left, top), sign, height_mm=height_mm, anchor="left-top", bold=True))
        laid = paragraph(
            text, left=left + indent, top=top, width=width - indent, height_mm=height_mm
        )
        items += laid.items
        top = laid.bottom - gap_mm
    return Laid(tuple(items), top)


def figures(
    pairs: Sequence[tuple[str, str]],
    *,
    left: float,
    top: float,
    width: float,
    columns: int = 1,
    height_mm: float = 5.0,
    caption_mm: float = 2.4,
    gap_mm: float = 3.0,
) -> Laid:
    """Return big figures under small captions, filled row by row into columns [mm].

    Args:
        pairs: caption and figure of each.
        left: left edge [mm].
        top: upper edge [mm].
        width: width of the place [mm].
        columns: how many stand beside each other.
        height_mm: height of the figures' capitals [mm]; a figure too wide for its column wraps.
        caption_mm: height of the captions' capitals [mm].
        gap_mm: room between columns and between rows [mm].
    """
    each = (width - gap_mm * (columns - 1)) / columns
    items: list[Primitive] = []
    for start in range(0, len(pairs), columns):
        lowest = top
        row = pairs[start : start + columns]
        captions = [wrapped(caption, each, height_mm=caption_mm) for caption, _ in row]
        under = top - lines_height(max(map(len, captions)), caption_mm)
        # A stroke or an inch mark stands higher than a capital.
        under -= 0.8 + 0.2 * height_mm
        for number, (_, figure) in enumerate(row):
            x = left + number * (each + gap_mm)
            items += lines_at(
                captions[number],
                x,
                top,
                each,
                height_mm=caption_mm,
                bold=False,
                align="left",
                ink="dark",
            )
            value = paragraph(figure, left=x, top=under, width=each, height_mm=height_mm, bold=True)
            items += value.items
            lowest = min(lowest, value.bottom)
        top = lowest - gap_mm
    return Laid(tuple(items), top + gap_mm if pairs else top)


@dataclass(frozen=True, slots=True)
class Column:
    """A table's column: its title, its width [mm], and where its words stand.

    ``height_mm`` is the height of its words' capitals [mm] where it is not the table's.
    """

    title: str
    width: float
    _: KW_ONLY
    align: Align = "left"
    bold: bool = False
    height_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Cell:
    """A table's cell.

    ``tick`` draws a box before the words, ticked when True; ``blank`` a box in place of them, to
    be written into.
    """

    text: str
    _: KW_ONLY
    bold: bool = False
    tick: bool | None = None
    blank: bool = False
    key: str = ""


#: A place to write a number into by hand, to be used wherever one is wanted.
BLANK = Cell("", blank=True)
#: A blank is at least this high [mm].
BLANK_MM = 9.0


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows of cells; a bare string is a plain cell."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Cell, ...], ...]
    _: KW_ONLY
    height_mm: float = 3.0
    title_height_mm: float = 2.5
    padding_mm: float = 1.5

    def __post_init__(self) -> None:
        """Refuse a row with more or fewer cells than there are columns."""
        for number, row in enumerate(self.rows, start=1):
            if len(row) != len(self.columns):
                raise ValueError(
                    f"row {number} of the table {[c.title for c in self.columns]!r} has {len(row)} "
                    f"cells for {len(self.columns)} columns; give one cell for each column"
                )

    @property
    def width(self) -> float:
        """Width of all columns [mm]."""
        return sum(column.width for column in self.columns)


@dataclass(frozen=True, slots=True)
class LaidTable:
    """A table's part on one page; ``rest`` is the table of the rows that did not fit, or None."""

    items: tuple[Primitive, ...]
    bottom: float
    rest: Table | None


def widened(table: Table, width_mm: float) -> Table:
    """Return the table with its columns' widths scaled to fill ``width_mm`` [mm]."""
    factor = width_mm / table.width
    columns = tuple(replace(column, width=column.width * factor) for column in table.columns)
    return replace(table, columns=columns)


def _tick_side(table: Table) -> float:
    return 1.3 * table.height_mm


def _height(table: Table, column: Column) -> float:
    """Return the height of a column's capitals [mm]."""
    return column.height_mm or table.height_mm


def _cell_lines(table: Table, column: Column, cell: str | Cell) -> tuple[str, ...]:
    room = column.width - 2.0 * table.padding_mm
    height = _height(table, column)
    if isinstance(cell, str):
        return wrapped(cell, room, height_mm=height, bold=column.bold)
    if cell.tick is not None:
        room -= _tick_side(table) + table.padding_mm
    if not cell.text:
        return ("",)
    return wrapped(cell.text, room, height_mm=height, bold=cell.bold or column.bold)


def header_height(table: Table) -> float:
    """Return the height of a table's repeated header [mm]."""
    most = max(len(_title_lines(table, column)) for column in table.columns)
    return lines_height(most, table.title_height_mm) + 2.0 * table.padding_mm


def row_heights(table: Table) -> tuple[float, ...]:
    """Return the height of each row [mm]."""
    heights = []
    for row in table.rows:
        height = max(
            lines_height(len(_cell_lines(table, column, cell)), _height(table, column))
            for column, cell in zip(table.columns, row, strict=True)
        )
        if any(isinstance(cell, Cell) and cell.blank for cell in row):
            height = max(height, BLANK_MM)
        if any(isinstance(cell, Cell) and cell.tick is not None for cell in row):
            height = max(height, _tick_side(table))
        heights.append(height + 2.0 * table.padding_mm)
    return tuple(heights)


def _title_lines(table: Table, column: Column) -> tuple[str, ...]:
    room = column.width - 2.0 * table.padding_mm
    return wrapped(column.title, room, height_mm=table.title_height_mm, bold=True)


def laid_table(table: Table, *, left: float, top: float, bottom: float) -> LaidTable:
    """Return as many of a table's rows as fit between ``top`` and ``bottom`` [mm].

    The header is repeated on each page; ``rest`` goes on on the next one. Where not one row fits,
    nothing is drawn and all rows are left over.
    """
    heights = row_heights(table)
    y = top - header_height(table)
    count = 0
    for height in heights:
        if y - height < bottom - 1e-9:
            break
        y -= height
        count += 1
    if count == 0 and heights:
        return LaidTable((), top, table)
    items = list(_header(table, left, top))
    y = top - header_height(table)
    for row, height in zip(table.rows[:count], heights, strict=False):
        items += _row(table, row, left, y, height)
        y -= height
        items.append(Line((left, y), (left + table.width, y), "rule"))
    rest = replace(table, rows=table.rows[count:]) if count < len(heights) else None
    return LaidTable(tuple(items), y, rest)


def table_pages(table: Table, *, first_mm: float, later_mm: float) -> tuple[Table, ...]:
    """Return the table divided into one table for each page, losing no row.

    Args:
        table: the whole table.
        first_mm: height of the room on the first page [mm]; may be too small for any row, and
            then the first table has no rows.
        later_mm: height of the room on each later page [mm].

    Raises:
        ValueError: when a row is taller than a whole later page.
    """
    heights, header = row_heights(table), header_height(table)
    pages: list[Table] = []
    start, room = 0, first_mm
    while True:
        used, end = header, start
        while end < len(heights) and used + heights[end] <= room + 1e-9:
            used += heights[end]
            end += 1
        if end == start and pages and start < len(heights):
            raise ValueError(
                f"row {start + 1} of the table {[c.title for c in table.columns]!r} is "
                f"{heights[start]:.0f} mm high under a header of {header:.0f} mm and a page has "
                f"{later_mm:.0f} mm; widen its columns or shorten its words"
            )
        pages.append(replace(table, rows=table.rows[start:end]))
        start, room = end, later_mm
        if start >= len(heights):
            return tuple(pages)


def _header(table: Table, left: float, top: float) -> tuple[Primitive, ...]:
    height = header_height(table)
    base = top - height
    right = left + table.width
    items: list[Primitive] = [
        Fill(((left, base), (right, base), (right, top), (left, top)), "pale", layer="rule"),
        Line((left, top), (right, top), "note"),
        Line((left, base), (right, base), "note"),
    ]
    x = left
    for column in table.columns:
        lines = _title_lines(table, column)
        items += lines_at(
            lines,
            x + table.padding_mm,
            base + table.padding_mm + lines_height(len(lines), table.title_height_mm),
            column.width - 2.0 * table.padding_mm,
            height_mm=table.title_height_mm,
            bold=True,
            align=column.align,
            ink="black",
        )
        x += column.width
    return tuple(items)


def _row(
    table: Table, row: Sequence[str | Cell], left: float, top: float, height: float
) -> tuple[Primitive, ...]:
    items: list[Primitive] = []
    x = left
    for column, cell in zip(table.columns, row, strict=True):
        if isinstance(cell, Cell) and cell.blank:
            place = Box(x, top - height, x + column.width, top).inset(1.0)
            items.append(rectangle(place, "note", key=cell.key))
            x += column.width
            continue
        text_left, room = x + table.padding_mm, column.width - 2.0 * table.padding_mm
        text_top, key, bold = top - table.padding_mm, "", column.bold
        if isinstance(cell, Cell):
            key, bold = cell.key, cell.bold or column.bold
            if cell.tick is not None:
                side = _tick_side(table)
                corner = (text_left, text_top - 0.5 * table.height_mm - 0.5 * side)
                items += tick_box(corner, side, ticked=cell.tick, key=key)
                text_left += side + table.padding_mm
                room -= side + table.padding_mm
        items += lines_at(
            _cell_lines(table, column, cell),
            text_left,
            text_top,
            room,
            height_mm=_height(table, column),
            bold=bold,
            align=column.align,
            ink="black",
            key=key,
        )
        x += column.width
    return tuple(items)


def rectangle(box: Box, layer: Layer, *, fill: Ink | None = None, key: str = "") -> Polyline:
    """Return the outline of a box."""
    return Polyline(box.corners, layer, closed=True, fill=fill, key=key)


@dataclass(frozen=True, slots=True)
class Caution:
    """Something that can hurt, for a box with a heavy border.

    ``kind`` "caution" has the triangle; "stop" the stop sign: work waits until it is answered.
    """

    title: str
    text: str
    _: KW_ONLY
    kind: Literal["caution", "stop"] = "caution"


def caution_box(
    caution: Caution,
    *,
    left: float,
    top: float,
    width: float,
    height_mm: float = 3.0,
    least_height: float = 0.0,
) -> Laid:
    """Return a caution with its sign in a heavy box [mm].

    Args:
        caution: the words.
        left: left edge [mm].
        top: upper edge [mm].
        width: width of the box [mm].
        height_mm: height of the words' capitals [mm].
        least_height: height that the box has at least [mm], to stand level beside another.
    """
    padding, sign = 2.6, 3.6 * height_mm
    text_left = left + 2.0 * padding + sign
    room = left + width - padding - text_left
    title = paragraph(
        caution.title,
        left=text_left,
        top=top - padding,
        width=room,
        height_mm=1.15 * height_mm,
        bold=True,
    )
    body = paragraph(
        caution.text, left=text_left, top=title.bottom - 0.9, width=room, height_mm=height_mm
    )
    bottom = min(body.bottom - padding + 0.6, top - sign - 2.0 * padding, top - least_height)
    box = Box(left, bottom, left + width, top)
    draw = stop_sign if caution.kind == "stop" else warning_triangle
    rise = sign if caution.kind == "stop" else sign * math.sqrt(3.0) / 2.0
    at = (left + padding, top - padding - rise)
    return Laid((rectangle(box, "border"), *draw(at, sign), *title.items, *body.items), bottom)


def columns_of(box: Box, *weights: float, gap_mm: float = 4.0) -> tuple[Box, ...]:
    """Return the box divided from left to right in proportion to the weights [mm]."""
    room = box.width - gap_mm * (len(weights) - 1)
    boxes, left = [], box.left
    for weight in weights:
        width = room * weight / sum(weights)
        boxes.append(Box(left, box.bottom, left + width, box.top))
        left += width + gap_mm
    return tuple(boxes)


def rows_of(box: Box, *weights: float, gap_mm: float = 4.0) -> tuple[Box, ...]:
    """Return the box divided from top to bottom in proportion to the weights [mm]."""
    room = box.height - gap_mm * (len(weights) - 1)
    boxes, top = [], box.top
    for weight in weights:
        height = room * weight / sum(weights)
        boxes.append(Box(box.left, top - height, box.right, top))
        top -= height + gap_mm
    return tuple(boxes)
