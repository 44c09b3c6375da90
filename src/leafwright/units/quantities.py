"""Everything typed with one number and one unit: forces, masses, pressures, times and so on.

One reader, `read_quantity`, works from one table a kind. Symbols of the SI are read in their
own case (`MPa` is not `mPa`); other words in any case (`PSI`, `Lb`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from leafwright.units.constants import (
    CELSIUS_ZERO,
    FAHRENHEIT_DEGREE,
    FAHRENHEIT_ZERO,
    FOOT,
    INCH,
    MILE,
    POUND,
    POUND_FORCE,
    PSF,
    PSI,
    STANDARD_GRAVITY,
)
from leafwright.units.typed import Typed, nearest, number_and_unit, refusal


class Scale(NamedTuple):
    """How a unit becomes SI: the size of one, and where its zero lies (temperatures only)."""

    one: Fraction
    zero: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity: its name, its units, and the forms to show where it is refused.

    symbols: units read in their own case. words: units read in any case, in lower case here.
    refused: units (in lower case) that are known and not read, with the reason.
    least: the smallest value that makes sense [SI], or None where the sign is free; it is
    called `least_name`.
    """

    name: str
    forms: tuple[str, ...]
    symbols: Mapping[str, Scale] = field(default_factory=dict)
    words: Mapping[str, Scale] = field(default_factory=dict)
    refused: Mapping[str, str] = field(default_factory=dict)
    least: Fraction | None = None
    least_name: str = "zero"


def _scales(**units: Fraction | int) -> dict[str, Scale]:
    return {name: Scale(Fraction(size)) for name, size in units.items()}


def _named(size: Fraction | int, *names: str) -> dict[str, Scale]:
    return {name: Scale(Fraction(size)) for name in names}


_TON = "a ton is 2000 lb, 2240 lb or 1000 kg"
_TONS = dict.fromkeys(("ton", "tons"), _TON)
_ZERO = Fraction(0)

FORCE = Kind(
    "force",
    ("24 lbf", "1.2 kip", "110 N", "5 kN", "11 kgf"),
    symbols=_scales(N=1, kN=1000, kgf=STANDARD_GRAVITY),
    words=_named(POUND_FORCE, "lbf", "lb", "lbs", "pound", "pounds")
    | _named(1000 * POUND_FORCE, "kip", "kips"),
    refused={"kg": "a kilogram is a mass; its weight is 1 kgf", "t": _TON} | _TONS,
)
MASS = Kind(
    "mass",
    ("194 lb", "88 kg", "1.2 t", "350 g"),
    symbols=_scales(kg=1, g=Fraction(1, 1000), t=1000),
    words=_named(POUND, "lb", "lbs", "lbm", "pound", "pounds") | _named(1000, "tonne", "tonnes"),
    refused=_TONS | dict.fromkeys(("lbf", "kip", "kips", "n", "kn", "kgf"), "it is a force"),
    least=_ZERO,
)
PRESSURE = Kind(
    "pressure",
    ("5 psf", "4000 psi", "50 ksi", "240 Pa", "1.2 kPa", "355 MPa", "355 N/mm2"),
    symbols=_scales(Pa=1, kPa=10**3, MPa=10**6, GPa=10**9)
    | _named(1, "N/m2")
    | _named(1000, "kN/m2")
    | _named(10**6, "N/mm2"),
    words=_named(PSF, "psf", "lb/ft2", "lbf/ft2", "lb/sq ft")
    | _named(PSI, "psi", "lb/in2", "lbf/in2", "lb/sq in")
    | _named(1000 * PSI, "ksi"),
    refused={"kg/m2": "it is a mass on an area"},
)
DENSITY = Kind(
    "density",
    ("23 lb/ft3", "0.284 lb/in3", "7850 kg/m3", "7.85 g/cm3"),
    symbols=_named(1, "kg/m3") | _named(1000, "g/cm3", "t/m3"),
    words=_named(POUND / FOOT**3, "lb/ft3", "pcf", "lb/cu ft") | _named(POUND / INCH**3, "lb/in3"),
    least=_ZERO,
)
AREAL_MASS = Kind(
    "mass on an area",
    ("2.5 lb/ft2", "12.2 kg/m2"),
    symbols=_named(1, "kg/m2"),
    words=_named(POUND / FOOT**2, "lb/ft2", "lb/sq ft"),
    refused=dict.fromkeys(("psf", "pa", "kpa", "kn/m2", "lbf/ft2"), "it is a pressure"),
    least=_ZERO,
)
LINE_LOAD = Kind(
    "load on a length",
    ("600 lb/ft", "40 plf", "1.2 kip/ft", "3.7 kip/in", "500 N/m", "8.8 kN/m"),
    symbols=_named(1, "N/m") | _named(1000, "kN/m", "N/mm"),
    words=_named(POUND_FORCE / FOOT, "lb/ft", "lbf/ft", "plf")
    | _named(1000 * POUND_FORCE / FOOT, "kip/ft")
    | _named(POUND_FORCE / INCH, "lb/in", "lbf/in")
    | _named(1000 * POUND_FORCE / INCH, "kip/in"),
    refused={"kg/m": "it is a mass on a length"},
)
SPEED = Kind(
    "speed",
    ("115 mph", "40 m/s", "144 km/h", "10 ft/s"),
    symbols=_named(1, "m/s") | _named(Fraction(10, 36), "km/h") | _named(Fraction(1, 60), "m/min"),
    words=_named(MILE / 3600, "mph", "mile/h", "miles/h")
    | _named(FOOT, "ft/s")
    | _named(FOOT / 720, "in/min", "ipm"),
    least=_ZERO,
)
TEMPERATURE = Kind(
    "temperature",
    ("60 F", "-10 C", "293.15 K"),
    symbols=dict.fromkeys(("F", "°F", "° F", "deg F"), Scale(FAHRENHEIT_DEGREE, FAHRENHEIT_ZERO))
    | dict.fromkeys(("C", "°C", "° C", "deg C"), Scale(Fraction(1), CELSIUS_ZERO))
    | _scales(K=1),
    least=_ZERO,
    least_name="absolute zero",
)
TEMPERATURE_DIFFERENCE = Kind(
    "temperature difference",
    ("60 F", "50 C", "50 K"),
    symbols=_named(FAHRENHEIT_DEGREE, "F", "°F", "° F", "deg F")
    | _named(1, "C", "°C", "° C", "deg C", "K"),
)
TIME = Kind(
    "time",
    ("45 s", "25 min", "1.5 h"),
    symbols=_scales(s=1, h=3600),
    words=_named(1, "sec", "second", "seconds")
    | _named(60, "min", "minute", "minutes")
    | _named(3600, "hr", "hrs", "hour", "hours"),
    refused=dict.fromkeys(("d", "day", "days"), "a day is 24 hours or a day's work"),
    least=_ZERO,
)


