"""Unknowns fitted to readings by weighted least squares, and which of them the readings fix.

Readings taken on site seldom fix everything: two diagonals say nothing of a twist. So the fit
keeps the directions that no reading sees, and a number is given only for what stands across them.

Method: W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968), as commonly taught:
residuals v, redundancy numbers r, standardised residuals v / (σ √r).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.records import Metres, Number, read_only
from leafwright.site.wording import shown
from leafwright.units import Tape, show_length

#: A direction seen this many times more weakly than the best seen one is not seen at all [-]: with
#: readings good to a millimetre it would be known to ten metres.
SEEN = 1e-4

#: What leaks this little of itself into directions that no reading sees is known [-]: ten
#: millimetres there are then a hundredth of a millimetre here.
KNOWN = 1e-3

#: With less redundancy than this next to nothing checks a reading [-].
CHECKED = 1e-3

#: A standardised residual from which a reading stands out: one good reading in a thousand does
#: (Baarda, α₀ = 0.001) [-].
STANDS_OUT = 3.29

#: Standardised residuals nearer to one another than this cannot be told apart [-].
ALIKE = 0.01


@dataclass(frozen=True, slots=True)
class Compared:
    """One reading beside what was fitted to all of them.

    ``residual`` is fitted − read; ``redundancy`` runs from 0 (nothing else knows this) to 1;
    ``standardised`` is None where next to nothing checks the reading.
    """

    words: str
    read: Metres
    sd: Metres
    fitted: Metres
    residual: Metres
    redundancy: Number
    standardised: Number | None


@dataclass(frozen=True, slots=True)
class Fit:
    """What a round of least squares found.

    Attributes:
        values: the unknowns; where readings leave them loose, nearest to where they started [m].
        covariance: of the unknowns, as far as they are fixed [m2].
        loose: directions that no reading sees, one a column, each of length 1 [-].
        residuals: fitted − read [m].
        redundancy: of each reading, 0 to 1 [-].
    """

    values: np.ndarray
    covariance: np.ndarray
    loose: np.ndarray
    residuals: np.ndarray
    redundancy: np.ndarray


def fit(rows: np.ndarray, misfit: np.ndarray, sds: np.ndarray) -> Fit:
    """Return the least weighted squares for linear readings, least in length where loose.

    Args:
        rows: how each reading follows each unknown [-], readings × unknowns. Unknowns are to be of
            one size (lengths all, say), as what is seen is told by comparing them.
        misfit: read − what the start says [m].
        sds: standard deviations of the readings, positive [m].
    """
    count = rows.shape[1]
    if not rows.shape[0]:
        nothing = np.zeros(count)
        return _held(nothing, np.zeros((count, count)), np.eye(count), misfit, misfit)
    weighted = rows / sds[:, None]
    left, sizes, right = np.linalg.svd(weighted, full_matrices=True)
    rank = int(np.sum(sizes > SEEN * sizes[0])) if sizes[0] > 0.0 else 0
    gain = right[:rank].T / sizes[:rank] @ left[:, :rank].T
    values = gain @ (misfit / sds)
    redundancy = 1.0 - np.sum(left[:, :rank] ** 2, axis=1)
    return _held(values, gain @ gain.T, right[rank:].T.copy(), rows @ values - misfit, redundancy)


def _held(
    values: np.ndarray,
    covariance: np.ndarray,
    loose: np.ndarray,
    residuals: np.ndarray,
    redundancy: np.ndarray,
) -> Fit:
    return Fit(*(read_only(a) for a in (values, covariance, loose, residuals, redundancy)))


def is_known(slopes: np.ndarray, loose: np.ndarray) -> bool:
    """Return whether readings fix a number with these slopes to the unknowns."""
    size = float(np.linalg.norm(slopes))
    return float(np.linalg.norm(slopes @ loose)) <= KNOWN * size


def sd_of(slopes: np.ndarray, found: Fit) -> float | None:
    """Return the standard deviation of a number with these slopes [its unit]; None if not known."""
    if not is_known(slopes, found.loose):
        return None
    return math.sqrt(max(float(slopes @ found.covariance @ slopes), 0.0))


def compared(words: str, read: float, sd: float, residual: float, redundancy: float) -> Compared:
    """Return one reading beside its fit [m]."""
    checked = redundancy >= CHECKED
    standardised = residual / (sd * math.sqrt(redundancy)) if checked else None
    return Compared(words, read, sd, read + residual, residual, max(redundancy, 0.0), standardised)


def suspects(readings: tuple[Compared, ...]) -> tuple[Compared, ...]:
    """Return the reading that stands out most, with all that cannot be told apart from it."""
    checked = [r for r in readings if r.standardised is not None]
    most = max((abs(r.standardised or 0.0) for r in checked), default=0.0)
    if most <= STANDS_OUT:
        return ()
    return tuple(r for r in checked if abs(r.standardised or 0.0) > (1.0 - ALIKE) * most)


def error_of(reading: Compared) -> float:
    """Return how much too long a reading is, if it alone is wrong: −v / r [m]."""
    return -reading.residual / reading.redundancy


def suspect_words(readings: Sequence[Compared], tape: Tape) -> tuple[str, ...]:
    """Return the readings that stand out against the rest, in words; empty where none does."""
    found = suspects(tuple(readings))
    if not found:
        return ()
    if len(found) > 1:
        names = "; ".join(r.words for r in found)
        return (f"one of these is wrong, and the readings cannot tell which: {names}. Read again",)
    reading = found[0]
    error = error_of(reading)
    way = "long" if error > 0.0 else "short"
    fits = show_length(reading.read - error, tape)
    return (
        f"{reading.words} is about {shown(error, tape)} {way} against the rest: {fits} would fit. "
        "Read it again",
    )
