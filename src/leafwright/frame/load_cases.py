"""The load cases of a leaf: standing, with a person on it, pushed, lying, and lifted.

Movements are taken from loads as they are. Strength is taken from the combinations of the proof's
method: ASCE/SEI 7-22 2.4.1 (D, D + L) for ASD and 2.3.1 (1.4 D, 1.2 D + 1.6 L) for LRFD, with
the person and the push as live loads.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from leafwright.frame.model import Case, Flags6, FrameModel, LineLoad, NodeLoad, Support
from leafwright.frame.of_leaf import GRAVITY, LeafFrame
from leafwright.records import Kilograms, Newtons, Number

Situation = Literal["standing", "person", "pushed", "trestles", "lifted"]

NAMES: dict[Situation, str] = {
    "standing": "standing on its pivots",
    "person": "standing, a person hanging on the nose",
    "pushed": "stopped at its bottom nose, pushed at the handle",
    "trestles": "lying on two trestles",
    "lifted": "lifted at two points of its top rail",
}


@dataclass(frozen=True, slots=True)
class LiveLoads:
    """What is put on the leaf beside its own weight."""

    person: Kilograms
    push: Newtons


@dataclass(frozen=True, slots=True)
class LeafCase:
    """One case of the frame: a situation with its factors, for strength, movement or both."""

    key: str
    situation: Situation
    dead: Number
    live: Number
    for_strength: bool
    for_movement: bool


def leaf_cases(method: Literal["ASD", "LRFD"]) -> tuple[LeafCase, ...]:
    """Return the cases that a proof by one method needs."""
    found: list[LeafCase] = []
    for situation in NAMES:
        live = situation in ("person", "pushed")
        if method == "ASD":
            found.append(LeafCase(situation, situation, 1.0, 1.0, True, True))
            continue
        found.append(LeafCase(situation, situation, 1.0, 1.0, False, True))
        dead = (1.2, 1.6) if live else (1.4, 0.0)
        found.append(LeafCase(f"{situation}, factored", situation, *dead, True, False))
    return tuple(found)


def _flags(names: str) -> Flags6:
    """Return which directions are held, from a word like ``"xyz ry"``."""
    moves, _, turns = names.partition(" ")
    held = [axis in moves for axis in "xyz"]
    held += [turn in turns.split() for turn in ("rx", "ry", "rz")]
    return (held[0], held[1], held[2], held[3], held[4], held[5])


def _supports(frame: LeafFrame, situation: Situation) -> tuple[Support, ...]:
    places = frame.places
    pivots = sorted(p for p in places if p.startswith("pivot "))
    if situation in ("standing", "person"):
        # Turning about the axis is held at the lowest pivot; no case here loads it that way.
        held = [(pivots[0], "xyz ry"), *((p, "xz") for p in pivots[1:])]
    elif situation == "pushed":
        held = [(pivots[0], "xyz"), *((p, "xz") for p in pivots[1:]), ("bottom nose", "z")]
    elif situation == "trestles":
        held = [
            ("trestle 1 hinge", "xyz"),
            ("trestle 1 nose", "yz"),
            ("trestle 2 hinge", "z"),
            ("trestle 2 nose", "z"),
        ]
    else:
        held = [("lift 1", "xyz rx"), ("lift 2", "yz")]
    return tuple(Support(places[place], _flags(names)) for place, names in held)


def _case(frame: LeafFrame, case: LeafCase, live: LiveLoads) -> Case:
    down = (0.0, 0.0, -1.0) if case.situation == "trestles" else (0.0, -1.0, 0.0)
    # A leaf is lifted and laid on trestles before it is clad.
    clad = case.situation not in ("trestles", "lifted")
    weights = (*frame.own, *(frame.infill if clad else ()))
    lines = tuple(
        LineLoad(
            w.element,
            (0.0, case.dead * w.weight * down[1], case.dead * w.weight * down[2]),
            (0.0, case.dead * w.weight * down[1], case.dead * w.weight * down[2]),
        )
        for w in weights
    )
    loads: tuple[NodeLoad, ...] = ()
    handle = frame.places["handle"]
    if case.situation == "person":
        loads = (NodeLoad(handle, (0.0, -case.live * live.person * GRAVITY, 0.0)),)
    elif case.situation == "pushed":
        loads = (NodeLoad(handle, (0.0, 0.0, -case.live * live.push)),)
    return Case(
        key=case.key,
        name=NAMES[case.situation],
        supports=_supports(frame, case.situation),
        node_loads=loads,
        line_loads=lines,
    )


def with_cases(frame: LeafFrame, cases: tuple[LeafCase, ...], live: LiveLoads) -> FrameModel:
    """Return the leaf's frame model with these cases on it."""
    return replace(frame.model, cases=tuple(_case(frame, c, live) for c in cases))
