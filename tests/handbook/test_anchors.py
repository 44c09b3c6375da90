"""How the anchor formulas behave: edges, loads, units, arrays, and what they refuse."""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest
from scipy.optimize import nnls

from leafwright.handbook import anchor_group, en1992_4
from leafwright.handbook.aci318 import Edition, Kind, bond, limits, shear, strength, tension
from leafwright.handbook.aci318.shear import EdgeSteel
from leafwright.records import Held, Point2
from tests.sizes import cases

FAR = math.inf
RANDOM = range(cases(25, 500))


def aci_tension(f_c: float, h_ef: float, edge: float, edition: Edition = Edition.US) -> float:
    """Return N_cb of one cast-in anchor with one edge, cracked [N]."""
    found = tension.tension_breakout(
        tension.tension_breakout_area(h_ef, (edge, FAR, FAR, FAR), [], []),
        tension.tension_breakout_area_single(h_ef),
        tension.basic_tension_breakout(
            f_c, h_ef, 24.0 if edition is Edition.US else 10.0, edition=edition
        ),
        psi_ed_N=tension.psi_ed_N(edge, h_ef),
    )
    return float(found)


def aci_shear(
    f_c: float, c_a1: float, c_a2: float, h_a: float, edition: Edition = Edition.US
) -> float:
    """Return V_cb of one 16 mm anchor, cracked [N]."""
    found = shear.shear_breakout(
        shear.shear_breakout_area(c_a1, (c_a2, FAR), [], h_a),
        shear.shear_breakout_area_single(c_a1),
        shear.basic_shear_breakout(f_c, c_a1, 0.016, 0.1, edition=edition),
        psi_ed_V=shear.psi_ed_V(c_a2, c_a1),
        psi_h_V=shear.psi_h_V(h_a, c_a1),
    )
    return float(found)


def ec_tension(f_ck: float, h_ef: float, edge: float) -> float:
    """Return N_Rk,c of one headed fastener with one edge, cracked [N]."""
    reach = 1.5 * h_ef
    found = en1992_4.resistance_of_group(
        en1992_4.N0_Rk_c(8.9, f_ck, h_ef),
        en1992_4.A_c_N(reach, (edge, FAR, FAR, FAR), [], []),
        en1992_4.A_c_N(reach, (FAR,) * 4, [], []),
        [en1992_4.psi_s_N(edge, reach)],
    )
    return float(found)


def ec_shear(f_ck: float, c_1: float, c_2: float, h: float) -> float:
    """Return V_Rk,c of one 16 mm fastener, cracked [N]."""
    found = en1992_4.resistance_of_group(
        en1992_4.V0_Rk_c(f_ck, c_1, 0.016, 0.1, cracked=True),
        en1992_4.A_c_V(c_1, (c_2, FAR), [], h),
        4.5 * c_1**2,
        [en1992_4.psi_s_V(c_2, c_1), en1992_4.psi_h_V(h, c_1)],
    )
    return float(found)


@pytest.mark.parametrize("seed", RANDOM)
def test_nearer_an_edge_is_never_stronger(seed: int) -> None:
    random = Random(seed)
    f_c, h_ef = random.uniform(15e6, 50e6), random.uniform(0.05, 0.25)
    near, far = sorted(random.uniform(0.04, 0.5) for _ in range(2))
    thick, side = random.uniform(0.8, 1.5), random.uniform(0.04, 0.5)
    assert aci_tension(f_c, h_ef, near) <= aci_tension(f_c, h_ef, far) * (1 + 1e-12)
    assert ec_tension(f_c, h_ef, near) <= ec_tension(f_c, h_ef, far) * (1 + 1e-12)
    assert aci_shear(f_c, near, FAR, thick) < aci_shear(f_c, far, FAR, thick)
    assert ec_shear(f_c, near, FAR, thick) < ec_shear(f_c, far, FAR, thick)
    assert aci_shear(f_c, side, near, thick) <= aci_shear(f_c, side, far, thick) * (1 + 1e-12)
    assert ec_shear(f_c, side, near, thick) <= ec_shear(f_c, side, far, thick) * (1 + 1e-12)


