"""What stops a swinging leaf, and what that stop gives its hinges.

While it stops, the leaf slows by α = F d/I, and its hinges must give what F does not:
F (1 − d/q) all together, none where the stop is at the centre of percussion q = I/(m x̄), two
thirds of an even leaf's width. A stop at the floor also turns the leaf about its own foot, so that
bottom and top hinge then pull against each other. That is a case of the leaf's frame (`stopping`),
so that members, pins and all that holds them are proved for it; here stands what only the stop
itself must be asked.
"""

from __future__ import annotations

import math

from leafwright.chain import Quantity
from leafwright.job.model import BarrelHinge
from leafwright.mount.closing import asked_of, small
from leafwright.mount.held_open import held_open
from leafwright.mount.parts import relied_on
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.stopping import StopLoad, Turning, nose_speed, stop_load, turning_of
from leafwright.proof.wind import LeafWind
from leafwright.records import (
    Check,
    Held,
    Metres,
    Source,
    Verdict,
    graded,
    ratio_of,
)
from leafwright.units import show_force, show_length, show_pressure
from leafwright.units.constants import FOOT, POUND_FORCE

MECHANICS = Source("mechanics of a turning body", "½ I ω² = work of the stop; centre of percussion")


def stops(m: Mounting) -> Proved:
    """Return the proof of a leaf's stop, and of what holds it open.

    Args:
        m: the leaf as it hangs.
    """
    turning = turning_of(m.leaf, m.place.axis.value)
    hold = m.table.hold
    speed = nose_speed(m.table, m.key, m.job.job.system)
    open_ = held_open(m, turning.out, turning.reach)
    checks: list[Check] = []
    words: list[str] = [
        f"A stop is least felt at the hinges {show_length(turning.percussion, m.tape)} from the "
        f"axis ({turning.percussion / turning.reach:.0%} of the way to the nose), and at half the "
        "leaf's height or at both ends of it: at the floor alone it twists the leaf."
    ]
    if hold.stop_out is None or hold.stop_travel is None:
        checks += _ask_stop(m, turning, speed)
    else:
        load = stop_load(
            turning,
            nose_speed=speed.value,
            out=hold.stop_out.si,
            travel=hold.stop_travel.si,
            hinges=hinge_heights(m),
            height=0.0 if hold.stop_height is None else hold.stop_height.si,
        )
        checks += [_within(m, turning), *_jolted(m, turning)]
        words.append(_load_words(m, load, speed))
    return Proved(
        (*checks, *open_.checks),
        (
            *((speed,) if speed.kind == "default" else ()),
            _slam_pressure(m),
            *open_.defaults,
        ),
        (*words, *open_.words),
        (*_slam(m, turning), *open_.cautions),
        (
            "the stop springs, as rubber does, and nobody pushes the leaf on",
            *open_.assumptions,
        ),
    )


def hinge_heights(m: Mounting) -> tuple[Metres, Metres]:
    """Return the lowest and highest place where the leaf is held, over its bottom [m]."""
    mount = m.table.mount
    if isinstance(mount, BarrelHinge):
        heights = sorted(h.si for h in mount.heights)
        return heights[0], heights[-1]
    return 0.0, m.leaf.height


def _ask_stop(m: Mounting, turning: Turning, speed: Quantity) -> tuple[Check, ...]:
    """Return the question what stops the open leaf, with what it must take up."""
    who = asked_of(m)
    if not who:
        return ()
    energy = 0.5 * turning.inertia * (speed.value / turning.reach) ** 2
    lacking = [
        name
        for name, size in (
            ("stop_out", m.table.hold.stop_out),
            ("stop_travel", m.table.hold.stop_travel),
        )
        if size is None
    ]
    return (
        Check(
            key=f"{m.key}/stop/open",
            subject=f"the open stop of {who}",
            question="where does it stand, and how far does it give",
            verdict=Verdict.ASK,
            source=MECHANICS,
            change=f"write {' and '.join(lacking)} in the leaf's hold; it must take up "
            f"{_energy(m, energy)} at a nose speed of {_speed(m, speed.value)}, best "
            f"{show_length(turning.percussion, m.tape)} from the axis",
            basis="unknown",
            rule="½ I ω² of the leaf about its axis",
        ),
    )


