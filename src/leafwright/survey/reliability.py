"""How well the readings check one another: what would show, and what would not.

W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968), as commonly taught: the
redundancy number r of a reading is the share of an error in it that shows in its own residual;
the smallest error that the test finds with a given power is σ · δ0 / √r (internal
reliability); what an error of that size does to the marks, unseen, is the external reliability.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from leafwright.records import Metres, Number
from leafwright.survey.adjust import CHECKED, Survey
from leafwright.survey.culprits import correlation

#: Chance at which one reading's test finds fault with a good reading (Baarda's α0) [-].
ALPHA = 0.001

#: Chance, for a whole set of good readings, that the test of any one of them finds fault [-].
FAMILY_ALPHA = 0.04

#: Chance with which an error of the smallest size that shows is found [-].
POWER = 0.80


@dataclass(frozen=True, slots=True)
class Reliability:
    """How well one reading is checked by the others.

    ``redundancy`` runs from 0 (nothing else knows this) to 1. ``smallest`` is the least error
    that would show, and ``moves`` how far an error of that size, not seen, shifts the mark
    ``farthest``; None where next to nothing checks the reading. ``looks_like`` is the reading whose
    error looks most like one in this, and ``likeness`` the size of the correlation of their tests:
    near 1 nothing tells the two apart.
    """

    key: str
    words: str
    assumed: bool
    redundancy: Number
    smallest: Metres | None
    moves: Metres | None
    farthest: str
    looks_like: str
    likeness: Number


def critical_value(count: int, *, alpha: float = ALPHA, family: float = FAMILY_ALPHA) -> float:
    """Return the standardised residual from which a reading stands out [-].

    The normal quantile at ``alpha`` for one reading (3.29 at 0.001, Baarda 1968), or where there
    are so many that one of them would too often stand out by luck, at 1 − (1 − family)^(1/count):
    by Z. Šidák's inequality (J. Am. Stat. Assoc. 62, 1967) a set of good readings has none that
    stands out with a chance of 1 − ``family`` at least, however they are correlated.

    Args:
        count: how many readings are tested [-].
        alpha: chance that a good reading stands out, two sides [-].
        family: chance that any reading of a good set stands out [-].
    """
    each = min(alpha, 1.0 - (1.0 - family) ** (1.0 / max(count, 1)))
    return NormalDist().inv_cdf(1.0 - each / 2.0)


def noncentrality(critical: float, *, power: float = POWER) -> float:
    """Return δ0, the mean standardised residual that is found with a given power [-].

    Baarda (1968): δ0 = Φ⁻¹(1 − α0/2) + Φ⁻¹(power); 4.13 at α0 = 0.001 and 80 %.

    Args:
        critical: standardised residual from which a reading stands out [-].
        power: chance with which it is found [-].
    """
    return critical + NormalDist().inv_cdf(power)


def count_checked(found: Survey) -> int:
    """Return how many observations of a survey the others check at all."""
    return sum(a.standardised is not None for a in found.adjusted)


def reliabilities(found: Survey, *, power: float = POWER) -> tuple[Reliability, ...]:
    """Return how well each observation of a survey is checked, in the survey's order.

    Args:
        found: the adjusted opening.
        power: chance with which the smallest error that shows is found [-].
    """
    delta = noncentrality(critical_value(count_checked(found)), power=power)
    names = tuple(dict.fromkeys(name for name, _ in found.unknowns))
    index = {name: i for i, name in enumerate(names)}
    # Columns of the gain are how all unknowns follow one reading; a mark moves by both its axes.
    square = np.zeros((len(names), len(found.adjusted)))
    np.add.at(square, [index[name] for name, _ in found.unknowns], found.gain**2)
    most = np.sqrt(square.max(axis=0, initial=0.0))
    which = square.argmax(axis=0) if len(names) else np.zeros(len(found.adjusted), dtype=int)
    alike = np.abs(correlation(_spare(found)))
    np.fill_diagonal(alike, 0.0)
    twins = alike.argmax(axis=1)
    result = []
    for i, a in enumerate(found.adjusted):
        seen = a.observation
        smallest = None
        if a.redundancy >= CHECKED:
            smallest = seen.sd * delta / math.sqrt(a.redundancy)
        twin, likeness = found.adjusted[twins[i]].observation.key, float(alike[i, twins[i]])
        result.append(
            Reliability(
                key=seen.key,
                words=seen.words,
                assumed=seen.assumed,
                redundancy=a.redundancy,
                smallest=smallest,
                moves=None if smallest is None else float(most[i]) * smallest,
                farthest=names[which[i]] if names else "",
                looks_like=twin if likeness > 0.0 else "",
                likeness=likeness,
            )
        )
    return tuple(result)


def _spare(found: Survey) -> np.ndarray:
    """Return the projection I − A C Aᵀ of the weighted design (n × n) [-], from gain and C."""
    root = np.array([1.0 / a.observation.sd for a in found.adjusted])
    across = found.gain / root
    return np.asarray(np.eye(len(root)) - across.T @ np.linalg.solve(found.covariance, across))


def least_checked(all_of: Sequence[Reliability]) -> Reliability | None:
    """Return the checked reading that could be wrong by most and not show, or None."""
    known = [one for one in all_of if one.moves is not None and not one.assumed]
    return max(known, key=lambda one: one.moves or 0.0, default=None)