@pytest.mark.parametrize("seed", RANDOM)
def test_a_thinner_member_or_closer_anchors_are_never_stronger(seed: int) -> None:
    random = Random(seed)
    c = random.uniform(0.05, 0.4)
    thin, thick = sorted(random.uniform(0.08, 0.6) for _ in range(2))
    assert aci_shear(25e6, c, FAR, thin) <= aci_shear(25e6, c, FAR, thick) * (1 + 1e-12)
    assert ec_shear(25e6, c, FAR, thin) <= ec_shear(25e6, c, FAR, thick) * (1 + 1e-12)
    close, wide = sorted(random.uniform(0.05, 0.6) for _ in range(2))
    for reach in (0.1, 0.3):
        areas = [en1992_4.A_c_N(reach, (FAR,) * 4, [s], []) for s in (close, wide)]
        assert areas[0] <= areas[1]
    bonds = [bond.bond_area(0.15, (FAR,) * 4, [s], []) for s in (close, wide)]
    assert bonds[0] <= bonds[1]
    assert bonds[1] <= 2 * bond.bond_area_single(0.15)


@pytest.mark.parametrize("seed", RANDOM)
def test_more_load_never_raises_a_margin(seed: int) -> None:
    random = Random(seed)
    N, V = random.uniform(0.0, 1.2), random.uniform(0.0, 1.2)
    more_N, more_V = N + random.uniform(0.0, 0.5), V + random.uniform(0.0, 0.5)
    for use in (
        strength.anchor_interaction,
        strength.anchor_interaction_by_power,
        en1992_4.interaction_steel,
        en1992_4.interaction_concrete,
    ):
        assert use(N, V) <= use(more_N, V) + 1e-12
        assert use(N, V) <= use(N, more_V) + 1e-12


def test_the_editions_agree_but_for_rounding() -> None:
    """ACI 318M-19 rounds its coefficients: within 4 % of the inch-pound ones everywhere."""
    for size in (0.06, 0.1, 0.25):
        us, metric = (aci_tension(25e6, size, 0.1, edition) for edition in Edition)
        assert metric == pytest.approx(us, rel=0.04)
        us, metric = (aci_shear(25e6, size, FAR, 1.0, edition) for edition in Edition)
        assert metric == pytest.approx(us, rel=0.04)
    inches, millimetres = (
        bond.critical_bond_distance(0.02, 15e6, edition=edition) for edition in Edition
    )
    assert millimetres == pytest.approx(inches, rel=0.01)


def test_formulas_broadcast() -> None:
    h_ef, edge = np.array([0.06, 0.1, 0.2]), np.array([0.05, 0.2, FAR])
    A_Nc = tension.tension_breakout_area(h_ef, (edge, FAR, FAR, FAR), [0.1], [])
    single = [
        tension.tension_breakout_area(h, (e, FAR, FAR, FAR), [0.1], [])
        for h, e in zip(h_ef, edge, strict=True)
    ]
    assert A_Nc == pytest.approx(np.array(single))
    use = strength.anchor_interaction(np.array([0.1, 0.5]), np.array([0.9, 0.6]))
    assert use == pytest.approx(np.array([0.9, 1.1 / 1.2]))
    both = np.asarray(en1992_4.V0_Rk_c(25e6, np.array([0.1, 0.2]), 0.016, 0.1, cracked=True))
    assert both[0] == pytest.approx(en1992_4.V0_Rk_c(25e6, 0.1, 0.016, 0.1, cracked=True))


# --- the plate ----------------------------------------------------------------------------------

CORNERS: tuple[Point2, ...] = ((-0.15, -0.2), (0.15, -0.2), (0.15, 0.2), (-0.15, 0.2))


