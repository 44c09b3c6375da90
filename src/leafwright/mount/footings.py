"""The footing of a gate's post: what it must hold, and how deep a rule of the code would set it.

Numbers to take to an engineer, not a design: a drilled round footing in free ground, by the
nonconstrained pole formula of IBC 1807.3.2.1, loads as they are.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leafwright import units
from leafwright.chain import Quantity
from leafwright.handbook import piers
from leafwright.mount.hinge_loads import everyday_cases
from leafwright.mount.parts import force, made_check, moment, relied_on
from leafwright.mount.post_forces import PostForces, Standing, post_forces
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonMetres, Newtons, Pascals

_FOOT = 0.3048
_DOCUMENT = "International Building Code"
_CLAUSE = "1807.3.2.1 (nonconstrained), Eq. 18-1, with 1806.2"

CAUTIONS = (
    "A footing is worth what is known of the ground: have a licensed engineer answer for it. Dig "
    "below the local frost depth, and have buried pipes and cables marked before you do.",
    "Do not hang the leaf, or lean it on the post, before the concrete has the strength that its "
    "supplier gives a day for; hold the post braced until then.",
)

ASSUMPTIONS = (
    "the footing is a round one drilled into natural ground, with nothing holding it sideways at "
    "the surface; the depth is counted from the surface, and what frost, water or a trench beside "
    "it takes is not in it",
    "the ground's pressure is neither doubled for a post that may move half an inch at the ground "
    "(IBC 1806.3.4) nor raised for wind",
)


@dataclass(frozen=True, slots=True)
class Footing:
    """The checks of a footing, with what is said of it."""

    checks: tuple[Check, ...]
    defaults: tuple[Quantity, ...]
    words: tuple[str, ...]
    assumptions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ground:
    """What the ground may bear sideways: so much pressure [Pa] for each so much depth [m]."""

    pressure: Pascals
    at: Metres
    words: str

    def needs(self, P: Newtons, M_g: NewtonMetres, b: Metres) -> Metres:
        """Return the depth at which the pole formula asks for no more than there is [m]."""
        return piers.embedment_in(P, M_g, self.pressure, self.at, b)

    def at_third(self, depth: Metres) -> Pascals:
        """Return what a footing of this depth is worked out with [Pa]."""
        return piers.lateral_bearing(self.pressure, self.at, depth)


#: What IBC Table 1806.2 has for natural ground, softest first.
_PRESUMED = tuple(
    Ground(pressure, piers.PRESUMPTIVE_AT, name) for name, pressure in piers.PRESUMPTIVE
)


@dataclass(frozen=True, slots=True)
class _OnGround:
    """What the post puts on its footing in one case, loads as they are."""

    words: str
    P: Newtons
    M_g: NewtonMetres
    down: Newtons


def footing(m: Mounting, on: Standing) -> Footing:
    """Return what a post's footing must hold and how deep it would stand.

    Args:
        m: the leaf as it hangs.
        on: the post.
    """
    found = _on_ground(post_forces(m, on, everyday_cases(m), [0.0]))
    rest = max((g for g in found if "at rest" in g.words), key=lambda g: g.M_g)
    worst = max(found, key=_hardest(on))
    words = [
        f"At rest the footing holds {moment(m, rest.M_g)} of overturning and {force(m, rest.down)} "
        f"down; at worst {moment(m, worst.M_g)} with {_push(m, worst.P)} sideways ({worst.words})."
    ]
    b, depth = on.post.footing_diameter, on.post.footing_depth
    used: tuple[Quantity, ...] = ()
    if b is not None and depth is not None:
        concrete = relied_on(m, "concrete weight", "weight of a footing's concrete")
        words.append(_by_weight(m, worst, (b.si, depth.si), concrete.value))
        used = (concrete,)
    return Footing((_depth(m, on, found, worst),), used, tuple(words), ASSUMPTIONS)


def _hardest(on: Standing) -> Callable[[_OnGround], Metres]:
    """Return what ranks the cases: the depth that each asks for, in sand where it is not said."""
    soil, b, depth = on.post.soil_pressure, on.post.footing_diameter, on.post.footing_depth
    ground = _PRESUMED[1] if soil is None else ground_of(soil.text, soil.si)
    S_1 = ground.at_third(1.0 if depth is None else depth.si)
    wide = 0.5 if b is None else b.si
    return lambda g: piers.embedment(g.P, g.M_g, S_1, wide)


def _on_ground(f: PostForces) -> tuple[_OnGround, ...]:
    P, M = np.hypot(f.shear_in, f.shear_out), np.hypot(f.moment_in, f.moment_out)
    return tuple(
        _OnGround(f.words(row), float(P[row]), float(M[row]), float(f.axial[row]))
        for row in range(len(f.cases))
    )


def ground_of(text: str, pascals: float) -> Ground:
    """Return what the ground bears sideways, from what was typed.

    A pressure typed in pounds is for each foot of depth, as IBC Table 1806.2 has it; any other is
    for each metre.

    Args:
        text: as it was typed.
        pascals: its value [Pa].
    """
    if re.search(r"ps[fi]|ks[fi]|lb|kip", text.lower()):
        return Ground(pascals, _FOOT, f"{text} for each foot of depth")
    return Ground(pascals, 1.0, f"{text} for each metre of depth")


def _depth(m: Mounting, on: Standing, found: tuple[_OnGround, ...], worst: _OnGround) -> Check:
    """Return whether the footing is as deep as the pole formula would have it, or what it asks."""
    b, depth, soil = (
        on.post.footing_diameter,
        on.post.footing_depth,
        on.post.soil_pressure,
    )
    lines = Lines()
    unknown: list[str] = []
    demand: float | None = None
    rule = (
        f"a round footing in free ground under {_push(m, worst.P)} sideways and "
        f"{moment(m, worst.M_g)}, loads as they are"
    )
    told = ""
    if b is None:
        unknown.append("give footing_diameter in [post]")
    elif soil is None:
        unknown.append(
            f"say what the ground bears, soil_pressure in [post]: {_guesses(m, found, b.si)}"
        )
    else:
        ground = ground_of(soil.text, soil.si)
        rule += f"; the ground bears {ground.words}, at a third of the footing's"
        needed = _deepest(found, ground, b.si)
        told = f"about {_length(m, needed)} deep at this diameter, by this rule; ask an engineer"
        if depth is not None:
            S_1 = lines.work(
                piers.lateral_bearing, pressure=ground.pressure, at=ground.at, depth=depth.si
            )
            demand = lines.work(piers.embedment, P=worst.P, M_g=worst.M_g, S_1=S_1, b=b.si)
            lines.work(
                piers.embedment_in,
                P=worst.P,
                M_g=worst.M_g,
                pressure=ground.pressure,
                at=ground.at,
                b=b.si,
            )
        else:
            demand = needed
    if depth is None:
        unknown.append(f"give footing_depth in [post]{': ' + told if told else ''}")
    return made_check(
        m,
        "post/footing",
        "footing",
        "is it as deep as the code's pole formula has it",
        clause=_CLAUSE,
        document=_DOCUMENT,
        demand=demand,
        available=None if depth is None else depth.si,
        unit="m",
        case=worst.words,
        change=told,
        rule=rule,
        lines=lines,
        unknown=unknown,
    )


def _deepest(found: tuple[_OnGround, ...], ground: Ground, b: Metres) -> Metres:
    """Return the depth that holds every case [m]."""
    S_1 = ground.at_third(1.0)
    likely = sorted(found, key=lambda g: piers.embedment(g.P, g.M_g, S_1, b))[-3:]
    return max(ground.needs(g.P, g.M_g, b) for g in likely)


def _guesses(m: Mounting, found: tuple[_OnGround, ...], b: Metres) -> str:
    """Return how deep the footing would stand in each of the code's soils."""
    parts = []
    for ground in _PRESUMED:
        if m.tape.system == "mm":
            bears = f"{ground.pressure / ground.at / 1000.0:.0f} kPa a metre"
        else:
            bears = f"{units.show_pressure(ground.pressure, m.tape.system)} a foot"
        deep = _length(m, _deepest(found, ground, b))
        parts.append(f"{deep} deep in {ground.words} ({bears})")
    return f"{', '.join(parts)} by IBC Table 1806.2, if that is what it is; an engineer answers"


def _push(m: Mounting, newtons: Newtons) -> str:
    return force(m, newtons) if newtons >= 0.5 else "nothing"


def _length(m: Mounting, metres: Metres) -> str:
    return units.show_length(metres, m.tape)


def _by_weight(m: Mounting, worst: _OnGround, size: tuple[Metres, Metres], density: float) -> str:
    b, depth = size
    weight = piers.cylinder_weight(b, depth, density)
    holds = piers.weight_moment(weight + worst.down, b)
    share = holds / worst.M_g if worst.M_g > 0.0 else 1.0
    told = "all of that" if share >= 1.0 else f"{share:.0%} of that; the ground holds the rest"
    return (
        f"By its weight alone, {force(m, weight)} of concrete, the footing would hold "
        f"{moment(m, holds)} before it tips on hard ground: {told}."
    )
