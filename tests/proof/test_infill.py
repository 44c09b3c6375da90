"""Infill: bending by hand, fixings, heat, and what is asked of a data sheet or a licensed trade."""

from __future__ import annotations

import math
from typing import Any

import pytest

from leafwright.frame.of_leaf import GRAVITY
from leafwright.proof import LeafProof
from leafwright.records import Check, Verdict
from tests.leaves import INCH
from tests.proof.proofs import LBF, check, proved

PSI, PSF = 6894.757293168362, 47.88025898
MM = 1e-3
SHEET = {"kind": "sheet", "thickness": "3 mm"}
BOARDS = {"kind": "boards", "thickness": "20 mm", "density": "400 kg/m3"}
CLEAR = {"kind": "polycarbonate", "thickness": "8 mm", "density": "1200 kg/m3"}
TWIN = {"kind": "twin-wall", "thickness": "10 mm", "mass_per_area": "1.7 kg/m2"}
#: 2 in tube all round a leaf of 1 m x 2 m: from middle to middle of its tubes.
B, A = 1.0 - 2 * INCH, 2.0 - 2 * INCH


def filled(*infill: dict[str, Any], tables: dict[str, Any] | None = None) -> LeafProof:
    return proved(1.0, 2.0, infill=list(infill), tables=tables)[1]


def asked(proof: LeafProof) -> set[str]:
    return {c.key.removeprefix("leaf/") for c in proof.checks if c.verdict is Verdict.ASK}


def value(found: Check) -> float:
    assert found.demand is not None
    return found.demand


# ---------------------------------------------------------------- bending


def test_boards_are_strips_along_the_longer_side() -> None:
    proof = filled(BOARDS)
    p, t = 5 * PSF, 20 * MM
    stress, bow = check(proof, "boards-1-back/wind"), check(proof, "boards-1-back/wind bow")
    # p L2/8 over t2/6, and 5 p L4/(384 E t3/12), a metre wide (AISC Manual, Table 3-23 case 1).
    assert stress.demand == pytest.approx(p * A**2 / 8 / (t**2 / 6), rel=1e-3)
    assert stress.available == pytest.approx(1100 * PSI)
    E = 1.0e6 * PSI
    assert bow.demand == pytest.approx(5 * p * A**4 / (384 * E * t**3 / 12), rel=1e-3)
    assert bow.available == pytest.approx(A / 60)
    # 50 lb in the middle of what is leaned on, a foot of boards wide: W L/4.
    leaning = check(proof, "boards-1-back/leaning")
    foot = 12 * INCH
    assert leaning.demand == pytest.approx(50 * LBF * A / 4 / (foot * t**2 / 6))


def test_boards_that_hold_only_the_short_way_are_asked_about_once() -> None:
    # 1 m x 4 m, nobody says which way they run: 4 m of 20 mm boards fail, 1 m holds.
    _, proof = proved(1.0, 4.0, infill=[{**BOARDS, "on": "both"}])
    (run,) = [c for c in proof.checks if c.key.endswith("/run")]
    assert run.verdict is Verdict.ASK
    assert "short way of panel 1" in run.question
    foot, t = 12 * INCH, 20 * MM
    leaning = check(proof, "boards-1-back/leaning")
    assert leaning.verdict is Verdict.OK
    assert leaning.demand == pytest.approx(50 * LBF * B / 4 / (foot * t**2 / 6))
    assert "shorter side" in leaning.rule
    # Where neither way holds they are short, and nothing is left to ask.
    _, thin = proved(1.0, 4.0, infill=[{**BOARDS, "thickness": "8 mm"}])
    assert check(thin, "boards-1-back/leaning").verdict is Verdict.SHORT
    assert "boards/run" not in asked(thin)
    assert "boards/run" not in asked(filled(BOARDS))


