"""The weld map of each leaf, its joints enlarged, and every seam with its symbol and a tick."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from leafwright import units
from leafwright.leaf import Leaf
from leafwright.paper.clear import laid_out, other_reaches, set_clear
from leafwright.paper.drawing import Drawing, DrawingItem, Leader, Symbol
from leafwright.paper.layout import (
    Caution,
    Cell,
    Column,
    Table,
    columns_of,
    header_height,
    laid_table,
    row_heights,
    widened,
)
from leafwright.paper.scale import Scale, fitting_scale
from leafwright.paper.scene import Box, Line, Point, Polyline, Text
from leafwright.paper.sheet import Sheet, area, fitted
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.elevation import leaf_items
from leafwright.paper.sheets.flow import WIDE_ENOUGH, Block, Listed, Rows, Says, Title, flowed
from leafwright.paper.sheets.leaf import HOT_WORK, leaf_parts
from leafwright.paper.sheets.seam_details import (
    JointSeams,
    cell_for,
    joint_cell,
    joint_places,
    joints_of,
)
from leafwright.paper.weld_symbols import WeldMark, mark_width, weld_mark
from leafwright.records import Held
from leafwright.say import sentence
from leafwright.shop.seams import LeafSeams, NumberedSeam, Seams
from leafwright.shop.seams.frame_seams import size_words
from leafwright.shop.seams.records import View
from leafwright.shop.seams.words import (
    FLUSH,
    HOLD,
    SHARP,
    best_position,
    extra_words,
    length_words,
    ranges,
    total_words,
    weld_words,
    where_words,
)
from leafwright.units import Tape

_LEGEND = (
    "A thick line is a seam along the side that is seen; a black dot is one across the tubes, seen "
    "end on: it is numbered on the face only."
)
#: Where a symbol's arrow and line meet in its cell, from the cell's left edge [mm].
_JUNCTION = 5.2


def seam_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the weld sheets of every leaf whose seams are known."""
    seams = at.plan.seams
    if not isinstance(seams, Seams):
        held = seams if isinstance(seams, Held) else Held("it was not asked for")
        sheet = blank(at, "Seams", seen=False)
        needs = f" It needs {'; '.join(held.needs)}." if held.needs else ""
        return flowed(sheet, area(sheet), lambda: sheet, (Says(f"{held.why}.{needs}", 5.0),))
    found: list[Sheet] = []
    for (_, _, leaf), its in zip(leaf_parts(at), seams.leaves, strict=False):
        found += _map_sheets(at, leaf, its)
        found += _detail_sheets(at, leaf, its)
        found += _table_sheets(at, its)
    return tuple(found)


def _title(its: LeafSeams, what: str) -> str:
    return f"{title_of_leaf(its.leaf)}, {what}"


# ------------------------------------------------------------------------------- the weld map


def _map_sheets(at: Desk, leaf: Leaf, its: LeafSeams) -> tuple[Sheet, ...]:
    caution = Caution("Hold point before standing", HOLD)
    title = _title(its, f"weld map, symbols by {its.symbols}")
    sheet = blank(at, title, cautions=(HOT_WORK, caution), drawing=True)
    room = area(sheet)
    wide = room.width >= WIDE_ENOUGH
    face = at.plan.job.job.seen_from
    views: tuple[tuple[View, str], ...] = (
        ("face", f"SEEN FROM THE {face.upper()} (FACE)"),
        ("back", "SEEN FROM THE BACK"),
    )

    def later() -> Sheet:
        return blank(at, _title(its, "seams, in words"), seen=False)

    blocks = _words(at, its)
    rooms = columns_of(room, 1.15, 1.05, 1.0, gap_mm=6.0) if wide else (room, room)

    def lay(scale: Scale) -> tuple[Drawing, ...]:
        return tuple(seam_map(leaf, its, view, scale) for view, _ in views)

    def scale_of(drawings: tuple[Drawing, ...]) -> Scale:
        # Both at one scale: the smaller of the two that fit.
        pairs = zip(drawings, rooms, strict=False)
        fits = [fitted(drawing, box, at.scales, caption=" ").scale for drawing, box in pairs]
        return min(fits, key=lambda each: each.mm_per_m)

    size = (rooms[1].width, rooms[1].height)
    drawings = laid_out(lay, scale_of, fitting_scale((leaf.width, leaf.height), size, at.scales))
    scale = scale_of(drawings)
    placed = [
        fitted(drawing, box, at.scales, caption=caption, scale=scale)
        for drawing, box, (_, caption) in zip(drawings, rooms, views, strict=False)
    ]
    if wide:
        return flowed(replace(sheet, placed=tuple(placed)), rooms[2], later, blocks)
    following = later()
    words = flowed(following, area(following), later, blocks)
    return (*(replace(sheet, placed=(one,)) for one in placed), *words)


