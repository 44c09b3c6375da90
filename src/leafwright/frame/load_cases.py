"""The load cases of a leaf: standing, with a person on it, pushed, stopped, in wind, lying, lifted.

Movements are taken from loads as they are. Strength is taken from the combinations of the proof's
method: ASCE/SEI 7-22 2.4.1 (D, D + L) for ASD and 2.3.1 (1.4 D, 1.2 D + 1.6 L) for LRFD, with
the person, the push and the knock on the open stop as live loads; the wind with the factors that
its own standard gives it.

A pin in a close bore is neither free to tilt nor clamped: the cases stand in both ways, and what
is between them lies between their forces.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from leafwright.frame.model import Case, Flags6, FrameModel, Line3, LineLoad, NodeLoad, Support
from leafwright.frame.of_leaf import GRAVITY, LeafFrame, MemberLoad
from leafwright.records import Kilograms, Newtons, Number

Situation = Literal[
    "standing",
    "person",
    "pushed",
    "open stop",
    "wind on face",
    "wind on back",
    "standing, clamped",
    "person, clamped",
    "pushed, clamped",
    "open stop, clamped",
    "wind on face, clamped",
    "wind on back, clamped",
    "trestles",
    "three points",
    "tipped",
    "lifted",
]

NAMES: dict[Situation, str] = {
    "standing": "standing on its pivots",
    "person": "standing, a person hanging on the nose",
    "pushed": "stopped at its bottom nose, pushed at the handle",
    "open stop": "meeting its open stop",
    "wind on face": "shut, wind on its face",
    "wind on back": "shut, wind on its back",
    "standing, clamped": "standing, its pins clamped in their bores",
    "person, clamped": "a person hanging on the nose, its pins clamped",
    "pushed, clamped": "stopped at its bottom nose, pushed at the handle, its pins clamped",
    "open stop, clamped": "meeting its open stop, its pins clamped",
    "wind on face, clamped": "shut, wind on its face, its pins clamped",
    "wind on back, clamped": "shut, wind on its back, its pins clamped",
    "trestles": "lying on two trestles",
    "three points": "lying on two trestles, one of which bears it at the hinge edge only",
    "tipped": "its foot on the floor, its top edge lifted",
    "lifted": "lifted at two points of its top rail",
}


#: Where the leaf lies on its face, its own weight across it; and where it is not clad yet.
LYING: tuple[Situation, ...] = ("trestles", "three points", "tipped")
BARE: tuple[Situation, ...] = (*LYING, "lifted")

#: How a case's key ends where boards run the other way.
OTHER_WAY = ", boards the other way"

#: How a situation's name ends where the pins are clamped in their bores.
CLAMPED = ", clamped"


def is_wind(situation: str) -> bool:
    """Return whether wind blows on the leaf."""
    return situation.startswith("wind")


def is_stop(situation: str) -> bool:
    """Return whether the leaf meets its open stop."""
    return situation.startswith("open stop")


def is_clamped(situation: str) -> bool:
    """Return whether the pins are clamped in their bores."""
    return situation.endswith(CLAMPED)


#: Where the nose of a shut leaf may be held against wind.
NosePlace = Literal["top", "bottom"]


@dataclass(frozen=True, slots=True)
class WindFactors:
    """What wind is multiplied by [-]: for strength, and for how far the leaf moves."""

    strength: Number
    movement: Number


@dataclass(frozen=True, slots=True)
class LiveLoads:
    """What is put on the leaf beside its own weight.

    ``wind`` is what wind square to the leaf puts on its elements, a magnitude [N/m], as its
    standard gives it before factors; ``nose`` is where the nose of the shut leaf is held.
    ``wind_other`` is the wind where boards that nobody says the way of run the other way.
    ``stopping`` is what the leaf's own mass presses on with as its open stop slows it: none, and
    there is no such case.
    """

    person: Kilograms
    push: Newtons
    wind: tuple[MemberLoad, ...] = ()
    nose: tuple[NosePlace, ...] = ("bottom",)
    stopping: tuple[LineLoad, ...] = ()
    wind_other: tuple[MemberLoad, ...] = ()


@dataclass(frozen=True, slots=True)
class LeafCase:
    """One case of the frame: a situation with its factors, for strength, movement or both.

    ``live`` is the factor of the person, the push, the knock or the wind, whichever the situation
    has. ``other_way`` is wind on boards that run the other way.
    """

    key: str
    situation: Situation
    dead: Number
    live: Number
    for_strength: bool
    for_movement: bool
    other_way: bool = False


def leaf_cases(
    method: Literal["ASD", "LRFD"],
    wind: WindFactors | None = None,
    *,
    clamped: bool = False,
    stop: bool = False,
    both_ways: bool = False,
) -> tuple[LeafCase, ...]:
    """Return the cases that a proof by one method needs.

    Args:
        method: of the proof.
        wind: factors of the wind; None leaves it out.
        clamped: also with the pins clamped in their bores, for strength alone.
        stop: also as it meets its open stop.
        both_ways: wind also with boards that run the other way, for strength alone.
    """
    found: list[LeafCase] = []
    for situation in NAMES:
        windy = is_wind(situation)
        held = is_clamped(situation)
        if (windy and wind is None) or (held and not clamped):
            continue
        if is_stop(situation) and not stop:
            continue
        live = windy or is_stop(situation) or situation.startswith(("person", "pushed"))
        moves = wind.movement if windy and wind is not None else 1.0
        strong = wind.strength if windy and wind is not None else 1.6
        if method == "ASD":
            by = wind.strength if windy and wind is not None else 1.0
            found.append(LeafCase(situation, situation, 1.0, by, True, not held))
            continue
        if not held:
            found.append(LeafCase(situation, situation, 1.0, moves, False, True))
        dead = (1.2, strong) if live else (1.4, 0.0)
        found.append(LeafCase(f"{situation}, factored", situation, *dead, True, False))
    if both_ways:
        found += [
            replace(c, key=f"{c.key}{OTHER_WAY}", for_movement=False, other_way=True)
            for c in found
            if is_wind(c.situation) and c.for_strength
        ]
    return tuple(found)


def _flags(names: str) -> Flags6:
    """Return which directions are held, from a word like ``"xyz ry"``."""
    moves, _, turns = names.partition(" ")
    held = [axis in moves for axis in "xyz"]
    held += [turn in turns.split() for turn in ("rx", "ry", "rz")]
    return (held[0], held[1], held[2], held[3], held[4], held[5])


def _supports(
    frame: LeafFrame, situation: Situation, nose: tuple[NosePlace, ...]
) -> tuple[Support, ...]:
    places = frame.places
    pivots = sorted(p for p in places if p.startswith("pivot "))
    tilts = " rx rz" if is_clamped(situation) else ""
    if situation.startswith(("standing", "person")):
        # Turning about the axis is held at the lowest pivot; no case here loads it that way.
        held = [(pivots[0], f"xyz ry{tilts}"), *((p, f"xz{tilts}") for p in pivots[1:])]
    elif is_wind(situation):
        held = [(pivots[0], f"xyz{tilts}"), *((p, f"xz{tilts}") for p in pivots[1:])]
        held += [(f"{where} nose", "z") for where in nose]
    elif situation.startswith("pushed"):
        held = [(pivots[0], f"xyz{tilts}"), *((p, f"xz{tilts}") for p in pivots[1:])]
        held.append(("bottom nose", "z"))
    elif is_stop(situation):
        held = [(pivots[0], f"xyz{tilts}"), *((p, f"xz{tilts}") for p in pivots[1:])]
        held.append(("open stop", "z"))
    elif situation in ("trestles", "three points"):
        held = [
            ("trestle 1 hinge", "xyz"),
            ("trestle 1 nose", "yz"),
            ("trestle 2 hinge", "z"),
            ("trestle 2 nose", "z"),
        ]
        # A trestle that is low at one end bears nothing there.
        held = held[: 4 if situation == "trestles" else 3]
    elif situation == "tipped":
        held = [
            ("bottom hinge", "xyz"),
            ("bottom nose", "yz"),
            ("top hinge", "z"),
            ("top nose", "z"),
        ]
    else:
        held = [("lift 1", "xyz rx"), ("lift 2", "yz")]
    return tuple(Support(places[place], _flags(names)) for place, names in held)


def _times(factor: Number, force: Line3) -> Line3:
    return (factor * force[0], factor * force[1], factor * force[2])


def _case(frame: LeafFrame, case: LeafCase, live: LiveLoads) -> Case:
    down = (0.0, 0.0, -1.0) if case.situation in LYING else (0.0, -1.0, 0.0)
    # A leaf is lifted and laid on trestles before it is clad.
    clad = case.situation not in BARE
    # All that is on an element is one load.
    on: dict[str, tuple[float, float]] = {}
    for w in (*frame.own, *(frame.infill if clad else ())):
        weight, pressed = on.get(w.element, (0.0, 0.0))
        on[w.element] = (weight + case.dead * w.weight, pressed)
    if is_wind(case.situation):
        # On its face the wind comes from where the viewer stands.
        way = -1.0 if "on face" in case.situation else 1.0
        for w in live.wind_other if case.other_way else live.wind:
            weight, pressed = on.get(w.element, (0.0, 0.0))
            on[w.element] = (weight, pressed + way * case.live * w.weight)
    lines = []
    for element, (weight, pressed) in on.items():
        force = (0.0, weight * down[1], weight * down[2] + pressed)
        lines.append(LineLoad(element, force, force))
    if is_stop(case.situation):
        lines += [
            LineLoad(line.element, _times(case.live, line.start), _times(case.live, line.end))
            for line in live.stopping
        ]
    loads: tuple[NodeLoad, ...] = ()
    handle = frame.places["handle"]
    if case.situation.startswith("person"):
        loads = (NodeLoad(handle, (0.0, -case.live * live.person * GRAVITY, 0.0)),)
    elif case.situation.startswith("pushed"):
        loads = (NodeLoad(handle, (0.0, 0.0, -case.live * live.push)),)
    return Case(
        key=case.key,
        name=NAMES[case.situation],
        supports=_supports(frame, case.situation, live.nose),
        node_loads=loads,
        line_loads=tuple(lines),
    )


def with_cases(frame: LeafFrame, cases: tuple[LeafCase, ...], live: LiveLoads) -> FrameModel:
    """Return the leaf's frame model with these cases on it."""
    return replace(frame.model, cases=tuple(_case(frame, c, live) for c in cases))
