"""The order of welding on paper: the leaf as it lies, the welds numbered where they are, the steps.

Both sides on one sheet where the paper holds them, otherwise one for each side that is up. With
the back up the leaf is drawn from the back, as the welder then sees it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from leafwright.documents.records import LeafWelded, ToDo
from leafwright.documents.weld_order import weld_order_document
from leafwright.leaf import Leaf, Member
from leafwright.paper.clear import is_clear, laid_out, set_clear
from leafwright.paper.drawing import Drawing, DrawingItem, Symbol
from leafwright.paper.layout import Caution, Cell, Column, Table, columns_of, paragraph
from leafwright.paper.scale import Scale, fitting_scale
from leafwright.paper.scene import Box, Circle, Fill, Line, Point, Polyline, Text
from leafwright.paper.sheet import Sheet, area, fitted
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.elevation import hinge_edge, leaf_items
from leafwright.paper.sheets.flow import (
    COLUMN_GAP,
    WIDE_ENOUGH,
    Block,
    Listed,
    Rows,
    Says,
    Title,
    drawing_room,
    drawn,
    flowed,
)
from leafwright.records import Held
from leafwright.say import sentence

#: How far along a member from its end its numbers stand: a rail's, and a brace's that leans away
#: from what else ends there; in several lines they may come closer [mm].
ALONG_RAIL, ALONG_BRACE, CLOSE = 13.0, 24.0, 5.0
#: How far from a rail's middle line its mark stands [mm].
BESIDE_RAIL = 4.6
#: How far off a member its numbers stand where along it is no room, one way or the other [mm].
ASIDE = (9.0, -9.0, 15.0, -15.0, 22.0, -22.0)
#: Letters of a number at its place [mm].
NUMBER_MM = 2.7
#: Numbers stand no further in than this share of the way to the middle of their member, in so many
#: steps [-].
MOST_ALONG, STEPS_ALONG = 0.9, 9
#: The drawing's share of a column that holds one side: of its width for a leaf higher than it is
#: wide, of its height for another; the first that leaves the words room [-].
TALL_SHARES, WIDE_SHARES = (0.34, 0.3, 0.26), (0.38, 0.32)
#: The drawing's share of a wide sheet that holds one side [-].
SHARE = 0.4


def weld_order_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the order of welding of every leaf, a sheet for each side that is up; it is searched.

    A leaf whose order is held has none.
    """
    document = weld_order_document(at.plan)
    if isinstance(document.leaves, Held):
        return ()
    leaves = {leaf.key: leaf for leaf in at.plan.leaves if isinstance(leaf, Leaf)}
    return tuple(
        sheet
        for told in document.leaves
        if told.key in leaves and not isinstance(told.order, Held)
        for sheet in _leaf_sheets(at, leaves[told.key], told)
    )


def passes_of(steps: Sequence[ToDo]) -> list[tuple[ToDo, ...]]:
    """Return the steps by which side is up, a turn first in what follows it."""
    found: list[list[ToDo]] = [[]]
    for step in steps:
        if step.kind == "turn":
            found.append([])
        found[-1].append(step)
    return [tuple(one) for one in found]


def _leaf_sheets(at: Desk, leaf: Leaf, told: LeafWelded) -> tuple[Sheet, ...]:
    shares = TALL_SHARES if leaf.height > leaf.width else WIDE_SHARES
    tried = (_together(at, leaf, told, share, air) for share in shares for air in (0.7, 0.5))
    together = next((sheet for sheet in tried if sheet is not None), None)
    return (together,) if together is not None else tuple(_side_sheets(at, leaf, told))


def _cautions(told: LeafWelded) -> tuple[Caution, ...]:
    return (
        Caution("Turning it over", sentence(told.cautions[0].partition(": ")[2])),
        Caution("Hot work", sentence(told.cautions[1].partition(": ")[2])),
    )


