"""A second opinion on the readings that does not let a wrong one pull the rest with it.

Least squares shares an error out among all readings; a sum of misfits' sizes does not, and lets
the reading that is wrong stand alone. It is found by weighted least squares again and again, each
reading weighted down as it strays: first by size alone, as seen against how well the reading is
checked, then with Tukey's biweight, whose reach shrinks round by round (F. R. Hampel et al.,
Robust Statistics, 1986, from memory). The rounds are counted, so that the same readings give the
same answer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.records import Number
from leafwright.survey.adjust import CHECKED
from leafwright.survey.observe import Observation
from leafwright.survey.predict import Equations, linearised, moved

#: Rounds by size, and the step below which they end early [m].
ROUNDS = 30
SETTLED = 1e-5

#: Misfits smaller than this many standard deviations are not weighted down any further [-].
CORE = 0.5

#: Misfit, in standard deviations, from which a reading is not believed at all: the tuning constant
#: of Tukey's biweight at 95 % efficiency [-].
TUKEY = 4.685

#: What the biweight reaches in turn, in standard deviations, and rounds with each [-].
REACHES = (20.0, 10.0, 6.0, TUKEY)
ROUNDS_EACH = 4

#: Directions whose singular value is smaller than this times the largest are loose [-].
LOOSE = 1e-8

#: A reading with less weight than this is held to be wrong [-].
NOT_BELIEVED = 0.1


@dataclass(frozen=True, slots=True)
class Weight:
    """How far the second opinion believes a reading: 1 wholly, 0 not at all."""

    key: str
    weight: Number


@dataclass(frozen=True, slots=True)
class SecondOpinion:
    """What the robust estimate thinks of each reading, and whether it blames the same ones.

    ``against`` are the readings that it does not believe.
    """

    weights: tuple[Weight, ...]
    against: tuple[str, ...]
    agrees: bool


def robust_places(laid: Equations, at: np.ndarray) -> np.ndarray:
    """Return the places (marks × 3) that most readings fit, whatever a few of them say [m].

    Args:
        laid: the observations.
        at: places to start from, as by least squares (marks × 3) [m].
    """
    rows, _ = linearised(laid, at)
    left, *_ = np.linalg.svd(laid.root[:, None] * rows, full_matrices=False)
    checked = np.sqrt(np.maximum(1.0 - np.sum(left**2, axis=1), CHECKED))
    for _ in range(ROUNDS):
        rows, misfit = linearised(laid, at)
        size = np.abs(laid.root * misfit) / checked
        step = _weighted_step(rows, misfit, laid.root / np.sqrt(np.maximum(size, CORE)))
        if step is None:
            return at
        at = moved(laid, at, step)
        if float(np.max(np.abs(step), initial=0.0)) < SETTLED:
            break
    for reach in REACHES:
        for _ in range(ROUNDS_EACH):
            rows, misfit = linearised(laid, at)
            believed = np.sqrt(biweight(laid.root * misfit, reach))
            step = _weighted_step(rows, misfit, laid.root * believed)
            # With too few readings believed the marks come loose; the last round stands.
            if step is None:
                return at
            at = moved(laid, at, step)
    return at


def biweight(misfit: np.ndarray, reach: float) -> np.ndarray:
    """Return Tukey's weight (1 − (u/c)²)² of misfits u, 0 from c on [-].

    Args:
        misfit: misfits over their standard deviations [-].
        reach: the size c from which a misfit has no weight [-].
    """
    share = np.minimum(np.abs(misfit) / reach, 1.0)
    return np.asarray((1.0 - share**2) ** 2)


def _weighted_step(rows: np.ndarray, misfit: np.ndarray, root: np.ndarray) -> np.ndarray | None:
    step, _, rank, _ = np.linalg.lstsq(root[:, None] * rows, root * misfit, rcond=LOOSE)
    return np.asarray(step) if rank == rows.shape[1] else None


def second_opinion(
    used: Sequence[Observation],
    laid: Equations,
    at: np.ndarray,
    suspects: Mapping[str, bool],
) -> SecondOpinion:
    """Return the robust estimate's weights, and whether it blames the readings in doubt.

    Args:
        used: the observations.
        laid: the same, laid out.
        at: the robust places (marks × 3) [m].
        suspects: the readings in doubt; those that are True are blamed in every case.
    """
    _, misfit = linearised(laid, at)
    weights = biweight(laid.root * misfit, TUKEY).tolist()
    against = tuple(
        seen.key for seen, weight in zip(used, weights, strict=True) if weight < NOT_BELIEVED
    )
    certain = {key for key, sure in suspects.items() if sure}
    return SecondOpinion(
        weights=tuple(Weight(seen.key, weight) for seen, weight in zip(used, weights, strict=True)),
        against=against,
        agrees=bool(against) and certain <= set(against) <= set(suspects),
    )
