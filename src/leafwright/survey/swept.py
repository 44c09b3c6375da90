"""The floor under a leaf's swing and the head over it: highest and lowest, and where."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.model import FloorReading, Job
from leafwright.records import Metres, Number, Point2, Radians
from leafwright.survey.adjust import Survey, at, coordinate
from leafwright.survey.observe import floor_point
from leafwright.survey.surface import (
    Surface,
    far_from,
    height_at,
    heights_at,
    roughness,
    surface,
)

Side = Literal["left", "right"]
Swing = Literal["toward", "away", "both"]

#: How closely places on the floor and the head are looked at [m].
STEP_OUT = 0.05
STEP_ON_PLAN = 0.1

#: Of the places between readings that one is looked at which is highest (or lowest) by so many
#: standard deviations [-].
SURE = 2.0


@dataclass(frozen=True, slots=True)
class Sweep:
    """The part of the floor that a leaf sweeps, opening on each side it swings to.

    ``axis`` is the x of its pivot axis, ``radius`` from there to the nose's farthest corner and
    ``half`` half its thickness [m]; it stands shut in the plane z = 0 and opens to ``upto`` [rad].
    """

    hand: Side
    swing: Swing
    axis: Metres
    radius: Metres
    half: Metres
    upto: Radians = math.pi / 2


@dataclass(frozen=True, slots=True)
class FloorUnder:
    """The floor under one leaf's swing.

    Attributes:
        highest: the highest of what was read there and of what lies between [m].
        place: where on plan it is, x and z [m]; None where the reading does not say.
        unsure: the floor where it may be highest: by its height and twice its sd [m].
        unsure_place: where that is.
        read: what was read of it, corners and all [m].
        not_mapped: share of the swept floor farther from every reading than heights there have to
            do with one another [-].
        reach: that distance [m].
    """

    highest: Quantity
    place: Point2 | None
    unsure: Quantity
    unsure_place: Point2 | None
    read: tuple[Quantity, ...]
    not_mapped: Number
    reach: Metres


@dataclass(frozen=True, slots=True)
class HeadOver:
    """The head over a stretch of the opening, like `FloorUnder`; places are x [m]."""

    lowest: Quantity
    place: Metres
    unsure: Quantity
    unsure_place: Metres
    not_mapped: Number
    reach: Metres


@dataclass(frozen=True, slots=True)
class Floor:
    """The floor under a leaf: on plan, or by its distance from the leaf's axis alone.

    ``axis`` is the x of that axis where only readings out along the swing tell of the floor [m];
    None where it is known on plan.
    """

    surface: Surface
    axis: Metres | None


def floor_of(
    job: Job, found: Survey, sweep: Sweep, *, heights: dict[str, Quantity] | None = None
) -> Floor:
    """Return the floor under a leaf's swing as a surface.

    A reading some way out along the swing tells of the whole arc at that radius: of the floor
    there at its highest. Where only such readings are, the floor between them is one of radius
    alone. Readings at places on plan make it a surface on plan, and those along the swing are
    then left out of it.

    Args:
        job: its readings say where their points of the floor are.
        found: the adjusted opening.
        sweep: what the leaf sweeps.
        heights: quantities of floor points that are at hand already, by name.
    """
    rough = roughness("floor", system=job.job.system)
    known = {mark.name for mark in found.marks}
    corners = [name for name in ("BL", "BR") if name in known]
    on_plan = _on_plan(found)
    points: list[tuple[str, tuple[float, ...]]]
    if on_plan:
        points = [(name, _plan_place(found, name)) for name in (*corners, *on_plan)]
        return Floor(surface(found, "floor", points, rough, heights=heights), None)
    points = [(name, (abs(at(found, name).at[0] - sweep.axis),)) for name in corners]
    points += [(name, (out,)) for name, out in _arcs(job, sweep.hand, known)[0].items()]
    return Floor(surface(found, "floor", points, rough, heights=heights), sweep.axis)


def floor_heights(of: Floor, x: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the floor's height at places on plan, and its standard deviation [m].

    Args:
        of: the floor.
        x: to the right of the bottom left corner (places) [m].
        z: toward the viewer (places) [m].
    """
    if of.axis is None:
        return heights_at(of.surface, np.stack([x, z], axis=1))
    return heights_at(of.surface, np.hypot(x - of.axis, z)[:, None])


