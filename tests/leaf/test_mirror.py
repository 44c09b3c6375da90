"""A right-hand leaf is the exact mirror of the left-hand one of the same size."""

from __future__ import annotations

import random

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from leafwright.leaf import Leaf
from tests.leaves import made, random_wishes
from tests.sizes import cases

# Mirroring subtracts from the width: rounding of a few metres in double precision.
ROUNDING = 1e-12


def both(seed: int) -> tuple[Leaf, Leaf]:
    wishes = random_wishes(random.Random(seed))
    wishes["infill"] = [{"kind": "sheet", "thickness": "2 mm", "panel": 1}]
    width, height = wishes.pop("width"), wishes.pop("height")
    left = made(width, height, **{**wishes, "hand": "left"})[2]
    right = made(width, height, **{**wishes, "hand": "right"})[2]
    return left, right


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_outlines_are_mirrored(seed: int) -> None:
    left, right = both(seed)
    for a, b in zip(left.members, right.members, strict=True):
        assert a.key == b.key
        mirrored = affine_transform(Polygon(a.bar.outline), (-1, 0, 0, 1, left.width, 0))
        assert mirrored.symmetric_difference(Polygon(b.bar.outline)).area < ROUNDING
        assert Polygon(b.bar.outline).exterior.is_ccw


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_masses_are_equal_and_centres_mirrored(seed: int) -> None:
    left, right = both(seed)
    for a, b in zip(left.members, right.members, strict=True):
        assert b.mass == pytest.approx(a.mass, rel=1e-9)
        x, y = a.bar.centroid
        assert b.bar.centroid == pytest.approx((left.width - x, y), abs=1e-9)
        assert b.length.value == a.length.value
    assert right.lift_mass == pytest.approx(left.lift_mass, rel=1e-9)
    assert right.hung_mass == pytest.approx(left.hung_mass, rel=1e-9)
    for a_centre, b_centre in (
        (left.centre, right.centre),
        (left.lift_centre, right.lift_centre),
    ):
        assert b_centre == pytest.approx((left.width - a_centre[0], a_centre[1]), abs=1e-9)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_joints_panels_and_infill_are_mirrored(seed: int) -> None:
    left, right = both(seed)
    w = left.width
    for a, b in zip(left.joints, right.joints, strict=True):
        assert (a.key, a.kind, set(a.members)) == (b.key, b.kind, set(b.members))
        assert b.at == pytest.approx((w - a.at[0], a.at[1]), abs=ROUNDING)
    for p, q in zip(left.panels, right.panels, strict=True):
        assert (q.left, q.right) == pytest.approx((w - p.right, w - p.left), abs=ROUNDING)
        assert (q.bottom, q.top) == (p.bottom, p.top)
    for i, j in zip(left.infill, right.infill, strict=True):
        assert (j.left, j.right) == pytest.approx((w - i.right, w - i.left), abs=ROUNDING)
        assert j.mass == i.mass


def test_hanging_stile_is_on_the_side_the_leaf_hangs_on() -> None:
    for hand, x in (("left", 0.02), ("right", 1.18)):
        _, _, leaf = made(1.2, 3.0, hand=hand, frame="SHS 40 x 40 x 3")
        stile = next(m for m in leaf.members if m.role == "hanging stile")
        assert stile.foot[0] == pytest.approx(x)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_rising_brace_climbs_from_the_hinge_side(hand: str) -> None:
    _, _, leaf = made(1.2, 3.0, hand=hand, brace=[{"pattern": "one diagonal"}])
    brace = leaf.members[-1]
    away = 1.0 if hand == "left" else -1.0
    assert brace.direction[1] > 0
    assert brace.direction[0] * away > 0
    assert (brace.start_joint, brace.end_joint) == ("panel-1 bottom hinge", "panel-1 top nose")
