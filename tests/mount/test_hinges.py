"""Barrel hinges: their forces, pins, welds and the stile's wall, against statics worked by hand.

Hand values are in pounds and inches. A36: 36 ksi (ASTM A36); HSS of A500 Gr B: 46 and 58 ksi, and
0.93 of its wall. Safety factors: ANSI/AISC 360-22, as in `handbook.aisc360.safety`.
"""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.frame.load_cases import Situation
from leafwright.mount.hinge_loads import (
    HungCase,
    everyday_cases,
    hinge_words,
    hung_cases,
    on_hinges,
)
from leafwright.mount.hinge_walls import Patch, TubeUse, WallLoad, wall_check
from leafwright.mount.hinge_welds import line_force
from leafwright.mount.hinges import barrel_hinges
from leafwright.proof.working import Lines
from leafwright.records import Verdict
from leafwright.units import Tape
from tests.mount.hinged import INCH, KIP, KIP_IN, LB_IN, LBF, at_rest, check, gate, hung, resting
from tests.mount.pivots import hung as on_pivot


def carried(cases: tuple[HungCase, ...], carrier: str) -> HungCase:
    return next(c for c in cases if c.carrier == carrier)


# ---------------------------------------------------------------- who carries what


def test_hinge_forces_are_told_out_of_the_stile_and_up() -> None:
    """The upper hinge of a leaf hung left is pulled away from its post: toward the right, so +."""
    case = carried(hung_cases(hung(*at_rest())), "pivot 1")
    lower, upper = case.forces
    assert upper.out == pytest.approx(300 * LBF)
    assert lower.out == pytest.approx(-300 * LBF)
    assert (lower.up, upper.up) == pytest.approx((400 * LBF, 0.0))


def test_a_leaf_hung_right_is_the_same_mirrored() -> None:
    """Mirrored, forces along x and moments about y and z change their signs; its axes with them."""
    right = [dataclasses.replace(given, x=-given.x) for given in at_rest(across=50.0)]
    other = hung(*right, base=gate("right"))
    left = hung_cases(hung(*at_rest(across=50.0)))
    mirrored = hung_cases(other)
    for a, b in zip(on_hinges(left), on_hinges(mirrored), strict=True):
        assert b.force.out == pytest.approx(a.force.out)
        assert b.force.up == pytest.approx(a.force.up)
        assert abs(b.force.across) == pytest.approx(abs(a.force.across))
    assert check(barrel_hinges(other), "hinge/weld").demand == pytest.approx(
        check(barrel_hinges(hung(*at_rest(across=50.0))), "hinge/weld").demand
    )


def test_any_hinge_may_carry_all_the_weight_and_moves_no_other_force() -> None:
    cases = hung_cases(hung(*at_rest()))
    assert [c.carrier for c in cases] == ["pivot 1", "pivot 2"]
    for case in cases:
        for force in case.forces:
            assert force.up == pytest.approx(400 * LBF if force.place == case.carrier else 0.0)
            assert abs(force.out) == pytest.approx(300 * LBF)


def test_real_loads_balance_whoever_carries() -> None:
    """At rest the pulls cancel and the weight is all of the leaf; so too with pins bound."""
    m = gate()
    weight = m.leaf.hung_mass * 9.80665
    for case in hung_cases(m):
        assert sum(f.up for f in case.forces) == pytest.approx(
            weight * case.dead, rel=2e-3, abs=901.0 if "person" in case.situation else 1e-6
        )
        if case.situation.startswith(("standing", "person")):
            assert sum(f.out for f in case.forces) == pytest.approx(0.0, abs=1e-6 * weight)
            assert all(abs(f.across) < 1e-6 * weight for f in case.forces)


