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
from leafwright.records import Metres
from leafwright.site import squares
from leafwright.site.doubt import Doubt, Further, Shape, Trial, doubt, most_of, spare_of
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
from leafwright.site.wording import shown
from leafwright.units import Tape

#: Closed, as near as an angle is read [rad].
CLOSED = 1e-9

#: A closing edge farther than this from where its hinge edge puts it is read wrong: a welded leaf
#: does not rack so far [m] (common practice, no source).
MOST_RACKED: Metres = 0.0254

#: Leaves and what was read of each, the leaf by its place in the list.
Read = tuple[int, GapReading]


@dataclass(frozen=True, slots=True)
class Together:
    """Leaves fitted together.

    Attributes:
        leaves: one, or the two of a pair.
        read: every reading with the leaf that it was taken of.
        rows: how each follows `MOTIONS` of the first leaf, then of the second [-].
        racked: leaves that are taken to have lost their shape, by their places in the list.
        fit: of `UNKNOWNS` of the first leaf, then of the second, then the rack of each racked one.
    """

    leaves: tuple[HungLeaf, ...]
    read: tuple[Read, ...]
    rows: np.ndarray
    racked: tuple[int, ...]
    fit: squares.Fit

    @property
    def freedom(self) -> int:
        """Readings more than what they fix [-]."""
        loose = int(self.fit.loose.shape[1])
        return len(self.read) - len(self.seen) + loose

    @property
    def seen(self) -> np.ndarray:
        """Return which of all motions the fit tells, as places in a row."""
        return told_by_gaps(self.leaves, self.racked)

    def slopes(self, number: int, own: np.ndarray) -> np.ndarray:
        """Return how a part of one leaf's pose follows what the fit tells of all leaves [-].

        Args:
            number: the leaf, by its place in the list.
            own: how the part follows that leaf's `MOTIONS` [-].
        """
        every = np.zeros(len(self.leaves) * len(MOTIONS))
        every[number * len(MOTIONS) : (number + 1) * len(MOTIONS)] = own
        return np.asarray(every[self.seen])


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


def told_by_gaps(leaves: Sequence[HungLeaf], racked: Sequence[int] = ()) -> np.ndarray:
    """Return which of all motions gaps are to tell, as places in a row."""
    count = len(MOTIONS)
    rigid = [n * count + i for n in range(len(leaves)) for i in range(len(UNKNOWNS))]
    return np.array([*rigid, *(n * count + MOTIONS.index("rack") for n in racked)])


def together(
    leaves: Sequence[HungLeaf],
    readings: Sequence[Sequence[GapReading]],
    *,
    racked: Sequence[int] = (),
) -> Together:
    """Return leaves fitted to all their readings at once.

    Args:
        leaves: one, or the two of a pair, bottoms level.
        readings: what was read of each.
        racked: leaves that are taken to have lost their shape, by their places in the list.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    wrong = [w for leaf, own in zip(leaves, readings, strict=True) for w in problems(leaf, own)]
    if wrong:
        raise ValueError("the gaps cannot be used:\n" + "\n".join(wrong))
    read = tuple((n, r) for n, own in enumerate(readings) for r in own)
    rows = rows_of(leaves, read)
    return _together(tuple(leaves), read, rows, tuple(racked))


def _together(
    leaves: tuple[HungLeaf, ...],
    read: tuple[Read, ...],
    rows: np.ndarray,
    racked: tuple[int, ...],
) -> Together:
    fit = squares.fit(
        rows[:, told_by_gaps(leaves, racked)],
        np.array([r.value - r.planned for _, r in read]),
        np.array([r.unsure for _, r in read]),
    )
    return Together(leaves, read, rows, racked, fit)


def with_racked(found: Together, racked: Sequence[int]) -> Together:
    """Return the same leaves fitted with some of them racked."""
    return _together(found.leaves, found.read, found.rows, tuple(racked))


def rack_slopes() -> np.ndarray:
    """Return how the rack of a leaf follows its `MOTIONS` [-]."""
    return np.array([1.0 if name == "rack" else 0.0 for name in MOTIONS])


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
    sds = np.array([r.unsure for _, r in found.read])
    seen = found.seen
    further = [
        Further(
            name_of(found.leaves, n, r),
            partial(_foretold, row=rows_of(found.leaves, [(n, r)])[0]),
            max(sure, r.unsure) if r.kind == "diagonals" else sure,
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
        [r.unsure for _, r in found.read],
        planned=[r.planned for _, r in found.read],
        tape=tape,
        further=further,
        shapes=partial(_shapes, found=found, tape=tape),
    )


def _shapes(found: Together, tape: Tape) -> list[Shape]:
    """Return the ways in which a leaf that lost its shape would explain its readings."""
    shapes = []
    for number in range(len(found.leaves)):
        one = with_racked(found, (number,))
        slopes = one.slopes(number, rack_slopes())
        if squares.is_known(slopes, one.fit.loose):
            rack = float(slopes @ one.fit.values)
            leaf = found.leaves[number]
            if abs(rack) * leaf.width > MOST_RACKED * leaf.pin_spacing:
                continue
            words = rack_words(leaf, rack, tape)
            if len(found.leaves) > 1:
                words = f"{leaf_words(found.leaves[number].key)} itself {words}"
            else:
                words = f"the leaf itself {words}"
            shapes.append(Shape(number, words, _trial(one, one)))
    return shapes


def rack_words(leaf: HungLeaf, rack: float, tape: Tape) -> str:
    """Return how far a leaf has racked, in words [m]."""
    over = abs(rack) * leaf.width / leaf.pin_spacing
    way = "come up" if rack > 0.0 else "dropped"
    return f"has racked: its closing edge has {way} by {shown(over, tape)} beside its hinge edge"


def without(found: Together, out: set[int]) -> Together:
    """Return the leaves fitted again without the readings of these numbers."""
    kept = [i for i in range(len(found.read)) if i not in out]
    read = tuple(found.read[i] for i in kept)
    return _together(found.leaves, read, found.rows[kept], found.racked)


def _again(kept: Sequence[int], found: Together) -> Trial:
    """Return the fit to some of the readings."""
    return _trial(without(found, set(range(len(found.read))) - set(kept)), found)


def _trial(rest: Together, found: Together) -> Trial:
    """Return a fit to some of the readings, with what it says of all."""
    sds = np.array([r.unsure for _, r in rest.read])
    residuals = rest.fit.residuals / sds
    spare, freedom = spare_of(rest.rows[:, rest.seen] / sds[:, None])
    planned = np.array([r.planned for _, r in found.read])
    return Trial(
        squares=float(residuals @ residuals),
        freedom=freedom,
        most=most_of(residuals, spare),
        fits=planned + found.rows[:, rest.seen] @ rest.fit.values,
        state=rest,
    )


def _foretold(rest: Together, *, row: np.ndarray) -> tuple[float, float] | None:
    """Return by how much a reading would be off plan by a fit, and that one's sd [m]."""
    fit, slopes = rest.fit, row[rest.seen]
    if not squares.is_known(slopes, fit.loose):
        return None
    variance = float(slopes @ fit.covariance @ slopes)
    return float(slopes @ fit.values), math.sqrt(max(variance, 0.0))
