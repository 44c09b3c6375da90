"""A gate's post: bent, pressed and turned by its leaf, its wall, and how far it leans at rest.

Each post carries the one leaf that hangs on it. It stands fixed in the ground; what the ground
itself gives is not in its lean. The footing is `footings`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from leafwright.chain import Quantity
from leafwright.handbook import beams, piers
from leafwright.handbook.aisc360 import combined
from leafwright.handbook.aisc360.second_order import elastic_critical_load, moment_amplifier
from leafwright.handbook.catalogue import CatalogueError, CatalogueSection
from leafwright.job.defaults import chosen
from leafwright.mount.footings import CAUTIONS, footing
from leafwright.mount.hinge_loads import (
    OnHinge,
    barrel_hinge,
    half_length,
    hinge_words,
    hung_cases,
    on_hinges,
)
from leafwright.mount.hinge_walls import Patch, TubeUse, wall_check
from leafwright.mount.hinge_welds import weld_length
from leafwright.mount.hinges import WALL_CHANGE, wall_asked, wall_loads
from leafwright.mount.parts import force, made_check, moment, size
from leafwright.mount.post_forces import PostForces, Standing, post_forces, standing
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.capacity import Capacity, capacity, compressive_strength
from leafwright.proof.working import Lines
from leafwright.records import Check, Held, Metres, NewtonMetres, Newtons, Source, Verdict

#: Effective length of a post free at its head, over its height [-]: AISC 360-22, commentary Table
#: C-A-7.1, recommended value (from memory).
CANTILEVER_K = 2.1

ASSUMPTIONS = (
    "a post stands fixed at the ground, and nothing holds its top",
    "each post carries the one leaf that hangs on it, shut or open at any angle to 90°; what holds "
    "the nose of a shut leaf against wind is taken not to be its post",
    "wind blows on the post as on the leaf's solid parts; no snow, no vehicle, nobody climbing",
    "the lean is of the post's own steel: what the footing and the ground give comes on top",
)

_STRONGER = "a larger tube or a thicker wall"


def post(m: Mounting) -> Proved:
    """Return the proof of the post that a leaf on barrel hinges hangs from, and of its footing.

    Without a ``[post]`` it is asked what holds the hinges, with what they put on it.

    Args:
        m: the leaf as it hangs.
    """
    if m.job.post is None:
        return Proved(checks=(_held_by_what(m),))
    try:
        section = m.steel.section(m.job.post.section, m.job.post.grade)
    except CatalogueError as error:
        return Proved(checks=(_unknown_section(m, str(error)),))
    on, cases = standing(m, m.job.post, section), hung_cases(m)
    levels = sorted({0.0, *on.heights.values()})
    strong = post_forces(m, on, cases, levels)
    leaning, limit, words = _lean(m, on)
    ground = footing(m, on)
    return Proved(
        checks=(
            _reach(m, on),
            *_strength(m, on, strong),
            *_wall(m, on, on_hinges(cases), strong),
            leaning,
            *ground.checks,
        ),
        defaults=((limit,) if limit.kind == "default" else ()) + ground.defaults,
        words=(words, *ground.words),
        cautions=CAUTIONS,
        assumptions=(*ASSUMPTIONS, *ground.assumptions),
    )


def _held_by_what(m: Mounting) -> Check:
    """Return the question what the hinges are fixed to, with the most that they put on it."""
    every = on_hinges(hung_cases(m))
    worst = max(every, key=lambda on: abs(on.force.out))
    heaviest = max(every, key=lambda on: abs(on.force.up))
    takes = (
        f"{hinge_words(m, worst.force.place)} pulls or pushes with "
        f"{force(m, abs(worst.force.out))} ({worst.case.words}), and any one carries up to "
        f"{force(m, abs(heaviest.force.up))}"
    )
    jamb = m.job.doorway.jamb
    if jamb is not None and jamb.section is not None:
        subject, question = f"jamb post ({jamb.section})", "does it hold the hinges as it is fixed"
        asks = (
            "it bends between its fixings, and where they are is not known here: take this to an "
            "engineer, or give a [post] where it stands in the ground"
        )
    else:
        subject, question = "hinges", "what are they fixed to, and does it hold them"
        asks = "say what it hangs from, in [post]; for a wall, take this to an engineer"
    return made_check(
        m,
        "post",
        subject,
        question,
        clause="a licensed engineer",
        document="the building's own records",
        demand=abs(worst.force.out),
        available=None,
        unit="N",
        case=worst.words(m),
        change="",
        rule="the most that a hinge puts on what holds it, in any case",
        lines=Lines(),
        unknown=(f"{takes}: {asks}",),
    )


def _unknown_section(m: Mounting, why: str) -> Check:
    return Check(
        key=f"{m.key}/post",
        subject=f"post of {m.who}",
        question="is it strong enough",
        verdict=Verdict.ASK,
        source=Source("the job file", "section and grade in [post]"),
        change=why,
        basis="unknown",
    )


def _reach(m: Mounting, on: Standing) -> Check:
    """Return whether the post is tall enough for its hinges."""
    highest = max(on.heights.values()) + half_length(m).value
    return made_check(
        m,
        "post/height",
        "post",
        "does it stand higher than its highest hinge",
        clause="hinges over the ground",
        document="geometry of the leaf",
        demand=highest,
        available=on.height,
        unit="m",
        case="",
        change=f"a post {size(m, highest)} high or more",
        rule=f"the highest hinge and one of its halves, over {on.ground}",
        lines=Lines(),
        # Level with its top is high enough.
        tight_from=2.0,
    )


# ---------------------------------------------------------------- strength


@dataclass(frozen=True, slots=True)
class _Uses:
    """What of a post's strengths is used, a row a case [-]."""

    together: np.ndarray
    sideways: np.ndarray


