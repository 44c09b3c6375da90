"""A first packing, at once: longest piece first into the tightest stick it fits."""

from __future__ import annotations

from bisect import bisect_left, insort

from leafwright.shop.nest.columns import Column
from leafwright.shop.nest.grid import Problem

Packing = dict[Column, int]


def cost_of(problem: Problem, packing: Packing) -> int:
    """Return the packing's cost, in the problem's units."""
    return sum(problem.costs[column.stick] * n for column, n in packing.items())


def first_packings(problem: Problem) -> tuple[list[Packing], list[int]]:
    """Return packings found by best fit, one for each choice of stick to open, cheapest first.

    With them, the piece types left over in the fullest attempt (empty when it took every piece).
    """
    found: list[Packing] = []
    fewest_left: list[int] | None = None
    for order in openings(problem):
        opened, left = _best_fit(problem, order)
        if fewest_left is None or _load(problem, left) < _load(problem, fewest_left):
            fewest_left = left
        if not left:
            found.append(_downsized(problem, opened))
    found.sort(key=lambda packing: cost_of(problem, packing))
    return found, fewest_left or []


def _load(problem: Problem, types: list[int]) -> int:
    return sum(problem.weights[j] for j in types)


def openings(problem: Problem) -> list[list[int]]:
    """Return orders in which to open sticks: limited free ones first, then each other first."""
    sticks = range(len(problem.rooms))
    free = sorted((s for s in sticks if problem.costs[s] == 0), key=lambda s: problem.rooms[s])
    paid = sorted(
        (s for s in sticks if problem.costs[s] > 0),
        key=lambda s: (problem.costs[s] / max(1, problem.rooms[s]), -problem.rooms[s]),
    )
    orders = [[*free, s, *(t for t in paid if t != s)] for s in paid] or [free]
    orders.append(sorted(sticks, key=lambda s: -problem.rooms[s]))
    return orders


def _best_fit(problem: Problem, order: list[int]) -> tuple[list[tuple[int, list[int]]], list[int]]:
    """Return the opened sticks with their piece types, and the types that found no stick."""
    unused = list(problem.counts)
    opened: list[tuple[int, list[int]]] = []
    # (room left, which), smallest room first, the first opened first among equals.
    rooms: list[tuple[int, int]] = []
    left = []
    for j, weight in enumerate(problem.weights):
        for _ in range(problem.demand[j]):
            place = bisect_left(rooms, (weight, -1))
            if place == len(rooms):
                stick = next(
                    (s for s in order if unused[s] > 0 and problem.rooms[s] >= weight), None
                )
                if stick is None:
                    left.append(j)
                    continue
                unused[stick] -= 1
                room, tightest = problem.rooms[stick], len(opened)
                opened.append((stick, []))
            else:
                room, tightest = rooms.pop(place)
            opened[tightest][1].append(j)
            insort(rooms, (room - weight, tightest))
    return opened, left


def _downsized(problem: Problem, opened: list[tuple[int, list[int]]]) -> Packing:
    """Return the packing with each load on the cheapest stick still to be had that holds it."""
    unused = list(problem.counts)
    for stick, _ in opened:
        unused[stick] -= 1
    packing: Packing = {}
    for stick, types in sorted(opened, key=lambda one: _load(problem, one[1])):
        load = _load(problem, types)
        unused[stick] += 1
        best = min(
            (s for s in range(len(unused)) if unused[s] > 0 and problem.rooms[s] >= load),
            key=lambda s: (problem.costs[s], problem.rooms[s], s),
        )
        unused[best] -= 1
        column = Column(best, tuple((j, types.count(j)) for j in sorted(set(types))))
        packing[column] = packing.get(column, 0) + 1
    return packing
