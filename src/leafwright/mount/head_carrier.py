"""What carries the top plate, proved: the transom between its jambs, or the beam's web and flange.

A transom spans between the jambs, held at its ends against turning, and helped by nothing over
it. Sideways H bends it by H a b/L, and by H a where the other leaf of a pair pushes as hard at
its other end. What stands off its middle twists it, or bends it upright where it is along it. Its
own weight bends it upright besides, and wind on its face sideways.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leafwright.frame.of_leaf import GRAVITY
from leafwright.handbook import beams
from leafwright.handbook.aisc360 import LimitState, available, combined, walls
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.handbook.rolled_beams import RolledBeam
from leafwright.mount.carrier import Carrier
from leafwright.mount.head_bolts import SUBJECT
from leafwright.mount.head_loads import TopPlate
from leafwright.mount.parts import PartSteel, force, made_check, moment, size
from leafwright.mount.plate_loads import PlateLoad
from leafwright.mount.records import Mounting
from leafwright.proof.capacity import Capacity, capacity, compressive_strength
from leafwright.proof.wind import LeafWind
from leafwright.proof.working import Lines
from leafwright.records import Check, Held, Metres, NewtonMetres, Newtons, Radians, Source, Verdict

TRANSOM_ASSUMPTIONS = (
    "a transom spans from jamb to jamb, its ends held against turning about its length; a beam "
    "over it is not counted on to hold it",
)

#: What a dead load is multiplied by, the most of ASCE/SEI 7-22, 2.4.1 and 2.3.1 [-].
_DEAD = {"ASD": 1.0, "LRFD": 1.4}


def _from_end(m: Mounting) -> Metres:
    """Return how far the pivot axis is from the hanging line, where the transom ends [m]."""
    return m.place.heel_gap.value + m.place.axis.value


# ---------------------------------------------------------------- transom


def transom_checks(
    m: Mounting, plate: TopPlate, tube: CatalogueSection, span: Metres
) -> tuple[Check, ...]:
    """Return whether a transom holds its leaf's head, how far it gives, and what holds its ends."""
    a = min(max(_from_end(m), 0.0), span / 2.0)
    has = capacity(tube, span, m.method)
    if isinstance(has, Held):
        return (
            Check(
                key=f"{m.key}/head/transom",
                subject="transom",
                question="does the transom hold the leaf's head",
                verdict=Verdict.ASK,
                source=Source("ANSI/AISC 360-22"),
                change=f"{has.why}; needs {', '.join(has.needs)}",
            ),
        )
    return (
        _strong(m, plate, tube, has, a, span),
        _give(m, tube, a, span),
        _ends(m, plate, tube, a, span),
    )


@dataclass(frozen=True, slots=True)
class _ByItself:
    """What a transom's own weight and the wind on it do, factors of the method in it."""

    upright: NewtonMetres
    sideways: NewtonMetres
    shear: Newtons
    sags: Metres


def _by_itself(
    m: Mounting, tube: CatalogueSection, span: Metres, lines: Lines, *, windy: bool
) -> _ByItself:
    """Return what bends a transom that nothing hangs from: w L²/8 of its weight and of the wind."""
    weight = tube.mass_per_metre * GRAVITY
    E, p, wind = tube.grade.elastic_modulus, tube.properties(), m.proof.wind
    down = lines.work(
        beams.simple_beam_uniform_load, load=weight, length=span, stiffness=E * p.inertia_v
    )
    factor = _DEAD[m.method.value]
    sideways, across = 0.0, 0.0
    if windy and isinstance(wind, LeafWind):
        pressure = max((panel.on_solid for panel in wind.panels), default=0.0)
        blows = pressure * wind.factors.strength * tube.width
        pushed = lines.work(
            beams.simple_beam_uniform_load, load=blows, length=span, stiffness=E * p.inertia_u
        )
        sideways, across = pushed.moment, pushed.reactions[0]
    shear = math.hypot(factor * down.reactions[0], across)
    return _ByItself(factor * down.moment, sideways, shear, down.deflection)


def transom_alone(m: Mounting, tube: CatalogueSection, span: Metres) -> Check:
    """Return whether a transom that the leaf does not hang from holds itself, in wind as well."""
    has = capacity(tube, span, m.method)
    subject, question = "transom at the head", "does the transom hold its own weight, and wind"
    lines = Lines()
    own = _by_itself(m, tube, span, lines, windy=True)
    if isinstance(has, Held):
        return made_check(
            m, "head/transom", subject, question, clause="F7 and H1.1", demand=own.upright,
            available=None, unit="N m", case="", change="", rule="", lines=lines,
            unknown=(f"{has.why}; needs {', '.join(has.needs)}",),
        )  # fmt: skip
    use = lines.work(
        combined.interaction_axial_bending,
        P_r_over_P_c=0.0,
        M_rx_over_M_cx=own.upright / has.bending_in,
        M_ry_over_M_cy=own.sideways / has.bending_out,
    )
    return made_check(
        m,
        "head/transom",
        subject,
        question,
        clause="F7 and H1.1",
        demand=max(float(use), own.shear / min(has.shear_in, has.shear_out)),
        available=1.0,
        unit="1",
        case="over the shut leaves",
        change="a larger or thicker transom, or fix it along its length to the beam",
        rule=_own_words(m, own, span),
        lines=lines,
    )


