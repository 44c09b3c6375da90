"""The hung leaf: its pose from gaps, and gaps after the moves, against a body moved in space."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import numpy as np
import pytest

from leafwright import load_job, plan
from leafwright.doorway import Doorway
from leafwright.records import Verdict, to_json
from leafwright.site.hung import Hung, hung
from leafwright.site.moves import Move, PlateLevel
from leafwright.site.pose import (
    UNKNOWNS,
    GapKind,
    GapReading,
    HungLeaf,
    fitted_pose,
    hung_leaf,
    planned_gap,
)
from leafwright.units import Tape
from tests.leaves import place
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[2] / "examples"

INCH = 0.0254
TAPE = Tape("feet-inch", 16)
RIGHT_ANGLE = math.pi / 2

LEAF = HungLeaf("leaf", "left", 44 * INCH, 174 * INCH, INCH, -2 * INCH, 176 * INCH)
RIGHT = replace(LEAF, hand="right")
HINGED = HungLeaf("gate", "right", 3.0, 2.0, -0.04, 0.25, 1.75, mount="barrel hinge", opens="away")
LEAVES = [LEAF, RIGHT, HINGED]


@dataclass(frozen=True)
class Stand:
    """How a leaf really stands: the axis' foot off plan, its top off the foot, the leaf's tilt on
    it (closing edge up, over the pins' spacing), how far it is drawn out, and how far its closing
    edge stands up beside its hinge edge, over the width [m]."""

    x: float = 0.0
    y: float = 0.0
    square: float = 0.0
    lean_x: float = 0.0
    lean_z: float = 0.0
    out: float = 0.0
    racked: float = 0.0


def about(axis: np.ndarray, angle: float) -> np.ndarray:
    """Return the matrix that turns about an axis of length 1 (Rodrigues)."""
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    turn = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    return np.asarray(turn)


def in_space(leaf: HungLeaf, stand: Stand, u: float, v: float, opening: float) -> np.ndarray:
    """Return where a place of the leaf is, exactly, the planned foot of the axis at the origin."""
    side = 1.0 if leaf.hand == "left" else -1.0
    spacing = leaf.top_pin - leaf.bottom_pin
    point = np.array([side * (u - leaf.axis + stand.out), v - leaf.bottom_pin, 0.0])
    point[1] += stand.racked * (u - leaf.axis) / leaf.width
    point = about(np.array([0.0, 0.0, 1.0]), side * math.atan(stand.square / spacing)) @ point
    point = about(np.array([0.0, 1.0, 0.0]), -side * opening) @ point
    axis = np.array([stand.lean_x, spacing, stand.lean_z]) / spacing
    axis /= np.linalg.norm(axis)
    off = np.cross([0.0, 1.0, 0.0], axis)
    size = float(np.linalg.norm(off))
    if size > 0.0:
        point = about(off / size, math.asin(size)) @ point
    return np.asarray(point + np.array([stand.x, stand.y, 0.0]))


def gap(leaf: HungLeaf, stand: Stand, reading: GapReading) -> float:
    """Return what a gap would read: its plan less how far its place has come nearer."""
    side = 1.0 if leaf.hand == "left" else -1.0
    if reading.kind == "plumb along wall":
        return stand.lean_x
    if reading.kind == "plumb through wall":
        return stand.lean_z
    if reading.kind == "diagonals":
        low, high = 0.0, leaf.height
        ends = (((0.0, low), (leaf.width, high)), ((leaf.width, low), (0.0, high)))
        long = [
            float(np.linalg.norm(in_space(leaf, stand, *b, 0.0) - in_space(leaf, stand, *a, 0.0)))
            for a, b in ends
        ]
        return long[0] - long[1]
    u, v, axis, way = {
        "heel": (0.0, reading.along, 0, -side),
        "closing": (leaf.width, reading.along, 0, side),
        "top": (reading.along, leaf.height, 1, 1.0),
        "floor": (reading.along, 0.0, 1, -1.0),
    }[reading.kind]
    moved = in_space(leaf, stand, u, v, reading.opening) - in_space(
        leaf, Stand(), u, v, reading.opening
    )
    return reading.planned - way * float(moved[axis])


def asked(
    leaf: HungLeaf, *kinds: tuple[GapKind, float, float], sd: float = 0.0004
) -> list[GapReading]:
    """Return readings to be taken: kind, share along the edge, and opening in degrees."""
    found = []
    for kind, share, degrees in kinds:
        long = leaf.height if kind in ("heel", "closing") else leaf.width
        planned = 0.0 if kind.startswith("plumb") or kind == "diagonals" else 0.0127
        way = 1.0 if leaf.opens == "toward" else -1.0
        opening = way * math.radians(degrees)
        found.append(GapReading(kind, share * long, opening, 0.0, planned, sd=sd))
    return found


def taken(leaf: HungLeaf, stand: Stand, readings: Sequence[GapReading]) -> list[GapReading]:
    return [replace(r, value=gap(leaf, stand, r)) for r in readings]


CLOSED: tuple[tuple[GapKind, float, float], ...] = (
    ("heel", 0.05, 0.0),
    ("heel", 0.95, 0.0),
    ("closing", 0.05, 0.0),
    ("closing", 0.95, 0.0),
    ("floor", 0.05, 0.0),
    ("floor", 0.95, 0.0),
    ("top", 0.5, 0.0),
)
OPEN: tuple[tuple[GapKind, float, float], ...] = (("floor", 0.95, 45.0), ("floor", 0.95, 90.0))
PLUMB: tuple[tuple[GapKind, float, float], ...] = (
    ("plumb along wall", 0.0, 0.0),
    ("plumb through wall", 0.0, 0.0),
)


def random_stand(seed: int, size: float) -> Stand:
    rng = np.random.default_rng(seed)
    return Stand(*(float(v) for v in rng.uniform(-size, size, 5)))


def values(found: Hung) -> dict[str, float | None]:
    return {part.key: part.value for part in found.pose}


@pytest.mark.parametrize("leaf", LEAVES, ids=["left", "right", "gate"])
@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_a_known_pose_is_found_again(leaf: HungLeaf, seed: int) -> None:
    # Motions of a thousandth of a millimetre: what is not linear in them is under 1e-11 m.
    stand = random_stand(seed, 1e-6)
    for more in (OPEN, PLUMB, OPEN + PLUMB):
        readings = taken(leaf, stand, asked(leaf, *CLOSED, *more))
        found = fitted_pose(leaf, readings)
        assert found.loose.shape[1] == 0
        assert found.values == pytest.approx(
            [stand.x, stand.y, stand.square, stand.lean_x, stand.lean_z], abs=1e-9
        )


@pytest.mark.parametrize("leaf", LEAVES, ids=["left", "right", "gate"])
@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_real_motions_are_found_as_near_as_they_are_linear(leaf: HungLeaf, seed: int) -> None:
    stand = random_stand(seed, 0.006)
    found = fitted_pose(leaf, taken(leaf, stand, asked(leaf, *CLOSED, *OPEN, *PLUMB)))
    bend = math.hypot(leaf.width, leaf.height) * (0.012 / leaf.pin_spacing) ** 2
    assert found.values == pytest.approx(
        [stand.x, stand.y, stand.square, stand.lean_x, stand.lean_z], abs=bend
    )


# What each set of readings tells, and nothing more.
TELLS: list[tuple[str, tuple[tuple[GapKind, float, float], ...], set[str]]] = [
    ("closed gaps", CLOSED, {"shift x", "shift y", "tilt", "rack"}),
    ("one heel gap", CLOSED[:1], set()),
    ("two heel gaps", CLOSED[:2], {"shift x", "tilt"}),
    ("two floor gaps", CLOSED[4:6], {"shift y", "tilt"}),
    ("closed, and the nose at 90°", CLOSED + OPEN[1:], {"shift x", "shift y", "tilt", "rack"}),
    ("closed and opened", CLOSED + OPEN, {*UNKNOWNS, "tilt", "rack"}),
    ("closed, plumbed along the wall", CLOSED + PLUMB[:1], {*UNKNOWNS[:4], "tilt", "rack"}),
    ("plumbed only", PLUMB, {"lean x", "lean z"}),
    ("closed and plumbed", CLOSED + PLUMB, {*UNKNOWNS, "tilt", "rack"}),
    ("nothing", (), set()),
]


@pytest.mark.parametrize("leaf", LEAVES, ids=["left", "right", "gate"])
@pytest.mark.parametrize(("kinds", "known"), [t[1:] for t in TELLS], ids=[t[0] for t in TELLS])
def test_what_a_set_of_readings_tells(
    leaf: HungLeaf, kinds: tuple[tuple[GapKind, float, float], ...], known: set[str]
) -> None:
    found = hung(leaf, taken(leaf, random_stand(1, 0.004), asked(leaf, *kinds)), tape=TAPE)
    assert {p.key for p in found.pose if p.value is not None} == known
    for part in found.pose:
        if part.value is None:
            assert part.words == f"{part.name}: not known from these readings"
            assert part.band is None
    assert len(found.missing) == len(found.pose) - len(known)


def test_what_to_read_next() -> None:
    found = hung(LEAF, taken(LEAF, Stand(), asked(LEAF, *CLOSED)), tape=TAPE)
    assert found.missing == (
        "square on its axis is not known from these readings: read a plumb line from pin to pin, "
        "along the wall",
        "axis along the wall is not known from these readings: read a plumb line from pin to pin, "
        "along the wall",
        "axis through the wall is not known from these readings: read a plumb line from pin to "
        "pin, through the wall",
    )


def after(leaf: HungLeaf, stand: Stand, moves: Sequence[Move]) -> Stand:
    """Return how the leaf stands once the plates or hinges are moved."""
    by = {m.key: m.by for m in moves}
    foot = by.get("bottom plate/along wall", 0.0)
    edges = sum(m.by / 2 for m in moves if m.key.startswith("bottom plate/shim"))
    lower, upper = by.get("lower hinge/out", 0.0), by.get("upper hinge/out", 0.0)
    top = by.get("top pin plate/along wall", 0.0) + by.get("upper hinge/along wall", 0.0)
    through = by.get("top pin plate/through wall", 0.0) + by.get("upper hinge/through wall", 0.0)
    return Stand(
        stand.x + foot,
        stand.y + by.get("bottom plate/up", 0.0) + by.get("hinges/up", 0.0) + edges,
        stand.square - (upper - lower),
        stand.lean_x + top - foot,
        stand.lean_z + through,
        stand.out + lower,
    )


@pytest.mark.parametrize("leaf", LEAVES, ids=["left", "right", "gate"])
@pytest.mark.parametrize("kinds", [CLOSED, CLOSED + OPEN, CLOSED + PLUMB, CLOSED + OPEN + PLUMB])
@pytest.mark.parametrize("seed", range(cases(10, 200)))
def test_after_the_moves_the_gaps_are_as_foretold(
    leaf: HungLeaf, kinds: tuple[tuple[GapKind, float, float], ...], seed: int
) -> None:
    stand = random_stand(seed, 0.006)
    readings = asked(leaf, *kinds)
    found = hung(leaf, taken(leaf, stand, readings), tape=TAPE)
    moved = after(leaf, stand, found.moves)
    # What is not linear: reach × angle² / 2, before and after, of a tilt and a lean of 6 mm each.
    bend = math.hypot(leaf.width, leaf.height) * (0.012 / leaf.pin_spacing) ** 2
    for reading, told in zip(readings, found.gaps, strict=True):
        assert told.after == pytest.approx(gap(leaf, moved, reading), abs=bend)


@pytest.mark.parametrize("leaf", LEAVES, ids=["left", "right", "gate"])
@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_closed_gaps_come_right_within_the_tape(leaf: HungLeaf, seed: int) -> None:
    stand = random_stand(seed, 0.006)
    readings = taken(leaf, stand, asked(leaf, *CLOSED))
    found = hung(leaf, readings, tape=Tape("inch", 64), keep="even gaps")
    # Half a mark for each of the moves that meet in a gap, and the leaf's own proportions.
    left = 3 * INCH / 128 * max(1.0, 1.05 * leaf.width / leaf.pin_spacing)
    bend = math.hypot(leaf.width, leaf.height) * (0.012 / leaf.pin_spacing) ** 2
    for told in found.gaps:
        assert abs(told.after - told.planned) < left + bend


@pytest.mark.parametrize("leaf", [LEAF, RIGHT], ids=["left", "right"])
def test_with_the_axis_known_it_is_made_plumb(leaf: HungLeaf) -> None:
    stand = Stand(x=INCH / 8, y=-INCH / 4, square=3 * INCH / 16, lean_x=INCH / 2, lean_z=-INCH / 4)
    readings = taken(leaf, stand, asked(leaf, *CLOSED, *PLUMB))
    found = hung(leaf, readings, tape=TAPE)
    assert [m.words for m in found.moves] == [
        'slide the bottom plate left 1/8"',
        'shim the whole bottom plate up 1/4"',
        'slide the top pin plate left 5/8"',
        'slide the top pin plate toward you 1/4"',
    ]
    moved = after(leaf, stand, found.moves)
    assert (moved.lean_x, moved.lean_z) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert found.remains[0] == (
        'The leaf hangs 3/16" out of square on its axis, and plates cannot put that right with '
        "the axis plumb: set its sleeve over again, or live with the gaps foretold here."
    )
    assert "The best split" in found.remains[1]
    even = hung(leaf, readings, tape=TAPE, keep="even gaps")
    moved = after(leaf, stand, even.moves)
    side = 1.0 if leaf.hand == "left" else -1.0
    assert moved.square - side * moved.lean_x == pytest.approx(0.0, abs=INCH / 32)
    assert "the axis then leans" in even.remains[0]


def test_hinges_put_the_leaf_square_and_the_post_makes_the_axis_plumb() -> None:
    stand = Stand(x=0.004, y=-0.003, square=0.006, lean_x=0.005, lean_z=0.002)
    tape = Tape("mm", 1)
    found = hung(HINGED, taken(HINGED, stand, asked(HINGED, *CLOSED, *PLUMB)), tape=tape)
    # A right leaf that stands 4 mm to the right is that much too close to its post.
    assert [m.words for m in found.moves] == [
        "put 3 mm of washers under the leaf's barrel on the hinge that bears",
        "turn the lower hinge out 4 mm, leaf farther from the post",
        "turn the upper hinge out 10 mm, leaf farther from the post",
        "move the upper hinge left 5 mm on its post",
        "move the upper hinge away from you 2 mm on its post",
    ]
    moved = after(HINGED, stand, found.moves)
    assert (moved.square, moved.lean_x, moved.lean_z) == pytest.approx((0, 0, 0), abs=1e-9)
    assert moved.x - moved.out == pytest.approx(0.0, abs=1e-9)
    assert found.remains == ()


def test_a_leaf_in_its_place_is_left_alone() -> None:
    found = hung(LEAF, taken(LEAF, Stand(), asked(LEAF, *CLOSED, *OPEN, *PLUMB)), tape=TAPE)
    assert found.moves == ()
    assert found.caution == ""
    assert found.remains == ()
    assert values(found) == pytest.approx(dict.fromkeys(values(found), 0.0), abs=1e-12)


def test_what_is_not_known_is_not_moved() -> None:
    stand = Stand(x=INCH / 4, y=-INCH / 4, lean_z=INCH / 2)
    found = hung(LEAF, taken(LEAF, stand, asked(LEAF, *CLOSED[4:6])), tape=TAPE)
    assert [m.key for m in found.moves] == ["bottom plate/up"]
    assert found.caution.startswith(
        "Before a plate or a hinge is loosened: block the leaf's bottom"
    )


def test_plates_are_shimmed_level_under_the_low_edge() -> None:
    stand = Stand(y=-INCH / 4)
    plates = [
        PlateLevel("bottom plate", right_up=INCH / 8, near_up=-INCH / 16),
        PlateLevel("top pin plate", right_up=INCH / 16, near_up=0.0),
    ]
    readings = taken(LEAF, stand, asked(LEAF, *CLOSED))
    found = hung(LEAF, readings, tape=Tape("inch", 32), plates=plates)
    assert [m.words for m in found.moves] == [
        'shim the whole bottom plate up 5/32"',
        'shim 1/8" under the left edge of the bottom plate, to level it',
        'shim 1/16" under the near edge of the bottom plate, to level it',
        'shim 1/16" over the right edge of the top pin plate, to level it',
    ]
    # 5/32 and half of 1/8 and 1/16 are 1/4.
    moved = after(LEAF, stand, found.moves)
    assert moved.y == pytest.approx(0.0, abs=1e-12)
    for reading, told in zip(readings, found.gaps, strict=True):
        assert told.after == pytest.approx(gap(LEAF, moved, reading), abs=1e-6)


def test_a_move_that_closes_a_gap_under_its_least_is_stopped() -> None:
    # Low by 1/4 in; the head hangs low over the nose, where it was not planned to.
    readings = taken(LEAF, Stand(y=-INCH / 4), asked(LEAF, *CLOSED))
    readings.append(GapReading("top", 0.95 * LEAF.width, 0.0, 0.30 * INCH, 0.75 * INCH, sd=0.01))
    readings = [replace(r, least=INCH / 8) for r in readings]
    found = hung(LEAF, readings, tape=TAPE)
    assert found.moves[0].words == 'shim the whole bottom plate up 1/4"'
    short = [c for c in found.checks if c.verdict is Verdict.SHORT]
    assert [c.subject for c in short] == ["the top gap at the closing end, leaf closed"]
    assert short[0].change.startswith("do not make these moves: they close this gap")
    assert found.stops[0].why == (
        "after these moves too little would be left at the top gap at the closing end, leaf closed"
    )
    # A gap whose own band crosses its least is tight.
    near = [replace(r, least=INCH / 2 - 0.0005) for r in readings[:1]]
    assert hung(LEAF, near, tape=TAPE).checks[0].verdict is Verdict.TIGHT


def test_a_misread_gap_is_named() -> None:
    readings = taken(LEAF, Stand(x=0.002), asked(LEAF, *CLOSED, ("closing", 0.5, 0.0)))
    readings[-1] = replace(readings[-1], value=readings[-1].value + INCH / 4)
    found = hung(LEAF, readings, tape=TAPE)
    assert found.suspects == (
        'the closing gap at mid height, leaf closed is about 1/4" long against the rest: 7/16" '
        "would fit. Read it again",
    )


def test_all_that_is_wrong_is_told_at_once() -> None:
    wrong = [
        GapReading("hinge", 0.0, 0.0, 0.01, 0.01),  # type: ignore[arg-type]
        GapReading("heel", 9.0, 0.0, 0.01, 0.01),
        GapReading("floor", 1.0, 0.0, math.nan, 0.01, sd=-1.0),
    ]
    with pytest.raises(ValueError) as told:
        hung(replace(LEAF, top_pin=-1.0), wrong, tape=TAPE)
    for words in (
        "leaf: the upper pin at -1.0 m is not over the lower one",
        "reading 1: kind 'hinge': use heel, closing, top, floor, plumb along wall",
        "reading 2 (the heel gap at the top, leaf closed): along 9.0 m is not on the leaf",
        "reading 3 (the floor gap at the closing end, leaf closed): value nan: give a number",
        "reading 3 (the floor gap at the closing end, leaf closed): sd -1.0 m: say how well",
    ):
        assert words in str(told.value), words


@pytest.mark.parametrize("hand", ["left", "right"])
def test_of_a_leaf_of_the_plan_and_as_data(hand: Literal["left", "right"]) -> None:
    standing = place(LEAF.width, LEAF.height, hand=hand)
    leaf = hung_leaf(standing)
    assert (leaf.bottom_pin, leaf.top_pin, leaf.mount) == (0.0, LEAF.height, "pivot")
    hinged = hung_leaf(standing, hinges=(0.3, 4.0))
    assert (hinged.bottom_pin, hinged.top_pin, hinged.mount) == (0.3, 4.0, "barrel hinge")
    data = to_json(hung(leaf, taken(leaf, Stand(x=0.01), asked(leaf, *CLOSED)), tape=TAPE))
    assert data["moves"][0]["key"] == "bottom plate/along wall"
    assert data["pose"][3]["value"] is None


def test_gaps_that_the_plan_states() -> None:
    found = plan(load_job(str(EXAMPLES / "boathouse.toml")).job).doorway
    assert isinstance(found, Doorway)
    left = found.leaves[0]
    assert planned_gap(found, left, "heel") == left.heel_gap.value
    assert planned_gap(found, left, "closing") == pytest.approx(0.25 * INCH, abs=1e-3)
    # Running clearance, 1/8 in of head coming down, heat, and the top plate that lies in it.
    top = planned_gap(found, left, "top")
    assert top == pytest.approx((3 / 16 + 1 / 8 + 5 / 16) * INCH, abs=1e-3)
    assert planned_gap(found, left, "floor") is None
    assert planned_gap(found, left, "plumb along wall") == 0.0


def test_until_the_plumb_is_read_no_plate_is_slid_without_the_other() -> None:
    stand = Stand(x=INCH / 4, lean_x=INCH / 2)
    found = hung(LEAF, taken(LEAF, stand, asked(LEAF, *CLOSED)), tape=TAPE)
    slides = {m.key: m.by for m in found.moves}
    assert slides["top pin plate/along wall"] == slides["bottom plate/along wall"]
    assert "read how far the upper pin is off plumb" in found.remains[0]
    assert after(LEAF, stand, found.moves).lean_x == pytest.approx(stand.lean_x)
