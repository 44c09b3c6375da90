"""Factors and gauge tables against sources outside the project."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from leafwright.units import (
    Typed,
    read_angle,
    read_areal_mass,
    read_density,
    read_force,
    read_length,
    read_line_load,
    read_mass,
    read_pressure,
    read_speed,
    read_temperature,
    read_temperature_difference,
    read_time,
)
from leafwright.units.gauges import SHEET_STEEL, TUBE_WALL

# NIST SP 811 (2008), Appendix B.8 and B.9, as quoted in public code and pages that name it
# (not opened itself); the rows marked M are from memory.
SP_811 = [
    (read_length, "1 in", 2.54e-2),
    (read_length, "1 ft", 3.048e-1),
    (read_force, "1 lbf", 4.448_222),
    (read_force, "1 kip", 4.448_222e3),
    (read_force, "1 kgf", 9.806_65),
    (read_mass, "1 lb", 4.535_924e-1),
    (read_mass, "1 t", 1.0e3),
    (read_pressure, "1 psi", 6.894_757e3),
    (read_pressure, "1 ksi", 6.894_757e6),
    (read_pressure, "1 psf", 4.788_026e1),
    (read_density, "1 lb/ft3", 1.601_846e1),
    (read_density, "1 lb/in3", 2.767_990e4),
    (read_areal_mass, "1 lb/ft2", 4.882_428),  # M
    (read_line_load, "1 lb/ft", 1.459_390e1),  # M
    (read_speed, "1 mph", 4.4704e-1),
    (read_speed, "1 ft/s", 3.048e-1),
    (read_speed, "1 km/h", 2.777_778e-1),  # M
    (read_temperature, "0 C", 273.15),
    (read_temperature, "-459.67 F", 0.0),
    (read_temperature_difference, "1 F", 1 / 1.8),
    (read_time, "1 h", 3.6e3),
    (read_angle, "1 deg", 1.745_329e-2),
]


@pytest.mark.parametrize(("reader", "text", "factor"), SP_811)
def test_factor_is_that_of_sp_811(reader: Callable[[str], Typed], text: str, factor: float) -> None:
    # The guide prints seven figures: half of the last is at most 5e-7 of the value.
    assert reader(text).si == pytest.approx(factor, rel=5e-7)


def test_speed_and_pressure_agree_with_the_wind_constant() -> None:
    # ASCE 7 Eq. 26.10-1 is printed twice: 0.613 V^2 (Pa, m/s) and 0.00256 V^2 (psf, mph).
    mph, psf = read_speed("1 mph").si, read_pressure("1 psf").si
    assert psf == pytest.approx(47.880, abs=0.0005)
    # 0.613 and 0.00256 have three figures.
    assert 0.613 * mph**2 / psf == pytest.approx(0.00256, rel=1e-3)


# Manufacturers' Standard Gauge: the weight of sheet steel that each number stands for [lb/ft2],
# as a steel service centre's chart prints it, to a thickness at 41.82 lb/ft2 an inch.
SHEET_WEIGHTS = {
    7: 7.5,
    8: 6.875,
    9: 6.25,
    10: 5.625,
    11: 5.0,
    12: 4.375,
    13: 3.75,
    14: 3.125,
    15: 2.8125,
    16: 2.5,
    17: 2.25,
    18: 2.0,
    19: 1.75,
    20: 1.5,
    21: 1.375,
    22: 1.25,
    23: 1.125,
    24: 1.0,
    25: 0.875,
    26: 0.75,
}


def test_sheet_gauge_is_its_weight_over_that_of_an_inch() -> None:
    assert SHEET_STEEL.keys() == SHEET_WEIGHTS.keys()
    for number, weight in SHEET_WEIGHTS.items():
        # The table prints four decimals.
        assert float(SHEET_STEEL[number]) == pytest.approx(weight / 41.82, abs=5.1e-5), number


def test_sheet_gauge_as_metric_tables_have_it() -> None:
    # 18 ga is 0.0478 in or 1.214 mm (a public gauge chart).
    assert read_length("18 ga", gauge="sheet").si == pytest.approx(1.214e-3, abs=0.5e-6)


# Birmingham wire gauge as a tube-wall table prints it in millimetres.
TUBE_MILLIMETRES = {
    4: 6.045,
    5: 5.588,
    6: 5.156,
    7: 4.572,
    8: 4.191,
    9: 3.759,
    10: 3.404,
    11: 3.048,
    12: 2.769,
    13: 2.413,
    14: 2.108,
    15: 1.829,
    16: 1.651,
    17: 1.473,
    18: 1.245,
    19: 1.067,
    20: 0.889,
    21: 0.813,
    22: 0.711,
    23: 0.635,
    24: 0.559,
    25: 0.508,
    26: 0.457,
}


def test_tube_gauge_is_that_of_the_published_wall_table() -> None:
    assert TUBE_WALL.keys() == TUBE_MILLIMETRES.keys()
    for number, millimetres in TUBE_MILLIMETRES.items():
        wall = read_length(f"{number} ga", gauge="tube").exact * 1000
        # The table prints three decimals.
        assert float(wall) == pytest.approx(millimetres, abs=0.6e-3), number


def test_tube_of_eleven_gauge_has_the_wall_that_the_trade_calls_0_120() -> None:
    assert read_length("11 ga", gauge="tube").exact == Fraction("0.120") * Fraction("0.0254")
