"""Angles as a maker types them: degrees, radians, or a slope."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from leafwright.units.typed import (
    VALUE,
    Typed,
    exact_number,
    nearest,
    number_and_unit,
    plain,
    refusal,
)

_FORMS = ("13.2 deg", "13 1/2°", "0.01 rad", "1/4 in/ft", "2 mm/m", "1:12", "2 %")
_DEGREES = ("°", "deg", "degree", "degrees")
_RADIANS = ("rad", "radian", "radians")
_SLOPES = {
    "in/ft": Fraction(1, 12),
    '"/ft': Fraction(1, 12),
    "in/foot": Fraction(1, 12),
    '"/foot': Fraction(1, 12),
    "mm/m": Fraction(1, 1000),
    "cm/m": Fraction(1, 100),
    "%": Fraction(1, 100),
    "percent": Fraction(1, 100),
}
_RISE_TO_RUN = re.compile(rf"([+-]?) ?({VALUE}) ?: ?({VALUE})")


def read_angle(text: str) -> Typed:
    """Return a typed angle [rad].

    Read: degrees, radians, and a slope as `1/4 in/ft`, `2 mm/m`, `2 %` or rise to run (`1:12`),
    which is turned into an angle by the arctangent.

    Radians are kept exactly. Degrees and slopes have no exact value in radians: theirs is the
    exact value of the float nearest to it.

    Raises: UnitError where it is not read, a run is zero, or it is more than a full turn.
    """
    ratio = _RISE_TO_RUN.fullmatch(plain("angle", text, _FORMS))
    if ratio is not None:
        sign, rise, run = ratio.groups()
        slope = _slope(text, rise, run)
        return Typed(text, _arctangent(-slope if sign == "-" else slope))
    number, unit = number_and_unit("angle", text, _FORMS)
    word = unit.lower()
    if word in _SLOPES:
        return Typed(text, _arctangent(number * _SLOPES[word]))
    if word in _DEGREES:
        exact = Fraction(math.radians(float(number)))
    elif word in _RADIANS:
        exact = number
    elif not unit:
        raise refusal("angle", text, "a number without a unit", _FORMS)
    else:
        hint = nearest(unit, (*_DEGREES, *_RADIANS, *_SLOPES))
        raise refusal("angle", text, f"the unit {unit!r} is not known{hint}", _FORMS)
    if abs(exact) > Fraction(2 * math.pi):
        raise refusal("angle", text, "it is more than a full turn (360 deg)", _FORMS)
    return Typed(text, exact)


def _slope(text: str, rise: str, run: str) -> Fraction:
    below = exact_number("angle", text, run, _FORMS)
    if below == 0:
        raise refusal("angle", text, "the run of the slope is zero", _FORMS)
    return exact_number("angle", text, rise, _FORMS) / below


def _arctangent(slope: Fraction) -> Fraction:
    return Fraction(math.atan(float(slope)))
