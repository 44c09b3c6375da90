"""What a maker wishes of a leaf: what is made of it, its keys and marks, and what is held."""

from __future__ import annotations

import random
from typing import Any

import pytest

from leafwright import chain
from leafwright.leaf import Leaf, Member, design_leaf
from leafwright.records import Held
from tests.leaves import INCH, STEEL, made, place, random_leaf, random_wishes, table
from tests.sizes import cases

ROD = {"pattern": "rod", "section": "round bar 1/2 in"}


def designed(width: float, height: float, **wishes: Any) -> Leaf | Held:
    return design_leaf(place(width, height), table(**wishes), STEEL, system="metric", pair=True)


def held(width: float, height: float, **wishes: Any) -> Held:
    leaf = designed(width, height, **wishes)
    assert isinstance(leaf, Held), leaf
    return leaf


@pytest.mark.parametrize(
    ("wishes", "why", "needs"),
    [
        (
            {"frame": "round mechanical tube 2 x 0.120 in"},
            "a frame of round tube is not there yet: every rail and every brace in a corner "
            "would need a saddle on the round tubes there",
            "a frame of square or rectangular tube",
        ),
        (
            {"frame": "angle 2 x 2 x 1/4 in"},
            "a frame of angle 2 x 2 x 1/4 in is not there yet: which way its legs point cannot "
            "be said",
            "a frame of square or rectangular tube",
        ),
        (
            {"mid_rail": [{"height": "3.2 m"}]},
            "top rail centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"mid_rail": [{"height": "1.03 m"}, {"height": "1.0 m"}]},
            "mid rail 2 centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"mid_rail": [{"at": "half"}, {"at": "half"}]},
            "mid rail 2 centre is not above mid rail 1 centre by more than a tube",
            "mid rails inside the leaf and apart from one another",
        ),
        (
            {"brace": [{"pattern": "X", "panel": 2}]},
            "there is no panel 2 to brace",
            "a panel from 1 (the lowest) to 1",
        ),
        (
            {"brace": [{"pattern": "X"}, {"pattern": "one diagonal"}]},
            "each panel is braced twice",
            'one brace for each panel; two tubes that cross are pattern = "X"',
        ),
        (
            {
                "brace": [
                    {**ROD, "panel": "whole leaf"},
                    {**ROD, "panel": "whole leaf", "foot": "hanging stile"},
                ]
            },
            "the whole leaf is braced twice",
            'one brace for the whole leaf; two tubes that cross are pattern = "X"',
        ),
        (
            {"brace": [{"pattern": "rod", "panel": 1}]},
            "the rod over panel 1 has no section",
            'its section, as in section = "round bar 1/2 in"',
        ),
        (
            {"brace": [{"pattern": "X", "section": "round bar 1 in"}]},
            "an X of round bar 1 in needs the halves milled to the solid bar between them, "
            "which is not there yet",
            "an X of tube, one diagonal, or a rod",
        ),
        (
            {"brace": [{"pattern": "one diagonal", "section": "angle 2 x 2 x 1/4 in"}]},
            "a brace of angle 2 x 2 x 1/4 in is not there yet: which way its legs point cannot "
            "be said",
            "a brace of tube, flat or round bar",
        ),
    ],
)
def test_what_cannot_be_made_is_held_with_what_would_do(
    wishes: dict[str, Any], why: str, needs: str
) -> None:
    assert held(1.2, 3.0, **wishes) == Held(why, (needs,))


@pytest.mark.parametrize("pattern", ["one diagonal", "X"])
@pytest.mark.parametrize(("width", "height"), [(1.2, 0.155), (0.155, 1.2)])
def test_brace_wider_than_its_panel_is_held(pattern: str, width: float, height: float) -> None:
    # Tubes of 2 in leave 53.4 mm between them: an SHS 60 x 60 x 4 does not go in, one of 40 does.
    wide = {"pattern": pattern, "section": "SHS 60 x 60 x 4"}
    found = held(width, height, brace=[wide])
    assert found.why == "a brace of SHS 60 x 60 x 4 is wider than panel 1"
    assert found.needs == ("a larger panel or a smaller brace",)
    assert isinstance(designed(width, height, brace=[{**wide, "section": "SHS 40 x 40 x 3"}]), Leaf)


