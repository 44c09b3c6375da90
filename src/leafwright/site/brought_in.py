"""Bringing one leaf in: the way onto its pins, and the way under the head."""

from __future__ import annotations

import math

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, FloorPivot, Job, LeafTable
from leafwright.job.steel import Steel
from leafwright.leaf import Leaf
from leafwright.records import Held, Metres
from leafwright.site.method import (
    BarrelPins,
    Hanging,
    HangMethod,
    Pins,
    hang_between_pins,
    hang_on_barrels,
)
from leafwright.site.poses import Box, Part
from leafwright.site.tilt_in import (
    Building,
    Floor,
    Hang,
    TiltIn,
    TiltInError,
    Wishes,
    lowest_head,
    side_section,
    standing_pivot,
    tilt_in,
)
from leafwright.site.wished import Wished

_WALL_UP = 10.0


def hanging_of(
    job: Job, room: Doorway, place: LeafPlace, table: LeafTable, wished: Wished
) -> Hanging | Held:
    """Return the ways of getting a leaf onto its pins, or what is not known of them."""
    over = room.over(place.key)
    headroom = math.inf if over is None else max(over.value - over.band, 0.0)
    mount = table.mount
    if isinstance(mount, BarrelHinge):
        engaged = tuple(wished.hinge_pin.value for _ in mount.heights)
        return hang_on_barrels(
            BarrelPins(
                min(headroom, _WALL_UP),
                engaged,
                wished.kept.value,
                wished.clear.value,
                wished.margin.value,
            )
        )
    if over is None:
        return Held(
            "a leaf on a floor pivot has nothing over it to hold its top pin",
            ("head = true in [opening], or barrel hinges",),
        )
    if mount.bottom_pin_length is None or mount.top_pin_length is None:
        lacking = [
            f"{name} of the mount"
            for name, value in (
                ("bottom_pin_length", mount.bottom_pin_length),
                ("top_pin_length", mount.top_pin_length),
            )
            if value is None
        ]
        return Held("how far the pins are in the leaf is not known", tuple(lacking))
    spacer = _spacer(job, mount)
    bottom = max(mount.bottom_pin_length.si - spacer, 0.0)
    top = max(mount.top_pin_length.si - over.value, 0.0)
    return hang_between_pins(
        Pins(
            headroom=headroom,
            plate=0.0 if (free := room.top_gap) is None else max(free.value - over.value, 0.0),
            bottom=bottom,
            top=top,
            least=wished.kept.value,
            lift=wished.clear.value,
            margin=wished.margin.value,
            travel=top + headroom,
        )
    )


def _spacer(job: Job, mount: FloorPivot) -> Metres:
    return chosen(mount.spacer, "spacer", "mount/spacer", "spacer", system=job.job.system).value


def _plate_thickness(job: Job, mount: FloorPivot) -> Metres:
    typed = mount.plate.thickness if mount.plate else None
    name = "pivot plate"
    return chosen(typed, name, "mount/pivot plate", name, system=job.job.system).value