def some_plate(random: Random) -> tuple[list[Point2], float, float, float]:
    """Return anchors within the corners, a force and two moments."""
    anchors = [
        (random.uniform(-0.14, 0.14), random.uniform(-0.19, 0.19))
        for _ in range(random.randint(1, 6))
    ]
    return (
        anchors,
        random.uniform(-10e3, 10e3),
        random.uniform(-3e3, 3e3),
        random.uniform(-3e3, 3e3),
    )


@pytest.mark.parametrize("seed", RANDOM)
def test_plate_is_in_equilibrium(seed: int) -> None:
    anchors, N, M_x, M_y = some_plate(Random(seed))
    found = anchor_group.plate_forces(anchors, CORNERS, N, M_x, M_y)
    forces = [
        *zip(anchors, found.tension, strict=True),
        *((corner, -press) for corner, press in found.presses),
    ]
    assert sum(force for _, force in forces) == pytest.approx(N, abs=1e-4)
    assert sum(force * y for (_, y), force in forces) == pytest.approx(M_x, abs=1e-4)
    assert -sum(force * x for (x, _), force in forces) == pytest.approx(M_y, abs=1e-4)
    assert min(found.tension) >= 0.0
    assert all(press >= 0.0 for _, press in found.presses)


@pytest.mark.parametrize("seed", RANDOM)
def test_plate_stores_least_energy(seed: int) -> None:
    """Against least squares with signs: of all balanced pulls and presses, Σ T² is the least."""
    anchors, N, M_x, M_y = some_plate(Random(seed))
    found = anchor_group.plate_forces(anchors, CORNERS, N, M_x, M_y)
    columns = [(1.0, x / 0.1, y / 0.1) for x, y in anchors]
    columns += [(-1.0, -x / 0.1, -y / 0.1) for x, y in CORNERS]
    balance = np.array(columns).T * 1e4
    energy = np.eye(len(anchors), len(columns))
    load = np.array([N, -M_y / 0.1, M_x / 0.1]) * 1e4
    other, _ = nnls(np.vstack([balance, energy]), np.concatenate([load, np.zeros(len(anchors))]))
    assert found.tension == pytest.approx(other[: len(anchors)], abs=3.0, rel=1e-4)


@pytest.mark.parametrize("seed", RANDOM)
def test_plate_does_not_depend_on_units(seed: int) -> None:
    anchors, N, M_x, M_y = some_plate(Random(seed))
    found = anchor_group.plate_forces(anchors, CORNERS, N, M_x, M_y)
    in_inches = anchor_group.plate_forces(
        [(x / 0.0254, y / 0.0254) for x, y in anchors],
        [(x / 0.0254, y / 0.0254) for x, y in CORNERS],
        N / 4.448,
        M_x / 4.448 / 0.0254,
        M_y / 4.448 / 0.0254,
    )
    again = tuple(pull * 4.448 for pull in in_inches.tension)
    assert again == pytest.approx(found.tension, rel=1e-6, abs=1e-3)
    twice = anchor_group.plate_forces(anchors, CORNERS, 2 * N, 2 * M_x, 2 * M_y)
    assert twice.total_tension == pytest.approx(2 * found.total_tension, abs=1e-3)


def test_a_stiff_outline_that_is_smaller_pulls_harder() -> None:
    anchors: list[Point2] = [(0.0, 0.1), (0.0, -0.1)]
    inner = [(x / 1.5, y / 1.5) for x, y in CORNERS]
    whole = anchor_group.plate_forces(anchors, CORNERS, 0.0, 1000.0, 0.0)
    smaller = anchor_group.plate_forces(anchors, inner, 0.0, 1000.0, 0.0)
    assert max(smaller.tension) > max(whole.tension)


