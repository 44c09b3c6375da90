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
from leafwright.shop.nest.knapsack import Knapsack, TooManyError, knapsack

ENDLESS = Fraction(10**30)
HAIR = Fraction(1, 10**12)
CORNERS = 5
# Tuned on published instances and on jobs of 200 parts; none of these bears on what is proven.
TURNS = 8  # how often one dive may turn back
BANNED = 0.15  # share of the patterns that a later dive does without
SETTLING_TRY = 2  # the try at which few patterns are settled by integer program
FEW_PATTERNS = 1_500
DIVES = 24  # tries between integer programs over many patterns
MANY_PATTERNS = 6_000
MOST_KINDS = 600  # kinds of piece past which the first packings are all there is
FEW_SHARE = 24_000  # work for a packing from few patterns, before it is asked if there is any
KNOWN = 4  # tries between integer programs over the patterns met so far
KNOWN_SHARE = 8_000
SHARE = 500  # work for such a program, times the tries so far


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
    plainly = _plainly(problem, packings, left, costs)
    if len(problem.weights) > MOST_KINDS:
        return plainly
    try:
        return _searched(problem, meter, packings, left, costs)
    except TooManyError:
        return plainly


def _plainly(
    problem: Problem, packings: list[Packing], left: list[int], costs: Costs
) -> Found | NoPacking:
    """Return the first packings with the bound that the lengths alone give."""
    if not packings:
        return NoPacking(False, tuple(left))
    bound = _plain_bound(problem)
    raised = costs.at_least(bound)
    return _found(
        problem,
        packings,
        bound if raised is None else Fraction(raised),
        "the lengths add up to no less; more kinds of piece than are searched",
    )


def _searched(
    problem: Problem, meter: Meter, packings: list[Packing], left: list[int], costs: Costs
) -> Found | NoPacking:
    """Return the least packings found by linear program, dives and integer programs."""
    best = cost_of(problem, packings[0]) if packings else None
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
    bound = max(prices.bound, _plain_bound(problem))
    how = "linear program, rechecked in exact arithmetic"
    best = cost_of(problem, packings[0]) if packings else None
    tries = 0
    while True:
        target = costs.at_least(bound)
        if target is None:
            return NoPacking(True, tuple(left))
        if best is not None and best <= target:
            return _found(problem, packings, Fraction(target), how)
        if meter.spent():
            break
        packing, none_there = _attempt(problem, master, prices, target, tries)
        tries += 1
        if none_there:
            bound = Fraction(target + 1)
            how = "every pattern that could do better tried by integer program"
            tries = 0
        if packing is not None:
            packings.insert(0, packing)
            best = cost_of(problem, packing)
    if best is None:
        return NoPacking(False, tuple(left))
    target = costs.at_least(bound)
    return _found(problem, packings, bound if target is None else Fraction(target), how)


def _attempt(
    problem: Problem, master: Master, prices: Prices, target: int, tries: int
) -> tuple[Packing | None, bool]:
    """Return a packing of cost ≤ ``target`` if this try finds one; True if there is none.

    Dives first; between them, where few patterns can matter, the integer program over all of
    them, which settles it; where many can, a share of work that grows with the tries.
    """
    meter = master.meter
    few = tries == SETTLING_TRY
    if tries % KNOWN == KNOWN - 1 and tries % DIVES != 0:
        # The patterns that the dives have priced in often hold a packing that no dive hits.
        found, _ = whole_packing(
            problem,
            master.columns,
            most_covered(problem, prices, target),
            target,
            KNOWN_SHARE,
            meter,
            drawn=tries,
        )
        return found, False
    if not few and (tries == 0 or tries % DIVES != 0):
        return dive(master, target, tries), False
    middle, table = _middle_prices(problem, master, prices)
    if middle.bound > target:
        return None, True
    columns = patterns_within(
        problem, middle, table, target, FEW_PATTERNS if few else MANY_PATTERNS, meter
    )
    if few and columns is None:
        return None, False
    covered = most_covered(problem, middle, target)
    listed = master.columns if columns is None else columns
    share = FEW_SHARE if few else SHARE * tries
    packing, finished = whole_packing(problem, listed, covered, target, share, meter, drawn=tries)
    if few and packing is None and not finished:
        packing, finished = whole_packing(problem, listed, covered, target, meter.limit, meter)
    return packing, columns is not None and packing is None and finished