def _within(m: Mounting, turning: Turning) -> Check:
    """Return whether the stop stands where the leaf reaches it."""
    stop = m.table.hold.stop_out
    assert stop is not None
    ratio = stop.si / turning.reach
    return Check(
        key=f"{m.key}/stop/place",
        subject=f"the open stop of {m.who}",
        question="does it stand where the leaf reaches it",
        verdict=graded(ratio, tight_from=1.0),
        source=MECHANICS,
        unit="m",
        demand=stop.si,
        available=turning.reach,
        ratio=ratio,
        change=""
        if ratio < 1.0
        else f"set it {show_length(turning.percussion, m.tape)} from the axis",
        rule="stop_out, from the axis, against the nose's own distance",
    )


def _jolted(m: Mounting, turning: Turning) -> tuple[Check, ...]:
    """Return whether the wind that the infill is proved for covers the jolt of the open stop.

    At the nose each square metre of it presses on with its mass × α × its distance.
    """
    knock = m.proof.stopping
    if knock is None or not m.leaf.infill:
        return ()
    wind = m.proof.wind
    found = []
    for piece in m.leaf.infill:
        jolt = piece.mass / piece.area * knock.slows * turning.reach
        proved = 0.0
        if isinstance(wind, LeafWind):
            panel = next(p for p in wind.panels if p.panel == piece.panel)
            proved = panel.on_solid * wind.factors.movement
        found.append((ratio_of(jolt, proved), jolt, proved, piece.kind))
    ratio, jolt, proved, kind = max(found)
    within = ratio <= 1.0
    return (
        Check(
            key=f"{m.key}/stop/infill",
            subject=f"{kind} of {m.who}",
            question="is the jolt of its open stop within the wind that it is proved for",
            verdict=graded(ratio, tight_from=1.0) if within else Verdict.ASK,
            source=MECHANICS,
            unit="Pa",
            demand=jolt,
            available=proved,
            ratio=ratio if math.isfinite(ratio) else None,
            case="meeting its open stop",
            change=""
            if within
            else "a stop that gives farther or stands farther out, or have its fixings proved for "
            f"{show_pressure(jolt, m.tape.system)} either way",
            basis=m.method.value,
            rule="its mass on each square × how fast the leaf slows × the distance of the nose",
        ),
    )


def _load_words(m: Mounting, load: StopLoad, speed: Quantity) -> str:
    system = m.tape.system
    low, high = (show_force(abs(force), system) for force in load.hinges)
    hold = m.table.hold
    assert hold.stop_travel is not None
    typed = hold.stop_height
    where = "on the floor" if typed is None else f"{typed.text} over the leaf's bottom"
    words = (
        f"With its nose at {_speed(m, speed.value)} the leaf brings {_energy(m, load.energy)} to "
        f"its stop. One that gives {small(m, hold.stop_travel.si)} takes it with "
        f"{show_force(load.even, system)} if it gives evenly, up to "
        f"{show_force(load.springing, system)} if it springs; standing {where} it then puts "
        f"{low} on the lowest hinge and {high} on the highest, at half height "
        f"{show_force(abs(load.level), system)} on both together. Fix the stop for its own force."
    )
    proved = m.proof.stopping
    if proved is None:
        return words
    return (
        f"{words} All that is of a stiff leaf: this one twists as it is stopped, takes up a part "
        f"itself, and is proved for {show_force(proved.force, system)} at its stop."
    )


def _slam_pressure(m: Mounting) -> Quantity:
    return relied_on(m, "slam pressure", "breeze that takes an open leaf")


def _slam(m: Mounting, turning: Turning) -> tuple[str, ...]:
    """Return the caution of a leaf that wind gets hold of.

    Statics: p A r/2 over a quarter turn, all of it square on, taken up by a stop that springs.
    """
    pressure = _slam_pressure(m).value
    wind = m.proof.wind
    covered = m.leaf.height * m.leaf.width if isinstance(wind, Held) else wind.area
    work = pressure * covered * turning.reach / 2.0 * math.pi / 2.0
    typed = m.table.hold.stop_travel
    travel = typed.si if typed is not None else (0.025 if m.tape.system == "mm" else 0.0254)
    return (
        f"A breeze of {show_pressure(pressure, m.tape.system)} that takes {m.who} through a "
        f"quarter turn brings {_energy(m, work)} to its stop, "
        f"{show_force(2.0 * work / travel, m.tape.system)} in one that gives {small(m, travel)}. "
        "Hold it open, or hold on to it.",
    )


def _energy(m: Mounting, joules: float) -> str:
    if m.tape.system == "mm":
        return f"{joules:.0f} N·m"
    return f"{joules / float(POUND_FORCE * FOOT):.0f} ft·lb"


def _speed(m: Mounting, speed: float) -> str:
    return f"{speed:.1f} m/s" if m.tape.system == "mm" else f"{speed / float(FOOT):.1f} ft/s"
