"""Angles, forces, masses and the rest are read exactly, or refused with the forms."""

import math
from collections.abc import Callable
from fractions import Fraction

import pytest

from leafwright.units import (
    Typed,
    read_angle,
    read_areal_mass,
    read_density,
    read_force,
    read_line_load,
    read_mass,
    read_pressure,
    read_speed,
    read_temperature,
    read_temperature_difference,
    read_time,
)
from tests.units.refusals import forms_of, refused

INCH = Fraction(127, 5000)
POUND = Fraction("0.45359237")
G = Fraction("9.80665")


@pytest.mark.parametrize(
    ("text", "radians"),
    [
        ("13.2 deg", math.radians(13.2)),
        ("13.2°", math.radians(13.2)),
        ("13.2º", math.radians(13.2)),
        ("-13 1/2 degrees", math.radians(-13.5)),
        ("360 deg", 2 * math.pi),
        ("0.01 rad", 0.01),
        ("1/4 in/ft", math.atan(1 / 48)),
        ('1/4"/ft', math.atan(1 / 48)),
        ("1/4 in per ft", math.atan(1 / 48)),
        ("¼ in / ft", math.atan(1 / 48)),
        ("2 mm/m", math.atan(0.002)),
        ("2 %", math.atan(0.02)),
        ("1:12", math.atan(1 / 12)),
        ("-1 : 12", math.atan(-1 / 12)),
        ("1:1", math.pi / 4),
    ],
)
def test_angle_is_read_in_radians(text: str, radians: float) -> None:
    angle = read_angle(text)
    assert angle.text == text
    # The last bit: 13.2 and its degrees are each rounded once.
    assert angle.si == pytest.approx(radians, rel=1e-15)


def test_angle_in_radians_is_exact() -> None:
    assert read_angle("0.01 rad").exact == Fraction(1, 100)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("13.2", "a number without a unit"),
        ("1/12", "a number without a unit"),
        ("400 deg", "it is more than a full turn (360 deg)"),
        ("-7 rad", "it is more than a full turn (360 deg)"),
        ("1:0", "the run of the slope is zero"),
        ("13 dge", "the unit 'dge' is not known (the nearest known is deg)"),
        ("13° 12'", "it holds more than one number"),
        ("13,2°", "the comma may mark thousands or decimals"),
        ("°", "it does not begin with a number"),
    ],
)
def test_angle_is_refused_with_the_reason_and_forms(text: str, why: str) -> None:
    message = refused(read_angle, text)
    assert why in message
    for form in forms_of(message):
        read_angle(form)


