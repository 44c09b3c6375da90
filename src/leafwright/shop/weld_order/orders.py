"""Orders of welding as a welder keeps them: with the leaf face up or back up, joint after joint.

A leaf lies flat with one side up; what is on the other waits until it is turned over. While one
side is up, the welder goes round the joints and lays one bead at each, then round again: no joint
gets hot twice running. An order is so told by three things: while which side is up each bead is
laid, in what order the beads of one end come, and the way round.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.leaf import Leaf
from leafwright.shop.weld_order.ends import Bead, End

#: Which side is up, one after the other: (face, back) is one turn of the leaf. ``frame`` is the
#: face up too, before the braces are put in, for what they will cover.
Passes = tuple[str, ...]
FRAME = "frame"


@dataclass(frozen=True, slots=True)
class Way:
    """An order of welding: ``when`` is the pass of each bead, ``before`` its rank at its end.

    ``round_`` is the way round the ends.
    """

    passes: Passes
    when: tuple[int, ...]
    before: tuple[int, ...]
    round_: tuple[int, ...]


def passes_of(turns: int, beads: Sequence[Bead]) -> Passes:
    """Return which side is up, beginning with the face, for so many turns of the leaf."""
    sides = tuple("back" if i % 2 else "face" for i in range(turns + 1))
    return (FRAME, *sides) if any(bead.covered_by for bead in beads) else sides


def turns_of(passes: Passes) -> int:
    """Return how often the leaf is turned over."""
    return sum(up != FRAME for up in passes) - 1


def may_be(bead: Bead, passes: Passes) -> list[int]:
    """Return in which passes a bead can be laid."""
    if bead.covered_by:
        return [passes.index(FRAME)]
    return [i for i, up in enumerate(passes) if up != FRAME and bead.side in ("edge", up)]


def sequence(way: Way, beads: Sequence[Bead]) -> list[int]:
    """Return the beads of an order, one after the other."""
    found: list[int] = []
    for number in range(len(way.passes)):
        mine: dict[int, list[int]] = {}
        for b, bead in enumerate(beads):
            if way.when[b] == number:
                mine.setdefault(bead.end, []).append(b)
        for held in mine.values():
            held.sort(key=lambda b: way.before[b])
        for turn in range(max(map(len, mine.values()), default=0)):
            found += [mine[e][turn] for e in way.round_ if len(mine.get(e, ())) > turn]
    return found


def plain_order(leaf: Leaf, ends: Sequence[End], beads: Sequence[Bead]) -> list[int]:
    """Return the plain order: round the leaf, each corner finished before the next.

    What will be covered comes before all; then, face up, everything that can be reached; then the
    leaf turned over and the backs.
    """
    centre = (leaf.width / 2, leaf.height / 2)

    def clock(end: int) -> tuple[float, int]:
        at = ends[end].at
        return (math.atan2(at[1] - centre[1], at[0] - centre[0]), end)

    there = sorted(range(len(ends)), key=clock)
    rounds: list[list[int]] = [[], [], []]
    for e in there:
        for b, bead in enumerate(beads):
            if bead.end == e:
                rounds[0 if bead.covered_by else 2 if bead.side == "back" else 1].append(b)
    return [*rounds[0], *rounds[1], *rounds[2]]


def opposite_round(ends: Sequence[End]) -> tuple[int, ...]:
    """Return a way round on which each end is as far as may be from the ones just done.

    It begins nearest the middle, so that what is free can still draw in outward.
    """
    xs, ys = [e.at[0] for e in ends], [e.at[1] for e in ends]
    middle = (sum(xs) / len(xs), sum(ys) / len(ys))
    left = list(range(len(ends)))
    first = min(left, key=lambda e: (round(math.dist(ends[e].at, middle), 6), e))
    done = [first]
    left.remove(first)
    while left:
        last = [ends[e].at for e in done[-2:]]
        far = max(
            left,
            key=lambda e: (
                round(math.dist(ends[e].at, last[-1]) + 0.5 * math.dist(ends[e].at, last[0]), 6),
                -e,
            ),
        )
        done.append(far)
        left.remove(far)
    return tuple(done)


def first_ways(ends: Sequence[End], beads: Sequence[Bead], passes: Passes) -> list[Way]:
    """Return orders to begin from, by the trade's rules: opposite ends, opposite sides.

    They differ in whether the edges come first or last at an end, and while which side is up.
    """
    found = []
    round_ = opposite_round(ends)
    for edges_first in (True, False):
        for edges_split in (False, True):
            when, before, count = [], [], dict.fromkeys(range(len(ends)), 0)
            for b, bead in enumerate(beads):
                choices = may_be(bead, passes)
                edge = bead.side == "edge"
                turn = count[bead.end]
                count[bead.end] += edge
                pick = turn if edge and edges_split else 0
                when.append(choices[pick % len(choices)])
                rank = (0 if edge == edges_first else 1) * len(beads) + b
                before.append(rank)
            found.append(Way(passes, tuple(when), tuple(before), round_))
    return found
