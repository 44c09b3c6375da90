"""The links of a floor pivot, each against values worked by hand, and what must always hold."""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import replace
from typing import Any

import pytest

from leafwright import plan, read_job
from leafwright.handbook import outlines
from leafwright.handbook.aisc360 import Method
from leafwright.handbook.sections import properties_of_rectangular_tube
from leafwright.job.file import with_value
from leafwright.mount import LeafMount, Mounting, Proved
from leafwright.mount.pivot import bottom_pivot, seat, top_pivot
from leafwright.mount.pivot_stile import net_section
from leafwright.proof import PivotLoad
from leafwright.records import Check, Verdict
from tests.mount.pivots import EXAMPLES, INCH, KIP, KIP_IN, LBF, check, hung
from tests.mount.proved import assert_honest, load
from tests.sizes import cases

# 500 lbf sideways and 1000 lbf down, the pin free: 1500 lb·in at the plate, 3 in below the middle
# of its engagement (4 in of pin, 2 in of it in the sleeve).
PLAIN = load("pivot 1", x=500 * LBF, y=1000 * LBF)
PLAIN_TOP = load("pivot 2", x=-500 * LBF)
THIN = "mechanical tube 2 x 2 x 0.120 in"


def worked(found: Check, figure: str) -> list[float]:
    """Return what a formula gave in a check's working, each time that it was worked."""
    return [float(w.value) for w in found.working if w.figure.endswith(figure)]


def both(m: Mounting) -> list[Check]:
    return [*bottom_pivot(m).checks, *seat(m).checks, *top_pivot(m).checks]


# ---------------------------------------------------------------- the pin


def test_the_pin_is_a_round_bar_out_of_its_plate() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom pin/strength")
    # ANSI/AISC 360-22 F11.1: M_n = 1.6 F_y S, S = π 1.5³/32 = 0.33134 in3; Ω = 1.67 (F1).
    assert worked(found, "bending_round_bar") == [pytest.approx(19.085 * KIP_IN, rel=1e-4)]
    # 0.6 F_y on 3/4 of A = 1.7671 in2, where the greatest stress is 4/3 of the mean; Ω = 1.67.
    # E3: K = 2.1 over 3 in, r = 0.375 in: F_e = π² 29000/16.8² = 1014.1, F_n = 35.469 ksi.
    assert worked(found, "compression_nonslender") == [pytest.approx(62.68 * KIP, rel=1e-3)]
    pressed, bent, sheared = 1.0 / (62.68 / 1.67), 1.5 / (19.085 / 1.67), 0.5 / (28.628 / 1.67)
    # H1-1b, and von Mises' root of squares with the shear.
    assert found.ratio == pytest.approx(math.hypot(pressed / 2 + bent, sheared), rel=1e-3)
    assert found.verdict is Verdict.OK


def test_load_factors_are_held_against_resistance_factors() -> None:
    asd = check(bottom_pivot(hung(PLAIN)), "bottom pin/bearing")
    lrfd = check(bottom_pivot(hung(PLAIN, method=Method.LRFD)), "bottom pin/bearing")
    # ANSI/AISC 360-22 J7: φ = 0.75, Ω = 2.00; 1.8 F_y d L = 1.8 × 36 × 1.5 × 2 = 194.4 kip.
    assert asd.available == pytest.approx(194.4 * KIP / 2.00)
    assert lrfd.available == pytest.approx(194.4 * KIP * 0.75)
    assert (asd.basis, lrfd.basis) == ("ASD", "LRFD")


def test_a_bound_pin_bears_hardest_at_one_end() -> None:
    M = 100.0
    bound = load("pivot 1", situation="person, clamped", x=500 * LBF, y=1000 * LBF, mx=M)
    m = hung(PLAIN, bound, sleeve_bore=None)
    found = check(bottom_pivot(m), "bottom pin/bearing")
    # V/L + 6 M/L² times L = 2 in: statics of a straight line of pressure.
    assert found.demand == pytest.approx(500 * LBF + 6 * M / (2 * INCH))
    strong = check(bottom_pivot(m), "bottom pin/strength")
    assert strong.ratio is not None
    plain = check(bottom_pivot(hung(PLAIN)), "bottom pin/strength").ratio
    assert plain is not None
    # The pin gets M over V a; without play all of it.
    assert strong.ratio - plain == pytest.approx(M / (19.085 / 1.67 * KIP_IN), rel=2e-2)


