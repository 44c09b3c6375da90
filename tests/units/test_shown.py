"""What a tape and a sheet show is rounded once, and a shown length is read back."""

import math
import random
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.units import (
    System,
    Tape,
    UnitError,
    read_length,
    read_money,
    rounded_to_tape,
    show_angle,
    show_force,
    show_length,
    show_machined,
    show_mass,
    show_moment,
    show_money,
    show_pressure,
    show_stress,
)
from tests.sizes import cases

INCH = Fraction(127, 5000)
MM = Fraction(1, 1000)
SIXTEENTHS = Tape("feet-inch", 16)
SIXTY_FOURTHS = Tape("feet-inch", 64)
MILLIMETRES = Tape("mm", 1)


def inches(whole: int, above: int = 0, below: int = 1) -> Fraction:
    return (whole + Fraction(above, below)) * INCH


@pytest.mark.parametrize(
    ("metres", "tape", "shown"),
    [
        (inches(194, 3, 4), SIXTEENTHS, "16'-2 3/4\""),
        (inches(194), SIXTEENTHS, "16'-2\""),
        (inches(192, 3, 4), SIXTEENTHS, "16'-0 3/4\""),
        (inches(192), SIXTEENTHS, "16'-0\""),
        (inches(0, 3, 16), SIXTEENTHS, '3/16"'),
        (inches(11, 15, 16), SIXTEENTHS, '11 15/16"'),
        (inches(11, 31, 32), SIXTEENTHS, "1'-0\""),
        (inches(23, 63, 64), SIXTEENTHS, "2'-0\""),
        (inches(11, 31, 32), Tape("feet-inch", 32), '11 31/32"'),
        (inches(0, -3, 8), SIXTEENTHS, '-3/8"'),
        (inches(-194, -3, 4), SIXTEENTHS, "-16'-2 3/4\""),
        (inches(0, 1, 32), SIXTEENTHS, '1/16"'),
        (inches(0, -1, 32), SIXTEENTHS, '-1/16"'),
        (inches(0, -1, 33), SIXTEENTHS, '0"'),
        (0.0, SIXTEENTHS, '0"'),
        (-0.0, MILLIMETRES, "0 mm"),
        (inches(194, 3, 4), Tape("inch", 16), '194 3/4"'),
        (inches(194, 3, 4), Tape("inch", 1), '195"'),
        (4.946, MILLIMETRES, "4946 mm"),
        (Fraction("4.9465"), MILLIMETRES, "4947 mm"),
        (Fraction("-4.9465"), MILLIMETRES, "-4947 mm"),
        (Fraction("4.9464"), Tape("mm", 2), "4946.5 mm"),
        (Fraction("4.9462"), Tape("mm", 2), "4946.0 mm"),
        (Fraction("-0.0004"), MILLIMETRES, "0 mm"),
    ],
)
def test_length_is_shown_on_the_tape(metres: float | Fraction, tape: Tape, shown: str) -> None:
    assert show_length(metres, tape) == shown


def test_length_is_shown_without_its_closing_unit() -> None:
    assert show_length(inches(194, 3, 4), SIXTEENTHS, unit=False) == "16'-2 3/4"
    assert show_length(inches(2, 3, 4), SIXTEENTHS, unit=False) == "2 3/4"
    assert show_length(4.946, MILLIMETRES, unit=False) == "4946"


def test_sixty_fourths_over_a_hundred_feet_are_read_back() -> None:
    marks: range | list[int] = range(-76_800, 76_801)
    if cases(0, 1) == 0:
        marks = random.Random(22).sample(marks, 2000)
    for mark in marks:
        metres = Fraction(mark, 64) * INCH
        shown = show_length(metres, SIXTY_FOURTHS)
        assert read_length(shown).exact == metres, shown


def test_millimetres_over_thirty_metres_are_read_back() -> None:
    marks: range | list[int] = range(-30_000, 30_001)
    if cases(0, 1) == 0:
        marks = random.Random(23).sample(marks, 2000)
    for mark in marks:
        shown = show_length(mark * MM, MILLIMETRES)
        assert shown == f"{mark} mm"
        assert read_length(shown).exact == mark * MM


TAPES = [
    *(Tape("feet-inch", per) for per in (1, 2, 4, 8, 16, 32, 64)),
    *(Tape("inch", per) for per in (16, 64)),
    *(Tape("mm", per) for per in (1, 2, 5, 10)),
]


