"""Patterns that a stick truly takes, where ends are slanted or not every stick is straight.

The problem's weights let in every pattern that fits, and some that do not: they give each end
half of what sharing its cut could save. So what they bound stays a bound. Here each pattern is
put in its best order and measured, and the cheapest packing of those that fit is looked for among
all that could matter, by integer program.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from fractions import Fraction

from leafwright.shop.nest.columns import Column, Master, Meter, Pattern, Prices
from leafwright.shop.nest.ends import Order, Orders
from leafwright.shop.nest.first import Packing, cost_of, openings
from leafwright.shop.nest.grid import Problem, Shape, room_between_trims
from leafwright.shop.nest.integer import most_covered, patterns_within, whole_packing
from leafwright.shop.nest.knapsack import Knapsack, TooManyError, knapsack
from leafwright.shop.nest.numbers import grid_down, grid_up
from leafwright.shop.nest.records import Rules, Stick
from leafwright.shop.nest.search import ENDLESS, MOST_KINDS, Found, NoPacking, search

#: Most patterns that are listed to settle what is left between bound and cost.
MOST_LISTED = 4_000
#: How often the target is halved towards the bound where too many patterns could matter.
HALVINGS = 5
#: Work for the integer program over patterns [-].
SETTLING = 100_000
#: Most patterns that are listed to spare straight sticks.
MOST_STRAIGHT = 400

BY_PATTERNS = "every pattern that could do better, put in its best order, tried by integer program"


@dataclass(slots=True)
class Bench:
    """Sticks with their patterns laid out in order, each measured once."""

    problem: Problem
    shape: Shape
    sticks: tuple[Stick, ...]
    rules: Rules
    orders: Orders
    sure: bool = True
    needs: dict[Pattern, int] = field(default_factory=dict)

    def order(self, pattern: Pattern) -> Order:
        """Return the pieces of a pattern, longest first, in the order that takes least."""
        return self.orders.of([self.shape.types[j].kinds for j, n in pattern for _ in range(n)])

    def need(self, pattern: Pattern) -> int:
        """Return the stick's length that a pattern needs, trims included [nm]."""
        if pattern not in self.needs:
            order = self.order(pattern)
            self.sure &= order.exact
            trims = grid_up(self.rules.trim_start) + grid_up(self.rules.trim_end)
            lengths = sum(self.shape.types[j].length * n for j, n in pattern)
            self.needs[pattern] = lengths + order.taken + trims
        return self.needs[pattern]

    def straight(self, column: Column) -> bool:
        """Return whether a pattern wants a straight stick."""
        return any(self.shape.types[j].straight for j, _ in column.pattern)

    def takes(self, column: Column) -> bool:
        """Return whether a stick takes a pattern: long enough, and straight where it must be."""
        stick = self.sticks[column.stick]
        if not stick.straight and self.straight(column):
            return False
        return not column.pattern or self.need(column.pattern) <= grid_down(stick.length)

    @property
    def narrow(self) -> bool:
        """Whether some patterns that the weights let in may not be taken."""
        crooked = not all(stick.straight for stick in self.sticks)
        return not self.shape.gaps.plain or (
            crooked and any(one.straight for one in self.shape.types)
        )


def bench_of(problem: Problem, shape: Shape, sticks: tuple[Stick, ...], rules: Rules) -> Bench:
    """Return sticks on which patterns can be measured."""
    trims = (grid_up(rules.trim_start) > 0, grid_up(rules.trim_end) > 0)
    return Bench(problem, shape, sticks, rules, Orders(shape.gaps, trims))