def test_the_top_pin_stands_out_over_the_gap_less_the_top_plate() -> None:
    m = hung(PLAIN, PLAIN_TOP, top_plate={"thickness": "1/4 in", "width": "6 in", "length": "6 in"})
    found = check(top_pivot(m), "top pin/strength")
    # Gap 1/2 - 1/4 in; 3 in of pin, of which 2.75 in the sleeve: the middle is 1.625 in down.
    assert "1 5/8 in over the plate" in found.rule
    bent, sheared = 0.5 * 1.625 / (19.085 / 1.67), 0.5 / (28.628 / 1.67)
    assert found.ratio == pytest.approx(math.hypot(bent, sheared), rel=1e-3)


def test_a_pin_whose_steel_is_not_said_is_asked_with_its_ratio_in_the_lowest_steel() -> None:
    known = check(bottom_pivot(hung(PLAIN)), "bottom pin/strength")
    for grade in ("unknown", "drill rod from the shelf"):
        found = bottom_pivot(hung(PLAIN, pin_grade=grade))
        asked = check(found, "bottom pin/strength")
        assert asked.verdict is Verdict.ASK
        assert asked.ratio == known.ratio
        assert "pin_grade" in asked.change
        assert any(q.value == pytest.approx(36 * KIP / INCH**2) for q in found.defaults)
    assert "drill rod from the shelf" in asked.change


def test_a_steel_that_promises_no_yield_stress_is_asked_for_its_certificate() -> None:
    asked = check(bottom_pivot(hung(PLAIN, pin_grade="A513")), "bottom pin/strength")
    assert asked.verdict is Verdict.ASK
    assert "certificate" in asked.change


@pytest.mark.parametrize("key", ["pin_diameter", "bottom_pin_length"])
def test_what_is_not_said_is_asked_and_its_demand_told(key: str) -> None:
    lacking: dict[str, Any] = {key: None}
    asked = check(bottom_pivot(hung(PLAIN, **lacking)), "bottom pin/strength")
    assert asked.verdict is Verdict.ASK
    assert asked.demand is not None
    assert asked.demand > 0.0
    assert key in asked.change


def test_a_pin_that_is_short_is_told_the_size_that_is_not() -> None:
    found = check(bottom_pivot(hung(PLAIN, pin_diameter="3/8 in")), "bottom pin/strength")
    assert found.verdict is Verdict.SHORT
    size = found.change.removeprefix("a pin of ").partition(" in ")[0]
    # Its bearing length does not matter to its strength.
    mended = hung(PLAIN, pin_diameter=f"{size} in")
    assert check(bottom_pivot(mended), "bottom pin/strength").verdict is not Verdict.SHORT


def test_a_sleeve_that_is_all_slug_and_ball_does_not_reach_the_pin() -> None:
    found = bottom_pivot(hung(PLAIN, sleeve_length="2-1/2 in"))
    assert check(found, "bottom pin/reach").verdict is Verdict.SHORT
    assert not any(c.key.endswith("/reach") for c in bottom_pivot(hung(PLAIN)).checks)


# ---------------------------------------------------------------- weld and plate


def test_the_weld_is_a_ring_and_its_metal_governs() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom pin/weld")
    # Welds as lines (Shigley, Tables 9-1 and 9-2): r = 0.75 in, L = 2πr, out of the plane P/L +
    # M/(π r²), in it V/L.
    out = 1000 / (2 * math.pi * 0.75) + 1500 / (math.pi * 0.75**2)
    assert found.demand == pytest.approx(math.hypot(out, 500 / (2 * math.pi * 0.75)) * LBF / INCH)
    # AISC Manual, part 8: 0.928 kip/in for each sixteenth of E70 fillet, ASD; 4 of them.
    assert found.available == pytest.approx(4 * 0.928 * KIP / INCH, rel=1e-3)


def test_a_thin_plate_governs_beside_its_weld() -> None:
    plate = {"thickness": "1/8 in", "width": "6 in", "length": "8 in", "grade": "A36"}
    found = check(bottom_pivot(hung(PLAIN, plate=plate, pin_weld="1/2 in")), "bottom pin/weld")
    # ANSI/AISC 360-22 J4.2: 0.6 F_y t/1.5 = 1.8, and 0.6 F_u t/2 = 2.175 kip/in.
    assert found.available == pytest.approx(1.8 * KIP / INCH)