@given(metres=st.floats(-50, 50), tape=st.sampled_from(TAPES))
def test_rounding_goes_to_the_nearest_mark_once(metres: float, tape: Tape) -> None:
    rounded = rounded_to_tape(metres, tape)
    assert abs(rounded - Fraction(metres)) <= tape.step / 2
    assert (rounded / tape.step).denominator == 1
    assert rounded_to_tape(rounded, tape) == rounded
    assert rounded_to_tape(-metres, tape) == -rounded
    assert read_length(show_length(metres, tape)).exact == rounded


@given(tenths=st.integers(-100_000, 100_000))
def test_ties_go_away_from_zero_as_decimal_arithmetic_has_them(tenths: int) -> None:
    expected = (Decimal(tenths) / 10).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    assert rounded_to_tape(Fraction(tenths, 10_000), MILLIMETRES) == int(expected) * MM


@pytest.mark.parametrize(
    ("system", "per", "message"),
    [
        ("yard", 16, "tape system 'yard': use 'feet-inch', 'inch' or 'mm'"),
        ("inch", 10, "tape with 10 parts to an inch: use one of 1, 2, 4, 8, 16, 32, 64"),
        ("feet-inch", 0, "tape with 0 parts to an inch"),
        ("mm", 16, "tape with 16 parts to a millimetre: use one of 1, 2, 5, 10"),
    ],
)
def test_a_tape_that_does_not_exist_is_refused(system: System, per: int, message: str) -> None:
    with pytest.raises(UnitError) as error:
        Tape(system, per)
    assert message in str(error.value)


def test_machined_sizes() -> None:
    assert show_machined(Fraction("1.4990") * INCH, "inch") == "1.4990 in"
    assert show_machined(1.499 * 0.0254, "feet-inch") == "1.4990 in"
    assert show_machined(-0.00004 * 0.0254, "inch") == "0.0000 in"
    assert show_machined(0.02006, "mm") == "20.06 mm"
    assert show_machined(Fraction("-0.020065"), "mm") == "-20.07 mm"


def test_angles_are_shown_in_degrees() -> None:
    assert show_angle(math.radians(13.2)) == "13.2°"
    assert show_angle(math.radians(-0.62), decimals=2) == "-0.62°"
    assert show_angle(-1e-9) == "0.0°"


@pytest.mark.parametrize(
    ("show", "value", "customary", "metric"),
    [
        (show_mass, 194 * 0.45359237, "194 lb", "88.0 kg"),
        (show_mass, 1.0, "2.20 lb", "1.00 kg"),
        (show_mass, 0, "0 lb", "0 kg"),
        (show_force, 24 * 4.4482216152605, "24.0 lbf", "107 N"),
        (show_force, -115_264.4, "-25912 lbf", "-115264 N"),
        (show_pressure, 5 * 47.88025898, "5.00 psf", "239 Pa"),
        (show_stress, 50e6 * 6.894757293168, "50.0 ksi", "345 MPa"),
        (show_moment, 1000.0, "738 lb·ft", "1000 N·m"),
        (show_moment, 99.96, "73.7 lb·ft", "100 N·m"),
        (show_moment, 99.94, "73.7 lb·ft", "99.9 N·m"),
        (show_moment, 1e-9, "0.000000 lb·ft", "0.000000 N·m"),
    ],
)
def test_other_numbers_are_shown_with_three_figures_and_their_unit(
    show: Callable[[float, System], str], value: float, customary: str, metric: str
) -> None:
    assert show(value, "feet-inch") == customary
    assert show(value, "inch") == customary
    assert show(value, "mm") == metric


def test_money_is_shown_with_two_decimals_and_read_back() -> None:
    assert show_money(95, "$") == "$95.00"
    assert show_money(Fraction("-7.805"), "$") == "-$7.81"
    assert show_money(Fraction("7.8"), "EUR") == "7.80 EUR"
    assert show_money(1234.5, None) == "1234.50"
    for text in ("$95.00", "-$7.81", "7.80 EUR", "1234.50"):
        assert show_money(*read_money(text)) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_never_shown(value: float) -> None:
    with pytest.raises(UnitError, match=f"length {value!r} cannot be shown: it is not a finite"):
        show_length(value, SIXTEENTHS)
    with pytest.raises(UnitError, match=f"angle {value!r} cannot be shown"):
        show_angle(value)
    with pytest.raises(UnitError, match=f"mass {value!r} cannot be shown"):
        show_mass(value, "mm")
    with pytest.raises(UnitError, match=f"money {value!r} cannot be shown"):
        show_money(value, None)
