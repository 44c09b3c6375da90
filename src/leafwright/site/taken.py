"""Readings of leaves in the job file, as the site stage's own readings in SI."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.chain import Quantity
from leafwright.job import marks
from leafwright.job.defaults import DEFAULTS, chosen
from leafwright.job.model import Job
from leafwright.job.on_site import (
    FitUp,
    FitUpDistance,
    FitUpHeight,
    FitUpString,
    HungDiagonals,
    HungDrift,
    HungGap,
    HungPlate,
    HungPlumb,
)
from leafwright.job.readings import Hand, Taken
from leafwright.records import Metres, Radians
from leafwright.site.moves import PlateLevel
from leafwright.site.packers import FloorPoint
from leafwright.site.pad import PadReading
from leafwright.site.pose import GapKind, GapReading, HungLeaf
from leafwright.site.swinging import AxisLean, axis_lean

_EDGES = {
    "hinge": "hinge edge",
    "closing": "closing edge",
    "bottom": "bottom edge",
    "top": "top edge",
}

_PLUMB: dict[str, GapKind] = {
    "in the wall": "plumb along wall",
    "through the wall": "plumb through wall",
}


@dataclass(frozen=True, slots=True)
class Planned:
    """What a gap should be, the least that it may be, and how unsure the first is [m]."""

    value: Metres
    least: Metres | None
    sd: Metres


@dataclass(frozen=True, slots=True)
class LetGo:
    """A leaf let go at an opening, and where it came to rest; None where it stayed [rad]."""

    opening: Radians
    rests: Radians | None


def standard_deviation(job: Job, reading: Taken, usual: str) -> Metres:
    """Return how sure a reading is: as typed, or the default of its instrument [m]."""
    if reading.sd is not None:
        return reading.sd.si
    return _default(job, _rule(reading, usual)).value


def defaults(job: Job) -> tuple[Quantity, ...]:
    """Return the default deviations that the readings of leaves were given [m]."""
    usual = {"distance": "tape", "string": "rule", "height": "level"}
    rules: list[tuple[Taken, str]] = [(r, usual[r.kind]) for r in job.fit_up]
    tools = {"gap": "rule", "diagonals": "tape"}
    rules += [(r, tools.get(r.kind, "plumb line")) for r in job.hung]
    names = dict.fromkeys(
        _rule(reading, tool)
        for reading, tool in rules
        if reading.sd is None
        and not isinstance(reading, HungDrift | HungPlate)
        and not reading.set_aside
    )
    return tuple(_default(job, name) for name in names)


def _rule(reading: Taken, usual: str) -> str:
    rule = f"{reading.by or usual} sd"
    return rule if rule in DEFAULTS else f"{usual} sd"


def _default(job: Job, name: str) -> Quantity:
    return chosen(None, name, f"default/{name}", name, system=job.job.system)


def _of_leaf(job: Job, leaf: Hand | None, hand: Hand) -> bool:
    return leaf == hand if leaf is not None else job.leaf[0].hand == hand


def fit_up_of(job: Job, hand: Hand, stage: str) -> tuple[FitUp, ...]:
    """Return the fit-up readings of a leaf at a stage, without those set aside."""
    return tuple(
        r
        for r in job.fit_up
        if _of_leaf(job, r.leaf, hand) and r.stage == stage and not r.set_aside
    )


def pad_readings(job: Job, taken: Sequence[FitUp]) -> tuple[PadReading, ...]:
    """Return a leaf's fit-up readings for the pad; heights of the floor are not among them."""
    found = []
    for reading in taken:
        if isinstance(reading, FitUpDistance):
            start, at = _pad_place(reading.from_)
            end, at_to = _pad_place(reading.to)
            sd = standard_deviation(job, reading, "tape")
            found.append(PadReading("distance", start, end, at, reading.is_.si, sd, at_to=at_to))
        elif isinstance(reading, FitUpString):
            edge, at = _pad_place(reading.at)
            sign = 1.0 if reading.toward == "outward" else -1.0
            sd = standard_deviation(job, reading, "rule")
            value = sign * reading.is_.si
            found.append(PadReading("string", edge, at=at, value=value, sd=sd))
        elif reading.at is not None and reading.at in marks.LEAF_CORNERS:
            sd = standard_deviation(job, reading, "level")
            found.append(PadReading("level", reading.at, value=reading.is_.si, sd=sd))
    return tuple(found)


def _pad_place(name: str) -> tuple[str, Metres | None]:
    place = marks.leaf_mark(name)
    if place is None or len(place.edges) == 2:
        return name, None
    return _EDGES[place.edges[0]], None if place.along is None else place.along.si


def floor_points(job: Job, taken: Sequence[FitUp]) -> tuple[FloorPoint, ...]:
    """Return where the pad's floor was levelled, with its heights [m]."""
    return tuple(
        FloorPoint(
            f"{r.x.text} out, {r.y.text} up",
            r.x.si,
            r.y.si,
            r.is_.si,
            standard_deviation(job, r, "level"),
        )
        for r in taken
        if isinstance(r, FitUpHeight) and r.x is not None and r.y is not None
    )