def test_a_weld_that_is_not_said_is_asked_with_the_least_leg_that_holds() -> None:
    for factor in (1.0, 3.0, 5.0):
        heavy = replace(PLAIN, x=factor * PLAIN.x, y=factor * PLAIN.y)
        asked = check(bottom_pivot(hung(heavy, pin_weld=None)), "bottom pin/weld")
        assert asked.verdict is Verdict.ASK
        assert asked.demand is not None
        leg = asked.change.partition("a fillet of ")[2].partition(" in or more")[0]
        good = bottom_pivot(hung(heavy, pin_weld=f"{leg} in"))
        assert check(good, "bottom pin/weld").verdict in (Verdict.OK, Verdict.TIGHT)
        assert check(good, "bottom pin/weld size").verdict is Verdict.OK


def test_a_fillet_under_the_tables_least_is_short_and_at_it_is_enough() -> None:
    # ANSI/AISC 360-22, Table J2.4: 3/16 in where the thinner part is over 1/4 to 1/2 in.
    short = bottom_pivot(hung(PLAIN, pin_weld="1/8 in"))
    assert check(short, "bottom pin/weld size").verdict is Verdict.SHORT
    enough = bottom_pivot(hung(PLAIN, pin_weld="3/16 in"))
    assert check(enough, "bottom pin/weld size").verdict is Verdict.OK


def test_all_that_stands_on_the_ball_goes_through_the_slugs_groove() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom slug/weld")
    # Statics: 1000 lbf on a ring as wide as the bore, 1.51 in.
    assert found.demand == pytest.approx(1000 / (math.pi * 1.51) * LBF / INCH)
    # ANSI/AISC 360-22, Table J2.5, partial penetration in shear: 0.60 · 70 ksi · 3/16 in / 2.00;
    # beside it 0.245 in of wall, 0.60 · 58 ksi / 2.00 and 0.60 · 36 ksi / 1.50 at the least.
    metal = 0.6 * 70 * (3 / 16) / 2.0
    wall = min(0.6 * 58 * 0.245 / 2.0, 0.6 * 36 * 0.245 / 1.5)
    assert found.available == pytest.approx(min(metal, wall) * KIP / INCH, rel=1e-3)


def test_a_slugs_weld_that_is_not_given_is_asked_with_what_would_do() -> None:
    asked = check(bottom_pivot(hung(PLAIN, slug_weld=None)), "bottom slug/weld")
    assert asked.verdict is Verdict.ASK
    # ANSI/AISC 360-22, Table J2.3: 1/8 in for a thinner part up to 1/4 in.
    assert "give slug_weld" in asked.change
    assert "a throat of 1/8 in or more" in asked.change
    short = bottom_pivot(hung(PLAIN, slug_weld="1/16 in"))
    assert check(short, "bottom slug/weld size").verdict is Verdict.SHORT
    deep = check(bottom_pivot(hung(PLAIN, slug_weld="3/8 in")), "bottom slug/weld")
    assert deep.verdict is Verdict.ASK
    assert "deeper than the sleeve's wall" in deep.change
    bare = check(bottom_pivot(hung(PLAIN, sleeve_outside=None)), "bottom slug/weld")
    assert bare.verdict is Verdict.ASK
    assert "give sleeve_outside" in bare.change


def test_the_plate_bends_between_its_ends() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom plate/bending")
    # Statics: P l/4 + M/2 over 8 in; F11-1: M_n = F_y b t²/4 with b = π d = 4.7124 in.
    assert found.demand == pytest.approx((1000 * 8 / 4 + 1500 / 2) * LBF * INCH)
    assert found.available == pytest.approx(36 * 4.7124 * 0.25 / 4 / 1.67 * KIP_IN, rel=1e-4)


def test_a_plate_without_sizes_is_asked_with_what_tips_the_pin() -> None:
    found = check(bottom_pivot(hung(PLAIN, plate=None)), "bottom plate/bending")
    assert found.verdict is Verdict.ASK
    assert found.demand == pytest.approx(1500 * LBF * INCH)


