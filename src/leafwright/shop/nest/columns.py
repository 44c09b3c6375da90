"""The linear program over patterns, priced by knapsack, with a bound safe in exact arithmetic.

min Σ cost_s x_p, Σ a_jp x_p ≥ demand_j, Σ_{p on s} x_p ≤ count_s where s is limited. HiGHS works
in floats; its prices are only a suggestion. Rounded down to whole numbers they are re-priced by
an exact knapsack, and what they then prove is the bound (`exact_bound`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction

import highspy
import numpy as np

from leafwright.shop.nest.grid import Problem
from leafwright.shop.nest.knapsack import Knapsack, knapsack

SCALE = 2**38
Pattern = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A pattern on a kind of stick: (type, how many) in rising type, so in falling length."""

    stick: int
    pattern: Pattern


@dataclass(slots=True)
class Meter:
    """Work done and the most that may be done."""

    limit: int
    done: int = 0

    def spent(self) -> bool:
        """Return whether no more may be done."""
        return self.done >= self.limit


@dataclass(frozen=True, slots=True)
class Prices:
    """Whole prices of the types and fees of the sticks, in 1/SCALE of the dearest stick.

    ``share`` is the part of the prices that the unlimited sticks cannot beat; ``bound`` is what
    they prove, in the problem's cost; poor prices may prove less than nothing.
    """

    values: tuple[int, ...]
    share: Fraction
    fees: tuple[Fraction, ...]
    bound: Fraction