@pytest.mark.parametrize("seed", RANDOM)
def test_shear_is_in_equilibrium(seed: int) -> None:
    random = Random(seed)
    anchors, V_x, V_y, _ = some_plate(random)
    anchors = [*anchors, (0.0, 0.0), (0.05, 0.05)]
    at = (random.uniform(-0.5, 0.5), random.uniform(-0.5, 0.5))
    found = anchor_group.shear_forces(anchors, V_x, V_y, at)
    assert sum(x for x, _ in found) == pytest.approx(V_x)
    assert sum(y for _, y in found) == pytest.approx(V_y)
    turning = sum(a[0] * f[1] - a[1] * f[0] for a, f in zip(anchors, found, strict=True))
    assert turning == pytest.approx(at[0] * V_y - at[1] * V_x)


def test_one_anchor_in_shear_takes_it_all_but_no_turning() -> None:
    assert anchor_group.shear_forces([(0.1, 0.1)], 3.0, 4.0, (0.1, 0.1)) == ((3.0, 4.0),)
    with pytest.raises(ValueError, match=r"at = \(0.2, 0.1\).*one anchor cannot.*add an anchor"):
        anchor_group.shear_forces([(0.1, 0.1)], 3.0, 4.0, (0.2, 0.1))


@pytest.mark.parametrize("seed", RANDOM)
def test_a_thinner_plate_pries_harder(seed: int) -> None:
    random = Random(seed)
    stub = anchor_group.tee_stub(
        random.uniform(0.03, 0.06),
        random.uniform(0.02, 0.08),
        0.016,
        0.018,
        random.uniform(0.05, 0.1),
    )
    B = random.uniform(10e3, 60e3)
    t_c = anchor_group.thickness_without_prying(B, 400e6, stub)
    thin, thick = sorted(random.uniform(0.3, 1.2) * float(t_c) for _ in range(2))
    least = anchor_group.available_tension_with_prying(B, thin, t_c, stub)
    assert least <= anchor_group.available_tension_with_prying(B, thick, t_c, stub) * (1 + 1e-12)
    T = 0.99 * float(least)
    harder = anchor_group.prying_force(T, B, thin, t_c, stub)
    assert harder >= anchor_group.prying_force(T, B, thick, t_c, stub) - 1e-6
    assert T + harder <= B * (1 + 1e-9)
    assert anchor_group.prying_force(T, B, thin, t_c, stub) >= anchor_group.prying_force(
        0.5 * T, B, thin, t_c, stub
    )
    assert math.isnan(anchor_group.prying_force(1.01 * least, B, thin, t_c, stub))


# --- what is refused ----------------------------------------------------------------------------


def test_refusals_of_aci_name_the_value_and_what_to_do() -> None:
    with pytest.raises(ValueError, match=r"h_ef = -0.1: must be above 0; give the magnitude"):
        tension.tension_breakout_area_single(-0.1)
    with pytest.raises(ValueError, match=r"k_c = 25.0: ACI 318-19 allows up to 24 .*data sheet"):
        tension.basic_tension_breakout(25e6, 0.1, 25.0)
    with pytest.raises(ValueError, match=r"k_c = 17.0: ACI 318M-19 allows up to 10 .*units"):
        tension.basic_tension_breakout(25e6, 0.1, 17.0, edition=Edition.METRIC)
    with pytest.raises(ValueError, match=r"spacing 2 = 0.0: must be above 0"):
        tension.tension_breakout_area(0.1, (FAR,) * 4, [0.1, 0.0], [])
    with pytest.raises(ValueError, match=r"category = None: .*1, 2 or 3; give the one in its"):
        strength.phi_pullout(Kind.SCREW)
    with pytest.raises(ValueError, match=r"category = 4: "):
        strength.phi_concrete_tension(Kind.SCREW, True, category=4)
    with pytest.raises(ValueError, match=r"zeta = 3.0: R17.8 goes from 1 to 2"):
        strength.anchor_interaction_by_power(0.5, 0.5, zeta=3.0)
    with pytest.raises(ValueError, match=r"lambda_ = 0.5: .*0.75 to 1"):
        limits.lightweight_factor(Kind.SCREW, lambda_=0.5)
    with pytest.raises(ValueError, match=r"only post-installed anchors have a critical edge"):
        limits.critical_edge_distance(Kind.HEADED_BOLT, 0.1)
    with pytest.raises(ValueError, match=r"N_ratio = -0.1: must be 0 or more"):
        strength.anchor_interaction(-0.1, 0.5)
    assert shear.psi_c_V(True, EdgeSteel("none, or edge bars smaller than No. 4 (No. 13)")) == 1.0