QUANTITIES = [
    (read_force, "24 lbf", 24 * POUND * G),
    (read_force, "24 LB", 24 * POUND * G),
    (read_force, "-1.2 kip", -1200 * POUND * G),
    (read_force, "1/2 kip", 500 * POUND * G),
    (read_force, "5 kN", Fraction(5000)),
    (read_force, "11 kgf", 11 * G),
    (read_mass, "194 lb", 194 * POUND),
    (read_mass, "1 1/2 lbs", Fraction(3, 2) * POUND),
    (read_mass, "350 g", Fraction(35, 100)),
    (read_mass, "1.2 t", Fraction(1200)),
    (read_pressure, "5 psf", 5 * POUND * G / (12 * INCH) ** 2),
    (read_pressure, "36 PSI", 36 * POUND * G / INCH**2),
    (read_pressure, "50 ksi", 50_000 * POUND * G / INCH**2),
    (read_pressure, "5 lb/ft²", 5 * POUND * G / (12 * INCH) ** 2),
    (read_pressure, "-1.2 kPa", Fraction(-1200)),
    (read_pressure, "355 N/mm2", Fraction(355_000_000)),
    (read_pressure, "355 N / mm^2", Fraction(355_000_000)),
    (read_pressure, "210 GPa", Fraction(210_000_000_000)),
    (read_density, "23 lb/ft3", 23 * POUND / (12 * INCH) ** 3),
    (read_density, "23 lb per ft³", 23 * POUND / (12 * INCH) ** 3),
    (read_density, "7850 kg/m3", Fraction(7850)),
    (read_density, "7.85 g/cm3", Fraction(7850)),
    (read_areal_mass, "2.5 lb/ft2", Fraction(5, 2) * POUND / (12 * INCH) ** 2),
    (read_areal_mass, "12.2 kg/m²", Fraction(122, 10)),
    (read_line_load, "600 lb/ft", 600 * POUND * G / (12 * INCH)),
    (read_line_load, "40 plf", 40 * POUND * G / (12 * INCH)),
    (read_line_load, "8.8 kN/m", Fraction(8800)),
    (read_speed, "115 mph", 115 * 5280 * 12 * INCH / 3600),
    (read_speed, "36 km/h", Fraction(10)),
    (read_speed, "10 ft/s", 120 * INCH),
    (read_temperature, "32 F", Fraction("273.15")),
    (read_temperature, "212°F", Fraction("373.15")),
    (read_temperature, "-40 ℉", Fraction("233.15")),
    (read_temperature, "-40 deg C", Fraction("233.15")),
    (read_temperature, "0 K", Fraction(0)),
    (read_temperature_difference, "90 F", Fraction(50)),
    (read_temperature_difference, "-50 °C", Fraction(-50)),
    (read_time, "25 min", Fraction(1500)),
    (read_time, "1 1/2 h", Fraction(5400)),
    (read_time, "45 s", Fraction(45)),
    (read_time, "2 Hours", Fraction(7200)),
]


@pytest.mark.parametrize(("reader", "text", "exact"), QUANTITIES)
def test_quantity_is_read_exactly(
    reader: Callable[[str], Typed], text: str, exact: Fraction
) -> None:
    assert reader(text) == Typed(text, exact)


REFUSED_QUANTITIES = [
    (read_force, "5", "force '5': a number without a unit"),
    (read_force, "3 kg", "'kg' is refused: a kilogram is a mass; its weight is 1 kgf"),
    (read_force, "5 KN", "'KN' is not known (the nearest known is kN)"),
    (read_force, "5 lb 3 oz", "it holds more than one number"),
    (read_force, "12-6 lb", "it holds more than one number"),
    (read_force, "1/0 N", "the fraction 1/0 divides by zero"),
    (read_force, "1e3 N", "powers of ten are not read"),
    (read_force, "lots", "it does not begin with a number that can be read"),
    (read_mass, "2 ton", "'ton' is refused: a ton is 2000 lb, 2240 lb or 1000 kg"),
    (read_mass, "5 N", "'N' is refused: it is a force"),
    (read_mass, "-5 kg", "it is below zero"),
    (read_pressure, "5 mPa", "'mPa' is not known (the nearest known is MPa)"),
    (read_pressure, "5 kg/m2", "'kg/m2' is refused: it is a mass on an area"),
    (read_density, "7,850 kg/m3", "the comma may mark thousands or decimals"),
    (read_areal_mass, "2 psf", "'psf' is refused: it is a pressure"),
    (read_line_load, "40 kg/m", "'kg/m' is refused: it is a mass on a length"),
    (read_speed, "40 kph", "'kph' is not known (the nearest known is mph)"),
    (read_temperature, "-460 F", "it is below absolute zero"),
    (read_temperature, "20", "a number without a unit"),
    (read_temperature_difference, "nan K", "it is not a number that can be measured"),
    (read_time, "2 days", "a day is 24 hours or a day's work"),
    (read_time, "1 h 30 min", "it holds more than one number"),
    (read_time, "-5 s", "it is below zero"),
]


@pytest.mark.parametrize(("reader", "text", "why"), REFUSED_QUANTITIES)
def test_quantity_is_refused_with_the_reason_and_forms(
    reader: Callable[[str], Typed], text: str, why: str
) -> None:
    message = refused(reader, text)
    assert why in message
    for form in forms_of(message):
        reader(form)
