"""Barrel hinges: the pin, its barrel, the welds that hold each half, and the stile's wall.

The pin stands half the standoff off the stile, and half off the post: each hinge's force acts on
that lever on both welds and both walls. All hinges of a leaf are alike, so each check is of the
one that has most to carry, in the case that gives it most.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from leafwright import units
from leafwright.frame.forces import every_member_force
from leafwright.frame.load_cases import BARE
from leafwright.leaf import Member
from leafwright.mount.hinge_loads import (
    HungCase,
    OnHinge,
    barrel_hinge,
    half_length,
    hinge_heights,
    hinge_words,
    hung_cases,
    lever,
    on_hinges,
)
from leafwright.mount.hinge_pins import pin_checks
from leafwright.mount.hinge_walls import Patch, TubeUse, WallLoad, wall_check
from leafwright.mount.hinge_welds import weld_checks, weld_length
from leafwright.mount.parts import carry_over, hanging_stile, made_check
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres

ASSUMPTIONS = (
    "a hinge's pin stands half way between leaf and post: half the standoff is the lever on each "
    "weld. Where it stands nearer to one, the other's lever is longer than is counted here",
    "each half is welded up both of its sides, the two welds at least the pin's diameter apart, "
    "with sound fillets of the leg given and 70 ksi filler (E70, ER70S); a round barrel laid on a "
    "flat has less throat than that",
    "a hinge has two halves, and its pin one plane of shear; the pin sits tight in one half and "
    "the other's force is spread evenly over it",
    "whichever hinge touches first carries the weight: each is proved for all of it and for none",
    "a pin tilts by its play over the length of a half before it binds; past that the moment on it "
    "grows in a straight line, the pin bending in its two halves and no barrel or wall giving. "
    "Where the play is not given it is taken both ways: free, and without play",
    "hinges are taken as true to one line: what is out of line binds sooner and wears",
)

CAUTIONS = (
    "A leaf on lift-off hinges comes off when it is lifted: keep it from rising, by a collar on a "
    "pin, a cap welded on, or the upper hinge turned over.",
    "Nobody stands under or beside a leaf while its hinges are welded, shimmed or drawn.",
)


def barrel_hinges(m: Mounting) -> Proved:
    """Return the proof of a leaf's barrel hinges; the post has its own.

    Args:
        m: the leaf as it hangs.
    """
    half, cases = half_length(m), hung_cases(m)
    every = on_hinges(cases)
    stile = hanging_stile(m)
    tubes = [stile.section]
    if m.job.post is not None:
        tubes.append(m.steel.section(m.job.post.section, m.job.post.grade))
    pinned, taken = pin_checks(m, every)
    welded, metal = weld_checks(m, every, tubes)
    used = (carry_over(m), *((half,) if half.kind == "default" else ()))
    return Proved(
        checks=(*pinned, *welded, *_stile_wall(m, stile, every)),
        defaults=(*used, *taken, *metal),
        words=(*_reaction_words(m, cases), _weight_words(m, cases)),
        cautions=CAUTIONS,
        assumptions=ASSUMPTIONS,
    )


def wall_loads(
    m: Mounting, every: Sequence[OnHinge], to_end: Callable[[str], Metres]
) -> tuple[WallLoad, ...]:
    """Return what the hinges put on a wall half the standoff away from their pins.

    What the weight does on its lever and what a bound pin passes on add up on the post's side and
    take from one another on the leaf's: they are added on both, which is safe.

    Args:
        m: the leaf as it hangs.
        every: every hinge's force in every case.
        to_end: from a hinge's weld to the tube's open end, by the hinge's place [m].
    """
    e = lever(m)
    return tuple(
        WallLoad(
            words=on.words(m),
            out=abs(on.force.out),
            along=e * abs(on.force.up) + abs(on.force.m_across) + on.force.carried,
            across=e * abs(on.force.across) + abs(on.force.m_up),
            to_end=to_end(on.force.place),
        )
        for on in every
    )


def wall_asked(m: Mounting, key: str, subject: str, every: Sequence[OnHinge]) -> Check:
    """Return the question that a wall is where the pin's diameter is not known."""
    worst = max(every, key=lambda on: abs(on.force.out))
    return made_check(
        m,
        key,
        subject,
        "does its wall hold the hinges welded to it",
        clause="K1",
        demand=abs(worst.force.out),
        available=None,
        unit="N",
        case=worst.words(m),
        change="",
        rule="",
        lines=Lines(),
        unknown=("give pin_diameter, as measured: a half is counted that wide",),
    )


