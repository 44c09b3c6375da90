"""What stops a swinging leaf, and what that stop gives its hinges.

A leaf of inertia I about its axis that turns with ω brings ½ I ω² to its stop. A stop at d from
the axis that gives by s takes that up with a mean force ½ I ω²/s; one that springs, as rubber
does, with twice that at its end. While it stops, the leaf slows by α = F d/I, and its hinges must
give what F does not: F (1 − d/q) all together, none where the stop is at the centre of percussion
q = I/(m x̄), two thirds of an even leaf's width. A stop at the floor also turns the leaf about its
own foot, so that bottom and top hinge then pull against each other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge
from leafwright.leaf import Leaf
from leafwright.mount.closing import asked_of, small
from leafwright.mount.held_open import held_open
from leafwright.mount.records import Mounting, Proved
from leafwright.records import (
    Check,
    Held,
    Kilograms,
    Metres,
    NewtonMetres,
    Newtons,
    Point2,
    Source,
    Verdict,
    graded,
    ratio_of,
)
from leafwright.units import show_force, show_length, show_pressure
from leafwright.units.constants import FOOT, POUND_FORCE, PSF

MECHANICS = Source("mechanics of a turning body", "½ I ω² = work of the stop; centre of percussion")

#: A live load's factor by LRFD (ASCE/SEI 7-22 2.3.1), which a knock on a stop is taken as [-].
LIVE = {"ASD": 1.0, "LRFD": 1.6}


@dataclass(frozen=True, slots=True)
class Turning:
    """What of a leaf turns about its axis.

    ``mass`` [kg] has its centre ``out`` from the axis [m]; ``inertia`` is about the axis [kg m2],
    ``product`` Σ m x y about the axis and the leaf's bottom [kg m2]. ``percussion`` is where a
    knock is not felt at the axis, from there [m]; ``reach`` is the nose [m].
    """

    mass: Kilograms
    out: Metres
    inertia: float
    product: float
    percussion: Metres
    reach: Metres


@dataclass(frozen=True, slots=True)
class StopLoad:
    """What a stop takes up and gives, without factors.

    ``energy`` of the leaf [N m]; ``even`` is the stop's force where it gives evenly, ``springing``
    at the end of one that springs [N]. ``hinges`` are the forces across the leaf that the lowest
    and the highest hinge must give at that end, with the stop at the floor [N]; ``level`` is both
    together, which is all that is left where the stop is as high as the leaf's middle [N].
    """

    energy: NewtonMetres
    even: Newtons
    springing: Newtons
    hinges: tuple[Newtons, Newtons]
    level: Newtons


def turning_of(leaf: Leaf, axis: float) -> Turning:
    """Return what of a leaf turns about its axis, from its members and infill.

    Each member as the area of its elevation, each infill as a plate that stands off by nothing:
    the square of its distance from the leaf's middle plane is left out (under 1 % of a door's).

    Args:
        leaf: members, infill and size; pivot parts turn about themselves and are left out.
        axis: from the hinge edge to the axis, positive into the leaf [m].
    """
    at = axis if leaf.hand == "left" else leaf.width - axis
    way = 1.0 if leaf.hand == "left" else -1.0
    mass = moment = inertia = product = 0.0
    for member in leaf.members:
        x, y = member.bar.centroid
        mass += member.mass
        moment += member.mass * way * (x - at)
        inertia += member.mass * mean_square(member.bar.outline, at)
        product += member.mass * way * (x - at) * y
    for piece in leaf.infill:
        corners = (
            (piece.left, piece.bottom),
            (piece.right, piece.bottom),
            (piece.right, piece.top),
            (piece.left, piece.top),
        )
        x, y = (piece.left + piece.right) / 2.0, (piece.bottom + piece.top) / 2.0
        mass += piece.mass
        moment += piece.mass * way * (x - at)
        inertia += piece.mass * mean_square(corners, at)
        product += piece.mass * way * (x - at) * y
    return Turning(
        mass=mass,
        out=moment / mass,
        inertia=inertia,
        product=product,
        percussion=inertia / moment,
        reach=leaf.width - axis,
    )


def mean_square(outline: Sequence[Point2], at: float) -> float:
    """Return the mean of (x − at)² over a polygon's area [m2].

    Green's theorem, edge by edge: Σ c (x₁² + x₁x₂ + x₂²)/12 over Σ c/2, c = x₁y₂ − x₂y₁.

    Args:
        outline: corners in order, either way round [m].
        at: where x is measured from [m].
    """
    area = second = 0.0
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        a, b = x1 - at, x2 - at
        cross = a * y2 - b * y1
        area += cross / 2.0
        second += cross * (a * a + a * b + b * b) / 12.0
    return second / area


def stop_load(
    turning: Turning,
    *,
    nose_speed: float,
    out: float,
    travel: float,
    hinges: tuple[float, float],
) -> StopLoad:
    """Return what a stop takes up and what the hinges then give, all in statics with inertia.

    ½ I ω² = F s (even) or F s/2 (springing). F d = I α; across the leaf F + R₁ + R₂ = m x̄ α;
    about its foot R₁ y₁ + R₂ y₂ = α Σ m x y, the stop being at the floor.

    Args:
        turning: what turns.
        nose_speed: of the nose as it meets the stop [m/s].
        out: d, from the axis to the stop [m].
        travel: s, by how much the stop gives [m].
        hinges: heights of the lowest and highest hinge over the leaf's bottom [m].
    """
    energy = 0.5 * turning.inertia * (nose_speed / turning.reach) ** 2
    force = 2.0 * energy / travel
    slows = force * out / turning.inertia
    level = turning.mass * turning.out * slows - force
    low, high = hinges
    top = (slows * turning.product - low * level) / (high - low)
    return StopLoad(energy, force / 2.0, force, (level - top, top), level)


def stops(m: Mounting) -> Proved:
    """Return the proof of a leaf's stop, and of what holds it open.

    Args:
        m: the leaf as it hangs.
    """
    turning = turning_of(m.leaf, m.place.axis.value)
    hold, system = m.table.hold, m.job.job.system
    key = "stop/nose speed" if hold.nose_speed is None else f"{m.key}/nose speed"
    speed = chosen(hold.nose_speed, "nose speed", key, "nose speed", system=system)
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
        )
        checks += [_within(m, turning), *_hinge_check(m, load, turning)]
        words.append(_load_words(m, load, speed))
    return Proved(
        (*checks, *open_.checks),
        (*((speed,) if speed.kind == "default" else ()), *open_.defaults),
        (*words, *open_.words),
        (*_slam(m, turning), *open_.cautions),
        (
            "the stop stands on the floor and springs, as rubber does; the leaf stays stiff and "
            "nobody pushes it on",
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


def _hinge_check(m: Mounting, load: StopLoad, turning: Turning) -> tuple[Check, ...]:
    """Return whether the pin forces that everything else is proved for cover what the stop gives.

    Where they do not, the pins are not too weak by that: they were not proved for it, and somebody
    must say that they hold.
    """
    factor = LIVE[m.method.value]
    ends = (m.pivots[0], m.pivots[-1]) if m.pivots else ()
    found = []
    for end, place, force in zip(("lowest", "highest"), ends, load.hinges, strict=False):
        # Across the leaf, as the stop pushes, with the pins free: bound ones are scaled elsewhere.
        across = [abs(p.z) for p in m.loads_at(place) if not p.clamped]
        proved = max(across, default=0.0)
        demand = factor * abs(force)
        found.append((ratio_of(demand, proved), end, demand, proved, abs(force)))
    if not found:
        return ()
    ratio, end, demand, proved, force = max(found)
    verdict = Verdict.ASK if ratio > 1.0 else graded(ratio)
    hold = m.table.hold
    assert hold.stop_travel is not None and hold.stop_out is not None
    change = ""
    if verdict is not Verdict.OK:
        spare = proved / factor
        # The force goes down as the travel goes up.
        longer = hold.stop_travel.si * force / spare if spare > 0.0 else math.inf
        ways = "set it at half the leaf's height, or one at either end of it"
        if longer < turning.reach / 4.0:
            ways = f"let it give {show_length(longer, m.tape)}, or {ways}"
        change = (
            f"its pin, welds and fixings are proved for {show_force(proved, m.tape.system)}: "
            f"{ways}; or have them proved for {show_force(demand, m.tape.system)}"
        )
    what = "hinge" if isinstance(m.table.mount, BarrelHinge) else "pivot"
    return (
        Check(
            key=f"{m.key}/stop/{what}s",
            subject=f"the {end} {what} of {m.who}",
            question="is what the open stop gives it within what it is proved for",
            verdict=verdict,
            source=MECHANICS,
            unit="N",
            demand=demand,
            available=proved,
            ratio=ratio if math.isfinite(ratio) else None,
            case="meeting its open stop",
            change=change,
            basis=m.method.value,
            rule=f"stop of {show_force(load.springing, m.tape.system)} at {hold.stop_out.text} "
            "from the axis, on the floor, across the leaf"
            f"{', live load × 1.6' if factor != 1.0 else ''}; against the most that any case of "
            "the proof puts there in that direction",
        ),
    )


def _load_words(m: Mounting, load: StopLoad, speed: Quantity) -> str:
    system = m.tape.system
    low, high = (show_force(abs(force), system) for force in load.hinges)
    hold = m.table.hold
    assert hold.stop_travel is not None
    return (
        f"With its nose at {_speed(m, speed.value)} the leaf brings {_energy(m, load.energy)} to "
        f"its stop. One that gives {small(m, hold.stop_travel.si)} takes it with "
        f"{show_force(load.even, system)} if it gives evenly, up to "
        f"{show_force(load.springing, system)} if it springs; standing on the floor it then puts "
        f"{low} on the lowest hinge and {high} on the highest, at half height "
        f"{show_force(abs(load.level), system)} on both together. Fix the stop for its own force."
    )


def _slam(m: Mounting, turning: Turning) -> tuple[str, ...]:
    """Return the caution of a leaf that wind gets hold of.

    Statics: p A r/2 over a quarter turn, all of it square on, taken up by a stop that springs.
    """
    metric = m.tape.system == "mm"
    pressure = 50.0 if metric else float(PSF)
    wind = m.proof.wind
    covered = m.leaf.height * m.leaf.width if isinstance(wind, Held) else wind.area
    work = pressure * covered * turning.reach / 2.0 * math.pi / 2.0
    typed = m.table.hold.stop_travel
    travel = typed.si if typed is not None else (0.025 if metric else 0.0254)
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
