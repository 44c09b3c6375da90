"""Search for a way through boxes of poses, each proven free, proven blocked, or still mixed.

The search starts at the hung end, where it is tight, and looks for the floor. Mixed boxes that it
meets are halved along what they are undecided about, and it goes on from where it was. If it runs
out of boxes, every way out is proven blocked, and by what is known. The only limit is a count of
boxes, so that a search gives the same answer on every machine.
"""

from __future__ import annotations

import heapq
import itertools
import math
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from leafwright.site.poses import Floats, Pose, Shapes, bounds

Cell = tuple[float, float, float, float, float, float]
Pose3 = tuple[float, float, float]

STEEP = 0.9375 * math.pi / 2
"""From this tilt on a leaf counts as nearly upright: the foot may be lifted [rad]."""

# Halvings before bounds are found again: the arrays are then worth their while.
_ROUNDS = 2
# Boxes smaller than this both ways are not halved further [m] and [rad].
_LEAST = (2e-5, 2e-5, 5e-6)


@dataclass(frozen=True, slots=True)
class Room:
    """Which poses there are: greatest lift [m], how far the foot may stand either way [m].

    ``leaning`` is the greatest lift while the leaf is not yet nearly upright (`STEEP`), ``start``
    that at which it still counts as lying on the floor, and ``step`` what two amounts of kick-out
    must differ by to be told apart [m].
    """

    lift: float
    leaning: float
    foot: float
    start: float
    step: float


@dataclass(frozen=True, slots=True)
class Way:
    """What a search found.

    ``answer``: *free* with the boxes from the floor to the goal; *blocked*, with the building's
    boxes that block, worst first; *open* where the count ran out, or where what is left is
    smaller than can be told apart.
    """

    answer: Literal["free", "blocked", "open"]
    cells: tuple[Cell, ...] = ()
    blocks: tuple[int, ...] = ()


@dataclass(slots=True)
class Field:
    """All boxes of poses so far, with their bounds and which touches which; it grows by halving."""

    of: Shapes
    room: Room
    goal: Pose
    cap: float
    limit: int
    level: float = 0.0
    cells: list[Cell] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    worth: list[list[float]] = field(default_factory=list)
    blame: list[int] = field(default_factory=list)
    depth: list[int] = field(default_factory=list)
    near: list[set[int]] = field(default_factory=list)
    goals: set[int] = field(default_factory=set)

    def add(self, cells: list[Cell], depths: list[int], worth: list[list[float]]) -> range:
        """Take in new boxes, halved so many times, without bounds yet; return their numbers."""
        first = len(self.cells)
        self.cells += cells
        self.depth += depths
        self.worth += worth
        self.low += [-math.inf] * len(cells)
        self.high += [math.inf] * len(cells)
        self.blame += [0] * len(cells)
        self.near += [set() for _ in cells]
        self.goals |= {first + n for n, cell in enumerate(cells) if _holds(cell, self.goal)}
        return range(first, len(self.cells))

    def bound(self, ids: range) -> None:
        """Find the bounds of some boxes."""
        among = slice(ids.start, ids.stop)
        found = bounds(self.of, np.array(self.cells[among]), self.cap, self.level)
        self.low[among] = found.low.tolist()
        self.high[among] = found.high.tolist()
        self.worth[among] = found.worth.tolist()
        self.blame[among] = found.box.tolist()


def begun(of: Shapes, room: Room, goal: Pose, cap: float, limit: int, level: float) -> Field:
    """Return the first few boxes of poses: fine near upright and near the wall's middle."""
    made = Field(of, room, goal, cap, limit, level)
    lifts = sorted({0.0, room.start, room.leaning, goal.lift, room.lift})
    feet = [-room.foot, -room.step, room.step, room.foot]
    tilts = [math.pi / 2 * part for part in (0.0, 0.125, 0.25, 0.5, 0.75, 0.875)]
    tilts += [STEEP, math.pi / 2 * 0.984375, math.pi / 2]
    axes = [list(itertools.pairwise(values)) for values in (lifts, feet, tilts)]
    index = [
        (i, j, k)
        for i, j, k in itertools.product(*(range(len(axis)) for axis in axes))
        if axes[0][i][1] <= room.leaning or axes[2][k][0] >= STEEP
    ]
    cells: list[Cell] = [(*axes[0][i], *axes[1][j], *axes[2][k]) for i, j, k in index]
    made.bound(made.add(cells, [0] * len(cells), [[0.0] * 3 for _ in cells]))
    number = {key: n for n, key in enumerate(index)}
    for (i, j, k), n in number.items():
        for after in ((i + 1, j, k), (i, j + 1, k), (i, j, k + 1)):
            if after in number:
                made.near[n].add(number[after])
                made.near[number[after]].add(n)
    return made