@pytest.mark.parametrize(("runs", "along"), [("up", 4.0), ("across", 1.0)])
def test_boards_are_proved_the_way_that_they_run(runs: str, along: float) -> None:
    """1 m x 4 m of 20 mm boards: W L/4 over the way that the job gives; nothing is asked of it."""
    _, proof = proved(1.0, 4.0, infill=[{**BOARDS, "runs": runs}])
    assert not any(c.key.endswith("/run") for c in proof.checks)
    leaning = check(proof, "boards-1-back/leaning")
    long, foot, t = along - 2 * INCH, 12 * INCH, 20 * MM
    assert leaning.demand == pytest.approx(50 * LBF * long / 4 / (foot * t**2 / 6))
    assert leaning.verdict is (Verdict.SHORT if runs == "up" else Verdict.OK)
    assert ("run the short way" in leaning.change) == (runs == "up")


def test_sheet_is_a_plate_on_four_simple_edges() -> None:
    # Roark's Formulas, 7th edition, Table 11.4 case 1a, a/b = 2.06: beta 0.614, alpha 0.1119,
    # between the rows of 2 and 3 by straight lines in b/a.
    proof = filled({**SHEET, "thickness": "6 mm"})
    p, t = 5 * PSF, 6 * MM
    inverse = (1 / 2 - B / A) / (1 / 2 - 1 / 3)
    beta = 0.6102 + inverse * (0.7134 - 0.6102)
    alpha = 0.1110 + inverse * (0.1335 - 0.1110)
    stress = check(proof, "sheet-1-back/wind")
    assert stress.demand == pytest.approx(beta * p * B**2 / t**2, rel=1e-3)
    assert stress.available == pytest.approx(18000 * PSI)
    bow = check(proof, "sheet-1-back/wind bow")
    assert bow.demand == pytest.approx(alpha * p * B**4 / (29.0e6 * PSI * t**3), rel=1e-3)
    assert bow.available == pytest.approx(B / 60)


def test_thin_sheet_past_its_formula_is_asked_and_not_called_short() -> None:
    proof = filled({**SHEET, "thickness": "1 mm"})
    bow = check(proof, "sheet-1-back/wind bow")
    assert bow.verdict is Verdict.ASK
    assert "membrane" in bow.rule
    assert bow.demand is None
    pull = check(proof, "sheet-1-back/edge pull")
    assert pull.verdict is Verdict.ASK
    assert "edges slide" in pull.change
    stiff = filled({**SHEET, "thickness": "6 mm"})
    assert not [c for c in stiff.checks if c.key.endswith("edge pull")]
    thick = check(stiff, "sheet-1-back/wind bow")
    assert thick.verdict is Verdict.OK
    assert "membrane" not in thick.rule


def test_wind_on_infill_is_the_unfactored_wind_by_either_method() -> None:
    tables: dict[str, Any] = {
        "wind": {"standard": "ASCE 7-22", "speed": "105 mph", "exposure": "C"},
        "opening": {"head": False},
    }
    by_method = [
        value(check(filled(BOARDS, tables={**tables, "basis": {"method": m}}), BOARD_WIND))
        for m in ("ASD", "LRFD")
    ]
    assert by_method[0] == pytest.approx(by_method[1])
    on = filled(BOARDS, tables=tables).wind
    pressure = 0.6 * on.panels[0].on_solid  # type: ignore[union-attr]
    assert by_method[0] == pytest.approx(pressure * A**2 / 8 / ((20 * MM) ** 2 / 6))


BOARD_WIND = "boards-1-back/wind"


def test_data_of_the_maker_win() -> None:
    own = {**BOARDS, "elastic_modulus": "12 GPa", "bending_strength": "9 MPa"}
    soft, stiff = filled(BOARDS), filled(own)
    assert check(stiff, BOARD_WIND).available == pytest.approx(9e6)
    a, b = (value(check(p, "boards-1-back/wind bow")) for p in (soft, stiff))
    assert b / a == pytest.approx(1.0e6 * PSI / 12e9)
    taken = {q.name: q.kind for q in stiff.wishes.taken}
    assert taken["boards: stiffness"] == "wish"


@pytest.mark.parametrize("kind", [BOARDS, CLEAR, {**SHEET, "thickness": "5 mm"}])
def test_thicker_is_stronger_and_stiffer(kind: dict[str, Any]) -> None:
    thicker = {**kind, "thickness": "25 mm"}
    name = kind["kind"]
    for tail, power in (("wind", 2), ("wind bow", 3), ("leaning", 2)):
        a, b = (check(filled(k), f"{name}-1-back/{tail}") for k in (kind, thicker))
        if a.demand is None or b.demand is None:
            continue
        times = 25.0 / float(str(kind["thickness"]).split()[0])
        assert a.demand / b.demand == pytest.approx(times**power, rel=1e-6)


