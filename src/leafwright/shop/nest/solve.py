"""The nest: pieces laid out on sticks at least cost, from records to records."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from leafwright.records import Held, Metres
from leafwright.shop.nest.columns import Column, Meter
from leafwright.shop.nest.first import Packing
from leafwright.shop.nest.grid import (
    PER_COST,
    PER_METRE,
    Problem,
    as_problem,
    grid_down,
    grid_up,
    room_between_trims,
)
from leafwright.shop.nest.records import Cut, Layout, Nest, Piece, Rules, Stick
from leafwright.shop.nest.search import Found, NoPacking, search
from leafwright.shop.nest.tidy import longest_drop, set_ups, tidiest
from leafwright.shop.nest.verify import verify

DEFAULT_WORK = 500_000
NAMED = 6


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
    of the two the proof rests on. Among packings of equal cost, fewest set-ups and then the
    longest drop are looked for, not proven.

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
    problem, lengths = as_problem(pieces, sticks, rules)
    meter = Meter(work_limit)
    found = search(problem, meter)
    if isinstance(found, NoPacking):
        return _not_enough(found, pieces, sticks, rules, lengths)

    def drop_of(column: Column) -> int:
        *_, drop = _shares(column, sticks, rules, lengths)
        return drop if drop >= grid_up(reusable_drop_from) else 0

    packings = (*found.packings, *_in_repeats(problem, found.cost, meter))
    packing = tidiest(problem, packings, drop_of)
    answer = _as_nest(problem, found, packing, pieces, sticks, rules, lengths, meter.done)
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
        for name in sorted({n for n in names if names.count(n) > 1}):
            wrong.append(f"{what} {name!r} is given {names.count(name)} times; give each once")
    if wrong:
        raise ValueError("; ".join(wrong))


def _too_long(pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], rules: Rules) -> Held | None:
    """Return Held naming the pieces longer than any stick, None when there are none."""
    there = [stick for stick in sticks if stick.count != 0]
    if not there:
        return Held("there is no stick to cut from", ("at least one stick",))
    longest = max(there, key=lambda stick: room_between_trims(stick, rules))
    room = room_between_trims(longest, rules)
    over = [piece for piece in pieces if grid_up(piece.length) > room]
    if not over:
        return None
    trimmed = " once its ends are trimmed" if rules.trim_start or rules.trim_end else ""
    return Held(
        f"longer than any stick: {_named(over)}; the longest stick, {longest.name!r} of "
        f"{longest.length:.4f} m, holds {max(0, room) / PER_METRE:.4f} m{trimmed}",
        tuple(f"a stick for {piece.key!r}, {piece.length:.4f} m and the trims" for piece in over),
    )


def _named(pieces: list[Piece]) -> str:
    names = ", ".join(f"{piece.key!r} ({piece.length:.4f} m)" for piece in pieces[:NAMED])
    return names + (f" and {len(pieces) - NAMED} more" if len(pieces) > NAMED else "")


def _not_enough(
    found: NoPacking,
    pieces: tuple[Piece, ...],
    sticks: tuple[Stick, ...],
    rules: Rules,
    lengths: tuple[int, ...],
) -> Held:
    """Return Held naming pieces that found no stick in the fullest attempt."""
    left = []
    for j in sorted(set(found.left)):
        alike = [piece for piece in pieces if grid_up(piece.length) == lengths[j]]
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


def _shares(
    column: Column, sticks: tuple[Stick, ...], rules: Rules, lengths: tuple[int, ...]
) -> tuple[int, int, int, int]:
    """Return where the first piece starts, the trims, the kerfs and the drop [nm] of a column."""
    stick = sticks[column.stick]
    kerf, start, end = grid_up(rules.kerf), grid_up(rules.trim_start), grid_up(rules.trim_end)
    count = sum(n for _, n in column.pattern)
    kerfs = kerf * (count - 1 + (start > 0) + (end > 0))
    parts = sum(lengths[j] * n for j, n in column.pattern)
    remainder = grid_down(stick.length) - start - end - kerfs - parts
    parting = min(kerf, remainder)
    first = start + kerf if start > 0 else 0
    return first, start + end, kerfs + parting, remainder - parting


def _as_nest(
    problem: Problem,
    found: Found,
    packing: Packing,
    pieces: tuple[Piece, ...],
    sticks: tuple[Stick, ...],
    rules: Rules,
    lengths: tuple[int, ...],
    work: int,
) -> Nest:
    waiting: dict[int, list[str]] = {length: [] for length in lengths}
    for piece in reversed(pieces):
        waiting[grid_up(piece.length)].append(piece.key)
    times = dict.fromkeys((column.pattern for column in packing), 0)
    for column, n in packing.items():
        times[column.pattern] += n
    layouts = []
    kerf = grid_up(rules.kerf)
    # Like patterns together, the most repeated first; within them offcuts before new sticks.
    for column in sorted(
        packing,
        key=lambda c: (-times[c.pattern], c.pattern, sticks[c.stick].kind == "new", c.stick),
    ):
        first, trims, kerfs, drop = _shares(column, sticks, rules, lengths)
        for _ in range(packing[column]):
            at, cuts = first, []
            for j, n in column.pattern:
                for _ in range(n):
                    key = waiting[lengths[j]].pop()
                    cuts.append(Cut(key, at / PER_METRE, lengths[j] / PER_METRE))
                    at += lengths[j] + kerf
            layouts.append(
                Layout(
                    sticks[column.stick],
                    tuple(cuts),
                    trims / PER_METRE,
                    kerfs / PER_METRE,
                    drop / PER_METRE,
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
    )
