"""Lengths as a maker types them: feet, inches and fractions, millimetres, gauge numbers."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal, NamedTuple

from leafwright.units.constants import FOOT, INCH, MILLIMETRE
from leafwright.units.gauges import SHEET_STEEL, TUBE_WALL
from leafwright.units.typed import (
    VALUE,
    Typed,
    UnitError,
    exact_number,
    mixed,
    nearest,
    plain,
    refusal,
)

LONGEST_LENGTH = 1000
"""The size beyond which a typed length is taken for a slip [m]."""

_UNITS = {"ft": FOOT, "in": INCH, "mm": MILLIMETRE, "cm": 10 * MILLIMETRE, "m": Fraction(1)}
_SPELLINGS = {
    "'": "ft",
    "ft": "ft",
    "foot": "ft",
    "feet": "ft",
    '"': "in",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "mm": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "m": "m",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "ga": "ga",
    "gauge": "ga",
    "gage": "ga",
}
_CUSTOMARY = {"ft", "in"}
_FORMS = ("16'-2 3/4\"", "16 ft 2-3/4 in", "194.75 in", "2 ¾ in", "4946 mm", "4.946 m")
_PART = re.compile(rf"({VALUE}) ?([^\W\d_]+\.?|['\"])?")
_JOIN = re.compile(r" ?(-?) ?")
_GAP_IN_THOUSANDS = re.compile(r"[0-9]{1,3}(?: [0-9]{3})+(?:\.[0-9]+)?(?: ?[^\W\d_]+)?")


class _Part(NamedTuple):
    """A number of a length with the unit typed behind it, and whether a dash stands before it."""

    value: str
    unit: str
    after_dash: bool


def read_length(
    text: str,
    *,
    bare: str | None = None,
    gauge: Literal["sheet", "tube"] | None = None,
) -> Typed:
    """Return a typed length, exact [m].

    Read: feet and inches (`16'-2 3/4"`, `16ft 2-3/4in`, and `10' 7`: after feet the rest is
    inches), one number with its unit (`2 3/8 in`, `11/16"`, `4946 mm`), curly quotes, primes
    and `¾`. A sign in front is for the whole length. A fraction may have any denominator.

    text: what was typed.
    bare: the unit of a number without one (in, ft, mm, cm or m); None refuses such a number.
    gauge: which table `11 ga` is looked up in (`gauges`); None refuses a gauge number.

    Raises: UnitError for everything that could be read in two ways, that mixes inches with
    millimetres, or is longer than LONGEST_LENGTH.
    """
    if bare is not None and bare not in _UNITS:
        raise UnitError(f"unit of a plain number {bare!r}: use one of {', '.join(_UNITS)}")
    line = plain("length", text, _FORMS)
    sign = line[0] if line[0] in "+-" else ""
    body = line.removeprefix(sign).lstrip()
    parts = _parts(text, body)
    if any(part.unit == "ga" for part in parts):
        metres = _gauge_thickness(text, parts, sign, gauge)
    elif len(parts) == 1:
        metres = _one_number(text, parts[0], sign, bare, gauge)
    elif len(parts) == 2 and parts[0].unit == "ft" and parts[1].unit in ("", "in"):
        metres = _feet_and_inches(text, sign, parts[0].value, parts[1].value)
    else:
        raise _two_numbers(text, sign, body, parts)
    if metres > LONGEST_LENGTH:
        raise refusal("length", text, f"it is more than {LONGEST_LENGTH} m", _FORMS)
    return Typed(text, -metres if sign == "-" else metres)


def _parts(text: str, body: str) -> list[_Part]:
    """Return the numbers of a length, each with its unit as the short word, or none ("")."""
    parts = []
    place = 0
    dash = False
    while place < len(body):
        found = _PART.match(body, place)
        if found is None:
            why = f"{body[place:]!r} cannot be read as a number with a unit"
            raise refusal("length", text, why, _FORMS)
        value, word = found[1], found[2] or ""
        unit = _SPELLINGS.get(word.lower().removesuffix("."), "") if word else ""
        if word and not unit:
            hint = nearest(word, (name for name in _SPELLINGS if name.isalpha()))
            raise refusal("length", text, f"the unit {word!r} is not known{hint}", _FORMS)
        parts.append(_Part(value, unit, dash))
        join = _JOIN.match(body, found.end())
        dash = join is not None and join[1] == "-"
        place = join.end() if join is not None else found.end()
    if dash or not parts:
        raise refusal("length", text, "a number is missing where it ends", _FORMS)
    return parts


def _one_number(text: str, part: _Part, sign: str, bare: str | None, gauge: str | None) -> Fraction:
    number = exact_number("length", text, part.value, _FORMS)
    if part.unit:
        return number * _UNITS[part.unit]
    if bare is None:
        forms = tuple(f"{sign}{part.value} {unit}" for unit in ("in", "ft", "mm", "m"))
        raise refusal("length", text, "a number without a unit", forms)
    if gauge is not None and not sign and part.value.isdigit():
        forms = (f"{part.value} ga", f"{part.value} {bare}")
        raise refusal("length", text, "it may be a gauge number or a thickness", forms)
    if "/" in part.value and bare not in _CUSTOMARY:
        why = f"a fraction without a unit, where a plain number means {bare}"
        forms = (f"{sign}{part.value} in", f"{sign}{part.value} {bare}")
        raise refusal("length", text, why, forms)
    return number * _UNITS[bare]


def _feet_and_inches(text: str, sign: str, feet: str, inches: str) -> Fraction:
    if not feet.isdigit():
        why = f"{feet} feet are not whole, and inches follow"
        raise refusal("length", text, why, (f"{sign}{feet} ft", *_FORMS[:3]))
    number = exact_number("length", text, inches, _FORMS)
    if number >= 12:
        more, rest = divmod(number, 12)
        meant = f"{sign}{int(feet) + more}' {mixed(rest)}\""
        why = f"{inches} inches are a foot or more: did you mean {meant}"
        raise refusal("length", text, why, (meant, f"{sign}{mixed(int(feet) * 12 + number)} in"))
    return int(feet) * FOOT + number * INCH


def _gauge_thickness(text: str, parts: list[_Part], sign: str, gauge: str | None) -> Fraction:
    if gauge is None:
        why = "a gauge number is one thickness as sheet and another as tube; write the thickness"
        raise refusal("length", text, why, ("0.120 in", "3 mm"))
    table = SHEET_STEEL if gauge == "sheet" else TUBE_WALL
    forms = ("11 ga", f"{float(table[11])} in", "3 mm")
    if sign or len(parts) > 1 or not parts[0].value.isdigit():
        raise refusal("length", text, "a gauge is one whole number without a sign", forms)
    thickness = table.get(int(parts[0].value))
    if thickness is None:
        why = f"{gauge} gauges go from {min(table)} to {max(table)} here"
        raise refusal("length", text, why, forms)
    return thickness * INCH


def _two_numbers(text: str, sign: str, body: str, parts: list[_Part]) -> UnitError:
    """Return the refusal for numbers that do not make one length, saying what they look like."""
    units = [part.unit for part in parts]
    systems = {unit in _CUSTOMARY for unit in units if unit}
    if len(systems) == 2:
        why = "it mixes inches or feet with metric units in one length"
        return refusal("length", text, why, _FORMS)
    first, second = parts[0], parts[1]
    dashed = len(parts) == 2 and second.after_dash and not first.unit
    if (
        dashed
        and first.value.isdigit()
        and second.unit in ("", "in")
        and exact_number("length", text, second.value, _FORMS) < 12
    ):
        feet = f"{sign}{first.value}"
        meant = f"{feet}'-{second.value}\""
        why = f"the dash may join feet and inches ({meant}) or part the two lengths of a range"
        return refusal("length", text, why, (meant, f"{feet} ft {second.value} in"))
    if _GAP_IN_THOUSANDS.fullmatch(body):
        joined = sign + re.sub(r"(?<=[0-9]) (?=[0-9])", "", body)
        why = "the gap may mark thousands or part two numbers"
        return refusal("length", text, why, (joined, *_FORMS[:2]))
    return refusal("length", text, "it holds more numbers than one length has", _FORMS)
