"""What a tape and a sheet show: lengths rounded to the maker's tape, other numbers with a unit.

Each is rounded once, from the exact value it is given, to the nearest, and a tie goes away from
zero. A float is taken at its exact binary value; give a Fraction where a tie matters.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from leafwright.units.constants import FOOT, INCH, MILLIMETRE, POUND, POUND_FORCE, PSF, PSI
from leafwright.units.typed import UnitError, mixed

System = Literal["feet-inch", "inch", "mm"]
"""How a maker measures; the first two show pounds, the last kilograms and newtons."""

_INCH_PARTS = (1, 2, 4, 8, 16, 32, 64)
_MILLIMETRE_PARTS = (1, 2, 5, 10)
_MOST_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Tape:
    """A maker's tape: what it is marked in, and how finely.

    system: feet-inch, inch or mm. per: parts to an inch (1 to 64, halving) or to a millimetre
    (1, 2, 5 or 10).

    Raises: UnitError where there is no such tape.
    """

    system: System
    per: int

    def __post_init__(self) -> None:
        """Refuse a tape that does not exist."""
        if self.system not in ("feet-inch", "inch", "mm"):
            raise UnitError(f"tape system {self.system!r}: use 'feet-inch', 'inch' or 'mm'")
        parts = _MILLIMETRE_PARTS if self.system == "mm" else _INCH_PARTS
        if self.per not in parts:
            unit = "a millimetre" if self.system == "mm" else "an inch"
            would_do = ", ".join(str(part) for part in parts)
            raise UnitError(f"tape with {self.per!r} parts to {unit}: use one of {would_do}")

    @property
    def step(self) -> Fraction:
        """The distance from one mark to the next, exact [m]."""
        return (MILLIMETRE if self.system == "mm" else INCH) / self.per


def rounded_to_tape(metres: float | Fraction, tape: Tape) -> Fraction:
    """Return the mark of the tape nearest to a length, exact [m].

    metres: the length, signed [m]. tape: the maker's tape. A tie goes away from zero.

    Raises: UnitError where the length is not a finite number.
    """
    return _whole(_exact("length", metres) / tape.step) * tape.step


def show_length(metres: float | Fraction, tape: Tape, *, unit: bool = True) -> str:
    """Return a length as the tape shows it: `16'-2 3/4"`, `3/16"`, `194 3/4"` or `4946 mm`.

    `read_length` reads it back as exactly the mark. Feet are shown from one foot up.

    metres: the length, signed [m]. tape: the maker's tape. unit: False leaves off the closing
    inch mark, or the mm, where the sheet says the unit elsewhere.

    Raises: UnitError where the length is not a finite number.
    """
    rounded = rounded_to_tape(metres, tape)
    sign = "-" if rounded < 0 else ""
    size = abs(rounded)
    if tape.system == "mm":
        figures = _decimal(size / MILLIMETRE, 0 if tape.per == 1 else 1)
        return sign + figures + (" mm" if unit else "")
    mark = '"' if unit else ""
    if tape.system == "inch" or size < FOOT:
        return sign + mixed(size / INCH) + mark
    feet, rest = divmod(size, FOOT)
    inches = rest / INCH
    # `16'-0 3/4"`, so that a missing 0 is not taken for a lost figure.
    return f"{sign}{feet}'-{'0 ' if 0 < inches < 1 else ''}{mixed(inches)}{mark}"


def show_machined(metres: float | Fraction, system: System) -> str:
    """Return a machined size: to a ten-thousandth, `1.4990 in`, or a hundredth, `20.06 mm`.

    metres: the size, signed [m]. system: mm shows millimetres, the others inches.

    Raises: UnitError where the size is not a finite number.
    """
    size = _exact("length", metres)
    if system == "mm":
        return _decimal(size / MILLIMETRE, 2) + " mm"
    return _decimal(size / INCH, 4) + " in"


def show_angle(radians: float | Fraction, *, decimals: int = 1) -> str:
    """Return an angle in degrees: `13.2°`.

    radians: the angle, signed [rad]. decimals: figures behind the point [-].

    Raises: UnitError where the angle is not a finite number.
    """
    return _decimal(Fraction(math.degrees(float(_exact("angle", radians)))), decimals) + "°"


def show_mass(kilograms: float | Fraction, system: System) -> str:
    """Return a mass in lb or kg: to three figures, and never coarser than one lb or kg.

    kilograms: the mass [kg]. system: mm shows kg, the others lb.

    Raises: UnitError where the mass is not a finite number.
    """
    return _shown("mass", kilograms, system, (POUND, "lb"), (Fraction(1), "kg"))


def show_force(newtons: float | Fraction, system: System) -> str:
    """Return a force in lbf or N: to three figures, and never coarser than one lbf or N.

    newtons: the force, signed [N]. system: mm shows N, the others lbf.

    Raises: UnitError where the force is not a finite number.
    """
    return _shown("force", newtons, system, (POUND_FORCE, "lbf"), (Fraction(1), "N"))


def show_pressure(pascals: float | Fraction, system: System) -> str:
    """Return a pressure in psf or Pa: to three figures, and never coarser than one psf or Pa.

    pascals: the pressure, signed [Pa]. system: mm shows Pa, the others psf.

    Raises: UnitError where the pressure is not a finite number.
    """
    return _shown("pressure", pascals, system, (PSF, "psf"), (Fraction(1), "Pa"))


def show_stress(pascals: float | Fraction, system: System) -> str:
    """Return a stress in ksi or MPa: to three figures, and never coarser than one ksi or MPa.

    pascals: the stress, tension positive [Pa]. system: mm shows MPa, the others ksi.

    Raises: UnitError where the stress is not a finite number.
    """
    return _shown("stress", pascals, system, (1000 * PSI, "ksi"), (Fraction(10**6), "MPa"))


def show_moment(newton_metres: float | Fraction, system: System) -> str:
    """Return a moment in lb·ft or N·m: to three figures, and never coarser than one of these.

    newton_metres: the moment, signed [N m]. system: mm shows N·m, the others lb·ft.

    Raises: UnitError where the moment is not a finite number.
    """
    foot_pound = (POUND_FORCE * FOOT, "lb·ft")
    return _shown("moment", newton_metres, system, foot_pound, (Fraction(1), "N·m"))


def show_money(amount: float | Fraction, currency: str | None) -> str:
    """Return an amount of money with two decimals: `$95.00`, `95.00 EUR`, or `95.00`.

    amount: the amount, signed [currency]. currency: its code, `$`, or None to leave it off.

    Raises: UnitError where the amount is not a finite number.
    """
    figures = _decimal(_exact("money", amount), 2)
    if currency == "$":
        return f"-${figures[1:]}" if figures.startswith("-") else f"${figures}"
    return f"{figures} {currency}" if currency else figures


def _exact(what: str, value: float | Fraction) -> Fraction:
    if not math.isfinite(value):
        raise UnitError(f"{what} {value!r} cannot be shown: it is not a finite number")
    return Fraction(value)


def _whole(number: Fraction) -> int:
    """Return the nearest whole number; a tie goes away from zero."""
    size = math.floor(abs(number) + Fraction(1, 2))
    return -size if number < 0 else size


def _decimal(number: Fraction, decimals: int) -> str:
    """Return a number with that many decimals, and no sign where all its figures are 0."""
    parts = _whole(number * 10**decimals)
    whole, rest = divmod(abs(parts), 10**decimals)
    sign = "-" if parts < 0 else ""
    return f"{sign}{whole}.{rest:0{decimals}d}" if decimals else f"{sign}{whole}"


def _shown(
    what: str,
    value: float | Fraction,
    system: System,
    customary: tuple[Fraction, str],
    metric: tuple[Fraction, str],
) -> str:
    """Return a value in one of two units: three figures, one unit at the coarsest."""
    size, name = metric if system == "mm" else customary
    number = _exact(what, value) / size
    decimals = 0
    # 99.95 and up round to 100.0, which has its three figures without the decimal.
    while decimals < _MOST_DECIMALS and 0 < abs(number) * 10**decimals < Fraction(9995, 100):
        decimals += 1
    return f"{_decimal(number, decimals)} {name}"
