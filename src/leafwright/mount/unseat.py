"""What moves a pivot leaf off its pins, and what comes down on it: beam, heat, hands and grease.

The head moves: up, and the top pin draws out of its sleeve; down, and the gap over the leaf closes
until the building stands on a ball. Cold shortens the leaf, heat lengthens it. Whoever lifts it can
lift it until its top meets what is over it, and the bottom pin draws out by that. A ball in a close
bore is a piston: a grease gun can do the lifting.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.allow import warmer
from leafwright.handbook import thermal
from leafwright.job.defaults import chosen
from leafwright.mount.closing import NOTHING, Closing, asked_of, at_least, small, up_to_mark
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.loops import Stack
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Pascals, Source, Verdict, Working
from leafwright.units import show_force, show_mass
from leafwright.units.constants import PSI, STANDARD_GRAVITY

_BUILDING = Source("the building's own records; a licensed engineer")


@dataclass(frozen=True, slots=True)
class Moves:
    """How far things move at a leaf's head, each a magnitude [m].

    ``rise`` and ``drop`` are the head's, None where nothing tells; ``estimated`` says that they
    are a share of its span, and no one's word. ``growth`` and ``shrink`` are the leaf's own.
    """

    rise: Metres | None
    drop: Metres | None
    estimated: bool
    growth: Metres
    shrink: Metres
    working: tuple[Working, ...]
    defaults: tuple[Quantity, ...]


@dataclass(frozen=True, slots=True)
class Unseated:
    """What is left at the pins in one state: gap over the leaf, and each pin in its sleeve [m].

    A pin that is not known is None; one that is out is negative.
    """

    state: str
    gap: Metres
    bottom_pin: Metres | None
    top_pin: Metres | None


def moves(m: Mounting) -> Moves:
    """Return how far head and leaf move, from the job or by stated defaults."""
    building, system = m.job.building, m.job.job.system
    used: list[Quantity] = []

    def share() -> float | None:
        if building.beam_span is None:
            return None
        part = chosen(None, "beam movement", "stack/beam movement", "beam movement", system=system)
        used.append(part)
        return part.value * building.beam_span.si

    rise = building.beam_rise.si if building.beam_rise is not None else share()
    drop = building.beam_drop.si if building.beam_drop is not None else share()
    heat, cold = warmer(m.job), _colder(m, used)
    used += [q for q in chain.walked(heat) if q.kind == "default"]
    lines = Lines()
    grown, shrunk = (
        float(
            lines.work(
                thermal.thermal_growth,
                length=m.place.height.value,
                alpha=thermal.STEEL,
                difference=difference,
            )
        )
        for difference in (heat.value, cold)
    )
    return Moves(
        rise=rise,
        drop=drop,
        estimated=building.beam_rise is None or building.beam_drop is None,
        growth=grown,
        shrink=shrunk,
        working=lines.kept(),
        defaults=tuple({q.key: q for q in used}.values()),
    )


def _colder(m: Mounting, used: list[Quantity]) -> float:
    """Return how much colder a leaf may become than when the opening was read [K], not below 0."""
    system, least = m.job.job.system, m.job.building.least_temperature
    if least is None:
        name = "cold under survey"
        used.append(chosen(None, name, f"stack/{name}", name, system=system))
        return used[-1].value
    name = "survey temperature"
    start = chosen(m.job.opening.survey_temperature, name, f"doorway/{name}", name, system=system)
    used += [start] if start.kind == "default" else []
    return max(start.value - least.si, 0.0)


def unseated(stack: Stack, moved: Moves) -> tuple[Unseated, ...]:
    """Return what is left of gap and pins as the head moves and the leaf is lifted.

    Statics and geometry: the leaf goes up until its top meets what is over it. What the head may
    do that nothing tells of is left out.
    """
    if stack.gap is None:
        return ()
    gap = stack.gap.value
    in_bottom, in_top = _bottom(stack), stack.top_pin
    rise, drop = moved.rise or 0.0, moved.drop or 0.0

    def state(name: str, up: float, lift: float) -> Unseated:
        """Return what is left with the head that much up and the leaf lifted or grown."""
        return Unseated(
            name,
            gap + up - lift,
            None if in_bottom is None else in_bottom.value - max(lift, 0.0),
            None if in_top is None else in_top.value - up + lift,
        )

    found = [
        state("as hung", 0.0, 0.0),
        state("lifted until it meets what is over it", 0.0, gap),
    ]
    if moved.rise is not None:
        found += [
            state("head up, leaf at its coldest", rise + moved.shrink, 0.0),
            state("head up, and lifted until it meets it", rise, gap + rise),
        ]
    if moved.drop is not None:
        found.append(state("head down, leaf at its hottest", -drop - moved.growth, 0.0))
    return tuple(found)


def _bottom(stack: Stack) -> Closing | None:
    """Return how far the bottom pin is in: its sleeve, or a sleeve flush with the leaf's bottom."""
    return stack.bottom_pin or stack.ball_in