def _mirrored(point: Point, leaf: Leaf, view: View) -> Point:
    return point if view == "face" else (leaf.width - point[0], point[1])


def seam_map(leaf: Leaf, its: LeafSeams, view: View, scale: Scale) -> Drawing:
    """Return the whole leaf from one side, each joint with the numbers that are on that side.

    They are set clear of one another at a scale.
    """
    items: list[DrawingItem] = []
    for item in leaf_items(leaf):
        assert isinstance(item, Polyline)
        points = tuple(_mirrored(p, leaf, view) for p in item.points)
        items.append(replace(item, points=points, layer="thin"))
    hinge_left = (leaf.hand == "left") is (view == "face")
    hinge = 0.0 if hinge_left else leaf.width
    items.append(Line((hinge, 0.0), (hinge, leaf.height), "border"))
    inward = 1.0 if hinge_left else -1.0
    along = Text(
        (inward * 2.4, 0.0),
        "HINGE EDGE",
        height_mm=2.6,
        bold=True,
        anchor="centre-top" if hinge_left else "centre-bottom",
        angle=math.pi / 2,
    )
    inside = hinge + inward * leaf.members[0].section.width
    items.append(Symbol((inside, _clear_height(leaf)), (along,)))
    joints = joint_places(leaf)
    leaders = _mount_leaders(leaf, its) if view == "face" else []
    for key, group in itertools.groupby(its.frame, key=lambda seam: seam.joint):
        numbers = [seam.number for seam in group if seam.view == view]
        if numbers:
            where = _mirrored(joints[key], leaf, view)
            leaders.append(_joint_leader(where, ranges(numbers), leaf, crossing="crossing" in key))
    choices = [[leader, *other_reaches(leader)] for leader in leaders]
    return Drawing((*items, *set_clear(items, choices, scale)))


def _clear_height(leaf: Leaf) -> float:
    """Return where beside the hanging stile braces leave the most room for words [m]."""
    stile = leaf.members[0].foot[0]
    slanted = [m for m in leaf.members if m.role in ("brace", "rod")]

    def room(y: float) -> float:
        away = [leaf.width]
        for member in slanted:
            (fx, fy), (dx, dy) = member.foot, member.direction
            ys = [point[1] for point in member.bar.outline]
            if dy and min(ys) - 0.1 <= y <= max(ys) + 0.1:
                away.append(abs(fx + (y - fy) / dy * dx - stile))
        return min(away)

    return max(((p.bottom + p.top) / 2 for p in leaf.panels), key=room)


def _joint_leader(where: Point, words: str, leaf: Leaf, *, crossing: bool) -> Leader:
    x, y = where
    out = -1.0 if x < leaf.width / 2 else 1.0
    rise = -5.0 if y < 0.15 * leaf.height else 5.0
    to = (9.0, 0.0) if crossing else (out * 9.0, rise)
    # In the middle of a narrow leaf the words may lie over its edge.
    return Leader(where, to, words, end="dot", bold=True, height_mm=3.2, knockout=crossing)


def _mount_leaders(leaf: Leaf, its: LeafSeams) -> list[Leader]:
    """Return a leader to each part that holds the leaf, with its numbers."""
    items: list[Leader] = []
    for _, group in itertools.groupby(its.mount, key=lambda seam: seam.place):
        here = list(group)
        x, y, _ = here[0].middle
        told = "M" + ranges([seam.number for seam in here]).replace("–", "–M").replace(", ", ", M")
        out = -1.0 if leaf.hand == "left" else 1.0
        low, high = y < 0.05 * leaf.height, y > 0.95 * leaf.height
        to = (-out * 7.0, -9.0 if low else 9.0) if low or high else (out * 10.0, 0.0)
        items.append(Leader((x, y), to, told, end="dot", bold=True, height_mm=3.2))
    return items