def test_loads_as_they_are_do_not_depend_on_the_method() -> None:
    asd, lrfd = everyday_cases(gate()), everyday_cases(gate(method="LRFD"))
    free = [c for c in asd if c.share == 0.0]
    assert [c.situation for c in lrfd] == [c.situation for c in free]
    for a, b in zip(on_hinges(free), on_hinges(lrfd), strict=True):
        assert b.force.out == pytest.approx(a.force.out, abs=1e-6)
        assert b.force.across == pytest.approx(a.force.across, abs=1e-6)


@pytest.mark.parametrize(
    ("heights", "words"),
    [
        (["8 in", "70 in"], ["the lower hinge", "the upper hinge"]),
        (["8 in", "40 in", "70 in"], ["the lowest hinge", "the middle hinge", "the highest hinge"]),
        (
            ["8 in", "30 in", "50 in", "70 in"],
            ["the lowest hinge", "hinge 2 from the bottom", "hinge 3 from the bottom"],
        ),
    ],
)
def test_hinges_have_the_makers_names(heights: list[str], words: list[str]) -> None:
    m = hung(*(resting(f"pivot {i + 1}", y=1.0) for i in range(len(heights))), heights=heights)
    assert [hinge_words(m, place) for place in m.pivots][: len(words)] == words


def test_a_leaf_on_a_floor_pivot_is_refused() -> None:
    with pytest.raises(TypeError, match="the left leaf stands on a floor pivot"):
        barrel_hinges(on_pivot())


# ---------------------------------------------------------------- play


def bound(turn: float, moment: float = 1000.0, **sizes: Any) -> list[HungCase]:
    """Return the bound cases of a leaf that tilts so much [rad], clamped by a moment [lb·in]."""
    clamped: Situation = "standing, clamped"
    m = hung(
        resting("pivot 1", y=400 * LBF, turn_z=turn),
        resting("pivot 2", turn_z=0.5 * turn),
        resting("pivot 1", situation=clamped, y=400 * LBF, mz=moment * LB_IN),
        resting("pivot 2", situation=clamped, mz=0.0),
        **sizes,
    )
    return [c for c in hung_cases(m) if c.share > 0.0]


def test_pins_that_tilt_within_their_play_pass_nothing_on() -> None:
    """0.010 in of play on 4 in of half: 0.0025."""
    assert bound(0.00249) == []
    assert bound(0.00251) != []


def test_a_bound_pin_bends_before_it_passes_all_on() -> None:
    """θ 0.005, c/L 0.0025, k = 1000/0.005 = 2e5 lb·in, s = 3 EI/(2 × 4 in) with ¾ in of pin.

    By hand: I = π 0.75⁴/64 = 0.015532 in⁴, EI = 450.4 k·in², s = 168 910 lb·in:
    share = 0.5/(1 + 2e5/168910) = 0.2289; the other pin's carry-over is half of it.
    """
    case = bound(0.005)[0]
    assert case.share == pytest.approx(0.2289, rel=1e-3)
    lower, upper = case.forces
    assert lower.pin_moment == pytest.approx(228.9 * LB_IN, rel=1e-3)
    assert upper.pin_moment == pytest.approx(0.55 * 228.9 * LB_IN, rel=1e-3)
    assert "pins bound in their barrels" in case.words


def test_without_the_play_pins_are_taken_as_bound_at_once() -> None:
    assert bound(0.001, clearance=None)[0].share == pytest.approx(
        1.0 / (1.0 + 1000.0 / 0.001 / 168910.0), rel=1e-3
    )
    # Without its size nothing is known of how a pin bends: it is taken as stiff.
    assert bound(0.001, clearance=None, pin_diameter=None)[0].share == 1.0


def test_more_play_never_binds_more() -> None:
    shares = [
        max((c.share for c in bound(0.005, clearance=f"{play} in")), default=0.0)
        for play in (0.0, 0.004, 0.010, 0.016, 0.03)
    ]
    assert shares == sorted(shares, reverse=True)


# ---------------------------------------------------------------- the pin