# ---------------------------------------------------------------- the sleeve


def test_plugs_carry_the_whole_weight_and_the_couple() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom sleeve/plugs")
    # Statics: 1000/4 down, and 1.5 V sideways on half of four.
    assert found.demand == pytest.approx(math.hypot(250, 375) * LBF)
    # J2.3a, J2.4: 0.6 × 70 × π/4 × 0.5625²/2.00 = 5.219 kip.
    assert found.available == pytest.approx(5.2186 * KIP, rel=1e-4)
    assert found.verdict is Verdict.OK


def test_the_couple_on_plugs_is_balanced() -> None:
    # Rows L/2 apart; V acts L/2 off their middle, with M besides: forces F_1 and F_2 of the rows
    # with F_1 - F_2 = V and (F_1 + F_2) L/4 = M + V L/2, of which F_1 is the greater.
    L, V, M = 4.5 * INCH, 500 * LBF, 100.0
    F_1 = 0.5 * (V + (M + V * L / 2) * 4 / L)
    bound = load("pivot 1", situation="person, clamped", x=V, mx=M)
    found = check(bottom_pivot(hung(bound, sleeve_bore=None)), "bottom sleeve/wall")
    assert found.demand == pytest.approx(F_1)


def test_a_hole_over_its_size_is_read_three_ways_and_never_passed_in_silence() -> None:
    found = check(bottom_pivot(hung(PLAIN, stile=THIN, plug_hole="5/8 in")), "bottom sleeve/plugs")
    assert found.verdict is Verdict.TIGHT
    # AWS D1.1 as AISC 360-22 J2.3b repeats it: least 0.120 + 5/16 -> 7/16 in, greatest 9/16 in.
    assert "over the greatest of 7/16 in to 9/16 in" in found.change
    # AWS D1.3, 0.7 d - 1.5 t = 0.2575 in, under the least of 3/8 in; 0.6 × 70 on it, over 2.00.
    arc = 0.6 * 70 * math.pi / 4 * 0.2575**2 / 2
    assert f"as an arc plug {1000 * arc:.0f} lbf (0.258 in across is weld, too" in found.change
    # J2.2a: a leg of 0.120 in on π (d - w/2), 3.16 kip.
    assert "as a fillet round the hole 3163 lbf" in found.change
    # None blessed: the least of them is what it is held against.
    assert found.available == pytest.approx(arc * KIP, rel=1e-3)


def test_readings_that_do_not_agree_whether_it_holds_are_asked() -> None:
    heavy = replace(PLAIN, x=2 * PLAIN.x, y=5 * PLAIN.y)
    found = check(bottom_pivot(hung(heavy, stile=THIN, plug_hole="5/8 in")), "bottom sleeve/plugs")
    assert found.demand == pytest.approx(math.hypot(1250, 750) * LBF)
    assert found.verdict is Verdict.ASK
    none = replace(PLAIN, y=20 * PLAIN.y)
    found = check(bottom_pivot(hung(none, stile=THIN, plug_hole="5/8 in")), "bottom sleeve/plugs")
    assert found.verdict is Verdict.SHORT


@pytest.mark.parametrize("hole", ["1/4 in", "5/8 in", "3/4 in", "1 in"])
def test_no_hole_out_of_the_plugs_size_is_ever_ok(hole: str) -> None:
    found = check(bottom_pivot(hung(PLAIN, stile=THIN, plug_hole=hole)), "bottom sleeve/plugs")
    assert found.verdict in (Verdict.TIGHT, Verdict.ASK)


def test_plugs_that_are_not_said_are_asked_with_what_would_do() -> None:
    found = bottom_pivot(hung(PLAIN, plug_hole=None, plug_holes=None))
    asked = check(found, "bottom sleeve/plugs")
    assert asked.verdict is Verdict.ASK
    # J2.3b for a wall of 3/16 in: 1/2 in, to the next odd sixteenth.
    assert "2 of 9/16 in to each sleeve would do" in asked.change
    good = bottom_pivot(hung(PLAIN, plug_hole="9/16 in", plug_holes=2))
    assert check(good, "bottom sleeve/plugs").verdict is Verdict.OK