def _own_words(m: Mounting, own: _ByItself, span: Metres) -> str:
    wind = f", wind sideways {moment(m, own.sideways)}" if own.sideways > 0.0 else ""
    return (
        f"its own weight bends it {moment(m, own.upright)}{wind} over {size(m, span)}; it sags "
        f"{size(m, own.sags)} by itself"
    )


def _pair(m: Mounting) -> bool:
    return len(m.room.leaves) == 2


def _strong(
    m: Mounting,
    plate: TopPlate,
    tube: CatalogueSection,
    has: Capacity,
    a: Metres,
    span: Metres,
) -> Check:
    EI = tube.grade.elastic_modulus * tube.properties().inertia_u
    # The push may point either way along it: it is as strong as it is pressed, the whole long.
    pressed, _ = compressive_strength(tube, span, span, m.method)
    axial = min(has.tension, float(np.asarray(pressed)))

    def use(load: PlateLoad, way: Radians, lines: Lines) -> float:
        H, tipping = load.shear, load.moment + load.shear * tube.width / 2.0
        aside, along = abs(math.sin(way)), abs(math.cos(way))
        one = lines.work(
            beams.simple_beam_point_load, load=H * aside, length=span, distance=a, stiffness=EI
        )
        # The other leaf's push at the other end adds H a · a/L here, H alike.
        M_out = one.moment + (H * aside * a * a / span if _pair(m) else 0.0)
        twist = 0.0 if has.torsion is None else tipping * aside / has.torsion
        own = _by_itself(m, tube, span, lines, windy=load.windy)
        return float(
            lines.work(
                combined.interaction_with_torsion,
                P_r_over_P_c=H * along / axial,
                M_rx_over_M_cx=(tipping * along + own.upright) / has.bending_in,
                M_ry_over_M_cy=(M_out + own.sideways) / has.bending_out,
                V_r_over_V_c=(H + own.shear) / min(has.shear_in, has.shear_out),
                T_r_over_T_c=twist,
            )
        )

    ways = (0.0, math.pi / 4.0, math.pi / 2.0)
    load, way = max(
        ((load, way) for load in plate.loads for way in ways),
        key=lambda each: use(each[0], each[1], Lines()),
    )
    lines = Lines()
    demand = use(load, way, lines)
    tipping = load.moment + load.shear * tube.width / 2.0
    own = _by_itself(m, tube, span, Lines(), windy=load.windy)
    return made_check(
        m,
        "head/transom",
        "transom at the head",
        "is the transom strong enough for the leaf's head",
        clause="F7, H3.1 and H3.2",
        demand=demand,
        available=1.0,
        unit="1",
        case=load.case,
        change="a larger or thicker transom, or fix it along its length to the beam",
        rule=(
            f"{force(m, load.shear)} at {size(m, a)} from its end and {moment(m, tipping)} about "
            f"its middle, over {size(m, span)}; "
            f"{_own_words(m, own, span)}; all uses together"
        ),
        lines=lines,
        unknown=plate.pin.unknown,
    )


def _give(m: Mounting, tube: CatalogueSection, a: Metres, span: Metres) -> Check:
    """Return how far the nose drops because the transom bows, the leaf standing open."""
    pushed = [
        math.hypot(r.x, r.z)
        for r in m.proof.reactions
        if r.situation == "standing" and r.place == m.pivots[-1]
    ]
    H = max(pushed, default=0.0)
    EI = tube.grade.elastic_modulus * tube.properties().inertia_u
    lines = Lines()
    one = lines.work(beams.simple_beam_point_load, load=H, length=span, distance=a, stiffness=EI)
    # A second leaf that pulls as hard at the other end gives no more than as much again.
    give = one.deflection * (2.0 if _pair(m) else 1.0)
    drop = give * m.place.width.value / m.place.height.value
    limit = m.proof.wishes.sag_limit.value
    return made_check(
        m,
        "head/give",
        "transom at the head",
        "does the nose stay up though the transom gives",
        clause="bending, ends free to turn",
        demand=drop,
        available=limit,
        unit="m",
        case="standing open at a right angle, under its own weight",
        change="a stiffer transom, or fix it to the beam along its length",
        rule=(
            f"{force(m, H)} bows it {size(m, give)} sideways at most; the nose drops by that "
            "times width over height, beside its own sag"
        ),
        lines=lines,
        document="AISC Manual, Table 3-23, case 8",
    )


