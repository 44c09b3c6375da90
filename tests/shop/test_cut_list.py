"""The cut list: what is alike, what a saw can cut, what to mark by hand, and what it weighs."""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely.geometry import Polygon

from leafwright import chain
from leafwright.doorway import Doorway, FillerPiece
from leafwright.leaf import Leaf, design_leaf
from leafwright.shop.cut_list import CutItem, CutList, cut_list
from tests.leaves import INCH, STEEL, made, place, random_leaf, table
from tests.sizes import cases

SAW = math.radians(45)


def doorway(*posts: FillerPiece, transom: FillerPiece | None = None) -> Doorway:
    width = chain.base("wish", "doorway/width", "width", 2.5)
    return Doorway(width, None, (), (), posts, transom, width, (), ())


def filler(key: str, length: float, section: str | None) -> FillerPiece:
    size = chain.base("wish", f"{key}/length", f"length of the {key}", length)
    edge = chain.base("wish", f"{key}/edge", "edge", 0.0)
    return FillerPiece(key, key, section, size, edge, edge, ())


def listed(*leaves: Leaf, saw: float = SAW, found: Doorway | None = None) -> CutList:
    return cut_list(leaves, found or doorway(), STEEL, mitre_range=saw)


def pair(**wishes: Any) -> tuple[Leaf, Leaf]:
    """Return a left and a right leaf of one size [m]; ``right`` may differ in its wishes."""
    own = {"width": 1.2, "height": 3.0, **wishes}
    other = {**own, **own.pop("right", {})}
    other.pop("right", None)
    leaves = []
    for hand, given in (("left", own), ("right", other)):
        given = dict(given)
        width, height = given.pop("width"), given.pop("height")
        leaf = design_leaf(
            place(width, height, hand=hand, key=hand),
            table(hand=hand, **given),
            STEEL,
            system="metric",
            pair=True,
        )
        assert isinstance(leaf, Leaf), leaf
        leaves.append(leaf)
    return leaves[0], leaves[1]


def line(cuts: CutList, mark: str) -> CutItem:
    (found,) = [i for i in cuts.items if mark in i.marks]
    return found


# ------------------------------------------------------------------ alike


@pytest.mark.parametrize("corners", ["mitred", "stiles run through", "rails run through"])
def test_mirrored_pieces_of_a_pair_are_alike(corners: str) -> None:
    cuts = listed(*pair(corners=corners, brace=[{"pattern": "X"}]))
    # Tube has no right side: turned over, a right-hand brace is a left-hand one, and the upper
    # half of an X is the lower one turned end for end.
    assert {i.marks for i in cuts.items} == {
        ("A-HS", "A-MS", "B-HS", "B-MS"),
        ("A-BR", "A-TR", "B-BR", "B-TR"),
        ("A-B1T", "B-B1T"),
        ("A-B1L", "A-B1U", "B-B1L", "B-B1U"),
    }
    assert line(cuts, "A-HS").roles == ("hanging stile", "meeting stile")
    assert line(cuts, "A-B1L").keys == (
        "left/brace-1/lower",
        "left/brace-1/upper",
        "right/brace-1/lower",
        "right/brace-1/upper",
    )


@pytest.mark.parametrize("sixteenths", range(1, 32, 2))
def test_pieces_are_alike_whatever_the_last_bit_of_their_size(sixteenths: int) -> None:
    # An odd sixteenth of an inch is so many micrometres and a half: rounded to whole ones, two
    # sizes that came about by other sums would be told apart.
    width = 44 * INCH + sixteenths * INCH / 16
    height = 120 * INCH + sixteenths * INCH / 16
    by_a_bit = {"width": math.nextafter(width, 0.0), "height": math.nextafter(height, 9.0)}
    leaves = pair(width=width, height=height, brace=[{"pattern": "X"}], right=by_a_bit)
    assert len(listed(*leaves).items) == 4


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_leaf_and_its_mirror_have_one_list(seed: int) -> None:
    left, right = random_leaf(seed, hand="left")[2], random_leaf(seed, hand="right")[2]
    one, both = listed(left), listed(left, right)
    assert [len(i.marks) for i in both.items] == [2 * len(i.marks) for i in one.items]


@pytest.mark.parametrize(
    "right",
    [
        {"frame": "SHS 60 x 60 x 5"},
        {"grade": "S355J2H"},
        {"height": 3.0005},
    ],
)
def test_pieces_of_other_wall_grade_or_length_are_not_alike(right: dict[str, Any]) -> None:
    cuts = listed(*pair(frame="SHS 60 x 60 x 4", right=right))
    assert line(cuts, "A-HS").marks == ("A-HS", "A-MS")
    assert line(cuts, "B-HS").marks == ("B-HS", "B-MS")


def test_one_length_with_other_ends_is_not_alike() -> None:
    # Mitred and square, both 3 m from long point to long point.
    cuts = listed(*pair(corners="mitred", right={"corners": "stiles run through"}))
    assert line(cuts, "A-HS").length.value == pytest.approx(line(cuts, "B-HS").length.value)
    assert line(cuts, "A-HS").marks == ("A-HS", "A-MS")


# ------------------------------------------------------------------ the saw


@pytest.mark.parametrize(
    ("degrees", "sawn"), [(45.0, True), (44.9, False), (60.0, True), (0.0, False)]
)
def test_mitre_is_sawn_where_the_saw_swings_so_far(degrees: float, sawn: bool) -> None:
    cuts = listed(made(1.2, 3.0, corners="mitred")[2], saw=math.radians(degrees))
    for item in cuts.items:
        assert (item.start.sawn, item.end.sawn) == (sawn, sawn)
        assert item.start.angles == pytest.approx((math.pi / 4,))


