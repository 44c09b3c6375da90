"""The meeting edges of a pair: orders of opening, laps and bevels; and what the gaps may pinch."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from leafwright.doorway.meeting import MOST_BEVEL, bevel_needed, pair_swing, together
from leafwright.doorway.outline import Bevel, Cover, LeafPlan, block, outline
from leafwright.doorway.pinch import FINGER, HAND, PERSON, TOES, caution
from leafwright.doorway.swing import Swing, swing
from leafwright.records import Verdict
from tests.doorway.plans import INCH, doorway_of, leaf_of, pair_of

ANGLES = np.linspace(0.0, math.pi, 181)
RUNNING = 0.005


def growth(plan: LeafPlan) -> float:
    a = plan.width - plan.axis
    return math.hypot(a, INCH) - a


def paired(gap: float, *, sd: float = 0.0, width: float = 1.2) -> Swing:
    return swing(pair_of(width, gap), doorway_of(width, meeting_sd=sd), running_clearance=RUNNING)


def test_what_each_order_needs() -> None:
    left, right = pair_of(1.2, 0.008)
    grows = growth(left)
    (turn,) = pair_swing(left, right, ANGLES, upto=math.pi / 2, running=RUNNING).turns
    assert turn.works == ("together", "left first", "right first")
    assert turn.words == "the leaves may open together, or either one first"
    by = {order.name: order for order in turn.orders}
    assert by["together"].least == pytest.approx(0.008 - 2 * grows, abs=1e-9)
    for name in ("left first", "right first"):
        order = by["left first" if name == "left first" else "right first"]
        assert order.least == pytest.approx(0.008 - grows, abs=1e-9)
        assert order.needed == RUNNING
        assert len(order.steps) == 2


@pytest.mark.parametrize(
    ("spare", "works"),
    [
        (0.0001, ("together", "left first", "right first")),
        (-0.0001, ("together",)),
    ],
)
def test_one_that_opens_first_keeps_the_running_clearance(
    spare: float, works: tuple[str, ...]
) -> None:
    gap = RUNNING + growth(pair_of(1.2, RUNNING)[0]) + spare
    found = paired(gap)
    assert found.pair is not None
    (turn,) = found.pair.turns
    assert turn.works == works
    (one,) = (c for c in found.checks if c.subject == "meeting edges")
    assert one.verdict is Verdict.OK


def test_leaves_that_touch_in_every_order_need_a_bevel_that_is_the_least() -> None:
    left, right = pair_of(0.6, 0.0002, covers=(Cover("back", 0.02),))
    (turn,) = pair_swing(left, right, ANGLES, upto=1.5, running=RUNNING).turns
    assert turn.works == ()
    assert turn.bevel is not None
    assert turn.bevel == bevel_needed(left, right, ("toward", "toward"), upto=1.5, running=RUNNING)

    def with_bevel(plan: LeafPlan, angle: float) -> LeafPlan:
        return replace(plan, bevels=(Bevel("back", angle, plan.half("face")),))

    for angle, clears in ((turn.bevel, True), (turn.bevel - math.radians(0.02), False)):
        bevelled = [with_bevel(plan, angle) for plan in (left, right)]
        least = together(bevelled[0], bevelled[1], "toward", ANGLES, upto=1.5).least
        assert (least > 1e-9) == clears
        again = pair_swing(bevelled[0], bevelled[1], ANGLES, upto=1.5, running=RUNNING)
        assert bool(again.turns[0].works) == clears
    half = math.ceil(2 * math.degrees(turn.bevel)) / 2
    assert turn.words == (
        f"no order clears: bevel both meeting edges {half:g}° behind the edge that leads, rebate "
        "them so that one leaf always opens first, or widen the meeting gap"
    )
    assert (turn.left_way, turn.right_way) == ("toward", "toward")


def test_a_bevel_takes_off_the_corner_behind() -> None:
    plan = leaf_of(bevels=(Bevel("back", math.radians(10.0), INCH),))
    (piece,) = outline(plan, 0.0)
    nose = 0.020 + plan.width
    back = max(x for x, z in piece if z < 0)
    assert max(x for x, _ in piece) == pytest.approx(nose)
    assert back == pytest.approx(nose - 2 * INCH * math.tan(math.radians(10.0)))


def test_leaves_that_overlap_when_shut_are_past_any_bevel() -> None:
    left, right = pair_of(1.2, -0.003)
    (turn,) = pair_swing(left, right, ANGLES, upto=1.5, running=RUNNING).turns
    assert (turn.works, turn.bevel) == ((), None)
    most = f"{math.degrees(MOST_BEVEL):.0f}"
    assert turn.words == (
        f"no order clears, and no bevel up to {most}° mends it: widen the meeting gap"
    )
    one = paired(-0.003).checks[-1]
    assert one.verdict is Verdict.SHORT
    assert one.available == pytest.approx(-0.003, abs=2e-3)
    assert one.change == turn.words


def test_a_strip_that_laps_the_other_leaf_says_who_opens_first() -> None:
    left, right = pair_of(1.2, 0.008)
    # The strip on the left leaf's face runs 20 mm past its nose; the right leaf is thinner, so
    # that the strip stands 7 mm off its face.
    lapping = replace(left, covers=(Cover("face", 0.004, 0.1, -0.02),))
    thin = replace(right, frame_half=INCH - 0.007)
    (turn,) = pair_swing(lapping, thin, ANGLES, upto=1.5, running=RUNNING).turns
    assert turn.works == ("together", "left first")
    assert turn.words == (
        "open the leaves together or left first; the leaf that opens first shuts last"
    )
    # The other way the strip is behind, and the left leaf cannot go first.
    away = [replace(plan, swing="away") for plan in (lapping, thin)]
    (back,) = pair_swing(away[0], away[1], ANGLES, upto=1.5, running=RUNNING).turns
    assert back.works == ("together", "right first")


def test_leaves_that_swing_opposite_ways_open_one_after_the_other() -> None:
    left, right = pair_of(1.2, 0.008)
    (turn,) = pair_swing(
        left, replace(right, swing="away"), ANGLES, upto=1.5, running=RUNNING
    ).turns
    assert (turn.left_way, turn.right_way) == ("toward", "away")
    assert [order.name for order in turn.orders] == ["left first", "right first"]


def test_leaves_that_swing_both_ways_are_bevelled_from_their_middle() -> None:
    left, right = pair_of(0.6, 0.0002, swing="both", covers=(Cover("back", 0.02),))
    turns = pair_swing(left, right, ANGLES, upto=1.5, running=RUNNING).turns
    assert [turn.left_way for turn in turns] == ["toward", "away"]
    assert turns[0].bevel is not None
    assert "from their middle to both faces" in turns[0].words


def test_an_unsure_meeting_gap_is_tight() -> None:
    gap = 2 * growth(pair_of(1.2, 0.006)[0]) + 0.002
    for sd, verdict in ((0.0005, Verdict.OK), (0.0015, Verdict.TIGHT)):
        one = paired(gap, sd=sd).checks[-1]
        assert one.subject == "meeting edges"
        assert one.verdict is verdict


def test_the_gaps_of_a_pair_that_may_pinch() -> None:
    found = paired(0.008)
    by = {one.where: one for one in found.cautions}
    assert set(by) == {
        "meeting edges",
        *(f"heel of the {h} leaf, {s} side" for h in ("left", "right") for s in ("face", "back")),
    }
    assert by["meeting edges"].figure == FINGER.figure
    assert "EN ISO 13854" in str(by["meeting edges"].source)
    assert "guard" in by["heel of the left leaf, face side"].words


def test_what_stands_near_and_the_floor_are_cautions_too() -> None:
    wall = block("wall", "wall", "obstacle", left=-0.5, right=-0.2, back=0.2, front=2.0)
    found = swing(
        [leaf_of()],
        doorway_of(1.13, wall),
        running_clearance=RUNNING,
        floor=lambda x, z: (0.0 * x, 0.0 * x),
    )
    by = {one.where: one for one in found.cautions}
    assert by["the leaf to the wall"].figure == PERSON.figure
    assert by["under the leaf"].figure == TOES.figure
    assert "brush" in by["under the leaf"].words


@pytest.mark.parametrize(
    ("gaps", "figure"),
    [
        # Figures by EN ISO 13854, at second hand; what a finger gets into: common practice.
        ([0.003, 0.002], None),
        ([0.030, 0.020], FINGER.figure),
        ([0.006, 0.001], FINGER.figure),
        ([0.090, 0.030], HAND.figure),
        ([0.300, 0.120], None),
        ([0.020, 0.020], None),
    ],
)
def test_when_a_heel_gap_pinches(gaps: list[float], figure: float | None) -> None:
    one = caution("heel", "heel", "heel", np.array(gaps))
    assert (one.figure if one else None) == figure
    if one is not None:
        assert (one.least, one.greatest) == (min(gaps), max(gaps))


def test_the_usual_figures() -> None:
    # EN ISO 13854 (as EN 349): finger 25 mm, toes 50 mm, hand 100 mm, body 500 mm; second hand.
    figures = [part.figure for part in (FINGER, TOES, HAND, PERSON)]
    assert figures == [0.025, 0.050, 0.100, 0.500]
