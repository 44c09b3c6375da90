"""How the leaf moves and what holds it: sag, racking, reactions, and forces in the braces."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leafwright.chain import Quantity
from leafwright.frame.forces import every_member_force, forces_along
from leafwright.frame.load_cases import BARE, LeafCase, is_clamped, is_stop
from leafwright.frame.model import FrameModel
from leafwright.frame.of_leaf import LeafFrame
from leafwright.frame.solve import FrameResult
from leafwright.leaf import Leaf
from leafwright.proof.records import BraceForce, Movement, PivotLoad, Reaction
from leafwright.records import Check, Source, Verdict, graded

ANALYSIS = Source("frame analysis of the leaf", "rigid joints, centre lines")


def movements(
    frame: LeafFrame, result: FrameResult, cases: Sequence[LeafCase]
) -> tuple[Movement, ...]:
    """Return how the leaf moves in each situation, loads as they are."""
    at = {n.key: np.array(n.at) for n in frame.model.nodes}
    index = {key: i for i, key in enumerate(result.nodes)}
    places = frame.places
    away = 1.0 if frame.leaf.hand == "left" else -1.0
    found = []
    for c, case in enumerate(cases):
        if not case.for_movement:
            continue
        moved = {p: result.displacements[c, index[places[p]], :3] for p in places}

        def stretch(a: str, b: str, moved: dict[str, np.ndarray] = moved) -> float:
            way = at[places[b]] - at[places[a]]
            return float((moved[b] - moved[a]) @ way / np.linalg.norm(way))

        found.append(
            Movement(
                situation=case.situation,
                nose_drop=-float(min(moved["bottom nose"][1], moved["top nose"][1])),
                nose_shift=away * float(moved["top nose"][0] - moved["bottom nose"][0]),
                diagonals=stretch("bottom hinge", "top nose") - stretch("bottom nose", "top hinge"),
                handle=float(abs(moved["handle"][2])),
            )
        )
    return tuple(found)


def reactions(
    frame: LeafFrame, model: FrameModel, result: FrameResult, cases: Sequence[LeafCase]
) -> tuple[Reaction, ...]:
    """Return what each holding place gives in each situation [N], loads as they are."""
    names = {node: place for place, node in frame.places.items()}
    index = {key: i for i, key in enumerate(result.nodes)}
    found = []
    for c, case in enumerate(cases):
        if not case.for_movement:
            continue
        for support in model.cases[c].supports:
            x, y, z = (float(v) for v in result.reactions[c, index[support.node], :3])
            place = next(
                (p for p in frame.places if frame.places[p] == support.node and _holds(p, case)),
                names[support.node],
            )
            found.append(Reaction(case.situation, place, x, y, z))
    return tuple(found)


def pivot_loads(
    frame: LeafFrame, model: FrameModel, result: FrameResult, cases: Sequence[LeafCase]
) -> tuple[PivotLoad, ...]:
    """Return what every pivot, nose stop and open stop gives in each case for strength."""
    places = {
        node: place
        for place, node in frame.places.items()
        if place.startswith("pivot") or place in ("bottom nose", "top nose")
    }
    stop = frame.places.get("open stop", "")
    index = {key: i for i, key in enumerate(result.nodes)}
    found = []
    for c, case in enumerate(cases):
        if not case.for_strength or case.situation in BARE:
            continue
        # A stop may be where the shut nose is held.
        named = {**places, stop: "open stop"} if is_stop(case.situation) else places
        for support in model.cases[c].supports:
            x, y, z, mx, my, mz = (float(v) for v in result.reactions[c, index[support.node]])
            moved = result.displacements[c, index[support.node]]
            found.append(
                PivotLoad(
                    case=case.key,
                    situation=case.situation,
                    place=named[support.node],
                    clamped=is_clamped(case.situation),
                    x=x,
                    y=y,
                    z=z,
                    mx=mx,
                    my=my,
                    mz=mz,
                    turn_x=float(moved[3]),
                    turn_z=float(moved[5]),
                )
            )
    return tuple(found)


def _holds(place: str, case: LeafCase) -> bool:
    """Return whether a place's name is the one to call it by in a situation."""
    starts = {
        "trestles": ("trestle",),
        "three points": ("trestle",),
        "tipped": ("bottom ", "top "),
        "lifted": ("lift",),
    }
    if is_stop(case.situation):
        return place == "open stop" or place.startswith("pivot")
    return place.startswith(starts.get(case.situation, ("pivot",)))


def brace_forces(
    leaf: Leaf, model: FrameModel, result: FrameResult, cases: Sequence[LeafCase]
) -> tuple[BraceForce, ...]:
    """Return the axial force of every brace and rod in each situation, loads as they are [N]."""
    index = {key: i for i, key in enumerate(result.elements)}
    at = {n.key: n.at for n in model.nodes}
    braces = [m for m in leaf.members if m.role in ("brace", "rod")]
    forces = every_member_force(model, result, [m.key for m in braces])
    found = []
    for member in braces:
        elements = [e for e in model.elements if e.member == member.key]
        whole = sum(math.dist(at[e.start], at[e.end]) for e in elements)
        for c, case in enumerate(cases):
            if not case.for_movement:
                continue
            run, middle = 0.0, 0.0
            for e in elements:
                length = math.dist(at[e.start], at[e.end])
                if run <= whole / 2 <= run + length + 1e-9:
                    place = min(whole / 2 - run, length)
                    middle = float(forces_along(model, result, case.key, e.key, [place]).N[0])
                    break
                run += length
            along = forces[member.key, case.key].N
            slack = all(bool(result.slack[c, index[e.key]]) for e in elements)
            found.append(
                BraceForce(
                    member.key,
                    member.mark,
                    case.situation,
                    middle,
                    float(np.min(along)),
                    float(np.max(along)),
                    slack,
                )
            )
    return tuple(found)


def movement_checks(
    leaf: Leaf,
    moves: Sequence[Movement],
    *,
    sag_limit: Quantity,
    racking_limit: Quantity,
    clearance: Quantity,
) -> tuple[Check, ...]:
    """Return the checks of sag and racking against their limits [m]."""
    by = {m.situation: m for m in moves}
    standing, person = by["standing"], by["person"]
    stiffer = "brace the panels, or a deeper rail and stile"
    rows = [
        (
            "nose sag",
            "does the nose sag under the leaf's own weight",
            abs(standing.nose_drop),
            sag_limit,
            "standing on its pivots",
        ),
        (
            "racking",
            "do the diagonals stay equal under the leaf's own weight",
            abs(standing.diagonals),
            racking_limit,
            "standing on its pivots",
        ),
        (
            "person on the nose",
            "does the nose stay off the floor with a person on it",
            abs(person.nose_drop - standing.nose_drop),
            clearance,
            "standing, a person hanging on the nose",
        ),
    ]
    checks = []
    for tail, question, demand, limit, case in rows:
        ratio = demand / limit.value if limit.value > 0 else math.inf
        verdict = graded(ratio)
        checks.append(
            Check(
                key=f"{leaf.key}/{tail}",
                subject=f"{leaf.key} leaf" if leaf.key != "leaf" else "the leaf",
                question=question,
                verdict=verdict,
                source=ANALYSIS,
                unit="m",
                demand=demand,
                available=limit.value,
                ratio=ratio if math.isfinite(ratio) else None,
                case=case,
                change=stiffer if verdict is not Verdict.OK else "",
            )
        )
    return tuple(checks)