class QuietHighs(highspy.Highs):
    """HiGHS that prints nothing, on one thread and one seed so that answers reproduce.

    Its constructor prints a banner on its way through ``enableCallbacks``, before a caller can
    turn output off; hence a class.
    """

    def enableCallbacks(self) -> None:
        """Turn output off, then do as the solver does."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]
        self.setOptionValue("threads", 1)
        self.setOptionValue("random_seed", 0)


def quiet_highs() -> QuietHighs:
    """Return a solver that prints nothing."""
    return QuietHighs()  # type: ignore[no-untyped-call]


def exact_bound(
    problem: Problem,
    demand: tuple[int, ...],
    counts: tuple[int, ...],
    values: tuple[int, ...],
    table: Knapsack,
) -> Prices:
    """Return what whole prices prove about the least cost of ``demand``, exactly.

    By linear programming duality: let K_s be the most that one stick s earns at these prices.
    Shrunk by ``share`` they earn no more than its cost on any unlimited stick; a limited stick
    may earn ``fee`` more, once for each there is. Then least cost ≥ Σ price·demand − Σ fee·count.
    """
    dearest = max(1, *problem.costs)
    earns = [table.best(0, room) for room in problem.rooms]
    share = Fraction(1)
    for s, most in enumerate(earns):
        if not problem.limited[s] and most * dearest > problem.costs[s] * SCALE:
            share = min(share, Fraction(problem.costs[s] * SCALE, most * dearest))
    fees = tuple(
        max(Fraction(0), share * most * dearest / SCALE - problem.costs[s])
        if problem.limited[s]
        else Fraction(0)
        for s, most in enumerate(earns)
    )
    total = sum(v * d for v, d in zip(values, demand, strict=True))
    bound = share * total * dearest / SCALE
    bound -= sum((fee * count for fee, count in zip(fees, counts, strict=True)), Fraction(0))
    return Prices(values, share, fees, bound)


@dataclass(slots=True)
class Master:
    """The linear program in HiGHS, which grows as columns are priced in.

    ``demand`` and ``counts`` are what is left to cover and to use: diving lowers them. Columns
    in ``banned`` are kept closed, so that a dive takes another way.
    """

    problem: Problem
    meter: Meter
    columns: list[Column] = field(default_factory=list)
    known: set[Column] = field(default_factory=set)
    demand: tuple[int, ...] = ()
    counts: tuple[int, ...] = ()
    h: QuietHighs = field(default_factory=quiet_highs)
    closed: list[bool] = field(default_factory=list)
    banned: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        """Set up the rows, with a dear stand-in column for each type that may stay uncovered."""
        problem, h = self.problem, self.h
        self.demand, self.counts = problem.demand, problem.counts
        h.setOptionValue("presolve", "off")
        h.setOptionValue("solver", "simplex")
        h.setOptionValue("simplex_strategy", 4)
        empty_i, empty_f = np.zeros(0, dtype=np.int32), np.zeros(0)
        for d in problem.demand:
            h.addRow(float(d), highspy.kHighsInf, 0, empty_i, empty_f)
        for s, count in enumerate(problem.counts):
            most = float(count) if problem.limited[s] else highspy.kHighsInf
            h.addRow(-highspy.kHighsInf, most, 0, empty_i, empty_f)
        dear = float(sum(problem.demand) + 1)
        for j in range(len(problem.weights)):
            h.addCol(dear, 0.0, highspy.kHighsInf, 1, np.array([j], dtype=np.int32), np.ones(1))

    def add(self, column: Column) -> bool:
        """Add a column unless it is known already; return whether it was new."""
        if column in self.known:
            return False
        self.known.add(column)
        self.columns.append(column)
        self.closed.append(False)
        rows = [j for j, _ in column.pattern]
        entries = [float(n) for _, n in column.pattern]
        rows.append(len(self.problem.weights) + column.stick)
        entries.append(1.0)
        cost = self.problem.costs[column.stick] / max(1, *self.problem.costs)
        self.h.addCol(
            cost,
            0.0,
            highspy.kHighsInf,
            len(rows),
            np.array(rows, dtype=np.int32),
            np.array(entries),
        )
        return True

    def leave(self, demand: tuple[int, ...], counts: tuple[int, ...]) -> None:
        """Set what is left to cover and to use; close columns that hold more than that."""
        m = len(demand)
        for j, d in enumerate(demand):
            if d != self.demand[j]:
                self.h.changeRowBounds(j, float(d), highspy.kHighsInf)
        for s, count in enumerate(counts):
            if self.problem.limited[s] and count != self.counts[s]:
                self.h.changeRowBounds(m + s, -highspy.kHighsInf, float(count))
        for i, column in enumerate(self.columns):
            close = i in self.banned or any(n > demand[j] for j, n in column.pattern)
            if close != self.closed[i]:
                self.closed[i] = close
                self.h.changeColBounds(m + i, 0.0, 0.0 if close else highspy.kHighsInf)
        self.demand, self.counts = demand, counts

    def run(self) -> tuple[float, list[float], list[float], list[float]]:
        """Solve; return the cost in dearest sticks, x of the columns, prices, fees.

        The cost is infinite where a piece stays uncovered.
        """
        self.h.run()
        info = self.h.getInfo()
        self.meter.done += max(0, info.simplex_iteration_count)
        solution = self.h.getSolution()
        m = len(self.demand)
        x = list(solution.col_value)
        prices = list(solution.row_dual)
        cost = math.inf if max(x[:m]) > 1e-7 else info.objective_function_value
        return cost, x[m:], prices[:m], [-q for q in prices[m:]]

    def price(self, duals: list[float]) -> tuple[tuple[int, ...], Knapsack]:
        """Return the duals as whole prices, and the knapsack tables for what is left to cut."""
        values = tuple(
            max(0, int(y * SCALE)) if d else 0 for y, d in zip(duals, self.demand, strict=True)
        )
        self.meter.done += len(values)
        room = max(self.problem.rooms)
        return values, knapsack(self.problem.weights, values, self.demand, room)

    def generate(self, enough: Fraction) -> tuple[float, list[float], Prices]:
        """Price columns in until none is worth having, or the exact bound reaches ``enough``.

        Returns the linear program's cost in dearest sticks, x, and the best prices met.
        """
        best: Prices | None = None
        while True:
            cost, x, duals, fees = self.run()
            values, table = self.price(duals)
            prices = exact_bound(self.problem, self.demand, self.counts, values, table)
            if best is None or prices.bound > best.bound:
                best = prices
            if best.bound >= enough or self.meter.spent():
                return cost, x, best
            if not self.grow(values, fees, table):
                return cost, x, best

    def grow(self, values: tuple[int, ...], fees: list[float], table: Knapsack) -> bool:
        """Add columns that lower the cost, each stick's best by largest piece; True if any."""
        problem = self.problem
        dearest = max(1, *problem.costs)
        m = len(problem.weights)
        grew = False
        for s, room in enumerate(problem.rooms):
            if problem.limited[s] and self.counts[s] == 0:
                continue
            wanted = int((problem.costs[s] / dearest + max(0.0, fees[s])) * SCALE * (1 + 1e-9)) + 2
            if table.best(0, room) <= wanted:
                continue
            found = []
            for j in range(m):
                if values[j] == 0 or problem.weights[j] > room:
                    continue
                for n in range(1, min(self.demand[j], room // problem.weights[j]) + 1):
                    left = room - n * problem.weights[j]
                    worth = n * values[j] + table.best(j + 1, left)
                    if worth > wanted:
                        found.append((-worth, j, n, left))
            found.sort()
            for _, j, n, left in found[: max(8, m // 4)]:
                pattern = ((j, n), *table.pattern(j + 1, left))
                grew |= self.add(Column(s, self._padded(pattern, values, room)))
        return grew

    def _padded(self, pattern: Pattern, values: tuple[int, ...], room: int) -> Pattern:
        """Return the pattern with worthless pieces put where they still fit."""
        weights = self.problem.weights
        held = dict(pattern)
        room -= sum(n * weights[j] for j, n in pattern)
        for j, weight in enumerate(weights):
            if room < weights[-1]:
                break
            more = min(self.demand[j] - held.get(j, 0), room // weight)
            if more > 0:
                held[j] = held.get(j, 0) + more
                room -= more * weight
        return tuple(sorted(held.items()))