def test_pin_by_hand() -> None:
    """300 lb across ¾ in of A36: shear 0.6 × 36 × ¾ × 0.4418 = 7.157 kip, /1.67 = 4.286.

    Bending 300 × 2 = 600 lb·in of 1.6 × 36 × π 0.75³/32 = 2.3857 kip·in, /1.67 = 1.4286;
    together √(0.42² + 0.07²) = 0.4258; bearing 1.8 × 36 × 0.75 × 4 = 194.4 kip, /2 = 97.2.
    """
    found = barrel_hinges(hung(*at_rest()))
    shear, bent = check(found, "hinge/pin shear"), check(found, "hinge/pin bending")
    assert (shear.demand, shear.available) == pytest.approx((300 * LBF, 4.286 * KIP), rel=1e-3)
    assert (bent.demand, bent.available) == pytest.approx((0.6 * KIP_IN, 1.4286 * KIP_IN), rel=1e-3)
    together, bearing = check(found, "hinge/pin together"), check(found, "hinge/bearing")
    assert together.ratio == pytest.approx(0.4258, rel=1e-3)
    assert (bearing.demand, bearing.available) == pytest.approx((300 * LBF, 97.2 * KIP), rel=1e-3)
    assert {c.verdict for c in (shear, bent, together, bearing)} == {Verdict.OK}
    assert shear.unit == bearing.unit == "N"
    assert bent.unit == "N m"


def test_lrfd_strength_of_a_pin() -> None:
    """0.90 × 2.3857 kip·in = 2.147."""
    m = dataclasses.replace(hung(*at_rest()), method=gate(method="LRFD").method)
    bent = check(barrel_hinges(m), "hinge/pin bending")
    assert bent.available == pytest.approx(2.147 * KIP_IN, rel=1e-3)


def test_unknown_pin_steel_is_asked_with_the_least_pin_that_would_do() -> None:
    """900 lb·in at 450 lb: ½ in of A36 may have 0.423 kip·in, ⅝ in 0.827, ¾ in 1.429."""
    found = barrel_hinges(hung(*at_rest(pull=450.0), pin_grade=None))
    bent = check(found, "hinge/pin bending")
    assert bent.verdict is Verdict.ASK
    assert bent.ratio == pytest.approx(0.9 / 1.4286, rel=1e-3)
    assert "pin_grade" in bent.change
    assert "450 lbf across" in bent.change
    assert "3/4 in of A36 would do" in bent.change
    assert "A36" in bent.rule


def test_a_weak_pin_of_unknown_steel_is_told_to_be_too_weak() -> None:
    found = barrel_hinges(hung(*at_rest(pull=1500.0), pin_grade="unknown"))
    bent = check(found, "hinge/pin bending")
    assert bent.verdict is Verdict.ASK
    assert "does not hold" in bent.change


def test_unknown_steel_by_name_is_said_to_be_so() -> None:
    bent = check(barrel_hinges(hung(*at_rest(), pin_grade="stubs")), "hinge/pin bending")
    assert bent.verdict is Verdict.ASK
    assert "'stubs' is no steel that is known here" in bent.change


def test_without_a_diameter_all_that_rests_on_it_is_asked() -> None:
    found = barrel_hinges(hung(*at_rest(), pin_diameter=None))
    assert {c.verdict for c in found.checks} == {Verdict.ASK}
    assert all("pin_diameter" in c.change for c in found.checks)
    bent = check(found, "hinge/pin bending")
    assert bent.demand == pytest.approx(0.6 * KIP_IN, rel=1e-9)
    assert "5/8 in of A36 would do" in bent.change


def test_length_of_a_half_is_a_default_where_it_is_not_given() -> None:
    found = barrel_hinges(hung(*at_rest(), barrel_length=None, weld_length=None))
    half = next(q for q in found.defaults if q.key == "left/hinge half")
    assert half.value == pytest.approx(2 * INCH)
    assert check(found, "hinge/pin bending").demand == pytest.approx(300 * LB_IN, rel=1e-9)
    assert not any(q.key == "left/hinge half" for q in barrel_hinges(hung(*at_rest())).defaults)