def _opening(swing: str, said: str | None, angle: float) -> float:
    """Return an opening, toward the viewer positive [rad]."""
    way = said or ("away" if swing == "away" else "toward")
    return -angle if way == "away" else angle


def gap_readings(
    job: Job,
    leaf: HungLeaf,
    swing: str,
    planned: Callable[[HungGap, float], Planned],
) -> tuple[GapReading, ...]:
    """Return what was read of a hung leaf: gaps, and how far its axis is off plumb.

    Args:
        job: its ``[[hung]]``.
        leaf: the leaf and its mount.
        swing: which way it opens.
        planned: what a gap at an opening should be.
    """
    found = []
    for reading in job.hung:
        if not _of_leaf(job, reading.leaf, leaf.hand) or reading.set_aside:
            continue
        if isinstance(reading, HungGap):
            angle = reading.angle.si if reading.angle is not None else 0.0
            opening = _opening(swing, reading.swing, angle)
            should = planned(reading, opening)
            found.append(
                GapReading(
                    kind=reading.where,
                    along=reading.at.si,
                    opening=opening,
                    value=reading.is_.si,
                    planned=should.value,
                    least=should.least,
                    sd=standard_deviation(job, reading, "rule"),
                    planned_sd=should.sd,
                )
            )
        elif isinstance(reading, HungPlumb):
            times = leaf.pin_spacing / reading.over.si
            value = _off_plumb(reading) * times
            sd = standard_deviation(job, reading, "plumb line") * times
            kind = _PLUMB[reading.direction]
            found.append(GapReading(kind, 0.0, 0.0, value, 0.0, None, sd))
        elif isinstance(reading, HungDiagonals):
            value = reading.is_.si if reading.longer == "hinge bottom" else -reading.is_.si
            # Two lengths are read, each as surely as its tape.
            sd = math.sqrt(2.0) * standard_deviation(job, reading, "tape")
            found.append(GapReading("diagonals", 0.0, 0.0, value, 0.0, None, sd))
    return tuple(found)


def _off_plumb(reading: HungPlumb) -> float:
    return reading.is_.si if reading.toward in ("right", "viewer") else -reading.is_.si


def read_lean(job: Job, hand: Hand, pin_spacing: float) -> AxisLean | None:
    """Return the lean of an axis as read last in each direction; None where none was read.

    A direction that was not read is plumb for all that is known: `unread_plumbs` names it.
    """
    off: dict[str, tuple[float, float]] = {}
    for reading in job.hung:
        if isinstance(reading, HungPlumb) and _of_leaf(job, reading.leaf, hand):
            if not reading.set_aside:
                times = pin_spacing / reading.over.si
                sd = standard_deviation(job, reading, "plumb line")
                off[reading.direction] = (_off_plumb(reading) * times, sd * times)
    if not off:
        return None
    x, sd_x = off.get("in the wall", (0.0, 0.0))
    z, sd_z = off.get("through the wall", (0.0, 0.0))
    lean = axis_lean(x, z, pin_spacing)
    return AxisLean(lean.x, lean.z, math.atan(sd_x / pin_spacing), math.atan(sd_z / pin_spacing))


def unread_plumbs(job: Job, hand: Hand) -> tuple[str, ...]:
    """Return in which directions nobody has read how far the axis is off plumb."""
    read = {
        r.direction
        for r in job.hung
        if isinstance(r, HungPlumb) and _of_leaf(job, r.leaf, hand) and not r.set_aside
    }
    return tuple(way for way in _PLUMB if way not in read)


def let_go(job: Job, hand: Hand, swing: str) -> tuple[LetGo, ...]:
    """Return where a leaf was let go, and where it came to rest."""
    return tuple(
        LetGo(
            _opening(swing, reading.swing, reading.angle.si),
            None
            if isinstance(reading.rests, str)
            else _opening(swing, reading.swing, reading.rests.si),
        )
        for reading in job.hung
        if isinstance(reading, HungDrift)
        and _of_leaf(job, reading.leaf, hand)
        and not reading.set_aside
    )


def plate_levels(job: Job, hand: Hand) -> tuple[PlateLevel, ...]:
    """Return how level a leaf's pivot plates lie, as read last in each direction [m]."""
    rises: dict[Literal["bottom plate", "top pin plate"], dict[str, float]] = {}
    for reading in job.hung:
        if isinstance(reading, HungPlate) and _of_leaf(job, reading.leaf, hand):
            if not reading.set_aside:
                sign = 1.0 if reading.up in ("right", "viewer") else -1.0
                plate: Literal["bottom plate", "top pin plate"] = (
                    "bottom plate" if reading.plate == "bottom" else "top pin plate"
                )
                rises.setdefault(plate, {})[reading.direction] = sign * reading.is_.si
    return tuple(
        PlateLevel(plate, off.get("in the wall", 0.0), off.get("through the wall", 0.0))
        for plate, off in rises.items()
    )
