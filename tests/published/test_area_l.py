"""Area L of the check values: wind by ASCE/SEI 7-22 and EN 1991-1-4.

Neither standard was opened: rows L01 to L10, and worked examples and transcriptions in open pages
and public programs, each named beside its values.
"""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import wind

MPH, PSF, FOOT, LBF = 0.44704, 47.88025898, 0.3048, 4.4482216152605


# L01, L03, L04, L09: speed, velocity pressure, all factors 1; 0.1 %.
@pytest.mark.parametrize(
    ("speed", "pressure"),
    [
        (30 * MPH, 2.304 * PSF),
        (90 * MPH, 20.736 * PSF),
        (115 * MPH, 33.856 * PSF),
        (40.0, 980.8),
    ],
)
def test_velocity_pressure(speed: float, pressure: float) -> None:
    assert wind.velocity_pressure(speed, 1.0) == pytest.approx(pressure, rel=1e-3)


def test_units_of_the_two_forms() -> None:
    # L10: 0.613 × 0.44704² / 47.880 is 0.002559, 0.00256 in the other form.
    assert wind.velocity_pressure(MPH, 1.0) / PSF == pytest.approx(0.00256, rel=1e-3)


def test_exposure_and_pressure() -> None:
    # L06: exposure C at 30 ft, 0.982 by ASCE 7-16's constants (table 0.98); 0.6 %. With K_d = 0.85
    # in it, q = 28.27 psf: K_d now stands in the force.
    K_z = wind.exposure_coefficient(30 * FOOT, "C")
    assert K_z == pytest.approx(0.982, rel=6e-3)
    q = wind.velocity_pressure(115 * MPH, K_z) * wind.DIRECTIONALITY
    assert q / PSF == pytest.approx(28.27, rel=6e-3)
    # L07: exposure B at 15 ft, 0.575 (table 0.57); 1 %.
    assert wind.exposure_coefficient(15 * FOOT, "B") == pytest.approx(0.575, rel=1e-2)
    # A worked example to ASCE 7-22 in an open page: exposure C at 25 ft, K_h about 0.94.
    assert wind.exposure_coefficient(25 * FOOT, "C") == pytest.approx(0.94, abs=0.006)


# ASCE 7-16 Table 26.10-1 (from memory) beside the 7-22 formula of two public programs (2.41, z_g
# 3280, 2460, 1935 ft, α 7.5, 9.8, 11.5), which a national standard states in metres as 1000, 750
# and 590 m: the table's two figures, and the metric formula, must both agree.
@pytest.mark.parametrize(
    ("exposure", "feet", "table", "metric"),
    [
        ("B", 15.0, 0.57, (1000.0, 7.5)),
        ("B", 30.0, 0.70, (1000.0, 7.5)),
        ("C", 15.0, 0.85, (750.0, 9.8)),
        ("C", 20.0, 0.90, (750.0, 9.8)),
        ("C", 40.0, 1.04, (750.0, 9.8)),
        ("D", 15.0, 1.03, (590.0, 11.5)),
        ("D", 30.0, 1.16, (590.0, 11.5)),
        ("D", 50.0, 1.27, (590.0, 11.5)),
    ],
)
def test_exposure_coefficients(
    exposure: wind.Exposure, feet: float, table: float, metric: tuple[float, float]
) -> None:
    found = wind.exposure_coefficient(feet * FOOT, exposure)
    assert found == pytest.approx(table, abs=0.015)
    z_g, alpha = metric
    assert found == pytest.approx(2.41 * (feet * FOOT / z_g) ** (2 / alpha), rel=2e-3)


def test_ground_elevation_factor() -> None:
    # ASCE 7-16 and 7-22 Table 26.9-1 (from memory): 1000 ft 0.96, 3000 ft 0.90, 6000 ft 0.80; and
    # a national standard's e^(−0.000119 z), read. The standard atmosphere's density is close.
    for feet, table in ((0, 1.00), (1000, 0.96), (3000, 0.90), (6000, 0.80)):
        found = wind.ground_elevation_factor(feet * FOOT)
        assert found == pytest.approx(table, abs=0.006)
        atmosphere = (1.0 - 2.25577e-5 * feet * FOOT) ** 4.25588
        assert found == pytest.approx(atmosphere, abs=0.04)


