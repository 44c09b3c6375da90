"""The heel of a leaf: its axis, its thickness, and the gap that its corner sweeps through.

The heel corner stands a = axis to hinge edge and c = half thickness from the axis, so turning it
reaches √(a² + c²): the gap must be that less a, and the running clearance. Swinging toward the
viewer brings the corner of the face side round, swinging away that of the back.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.model import BarrelHinge, Infill, Job, LeafTable
from leafwright.job.steel import Steel


@dataclass(frozen=True, slots=True)
class Heel:
    """What of a leaf decides its sweep: axis inset and half thicknesses [m]."""

    key: str
    table: LeafTable
    axis: Quantity
    half_face: Quantity
    half_back: Quantity


def infill_thickness(infill: Infill) -> float:
    """Return how far an infill stands off the frame's face [m]; a mesh is two wires thick."""
    if infill.thickness is not None:
        return infill.thickness.si
    return 2.0 * infill.wire.si if infill.wire is not None else 0.0


def _half(key: str, table: LeafTable, depth: float, side: str) -> Quantity:
    """Return the distance from the frame's middle to its outermost face on one side [m]."""
    half = chain.base("table", f"{key}/half depth", "half the frame", depth / 2, note=table.frame)
    laid = [i for i in table.infill if i.on in (side, "both") and infill_thickness(i) > 0]
    if not laid:
        return chain.renamed(half, f"{key}/half {side}", f"half thickness, {side} side")
    thickest = max(laid, key=infill_thickness)
    note = thickest.thickness.text if thickest.thickness else "two wires of the mesh"
    cover = chain.base(
        "wish", f"{key}/infill {side}", thickest.kind, infill_thickness(thickest), note=note
    )
    parts = [(1.0, half), (1.0, cover)]
    return chain.total(f"{key}/half {side}", f"half thickness, {side} side", parts)


def heel_of(job: Job, steel: Steel, table: LeafTable, key: str) -> Heel:
    """Return the heel of one leaf; the axis is in the middle of the stile unless wished [m]."""
    section = steel.section(table.frame)
    mount = table.mount
    if isinstance(mount, BarrelHinge):
        typed = mount.standoff
        standoff = chain.base("wish", f"{key}/standoff", "standoff", typed.si, note=typed.text)
        axis = chain.total(f"{key}/axis", f"axis, {key}", [(-0.5, standoff)])
    elif mount.axis is not None:
        axis = chain.base(
            "wish", f"{key}/axis", f"axis, {key}", mount.axis.si, note=mount.axis.text
        )
    else:
        stile = chain.base("table", f"{key}/stile", "stile width", section.width, note=table.frame)
        axis = chain.total(f"{key}/axis", f"axis, {key}", [(0.5, stile)])
    return Heel(
        key=key,
        table=table,
        axis=axis,
        half_face=_half(key, table, section.height, "face"),
        half_back=_half(key, table, section.height, "back"),
    )


def swept_side(heel: Heel) -> Quantity:
    """Return the half thickness that the heel corner sweeps with, by the leaf's swing [m]."""
    if heel.table.swing == "toward":
        return heel.half_face
    if heel.table.swing == "away":
        return heel.half_back
    halves = [heel.half_face, heel.half_back]
    return chain.largest(f"{heel.key}/swept half", f"swept half thickness, {heel.key}", halves)


def heel_gap_needed(heel: Heel, running: Quantity) -> Quantity:
    """Return the least heel gap [m]: √(a² + c²) − a + running clearance."""
    return chain.worked(
        f"{heel.key}/heel gap needed",
        f"heel gap needed, {heel.key}",
        "√(axis² + half thickness²) − axis + running clearance",
        lambda a, c, r: math.hypot(a, c) - a + r,
        [heel.axis, swept_side(heel), running],
    )


def nose_growth(heel: Heel, width: Quantity) -> Quantity:
    """Return how much farther the nose's corner reaches in turning than standing shut [m]."""
    return chain.worked(
        f"{heel.key}/nose growth",
        f"growth of the nose, {heel.key}",
        "√((width − axis)² + half thickness²) − (width − axis)",
        lambda w, a, c: math.hypot(w - a, c) - (w - a),
        [
            width,
            heel.axis,
            chain.largest(
                f"{heel.key}/nose half",
                f"half thickness, {heel.key}",
                [heel.half_face, heel.half_back],
            ),
        ],
    )


def open_leaf_takes(heel: Heel, heel_gap: Quantity) -> Quantity:
    """Return what a leaf opened to 90° takes from the opening [m].

    Heel gap + axis inset + the half thickness that then faces the opening: opened toward the
    viewer that is the back.
    """
    if heel.table.swing == "toward":
        half = heel.half_back
    elif heel.table.swing == "away":
        half = heel.half_face
    else:
        half = chain.largest(
            f"{heel.key}/open half",
            f"half thickness, {heel.key}",
            [heel.half_face, heel.half_back],
        )
    parts = [(1.0, heel_gap), (1.0, heel.axis), (1.0, half)]
    return chain.total(f"{heel.key}/open takes", f"open leaf takes, {heel.key}", parts)