def _found(problem: Problem, packings: list[Packing], bound: Fraction, how: str) -> Found:
    least = min(cost_of(problem, packing) for packing in packings)
    kept = tuple(packing for packing in packings if cost_of(problem, packing) == least)
    return Found(kept, least, bound, how)


def _plain_bound(problem: Problem) -> Fraction:
    """Return what the total length alone demands: the cheapest room per cost, filled."""
    load = Fraction(sum(w * d for w, d in zip(problem.weights, problem.demand, strict=True)))
    cost = Fraction(0)
    sticks = [s for s, room in enumerate(problem.rooms) if room > 0]
    for s in sorted(sticks, key=lambda s: Fraction(problem.costs[s], problem.rooms[s])):
        room = problem.rooms[s] * problem.counts[s]
        if room >= load:
            return cost + load * Fraction(problem.costs[s], problem.rooms[s])
        load -= room
        cost += problem.costs[s] * problem.counts[s]
    return cost


def _starved(problem: Problem, meter: Meter) -> bool:
    """Return whether even fractions of the sticks cannot hold the pieces, exactly."""
    free = Master(replace(problem, costs=(0,) * len(problem.costs)), meter)
    return free.generate(HAIR)[2].bound > 0


def _middle_prices(problem: Problem, master: Master, prices: Prices) -> tuple[Prices, Knapsack]:
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


def dive(master: Master, target: int, tries: int) -> Packing | None:
    """Return a packing of cost ≤ target by fixing the fullest-used patterns one after another.

    After each fixing the linear program of the rest is priced again; where its exact bound says
    that the target is lost the dive turns back, at most TURNS times. Every try after the first
    bans some patterns, drawn from a seed of its own. The master is left as it was, with more
    columns.
    """
    draw = random.Random(tries)
    if tries:
        master.banned = frozenset(i for i in range(len(master.columns)) if draw.random() < BANNED)
    packing = _dive(master, target, thorough=tries % 4 == 3)
    master.banned = frozenset()
    master.leave(master.problem.demand, master.problem.counts)
    return packing


def _dive(master: Master, target: int, *, thorough: bool) -> Packing | None:
    problem = master.problem
    dearest = max(1, *problem.costs)
    turns = 0
    # One entry a level: what is left to cover and use, cost so far, patterns fixed, what to try.
    todo: list[tuple[tuple[int, ...], tuple[int, ...], int, tuple[Column, ...]]] = [
        (problem.demand, problem.counts, 0, ())
    ]
    done: tuple[Column, ...] | None = None
    while todo and turns <= TURNS and not master.meter.spent():
        demand, counts, spent, fixed = todo.pop()
        if spent > target:
            turns += 1
            continue
        if not any(demand):
            done = fixed
            break
        master.leave(demand, counts)
        x = _within(master, (target - spent) / dearest, target - spent, thorough)
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


def _within(
    master: Master, cost_left: float, target_left: int, thorough: bool
) -> list[float] | None:
    """Return x of a linear program within what is left of the target, None if it is lost.

    ``thorough`` prices on to the least cost, not only until the target is met.
    """
    while True:
        cost, x, duals, fees = master.run()
        met = cost <= cost_left + 1e-9
        if met and not thorough:
            return x
        values, table = master.price(duals)
        prices = exact_bound(master.problem, master.demand, master.counts, values, table)
        if prices.bound > target_left or master.meter.spent():
            return None
        if not master.grow(values, fees, table):
            return x if met else None