def unseat(m: Mounting, stack: Stack, kept: Quantity) -> Proved:
    """Return whether the pins stay in and the head stays off, and how grease lifts the leaf.

    Args:
        stack: its loops.
        kept: least that a pin stays in [m].
    """
    moved = moves(m)
    checks: list[Check] = []
    if stack.gap is not None:
        checks += _head_checks(m, stack, stack.gap, moved, kept)
        known = m.job.building.beam_rise is not None and m.job.building.beam_drop is not None
        who = asked_of(m)
        if who and not known:
            checks.append(_ask_beam(m, who, stack, stack.gap, moved, kept))
    assumptions = [
        "beam and floor move as the job says; what the building does as it warms is not set "
        "against what the leaf does"
    ]
    if stack.bottom_pin is None and stack.ball_in is not None:
        assumptions.append("the sleeve's length is not given: it is taken flush with the leaf")
    return Proved(
        tuple(checks),
        (*moved.defaults, *([_gun(m)] if _greased(m) else [])),
        _words(m, stack, moved),
        _grease(m),
        tuple(assumptions),
    )


def _head_checks(
    m: Mounting, stack: Stack, gap: Closing, moved: Moves, kept: Quantity
) -> list[Check]:
    """Return the checks of gap and pins as the head moves.

    Where the job does not say how far it moves, only what fails with the head still is told: the
    rest is asked, and is not ok.
    """
    mount, building = floor_pivot(m), m.job.building
    rise = building.beam_rise.si if building.beam_rise is not None else 0.0
    drop = building.beam_drop.si if building.beam_drop is not None else 0.0
    over = at_least(
        m,
        "head down",
        f"the gap over {m.who}",
        "does what is over the leaf stay off it with the head down and the leaf hot",
        gap,
        drop + moved.growth,
        change="make the top gap larger, or the top plate thinner",
        rule=f"head down {small(m, drop)} + growth by heat {small(m, moved.growth)}, against the "
        "room over the leaf less its top plate",
        working=moved.working,
    )
    # A top plate that is not known still comes off this gap: only what fails without it is told.
    told = mount.top_plate is not None and building.beam_drop is not None
    found = [over] if told or over.verdict is Verdict.SHORT else []
    if mount.top_plate is not None and over.verdict is Verdict.SHORT:
        found = [_plate_in_the_way(m, over, gap, mount.top_plate.thickness.si)]
    pins = []
    if stack.top_pin is not None:
        pins.append(
            at_least(
                m,
                "head up",
                f"the top pin of {m.who}",
                "does it stay in its sleeve with the head up and the leaf cold",
                stack.top_pin,
                kept.value + rise + moved.shrink,
                change="make the top pin longer",
                rule=f"least kept in {small(m, kept.value)} + head up {small(m, rise)} + "
                f"shrinking by cold {small(m, moved.shrink)}, against the pin less the gap",
                working=moved.working,
            )
        )
    bottom = _bottom(stack)
    if bottom is not None:
        lift = gap.likely[1] + rise
        pins.append(
            at_least(
                m,
                "lifted",
                f"the bottom pin of {m.who}",
                "does it stay in when the leaf is lifted until its top meets what is over it",
                bottom,
                kept.value + lift,
                change="make the bottom pin and its sleeve longer, or put a stop over the leaf "
                "once it hangs",
                rule=f"least kept in {small(m, kept.value)} + lift {small(m, lift)} (the gap at "
                f"its largest, head up {small(m, rise)}), against the pin in its sleeve",
            )
        )
    known = building.beam_rise is not None
    return [*found, *(one for one in pins if known or one.verdict is Verdict.SHORT)]


def _plate_in_the_way(m: Mounting, over: Check, gap: Closing, plate: Metres) -> Check:
    """Return a gap that is too small as a question, where only its top plate makes it so.

    The job does not say whether the plate lies under what is over the leaf, or is let into it.
    """
    assert over.demand is not None
    if gap.value + plate < over.demand:
        return over
    off = gap.value - gap.likely[0]
    wanted = over.demand + off + plate
    return replace(
        over,
        verdict=Verdict.ASK,
        change=f"the top plate takes {small(m, plate)} of the {small(m, gap.value + plate)} over "
        f"the leaf: make top_gap {up_to_mark(m, wanted)} or more, or let the plate into what is "
        "over it and say so in an [[answer]]",
    )


