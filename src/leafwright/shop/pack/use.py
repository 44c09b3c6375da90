"""What the process makes of the metal in the seams: wire or rods, arc time, hours, gas.

Ranges, not numbers: how much a welder lays over the drawn size, and how much of the day the arc
burns, differ from shop to shop. What is not known for a process is held, never guessed.
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.chain import Quantity
from leafwright.handbook import welding_use
from leafwright.handbook.welding_use import Process
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.proof.working import Lines
from leafwright.records import COMMON_PRACTICE, Held
from leafwright.shop.pack.metal import sums_of, worked_example
from leafwright.shop.pack.records import WeldUse
from leafwright.shop.seams import Seams

#: Laid over the drawn size, least and most [-] (common practice, no source).
OVERRUN: Final = (0.10, 0.25)
#: Gas more than burns with the arc: purging, leaks [-] (common practice, no source).
GAS_LOST: Final = (0.10, 0.15)
#: Share of the time at the seams that the arc burns [-] (common practice, no source).
OPERATING_FACTOR: Final = {"shop": (0.20, 0.35), "site": (0.10, 0.20)}
#: Share of the whole time of welding that fitting up and tacking take [-] (common practice).
FIT_UP_SHARE: Final = (0.30, 0.50)
#: Bought over the most that is expected: practice plates, tacks, what is dropped [-] (common
#: practice, no source).
SPARE: Final = 1.25

#: Processes by their letters, in the trade's words.
PROCESSES: Final[dict[str, str]] = {
    "GMAW": "MIG: solid wire and gas",
    "FCAW-G": "cored wire with gas",
    "FCAW-S": "cored wire without gas",
    "SMAW": "stick",
    "GTAW": "TIG",
}
#: Processes whose wire melts off as fast as it is fed, and is solid.
_FED: Final = ("GMAW",)
#: Processes that take a shielding gas.
WITH_GAS: Final = ("GMAW", "FCAW-G", "GTAW")

_NOT_FED: Final = Held(
    "how fast this process lays metal is not in the handbook",
    ("a trial seam by the clock, or solid wire",),
)


def weld_use(job: Job, seams: Seams, wall: float) -> tuple[WeldUse, tuple[Quantity, ...]]:
    """Return what welding all seams takes, and the defaults that it rests on.

    Args:
        job: its ``[weld]``.
        seams: of every leaf.
        wall: the thickest wall that is welded [m].
    """
    wished, system = job.weld, job.job.system
    process: Process = wished.process
    lines = Lines()
    worked_example(seams, lines)
    sums = sums_of(seams)
    deposit = math.fsum(one.mass for one in sums)
    unknown = sum(one.unknown for one in sums)
    shares = lines.work(welding_use.deposition_efficiency, process=process)
    least = lines.work(
        welding_use.metal_to_buy, deposit=deposit, efficiency=shares[1], overrun=OVERRUN[0]
    )
    most = lines.work(
        welding_use.metal_to_buy, deposit=deposit, efficiency=shares[0], overrun=OVERRUN[1]
    )
    name = "rods" if process in ("SMAW", "GTAW") else "wire"
    diameter = chosen(
        wished.diameter, name, f"weld/{name}", f"diameter of the {name}", system=system
    )
    defaults = [diameter]
    amps = wished.amps or lines.work(welding_use.amperes_for_wall, thickness=wall)
    volts = wished.volts or lines.work(
        welding_use.conventional_load_voltage, current=amps, process=process
    )
    feed = _feed(job, amps, diameter.value, lines)
    wire = None
    arc: tuple[float, float] | Held = _NOT_FED
    if feed is not None:
        per_metre = welding_use.wire_per_metre(diameter.value)
        wire = (least / per_metre, most / per_metre)
        rate = lines.work(welding_use.melt_off, diameter=diameter.value, feed=feed)
        arc = (
            lines.work(
                welding_use.arc_time, deposit=deposit, rate=rate * shares[1], overrun=OVERRUN[0]
            ),
            lines.work(
                welding_use.arc_time, deposit=deposit, rate=rate * shares[0], overrun=OVERRUN[1]
            ),
        )
    flow = None
    gas: tuple[float, float] | Held | None = None
    if process in WITH_GAS:
        wish = chosen(wished.gas_flow, "gas flow", "weld/gas flow", "gas flow", system=system)
        defaults.append(wish)
        flow = wish.value
        gas = (
            arc
            if isinstance(arc, Held)
            else (
                lines.work(welding_use.gas_used, flow=flow, arc=arc[0], lost=GAS_LOST[0]),
                lines.work(welding_use.gas_used, flow=flow, arc=arc[1], lost=GAS_LOST[1]),
            )
        )
    welding = whole = arc
    if not isinstance(arc, Held):
        low, high = OPERATING_FACTOR[wished.place]
        welding = (
            lines.work(welding_use.time_welding, arc=arc[0], operating_factor=high),
            lines.work(welding_use.time_welding, arc=arc[1], operating_factor=low),
        )
        whole = (welding[0] / (1.0 - FIT_UP_SHARE[0]), welding[1] / (1.0 - FIT_UP_SHARE[1]))
    made = WeldUse(
        process=process,
        place=wished.place,
        seams=sums,
        length=math.fsum(one.length for one in sums),
        deposit=deposit,
        metal=(least, most),
        bought=SPARE * most,
        diameter=diameter.value,
        wire=wire,
        wall=wall,
        amps=amps,
        volts=volts,
        feed=feed,
        arc=arc,
        welding=welding,
        whole=whole,
        flow=flow,
        gas=gas,
        working=lines.kept(),
        source=COMMON_PRACTICE,
        not_counted="tacks, and what holds infill, stops and latches"
        + (f"; {unknown} seams whose size the job does not give" if unknown else ""),
    )
    return made, tuple(defaults)


def _feed(job: Job, amps: float, diameter: float, lines: Lines) -> float | None:
    """Return how fast the wire is fed [m/s]; None where the process feeds none that is solid.

    A wire so thick or thin that no guide has it leaves the feed open too.
    """
    if job.weld.process not in _FED:
        return None
    if job.weld.feed is not None:
        return job.weld.feed.si
    try:
        return lines.work(welding_use.wire_feed_for, current=amps, diameter=diameter)
    except ValueError:
        return None
