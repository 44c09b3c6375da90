"""Tilt-in: ways are clear by shapely, obstructions stand against a brute-force grid, closed forms.

A grid of poses and points round the leaf, of another make than the search, is the second opinion.
"""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter
from collections.abc import Sequence

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from scipy import ndimage

from leafwright import chain
from leafwright.site.poses import Box, Part, Pose, bounds, rooms, shapes
from leafwright.site.tilt_in import (
    Building,
    Floor,
    Hang,
    Head,
    NotDecided,
    Obstructed,
    PosePath,
    Side,
    SideSection,
    TiltIn,
    Wishes,
    building_boxes,
    lowest_head,
    side_section,
    standing_pivot,
    tilt_in,
)
from leafwright.site.turned_up import kicked_out_height, overshoot
from tests.leaves import made
from tests.sizes import cases

INCH = 0.0254
Floats = NDArray[np.float64]

# The reference leaf: 44 x 174 in of 2 in tube.
HEIGHT, WIDTH, DEPTH = 174 * INCH, 44 * INCH, 2 * INCH
BARE = SideSection("left", HEIGHT, (Part("the frame", 0.0, HEIGHT, -DEPTH / 2, DEPTH / 2),))
PIVOT = standing_pivot(0.0, 6 * INCH, 0.5 * INCH, 1.5 * INCH, 5 * INCH)
DROP_ON = Hang(1.25 * INCH, 5 * INCH)


def under(head: float, *boxes: Box, front: float = 6.0) -> Building:
    """Return a flat floor under a head at a height and in front to a distance [in]."""
    return Building(Floor(0.0), Head(head * INCH, -6 * INCH, front * INCH), boxes)


def solved(
    building: Building,
    section: SideSection = BARE,
    hang: Hang = DROP_ON,
    margin: float = INCH / 8,
    side: Side | None = "toward",
) -> TiltIn:
    return tilt_in(section, WIDTH, building, hang, Wishes(margin=margin), side)


def path(found: TiltIn) -> PosePath:
    assert isinstance(found.best, PosePath), found.best
    return found.best


def outline(
    section: SideSection, side: Side, lift: float, foot: float, tilt: float
) -> shapely.MultiPolygon:
    """Return a leaf in a pose, made by shapely's own turning and moving."""
    flat = shapely.MultiPolygon(
        [shapely.box(part.back, part.low, part.front, part.high) for part in section.parts]
    )
    # Upright is as drawn (z across, y up); a leaf that lies toward the viewer is turned clockwise.
    turn = (tilt - math.pi / 2) * (1.0 if side == "toward" else -1.0)
    turned = shapely.affinity.rotate(flat, turn, origin=(0.0, 0.0), use_radians=True)
    return shapely.affinity.translate(turned, foot, lift - turned.bounds[1])


def assert_clear(section: SideSection, building: Building, found: PosePath, margin: float) -> None:
    """Assert by shapely that the way is clear, and that it leads from flat to hung."""
    assert found.poses[0].tilt == 0.0
    assert found.poses[-1].tilt == math.pi / 2 and found.poses[-1].foot == 0.0
    level = building.floor.level
    pieces = list(itertools.pairwise(found.poses))
    for number, (one, two) in enumerate(pieces):
        last = number == len(pieces) - 1
        for part in np.linspace(0.0, 1.0, 9):
            lift, foot, tilt = (
                (1 - part) * a + part * b
                for a, b in ((one.lift, two.lift), (one.foot, two.foot), (one.tilt, two.tilt))
            )
            leaf = outline(section, found.side, level + lift, foot, tilt)
            for box in building_boxes(building):
                solid = shapely.box(box.back, box.bottom, box.front, box.top)
                if box.kind == "keep clear":
                    assert leaf.distance(solid) >= margin - 1e-9, (box.name, lift, foot, tilt)
                elif not (last and box.kind == "enters the leaf"):
                    assert leaf.intersection(solid).area <= 1e-9, (box.name, lift, foot, tilt)


# --- A second opinion: a grid of poses, and points round leaf and boxes.

STEP = 0.02
SPACING = 0.01
TURN = math.radians(1.5)


