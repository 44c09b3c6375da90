"""Lengths as whole numbers: the grid of one nanometre, and the same problem in smaller numbers.

A nanometre, not a micrometre, because every 1/64 in is a whole number of nanometres (396 875):
two pieces that share a stick exactly in inches share it exactly here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from leafwright.shop.nest.records import Piece, Rules, Stick

PER_METRE = 10**9
PER_COST = 10**9
# A float within a thousandth of a grid step of a grid point is that point, not the next one:
# 0.1 + 0.2 is 0.3. It is 280 times the spacing of floats near 25 m.
SNAP = Fraction(1, 1000)


@dataclass(frozen=True, slots=True)
class Problem:
    """The nest in whole numbers.

    A pattern holds ``a[j]`` pieces of weight ``weights[j]``; it fits stick ``s`` when
    Σ a·weights ≤ rooms[s] and a ≤ demand. Weights are distinct and fall; ``costs`` have no
    common factor; ``counts`` is never more than the number of pieces.
    """

    weights: tuple[int, ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    counts: tuple[int, ...]
    limited: tuple[bool, ...]
    cost_step: int


def grid_up(length: float) -> int:
    """Return a length [m] in nanometres, rounded up: for what must be there (pieces, kerf)."""
    exact = Fraction(length) * PER_METRE
    nearest = round(exact)
    return nearest if abs(exact - nearest) <= SNAP else math.ceil(exact)


def grid_down(length: float) -> int:
    """Return a length [m] in nanometres, rounded down: for what can be counted on (stock)."""
    exact = Fraction(length) * PER_METRE
    nearest = round(exact)
    return nearest if abs(exact - nearest) <= SNAP else math.floor(exact)


def stick_cost(stick: Stick) -> int:
    """Return the cost of one stick in billionths of the sticks' unit of cost."""
    if stick.cost is not None:
        return round(Fraction(stick.cost) * PER_COST)
    return round(Fraction(stick.length) * PER_COST) if stick.kind == "new" else 0


def room_between_trims(stick: Stick, rules: Rules) -> int:
    """Return the length left for pieces once the trims are off [nm]; it may be negative."""
    room = grid_down(stick.length)
    for trim in (rules.trim_start, rules.trim_end):
        if grid_up(trim) > 0:
            room -= grid_up(trim) + grid_up(rules.kerf)
    return room


def as_problem(
    pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], rules: Rules
) -> tuple[Problem, tuple[int, ...]]:
    """Return the nest in whole numbers, and the lengths [nm] that its weights stand for.

    n pieces fit a room U when Σ l + kerf (n − 1) ≤ U, that is when Σ (l + kerf) ≤ U + kerf: the
    kerf goes into the weights. The numbers are then made as small as they can be without
    letting any pattern in or out.
    """
    lengths: dict[int, int] = {}
    for piece in pieces:
        length = grid_up(piece.length)
        lengths[length] = lengths.get(length, 0) + 1
    order = tuple(sorted(lengths, reverse=True))
    demand = tuple(lengths[length] for length in order)
    kerf = grid_up(rules.kerf)
    rooms = tuple(max(0, room_between_trims(stick, rules)) for stick in sticks)
    weights, small_rooms = _smaller(order, demand, kerf, rooms)
    costs = tuple(stick_cost(stick) for stick in sticks)
    step = math.gcd(*costs) or 1
    problem = Problem(
        weights=weights,
        demand=demand,
        rooms=small_rooms,
        costs=tuple(cost // step for cost in costs),
        counts=tuple(
            len(pieces) if stick.count is None else min(stick.count, len(pieces))
            for stick in sticks
        ),
        limited=tuple(stick.count is not None and stick.count < len(pieces) for stick in sticks),
        cost_step=step,
    )
    return problem, order


def _smaller(
    lengths: tuple[int, ...], demand: tuple[int, ...], kerf: int, rooms: tuple[int, ...]
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return weights and rooms as small as found that admit exactly the same patterns.

    In units u of the lengths' common divisor, n pieces fit when Σ l/u ≤ F(n) =
    floor((U + kerf − n·kerf)/u), so a kerf p/q with small q that gives the same F(n) for every
    number of pieces a stick can hold is the same saw.
    """
    unit = math.gcd(*lengths)
    shortest = sorted((length for length, n in zip(lengths, demand, strict=True) for _ in range(n)))
    limits = [_room_by_count(shortest, unit, kerf, room) for room in rooms]
    for q in range(1, 9):
        for p in range(kerf * q // unit, kerf * q // unit + 2):
            small = [_room_for(limit, p, q) for limit in limits]
            if all(room is not None for room in small):
                weights = tuple(length // unit * q + p for length in lengths)
                return weights, tuple(room for room in small if room is not None)
    weights = tuple(length + kerf for length in lengths)
    divisor = math.gcd(*weights)
    return tuple(w // divisor for w in weights), tuple((r + kerf) // divisor for r in rooms)


def _room_by_count(shortest: list[int], unit: int, kerf: int, room: int) -> list[tuple[int, int]]:
    """Return, for n = 1, 2, … pieces, (F(n), the least n pieces take) in units, the first n
    that cannot fit included."""
    limit = []
    least = 0
    for n, length in enumerate(shortest, start=1):
        least += length // unit
        most = (room + kerf - n * kerf) // unit
        limit.append((most, least))
        if most < least:
            break
    return limit


def _room_for(limit: list[tuple[int, int]], p: int, q: int) -> int | None:
    """Return a room in units/q that with kerf p/q admits what ``limit`` admits, or None."""
    low, high = 0, None
    for n, (most, least) in enumerate(limit, start=1):
        if most < least:
            top = least * q + n * p - 1
        else:
            low = max(low, most * q + n * p)
            top = most * q + n * p + q - 1
        high = top if high is None else min(high, top)
    return low if high is None or low <= high else None
