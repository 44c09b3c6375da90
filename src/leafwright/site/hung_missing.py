"""What to read next of a hung leaf: what a maker reads first, and what would tell the rest."""

from __future__ import annotations

import itertools
import math

import numpy as np

from leafwright.records import Metres
from leafwright.site import squares
from leafwright.site.hung_fit import Together, rows_of
from leafwright.site.pose import GapKind, GapReading, HungLeaf

#: How sure a gap read with a rule is, and a length with a tape [m] (common practice, no source).
GAP: Metres = 0.0008
TAPE: Metres = 0.0015


def wanted_of(leaf: HungLeaf) -> list[GapReading]:
    """Return what a maker would read next, easiest first."""
    far, edge = 0.95 * leaf.width, 0.05 * leaf.height
    slack = TAPE * math.sqrt(2.0)
    turned = math.pi / 2.0 if leaf.opens == "toward" else -math.pi / 2.0
    side = "toward you" if leaf.opens == "toward" else "away from you"

    def gap(
        kind: GapKind,
        along: float,
        opening: float,
        words: str,
        sd: Metres = GAP,
    ) -> GapReading:
        return GapReading(kind, along, opening, 0.0, 0.0, sd=sd, words=words)

    return [
        gap("heel", edge, 0.0, "the heel gap near the bottom, leaf closed"),
        gap("heel", leaf.height - edge, 0.0, "the heel gap near the top, leaf closed"),
        gap("floor", 0.05 * leaf.width, 0.0, "the floor gap near the hinge, leaf closed"),
        gap("floor", far, 0.0, "the floor gap at the nose, leaf closed"),
        gap("plumb along wall", 0.0, 0.0, "a plumb line from pin to pin, along the wall"),
        gap("plumb through wall", 0.0, 0.0, "a plumb line from pin to pin, through the wall"),
        gap("floor", far, turned, f"the floor gap at the nose, leaf open 90° {side}"),
        gap("floor", far, turned / 2.0, f"the floor gap at the nose, leaf open 45° {side}"),
        gap("diagonals", 0.0, 0.0, "both diagonals of the hung leaf, one against the other", slack),
        gap("top", 0.05 * leaf.width, 0.0, "the top gap near the hinge, leaf closed"),
        gap("top", far, 0.0, "the top gap at the nose, leaf closed"),
    ]


def missing_for(found: Together, number: int, slopes: np.ndarray) -> tuple[str, ...]:
    """Return the fewest readings of a leaf, in words, that would tell one part of its pose.

    Args:
        found: the leaves, as far as they are read.
        number: the leaf, by its place among them.
        slopes: how the part follows the unknowns of all leaves [-].
    """
    wanted = wanted_of(found.leaves[number])
    seen = found.seen
    has = found.rows[:, seen]
    extra = rows_of(found.leaves, [(number, w) for w in wanted])[:, seen]
    for count in (1, 2, 3, 4):
        for chosen in itertools.combinations(range(len(wanted)), count):
            rows = np.vstack([has, extra[list(chosen)]])
            even = squares.fit(rows, np.zeros(len(rows)), np.ones(len(rows)))
            if squares.is_known(slopes, even.loose):
                return tuple(wanted[i].words for i in chosen)
    return ()
