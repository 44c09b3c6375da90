"""Two leaves of a pair fitted at once, gaps that disagree, and moves too far to be true."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from leafwright.records import Verdict
from leafwright.site.hung import MOST_MOVED, Hung, hung, hung_together
from leafwright.site.moves import PlateLevel, motion_of
from leafwright.site.pose import MOTIONS, GapReading, HungLeaf, gap_rows
from leafwright.units import Tape
from tests.site.test_hung import CLOSED, INCH, LEAF, PLUMB, Stand, asked, taken

TAPE = Tape("feet-inch", 16)
MATE = replace(LEAF, key="right", hand="right")
PAIR = (replace(LEAF, key="left"), MATE)


def pair(left: Stand, right: Stand) -> list[list[GapReading]]:
    """Return the gaps of a shut pair that stands so: the gap between them is moved by both."""
    kinds = [kind for kind in CLOSED if kind[0] != "closing"]
    found = []
    for leaf, own, other in ((PAIR[0], left, right), (PAIR[1], right, left)):
        readings = taken(leaf, own, asked(leaf, *kinds, *PLUMB))
        mate = PAIR[1] if leaf is PAIR[0] else PAIR[0]
        for share in (0.05, 0.95):
            (blank,) = asked(leaf, ("closing", share, 0.0))
            (mine,) = taken(leaf, own, [blank])
            (its,) = taken(mate, other, asked(mate, ("closing", share, 0.0)))
            readings.append(replace(blank, value=mine.value + its.value - its.planned))
        found.append(readings)
    return found


def told(left: Stand, right: Stand) -> tuple[Hung, ...]:
    return hung_together(PAIR, pair(left, right), tape=TAPE, plates=((), ()), notes=((), ()))


def test_of_a_pair_only_the_leaf_that_is_off_is_moved() -> None:
    left, right = told(Stand(), Stand(x=-INCH / 8))
    assert left.moves == ()
    assert [m.words for m in right.moves] == [
        'slide the bottom plate right 1/8"',
        'slide the top pin plate right 1/8"',
    ]
    # The gap between them is foretold by the other leaf's move.
    for one in (left, right):
        for gap in one.gaps:
            assert gap.after == pytest.approx(gap.planned, abs=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_both_poses_of_a_pair_are_found_again(seed: int) -> None:
    rng = np.random.default_rng(seed)
    stands = [Stand(*(float(v) for v in rng.uniform(-0.003, 0.003, 5))) for _ in range(2)]
    for stand, found in zip(stands, told(*stands), strict=True):
        values = {part.key: part.value for part in found.pose}
        assert values["shift x"] == pytest.approx(stand.x, abs=5e-5)
        assert values["shift y"] == pytest.approx(stand.y, abs=5e-5)
        assert values["lean x"] == pytest.approx(stand.lean_x, abs=5e-5)
        assert values["out of square"] == pytest.approx(stand.square, abs=1e-4)
        assert not found.doubt.holds


def test_gaps_that_disagree_move_nothing_and_both_poses_are_told() -> None:
    readings = taken(LEAF, Stand(), asked(LEAF, *CLOSED, *PLUMB))
    readings[1] = replace(readings[1], value=readings[1].value + INCH)
    found = hung(LEAF, readings, tape=TAPE)
    assert found.moves == ()
    assert found.doubt.verdict == "in doubt"
    assert "an inch too much" in found.suspects[0]
    assert [a.without for a in found.answers] == ["", "the heel gap at the top, leaf closed"]
    assert "right, as near as the tape shows" in found.answers[1].words
    assert "out of square" in found.answers[0].words
    (stop,) = found.stops
    assert stop.key == "leaf/hung/agreement"
    assert [c.verdict for c in found.checks] == [Verdict.ASK]


def test_a_wrong_gap_of_one_leaf_holds_its_mate_too() -> None:
    readings = pair(Stand(), Stand(x=-INCH / 8))
    readings[0][0] = replace(readings[0][0], value=readings[0][0].value + INCH)
    both = hung_together(PAIR, readings, tape=TAPE, plates=((), ()), notes=((), ()))
    assert all(one.moves == () and one.stops for one in both)
    assert "of the left leaf" in both[1].suspects[0]


@pytest.mark.parametrize(("high", "moves"), [(0.9, True), (5.5, False)])
def test_a_move_too_far_to_be_true_is_asked_and_not_ordered(high: float, moves: bool) -> None:
    stand = Stand(y=-high * INCH)
    assert (high * INCH <= MOST_MOVED) is moves
    found = hung(LEAF, taken(LEAF, stand, asked(LEAF, *CLOSED)), tape=TAPE)
    assert bool(found.moves) is moves
    assert bool([s for s in found.stops if s.key == "leaf/hung/too far"]) is not moves


@pytest.mark.parametrize("leaf", [LEAF, MATE], ids=["left", "right"])
def test_gaps_split_leave_as_much_at_either_end_with_the_axis_plumb(leaf: HungLeaf) -> None:
    stand = Stand(square=INCH / 2, lean_x=INCH / 4)
    readings = taken(leaf, stand, asked(leaf, *CLOSED, *PLUMB))
    found = hung(leaf, readings, tape=TAPE, keep="split gaps")
    ends = asked(leaf, ("heel", 0.0, 0.0), ("heel", 1.0, 0.0), ("top", 0.0, 0.0), ("top", 1.0, 0.0))
    ends += asked(leaf, *PLUMB[:1])
    moved = gap_rows(leaf, ends) @ motion_of(found.moves)
    after = [
        r.value - r.planned + float(by)
        for r, by in zip(taken(leaf, stand, ends), moved, strict=True)
    ]
    mark = float(TAPE.step)
    assert after[0] == pytest.approx(-after[1], abs=mark)
    assert after[2] == pytest.approx(-after[3], abs=mark)
    assert abs(after[0]) > 3 * mark
    assert after[4] == pytest.approx(0.0, abs=mark)
    assert len(MOTIONS) == gap_rows(leaf, ends).shape[1]


def test_a_plate_out_of_level_is_shimmed_in_a_pair_too() -> None:
    level = PlateLevel("bottom plate", INCH / 8, 0.0)
    left, right = hung_together(
        PAIR, pair(Stand(), Stand()), tape=TAPE, plates=((level,), ()), notes=((), ())
    )
    assert any("under the left edge of the bottom plate" in m.words for m in left.moves)
    assert right.moves == ()
    assert math.isfinite(left.gaps[0].after)
