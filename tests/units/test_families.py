"""Areas, moduli, moments and the rest: read exactly, and shown in both families."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.units import (
    UnitError,
    measure_of,
    read_area,
    read_inertia,
    read_moment,
    read_number,
    read_section_modulus,
    show_both,
)
from leafwright.units.families import DIFFERENCE, MEASURES, plain_unit
from tests.sizes import cases

INCH = Fraction(127, 5000)
POUND = Fraction("0.45359237") * Fraction("9.80665")


@pytest.mark.parametrize(
    ("text", "exact"),
    [
        ("2 1/2 in2", Fraction(5, 2) * INCH**2),
        ("2.5 in²", Fraction(5, 2) * INCH**2),
        ("2.5 sq in", Fraction(5, 2) * INCH**2),
        ("1200 mm^2", Fraction(12, 10_000)),
    ],
)
def test_an_area_is_read(text: str, exact: Fraction) -> None:
    assert read_area(text).exact == exact


def test_moduli_and_inertias_are_read() -> None:
    assert read_section_modulus("25 cm3").exact == Fraction(25, 10**6)
    assert read_inertia("2 in⁴").exact == 2 * INCH**4


@pytest.mark.parametrize("text", ["12 kip in", "12 kip-in", "12 kip·in", "12 in kip", "1 kip ft"])
def test_a_moment_is_read_either_way_round(text: str) -> None:
    assert read_moment(text).exact == 12_000 * POUND * INCH


def test_a_moment_keeps_its_sign() -> None:
    assert read_moment("-3 N m").exact == -3


def test_a_number_is_read_without_a_unit_and_as_a_percentage() -> None:
    assert read_number("35 %").exact == read_number("0.35").exact == Fraction(35, 100)
    with pytest.raises(UnitError, match="the unit 'in' is not known"):
        read_number("2 in")


@pytest.mark.parametrize(
    ("value", "unit", "both"),
    [
        (0.0508, "m", ("2 in", "50.8 mm")),
        (239.4012959, "Pa", ("5 psf", "239.4 Pa")),
        (248.2112626e6, "Pa", ("36 ksi", "248.2 MPa")),
        (533.7866, "N", ("120 lbf", "533.8 N")),
        (1355.817948, "N m", ("1000 lb·ft", "1.356 kN·m")),
        (0.2617993878, "rad", ("15 deg", "0.2618 rad")),
        (300.0, "K", ("80.33 °F", "26.85 °C")),
        (30.0, DIFFERENCE, ("54 °F", "30 K")),
        (0.5, "-", ("0.5", "0.5")),
        (1.5, "h", ("1.5 h", "1.5 h")),
        (0.0, "N", ("0 lbf", "0 N")),
        (float("nan"), "N", ("no number", "no number")),
        (float("inf"), "m", ("without end", "without end")),
        (3.0, "candela", ("3 candela", "3 candela")),
    ],
)
def test_a_value_is_shown_in_both_families(value: float, unit: str, both: tuple[str, str]) -> None:
    assert show_both(value, unit) == both


def test_spellings_of_a_unit_are_one() -> None:
    assert plain_unit("N·m") == plain_unit("Nm") == "N m"
    assert measure_of("m²") is measure_of("m2")
    assert measure_of("furlong") is None


@settings(max_examples=cases(60, 1000))
@given(st.sampled_from(sorted(MEASURES)), st.floats(1e-3, 1e5))
def test_what_is_shown_reads_back_to_four_figures(unit: str, value: float) -> None:
    measure = measure_of(unit)
    assert measure is not None
    for text in show_both(value, unit):
        try:
            back = float(measure.read(text).exact / measure.one)
        except UnitError as error:
            # A length past a kilometre and an angle past a turn are taken for slips, and a
            # thousandth of a kelvin rounds to below absolute zero.
            assert re.search("it is more than|below absolute zero", str(error))
            continue
        # A temperature is a small difference of two large numbers.
        assert back == pytest.approx(value, rel=6e-4, abs=0.06 if unit == "K" else 0.0)
