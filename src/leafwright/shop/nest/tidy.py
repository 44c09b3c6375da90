"""Which of the packings that cost the same: fewest sticks to pick straight, then fewest set-ups,
then the longest drop worth keeping.

Settled by search, not proven: equal patterns are made of unlike ones where that loses nothing,
and the loads of two sticks are shared out afresh where one of them then leaves a longer drop.
"""

from __future__ import annotations

from collections.abc import Callable

from leafwright.shop.nest.columns import Column, Pattern
from leafwright.shop.nest.first import Packing
from leafwright.shop.nest.grid import Problem
from leafwright.shop.nest.knapsack import TooManyError, knapsack

Drop = Callable[[Column], int]
Takes = Callable[[Column], bool]
TRIED_SOURCES = 3
TRIED_TARGETS = 40
TRIED_SUMS = 30_000  # of lengths, for one sharing out; those of more are left as they are
MOST_TURNS = 12  # drops made longer one after another
MERGED = 300  # most layouts that are looked at for merging, two and two


def tidiest(
    problem: Problem, packings: tuple[Packing, ...], drop_of: Drop, takes: Takes, straight: Takes
) -> Packing:
    """Return the packing with the fewest sticks to be picked straight, then the fewest set-ups.

    Then comes the longest drop, then the fewest sticks.

    ``drop_of`` gives the drop [nm] that a column leaves, 0 where it is not worth keeping;
    ``takes`` is whether a stick takes a column, ``straight`` whether that wants a straight stick.
    """

    def rank(packing: Packing) -> tuple[int, int, int, int, list[tuple[int, Pattern, int]]]:
        sticks = sorted((c.stick, c.pattern, n) for c, n in packing.items())
        return (
            sum(n for column, n in packing.items() if straight(column)),
            set_ups(packing),
            -longest_drop(packing, drop_of),
            sum(packing.values()),
            sticks,
        )

    merged = [_merged(problem, p) for p in packings if set_ups(p) <= MERGED]
    best = min([*packings, *(m for m in merged if all(map(takes, m)))], key=rank)
    for _ in range(MOST_TURNS):
        longer = _longer_drop(problem, best, drop_of, takes)
        if longer is None or rank(longer) >= rank(best):
            break
        best = longer
    return best


def set_ups(packing: Packing) -> int:
    """Return how many different lists of pieces are cut."""
    return len({column.pattern for column in packing})


def longest_drop(packing: Packing, drop_of: Drop) -> int:
    """Return the longest drop worth keeping [nm]."""
    return max((drop_of(column) for column in packing), default=0)


def _merged(problem: Problem, packing: Packing) -> Packing:
    """Return the packing with pairs of patterns replaced by one where their pieces share out."""
    groups: dict[Pattern, list[int]] = {}
    for column, n in sorted(packing.items(), key=lambda one: (one[0].pattern, one[0].stick)):
        groups.setdefault(column.pattern, []).extend([column.stick] * n)
    again = True
    while again:
        again = False
        for a in list(groups):
            for b in list(groups):
                if a >= b or a not in groups or b not in groups:
                    continue
                sticks = groups[a] + groups[b]
                shared = _shared_out(a, len(groups[a]), b, len(groups[b]))
                if shared is None:
                    continue
                load = sum(problem.weights[j] * n for j, n in shared)
                if load <= min(problem.rooms[s] for s in sticks):
                    del groups[a], groups[b]
                    groups[shared] = groups.get(shared, []) + sticks
                    again = True
    merged: Packing = {}
    for pattern, sticks in groups.items():
        for stick in sticks:
            column = Column(stick, pattern)
            merged[column] = merged.get(column, 0) + 1
    return merged


def _shared_out(a: Pattern, times_a: int, b: Pattern, times_b: int) -> Pattern | None:
    """Return the pattern that cuts, times_a + times_b times, what a and b cut; None if none."""
    total: dict[int, int] = {}
    for pattern, times in ((a, times_a), (b, times_b)):
        for j, n in pattern:
            total[j] = total.get(j, 0) + n * times
    times = times_a + times_b
    if any(n % times for n in total.values()):
        return None
    return tuple((j, n // times) for j, n in sorted(total.items()))


def _longer_drop(problem: Problem, packing: Packing, drop_of: Drop, takes: Takes) -> Packing | None:
    """Return the packing with two sticks' pieces shared out afresh for a longer drop, or None."""
    single = sorted((c for c, n in packing.items() if n == 1), key=lambda c: (c.stick, c.pattern))
    best: tuple[int, Column, Column, Column, Column] | None = None
    reach = longest_drop(packing, drop_of)
    for giver in sorted(single, key=lambda c: -drop_of(c))[:TRIED_SOURCES]:
        for taker in single[:TRIED_TARGETS]:
            if taker == giver:
                continue
            total = dict(giver.pattern)
            for j, n in taker.pattern:
                total[j] = total.get(j, 0) + n
            types = sorted(total)
            weights = tuple(problem.weights[j] for j in types)
            counts = tuple(total[j] for j in types)
            room = problem.rooms[taker.stick]
            try:
                table = knapsack(weights, weights, counts, room, TRIED_SUMS)
            except TooManyError:
                continue
            full = dict(table.pattern(0, room))
            kept = tuple((j, full[i]) for i, j in enumerate(types) if i in full)
            rest = tuple(
                (j, total[j] - full.get(i, 0))
                for i, j in enumerate(types)
                if total[j] > full.get(i, 0)
            )
            if not rest:
                continue
            filled, emptied = Column(taker.stick, kept), Column(giver.stick, rest)
            if not (takes(filled) and takes(emptied)):
                continue
            if drop_of(emptied) > reach:
                reach = drop_of(emptied)
                best = (reach, giver, taker, emptied, filled)
    if best is None:
        return None
    _, giver, taker, emptied, filled = best
    changed = {c: n for c, n in packing.items() if c not in (giver, taker)}
    for column in (emptied, filled):
        changed[column] = changed.get(column, 0) + 1
    return changed
