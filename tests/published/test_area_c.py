"""Beams, frames, torsion and plates against published closed forms and tables."""

import math

import pytest

from leafwright.handbook import beams, plates

INCH = 0.0254
POUND_FORCE = 4.4482216152605
KIP_PER_FOOT = 1000.0 * POUND_FORCE / 0.3048
KSI = 1000.0 * POUND_FORCE / INCH**2


def test_cantilever_with_a_tip_load() -> None:
    # Roark's Formulas, Table 8.1 case 1a; AISC Manual Table 3-23. P = 1 kN, L = 2 m,
    # E = 200 GPa, I = 1e-6 m4.
    found = beams.cantilever_tip_load(1000.0, 2.0, 200.0e9 * 1e-6)
    assert found.moment == pytest.approx(2000.0, rel=1e-12)
    assert found.deflection == pytest.approx(13.333e-3, rel=1e-4)
    assert found.slope == pytest.approx(0.01000, rel=1e-12)


def test_propped_cantilever_under_a_uniform_load() -> None:
    # AISC Manual Table 3-23 case 12. w = 2 kN/m, L = 4 m.
    EI = 2.0e5
    found = beams.propped_cantilever_uniform_load(2000.0, 4.0, EI)
    assert found.fixed_moment == pytest.approx(4000.0)
    assert found.prop_reaction == pytest.approx(3000.0)
    assert found.span_moment == pytest.approx(2250.0)
    assert found.span_moment_at == pytest.approx(3.0 * 4.0 / 8.0)
    # The table's 185 is rounded from 184.6.
    assert found.deflection == pytest.approx(2000.0 * 4.0**4 / (185.0 * EI), rel=0.003)


def test_simple_beam_under_a_uniform_load() -> None:
    # AISC Manual Table 3-23 case 1. w = 0.5 kip/ft, L = 10 ft, I = 7.80 in4, E = 29,000 ksi.
    EI = 29000.0 * KSI * 7.80 * INCH**4
    found = beams.simple_beam_uniform_load(0.5 * KIP_PER_FOOT, 10.0 * 0.3048, EI)
    assert found.moment / (1000.0 * POUND_FORCE * 0.3048) == pytest.approx(6.25)
    assert found.deflection / INCH == pytest.approx(0.4973, rel=2e-4)


def test_pinned_portal_with_a_side_load() -> None:
    # Kleinlogel; also worked with an independent frame program. h = 3 m, b = 4 m, H = 1 kN.
    found = beams.portal_pinned_side_load(1000.0, 3.0, 4.0, 2.0e6, 2.0e6)
    assert found.knee_moment == pytest.approx(1500.0)
    assert found.horizontal_reaction == pytest.approx(500.0)
    assert found.vertical_reaction == pytest.approx(750.0)
    assert found.sway == pytest.approx(3.750e-3, rel=1e-12)


def test_fixed_portal_with_a_side_load() -> None:
    # Kleinlogel; also worked with an independent frame program. k = h/b = 0.75.
    found = beams.portal_fixed_side_load(1000.0, 3.0, 4.0, 2.0e6, 2.0e6)
    assert found.knee_moment == pytest.approx(613.6, abs=0.05)
    assert found.base_moment == pytest.approx(886.4, abs=0.05)
    assert found.sway == pytest.approx(0.8693e-3, rel=1e-4)


def test_hung_leafs_brace_force_under_its_own_weight() -> None:
    # Statics. b = 4 m, h = 3 m, W = 2.0 kN, half of it at the free stile.
    found = beams.hung_leaf(4.0, 3.0, 2000.0)
    assert found.rising_diagonal == pytest.approx(-1666.7, abs=0.05)
    assert found.falling_diagonal == pytest.approx(1666.7, abs=0.05)
    assert found.hinge_couple == pytest.approx(1333.3, abs=0.05)


def test_bredt_torsion_of_a_square_tube() -> None:
    # Roark's Formulas, chapter 10: 2 x 2 x 1/8, mid-line with sharp corners, t = 0.116 in,
    # T = 1000 lb in, J = 0.796 in4, G = 11,200 ksi.
    found = beams.closed_tube_torsion(
        1000.0 * POUND_FORCE * INCH,
        3.549 * INCH**2,
        0.116 * INCH,
        0.796 * INCH**4,
        11200.0 * KSI,
    )
    assert found.shear_stress / (KSI / 1000.0) == pytest.approx(1214.0, rel=1e-3)
    assert found.twist_per_metre * INCH == pytest.approx(1.122e-4, rel=1e-3)


# Roark's Formulas, 7th edition, Table 11.4 case 1a: a/b, beta, alpha, gamma (read in open copies).
ROARK_11_4_1A = [
    (1.2, 0.3762, 0.0616, 0.455),
    (1.4, 0.453, 0.077, 0.478),
    (1.8, 0.5688, 0.1017, 0.499),
    (2.0, 0.6102, 0.111, 0.503),
]