def _strength(m: Mounting, on: Standing, f: PostForces) -> tuple[Check, ...]:
    """Return whether the post holds, bent, pressed and turned."""
    has = capacity(on.section, on.height, m.method)
    if isinstance(has, Held):
        return (_unknown_section(m, f"{has.why}; it needs {', '.join(has.needs)}"),)
    lines = Lines()
    uses = _uses(m, on, f, has)
    row = int(np.argmax(uses.together))
    _worked_again(m, on, f, has, row, lines)
    side = int(np.argmax(uses.sideways))
    clause = "H1.1, Eqs. H1-1a and H1-1b" + ("; H3.2, Eq. H3-6" if has.torsion else "")
    unknown: tuple[str, ...] = ()
    if not on.section.yield_guaranteed:
        name = on.section.grade.name
        unknown = (f"{name} promises no yield stress: get the post's mill certificate",)
    if has.torsion is None:
        unknown += (
            f"{moment(m, float(np.max(np.abs(f.torsion))))} of twist on solid steel, and the local "
            "bending of its face, have no clause here: have an engineer answer for them",
        )
    checks = [
        made_check(
            m,
            "post/strength",
            "post",
            "is it strong enough",
            clause=clause,
            demand=float(uses.together[row]),
            available=1.0,
            unit="1",
            case=f"{f.words(row)}, {_where(m, on, float(f.heights[row]))}",
            change=_STRONGER,
            rule=f"{moment(m, float(f.moment_in[row]))} in the plane of the shut leaf, "
            f"{moment(m, float(f.moment_out[row]))} across it, "
            f"{force(m, float(f.axial[row]))} down and {moment(m, float(f.torsion[row]))} of "
            f"twist, on {on.section.designation}",
            lines=lines,
            unknown=unknown,
        ),
        made_check(
            m,
            "post/shear",
            "post",
            "does it hold against being sheared and twisted",
            clause=f"{has.clauses['shear']}; {has.clauses.get('torsion', 'no clause for twist')}",
            demand=float(uses.sideways[side]),
            available=1.0,
            unit="1",
            case=f"{f.words(side)}, {_where(m, on, float(f.heights[side]))}",
            change=_STRONGER,
            rule="shear over its strength and twist over its own, added",
            lines=Lines(),
            unknown=unknown,
        ),
    ]
    return tuple(checks)