# ---------------------------------------------------------------- fixings


def test_screws_of_a_sheet_by_hand() -> None:
    # AISI S100-16, J4.4.1 and J4.4.2, over 3.0: out of the 0.120 in wall, and over a 5/16 in head.
    leaf, proof = proved(1.0, 2.0, infill=[{**SHEET, "screw": "0.19 in", "fixing_spacing": "6 in"}])
    screws = check(proof, "sheet-1-back/screws")
    tube = leaf.members[0].section
    out = 0.85 * tube.design_wall * 0.19 * INCH * tube.tensile_strength
    over = 1.5 * 3 * MM * 5 / 16 * INCH * 45000 * PSI
    assert screws.available == pytest.approx(min(out, over) / 3.0)
    # gamma = 0.503 to 0.505 of Roark's Table 11.4 case 1a, times p b, times 6 in.
    assert screws.demand == pytest.approx(0.504 * 5 * PSF * B * 6 * INCH, rel=3e-3)
    assert "sheet/fixings" not in asked(proof)


def test_fixings_not_told_are_asked_and_so_is_what_holds_under_a_head() -> None:
    assert "sheet/fixings" in asked(filled(SHEET))
    screwed = {**BOARDS, "screw": "5 mm", "fixing_spacing": "200 mm"}
    proof = filled(screwed)
    assert check(proof, "boards-1-back/screws").verdict is Verdict.OK
    assert "heads" in check(proof, "boards/fixings").question
    # A screw past 1/4 in is a bolt, which the screws' rules do not cover.
    bolted = filled({**SHEET, "screw": "10 mm", "fixing_spacing": "200 mm"})
    assert "sheet/fixings" in asked(bolted)
    assert not [c for c in bolted.checks if c.key.endswith("/screws")]


# ---------------------------------------------------------------- asked


def test_glass_is_always_asked_of_a_licensed_glazier() -> None:
    pane = {"kind": "glass", "thickness": "6 mm", "density": "2500 kg/m3"}
    given = {**pane, "elastic_modulus": "70 GPa", "bending_strength": "20 MPa"}
    for glass in (pane, given):
        proof = filled(glass)
        glazing = check(proof, "glass/glazing")
        assert glazing.verdict is Verdict.ASK
        assert "licensed glazier" in glazing.change
        assert not [c for c in proof.checks if "glass-1" in c.key]


def test_plastic_burns_and_is_asked_about() -> None:
    for plastic in (CLEAR, TWIN):
        fire = check(filled(plastic), f"{plastic['kind']}/fire")
        assert fire.verdict is Verdict.ASK
        assert "burns" in fire.change
    assert not [c for c in filled(SHEET).checks if "fire" in c.key]


def test_twin_wall_is_asked_for_its_data_until_given() -> None:
    missing = check(filled(TWIN), "twin-wall/strength")
    assert "bending_strength, elastic_modulus" in missing.change
    given = filled({**TWIN, "elastic_modulus": "250 MPa", "bending_strength": "4 MPa"})
    assert "twin-wall/strength" not in asked(given)
    bow = check(given, "twin-wall-1-back/wind bow")
    assert bow.verdict is Verdict.ASK or bow.available == pytest.approx(B / 25)


def test_mesh_and_light_sheet_are_asked_for_their_makers_data() -> None:
    mesh = {"kind": "mesh", "opening": "40 mm", "wire": "4 mm"}
    assert {"mesh/strength", "mesh/fixings"} <= asked(filled(mesh))
    light = {**SHEET, "density": "2700 kg/m3"}
    assert "sheet/strength" in asked(filled(light))


