"""Do the leaves run clear of floor and head where nobody read them?"""

from __future__ import annotations

import pytest

from leafwright.records import Check, Verdict
from tests.doorway.doorways import TUBE, check, fitted, leaf, pair, square
from tests.survey.openings import floor, mm

FLOOR, HEAD = "leaf/floor between readings", "leaf/head between readings"


def low_leaf() -> dict[str, object]:
    """Return a leaf that stands on its floor gap alone: plate and spacer are thinner."""
    plate = {"thickness": "3 mm", "width": "100 mm", "length": "100 mm"}
    return leaf(mount={"kind": "floor pivot", "spacer": "0 mm", "plate": plate})


def on_plan(x: float, z: float, height: float) -> dict[str, str]:
    return {"kind": "floor", "x": mm(x), "z": mm(z), "is": mm(height), "sd": "0.1 mm"}


def test_a_leaf_with_room_under_it_runs_clear_of_an_unread_floor() -> None:
    one = check(fitted(square(1.0, 2.2), [leaf()]), FLOOR)
    # Default plate and spacer 12 mm each stand it 24 mm up; running clear takes 5 mm.
    assert (one.verdict, one.demand) == (Verdict.OK, 0.005)
    assert one.available == pytest.approx(0.024)
    assert one.question == "does it run clear of the floor where that may be highest"


def test_a_leaf_close_to_a_floor_that_nobody_read_is_told_to_read_it() -> None:
    made = fitted(square(3.0, 2.2), [low_leaf()], bottom_gap="6 mm", leaf_height="2 m")
    one = check(made, FLOOR)
    assert one.verdict is Verdict.TIGHT
    assert one.available == pytest.approx(0.006)
    where, _, told = one.case.partition("; ")
    assert where.endswith(" cm right of BL") and told
    # As far from both corners as may be.
    assert 100 < int(where.split()[0]) < 200
    assert one.change == (
        "the 95 % band of the readings crosses the limit; "
        f"read the floor {where}, or raise the leaves"
    )
    assert one.case.endswith(
        "of the floor it sweeps is not mapped: farther than 60 cm from any reading"
    )


def test_reading_the_floor_there_settles_it() -> None:
    points = [on_plan(0.3 * i, 0.3 * k, 0.0) for i in range(4) for k in range(-3, 4)]
    made = fitted([*square(1.0, 2.2), *points], [low_leaf()], bottom_gap="12 mm")
    one = check(made, FLOOR)
    assert one.verdict is Verdict.OK
    assert "not mapped" not in one.case


def test_a_bump_on_plan_lifts_the_leaves_as_one_on_the_arc_does() -> None:
    bump = fitted([*square(1.0, 2.2), on_plan(0.4, 0.5, 0.02)], [leaf()])
    arc = fitted([*square(1.0, 2.2), floor("left", 0.02, out="640 mm", sd="0.1 mm")], [leaf()])
    assert bump.leaves[0].bottom.value == pytest.approx(arc.leaves[0].bottom.value, abs=1e-9)
    aside = fitted([*square(1.0, 2.2), on_plan(0.4, 1.5, 0.02)], [leaf()])
    assert aside.leaves[0].bottom.value < bump.leaves[0].bottom.value
    away = fitted([*square(1.0, 2.2), on_plan(0.4, 0.5, 0.02)], [leaf(swing="away")])
    assert away.leaves[0].bottom.value == pytest.approx(aside.leaves[0].bottom.value, abs=1e-9)
    # One bump shows a floor that may have others.
    assert check(bump, FLOOR).verdict is Verdict.TIGHT
    assert check(aside, FLOOR).case.partition(";")[0].endswith(" toward you")


def test_a_head_that_hangs_between_its_corners_lowers_the_leaf() -> None:
    low = {"kind": "head", "x": "500 mm", "is": "-30 mm", "sd": "0.1 mm"}
    plain = fitted(square(1.0, 2.2), [leaf()])
    hung = fitted([*square(1.0, 2.2), low], [leaf()])
    drop = plain.leaves[0].height.value - hung.leaves[0].height.value
    assert drop == pytest.approx(0.03, abs=1e-6)
    # A head that is that far from straight may hang lower beside the reading.
    assert check(plain, HEAD).verdict is Verdict.OK
    assert check(hung, HEAD).verdict is Verdict.TIGHT


def test_the_head_over_each_leaf_of_a_pair_is_looked_at() -> None:
    low = {"kind": "head", "x": "700 mm", "is": "-30 mm", "sd": "0.1 mm"}
    made = fitted([*square(3.0, 2.2), low], pair())
    left, right = (check(made, f"{hand}/head between readings") for hand in ("left", "right"))
    assert left.available is not None and right.available is not None
    assert right.available > left.available
    assert "not mapped" in right.case


def test_a_wide_head_that_was_read_at_its_corners_alone_is_told_to_be_read() -> None:
    made = fitted(square(4.0, 2.2), pair(), top_gap="4 mm")
    one: Check = check(made, "left/head between readings")
    assert one.verdict is Verdict.TIGHT
    assert "read the head" in one.change and "right of BL, or make the leaves lower" in one.change


def test_a_transom_needs_its_depth_and_no_shim() -> None:
    made = fitted(square(1.0, 2.2), [leaf()], transom={"section": TUBE}, top_gap="12 mm")
    one = check(made, HEAD)
    # The tube is 2 in deep, and 5 mm run clear.
    assert one.demand == pytest.approx(2 * 0.0254 + 0.005)
    assert one.available == pytest.approx(2 * 0.0254 + 0.012 + 0.012, abs=1e-6)


def test_an_opening_without_a_head_has_no_check_of_it() -> None:
    made = fitted(
        square(1.0, 2.2),
        [leaf()],
        opening={"head": False},
        leaf_height="2 m",
        running_clearance="3 mm",
    )
    assert not [c for c in made.checks if c.key.endswith("head between readings")]
    assert check(made, FLOOR).demand == pytest.approx(0.003)
