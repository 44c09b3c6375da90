"""Power at the end of the cord: what the welder draws there, what is left, and what to change.

A machine's own plate rules over all of it, and wiring is for a licensed electrician.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from leafwright.chain import Quantity
from leafwright.handbook import electrical, welding_use
from leafwright.job.defaults import chosen
from leafwright.job.model import Job, Power
from leafwright.proof.working import Lines
from leafwright.records import COMMON_PRACTICE, Check, Held, Source, Verdict, ratio_of
from leafwright.shop.pack.records import Outlet, WeldUse

#: Lost on the way to the machine: 5 % in all is advised, twice that and an arc goes out.
ADVISED_DROP: Final = 0.05
#: A plate as many times as thick as the tube's wall takes its heat away [-] (common practice).
THICK_PLATE: Final = 1.5

#: Supplies that hand tools are made for, least and most [V]; on another they need their own.
HAND_TOOLS: Final = {"feet-inch": (100.0, 130.0), "metric": (200.0, 250.0)}

_NEC: Final = Source("NEC (NFPA 70)", "210.23(A)(1), 80 % of the circuit's rating (second-hand)")
_NEC_DROP: Final = Source(
    "NEC (NFPA 70)", "210.19(A) and 215.2(A), informational notes: 5 % in all (second-hand)"
)
_COPPER_AREA: Final = re.compile(
    r"(?:\d+\s*[xXgG×]\s*)?(\d+(?:[.,]\d+)?)\s*(?:mm2|mm²|sq ?mm)?", re.ASCII
)
_GAUGE: Final = re.compile(r"(?:#\s*)?(\d{1,2})(?:\s*/\s*[234])?\s*(?:AWG|awg|ga|gauge)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Cord:
    """A cord's copper: its size in words and the resistance of each metre [ohm/m]."""

    words: str
    resistance: float


def cord_of(text: str, system: str, lines: Lines) -> Cord | None:
    """Return a cord by what is printed on it, `12 AWG`, `12/3` or `3G2.5`; None if not known.

    Args:
        text: as the job has it.
        system: a bare number is a gauge in feet-inch jobs and mm2 in metric ones.
        lines: keeps the table's row.
    """
    said = text.strip()
    metric = "mm" in said or (system == "metric" and "awg" not in said.lower())
    try:
        if metric:
            found = _COPPER_AREA.fullmatch(said)
            if found is None:
                return None
            square = float(found[1].replace(",", "."))
            ohms = lines.work(electrical.metric_table_resistance, area=square * 1e-6)
            return Cord(f"{square:g} mm²", ohms)
        found = _GAUGE.fullmatch(said)
        if found is None:
            return None
        gauge = int(found[1])
        return Cord(f"{gauge} AWG", lines.work(electrical.awg_table_resistance, gauge=gauge))
    except ValueError:
        return None


def powered(
    job: Job, use: WeldUse, thick: float
) -> tuple[Outlet | Held, tuple[Check, ...], tuple[Quantity, ...]]:
    """Return what is at the end of the cord, the checks of it, and the defaults used.

    Args:
        job: its ``[power]`` and ``[weld]``.
        use: how the seams are welded.
        thick: the thickest plate that is welded to a leaf [m]; 0 for none.
    """
    plate = _plate_check(use, thick, job.job.system)
    if use.place == "shop":
        return Held("it is welded in the shop, not from the outlet on site", ()), plate, ()
    power = job.power
    if power is None:
        needs = ("volts, breaker_amps, cord and cord_length in [power]",)
        return Held("what the outlet on site gives is not said", needs), plate, ()
    system = job.job.system
    efficiency, factor = (
        chosen(None, name, f"power/{name}", name, system=system)
        for name in ("welder efficiency", "welder power factor")
    )
    lines = Lines()
    drawn = job.weld.input_amps
    if drawn is None:
        drawn = lines.work(
            electrical.machine_current,
            power=use.amps * use.volts,
            voltage=power.volts,
            power_factor=factor.value,
            efficiency=efficiency.value,
        )
    limit = lines.work(electrical.plugged_in_limit, breaker=power.breaker_amps)
    # Amperes at the arc for each at the plug, of what this machine takes.
    reach = use.amps * limit / drawn
    wall = use.wall * reach / use.amps
    grinder = chosen(None, "grinder", "power/grinder", "grinder", system=system)
    by_plate = job.weld.input_amps is not None
    defaults = (grinder,) if by_plate else (efficiency, factor, grinder)
    cord_lines = Lines()
    cord = cord_of(power.cord, system, cord_lines) if power.cord is not None else None
    drop = None
    long_way = cord is not None and power.cord_length is not None
    if cord is not None and power.cord_length is not None:
        try:
            drop = cord_lines.work(
                electrical.voltage_drop,
                current=drawn,
                length=power.cord_length.si,
                resistance=cord.resistance,
                supply_voltage=power.volts,
            )
        except ValueError:
            drop = None
    outlet = Outlet(
        drawn,
        drop.drop if drop else None,
        drop.left if drop else None,
        drop.share if drop else None,
        reach,
        wall,
    )
    checks = [_breaker(job, power, use, outlet, limit, lines)]
    if long_way and cord is not None:
        checks.append(_cord(job, power, cord, outlet, cord_lines))
    elif power.cord_length is not None or power.cord is not None:
        checks.append(_cord_unknown(power))
    if HAND_TOOLS[system][0] <= power.volts <= HAND_TOOLS[system][1]:
        checks.append(_grinder(power, outlet, grinder.value))
    return outlet, (*checks, *plate), defaults


