"""A typed length is read exactly, or refused with the forms that would do."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.units import Typed, UnitError, read_length
from tests.units.refusals import forms_of, refused

INCH = Fraction(127, 5000)
MM = Fraction(1, 1000)


def inches(whole: int, above: int = 0, below: int = 1) -> Fraction:
    return (whole + Fraction(above, below)) * INCH


READ_LENGTHS = [
    ("1 in", Fraction(127, 5000)),
    ("1 ft", Fraction(381, 1250)),
    ("16' 2 3/4\"", inches(194, 3, 4)),
    ("16'-2 3/4\"", inches(194, 3, 4)),
    ("16' - 2 3/4\"", inches(194, 3, 4)),
    ("16ft 2-3/4in", inches(194, 3, 4)),
    ("16 ft. 2 3/4 in.", inches(194, 3, 4)),
    ("16 feet 2 3/4 inches", inches(194, 3, 4)),
    ("16'2-3/4", inches(194, 3, 4)),
    ("16'2.75\"", inches(194, 3, 4)),
    ("16' 2 3/4''", inches(194, 3, 4)),
    ("10' 7", inches(127)),
    ("10'-7", inches(127)),
    ("10'7", inches(127)),
    ("10'-6 11/16", inches(126, 11, 16)),
    ("13'-9", inches(165)),
    ("10' 11 63/64", inches(131, 63, 64)),
    ("10' 3/4", inches(120, 3, 4)),
    ("10'", inches(120)),
    ("5.5'", inches(66)),
    ("5 1/2 ft", inches(66)),
    ("4.946 m", Fraction(4946, 1000)),
    ("4946 mm", Fraction(4946, 1000)),
    ("4946mm", Fraction(4946, 1000)),
    ("4946 MM", Fraction(4946, 1000)),
    ("12 cm", Fraction(12, 100)),
    ("2 millimetres", 2 * MM),
    ("20.06 mm", Fraction(2006, 100_000)),
    ("2 ¾ in", inches(2, 3, 4)),
    ('2¾"', inches(2, 3, 4)),
    ("2-½ in", inches(2, 1, 2)),
    ("½ in", inches(0, 1, 2)),
    ('11/16"', inches(0, 11, 16)),
    ('1 1/16"', inches(1, 1, 16)),
    ('11 1/16"', inches(11, 1, 16)),
    ("0.120 in", Fraction(12, 100) * INCH),
    (".5 in", inches(0, 1, 2)),
    ("1.4990 in", Fraction(14990, 10_000) * INCH),
    ("2-1/2 in", inches(2, 1, 2)),
    ("2 3/8 in", inches(2, 3, 8)),
    ("1/3 in", inches(0, 1, 3)),
    ("-36 5/8 in", inches(-36, -5, 8)),
    ("-3'-0 5/8\"", inches(-36, -5, 8)),
    ("-0.62 in", Fraction(-62, 100) * INCH),
    ('+1/4"', inches(0, 1, 4)),
    ("0 in", Fraction(0)),
    ("1000 m", Fraction(1000)),
    # What phones and drawings put for the plain signs.
    ("16’ 2 ¾”", inches(194, 3, 4)),
    ("16‘ 2 ¾“", inches(194, 3, 4)),
    ("16′ 2 3⁄4″", inches(194, 3, 4)),
    ("16′‑2 3⁄4″", inches(194, 3, 4)),
    ("16′–2 3⁄4″", inches(194, 3, 4)),
    ("−36 5/8 in", inches(-36, -5, 8)),
    ("2\u00a03/8\u2009in", inches(2, 3, 8)),
    ("\u202f4946\u202fmm ", Fraction(4946, 1000)),
    ("2\t3/8   in", inches(2, 3, 8)),
]


@pytest.mark.parametrize(("text", "metres"), READ_LENGTHS)
def test_length_is_read_exactly_and_kept_as_typed(text: str, metres: Fraction) -> None:
    assert read_length(text) == Typed(text, metres)


def test_every_vulgar_fraction_of_unicode_is_read() -> None:
    signs = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒↉"
    values = "1/2 1/3 2/3 1/4 3/4 1/5 2/5 3/5 4/5 1/6 5/6 1/7 1/8 3/8 5/8 7/8 1/9 1/10 0/3"
    for sign, value in zip(signs, values.split(), strict=True):
        assert read_length(f'1{sign}"').exact == (1 + Fraction(value)) * INCH
    assert read_length('1⅟7"').exact == inches(1, 1, 7)


@pytest.mark.parametrize(
    ("bare", "metres"),
    [
        ("in", Fraction(19475, 100) * INCH),
        ("ft", Fraction(19475, 100) * 12 * INCH),
        ("mm", Fraction(19475, 100_000)),
        ("cm", Fraction(19475, 10_000)),
        ("m", Fraction(19475, 100)),
    ],
)
def test_a_plain_number_is_in_the_unit_that_the_place_gives(bare: str, metres: Fraction) -> None:
    assert read_length("194.75", bare=bare).exact == metres
    assert read_length("10' 7", bare=bare).exact == inches(127), "after feet come inches"
    assert read_length("2 in", bare=bare).exact == inches(2)


def test_a_plain_fraction_is_read_where_a_plain_number_means_inches() -> None:
    assert read_length("-2 3/8", bare="in").exact == inches(-2, -3, 8)


def test_gauge_is_read_from_the_table_that_is_asked_for() -> None:
    assert read_length("11 ga", gauge="sheet").exact == Fraction("0.1196") * INCH
    assert read_length("11ga.", gauge="tube").exact == Fraction("0.120") * INCH
    assert read_length("16 gauge", gauge="tube").exact == Fraction("0.065") * INCH
    assert read_length("14 gage", gauge="sheet").exact == Fraction("0.0747") * INCH
    assert read_length("0.120 in", gauge="tube").exact == Fraction("0.120") * INCH
    assert read_length("0.120", gauge="tube", bare="in").exact == Fraction("0.120") * INCH


def test_typed_values_are_equal_only_where_typed_alike() -> None:
    assert read_length("1 in") == read_length("1 in")
    assert read_length("1 in") != read_length("25.4 mm")
    assert read_length("1 in").exact == read_length("25.4 mm").exact
    assert read_length("1 in").si == 0.0254


@given(
    feet=st.integers(0, 100),
    whole=st.integers(0, 11),
    below=st.integers(2, 128),
    data=st.data(),
)
def test_feet_inches_and_fraction_add_up(
    feet: int, whole: int, below: int, data: st.DataObject
) -> None:
    above = data.draw(st.integers(1, below - 1))
    metres = read_length(f"{feet}'-{whole} {above}/{below}").exact
    assert metres == inches(12 * feet + whole, above, below)
    assert read_length(f"-{feet}'-{whole} {above}/{below}").exact == -metres
    assert read_length(f"{whole} {above}/{below} in").exact == metres - inches(12 * feet)


REFUSED_LENGTHS = [
    # Two readings.
    ("16-2 3/4", "may join feet and inches (16'-2 3/4\")", "16'-2 3/4\"; 16 ft 2 3/4 in"),
    ("12-6 1/2", "or part the two lengths of a range", "12'-6 1/2\""),
    ("16-2 3/4 in", "may join feet and inches", "16'-2 3/4\""),
    ("-16-2 3/4", "may join feet and inches", "-16'-2 3/4\""),
    ("12-6", "may join feet and inches", "12'-6\"; 12 ft 6 in"),
    ("12–6", "may join feet and inches", "12'-6\""),
    ("1,234 mm", "the comma may mark thousands or decimals", "1234 mm; 1.234 mm"),
    ("1,234.5 mm", "the comma may mark thousands or decimals", "1234.5 mm"),
    ("1,234,567 mm", "the comma may mark thousands or decimals", "4946 mm"),
    ("4 946 mm", "the gap may mark thousands or part two numbers", "4946 mm"),
    ("4\u202f946 mm", "the gap may mark thousands or part two numbers", "4946 mm"),
    ("-4 946 mm", "the gap may mark thousands or part two numbers", "-4946 mm"),
    ("11/2 in", "(11/2 would be 5 1/2), or it is 1 1/2 with its space lost", "2 ¾ in"),
    ("11⁄2 in", "or it is 1 1/2 with its space lost", "2 ¾ in"),
    # Two systems, two lengths.
    ("5' 6mm", "it mixes inches or feet with metric units", "16'-2 3/4\""),
    ("5 in 6 mm", "it mixes inches or feet with metric units", "4946 mm"),
    ("10-12 mm", "it holds more numbers than one length has", "4946 mm"),
    ("16-12", "it holds more numbers than one length has", "4946 mm"),
    ("16-20", "it holds more numbers than one length has", "4946 mm"),
    ("4 m 946 mm", "it holds more numbers than one length has", "4.946 m"),
    ("5 in 3 in", "it holds more numbers than one length has", "194.75 in"),
    ("3\" 5'", "it holds more numbers than one length has", "16'-2 3/4\""),
    ("5' 3\" 1/2", "it holds more numbers than one length has", "16'-2 3/4\""),
    ("2 3 in", "it holds more numbers than one length has", "194.75 in"),
    ("1½2 in", "it holds more numbers than one length has", "2 ¾ in"),
    ("2 x 3 in", "the unit 'x' is not known", "2 ¾ in"),
    # Feet and inches that do not add up.
    ("5' 14\"", "14 inches are a foot or more: did you mean 6' 2\"", "6' 2\"; 74 in"),
    ("5' 12", "12 inches are a foot or more: did you mean 6' 0\"", "6' 0\"; 72 in"),
    ("-5' 14 1/2\"", "did you mean -6' 2 1/2\"", "-74 1/2 in"),
    ("5.5' 3\"", "5.5 feet are not whole, and inches follow", "5.5 ft"),
    ("5 1/2' 3\"", "5 1/2 feet are not whole", "5 1/2 ft"),
    # Fractions.
    ("2 5/4 in", "the fraction 5/4 is one or more (2 5/4 would be 3 1/4)", "2 ¾ in"),
    ("16/16 in", "the fraction 16/16 is one or more", "2 ¾ in"),
    ("1/0 in", "the fraction 1/0 divides by zero", "2 ¾ in"),
    ("2 1/0 in", "the fraction 1/0 divides by zero", "2 ¾ in"),
    ("1/2/3 in", "cannot be read as a number with a unit", "2 ¾ in"),
    ("2 3/ 8 in", "'3/ 8 in' cannot be read as a number with a unit", "2 ¾ in"),
    # Not a number, or no number.
    ("", "nothing was typed", "4946 mm"),
    (" \u00a0 ", "nothing was typed", "4946 mm"),
    ("nan", "it is not a number that can be measured", "4946 mm"),
    ("-inf mm", "it is not a number that can be measured", "4946 mm"),
    ("Infinity", "it is not a number that can be measured", "4946 mm"),
    ("1e3 mm", "powers of ten are not read", "4946 mm"),
    ("-", "a number is missing where it ends", "4946 mm"),
    ("5' -", "a number is missing where it ends", "4946 mm"),
    ("--5 in", "'-5 in' cannot be read", "194.75 in"),
    ("10'--6", "'-6' cannot be read", "16'-2 3/4\""),
    ("in 5", "'in 5' cannot be read", "194.75 in"),
    ("1.2.3 in", "'1.2.3 in' cannot be read", "194.75 in"),
    ("5.", "'5.' cannot be read", "194.75 in"),
    ("1_000 mm", "'_000 mm' cannot be read", "4946 mm"),
    ("٣ in", "cannot be read", "194.75 in"),
    ("5\u200b in", "it holds the invisible character U+200B", "194.75 in"),
    ("5\n1/2 in", "it holds the invisible character U+000A", "194.75 in"),
    # Units.
    ("194.75", "a number without a unit", "194.75 in; 194.75 ft; 194.75 mm; 194.75 m"),
    ("-3/8", "a number without a unit", "-3/8 in"),
    ("5 milimetre", "'milimetre' is not known (the nearest known is millimetre)", "4946 mm"),
    ("5 yd", "the unit 'yd' is not known.", "4946 mm"),
    ("5 µm", "the unit 'µm' is not known", "4946 mm"),
    ("11 ga", "one thickness as sheet and another as tube", "0.120 in; 3 mm"),
    # Sizes.
    ("1000.001 m", "it is more than 1000 m", "4.946 m"),
    ("-3300 ft", "it is more than 1000 m", "4.946 m"),
    ("9" * 60, "a number without a unit", "9 in"),
    ("9" * 61, "it has more than 60 characters", "4946 mm"),
]


@pytest.mark.parametrize(("text", "why", "form"), REFUSED_LENGTHS)
def test_length_is_refused_with_the_reason_and_forms(text: str, why: str, form: str) -> None:
    message = refused(read_length, text)
    assert message.startswith("length ")
    assert why in message
    assert form in message.partition("Forms that would do: ")[2]


@pytest.mark.parametrize("text", [text for text, _, _ in REFUSED_LENGTHS if len(text) < 60])
def test_every_form_that_would_do_does(text: str) -> None:
    forms = forms_of(refused(read_length, text))
    assert forms
    for form in forms:
        read_length(form)


def test_a_plain_number_is_refused_where_it_may_mean_something_else() -> None:
    message = refused(lambda text: read_length(text, bare="mm"), "2 3/4")
    assert "a fraction without a unit, where a plain number means mm" in message
    assert forms_of(message) == ["2 3/4 in", "2 3/4 mm"]
    message = refused(lambda text: read_length(text, bare="in", gauge="tube"), "11")
    assert "it may be a gauge number or a thickness" in message
    assert forms_of(message) == ["11 ga", "11 in"]


@pytest.mark.parametrize("text", ["-11 ga", "11.5 ga", "1/2 ga", "11 ga 5 mm"])
def test_a_gauge_is_a_whole_number(text: str) -> None:
    message = refused(lambda typed: read_length(typed, gauge="tube"), text)
    assert "a gauge is one whole number without a sign" in message
    assert forms_of(message) == ["11 ga", "0.12 in", "3 mm"]


def test_a_gauge_outside_the_table_is_refused_with_its_ends() -> None:
    assert "sheet gauges go from 7 to 26" in refused(
        lambda text: read_length(text, gauge="sheet"), "3 ga"
    )
    assert "tube gauges go from 4 to 26" in refused(
        lambda text: read_length(text, gauge="tube"), "27 ga"
    )


def test_an_unknown_unit_for_plain_numbers_is_refused() -> None:
    with pytest.raises(UnitError, match="unit of a plain number 'yd': use one of ft, in, mm"):
        read_length("5", bare="yd")