def test_rod_shorter_than_its_tabs_is_held() -> None:
    found = held(0.5, 0.5, brace=[{**ROD, "end_allowance": "300 mm"}])
    assert found.why.startswith("a brace cannot be cut: the cuts of the two ends cross")


def test_halves_too_short_for_their_crossing_are_held() -> None:
    # A square panel of 2.5 in: the corners of the bar between reach past the halves' own points.
    found = held(6.5 * INCH, 6.5 * INCH, brace=[{"pattern": "X"}])
    assert found.why.startswith("a brace cannot be cut")


@pytest.mark.parametrize("width", [3 * INCH, 4 * INCH])
def test_leaf_no_wider_than_its_stiles_is_held(width: float) -> None:
    found = held(width, 3.0, brace=[{"pattern": "one diagonal"}])
    assert found.why == "the leaf is no wider than its two stiles"


def test_leaf_no_higher_than_its_rails_is_held() -> None:
    assert held(1.2, 3 * INCH).why == (
        "top rail centre is not above bottom rail centre by more than a tube"
    )


def test_mid_rails_are_counted_from_the_bottom_in_whatever_order_they_are_wished() -> None:
    wished = [{"height": "2.0 m"}, {"height": "1.0 m"}]
    _, _, leaf = made(1.2, 3.0, mid_rail=wished)
    mids = [m for m in leaf.members if m.role == "mid rail"]
    assert [m.key for m in mids] == ["leaf/mid rail-1", "leaf/mid rail-2"]
    assert [m.foot[1] for m in mids] == pytest.approx([1.0, 2.0])
    # A brace's length tells which rails it rests on by the same count.
    braced = made(1.2, 3.0, mid_rail=wished, brace=[{"pattern": "one diagonal"}])[2]
    heights = {
        q.key: q.value
        for m in braced.members
        for q in chain.walked(m.length)
        if q.key.endswith("/y")
    }
    assert heights["leaf/mid rail-1/y"] == pytest.approx(1.0)
    assert heights["leaf/mid rail-2/y"] == pytest.approx(2.0)


def test_brace_that_names_its_panel_goes_before_one_for_each() -> None:
    wishes = [{"pattern": "X"}, {"pattern": "none", "panel": 1}]
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"at": "half"}], brace=wishes)
    assert {m.key for m in leaf.members if m.role == "brace"} == {
        "leaf/brace-2/through",
        "leaf/brace-2/lower",
        "leaf/brace-2/upper",
    }


@pytest.mark.parametrize(
    ("wish", "rising"),
    [
        ({"pattern": "one diagonal"}, True),
        ({"pattern": "one diagonal", "foot": "hanging stile"}, True),
        ({"pattern": "one diagonal", "foot": "closing stile"}, False),
        # A rod only pulls, so unless told otherwise it hangs the nose from the top hinge corner.
        (ROD, False),
        ({**ROD, "foot": "closing stile"}, False),
        ({**ROD, "foot": "hanging stile"}, True),
        ({"pattern": "X"}, True),
        ({"pattern": "X", "through": "falling"}, False),
    ],
)
def test_which_way_a_brace_leans(wish: dict[str, Any], rising: bool) -> None:
    _, _, leaf = made(1.2, 3.0, brace=[wish])
    first = leaf.members[4]
    assert (first.direction[0] > 0) == rising
    assert {first.start_joint, first.end_joint} == (
        {"panel-1 bottom hinge", "panel-1 top nose"}
        if rising
        else {"panel-1 bottom nose", "panel-1 top hinge"}
    )


def test_brace_takes_the_frames_section_and_grade_unless_it_has_its_own() -> None:
    def grades(**brace: str) -> tuple[str, str]:
        wish = {"pattern": "one diagonal", **brace}
        _, _, leaf = made(1.2, 3.0, frame="SHS 60 x 60 x 4", grade="S355J2H", brace=[wish])
        return leaf.members[-1].section.designation, leaf.members[-1].section.grade.name

    assert grades() == ("SHS 60 x 60 x 4", "S355J2H")
    assert grades(grade="S235JRH") == ("SHS 60 x 60 x 4", "S235JRH")
    # Another section comes in the grade it usually comes in, not in the frame's.
    assert grades(section="SHS 40 x 40 x 3") == ("SHS 40 x 40 x 3", "S235JRH")


