"""Lengths as derived quantities agree with the solid bars, and with the panel's own triangles."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Polygon

from leafwright import chain
from leafwright.leaf import Leaf, Member
from tests.leaves import INCH, LB, made, random_leaf
from tests.sizes import cases

FOOT = 12 * INCH
POUND = LB / 9.80665

REFERENCE = (44 * INCH, 174 * INCH)


def member(leaf: Leaf, tail: str) -> Member:
    return next(m for m in leaf.members if m.key == f"leaf/{tail}")


def centre_line(bar: Member) -> float:
    """Return how much of a bar's centre line is steel [m], cut from its outline."""
    (x, y), (c, s) = bar.foot, bar.direction
    line = LineString([(x - 20 * c, y - 20 * s), (x + 20 * c, y + 20 * s)])
    return Polygon(bar.bar.outline).intersection(line).length


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_length_of_every_member_is_that_of_its_solid(seed: int) -> None:
    rods = [{"pattern": "rod", "panel": "whole leaf", "section": "round bar 1/2 in"}]
    leaves = [random_leaf(seed)[2], random_leaf(seed, brace=rods)[2]]
    for m in [m for leaf in leaves for m in leaf.members]:
        # Both are worked in double precision from sizes of a few metres.
        assert m.length.value == pytest.approx(m.bar.long, abs=1e-12), m.key
        assert m.bar.short <= m.bar.long


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_length_follows_the_leafs_size_as_its_slopes_say(seed: int) -> None:
    step = 1e-4
    where, what, leaf = random_leaf(seed)
    wishes = what.model_dump(exclude={"hand", "mount"}, exclude_unset=True)
    wishes |= {"hand": what.hand, "mid_rail": what.mid_rail, "brace": what.brace}
    for base, grown in (
        ("leaf/width", made(where.width.value + step, where.height.value, **wishes)[2]),
        ("leaf/height", made(where.width.value, where.height.value + step, **wishes)[2]),
    ):
        for before, after in zip(leaf.members, grown.members, strict=True):
            by = {s.base: s.by for s in before.length.slopes}.get(base, 0.0)
            # The second derivative of a diagonal is under 1/m: half a step is all it can add.
            assert (after.bar.long - before.bar.long) / step == pytest.approx(by, abs=4 * step)


def test_every_length_walks_down_to_what_was_wished_or_tabled() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"height": "1.0 m"}], brace=[{"pattern": "X"}])
    for m in leaf.members:
        bases = [q for q in chain.walked(m.length) if not q.inputs]
        assert bases
        assert {q.kind for q in bases} <= {"wish", "table", "default"}, m.key


def test_half_brace_of_the_reference_leaf_is_bought_by_its_long_point() -> None:
    # By hand: clear 40 x 170 in, so the diagonal is 174.642 in and the bars cross at
    # c = 2 atan(40/170) = 26.48 degrees. A half runs on its centre line to the near face of the
    # bar between: 174.642/2 - 1/sin c = 85.08 in; its slanting cut reaches 1/tan c = 2.01 in more.
    _, _, leaf = made(*REFERENCE, brace=[{"pattern": "X"}])
    diagonal = math.hypot(40, 170)
    crossing = 2 * math.atan2(40, 170)
    for tail in ("brace-1/lower", "brace-1/upper"):
        half = member(leaf, tail)
        line = diagonal / 2 - 1 / math.sin(crossing)
        assert centre_line(half) / INCH == pytest.approx(line, abs=1e-6)
        assert centre_line(half) / INCH == pytest.approx(85.1, abs=0.05)
        assert half.bar.long / INCH == pytest.approx(line + 1 / math.tan(crossing), abs=1e-9)
        assert half.bar.long / INCH == pytest.approx(87.1, abs=0.05)
    assert member(leaf, "brace-1/through").bar.long / INCH == pytest.approx(diagonal)


def test_half_brace_of_a_square_panel_is_cut_square_in_the_middle() -> None:
    _, _, leaf = made(1.0, 1.0, frame="SHS 40 x 40 x 3", brace=[{"pattern": "X"}])
    half = member(leaf, "brace-1/lower")
    assert half.bar.end.angles == pytest.approx((0.0,), abs=1e-12)
    assert half.bar.long == pytest.approx(0.92 * math.sqrt(2) / 2 - 0.02)


