"""Quantities that a formula takes and a tape never shows: areas, moduli, moments, stiffness.

Read with `quantities.read_quantity`, as forces and pressures are.
"""

from __future__ import annotations

from fractions import Fraction

from leafwright.units.constants import (
    FAHRENHEIT_DEGREE,
    FOOT,
    INCH,
    MILLIMETRE,
    POUND,
    POUND_FORCE,
    STANDARD_GRAVITY,
)
from leafwright.units.quantities import Kind, Scale, read_quantity
from leafwright.units.typed import Typed

_KIP = 1000 * POUND_FORCE
_CENTIMETRE = 10 * MILLIMETRE


def _scales(*rows: tuple[Fraction | int, str]) -> dict[str, Scale]:
    """Return the scales of units: each row a size and the spellings of it, parted by commas."""
    return {
        name.strip(): Scale(Fraction(size)) for size, names in rows for name in names.split(",")
    }


def _power(power: int) -> tuple[dict[str, Scale], dict[str, Scale]]:
    """Return the units of a length to a power: those of the SI, and the customary ones."""
    metric = _scales(
        (1, f"m{power}"), (_CENTIMETRE**power, f"cm{power}"), (MILLIMETRE**power, f"mm{power}")
    )
    return metric, _scales((INCH**power, f"in{power}"), (FOOT**power, f"ft{power}"))


def _sides(*forces: tuple[Fraction | int, str], by: tuple[Fraction | int, str]) -> dict[str, Scale]:
    """Return the units made of a force times a length, either named first."""
    size, length = by
    rows = []
    for one, force in forces:
        for spelled in (f"{force} {length}", f"{force}-{length}", f"{length}-{force}"):
            rows.append((one * size, spelled))
        rows.append((one * size, f"{length} {force}"))
    return _scales(*rows)


_POUNDS = ((POUND_FORCE, "lb"), (POUND_FORCE, "lbf"), (_KIP, "kip"), (_KIP, "kips"))
_AREA, _AREA_WORDS = _power(2)
_CUBE, _CUBE_WORDS = _power(3)
_FOURTH, _FOURTH_WORDS = _power(4)