def test_the_wall_is_bent_like_a_chords_face() -> None:
    found = check(bottom_pivot(hung(PLAIN)), "bottom sleeve/wall")
    # Yield lines (Eq. K2-7 of the 2010 edition), Ω = 1.50: B = 2.5, d = 0.5625, t = 0.174375 in.
    t, beta = 0.93 * 0.1875, 0.5625 / 2.5
    P_n = 46 * t**2 * (2 * beta / (1 - beta) + 4 / math.sqrt(1 - beta))
    assert found.available == pytest.approx(P_n / 1.50 * KIP, rel=1e-6)
    assert found.demand == pytest.approx(1.5 * 500 * LBF)


def test_a_hole_wider_than_the_walls_flat_is_short() -> None:
    wide = bottom_pivot(hung(PLAIN, access_hole="2-1/4 in", plug_hole="2-1/4 in"))
    assert check(wide, "hanging stile/access hole").verdict is Verdict.SHORT
    assert check(wide, "bottom sleeve/plugs").verdict is Verdict.SHORT


def test_a_stile_that_is_no_rectangular_tube_is_asked() -> None:
    found = check(bottom_pivot(hung(PLAIN, stile="pipe 2 STD")), "bottom sleeve/plugs")
    assert found.verdict is Verdict.ASK
    assert found.demand == pytest.approx(math.hypot(1000, 500) * LBF)


def test_what_a_hole_leaves_of_a_tube_against_its_outline() -> None:
    outline = outlines.rectangular_tube(0.06, 0.05, 0.004, 0.008, 0.004)
    p = properties_of_rectangular_tube(0.06, 0.05, 0.004)
    d = 0.02
    net = net_section(p, d)
    # Independently, from the outline's own integrals: a strip between the walls across v is two
    # walls, so that half of it is what one hole takes.
    strip = outlines.moments(outline, u_from=-d / 2, u_to=d / 2)
    assert net.area == pytest.approx(p.area - strip.area / 2, rel=1e-9)
    y = (0.05 - 0.004) / 2
    left = p.area - strip.area / 2
    shift = strip.area / 2 * y / left
    inertia = p.inertia_u - strip.vv / 2 - left * shift**2
    assert net.modulus_u == pytest.approx(inertia / (0.025 + shift), rel=1e-3)
    assert net.modulus_u < p.section_modulus_u
    assert net.modulus_v < p.section_modulus_v


# ---------------------------------------------------------------- the ball


def test_the_reference_leafs_ball_presses_with_290_ksi_and_dents_harmlessly() -> None:
    # Johnson, Contact Mechanics, eqs. 4.22 to 4.24, worked for 194 lb on a ball of 1-1/4 in:
    # a = (3 F R/4 E*)^⅓ = 0.018 in, p0 = 3 F/2π a² = 290 ksi.
    m = hung(load("pivot 1", y=194 * LBF), ball_diameter="1.25 in")
    proved = seat(m)
    found = check(proved, "ball/seat")
    assert "290 ksi" in proved.words[0]
    E_star = 200e9 / (2 * (1 - 0.3**2))
    a = (3 * 194 * LBF * 0.625 * INCH / (4 * E_star)) ** (1 / 3)
    assert a == pytest.approx(0.018 * INCH, rel=0.02)
    assert 3 * 194 * LBF / (2 * math.pi * a**2) == pytest.approx(290 * KIP / INCH**2, rel=0.02)
    assert found.verdict is Verdict.OK
    assert "harmless" in proved.words[0]


def test_a_mild_seat_is_never_short_and_a_hardened_one_may_be() -> None:
    for weight in (1e3, 1e5, 1e7):
        found = check(seat(hung(load("pivot 1", y=weight))), "ball/seat")
        assert found.verdict in (Verdict.OK, Verdict.TIGHT)
    heavy = hung(load("pivot 1", y=1e5), ball_seat="hardened")
    assert check(seat(heavy), "ball/seat").verdict is Verdict.SHORT
    light = hung(load("pivot 1", y=1e3), ball_seat="hardened")
    assert check(seat(light), "ball/seat").verdict is Verdict.OK


def test_without_a_ball_its_load_is_told() -> None:
    found = check(seat(hung(PLAIN, ball_diameter=None)), "ball/seat")
    assert found.verdict is Verdict.ASK
    assert found.demand == pytest.approx(1000 * LBF)


# ---------------------------------------------------------------- what always holds


