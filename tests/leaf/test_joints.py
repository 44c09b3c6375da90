"""Members meet: none runs into another, none leaves a gap, and every end is in one joint."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import pytest
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

from leafwright.leaf import Leaf, Member
from tests.leaves import INCH, made, random_leaf
from tests.sizes import cases

SEEDS = range(cases(25, 500))

# Lengths are worked in double precision on a few metres: 1e-9 m is far above rounding, and far
# under anything that a saw or a rule can tell.
TOUCHING = 1e-9


def outlines_of(leaf: Leaf) -> list[tuple[Member, Polygon]]:
    return [(m, Polygon(m.bar.outline)) for m in leaf.members if m.role != "rod"]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_two_members_overlap(seed: int) -> None:
    for (a, p), (b, q) in itertools.combinations(outlines_of(random_leaf(seed)[2]), 2):
        assert p.intersection(q).area < 1e-9, (a.key, b.key)


@pytest.mark.parametrize("corners", ["mitred", "stiles run through", "rails run through"])
@pytest.mark.parametrize("seed", SEEDS)
def test_members_together_have_the_leafs_own_edge(corners: str, seed: int) -> None:
    _, _, leaf = random_leaf(seed, corners=corners)
    # Faces that touch are joined by growing each outline by less than any gap worth the name.
    grown = [p.buffer(TOUCHING, join_style="mitre") for _, p in outlines_of(leaf)]
    whole = unary_union(grown)
    assert isinstance(whole, Polygon), "the members do not hang together"
    outside = Polygon(whole.exterior)
    assert outside.symmetric_difference(box(0, 0, leaf.width, leaf.height)).area < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_panels_are_the_holes_between_stiles_and_rails(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    frame = unary_union(
        [p.buffer(TOUCHING, join_style="mitre") for m, p in outlines_of(leaf) if m.role != "brace"]
    )
    assert isinstance(frame, Polygon)
    holes = sorted((Polygon(ring).bounds for ring in frame.interiors), key=lambda b: b[1])
    assert len(holes) == len(leaf.panels)
    for panel, (left, bottom, right, top) in zip(leaf.panels, holes, strict=True):
        found = (panel.left, panel.bottom, panel.right, panel.top)
        assert found == pytest.approx((left, bottom, right, top), abs=2 * TOUCHING)


@pytest.mark.parametrize("seed", SEEDS)
def test_brace_end_in_a_corner_lies_on_both_faces(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    for member, outline in outlines_of(leaf):
        if member.role != "brace":
            continue
        panel = leaf.panels[int(member.key.split("brace-")[1].split("/")[0]) - 1]
        for joint in (member.start_joint, member.end_joint):
            if joint.endswith("crossing"):
                continue
            bottom = " bottom " in joint
            near_left = ("hinge" in joint) == (leaf.hand == "left")
            corner = (
                panel.left if near_left else panel.right,
                panel.bottom if bottom else panel.top,
            )
            assert min(Point(p).distance(Point(corner)) for p in member.bar.outline) < TOUCHING
            # Half the bar's width bears on each face, over that half / sine of its slope to it.
            slope = math.atan2(abs(member.direction[1]), abs(member.direction[0]))
            half = member.section.width / 2
            faces = {
                "rail": (LineString([(-9, corner[1]), (9, corner[1])]), half / math.sin(slope)),
                "stile": (LineString([(corner[0], -9), (corner[0], 9)]), half / math.cos(slope)),
            }
            for name, (face, bearing) in faces.items():
                shared = face.intersection(outline.buffer(TOUCHING)).length
                assert shared == pytest.approx(bearing, abs=1e-6), (member.key, joint, name)


@pytest.mark.parametrize("seed", SEEDS)
def test_halves_of_an_x_bear_on_the_bar_between_them(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    by_key = {m.key: p for m, p in outlines_of(leaf)}
    for member, outline in outlines_of(leaf):
        if not member.key.endswith(("/lower", "/upper")):
            continue
        through = by_key[member.key.rsplit("/", 1)[0] + "/through"]
        panel = leaf.panels[int(member.key.split("brace-")[1].split("/")[0]) - 1]
        tilt = math.atan2(panel.top - panel.bottom, panel.right - panel.left)
        bearing = member.section.width / math.sin(2 * tilt)
        shared = through.exterior.intersection(outline.buffer(TOUCHING)).length
        assert shared == pytest.approx(bearing, abs=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_member_end_is_in_exactly_one_joint(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    of_member: Counter[str] = Counter()
    for joint in leaf.joints:
        of_member.update(joint.members)
        assert len(set(joint.members)) == len(joint.members), joint.key
    members = {m.key: m for m in leaf.members}
    mids = sum(m.role == "mid rail" for m in leaf.members)
    for key, member in members.items():
        # Beside its two ends a stile is in each mid rail's tee, and a through bar in its crossing.
        more = mids if "stile" in member.role else 1 if key.endswith("/through") else 0
        assert of_member[key] == 2 + more, key


@pytest.mark.parametrize("seed", SEEDS)
def test_joints_stand_where_their_members_come_together(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    members = {m.key: Polygon(m.bar.outline) for m in leaf.members}
    b = leaf.members[0].section.width
    for joint in leaf.joints:
        widest = max(m.section.width for m in leaf.members if m.key in joint.members)
        for key in joint.members:
            # A brace ends at the panel's corner, half a tube from the centre lines both ways.
            assert members[key].distance(Point(joint.at)) <= math.hypot(b, b) / 2 + widest


@pytest.mark.parametrize("seed", SEEDS)
def test_joints_are_counted_by_kind(seed: int) -> None:
    _, table, leaf = random_leaf(seed)
    kinds = Counter(j.kind for j in leaf.joints)
    crossed = sum(m.key.endswith("/through") for m in leaf.members)
    assert kinds["corner"] == 4
    assert kinds["tee"] == 2 * len(table.mid_rail)
    assert kinds["crossing"] == crossed
    assert len({j.key for j in leaf.joints}) == len(leaf.joints)


def test_corner_joint_names_stile_rail_and_brace() -> None:
    _, _, leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "one diagonal"}])
    by_key = {j.key: j for j in leaf.joints}
    assert set(by_key["leaf/bottom hinge"].members) == {
        "leaf/hanging stile",
        "leaf/bottom rail",
        "leaf/brace-1",
    }
    assert set(by_key["leaf/bottom nose"].members) == {"leaf/meeting stile", "leaf/bottom rail"}
    assert by_key["leaf/bottom hinge"].at == pytest.approx((INCH, INCH))
    assert by_key["leaf/top nose"].at == pytest.approx((43 * INCH, 173 * INCH))


def test_tee_at_a_mid_rail_takes_the_braces_from_above_and_below() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"at": "half"}], brace=[{"pattern": "one diagonal"}])
    tee = next(j for j in leaf.joints if j.key == "leaf/mid rail-1 hinge")
    assert set(tee.members) == {"leaf/hanging stile", "leaf/mid rail-1", "leaf/brace-2"}
    nose = next(j for j in leaf.joints if j.key == "leaf/mid rail-1 nose")
    assert set(nose.members) == {"leaf/meeting stile", "leaf/mid rail-1", "leaf/brace-1"}
