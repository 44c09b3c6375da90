"""Conductors and machines on them: resistance, voltage drop, heat, current drawn.

Direct current, or alternating current at mains frequency in the small sizes of cords, where
resistance alone decides. Permitted currents of cords, protection and methods are for a licensed
electrician by the local code, and are not here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.records import Number, Unit

Volts = Annotated[float, Unit("V")]
Watts = Annotated[float, Unit("W")]
OhmsPerMetre = Annotated[float, Unit("ohm/m")]

_INCH: Final = 0.0254
_PER_THOUSAND_FEET: Final = 1.0 / 304.8
_PER_KILOMETRE: Final = 1e-3

#: 20 °C [K], at which resistivities are stated.
TWENTY_CELSIUS: Final = 293.15
#: 75 °C [K], at which NEC chapter 9 Table 8 states resistance.
SEVENTY_FIVE_CELSIUS: Final = 348.15

#: Resistivity of annealed copper at 20 °C, 100 % IACS [ohm m] (NBS Handbook 100; IEC 60028).
COPPER: Final = 1.7241e-8
#: Resistivity of aluminium conductor at 20 °C [ohm m] (IEC 60889, from memory; 61 % IACS).
ALUMINIUM: Final = 2.8264e-8
#: How resistance of copper grows with temperature, on that at 20 °C [1/K] (NBS Handbook 100).
COPPER_RISE: Final = 0.00393

Make = Literal["solid", "stranded"]
FlexClass = Literal["1 or 2", "5 or 6"]
Supply = Literal["direct", "single phase", "three phase"]

# NEC chapter 9 Table 8, uncoated copper at 75 °C [ohm / 1000 ft]: gauge, solid, stranded.
# Second-hand; the table has no solid conductor over 8 AWG. Gauge 0 is 1/0.
_NEC_TABLE_8 = {
    18: (7.77, 7.95),
    16: (4.89, 4.99),
    14: (3.07, 3.14),
    12: (1.93, 1.98),
    10: (1.21, 1.24),
    8: (0.764, 0.778),
    6: (None, 0.491),
    4: (None, 0.308),
    3: (None, 0.245),
    2: (None, 0.194),
    1: (None, 0.154),
    0: (None, 0.122),
}
# IEC 60228, plain copper at 20 °C, greatest resistance [ohm/km]: area [mm2], class 1 and 2 (fixed
# wiring), class 5 and 6 (flexible). Second-hand.
_IEC_60228 = {
    0.5: (36.0, 39.0),
    0.75: (24.5, 26.0),
    1.0: (18.1, 19.5),
    1.5: (12.1, 13.3),
    2.5: (7.41, 7.98),
    4.0: (4.61, 4.95),
    6.0: (3.08, 3.30),
    10.0: (1.83, 1.91),
    16.0: (1.15, 1.21),
    25.0: (0.727, 0.780),
    35.0: (0.524, 0.554),
    50.0: (0.387, 0.386),
}


@dataclass(frozen=True, slots=True)
class VoltageDrop:
    """What is lost on the way: volts, share of the supply, what is left, heat in the cord."""

    drop: Volts
    share: Number
    left: Volts
    heat: Watts


def awg_diameter(gauge: int) -> float:
    """Return the diameter of a solid wire of American wire gauge [m].

    ASTM B258: 0.005 in × 92^((36 − n)/39).

    gauge: n, 0 for 1/0 and −1 for 2/0, to −3 for 4/0 [-].
    Raises ValueError where it is not from −3 to 40.
    """
    if not -3 <= gauge <= 40:
        raise ValueError(
            f"wire gauge {gauge!r} is not held; give 40 to 1, 0 for 1/0, −1 for 2/0, to −3 for 4/0"
        )
    return 0.005 * _INCH * math.pow(92.0, (36.0 - gauge) / 39.0)


def awg_area(gauge: int) -> float:
    """Return the metal's area in a conductor of American wire gauge [m2].

    ASTM B258: a stranded conductor holds as much metal as the solid wire of its gauge.

    gauge: n, 0 for 1/0 and −1 for 2/0, to −3 for 4/0 [-].
    Raises ValueError where it is not from −3 to 40.
    """
    return math.pi / 4.0 * awg_diameter(gauge) ** 2


def resistance_per_metre(
    area: float, *, resistivity: float = COPPER, temperature: float = TWENTY_CELSIUS
) -> float:
    """Return the resistance of each metre of a conductor [ohm/m].

    Ohm's law: ρ / A, times 1 + 0.00393 (T − 20 °C) (NBS Handbook 100).

    area: of metal, A, see `awg_area` [m2].
    resistivity: ρ at 20 °C [ohm m].
    temperature: of the conductor [K].
    Raises ValueError where a value is not positive. Limits: copper, and aluminium within 1 % up to
    100 °C; solid wire (strands lie askew: some 2 % more), low frequency.
    """
    require_positive("the conductor's area", area, "m2")
    require_positive("the resistivity", resistivity, "ohm m")
    return resistivity / area * temperature_factor(temperature)


def temperature_factor(temperature: float) -> float:
    """Return how much more a copper conductor resists than at 20 °C [-].

    NBS Handbook 100: 1 + 0.00393 (T − 20 °C).

    temperature: of the conductor [K].
    Raises ValueError where the temperature is not from −60 to 150 °C.
    """
    if not 213.15 <= temperature <= 423.15:
        raise ValueError(
            f"a conductor at {temperature!r} K is beyond this rule; give −60 to 150 °C, in kelvins "
            "213.15 to 423.15"
        )
    return 1.0 + COPPER_RISE * (temperature - TWENTY_CELSIUS)


def awg_table_resistance(gauge: int, *, make: Make = "stranded") -> float:
    """Return the resistance of each metre of uncoated copper of a gauge, at 75 °C [ohm/m].

    NEC (NFPA 70), chapter 9 Table 8 (second-hand).

    gauge: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, or 0 for 1/0 [-].
    make: solid or stranded; the table has solid to 8 only [-].
    Raises ValueError where the table holds no such conductor.
    """
    row = _NEC_TABLE_8.get(gauge)
    ohms = None if row is None else row[0 if make == "solid" else 1]
    if ohms is None:
        raise ValueError(
            f"{make} conductor of gauge {gauge!r} is not in the table held; "
            f"give one of {', '.join(map(str, _NEC_TABLE_8))}, solid to 8 only"
        )
    return ohms * _PER_THOUSAND_FEET


def metric_table_resistance(area: float, *, flex_class: FlexClass = "5 or 6") -> float:
    """Return the greatest resistance of each metre of a metric copper conductor, at 20 °C [ohm/m].

    IEC 60228, Tables 1 to 4, plain wires (second-hand).

    area: nominal, 0.5 to 50 mm2 in the standard's steps [m2].
    flex_class: 1 or 2 in fixed wiring, 5 or 6 in flexible cords [-].
    Raises ValueError where the standard has no such area.
    """
    row = _IEC_60228.get(round(area * 1e6, 6))
    if row is None:
        raise ValueError(
            f"a conductor of {area!r} m2 is not in the table held; give "
            f"{', '.join(f'{size:g}' for size in _IEC_60228)} mm2"
        )
    return row[0 if flex_class == "1 or 2" else 1] * _PER_KILOMETRE


def voltage_drop(
    current: float,
    length: float,
    resistance: float,
    supply_voltage: float,
    *,
    supply: Supply = "single phase",
) -> VoltageDrop:
    """Return the voltage lost on the way to a machine [V].

    Ohm's law: 2 I R L out and back, √3 I R L between lines of three phases; heat 2 I² R L or
    3 I² R L. NEC 210.19 and 215.2 advise at most 3 % to the outlet and 5 % in all (informational).

    current: I in each conductor [A].
    length: L of the cord, one way [m].
    resistance: R of each metre of conductor [ohm/m].
    supply_voltage: between conductors, where the cord begins [V].
    supply: direct, single phase or three phase [-].
    Raises ValueError where a value is not positive, or more is lost than there is.
    Limits: resistance only, load of power factor near 1 (the greatest drop); sizes to 1/0.
    """
    require_not_negative("the current", current, "A")
    require_not_negative("the cord's length", length, "m")
    require_positive("the resistance", resistance, "ohm/m")
    require_positive("the voltage", supply_voltage, "V")
    one_way = resistance * length
    times, conductors = (math.sqrt(3.0), 3.0) if supply == "three phase" else (2.0, 2.0)
    drop = times * current * one_way
    if drop >= supply_voltage:
        raise ValueError(
            f"{current!r} A through {length!r} m loses {drop:.1f} V of {supply_voltage!r} V; "
            "no such current flows: take a thicker or shorter cord"
        )
    return VoltageDrop(
        drop, drop / supply_voltage, supply_voltage - drop, conductors * current**2 * one_way
    )


def longest_cord(
    current: float,
    resistance: float,
    supply_voltage: float,
    share: float,
    *,
    supply: Supply = "single phase",
) -> float:
    """Return the longest cord, one way, that loses no more than a share of the voltage [m].

    Ohm's law: share × V / (2 I R), with √3 for 2 between lines of three phases.

    current: I in each conductor [A].
    resistance: R of each metre of conductor [ohm/m].
    supply_voltage: between conductors, where the cord begins [V].
    share: of the voltage that may be lost, 0.05 for 5 % [-].
    supply: direct, single phase or three phase [-].
    Raises ValueError where a value is not positive.
    """
    require_positive("the current", current, "A")
    require_positive("the resistance", resistance, "ohm/m")
    require_positive("the voltage", supply_voltage, "V")
    require_positive("the share of voltage", share, "")
    times = math.sqrt(3.0) if supply == "three phase" else 2.0
    return share * supply_voltage / (times * current * resistance)


def machine_current(
    power: float,
    voltage: float,
    *,
    power_factor: float = 1.0,
    efficiency: float = 1.0,
    supply: Supply = "single phase",
) -> float:
    """Return the current that a machine draws [A].

    Ohm's law and the definition of power factor: P / (η V cos φ), with √3 V for three phases.

    power: P that the machine gives out (or takes, with efficiency 1) [W].
    voltage: V between conductors [V].
    power_factor: cos φ, 1 for direct current and heaters [-].
    efficiency: η, power out over power in [-].
    supply: direct, single phase or three phase [-].
    Raises ValueError where power or voltage is not positive, a factor is not over 0 and up to 1, or
    a power factor is given with direct current. Limits: running; a motor draws several times as
    much as it starts, and the plate's current rules.
    """
    require_positive("the power", power, "W")
    require_positive("the voltage", voltage, "V")
    for what, factor in (("power factor", power_factor), ("efficiency", efficiency)):
        if not 0.0 < factor <= 1.0:
            raise ValueError(f"the {what} is {factor!r}; give over 0 and up to 1")
    if supply == "direct" and power_factor != 1.0:
        raise ValueError(
            f"direct current has no power factor, {power_factor!r} was given; leave it out"
        )
    times = math.sqrt(3.0) if supply == "three phase" else 1.0
    return power / (efficiency * times * voltage * power_factor)


def plugged_in_limit(breaker: float) -> float:
    """Return the largest machine that may be plugged into a circuit of many outlets [A].

    NEC (NFPA 70), 210.23(A)(1) and (B) (numbers to the 2020 edition; second-hand): 80 % of the
    circuit's rating.

    breaker: rating of the branch circuit [A].
    Raises ValueError for a rating at or below 0. Limits: stated for 15, 20 and 30 A; taken so for
    larger ones, as 210.20(A) has it of what runs three hours and more. Elsewhere the local code.
    """
    require_positive("the breaker's rating", breaker, "A")
    return 0.8 * breaker
