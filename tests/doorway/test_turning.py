"""Turning shapes: gaps, least gaps and contacts against polygons turned by another library."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from shapely.geometry import box

from leafwright.doorway.curves import gap_curve, turning
from leafwright.doorway.meeting import together
from leafwright.doorway.outline import Cover, LeafPlan, ScrewHeads, outline
from leafwright.doorway.turning import gaps, least_apart, nearest, shape
from leafwright.records import Point2
from tests.doorway.plans import INCH, leaf_of, opened, pair_of, random_leaf, solid
from tests.sizes import cases

SIGN = {"toward": 1.0, "away": -1.0}


def random_block(rng: random.Random) -> list[Point2]:
    """Return a jamb of any depth at x = 0, or a box out along the swing."""
    if rng.random() < 0.6:
        left, right = -rng.uniform(0.05, 0.3), 0.0
        back, front = -rng.uniform(0.01, 0.3), rng.uniform(0.01, 0.3)
    else:
        left, back = rng.uniform(-0.5, 2.0), rng.choice([-1.0, 1.0]) * rng.uniform(0.2, 2.0)
        right, front = left + rng.uniform(0.05, 0.8), back + rng.uniform(0.05, 0.8)
    return [(left, back), (right, back), (right, front), (left, front)]


def angles_of(upto: float) -> np.ndarray:
    return np.linspace(0.0, upto, 181)


def test_gaps_to_what_stands_are_those_of_another_library() -> None:
    rng = random.Random(401)
    for _ in range(cases(25, 500)):
        plan = random_leaf(rng, hand=rng.choice(["left", "right"]))
        at = random_block(rng)
        if plan.hand == "right":
            at = [(2 * plan.hinge_edge - x, z) for x, z in at]
        (way,) = plan.ways
        curve = gap_curve("", "", plan, way, [at], angles_of(math.pi), upto=math.pi / 2)
        for i in range(0, 181, 12):
            turned = opened(plan, SIGN[way] * float(curve.angles[i]))
            assert max(curve.gaps[i], 0.0) == pytest.approx(turned.distance(solid([at])), abs=1e-9)
            if curve.gaps[i] < -1e-6:
                assert turned.intersection(solid([at])).area > 0.0


def test_the_least_gap_is_reached_and_nothing_is_nearer() -> None:
    rng = random.Random(402)
    apart = 0
    for _ in range(cases(25, 500)):
        plan = random_leaf(rng)
        at = random_block(rng)
        (way,) = plan.ways
        curve = gap_curve("", "", plan, way, [at], angles_of(math.pi), upto=math.pi / 2)
        reached = opened(plan, SIGN[way] * curve.least_at).distance(solid([at]))
        assert max(curve.least, 0.0) == pytest.approx(reached, abs=1e-9)
        near = np.clip(curve.least_at + np.linspace(-2e-3, 2e-3, 41), 0.0, math.pi / 2)
        fine = np.concatenate((np.linspace(0.0, math.pi / 2, 721), near))
        sampled = gap_curve("", "", plan, way, [at], np.sort(fine), upto=math.pi / 2).gaps
        assert curve.least <= sampled.min() + 1e-9
        apart += curve.least > 0
    assert apart > 5


def test_contact_is_where_another_library_first_finds_an_overlap() -> None:
    rng = random.Random(403)
    touched = 0
    for _ in range(cases(25, 500)):
        plan = random_leaf(rng)
        at = random_block(rng)
        (way,) = plan.ways
        curve = gap_curve("", "", plan, way, [at], angles_of(math.pi), upto=math.pi / 2)
        still = solid([at])
        every = [opened(plan, SIGN[way] * a).distance(still) for a in curve.angles[::6]]
        if curve.contact is None:
            assert min(every) > 0.0
            continue
        before = [d for d, a in zip(every, curve.angles[::6], strict=True) if a < curve.contact]
        assert min(before, default=1.0) > 0.0
        if 1e-6 < curve.contact < math.pi - 1e-6:
            touched += 1
            just = [opened(plan, SIGN[way] * (curve.contact + d)) for d in (-1e-6, 1e-6)]
            assert just[0].distance(still) > 0.0
            assert just[1].intersects(still)
    assert touched > 5


def test_two_leaves_that_open_together_are_followed_exactly() -> None:
    rng = random.Random(404)
    apart = touched = 0
    for _ in range(cases(25, 500)):
        way = rng.choice(["toward", "away"])
        left = random_leaf(rng, key="left", swing=way)
        right = random_leaf(rng, key="right", hand="right", swing=way)
        overlap = rng.uniform(-0.006, 0.002)
        gap = left.hinge_edge + left.width - overlap
        right = leaf_of_right(right, gap + right.width)
        upto = rng.uniform(0.3, 1.5)
        (side,) = left.ways
        curve = together(left, right, side, angles_of(upto), upto=upto)
        sampled = []
        for angle in np.concatenate((np.linspace(0, 0.06, 31), np.linspace(0, upto, 16))):
            pair = [opened(plan, SIGN[way] * float(angle)) for plan in (left, right)]
            sampled.append((float(angle), pair[0].distance(pair[1])))
        assert max(curve.least, 0.0) <= min(d for _, d in sampled) + 1e-9
        pair = [opened(plan, SIGN[way] * curve.least_at) for plan in (left, right)]
        assert max(curve.least, 0.0) == pytest.approx(pair[0].distance(pair[1]), abs=1e-9)
        if curve.contact is None:
            apart += 1
            assert min(d for _, d in sampled) > 0.0
        elif curve.contact > 1e-6:
            touched += 1
            assert all(d > 0.0 for a, d in sampled if a < curve.contact - 1e-9)
            just = [
                [opened(plan, SIGN[way] * (curve.contact + d)) for plan in (left, right)]
                for d in (-1e-6, 1e-6)
            ]
            assert just[0][0].distance(just[0][1]) > 0.0
            assert just[1][0].intersects(just[1][1])
    assert apart > 3
    assert touched > 0


def leaf_of_right(plan: LeafPlan, hinge_edge: float) -> LeafPlan:
    return leaf_of(
        key=plan.key,
        hand="right",
        swing=plan.swing,
        width=plan.width,
        axis=plan.axis,
        axis_z=plan.axis_z,
        frame_half=plan.frame_half,
        covers=plan.covers,
        screw_heads=plan.screw_heads,
        hinge_edge=hinge_edge,
    )


@pytest.mark.parametrize(
    ("covers", "sweep"),
    # The trade's own sums, computed: 2 in frame, axis at 1 in; 1/4 in of infill on both faces.
    [((), 0.414), ((Cover("face", INCH / 4), Cover("back", INCH / 4)), 0.601)],
)
@pytest.mark.parametrize("way", ["toward", "away"])
def test_the_heel_sweeps_what_the_trade_figures_say(
    covers: tuple[Cover, ...], sweep: float, way: str
) -> None:
    plan = leaf_of(covers=covers, swing=way)
    wall: list[Point2] = [(-0.3, -0.2), (0.0, -0.2), (0.0, 0.2), (-0.3, 0.2)]
    curve = gap_curve("", "", plan, plan.ways[0], [wall], angles_of(1.57), upto=1.57)
    a, c = plan.axis, plan.half("face")
    assert (plan.hinge_edge - curve.least) / INCH == pytest.approx(sweep, abs=0.0005)
    assert curve.least == pytest.approx(plan.hinge_edge - (math.hypot(a, c) - a), abs=1e-12)
    # The peak is where the corner stands square to the jamb: 45° with no infill, and beyond.
    assert curve.least_at == pytest.approx(math.atan2(c, a), abs=1e-6)


def test_screw_heads_stand_off_the_infill_they_hold() -> None:
    plan = leaf_of(
        covers=(Cover("face", 0.010, from_heel=0.05),),
        screw_heads=(ScrewHeads("face", 0.003, 0.06, 0.10), ScrewHeads("face", 0.003, 0.0, 0.04)),
    )
    assert plan.half("face") == pytest.approx(INCH + 0.013)
    tops = sorted(max(z for _, z in piece) for piece in outline(plan, 0.0))
    assert tops == pytest.approx([INCH, INCH + 0.003, INCH + 0.010, INCH + 0.013])


def test_a_leaf_in_a_deep_reveal_stops_with_its_face_on_the_edge() -> None:
    rng = random.Random(405)
    for _ in range(cases(25, 500)):
        plan = leaf_of(axis=rng.uniform(0.0, 0.05), frame_half=rng.uniform(0.02, 0.04))
        gap, depth = rng.uniform(0.03, 0.08), rng.uniform(0.10, 0.35)
        edge = plan.hinge_edge - gap
        wall: list[Point2] = [(edge - 0.3, 0.06), (edge, 0.06), (edge, depth), (edge - 0.3, depth)]
        curve = gap_curve("", "", plan, "toward", [wall], angles_of(math.pi), upto=1.0)
        # The wall's corners are at (−(gap + a), z) from the axis; the face is c off the axis.
        at = min(
            math.atan2(z, -(gap + plan.axis))
            - math.asin(plan.frame_half / math.hypot(gap + plan.axis, z))
            for z in (0.06, depth)
        )
        assert curve.contact == pytest.approx(at, abs=1e-9)


def test_an_overlap_is_as_deep_as_the_shift_that_parts_it() -> None:
    own = shape([[0j, 1 + 0j, 1 + 0.1j, 0.1j]])
    wall = shape([[0.997 - 1j, 2 - 1j, 2 + 1j, 0.997 + 1j]])
    assert gaps(own, wall, np.array([0.0]))[0] == pytest.approx(-0.003)
    found = nearest(own, wall, 0.0)
    assert found.gap == pytest.approx(-0.003)
    assert found.contact == 0.0
    assert least_apart(own, wall, 0.0) is None


def test_an_overlap_over_a_turn_is_at_its_deepest() -> None:
    # A corner that sweeps 3 mm past a wall: its reach is the diagonal.
    own = shape([[-0.03 - 0.02j, 1 - 0.02j, 1 + 0.02j, -0.03 + 0.02j]])
    reach = math.hypot(0.03, 0.02)
    wall = shape([[-1 - 1j, -reach + 0.003 - 1j, -reach + 0.003 + 1j, -1 + 1j]])
    found = nearest(own, wall, 1.0)
    assert found.gap == pytest.approx(-0.003, abs=1e-9)
    assert found.angle == pytest.approx(math.atan2(0.02, 0.03), abs=1e-4)


def test_pieces_may_be_given_either_way_round() -> None:
    ring = [0j, 1 + 0j, 1 + 1j, 1j]
    other = shape([[3 + 0j, 4 + 0j, 4 + 1j, 3 + 1j]])
    for piece in (ring, ring[::-1]):
        assert gaps(shape([piece]), other, np.array([0.0]))[0] == pytest.approx(2.0)


def test_a_leaf_inside_what_stands_overlaps_it() -> None:
    plan = leaf_of()
    own = turning(plan, "toward")
    assert gaps(own, shape([[-9 - 9j, 9 - 9j, 9 + 9j, -9 + 9j]]), np.array([0.0]))[0] < 0
    assert box(-9, -9, 9, 9).contains(opened(plan, 0.0))


@pytest.mark.parametrize(("upto", "to"), [(-0.1, 1.0), (1.0, 0.5), (1.0, 7.0)])
def test_a_turn_that_cannot_be_followed(upto: float, to: float) -> None:
    own, wall = shape([[0j, 1 + 0j, 1j]]), shape([[5 + 0j, 6 + 0j, 5 + 1j]])
    with pytest.raises(ValueError, match="cannot be followed; give angles from 0 to under 2π"):
        nearest(own, wall, upto, to=to)


def test_like_leaves_opening_together_keep_twice_what_each_keeps_from_the_middle() -> None:
    rng = random.Random(406)
    for _ in range(cases(25, 500)):
        width, gap = rng.uniform(1.5, 3.0), rng.uniform(0.003, 0.02)
        left, right = pair_of(width, gap, covers=(Cover("back", rng.uniform(0.001, 0.02)),))
        both = together(left, right, "toward", angles_of(1.5), upto=1.5)
        a, c = left.axis, left.half("back")
        growth = math.hypot(left.width - a, c) - (left.width - a)
        assert both.least == pytest.approx(gap - 2 * growth, abs=1e-9)
        assert both.least_at == pytest.approx(math.atan2(c, left.width - a), abs=1e-6)
