"""Money and rates are read exactly, or refused with the forms that would do."""

from fractions import Fraction

import pytest

from leafwright.units import Rate, read_money, read_rate
from tests.units.refusals import forms_of, refused

INCH = Fraction(127, 5000)
POUND = Fraction("0.45359237")


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("95", "95", None),
        ("$95", "95", "$"),
        ("95 USD", "95", "USD"),
        ("EUR 7.80", "7.80", "EUR"),
        ("7.80 €", "7.80", "EUR"),
        ("£.50", "0.50", "GBP"),
        ("-$5.25", "-5.25", "$"),
        ("$-5.25", "-5.25", "$"),
        ("−5 EUR", "-5", "EUR"),
    ],
)
def test_money_is_read_exactly(text: str, amount: str, currency: str | None) -> None:
    assert read_money(text) == (Fraction(amount), currency)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("1,234.50", "the comma may mark thousands or decimals"),
        ("7,80 EUR", "the comma may mark thousands or decimals"),
        ("$95 USD", "it names two currencies, $ and USD"),
        ("-$-5", "it has two signs"),
        ("95 usd", "'95 usd' is not read as an amount of money"),
        ("1/2", "'1/2' is not read as an amount of money"),
        ("", "nothing was typed"),
    ],
)
def test_money_is_refused_with_the_reason_and_forms(text: str, why: str) -> None:
    message = refused(read_money, text)
    assert why in message
    for form in forms_of(message):
        read_money(form)


@pytest.mark.parametrize(
    ("text", "amount", "currency", "unit", "per", "exact"),
    [
        ("1.15 /lb", "1.15", None, "lb", "kg", Fraction("1.15") / POUND),
        ("$1.15/lb", "1.15", "$", "lb", "kg", Fraction("1.15") / POUND),
        ("$1.15 per lb", "1.15", "$", "lb", "kg", Fraction("1.15") / POUND),
        ("1150 /t", "1150", None, "t", "kg", Fraction("1.15")),
        ("7.80 EUR/m", "7.80", "EUR", "m", "m", Fraction("7.80")),
        ("3 /ft", "3", None, "ft", "m", 3 / (12 * INCH)),
        ("9.50 / ft²", "9.50", None, "ft2", "m2", Fraction("9.50") / (12 * INCH) ** 2),
        ("95 /h", "95", None, "h", "h", Fraction(95)),
        ("95 /hr", "95", None, "hr", "h", Fraction(95)),
        ("2 /min", "2", None, "min", "h", Fraction(120)),
        ("240 /day", "240", None, "day", "day", Fraction(240)),
        ("900 /week", "900", None, "week", "week", Fraction(900)),
        ("4 each", "4", None, "each", "each", Fraction(4)),
        ("4 EUR each", "4", "EUR", "each", "each", Fraction(4)),
        ("$4/ea", "4", "$", "ea", "each", Fraction(4)),
    ],
)
def test_rate_is_read_exactly(
    text: str, amount: str, currency: str | None, unit: str, per: str, exact: Fraction
) -> None:
    rate = read_rate(text)
    assert rate == Rate(text, Fraction(amount), currency, unit, per, exact)
    assert rate.si == float(exact)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("5", "it does not say what the amount is for"),
        ("5 /", "it does not say what the amount is for"),
        ("5 /ton", "a ton is 2000 lb, 2240 lb or 1000 kg"),
        ("5 /hourr", "'hourr' is not a known unit to pay for (the nearest known is hour)"),
        ("5 /lb/day", "'lb/day' is not a known unit to pay for"),
        ("/lb", "'' is not read as an amount of money"),
        ("$5 EUR/lb", "it names two currencies, $ and EUR"),
    ],
)
def test_rate_is_refused_with_the_reason_and_forms(text: str, why: str) -> None:
    message = refused(read_rate, text)
    assert why in message
    for form in forms_of(message):
        read_rate(form)