def _grown(amplifier: ArrayLike, moment: ArrayLike) -> NDArray[np.float64]:
    """Return a moment with its growth; where there is none, even growth without bound adds none."""
    with np.errstate(invalid="ignore"):
        grown = np.multiply(amplifier, moment, dtype=np.float64)
        return np.where(np.asarray(moment) == 0.0, 0.0, grown)


def _uses(m: Mounting, on: Standing, f: PostForces, has: Capacity) -> _Uses:
    length = CANTILEVER_K * on.height
    p, E = on.section.properties(), on.section.grade.elastic_modulus
    pressed, _ = compressive_strength(on.section, length, length, m.method)
    P = f.axial / np.asarray(pressed)
    grown_in = moment_amplifier(f.axial, elastic_critical_load(p.inertia_v, length, E=E), m.method)
    grown_out = moment_amplifier(f.axial, elastic_critical_load(p.inertia_u, length, E=E), m.method)
    M_in, M_out = f.moment_in / has.bending_in, f.moment_out / has.bending_out
    shear = np.maximum(f.shear_in / has.shear_in, f.shear_out / has.shear_out)
    bent_in, bent_out = _grown(grown_in, M_in), _grown(grown_out, M_out)
    if has.torsion is None:
        return _Uses(np.asarray(combined.interaction_axial_bending(P, bent_in, bent_out)), shear)
    twist = f.torsion / has.torsion
    # Twist is neglected up to a fifth of its strength, so that the ratio could fall as it grows.
    without = combined.interaction_axial_bending(P, bent_in, bent_out)
    together = combined.interaction_with_torsion(P, bent_in, bent_out, shear, twist)
    return _Uses(np.maximum(np.asarray(without), np.asarray(together)), shear + twist)


def _worked_again(
    m: Mounting, on: Standing, f: PostForces, has: Capacity, row: int, lines: Lines
) -> None:
    """Keep the formulas of the case that governs, with its own numbers."""
    length = CANTILEVER_K * on.height
    p, E = on.section.properties(), on.section.grade.elastic_modulus
    pressed, _ = compressive_strength(on.section, length, length, m.method)
    P = float(f.axial[row])
    M = []
    for inertia, bent, strength in (
        (p.inertia_v, f.moment_in, has.bending_in),
        (p.inertia_u, f.moment_out, has.bending_out),
    ):
        P_e1 = lines.work(elastic_critical_load, I=inertia, L_c=length, E=E)
        grown = lines.work(moment_amplifier, P_r=P, P_e1=P_e1, method=m.method)
        M.append(float(grown) * float(bent[row]) / strength)
    P_share = P / float(np.asarray(pressed))
    if has.torsion is None:
        lines.work(
            combined.interaction_axial_bending,
            P_r_over_P_c=P_share,
            M_rx_over_M_cx=M[0],
            M_ry_over_M_cy=M[1],
        )
        return
    lines.work(
        combined.interaction_with_torsion,
        P_r_over_P_c=P_share,
        M_rx_over_M_cx=M[0],
        M_ry_over_M_cy=M[1],
        V_r_over_V_c=max(
            float(f.shear_in[row]) / has.shear_in, float(f.shear_out[row]) / has.shear_out
        ),
        T_r_over_T_c=float(f.torsion[row]) / has.torsion,
    )


def _where(m: Mounting, on: Standing, y: Metres) -> str:
    place = next((p for p, h in on.heights.items() if h == y and y > 0.0), None)
    return "at the ground" if place is None else f"at {hinge_words(m, place)}"


# ---------------------------------------------------------------- its wall


def _wall(m: Mounting, on: Standing, every: Sequence[OnHinge], f: PostForces) -> tuple[Check, ...]:
    """Return whether the post's wall holds the hinges welded to it."""
    pin = barrel_hinge(m).pin_diameter
    if pin is None:
        return (wall_asked(m, "post/wall", "post", every),)
    length = weld_length(m)

    def to_end(place: str) -> Metres:
        return on.height - on.heights[place] - length

    check = wall_check(
        m,
        "post/wall",
        "post",
        on.section,
        Patch(pin.si, length),
        _beside_hinges(on, f),
        wall_loads(m, every, to_end),
        change=WALL_CHANGE,
    )
    return () if check is None else (check,)


