"""A search for a good order of welding: from the trade's rules, bettered by small changes.

The changes are drawn by a seeded generator and counted, so that the same leaf gives the same order
on any machine. What comes out is the best that was found; that nothing is better is not claimed.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright.frame.element import Floats
from leafwright.records import Number
from leafwright.shop.weld_order.by_ends import Choices, as_way, bettered, narrowed
from leafwright.shop.weld_order.chain import worked
from leafwright.shop.weld_order.ends import Bead, End
from leafwright.shop.weld_order.orders import (
    Passes,
    Way,
    first_ways,
    may_be,
    sequence,
)
from leafwright.shop.weld_order.reduced import Linear, Welds

#: Orders worked at once.
TOGETHER = 32
#: How readily a worse order is gone on from, at first, as a share of how far out it is [-].
HEAT = 0.15
#: Times that ends are bettered, and from how many more orders drawn by chance each time.
TIMES = 5
STARTS = 3


@dataclass(frozen=True, slots=True)
class Found:
    """The best order found: its beads one after the other, and how many orders were worked.

    ``share`` is how far out it leaves the leaf over the plain order, where that is worst among the
    suppositions it was judged by [-].
    """

    way: Way
    order: tuple[int, ...]
    share: Number
    worked: int


@dataclass(frozen=True, slots=True, eq=False)
class Supposed:
    """A leaf with its beads as they may be, and how far out the plain order leaves it then [m]."""

    found: Linear
    welded: Welds
    plain: Number


def search(
    supposed: Sequence[Supposed],
    ends: Sequence[End],
    beads: Sequence[Bead],
    passes: Passes,
    made: Choices,
    *,
    most: int,
    seed: int = 0,
) -> Found:
    """Return the best order of a number of passes that was found by working ``most`` orders.

    An order is judged by the supposition under which it betters the plain one least. ``made``
    are the orders of each end's own beads.
    """

    def shapes(ways: Sequence[Way]) -> list[Floats]:
        orders = [sequence(way, beads) for way in ways]
        return [worked(one.found, one.welded, orders).judged() for one in supposed]

    def shares(ways: Sequence[Way]) -> list[float]:
        each = [
            np.linalg.norm(shape, axis=1) / one.plain
            for one, shape in zip(supposed, shapes(ways), strict=True)
        ]
        return [float(v) for v in np.max(each, axis=0)]

    chance = random.Random(seed)
    ways = first_ways(ends, beads, passes)
    ways += _by_ends(made, beads, passes, ways[0], shapes, chance)
    values = shares(ways)
    count = len(ways)
    here = min(range(len(ways)), key=values.__getitem__)
    way, value = ways[here], values[here]
    best, least = way, value
    change = _changes(ends, beads, passes, chance)
    while count < most:
        ways = [change(way) for _ in range(min(TOGETHER, most - count))]
        values = shares(ways)
        share = count / most
        count += len(ways)
        here = int(np.argmin(values))
        heat = HEAT * (1.0 - share) ** 2 * value
        worse = values[here] - value
        if worse < 0.0 or (heat > 0.0 and chance.random() < math.exp(-worse / heat)):
            way, value = ways[here], values[here]
        if value < least:
            best, least = way, value
        elif share > 0.5 and value > 1.2 * least:
            way, value = best, least
    return Found(best, tuple(sequence(best, beads)), least, count)


def _by_ends(
    made: Choices,
    beads: Sequence[Bead],
    passes: Passes,
    first: Way,
    shapes: Callable[[Sequence[Way]], list[Floats]],
    chance: random.Random,
) -> list[Way]:
    """Return orders bettered end by end, each from where the last one left off or from chance."""
    mine = narrowed(made, beads, passes)
    at = [0] * len(mine.orders)
    found = []
    for _ in range(TIMES):
        way = as_way(mine, at, beads, passes, first.round_)
        found.append(way)
        sums = sum(shape[:, i] for shape, i in zip(mine.shapes, at, strict=True))
        off = np.array([shape[0] for shape in shapes([way])]) - sums
        starts = [at] + [[chance.randrange(len(o)) for o in mine.orders] for _ in range(STARTS)]
        at, _ = min((bettered(mine, off, b) for b in starts), key=lambda pair: pair[1])
    return [*found, as_way(mine, at, beads, passes, first.round_)]


def _changes(
    ends: Sequence[End], beads: Sequence[Bead], passes: Passes, chance: random.Random
) -> Callable[[Way], Way]:
    """Return what makes a small change to an order."""
    of_end: dict[int, list[int]] = {}
    for b, bead in enumerate(beads):
        of_end.setdefault(bead.end, []).append(b)
    choices = [may_be(bead, passes) for bead in beads]
    free = [b for b, where in enumerate(choices) if len(where) > 1]

    def swapped(values: tuple[int, ...], a: int, b: int) -> tuple[int, ...]:
        held = list(values)
        held[a], held[b] = held[b], held[a]
        return tuple(held)

    def once(way: Way) -> Way:
        kind = chance.random()
        if kind < 0.45 or (kind < 0.85 and not free):
            mine = of_end[chance.choice(list(of_end))]
            if len(mine) > 1:
                return replace(way, before=swapped(way.before, *chance.sample(mine, 2)))
        elif kind < 0.85:
            b = chance.choice(free)
            when = list(way.when)
            when[b] = chance.choice([p for p in choices[b] if p != when[b]])
            return replace(way, when=tuple(when))
        if len(ends) < 2:
            return way
        a, b = chance.sample(range(len(ends)), 2)
        return replace(way, round_=swapped(way.round_, a, b))

    def change(way: Way) -> Way:
        way = once(way)
        while chance.random() < 0.4:
            way = once(way)
        return way

    return change