def _words(at: Desk, its: LeafSeams) -> tuple[Block, ...]:
    tape = at.words.tape
    rows = tuple(
        (count, f"{weld}, {done_at}", long)
        for weld, done_at, count, long in (total_words(row, tape) for row in its.lengths)
    )
    letter = its.letter
    notes = [
        f"{len(its.frame)} seams of the leaf, {letter}-1 on, and {len(its.mount)} of what holds "
        f"it, {letter}-M1 on. Numbers run from the bottom up and from the hinge to the nose; "
        "joints are enlarged on the next sheets, every seam is listed after them, and the parts of "
        "the mount are drawn on its own sheets.",
        "On the map of the face stand the seams on the face and those across the tubes; on that "
        "of the back those on the back.",
        FLUSH,
        SHARP,
    ]
    bare = tuple(f"{sentence(each.where)}: {each.reason}" for each in its.unwelded)
    asked = tuple(f"{seam.mark}: {seam.unknown}" for seam in its.every if seam.unknown)
    return (
        Listed(tuple(notes), height_mm=2.6),
        *((Title("Not given by the job"), Listed(asked, height_mm=2.4)) if asked else ()),
        Title("Together"),
        Rows(
            Table(
                (
                    Column("Seams", 12.0, align="right"),
                    Column("Weld, and where it is made", 66.0),
                    Column("Together", 36.0, align="right"),
                ),
                rows,
                height_mm=2.5,
                title_height_mm=2.4,
                padding_mm=1.0,
            )
        ),
        Title("No seam"),
        Listed(bare, height_mm=2.4),
    )


# --------------------------------------------------------------------------- joints, enlarged


