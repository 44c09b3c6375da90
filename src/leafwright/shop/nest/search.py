"""The least-cost packing: first packings, the linear program, dives, and every pattern left."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from fractions import Fraction

import highspy

from leafwright.shop.nest.columns import Column, Master, Meter, Prices, exact_bound
from leafwright.shop.nest.first import Packing, cost_of, first_packings
from leafwright.shop.nest.grid import Problem
from leafwright.shop.nest.integer import Costs, most_covered, patterns_within, whole_packing
from leafwright.shop.nest.knapsack import Knapsack, knapsack

ENDLESS = Fraction(10**30)
HAIR = Fraction(1, 10**12)
CORNERS = 5
FIRST_PATIENCE = 8
MOST_PATTERNS = 15_000
FEW_PATTERNS = 1_500


@dataclass(frozen=True, slots=True)
class Found:
    """Packings of one least-found cost, the bound in the problem's units, and what proves it."""

    packings: tuple[Packing, ...]
    cost: int
    bound: Fraction
    how: str


@dataclass(frozen=True, slots=True)
class NoPacking:
    """No packing was found: proved impossible or not, with the piece types left over."""

    impossible: bool
    left: tuple[int, ...]


def search(problem: Problem, meter: Meter) -> Found | NoPacking:
    """Return packings of the least cost found, with a bound under which none can be."""
    packings, left = first_packings(problem)
    best = cost_of(problem, packings[0]) if packings else None
    ceiling = sum(c * n for c, n in zip(problem.costs, problem.counts, strict=True))
    costs = Costs(problem, ceiling if best is None else best)
    if best is not None:
        plain = costs.at_least(_plain_bound(problem))
        if plain is not None and plain >= best:
            return _found(problem, packings, Fraction(best), "the lengths add up to no less")
    master = Master(problem, meter)
    for packing in packings:
        for column in packing:
            master.add(column)
    for s, room in enumerate(problem.rooms):
        for j, weight in enumerate(problem.weights):
            if weight <= room and problem.counts[s]:
                master.add(Column(s, ((j, min(problem.demand[j], room // weight)),)))
    enough = ENDLESS if best is None else costs.under(best) + HAIR
    _, _, prices = master.generate(enough)
    if best is None and _starved(problem, meter):
        return NoPacking(True, tuple(left))
    return _close(problem, master, packings, costs, prices, left)


def _close(
    problem: Problem,
    master: Master,
    packings: list[Packing],
    costs: Costs,
    prices: Prices,
    left: list[int],
) -> Found | NoPacking:
    """Raise the target from the bound until a packing meets it, or the work is spent."""
    meter = master.meter
    bound = prices.bound
    how = "linear program, rechecked in exact arithmetic"
    best = cost_of(problem, packings[0]) if packings else None
    patience = FIRST_PATIENCE
    while True:
        target = costs.at_least(bound)
        if target is None:
            return NoPacking(True, tuple(left))
        if best is not None and best <= target:
            return _found(problem, packings, Fraction(target), how)
        if meter.spent():
            break
        packing = dive(master, target, patience)
        if packing is None:
            packing, none_there = _among_patterns(problem, master, prices, target, patience)
            if none_there:
                bound = Fraction(target + 1)
                how = "every pattern that could do better tried by integer program"
                patience = FIRST_PATIENCE
                continue
        if packing is not None:
            packings.insert(0, packing)
            best = cost_of(problem, packing)
        patience *= 4
    if best is None:
        return NoPacking(False, tuple(left))
    target = costs.at_least(bound)
    return _found(problem, packings, bound if target is None else Fraction(target), how)


def _among_patterns(
    problem: Problem, master: Master, prices: Prices, target: int, patience: int
) -> tuple[Packing | None, bool]:
    """Return a packing that costs ``target``, and whether it is proved that there is none.

    Where few patterns can matter the integer program over all of them settles it; where many
    can, it is given a share of work that grows with ``patience``.
    """
    meter = master.meter
    central, table = _central_prices(problem, master, prices)
    covered = most_covered(problem, central, target)
    columns = patterns_within(problem, central, table, target, MOST_PATTERNS, meter)
    few = columns is not None and len(columns) <= FEW_PATTERNS
    if not few:
        packing = dive(master, target, 16 * patience)
        if packing is not None:
            return packing, False
    share = meter.limit if few else 500 * patience
    packing, finished = whole_packing(
        problem, master.columns if columns is None else columns, covered, target, share, meter
    )
    return packing, columns is not None and packing is None and finished


def _found(problem: Problem, packings: list[Packing], bound: Fraction, how: str) -> Found:
    least = min(cost_of(problem, packing) for packing in packings)
    kept = tuple(packing for packing in packings if cost_of(problem, packing) == least)
    return Found(kept, least, bound, how)


def _plain_bound(problem: Problem) -> Fraction:
    """Return what the total length alone demands: the cheapest room per cost, filled."""
    load = Fraction(sum(w * d for w, d in zip(problem.weights, problem.demand, strict=True)))
    cost = Fraction(0)
    sticks = range(len(problem.rooms))
    for s in sorted(sticks, key=lambda s: Fraction(problem.costs[s], max(1, problem.rooms[s]))):
        room = problem.rooms[s] * problem.counts[s]
        if room >= load:
            return cost + load * Fraction(problem.costs[s], problem.rooms[s]) if load else cost
        load -= room
        cost += problem.costs[s] * problem.counts[s]
    return cost


def _starved(problem: Problem, meter: Meter) -> bool:
    """Return whether even fractions of the sticks cannot hold the pieces, exactly."""
    free = Master(replace(problem, costs=(0,) * len(problem.costs)), meter)
    return free.generate(HAIR)[2].bound > 0


def _central_prices(problem: Problem, master: Master, prices: Prices) -> tuple[Prices, Knapsack]:
    """Return prices from the middle of the equally good ones, where few patterns break even.

    A corner of the prices' face lets many patterns break even. The mean of corners found by
    shaking the demand a little does not, and it proves nearly the same bound.
    """
    shaken = random.Random(0)
    total = list(prices.values)
    m = len(total)
    for _ in range(CORNERS):
        for j, d in enumerate(problem.demand):
            master.h.changeRowBounds(j, d + shaken.uniform(-0.01, 0.01), highspy.kHighsInf)
        for j, value in enumerate(master.generate(ENDLESS)[2].values):
            total[j] += value
    for j, d in enumerate(problem.demand):
        master.h.changeRowBounds(j, float(d), highspy.kHighsInf)
    values = tuple(total[j] // (CORNERS + 1) for j in range(m))
    table = knapsack(problem.weights, values, problem.demand, max(problem.rooms))
    return exact_bound(problem, problem.demand, problem.counts, values, table), table


def dive(master: Master, target: int, patience: int) -> Packing | None:
    """Return a packing of cost ≤ target by fixing the fullest-used patterns one after another.

    After each fixing the linear program of the rest is priced again; where its exact bound says
    that the target is lost the dive turns back, at most ``patience`` times. The master is left
    as it was, with more columns.
    """
    problem = master.problem
    dearest = max(1, *problem.costs)
    turns = 0
    # One entry a level: what is left to cover and use, cost so far, patterns fixed, what to try.
    todo: list[tuple[tuple[int, ...], tuple[int, ...], int, tuple[Column, ...]]] = [
        (problem.demand, problem.counts, 0, ())
    ]
    done: tuple[Column, ...] | None = None
    while todo and turns <= patience and not master.meter.spent():
        demand, counts, spent, fixed = todo.pop()
        if spent > target:
            turns += 1
            continue
        if not any(demand):
            done = fixed
            break
        master.leave(demand, counts)
        x = _within(master, (target - spent) / dearest, target - spent)
        if x is None:
            turns += 1
            continue
        settled = [
            (column, int(v + 1e-6))
            for column, v in zip(master.columns, x, strict=True)
            if v >= 1 - 1e-6
        ]
        if settled:
            todo.append(_taken(problem, settled, demand, counts, spent, fixed))
            continue
        likely = sorted(
            (
                (-round(v, 9), -_load(problem, column), i)
                for i, (column, v) in enumerate(zip(master.columns, x, strict=True))
                if v > 1e-6
            )
        )[:3]
        for _, _, i in reversed(likely):
            todo.append(_taken(problem, [(master.columns[i], 1)], demand, counts, spent, fixed))
    master.leave(problem.demand, problem.counts)
    if done is None:
        return None
    packing: Packing = {}
    for column in done:
        packing[column] = packing.get(column, 0) + 1
    return packing


def _load(problem: Problem, column: Column) -> int:
    return sum(problem.weights[j] * n for j, n in column.pattern)


def _taken(
    problem: Problem,
    columns: list[tuple[Column, int]],
    demand: tuple[int, ...],
    counts: tuple[int, ...],
    spent: int,
    fixed: tuple[Column, ...],
) -> tuple[tuple[int, ...], tuple[int, ...], int, tuple[Column, ...]]:
    """Return what is left once these columns are fixed, as often as they still fit."""
    left, unused, taken = list(demand), list(counts), list(fixed)
    for column, times in columns:
        for _ in range(times):
            if unused[column.stick] == 0 or any(n > left[j] for j, n in column.pattern):
                break
            for j, n in column.pattern:
                left[j] -= n
            unused[column.stick] -= 1
            spent += problem.costs[column.stick]
            taken.append(column)
    return tuple(left), tuple(unused), spent, tuple(taken)


def _within(master: Master, cost_left: float, target_left: int) -> list[float] | None:
    """Return x of a linear program within what is left of the target, None if it is lost."""
    while True:
        cost, x, duals, fees = master.run()
        if cost <= cost_left + 1e-9:
            return x
        values, table = master.price(duals)
        prices = exact_bound(master.problem, master.demand, master.counts, values, table)
        if prices.bound > target_left or master.meter.spent():
            return None
        if not master.grow(values, fees, table):
            return None
