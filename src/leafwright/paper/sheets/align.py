"""The align sheet: gaps to read round a hung leaf, what they tell, and what to move."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.swing import Swing
from leafwright.doorway.underneath import FloorGap
from leafwright.job.model import BarrelHinge, LeafTable
from leafwright.leaf import Leaf
from leafwright.paper.drawing import DrawingItem
from leafwright.paper.layout import BLANK, Caution, Cell, Column, Table
from leafwright.paper.scene import Box, Circle, Fill, Line, Point, Polyline, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.flow import (
    Block,
    Boxed,
    Listed,
    Picture,
    Rows,
    Says,
    Title,
    in_columns,
)
from leafwright.paper.sheets.leaf import leaf_parts
from leafwright.paper.sheets.pad import DIGITS_MM
from leafwright.records import Held, Verdict
from leafwright.say import sentence
from leafwright.site.drift import Drift
from leafwright.site.hung import CAUTION, Hung
from leafwright.site.pose import planned_gap
from leafwright.site.records import LeafOnSite, Site
from leafwright.units import show_angle

PICTURE_MM = 88.0
#: Gaps are drawn this wide, whatever they are [mm].
GAP_MM = 9.0
#: Readings are taken this share of the leaf's size in from its corners [-].
IN_FROM_CORNER = 0.05
#: At these openings a leaf is read and let go.
OPENINGS = (0.0, math.radians(45.0), math.radians(90.0))


def _floor(at: Desk, key: str) -> FloorGap | None:
    """Return what the swing found of the gap under a leaf, the first way that it opens."""
    there = at.plan.site
    if not isinstance(there, Site) or not isinstance(there.swing, Swing):
        return None
    for one in there.swing.leaves:
        if one.key == key and one.turns:
            return one.turns[0].floor
    return None


def _planned_floor(under: FloorGap | None, along: float, opening: float) -> float | None:
    """Return the planned gap under a leaf at the place nearest to one read [m]."""
    if under is None or opening > float(under.angles[-1]) + 1e-6:
        return None
    i = int(np.abs(under.angles - opening).argmin())
    j = int(np.abs(under.stations - along).argmin())
    return float(under.gaps[i, j])


def _places(at: Desk, room: Doorway, place: LeafPlace) -> list[tuple[str, float | None]]:
    """Return the gaps to read, in the order of their numbers, each with what it should be."""
    wide, high = place.width.value, place.height.value
    words = at.words
    near, far = IN_FROM_CORNER * wide, (1.0 - IN_FROM_CORNER) * wide
    low, up = IN_FROM_CORNER * high, (1.0 - IN_FROM_CORNER) * high
    heel, closing = planned_gap(room, place, "heel"), planned_gap(room, place, "closing")
    over = planned_gap(room, place, "top")
    under = _floor(at, place.key)
    found: list[tuple[str, float | None]] = [
        (f"Heel gap, {words.length(low)} up", heel),
        (f"Heel gap, {words.length(up)} up", heel),
        (f"Closing gap, {words.length(low)} up", closing),
        (f"Closing gap, {words.length(up)} up", closing),
    ]
    if over is not None:
        found += [
            (f"Top gap, {words.length(near)} out from the hinge edge", over),
            (f"Top gap, {words.length(far)} out", over),
        ]
    found += [
        (f"Floor gap, {words.length(near)} out", _planned_floor(under, near, 0.0)),
        (f"Floor gap, {words.length(far)} out", _planned_floor(under, far, 0.0)),
    ]
    for opening in OPENINGS[1:]:
        text = f"Floor gap, {words.length(far)} out, open {show_angle(opening, decimals=0)}"
        found.append((text, _planned_floor(under, far, opening)))
    return found


def _gap_table(at: Desk, room: Doorway, place: LeafPlace) -> Table:
    rows: list[tuple[str | Cell, ...]] = []
    for number, (what, should) in enumerate(_places(at, room, place), start=1):
        planned = "–" if should is None else at.words.length(should)
        rows.append((str(number), what, planned, BLANK, BLANK))
    return Table(
        (
            Column("", 13.0, bold=True, height_mm=DIGITS_MM),
            Column("Read", 56.0),
            Column("Should be", 40.0, align="right", bold=True, height_mm=DIGITS_MM),
            Column("Is", 38.0),
            Column("After moving", 38.0),
        ),
        tuple(rows),
        height_mm=3.2,
    )


def _plumb_table(at: Desk, one: LeafOnSite) -> list[Block]:
    """Return the plumb lines to read, with how far off the axis may be, and the trial at rest."""
    words = at.words
    drift = one.drift
    blocks: list[Block] = [Title("Plumb and drift", 4.0)]
    plumb = words.length(0.0)
    if isinstance(drift, Drift):
        easy, stiff = (words.length(v) for v in drift.lean_held)
        if easy == words.length(0.0):
            easy = words.small(drift.lean_held[0])
        plumb = f"within {easy}"
        blocks.append(
            Says(
                f"Pins plumb over one another within {easy}: it stays where it is left. "
                f"Past {stiff} it moves by itself even on stiff pins.",
                3.4,
                bold=True,
            )
        )
        blocks.append(Says(" ".join(drift.words), 3.0))
    else:
        why = f"Not worked out: {drift.why}. It needs {'; '.join(drift.needs)}."
        blocks.append(Says(why, 3.2))
    if one.let_go:
        blocks.append(Listed(tuple(sentence(w) + "." for w in one.let_go), 3.2))
    rows: list[tuple[str | Cell, ...]] = [
        ("Top pin off plumb, along the wall", plumb, BLANK, "left or right"),
        ("Top pin off plumb, through the wall", plumb, BLANK, "toward you or away"),
    ]
    for opening in OPENINGS:
        text = f"Let go at {show_angle(opening, decimals=0)}: comes to rest at"
        rows.append((text, "stays", BLANK, ""))
    blocks.append(
        Rows(
            Table(
                (
                    Column("", 72.0),
                    Column("Should be", 26.0, bold=True),
                    Column("Is", 44.0),
                    Column("Which way", 40.0),
                ),
                tuple(rows),
                height_mm=3.2,
            )
        )
    )
    return blocks


def _ring(at: Point, number: int) -> list[DrawingItem]:
    return [
        Circle(at, 3.6, "note", fill="white"),
        Text(at, str(number), height_mm=4.0, anchor="centre-middle", bold=True),
    ]


def gaps_picture(leaf: Leaf, *, over: bool, mate: str) -> Picture:
    """Return the leaf in its gaps, not to scale, with the numbers of what is read."""

    def draw(room: Box) -> Sequence[DrawingItem]:
        high = room.height - 2 * GAP_MM - 12.0
        wide = min(max(high * leaf.width / leaf.height, 40.0), room.width - 70.0)
        x0 = room.centre[0] - wide / 2
        y0 = room.bottom + GAP_MM + 5.0
        x1, y1 = x0 + wide, y0 + high
        left_hand = leaf.hand == "left"
        items: list[DrawingItem] = [
            Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), "cut", closed=True, fill="pale")
        ]
        strip = x0 if left_hand else x1 - 1.6
        corners = ((strip, y0), (strip + 1.6, y0), (strip + 1.6, y1), (strip, y1))
        items.append(Fill(corners, "black", layer="note"))
        out0, out1 = x0 - GAP_MM, x1 + GAP_MM
        items.append(Line((out0 - 16, y0 - GAP_MM), (out1 + 16, y0 - GAP_MM), "cut"))
        top = y1 + GAP_MM if over else y1
        for x, side in ((out0, "left"), (out1, "right")):
            hung = (side == "left") == left_hand
            items.append(Line((x, y0 - GAP_MM), (x, top), "cut" if hung or not mate else "hidden"))
        if over:
            items.append(Line((out0, top), (out1, top), "cut"))
        hinge, nose = (x0, x1) if left_hand else (x1, x0)
        outward = -1.0 if left_hand else 1.0
        low, up = y0 + 0.12 * high, y1 - 0.12 * high
        near = hinge - outward * 0.16 * wide
        far = nose + outward * 0.16 * wide
        spots: list[tuple[Point, Point]] = [
            ((hinge, low), (hinge + outward * GAP_MM, low)),
            ((hinge, up), (hinge + outward * GAP_MM, up)),
            ((nose, low), (nose - outward * GAP_MM, low)),
            ((nose, up), (nose - outward * GAP_MM, up)),
        ]
        if over:
            spots += [((near, y1), (near, top)), ((far, y1), (far, top))]
        spots += [((near, y0), (near, y0 - GAP_MM)), ((far, y0), (far, y0 - GAP_MM))]
        for number, (a, b) in enumerate(spots, start=1):
            items += _ring(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), number)
        middle = (y0 + y1) / 2
        for x, words, way in (
            (out0 - 3.0, "HINGE JAMB" if left_hand else mate or "CLOSING JAMB", 1),
            (out1 + 3.0, (mate or "CLOSING JAMB") if left_hand else "HINGE JAMB", -1),
        ):
            items.append(
                Text(
                    (x, middle),
                    words,
                    height_mm=2.8,
                    anchor="centre-bottom" if way > 0 else "centre-top",
                    angle=math.pi / 2,
                    bold=True,
                )
            )
        items.append(Text(((x0 + x1) / 2, middle), "LEAF", height_mm=3.4, anchor="centre-middle"))
        return items

    return Picture(PICTURE_MM, draw)


def _hung_blocks(at: Desk, found: Hung) -> list[Block]:
    """Return what the gaps told, what to move, and every gap before and after."""
    words = at.words
    blocks: list[Block] = [Title("As it hangs", 4.4)]
    blocks += [
        Boxed(Caution(f"STOP: {s.why}", sentence(s.decide) + ".", kind="stop"), 3.6)
        for s in found.stops
    ]
    if found.answers:
        told = (
            f"{f'Without {a.without}' if a.without else 'With every reading'}: {a.words}."
            for a in found.answers
        )
        blocks.append(Listed(tuple(told), 3.4))
    else:
        blocks.append(Listed(tuple(sentence(part.words) + "." for part in found.pose), 3.0))
    blocks += [Says(f"{sentence(text)}.", 3.2) for text in found.notes]
    if found.moves:
        title = "Move, in this order" if not found.stops else "These moves WAIT for the stop above"
        blocks += [
            Title(title, 4.4),
            Listed(tuple(sentence(move.words) + "." for move in found.moves), 5.0, 1),
        ]
    else:
        none = "Move nothing yet." if found.stops else "Nothing to move."
        blocks.append(Says(none, 5.0, bold=True))
    blocks += [Says(text, 3.2) for text in found.remains]
    verdicts = {check.subject: check.verdict for check in found.checks}
    marks = {Verdict.SHORT: "TOO LITTLE", Verdict.TIGHT: "tight", Verdict.OK: "ok"}
    rows = []
    for gap in found.gaps:
        least = "–" if gap.least is None else words.length(gap.least)
        verdict = verdicts.get(gap.words)
        rows.append(
            (
                sentence(gap.words.removeprefix("the ")),
                words.length(gap.planned),
                words.length(gap.before),
                words.length(gap.after),
                least,
                "" if verdict is None else marks.get(verdict, ""),
            )
        )
    blocks += [
        Title("Gaps read, and after the moves" if found.moves else "Gaps read", 4.0),
        Rows(
            Table(
                (
                    Column("Gap", 66.0),
                    Column("Should be", 24.0, align="right"),
                    Column("Read", 24.0, align="right", bold=True),
                    Column("After" if found.moves else "Not moved", 24.0, align="right", bold=True),
                    Column("Least", 22.0, align="right"),
                    Column("", 24.0, bold=True),
                ),
                tuple(rows),
                height_mm=3.2,
            )
        ),
    ]
    if found.missing:
        blocks += [
            Title("Not known yet"),
            Listed(tuple(sentence(text) + "." for text in found.missing), 2.9),
        ]
    return blocks


def _shims(table: LeafTable) -> str:
    if isinstance(table.mount, BarrelHinge):
        return (
            "On barrel hinges: a hinge turned out moves the leaf from its post; washers under a "
            "barrel lift it."
        )
    return (
        "On pivots: the bottom plate slides along the wall and is shimmed up; the top pin plate "
        "slides both ways. A shim under one edge of a plate tilts its pin: level the plate first."
    )


def _sheets_of(
    at: Desk, one: LeafOnSite, place: LeafPlace, table: LeafTable, leaf: Leaf
) -> tuple[Sheet, ...]:
    room = at.plan.doorway
    if not isinstance(room, Doorway):
        return ()
    title = f"{title_of_leaf(one.key)}: aligning it"
    over = planned_gap(room, place, "top") is not None
    mate = ""
    if len(room.leaves) == 2:
        mate = "RIGHT LEAF" if leaf.hand == "left" else "LEFT LEAF"
    loosened = Boxed(Caution("Before anything is loosened", CAUTION), 3.6)
    told: list[Block] = []
    if isinstance(one.hung, Hung):
        told = [loosened, *_hung_blocks(at, one.hung)]
    elif isinstance(one.hung, Held):
        told = [Title("As it hangs", 4.4), Says(f"{sentence(one.hung.why)}.", 3.4)]
    seen = at.plan.job.job.seen_from
    blocks: list[Block] = [
        loosened,
        Title("Read these gaps, leaf hung and shut", 4.4),
        gaps_picture(leaf, over=over, mate=mate),
        Says(
            f"Seen from the {seen}, gaps drawn wide, not to scale. The heavy edge is the hinge "
            "edge. Measure square to jamb, head or floor; write them in the job file, and this "
            f"sheet says what to move. {_shims(table)}",
            3.0,
        ),
        Rows(_gap_table(at, room, place)),
        *_plumb_table(at, one),
    ]
    sheets = _flowed(at, title, blocks)
    if told:
        sheets += _flowed(at, f"{title_of_leaf(one.key)}: what to move", told)
    return sheets


def _flowed(at: Desk, title: str, blocks: list[Block]) -> tuple[Sheet, ...]:
    first = blank(at, title, drawing=True)
    return in_columns(first, lambda: blank(at, f"{title}, on", drawing=True), blocks)


def align_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return an align sheet for each leaf; nothing where the site stage was not asked for."""
    there = at.plan.site
    if not isinstance(there, Site):
        return ()
    parts = {leaf.key: (place, table, leaf) for place, table, leaf in leaf_parts(at)}
    return tuple(
        sheet
        for one in there.leaves
        if one.key in parts
        for sheet in _sheets_of(at, one, *parts[one.key])
    )