def _detail_sheets(at: Desk, leaf: Leaf, its: LeafSeams) -> tuple[Sheet, ...]:
    joints = joints_of(leaf, its.frame)
    sheet = blank(at, _joints_title(its, joints))
    sheet = replace(sheet, block=replace(sheet.block, scale="enlarged, not to scale"))
    room = area(sheet)
    tube = min(member.section.width for member in leaf.members if member.role != "rod")
    cell = cell_for(joints, room.width, tube)
    columns = max(int(room.width // cell.width), 1)
    down = max(int(room.height // cell.height), 1)
    wide, high = room.width / columns, (room.height - 5.0) / down
    sheets = []
    for start in range(0, len(joints), columns * down):
        items: list[DrawingItem] = []
        here = joints[start : start + columns * down]
        for i, joint in enumerate(here):
            left = room.left + (i % columns) * wide
            top = room.top - (i // columns) * high
            box = room_of(left, top, wide, high)
            items += joint_cell(leaf, joint, cell, box, at.plan.job.job.seen_from)
        items.append(Text((room.left, room.bottom), _LEGEND, height_mm=2.4))
        sheets.append(replace(sheet, title=_joints_title(its, here), items=tuple(items)))
    return tuple(sheets)


def _joints_title(its: LeafSeams, joints: Sequence[JointSeams]) -> str:
    numbers = [seam.number for joint in joints for seam in joint.seams]
    first, last = f"{its.letter}-{min(numbers)}", f"{its.letter}-{max(numbers)}"
    return _title(its, f"joints enlarged, seams {first} to {last}")


def room_of(left: float, top: float, wide: float, high: float) -> Box:
    """Return the box of a cell, with air round it [mm]."""
    return Box(left, top - high + 3.0, left + wide - 4.0, top)


# ------------------------------------------------------------------------------ every seam


def mark_of(seam: NumberedSeam, tape: Tape, *, iso: bool, process: str = "") -> WeldMark:
    """Return the welding symbol of a seam: the arrow is on the seam, so it is the arrow's side."""
    size = "" if seam.size is None else size_words(seam.size, tape).replace("\u00a0", " ")
    size = size.removesuffix(" in").removesuffix(" mm")
    if size and iso:
        size = {"fillet": "z", "plug": "d"}.get(seam.kind, "s") + size
    elif size and seam.kind in ("flare-bevel", "square groove", "bevel groove"):
        size = f"({size})"
    length = ""
    if seam.length and not seam.all_round and seam.kind != "plug":
        length = _bare(seam.length, tape)
    return WeldMark(
        kind=seam.kind,
        size=size,
        length=length,
        all_round=seam.all_round,
        field=seam.done_at == "field",
        flush=seam.flush,
        tail=", ".join(part for part in ("ground" if iso and seam.flush else "", process) if part),
        standard="ISO" if iso else "AWS",
    )


def _bare(metres: float, tape: Tape) -> str:
    """Return a length without its unit, as a symbol has it."""
    if tape.system == "mm":
        return units.show_length(metres, tape).removesuffix(" mm")
    inches = Tape("inch", tape.per)
    return units.show_length(metres, inches).rstrip('"').removesuffix(" in").strip()


def _table(at: Desk, its: LeafSeams) -> tuple[Table, tuple[NumberedSeam, ...]]:
    tape, iso = at.words.tape, at.words.system == "mm"
    rows = []
    for seam in its.every:
        member, side = where_words(seam)
        weld = f"{weld_words(seam, tape)}\n{length_words(seam, tape)}"
        rows.append(
            (
                Cell("", tick=False),
                seam.mark,
                f"{sentence(member)}:\n{side}",
                weld,
                "",
                best_position(seam, iso=iso),
                "; ".join(extra_words(seam, short=True)),
            )
        )
    columns = (
        Column("Done", 13.5),
        Column("No.", 17.5, bold=True, height_mm=3.2),
        Column("Where", 45.0),
        Column("Weld, in words", 41.0),
        Column("Symbol", 35.0),
        Column("Position", 20.0),
        Column("Mind", 28.0),
    )
    table = Table(columns, tuple(rows), height_mm=2.3, title_height_mm=2.4, padding_mm=2.1)
    return table, its.every


#: Air over and under the words of a seam's row, and what may be taken of it to save a sheet [mm].
_ROW_AIR = (2.1, 1.75)


def _table_sheets(at: Desk, its: LeafSeams) -> tuple[Sheet, ...]:
    """Return every seam in a row with its symbol, two columns of rows where the sheet is wide."""
    return min((_set_table(at, its, air) for air in _ROW_AIR), key=len)


def _set_table(at: Desk, its: LeafSeams, air: float) -> tuple[Sheet, ...]:
    table, seams = _table(at, its)
    table = replace(table, padding_mm=air)
    title = _title(its, f"every seam, symbols by {its.symbols}")
    iso = at.words.system == "mm"
    rest: Table | None = table
    sheets: list[Sheet] = []
    first = 0
    while rest is not None:
        sheet = blank(at, title, seen=False)
        room = area(sheet)
        boxes = columns_of(room, 1.0, 1.0, gap_mm=7.0) if room.width >= WIDE_ENOUGH else (room,)
        items: list[DrawingItem] = []
        for box in boxes:
            if rest is None:
                break
            wide = widened(rest, box.width)
            laid = laid_table(wide, left=box.left, top=box.top, bottom=box.bottom)
            count = len(wide.rows) - (len(laid.rest.rows) if laid.rest else 0)
            if count == 0:
                raise ValueError("an empty sheet has no room for a row of the seams' table")
            items += laid.items
            items += _symbols(wide, seams[first : first + count], box.left, box.top, at, iso=iso)
            first += count
            rest = laid.rest
        sheets.append(replace(sheet, items=tuple(items)))
    return tuple(sheets)


def _symbols(
    table: Table, seams: Sequence[NumberedSeam], left: float, top: float, at: Desk, *, iso: bool
) -> list[DrawingItem]:
    x = left + sum(column.width for column in table.columns[:4])
    room = table.columns[4].width
    y = top - header_height(table)
    items: list[DrawingItem] = []
    for seam, high in zip(seams, row_heights(table), strict=False):
        mark = mark_of(seam, at.words.tape, iso=iso)
        wide = mark_width(mark)
        if wide > room - _JUNCTION and mark.tail:
            # The row says it beside.
            mark = replace(mark, tail="")
            wide = mark_width(mark)
        if wide > room - _JUNCTION and mark.length:
            mark = replace(mark, length="")
        low = -1.6 if mark.field else -0.6 if mark.over else 1.2
        items += weld_mark((x + _JUNCTION, y - high / 2.0 + low), mark)
        y -= high
    return items