def _ends(m: Mounting, plate: TopPlate, tube: CatalogueSection, a: Metres, span: Metres) -> Check:
    """Return the question what holds the transom's ends, with what they must hold."""
    load = plate.pushed
    near = load.shear * ((span - a) / span + (a / span if _pair(m) else 0.0))
    tipping = load.moment + load.shear * tube.width / 2.0
    return made_check(
        m,
        "head/transom ends",
        "transom at the head",
        "does its end at the jamb hold, sideways and against turning",
        clause="J2 or J3",
        demand=near,
        available=None,
        unit="N",
        case=load.case,
        change="",
        rule="all that the leaf's head pushes, at the nearer end",
        lines=Lines(),
        unknown=(
            f"its near end must hold {force(m, near)} sideways and {moment(m, tipping)} of twist: "
            "weld it all round to the jamb post, or have what it is fixed to looked at with these",
        ),
    )


# ---------------------------------------------------------------- beam


def beam_checks(
    m: Mounting, plate: TopPlate, carrier: Carrier, beam: RolledBeam, *, welded: bool
) -> tuple[Check, ...]:
    """Return whether the beam's flange and web hold, and what keeps it from rolling."""
    steel = carrier.steel
    found: list[Check] = []
    if steel is not None:
        found = _pulls_on_beam(m, plate, beam, steel, welded=welded)
    return (*found, _rolling(m, plate, beam, carrier.span))


def _pulls_on_beam(
    m: Mounting, plate: TopPlate, beam: RolledBeam, steel: PartSteel, *, welded: bool
) -> list[Check]:
    """Return flange and web under the couple that tips the plate, near the beam's end.

    The couple is taken as two opposite forces over the shorter side of the plate.
    """
    load = plate.tipped
    pull: Newtons = load.moment / min(plate.length, plate.width, beam.flange_width)
    pull -= min(load.least_press, 0.0)
    rows = []
    if welded:
        lines = Lines()
        R_n = lines.work(
            walls.flange_local_bending, F_yf=steel.yield_stress, t_f=beam.flange,
            distance_to_end=0.0,
        )  # fmt: skip
        rows.append(
            (
                "flange bent",
                "does the beam's flange stand being pulled",
                "J10.1, Eq. J10-1",
                # The plate pulls on one side of the web only, where it tips across the beam.
                0.5 * float(R_n),
                LimitState.FLANGE_LOCAL_BENDING,
                "half of half the clause's strength: pulled on one side, near the beam's end",
                lines,
            )
        )
    lines = Lines()
    R_n = lines.work(
        walls.web_local_yielding,
        F_yw=steel.yield_stress,
        t_w=beam.web,
        k=beam.k,
        l_b=0.0,
        d=beam.depth,
        distance_to_end=0.0,
    )
    rows.append(
        (
            "web",
            "does the beam's web hold what the plate pulls and presses",
            "J10.2, Eq. J10-3",
            float(R_n),
            LimitState.WEB_LOCAL_YIELDING,
            "a line across the beam, near its end",
            lines,
        )
    )
    found = []
    for tail, question, clause, nominal, state, how, into in rows:
        has = into.work(available, nominal=nominal, limit_state=state, method=m.method)
        found.append(
            made_check(
                m,
                f"head/{tail}",
                SUBJECT,
                question,
                clause=clause,
                demand=pull,
                available=float(has),
                unit="N",
                case=load.case,
                change="stiffeners in the beam over the plate, or a larger top plate",
                rule=(
                    f"{moment(m, load.moment)} as two forces over the plate's shorter side; {how}; "
                    f"{beam.name} in {steel.words}"
                ),
                lines=into,
                unknown=(steel.unknown, *plate.pin.unknown),
            )
        )
    return found


def _rolling(m: Mounting, plate: TopPlate, beam: RolledBeam, span: Metres) -> Check:
    """Return the question what keeps the beam from rolling, with what rolls it."""
    load = max(plate.loads, key=lambda each: each.moment + each.shear * beam.depth / 2.0)
    rolled = load.moment + load.shear * beam.depth / 2.0
    lines = Lines()
    bows = ""
    if span > 0.0:
        # One flange alone, as a bar on edge, loaded at mid-span: the most that it can give.
        inertia = beam.flange * beam.flange_width**3 / 12.0
        give = lines.work(
            beams.simple_beam_point_load,
            load=load.shear,
            length=span,
            distance=span / 2.0,
            stiffness=m.steel.catalogue.grades[0].elastic_modulus * inertia,
        ).deflection
        bows = f"; held at its ends only, its flange gives up to {size(m, give)} sideways"
    return made_check(
        m,
        "head/rolling",
        "beam over the head",
        "what keeps the beam from rolling where the top pin pushes its flange",
        clause="appendix 6, and chapter H3.3 for what twists it",
        demand=rolled,
        available=None,
        unit="N m",
        case=load.case,
        change="",
        rule="what tips the plate, and the push at the flange times half of the beam's depth",
        lines=lines,
        unknown=(
            f"it is pushed {force(m, load.shear)} sideways at its flange and rolled with "
            f"{moment(m, rolled)}{bows}: say what holds it there (a brace to the floor or roof, "
            "another beam, stiffeners), or have an engineer look",
        ),
    )
