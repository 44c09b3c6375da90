"""Area D of the check values: Hertz contact, dents and pivot friction.

Rows D01 to D16 are recomputed from the named formulas; tolerances are the rows' own. What is beyond
them says where it comes from.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from leafwright.handbook import contact, friction

E_200 = contact.contact_modulus(200e9, 0.3)
E_206 = contact.contact_modulus(206e9, 0.3)


def test_contact_modulus_of_steel() -> None:
    # D01, D04.
    for found, expected in ((E_200, 109.89e9), (E_206, 113.19e9)):
        assert found == pytest.approx(expected, rel=1e-4)
    steel = contact.STEEL_ON_STEEL
    assert steel == pytest.approx(E_200)


def test_contact_modulus_against_a_rigid_body() -> None:
    # D03: the flat is rigid, so E* = E / (1 − ν²).
    found = contact.contact_modulus(1e9, 0.3, other_modulus=1e30, other_poisson=0.0)
    assert found == pytest.approx(1e9 / (1.0 - 0.3**2))


# Diameter [mm], load [N], E* [Pa]; a [mm], p0 [MPa], approach [µm]; Johnson, eqs. 4.22 to 4.24.
BALLS = [
    (50.0, 500.0, E_200, 0.4402, 1231.9, 7.752, 2e-3),  # D01
    (16.0, 60.0 * math.pi, 1e9 / 0.91, 1.0096, 88.29, 127.4, 1e-3),  # D03, FE benchmark 1.010 mm
    (25.4, 5000.0, E_206, 0.7493, 4252.0, 44.21, 3e-3),  # D04
    (12.0, 1000.0, E_206, 0.3413, 4099.0, 19.41, 3e-3),  # D06
]


@pytest.mark.parametrize(("diameter", "load", "modulus", "a", "p0", "approach", "within"), BALLS)
def test_ball_on_a_flat(
    diameter: float,
    load: float,
    modulus: float,
    a: float,
    p0: float,
    approach: float,
    within: float,
) -> None:
    found = contact.sphere_on_plane(load, 0.5e-3 * diameter, modulus=modulus)
    assert found.radius == pytest.approx(a * 1e-3, rel=within)
    assert found.peak_pressure == pytest.approx(p0 * 1e6, rel=within)
    assert found.approach == pytest.approx(approach * 1e-6, rel=within)


def test_the_pressure_carries_the_load() -> None:
    # p0 √(1 − r²/a²) over the contact, summed numerically.
    found = contact.sphere_on_plane(5000.0, 12.7e-3, modulus=E_206)
    carried, _ = quad(
        lambda r: found.peak_pressure * math.sqrt(1 - (r / found.radius) ** 2) * 2 * math.pi * r,
        0.0,
        found.radius,
    )
    assert carried == pytest.approx(5000.0, rel=1e-9)


def test_ball_in_a_hollow_seat() -> None:
    # D07: ball R 12.7 mm, seat R 14.0 mm; R* = 136.77 mm; 0.3 %.
    found = contact.sphere_in_seat(5000.0, 12.7e-3, 14.0e-3, modulus=E_206)
    assert found.radius == pytest.approx(1.6548e-3, rel=3e-3)
    assert found.peak_pressure == pytest.approx(872e6, rel=3e-3)


def test_two_balls() -> None:
    # The textbook problem of D01 goes on with the ball against an identical one (its answer is
    # recomputed): R* is half, so a falls by 2^(-1/3) and p0 rises by 2^(2/3).
    found = contact.two_spheres(500.0, 25e-3, 25e-3)
    assert found.radius == pytest.approx(0.4402e-3 * 2 ** (-1 / 3), rel=2e-3)
    assert found.peak_pressure == pytest.approx(1231.9e6 * 2 ** (2 / 3), rel=2e-3)


def test_greatest_shear_and_edge_tension_under_a_ball() -> None:
    # D09: 0.310 p0 at 0.481 a; D10: 0.1333 p0 at the edge; ν = 0.3; 0.5 and 0.1 %.
    found = contact.sphere_on_plane(1000.0, 6e-3)
    assert found.greatest_shear == pytest.approx(0.310 * found.peak_pressure, rel=5e-3)
    assert found.shear_depth == pytest.approx(0.481 * found.radius, rel=5e-3)
    assert found.edge_tension == pytest.approx(0.1333 * found.peak_pressure, rel=1e-3)
    # The same from the stresses on the axis, sought by an independent optimiser.
    sought = minimize_scalar(
        lambda z: -contact.axis_shear(1.0, 1.0, z, 0.3), bounds=(0.05, 2.0), method="bounded"
    )
    assert -sought.fun == pytest.approx(contact.POINT_SHEAR, rel=2e-3)
    assert sought.x == pytest.approx(contact.POINT_SHEAR_DEPTH, rel=2e-3)


def test_shear_on_the_axis_at_the_surface_and_far_below() -> None:
    # Johnson, eq. 3.42, on the surface: σ_z = −p0, σ_r = −(½ + ν) p0.
    for nu in (0.0, 0.25, 0.3, 0.5):
        at_surface = contact.axis_shear(1.0, 1.0, 0.0, nu)
        assert at_surface == pytest.approx(0.5 * abs(1.0 - (0.5 + nu)), rel=1e-12)
    # Far below it is a point load: σ_z = −3P/2πz², σ_r = (1 − 2ν) P/4πz²; P = ⅔ π p0 a².
    z, nu, P = 200.0, 0.3, 2.0 / 3.0 * math.pi
    far = 0.5 * (3 * P / (2 * math.pi * z**2) + (1 - 2 * nu) * P / (4 * math.pi * z**2))
    assert contact.axis_shear(1.0, 1.0, z, nu) == pytest.approx(far, rel=1e-3)


@pytest.mark.parametrize(("diameter", "limit"), [(25.4e-3, 4820.0), (12e-3, 1076.0)])
def test_static_limit_of_a_hard_ball(diameter: float, limit: float) -> None:
    # D12: k = 7.471 N/mm² at p0 = 4200 MPa; 0.3 %.
    found = contact.load_at_pressure(4200e6, diameter / 2, modulus=E_206)
    assert found == pytest.approx(limit, rel=3e-3)
    assert found / (diameter * 1e3) ** 2 == pytest.approx(7.471, rel=3e-3)


def test_cubic_law() -> None:
    # D13: doubling the load.
    one, two = (contact.sphere_on_plane(load, 6e-3) for load in (800.0, 1600.0))
    assert two.peak_pressure / one.peak_pressure == pytest.approx(1.2599, abs=1e-4)
    assert two.radius / one.radius == pytest.approx(1.2599, abs=1e-4)
    assert two.approach / one.approach == pytest.approx(1.5874, abs=1e-4)


def test_roller_on_a_flat_of_the_same_steel() -> None:
    # Carvill, Mechanical Engineer's Data Handbook (1993), p. 52 (read in an open copy): width
    # w = √(32 F (1 − ν²) r / π E L), σ = 4 F / (π w L). The copy drops the π of σ; with it the
    # strip carries the load.
    F, r, L, E, nu = 8000.0, 0.02, 0.05, 206e9, 0.3
    found = contact.cylinder_on_plane(F / L, r, modulus=E_206)
    width = math.sqrt(32.0 * F * (1.0 - nu**2) * r / (math.pi * E * L))
    assert 2.0 * found.half_width == pytest.approx(width, rel=1e-12)
    assert found.peak_pressure == pytest.approx(4.0 * F / (math.pi * width * L), rel=1e-12)
    # Semi-ellipse over the strip.
    carried = 0.5 * math.pi * found.half_width * found.peak_pressure
    assert carried == pytest.approx(F / L, rel=1e-12)


def test_shear_under_a_roller() -> None:
    # Johnson, section 4.2c, from McEwen's stresses on the axis: τ = p0 z/a (1 − z/√(a² + z²)) is
    # greatest, 0.300 p0, at 0.786 a.
    sought = minimize_scalar(
        lambda z: -z * (1.0 - z / math.hypot(1.0, z)), bounds=(0.1, 2.0), method="bounded"
    )
    assert -sought.fun == pytest.approx(contact.LINE_SHEAR, rel=2e-3)
    assert sought.x == pytest.approx(contact.LINE_SHEAR_DEPTH, rel=2e-3)
    found = contact.cylinder_on_plane(1e5, 0.02)
    assert found.greatest_shear == pytest.approx(-sought.fun * found.peak_pressure, rel=2e-3)
    assert found.shear_depth == pytest.approx(sought.x * found.half_width, rel=2e-3)


def test_loose_pin_in_its_bore_is_a_roller_of_their_relative_radius() -> None:
    # 1/R* = 1/R1 − 1/R2: 15.875 mm in 16.0 mm is 2032 mm.
    found = contact.pin_in_bore(1e5, 15.875e-3, 16.0e-3)
    assert found.half_width == pytest.approx(contact.cylinder_on_plane(1e5, 2.032).half_width)
    # Of which the standard formula gives √(4 × 1e5 × 2.032 / π 109.89e9) = 1.534 mm.
    assert found.half_width == pytest.approx(1.534e-3, rel=1e-3)


def test_first_yield() -> None:
    # Johnson, section 6.1 (from memory): p0 = 1.60 Y under a ball, 1.67 Y under a roller; and the
    # Hertz loads at which those pressures are reached. Another open note gives the mean pressure
    # at first yield as about 1.1 Y: two thirds of 1.60 Y is 1.07 Y.
    Y, R = 250e6, 15.875e-3
    ball = contact.sphere_on_plane(contact.first_yield_load(Y, R), R)
    assert ball.peak_pressure == pytest.approx(1.60 * Y)
    assert ball.peak_pressure * 2 / 3 == pytest.approx(1.1 * Y, rel=0.05)
    assert ball.greatest_shear == pytest.approx(0.5 * Y, rel=0.01)
    roller = contact.cylinder_on_plane(contact.first_yield_line_load(Y, R), R)
    assert roller.peak_pressure == pytest.approx(1.67 * Y)
    assert roller.greatest_shear == pytest.approx(0.5 * Y, rel=0.01)


def test_full_dent_presses_with_three_times_the_yield_stress() -> None:
    # The same open note, and Jackson and Green (2005), who show that it varies with the dent: the
    # mean pressure of a full dent is commonly taken as three times the yield stress.
    assert contact.indentation_hardness(250e6) == pytest.approx(750e6, rel=1e-12)


# ASTM E140 as a metals handbook prints it (read in an open copy): dent of a 10 mm ball under
# 3000 kgf [mm], Brinell hardness.
BRINELL_TABLE = [
    (2.50, 601),
    (2.55, 578),
    (2.60, 555),
    (2.65, 534),
    (2.70, 514),
    (2.75, 495),
    (2.80, 477),
    (2.85, 461),
    (2.90, 444),
    (2.95, 429),
    (3.00, 415),
    (3.05, 401),
    (3.10, 388),
    (3.15, 375),
    (3.20, 363),
]


@pytest.mark.parametrize(("dent", "hardness"), BRINELL_TABLE)
def test_brinell_dent_and_hardness(dent: float, hardness: int) -> None:
    load = 3000.0 * 9.80665
    assert contact.brinell_hardness(load, 0.010, dent * 1e-3) == pytest.approx(hardness, abs=0.6)
    found = contact.brinell_dent(load, 0.010, hardness)
    assert found.diameter == pytest.approx(dent * 1e-3, abs=5e-6)
    # Depth from the chord of the ball.
    chord = 0.005 - math.sqrt(0.005**2 - (found.diameter / 2) ** 2)
    assert found.depth == pytest.approx(chord, rel=1e-9)


def test_friction_of_a_flat_pivot() -> None:
    # D15, machine-design texts: W = 2000 N, μ = 0.15, R = 10 mm; 0.1 %.
    new, worn = (friction.flat_friction_radius(0.010, worn=w) for w in (False, True))
    assert friction.friction_torque(2000.0, new, 0.15) == pytest.approx(2.000, rel=1e-3)
    assert friction.friction_torque(2000.0, worn, 0.15) == pytest.approx(1.500, rel=1e-3)


def test_friction_of_a_ball_that_spins_on_its_seat() -> None:
    # D16, Johnson ch. 8: (3π/16) μ F a; F = 2000 N, a = 0.5521 mm; 0.3 %.
    radius = friction.ball_friction_radius(0.5521e-3)
    assert friction.friction_torque(2000.0, radius, 0.15) == pytest.approx(0.0976, rel=3e-3)
    ball = contact.sphere_on_plane(2000.0, 12.7e-3, modulus=E_206)
    assert ball.radius == pytest.approx(0.5521e-3, rel=3e-3)
    # The integral itself.
    moment, _ = quad(lambda r: 1.5 * math.sqrt(1.0 - r**2) * 2.0 * r**2, 0.0, 1.0)
    assert friction.ball_friction_radius(1.0) == pytest.approx(moment, rel=1e-9)


@pytest.mark.parametrize(("outer", "inner"), [(0.03, 0.01), (0.02, 0.0), (0.05, 0.049)])
def test_friction_of_a_washer_and_a_cone_by_summing_rings(outer: float, inner: float) -> None:
    # Even pressure: weight of a ring is its area. Even wear: pressure × radius is even.
    edges = np.linspace(inner, outer, 20_001)
    r, dr = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    even = float(np.sum(r * r * dr) / np.sum(r * dr))
    worn = float(np.sum(r * dr) / np.sum(dr))
    assert friction.collar_friction_radius(outer, inner) == pytest.approx(even, rel=1e-6)
    assert friction.collar_friction_radius(outer, inner, worn=True) == pytest.approx(worn, rel=1e-6)
    # A cone of half angle 30° presses twice the load on its side.
    found = friction.cone_friction_radius(outer, inner, math.pi / 6)
    assert found == pytest.approx(2.0 * even, rel=1e-6)


def test_friction_of_the_reference_leaf() -> None:
    # Worked by hand: 194 lb, 21 in from its axis, pins 5/8 in radius 172 in apart, μ = 0.15:
    # couple 194 × 21/172 = 23.69 lb, two pins 4.44 lb in; the ball 0.15 × 194 × 0.0106 = 0.31.
    inch, lbf = 0.0254, 4.4482216152605
    found = friction.pivot_friction(
        194 * lbf,
        21 * inch,
        172 * inch,
        0.15,
        bottom_pin=0.625 * inch,
        top_pin=0.625 * inch,
        bearing=friction.ball_friction_radius(0.018 * inch),
    )
    assert found / (lbf * inch) == pytest.approx(4.44 + 0.31, abs=0.01)
