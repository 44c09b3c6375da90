"""The heel of a leaf: its axis, its thickness, and the gap that its corner sweeps through.

The heel corner stands a = axis to hinge edge and c = half thickness from the axis, so turning it
reaches √(a² + c²): the gap must be that less a, and the running clearance. Swinging toward the
viewer brings the heel's corner of the face side round and the nose's of the back; swinging away,
the other two.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.model import BarrelHinge, Infill, LeafTable
from leafwright.job.steel import Steel


@dataclass(frozen=True, slots=True)
class Heel:
    """What of a leaf decides its sweep: axis inset and half thicknesses [m]."""

    key: str
    table: LeafTable
    axis: Quantity
    half_face: Quantity
    half_back: Quantity


def leaf_words(key: str) -> str:
    """Return what the maker calls a leaf: the leaf, or the left or right leaf of a pair."""
    return "the leaf" if key == "leaf" else f"the {key} leaf"


def infill_thickness(infill: Infill) -> float:
    """Return how far an infill stands off the frame's face [m]; a mesh is two wires thick."""
    if infill.thickness is not None:
        return infill.thickness.si
    return 2.0 * infill.wire.si if infill.wire is not None else 0.0


def _half(key: str, table: LeafTable, depth: float, side: str) -> Quantity:
    """Return the distance from the frame's middle to its outermost face on one side [m]."""
    frame = chain.base("table", f"{key}/frame depth", "depth of the frame", depth, note=table.frame)
    parts = [(0.5, frame)]
    laid = [i for i in table.infill if i.on in (side, "both") and infill_thickness(i) > 0]
    screwed = [i for i in laid if i.screw_heads is not None]
    if laid:
        thickest = max(laid, key=infill_thickness)
        note = thickest.thickness.text if thickest.thickness else "two wires of the mesh"
        cover = chain.base(
            "wish", f"{key}/infill {side}", thickest.kind, infill_thickness(thickest), note=note
        )
        parts.append((1.0, cover))
    heads = max((i.screw_heads for i in screwed if i.screw_heads), key=lambda t: t.si, default=None)
    if heads is not None:
        # Where the highest heads are not on the thickest cover, this is on the safe side.
        stand = chain.base("wish", f"{key}/heads {side}", "screw heads", heads.si, note=heads.text)
        parts.append((1.0, stand))
    name = f"half thickness of {leaf_words(key)}, {side} side"
    return chain.total(f"{key}/half {side}", name, parts)


def standoff(key: str, mount: BarrelHinge) -> Quantity:
    """Return how far a barrel hinge holds its leaf off the post [m]."""
    typed = mount.standoff
    return chain.base("wish", f"{key}/standoff", "standoff", typed.si, note=typed.text)


def heel_of(steel: Steel, table: LeafTable, key: str) -> Heel:
    """Return the heel of one leaf [m].

    A pivot's axis is in the middle of the stile unless wished; a barrel hinge's is half way
    between post and leaf.
    """
    section = steel.section(table.frame)
    mount = table.mount
    name = f"axis of {leaf_words(key)}"
    if isinstance(mount, BarrelHinge):
        axis = chain.total(f"{key}/axis", name, [(-0.5, standoff(key, mount))])
    elif mount.axis is not None:
        axis = chain.base("wish", f"{key}/axis", name, mount.axis.si, note=mount.axis.text)
    else:
        stile = chain.base("table", f"{key}/stile", "stile width", section.width, note=table.frame)
        axis = chain.total(f"{key}/axis", name, [(0.5, stile)])
    return Heel(
        key=key,
        table=table,
        axis=axis,
        half_face=_half(key, table, section.height, "face"),
        half_back=_half(key, table, section.height, "back"),
    )


def _half_on(heel: Heel, toward: Quantity, away: Quantity, key: str, name: str) -> Quantity:
    """Return the half thickness that counts by the leaf's swing; the larger where it has both."""
    if heel.table.swing == "toward":
        return toward
    if heel.table.swing == "away":
        return away
    return chain.largest(
        f"{heel.key}/{key}", f"{name} of {leaf_words(heel.key)}", [heel.half_face, heel.half_back]
    )


def swept_side(heel: Heel) -> Quantity:
    """Return the half thickness that the heel corner sweeps with, by the leaf's swing [m]."""
    return _half_on(heel, heel.half_face, heel.half_back, "swept half", "swept half thickness")


def heel_sweep(heel: Heel) -> Quantity:
    """Return how much farther the heel's corner reaches in turning than standing shut [m]."""
    return chain.worked(
        f"{heel.key}/heel corner",
        f"sweep of the heel corner of {leaf_words(heel.key)}",
        "√(axis² + half thickness²) − axis",
        lambda a, c: math.hypot(a, c) - a,
        [heel.axis, swept_side(heel)],
    )


def heel_gap_parts(heel: Heel, running: Quantity, play: Quantity) -> list[tuple[float, Quantity]]:
    """Return what a heel gap must hold: the corner's sweep, the pins' play, running clearance."""
    return [(1.0, heel_sweep(heel)), (1.0, play), (1.0, running)]


def heel_gap_needed(heel: Heel, parts: list[tuple[float, Quantity]]) -> Quantity:
    """Return the least heel gap [m], the sum of what it must hold."""
    key, name = f"{heel.key}/heel gap needed", f"heel gap needed by {leaf_words(heel.key)}"
    return chain.total(key, name, parts)


def nose_growth(heel: Heel, width: Quantity) -> Quantity:
    """Return how much farther the nose's corner reaches in turning than standing shut [m]."""
    return chain.worked(
        f"{heel.key}/nose growth",
        f"growth of the nose of {leaf_words(heel.key)}",
        "√((width − axis)² + half thickness²) − (width − axis)",
        lambda w, a, c: math.hypot(w - a, c) - (w - a),
        [
            width,
            heel.axis,
            _half_on(
                heel, heel.half_back, heel.half_face, "nose half", "half thickness at the nose"
            ),
        ],
    )


def open_leaf_takes(heel: Heel, heel_gap: Quantity) -> Quantity:
    """Return what a leaf opened to 90° takes from the opening [m].

    Heel gap + axis inset + the half thickness that then faces the opening: opened toward the
    viewer that is the back.
    """
    half = _half_on(heel, heel.half_back, heel.half_face, "open half", "half thickness, opened,")
    parts = [(1.0, heel_gap), (1.0, heel.axis), (1.0, half)]
    return chain.total(
        f"{heel.key}/open takes", f"what {leaf_words(heel.key)} takes when open", parts
    )