def _tacks(told: LeafWelded) -> Says:
    return Says(f"Tacks: {'; '.join(told.tacks)}. {told.cautions[2]}", height_mm=2.5)


def _together(at: Desk, leaf: Leaf, told: LeafWelded, share: float, air: float) -> Sheet | None:
    """Return one sheet with each side that is up in a column of its own, or None: no room."""
    parts = passes_of(told.steps)
    title = f"Order of welding, {title_of_leaf(told.key).lower()}"
    sheet = blank(at, title, cautions=_cautions(told), drawing=True)
    room = area(sheet)
    if room.width < WIDE_ENOUGH or len(parts) > 2:
        return None
    words = _tacks(told).text
    note = paragraph(words, left=room.left, top=room.top, width=room.width, height_mm=2.5)
    room = replace(room, top=note.bottom - 2.5)
    placed, items = [], [*sheet.items, *note.items]
    for number, box in enumerate(columns_of(room, *(1.0 for _ in parts), gap_mm=COLUMN_GAP)):
        steps, last = parts[number], number == len(parts) - 1
        up = steps[-1].up
        side = at.plan.job.job.seen_from if up == "face" else "back"
        table = replace(_table(steps, leaf), height_mm=2.4, padding_mm=air)
        blocks: list[Block] = [Rows(table), *(_at_the_end(told) if last else [])]
        if leaf.height > leaf.width:
            edge = box.left + share * box.width
            place = Box(box.left, box.bottom, edge, box.top)
            beside = Box(edge + 3.0, box.bottom, box.right, box.top)
        else:
            low = box.top - share * box.height
            place = Box(box.left, low, box.right, box.top)
            beside = Box(box.left, box.bottom, box.right, low - 3.0)
        caption = f"{side.upper()} UP"
        try:
            drawing = _numbered(at, leaf, steps, place, caption)
            placed.append(fitted(drawing, place, at.scales, caption=caption))
            set_ = flowed(
                replace(sheet, items=()), beside, lambda: replace(sheet, items=()), blocks
            )
        except ValueError:
            return None
        if len(set_) > 1 or not is_clear(drawing.items, placed[-1].scale):
            return None
        items += set_[0].items
    block = replace(sheet.block, seen_from="above, as it lies")
    return replace(sheet, placed=tuple(placed), items=tuple(items), block=block)


def _side_sheets(at: Desk, leaf: Leaf, told: LeafWelded) -> Iterator[Sheet]:
    parts = passes_of(told.steps)
    for number, steps in enumerate(parts, 1):
        up = steps[-1].up
        side = at.plan.job.job.seen_from if up == "face" else "back"
        title = f"Order of welding, {title_of_leaf(told.key).lower()}, {side} up"
        if len(parts) > 2:
            title += f" ({number})"
        sheet = blank(at, title, cautions=_cautions(told), drawing=True)
        sheet = replace(sheet, block=replace(sheet.block, seen_from="above, as it lies"))
        caption = f"{side.upper()} UP, SEEN FROM ABOVE"
        place = drawing_room(sheet, share=SHARE)
        blocks: list[Block] = []
        if number == 1:
            blocks.append(_tacks(told))
        blocks.append(Rows(_table(steps, leaf)))
        if number == len(parts):
            blocks += _at_the_end(told)
        yield from drawn(
            sheet,
            _numbered(at, leaf, steps, place, caption),
            at.scales,
            partial(blank, at, f"{title}, steps", seen=False),
            blocks,
            caption=caption,
            share=SHARE,
        )


