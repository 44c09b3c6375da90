"""Across the opening: the parts add up, what is not wished is solved, and wishes are held to it."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from leafwright import chain
from leafwright.doorway import FillerPiece, allowances
from leafwright.doorway.heel import heel_of, nose_growth
from leafwright.job.model import LeafTable
from leafwright.job.steel import Steel, _catalogue
from leafwright.records import Held, Verdict
from tests.doorway.doorways import (
    TUBE,
    check,
    fitted,
    gap,
    leaf,
    made,
    pair,
    placed,
    random_wishes,
    sides,
    square,
)
from tests.sizes import cases
from tests.survey.openings import Marks, distance, level, random_marks, true_readings

INCH = 0.0254
DEPTH = 2 * INCH  # of TUBE
POST = {"section": TUBE, "shim": "10 mm"}
STEEL = Steel(_catalogue(), ())

OVERLAP = "the leaves overlap: make one narrower"
NO_SHIM = "no shim takes it up: measure more, or widen the gap"
SHIMS = "set the gap with the shims behind the posts when the leaves hang"
UNSURE = "the 95 % band of the readings crosses the limit; "


def wide_marks(rng: random.Random) -> Marks:
    while True:
        marks = random_marks(rng)
        if marks["BR"][0] > 1.8:
            return marks


def metres(wish: str) -> float:
    return float(wish.removesuffix(" mm")) / 1000


def piece(pieces: tuple[FillerPiece, ...], key: str) -> FillerPiece:
    (one,) = (p for p in pieces if p.key == key)
    return one


def test_the_parts_across_add_up_to_the_least_clear_width() -> None:
    rng = random.Random(61)
    for _ in range(cases(25, 500)):
        marks = wide_marks(rng)
        leaves, wishes = random_wishes(rng)
        found = fitted(true_readings(marks, up="1000 mm"), leaves, **wishes)
        left, right = sides(marks)
        assert found.width.value == pytest.approx(right - left, abs=1e-8)
        # The jamb's default shim is 12 mm in a metric job.
        jamb = wishes.get("jamb")
        post = DEPTH if jamb and "section" in jamb else 0.0
        shim = metres(jamb.get("shim", "12 mm")) if jamb else 0.0
        word = "meeting gap" if len(leaves) == 2 else "closing gap"
        parts = [2 * shim, 2 * post, gap(found, f"doorway/{word}")]
        parts += [place.heel_gap.value for place in found.leaves]
        parts += [place.width.value for place in found.leaves]
        assert math.fsum(parts) == pytest.approx(found.width.value, abs=1e-12)
        # Leaves cut to the figure leave just the gap that was planned.
        planned = gap(found, f"doorway/{word}")
        assert gap(found, f"doorway/{word} as hung") == pytest.approx(planned, abs=1e-12)
        for place in found.leaves:
            side = left if place.hand == "left" else right
            inward = 1.0 if place.hand == "left" else -1.0
            edge = side + inward * (shim + post + place.heel_gap.value)
            assert place.hinge_edge.value == pytest.approx(edge, abs=1e-8)


def test_posts_stand_plumb_with_their_shims_behind_them() -> None:
    rng = random.Random(62)
    for _ in range(cases(25, 500)):
        marks = wide_marks(rng)
        found = fitted(true_readings(marks, up="1000 mm"), pair(), jamb=POST)
        for side, foot, head in (("left", "BL", "TL"), ("right", "BR", "TR")):
            post = piece(found.posts, f"{side}/jamb post")
            assert post.section == TUBE
            assert abs(post.near_edge.value - post.far_edge.value) == pytest.approx(DEPTH)
            behind = [q.value for q in post.behind]
            assert min(behind) == pytest.approx(0.010, abs=1e-9)
            lean = marks[head][0] - marks[foot][0]
            grows = -lean if side == "left" else lean
            assert behind[-1] - behind[0] == pytest.approx(grows, abs=1e-8)
            start = f"shim behind the {side} jamb post at "
            assert [q.name.removeprefix(start) for q in post.behind] == [
                foot,
                "L@1000 mm" if side == "left" else "R@1000 mm",
                head,
            ]
            # A post is cut 3 mm short of its height: common practice, no source.
            tall = marks[head][1] - marks[foot][1]
            assert post.length.value == pytest.approx(tall - 0.003, abs=1e-8)


def test_leaves_of_a_pair_are_alike_unless_one_is_wished() -> None:
    found = fitted(square(2.5, 2.2), pair())
    assert placed(found, "left").width.value == pytest.approx(placed(found, "right").width.value)
    found = fitted(square(2.5, 2.2), pair({"width": "0.8 m"}), leaves="unequal pair")
    assert placed(found, "left").width.value == pytest.approx(0.8)
    rest = 2.5 - 0.8 - 0.006 - sum(p.heel_gap.value for p in found.leaves)
    assert placed(found, "right").width.value == pytest.approx(rest)


def test_a_heel_gap_that_is_not_wished_is_just_what_is_needed() -> None:
    found = fitted(square(1.0, 2.2), [leaf()], running_clearance="4 mm")
    needed = math.hypot(INCH, INCH) - INCH + 0.004
    assert gap(found, "leaf/heel gap") == pytest.approx(needed)
    # It is made of what it needs, so that a check of it could not fail.
    assert not [c for c in found.checks if c.key == "leaf/heel sweep"]


def test_wishes_that_fix_everything_and_do_not_fit_are_reported_with_the_excess() -> None:
    wishes: dict[str, Any] = {"heel_gap": "20 mm", "meeting_gap": "6 mm", "jamb": POST}
    both = {"width": "1 m"}
    found = fitted(square(2.0, 2.2), pair(both, both), **wishes)
    one = check(found, "doorway/left over")
    room = 2.0 - 2 * (0.010 + DEPTH) - 2 * 0.020 - 0.006
    assert one.verdict is Verdict.SHORT
    assert one.demand == pytest.approx(2.0)
    assert one.available == pytest.approx(room)
    assert one.ratio == pytest.approx(2.0 / room)
    assert one.change == (
        "the wishes do not fit: relax a leaf width, the jamb, the standoff or a gap"
    )
    # Nothing is picked: every leaf and heel gap stands as wished, and the noses overlap.
    assert [p.width.value for p in found.leaves] == [1.0, 1.0]
    assert [g.value for g in found.gaps[:2]] == [0.020, 0.020]
    comes_out, hung = found.gaps[2:4]
    assert comes_out.name == "meeting gap as it comes out"
    assert hung.name == "meeting gap as it comes out, as hung"
    assert comes_out.value == pytest.approx(0.006 + room - 2.0, abs=1e-12)
    assert hung.value == pytest.approx(0.006 + room - 2.0, abs=1e-12)
    nose = check(found, "doorway/nose gap")
    assert (nose.verdict, nose.ratio, nose.change) == (Verdict.SHORT, None, OVERLAP)
    assert nose.available == hung.value
    assert placed(found, "left").hinge_edge.value == pytest.approx(0.010 + DEPTH + 0.020)


def test_leaves_too_wide_overlap_without_a_jamb_too() -> None:
    found = fitted(square(1.0, 2.2), [leaf(width="0.99 m")], heel_gap="20 mm", closing_gap="6 mm")
    assert found.posts == ()
    assert found.gaps[1].name == "closing gap as it comes out"
    assert [g.value for g in found.gaps[:3]] == pytest.approx([0.020, -0.010, -0.010])
    nose = check(found, "doorway/nose gap")
    assert (nose.verdict, nose.ratio, nose.change) == (Verdict.SHORT, None, OVERLAP)


def test_leaf_widths_that_leave_a_space_and_no_jamb_are_filled_at_the_sides() -> None:
    rng = random.Random(63)
    for _ in range(cases(25, 500)):
        marks = wide_marks(rng)
        left, right = sides(marks)
        width = (right - left) / 2 - rng.uniform(0.03, 0.2)
        both = {"width": f"{1000 * width:.6f} mm"}
        found = fitted(
            true_readings(marks, up="1000 mm"),
            pair(both, both),
            heel_gap="15 mm",
            meeting_gap="8 mm",
        )
        space = (right - left - 2 * width - 2 * 0.015 - 0.008) / 2
        for side, edge, sign in (("left", left, 1.0), ("right", right, -1.0)):
            filler = piece(found.posts, f"{side}/side filler")
            assert filler.section is None
            assert filler.name == f"{side} side filler"
            assert sign * (filler.near_edge.value - edge) == pytest.approx(space, abs=1e-8)
            assert filler.near_edge.value == filler.far_edge.value
            assert min(q.value for q in filler.behind) == pytest.approx(space, abs=1e-8)
            assert len(filler.behind) == 3
            place = placed(found, side)
            assert sign * (place.hinge_edge.value - edge) == pytest.approx(space + 0.015, abs=1e-8)
            foot, head = ("BL", "TL") if side == "left" else ("BR", "TR")
            tall = marks[head][1] - marks[foot][1]
            assert filler.length.value == pytest.approx(tall, abs=1e-8)
        one = check(found, "doorway/left over")
        assert (one.verdict, one.change) == (Verdict.OK, "")
        # The fillers take up the space, so that the gap remains as wished.
        assert gap(found, "doorway/meeting gap") == 0.008
        assert gap(found, "doorway/meeting gap as hung") == pytest.approx(0.008, abs=1e-12)


def test_a_single_leaf_of_wished_width_is_filled_on_both_sides() -> None:
    found = fitted(square(1.2, 2.2), [leaf(width="1 m")], heel_gap="20 mm", closing_gap="6 mm")
    space = (1.2 - 1.0 - 0.020 - 0.006) / 2
    assert [p.key for p in found.posts] == ["left/side filler", "right/side filler"]
    assert placed(found, "leaf").hinge_edge.value == pytest.approx(space + 0.020)
    assert piece(found.posts, "right/side filler").near_edge.value == pytest.approx(1.2 - space)


def test_a_jamb_of_shims_alone_is_a_filler_too() -> None:
    found = fitted(square(1.2, 2.2), [leaf()], jamb={"shim": "25 mm"})
    filler = piece(found.posts, "left/side filler")
    assert filler.section is None
    assert [q.value for q in filler.behind] == pytest.approx([0.025, 0.025])


def test_a_jamb_without_anything_wished_leaves_nothing_at_the_sides() -> None:
    assert fitted(square(1.2, 2.2), [leaf()]).posts == ()


@pytest.mark.parametrize(
    ("jamb", "mount"),
    [
        (POST, {"kind": "floor pivot"}),
        (None, {"kind": "barrel hinge", "standoff": "70 mm", "heights": ["200 mm", "1 m"]}),
    ],
)
def test_a_space_that_may_not_be_filled_is_asked_about(jamb: Any, mount: Any) -> None:
    found = fitted(square(1.5, 2.2), [leaf(width="1 m", mount=mount)], jamb=jamb)
    one = check(found, "doorway/left over")
    assert one.verdict is Verdict.ASK
    assert one.change == ("the wishes leave a space: say which of leaf width, jamb or gap may grow")
    assert all(p.key.endswith("jamb post") for p in found.posts)
    # Until then the space stands at the nose, beside the usual 6 mm.
    assert one.demand is not None
    assert one.available is not None
    space = one.available - one.demand
    assert space > 0.1
    comes_out, hung = found.gaps[1:3]
    assert comes_out.name == "closing gap as it comes out"
    assert comes_out.value == pytest.approx(0.006 + space, abs=1e-12)
    assert hung.value == pytest.approx(0.006 + space, abs=1e-12)
    assert check(found, "doorway/nose gap").verdict is Verdict.OK


@pytest.mark.parametrize("spare", [-0.001, 0.0, 0.001])
def test_wishes_that_fit_as_nearly_as_can_be_told_are_tight(spare: float) -> None:
    # The width's 95 % band is some 3 mm either way.
    width = f"{1000 * (1.0 - 0.026 - spare):.3f} mm"
    found = fitted(square(1.0, 2.2), [leaf(width=width)], heel_gap="20 mm", closing_gap="6 mm")
    one = check(found, "doorway/left over")
    assert one.verdict is Verdict.TIGHT
    assert "95 % band of the readings" in one.change


@pytest.mark.parametrize(("spare", "verdict"), [(-0.004, "short"), (0.004, "ok")])
def test_beyond_the_band_it_can_be_told(spare: float, verdict: str) -> None:
    width = f"{1000 * (1.0 - 0.026 - spare):.3f} mm"
    found = fitted(square(1.0, 2.2), [leaf(width=width)], heel_gap="20 mm", closing_gap="6 mm")
    assert found.width.band == pytest.approx(1.96 * 0.0015, rel=0.3)
    assert check(found, "doorway/left over").verdict is Verdict(verdict)


def test_too_narrow_for_its_posts() -> None:
    found = made(square(0.15, 2.2), [leaf()], jamb=POST)
    assert found == Held(
        "the opening is too narrow for its posts and gaps",
        ("a wider opening, thinner posts or smaller gaps",),
    )


def test_no_wider_than_two_stiles() -> None:
    assert made(square(0.12, 2.2), [leaf()]) == Held(
        "the leaf would be no wider than its two stiles",
        ("a wider opening, thinner posts or smaller gaps",),
    )
    unequal = pair({"width": "0.9 m"})
    assert made(square(1.0, 2.2), unequal, leaves="unequal pair") == Held(
        "the right leaf would be no wider than its two stiles",
        ("a wider opening, or a smaller width for the other leaf",),
    )


@pytest.mark.parametrize(
    ("wishes", "advice"),
    [
        ({}, "set the axis farther in"),
        (
            {"infill": [{"kind": "sheet", "on": "face", "thickness": "3 mm"}]},
            "keep the infill back from the heel",
        ),
        (
            {"swing": "away", "infill": [{"kind": "sheet", "on": "face", "thickness": "3 mm"}]},
            "set the axis farther in",
        ),
    ],
)
def test_a_heel_gap_smaller_than_needed_is_short(wishes: dict[str, Any], advice: str) -> None:
    found = fitted(square(1.0, 2.2), [leaf(**wishes)], heel_gap="8 mm")
    one = check(found, "leaf/heel sweep")
    assert one.verdict is Verdict.SHORT
    assert one.subject == "heel of the leaf"
    assert one.available == pytest.approx(0.008)
    assert (one.demand or 0.0) > 0.015
    assert one.change == f"widen the heel gap, or {advice}"
    # The wish stands.
    assert gap(found, "leaf/heel gap") == pytest.approx(0.008)


def test_a_meeting_gap_smaller_than_needed_is_short() -> None:
    found = fitted(square(2.4, 2.2), pair(), meeting_gap="4 mm")
    one = check(found, "doorway/nose gap")
    assert one.verdict is Verdict.SHORT
    assert one.subject == "meeting edges"
    assert one.change == NO_SHIM
    assert one.available == pytest.approx(0.004)
    assert gap(found, "doorway/meeting gap") == pytest.approx(0.004)


@pytest.mark.parametrize("jamb", [POST, {"shim": "10 mm"}])
def test_a_gap_that_shims_can_take_up_says_so(jamb: dict[str, str]) -> None:
    short = fitted(square(2.4, 2.2), pair(), meeting_gap="4 mm", jamb=jamb)
    one = check(short, "doorway/nose gap")
    assert (one.verdict, one.change) == (Verdict.SHORT, SHIMS)
    tight = fitted(square(2.4, 2.2), pair(), meeting_gap="6 mm", jamb=jamb)
    one = check(tight, "doorway/nose gap")
    assert (one.verdict, one.change) == (Verdict.TIGHT, UNSURE + SHIMS)


@pytest.mark.parametrize("count", [1, 2])
@pytest.mark.parametrize(
    ("sd", "spare", "verdict"),
    [
        ("1.5 mm", 0.000, "tight"),
        ("1.5 mm", 0.001, "tight"),
        ("1.5 mm", 0.004, "ok"),
        ("0.1 mm", 0.001, "ok"),
        ("0.1 mm", 0.000, "tight"),
        ("0.1 mm", -0.001, "short"),
    ],
)
def test_a_gap_is_ok_only_where_the_opening_is_surer_than_the_spare(
    count: int, sd: str, spare: float, verdict: str
) -> None:
    word = "meeting" if count == 2 else "closing"
    first = fitted(square(2.4, 2.2, sd), pair()[:count], **{f"{word}_gap": "6 mm"})
    needed = check(first, "doorway/nose gap").demand
    assert needed is not None
    wish = f"{1000 * (needed + spare):.9f} mm"
    found = fitted(square(2.4, 2.2, sd), pair()[:count], **{f"{word}_gap": wish})
    one = check(found, "doorway/nose gap")
    assert one.verdict is Verdict(verdict)
    assert one.change == {"ok": "", "tight": UNSURE + NO_SHIM, "short": NO_SHIM}[verdict]
    (hung,) = (g for g in found.gaps if g.key == f"doorway/{word} gap as hung")
    assert hung.name == f"{word} gap, as hung"
    # However many leaves share its error, all of it comes back at the nose.
    assert hung.sd == pytest.approx(found.width.sd)
    (planned,) = (g for g in found.gaps if g.key == f"doorway/{word} gap")
    assert planned.sd == 0.0


def test_no_gap_at_all_is_short_and_says_what_to_do() -> None:
    rng = random.Random(64)
    for _ in range(cases(25, 500)):
        # Whatever the arithmetic leaves of nothing, it is neither a gap nor an overlap.
        wide = square(rng.uniform(1.5, 2.5), 2.2)
        leaves = pair({"width": f"{rng.uniform(500, 700):.3f} mm"})
        nothing = {"meeting_gap": "0 mm", "heel_gap": "0 mm"}
        found = fitted(wide, leaves, leaves="unequal pair", **nothing)
        for key, change in (("doorway/nose gap", NO_SHIM), ("left/heel sweep", "widen the heel")):
            one = check(found, key)
            assert (one.verdict, one.ratio) == (Verdict.SHORT, None)
            assert one.change.startswith(change)


@pytest.mark.parametrize("count", [1, 2])
def test_lean_of_the_nose_widens_a_gap_that_is_not_wished(count: int) -> None:
    shift = allowances(0.0, 0.004, "the frame, standing")
    leaves = pair()[:count]
    word = "meeting gap" if count == 2 else "closing gap"
    usual = fitted(square(2.4, 2.2), leaves)
    assert gap(usual, f"doorway/{word}") == pytest.approx(0.006)
    found = fitted(square(2.4, 2.2), leaves, shift)
    of = heel_of(STEEL, LeafTable.model_validate(leaf()), "leaf")
    growth = nose_growth(of, usual.leaves[0].width).value
    needed = 0.005 + count * 0.004 + growth
    assert gap(found, f"doorway/{word}") == pytest.approx(needed, abs=1e-12)
    # Just what is needed, between leaves that are cut, is as unsure as the opening.
    one = check(found, "doorway/nose gap")
    assert one.demand == pytest.approx(needed, abs=1e-12)
    assert one.available == pytest.approx(needed, abs=1e-12)
    assert (one.verdict, one.change) == (Verdict.TIGHT, UNSURE + NO_SHIM)
    narrower = usual.leaves[0].width.value - found.leaves[0].width.value
    assert narrower == pytest.approx((needed - 0.006) / count)


def test_lean_of_the_nose_makes_a_wished_gap_short() -> None:
    shift = allowances(0.0, 0.004, "the frame, standing")
    found = fitted(square(2.4, 2.2), pair(), shift, meeting_gap="8 mm")
    assert gap(found, "doorway/meeting gap") == pytest.approx(0.008)
    assert check(found, "doorway/nose gap").verdict is Verdict.SHORT


def test_no_name_speaks_of_the_leaf_leaf() -> None:
    found = fitted(square(1.2, 2.2), [leaf(width="1 m")])
    names = [found.leaves[0].width.name, *(g.name for g in found.gaps)]
    names += [c.subject for c in found.checks]
    names += [q.name for g in found.gaps for q in chain.walked(g)]
    assert "width of the leaf" in names
    assert "heel gap of the leaf" in names
    assert not [name for name in names if "leaf leaf" in name or name.endswith(", leaf")]
    of_pair = fitted(square(2.4, 2.2), pair())
    assert [p.width.name for p in of_pair.leaves] == [
        "width of the left leaf",
        "width of the right leaf",
    ]


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_single_leaf_hangs_on_the_side_that_is_said(hand: str) -> None:
    found = fitted(square(1.0, 2.2), [leaf(hand)], heel_gap="20 mm")
    (place,) = found.leaves
    assert (place.key, place.hand) == ("leaf", hand)
    edge = 0.020 if hand == "left" else 1.0 - 0.020
    assert place.hinge_edge.value == pytest.approx(edge)


def test_the_narrowest_place_that_was_read_governs() -> None:
    # Half way up the sides bulge inward by 30 mm each.
    bulging = [
        *square(2.0, 2.0),
        distance("L@1m", "R@1m", 1.94),
        {"kind": "plumb", "from": "BL", "to": "L@1m", "is": "30 mm", "toward": "inward"},
        level("L@1m", 1.0),
        level("R@1m", 1.0),
    ]
    found = fitted(bulging, [leaf()], opening={"side_straightness": "50 mm"})
    assert found.width.value == pytest.approx(1.94, abs=1e-3)
    governing = found.width.inputs[1]
    assert "L@1m across" in governing.formula.rpartition(": ")[2]