def highest_floor(
    job: Job, found: Survey, sweep: Sweep, *, heights: dict[str, Quantity] | None = None
) -> FloorUnder:
    """Return the highest floor under a leaf's swing, with where it is [m].

    It is never below a reading there: a surface as uneven as this one passes below its peaks. Of
    the places between readings, on a grid of `STEP_OUT` along a radius or `STEP_ON_PLAN` on plan,
    it looks at the highest and at the one that may be highest. A reading that the maker says is
    the highest of all leaves nothing between. A bottom corner of the opening counts where the leaf
    reaches it, but for a step.

    Args:
        job: its readings say where their points of the floor are.
        found: the adjusted opening.
        sweep: what the leaf sweeps.
        heights: quantities of floor points that are at hand already, by name.
    """
    at_hand = dict(heights or {})
    known = {mark.name for mark in found.marks}
    corners = [name for name in ("BL", "BR") if name in known]
    arcs, whole = _arcs(job, sweep.hand, known)
    on_plan = _on_plan(found)
    for name in (*corners, *arcs, *whole, *on_plan):
        if name not in at_hand:
            at_hand[name] = coordinate(found, name, "y")
    way = 1.0 if sweep.hand == "left" else -1.0
    under_it = [
        (name, x)
        for name in corners
        if abs((x := at(found, name).at[0]) - sweep.axis) <= sweep.radius + STEP_OUT
    ]
    candidates: list[tuple[Quantity, Point2 | None]] = [
        *((at_hand[name], (x, 0.0)) for name, x in under_it),
        *((at_hand[name], (sweep.axis + way * out, 0.0)) for name, out in arcs.items()),
        *((at_hand[name], None) for name in whole),
        *((at_hand[n], p) for n in on_plan if swept(sweep, *(p := _plan_place(found, n)))),
    ]
    read = tuple(quantity for quantity, _ in candidates)
    missed, reach = 0.0, roughness("floor", system=job.job.system).length.value
    if not whole:
        floor = floor_of(job, found, sweep, heights=at_hand)
        grid = _steps(0.0, sweep.radius)[:, None] if floor.axis is not None else _plan_grid(sweep)
        far = far_from(floor.surface.places, grid, reach)
        if floor.axis is None:
            radii = np.hypot(grid[:, 0] - sweep.axis, grid[:, 1])
            for out in arcs.values():
                far &= np.abs(radii - out) > reach
            missed = float(np.mean(far))
        else:
            # A ring of the swept area is as large as its radius.
            missed = float(np.average(far, weights=grid[:, 0]))
        for quantity, place in _between(floor.surface, grid, read, f"{sweep.hand}/floor", sign=1.0):
            # A radius is shown along the shut leaf.
            shut = (sweep.axis + way * place[0], 0.0)
            candidates.append((quantity, shut if len(place) == 1 else (place[0], place[1])))
    words = f"highest floor under the {sweep.hand} leaf"
    highest = chain.largest(f"survey/{words}", words, [q for q, _ in candidates])
    place_of_highest = max(candidates, key=lambda c: c[0].value)[1]
    unsure, unsure_place = max(candidates, key=lambda c: c[0].value + SURE * c[0].sd)
    return FloorUnder(highest, place_of_highest, unsure, unsure_place, read, missed, reach)


def head_of(
    found: Survey,
    *,
    system: Literal["feet-inch", "metric"],
    heights: dict[str, Quantity] | None = None,
) -> Surface:
    """Return the head's profile as a surface along x.

    What is known of it are the top corners, marks whose name begins with ``head``, and readings of
    the head.

    Args:
        found: the adjusted opening; it has a head.
        system: the unit family whose defaults say how uneven it is.
        heights: quantities of the head's points that are at hand already, by name.
    """
    points = [(name, (at(found, name).at[0],)) for name in head_points(found)]
    return surface(found, "head", points, roughness("head", system=system), heights=heights)


def lowest_head(head: Surface, left: Metres, right: Metres, *, key: str = "head") -> HeadOver:
    """Return the lowest head between two places across, with where it is [m].

    It is never above a point read there. Of the places between, every `STEP_OUT`, it looks at the
    lowest and at the one that may be lowest.

    Args:
        head: the head's profile, from `head_of`.
        left: x of the left end of the stretch [m].
        right: x of its right end [m].
        key: what the quantities' keys begin with.
    """
    grid = _steps(left, right)[:, None]
    at_points = zip(head.heights, (float(x) for x in head.places[:, 0]), strict=True)
    candidates = [(q, x) for q, x in at_points if left <= x <= right]
    read = [q for q, _ in candidates]
    candidates += [(q, place[0]) for q, place in _between(head, grid, read, key, sign=-1.0)]
    lowest = chain.least(f"survey/{key}/lowest", "lowest head", [q for q, _ in candidates])
    place = min(candidates, key=lambda c: c[0].value)[1]
    unsure, unsure_place = min(candidates, key=lambda c: c[0].value - SURE * c[0].sd)
    reach = head.rough.length.value
    missed = float(np.mean(far_from(head.places, grid, reach)))
    return HeadOver(lowest, place, unsure, unsure_place, missed, reach)