def test_square_end_is_sawn_on_any_saw() -> None:
    cuts = listed(made(1.2, 3.0)[2], saw=0.0)
    assert all(i.start.sawn and i.end.sawn for i in cuts.items)
    assert all(i.start.angles == pytest.approx((0.0,), abs=1e-12) for i in cuts.items)


def test_wedge_is_never_sawn_and_a_crossing_only_within_reach() -> None:
    leaf = made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])[2]
    for degrees, sawn in ((63.5, False), (63.53, True)):
        half = line(listed(leaf, saw=math.radians(degrees)), "A-B1L")
        # Its lower end goes into the corner, its upper is cut 63.52° from square.
        assert not half.start.sawn
        assert half.end.sawn == sawn
    assert not line(listed(leaf, saw=math.radians(89)), "A-B1T").start.sawn


def test_wedges_offsets_are_those_of_the_panels_triangle() -> None:
    # Clear panel 40 x 170 in, bar of 2 in: on the side of the rail the point falls back by
    # 40/170 in, on that of the stile by 170/40 in.
    item = line(listed(made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])[2]), "A-B1T")
    for end in (item.start, item.end):
        offsets = sorted((u / INCH, s / INCH) for u, s in end.offsets)
        assert [u for u, _ in offsets] == pytest.approx([0.0, 1.0, 2.0])
        assert offsets[1][1] == pytest.approx(0.0, abs=1e-9)
        sides = sorted([offsets[0][1], offsets[2][1]])
        assert sides == pytest.approx([40 / 170, 170 / 40])
        assert sorted(end.angles) == pytest.approx([math.atan(40 / 170), math.atan(170 / 40)])


def test_crossings_offsets_are_the_bar_over_the_tangent_of_the_crossing() -> None:
    item = line(listed(made(44 * INCH, 174 * INCH, brace=[{"pattern": "X"}])[2]), "A-B1L")
    crossing = 2 * math.atan2(40, 170)
    assert sorted(s / INCH for _, s in item.end.offsets) == pytest.approx(
        [0.0, 2 / math.tan(crossing)], abs=1e-9
    )
    # What a tape along each edge reads: one edge stands back by the cut at the crossing and one
    # corner cut, the other only by the other corner cut.
    length = item.length.value / INCH
    edges = sorted(
        length - sum(pair)
        for pair in (
            (item.start.offsets[0][1] / INCH, item.end.offsets[0][1] / INCH),
            (item.start.offsets[-1][1] / INCH, item.end.offsets[-1][1] / INCH),
        )
    )
    assert sorted(e / INCH for e in item.edges) == pytest.approx(edges)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_outline_is_as_long_and_as_wide_as_the_bar(seed: int) -> None:
    _, _, leaf = random_leaf(seed)
    by_key = {m.key: m for m in leaf.members}
    for item in listed(leaf).items:
        left, low, right, high = Polygon(item.outline).bounds
        assert (left, low) == pytest.approx((0.0, 0.0), abs=1e-12)
        assert right == pytest.approx(item.length.value, abs=1e-9)
        assert high == pytest.approx(item.section.width, abs=1e-9)
        assert Polygon(item.outline).area == pytest.approx(
            Polygon(by_key[item.keys[0]].bar.outline).area
        )


# ------------------------------------------------------------------ all of it


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_list_holds_every_piece_once_and_weighs_what_they_weigh(seed: int) -> None:
    rods = [{"pattern": "rod", "panel": "whole leaf", "section": "round bar 1/2 in"}]
    leaf, other = random_leaf(seed)[2], random_leaf(seed + 1, brace=rods)[2]
    post = filler("left/jamb post", 3.2, "SHS 80 x 80 x 4")
    transom = filler("doorway/transom", 2.4, "SHS 80 x 80 x 4")
    bare = filler("right/jamb post", 3.2, None)
    cuts = listed(leaf, other, found=doorway(post, bare, transom=transom))
    keys = [key for item in cuts.items for key in item.keys]
    members = [m.key for one in (leaf, other) for m in one.members]
    # A filler without a section is whatever the maker chooses: it is not listed.
    assert sorted(keys) == sorted([*members, "left/jamb post", "doorway/transom"])
    assert all(len(i.keys) == len(i.marks) for i in cuts.items)
    section = STEEL.section("SHS 80 x 80 x 4")
    fillers = (3.2 + 2.4) * section.mass_per_metre
    wanted = leaf.lift_mass + other.lift_mass + fillers
    assert cuts.mass == pytest.approx(wanted, rel=1e-9)
    assert cuts.mass == pytest.approx(sum(i.mass * len(i.marks) for i in cuts.items))


def test_post_is_listed_square_under_its_own_mark() -> None:
    cuts = listed(found=doorway(filler("left/jamb post", 3.2, "SHS 80 x 80 x 4")))
    (item,) = cuts.items
    assert (item.marks, item.roles) == (("P-L",), ("jamb post",))
    assert item.length.value == 3.2
    assert item.edges == (3.2, 3.2)
    assert item.start.sawn
    assert item.end.sawn
    alike = doorway(
        filler("left/jamb post", 3.2, "SHS 80 x 80 x 4"),
        filler("right/jamb post", 3.2, "SHS 80 x 80 x 4"),
    )
    assert [i.marks for i in listed(found=alike).items] == [("P-L", "P-R")]


def test_longest_come_first_within_a_section() -> None:
    leaf = made(1.2, 3.0, brace=[{"pattern": "X", "section": "SHS 40 x 40 x 3"}])[2]
    items = listed(leaf).items
    names = [i.section.designation for i in items]
    assert names == sorted(names)
    for name in set(names):
        lengths = [i.length.value for i in items if i.section.designation == name]
        assert lengths == sorted(lengths, reverse=True)
