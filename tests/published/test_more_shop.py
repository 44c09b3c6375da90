"""Beams, contact, fits, drills and wind: the arms that the tables beside do not reach.

*By hand* is worked from the named rule outside this package; independent solutions say so.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from leafwright.handbook import beams, contact, fits, threads, wind

MM, UM, INCH, FOOT = 1e-3, 1e-6, 0.0254, 0.3048


# --- beams --------------------------------------------------------------------------------------


def unit_load(length: float, at: float) -> Callable[[float], float]:
    """Return the moment of a unit load on a simple beam."""
    return lambda x: min(x, at) * (length - max(x, at)) / length


@pytest.mark.parametrize("share", [0.5, 0.25, 0.1, 0.75, 0.9])
def test_point_load_anywhere_on_a_simple_beam(share: float) -> None:
    """Independent: virtual work, ∫ M m/(EI), the greatest found by search. P 3 kN, L 4 m.

    Also an open page's closed forms: P a² b²/(3 EI L) under the load, and at mid-span P L³/(48 EI).
    """
    P, L, E_I = 3000.0, 4.0, 2.0e5
    a = share * L
    found = beams.simple_beam_point_load(P, L, a, E_I)
    moment = unit_load(L, a)

    def deflection(x: float) -> float:
        m = unit_load(L, x)
        places = sorted({a, x})
        value, _ = quad(lambda z: P * moment(z) * m(z) / E_I, 0.0, L, points=places)
        return float(value)

    greatest = minimize_scalar(
        lambda x: -deflection(x), bounds=(0.0, L), method="bounded", options={"xatol": 1e-9}
    )
    assert found.deflection == pytest.approx(-greatest.fun, rel=1e-6)
    assert found.moment == pytest.approx(P * moment(a))
    assert found.reactions == pytest.approx((P * (L - a) / L, P * a / L))
    # Slopes: virtual work with a unit moment at each end.
    first, _ = quad(lambda z: P * moment(z) * (1.0 - z / L) / E_I, 0.0, L, points=[a])
    last, _ = quad(lambda z: P * moment(z) * z / L / E_I, 0.0, L, points=[a])
    assert found.slopes == pytest.approx((first, last))
    under = P * a**2 * (L - a) ** 2 / (3.0 * E_I * L)
    assert deflection(a) == pytest.approx(under)
    assert found.deflection >= under * (1.0 - 1e-12)
    if share == 0.5:
        assert found.deflection == pytest.approx(P * L**3 / (48.0 * E_I))


# --- contact ------------------------------------------------------------------------------------


def test_modulus_of_two_alike_and_two_unlike_bodies() -> None:
    """D01 and D04: 109.89 and 113.19 GPa; aluminium on steel by hand (Johnson, 4.2): 57.87 GPa."""
    assert contact.contact_modulus(200e9, 0.3) / 1e9 == pytest.approx(109.89, abs=0.005)
    assert contact.contact_modulus(206e9, 0.3) / 1e9 == pytest.approx(113.19, abs=0.005)
    # 0.91/200 + (1 - 0.33²)/70 = 0.00455 + 0.01273 = 0.01728.
    found = contact.contact_modulus(200e9, 0.3, other_modulus=70e9, other_poisson=0.33)
    assert found / 1e9 == pytest.approx(57.87, abs=0.01)


# --- fits and drills ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("nominal", "tolerance_class", "upper", "lower"),
    [
        # A machine-drawing textbook's table of fundamental deviations (read): k stands at +1 to +5
        # in grades 4 to 7 and, in a column of its own headed "up to 3, over 7", at 0; the widths
        # are IT8 and IT9 of a tool maker's catalogue (read), in µm.
        (14, "k7", 19.0, 1.0),
        (14, "k8", 27.0, 0.0),
        (45, "k8", 39.0, 0.0),
        (200, "k9", 115.0, 0.0),
    ],
)
def test_k_begins_at_the_nominal_size_from_grade_8(
    nominal: float, tolerance_class: str, upper: float, lower: float
) -> None:
    found = fits.shaft_limits(nominal * MM, tolerance_class)
    assert (found.upper / UM, found.lower / UM) == pytest.approx((upper, lower))


def test_measured_pin_that_just_slides() -> None:
    """Within the resolution nothing is between them. H7/g6 over 18 to 30 mm 7 to 41 µm, over 30 to
    50 mm 9 to 50 µm (ISO 286 tables, read; G03): 45 µm in a bore of 30.02 mm is one by its own size
    and none by the nominal 30. Over 500 mm, and over 3.15 in, the tables end.
    """
    assert fits.measured_fit(0.030, 0.030001).kind == "line to line"
    assert fits.measured_fit(0.030, 0.029999).kind == "line to line"
    assert fits.measured_fit(0.030, 0.030003).kind == "clearance"
    assert fits.measured_fit(0.030, 0.030001, resolution=0.0).kind == "clearance"
    pin, bore = 29.975 * MM, 30.020 * MM
    assert "H7/g6" in fits.measured_fit(pin, bore).iso
    assert "H7/g6" not in fits.measured_fit(pin, bore, nominal=0.030).iso
    large = fits.measured_fit(0.5999, 0.6000)
    assert (large.kind, large.iso, large.inch) == ("clearance", (), ())


@pytest.mark.parametrize(
    ("size", "pitch", "drill", "percent"),
    # G15 and G16, ISO metric tap-drill tables: M6 and M8 among all drills; two more of an open
    # table, whose drills the rule d - P gives too.
    [
        (6.0, 1.0, "5 mm", 77.0),
        (8.0, 1.25, "6.8 mm", 73.9),
        (5.0, 0.8, "4.2 mm", 77.0),
        (12.0, 1.75, "10.2 mm", 79.2),
    ],
)
def test_metric_tap_drills_among_all(size: float, pitch: float, drill: str, percent: float) -> None:
    found = threads.tap_drill(size * MM, pitch * MM, percent=percent)
    assert found.drill.name == drill
    assert found.percent == pytest.approx(percent, abs=0.3)
    assert size - pitch == pytest.approx(found.drill.diameter / MM, abs=0.06)


# --- wind ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("exposure", "K_z"), [("B", 0.57), ("C", 0.85), ("D", 1.03)])
@pytest.mark.parametrize("feet", [0.0, 6.0, 15.0])
def test_wind_near_the_ground(exposure: wind.Exposure, K_z: float, feet: float) -> None:
    # ASCE 7-16 Table 26.10-1, first row, 0 to 15 ft (B 0.57 and C 0.85 in rows L06 and L07's pages;
    # all three by 2.41 (15/z_g)^(2/α), the constants read in two public programs).
    found = wind.exposure_coefficient(feet * FOOT, exposure)
    assert found == pytest.approx(K_z, abs=0.006)


@pytest.mark.parametrize(
    ("terrain", "z_0", "z_min"),
    # EN 1991-1-4 Table 4.1: III read in a published worked example (z_0 0.3, z_min 5 m; k_r 0.215,
    # c_r(8) 0.706), IV in open sheets.
    [("III", 0.3, 5.0), ("IV", 1.0, 10.0)],
)
def test_peak_pressure_does_not_fall_under_the_least_height(
    terrain: wind.Terrain, z_0: float, z_min: float
) -> None:
    """Section 4.3.2: c_r(z) = c_r(z_min) up to z_min; by hand, k_r ln(z_min/z_0)."""
    low, at, high = (
        wind.peak_velocity_pressure(26.0, z, terrain) for z in (0.5 * z_min, z_min, 2.0 * z_min)
    )
    assert low == at
    assert high.pressure > at.pressure
    k_r = 0.19 * (z_0 / 0.05) ** 0.07
    assert low.roughness == pytest.approx(k_r * math.log(z_min / z_0))


def test_wind_on_a_hall_of_a_published_example() -> None:
    """A European guide's single-storey building, terrain III, 26 m/s, z 8 m, read: c_r 0.706.

    q_b 422.5 N/m²; by hand I_v = 1/ln(8/0.3) = 0.305, q_p = (1 + 2.132) · 0.706² · 422.5 = 659.
    """
    found = wind.peak_velocity_pressure(26.0, 8.0, "III")
    # The guide rounds k_r to 0.215 on the way (0.2154).
    assert found.roughness == pytest.approx(0.706, abs=0.0015)
    assert found.turbulence == pytest.approx(0.305, abs=0.0005)
    assert found.pressure == pytest.approx(659.0, rel=0.005)
