"""Quantities by the unit a formula states: how each is typed, and how it is shown in both families.

The customary family is inches, pounds and degrees Fahrenheit; the metric one millimetres, newtons
and degrees Celsius. A value is shown to four figures, in a unit that suits its size.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from leafwright.units import derived, quantities
from leafwright.units.angles import read_angle
from leafwright.units.constants import (
    CELSIUS_ZERO,
    FAHRENHEIT_DEGREE,
    FAHRENHEIT_ZERO,
    FOOT,
    INCH,
    MILE,
    MILLIMETRE,
    POUND,
    POUND_FORCE,
    PSF,
    PSI,
)
from leafwright.units.lengths import read_length
from leafwright.units.quantities import Kind, read_quantity
from leafwright.units.typed import Typed

_FIGURES = 4
_MOST_DECIMALS = 12


@dataclass(frozen=True, slots=True)
class Shown:
    """A unit to show a value in: its name, its size, from how many of it on it is taken.

    ``zero`` is where its zero lies (temperatures only) [SI].
    """

    name: str
    one: Fraction = Fraction(1)
    at_least: float = 1.0
    zero: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Measure:
    """What one unit measures: how it is typed, what may be typed, how it is shown in each family.

    ``one`` is the size of the unit in the SI unit that ``read`` gives. Shown units rise in size.
    """

    name: str
    read: Callable[[str], Typed]
    forms: tuple[str, ...]
    customary: tuple[Shown, ...]
    metric: tuple[Shown, ...]
    one: Fraction = Fraction(1)


def measure_of(unit: str) -> Measure | None:
    """Return what a unit measures, or None where no reader is known for it.

    unit: as a docstring states it: ``N m``, ``m2``, ``1/K``, ``-``, in SI or a plain part of it.
    """
    return MEASURES.get(plain_unit(unit))


def plain_unit(unit: str) -> str:
    """Return a unit in its plain spelling: ``N m``, ``m2``, ``1/K``, ``-`` for none."""
    text = " ".join(unit.replace("·", " ").replace("⋅", " ").replace("^", "").split())
    for sign, written in (("²", "2"), ("³", "3"), ("⁴", "4"), ("Ω", "ohm"), ("°", "deg")):
        text = text.replace(sign, written)
    return _SAME.get(text, text)


def show_both(value: float, unit: str) -> tuple[str, str]:
    """Return a value in customary and in metric units, to four figures.

    value: in ``unit``. unit: as `measure_of` knows it; one that it does not know is shown as it
    is, in both.
    """
    measure = measure_of(unit)
    if measure is None:
        alone = f"{shown_number(value)} {unit}"
        return alone, alone
    size = value * float(measure.one)
    return _in_family(size, measure.customary), _in_family(size, measure.metric)


def shown_number(value: float) -> str:
    """Return a number to four figures, whole figures kept: ``0.01235``, ``12.35``, ``123457``."""
    if not math.isfinite(value):
        return "no number" if math.isnan(value) else "without end" if value > 0 else "-without end"
    if value == 0.0:
        return "0"
    before = math.floor(math.log10(abs(value)))
    if before < _FIGURES - 1 - _MOST_DECIMALS:
        return f"{value:.{_FIGURES - 1}e}"
    text = f"{value:.{max(0, _FIGURES - 1 - before)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _in_family(size: float, family: tuple[Shown, ...]) -> str:
    if not math.isfinite(size):
        return shown_number(size)
    chosen = family[0]
    for shown in family[1:]:
        if abs(size) / float(shown.one) >= shown.at_least:
            chosen = shown
    number = shown_number((size - float(chosen.zero)) / float(chosen.one))
    return f"{number} {chosen.name}" if chosen.name else number


def _of(kind: Kind, customary: tuple[Shown, ...], metric: tuple[Shown, ...]) -> Measure:
    def read(text: str) -> Typed:
        return read_quantity(kind, text)

    return Measure(kind.name, read, kind.forms, customary, metric)


def _part(measure: Measure, one: Fraction) -> Measure:
    """Return the same measure, for a formula that takes it in another unit."""
    return Measure(
        measure.name, measure.read, measure.forms, measure.customary, measure.metric, one
    )


_KIP = 1000 * POUND_FORCE
_CENTIMETRE = 10 * MILLIMETRE
_LENGTH = Measure(
    "length",
    read_length,
    ("2 in", "3/8 in", "16'-2 3/4\"", "60 mm", "1.2 m"),
    (Shown("in", INCH),),
    (Shown("mm", MILLIMETRE), Shown("m", at_least=10.0)),
)
_ANGLE = Measure(
    "angle",
    read_angle,
    ("15 deg", "0.26 rad", "1:12"),
    (Shown("deg", Fraction(math.pi) / 180),),
    (Shown("rad"),),
)
_AREA = _of(
    derived.AREA,
    (Shown("in²", INCH**2), Shown("ft²", FOOT**2, 10.0)),
    (Shown("mm²", MILLIMETRE**2), Shown("m²", at_least=0.1)),
)
_MODULUS = _of(
    derived.SECTION_MODULUS,
    (Shown("in³", INCH**3), Shown("ft³", FOOT**3, 10.0)),
    (Shown("mm³", MILLIMETRE**3), Shown("cm³", _CENTIMETRE**3), Shown("m³", at_least=0.1)),
)
_INERTIA = _of(
    derived.INERTIA,
    (Shown("in⁴", INCH**4),),
    (Shown("mm⁴", MILLIMETRE**4), Shown("cm⁴", _CENTIMETRE**4)),
)
_FORCE = _of(
    quantities.FORCE,
    (Shown("lbf", POUND_FORCE), Shown("kip", _KIP, 10.0)),
    (Shown("N"), Shown("kN", Fraction(1000))),
)
_MOMENT = _of(
    derived.MOMENT,
    (
        Shown("lb·in", POUND_FORCE * INCH),
        Shown("lb·ft", POUND_FORCE * FOOT, 10.0),
        Shown("kip·ft", _KIP * FOOT, 10.0),
    ),
    (Shown("N·m"), Shown("kN·m", Fraction(1000))),
)
_LINE_LOAD = _of(
    quantities.LINE_LOAD,
    (
        Shown("lb/ft", POUND_FORCE / FOOT),
        Shown("lb/in", POUND_FORCE / INCH, 100.0),
        Shown("kip/in", _KIP / INCH),
    ),
    (Shown("N/m"), Shown("kN/m", Fraction(1000))),
)
_STRESS = _of(
    quantities.PRESSURE,
    (Shown("psf", PSF), Shown("psi", PSI), Shown("ksi", 1000 * PSI)),
    (Shown("Pa"), Shown("kPa", Fraction(1000)), Shown("MPa", Fraction(10**6))),
)
_MASS = _of(
    quantities.MASS,
    (Shown("lb", POUND),),
    (Shown("kg"),),
)
_LINE_MASS = _of(derived.LINE_MASS, (Shown("lb/ft", POUND / FOOT),), (Shown("kg/m"),))
_AREAL_MASS = _of(quantities.AREAL_MASS, (Shown("lb/ft²", POUND / FOOT**2),), (Shown("kg/m²"),))
_DENSITY = _of(quantities.DENSITY, (Shown("lb/ft³", POUND / FOOT**3),), (Shown("kg/m³"),))
_STIFFNESS = _of(
    derived.BENDING_STIFFNESS,
    (Shown("lb·in²", POUND_FORCE * INCH**2), Shown("kip·in²", _KIP * INCH**2)),
    (Shown("N·m²"), Shown("kN·m²", Fraction(1000))),
)
_TURNING = _of(
    derived.TURNING_STIFFNESS,
    (Shown("lb·in/rad", POUND_FORCE * INCH), Shown("kip·in/rad", _KIP * INCH)),
    (Shown("N·m/rad"), Shown("kN·m/rad", Fraction(1000))),
)
_MASS_INERTIA = _of(derived.MASS_INERTIA, (Shown("lb·ft²", POUND * FOOT**2),), (Shown("kg·m²"),))
_SPEED = _of(
    quantities.SPEED,
    (Shown("ft/s", FOOT), Shown("mph", MILE / 3600, 10.0)),
    (Shown("m/s"),),
)
_FLOW = _of(
    derived.FLOW,
    (Shown("ft³/h", FOOT**3 / 3600),),
    (Shown("l/min", Fraction(1, 60_000)),),
)
_MASS_RATE = _of(
    derived.MASS_RATE, (Shown("lb/h", POUND / 3600),), (Shown("kg/h", Fraction(1, 3600)),)
)
_ACCELERATION = _of(derived.ACCELERATION, (Shown("ft/s2", FOOT),), (Shown("m/s2"),))
_TEMPERATURE = _of(
    quantities.TEMPERATURE,
    (Shown("°F", FAHRENHEIT_DEGREE, zero=FAHRENHEIT_ZERO),),
    (Shown("°C", zero=CELSIUS_ZERO),),
)
_DIFFERENCE = _of(
    quantities.TEMPERATURE_DIFFERENCE, (Shown("°F", FAHRENHEIT_DEGREE),), (Shown("K"),)
)
_PER_MILLION = Fraction(1, 10**6)
_EXPANSION = _of(
    derived.EXPANSION,
    (Shown("ppm/F", _PER_MILLION / FAHRENHEIT_DEGREE),),
    (Shown("ppm/K", _PER_MILLION),),
)
_CLOCK = (Shown("s"), Shown("min", Fraction(60)), Shown("h", Fraction(3600)))
_TIME = _of(quantities.TIME, _CLOCK, _CLOCK)
_RATE = (Shown("/min", Fraction(1, 60)), Shown("/s"))
_FREQUENCY = _of(derived.FREQUENCY, _RATE, _RATE)
_ENERGY = _of(
    derived.ENERGY,
    (Shown("ft·lb", FOOT * POUND_FORCE),),
    (Shown("J"), Shown("kJ", Fraction(1000))),
)
_AMPERES = (Shown("A"),)
_CURRENT = _of(derived.CURRENT, _AMPERES, _AMPERES)
_VOLTS = (Shown("V"),)
_VOLTAGE = _of(derived.VOLTAGE, _VOLTS, _VOLTS)
_POWER = _of(
    derived.POWER,
    (Shown("W"), Shown("hp", 550 * FOOT * POUND_FORCE)),
    (Shown("W"), Shown("kW", Fraction(1000))),
)
_OHMS = (Shown("mohm", Fraction(1, 1000)), Shown("ohm"))
_RESISTANCE = _of(derived.RESISTANCE, _OHMS, _OHMS)
_LINE_RESISTANCE = _of(
    derived.LINE_RESISTANCE,
    (Shown("ohm/kft", 1 / (1000 * FOOT)),),
    (Shown("ohm/km", Fraction(1, 1000)),),
)
_OHM_METRES = (Shown("ohm mm²/m", _PER_MILLION),)
_RESISTIVITY = _of(derived.RESISTIVITY, _OHM_METRES, _OHM_METRES)
_A_LENGTH = (Shown("/in", 1 / INCH),)
_PITCH_COUNT = _of(derived.PITCH_COUNT, _A_LENGTH, (Shown("/mm", 1 / MILLIMETRE, 0.0),))
_BARE = (Shown(""),)
_NUMBER = _of(derived.NUMBER, _BARE, _BARE)

DIFFERENCE = "K difference"
"""The unit of a difference of temperatures, where ``K`` alone is a temperature."""

_SAME = {
    "": "-",
    "1": "-",
    "Nm": "N m",
    "N*m": "N m",
    "m N": "N m",
    "N/m2": "Pa",
    "N/mm2": "MPa",
    "K-1": "1/K",
    "/K": "1/K",
    "degree": "deg",
    "degrees": "deg",
    "ohms": "ohm",
    "1/s": "Hz",
    "N m2/m2": "N",
    "N m/m": "N",
}

MEASURES: Mapping[str, Measure] = {
    "-": _NUMBER,
    "%": _part(_NUMBER, Fraction(1, 100)),
    "m": _LENGTH,
    "mm": _part(_LENGTH, MILLIMETRE),
    "in": _part(_LENGTH, INCH),
    "um": _part(_LENGTH, MILLIMETRE / 1000),
    "µm": _part(_LENGTH, MILLIMETRE / 1000),
    "rad": _ANGLE,
    "deg": _part(_ANGLE, Fraction(math.pi) / 180),
    "m2": _AREA,
    "mm2": _part(_AREA, MILLIMETRE**2),
    "in2": _part(_AREA, INCH**2),
    "m3": _MODULUS,
    "m4": _INERTIA,
    "N": _FORCE,
    "kN": _part(_FORCE, Fraction(1000)),
    "lbf": _part(_FORCE, POUND_FORCE),
    "N m": _MOMENT,
    "N/m": _LINE_LOAD,
    "Pa": _STRESS,
    "MPa": _part(_STRESS, Fraction(10**6)),
    "psi": _part(_STRESS, PSI),
    "ksi": _part(_STRESS, 1000 * PSI),
    "psf": _part(_STRESS, PSF),
    "N m2": _STIFFNESS,
    "N m/rad": _TURNING,
    "kg": _MASS,
    "kg/m": _LINE_MASS,
    "kg/m2": _AREAL_MASS,
    "kg/m3": _DENSITY,
    "kg m2": _MASS_INERTIA,
    "m/s": _SPEED,
    "m3/s": _FLOW,
    "kg/s": _MASS_RATE,
    "m/s2": _ACCELERATION,
    "K": _TEMPERATURE,
    DIFFERENCE: _DIFFERENCE,
    "1/K": _EXPANSION,
    "s": _TIME,
    "min": _part(_TIME, Fraction(60)),
    "h": _part(_TIME, Fraction(3600)),
    "Hz": _FREQUENCY,
    "1/min": _part(_FREQUENCY, Fraction(1, 60)),
    "J": _ENERGY,
    "A": _CURRENT,
    "V": _VOLTAGE,
    "W": _POWER,
    "ohm": _RESISTANCE,
    "ohm/m": _LINE_RESISTANCE,
    "ohm/km": _part(_LINE_RESISTANCE, Fraction(1, 1000)),
    "ohm m": _RESISTIVITY,
    "1/in": _part(_PITCH_COUNT, 1 / INCH),
}
