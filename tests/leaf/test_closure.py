"""The cut parts tile the leaf, as solids: walls and round corners, by geometry of shapely alone.

A leaf is sliced at several depths z. At each, a member's section gives the strips of metal along
it, and its elevation cuts them off: nothing of `leafwright.leaf.cut` is used but the outline that
goes to the saw.
"""

from __future__ import annotations

import functools
import itertools
import math
import random

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from leafwright.handbook.catalogue import CatalogueSection
from leafwright.handbook.outlines import polygon
from leafwright.job.model import Brace, LeafTable
from leafwright.leaf import Leaf, Member
from tests.leaves import leaf_of_kinds, made, random_kinds
from tests.sizes import cases

SEEDS = range(cases(25, 500))

#: Worked in double precision on a few metres: far under anything a saw can tell [m].
ROUNDING = 1e-9
#: A point of an elevation.
At = tuple[float, float]


@functools.cache
def _rings(section: CatalogueSection) -> list[list[At]]:
    """Return a section's edge and hole, round corners as chords a micrometre off them at most."""
    return polygon(section.mass_outline(), chord_error=1e-6)


def strips(member: Member, z: float) -> BaseGeometry:
    """Return the metal of a member at a depth, seen from the face side."""
    rings = _rings(member.section)
    section = Polygon(rings[0], rings[1:])
    cut = section.intersection(LineString([(-1.0, z), (1.0, z)]))
    (x, y), (c, s) = member.foot, member.direction
    bands = []
    for part in getattr(cut, "geoms", [cut]):
        if part.is_empty or part.length == 0.0:
            continue
        low, high = sorted((part.bounds[0], part.bounds[2]))
        corners = [(-20.0, low), (20.0, low), (20.0, high), (-20.0, high)]
        bands.append(Polygon([(x + a * c - u * s, y + a * s + u * c) for a, u in corners]))
    metal = unary_union(bands).intersection(Polygon(member.bar.outline))
    if member.notch is not None and (z > 0.0) == (member.notch.face == "face"):
        metal = metal.difference(Polygon(member.notch.corners))
    return metal


def depths(leaf: Leaf) -> list[float]:
    """Return depths through the middle, the walls and the round corners of the leaf's tubes."""
    found = []
    for section in {m.section for m in leaf.members}:
        wall = section.nominal_wall or section.height / 4
        found += [1e-4, section.height / 2 - wall / 2, section.height / 2 - 1.6 * wall]
        found += [-section.height / 2 + wall / 3]
    return found


def ends_cut(member: Member) -> list[tuple[At, At]]:
    """Return the edges of a member's elevation that its saw cuts make."""
    ring = [*member.bar.outline, member.bar.outline[0]]
    c, s = member.direction
    return [
        (a, b)
        for a, b in itertools.pairwise(ring)
        if abs((b[0] - a[0]) * s - (b[1] - a[1]) * c) > 1e-9
    ]


def on_edge(leaf: Leaf, at: Point) -> bool:
    return min(at.x, at.y, leaf.width - at.x, leaf.height - at.y) < ROUNDING


@pytest.mark.parametrize("seed", SEEDS)
def test_no_two_solids_overlap_at_any_depth(seed: int) -> None:
    leaf = leaf_of_kinds(seed)[2]
    for z in depths(leaf):
        metal = [(m, strips(m, z)) for m in leaf.members if m.role != "rod"]
        for (a, p), (b, q) in itertools.combinations(metal, 2):
            assert p.intersection(q).area < 1e-9, (a.key, b.key, z)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_cut_stands_off_its_neighbour_by_the_root_gap_and_no_more(seed: int) -> None:
    leaf = leaf_of_kinds(seed)[2]
    gap = leaf.root_gap.value
    whole = {m.key: Polygon(m.bar.outline) for m in leaf.members if m.role != "rod"}
    for member in leaf.members:
        # A half-lapped bar passes the other at another depth; its notch is looked at below.
        lapped = member.key.rsplit("/", 1)[0] if member.notch else "-"
        rest = unary_union(
            [p for k, p in whole.items() if k != member.key and not k.startswith(lapped + "/")]
        )
        for a, b in ends_cut(member):
            edge = LineString([a, b])
            at = [edge.interpolate(t, normalized=True) for t in (0.02, 0.25, 0.5, 0.75, 0.98)]
            if all(on_edge(leaf, p) for p in at):
                continue
            far = [p.distance(rest) for p in at]
            if nose(leaf, member, a, b):
                assert min(far) > gap - ROUNDING, member.key
                continue
            assert far == pytest.approx([gap] * len(at), abs=1e-7), (member.key, a, b)