def _table(steps: Sequence[ToDo], leaf: Leaf) -> Table:
    names = [(f"{member.mark} {member.role}, ", f"{member.mark} ") for member in leaf.members]
    names += [(f"{member.mark} {member.role}", member.mark) for member in leaf.members]
    rows = []
    cooling = ""
    for step in steps:
        if step.kind == "cool":
            cooling = f"{step.words}. "
            continue
        number = f"{step.number}" if step.kind == "weld" else ""
        words = step.words
        # Marks are on the drawing beside it.
        for name, mark in names:
            words = words.replace(name, mark)
        rows.append((Cell(number, tick=False, bold=True), step.mark, f"{cooling}{words}."))
        cooling = ""
    return Table(
        (
            Column("No.", 13.5, bold=True),
            Column("Seam", 12.5),
            Column("Do", 100.0),
        ),
        tuple(rows),
        height_mm=2.6,
        title_height_mm=2.4,
        padding_mm=0.9,
    )


def _at_the_end(told: LeafWelded) -> list[Block]:
    blocks: list[Block] = [Title("How good this order is"), Listed(told.found, height_mm=2.3)]
    if told.left:
        words = "; ".join(told.left)
        blocks.append(Says(f"What it leaves, the most first: {words}.", height_mm=2.3))
    return blocks


# ---------------------------------------------------------------- the drawing


def _numbered(at: Desk, leaf: Leaf, steps: Sequence[ToDo], place: Box, caption: str) -> Drawing:
    """Return a leaf with the numbers of its welds, laid out for the scale at which it fits.

    Raises:
        ValueError: it does not fit.
    """
    up = steps[-1].up

    def scale_of(drawing: Drawing) -> Scale:
        return fitted(drawing, place, at.scales, caption=caption).scale

    about = fitting_scale((leaf.width, leaf.height), (place.width, place.height), at.scales)
    return laid_out(partial(numbers_drawing, leaf, steps, up), scale_of, about)


def numbers_drawing(leaf: Leaf, steps: Sequence[ToDo], up: str, scale: Scale) -> Drawing:
    """Return a leaf as it lies, with the numbers of its welds beside each end of its members.

    No two numbers touch at ``scale``, where there is any room.
    """
    steel = _steel(leaf, up)
    members = {member.key: member for member in leaf.members}
    ends: dict[str, list[ToDo]] = {}
    for step in steps:
        if step.kind == "weld":
            ends.setdefault(step.seam.rpartition("/")[0], []).append(step)
    # The shortest have the least choice of where to stand.
    keys = sorted(ends, key=lambda k: (members[k.rpartition("/")[0]].bar.long, k))
    choices = [_labels(leaf, members[key.rpartition("/")[0]], ends[key], up, scale) for key in keys]
    items = [*steel, *set_clear(steel, choices, scale)]
    for member in leaf.members:
        mark = _mark(leaf, member, up)
        if member.role != "rod" and is_clear((*items, mark), scale):
            items.append(mark)
    return Drawing(tuple(items))


def dots_drawing(leaf: Leaf, steps: Sequence[ToDo], now: int, up: str) -> Drawing:
    """Return a leaf as it lies with one step of its order: its weld marked, what is done filled.

    ``now`` is the step's place in the order; what can be laid with the other side up is left out.
    """
    bare = any(step.kind == "fit" for step in steps[now + 1 :])
    items: list[DrawingItem] = _steel(leaf, up, braces=not bare)
    marked: list[DrawingItem] = []
    for place, step in enumerate(steps):
        if step.kind != "weld" or step.up != up:
            continue
        at = seen_at(leaf, (step.at[0], step.at[1]), up)
        if place == now:
            number = Text(
                (0.0, 0.0), str(step.number), height_mm=3.6, anchor="centre-middle", bold=True
            )
            rings = (
                Circle((0.0, 0.0), 4.8, "cut", fill="black"),
                Circle((0.0, 0.0), 3.9, "note", fill="white"),
            )
            marked.append(Symbol(at, (*rings, number)))
        else:
            dot = Circle((0.0, 0.0), 0.7, "note", fill="black" if place < now else "white")
            items.append(Symbol(at, (dot,)))
    return Drawing((*items, *marked))


def seen_at(leaf: Leaf, at: Point, up: str) -> Point:
    """Return where a place of a leaf is seen from above, with one side or the other up [m]."""
    return at if up == "face" else (leaf.width - at[0], at[1])


