"""Whole numbers of patterns: costs that can be, every pattern that can matter, HiGHS's search."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from fractions import Fraction

import highspy
import numpy as np

from leafwright.shop.nest.columns import SCALE, Column, Meter, Prices, quiet_highs
from leafwright.shop.nest.first import Packing
from leafwright.shop.nest.grid import Problem
from leafwright.shop.nest.knapsack import Knapsack

MOST_BITS = 4_000_000
# Work that HiGHS does between two questions whether to go on: at least this, and more the wider
# the program is. In simplex iterations of the master's, as timed.
ASKED = 400
ASKED_OF_A_COLUMN = 0.4


class Costs:
    """The costs, up to a limit, that some number of each stick adds up to."""

    def __init__(self, problem: Problem, limit: int) -> None:
        """Mark every cost that can be; past MOST_BITS units every whole number passes for one."""
        self.limit = limit
        self.bits = 1
        if limit > MOST_BITS:
            self.bits = -1
            return
        mask = (1 << (limit + 1)) - 1
        for cost, count in zip(problem.costs, problem.counts, strict=True):
            left = min(count, limit // cost) if cost else 0
            batch = 1
            while left > 0:
                batch = min(batch, left)
                self.bits |= (self.bits << (batch * cost)) & mask
                left -= batch
                batch *= 2

    def at_least(self, bound: Fraction | int) -> int | None:
        """Return the least cost that can be and is not under ``bound``, None past the limit."""
        start = max(0, math.ceil(bound))
        if start > self.limit:
            return None
        rest = self.bits >> start
        return start + ((rest & -rest).bit_length() - 1) if rest else None

    def under(self, cost: int) -> int:
        """Return the greatest cost that can be and is under ``cost``, −1 when there is none."""
        if self.bits < 0:
            return cost - 1
        return (self.bits & ((1 << cost) - 1)).bit_length() - 1


def patterns_within(
    problem: Problem,
    prices: Prices,
    table: Knapsack,
    target: int,
    most: int,
    meter: Meter,
    takes: Callable[[Column], bool] | None = None,
) -> list[Column] | None:
    """Return every full pattern that a packing of cost ≤ ``target`` can use, None if over ``most``.

    A pattern's reduced cost is its stick's cost + fee − what it earns; a packing costs at least
    the bound plus the reduced costs of its patterns, so none may exceed target − bound. A
    pattern to which a piece could be added need not be kept: covering a type twice is allowed.
    Where a stick does not take every pattern that fits, ``takes`` says which, and all of those
    are kept.
    """
    dearest = max(1, *problem.costs)
    slack = target - prices.bound
    found: list[Column] = []
    for s, room in enumerate(problem.rooms):
        if problem.counts[s] == 0:
            continue
        earn = problem.costs[s] + prices.fees[s] - slack
        least = max(0, math.ceil(earn * SCALE / (dearest * prices.share))) if prices.share else 0
        some = _patterns(
            problem, prices.values, table, room, least, most - len(found), meter, s, takes
        )
        if some is None:
            return None
        found += [Column(s, pattern) for pattern in some]
    return found


def _patterns(
    problem: Problem,
    values: tuple[int, ...],
    table: Knapsack,
    room: int,
    least: int,
    most: int,
    meter: Meter,
    stick: int,
    takes: Callable[[Column], bool] | None,
) -> list[tuple[tuple[int, int], ...]] | None:
    weights, demand = problem.weights, problem.demand
    m = len(weights)
    found: list[tuple[tuple[int, int], ...]] = []
    start: tuple[int, int, int, tuple[tuple[int, int], ...]] = (0, room, 0, ())
    todo = [start]
    while todo:
        j, left, worth, pattern = todo.pop()
        meter.done += 1
        while j < m and weights[j] > left:
            j += 1
        if j == m:
            kept = (
                _is_full(problem, dict(pattern), left)
                if takes is None
                else takes(Column(stick, pattern))
            )
            if pattern and kept:
                found.append(pattern)
                if len(found) > most:
                    return None
            continue
        for n in range(min(demand[j], left // weights[j]) + 1):
            rest = left - n * weights[j]
            gained = worth + n * values[j]
            if gained + table.best(j + 1, rest) >= least:
                todo.append((j + 1, rest, gained, (*pattern, (j, n)) if n else pattern))
        if meter.spent() or len(todo) > 50 * most + 10_000:
            return None
    return found


def _is_full(problem: Problem, held: dict[int, int], left: int) -> bool:
    for j in range(len(problem.weights) - 1, -1, -1):
        if problem.weights[j] > left:
            return True
        if held.get(j, 0) < problem.demand[j]:
            return False
    return True


def most_covered(problem: Problem, prices: Prices, target: int) -> list[float]:
    """Return how often each type can be covered in a packing of cost ≤ ``target``.

    Each cover beyond the demand costs the type's price on top of the bound. Most limits come
    out at the demand itself, and equations search far better than inequalities.
    """
    dearest = max(1, *problem.costs)
    slack = target - prices.bound
    limits = []
    for value, demand in zip(prices.values, problem.demand, strict=True):
        price = prices.share * value * dearest / SCALE
        limits.append(demand + math.floor(slack / price) if price else highspy.kHighsInf)
    return limits


def whole_packing(
    problem: Problem,
    columns: Sequence[Column],
    covered: Sequence[float],
    target: int,
    share_of_work: int,
    meter: Meter,
    *,
    least: int | None = None,
    marked: Sequence[float] | None = None,
    drawn: int | None = None,
) -> tuple[Packing | None, bool]:
    """Return a packing from these columns that costs ``target``, and whether HiGHS finished.

    ``covered`` is the most that each type may be covered. With ``least`` it is the cheapest
    packing that costs from that to ``target``; with ``marked``, a number for each column, the
    packing with the least sum of those. (None, True) means that there is no such packing: HiGHS's
    branch and bound says so. With ``drawn`` it is the first that is met: the columns are then
    marked at random from that seed, which parts those that are equally good, and what presolving
    would take longer to find is left out; by half quicker than else where there is a packing.
    """
    if not columns:
        return None, True
    m, sticks = len(problem.weights), len(problem.rooms)
    costs = np.array([problem.costs[c.stick] for c in columns], dtype=float)
    starts, index, value = [0], [], []
    for column in columns:
        for j, n in column.pattern:
            index.append(j)
            value.append(float(n))
        index += [m + column.stick, m + sticks]
        value += [1.0, float(problem.costs[column.stick])]
        starts.append(len(index))
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(columns), m + sticks + 1
    if drawn is not None:
        chance = random.Random(drawn)
        marked = [chance.random() for _ in columns]
    lp.col_cost_ = costs if marked is None else np.array(marked, dtype=float)
    lp.col_lower_ = np.zeros(len(columns))
    lp.col_upper_ = np.array(
        [
            min(
                problem.counts[c.stick],
                max(math.ceil(problem.demand[j] / n) for j, n in c.pattern),
            )
            for c in columns
        ],
        dtype=float,
    )
    floor = target if least is None else least
    lp.row_lower_ = np.array([*problem.demand, *([0] * sticks), floor], dtype=float)
    lp.row_upper_ = np.array([*covered, *problem.counts, target], dtype=float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(value)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    h = quiet_highs()
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 0.999)
    if drawn is not None:
        h.setOptionValue("presolve", "off")
        h.setOptionValue("mip_detect_symmetry", False)
        h.setOptionValue("mip_max_improving_sols", 1)
        # Their inner programs take seconds without asking whether to go on.
        h.setOptionValue("mip_heuristic_run_rens", False)
        h.setOptionValue("mip_heuristic_run_root_reduced_cost", False)
    # HiGHS tells a callback neither its simplex iterations nor, below the root, its nodes, so what
    # is counted is how often it asks whether to go on.
    each = max(ASKED, int(ASKED_OF_A_COLUMN * len(columns)))
    most = min(share_of_work, max(0, meter.limit - meter.done)) // each
    asked = [0]

    def stop(event: highspy.highs.HighsCallbackEvent) -> None:
        asked[0] += 1
        if asked[0] > most:
            event.interrupt()

    h.cbMipInterrupt += stop
    h.passModel(lp)
    h.run()
    info = h.getInfo()
    meter.done += asked[0] * each
    status = h.getModelStatus()
    if info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
        packing = {
            column: n
            for column, x in zip(columns, h.getSolution().col_value, strict=True)
            if (n := round(x)) > 0
        }
        return trimmed(problem, packing), status == highspy.HighsModelStatus.kOptimal
    return None, status == highspy.HighsModelStatus.kInfeasible


def trimmed(problem: Problem, packing: Packing) -> Packing | None:
    """Return the packing with pieces cut too often taken out, None if some are not cut at all."""
    over = [-d for d in problem.demand]
    for column, n in packing.items():
        for j, k in column.pattern:
            over[j] += n * k
    if min(over, default=0) < 0:
        return None
    exact: Packing = {}
    for column in sorted(packing, key=lambda c: (len(c.pattern), c.stick, c.pattern)):
        for _ in range(packing[column]):
            pattern = []
            for j, k in column.pattern:
                spare = min(k, over[j])
                over[j] -= spare
                if k > spare:
                    pattern.append((j, k - spare))
            if pattern:
                kept = Column(column.stick, tuple(pattern))
                exact[kept] = exact.get(kept, 0) + 1
    return exact