AREA = Kind(
    "area",
    ("2.5 in2", "1200 mm2", "4 ft2", "0.01 m2"),
    symbols=_AREA,
    words=_AREA_WORDS | _scales((INCH**2, "sq in"), (FOOT**2, "sq ft")),
)
SECTION_MODULUS = Kind(
    "section modulus", ("1.5 in3", "25 cm3", "25000 mm3"), symbols=_CUBE, words=_CUBE_WORDS
)
INERTIA = Kind(
    "second moment of area",
    ("2.4 in4", "100 cm4", "1000000 mm4"),
    symbols=_FOURTH,
    words=_FOURTH_WORDS,
)
MOMENT = Kind(
    "moment",
    ("150 lb ft", "1800 lb in", "12 kip in", "200 N m", "3.5 kN m"),
    symbols=_sides((1, "N"), (1000, "kN"), by=(1, "m"))
    | _sides((1, "N"), (1000, "kN"), by=(MILLIMETRE, "mm"))
    | _scales((1, "Nm"), (1000, "kNm"), (MILLIMETRE, "Nmm")),
    words=_sides(*_POUNDS, by=(INCH, "in")) | _sides(*_POUNDS, by=(FOOT, "ft")),
)
BENDING_STIFFNESS = Kind(
    "bending stiffness (EI)",
    ("70000 kip in2", "200 kN m2", "200000 N m2"),
    symbols=_scales((1, "N m2"), (1000, "kN m2"), (MILLIMETRE**2, "N mm2")),
    words=_scales(
        (POUND_FORCE * INCH**2, "lb in2, lbf in2"),
        (POUND_FORCE * FOOT**2, "lb ft2, lbf ft2"),
        (_KIP * INCH**2, "kip in2"),
        (_KIP * FOOT**2, "kip ft2"),
    ),
)
TURNING_STIFFNESS = Kind(
    "turning stiffness",
    ("500 kip in/rad", "60 kN m/rad", "60000 N m/rad"),
    symbols=_scales((1, "N m/rad"), (1000, "kN m/rad")),
    words=_scales(
        (POUND_FORCE * INCH, "lb in/rad, lbf in/rad"),
        (POUND_FORCE * FOOT, "lb ft/rad, lbf ft/rad"),
        (_KIP * INCH, "kip in/rad"),
        (_KIP * FOOT, "kip ft/rad"),
    ),
)
LINE_MASS = Kind(
    "mass on a length",
    ("4.3 lb/ft", "6.4 kg/m"),
    symbols=_scales((1, "kg/m")),
    words=_scales((POUND / FOOT, "lb/ft"), (POUND / INCH, "lb/in")),
    least=Fraction(0),
)
MASS_INERTIA = Kind(
    "moment of inertia (mass)",
    ("2000 lb ft2", "80 kg m2"),
    symbols=_scales((1, "kg m2")),
    words=_scales((POUND * FOOT**2, "lb ft2"), (POUND * INCH**2, "lb in2")),
    least=Fraction(0),
)
EXPANSION = Kind(
    "growth by heat",
    ("6.5 ppm/F", "12 ppm/K", "0.000012 /K"),
    symbols=_scales(
        (Fraction(1, 10**6), "ppm/K, ppm/C"),
        (1, "/K, /C"),
        (Fraction(1, 10**6) / FAHRENHEIT_DEGREE, "ppm/F"),
        (1 / FAHRENHEIT_DEGREE, "/F"),
    ),
)
FREQUENCY = Kind(
    "times in a while",
    ("5 /min", "0.2 /min", "1 /s"),
    symbols=_scales((1, "/s, Hz"), (Fraction(1, 60), "/min, a minute"), (Fraction(1, 3600), "/h")),
    least=Fraction(0),
)
ACCELERATION = Kind(
    "acceleration",
    ("9.81 m/s2", "32.2 ft/s2", "1 g"),
    symbols=_scales((1, "m/s2"), (STANDARD_GRAVITY, "g")),
    words=_scales((FOOT, "ft/s2"), (INCH, "in/s2")),
)
ENERGY = Kind(
    "energy",
    ("40 ft lb", "54 J", "1.2 kJ"),
    symbols=_scales((1, "J, N m"), (1000, "kJ")),
    words=_sides((POUND_FORCE, "lb"), (POUND_FORCE, "lbf"), by=(FOOT, "ft")),
)
CURRENT = Kind("current", ("15 A", "250 mA"), symbols=_scales((1, "A"), (Fraction(1, 1000), "mA")))
VOLTAGE = Kind(
    "voltage",
    ("120 V", "24 V", "0.4 kV"),
    symbols=_scales((1, "V"), (1000, "kV"), (Fraction(1, 1000), "mV")),
)
POWER = Kind(
    "power",
    ("400 W", "1.5 kW", "1/2 hp"),
    symbols=_scales((1, "W"), (1000, "kW")),
    words=_scales((550 * FOOT * POUND_FORCE, "hp")),
)
FLOW = Kind(
    "gas flow",
    ("35 ft3/h", "35 cfh", "15 l/min"),
    symbols=_scales(
        (1, "m3/s"), (Fraction(1, 3600), "m3/h"), (Fraction(1, 60_000), "l/min, L/min")
    ),
    words=_scales((FOOT**3 / 3600, "ft3/h, cfh")),
    least=Fraction(0),
)
MASS_RATE = Kind(
    "metal melted or laid in a time",
    ("4.9 lb/h", "2.2 kg/h"),
    symbols=_scales((1, "kg/s"), (Fraction(1, 3600), "kg/h")),
    words=_scales((POUND / 3600, "lb/h, lb/hr")),
    least=Fraction(0),
)
RESISTANCE = Kind(
    "resistance",
    ("0.5 ohm", "20 mohm"),
    symbols=_scales((1, "ohm, Ω"), (Fraction(1, 1000), "mohm, mΩ")),
    words=_scales((1, "ohms")),
    least=Fraction(0),
)
LINE_RESISTANCE = Kind(
    "resistance of a length",
    ("3.07 ohm/kft", "10.1 ohm/km", "0.0101 ohm/m"),
    symbols=_scales(
        (1, "ohm/m, Ω/m"),
        (Fraction(1, 1000), "ohm/km, Ω/km"),
        (1 / FOOT, "ohm/ft, Ω/ft"),
        (1 / (1000 * FOOT), "ohm/kft, Ω/kft"),
    ),
    least=Fraction(0),
)
RESISTIVITY = Kind(
    "resistivity",
    ("0.0172 ohm mm2/m", "0.0000000172 ohm m"),
    symbols=_scales(
        (1, "ohm m, Ω m"),
        (Fraction(1, 10**6), "ohm mm2/m, Ω mm2/m"),
    ),
    least=Fraction(0),
)
PITCH_COUNT = Kind(
    "threads on a length",
    ("13", "13 /in"),
    symbols=_scales((1 / INCH, ", /in, tpi"), (1 / MILLIMETRE, "/mm"), (1, "/m")),
    least=Fraction(0),
)
NUMBER = Kind(
    "number",
    ("0.35", "1 1/2", "35 %"),
    symbols=_scales((1, ""), (Fraction(1, 100), "%")),
    words=_scales((Fraction(1, 100), "percent")),
)


def read_area(text: str) -> Typed:
    """Return a typed area, exact [m2]. Read: in2, ft2, mm2, cm2, m2; see read_quantity."""
    return read_quantity(AREA, text)


def read_section_modulus(text: str) -> Typed:
    """Return a typed section modulus, exact [m3]. Read: in3, mm3, cm3; see read_quantity."""
    return read_quantity(SECTION_MODULUS, text)


def read_inertia(text: str) -> Typed:
    """Return a typed second moment of area, exact [m4]. Read: in4, mm4, cm4; see read_quantity."""
    return read_quantity(INERTIA, text)


def read_moment(text: str) -> Typed:
    """Return a typed moment, exact [N m].

    Read: lb ft, lb in, kip in, kip ft, N m, kN m, N mm, either part first; see read_quantity.
    """
    return read_quantity(MOMENT, text)


def read_flow(text: str) -> Typed:
    """Return a typed flow of gas, exact [m3/s]. Read: ft3/h, l/min, m3/h; see read_quantity."""
    return read_quantity(FLOW, text)


def read_number(text: str) -> Typed:
    """Return a typed number without a unit, exact [-]: `0.35`, `1 1/2`, `35 %`."""
    return read_quantity(NUMBER, text)
