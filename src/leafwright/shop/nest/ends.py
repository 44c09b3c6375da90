"""Slanted ends: what each takes of the saw, which share a cut, and the shortest order on a stick.

All lengths are whole nanometres. Two pieces next to each other lie apart, long point to long
point, by the wider of the two cuts, or, sharing one, by that cut less the reach of the slant,
which is mostly a negative number. Any two ends of one slant can share: a tube may be turned over
and end for end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from leafwright.shop.nest.numbers import grid_down, grid_up
from leafwright.shop.nest.records import End, Piece, Rules

#: Reaches of two slants that differ by less are the same slant [nm]: a ten-thousandth of a mm.
SAME_REACH = 100
#: Most states that the shortest order is looked for in; past them a fair order is taken.
MOST_STATES = 4_000
#: Most pieces for which every order is looked at.
MOST_DEEP = 200

Kinds = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Gaps:
    """What each kind of end takes [nm]: its own cut, and the least that it can lie apart by.

    ``kerfs[c]`` is the saw's cut along the stick at that slant; ``shared[c]`` how far apart two
    such ends lie that share it, None where they cannot.
    """

    kerfs: tuple[int, ...]
    shared: tuple[int | None, ...]

    def apart(self, one: int, other: int) -> int:
        """Return how far apart two facing ends lie, long point to long point [nm]."""
        both = self.shared[one]
        if one == other and both is not None:
            return both
        return max(self.kerfs[one], self.kerfs[other])

    def least(self, kind: int) -> int:
        """Return the least that an end can lie apart from any other of its kind [nm]."""
        both = self.shared[kind]
        return self.kerfs[kind] if both is None else both

    @property
    def plain(self) -> bool:
        """Whether every end is cut alike and none shares its cut."""
        return len(self.kerfs) == 1 and self.shared[0] is None


def ends_of(pieces: Sequence[Piece], rules: Rules) -> tuple[Gaps, tuple[Kinds, ...]]:
    """Return the kinds of end among pieces, and each piece's two kinds, the first end's first."""
    slants = sorted(
        {
            grid_down(end.reach)
            for piece in pieces
            for end in (piece.start, piece.end)
            if rules.share and _slanted(end)
        }
    )
    group: dict[int, int] = {}
    for at, reach in enumerate(slants):
        near = at > 0 and reach - group[slants[at - 1]] <= SAME_REACH
        group[reach] = group[slants[at - 1]] if near else reach
    index: dict[tuple[int, int | None], int] = {}
    kerfs: list[int] = []

    def kind(end: End) -> int:
        reach = group[grid_down(end.reach)] if rules.share and _slanted(end) else None
        kerf = grid_up(rules.kerf / math.cos(end.angle))
        # Ends of one slant take the widest of their cuts, which differ by less than the grid.
        key = (0, reach) if reach is not None else (kerf, None)
        at = index.setdefault(key, len(index))
        if at == len(kerfs):
            kerfs.append(kerf)
        kerfs[at] = max(kerfs[at], kerf)
        return at

    kinds = tuple((kind(piece.start), kind(piece.end)) for piece in pieces)
    shared = tuple(
        None if reach is None else kerf - reach
        for (_, reach), kerf in zip(index, kerfs, strict=True)
    )
    return Gaps(tuple(kerfs), shared), kinds


def _slanted(end: End) -> bool:
    return end.shares and grid_down(end.reach) > 0


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece in its place: which of those given, whether end for end, whether it shares."""

    index: int
    reversed: bool
    shared: bool


@dataclass(frozen=True, slots=True)
class Order:
    """Pieces in order on a stick; ``taken`` is all that cuts and sharing take of it [nm].

    ``exact`` is whether no order takes less. The end trims' own lengths are not in it, their
    cuts are.
    """

    pieces: tuple[Placed, ...]
    taken: int
    exact: bool