def narrowed(bench: Bench, found: Found | NoPacking, meter: Meter) -> Found | NoPacking:
    """Return the cheapest packing whose every pattern is taken, with the bound.

    Args:
        bench: the sticks; what their problem bounds is a bound here too.
        found: what was found for the problem, whose patterns may not all be taken.
        meter: work.
    """
    problem = bench.problem
    if isinstance(found, NoPacking) and found.impossible:
        return found
    bound = found.bound if isinstance(found, Found) else Fraction(0)
    how = found.how if isinstance(found, Found) else "nothing"
    there = list(found.packings) if isinstance(found, Found) else []
    there = [packing for packing in there if all(map(bench.takes, packing))]
    left: list[int] = []
    if not there or cost_of(problem, there[0]) > bound:
        more, left = _first_real(bench)
        if not bench.shape.gaps.plain:
            more += _unshared(bench, meter)
        there += [packing for packing in more if all(map(bench.takes, packing))]
        there.sort(key=lambda packing: cost_of(problem, packing))
    if there and cost_of(problem, there[0]) <= bound:
        return _kept(problem, there, bound, how)
    return _settled(bench, there, bound, how, left, meter)


def _kept(problem: Problem, packings: list[Packing], bound: Fraction, how: str) -> Found:
    least = min(cost_of(problem, packing) for packing in packings)
    kept = tuple(packing for packing in packings if cost_of(problem, packing) == least)
    return Found(kept, least, bound, how)


def _settled(
    bench: Bench,
    there: list[Packing],
    bound: Fraction,
    how: str,
    left: list[int],
    meter: Meter,
) -> Found | NoPacking:
    """Return the cheapest packing by integer program over the patterns that could be in it."""
    problem = bench.problem
    ceiling = sum(c * n for c, n in zip(problem.costs, problem.counts, strict=True))
    top = cost_of(problem, there[0]) - 1 if there else ceiling
    low = max(0, math.ceil(bound))
    priced = _priced(problem, meter)
    if priced is None:
        top = low - 1
    else:
        prices, table = priced
    target, settled, halvings = top, False, 0
    while low <= target:
        columns = patterns_within(problem, prices, table, target, MOST_LISTED, meter, bench.takes)
        if columns is None:
            halvings += 1
            if halvings > HALVINGS or meter.spent() or target == low:
                break
            target = (low + target) // 2
            continue
        packing, finished = whole_packing(
            problem,
            columns,
            most_covered(problem, prices, target),
            target,
            SETTLING,
            meter,
            least=low,
        )
        if packing is not None and all(map(bench.takes, packing)):
            there.insert(0, packing)
            if finished and bench.sure:
                bound, how, settled = Fraction(cost_of(problem, packing)), BY_PATTERNS, True
            break
        if packing is not None or not finished or not bench.sure:
            break
        low = target + 1
        bound, how = Fraction(low), BY_PATTERNS
        if target == top:
            settled = True
            break
        target = top
    if not there:
        return NoPacking(settled, tuple(left))
    least = min(cost_of(problem, packing) for packing in there)
    return _kept(problem, there, Fraction(least) if settled else min(bound, Fraction(least)), how)


