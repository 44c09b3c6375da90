"""Fits named from what was measured, pins that bind, friction as a range."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import pytest

from leafwright.handbook import contact, friction
from leafwright.handbook.fits import inch_fit, iso_fit
from leafwright.job.defaults import DEFAULTS
from leafwright.mount.envelope import pin_place
from leafwright.mount.fit import fits, named_fit
from leafwright.mount.records import Mounting
from leafwright.mount.rubbing import friction_of
from leafwright.mount.tilt import TiltBudget, shim, tilt_budget
from leafwright.records import Verdict
from tests.mount.stacks import (
    BEST_FIRST,
    INCH,
    PIVOT,
    barrels,
    check,
    job,
    keys,
    mountings,
    pivot,
    wider,
)
from tests.sizes import cases

LB_IN = 4.4482216152605 * INCH


# ---------------------------------------------------------------- the fit's name


@pytest.mark.parametrize(
    ("clearance", "name"),
    [
        # ANSI B4.1, 1.19 to 1.97 in, as Machinery's Handbook 31 prints it: RC3 1.0 to 2.6, RC4
        # 1.0 to 3.6, RC5 2.0 to 4.6, RC6 2.0 to 6.1 thousandths; the tightest is named.
        (0.0025, "as RC3"),
        (0.0034, "as RC4"),
        (0.0042, "as RC5"),
        (0.0058, "as RC6"),
    ],
)
def test_a_measured_pin_is_named_by_the_tightest_class_that_holds_it(
    clearance: float, name: str
) -> None:
    said, found = named_fit(1.5 * INCH, (1.5 + clearance) * INCH, "feet-inch")
    assert said.startswith(name)
    assert found.clearance == pytest.approx(clearance * INCH)
    held = inch_fit(1.5 * INCH, name.removeprefix("as "))  # type: ignore[arg-type]
    assert held.least <= clearance * INCH + 1e-9 <= held.greatest + 2e-9


def test_a_metric_pin_is_named_by_iso() -> None:
    # ISO 286-1, 18 to 30 mm: H7/f7 leaves 20 to 62 µm.
    said, _ = named_fit(0.02, 0.02006, "metric")
    assert said.startswith("as H7/f7")
    held = iso_fit(0.02006, "H7/f7")
    assert (held.least, held.greatest) == pytest.approx((20e-6, 62e-6))


def test_a_clearance_that_no_class_holds_is_named_by_the_nearest() -> None:
    loose, _ = named_fit(1.5 * INCH, 1.6 * INCH, "feet-inch")
    assert "nearest is RC9, and this is looser than that" in loose
    tight, found = named_fit(1.5 * INCH, 1.495 * INCH, "feet-inch")
    assert found.kind == "interference"
    assert "tighter than that" in tight
    large, _ = named_fit(4.0 * INCH, 4.01 * INCH, "feet-inch")
    assert large == "no class is held so large"


def test_an_interference_that_turns_is_clearance_in_so_many_words() -> None:
    one = check(fits(pivot(pin_diameter="1.503 in")), "fit/bottom")
    assert one.verdict is Verdict.SHORT
    assert "If it turns by hand it is clearance, whatever it is called" in one.rule
    line = check(fits(pivot(pin_diameter="1.5015 in")), "fit/bottom")
    assert line.verdict is Verdict.SHORT
    assert "line to line" in line.rule
    assert check(fits(pivot()), "fit/bottom").verdict is Verdict.OK


def test_a_fit_s_working_can_be_worked_again() -> None:
    (line,) = check(fits(pivot()), "fit/bottom").working
    assert line.figure == "fits.measured_fit"
    assert line.value.clearance == pytest.approx(0.0025 * INCH)


@pytest.mark.parametrize(
    ("made", "lacking"),
    [
        (pivot, "pin_diameter"),
        (pivot, "sleeve_bore"),
        (barrels, "pin_diameter"),
        (barrels, "clearance"),
        (barrels, "barrel_length"),
    ],
)
def test_what_was_not_measured_is_asked_by_its_key(made: Any, lacking: str) -> None:
    without: dict[str, Any] = {lacking: None}
    one = check(fits(made(**without)), "fit/sizes")
    assert one.verdict is Verdict.ASK
    assert f"write {lacking} in the mount" in one.change


def test_a_top_pin_of_its_own_is_named_by_itself() -> None:
    assert "fit/top" not in keys(fits(pivot()))
    loose = fits(pivot(top_sleeve_bore="1.51 in"))
    assert "0.0110 in of clearance" in check(loose, "fit/top").rule


# ---------------------------------------------------------------- whether it binds


def budget(m: Mounting, end: str = "bottom") -> TiltBudget:
    ends = [pin_place(m, place) for place in m.pivots]
    (at,) = (one for one in ends if one.end == end)
    (other,) = (one for one in ends if one.end != end)
    found = tilt_budget(m, at, other, {})
    assert found is not None
    return found


def test_a_thousandth_over_five_inches_permits_a_hundredth_of_a_degree() -> None:
    # The trade's own figures: 0.001 in over 5 in is 0.011°, RC5's 0.0046 in 0.05°.
    for clearance, degrees in ((0.001, 0.0115), (0.0046, 0.0527)):
        m = pivot(
            pin_diameter="1.5 in",
            sleeve_bore=f"{1.5 + clearance} in",
            sleeve_length="7.5 in",
            bottom_pin_length="6 in",
        )
        found = budget(m)
        assert found.engagement == pytest.approx(5.0 * INCH)
        angle = math.degrees(found.clearance / found.engagement)
        assert angle == pytest.approx(degrees, abs=2e-4)


def test_an_eighth_in_a_foot_is_six_tenths_of_a_degree() -> None:
    # 1/8 in per ft is 0.60° (trigonometry).
    assert shim(math.radians(0.597), 12 * INCH) == pytest.approx(0.125 * INCH, rel=1e-3)


def test_what_is_out_of_true_by_hand() -> None:
    m = pivot(plate_level="0.02 deg", pin_square="0.01 deg")
    found = budget(m)
    e = 4.5 * INCH
    assert found.level is not None
    assert found.square is not None
    assert found.engagement == pytest.approx(e)
    assert found.level == pytest.approx(e * math.tan(math.radians(0.02)))
    assert found.square == pytest.approx(e * math.tan(math.radians(0.01)))
    # Top pin 1/16 in out of plumb over a leaf of 96 in.
    assert found.axis == pytest.approx(e / 16 / 96)
    # The other pin's play of 0.0025 in lets the leaf lean by half of it over its height.
    assert found.leeway == pytest.approx(e * 0.0025 / 2 / 96)
    assert found.worst == pytest.approx(found.axis + found.stile + found.level + found.square)
    assert found.likely == pytest.approx(
        math.sqrt(found.axis**2 + found.stile**2 + found.level**2 + found.square**2)
    )
    # What the two may be out together is what the rest leaves of clearance over engagement.
    left = (0.0025 + 4.5 * 0.0025 / 192 - 4.5 / 1536) / 4.5 - found.stile / e
    assert found.left == pytest.approx(left)


def test_the_stile_s_own_bending_is_what_the_frame_gives() -> None:
    m = pivot()
    turns = [
        math.hypot(load.turn_x, load.turn_z)
        for load in m.proof.pivot_loads
        if load.place == "pivot 1" and load.situation == "standing"
    ]
    assert budget(m).stile == pytest.approx(4.5 * INCH * max(turns))


def test_a_plate_out_of_level_binds_and_says_what_shim_puts_it_right() -> None:
    short: dict[str, Any] = {"sleeve_length": "4.5 in", "pin_square": "0 deg"}
    # Over 2 in of pin the clearance of 0.0025 in tilts by 0.0716°.
    free = check(fits(pivot(plate_level="0.01 deg", **short)), "tilt/bottom")
    assert free.verdict is Verdict.OK
    one = check(fits(pivot(plate_level="0.2 deg", **short)), "tilt/bottom")
    assert one.verdict is Verdict.SHORT
    # 9 in of plate by 0.2° is 0.031 in.
    assert "0.031 in makes it true" in one.change
    assert one.case == "out of true over a foot"
    assert one.demand == pytest.approx(12 * INCH * math.tan(math.radians(0.2)), rel=0.05)
    assert one.available == pytest.approx(12 * INCH * 0.0025 / 2.0, rel=0.03)


def test_two_close_sleeves_on_one_axis_are_told_to_loosen_the_top_one() -> None:
    close = pivot(plate_level="0 deg", pin_square="0.08 deg", sleeve_length="4.5 in")
    one = check(fits(close), "tilt/top")
    assert one.verdict is Verdict.SHORT
    assert "top_sleeve_bore" in one.change
    loose = pivot(
        plate_level="0 deg",
        pin_square="0.08 deg",
        sleeve_length="4.5 in",
        top_sleeve_bore="1.52 in",
    )
    assert check(fits(loose), "tilt/top").verdict is Verdict.OK


def test_what_nobody_measured_is_asked_with_what_it_may_be() -> None:
    one = check(fits(pivot(sleeve_length="4.5 in")), "tilt/bottom")
    assert one.verdict is Verdict.ASK
    assert "write plate_level and pin_square in the mount, as measured" in one.change
    # 9 in of plate, by what is left of 0.0025 in over 2 in.
    left = budget(pivot(sleeve_length="4.5 in")).left
    assert f"{9 * math.tan(left):.3f} in over the plate's 9 in" in one.change
    # Over 5 in a thousandth is used up by an axis 1/8 in out of plumb.
    close = pivot(sleeve_bore="1.4993 in", ball_diameter="1.499 in")
    assert "binds it" in check(fits(close), "tilt/bottom").change


def test_two_leaves_with_one_mount_are_asked_for_their_trueness_once() -> None:
    found = [c for m in mountings(job(PIVOT, pair=True)) for c in fits(m).checks]
    assert [c.key for c in found if c.verdict is Verdict.ASK] == ["left/tilt/bottom"]


@pytest.mark.parametrize("seed", range(cases(6, 60)))
def test_what_is_more_out_of_true_never_frees_a_pin(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = random.Random(seed)
    sizes: dict[str, Any] = {
        "sleeve_length": f"{rng.uniform(4.0, 7.0):.3f} in",
        "plate_level": f"{rng.uniform(0.0, 0.05):.4f} deg",
        "pin_square": f"{rng.uniform(0.0, 0.05):.4f} deg",
    }
    before = {c.key: c for c in fits(pivot(**sizes)).checks}
    worse = rng.choice(["plate_level", "pin_square", "axis plumb"])
    if worse == "axis plumb":
        monkeypatch.setitem(DEFAULTS, worse, wider(worse, rng.uniform(1.0, 4.0)))
    else:
        sizes[worse] = f"{float(sizes[worse].split()[0]) + rng.uniform(0.0, 0.1):.4f} deg"
    for one in fits(pivot(**sizes)).checks:
        was = before[one.key]
        rank = BEST_FIRST.index
        assert rank(one.verdict) >= rank(was.verdict)
        assert (one.ratio or 0.0) >= (was.ratio or 0.0) - 1e-12


# ---------------------------------------------------------------- barrel hinges


def test_a_barrel_s_play_is_its_clearance_over_its_length() -> None:
    said = " ".join(fits(barrels()).words)
    # 0.010 in over 4 in is 0.143°.
    assert "0.14°, 0.010 in over its 4 in" in said
    m = barrels()
    turn = max(
        math.hypot(load.turn_x, load.turn_z)
        for load in m.proof.pivot_loads
        if load.place == "pivot 1" and load.situation == "standing"
    )
    one = check(fits(m), "tilt/hinge 1")
    assert one.demand == pytest.approx(12 * INCH * turn)
    assert one.available == pytest.approx(12 * INCH * 0.010 / 4.0)


def test_a_barrel_without_play_binds() -> None:
    proved = fits(barrels(clearance="0 in"))
    assert check(proved, "fit/hinge").verdict is Verdict.SHORT
    assert check(proved, "tilt/hinge 1").verdict is Verdict.SHORT


# ---------------------------------------------------------------- friction


def test_friction_is_a_range_worked_by_hand() -> None:
    m = pivot()
    found, used = friction_of(m)
    assert found is not None
    assert [q.value for q in used] == [0.05, 0.20]
    weight = m.leaf.hung_mass * 9.80665
    out = m.leaf.centre[0] - m.place.axis.value
    couple = weight * out / (96 * INCH)
    ball = contact.sphere_on_plane(weight, 0.75 * INCH).radius
    rubs = couple * 1.4990 * INCH + weight * friction.ball_friction_radius(ball)
    assert found.torque == pytest.approx((0.05 * rubs, 0.20 * rubs))
    reach = m.leaf.width - m.place.axis.value
    assert found.push == pytest.approx((found.torque[0] / reach, found.torque[1] / reach))


def test_a_leaf_of_the_trade_pushes_at_a_tenth_of_a_pound() -> None:
    # The reference leaf: 24 lbf at each pin, 195 lb on a ball of 1-1/4 in, pins of 1-1/4 in,
    # μ 0.15: 4.4 lb·in of the pins and 0.4 of the ball.
    load = 24 * 4.4482216
    pins = 2 * friction.friction_torque(load, 0.625 * INCH, 0.15)
    ball = contact.sphere_on_plane(195 * 4.4482216, 0.625 * INCH).radius
    on_ball = friction.friction_torque(195 * 4.4482216, friction.ball_friction_radius(ball), 0.15)
    assert pins / LB_IN == pytest.approx(4.4, abs=0.15)
    assert on_ball / LB_IN == pytest.approx(0.4, abs=0.15)


def test_friction_hangs_on_the_pins_own_sizes() -> None:
    usual, _ = friction_of(pivot())
    thick, _ = friction_of(pivot(top_pin_diameter="3 in"))
    flat, _ = friction_of(pivot(ball_diameter=None))
    assert usual is not None
    assert thick is not None
    assert flat is not None
    assert thick.torque[0] > usual.torque[0]
    assert flat.torque[0] > usual.torque[0]
    assert friction_of(pivot(pin_diameter=None))[0] is None


def test_a_hinge_rubs_on_its_barrel_s_end() -> None:
    m = barrels()
    found, _ = friction_of(m)
    assert found is not None
    weight = m.leaf.hung_mass * 9.80665
    axis = m.place.axis.value
    out = m.leaf.centre[0] - axis
    couple = weight * out / (80 * INCH)
    r = 0.375 * INCH
    end = 2.0 / 3.0 * ((2 * r) ** 3 - r**3) / ((2 * r) ** 2 - r**2)
    assert found.torque[1] == pytest.approx(0.20 * (2 * couple * r + weight * end))


def test_a_left_and_a_right_leaf_rub_alike() -> None:
    left, right = (friction_of(m)[0] for m in mountings(job(PIVOT, pair=True)))
    assert left is not None
    assert right is not None
    assert left.torque == pytest.approx(right.torque)


def test_a_metric_leaf_is_told_in_its_own_units() -> None:
    m = pivot()
    metric = replace(m, tape=type(m.tape)("mm", 1))
    said = " ".join(fits(metric).words)
    assert "N·m" in said
    assert "mm of clearance" in said
    assert "lb" not in said