def test_brace_of_the_reference_leaf_lies_13_degrees_to_the_stile() -> None:
    _, _, leaf = made(*REFERENCE, brace=[{"pattern": "X"}])
    through, half = member(leaf, "brace-1/through"), member(leaf, "brace-1/lower")
    to_stile = math.atan2(abs(through.direction[0]), through.direction[1])
    assert math.degrees(to_stile) == pytest.approx(13.24, abs=0.005)
    # A cut along the stile's face right across the bar would be 2 in / sin 13.24° long.
    assert 2 / math.sin(to_stile) == pytest.approx(8.73, abs=0.005)
    # The wedge takes half of the bar on each face: along the stile 4.37 in, along the rail 1.03.
    (u0, s0), (u1, s1), (u2, s2) = (tuple(v / INCH for v in p) for p in through.bar.start.profile)
    faces = sorted([math.hypot(u1 - u0, s1 - s0), math.hypot(u2 - u1, s2 - s1)])
    assert faces == pytest.approx([1 / math.cos(to_stile), 1 / math.sin(to_stile)])
    # Where the halves meet the bar between, 26.5° of it.
    assert math.degrees(math.pi / 2 - half.bar.end.angles[0]) == pytest.approx(26.48, abs=0.005)


THIRDS = [{"height": "58 in"}, {"height": "116 in"}]


@pytest.mark.parametrize(
    ("pattern", "mids", "feet", "pounds"),
    [
        # Worked out before this program for the reference leaf (2 x 2 x 0.120 in, 44 x 174 in):
        # tube on its centre lines, and that times 2.945 lb/ft.
        ("none", [], 35.7, 105),
        ("one diagonal", [], 50.2, 148),
        ("X", [], 64.4, 190),
        ("X", [{"at": "half"}], 69.6, 205),
        ("X", THIRDS, 75.9, 224),
    ],
)
def test_tube_and_weight_of_the_reference_leaf(
    pattern: str, mids: list[dict[str, str]], feet: float, pounds: float
) -> None:
    _, _, leaf = made(*REFERENCE, mid_rail=mids, brace=[{"pattern": pattern}])
    on_centre_lines = sum(centre_line(m) for m in leaf.members)
    assert on_centre_lines / FOOT == pytest.approx(feet, abs=0.05)
    # 2.945 lb/ft on the centre lines counts a brace's wedge ends whole. Each wedge loses the two
    # triangles behind its point, b²/16 (tan a + cot a) of metal spread over its width; the true
    # leaf is that much lighter and never heavier (half a pound is the table's own rounding).
    wedges = 0.0
    for m in leaf.members:
        if m.role == "brace":
            a = math.atan2(abs(m.direction[1]), abs(m.direction[0]))
            lost = m.section.width / 8 * (math.tan(a) + 1 / math.tan(a))
            ends = sum(not j.endswith("crossing") for j in (m.start_joint, m.end_joint))
            wedges += ends * lost
    by_hand = 2.945 * (on_centre_lines - wedges) / FOOT
    assert leaf.lift_mass / POUND <= pounds + 0.5
    # The metal of a tube lies farther out than evenly spread over its width, where a wedge is cut
    # deepest: that is worth up to a half of what the wedges lose.
    assert leaf.lift_mass / POUND == pytest.approx(by_hand, abs=0.5 * 2.945 * wedges / FOOT + 0.05)


def test_square_corners_are_lapped_as_wished() -> None:
    lengths = {
        "stiles run through": (3.0, 1.2 - 0.08),
        "rails run through": (3.0 - 0.08, 1.2),
        "mitred": (3.0, 1.2),
    }
    for corners, (stile, rail) in lengths.items():
        _, _, leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", corners=corners)
        assert member(leaf, "hanging stile").bar.long == pytest.approx(stile)
        assert member(leaf, "top rail").bar.long == pytest.approx(rail)
        mitre = math.pi / 4 if corners == "mitred" else 0.0
        assert member(leaf, "top rail").bar.end.angles == pytest.approx((mitre,))


def test_rod_stops_a_tab_short_of_both_corners_and_is_square() -> None:
    brace = {"pattern": "rod", "section": "round bar 1/2 in", "end_allowance": "100 mm"}
    _, _, leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", brace=[brace])
    rod = member(leaf, "brace-1")
    assert rod.role == "rod"
    assert rod.bar.long == pytest.approx(math.hypot(1.12, 2.92) - 0.2)
    assert rod.bar.short == pytest.approx(rod.bar.long)


def test_rod_over_the_whole_leaf_passes_the_mid_rails() -> None:
    brace = {"pattern": "rod", "panel": "whole leaf", "section": "round bar 1/2 in"}
    _, _, leaf = made(1.2, 3.0, frame="SHS 40 x 40 x 3", mid_rail=[{"at": "half"}], brace=[brace])
    rod = member(leaf, "brace-0")
    assert rod.bar.long == pytest.approx(math.hypot(1.12, 2.92) - 2 * 3 * INCH)
    assert {rod.start_joint, rod.end_joint} == {"bottom nose", "top hinge"}