@dataclass(slots=True)
class Orders:
    """The shortest orders found so far, by how many pieces of each pair of ends there are."""

    gaps: Gaps
    trims: tuple[bool, bool]
    known: dict[tuple[tuple[Kinds, int], ...], tuple[tuple[tuple[Kinds, bool], ...], int, bool]] = (
        field(default_factory=dict)
    )

    def of(self, kinds: Sequence[Kinds]) -> Order:
        """Return the order of pieces, given longest first, that takes least of a stick."""
        count: dict[Kinds, int] = {}
        waiting: dict[Kinds, list[int]] = {}
        for index, (a, b) in enumerate(kinds):
            pair = (min(a, b), max(a, b))
            count[pair] = count.get(pair, 0) + 1
            waiting.setdefault(pair, []).append(index)
        key = tuple(sorted(count.items()))
        if key not in self.known:
            self.known[key] = self._shortest(count)
        turned, taken, exact = self.known[key]
        placed = []
        last: int | None = None
        for pair, back in turned:
            index = waiting[pair].pop(0)
            first, far = (pair[1], pair[0]) if back else pair
            shared = last == first and self.gaps.shared[first] is not None
            placed.append(Placed(index, kinds[index] != (first, far), shared))
            last = far
        return Order(tuple(placed), taken, exact)

    def _shortest(
        self, count: dict[Kinds, int]
    ) -> tuple[tuple[tuple[Kinds, bool], ...], int, bool]:
        """Return the pairs in order, whether each lies end for end, what is taken, exactness."""
        gaps = self.gaps
        # Pieces of the narrowest cut at both ends part each other best: they stay together.
        narrow = min(range(len(gaps.kerfs)), key=lambda c: (gaps.kerfs[c], c))
        block = (narrow, narrow)
        blocked = gaps.shared[narrow] is None and count.get(block, 0) > 1
        pairs = sorted(count, reverse=True)
        start = tuple(1 if blocked and pair == block else count[pair] for pair in pairs)
        extra = (count[block] - 1) * gaps.kerfs[narrow] if blocked else 0
        states = math.prod(n + 1 for n in start) * len(gaps.kerfs)
        exact = states <= MOST_STATES and sum(start) <= MOST_DEEP
        chain, taken = self._exactly(pairs, start) if exact else self._fairly(pairs, start)
        full: list[tuple[Kinds, bool]] = []
        for pair, back in chain:
            full += [(pair, back)] * (count[block] if blocked and pair == block else 1)
        return tuple(full), taken + extra, exact

    def _steps(
        self, pairs: Sequence[Kinds], left: tuple[int, ...], last: int | None
    ) -> list[tuple[int, int, bool, int, tuple[int, ...]]]:
        """Return (taken, which pair, end for end, its far kind, what is left) of each next."""
        found = []
        for i, pair in enumerate(pairs):
            if left[i] == 0:
                continue
            after = (*left[:i], left[i] - 1, *left[i + 1 :])
            for back in (False, True) if pair[0] != pair[1] else (False,):
                first, far = (pair[1], pair[0]) if back else pair
                if last is None:
                    taken = self.gaps.kerfs[first] if self.trims[0] else 0
                else:
                    taken = self.gaps.apart(last, first)
                found.append((taken, i, back, far, after))
        return found

    def _exactly(
        self, pairs: Sequence[Kinds], start: tuple[int, ...]
    ) -> tuple[list[tuple[Kinds, bool]], int]:
        """Return the order that takes least, by trying every state once."""
        best: dict[tuple[tuple[int, ...], int | None], tuple[int, tuple[int, bool, int] | None]]
        best = {}

        def go(left: tuple[int, ...], last: int | None) -> int:
            state = (left, last)
            if state in best:
                return best[state][0]
            if not any(left):
                end = self.gaps.kerfs[last] if self.trims[1] and last is not None else 0
                best[state] = (end, None)
                return end
            least: tuple[int, tuple[int, bool, int] | None] | None = None
            for taken, i, back, far, after in self._steps(pairs, left, last):
                whole = taken + go(after, far)
                if least is None or whole < least[0]:
                    least = (whole, (i, back, far))
            assert least is not None
            best[state] = least
            return least[0]

        whole = go(start, None)
        chain: list[tuple[Kinds, bool]] = []
        left, last = start, None
        while True:
            step = best[left, last][1]
            if step is None:
                return chain, whole
            i, back, far = step
            chain.append((pairs[i], back))
            left = (*left[:i], left[i] - 1, *left[i + 1 :])
            last = far

    def _fairly(
        self, pairs: Sequence[Kinds], start: tuple[int, ...]
    ) -> tuple[list[tuple[Kinds, bool]], int]:
        """Return an order in which each piece is the one that takes least after the last."""
        chain: list[tuple[Kinds, bool]] = []
        left, last, whole = start, None, 0
        while any(left):
            taken, i, back, last, left = min(self._steps(pairs, left, last))
            chain.append((pairs[i], back))
            whole += taken
        if self.trims[1] and last is not None:
            whole += self.gaps.kerfs[last]
        return chain, whole