def read_quantity(kind: Kind, text: str) -> Typed:
    """Return a typed quantity of the given kind, exact, in SI.

    A number, decimal or with a fraction (`1 1/2 h`), and one unit, which may not be left out.

    Raises: UnitError where the number or the unit is not read, or is below the least that makes
    sense (a mass, density, speed or time below nothing, a temperature below absolute zero).
    """
    number, unit = number_and_unit(kind.name, text, kind.forms)
    scale = kind.symbols.get(unit) or kind.words.get(unit.lower())
    if scale is None:
        raise refusal(kind.name, text, _why_not(kind, unit), kind.forms)
    exact = number * scale.one + scale.zero
    if kind.least is not None and exact < kind.least:
        raise refusal(kind.name, text, f"it is below {kind.least_name}", kind.forms)
    return Typed(text, exact)


def _why_not(kind: Kind, unit: str) -> str:
    if not unit:
        return "a number without a unit"
    reason = kind.refused.get(unit.lower())
    if reason is not None:
        return f"the unit {unit!r} is refused: {reason}"
    return f"the unit {unit!r} is not known{nearest(unit, (*kind.symbols, *kind.words))}"


def read_force(text: str) -> Typed:
    """Return a typed force, exact [N]. Read: lbf (or lb), kip, N, kN, kgf; see read_quantity."""
    return read_quantity(FORCE, text)


def read_mass(text: str) -> Typed:
    """Return a typed mass, exact [kg]. Read: lb, kg, g, t (1000 kg); see read_quantity."""
    return read_quantity(MASS, text)


def read_pressure(text: str) -> Typed:
    """Return a typed pressure or stress, exact [Pa].

    Read: psf, psi, ksi, lb/ft2, lb/in2, Pa, kPa, MPa, GPa, N/m2, kN/m2, N/mm2; see
    read_quantity.
    """
    return read_quantity(PRESSURE, text)


def read_density(text: str) -> Typed:
    """Return a typed density, exact [kg/m3].

    Read: lb/ft3 (pcf), lb/in3, kg/m3, g/cm3, t/m3; see read_quantity.
    """
    return read_quantity(DENSITY, text)


def read_areal_mass(text: str) -> Typed:
    """Return a typed mass on an area, exact [kg/m2]. Read: lb/ft2, kg/m2; see read_quantity."""
    return read_quantity(AREAL_MASS, text)


def read_line_load(text: str) -> Typed:
    """Return a typed load on a length, exact [N/m].

    Read: lb/ft (plf), lb/in, kip/ft, kip/in, N/m, kN/m, N/mm; see read_quantity.
    """
    return read_quantity(LINE_LOAD, text)


def read_speed(text: str) -> Typed:
    """Return a typed speed, exact [m/s]. Read: mph, km/h, m/s, ft/s; see read_quantity."""
    return read_quantity(SPEED, text)


def read_temperature(text: str) -> Typed:
    """Return a typed temperature, exact [K]. Read: F, C, K; see read_quantity."""
    return read_quantity(TEMPERATURE, text)


def read_temperature_difference(text: str) -> Typed:
    """Return a typed difference of temperatures, exact [K]. Read: F, C, K; see read_quantity."""
    return read_quantity(TEMPERATURE_DIFFERENCE, text)


def read_time(text: str) -> Typed:
    """Return a typed time, exact [s]. Read: s, min, h; see read_quantity."""
    return read_quantity(TIME, text)
