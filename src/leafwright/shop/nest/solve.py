"""The nest: pieces laid out on sticks at least cost, from records to records."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from leafwright.records import Held, Metres
from leafwright.shop.nest.columns import Column, Meter
from leafwright.shop.nest.first import Packing
from leafwright.shop.nest.grid import (
    PER_COST,
    PER_METRE,
    Problem,
    Shape,
    as_problem,
    grid_down,
    grid_up,
    room_between_trims,
)
from leafwright.shop.nest.narrow import Bench, bench_of, narrowed, spared
from leafwright.shop.nest.records import Cut, Layout, Nest, Piece, Rules, Stick
from leafwright.shop.nest.search import Found, NoPacking, search
from leafwright.shop.nest.tidy import longest_drop, set_ups, tidiest
from leafwright.shop.nest.verify import verify

DEFAULT_WORK = 500_000
NAMED = 6
#: Steepest end that is sawn, from square [rad].
STEEPEST = math.radians(89.0)


def nest(
    pieces: Sequence[Piece],
    sticks: Sequence[Stick],
    rules: Rules,
    *,
    work_limit: int = DEFAULT_WORK,
    reusable_drop_from: Metres = 0.3,
) -> Nest | Held:
    """Return the pieces laid out on sticks at least cost, or Held where they cannot be.

    How a stick is cut is stated in `records`. The answer is the same whenever it is asked.
    The bound is exact: prices from a linear program, rounded down to whole numbers, hold
    against every pattern by an exact knapsack (`columns.exact_bound`); it is then raised to the
    least cost that whole sticks add up to. Where that leaves a gap, every pattern that could
    do better is listed and the HiGHS integer program searches them all; ``status`` says which
    of the two the proof rests on. Among packings of equal cost, fewest sticks that must be picked
    straight, then fewest set-ups and then the longest drop are looked for, not proven.

    pieces: one for each physical part, keys unique, lengths over zero [m].
    sticks: the stock, names unique; see `Stick` for cost and count.
    rules: kerf and end trims [m].
    work_limit: how much work to do before settling for a bound: simplex iterations, knapsack
        rows and patterns looked at [-].
    reusable_drop_from: the shortest drop worth keeping [m]; 0.3 m is common practice, no source.

    Lengths are taken to the nanometre, pieces and kerf up, stock down. Raises ValueError for
    a length, cost or count that cannot be, or a repeated key or name.
    """
    pieces, sticks = tuple(pieces), tuple(sticks)
    _refuse_nonsense(pieces, sticks, rules)
    if not pieces:
        return Nest((), 0.0, 0.0, 0.0, 0.0, True, 0, 0.0, 0, "nothing to cut")
    held = _too_long(pieces, sticks, rules)
    if held is not None:
        return held
    problem, shape = as_problem(pieces, sticks, rules)
    bench = bench_of(problem, shape, sticks, rules)
    meter = Meter(work_limit)
    found = search(problem, meter)
    if bench.narrow:
        found = narrowed(bench, found, meter)
    if isinstance(found, NoPacking):
        return _not_enough(found, pieces, sticks, rules, shape)

    def drop_of(column: Column) -> int:
        drop = laid_out(bench, column).drop
        return drop if drop >= grid_up(reusable_drop_from) else 0

    packings = (
        *found.packings,
        *(p for p in _in_repeats(problem, found.cost, meter) if all(map(bench.takes, p))),
        *spared(bench, found, meter),
    )
    packing = tidiest(problem, packings, drop_of, bench.takes, bench.straight)
    answer = _as_nest(bench, found, packing, pieces, meter.done)
    answer = replace(answer, longest_drop=longest_drop(packing, drop_of) / PER_METRE)
    wrong = verify(answer, pieces, sticks, rules)
    if wrong:
        raise RuntimeError("the nest failed its own check, please report it: " + "; ".join(wrong))
    return answer


def _refuse_nonsense(pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], rules: Rules) -> None:
    wrong = []
    for piece in pieces:
        if not (math.isfinite(piece.length) and grid_up(piece.length) > 0):
            wrong.append(f"piece {piece.key!r} has length {piece.length!r} m; give one over zero")
        for end in (piece.start, piece.end):
            if not (0 <= end.angle < STEEPEST and 0 <= end.reach <= piece.length):
                wrong.append(
                    f"piece {piece.key!r} has an end at {math.degrees(end.angle):.4g}° that "
                    f"reaches {end.reach!r} m; give 0° to under 89°, no longer than it"
                )
    for stick in sticks:
        if not (math.isfinite(stick.length) and stick.length > 0):
            wrong.append(f"stick {stick.name!r} has length {stick.length!r} m; give one over zero")
        if stick.cost is not None and not (math.isfinite(stick.cost) and stick.cost >= 0):
            wrong.append(f"stick {stick.name!r} costs {stick.cost!r}; give zero or more")
        if stick.count is not None and stick.count < 0:
            wrong.append(f"stick {stick.name!r} has count {stick.count!r}; give zero or more")
    for name in ("kerf", "trim_start", "trim_end"):
        value = getattr(rules, name)
        if not (math.isfinite(value) and value >= 0):
            wrong.append(f"{name} is {value!r} m; give zero or more")
    for what, names in (
        ("piece key", [piece.key for piece in pieces]),
        ("stick name", [stick.name for stick in sticks]),
    ):
        for name, times in sorted(Counter(names).items()):
            if times > 1:
                wrong.append(f"{what} {name!r} is given {times} times; give each once")
    if wrong:
        raise ValueError("; ".join(wrong))


def _too_long(pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], rules: Rules) -> Held | None:
    """Return Held naming the pieces longer than any stick, None when there are none."""
    there = [stick for stick in sticks if stick.count != 0]
    if not there:
        return Held("there is no stick to cut from", ("at least one stick",))
    over = [piece for piece in pieces if not any(_alone(piece, stick, rules) for stick in there)]
    if not over:
        return None
    long = [piece for piece in over if all(piece.length > room for room in _rooms(there, rules))]
    if not long and any(piece.straight for piece in over):
        return Held(
            f"no straight stick is long enough: {_named(over)}; the sticks that would be long "
            "enough are not said to be straight",
            tuple(f"a straight stick for {piece.key!r}, {piece.length:.4f} m" for piece in over),
        )
    longest = max(there, key=lambda stick: room_between_trims(stick, rules))
    room = room_between_trims(longest, rules)
    trimmed = " once its ends are trimmed" if rules.trim_start or rules.trim_end else ""
    return Held(
        f"longer than any stick: {_named(over)}; the longest stick, {longest.name!r} of "
        f"{longest.length:.4f} m, holds {max(0, room) / PER_METRE:.4f} m{trimmed}",
        tuple(f"a stick for {piece.key!r}, {piece.length:.4f} m and the trims" for piece in over),
    )


def _rooms(sticks: list[Stick], rules: Rules) -> list[float]:
    return [room_between_trims(stick, rules) / PER_METRE for stick in sticks]


def _alone(piece: Piece, stick: Stick, rules: Rules) -> bool:
    """Return whether one piece comes out of a stick."""
    if piece.straight and not stick.straight:
        return False
    need = grid_up(piece.length)
    for trim, end in ((rules.trim_start, piece.start), (rules.trim_end, piece.end)):
        if grid_up(trim) > 0:
            need += grid_up(trim) + grid_up(rules.kerf / math.cos(end.angle))
    return need <= grid_down(stick.length)


def _named(pieces: list[Piece]) -> str:
    names = ", ".join(f"{piece.key!r} ({piece.length:.4f} m)" for piece in pieces[:NAMED])
    return names + (f" and {len(pieces) - NAMED} more" if len(pieces) > NAMED else "")


def _not_enough(
    found: NoPacking,
    pieces: tuple[Piece, ...],
    sticks: tuple[Stick, ...],
    rules: Rules,
    shape: Shape,
) -> Held:
    """Return Held naming pieces that found no stick in the fullest attempt."""
    left = []
    for j in sorted(set(found.left)):
        alike = [piece for piece, k in zip(pieces, shape.type_of, strict=True) if k == j]
        left += alike[-found.left.count(j) :]
    sure = (
        "the sticks cannot hold the pieces"
        if found.impossible
        else "no way was found, within the work limit, to get the pieces out of the sticks"
    )
    room = sum(max(0, room_between_trims(stick, rules)) * (stick.count or 0) for stick in sticks)
    need = sum(grid_up(piece.length) for piece in pieces)
    return Held(
        f"{sure}: the pieces come to {need / PER_METRE:.4f} m before kerfs, the sticks hold "
        f"{room / PER_METRE:.4f} m; in the fullest try these were left over: {_named(left)}",
        tuple(f"room for {piece.key!r}, {piece.length:.4f} m" for piece in left),
    )


def _in_repeats(problem: Problem, cost: int, meter: Meter) -> tuple[Packing, ...]:
    """Return packings of the same cost that cut one share of the pieces several times over.

    Four like leaves are a quarter nested once and cut four times, where that costs no more.
    """
    times = math.gcd(*problem.demand)
    if times == 1:
        return ()
    share = replace(
        problem,
        demand=tuple(d // times for d in problem.demand),
        counts=tuple(count // times for count in problem.counts),
        limited=tuple(True for _ in problem.limited),
    )
    small = Meter(2_000)
    found = search(share, small)
    meter.done += small.done
    if isinstance(found, NoPacking) or found.cost * times != cost:
        return ()
    return tuple({column: n * times for column, n in packing.items()} for packing in found.packings)


@dataclass(frozen=True, slots=True)
class LaidOut:
    """One pattern on its stick [nm]: each piece's type, place and start, and where the rest goes.

    ``places`` are (type, end for end, sharing its cut, start).
    """

    places: tuple[tuple[int, bool, bool, int], ...]
    trims: int
    kerfs: int
    drop: int
    shared: int


def laid_out(bench: Bench, column: Column) -> LaidOut:
    """Return a pattern on its stick, in the order that takes least."""
    gaps, types, rules = bench.shape.gaps, bench.shape.types, bench.rules
    each = [j for j, n in column.pattern for _ in range(n)]
    start, end = grid_up(rules.trim_start), grid_up(rules.trim_end)
    at, dust, shared, last = start, 0, 0, -1
    places = []
    for placed in bench.order(column.pattern).pieces:
        j = each[placed.index]
        first, far = types[j].kinds[::-1] if placed.reversed else types[j].kinds
        if last < 0:
            step = gaps.kerfs[first] if start > 0 else 0
            dust += step
        else:
            step = gaps.apart(last, first)
            cut = gaps.kerfs[first] if placed.shared else step
            dust += cut
            shared += cut - step
        at += step
        places.append((j, placed.reversed, placed.shared, at))
        at += types[j].length
        last = far
    room = grid_down(bench.sticks[column.stick].length) - end
    if end > 0:
        room -= gaps.kerfs[last]
        dust += gaps.kerfs[last]
    parting = min(gaps.kerfs[last], room - at)
    return LaidOut(tuple(places), start + end, dust + parting, room - at - parting, shared)


def _as_nest(
    bench: Bench, found: Found, packing: Packing, pieces: tuple[Piece, ...], work: int
) -> Nest:
    problem, sticks, shape = bench.problem, bench.sticks, bench.shape
    waiting: dict[int, list[Piece]] = {j: [] for j in range(len(shape.types))}
    for piece, j in zip(reversed(pieces), reversed(shape.type_of), strict=True):
        waiting[j].append(piece)
    times = dict.fromkeys((column.pattern for column in packing), 0)
    for column, n in packing.items():
        times[column.pattern] += n
    layouts = []
    # Like patterns together, the most repeated first; within them offcuts before new sticks.
    for column in sorted(
        packing,
        key=lambda c: (-times[c.pattern], c.pattern, sticks[c.stick].kind == "new", c.stick),
    ):
        laid = laid_out(bench, column)
        for _ in range(packing[column]):
            cuts: list[Cut] = []
            far_low = True
            for j, turned, shared, at in laid.places:
                piece = waiting[j].pop()
                # The type's ends are in rising kind; the piece's own may be the other way round.
                kinds = shape.types[j].kinds
                own = kinds if piece.key not in shape.crossed else kinds[::-1]
                first = kinds[::-1] if turned else kinds
                back = own != first
                near, far = (piece.end, piece.start) if back else (piece.start, piece.end)
                over = shared and near.low == far_low
                far_low = far.low != over
                cuts.append(
                    Cut(
                        piece.key,
                        at / PER_METRE,
                        shape.types[j].length / PER_METRE,
                        back,
                        over,
                        shared,
                        piece.straight,
                    )
                )
            layouts.append(
                Layout(
                    sticks[column.stick],
                    tuple(cuts),
                    laid.trims / PER_METRE,
                    laid.kerfs / PER_METRE,
                    laid.drop / PER_METRE,
                    laid.shared / PER_METRE,
                )
            )
    cost = Fraction(found.cost * problem.cost_step, PER_COST)
    proven = found.bound >= found.cost
    # Rounded down, so that what is shown is still a bound.
    bound = cost if proven else Fraction(math.floor(found.bound * problem.cost_step), PER_COST)
    bought = sum(grid_down(layout.stick.length) for layout in layouts if layout.stick.kind == "new")
    gap = float(cost - bound)
    if proven:
        status = f"least cost, proven: {found.how}"
    else:
        status = (
            f"not proven: at most {gap:.6g} over the least cost; the work limit was reached "
            f"(bound: {found.how})"
        )
    return Nest(
        layouts=tuple(layouts),
        cost=float(cost),
        bought_length=bought / PER_METRE,
        bound=float(bound),
        gap=gap,
        proven=proven,
        set_ups=set_ups(packing),
        longest_drop=0.0,
        work=work,
        status=status,
        shared_cuts=sum(cut.shared for layout in layouts for cut in layout.cuts),
        straight_sticks=sum(n for column, n in packing.items() if bench.straight(column)),
    )