def rim(x0: float, x1: float, y0: float, y1: float) -> Floats:
    """Return points round a rectangle, no farther apart than the spacing."""
    points = []
    for (ax, ay), (bx, by) in itertools.pairwise(
        [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
    ):
        count = max(2, math.ceil(math.hypot(bx - ax, by - ay) / SPACING) + 1)
        points.append(np.column_stack([np.linspace(ax, bx, count), np.linspace(ay, by, count)]))
    return np.vstack(points)


def grid_finds_a_way(
    section: SideSection, building: Building, hang: Hang, side: Side, margin: float, reach: float
) -> bool:
    """Return whether the grid finds a way with so much room that a true one must be there.

    Between two neighbours on the grid no point moves farther than half a step from the nearer, and
    points along a rim miss at most half their spacing: what the grid must have over the margin.
    """
    sign = 1.0 if side == "toward" else -1.0
    size = max(math.hypot(p.high, max(abs(p.back), abs(p.front))) for p in section.parts)
    spare = max(STEP, size * TURN) / 2 + SPACING / 2
    goal = hang.bottom + hang.raised - building.floor.level
    lifts = np.linspace(0.0, goal, max(2, math.ceil(goal / STEP) + 1))
    feet = np.arange(-round(reach / STEP), round(reach / STEP) + 1) * STEP
    tilts = np.linspace(0.0, math.pi / 2, math.ceil(math.pi / 2 / TURN) + 1)
    leaf = np.vstack([rim(p.low, p.high, sign * p.back, sign * p.front) for p in section.parts])
    c, s = np.cos(tilts), np.sin(tilts)
    z = leaf[:, :1] * c + leaf[:, 1:] * s
    y = leaf[:, :1] * s - leaf[:, 1:] * c
    y -= y.min(axis=0)
    free = np.ones((len(lifts), len(feet), len(tilts)), dtype=bool)
    for box in building_boxes(building):
        need = spare + (margin if box.kind == "keep clear" else 0.0)
        back, front = sorted((sign * box.back, sign * box.front))
        middle, half = (back + front) / 2, (front - back) / 2
        for i, lift in enumerate(lifts):
            past_y = np.abs(y + lift - (box.top + box.bottom) / 2) - (box.top - box.bottom) / 2
            for j, foot in enumerate(feet):
                past_z = np.abs(z + foot - middle) - half
                near = np.hypot(np.maximum(past_z, 0), np.maximum(past_y, 0))
                near = np.where((past_z < 0) & (past_y < 0), -1.0, near)
                free[i, j] &= near.min(axis=0) >= need
    places, _ = ndimage.label(free)
    ends = places[-1, len(feet) // 2, -1]
    return bool(ends) and bool((places[0, :, 0] == ends).any())


def random_case(rng: random.Random) -> tuple[SideSection, Building, Hang, Side, float]:
    """Return a small leaf before an opening that it may or may not pass."""
    height = rng.uniform(0.5, 0.9)
    half = rng.uniform(0.01, 0.03)
    parts = [Part("the frame", 0.0, height, -half, half)]
    if rng.random() < 0.5:
        parts.append(Part("the cladding", 0.05, height - rng.uniform(0, 0.1), half, half + 0.02))
    if rng.random() < 0.3:
        parts.append(Part("the handle", 0.3, 0.4, -half - 0.05, -half))
    bottom, raised = 0.03, rng.choice([0.0, 0.0, 0.08])
    boxes: list[Box] = []
    if raised:
        boxes += standing_pivot(0.0, 0.12, 0.01, 0.03, 0.06)
    top = bottom + raised + height
    if rng.random() < 0.6:
        low = rng.uniform(0.6, 1.05) * top
        at = rng.choice([-1, 1]) * rng.uniform(0.15, 0.4)
        boxes.append(Box("a beam", at - 0.05, at + 0.05, low, low + 0.15))
    if rng.random() < 0.4:
        at = rng.uniform(0.15, 0.8)
        boxes.append(Box("a crate", at, at + 0.3, 0.0, rng.uniform(0.05, 0.4)))
    head = Head(top + rng.uniform(-0.005, 0.06), -rng.uniform(0.03, 0.2), rng.uniform(0.03, 0.2))
    side: Side = rng.choice(["toward", "away"])
    section = SideSection("leaf", height, tuple(parts))
    margin = rng.uniform(0.001, 0.01)
    return section, Building(Floor(0.0), head, tuple(boxes)), Hang(bottom, raised), side, margin


def test_ways_are_clear_and_obstructions_stand() -> None:
    reach = 0.3
    seen: Counter[str] = Counter()
    for seed in range(cases(25, 500)):
        section, building, hang, side, margin = random_case(random.Random(seed))
        wishes = Wishes(margin=margin, reach=reach)
        answer = tilt_in(section, 0.5, building, hang, wishes, side).best
        seen[type(answer).__name__] += 1
        if isinstance(answer, PosePath):
            assert_clear(section, building, answer, margin)
            assert answer.headroom[0] >= margin
            assert answer.kick_out <= reach + 1e-9
            assert answer.kick_out_at_least <= answer.kick_out + 1e-9
        elif isinstance(answer, Obstructed):
            assert not grid_finds_a_way(section, building, hang, side, margin, reach), seed
            assert answer.blocks and answer.room_at_most <= margin
    assert seen["PosePath"] >= 5 and seen["Obstructed"] >= 5, seen
    assert seen["NotDecided"] <= 0.1 * seen.total(), seen


def test_the_grid_can_find_ways() -> None:
    # So that "the grid found none" above says something.
    section = SideSection("leaf", 0.6, (Part("the frame", 0.0, 0.6, -0.02, 0.02),))
    building = Building(Floor(0.0), Head(0.75, -0.1, 0.1))
    assert grid_finds_a_way(section, building, Hang(0.03), "toward", 0.005, 0.3)


def test_bounds_hold_for_every_pose_of_a_cell() -> None:
    rng = random.Random(4)
    for _ in range(cases(40, 400)):
        section, building, _, _, _ = random_case(rng)
        of = shapes(section.parts, building_boxes(building), 0.0, True)
        size = 10 ** rng.uniform(-3, -0.3)
        low = [rng.uniform(0, 0.2), rng.uniform(-0.3, 0.3), rng.uniform(0, math.pi / 2 - size)]
        cell = np.array([[v for x in low for v in (x, x + size * rng.random())]])
        found = bounds(of, cell, 10.0)
        keep = [b for b in building_boxes(building) if b.kind == "keep clear"]
        solids = [shapely.box(b.back, b.bottom, b.front, b.top) for b in keep]
        rests = [b for b in building_boxes(building) if b.kind != "keep clear"]
        for _ in range(8):
            pose = [rng.uniform(cell[0, 2 * d], cell[0, 2 * d + 1]) for d in range(3)]
            leaf = outline(section, "toward", *pose)
            room = min(leaf.distance(solid) for solid in solids)
            if room > 0.0 and not rests:
                assert found.low[0] - 1e-9 <= room <= found.high[0] + 1e-9
            elif room == 0.0:
                assert found.low[0] <= 1e-9


def test_room_of_a_pose_is_the_distance_by_shapely() -> None:
    rng = random.Random(7)
    for _ in range(cases(50, 500)):
        section, building, _, _, _ = random_case(rng)
        of = shapes(section.parts, building_boxes(building), 0.0, True)
        pose = [rng.uniform(0, 0.1), rng.uniform(-0.3, 0.3), rng.uniform(0, math.pi / 2)]
        leaf = outline(section, "toward", *pose)
        keep = [b for b in building_boxes(building) if b.kind == "keep clear"]
        far = [leaf.distance(shapely.box(b.back, b.bottom, b.front, b.top)) for b in keep]
        room, what = rooms(of, np.array([pose]))
        if min(far) > 0.0:
            assert room[0] == pytest.approx(min(far), abs=1e-9)
            assert building_boxes(building)[what[0]].name == keep[far.index(min(far))].name
        else:
            assert room[0] <= 1e-9


# Computed trade figures: a leaf 174 in high and 2 in thick, foot kicked out.
@pytest.mark.parametrize(("kick", "lower"), [(12, 0.28), (18, 0.73), (24, 1.39)])
def test_kicking_the_foot_out_lowers_the_high_corner(kick: float, lower: float) -> None:
    high = kicked_out_height(HEIGHT, DEPTH, kick * INCH)
    assert (HEIGHT - high) / INCH == pytest.approx(lower, abs=0.005)
    # The same pose in the search's own terms: the soffit is so much farther from the leaf.
    tilt = math.pi / 2 - math.asin(kick / 174)
    of = shapes(BARE.parts, building_boxes(under(180.0, front=60.0)), 0.0, True)
    room, _ = rooms(of, np.array([[0.0, 0.0, tilt]]))
    assert 180 * INCH - room[0] == pytest.approx(high, abs=1e-9)


def test_a_leaf_overshoots_as_it_turns_on_its_edge() -> None:
    # Computed: t²/2H = 0.01 in.
    assert overshoot(HEIGHT, DEPTH) / INCH == pytest.approx(0.01, abs=0.002)
    assert overshoot(HEIGHT, DEPTH) == pytest.approx(DEPTH**2 / (2 * HEIGHT), rel=1e-3)


@pytest.mark.parametrize(("spare", "goes"), [(0.02, True), (0.006, False)])
def test_the_overshoot_decides_where_the_head_is_wide(spare: float, goes: bool) -> None:
    """Under a ceiling everywhere, upright fits but turning needs 0.0115 in more than that."""
    ceiling = Building(Floor(0.0), Head((174 + spare) * INCH, -10.0, 10.0, "the ceiling"))
    found = solved(ceiling, hang=Hang(1e-4 * INCH), margin=0.0)
    assert isinstance(found.best, PosePath if goes else Obstructed), found.best


def test_in_the_plane_of_the_wall_the_diagonal_is_needed() -> None:
    # Computed: 44 x 174 in needs 179.5 in.
    assert solved(under(183, *PIVOT)).in_plane.diagonal / INCH == pytest.approx(179.5, abs=0.05)
    assert solved(under(183, *PIVOT)).in_plane.fits
    assert not solved(under(179.5, *PIVOT)).in_plane.fits


def test_the_headroom_of_a_drop_on_is_what_is_left_when_raised() -> None:
    # Raised 5 in over 1.25, the top stands at 180.25 in.
    found = path(solved(under(181.25, *PIVOT)))
    low, high = found.headroom
    assert low <= INCH + 1e-9 and high == pytest.approx(INCH, abs=1e-6)
    assert high - low < 0.5e-3
    assert found.tight.what == "the head"
    assert not found.lifted_while_leaning
    assert found.poses[-2] == Pose(6.25 * INCH, 0.0, math.pi / 2)
    assert found.poses[-1] == Pose(1.25 * INCH, 0.0, math.pi / 2)
    assert_clear(BARE, under(181.25, *PIVOT), found, INCH / 8)


def test_the_foot_stays_down_until_the_leaf_is_nearly_upright() -> None:
    found = path(solved(under(183, *PIVOT)))
    leaning = [pose for pose in found.poses if pose.tilt < math.radians(80)]
    assert max(pose.lift for pose in leaning) <= 0.03 + 1e-9


def test_the_pin_keeps_the_foot_out_until_it_is_lifted_over() -> None:
    """The foot cannot lie where the plate is: half the plate is the least it is off the middle."""
    found = path(solved(under(183, *PIVOT)))
    assert 2.5 * INCH < found.kick_out_at_least <= found.kick_out < 3.7 * INCH


def test_a_head_too_low_for_the_raised_leaf_is_an_obstruction() -> None:
    found = solved(under(180.0, *PIVOT)).best
    assert isinstance(found, Obstructed)
    assert found.blocks == ("the head",)
    assert found.room_at_most == pytest.approx(-0.25 * INCH, abs=1e-9)
    assert "the head bars it" in found.why


def test_set_down_where_it_slides_in_it_goes_under_the_same_head() -> None:
    plate_only = standing_pivot(0.0, 6 * INCH, 0.5 * INCH, 1.5 * INCH, 0.0)
    assert isinstance(solved(under(176.0, *plate_only), hang=Hang(1.25 * INCH)).best, PosePath)
    assert isinstance(solved(under(176.0, *PIVOT)).best, Obstructed)


def test_a_beam_in_front_asks_for_a_kick_out() -> None:
    """A beam lower than the upright leaf, just outside, is passed by leaning under it."""
    beam = Box("the crane beam", 8 * INCH, 14 * INCH, 172 * INCH, 190 * INCH)
    building = under(178.0, beam, front=6.0)
    found = path(solved(building, hang=Hang(1.25 * INCH)))
    assert_clear(BARE, building, found, INCH / 8)
    free = path(solved(under(178.0), hang=Hang(1.25 * INCH)))
    assert found.kick_out_at_least > free.kick_out


def test_what_lies_in_the_way_is_named() -> None:
    lift = Box("the scissor lift", 0.3, 3.0, 0.0, 2.0)
    found = solved(under(183, *PIVOT, lift), side=None)
    toward, away = found.sides
    assert isinstance(toward, Obstructed) and toward.blocks[0] == "the scissor lift"
    assert toward.room_at_most <= 0.0
    assert found.best is away and isinstance(away, PosePath)
    assert away.side == "away"
    assert_clear(BARE, under(183, *PIVOT, lift), away, INCH / 8)


def test_a_mirrored_building_gives_the_mirrored_way() -> None:
    thick = SideSection("left", HEIGHT, (*BARE.parts, Part("boards", 0.0, HEIGHT, INCH, 2 * INCH)))
    mirrored = SideSection(
        "left", HEIGHT, (*BARE.parts, Part("boards", 0.0, HEIGHT, -2 * INCH, -INCH))
    )
    one = path(solved(under(181.25, *PIVOT), thick, side="toward"))
    two = path(solved(under(181.25, *PIVOT), mirrored, side="away"))
    assert [(p.lift, p.foot, p.tilt) for p in one.poses] == [
        (p.lift, -p.foot, p.tilt) for p in two.poses
    ]


def test_cladding_costs_room() -> None:
    board = Part("boards", 0.0, HEIGHT + 0.5 * INCH, INCH, 2 * INCH)
    bare = path(solved(under(181.25, *PIVOT)))
    clad = path(solved(under(181.25, *PIVOT), SideSection("left", HEIGHT, (*BARE.parts, board))))
    assert clad.headroom[1] == pytest.approx(bare.headroom[1] - 0.5 * INCH, abs=1e-6)


def test_too_little_work_is_not_decided() -> None:
    wishes = Wishes(margin=INCH / 8, boxes_of_poses=60)
    found = tilt_in(BARE, WIDTH, under(181.25, *PIVOT), DROP_ON, wishes, "toward").best
    assert isinstance(found, NotDecided)
    assert "allow more work" in found.why


def test_a_lift_that_may_not_be_is_an_obstruction() -> None:
    wishes = Wishes(margin=INCH / 8, lift=2 * INCH)
    found = tilt_in(BARE, WIDTH, under(183, *PIVOT), DROP_ON, wishes, "toward").best
    assert isinstance(found, Obstructed)
    assert found.why == "the leaf may not be lifted as far as it must be"


def test_a_hung_place_that_is_taken_is_said() -> None:
    found = solved(under(170.0), hang=Hang(1.25 * INCH)).best
    assert isinstance(found, Obstructed)
    assert found.why == "the leaf does not hang where it should: the head is in the way"


def test_a_floor_that_rises_is_an_obstacle_to_the_foot() -> None:
    floor = Floor(0.0, ((-2.0, 0.0), (0.2, 0.0), (0.25, 0.02), (6.0, 0.02)))
    building = Building(floor, Head(183 * INCH, -6 * INCH, 6 * INCH))
    found = path(solved(building, hang=Hang(1.25 * INCH)))
    assert_clear(BARE, building, found, INCH / 8)
    assert found.poses[0].lift >= 0.02 - 1e-9


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Part("the frame", 1.0, 1.0, -1.0, 1.0), "give the smaller number first"),
        (lambda: Box("the lift", 2.0, 1.0, 0.0, 1.0), "the lift reaches from 2.0 to 1.0 m"),
        (lambda: SideSection("left", 1.0, ()), "left has no parts; give at least its frame"),
        (lambda: Floor(0.1, ((0.0, 0.0), (1.0, 0.1))), "is not its lowest: the profile has 0.0"),
        (lambda: Floor(0.0, ((1.0, 0.0), (0.0, 0.1))), "sort it by z"),
        (lambda: solved(under(183), hang=Hang(-0.1)), "would hang 0.1 m below the floor"),
        (lambda: solved(under(183), margin=-0.1), "the margin is -0.1 m; give nothing or more"),
        (lambda: kicked_out_height(1.0, 0.1, 2.0), "a kick-out of 2.0 m does not fit a leaf 1.0 m"),
    ],
)
def test_what_cannot_be_is_refused(make: object, words: str) -> None:
    assert callable(make)
    with pytest.raises(ValueError, match=words):
        make()


def test_the_section_of_a_designed_leaf_has_frame_and_infill() -> None:
    infill: Sequence[dict[str, str]] = [{"kind": "sheet", "on": "back", "thickness": "3 mm"}]
    place, _, leaf = made(1.1, 4.0, infill=list(infill))
    section = side_section(place, leaf, (Part("the handle", 1.0, 1.2, 0.0, 0.1),))
    frame = section.parts[0]
    assert (frame.low, frame.high, frame.back, frame.front) == (0.0, 4.0, -INCH, INCH)
    sheet = section.parts[1]
    assert sheet.back == pytest.approx(-INCH - 0.003) and sheet.front == -INCH
    assert section.parts[-1].name == "the handle"


def test_the_head_is_taken_as_low_as_it_may_be() -> None:
    read = chain.base("reading", "head", "head", 4.5, sd=0.002)
    assert lowest_head(read, -0.1, 0.1).underside == pytest.approx(4.5 - 1.96 * 0.002, abs=1e-6)