def stile_use(m: Mounting, stile: Member) -> TubeUse:
    """Return the greatest force and moment anywhere in the hanging stile in a case for strength.

    The moment out of the leaf's plane is turned into one in it of the same stress.
    """
    p = stile.section.properties()
    strong = {
        case.key for case in m.proof.cases if case.for_strength and case.situation not in BARE
    }
    worst, use = -1.0, TubeUse(0.0, 0.0)
    for (_, case), f in every_member_force(m.proof.model, m.proof.result, [stile.key]).items():
        if case not in strong:
            continue
        for N, M_y, M_z in zip(abs(f.N), abs(f.M_y), abs(f.M_z), strict=True):
            moment = float(M_z + M_y * p.section_modulus_v / p.section_modulus_u)
            stress = float(N) / p.area + moment / p.section_modulus_v
            if stress > worst:
                worst, use = stress, TubeUse(float(N), moment)
    return use


def _stile_wall(m: Mounting, stile: Member, every: Sequence[OnHinge]) -> tuple[Check, ...]:
    key, subject = "hinge/stile wall", "hanging stile"
    pin, length = barrel_hinge(m).pin_diameter, weld_length(m)
    if pin is None:
        return (wall_asked(m, key, subject, every),)
    heights, height = hinge_heights(m), m.place.height.value
    open_ends = m.table.corners == "stiles run through"

    def to_end(place: str) -> Metres:
        y = heights[place]
        return min(y, height - y) - length if open_ends else math.inf

    check = wall_check(
        m,
        key,
        subject,
        stile.section,
        Patch(pin.si, length),
        stile_use(m, stile),
        wall_loads(m, every, to_end),
        change=WALL_CHANGE,
    )
    return () if check is None else (check,)


WALL_CHANGE = "a longer weld, a thicker wall, or a plate under each half as wide as the tube's face"


def _reaction_words(m: Mounting, cases: Sequence[HungCase]) -> tuple[str, ...]:
    """Return what each hinge takes in each situation, its pins free."""
    system = m.tape.system
    found = []
    for case in cases:
        if case.share > 0.0 or case.carrier != m.pivots[0]:
            continue
        parts = []
        for force in case.forces:
            way = "pulled away from the post" if force.out > 0.0 else "pushed toward the post"
            part = f"{hinge_words(m, force.place)} {way}, {_force(force.out, system)}"
            if abs(force.across) >= 0.5:
                part += f", and {_force(force.across, system)} across"
            parts.append(part)
        found.append(f"{case.words}: {'; '.join(parts)}.")
    return tuple(f"{words[:1].upper()}{words[1:]}" for words in found)


def _force(newtons: float, system: units.System) -> str:
    return units.show_force(abs(newtons), system) if abs(newtons) >= 0.5 else "nothing"


def _weight_words(m: Mounting, cases: Sequence[HungCase]) -> str:
    most = max(sum(force.up for force in case.forces) for case in cases)
    count = "either hinge" if len(m.pivots) == 2 else "any one hinge"
    return (
        f"The lowest hinge is to carry the weight. As made, {count} may carry all of it, up to "
        f"{units.show_force(most, m.tape.system)}, and each is proved for that: shim or grind so "
        "that the lowest touches first."
    )