def test_each_kind_is_asked_once_and_each_piece_proved() -> None:
    _, proof = proved(1.0, 2.0, mid_rail=[{"at": "half"}], infill=[{**BOARDS, "on": "both"}])
    keys = [c.key for c in proof.checks]
    assert len(keys) == len(set(keys))
    assert keys.count("leaf/boards/fixings") == 1
    pieces = {f"leaf/boards-{n}-{face}/wind" for n in (1, 2) for face in ("face", "back")}
    assert pieces <= set(keys)


# ---------------------------------------------------------------- heat


def test_plastic_grows_past_its_frame_by_hand() -> None:
    # 65e-6 less 12e-6 a degree; 10 to 40 degrees, fitted at 20: up 20, down 10 K.
    tables: dict[str, Any] = {
        "opening": {"survey_temperature": "20 C"},
        "building": {"least_temperature": "10 C", "greatest_temperature": "40 C"},
        "doorway": {"leaves": "pair", "running_clearance": "5 mm"},
    }
    proof = filled({**CLEAR, "screw": "6 mm"}, tables=tables)
    heat = check(proof, "polycarbonate-1-back/heat")
    assert heat.demand == pytest.approx(53e-6 * 0.5 * 20.0)
    assert heat.available == pytest.approx(0.005)
    (room,) = proof.infill
    assert room.slot == pytest.approx(0.006 + 53e-6 * 1.0 * 30.0 + 2 * INCH / 16)
    assert room.gap == pytest.approx(53e-6 * 2.0 * 20.0)
    assert "slots" in heat.rule and "gap" in heat.rule


def test_long_plastic_sheet_moves_as_the_trade_has_it() -> None:
    # 14'-6 of polycarbonate over 60 degrees Fahrenheit moves about 0.4 in (0.065 mm a metre and
    # degree, its producers' association); its steel frame 0.07 of it.
    tables: dict[str, Any] = {
        "opening": {"survey_temperature": "60 F"},
        "building": {"least_temperature": "60 F", "greatest_temperature": "120 F"},
    }
    _, proof = proved(1.1, 174 * INCH, infill=[CLEAR], tables=tables)
    (room,) = proof.infill
    assert room.gap / INCH == pytest.approx(0.377 - 0.070, abs=0.003)


def test_steel_sheet_grows_with_its_frame() -> None:
    proof = filled(SHEET)
    assert proof.infill == ()
    assert not [c for c in proof.checks if c.key.endswith("/heat")]


def test_boards_grow_less_than_their_frame() -> None:
    proof = filled(BOARDS)
    assert not [c for c in proof.checks if c.key.endswith("/heat")]
    (room,) = proof.infill
    assert room.slot > room.screw


# ---------------------------------------------------------------- water or ice


def test_water_or_ice_hangs_on_the_leaf_wherever_it_is_clad() -> None:
    dry = filled(SHEET)
    wet = filled(SHEET, tables={"loads": {"water_or_ice": "10 kg/m2"}})
    more = 10.0 * 1.0 * 2.0 * GRAVITY
    for situation in ("standing", "person", "pushed", "wind on face"):
        a, b = (sum(r.y for r in p.reactions if r.situation == situation) for p in (dry, wet))
        assert b - a == pytest.approx(more), situation
    lifted = [sum(r.y for r in p.reactions if r.situation == "lifted") for p in (dry, wet)]
    assert lifted[0] == pytest.approx(lifted[1])
    assert any("water or ice" in word for word in wet.assumptions)
    # Its sag is held against the same limit, with it.
    assert value(check(wet, "nose sag")) > value(check(dry, "nose sag"))


def test_leaning_on_a_sheet_by_roark() -> None:
    # Table 11.4 case 1b: 3 W / (2 pi t2) [1.3 ln(2 b / (pi r)) + beta], beta 0.958 to 1 over 2:1.
    proof = filled({**SHEET, "thickness": "6 mm"})
    t, r = 6 * MM, 12 * INCH / math.sqrt(math.pi)
    beta = 0.958 + (1 / 2 - B / A) / (1 / 2) * (1.0 - 0.958)
    stress = 3 * 50 * LBF / (2 * math.pi * t**2) * (1.3 * math.log(2 * B / (math.pi * r)) + beta)
    assert check(proof, "sheet-1-back/leaning").demand == pytest.approx(stress, rel=1e-6)
