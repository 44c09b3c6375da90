"""Numbers set beside a picture, each with a line to its place, so that no two lines cross."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.paper.scene import Box, Point

#: A line that runs nearer than this to another place is moved, if it can be [mm].
CLEAR = 1.6
_CROSSING, _TOUCHING, _OVER = 400.0, 60.0, 12.0


def slots_round(box: Box, *, apart: float, air: float) -> tuple[Point, ...]:
    """Return places for numbers round a box [mm]: up both sides, and along top and bottom.

    Args:
        box: what they stand round.
        apart: least distance of two of them.
        air: how far they stand off the box.
    """
    rows = max(int(box.height / apart), 2)
    step = box.height / rows
    ys = [box.bottom + step * (i + 0.5) for i in range(rows)]
    columns = max(int(box.width / (apart * 1.5)), 1)
    wide = box.width / columns
    xs = [box.left + wide * (i + 0.5) for i in range(columns)]
    return (
        *((box.left - air, y) for y in ys),
        *((box.right + air, y) for y in ys),
        *((x, box.top + air) for x in xs),
        *((x, box.bottom - air) for x in xs),
    )


@dataclass(frozen=True, slots=True)
class InTheWay:
    """What lines should keep off: straight lines, and points with so much room round them [mm]."""

    lines: tuple[tuple[Point, Point], ...] = ()
    points: tuple[Point, ...] = ()
    room: float = 2.6


def placed_round(
    targets: Sequence[Point], slots: Sequence[Point], way: InTheWay | None = None
) -> tuple[Point, ...]:
    """Return a slot for each place, near it, with lines that neither cross nor touch others.

    Each starts in the nearest free slot; then slots are changed or swapped for as long as that
    makes the lines better: fewer crossings first, then shorter.

    Args:
        targets: what the lines run to.
        slots: at least as many as those.
        way: what is drawn there.

    Raises:
        ValueError: fewer slots than places.
    """
    if len(slots) < len(targets):
        raise ValueError(f"{len(targets)} numbers have only {len(slots)} places to stand")
    way = way or InTheWay()
    taken: list[int] = []
    own = [[_own_cost(target, slot, way) for slot in slots] for target in targets]
    for costs in own:
        free = [i for i in range(len(slots)) if i not in taken]
        taken.append(min(free, key=costs.__getitem__))
    best = _cost(targets, slots, taken, own)
    for _ in range(40):
        found = best
        for trial in _changes(taken, len(slots)):
            cost = _cost(targets, slots, trial, own)
            if cost < best - 1e-9:
                best, taken = cost, trial
        if best > found - 1e-9:
            break
    return tuple(slots[i] for i in taken)


def _changes(taken: list[int], count: int) -> list[list[int]]:
    free = [i for i in range(count) if i not in taken]
    changed = []
    for at in range(len(taken)):
        for slot in free:
            changed.append([*taken[:at], slot, *taken[at + 1 :]])
    for a, b in itertools.combinations(range(len(taken)), 2):
        swapped = list(taken)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        changed.append(swapped)
    return changed


def _own_cost(target: Point, slot: Point, way: InTheWay) -> float:
    """Return what one line costs alone: its length, and what is in its way."""
    size = math.dist(target, slot)
    cost = size
    share = min(1.0, 2.0 / size) if size > 0.0 else 1.0
    # What begins at the place itself is not in the way.
    start = (target[0] + share * (slot[0] - target[0]), target[1] + share * (slot[1] - target[1]))
    for a, b in way.lines:
        near = min(_from_line(start, a, b), _from_line(a, start, slot), _from_line(b, start, slot))
        if crosses(start, slot, a, b) or near < 0.9:
            cost += _OVER
    cost += sum(_OVER for p in way.points if _from_line(p, target, slot) < way.room)
    return cost


def _cost(
    targets: Sequence[Point],
    slots: Sequence[Point],
    taken: Sequence[int],
    own: Sequence[Sequence[float]],
) -> float:
    lines = [(target, slots[i]) for target, i in zip(targets, taken, strict=True)]
    cost = sum(own[at][i] for at, i in enumerate(taken))
    for (a, b), (c, d) in itertools.combinations(lines, 2):
        if crosses(a, b, c, d):
            cost += _CROSSING
        if _from_line(c, a, b) < CLEAR or _from_line(a, c, d) < CLEAR:
            cost += _TOUCHING
    return cost


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether the line from a to b crosses that from c to d."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def _from_line(p: Point, a: Point, b: Point) -> float:
    """Return how far a point is from a straight line between two others."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = dx * dx + dy * dy
    share = 0.0 if size < 1e-12 else ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / size
    share = min(1.0, max(0.0, share))
    return math.dist(p, (a[0] + share * dx, a[1] + share * dy))


def clipped(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """Return the part of a straight line that lies in a box, or None."""
    low, high = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for p, q in (
        (-dx, a[0] - box.left),
        (dx, box.right - a[0]),
        (-dy, a[1] - box.bottom),
        (dy, box.top - a[1]),
    ):
        if abs(p) < 1e-12:
            if q < 0.0:
                return None
        elif p < 0.0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    if low >= high:
        return None
    return ((a[0] + low * dx, a[1] + low * dy), (a[0] + high * dx, a[1] + high * dy))