def _halve(made: Field, ids: list[int], dims: list[int]) -> range:
    """Halve some boxes, each along one direction, and return the numbers of the halves.

    They have no bounds yet, and what halving them on is worth is guessed from the whole.
    """
    halves: list[Cell] = []
    for one, dim in zip(ids, dims, strict=True):
        cell = made.cells[one]
        middle = 0.5 * (cell[2 * dim] + cell[2 * dim + 1])
        for side in (0, 1):
            half = list(cell)
            half[2 * dim + 1 - side] = middle
            halves.append((half[0], half[1], half[2], half[3], half[4], half[5]))
    depths = [made.depth[one] + 1 for one in ids for _ in (0, 1)]
    worth = [
        [w / 2 if d == dim else w for d, w in enumerate(made.worth[one])]
        for one, dim in zip(ids, dims, strict=True)
        for _ in (0, 1)
    ]
    fresh = made.add(halves, depths, worth)
    for place, (one, dim) in enumerate(zip(ids, dims, strict=True)):
        below, above = fresh[2 * place], fresh[2 * place + 1]
        lo, hi = 2 * dim, 2 * dim + 1
        start, middle, end = made.cells[one][lo], made.cells[below][hi], made.cells[one][hi]
        made.near[below].add(above)
        made.near[above].add(below)
        for other in made.near[one]:
            made.near[other].discard(one)
            first, last = made.cells[other][lo], made.cells[other][hi]
            beside = last == start or first == end
            if last == start or (not beside and first < middle):
                made.near[below].add(other)
                made.near[other].add(below)
            if first == end or (not beside and last > middle):
                made.near[above].add(other)
                made.near[other].add(above)
        made.near[one] = set()
    made.goals -= set(ids)
    return fresh


def _most_kick(cell: Cell) -> float:
    return max(cell[3], -cell[2])


def _holds(cell: Cell, pose: Pose) -> bool:
    return (
        cell[0] <= pose.lift <= cell[1]
        and cell[2] <= pose.foot <= cell[3]
        and cell[4] <= pose.tilt <= cell[5]
    )


def _is_tiny(cell: Cell) -> bool:
    return all(cell[2 * d + 1] - cell[2 * d] <= _LEAST[d] for d in range(3))


def search(made: Field, level: float, kick: float) -> Way:
    """Return a way from the floor to the goal, or why there is none.

    level: room that the leaf must have everywhere [m]; kick: how far the foot may stand from the
    wall's middle [m].
    """
    edge = kick + 1e-12
    made.level = level
    low, cells = made.low, made.cells

    def free(one: int) -> bool:
        return low[one] >= level and _most_kick(cells[one]) <= edge

    while True:
        reached, chain = _chain(made, level, edge)
        if not chain:
            return Way("blocked", blocks=_blocks(made, reached, level))
        mixed = [one for one in chain if not free(one)]
        if not mixed:
            return _found(made, {o for o in reached if free(o)} | set(chain), chain[-1])
        if any(low[one] < level and _is_tiny(cells[one]) for one in mixed):
            return Way("open")
        if len(cells) + 2 ** (_ROUNDS + 1) * len(mixed) > made.limit:
            return Way("open")
        fresh = _halve(made, mixed, [_worst(made, one, level) for one in mixed])
        for _ in range(_ROUNDS - 1):
            fresh = _halve(made, list(fresh), [_worst(made, one, level) for one in fresh])
        made.bound(fresh)


def _worst(made: Field, one: int, level: float) -> int:
    """Return which of lift, foot and tilt to halve a box along."""
    if made.low[one] >= level:
        return 1
    cell, worth = made.cells[one], made.worth[one]
    return max(range(3), key=lambda d: (worth[d], cell[2 * d + 1] - cell[2 * d]))