def test_nose_stile_is_called_by_what_it_meets() -> None:
    assert made(1.2, 3.0, pair=True)[2].members[1].role == "meeting stile"
    assert made(1.2, 3.0, pair=False)[2].members[1].role == "closing stile"


def test_braces_given_apart_stand_in_for_the_leafs_own() -> None:
    found = design_leaf(
        place(1.2, 3.0),
        table(brace=[{"pattern": "X"}]),
        STEEL,
        system="metric",
        pair=True,
        braces=(),
    )
    assert isinstance(found, Leaf)
    assert not [m for m in found.members if m.role == "brace"]


def test_marks_name_member_and_panel() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"at": "half"}], brace=[{"pattern": "X"}])
    assert [m.mark for m in leaf.members] == [
        *("A-HS", "A-MS", "A-BR", "A-MR1", "A-TR"),
        *("A-B1T", "A-B1L", "A-B1U", "A-B2T", "A-B2L", "A-B2U"),
    ]


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_marks_and_keys_of_a_pair_are_each_there_once(seed: int) -> None:
    wishes = random_wishes(random.Random(seed))
    width, height = wishes.pop("width"), wishes.pop("height")
    members: list[Member] = []
    for hand in ("left", "right"):
        leaf = design_leaf(
            place(width, height, hand=hand, key=hand),
            table(**{**wishes, "hand": hand}),
            STEEL,
            system="metric",
            pair=True,
        )
        assert isinstance(leaf, Leaf)
        members += leaf.members
    assert len({m.mark for m in members}) == len(members)
    assert len({m.key for m in members}) == len(members)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_keys_and_marks_come_from_the_place_not_from_the_size(seed: int) -> None:
    where, what, leaf = random_leaf(seed)
    wishes = what.model_dump(exclude={"mid_rail", "brace", "mount"}, exclude_unset=True)
    wider = made(
        where.width.value + 0.05,
        where.height.value + 0.05,
        mid_rail=what.mid_rail,
        brace=what.brace,
        **wishes,
    )[2]
    assert [(m.key, m.mark) for m in wider.members] == [(m.key, m.mark) for m in leaf.members]


def test_taking_a_brace_away_leaves_the_other_keys_alone() -> None:
    mids = [{"height": "1.0 m"}, {"height": "2.0 m"}]
    _, _, all_three = made(1.2, 3.0, mid_rail=mids, brace=[{"pattern": "one diagonal"}])
    wishes = [{"pattern": "one diagonal"}, {"pattern": "none", "panel": 2}]
    _, _, two = made(1.2, 3.0, mid_rail=mids, brace=wishes)
    before = {m.key: m.mark for m in all_three.members}
    after = {m.key: m.mark for m in two.members}
    assert set(before) - set(after) == {"leaf/brace-2"}
    assert all(before[key] == mark for key, mark in after.items())


@pytest.mark.parametrize(
    ("wishes", "why"),
    [
        ({"root_gap": "1/4 in"}, "more than a fillet may bridge"),
        (
            {"brace": [{"pattern": "one diagonal", "bead_clearance": "2 in"}]},
            "the room for the corner's bead takes away one whole face",
        ),
        (
            {"brace": [{"pattern": "X", "lower_end": "stile", "clear_of_corner": "3 m"}]},
            "stand so far from the corners",
        ),
        (
            {"brace": [{"pattern": "X", "lower_end": "rail", "clear_of_corner": "1.05 m"}]},
            "no room on the rail",
        ),
        (
            {
                "brace": [
                    {
                        "pattern": "one diagonal",
                        "section": "round bar 1 in",
                        "bead_clearance": "1/4 in",
                    }
                ]
            },
            "room for the corner's bead at an end of round bar 1 in",
        ),
    ],
)
def test_ends_and_gaps_that_cannot_be_made_are_held(wishes: dict[str, Any], why: str) -> None:
    found = held(1.2, 2.4, **wishes)
    assert why in found.why
    assert found.needs