def _steel(leaf: Leaf, up: str, *, braces: bool = True) -> list[DrawingItem]:
    items: list[DrawingItem] = []
    for item in (*leaf_items(leaf, braces=braces), *hinge_edge(leaf)):
        if isinstance(item, Polyline):
            points = tuple(seen_at(leaf, p, up) for p in item.points)
            items.append(replace(item, points=points))
        elif isinstance(item, Fill):
            points = tuple(seen_at(leaf, p, up) for p in item.points)
            items.append(replace(item, points=points))
    return items


def _middle(member: Member) -> Point:
    outline = member.bar.outline
    return (
        sum(p[0] for p in outline) / len(outline),
        sum(p[1] for p in outline) / len(outline),
    )


def _mark(leaf: Leaf, member: Member, up: str) -> Symbol:
    """Return a member's mark: along a stile, on a brace, beside a rail that its numbers fill."""
    stile, rail = "stile" in member.role, member.role.endswith("rail")
    beside = BESIDE_RAIL if member.role == "bottom rail" else -BESIDE_RAIL
    text = Text(
        (0.0, beside if rail else 0.0),
        member.mark,
        height_mm=2.2,
        anchor="centre-middle",
        angle=math.pi / 2 if stile else 0.0,
        knockout=not rail,
    )
    place = _middle(member)
    if stile:
        # A mid rail may meet it in its middle.
        place = (place[0], place[1] + 0.12 * leaf.height)
    return Symbol(seen_at(leaf, place, up), (text,))


def _rows_of(numbers: Sequence[str], each: int) -> list[Sequence[str]]:
    return [numbers[i : i + each] for i in range(0, len(numbers), each)]


def _labels(
    leaf: Leaf, member: Member, steps: Sequence[ToDo], up: str, scale: Scale
) -> list[Symbol]:
    """Return where the numbers at one end of a member may stand: in along it, nearest first.

    In one line, then in two, then one under the other; then off it to a side, with a line.
    """
    at = (
        sum(step.at[0] for step in steps) / len(steps),
        sum(step.at[1] for step in steps) / len(steps),
    )
    place, toward = seen_at(leaf, at, up), seen_at(leaf, _middle(member), up)
    away = math.dist(place, toward) or 1.0
    along = ((toward[0] - place[0]) / away, (toward[1] - place[1]) / away)
    least = ALONG_RAIL if member.role.endswith("rail") else ALONG_BRACE
    most = max(least, MOST_ALONG * away * scale.mm_per_m)
    numbers = [str(step.number) for step in steps]
    lines = [_rows_of(numbers, each) for each in (len(numbers), (len(numbers) + 1) // 2, 1)]
    found = []
    for rows in lines:
        first = least if len(rows) == 1 else CLOSE
        for i in range(STEPS_ALONG):
            by = first + i * (most - first) / (STEPS_ALONG - 1)
            found.append(_label(place, (by * along[0], by * along[1]), rows, member.key))
    for aside in ASIDE:
        for i in range(STEPS_ALONG):
            by = CLOSE + i * (most - CLOSE) / (STEPS_ALONG - 1)
            to = (by * along[0] - aside * along[1], by * along[1] + aside * along[0])
            line = Line((0.0, 0.0), to, "dimension")
            found += [_label(place, to, rows, member.key, line) for rows in lines]
    return found


def _label(place: Point, to: Point, rows: list[Sequence[str]], key: str, *line: Line) -> Symbol:
    texts = tuple(
        Text(
            (to[0], to[1] + (len(rows) - 1 - 2 * row) * 0.75 * NUMBER_MM),
            " · ".join(words),
            height_mm=NUMBER_MM,
            anchor="centre-middle",
            bold=True,
            knockout=True,
            key=key,
        )
        for row, words in enumerate(rows)
    )
    return Symbol(place, (*line, Circle((0.0, 0.0), 0.8, "note"), *texts))