def _random_loads(rng: random.Random) -> tuple[PivotLoad, ...]:
    found = []
    for place, down in (("pivot 1", 1.0), ("pivot 2", 0.0)):
        x, z, y = rng.uniform(-3e3, 3e3), rng.uniform(-3e3, 3e3), down * rng.uniform(500, 9e3)
        found.append(
            load(
                "pivot 1" if place == "pivot 1" else "pivot 2",
                x=x, y=y, z=z, turn_x=rng.uniform(-0.01, 0.01), turn_z=rng.uniform(-0.01, 0.01),
            )
        )  # fmt: skip
        found.append(
            load(
                "pivot 1" if place == "pivot 1" else "pivot 2", situation="person, clamped",
                x=x, y=y, z=z, mx=rng.uniform(-400, 400), mz=rng.uniform(-400, 400),
            )
        )  # fmt: skip
    return tuple(found)


def _random_sizes(rng: random.Random) -> dict[str, Any]:
    pin = rng.choice([0.75, 1.0, 1.25, 1.5])
    maybe: dict[str, Any] = {
        "sleeve_length": "4.5 in",
        "pin_grade": "A36",
        "pin_weld": rng.choice(["1/8 in", "3/16 in", "1/4 in", "3/8 in"]),
        "plug_hole": rng.choice(["7/16 in", "9/16 in", "5/8 in", "3/4 in"]),
        "plug_holes": rng.choice([1, 2, 4, 6]),
        "ball_seat": rng.choice(["mild", "hardened"]),
        "sleeve_bore": f"{pin + rng.choice([0.002, 0.01, 0.03]):.4f} in",
        "access_hole": "1 in",
    }
    kept = {key: value if rng.random() < 0.8 else None for key, value in maybe.items()}
    for key in ("pin_grade", "ball_seat"):
        kept[key] = kept[key] or "unknown"
    return {**kept, "pin_diameter": f"{pin} in"}


def _scaled(loads: tuple[PivotLoad, ...], by: float) -> tuple[PivotLoad, ...]:
    keys = ("x", "y", "z", "mx", "mz", "turn_x", "turn_z")
    return tuple(replace(one, **{key: by * getattr(one, key) for key in keys}) for one in loads)


def _ratios(m: Mounting) -> dict[str, float]:
    return {c.key: math.inf if c.ratio is None else c.ratio for c in both(m)}


@pytest.mark.parametrize("seed", range(cases(12, 200)))
def test_more_load_never_raises_a_margin(seed: int) -> None:
    rng = random.Random(seed)
    loads, sizes = _random_loads(rng), _random_sizes(rng)
    order = {Verdict.OK: 0, Verdict.TIGHT: 1, Verdict.ASK: 2, Verdict.SHORT: 3}
    by = rng.uniform(1.01, 4.0)
    before = {c.key: c for c in both(hung(*loads, **sizes))}
    for after in both(hung(*_scaled(loads, by), **sizes)):
        # The stile's own forces are the frame's and not scaled here.
        old = before[after.key].ratio
        # An oversize plug is held against the reading that decides, which changes.
        if after.ratio is not None and old is not None and "plugs" not in after.key:
            assert after.ratio >= old * (1.0 - 1e-9), after.key
        assert order[after.verdict] >= order[before[after.key].verdict], after.key


@pytest.mark.parametrize("seed", range(cases(12, 200)))
def test_a_thicker_pin_never_lowers_a_margin_of_pin_and_weld(seed: int) -> None:
    rng = random.Random(seed)
    loads, sizes = _random_loads(rng), _random_sizes(rng)
    sizes |= {"pin_grade": "A36", "pin_weld": "1/4 in"}
    before: dict[str, float] | None = None
    for pin in (0.5, 0.625, 0.75, 1.0, 1.25, 1.5):
        # The same clearance, so that the same play is left.
        bore = None if sizes["sleeve_bore"] is None else f"{pin + 0.005} in"
        found = _ratios(hung(*loads, **{**sizes, "pin_diameter": f"{pin} in", "sleeve_bore": bore}))
        watched = {k: found[k] for k in found if k.endswith(("pin/strength", "pin/weld"))}
        if before is not None:
            assert all(watched[k] <= before[k] * (1.0 + 1e-9) for k in watched)
        before = watched


