"""What holds the top plate: bolts, holes, prying, welds, transom and beam, by hand.

AISC 360-22 as quoted in `tests/published`; sizes of beams by the AISC Shapes Database.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import pytest

from leafwright import plan, read_job
from leafwright.handbook.aisc360 import Method
from leafwright.handbook.rolled_beams import BEAM_GRADES, rolled_beam
from leafwright.job.model import Bolt
from leafwright.mount.head import head_fixing
from leafwright.mount.head_loads import bolt_kind
from leafwright.proof import PivotLoad
from leafwright.proof.wind import LeafWind
from leafwright.records import Check, Verdict
from tests.mount.fixed import fixed
from tests.mount.pivots import EXAMPLES, INCH, KIP, KSI, LBF, check
from tests.mount.proved import assert_honest, load
from tests.sizes import cases

# 500 lbf sideways. The plate fills the 1/2 in top gap, so that the sleeve's middle is 3/2 in below
# it, and it is 1/2 in thick: 2 in, 1000 lb·in at its upper face.
FOOT = load("pivot 1", x=-500 * LBF, y=400 * LBF)
PUSHED = load("pivot 2", x=500 * LBF)
A325: dict[str, Any] = {"size": "3/4 in", "grade": "A325", "hole": "13/16 in"}
BOLTED: dict[str, Any] = {"top_fixed": "bolted", "top_bolts": 4, "bolt_gauge": "3-1/2 in"}
WELDED: dict[str, Any] = {"top_fixed": "welded", "top_weld": "3/16 in"}
ORDER = {Verdict.OK: 0, Verdict.TIGHT: 1, Verdict.ASK: 2, Verdict.SHORT: 3}


def near(value: float) -> Any:
    return pytest.approx(value, rel=2e-3)


def bolted(*loads: PivotLoad, **said: Any) -> Any:
    """Return the leaf with its top plate bolted to the W12x26, or what is said otherwise."""
    return fixed(*(loads or (FOOT, PUSHED)), transom=False, **{**BOLTED, "bolt": A325, **said})


def found(m: Any, tail: str) -> Check:
    return check(head_fixing(m), f"head/{tail}")


# ---------------------------------------------------------------- beams by name


@pytest.mark.parametrize(
    ("name", "area"),
    # AISC Shapes Database (in2) and published tables of EN 10365 (cm2): areas, fillets included.
    [
        ("W12x26", 7.65 * INCH**2),
        ("W8X18", 5.26 * INCH**2),
        ("W 10 x 22", 6.49 * INCH**2),
        ("W16x31", 9.13 * INCH**2),
        ("S8x18.4", 5.40 * INCH**2),
        ("IPE 200", 28.5e-4),
        ("IPE 300", 53.8e-4),
        ("HEA 200", 53.8e-4),
        ("HE 200 B", 78.1e-4),
    ],
)
def test_sizes_of_beams_make_their_published_area(name: str, area: float) -> None:
    beam = rolled_beam(name)
    assert beam is not None
    plain = 2 * beam.flange_width * beam.flange
    plain += (beam.depth - 2 * beam.flange) * beam.web
    # Fillets add up to a few hundredths; their size is not in the inch table.
    assert plain < area < 1.07 * plain


@pytest.mark.parametrize("name", ["unknown", "an old beam", "W12x27", "", "concrete lintel"])
def test_what_is_no_beam_is_none(name: str) -> None:
    assert rolled_beam(name) is None


def test_grades_of_beams() -> None:
    assert list(BEAM_GRADES["A992"]) == pytest.approx([50 * KSI, 65 * KSI])


# ---------------------------------------------------------------- bolts by what is marked on them


@pytest.mark.parametrize(
    ("size", "grade", "d", "F_nt", "F_nv"),
    [
        # Table J3.2, ksi.
        ("3/4 in", "A325", 0.75 * INCH, 90 * KSI, 54 * KSI),
        ("3/4-10", "F3125 A490", 0.75 * INCH, 113 * KSI, 68 * KSI),
        ("1-1/8-7", "A307", 1.125 * INCH, 45 * KSI, 27 * KSI),
        ("1/2-13", "Grade 5", 0.5 * INCH, 90 * KSI, 54 * KSI),
        # 0.75 and 0.450 F_u of ISO 898-1: 800 MPa to M16, 830 above.
        ("M12", "8.8", 0.012, 600e6, 360e6),
        ("M20 x 2.5", "8.8", 0.020, 622.5e6, 373.5e6),
    ],
)
def test_bolts_by_size_and_grade(size: str, grade: str, d: float, F_nt: float, F_nv: float) -> None:
    bolt = bolt_kind(Bolt(size=size, grade=grade))
    assert not isinstance(bolt, str)
    assert bolt.d == pytest.approx(d)
    assert bolt.F_nt == pytest.approx(F_nt, rel=1e-3)
    assert bolt.F_nv == pytest.approx(F_nv, rel=1e-3)
    assert not bolt.unknown


def test_a_bolt_without_a_mark_is_asked_and_taken_as_the_weakest() -> None:
    bolt = bolt_kind(Bolt(size="3/4 in"))
    assert not isinstance(bolt, str)
    assert bolt.F_nt == pytest.approx(45 * KSI)
    m = bolted(bolt={"size": "3/4 in", "hole": "13/16 in"})
    across = found(m, "bolts across")
    assert across.verdict is Verdict.ASK
    assert "marked" in across.change
    assert across.demand == near(125 * LBF)
    assert "not read" in str(bolt_kind(Bolt(size="big")))


# ---------------------------------------------------------------- holes


@pytest.mark.parametrize(
    ("hole", "grade", "verdict", "word"),
    [
        # Table J3.3 for a 3/4 in bolt: standard 13/16, oversize 15/16; between counts as oversize.
        ("5/8 in", "A325", Verdict.SHORT, "13/16"),
        ("3/4 in", "A325", Verdict.OK, ""),
        ("13/16 in", "A325", Verdict.OK, ""),
        ("7/8 in", "A325", Verdict.OK, ""),
        ("7/8 in", "A307", Verdict.SHORT, "13/16"),
        ("15/16 in", "A490", Verdict.OK, ""),
        ("1 in", "A325", Verdict.SHORT, "13/16"),
    ],
)
def test_holes_by_the_table(hole: str, grade: str, verdict: Verdict, word: str) -> None:
    made = found(bolted(bolt={"size": "3/4 in", "grade": grade, "hole": hole}), "hole")
    assert made.verdict is verdict
    assert word in made.change


def test_an_oversize_hole_holds_by_friction() -> None:
    """J3.9: 0.30 × 1.13 × 28 kip = 9.492 kip; no pull at all leaves k_sc = 1; Ω = 1.76."""
    free = bolted(
        FOOT, load("pivot 2", x=1e-6), bolt={"size": "3/4 in", "grade": "A325", "hole": "7/8 in"}
    )
    slip = found(free, "slip")
    assert slip.available == near(9.492 / 1.76 * KIP)
    assert "oversize" in found(free, "hole").rule
    keys = {c.key for c in head_fixing(bolted()).checks}
    assert "left/head/slip" not in keys


def test_without_a_hole_the_standard_one_is_a_listed_default() -> None:
    proved = head_fixing(bolted(bolt={"size": "3/4 in", "grade": "A325"}))
    hole = next(q for q in proved.defaults if q.key.endswith("top bolt hole"))
    assert hole.value == pytest.approx(13 / 16 * INCH)


def test_a_bolt_that_does_not_go_through_is_not_reckoned_on() -> None:
    made = head_fixing(bolted(bolt={**A325, "hole": "5/8 in"})).checks
    assert not any("bolts" in c.key for c in made)


# ---------------------------------------------------------------- bolts by hand


def test_bolts_across() -> None:
    """J3-1: 54 ksi × 0.4418 in2 = 23.86 kip; Ω = 2.00, φ = 0.75; a quarter of the push on each."""
    across = found(bolted(), "bolts across")
    assert across.demand == near(125 * LBF)
    assert across.available == near(23.856 / 2.0 * KIP)
    lrfd = found(bolted(method=Method.LRFD), "bolts across")
    assert lrfd.available == near(23.856 * 0.75 * KIP)


def test_bolts_pulled_with_a_prying_plate() -> None:
    """Tipped across 3-1/2 in: 1000/3.5 on two bolts, or 1000/5.75 along; at a corner somewhat more.

    Prying by the AISC Manual, part 9, with p no more than the least spacing, worked by hand.
    """
    pulled = found(bolted(), "bolts pulled")
    assert pulled.demand is not None
    assert pulled.demand / LBF >= 1000 / 3.5 / 2 * 0.999
    b = math.hypot(5.75 / 2, 1.75) - 0.75
    b_prime, p = b - 0.375, min(2 * b, 3.5, b + 1.125)
    a_prime = min(1.125, 1.25 * b) + 0.375
    B = 90 * 0.44179 / 2.0  # no shear to speak of: 1.3 − 2 × 0.28/54 > 1
    delta, rho = 1 - 0.8125 / p, b_prime / a_prime
    t_c = math.sqrt(4 * B * b_prime / (p * 58 / 1.67))
    alpha = min(max(((t_c / 0.5) ** 2 - 1) / (delta * (1 + rho)), 0.0), 1.0)
    assert pulled.available == near(B * (0.5 / t_c) ** 2 * (1 + delta * alpha) * KIP)


def test_the_flange_of_the_beam_pries_too() -> None:
    """W12x26, A992: b = 1.75 − 0.230/2, a = (6.49 − 3.5)/2, t_f 0.380 in, F_u 65 ksi; by hand."""
    bent = found(bolted(), "flange bent")
    b, a = 1.75 - 0.115, 1.495
    edge = 1.125
    b_prime, p = b - 0.375, min(2 * b, 3.5, b + edge)
    a_prime = min(a, 1.25 * b) + 0.375
    B = 90 * 0.44179 / 2.0
    delta, rho = 1 - 0.8125 / p, b_prime / a_prime
    t_c = math.sqrt(4 * B * b_prime / (p * 65 / 1.67))
    alpha = min(max(((t_c / 0.38) ** 2 - 1) / (delta * (1 + rho)), 0.0), 1.0)
    assert bent.available == near(B * (0.38 / t_c) ** 2 * (1 + delta * alpha) * KIP)


def test_what_the_bolts_bear_on() -> None:
    """J3-6a and c on 1/2 in of A36: 2.4 × 0.75 × 0.5 × 58 = 52.2; 1.2 (1.125 − 0.406) 0.5 × 58."""
    plate = found(bolted(), "holes in plate")
    assert plate.available == near(1.2 * (1.125 - 0.40625) * 0.5 * 58 / 2.0 * KIP)


def test_edges_and_spacing() -> None:
    """Table J3.4: 1 in for 3/4 in; J3.4: 2-2/3 × 3/4 = 2 in; oversize adds 1/16 (Table J3.5)."""
    m = bolted()
    assert found(m, "edge of plate").demand == pytest.approx(INCH)
    assert found(m, "bolt spacing").demand == pytest.approx(2 * INCH)
    assert found(m, "edge of carrier").available == pytest.approx((6.49 - 3.5) / 2 * INCH)
    wide = bolted(bolt={**A325, "hole": "7/8 in"})
    assert found(wide, "edge of plate").demand == pytest.approx(17 / 16 * INCH)
    out = bolted(bolt_gauge="4.6 in")
    assert found(out, "edge of plate").verdict is Verdict.SHORT
    assert found(out, "edge of carrier").verdict is Verdict.SHORT


def test_top_plate_is_bent_by_its_pin() -> None:
    """Held 5.75/2 in out along: 1000/2 (1 − 0.75/2.875) lb·in; 36 × 4.712 × 0.5²/4 = 10.60 kip·in.

    π d of its width counts; Ω = 1.67.
    """
    bent = found(bolted(), "plate")
    assert bent.demand == near(500.0 * (1 - 0.75 / 2.875) * LBF * INCH)
    assert bent.available == near(36 * math.pi * 1.5 * 0.25 / 4 / 1.67 * KIP * INCH)
    welded = found(fixed(FOOT, PUSHED, transom=False, **WELDED), "plate")
    assert welded.demand == near(500.0 * (1 - 0.75 / 4.0) * LBF * INCH)


def test_bolts_beside_a_transom_are_bent_over_its_depth() -> None:
    m = fixed(FOOT, PUSHED, **BOLTED, bolt=A325)
    bent = found(m, "bolts bent")
    assert bent.demand is not None
    assert "W12x26" in found(m, "edge of carrier").question
    # The transom is 2-1/2 in deep and packed to the beam: 125 lb × h/2 on a bar of 0.85 × 3/4 in.
    over = m.room.transom
    assert over is not None
    h = 2.5 * INCH + max(gap.value for gap in over.behind)
    M_n = 1.6 * 0.6 * 120 * KSI * math.pi * (0.85 * 0.75 * INCH) ** 3 / 32
    assert bent.demand >= 125 * LBF * h / 2 / (M_n / 1.67) * 0.999
    meets = head_fixing(fixed(FOOT, PUSHED, **{**BOLTED, "bolt_gauge": "2.4 in"}, bolt=A325))
    walls = check(meets, "head/edge of carrier")
    assert walls.verdict is Verdict.SHORT
    assert "through it" in walls.change


# ---------------------------------------------------------------- welds by hand


def test_welds_of_the_top_plate() -> None:
    """3/16 in fillet, E70, ASD: 0.928 kip/in for each sixteenth (AISC Manual, part 8): 2.784.

    Two lines of 8 in, 6 in apart: across 1000/(8 × 6) up and 500/16 along; along, S = 8²/3.
    """
    m = fixed(FOOT, PUSHED, transom=False, **WELDED)
    weld = found(m, "weld")
    assert weld.available == near(2.784 * KIP / INCH)
    along = math.hypot(500 / 16, 1000 / (8**2 / 3))
    across = math.hypot(500 / 16, 1000 / 48)
    assert weld.demand is not None
    assert weld.demand >= max(along, across) * LBF / INCH * 0.999
    # Both ways at once is the most that any way can give.
    assert weld.demand <= math.hypot(500 / 16, 1000 * math.hypot(3 / 64, 1 / 48)) * LBF / INCH
    assert found(m, "weld size").demand == pytest.approx(3 / 16 * INCH)  # Table J2.4, 0.380 in
    assert found(m, "weld edge").available == pytest.approx(7 / 16 * INCH)  # J2.2b(b)


def test_flange_and_web_of_the_beam_under_welds() -> None:
    """J10-1 6.25 × 50 × 0.38² = 45.1 kip, halved at the end and for one side; J10-3 2.5 × 0.68."""
    m = fixed(FOOT, PUSHED, transom=False, **WELDED)
    flange, web = found(m, "flange bent"), found(m, "web")
    assert flange.available == near(45.125 / 4 / 1.67 * KIP)
    assert web.available == near(50 * 0.23 * 2.5 * 0.68 / 1.5 * KIP)
    assert flange.demand == near(1000 / 6 * LBF)


def test_without_a_leg_the_least_is_asked_for() -> None:
    weld = found(fixed(FOOT, PUSHED, transom=False, top_fixed="welded"), "weld")
    assert weld.verdict is Verdict.ASK
    assert "top_weld" in weld.change
    assert weld.demand is not None


def test_a_plate_wider_than_the_tube_is_no_sure_weld() -> None:
    weld = found(fixed(FOOT, PUSHED, **WELDED), "weld")
    assert weld.verdict is Verdict.ASK
    assert "rounded corners" in weld.change
    narrow = {"thickness": "1/2 in", "width": "1-1/2 in", "length": "9 in", "grade": "A36"}
    assert found(fixed(FOOT, PUSHED, **WELDED, top_plate=narrow), "weld").verdict is Verdict.OK


# ---------------------------------------------------------------- what carries it


def test_a_transom_carries_the_head_near_its_end() -> None:
    m = fixed(FOOT, PUSHED, **WELDED)
    made = found(m, "transom")
    assert made.ratio is not None
    # M = M_plate + H × 1.25 in about its middle; HSS 2-1/2 × 2-1/2 × 3/16: Z = 1.30 in3 (AISC
    # Manual, Table 1-12), 46 ksi, Ω = 1.67: upright bending alone, along the doorway.
    upright = (1000 + 500 * 1.25) / 1000 / (46 * 1.30 / 1.67)
    # And pressed along its length, E3 with I = 1.35 in4 and A = 1.54 in2: half of P/P_c (H1-1b).
    over = m.room.transom
    assert over is not None
    F_e = math.pi**2 * 29_000 / (over.length.value / INCH) ** 2 * 1.35 / 1.54
    assert F_e < 46 / 2.25
    pressed = 0.5 / (0.877 * F_e * 1.54 / 1.67)
    # Its own weight, 5.59 lb/ft (Table 1-12), w L²/8 upright in any case.
    own = 5.59 / 12 * (over.length.value / INCH) ** 2 / 8 / 1000 / (46 * 1.30 / 1.67)
    assert made.ratio >= (upright + own + pressed / 2) * 0.99
    assert made.ratio <= (upright + own + pressed / 2) * 1.2
    ends = found(m, "transom ends")
    assert ends.verdict is Verdict.ASK
    # Both leaves of a pair at once: all of the push at the nearer end.
    assert ends.demand == near(500 * LBF)


def test_a_transom_that_the_bolts_pass_beside_holds_its_own_weight_and_the_wind() -> None:
    m = fixed(FOOT, PUSHED, **{**BOLTED, "bolt_gauge": "4-1/2 in"}, bolt=A325)
    over = m.room.transom
    assert over is not None
    made = found(m, "transom")
    assert "its own weight" in made.question
    # HSS 2-1/2 × 2-1/2 × 3/16: 5.59 lb/ft, Z = 1.30 in3 (AISC Manual, Table 1-12); 46 ksi, 1.67.
    L = over.length.value / INCH
    wind = m.proof.wind
    assert isinstance(wind, LeafWind)
    psi = max(p.on_solid for p in wind.panels) * wind.factors.strength / (LBF / INCH**2)
    moments = (5.59 / 12 + psi * 2.5) * L**2 / 8 / 1000
    # The table has three figures of each, and its tube its own corner radius.
    assert made.ratio == pytest.approx(moments / (46 * 1.30 / 1.67), rel=0.02)


def test_wind_bends_a_transom_only_where_it_blows() -> None:
    windy = replace(PUSHED, case="wind on face", situation="wind on face")
    calm, blown = (found(fixed(FOOT, load, **WELDED), "transom") for load in (PUSHED, windy))
    assert "wind sideways" not in calm.rule
    assert "wind sideways" in blown.rule
    assert blown.ratio is not None and calm.ratio is not None
    assert blown.ratio > calm.ratio


def test_how_far_the_transom_gives() -> None:
    m = fixed(FOOT, PUSHED, **WELDED)
    give = found(m, "give")
    H = max(
        math.hypot(r.x, r.z)
        for r in m.proof.reactions
        if r.situation == "standing" and r.place == "pivot 2"
    )
    over = m.room.transom
    assert over is not None
    L = over.length.value
    a = m.place.heel_gap.value + m.place.axis.value
    E, I = 29_000 * KSI, 1.35 * INCH**4  # AISC Manual, Table 1-12  # noqa: E741
    # Table 3-23, case 8, a < b: P a (L² − a²)^1.5/(9 √3 L E I), twice for the pair.
    delta = 2 * H * a * (L**2 - a**2) ** 1.5 / (9 * math.sqrt(3) * L * E * I)
    drop = delta * m.place.width.value / m.place.height.value
    assert give.demand == pytest.approx(drop, rel=0.01)
    assert give.available == m.proof.wishes.sag_limit.value


def test_what_keeps_the_beam_from_rolling_is_asked_with_what_rolls_it() -> None:
    roll = found(bolted(), "rolling")
    assert roll.verdict is Verdict.ASK
    # 1000 lb·in and 500 lb × 12.2/2 in.
    assert roll.demand == near((1000 + 500 * 6.1) * LBF * INCH)
    assert "500 lbf" in roll.change


def test_a_beam_of_unknown_steel_is_asked_once_with_its_use() -> None:
    made = head_fixing(bolted(building={"beam_grade": "unknown"})).checks
    asked = [c for c in made if c.verdict is Verdict.ASK and "beam_grade" in c.change]
    assert [c.key for c in asked] == ["left/head/beam"]
    assert asked[0].ratio is not None
    assert "coupon" in asked[0].change
    welded = head_fixing(
        fixed(FOOT, PUSHED, transom=False, **WELDED, building={"beam_grade": "unknown"})
    ).checks
    asked = [c for c in welded if "beam_grade" in c.change]
    assert [c.key for c in asked] == ["left/head/beam"]
    assert "may not weld" in asked[0].change


@pytest.mark.parametrize(
    ("said", "word"),
    [
        ({"top_fixed": "unknown"}, "top_fixed"),
        ({"top_plate": None}, "top_plate"),
        ({"building": {"beam": "unknown"}}, "W12x26"),
        ({"building": {"beam": "reinforced concrete lintel"}}, "anchors overhead"),
        ({"building": {"beam": "wood beam"}}, "lag screws"),
        ({"bolt": None}, "top_bolts"),
        ({"top_bolts": None}, "top_bolts"),
        ({"top_bolts": 3}, "2, 4 or 6"),
        ({"bolt": {"size": "3/8 in", "grade": "A325"}}, "no table"),
    ],
)
def test_what_is_not_known_is_asked_with_the_forces(said: dict[str, Any], word: str) -> None:
    asked = check(head_fixing(bolted(**said)), "head")
    assert asked.verdict is Verdict.ASK
    assert asked.demand == near(500 * LBF)
    assert word in asked.change
    assert "500 lbf sideways" in asked.change


def test_a_top_pin_whose_length_is_not_known_leaves_its_moment_open() -> None:
    made = head_fixing(bolted(top_pin_length=None))
    asked = [c for c in made.checks if "top_pin_length" in c.change]
    assert asked
    assert all(c.verdict is Verdict.ASK for c in asked)
    assert not any(c.verdict is Verdict.OK and "pulled" in c.key for c in made.checks)


# ---------------------------------------------------------------- through the file


def test_a_hole_changed_in_the_file_changes_the_verdict() -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    assert 'hole = "9/16 in"' in text
    before = {c.key: c for c in plan(read_job(text), upto="proof").checks}
    small = text.replace('hole = "9/16 in"', 'hole = "7/16 in"')
    made = plan(read_job(small), upto="proof")
    after = {c.key: c for c in made.checks}
    assert before["left/head/hole"].verdict is Verdict.OK
    assert after["left/head/hole"].verdict is Verdict.SHORT
    assert made.stops


# ---------------------------------------------------------------- what always holds


def random_said(rng: random.Random) -> dict[str, Any]:
    bolt = {
        "size": rng.choice(["1/2 in", "5/8 in", "3/4 in", "M16"]),
        "grade": rng.choice(["A325", "A307", "8.8", "unknown"]),
        "hole": rng.choice([None, "9/16 in", "13/16 in", "7/8 in"]),
    }
    return {
        "top_fixed": rng.choice(["bolted", "bolted", "welded", "unknown"]),
        "top_bolts": rng.choice([2, 4, 6]),
        "bolt_gauge": rng.choice([None, "1 in", "3 in", "3.5 in"]),
        "bolt": {key: value for key, value in bolt.items() if value is not None},
        "top_weld": rng.choice([None, "3/16 in", "1/4 in"]),
        "transom": rng.choice([True, False]),
        "building": {"beam_grade": rng.choice(["A992", "A36", "unknown"])},
    }


def random_loads(rng: random.Random, by: float = 1.0) -> tuple[PivotLoad, ...]:
    x, z, m = (by * rng.uniform(-1, 1) * most for most in (1500 * LBF, 1500 * LBF, 200.0))
    return (
        FOOT,
        load("pivot 2", x=x, z=z),
        load("pivot 2", situation="person, clamped", x=x, z=z, mz=m),
    )


@pytest.mark.parametrize("seed", range(cases(20, 400)))
def test_more_load_never_raises_a_margin(seed: int) -> None:
    said = random_said(random.Random(seed))
    by = 1.0 + random.Random(seed).random() * 2.0
    light = fixed(*random_loads(random.Random(seed)), **said)
    heavy = fixed(*random_loads(random.Random(seed), by), **said)
    before = {c.key: c for c in head_fixing(light).checks}
    after = head_fixing(heavy).checks
    assert {c.key for c in after} == set(before)
    for made in after:
        old = before[made.key]
        if made.ratio is not None and old.ratio is not None:
            assert made.ratio >= old.ratio * (1 - 1e-6), made.key
        assert ORDER[made.verdict] >= ORDER[old.verdict], made.key


@pytest.mark.parametrize("seed", range(cases(20, 400)))
def test_nothing_is_ok_without_a_demand_and_every_formula_can_be_worked_again(seed: int) -> None:
    rng = random.Random(seed)
    proved = head_fixing(fixed(*random_loads(rng), **random_said(rng)))
    assert len({c.key for c in proved.checks}) == len(proved.checks)
    assert proved.words
    assert_honest(proved.checks)


def test_a_hole_that_the_job_does_not_give_is_a_default_and_no_check() -> None:
    bolt = {"size": "1/2-13", "grade": "A325"}
    proved = head_fixing(bolted(bolt=bolt))
    assert not [c for c in proved.checks if c.key.endswith("head/hole")]
    assert "hole for the top plate's bolts" in {q.name for q in proved.defaults}