def tilt_in_of(
    job: Job,
    room: Doorway,
    place: LeafPlace,
    table: LeafTable,
    leaf: Leaf,
    hanging: Hanging | Held,
    material: Steel,
    wished: Wished,
) -> TiltIn | Held:
    """Return how a leaf goes in under the head, or why that is not looked for."""
    over = room.top_gap
    if over is None:
        return Held("nothing is over the opening: the leaf stands up in the open", ())
    if isinstance(hanging, Held):
        return hanging
    method = hanging.best or max(hanging.methods, key=lambda m: m.spare)
    bottom = place.bottom.value
    extra, boxes, lowest = _pivot_parts(job, table, bottom, method)
    # A top pin that is put in afterwards comes with its plate; any other plate is up there already.
    if not method.key.endswith("put in afterwards"):
        over = room.over(place.key) or over
    underside = _underside(place, over)
    boxes += _wall_over(room, wished.reveal.value, underside.value)
    boxes += _obstacles(job, place)
    floor = Floor(min(bottom + lowest, bottom - _floor_gap(room)))
    depth = _head_depth(room, material, wished.reveal.value)
    sides = {"toward side": "toward", "away side": "away"}
    side = sides.get(job.site.approach or "")
    section = side_section(place, leaf, extra)
    stands = bottom + min(part.low for part in section.parts) - floor.level
    # Where it need not go over a pin it may still come off the floor as it is righted.
    lift = max(stands, 0.0) + max(method.raised, wished.leaning.value)
    try:
        return tilt_in(
            section,
            place.width.value,
            Building(floor, lowest_head(underside, -depth / 2, depth / 2), boxes),
            Hang(bottom, method.raised),
            Wishes(
                margin=wished.margin.value,
                lift=lift,
                leaning_lift=wished.leaning.value,
                reach=wished.reach.value,
            ),
            "toward" if side == "toward" else "away" if side == "away" else None,
        )
    except TiltInError as error:
        return Held(str(error), ("sizes of leaf, pivot and opening that fit together",))


def _floor_gap(room: Doorway) -> Metres:
    """Return the least gap under the standing leaves, as unsure as it is [m]."""
    gap = next(g for g in room.gaps if g.key == "doorway/floor clearance")
    return max(gap.value - gap.band, 0.0)


def _pivot_parts(
    job: Job, table: LeafTable, bottom: Metres, method: HangMethod
) -> tuple[tuple[Part, ...], tuple[Box, ...], Metres]:
    """Return what of the pivot is on the leaf, what stands on the floor, and the lowest of it."""
    mount = table.mount
    if not isinstance(mount, FloorPivot):
        return (), (), 0.0
    spacer, thick = _spacer(job, mount), _plate_thickness(job, mount)
    across = mount.plate.length.si if mount.plate else 0.0
    lowest = -(spacer + thick)
    if across <= 0.0:
        return (), (), lowest
    if method.key.startswith("captive plate"):
        plate = Part("the pivot plate", lowest, -spacer, -across / 2, across / 2)
        return (plate,), (), lowest
    pin = mount.pin_diameter.si if mount.pin_diameter else across / 4
    high = mount.bottom_pin_length.si if mount.bottom_pin_length else 0.0
    return (), standing_pivot(bottom + lowest, across, thick, pin, high), lowest


def _underside(place: LeafPlace, over: Quantity) -> Quantity:
    return chain.total(
        f"{place.key}/passes under",
        "underside that the leaf passes under",
        [(1.0, place.bottom), (1.0, place.height), (1.0, over)],
    )


def _head_depth(room: Doorway, material: Steel, reveal: Metres) -> Metres:
    """Return how deep what is over the leaves is, through the wall [m]."""
    transom = room.transom
    if transom is None or transom.section is None:
        return reveal
    return material.section(transom.section).height


def _wall_over(room: Doorway, reveal: Metres, underside: Metres) -> tuple[Box, ...]:
    """Return the wall over a transom, which is deeper than that."""
    transom = room.transom
    if transom is None or transom.section is None:
        return ()
    least = min(b.value for b in transom.behind)
    foot = max(transom.far_edge.value + min(least, 0.0), underside)
    return (Box("the wall over the transom", -reveal / 2, reveal / 2, foot, foot + _WALL_UP),)


def _obstacles(job: Job, place: LeafPlace) -> tuple[Box, ...]:
    """Return what stands in the leaf's way, of the width that it takes up."""
    ends = (place.hinge_edge.value, place.hinge_edge.value)
    sign = 1.0 if place.hand == "left" else -1.0
    low, high = sorted((ends[0], ends[0] + sign * place.width.value))
    found = []
    for one in job.obstacle:
        (x0, x1), (y0, y1), (z0, z1) = (
            sorted((a.si, b.si)) for a, b in zip(one.from_, one.to, strict=True)
        )
        if x0 < high and x1 > low and y1 > y0 and z1 > z0:
            found.append(Box(one.name, z0, z1, y0, y1))
    return tuple(found)
