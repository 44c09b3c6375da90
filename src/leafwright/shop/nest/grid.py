"""The nest in whole numbers: kinds of piece as weights, sticks as rooms, as small as can be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from leafwright.shop.nest.ends import Gaps, Kinds, ends_of
from leafwright.shop.nest.numbers import PER_COST, PER_METRE, grid_down, grid_up
from leafwright.shop.nest.records import Piece, Rules, Stick

__all__ = [
    "PER_COST",
    "PER_METRE",
    "PieceType",
    "Problem",
    "Shape",
    "as_problem",
    "grid_down",
    "grid_up",
    "room_between_trims",
    "shape_of",
    "stick_cost",
]


@dataclass(frozen=True, slots=True)
class Problem:
    """The nest in whole numbers.

    A pattern holds ``a[j]`` pieces of weight ``weights[j]``; it fits stick ``s`` when
    Σ a·weights ≤ rooms[s] and a ≤ demand. Weights do not rise; ``costs`` have no common factor;
    ``counts`` is never more than the number of pieces. Where ends are slanted, or some sticks are
    not straight, that a pattern fits so is needed but not enough: see `narrow`.
    """

    weights: tuple[int, ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    counts: tuple[int, ...]
    limited: tuple[bool, ...]
    cost_step: int


@dataclass(frozen=True, slots=True)
class PieceType:
    """Pieces that are one to the saw: length [nm], kinds of both ends, whether straight."""

    length: int
    kinds: Kinds
    straight: bool


@dataclass(frozen=True, slots=True)
class Shape:
    """The types in the order of the problem's weights, each piece's type, and what ends take.

    ``crossed`` are the keys of pieces whose first end is of a higher kind than their last.
    """

    types: tuple[PieceType, ...]
    type_of: tuple[int, ...]
    gaps: Gaps
    crossed: frozenset[str]


def stick_cost(stick: Stick) -> int:
    """Return the cost of one stick in billionths of the sticks' unit of cost."""
    if stick.cost is not None:
        return round(Fraction(stick.cost) * PER_COST)
    return round(Fraction(stick.length) * PER_COST) if stick.kind == "new" else 0


def room_between_trims(stick: Stick, rules: Rules, kerf: int | None = None) -> int:
    """Return the length left for pieces once the trims are off [nm]; it may be negative.

    ``kerf`` is what each trim's cut takes [nm], of itself that of a square cut.
    """
    cut = grid_up(rules.kerf) if kerf is None else kerf
    room = grid_down(stick.length)
    for trim in (rules.trim_start, rules.trim_end):
        if grid_up(trim) > 0:
            room -= grid_up(trim) + cut
    return room


def shape_of(pieces: tuple[Piece, ...], rules: Rules) -> Shape:
    """Return the pieces by type, longest first."""
    gaps, kinds = ends_of(pieces, rules)
    each = [
        PieceType(grid_up(piece.length), (min(ends), max(ends)), piece.straight)
        for piece, ends in zip(pieces, kinds, strict=True)
    ]

    def least(one: PieceType) -> tuple[int, int, Kinds, bool]:
        weight = 2 * one.length + sum(gaps.least(kind) for kind in one.kinds)
        return -weight, -one.length, one.kinds, one.straight

    types = tuple(sorted(set(each), key=least))
    at = {one: j for j, one in enumerate(types)}
    crossed = frozenset(p.key for p, (a, b) in zip(pieces, kinds, strict=True) if a > b)
    return Shape(types, tuple(at[one] for one in each), gaps, crossed)


def as_problem(
    pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], rules: Rules
) -> tuple[Problem, Shape]:
    """Return the nest in whole numbers, and the types that its weights stand for.

    n pieces with square ends fit a room U when Σ l + kerf (n − 1) ≤ U, that is when
    Σ (l + kerf) ≤ U + kerf: the kerf goes into the weights. Of a slanted end half of the least
    that it can lie apart from another goes in, so that no pattern that fits is left out. The
    numbers are then made as small as they can be without letting any pattern in or out.
    """
    shape = shape_of(pieces, rules)
    demand = [0] * len(shape.types)
    for j in shape.type_of:
        demand[j] += 1
    if shape.gaps.plain:
        kerf = shape.gaps.kerfs[0]
        rooms = tuple(max(0, room_between_trims(stick, rules, kerf)) for stick in sticks)
        lengths = tuple(one.length for one in shape.types)
        weights, small_rooms = _smaller(lengths, tuple(demand), kerf, rooms)
    else:
        weights, small_rooms = _halved(shape, sticks, rules)
    costs = tuple(stick_cost(stick) for stick in sticks)
    step = math.gcd(*costs) or 1
    problem = Problem(
        weights=weights,
        demand=tuple(demand),
        rooms=small_rooms,
        costs=tuple(cost // step for cost in costs),
        counts=tuple(
            len(pieces) if stick.count is None else min(stick.count, len(pieces))
            for stick in sticks
        ),
        limited=tuple(stick.count is not None and stick.count < len(pieces) for stick in sticks),
        cost_step=step,
    )
    return problem, shape


def _halved(
    shape: Shape, sticks: tuple[Stick, ...], rules: Rules
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return weights and rooms in half nanometres that let in every pattern that fits.

    Two facing ends a and b lie at least (least(a) + least(b)) / 2 apart. The outermost two ends
    of a stick face nothing; at a trim each takes its own cut instead.
    """
    gaps = shape.gaps
    kinds = range(len(gaps.kerfs))
    weights = tuple(
        2 * one.length + sum(gaps.least(kind) for kind in one.kinds) for one in shape.types
    )
    rooms = []
    for stick in sticks:
        room = 2 * grid_down(stick.length)
        for trim in (rules.trim_start, rules.trim_end):
            if grid_up(trim) > 0:
                room -= 2 * grid_up(trim)
                room -= min(2 * gaps.kerfs[kind] - gaps.least(kind) for kind in kinds)
            else:
                room += max(gaps.least(kind) for kind in kinds)
        rooms.append(max(0, room))
    divisor = math.gcd(*weights)
    return tuple(w // divisor for w in weights), tuple(r // divisor for r in rooms)


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