def _chain(made: Field, level: float, edge: float) -> tuple[list[int], list[int]]:
    """Return what was reached, and boxes from goal to floor with as few mixed ones as can be.

    A mixed box costs the more the more often it was halved, so that what is coarse is looked into
    before what is fine. No chain means that no way is left, however fine the boxes.
    """
    low, high, cells, near = made.low, made.high, made.cells, made.near
    start = made.room.start
    now = sorted(one for one in made.goals if high[one] >= level)
    price = dict.fromkeys(now, 0)
    came = dict.fromkeys(now, -1)
    heap = [(0, one) for one in now]
    reached: list[int] = []
    done: set[int] = set()
    while heap:
        so_far, one = heapq.heappop(heap)
        if one in done:
            continue
        done.add(one)
        cell = cells[one]
        reached.append(one)
        if cell[4] == 0.0 and cell[0] <= start:
            chain = [one]
            while came[chain[-1]] >= 0:
                chain.append(came[chain[-1]])
            chain.reverse()
            return reached, chain
        for other in near[one]:
            if other in done or high[other] < level:
                continue
            beyond = cells[other]
            if beyond[2] > edge or beyond[3] < -edge:
                continue
            free = low[other] >= level and beyond[3] <= edge and beyond[2] >= -edge
            new = so_far if free else so_far + 1 + made.depth[other]
            if other not in price or new < price[other]:
                price[other] = new
                came[other] = one
                heapq.heappush(heap, (new, other))
    return reached, []


def _blocks(made: Field, reached: list[int], level: float) -> tuple[int, ...]:
    """Return the building's boxes that bar what was reached, those that bar most first."""
    if not reached:
        return tuple(made.blame[one] for one in sorted(made.goals))[:1]
    known = set(reached)
    walls = {o for one in reached for o in made.near[one] if o not in known}
    # By size and not by count: boxes are smallest where the room is least.
    size: dict[int, float] = {}
    for one in sorted(walls):
        cell = made.cells[one]
        if made.high[one] < level:
            box = made.blame[one]
            size[box] = size.get(box, 0.0) + (cell[5] - cell[4]) * (0.01 + cell[1] - cell[0])
    return tuple(sorted(size, key=lambda box: -size[box]))


def _found(made: Field, usable: set[int], start: int) -> Way:
    """Return a way through free boxes that keeps the foot low and turns little.

    Dijkstra from the floor; the price of a step is how far the foot goes and, much more, tilting
    with the foot off the floor.
    """
    best = {start: 0.0}
    came: dict[int, int] = {}
    at: dict[int, Pose3] = {start: _first_pose(made.cells[start])}
    heap = [(0.0, start)]
    done: set[int] = set()
    while heap:
        price, one = heapq.heappop(heap)
        if one in done:
            continue
        done.add(one)
        if _holds(made.cells[one], made.goal):
            chain = [one]
            while chain[-1] != start:
                chain.append(came[chain[-1]])
            chain.reverse()
            return Way("free", tuple(made.cells[c] for c in chain))
        here = at[one]
        for other in sorted(made.near[one] & usable):
            if other in done:
                continue
            pose = crossing(made.cells[one], made.cells[other], here)
            tilting = abs(pose[2] - here[2]) * (0.01 + 10.0 * pose[0])
            new = price + 2.0 * abs(pose[0] - here[0]) + abs(pose[1] - here[1]) + tilting
            if other not in best or new < best[other]:
                best[other], came[other], at[other] = new, one, pose
                heapq.heappush(heap, (new, other))
    raise AssertionError("boxes that touch do not make a way")


def _first_pose(cell: Cell) -> Pose3:
    return (cell[0], min(max(0.0, cell[2]), cell[3]), cell[4])


def crossing(cell: Cell, other: Cell, pose: Pose3) -> Pose3:
    """Return the pose on the side that two boxes share which is nearest to a pose in the first."""
    lift, foot, tilt = (
        min(
            max(pose[d], cell[2 * d], other[2 * d]),
            min(cell[2 * d + 1], other[2 * d + 1]),
        )
        for d in range(3)
    )
    return lift, foot, tilt


def poses_of(way: Way, goal: Pose) -> Floats:
    """Return the poses of a way in order [m, m, rad]; between them everything changes evenly.

    Each straight piece lies in one box, and a box that is free is free everywhere.
    """
    poses = [_first_pose(way.cells[0])]
    for cell, other in itertools.pairwise(way.cells):
        poses.append(crossing(cell, other, poses[-1]))
    poses.append((goal.lift, goal.foot, goal.tilt))
    kept = [poses[0]]
    for pose in poses[1:]:
        if max(abs(a - b) for a, b in zip(pose, kept[-1], strict=True)) > 1e-12:
            kept.append(pose)
    return np.array(kept)