B_OVER_S = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0, 20.0, 30.0, 45.0)
S_OVER_H = (0.16, 0.2, 0.3, 0.5, 0.7, 0.9, 1.0)


@pytest.mark.parametrize("s_over_h", S_OVER_H)
@pytest.mark.parametrize("b_over_s", B_OVER_S)
def test_wall_coefficient_is_the_commentarys_surface_rounded(
    b_over_s: float, s_over_h: float
) -> None:
    # Commentary C29.3 of ASCE 7 (second-hand, through the commentary of a national standard made
    # from it): the table is this surface rounded to 0.05, every cell of it.
    x, y = math.log(b_over_s), s_over_h
    surface = (
        1.563 + 0.008542 * x - 0.06148 * y + 0.009011 * x**2 - 0.2603 * y**2 - 0.08393 * y * x
    ) / 0.85
    found = wind.wall_coefficient(b_over_s, 1.0, 1.0 / s_over_h)
    assert found == pytest.approx(round(surface / 0.05) * 0.05, abs=1e-6)


def test_wall_coefficients_read() -> None:
    # Three public transcriptions of Figure 29.3-1 (one of them differs in a single cell).
    for b, s_h, C_f in ((1, 1.0, 1.45), (4, 0.7, 1.60), (2, 0.5, 1.70), (20, 0.2, 1.90)):
        assert wind.wall_coefficient(b, 1.0, 1.0 / s_h) == pytest.approx(C_f)


def test_a_sign_worked_by_hand() -> None:
    # An open calculation sheet to ASCE 7-10: sign 3 by 3 ft, top at 20 ft, C_f 1.80, q with K_d
    # 56.62 psf, area as it prints it 7.48 ft²: 648 lb.
    C_f = wind.wall_coefficient(3 * FOOT, 3 * FOOT, 20 * FOOT)
    assert C_f == pytest.approx(1.80)
    q = 56.62 / 0.85 * PSF
    found = wind.wind_force(q, C_f, 7.48 * FOOT**2)
    assert found / LBF == pytest.approx(648.0, rel=1e-3)


# Figure 29.3-1 case C in two public transcriptions: B/s, C_f from the windward edge on.
CASE_C = [
    (2.0, (2.25, 1.50)),
    (3.0, (2.60, 1.70, 1.15)),
    (4.0, (2.90, 1.90, 1.30, 1.10)),
    (5.0, (3.10, 2.00, 1.45, 1.05)),
    (6.0, (3.30, 2.15, 1.55, 1.05)),
    (7.0, (3.40, 2.25, 1.65, 1.05)),
    (8.0, (3.55, 2.30, 1.70, 1.05)),
    (9.0, (3.65, 2.35, 1.75, 1.00)),
    (10.0, (3.75, 2.45, 1.85, 0.95)),
]


@pytest.mark.parametrize(("b_over_s", "coefficients"), CASE_C)
def test_wall_regions(b_over_s: float, coefficients: tuple[float, ...]) -> None:
    found = wind.wall_regions(b_over_s * 2.0, 2.0, 4.0)
    assert tuple(region.C_f for region in found) == pytest.approx(coefficients)
    # Of the whole wall: near what wind square on to it does (1.7 to 1.85).
    mean = sum(r.C_f * (r.end - r.start) for r in found) / (b_over_s * 2.0)
    assert 1.4 < mean < 2.0
    # On the ground each is times 1.8 − 1.
    low = wind.wall_regions(b_over_s * 2.0, 2.0, 2.0)
    assert [r.C_f for r in low] == pytest.approx([0.8 * c for c in coefficients])


def test_short_walls_need_no_oblique_wind() -> None:
    # An open page on signs to ASCE 7-16: case C is considered only where B/s is 2 or more.
    assert wind.wall_regions(1.99, 1.0, 2.0) == ()
    assert len(wind.wall_regions(2.0, 1.0, 2.0)) == 2