def test_refusals_of_en_name_the_value_and_what_to_do() -> None:
    with pytest.raises(ValueError, match=r"gamma_inst = 0.9: must be 1.0 or more; give"):
        en1992_4.gamma_Mc(0.9)
    with pytest.raises(ValueError, match=r"h = 0.1: thinner than .*h_min = 0.12; choose"):
        en1992_4.psi_h_sp(0.1, 0.12, 0.08, 0.1)
    with pytest.raises(ValueError, match=r"N_Ed_over_N_Rd_s = 1.1: .*bigger"):
        en1992_4.V_Rk_s_M(1e-4, 400e6, 0.03, 1.0, N_Ed_over_N_Rd_s=1.1)
    with pytest.raises(ValueError, match=r"alpha = 2.0: must be from 0 .*does not break it"):
        en1992_4.psi_alpha_V(2.0)
    with pytest.raises(ValueError, match=r"f_ck = 0.0: must be above 0"):
        en1992_4.N0_Rk_c(8.9, 0.0, 0.1)


def test_refusals_of_the_plate_name_the_value_and_what_to_do() -> None:
    with pytest.raises(ValueError, match=r"anchors = \[\]: a plate needs an anchor"):
        anchor_group.plate_forces([], CORNERS, 1.0, 0.0, 0.0)
    with pytest.raises(ValueError, match=r"three corners or more; give them all"):
        anchor_group.plate_forces([(0.0, 0.0)], CORNERS[:2], 1.0, 0.0, 0.0)
    with pytest.raises(ValueError, match=r"the anchor at \(0.3, 0.0\) lies outside"):
        anchor_group.plate_forces([(0.3, 0.0)], CORNERS, 1.0, 0.0, 0.0)
    with pytest.raises(ValueError, match=r"M_x = nan: give a number"):
        anchor_group.plate_forces([(0.0, 0.0)], CORNERS, 1.0, math.nan, 0.0)
    with pytest.raises(ValueError, match=r"2 anchors but 1 pulls"):
        anchor_group.tension_eccentricity([(0.0, 0.0), (0.1, 0.0)], [1.0])
    with pytest.raises(ValueError, match=r"b = 0.007: less than half of the bolt"):
        anchor_group.tee_stub(0.007, 0.03, 0.016, 0.018, 0.06)
    with pytest.raises(ValueError, match=r"d_hole = 0.07: leaves nothing of p = 0.06"):
        anchor_group.tee_stub(0.03, 0.03, 0.016, 0.07, 0.06)


def test_nothing_pulls_without_a_load() -> None:
    found = anchor_group.plate_forces([(0.0, 0.0)], CORNERS, 0.0, 0.0, 0.0)
    assert found.tension == (0.0,)
    assert found.presses == ()
    assert anchor_group.tension_eccentricity([(0.0, 0.0)], [0.0]) == (0.0, 0.0)


def test_a_missing_sheet_holds_and_says_what_it_needs() -> None:
    for found in (
        tension.pullout_post_installed(None),
        bond.basic_bond(None, 0.016, 0.1),
        en1992_4.N_Rk_p_post_installed(None),
    ):
        assert isinstance(found, Held)
        assert found.needs
