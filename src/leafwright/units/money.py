"""Money and rates: an amount with its currency, and an amount for each unit of something."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from leafwright.units.constants import FOOT, INCH, MILE, MILLIMETRE, POUND
from leafwright.units.typed import nearest, plain, refusal

_MONEY_FORMS = ("95", "$95", "95 USD", "EUR 7.80")
_RATE_FORMS = ("1.15 /lb", "$1.15/lb", "7.80 EUR/m", "9.50 /ft2", "95 /h", "240 /day", "4 each")
_SIGNS = {"$": "$", "€": "EUR", "£": "GBP"}
_CURRENCY = r"[$€£]|[A-Z]{3}"
_MONEY = re.compile(rf"([+-]?) ?({_CURRENCY})? ?([+-]?)([0-9]*\.[0-9]+|[0-9]+) ?({_CURRENCY})?")

# What a rate may be for: the SI unit it is kept by, and how many of those one typed unit is.
_PER = {
    "kg": ("kg", Fraction(1)),
    "t": ("kg", Fraction(1000)),
    "lb": ("kg", POUND),
    "m": ("m", Fraction(1)),
    "mm": ("m", MILLIMETRE),
    "km": ("m", Fraction(1000)),
    "in": ("m", INCH),
    "ft": ("m", FOOT),
    "mile": ("m", MILE),
    "m2": ("m2", Fraction(1)),
    "in2": ("m2", INCH**2),
    "ft2": ("m2", FOOT**2),
    "sq ft": ("m2", FOOT**2),
    "m3": ("m3", Fraction(1)),
    "ft3": ("m3", FOOT**3),
    "cu ft": ("m3", FOOT**3),
    "min": ("h", Fraction(1, 60)),
    "h": ("h", Fraction(1)),
    "hr": ("h", Fraction(1)),
    "hour": ("h", Fraction(1)),
    "day": ("day", Fraction(1)),
    "week": ("week", Fraction(1)),
    "each": ("each", Fraction(1)),
    "ea": ("each", Fraction(1)),
    "piece": ("each", Fraction(1)),
}
_TONS = ("ton", "tons")


@dataclass(frozen=True, slots=True)
class Rate:
    """An amount of money for each unit of something, exactly as it was typed.

    text: what was typed. amount: the amount for one of `unit`. unit: what it was typed for
    (`lb`). per: what it is kept by: kg, m, m2, m3, h, day, week or each. exact: the amount for
    one of `per`. currency: its code, `$`, or None where none was typed.

    A day and a week are not made hours: how many a hired day has is for the job to say.
    """

    text: str
    amount: Fraction
    currency: str | None
    unit: str
    per: str
    exact: Fraction

    @property
    def si(self) -> float:
        """The amount for one of `per`, as the nearest float."""
        return float(self.exact)


def read_money(text: str) -> tuple[Fraction, str | None]:
    """Return a typed amount of money, exact, and its currency or None where none was typed.

    Read: a decimal with a currency before or behind it: three capital letters, `$`, `€` (EUR)
    or `£` (GBP). `$` stays `$`, since several currencies use it. Any three capitals are taken;
    whether they are the job's currency is for the job to check.

    Raises: UnitError for a comma, a fraction, two currencies, or anything else.
    """
    return _amount("money", text, plain("money", text, _MONEY_FORMS), _MONEY_FORMS)


def read_rate(text: str) -> Rate:
    """Return a typed rate: money for each kg, metre, m2, m3, hour, day, week or piece.

    Read: an amount as `read_money` reads it, then `/` or `per` and what it is for, or `each`.

    Raises: UnitError where the amount is not read, or what it is for is missing or not known.
    """
    line = plain("rate", text, _RATE_FORMS).replace("²", "2").replace("³", "3").replace("^", "")
    parted = re.fullmatch(r"(.*?) ?(?:/| per ) ?(.*)", line)
    if parted is None:
        parted = re.fullmatch(r"(.*?[^a-z]) ?(each|ea)", line, re.IGNORECASE)
    if parted is None or not parted[2]:
        raise refusal("rate", text, "it does not say what the amount is for", _RATE_FORMS)
    money, unit = parted.groups()
    amount, currency = _amount("rate", text, money.strip(), _RATE_FORMS)
    known = _PER.get(unit) or _PER.get(unit.lower())
    if known is None:
        if unit.lower() in _TONS:
            why = "a ton is 2000 lb, 2240 lb or 1000 kg"
        else:
            why = f"{unit!r} is not a known unit to pay for{nearest(unit, _PER)}"
        raise refusal("rate", text, why, _RATE_FORMS)
    per, size = known
    return Rate(text, amount, currency, unit, per, amount / size)


def _amount(
    what: str, text: str, money: str, forms: tuple[str, ...]
) -> tuple[Fraction, str | None]:
    found = _MONEY.fullmatch(money)
    if found is None:
        raise refusal(what, text, f"{money!r} is not read as an amount of money", forms)
    sign, before, inner_sign, number, behind = found.groups()
    if before and behind:
        raise refusal(what, text, f"it names two currencies, {before} and {behind}", forms)
    if sign and inner_sign:
        raise refusal(what, text, "it has two signs", forms)
    mark = before or behind
    amount = Fraction(number)
    negative = "-" in (sign, inner_sign)
    return (-amount if negative else amount), _SIGNS.get(mark, mark) if mark else None