# ---------------------------------------------------------------- the weld


def test_weld_by_hand_under_a_pull_and_the_weight() -> None:
    """Two lines 4 in long, ¾ in apart, pin 1.5 in off: 300/8 = 37.5 out; 400 × 1.5 = 600 lb·in,

    I_x = 2 × 4³/12 = 10.667 in³, 600 × 2/10.667 = 112.5; up 400/8 = 50:
    √(150² + 50²) = 158.11 lb/in. A fillet of 3/16 in: 0.6 × 70 × 0.7071 × 0.1875/2 = 2.784 k/in.
    """
    weld = check(barrel_hinges(hung(*at_rest())), "hinge/weld")
    assert weld.demand == pytest.approx(158.11 * LBF / INCH, rel=1e-4)
    assert weld.available == pytest.approx(2.784 * KIP / INCH, rel=1e-3)
    assert weld.unit == "N/m"
    assert "carrying the weight" in weld.case


def test_weld_by_hand_under_a_force_across() -> None:
    """100 lb across, 1.5 in off: 150 lb·in, I_y = 2 × 4 × 0.375² = 1.125 in³: 50; and 100/8."""
    m = hung(*at_rest(pull=0.0, weight=0.0, across=100.0))
    on = max(on_hinges(hung_cases(m)), key=lambda found: found.force.on_pin)
    found = line_force(m, on, 0.75 * INCH, 4 * INCH, Lines())
    assert found == pytest.approx(math.hypot(50.0, 12.5) * LBF / INCH, rel=1e-9)


def test_what_a_bound_pin_passes_on_is_added_to_the_weight_on_the_posts_side() -> None:
    """The leaf's weight turns its nose down, so a clamped hinge holds it up: +z on a left leaf.

    On the stile the weight's lever takes from that, on the post it adds.
    """
    m = hung(
        resting("pivot 1", y=400 * LBF, turn_z=-0.001),
        resting("pivot 2"),
        resting("pivot 1", situation="standing, clamped", y=400 * LBF, mz=300 * LB_IN),
        resting("pivot 2", situation="standing, clamped"),
        clearance=None,
        pin_diameter="3 in",
    )
    case = next(c for c in hung_cases(m) if c.share > 0.0 and c.carrier == "pivot 1")
    lower = on_hinges([case])[0]
    passed = lower.force.m_across / LB_IN
    assert passed == pytest.approx(300.0, rel=0.05)
    by_hand = math.hypot((600.0 + passed) * 2.0 / (2 * 4**3 / 12), 400.0 / 8.0)
    found = line_force(m, lower, 0.75 * INCH, 4 * INCH, Lines())
    assert found == pytest.approx(by_hand * LBF / INCH, rel=1e-6)


def test_thin_wall_beside_the_weld_governs() -> None:
    """HSS 2 x 2 x 1/8 post: 0.6 × 58 × 0.11625/2 = 2.023 k/in, under the weld's 2.784."""
    found = barrel_hinges(hung(*at_rest(), post={"section": "HSS 2 x 2 x 1/8"}))
    assert check(found, "hinge/weld").available == pytest.approx(2.023 * KIP / INCH, rel=1e-3)


def test_unknown_weld_is_asked_with_the_least_leg() -> None:
    weld = check(barrel_hinges(hung(*at_rest(), weld=None)), "hinge/weld")
    assert weld.verdict is Verdict.ASK
    assert weld.ratio is not None
    assert "give weld" in weld.change
    # Walls of 3/16 and 1/4 in: 1/8 in by Table J2.4.
    assert "1/8 in, 4 in long up each side, would do" in weld.change