def test_reduction_for_openings() -> None:
    # An open page on walls and signs to ASCE 7-16: 1 − (1 − ε)^1.5, under 30 % of openings.
    # By hand: ε 0.8 leaves 1 − 0.2 √0.2 = 0.9106.
    assert wind.opening_reduction(0.8) == pytest.approx(0.9106, abs=5e-5)
    assert wind.opening_reduction(1.0) == 1.0
    assert wind.opening_reduction(0.7) == pytest.approx(1.0 - 0.3 * math.sqrt(0.3))


# Figure 29.4-2 in a public transcription of a national standard made from it.
@pytest.mark.parametrize(
    ("solidity", "flat", "round_slow", "round_fast"),
    [(0.05, 2.0, 1.2, 0.8), (0.1, 1.8, 1.3, 0.9), (0.2, 1.8, 1.3, 0.9), (0.5, 1.6, 1.5, 1.1)],
)
def test_lattice(solidity: float, flat: float, round_slow: float, round_fast: float) -> None:
    assert wind.lattice_coefficient(solidity) == flat
    # D √q is 5.3 at 0.2 m and 702 Pa.
    for pressure, C_f in ((700.0, round_slow), (705.0, round_fast)):
        found = wind.lattice_coefficient(solidity, members="round", diameter=0.2, pressure=pressure)
        assert found == C_f


def test_indoor_pressure() -> None:
    # International Building Code 2009, 1607.13, quoted in an open page: 5 psf (0.240 kN/m²).
    assert pytest.approx(240.0, rel=3e-3) == wind.INDOOR_PRESSURE


# Open calculation sheets to EN 1991-1-4 (a sheet whose exposure factor is plainly wrong was left):
# terrain, v_b, z; c_r, v_m, I_v, q_p [kPa].
EUROCODE = [
    ("III", 22.0, 7.02, 0.68, 14.939, 0.31718, 0.449),
    ("0", 25.0, 77.36, 1.585, 39.624, 0.098, 1.658),
    ("0", 25.0, 28.0, 1.426, 35.659, 0.109, 1.403),
]


@pytest.mark.parametrize(("terrain", "v_b", "z", "c_r", "v_m", "I_v", "q_p"), EUROCODE)
def test_peak_velocity_pressure(
    terrain: wind.Terrain, v_b: float, z: float, c_r: float, v_m: float, I_v: float, q_p: float
) -> None:
    found = wind.peak_velocity_pressure(v_b, z, terrain)
    assert found.roughness == pytest.approx(c_r, abs=1.2e-3)
    assert found.mean_speed == pytest.approx(v_m, rel=1e-3)
    assert found.turbulence == pytest.approx(I_v, abs=6e-4)
    assert found.pressure / 1e3 == pytest.approx(q_p, rel=2e-3)


# EN 1991-1-4 Figure 4.2, c_e at 10 m on flat ground (from memory): 2.35 in II, 1.7 in III, 1.2 in
# IV, 2.8 in I, 3.0 in 0; and the basic pressure ½ ρ v_b² worked by hand.
@pytest.mark.parametrize(
    ("terrain", "c_e"), [("0", 3.0), ("I", 2.8), ("II", 2.35), ("III", 1.7), ("IV", 1.2)]
)
def test_exposure_factor_at_ten_metres(terrain: wind.Terrain, c_e: float) -> None:
    q_b = 0.5 * 1.25 * 25.0**2
    found = wind.peak_velocity_pressure(25.0, 10.0, terrain).pressure / q_b
    assert found == pytest.approx(c_e, rel=0.03)
    # Independent: expanded, (c_r² + 7 k_r c_r) with c_o = 1, k_r = 0.19 (z_0/0.05)^0.07.
    z_0 = {"0": 0.003, "I": 0.01, "II": 0.05, "III": 0.3, "IV": 1.0}[terrain]
    k_r = 0.19 * (z_0 / 0.05) ** 0.07
    c_r = k_r * math.log(10.0 / z_0)
    assert found == pytest.approx(c_r**2 + 7.0 * k_r * c_r)
