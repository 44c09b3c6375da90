"""What welding uses: wire or rods, arc time, gas, and amperes for a wall.

The metal in the seams is of `weld_metal`; here are the shares that the trade counts on. The
machine's own chart, and a trial seam on the steel at hand, rule over all of it.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.handbook.weld_metal import DENSITY
from leafwright.records import (
    CubicMetres,
    Kilograms,
    KilogramsPerCubicMetre,
    KilogramsPerMetre,
    Number,
)

_INCH: Final = 0.0254
_MINUTE: Final = 60.0

#: Processes by the letters of AWS A3.0: solid wire and gas, cored wire with gas or shielded by
#: itself, stick, TIG.
Process = Literal["GMAW", "FCAW-G", "FCAW-S", "SMAW", "GTAW"]

# How much of the wire or rod bought stays in the seam, least and greatest [-]: a welding engineer's
# list of usual ranges (read); solid wire 0.93 to 0.98 in a wire maker's guide (read).
_EFFICIENCY: dict[str, tuple[float, float]] = {
    "GMAW": (0.93, 0.98),
    "FCAW-G": (0.82, 0.88),
    "FCAW-S": (0.75, 0.85),
    "SMAW": (0.60, 0.65),
    "GTAW": (0.94, 0.97),
}

# Conventional load voltage, V = a + b I [V, V/A] (IEC 60974-1, 11.2; second-hand).
_LOAD_VOLTAGE: dict[str, tuple[float, float]] = {
    "GMAW": (14.0, 0.05),
    "FCAW-G": (14.0, 0.05),
    "FCAW-S": (14.0, 0.05),
    "SMAW": (20.0, 0.04),
    "GTAW": (10.0, 0.04),
}

# Feed of solid steel wire for each ampere [in/min], by diameter [thousandths of an inch]: the
# setting guides of makers of wire welders (read in two).
_FEED_PER_AMPERE = {23: 3.5, 30: 2.0, 35: 1.6, 45: 1.0}


def deposition_efficiency(process: Process) -> tuple[Number, Number]:
    """Return how much of what is bought stays in the seam, least and greatest [-].

    Common practice, no source: ranges that a welding engineer lists and, for solid wire, a wire
    maker's guide (both read); stick with its stubs.

    process: by the letters of AWS A3.0 [-].
    Raises ValueError for another process.
    """
    return _of(_EFFICIENCY, process)


def metal_to_buy(deposit: float, efficiency: float, overrun: float = 0.0) -> Kilograms:
    """Return the wire or rods that a seam takes [kg]: m (1 + overrun) / efficiency.

    The definition of deposition efficiency: metal laid over metal used.

    deposit: m in the seams as drawn [kg].
    efficiency: share that stays in the seam, see `deposition_efficiency` [-].
    overrun: laid over the drawn size, 0.10 to 0.25 (common practice, no source) [-].
    Raises ValueError for a deposit or overrun below 0, or an efficiency not over 0 and up to 1.
    """
    require_not_negative("the metal in the seams", deposit, "kg")
    require_not_negative("the overrun", overrun, "")
    _require_share("the efficiency", efficiency)
    return deposit * (1.0 + overrun) / efficiency


def wire_per_metre(diameter: float, density: KilogramsPerCubicMetre = DENSITY) -> KilogramsPerMetre:
    """Return the mass of each metre of solid wire [kg/m]: π/4 d² ρ.

    Geometry of a cylinder.

    diameter: d [m].
    density: ρ [kg/m3].
    Raises ValueError for a value at or below 0. Limits: solid wire; cored wire is lighter.
    """
    require_positive("the wire's diameter", diameter, "m")
    require_positive("the density", density, "kg/m3")
    return math.pi / 4.0 * diameter**2 * density


def melt_off(diameter: float, feed: float, density: KilogramsPerCubicMetre = DENSITY) -> float:
    """Return how fast a wire melts off [kg/s]: π/4 d² v ρ.

    Geometry: all that is fed is melted; times `deposition_efficiency` is laid.

    diameter: d of the wire [m].
    feed: v, how fast it is fed [m/s].
    density: ρ of the wire [kg/m3].
    Raises ValueError for a value at or below 0. Limits: solid wire; cored wire holds flux too.
    """
    require_positive("the wire's feed", feed, "m/s")
    return wire_per_metre(diameter, density) * feed


def arc_time(deposit: float, rate: float, overrun: float = 0.0) -> float:
    """Return how long the arc burns [s]: m (1 + overrun) / rate.

    The definition of a deposition rate.

    deposit: m in the seams as drawn [kg].
    rate: metal laid while the arc burns, `melt_off` times its efficiency [kg/s].
    overrun: laid over the drawn size, 0.10 to 0.25 (common practice, no source) [-].
    Raises ValueError for a deposit or overrun below 0, or a rate at or below 0.
    """
    require_not_negative("the metal in the seams", deposit, "kg")
    require_positive("the rate", rate, "kg/s")
    require_not_negative("the overrun", overrun, "")
    return deposit * (1.0 + overrun) / rate


def time_welding(arc: float, operating_factor: float) -> float:
    """Return the time at the seams, with all that is not arc [s]: arc time over its share.

    The definition of an operating factor. Wire by hand: 0.20 to 0.35 in a shop, 0.10 to 0.20 on
    site (common practice, no source); fit-up and tacks are not in it.

    arc: how long the arc burns [s].
    operating_factor: share of the time that the arc burns [-].
    Raises ValueError for a time below 0, or a share not over 0 and up to 1.
    """
    require_not_negative("the arc time", arc, "s")
    _require_share("the operating factor", operating_factor)
    return arc / operating_factor


def gas_used(flow: float, arc: float, lost: float = 0.0) -> CubicMetres:
    """Return the shielding gas that a job takes, as free gas [m3]: flow × arc time (1 + lost).

    The definition of a flow; 30 to 40 ft³/h is usual with wire (common practice, no source).

    flow: while the arc burns [m3/s].
    arc: how long it burns [s].
    lost: more, for purging and leaks, 0.10 to 0.15 (common practice, no source) [-].
    Raises ValueError for a flow at or below 0, or a time or loss below 0. Limits: no draught.
    """
    require_positive("the gas flow", flow, "m3/s")
    require_not_negative("the arc time", arc, "s")
    require_not_negative("what is lost", lost, "")
    return flow * arc * (1.0 + lost)


def amperes_for_wall(thickness: float) -> float:
    """Return the current that a wall asks for in one pass [A]: 1 A for each 0.001 in.

    Common practice, no source: the setting guides of makers of wire welders (read in two); a start
    for a trial, no rule.

    thickness: of the wall [m].
    Raises ValueError for a thickness at or below 0. Limits: mild steel, short arc, from about
    0.03 to 0.25 in; a thicker wall is welded in more than one pass.
    """
    require_positive("the wall", thickness, "m")
    return thickness / (0.001 * _INCH)


def wire_feed_for(current: float, diameter: float) -> float:
    """Return how fast a solid steel wire is fed for a current [m/s].

    Common practice, no source: the setting guides of makers of wire welders (read in two): 3.5,
    2.0, 1.6 and 1.0 in/min for each ampere with wire of 0.023, 0.030, 0.035 and 0.045 in. Between
    them by the wire's area, from the nearest.

    current: at the arc [A].
    diameter: of the wire [m].
    Raises ValueError for a value at or below 0, or a wire not from 0.020 to 0.052 in. Limits: mild
    steel, short arc; a start for a trial.
    """
    require_positive("the current", current, "A")
    mils = diameter / (0.001 * _INCH)
    if not 20.0 <= mils <= 52.0:
        raise ValueError(
            f"a wire of {diameter!r} m is not in the guides; give 0.020 to 0.052 in, 0.6 to 1.2 mm"
        )
    near = min(_FEED_PER_AMPERE, key=lambda known: abs(known - mils))
    return current * _FEED_PER_AMPERE[near] * (near / mils) ** 2 * _INCH / _MINUTE


def conventional_load_voltage(current: float, process: Process = "GMAW") -> float:
    """Return the voltage at which a welding machine's current is rated [V].

    IEC 60974-1, 11.2 (second-hand): 14 + 0.05 I with wire, 20 + 0.04 I with stick, 10 + 0.04 I
    with TIG.

    current: I at the arc [A].
    process: by the letters of AWS A3.0 [-].
    Raises ValueError for a current at or below 0, or another process. Limits: up to 600 A; a short
    arc burns a volt or two lower.
    """
    require_positive("the current", current, "A")
    a, b = _of(_LOAD_VOLTAGE, process)
    return a + b * current


def _of(table: dict[str, tuple[float, float]], process: str) -> tuple[float, float]:
    if process not in table:
        raise ValueError(f"process {process!r} is not held; give one of {', '.join(table)}")
    return table[process]


def _require_share(what: str, share: float) -> None:
    if not 0.0 < share <= 1.0:
        raise ValueError(f"{what} is {share!r}; give over 0 and up to 1")