def test_weld_too_short_for_its_wall_is_told_to_be_longer() -> None:
    weld = check(barrel_hinges(hung(*at_rest(pull=4000.0), weld_length="1 in")), "hinge/weld")
    assert weld.verdict is Verdict.SHORT
    assert "a longer weld" in weld.change


@pytest.mark.parametrize(("leg", "verdict"), [("1/8 in", Verdict.OK), ("1/16 in", Verdict.SHORT)])
def test_least_leg_of_the_table(leg: str, verdict: Verdict) -> None:
    """AISC 360-22, Table J2.4: 1/8 in up to 1/4 in of wall. The table's own leg is enough."""
    found = check(barrel_hinges(hung(*at_rest(), weld=leg)), "hinge/weld size")
    assert found.verdict is verdict
    assert found.demand == pytest.approx(INCH / 8)


# ---------------------------------------------------------------- the wall


def wall(section: str, **loads: float) -> Any:
    m = hung(*at_rest())
    put = {"out": 0.0, "along": 0.0, "across": 0.0, "to_end": math.inf, **loads}
    return wall_check(
        m,
        "wall",
        "post",
        m.steel.section(section),
        Patch(0.75 * INCH, 4 * INCH),
        TubeUse(0.0, 0.0),
        [WallLoad("case", **put)],
        change="a thicker wall",
    )


def test_wall_by_hand() -> None:
    """HSS 2 x 2 x 3/16, t 0.174375 in: F_y t² = 1.3987 kip; beta 0.375, eta 2, Q_f 1.

    Pull: 2 × 2/0.625 + 4/√0.625 = 11.460: 16.03 kip, /1.5 = 10.686; punching
    0.6 × 46 × 0.174375 × (8 + 2 × 0.654) = 44.8, /1.58: more. Along: each half of 2 in has
    1.3987 × 8.260 = 11.553 kip, × 2 in = 23.11 kip·in, /1.5 = 15.405. Across:
    0.5 × 4 × 2.2 + √(2 × 2 × 0.75 × 2.2) = 6.969: 9.748 kip·in, /1.5 = 6.498.
    """
    section = "HSS 2 x 2 x 3/16"
    assert wall(section, out=KIP).ratio == pytest.approx(1.0 / 10.686, rel=1e-3)
    assert wall(section, along=KIP_IN).ratio == pytest.approx(1.0 / 15.405, rel=1e-3)
    assert wall(section, across=KIP_IN).ratio == pytest.approx(1.0 / 6.498, rel=1e-3)
    both = wall(section, out=KIP, along=KIP_IN, across=KIP_IN)
    assert both.ratio == pytest.approx(1.0 / 10.686 + 1.0 / 15.405 + 1.0 / 6.498, rel=1e-3)


def test_wall_near_an_open_end_has_half_its_strength() -> None:
    """K1.4: nearer than 2 √(1 − 0.375) = 1.581 in."""
    section = "HSS 2 x 2 x 3/16"
    far, near = (wall(section, out=KIP, to_end=at * INCH) for at in (1.6, 1.5))
    assert near.ratio == pytest.approx(2.0 * far.ratio)
    assert "cap the end" in near.rule


def test_round_wall_by_hand_and_turned_about_its_length() -> None:
    """Pipe 4 STD, A53 35 ksi, D 4.5, t 0.93 × 0.237: 5.5 F_y t² (1 + 0.25 × 4/4.5) = 11.43 kip.

    /1.67 = 6.843; the moment 0.8 × 4 in times that (Eqs. K2-2a and K2-2b).
    """
    R = 5.5 * 35.0 * (0.93 * 0.237) ** 2 * (1.0 + 0.25 * 4.0 / 4.5) / 1.67
    assert wall("pipe 4 STD", out=KIP).ratio == pytest.approx(1.0 / R, rel=1e-3)
    assert wall("pipe 4 STD", along=KIP_IN).ratio == pytest.approx(1.0 / (3.2 * R), rel=1e-3)
    turned = wall("pipe 4 STD", across=KIP_IN)
    assert turned.verdict is Verdict.ASK
    assert "engineer" in turned.change


