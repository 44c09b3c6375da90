"""How much one person may lift: the revised NIOSH lifting equation.

Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) Publication 94-110 (1994,
revised 2021), section 1.3. It is for one person lifting with both hands, standing, on a firm
floor. It is not for pushing, pulling or carrying, nor for lifting with one hand, in a tight place
or at speed, and it knows nothing of two people at one load: sharing the weight evenly among them
is common practice, no source.
"""

from __future__ import annotations

import bisect
from dataclasses import dataclass
from typing import Final, Literal

from leafwright.records import Kilograms, Metres, Number, Radians

Coupling = Literal["good", "fair", "poor"]
System = Literal["US", "metric"]

_INCH: Final = 0.0254
_POUND: Final = 0.45359237
_DEGREE: Final = 0.017453292519943295

# Table 5 (frequency multiplier): lifts a minute, then for work of up to 1, 2 and 8 hours the
# multipliers with the hands below 30 in (75 cm) and not below.
_LIFTS: Final = (0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
_HOUR_LOW: Final = (
    1.0,
    0.97,
    0.94,
    0.91,
    0.88,
    0.84,
    0.80,
    0.75,
    0.70,
    0.60,
    0.52,
    0.45,
    0.41,
    0.37,
)
_HOUR: Final = (*_HOUR_LOW, 0.34, 0.31, 0.28)
_TWO_LOW: Final = (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26)
_TWO: Final = (*_TWO_LOW, 0.23, 0.21)
_EIGHT_LOW: Final = (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18)
_EIGHT: Final = (*_EIGHT_LOW, 0.15, 0.13)
_HOURS: Final = ((1.0, _HOUR_LOW, _HOUR), (2.0, _TWO_LOW, _TWO), (8.0, _EIGHT_LOW, _EIGHT))


@dataclass(frozen=True, slots=True)
class Lift:
    """One lift by one person.

    ``horizontal`` is from between the ankles to the hands, ``vertical`` from the floor to the
    hands as they take hold, ``travel`` how far up they go [m]; ``turn`` how far the body is
    twisted [rad]; ``a_minute`` how often, ``hours`` for how long; ``coupling`` how good the grip.
    """

    horizontal: Metres
    vertical: Metres
    travel: Metres
    turn: Radians = 0.0
    a_minute: Number = 0.2
    hours: Number = 1.0
    coupling: Coupling = "fair"


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The multipliers under the manual's own names; their product with LC is the limit."""

    HM: Number
    VM: Number
    DM: Number
    AM: Number
    FM: Number
    CM: Number


@dataclass(frozen=True, slots=True)
class LiftLimit:
    """The recommended weight limit of a lift, and what it is made of."""

    weight: Kilograms
    multipliers: Multipliers


def load_constant(system: System) -> float:
    """Return the load constant LC [kg].

    NIOSH 94-110, section 1.3: 51 lb, or 23 kg.

    system: "US" for pounds and inches, "metric".
    """
    return 51.0 * _POUND if system == "US" else 23.0


def horizontal_multiplier(distance: float, system: System = "US") -> float:
    """Return the horizontal multiplier HM [-].

    NIOSH 94-110, section 1.3.1: 10/H in inches, 25/H in centimetres; 1 nearer than 10 in (25 cm),
    nothing beyond 25 in (63 cm).

    distance: H, from between the ankles to the hands [m]; system: the manual's units.
    """
    unit, near, far = (_INCH, 10.0, 25.0) if system == "US" else (0.01, 25.0, 63.0)
    H = _round_off(distance / unit)
    return 0.0 if far < H else near / max(H, near)


def vertical_multiplier(height: float, system: System = "US") -> float:
    """Return the vertical multiplier VM [-].

    NIOSH 94-110, section 1.3.2: 1 − 0.0075·|V − 30| in inches, 1 − 0.003·|V − 75| in centimetres;
    nothing above 70 in (175 cm).

    height: V, of the hands over the floor as they take hold [m]; system: the manual's units.
    Raises ValueError below the floor.
    """
    if height < 0.0:
        raise ValueError(f"the hands are at {height!r} m; they cannot be below the floor")
    unit, best, slope, top = (
        (_INCH, 30.0, 0.0075, 70.0) if system == "US" else (0.01, 75.0, 0.003, 175.0)
    )
    V = _round_off(height / unit)
    return 0.0 if top < V else 1.0 - slope * abs(V - best)


def distance_multiplier(travel: float, system: System = "US") -> float:
    """Return the distance multiplier DM [-].

    NIOSH 94-110, section 1.3.3: 0.82 + 1.8/D in inches, 0.82 + 4.5/D in centimetres; 1 for less
    than 10 in (25 cm), nothing for more than 70 in (175 cm).

    travel: D, how far the hands go up or down [m]; system: the manual's units.
    """
    unit, short, part, far = (
        (_INCH, 10.0, 1.8, 70.0) if system == "US" else (0.01, 25.0, 4.5, 175.0)
    )
    D = _round_off(travel / unit)
    return 0.0 if far < D else 0.82 + part / max(D, short)


def asymmetry_multiplier(turn: float) -> float:
    """Return the asymmetry multiplier AM [-].

    NIOSH 94-110, section 1.3.4: 1 − 0.0032·A in degrees; nothing beyond 135°.

    turn: A, how far the load is from straight ahead, either way [rad].
    """
    A = _round_off(abs(turn) / _DEGREE)
    return 0.0 if A > 135.0 else 1.0 - 0.0032 * A


def frequency_multiplier(
    a_minute: float, hours: float, height: float, system: System = "US"
) -> float:
    """Return the frequency multiplier FM [-].

    NIOSH 94-110, Table 5; between two rows the row of more lifts counts.

    a_minute: lifts a minute [1/min]; hours: of such work, with the rests the manual asks for [h];
    height: V of the hands as they take hold [m]; system: the manual's units.
    Raises ValueError for more than 8 hours.
    """
    for most, low, high in _HOURS:
        if hours <= most:
            row = low if _is_low(height, system) else high
            place = bisect.bisect_left(_LIFTS, a_minute)
            return row[place] if place < len(row) else 0.0
    raise ValueError(f"{hours!r} hours of lifting is beyond the equation; give 8 or fewer")


def coupling_multiplier(coupling: Coupling, height: float, system: System = "US") -> float:
    """Return the coupling multiplier CM [-].

    NIOSH 94-110, Table 7: good 1.00; fair 0.95 with the hands below 30 in (75 cm), else 1.00;
    poor 0.90.

    coupling: how good the grip is; height: V of the hands as they take hold [m]; system: the
    manual's units.
    """
    if coupling == "good":
        return 1.0
    if coupling == "poor":
        return 0.9
    return 0.95 if _is_low(height, system) else 1.0


def lift_limit(lift: Lift, system: System = "US") -> LiftLimit:
    """Return the recommended weight limit RWL of a lift [kg], with its multipliers.

    NIOSH 94-110, section 1.3: RWL = LC·HM·VM·DM·AM·FM·CM. Nothing means that the lift is beyond
    what the equation can judge: change it. At the start of the lift; where the load must be set
    down with care, ask for the end as well.

    lift: what is lifted, from where and how often; system: the manual's units.
    """
    m = Multipliers(
        HM=horizontal_multiplier(lift.horizontal, system),
        VM=vertical_multiplier(lift.vertical, system),
        DM=distance_multiplier(lift.travel, system),
        AM=asymmetry_multiplier(lift.turn),
        FM=frequency_multiplier(lift.a_minute, lift.hours, lift.vertical, system),
        CM=coupling_multiplier(lift.coupling, lift.vertical, system),
    )
    product = m.HM * m.VM * m.DM * m.AM * m.FM * m.CM
    return LiftLimit(load_constant(system) * product, m)


def _is_low(height: float, system: System) -> bool:
    return _round_off(height / _INCH) < 30.0 if system == "US" else _round_off(height / 0.01) < 75.0


def _round_off(value: float) -> float:
    """Return a number without the last bits that changing its unit left, so that limits are met."""
    return round(value, 9)
