"""One slip that all readings of an instrument share: the tape that was burned an inch throughout.

A set of readings that is off by the same amount agrees with itself, so that the readings which it
contradicts are blamed in its place, however right they are. The shared error is one more unknown
of the adjustment; its test is that of one reading (W. Baarda, 1968), along the sum of the group's
columns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright import units
from leafwright.records import Metres, Number
from leafwright.survey.adjust import CHECKED, fitted
from leafwright.survey.culprits import ALIKE, SETTLED, projected
from leafwright.survey.misread import typed_in
from leafwright.survey.observe import Observation
from leafwright.survey.predict import Equations, linearised
from leafwright.units import Tape

#: Fewer readings than this share nothing that is worth a name [-].
FEWEST = 3

#: A named slip stands for a shared error that it is this near to, in standard deviations [-].
NEAR = 3.0


@dataclass(frozen=True, slots=True)
class Together:
    """Readings of one instrument that may all be off by the same slip.

    ``error`` is how much too long they would all be, with its standard deviation ``sd``; ``slip``
    is that of the usual slip that stands for it; ``score`` is by how much the weighted squares
    fall, less the price of one reading.
    """

    keys: tuple[str, ...]
    instrument: str
    error: Metres
    sd: Metres
    slip: Metres
    score: Number
    sentence: str


def together(
    used: Sequence[Observation],
    laid: Equations,
    starts: Sequence[np.ndarray],
    *,
    squares: float,
    critical: float,
    least: float,
    tape: Tape,
) -> Together | None:
    """Return the slip that readings of one instrument may share, or None where none explains it.

    Args:
        used: the observations that count.
        laid: the same, as arrays.
        starts: places of the marks to take slopes at (each marks × 3) [m].
        squares: weighted squares of the fit to all of them [-].
        critical: standardised residual from which a reading stands out [-].
        least: score of the best explanation by single readings; one that scores less by `ALIKE`
            is ruled out [-].
        tape: the maker's tape, for the words.
    """
    found = [
        one
        for instrument, group in _groups(used)
        for start in starts
        if (one := _shared(used, laid, start, instrument, group, squares, critical, tape))
        is not None
    ]
    best = max(found, key=lambda one: one.score, default=None)
    return best if best is not None and best.score >= max(0.0, least - ALIKE) else None


def _groups(used: Sequence[Observation]) -> Iterator[tuple[str, list[int]]]:
    """Yield each taping instrument with the places of its distances in the list."""
    by_instrument: dict[str, list[int]] = {}
    for i, one in enumerate(used):
        _, by = typed_in(one)
        if not one.assumed and one.relation == "distance" and by and "laser" not in by:
            by_instrument.setdefault(by, []).append(i)
    yield from ((by, group) for by, group in by_instrument.items() if len(group) >= FEWEST)


def _slips(tape: Tape) -> tuple[tuple[float, str], ...]:
    if tape.system == "mm":
        return ((0.1, "the tape was started from its 100 mm mark and that was never taken off"),)
    return ((0.0254, "the tape was started from its 1 in mark and the inch was never taken off"),)


def _shared(
    used: Sequence[Observation],
    laid: Equations,
    at: np.ndarray,
    instrument: str,
    group: list[int],
    squares: float,
    critical: float,
    tape: Tape,
) -> Together | None:
    weighted, spare = projected(laid, at)
    column = np.zeros(len(used))
    column[group] = laid.root[group]
    checked = float(column @ spare @ column)
    # What no reading outside the group checks cannot be told from a larger opening.
    if checked < CHECKED * float(column @ column):
        return None
    error, sd = float(column @ weighted) / checked, 1.0 / math.sqrt(checked)
    for slip, why in _slips(tape):
        if abs(error - slip) > NEAR * sd:
            continue
        read = laid.read.copy()
        read[group] -= slip
        without = replace(laid, read=read)
        there = fitted(without, at, settled=SETTLED)
        if there is None:
            continue
        _, misfit = linearised(without, there)
        left = float(np.sum((laid.root * misfit) ** 2))
        length = units.show_length(slip, tape)
        return Together(
            keys=tuple(used[i].key for i in group),
            instrument=instrument,
            error=error,
            sd=sd,
            slip=slip,
            score=squares - left - critical**2,
            sentence=(
                f"it may also be that all {len(group)} distances read by {instrument} are "
                f"{length} too long together, and the others right: {why}; read one of them "
                "again from the tape's hook before any is set aside"
            ),
        )
    return None