@pytest.mark.parametrize(("ratio", "beta", "alpha", "gamma"), ROARK_11_4_1A)
def test_simply_supported_plate(ratio: float, beta: float, alpha: float, gamma: float) -> None:
    row = plates.simply_supported_coefficients(ratio)
    assert (row.beta, row.alpha, row.gamma) == pytest.approx((beta, alpha, gamma))
    q, b, t, E = 1000.0, 1.0, 0.010, 2.0e11
    found = plates.simply_supported_plate(q, ratio * b, b, t, E)
    assert found.stress == pytest.approx(beta * q * b**2 / t**2, rel=1e-6)
    assert found.deflection == pytest.approx(alpha * q * b**4 / (E * t**3), rel=1e-6)
    assert found.greatest_reaction == pytest.approx(gamma * q * b, rel=1e-6)


# Roark's Formulas, 7th edition, Table 11.4 case 8a: a/b, beta 1, beta 2, alpha (beta 1 and alpha
# read in open programs, beta 2 from memory; all held against an independent solution, with the edge
# reaction, in the tests of the handbook).
ROARK_11_4_8A = [
    (1.0, 0.3078, 0.1386, 0.0138),
    (1.2, 0.3834, 0.1794, 0.0188),
    (1.4, 0.4356, 0.2094, 0.0226),
    (1.6, 0.4680, 0.2286, 0.0251),
    (1.8, 0.4872, 0.2406, 0.0267),
    (2.0, 0.4974, 0.2472, 0.0277),
    (1e12, 0.5000, 0.2500, 0.0284),
]


@pytest.mark.parametrize(("ratio", "beta_1", "beta_2", "alpha"), ROARK_11_4_8A)
def test_clamped_plate(ratio: float, beta_1: float, beta_2: float, alpha: float) -> None:
    q, b, t, E = 1000.0, 1.0, 0.010, 2.0e11
    found = plates.clamped_plate(q, ratio * b, b, t, E)
    assert found.edge_stress == pytest.approx(beta_1 * q * b**2 / t**2, rel=1e-6)
    assert found.centre_stress == pytest.approx(beta_2 * q * b**2 / t**2, rel=1e-6)
    assert found.deflection == pytest.approx(alpha * q * b**4 / (E * t**3), rel=1e-6)
    # Load shared by four edges: the mean reaction is under the greatest.
    assert found.greatest_reaction > q * ratio / (2.0 * (1.0 + ratio))


def test_clamped_square_plate_by_its_classical_solution() -> None:
    # Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, clamped square plate (from
    # memory): w = 0.00126 q a⁴/D, M = −0.0513 q a² at the middle of an edge, 0.0231 at the centre.
    q, a, t, E = 1000.0, 1.0, 0.010, 2.0e11
    D = E * t**3 / (12.0 * (1.0 - 0.3**2))
    found = plates.clamped_plate(q, a, a, t, E)
    assert found.deflection == pytest.approx(0.00126 * q * a**4 / D, rel=0.01)
    assert found.edge_stress == pytest.approx(6.0 * 0.0513 * q * a**2 / t**2, rel=0.01)
    assert found.centre_stress == pytest.approx(6.0 * 0.0231 * q * a**2 / t**2, rel=0.01)


# Roark's Formulas, 7th edition, Table 11.4 case 1b: a/b, beta, alpha (read in open copies).
ROARK_11_4_1B = [
    (1.0, 0.435, 0.1267),
    (1.2, 0.650, 0.1478),
    (1.4, 0.789, 0.1621),
    (1.6, 0.875, 0.1715),
    (1.8, 0.927, 0.1770),
    (2.0, 0.958, 0.1805),
    (1e12, 1.000, 0.1851),
]


@pytest.mark.parametrize(("ratio", "beta", "alpha"), ROARK_11_4_1B)
def test_plate_pushed_at_its_centre(ratio: float, beta: float, alpha: float) -> None:
    W, b, t, E, r0 = 1000.0, 1.0, 0.010, 2.0e11, 0.05
    found = plates.pushed_plate(W, ratio * b, b, t, E, pad_radius=r0)
    spread = 1.3 * math.log(2.0 * b / (math.pi * r0)) + beta
    assert found.stress == pytest.approx(3.0 * W / (2.0 * math.pi * t**2) * spread, rel=1e-6)
    assert found.deflection == pytest.approx(alpha * W * b**2 / (E * t**3), rel=1e-6)
    # A point spreads over √(1.6 r0² + t²) − 0.675 t: 0.325 t.
    point = plates.pushed_plate(W, ratio * b, b, t, E, pad_radius=0.0)
    spread = 1.3 * math.log(2.0 * b / (math.pi * 0.325 * t)) + beta
    assert point.stress == pytest.approx(3.0 * W / (2.0 * math.pi * t**2) * spread, rel=1e-6)