def _breaker(
    job: Job, power: Power, use: WeldUse, outlet: Outlet, limit: float, lines: Lines
) -> Check:
    """Return whether the breaker stays in: short where it does not, tight over 80 % of it."""
    ratio = ratio_of(outlet.drawn, power.breaker_amps)
    verdict = Verdict.SHORT if ratio > 1.0 else Verdict.OK
    if verdict is Verdict.OK and outlet.drawn > limit * (1.0 + 1e-9):
        verdict = Verdict.TIGHT
    wall = _size(outlet.reach_wall, job.job.system)
    supply = f"from {2 * power.volts:g} V" if power.volts < 200.0 else "from a larger circuit"
    change = (
        f"this circuit gives about {outlet.reach:.0f} A at the arc: a wall of {wall} in one pass. "
        f"Weld {supply}, in the shop, off an engine, or in more and smaller passes; less current "
        "on this wall laps cold"
    )
    by_plate = job.weld.input_amps is not None
    where = "the machine's plate" if by_plate else f"{use.amps:.0f} A at {use.volts:.1f} V"
    return Check(
        key="power/breaker",
        subject="the welder at the outlet on site",
        question="does the breaker stay in",
        verdict=verdict,
        source=_NEC if job.job.system == "feet-inch" else COMMON_PRACTICE,
        unit="A",
        demand=outlet.drawn,
        available=power.breaker_amps,
        ratio=ratio,
        change=change if verdict is not Verdict.OK else "",
        rule=f"the current drawn at {power.volts:g} V, for {where} at the arc, against the "
        f"breaker; over {limit:.0f} A, 80 % of it, is tight",
        working=lines.kept(),
    )


def _cord(job: Job, power: Power, cord: Cord, outlet: Outlet, lines: Lines) -> Check:
    """Return whether enough of the voltage is left: tight over 5 %, short over twice that."""
    assert power.cord_length is not None
    longest = electrical.longest_cord(outlet.drawn, cord.resistance, power.volts, ADVISED_DROP)
    share = outlet.share if outlet.share is not None else 1.0
    verdict = Verdict.OK
    if share > ADVISED_DROP:
        verdict = Verdict.TIGHT if share <= 2.0 * ADVISED_DROP else Verdict.SHORT
    inch = job.job.system == "feet-inch"
    reach = f"{longest / 0.3048:.0f} ft" if inch else f"{longest:.0f} m"
    return Check(
        key="power/cord",
        subject="the cord to the welder",
        question="is enough of the voltage left at its end",
        verdict=verdict,
        source=_NEC_DROP,
        unit="V",
        demand=outlet.drop if outlet.drop is not None else power.volts,
        available=ADVISED_DROP * power.volts,
        ratio=share / ADVISED_DROP,
        change=(
            f"no more than {reach} of {cord.words}, or a thicker cord; bring the welder to the "
            "outlet and lengthen the leads to the work; unroll all of the cord"
            if verdict is not Verdict.OK
            else ""
        ),
        rule=f"lost in {power.cord_length.text} of {cord.words} against 5 % of {power.volts:g} V; "
        "over 10 % the arc does not hold (common practice)",
        working=lines.kept(),
    )


def _cord_unknown(power: Power) -> Check:
    if power.cord is None:
        change = 'say what is printed on the cord: cord = "12 AWG" or "2.5 mm2" in [power]'
    elif power.cord_length is None:
        change = 'say how long the cord is: cord_length = "50 ft" in [power]'
    else:
        change = f'cord = {power.cord!r} is no size that is known: write "12 AWG" or "2.5 mm2"'
    return Check(
        key="power/cord",
        subject="the cord to the welder",
        question="is enough of the voltage left at its end",
        verdict=Verdict.ASK,
        source=_NEC_DROP,
        change=change,
    )


def _grinder(power: Power, outlet: Outlet, watts: float) -> Check:
    """Return whether a grinder may run beside the welder."""
    lines = Lines()
    more = lines.work(electrical.machine_current, power=watts, voltage=power.volts)
    both = outlet.drawn + more
    ratio = ratio_of(both, power.breaker_amps)
    return Check(
        key="power/grinder",
        subject="a grinder beside the welder",
        question="may both run on the same breaker",
        verdict=Verdict.TIGHT if ratio > 1.0 else Verdict.OK,
        source=COMMON_PRACTICE,
        unit="A",
        demand=both,
        available=power.breaker_amps,
        ratio=ratio,
        change="one at a time, or the grinder and the saw on another circuit"
        if ratio > 1.0
        else "",
        rule="the welder's current and the grinder's, added up",
        working=lines.kept(),
    )


def _plate_check(use: WeldUse, thick: float, system: str) -> tuple[Check, ...]:
    """Return the question of cold lap, where plate much thicker than the wall is welded."""
    if thick < THICK_PLATE * use.wall:
        return ()
    lines = Lines()
    asks = lines.work(welding_use.amperes_for_wall, thickness=min(thick, 0.25 * 0.0254))
    return (
        Check(
            key="power/plate",
            subject=f"seams on plate {_size(thick, system)} thick",
            question="does the machine melt into the plate, or lap over it cold",
            verdict=Verdict.ASK,
            source=COMMON_PRACTICE,
            unit="A",
            demand=asks,
            available=use.amps,
            ratio=ratio_of(asks, use.amps),
            change="warm the plate to hand-hot and dry, aim at the plate, and show a trial fillet "
            "on the same two thicknesses, broken and looked at",
            rule="1 A for each 0.001 in, up to 1/4 in, against the current that suits the wall",
            working=lines.kept(),
        ),
    )


def _size(metres: float, system: str) -> str:
    """Return a thickness in thousandths of an inch or tenths of a millimetre."""
    return f"{metres / 0.0254:.3f} in" if system == "feet-inch" else f"{metres * 1e3:.1f} mm"