def head_points(found: Survey) -> list[str]:
    """Return the marks under the head: both top corners, and those whose name says ``head``."""
    own = (m.name for m in found.marks if m.name.lower().startswith("head"))
    return ["TL", "TR", *own]


def _arcs(job: Job, hand: Side, known: set[str]) -> tuple[dict[str, float], list[str]]:
    """Return the floor points out along a leaf's swing [m], and those that are its highest."""
    arcs: dict[str, float] = {}
    whole: list[str] = []
    for reading in job.reading:
        if not isinstance(reading, FloorReading) or reading.leaf != hand:
            continue
        name = floor_point(reading)
        if name not in known:
            continue
        if reading.out is None:
            whole.append(name)
        else:
            arcs[name] = reading.out.si
    return arcs, list(dict.fromkeys(whole))


def _on_plan(found: Survey) -> list[str]:
    """Return the floor points that were read at a place on plan."""
    return [m.name for m in found.marks if m.name.startswith("floor at ")]


def _plan_place(found: Survey, name: str) -> tuple[float, float]:
    x, _, z = at(found, name).at
    return (x, z)


def _steps(start: float, end: float) -> np.ndarray:
    count = max(2, math.ceil((end - start) / STEP_OUT) + 1)
    return np.linspace(start, end, count)


def swept(sweep: Sweep, x: Metres, z: Metres) -> bool:
    """Return whether the leaf sweeps over a place on plan [m]."""
    return bool(_inside(sweep, np.array([[x, z]]))[0])


def _inside(sweep: Sweep, places: np.ndarray) -> np.ndarray:
    """Return which places on plan the leaf sweeps (places) [-]."""
    way = 1.0 if sweep.hand == "left" else -1.0
    out, toward = way * (places[:, 0] - sweep.axis), places[:, 1]
    low, high = _turns(sweep)
    turned = np.arctan2(toward, out)
    inside = (turned >= low) & (turned <= high)
    # Beside the leaf where it stands shut and where it stands open, half its thickness.
    for angle in (low, high):
        along = out * math.cos(angle) + toward * math.sin(angle)
        beside = toward * math.cos(angle) - out * math.sin(angle)
        inside |= (along >= -sweep.half) & (np.abs(beside) <= sweep.half)
    return np.asarray(inside & (np.hypot(out, toward) <= sweep.radius))


def _turns(sweep: Sweep) -> tuple[Radians, Radians]:
    """Return how far a leaf opens away and toward the viewer, toward being positive [rad]."""
    return (
        0.0 if sweep.swing == "toward" else -sweep.upto,
        0.0 if sweep.swing == "away" else sweep.upto,
    )


def _plan_grid(sweep: Sweep) -> np.ndarray:
    """Return the places on plan that are looked at, the axis and the ends of the swing among them.

    Rows of a square grid, and the nose's path, which is where a leaf is lowest and goes farthest.
    """
    count = math.ceil(sweep.radius / STEP_ON_PLAN)
    line = np.linspace(-sweep.radius, sweep.radius, 2 * count + 1)
    square = np.stack(np.meshgrid(sweep.axis + line, line), axis=-1).reshape(-1, 2)
    square = square[_inside(sweep, square)]
    low, high = _turns(sweep)
    turn = np.linspace(low, high, math.ceil((high - low) / math.pi * 2 * count) + 1)
    way = 1.0 if sweep.hand == "left" else -1.0
    path = np.stack(
        [sweep.axis + way * sweep.radius * np.cos(turn), sweep.radius * np.sin(turn)], axis=1
    )
    return np.vstack([square, path])


def _between(
    of: Surface, grid: np.ndarray, read: Sequence[Quantity], key: str, *, sign: float
) -> list[tuple[Quantity, tuple[float, ...]]]:
    """Return the surface where it is highest, and where it may be, as quantities with places.

    Only where that is beyond what was read. ``sign`` is −1 for the lowest.
    """
    means, sds = heights_at(of, grid)
    word = "highest" if sign > 0 else "lowest"
    looked = {}
    most = int(np.argmax(sign * means))
    if all(sign * means[most] > sign * q.value for q in read):
        looked[most] = f"{word} between readings"
    may_be = sign * means + SURE * sds
    most = int(np.argmax(may_be))
    if all(may_be[most] > sign * q.value + SURE * q.sd for q in read):
        looked.setdefault(most, f"{word} it may be")
    found = []
    for index, words in looked.items():
        place = tuple(float(v) for v in grid[index])
        quantity = height_at(of, place, f"{key}/{words}", f"{of.name}, {words}")
        found.append((quantity, place))
    return found