def _ask_beam(
    m: Mounting, who: str, stack: Stack, gap: Closing, moved: Moves, kept: Quantity
) -> Check:
    """Return the question how far the head moves, with what the stack bears of it."""
    down = gap.likely[0] - moved.growth
    ups = []
    if stack.top_pin is not None:
        ups.append(stack.top_pin.likely[0] - kept.value - moved.shrink)
    bottom = _bottom(stack)
    if bottom is not None:
        ups.append(bottom.likely[0] - kept.value - gap.likely[1])
    bears = f"{small(m, max(down, 0.0))} down"
    if ups:
        bears += f" and {small(m, max(min(ups), 0.0))} up"
    plate = "" if floor_pivot(m).top_plate else ", less a top plate's thickness"
    words = f"write beam_rise and beam_drop in [building]; the stack bears {bears}{plate}"
    building = m.job.building
    lacking = [
        share
        for typed, share in (
            (building.beam_drop, moved.drop),
            (building.beam_rise, moved.rise),
        )
        if typed is None and share is not None
    ]
    share = lacking[0] if lacking else None
    if share is not None:
        bears_it = share <= down and all(share <= up for up in ups)
        would = "would bear that" if bears_it else "would not bear that: ask before steel is cut"
        words += (
            f". A floor beam of this span may be let move {small(m, share)} (1/360 of it): the "
            f"stack {would}"
        )
    return Check(
        key=f"{m.key}/stack/head moves",
        subject=f"what is over {who}",
        question="how far does it move up and down",
        verdict=Verdict.ASK,
        source=_BUILDING,
        unit="m",
        demand=share,
        available=max(min(down, *ups), 0.0) if share is not None else None,
        change=words,
        basis="unknown",
        rule="gap less growth by heat; pins less what they must keep in",
        working=moved.working,
    )


def grease_pressure(weight: float, bore: float) -> float:
    """Return the pressure under which grease between ball and slug lifts a leaf [Pa].

    Statics: W / (π d²/4), nothing leaking past.

    Args:
        weight: W, all that hangs on the pivot [N].
        bore: d of the sleeve [m].
    """
    return weight / (math.pi * bore**2 / 4.0)


def _gun(m: Mounting) -> Quantity:
    return chosen(None, "grease gun", "stack/grease gun", "grease gun", system=m.job.job.system)


def _greased(m: Mounting) -> bool:
    mount = floor_pivot(m)
    return mount.sleeve_bore is not None and mount.grease_fitting is not None


def _grease(m: Mounting) -> tuple[str, ...]:
    mount = floor_pivot(m)
    if mount.sleeve_bore is None or not _greased(m):
        return ()
    bore = mount.sleeve_bore.si
    weight: Newtons = m.leaf.hung_mass * float(STANDARD_GRAVITY)
    least: Pascals = grease_pressure(weight, bore)
    gun = _gun(m)
    lifts = gun.value * math.pi * bore**2 / 4.0
    system = m.tape.system
    return (
        f"Ball and bore of {m.who} are a piston. {_gun_pressure(m, least)} of grease lifts its "
        f"{show_mass(m.leaf.hung_mass, system)}; a hand gun gives {_gun_pressure(m, gun.value)}, "
        f"which pushes with {show_force(lifts, system)}. Cut a vent past the ball or slug, grease "
        "by a stroke at a time with somebody watching the gap at the top, and nobody's hand in it.",
    )


def _gun_pressure(m: Mounting, pressure: float) -> str:
    """Return a grease gun's pressure: psi, or bar."""
    if m.tape.system == "mm":
        return f"{pressure / 1e5:,.3g} bar".replace(",", " ")
    return f"{float(Fraction(round(pressure)) / PSI):,.0f} psi"


def _words(m: Mounting, stack: Stack, moved: Moves) -> tuple[str, ...]:
    said = []
    for state in unseated(stack, moved):
        pins = [
            f"{name} pin {small(m, left)} deep" if left > 0.0 else f"{name} pin OUT"
            for name, left in (("bottom", state.bottom_pin), ("top", state.top_pin))
            if left is not None
        ]
        gap = f"gap {small(m, state.gap)}" if state.gap > NOTHING else "no gap"
        if state.gap < -NOTHING:
            gap = f"gap closed, {small(m, -state.gap)} too little"
        name = f"{state.state[0].upper()}{state.state[1:]}"
        said.append(f"{name}: {', '.join([gap, *pins])}.")
    if moved.estimated and (moved.rise is not None or moved.drop is not None):
        said.append("How far the head moves is an estimate here, 1/360 of its span.")
    return tuple(said)
