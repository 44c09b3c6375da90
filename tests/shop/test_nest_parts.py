"""The nest's exact parts: knapsack tables, small whole numbers, bounds, every pattern listed."""

from __future__ import annotations

import itertools
import math
import random
from fractions import Fraction

from leafwright.shop.nest import Piece, Rules, Stick
from leafwright.shop.nest.columns import SCALE, Column, Master, Meter, exact_bound
from leafwright.shop.nest.grid import Problem, as_problem, grid_down, grid_up
from leafwright.shop.nest.integer import Costs, most_covered, patterns_within, whole_packing
from leafwright.shop.nest.knapsack import _by_room, _by_sum, knapsack
from tests.sizes import cases


def test_grid_rounds_parts_up_and_stock_down_but_not_float_dust() -> None:
    assert grid_up(0.1 + 0.2) == grid_down(0.1 + 0.2) == 300_000_000
    assert (grid_up(1 / 3), grid_down(1 / 3)) == (333_333_334, 333_333_333)
    assert grid_up(0.0254 / 64) == 396_875


def every_pattern(demand: tuple[int, ...]) -> list[tuple[int, ...]]:
    return list(itertools.product(*(range(d + 1) for d in demand)))


def worth(pattern: tuple[int, ...], of: tuple[int, ...]) -> int:
    return sum(a * b for a, b in zip(pattern, of, strict=True))


def a_knapsack(
    draw: random.Random,
) -> tuple[tuple[int, ...], tuple[int, ...], tuple[int, ...], int]:
    room = draw.randint(5, 60)
    weights = tuple(sorted(draw.sample(range(1, room + 1), draw.randint(1, 5)), reverse=True))
    values = tuple(draw.randint(0, 30) for _ in weights)
    return weights, values, tuple(draw.randint(0, 4) for _ in weights), room


def test_both_knapsack_tables_give_the_best_of_every_pattern() -> None:
    draw = random.Random(2)
    for _ in range(cases(100, 1000)):
        weights, values, demand, room = a_knapsack(draw)
        best = max(worth(p, values) for p in every_pattern(demand) if worth(p, weights) <= room)
        by_room, _ = _by_room(weights, values, demand, room)
        by_sum, _ = _by_sum(weights, values, demand, room)
        assert by_room[0][-1] == by_sum[0][-1] == best
        found = dict(knapsack(weights, values, demand, room).pattern(0, room))
        held = tuple(found.get(j, 0) for j in range(len(weights)))
        assert worth(held, values) == best
        assert worth(held, weights) <= room
        assert all(n <= d for n, d in zip(held, demand, strict=True))


def test_the_smaller_numbers_let_the_same_patterns_in() -> None:
    draw = random.Random(4)
    for _ in range(cases(25, 500)):
        unit = draw.choice([1587500, 1000000, 25400000 / 64 / 1e0])
        kinds = sorted({draw.randint(3, 40) for _ in range(draw.randint(1, 4))}, reverse=True)
        kerf = draw.choice([0.0, 0.0023876, 0.003, 0.0031, draw.random() * 0.004])
        pieces = tuple(
            Piece(f"{k}/{i}", k * unit * 1e-9) for k in kinds for i in range(draw.randint(1, 3))
        )
        stick = Stick("new", "bar", draw.randint(45, 90) * unit * 1e-9 + draw.random() * 1e-3)
        problem, shape = as_problem(pieces, (stick,), Rules(kerf))
        lengths = tuple(one.length for one in shape.types)
        for pattern in every_pattern(problem.demand):
            count = sum(pattern)
            true = worth(pattern, lengths) + max(0, count - 1) * grid_up(kerf)
            assert (worth(pattern, problem.weights) <= problem.rooms[0]) == (
                true <= grid_down(stick.length)
            )


def a_problem(draw: random.Random) -> Problem:
    rooms = tuple(sorted(draw.sample(range(20, 41), 2), reverse=True))
    weights = tuple(sorted(draw.sample(range(4, 19), 3), reverse=True))
    return Problem(
        weights=weights,
        demand=tuple(draw.randint(1, 3) for _ in weights),
        rooms=rooms,
        costs=(draw.randint(4, 8), draw.randint(1, 4)),
        counts=(9, draw.choice([1, 2, 9])),
        limited=(False, True),
        cost_step=1,
    )


def least_cost(problem: Problem) -> int:
    """The least cost by dynamic programming over every demand left and every limited count."""
    fitting = [
        [p for p in every_pattern(problem.demand) if any(p) and worth(p, problem.weights) <= room]
        for room in problem.rooms
    ]
    known: dict[tuple[tuple[int, ...], int], int] = {}

    def least(left: tuple[int, ...], limited: int) -> int:
        if not any(left):
            return 0
        if (left, limited) not in known:
            best = 10**9
            for s, patterns in enumerate(fitting):
                if s == 1 and limited == 0:
                    continue
                for p in patterns:
                    after = tuple(max(0, d - a) for d, a in zip(left, p, strict=True))
                    if after != left:
                        cost = problem.costs[s] + least(after, limited - (s == 1))
                        best = min(best, cost)
            known[left, limited] = best
        return known[left, limited]

    return least(problem.demand, problem.counts[1])


def test_no_prices_at_all_prove_more_than_the_least_cost() -> None:
    draw = random.Random(6)
    for _ in range(cases(25, 500)):
        problem = a_problem(draw)
        least = least_cost(problem)
        for _ in range(5):
            values = tuple(draw.randint(0, SCALE) for _ in problem.weights)
            table = knapsack(problem.weights, values, problem.demand, max(problem.rooms))
            prices = exact_bound(problem, problem.demand, problem.counts, values, table)
            assert prices.bound <= least


def test_the_patterns_listed_for_a_target_hold_a_packing_exactly_when_there_is_one() -> None:
    """HiGHS over the listed patterns finds the least cost, and none at any cost under it."""
    draw = random.Random(7)
    for _ in range(cases(25, 300)):
        problem = a_problem(draw)
        least = least_cost(problem)
        meter = Meter(10**7)
        master = Master(problem, meter)
        for s, room in enumerate(problem.rooms):
            for j, weight in enumerate(problem.weights):
                if weight <= room:
                    master.add(Column(s, ((j, 1),)))
        _, _, prices = master.generate(Fraction(10**9))
        table = knapsack(problem.weights, prices.values, problem.demand, max(problem.rooms))
        for target in range(max(0, math.ceil(prices.bound)), least + 1):
            columns = patterns_within(problem, prices, table, target, 10_000, meter)
            assert columns is not None
            covered = most_covered(problem, prices, target)
            packing, finished = whole_packing(problem, columns, covered, target, 10**6, meter)
            assert finished
            assert (packing is not None) == (target == least)


def test_costs_that_can_be_are_sums_of_sticks() -> None:
    problem = Problem((5,), (3,), (9, 9), (7, 4), (3, 2), (False, True), 1)
    costs = Costs(problem, 30)
    sums = sorted({7 * a + 4 * b for a in range(4) for b in range(3)})
    for bound in range(-2, 30):
        at_least = next((c for c in sums if c >= bound and c <= 30), None)
        assert costs.at_least(bound) == at_least
    for cost in range(1, 31):
        assert costs.under(cost) == max((c for c in sums if c < cost), default=-1)
