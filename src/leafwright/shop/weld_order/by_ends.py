"""Orders bettered end by end: what each order of an end's beads comes to, and which go together.

What an order leaves is nearly a sum over the ends, each with the order of its own beads alone, for
a frame is much softer than a weld. So every order of every end's beads is worked once, with the
other ends tacked, and ends are chosen one after the other until none betters the sum. What the
sum leaves out is worked with the whole leaf, and put in as it stands for the order at hand.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.records import Number
from leafwright.shop.weld_order.chain import SIZE
from leafwright.shop.weld_order.ends import Bead
from leafwright.shop.weld_order.orders import Passes, Way, may_be
from leafwright.shop.weld_order.reduced import FREE, Linear, Welds

#: Orders of one end's beads that are tried at most: all of six.
MOST_ORDERS = 720
#: Most rounds over the ends, unless none betters the sum before.
ROUNDS = 12


@dataclass(frozen=True, slots=True, eq=False)
class Choices:
    """The orders of each end's own beads, and what each comes to.

    ``orders`` holds for each end its beads' orders (q, k); ``shapes`` for each end what each
    order of it makes of the leaf under every supposition (suppositions, q, m); ``plain`` what the
    plain order leaves under each [m].
    """

    orders: tuple[np.ndarray, ...]
    shapes: tuple[Floats, ...]
    plain: Floats


def choices(
    supposed: Sequence[tuple[Linear, Welds, Number]], beads: Sequence[Bead], chance: random.Random
) -> Choices:
    """Return every order of every end's own beads with what it comes to.

    ``supposed``: the leaf and its beads as they may be, each with what the plain order leaves.
    """
    of_end: dict[int, list[int]] = {}
    for b, bead in enumerate(beads):
        of_end.setdefault(bead.end, []).append(b)
    orders = tuple(_orders(mine, chance) for _, mine in sorted(of_end.items()))
    shapes: list[list[Floats]] = [[] for _ in orders]
    for found, welded, _ in supposed:
        gives = np.linalg.inv(welded.tacked)
        judged = [i for i, name in enumerate(found.names) if name != SIZE]
        for e, order in enumerate(orders):
            rows = welded.rows[order[0, 0]]
            corner = gives[np.ix_(rows, rows)]
            stiff = np.cumsum(welded.adds[order], axis=1)
            pulls = welded.pulls[order][..., rows][..., None]
            moved = np.linalg.solve(np.eye(FREE) + stiff @ corner, pulls)[..., 0].sum(axis=1)
            shapes[e].append(moved @ (found.shape[judged] @ gives[:, rows]).T)
    return Choices(
        orders,
        tuple(np.array(one) for one in shapes),
        np.array([plain for _, _, plain in supposed]),
    )


def _orders(mine: Sequence[int], chance: random.Random) -> np.ndarray:
    """Return the orders of some beads: all of them, or as many as are tried, drawn by chance."""
    if len(mine) <= 6:
        return np.array(list(itertools.permutations(mine)), dtype=np.intp)
    return np.array([chance.sample(mine, len(mine)) for _ in range(MOST_ORDERS)], dtype=np.intp)


def narrowed(made: Choices, beads: Sequence[Bead], passes: Passes) -> Choices:
    """Return the orders that can be kept with so many turns of the leaf."""
    may = [may_be(bead, passes) for bead in beads]
    which = [
        np.array([i for i, order in enumerate(orders.tolist()) if fitting(order, may)])
        for orders in made.orders
    ]
    return Choices(
        tuple(orders[i] for orders, i in zip(made.orders, which, strict=True)),
        tuple(
            np.ascontiguousarray(shape[:, i]) for shape, i in zip(made.shapes, which, strict=True)
        ),
        made.plain,
    )


def fitting(order: Sequence[int], may: Sequence[Sequence[int]]) -> list[int]:
    """Return the pass of each bead of an end's order, as early as may be; none if it cannot be.

    ``may`` says of every bead in which passes it can be laid.
    """
    now, when = 0, []
    for b in order:
        now = next((p for p in may[b] if p >= now), -1)
        if now < 0:
            return []
        when.append(now)
    return when


def bettered(made: Choices, off: Floats, begin: Sequence[int]) -> tuple[list[int], Number]:
    """Return which order of each end goes best with the others, and what the sum then leaves.

    ``off`` (suppositions, m) is what the sum leaves out; ``begin`` the orders to begin from. It
    ends where no single end betters it.
    """
    at = list(begin)
    whole = off + sum(shape[:, i] for shape, i in zip(made.shapes, at, strict=True))
    best = float((np.linalg.norm(whole, axis=1) / made.plain).max())
    scale = 1.0 / made.plain[:, None] ** 2
    for _ in range(ROUNDS):
        before = best
        for e, shape in enumerate(made.shapes):
            tried = (whole - shape[:, at[e]])[:, None] + shape
            worst = (np.einsum("sqm,sqm->sq", tried, tried) * scale).max(axis=0)
            pick = int(worst.argmin())
            if worst[pick] < best**2 - 1e-12:
                best, at[e], whole = float(worst[pick]) ** 0.5, pick, tried[:, pick]
        if best >= before:
            break
    return at, best


def as_way(
    made: Choices, at: Sequence[int], beads: Sequence[Bead], passes: Passes, round_: tuple[int, ...]
) -> Way:
    """Return the order of the leaf in which each end has one of its own orders."""
    may = [may_be(bead, passes) for bead in beads]
    when, before = [0] * len(beads), [0] * len(beads)
    for orders, i in zip(made.orders, at, strict=True):
        order = orders[i].tolist()
        for rank, (b, now) in enumerate(zip(order, fitting(order, may), strict=True)):
            when[b], before[b] = now, rank
    return Way(passes, tuple(when), tuple(before), round_)
