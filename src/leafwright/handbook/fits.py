"""Fits of a round pin in a bore: ISO 286-1 and ANSI B4.1, and the name of what was measured.

ISO 286-1:2010 (tables read second-hand) to 500 mm, hole basis and the shafts and holes that a pivot
needs. ANSI B4.1-1967 to 3.15 in, as Machinery's Handbook, 31st edition, tables 8a, 8b, 9 and 12
print it. Clearance is bore less pin: negative is interference. Clearances are those of the limits,
before any plating, paint, heat or bend.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final, Literal, get_args

from leafwright.handbook._given import require_positive
from leafwright.records import Metres

_INCH: Final = 0.0254
_MICROMETRE: Final = 1e-6
_THOU: Final = 1e-3 * _INCH

# ISO 286-1, nominal sizes [mm]: each step runs over the one before, up to and with its own.
_STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
# ISO 286-1 Table 1, standard tolerances [µm] by grade, a column for each step.
_GRADES = {
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630),
}
# Tolerance units i in each grade (ISO 286-1:1988, Annex A).
_UNITS = {5: 7.0, 6: 10.0, 7: 16.0, 8: 25.0, 9: 40.0, 10: 64.0, 11: 100.0, 12: 160.0}
# ISO 286-1 Tables 4 and 5, fundamental deviations of shafts [µm], magnitudes. d to h lie below the
# nominal size (es = −), k to p above it (ei = +).
_BELOW = {
    "d": (20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230),
    "e": (14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135),
    "f": (6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68),
    "g": (2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20),
    "h": (0,) * 13,
}
_ABOVE = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}
_CLASS = re.compile(r"(JS|js|[A-Za-z])(\d{1,2})")

#: Hole-basis fits of ISO 286-1 that a measured pin is named by, loosest first.
PREFERRED: Final = ("H9/d9", "H8/e8", "H8/f7", "H7/f7", "H7/g6", "H7/h6", "H7/k6", "H7/n6", "H7/p6")

# ANSI B4.1, nominal sizes [in]: each step runs over the one before, up to and with its own.
_INCH_STEPS = (0.12, 0.24, 0.40, 0.71, 1.19, 1.97, 3.15)
# Tolerances [0.001 in] by grade, a column for each step.
_INCH_GRADES = {
    4: (0.15, 0.15, 0.15, 0.2, 0.25, 0.3, 0.3),
    5: (0.2, 0.2, 0.25, 0.3, 0.4, 0.4, 0.5),
    6: (0.25, 0.3, 0.4, 0.4, 0.5, 0.6, 0.7),
    7: (0.4, 0.5, 0.6, 0.7, 0.8, 1.0, 1.2),
    8: (0.6, 0.7, 0.9, 1.0, 1.2, 1.6, 1.8),
    9: (1.0, 1.2, 1.4, 1.6, 2.0, 2.5, 3.0),
    10: (1.6, 1.8, 2.2, 2.8, 3.5, 4.0, 4.5),
    11: (2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0),
}
# Largest shaft below nominal (c to h), smallest shaft above it (p, r) [0.001 in].
_INCH_SHAFTS = {
    "c": (-2.5, -2.8, -3.0, -3.5, -4.5, -5.0, -6.0),
    "d": (-1.0, -1.2, -1.6, -2.0, -2.5, -3.0, -4.0),
    "e": (-0.6, -0.8, -1.0, -1.2, -1.6, -2.0, -2.5),
    "f": (-0.3, -0.4, -0.5, -0.6, -0.8, -1.0, -1.2),
    "g": (-0.1, -0.15, -0.2, -0.25, -0.3, -0.4, -0.4),
    "h": (0.0,) * 7,
    "p": (0.4, 0.5, 0.6, 0.7, 0.8, 1.0, 1.4),
    "r": (0.5, 0.6, 0.8, 1.0, 1.2, 1.4, 1.6),
}
# Shafts printed without a symbol, or not as it says: largest, smallest [0.001 in].
_INCH_SHAFTS_APART = {
    "RC9": (
        (-4.0, -4.5, -5.0, -6.0, -7.0, -8.0, -9.0),
        (-5.6, -6.0, -7.2, -8.8, -10.5, -12.0, -13.5),
    ),
    "LN1": ((0.45, 0.5, 0.65, 0.8, 1.0, 1.1, 1.3), (0.25, 0.3, 0.4, 0.4, 0.5, 0.6, 0.8)),
}
# Hole grade, shaft letter and grade.
_INCH_FITS = {
    "RC1": (5, "g", 4),
    "RC2": (6, "g", 5),
    "RC3": (7, "f", 6),
    "RC4": (8, "f", 7),
    "RC5": (8, "e", 7),
    "RC6": (9, "e", 8),
    "RC7": (9, "d", 8),
    "RC8": (10, "c", 9),
    "RC9": (11, "", 0),
    "LC1": (6, "h", 5),
    "LC2": (7, "h", 6),
    "LC3": (8, "h", 7),
    "LC4": (10, "h", 9),
    "LC5": (7, "g", 6),
    "LC6": (9, "f", 8),
    "LC7": (10, "e", 9),
    "LN1": (6, "", 0),
    "LN2": (7, "p", 6),
    "LN3": (7, "r", 6),
}

InchFit = Literal[
    "RC1",
    "RC2",
    "RC3",
    "RC4",
    "RC5",
    "RC6",
    "RC7",
    "RC8",
    "RC9",
    "LC1",
    "LC2",
    "LC3",
    "LC4",
    "LC5",
    "LC6",
    "LC7",
    "LN1",
    "LN2",
    "LN3",
]

#: What each inch class is for, in short (ANSI B4.1-1967, second-hand).
MEANT_FOR: Final = {
    "RC1": "close sliding: no perceptible play",
    "RC2": "sliding: moves and turns easily, not meant to run",
    "RC3": "precision running: slow speeds and light loads",
    "RC4": "close running: moderate speeds and pressures, little play",
    "RC5": "medium running",
    "RC6": "medium running, wider tolerances",
    "RC7": "free running: where play does no harm",
    "RC8": "loose running: wide commercial tolerances",
    "RC9": "loose running: wide commercial tolerances",
    "LC1": "locating parts that stand still, snug",
    "LC2": "locating parts that stand still, snug",
    "LC3": "locating parts that stand still, snug",
    "LC4": "locating parts that stand still, snug",
    "LC5": "locating parts that stand still, some play",
    "LC6": "locating parts that stand still, some play",
    "LC7": "locating parts that stand still, some play",
    "LN1": "locating by press; not meant to carry load by its grip",
    "LN2": "locating by press; not meant to carry load by its grip",
    "LN3": "locating by press; not meant to carry load by its grip",
}


@dataclass(frozen=True, slots=True)
class Limits:
    """How far a part may be over (positive) or under (negative) its nominal size."""

    upper: Metres
    lower: Metres


@dataclass(frozen=True, slots=True)
class Fit:
    """The limits of hole and shaft, and the least and greatest clearance between them.

    Negative clearance is interference.
    """

    hole: Limits
    shaft: Limits
    least: Metres
    greatest: Metres


@dataclass(frozen=True, slots=True)
class MeasuredFit:
    """What a measured pin and bore are to each other.

    Attributes:
        clearance: bore less pin, on the diameter; negative is interference.
        kind: *clearance*, *line to line* (nothing between them) or *interference*.
        iso: fits of ISO 286-1 whose range holds it, tightest tolerances first.
        inch: classes of ANSI B4.1 whose range holds it, tightest first; none over 3.15 in.
    """

    clearance: Metres
    kind: Literal["clearance", "line to line", "interference"]
    iso: tuple[str, ...]
    inch: tuple[str, ...]


def standard_tolerance(nominal: float, grade: int) -> float:
    """Return the standard tolerance IT of a nominal size [m].

    ISO 286-1:2010, Table 1, to 500 mm.

    nominal: diameter [m].
    grade: of tolerance, 5 to 12 [-].
    Raises ValueError where the size is not over 0 and up to 0.5 m, or the grade not in the table.
    """
    _refuse_grade(grade)
    return _GRADES[grade][_step(nominal)] * _MICROMETRE


def standard_tolerance_by_formula(nominal: float, grade: int) -> float:
    """Return the standard tolerance by its formula, before the standard's rounding [m].

    ISO 286-1:1988, Annex A: IT = n·i with i = 0.45 ∛D + 0.001 D (µm, D in mm), n = 7, 10, 16, 25,
    40, 64, 100, 160 for grades 5 to 12; D is the geometric mean of the step's ends.

    nominal: diameter [m].
    grade: of tolerance, 5 to 12 [-].
    Raises ValueError as `standard_tolerance` does. Limits: a check of the table, which rules.
    """
    _refuse_grade(grade)
    D = step_mean(nominal) / 1e-3
    return _UNITS[grade] * (0.45 * math.cbrt(D) + 0.001 * D) * _MICROMETRE


def step_mean(nominal: float) -> float:
    """Return the geometric mean of the step of sizes that a nominal size lies in [m].

    ISO 286-1:1988, Annex A; the first step counts from 1 mm.

    nominal: diameter [m].
    Raises ValueError where the size is not over 0 and up to 0.5 m.
    """
    step = _step(nominal)
    return math.sqrt((_STEPS[step - 1] if step else 1) * _STEPS[step]) * 1e-3


def shaft_limits(nominal: float, tolerance_class: str) -> Limits:
    """Return the limits of a shaft or pin about its nominal size [m].

    ISO 286-1:2010, Tables 1, 4 and 5: letters d, e, f, g, h, js, k, n, p, as in ``g6``.

    nominal: diameter [m].
    tolerance_class: letter and grade, as g6 [-].
    Raises ValueError for a letter, grade or size that is not in the tables.
    """
    letter, grade = _letter_and_grade(tolerance_class, "a shaft's letter is small, as in g6")
    step, width = _step(nominal), standard_tolerance(nominal, grade)
    if letter == "js":
        return Limits(width / 2.0, -width / 2.0)
    if letter in _BELOW:
        upper = -_BELOW[letter][step] * _MICROMETRE
        return Limits(upper, upper - width)
    if letter in _ABOVE:
        # k is 0 from grade 8 on (Table 5).
        lower = 0.0 if letter == "k" and grade > 7 else _ABOVE[letter][step] * _MICROMETRE
        return Limits(lower + width, lower)
    raise ValueError(
        f"shaft class {tolerance_class!r} is not in the tables; "
        "give one of d, e, f, g, h, js, k, n, p with a grade of 5 to 12, as g6"
    )


def hole_limits(nominal: float, tolerance_class: str) -> Limits:
    """Return the limits of a hole or bore about its nominal size [m].

    ISO 286-1:2010, Tables 2 and 3: letters D, E, F, G, H, JS, K, N, P, as in ``H7``. D to H mirror
    the shafts; K and N (to grade 8) and P (to grade 7) are ES = −ei + Δ with Δ = IT(n) − IT(n−1).

    nominal: diameter [m].
    tolerance_class: letter and grade, as H7 [-].
    Raises ValueError for a letter, grade or size that is not in the tables.
    """
    letter, grade = _letter_and_grade(tolerance_class, "a hole's letter is a capital, as in H7")
    step, width = _step(nominal), standard_tolerance(nominal, grade)
    small = letter.lower()
    if letter == "JS":
        return Limits(width / 2.0, -width / 2.0)
    if letter.isupper() and small in _BELOW:
        lower = _BELOW[small][step] * _MICROMETRE
        return Limits(lower + width, lower)
    if letter.isupper() and small in _ABOVE and 6 <= grade <= (12 if letter == "P" else 8):
        delta = 0.0
        if step > 0 and grade <= (7 if letter == "P" else 8):
            delta = width - standard_tolerance(nominal, grade - 1)
        upper = -_ABOVE[small][step] * _MICROMETRE + delta
        return Limits(upper, upper - width)
    raise ValueError(
        f"hole class {tolerance_class!r} is not in the tables; give one of D, E, F, G, H, JS with "
        "a grade of 5 to 12, K or N with 6 to 8, P with 6 to 12, as H7"
    )


def iso_fit(nominal: float, fit: str) -> Fit:
    """Return the limits and clearances of a fit, hole class and shaft class [m].

    ISO 286-1:2010: hole limits less shaft limits, as in ``H7/g6``.

    nominal: diameter of both [m].
    fit: hole class / shaft class, as H7/g6 [-].
    Raises ValueError for a class or size that is not in the tables.
    """
    hole, slash, shaft = fit.replace(" ", "").partition("/")
    if not slash:
        raise ValueError(f"{fit!r} is no fit; give hole class / shaft class, as H7/g6")
    return _fit(hole_limits(nominal, hole), shaft_limits(nominal, shaft))


def inch_fit(nominal: float, fit: InchFit) -> Fit:
    """Return the limits and clearances of an inch fit class [m].

    ANSI B4.1-1967 (out of print), running RC 1 to RC 9, locational clearance LC 1 to LC 7,
    locational interference LN 1 to LN 3; Machinery's Handbook, 31st edition, tables 8a, 8b, 9, 12.
    RC and LN were read, and LC 6 and LC 7 to 1.97 in; LC 1 to LC 5 are put together from the same
    grades and shafts, as the standard's symbols say.

    nominal: diameter of both [m].
    fit: the class, as RC4 [-].
    Raises ValueError where the size is not over 0 and up to 3.15 in, or the class is unknown.
    """
    if fit not in _INCH_FITS:
        raise ValueError(f"{fit!r} is no class that is held; give one of {', '.join(_INCH_FITS)}")
    step = _inch_step(nominal)
    hole_grade, letter, grade = _INCH_FITS[fit]
    hole = Limits(_INCH_GRADES[hole_grade][step] * _THOU, 0.0)
    if not letter:
        largest, smallest = (row[step] for row in _INCH_SHAFTS_APART[fit])
    elif letter in "pr":
        smallest = _INCH_SHAFTS[letter][step]
        largest = smallest + _INCH_GRADES[grade][step]
    else:
        largest = _INCH_SHAFTS[letter][step]
        smallest = largest - _INCH_GRADES[grade][step]
    return _fit(hole, Limits(largest * _THOU, smallest * _THOU))


def measured_fit(
    pin: float, bore: float, *, nominal: float | None = None, resolution: float = 2.54e-6
) -> MeasuredFit:
    """Return what fit a measured pin and bore make.

    ISO 286-1:2010 and ANSI B4.1-1967: every class whose range of clearances holds the
    clearance that was measured. A pin called an interference fit that turns by hand is a
    clearance fit.

    pin: diameter measured, the largest of several readings [m].
    bore: diameter measured, the smallest of several readings [m].
    nominal: size that the fit is looked up at, the bore's where left out [m].
    resolution: of the measuring; what lies within it counts as line to line [m].
    Raises ValueError where a diameter is not positive or the resolution is negative.
    Limits: both round and straight; classes to 500 mm and 3.15 in.
    """
    require_positive("the pin's diameter", pin, "m")
    require_positive("the bore's diameter", bore, "m")
    if not resolution >= 0.0:
        raise ValueError(f"the resolution is {resolution!r} m; give 0 or more")
    clearance = bore - pin
    kind: Literal["clearance", "line to line", "interference"] = "line to line"
    if abs(clearance) > resolution:
        kind = "clearance" if clearance > 0.0 else "interference"
    size = bore if nominal is None else nominal
    iso = {fit: iso_fit(size, fit) for fit in PREFERRED} if size <= 0.5 else {}
    inch: dict[str, Fit] = {
        name: inch_fit(size, name) for name in get_args(InchFit) if size <= _INCH_STEPS[-1] * _INCH
    }
    return MeasuredFit(clearance, kind, _holding(iso, clearance), _holding(inch, clearance))


def _holding(fits: dict[str, Fit], clearance: float) -> tuple[str, ...]:
    # A rounding's worth of slack, far under what can be measured.
    slack = 1e-9
    found = [
        (fit.greatest - fit.least, name)
        for name, fit in fits.items()
        if fit.least - slack <= clearance <= fit.greatest + slack
    ]
    return tuple(name for _, name in sorted(found, key=lambda pair: pair[0]))


def _fit(hole: Limits, shaft: Limits) -> Fit:
    return Fit(hole, shaft, hole.lower - shaft.upper, hole.upper - shaft.lower)


def _letter_and_grade(tolerance_class: str, rule: str) -> tuple[str, int]:
    found = _CLASS.fullmatch(tolerance_class.strip())
    if not found:
        raise ValueError(f"{tolerance_class!r} is no tolerance class; {rule}")
    return found[1], int(found[2])


def _refuse_grade(grade: int) -> None:
    if grade not in _GRADES:
        raise ValueError(f"tolerance grade {grade!r} is not held; give 5 to 12")


def _step(nominal: Metres) -> int:
    # Rounded so that 0.018 m is 18 mm and not a hair over.
    size = round(nominal / 1e-3, 6)
    for step, upper in enumerate(_STEPS):
        if 0.0 < size <= upper:
            return step
    raise ValueError(
        f"a diameter of {nominal!r} m is not in the tables of ISO 286-1; give over 0 and up to 0.5"
    )


def _inch_step(nominal: Metres) -> int:
    size = round(nominal / _INCH, 6)
    for step, upper in enumerate(_INCH_STEPS):
        if 0.0 < size <= upper:
            return step
    raise ValueError(
        f"a diameter of {nominal!r} m is not in the inch tables held; "
        "give over 0 and up to 3.15 in (0.08001 m)"
    )