def test_wall_out_of_limits_is_asked_and_solid_steel_has_no_wall() -> None:
    """Table K3.2A: B/t up to 35."""
    thin = wall("mechanical tube 8 x 8 x 1/8 in", out=LBF)
    assert thin.verdict is Verdict.ASK
    assert "chord B/t is 64" in thin.change
    assert wall("flat 3 x 3/8 in", out=LBF) is None
    assert wall("angle 3 x 3 x 1/4 in", out=LBF).verdict is Verdict.ASK


def test_stile_wall_is_worked_with_the_stiles_own_stress() -> None:
    """Q_f falls with what is in the stile already (K1.3): less than the wall alone would hold."""
    found = check(barrel_hinges(hung(*at_rest())), "hinge/stile wall")
    worked = {w.figure.rsplit(".", 1)[-1]: w.value for w in found.working}
    assert 0.0 < worked["chord_use"] < 1.0
    assert worked["chord_stress_factor_round"] < 1.0
    assert found.ratio is not None
    assert found.ratio > 0.3 * KIP / (10.686 * KIP)


# ---------------------------------------------------------------- always


def ratios(m: Any) -> dict[str, float]:
    return {c.key: c.ratio for c in barrel_hinges(m).checks if c.ratio is not None}


@given(
    pull=st.floats(50.0, 800.0),
    weight=st.floats(50.0, 800.0),
    across=st.floats(0.0, 300.0),
    more=st.floats(1.01, 2.0),
)
def test_more_load_never_leaves_more_to_spare(
    pull: float, weight: float, across: float, more: float
) -> None:
    light = ratios(hung(*at_rest(pull, weight, across)))
    heavy = ratios(hung(*at_rest(more * pull, more * weight, more * across)))
    assert light.keys() == heavy.keys()
    assert all(heavy[key] >= light[key] * (1.0 - 1e-12) for key in light)


@pytest.mark.parametrize(
    "stronger",
    [{"pin_grade": "S355J2"}, {"weld": "1/4 in"}, {"weld_length": "6 in"}, {"standoff": "2 in"}],
)
def test_a_stronger_hinge_never_has_less_to_spare(stronger: dict[str, Any]) -> None:
    loads = at_rest(400.0, 500.0, 150.0)
    plain, better = ratios(hung(*loads)), ratios(hung(*loads, **stronger))
    assert all(better[key] <= plain[key] * (1.0 + 1e-12) for key in plain)


def test_every_check_says_how_it_came_about() -> None:
    for found in barrel_hinges(gate()).checks:
        assert found.rule
        assert found.working
        assert found.source.clause
        assert found.key.startswith("left/hinge/")
        assert (found.verdict is Verdict.OK) == (found.change == "")


def test_words_tell_every_hinge_and_that_either_may_carry() -> None:
    said = barrel_hinges(hung(*at_rest())).words
    assert said[0] == (
        "Hanging at rest: the lower hinge pushed toward the post, 300 lbf; the upper hinge pulled "
        "away from the post, 300 lbf."
    )
    assert "either hinge may carry all of it, up to 400 lbf" in said[-1]
    assert any("comes off when it is lifted" in words for words in barrel_hinges(gate()).cautions)


def test_a_metric_maker_reads_newtons_and_millimetres() -> None:
    base = gate()
    header = base.job.job.model_copy(update={"system": "metric"})
    job = base.job.model_copy(update={"job": header})
    m = hung(*at_rest(), base=dataclasses.replace(base, job=job, tape=Tape("mm", 1)), weld=None)
    found = barrel_hinges(m)
    assert "1334 N" in found.words[0]
    assert "mm long up each side" in check(found, "hinge/weld").change
    assert not any(
        word in c.rule for c in found.checks for word in (" in ", "lbf") if word == "lbf"
    )