@pytest.mark.parametrize("seed", range(cases(12, 200)))
def test_nothing_is_ok_without_a_demand_and_every_formula_can_be_worked_again(seed: int) -> None:
    rng = random.Random(seed)
    assert_honest(both(hung(*_random_loads(rng), **_random_sizes(rng))))


def _sized(by: float) -> dict[str, Any]:
    def of(inches: float) -> str:
        return f"{25.4 * inches * by:.6f} mm"

    plate = {"thickness": of(0.5), "width": of(6), "length": of(8), "grade": "A36"}
    return {
        "spacer": of(0.5), "plate": plate, "pin_diameter": of(1.5), "sleeve_bore": of(1.51),
        "ball_diameter": of(1.5), "bottom_pin_length": of(4), "slug_length": of(1),
        "sleeve_length": of(4.5), "pin_weld": of(0.25), "sleeve_outside": of(2),
        "slug_weld": of(0.1875),
    }  # fmt: skip


@pytest.mark.parametrize("by", [0.5, 2.0])
def test_a_model_at_another_scale_uses_as_much_of_its_strength(by: float) -> None:
    # Lengths by s, forces by s², moments by s³: the stresses are the same everywhere.
    bound = load("pivot 1", situation="person, clamped", x=500 * LBF, y=1000 * LBF, mx=150.0)
    free = replace(PLAIN, turn_x=0.01)
    first = _ratios(hung(free, bound, **_sized(1.0)))
    loads = [
        replace(one, x=by**2 * one.x, y=by**2 * one.y, mx=by**3 * one.mx) for one in (free, bound)
    ]
    scaled = _ratios(hung(*loads, **_sized(by)))
    for key in ("bottom pin/strength", "bottom pin/bearing", "bottom pin/weld"):
        assert scaled[f"left/{key}"] == pytest.approx(first[f"left/{key}"], rel=1e-6)
    key = "left/bottom plate/bending"
    assert scaled[key] == pytest.approx(first[key], rel=1e-6)


def test_inches_and_millimetres_say_the_same() -> None:
    inches = _ratios(hung(PLAIN, PLAIN_TOP))
    millimetres = _ratios(hung(PLAIN, PLAIN_TOP, **_sized(1.0)))
    assert inches == pytest.approx(millimetres)


# ---------------------------------------------------------------- in a plan


def _bottom(name: str, *edits: tuple[tuple[str | int, ...], Any]) -> tuple[Proved, str]:
    """Return the first leaf's bottom pivot of an edited example, and what is called too weak."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for where, value in edits:
        text = with_value(text, where, value)
    made = plan(read_job(text))
    mount = made.mounts[0]
    assert isinstance(mount, LeafMount)
    return dict(mount.links)["bottom pivot"], " ".join(
        stop.why for stop in made.stops if stop.key == "proof/members"
    )


def test_a_pin_changed_in_the_job_file_changes_what_is_said() -> None:
    mount = ("each_leaf", "mount")
    strong, stops = _bottom("boathouse")
    assert check(strong, "bottom pin/strength").verdict is Verdict.OK
    assert "bottom pin of the left leaf" not in stops
    weak, stops = _bottom(
        "boathouse",
        ((*mount, "pin_diameter"), "0.375 in"),
        ((*mount, "sleeve_bore"), "0.3775 in"),
    )
    short = check(weak, "bottom pin/strength")
    assert short.verdict is Verdict.SHORT
    assert "a pin of" in short.change
    assert "bottom pin of the left leaf" in stops
    unsaid, _ = _bottom("boathouse", ((*mount, "pin_grade"), "unknown"))
    assert check(unsaid, "bottom pin/strength").verdict is Verdict.ASK


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed"])
def test_every_link_of_an_example_says_its_case_rule_and_source(name: str) -> None:
    made = plan(read_job((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))
    for mount in made.mounts:
        assert isinstance(mount, LeafMount)
        links = dict(mount.links)
        found = itertools.chain(*(links[n].checks for n in ("bottom pivot", "ball", "top pivot")))
        for one in found:
            assert one.rule
            assert one.source.document
            assert one.demand is not None
            assert one.working or one.unit == "m"
        assert links["bottom pivot"].cautions
        assert links["bottom pivot"].assumptions
