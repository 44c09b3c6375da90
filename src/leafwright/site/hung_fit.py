"""The gaps of one hung leaf, or of a pair that hangs beside one another, fitted together.

A gap between two leaves is moved by both: each is fitted with the other, and neither is taken as
hanging true. `pose` has how a gap follows one leaf.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from leafwright.doorway.heel import leaf_words
from leafwright.site import squares
from leafwright.site.doubt import Doubt, Further, Trial, doubt, most_of, spare_of
from leafwright.site.pose import (
    MOTIONS,
    UNKNOWNS,
    GapReading,
    HungLeaf,
    displacements,
    gap_row,
    gap_words,
    problems,
)
from leafwright.units import Tape

#: Closed, as near as an angle is read [rad].
CLOSED = 1e-9

#: Leaves and what was read of each, the leaf by its place in the list.
Read = tuple[int, GapReading]


@dataclass(frozen=True, slots=True)
class Together:
    """Leaves fitted together.

    Attributes:
        leaves: one, or the two of a pair.
        read: every reading with the leaf that it was taken of.
        rows: how each follows `MOTIONS` of the first leaf, then of the second [-].
        fit: of `UNKNOWNS` of the first leaf, then of the second.
    """

    leaves: tuple[HungLeaf, ...]
    read: tuple[Read, ...]
    rows: np.ndarray
    fit: squares.Fit

    @property
    def freedom(self) -> int:
        """Readings more than what they fix [-]."""
        loose = int(self.fit.loose.shape[1])
        return len(self.read) - len(self.leaves) * len(UNKNOWNS) + loose


def between_leaves(reading: GapReading) -> bool:
    """Return whether a reading is a gap that the closing edges of a shut pair make."""
    return reading.kind == "closing" and abs(reading.opening) < CLOSED


def rows_of(leaves: Sequence[HungLeaf], read: Sequence[Read]) -> np.ndarray:
    """Return how readings follow the motions of all leaves [-], readings × (leaves × motions)."""
    rows = np.zeros((len(read), len(leaves) * len(MOTIONS)))
    for i, (number, reading) in enumerate(read):
        own = slice(number * len(MOTIONS), (number + 1) * len(MOTIONS))
        rows[i, own] = gap_row(leaves[number], reading)
        if len(leaves) == 2 and between_leaves(reading):
            other = 1 - number
            way = np.array([leaves[number].side, 0.0, 0.0])
            beside = slice(other * len(MOTIONS), (other + 1) * len(MOTIONS))
            edge = displacements(leaves[other], leaves[other].width, reading.along, 0.0)
            rows[i, beside] = way @ edge
    return rows


def told_by_gaps(leaves: Sequence[HungLeaf]) -> np.ndarray:
    """Return which of all motions gaps can tell, as places in a row."""
    count = len(MOTIONS)
    return np.array([n * count + i for n in range(len(leaves)) for i in range(len(UNKNOWNS))])


def together(leaves: Sequence[HungLeaf], readings: Sequence[Sequence[GapReading]]) -> Together:
    """Return leaves fitted to all their readings at once.

    Args:
        leaves: one, or the two of a pair, bottoms level.
        readings: what was read of each.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    wrong = [w for leaf, own in zip(leaves, readings, strict=True) for w in problems(leaf, own)]
    if wrong:
        raise ValueError("the gaps cannot be used:\n" + "\n".join(wrong))
    read = tuple((n, r) for n, own in enumerate(readings) for r in own)
    rows = rows_of(leaves, read)
    return Together(tuple(leaves), read, rows, _fit(leaves, read, rows))


def _fit(leaves: Sequence[HungLeaf], read: Sequence[Read], rows: np.ndarray) -> squares.Fit:
    return squares.fit(
        rows[:, told_by_gaps(leaves)],
        np.array([r.value - r.planned for _, r in read]),
        np.array([r.sd for _, r in read]),
    )


def name_of(leaves: Sequence[HungLeaf], number: int, reading: GapReading) -> str:
    """Return what a reading is, with the leaf where there are two."""
    words = gap_words(leaves[number], reading)
    return words if len(leaves) == 1 else f"{words}, of {leaf_words(leaves[number].key)}"


def together_doubt(found: Together, wanted: Sequence[Read], *, tape: Tape, sure: float) -> Doubt:
    """Return whether the gaps agree, and which to doubt where they do not.

    Args:
        found: the leaves fitted to them.
        wanted: readings that could be taken to decide.
        tape: the maker's tape, for the words.
        sure: standard deviation of one of those [m].
    """
    sds = np.array([r.sd for _, r in found.read])
    seen = told_by_gaps(found.leaves)
    further = [
        Further(
            name_of(found.leaves, n, r),
            partial(_foretold, row=rows_of(found.leaves, [(n, r)])[0][seen]),
            sure,
        )
        for n, r in itertools.chain(found.read, wanted)
    ]
    weighted = found.rows[:, seen] / sds[:, None] if len(sds) else np.zeros((0, len(seen)))
    return doubt(
        weighted,
        found.fit.residuals / sds if len(sds) else np.zeros(0),
        partial(_again, found=found),
        [name_of(found.leaves, n, r) for n, r in found.read],
        [r.value for _, r in found.read],
        [r.sd for _, r in found.read],
        planned=[r.planned for _, r in found.read],
        tape=tape,
        further=further,
    )


def without(found: Together, out: set[int]) -> Together:
    """Return the leaves fitted again without the readings of these numbers."""
    kept = [i for i in range(len(found.read)) if i not in out]
    read = tuple(found.read[i] for i in kept)
    rows = found.rows[kept]
    return Together(found.leaves, read, rows, _fit(found.leaves, read, rows))


def _again(kept: Sequence[int], found: Together) -> Trial:
    """Return the fit to some of the readings."""
    rest = without(found, set(range(len(found.read))) - set(kept))
    sds = np.array([r.sd for _, r in rest.read])
    seen = told_by_gaps(found.leaves)
    residuals = rest.fit.residuals / sds
    spare, freedom = spare_of(rest.rows[:, seen] / sds[:, None])
    planned = np.array([r.planned for _, r in found.read])
    return Trial(
        squares=float(residuals @ residuals),
        freedom=freedom,
        most=most_of(residuals, spare),
        fits=planned + found.rows[:, seen] @ rest.fit.values,
        state=rest.fit,
    )


def _foretold(fit: squares.Fit, *, row: np.ndarray) -> tuple[float, float] | None:
    """Return by how much a reading would be off plan by a fit, and that one's sd [m]."""
    if not squares.is_known(row, fit.loose):
        return None
    variance = float(row @ fit.covariance @ row)
    return float(row @ fit.values), math.sqrt(max(variance, 0.0))
