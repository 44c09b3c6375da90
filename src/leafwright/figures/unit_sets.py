"""Sets of a length and a force in which a formula may be worked, and what its numbers are made of.

A number that comes out differently in two sets tells by how much what it is: a length, a force, a
stress. So it can be written with its unit, though nobody stated one.
"""

from __future__ import annotations

import bisect
import functools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from leafwright.units.constants import INCH, POUND_FORCE
from leafwright.units.families import plain_unit


@dataclass(frozen=True, slots=True)
class UnitSet:
    """A length and a force in which formulas are worked, with the names of what they make."""

    length: Fraction
    force: Fraction
    length_name: str
    force_name: str
    stress_name: str
    words: str


METRES = UnitSet(Fraction(1), Fraction(1), "m", "N", "Pa", "the handbook's own units: m, N, Pa, kg")
MILLIMETRES = UnitSet(
    Fraction(1, 1000), Fraction(1), "mm", "N", "MPa", "millimetres, newtons and MPa"
)
POUNDS = UnitSet(INCH, POUND_FORCE, "in", "lb", "psi", "inches, pounds and psi")
KIPS = UnitSet(INCH, 1000 * POUND_FORCE, "in", "kip", "ksi", "inches, kips and ksi")
# Nobody's units: what scales with them in no simple ratio is known by it for what it is.
_ODD = UnitSet(Fraction(37, 100), Fraction(113, 10), "", "", "", "")

#: Powers of length and of force in the units that scale with the set; the rest stay as they are.
_POWERS: Mapping[str, tuple[int, int]] = {
    "-": (0, 0),
    "%": (0, 0),
    "rad": (0, 0),
    "K": (0, 0),
    "K difference": (0, 0),
    "1/K": (0, 0),
    "m": (1, 0),
    "m2": (2, 0),
    "m3": (3, 0),
    "m4": (4, 0),
    "N": (0, 1),
    "N m": (1, 1),
    "N m2": (2, 1),
    "N m/rad": (1, 1),
    "N/m": (-1, 1),
    "Pa": (-2, 1),
}
_HALVES = [Fraction(n, 2) for n in range(-10, 13)]


def scaled(units: UnitSet, unit: str, value: float) -> float:
    """Return a value in a unit set. value: in ``unit``, SI; a unit that does not scale stays."""
    length, force = _POWERS.get(plain_unit(unit), (0, 0))
    size = float(units.length) ** length * float(units.force) ** force
    return value / size


def scales(unit: str) -> bool:
    """Return whether a set of length and force says how a unit changes."""
    return plain_unit(unit) in _POWERS or unit == ""


Powers = tuple[Fraction, Fraction] | None
"""What a number is made of: a length to a power times a force to a power; None where unclear."""


def odd(unit: str, value: float) -> float:
    """Return a value in units by which `powers_of` tells a length from a force."""
    return scaled(_ODD, unit, value)


def powers_of(in_metres: Sequence[float], in_odd: Sequence[float]) -> tuple[Powers, ...]:
    """Return what each number of a working is made of, from the same working in two sets."""
    return tuple(_powers(a, b) for a, b in zip(in_metres, in_odd, strict=True))


def _powers(in_metres: float, in_odd: float) -> Powers:
    if not (math.isfinite(in_metres) and math.isfinite(in_odd)):
        return None
    if in_metres == 0.0 or in_odd == 0.0:
        return None
    ratio = math.log(abs(in_metres / in_odd))
    guesses = _guesses()
    at = bisect.bisect_left(guesses, ratio - 1e-9, key=lambda guess: guess[0])
    if at < len(guesses) and guesses[at][0] < ratio + 1e-9:
        return guesses[at][1:]
    return None


@functools.cache
def _guesses() -> tuple[tuple[float, Fraction, Fraction], ...]:
    """Return what a number may be made of, by the logarithm of its size in `_ODD`, rising."""
    forces = (Fraction(0), Fraction(1), Fraction(1, 2), Fraction(-1), Fraction(2))
    length_log, force_log = math.log(_ODD.length), math.log(_ODD.force)
    return tuple(
        sorted(
            (float(length) * length_log + float(force) * force_log, length, force)
            for force in forces
            for length in _HALVES
        )
    )


def own_label(unit: str) -> str:
    """Return the unit of an argument that does not scale with lengths and forces, or nothing."""
    plain = plain_unit(unit)
    if plain == "rad":
        return "°"
    if plain in ("K", "1/K", "K difference") or plain not in _POWERS:
        return plain.removesuffix(" difference").removeprefix("1")
    return ""


def si_label(unit: str) -> str:
    """Return the unit of an argument as it is written in SI, or nothing for a bare number."""
    plain = plain_unit(unit)
    if own_label(unit) or plain in ("-", "%"):
        return own_label(unit)
    return plain.replace(" ", "·").translate(str.maketrans("234", "²³⁴"))


def unit_label(units: UnitSet, length: Fraction, force: Fraction) -> str:
    """Return the name of a length to a power times a force to a power."""
    if length == -2 and force == 1:
        return units.stress_name
    if length == -1 and force == 1:
        return f"{units.force_name}/{units.length_name}"
    parts = [_raised(units.force_name, force), _raised(units.length_name, length)]
    return "·".join(part for part in parts if part)


def _raised(name: str, power: Fraction) -> str:
    if power == 0:
        return ""
    if power == 1:
        return name
    signs = {Fraction(n): sign for n, sign in ((2, "²"), (3, "³"), (4, "⁴"), (5, "⁵"), (6, "⁶"))}
    return name + signs.get(power, f"^{power}")