def corners_of(leaf: Leaf, member: Member) -> list[tuple[Point, float, float]]:
    """Return the corners of a brace's panel, each with the way into the panel along x and y."""
    panel = leaf.panels[int(member.key.split("brace-")[1].split("/")[0]) - 1]
    return [
        (Point(x, y), into_x, into_y)
        for x, into_x in ((panel.left, 1.0), (panel.right, -1.0))
        for y, into_y in ((panel.bottom, 1.0), (panel.top, -1.0))
    ]


def nose(leaf: Leaf, member: Member, a: At, b: At) -> bool:
    """Return whether a cut is the nose of a wedged brace: at 45° across a corner."""
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 90.0
    return (
        member.role == "brace"
        and abs(turn - 45.0) < 1e-6
        and min(Point(a).distance(c) for c, _, _ in corners_of(leaf, member)) < 0.02
    )


def wish_of(table: LeafTable, member: Member) -> Brace:
    return table.brace[int(member.key.split("brace-")[1].split("/")[0]) - 1]


@pytest.mark.parametrize("seed", SEEDS)
def test_braces_keep_clear_of_the_corner_as_wished(seed: int) -> None:
    _, table, leaf = leaf_of_kinds(seed)
    gap = leaf.root_gap.value
    for member in leaf.members:
        if member.role != "brace":
            continue
        wish, outline = wish_of(table, member), Polygon(member.bar.outline)
        ends = ((wish.lower_end, member.start_joint), (wish.upper_end, member.end_joint))
        for on, joint in ends:
            if joint.endswith("crossing"):
                continue
            near_left = ("hinge" in joint) == (leaf.hand == "left")
            corner, x, y = next(
                (c, x, y)
                for c, x, y in corners_of(leaf, member)
                if (x > 0) == near_left and (y > 0) == (" bottom " in joint)
            )
            if on == "corner":
                bead = wish.bead_clearance.si if wish.bead_clearance else 0.0
                if bead <= gap:
                    assert outline.distance(corner) == pytest.approx(math.sqrt(2) * gap, abs=1e-9)
                    continue
                # A bead of that leg in the corner has its room, and no more is taken off.
                triangle = [(corner.x, corner.y), (corner.x + x * bead, corner.y)]
                room = Polygon([*triangle, (corner.x, corner.y + y * bead)])
                assert outline.intersection(room).area < 1e-12
                assert outline.distance(room) <= gap / math.sqrt(2) + ROUNDING
                continue
            clear = wish.clear_of_corner.si if wish.clear_of_corner else 0.0254
            other = (
                [(corner.x - 9, corner.y), (corner.x + 9, corner.y)]
                if on == "stile"
                else [(corner.x, corner.y - 9), (corner.x, corner.y + 9)]
            )
            kept = max(clear, gap)
            assert outline.distance(LineString(other)) == pytest.approx(kept, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_length_and_volume_of_every_kind_are_those_of_its_solid(seed: int) -> None:
    leaf = leaf_of_kinds(seed)[2]
    for m in leaf.members:
        assert m.length.value == pytest.approx(m.bar.long, abs=1e-12), m.key
        (x, y), (c, s) = m.foot, m.direction
        along = [(px - x) * c + (py - y) * s for px, py in m.bar.outline]
        assert m.length.value == pytest.approx(max(along) - min(along), abs=1e-9), m.key
    # One bar's metal, slice by slice by the middle rule: the walls' edges make it this rough.
    bar = leaf.members[-1]
    count, high = 160, bar.section.height
    sliced = sum(strips(bar, high * ((i + 0.5) / count - 0.5)).area for i in range(count))
    assert bar.mass / bar.section.density == pytest.approx(sliced * high / count, rel=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_kind_is_mirrored_on_a_right_hand_leaf(seed: int) -> None:
    left, right = (leaf_of_kinds(seed, hand=hand)[2] for hand in ("left", "right"))
    for a, b in zip(left.members, right.members, strict=True):
        assert (a.key, a.mark) == (b.key, b.mark)
        assert b.length.value == a.length.value
        assert b.mass == pytest.approx(a.mass, rel=1e-9)
        mirrored = affine_transform(Polygon(a.bar.outline), (-1, 0, 0, 1, left.width, 0))
        assert mirrored.symmetric_difference(Polygon(b.bar.outline)).area < 1e-10
    for j, k in zip(left.joints, right.joints, strict=True):
        assert (j.key, j.kind, set(j.members)) == (k.key, k.kind, set(k.members))
        assert k.at == pytest.approx((left.width - j.at[0], j.at[1]), abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_length_of_every_kind_follows_its_bases_as_its_slopes_say(seed: int) -> None:
    step = 1e-5
    wishes = random_kinds(random.Random(seed))
    width, height = wishes.pop("width"), wishes.pop("height")
    # Heights that are wished of rails do not grow with the leaf.
    before = made(width, height, **wishes)[2]
    after = made(width + step, height, **wishes)[2]
    for a, b in zip(before.members, after.members, strict=True):
        by = {s.base: s.by for s in a.length.slopes}.get("leaf/width", 0.0)
        # Half a step of the second derivative, which is a few over the clear width at most.
        assert (b.bar.long - a.bar.long) / step == pytest.approx(by, abs=1e-3), a.key


@pytest.mark.parametrize("seed", SEEDS)
def test_notches_of_a_lap_close_each_other_but_for_the_root_gap(seed: int) -> None:
    leaf = leaf_of_kinds(seed)[2]
    gap = leaf.root_gap.value
    for member in leaf.members:
        if member.notch is None:
            continue
        stem, own = member.key.rsplit("/", 1)
        twin = "across" if own == "through" else "through"
        other = next(m for m in leaf.members if m.key == f"{stem}/{twin}")
        assert other.notch is not None
        assert {member.notch.face, other.notch.face} == {"face", "back"}
        taken = Polygon(member.notch.corners)
        bar, passing = Polygon(member.bar.outline), Polygon(other.bar.outline)
        # What is cut out is all that the other bar takes of this one, and its gap on either side.
        room = bar.intersection(passing.buffer(gap, join_style="mitre", cap_style="flat"))
        assert taken.symmetric_difference(room).area < 1e-9
        assert taken.buffer(1e-9).contains(bar.intersection(passing))
        # The depths meet in the middle: each has half of the section left, on its own side.
        assert member.notch.depth == pytest.approx(member.section.height / 2)


def test_weight_of_a_half_lapped_bar_is_that_of_its_slices() -> None:
    leaf = made(
        1.2, 1.5, frame="SHS 60 x 60 x 4", brace=[{"pattern": "X", "crossing": "half lapped"}]
    )[2]
    for tail in ("through", "across"):
        bar = next(m for m in leaf.members if m.key.endswith(f"/{tail}"))
        count, high = 400, bar.section.height
        sliced = [strips(bar, high * ((i + 0.5) / count - 0.5)) for i in range(count)]
        area = sum(s.area for s in sliced)
        assert bar.mass / bar.section.density == pytest.approx(area * high / count, rel=0.01)
        across = sum(s.centroid.x * s.area for s in sliced) / area
        assert bar.bar.centroid[0] == pytest.approx(across, abs=1e-4)


def test_both_bars_of_a_half_lap_are_as_long_as_the_panels_diagonal() -> None:
    leaf = made(
        1.28, 0.98, frame="SHS 40 x 40 x 3", brace=[{"pattern": "X", "crossing": "half lapped"}]
    )[2]
    assert [m.mark for m in leaf.members[-2:]] == ["A-B1T", "A-B1X"]
    for bar in leaf.members[-2:]:
        assert bar.length.value == pytest.approx(1.5)
        # Crossing at sin 0.96: 40/0.96 along the bar, in its middle.
        assert bar.notch is not None
        assert bar.notch.length == pytest.approx(0.040 / 0.96)
        assert bar.notch.along == pytest.approx(0.75)
        assert math.sin(bar.notch.slant) == pytest.approx(0.28)