def _priced(problem: Problem, meter: Meter) -> tuple[Prices, Knapsack] | None:
    """Return the best prices of the linear program with their tables, None past its limits."""
    if len(problem.weights) > MOST_KINDS or meter.spent():
        return None
    master = Master(problem, meter)
    for s, room in enumerate(problem.rooms):
        for j, weight in enumerate(problem.weights):
            if weight <= room and problem.counts[s]:
                master.add(Column(s, ((j, min(problem.demand[j], room // weight)),)))
    try:
        _, _, prices = master.generate(ENDLESS)
        return prices, knapsack(problem.weights, prices.values, problem.demand, max(problem.rooms))
    except TooManyError:
        return None


def _first_real(bench: Bench) -> tuple[list[Packing], list[int]]:
    """Return packings by best fit, each pattern measured, and the types left over at the least."""
    problem = bench.problem
    found: list[Packing] = []
    fewest: list[int] | None = None
    if sum(problem.demand) > 400:
        return [], []
    for order in openings(problem):
        unused = list(problem.counts)
        opened: list[tuple[int, dict[int, int]]] = []
        left: list[int] = []
        for j, count in enumerate(problem.demand):
            for _ in range(count):
                best: tuple[int, int] | None = None
                for i, (s, held) in enumerate(opened):
                    tried = Column(s, _with(held, j))
                    if bench.takes(tried):
                        spare = grid_down(bench.sticks[s].length) - bench.need(tried.pattern)
                        best = min(best, (spare, i)) if best else (spare, i)
                if best is not None:
                    held = opened[best[1]][1]
                    held[j] = held.get(j, 0) + 1
                    continue
                new = next(
                    (s for s in order if unused[s] and bench.takes(Column(s, ((j, 1),)))), None
                )
                if new is None:
                    left.append(j)
                    continue
                unused[new] -= 1
                opened.append((new, {j: 1}))
        if fewest is None or len(left) < len(fewest):
            fewest = left
        if not left:
            packing: Packing = {}
            for s, held in opened:
                pattern = tuple(sorted(held.items()))
                fit = [
                    t for t in range(len(unused)) if unused[t] and bench.takes(Column(t, pattern))
                ]
                best_stick = min([s, *fit], key=lambda t: (problem.costs[t], problem.rooms[t]))
                if best_stick != s:
                    unused[s] += 1
                    unused[best_stick] -= 1
                column = Column(best_stick, pattern)
                packing[column] = packing.get(column, 0) + 1
            found.append(packing)
    return found, fewest or []


def _with(held: dict[int, int], j: int) -> Pattern:
    more = dict(held)
    more[j] = more.get(j, 0) + 1
    return tuple(sorted(more.items()))


def _unshared(bench: Bench, meter: Meter) -> list[Packing]:
    """Return packings found with each slanted end's whole cut in its weight, none shared.

    All that fits by such weights is taken by a stick long enough.
    """
    problem, shape, rules = bench.problem, bench.shape, bench.rules
    kerf = min(shape.gaps.kerfs)
    weights = [
        one.length + kerf + sum(shape.gaps.kerfs[kind] - kerf for kind in one.kinds)
        for one in shape.types
    ]
    order = sorted(range(len(weights)), key=lambda j: -weights[j])
    found = search(
        replace(
            problem,
            weights=tuple(weights[j] for j in order),
            demand=tuple(problem.demand[j] for j in order),
            rooms=tuple(
                max(0, room_between_trims(stick, rules, kerf)) + kerf for stick in bench.sticks
            ),
        ),
        meter,
    )
    if isinstance(found, NoPacking):
        return []
    return [
        {
            Column(c.stick, tuple(sorted((order[j], n) for j, n in c.pattern))): times
            for c, times in packing.items()
        }
        for packing in found.packings
    ]


def spared(bench: Bench, found: Found, meter: Meter) -> tuple[Packing, ...]:
    """Return a packing of the same cost from the fewest sticks that must be picked straight.

    Empty where no fewer can do, or where too many patterns would have to be looked at.
    """
    problem = bench.problem
    least = min(
        sum(n for column, n in packing.items() if bench.straight(column))
        for packing in found.packings
    )
    wanted = [j for j, one in enumerate(bench.shape.types) if one.straight]
    if not wanted:
        return ()
    shortest = min(problem.weights[j] for j in wanted)
    load = sum(problem.weights[j] * problem.demand[j] for j in wanted)
    count = sum(problem.demand[j] for j in wanted)
    room = max(problem.rooms)
    if least <= max(math.ceil(load / room), math.ceil(count / (room // shortest))):
        return ()
    priced = _priced(problem, meter)
    if priced is None:
        return ()
    prices, table = priced
    columns = patterns_within(problem, prices, table, found.cost, MOST_STRAIGHT, meter, bench.takes)
    if columns is None:
        return ()
    marked = [1.0 if bench.straight(column) else 0.0 for column in columns]
    fewest, _ = whole_packing(
        problem,
        columns,
        most_covered(problem, prices, found.cost),
        found.cost,
        SETTLING,
        meter,
        marked=marked,
    )
    if fewest is None or not all(map(bench.takes, fewest)):
        return ()
    return (fewest,) if cost_of(problem, fewest) == found.cost else ()