def _beside_hinges(on: Standing, f: PostForces) -> TubeUse:
    """Return the greatest force and moment in the post at its lowest hinge or above."""
    p = on.section.properties()
    bent = f.moment_in + f.moment_out * p.section_modulus_v / p.section_modulus_u
    rows = f.heights >= on.lowest * (1.0 - 1e-12)
    stress = np.where(rows, f.axial / p.area + bent / p.section_modulus_v, -1.0)
    worst = int(np.argmax(stress))
    return TubeUse(float(f.axial[worst]), float(bent[worst]))


# ---------------------------------------------------------------- its lean


def _lean(m: Mounting, on: Standing) -> tuple[Check, Quantity, str]:
    """Return how far the post leans at rest, its limit, and what that costs at the nose."""
    limit = chosen(
        m.job.limits.post_lean,
        "post lean limit",
        "mount/post lean limit",
        "post lean limit",
        system=m.job.job.system,
    )
    # The weight on the highest hinge bends the post over its greatest length.
    pushes = _at_rest(m, on, m.pivots[-1])
    lines = Lines()
    top = leaning(on.section, pushes, on.height, lines)
    places = sorted(on.heights.values())
    low, high = (leaning(on.section, pushes, y, Lines()) for y in (places[0], places[-1]))
    tilt = (high - low) / (places[-1] - places[0])
    drop = tilt * (m.place.width.value - m.place.axis.value)
    shift = tilt * m.place.height.value
    check = made_check(
        m,
        "post/lean",
        "post",
        "does it stay upright under the leaf at rest",
        clause="cantilever under each hinge's push and what the weight does on its lever",
        document="statics",
        demand=abs(top),
        available=limit.value,
        unit="m",
        case="hanging at rest, leaf shut",
        change="a stiffer post, a smaller standoff, or a lighter or narrower leaf",
        rule=f"the lean of its top; it lets the nose down by {size(m, abs(drop))} and leans its "
        f"top by {size(m, abs(shift))}",
        lines=lines,
    )
    words = (
        f"At rest the post leans {size(m, abs(top))} toward the leaf at its top: that lets the "
        f"nose down by {size(m, abs(drop))} and leans the top of the nose {size(m, abs(shift))} "
        "away from the post, besides the leaf's own sag, and no gap here holds it. Set the post "
        "that much back, or shim the hinges once the leaf hangs."
    )
    return check, limit, words


def _at_rest(
    m: Mounting, on: Standing, carrier: str
) -> tuple[tuple[Metres, Newtons, NewtonMetres], ...]:
    """Return each hinge's height, pull toward the leaf and moment that way, loads as they are."""
    there = {r.place: r for r in m.proof.reactions if r.situation == "standing"}
    away = -1.0 if m.place.hand == "left" else 1.0
    weight = sum(there[place].y for place in m.pivots)
    return tuple(
        (
            on.heights[place],
            away * there[place].x,
            on.out * weight if place == carrier else 0.0,
        )
        for place in m.pivots
    )


def leaning(
    section: CatalogueSection,
    pushes: Sequence[tuple[Metres, Newtons, NewtonMetres]],
    y: Metres,
    lines: Lines,
) -> Metres:
    """Return how far a post fixed at the ground leans at a height [m], in the leaf's plane.

    Args:
        section: of the post.
        pushes: each with its height over the ground [m], force [N] and moment [N m], one way.
        y: the height [m].
        lines: keeps the formulas.
    """
    stiffness = section.grade.elastic_modulus * section.properties().inertia_v
    lean = 0.0
    for at, push, turn in pushes:
        reach = min(at, y)
        if reach <= 0.0:
            continue
        end = turn + push * max(at - y, 0.0)
        by_push = lines.work(
            beams.cantilever_tip_load, load=push, length=reach, stiffness=stiffness
        )
        by_turn = lines.work(
            piers.cantilever_end_moment, moment=end, length=reach, stiffness=stiffness
        )
        slope = by_push.slope + by_turn.slope
        lean += by_push.deflection + by_turn.deflection + slope * max(y - at, 0.0)
    return lean
