"""Which readings are wrong: the fewest that, set aside, let all others agree.

The test of one reading is W. Baarda's (1968); of several at once it is the same likelihood ratio,
T = eᵀ R⁻¹ e over the readings in question, where e are the weighted residuals and R is the part of
the projection I − A (AᵀA)⁻¹ Aᵀ that belongs to them: T is by how much the weighted squares fall
when those readings are set aside. Several errors can hide one another, so that sets are looked for
from one reading up, not one reading after another: every one, every pair, then the most promising.
That is linear, and a foot misread bends the opening too far for it: the most promising sets are
set aside in earnest, and the search begins again from the opening that fits the rest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright.survey.adjust import CHECKED, fitted
from leafwright.survey.predict import Equations, linearised

#: Sets of readings that explain the disagreement this much less well than the best cannot be ruled
#: out: they are no more than twenty times less likely, and the weighted squares say so by 2 ln 20.
ALIKE = 2.0 * math.log(20.0)

#: Most readings that are looked for together, and sets kept on the way from two up [-].
MOST = 4
KEPT = 60

#: Sets handed back at most [-].
OFFERED = 12


#: The step below which marks have settled well enough to compare sets of readings [m].
SETTLED = 1e-7

#: Rounds of the search from one place to start [-].
ROUNDS = 4

#: So many readings and no more may be blamed without searching from another place too [-].
FEW = 2

#: Chance from which the rest agree: the global test at 95 % [-].
AGREES = 0.05

#: Chance below which weighted squares call for a reading to blame, though none stands out by
#: itself. With the chance that one stands out by luck it makes up 5 % at most [-].
LEFT_ALPHA = 0.01


@dataclass(frozen=True, slots=True)
class Explanation:
    """Readings, by their places in the list, which set aside let the rest agree best.

    ``squares`` is the weighted squares of the rest, ``at`` the marks that fit it (marks × 3) [m].
    """

    readings: tuple[int, ...]
    squares: float
    score: float
    at: np.ndarray


@dataclass(frozen=True, slots=True)
class Blame:
    """Readings, by their places in the list, which may be the wrong ones.

    ``taken`` is by how much the weighted squares fall when they are set aside, and ``score`` that
    less the price of setting so many aside.
    """

    readings: tuple[int, ...]
    taken: float
    score: float


def standardised(weighted: np.ndarray, spare: np.ndarray) -> np.ndarray:
    """Return the standardised residuals w [-]; 0 where next to nothing checks a reading.

    Args:
        weighted: residuals over their readings' standard deviations, (n,) [-].
        spare: the projection I − A (AᵀA)⁻¹ Aᵀ of the weighted design, (n × n) [-].
    """
    share = np.diag(spare)
    known = share >= CHECKED
    return np.where(known, weighted / np.sqrt(np.where(known, share, 1.0)), 0.0)


def correlation(spare: np.ndarray) -> np.ndarray:
    """Return the correlations of the standardised residuals (n × n) [-].

    Where one is near 1 or −1 the two tests are one, and nothing tells the two readings apart
    (W. Förstner, 1983, on separability). Readings that nothing checks have 0.
    """
    share = np.diag(spare)
    scale = np.where(share >= CHECKED, 1.0 / np.sqrt(np.maximum(share, CHECKED)), 0.0)
    return np.asarray(spare * np.outer(scale, scale))


def blamed(
    weighted: np.ndarray,
    spare: np.ndarray,
    *,
    freedom: int,
    critical: float,
    most: int = MOST,
) -> tuple[Blame, ...]:
    """Return the sets of readings that explain the disagreement, best first.

    A set's score is the fall of the weighted squares when it is set aside, less critical² for
    each reading: one reading more is blamed only where it stands out once the others are aside,
    and one that no longer does is taken back. The best OFFERED sets are returned; none where even
    the best does not pay its price.

    Args:
        weighted: weighted residuals of the whole set, (n,) [-].
        spare: the projection I − A (AᵀA)⁻¹ Aᵀ of the weighted design, (n × n) [-].
        freedom: readings to spare [-].
        critical: standardised residual from which a reading stands out [-].
        most: most readings in a set [-].
    """
    price = critical**2
    total = float(weighted @ weighted)
    sets = np.zeros((1, 0), dtype=int)
    taken = np.zeros(1)
    offered: list[Blame] = []
    best = 0.0
    for size in range(1, min(most, freedom) + 1):
        # Even if it took all away, a set this large could not come near the best.
        if total - price * size < best - ALIKE:
            break
        sets, taken = _extended(sets, taken, weighted, spare)
        if not len(sets):
            break
        first = np.argsort(-taken, kind="stable")[:KEPT]
        offered += [
            Blame(tuple(int(i) for i in sets[k]), float(taken[k]), float(taken[k]) - price * size)
            for k in first[:OFFERED]
        ]
        best = max(best, float(taken[first[0]]) - price * size)
        if size >= 2:
            sets, taken = sets[first], taken[first]
    offered.sort(key=lambda one: (-one.score, len(one.readings), one.readings))
    if not offered or offered[0].score <= 0.0:
        return ()
    return tuple(offered[:OFFERED])


def unnested(offered: Sequence[Explanation]) -> tuple[Explanation, ...]:
    """Return the sets, best first, without those that hold or are held by a better one."""
    kept: list[Explanation] = []
    for one in sorted(offered, key=lambda one: (-one.score, len(one.readings), one.readings)):
        mine = set(one.readings)
        if not any(mine <= set(o.readings) or mine >= set(o.readings) for o in kept):
            kept.append(one)
    return tuple(kept)


def _given(
    sets: np.ndarray, weighted: np.ndarray, spare: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Return w of every reading with each set aside, and r (sets × readings) [-].

    Both are 0 for the readings of the set, and where nothing checks a reading any more.
    """
    count, size = sets.shape
    if size == 0:
        share = np.broadcast_to(np.diag(spare), (count, len(weighted)))
        residual = np.broadcast_to(weighted, (count, len(weighted)))
    else:
        block = spare[sets[:, :, None], sets[:, None, :]]
        across = spare[sets]
        solved = np.linalg.solve(block, np.concatenate((across, weighted[sets][..., None]), axis=2))
        share = np.diag(spare) - np.einsum("skn,skn->sn", across, solved[:, :, :-1])
        residual = weighted - np.einsum("skn,sk->sn", across, solved[:, :, -1])
    known = share >= CHECKED
    if size:
        known[np.arange(count)[:, None], sets] = False
    w = np.where(known, residual / np.sqrt(np.where(known, share, 1.0)), 0.0)
    return w, np.where(known, share, 0.0)


def _extended(
    sets: np.ndarray, taken: np.ndarray, weighted: np.ndarray, spare: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Return every set with one reading more, each once, and what it takes away."""
    w, share = _given(sets, weighted, spare)
    which, reading = np.nonzero(share)
    more = np.sort(np.concatenate((sets[which], reading[:, None]), axis=1), axis=1)
    gained = taken[which] + w[which, reading] ** 2
    kept, first = np.unique(more, axis=0, return_index=True)
    return kept, gained[first]


def projected(laid: Equations, at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return weighted residuals (n,) [-] and the projection (n × n) [-] of a least squares fit.

    They are those of the fit to all observations, as seen with slopes taken at ``at``: where a
    wrong reading bends the fit, slopes from a better place tell more truly what it is.

    Args:
        laid: the observations.
        at: where the slopes are taken (marks × 3) [m].
    """
    rows, misfit = linearised(laid, at)
    left, *_ = np.linalg.svd(laid.root[:, None] * rows, full_matrices=False)
    spare = np.eye(len(left)) - left @ left.T
    return spare @ (laid.root * misfit), spare


def explanations(
    laid: Equations,
    starts: Sequence[np.ndarray],
    *,
    squares: float,
    freedom: int,
    critical: float,
) -> tuple[Explanation, ...]:
    """Return the sets of readings that explain the disagreement, best first.

    All that cannot be told apart from the best (ALIKE) are there; none where no set pays its
    price.

    Args:
        laid: the observations.
        starts: places of the marks to search from (each marks × 3) [m].
        squares: weighted squares of the fit to all observations [-].
        freedom: readings to spare [-].
        critical: standardised residual from which a reading stands out [-].
    """
    tried: dict[tuple[int, ...], Explanation | None] = {}
    best: Explanation | None = None
    for start in starts:
        at, before = start, None
        for _ in range(ROUNDS):
            weighted, spare = projected(laid, at)
            for one in blamed(weighted, spare, freedom=freedom, critical=critical):
                if one.readings not in tried:
                    tried[one.readings] = _without(laid, at, one.readings, squares, critical)
            best = _best(tried)
            if best is None or best.readings == before:
                break
            at, before = best.at, best.readings
        # Where all but a few agree, slopes are true and another start adds nothing.
        if best is not None and _rest_agrees(best, freedom):
            break
    ranked = unnested([one for one in tried.values() if one is not None])
    if not ranked or ranked[0].score <= 0.0:
        return ()
    near = [one for one in ranked if one.score >= ranked[0].score - ALIKE]
    return tuple(_polished(laid, one) for one in near)


def _rest_agrees(one: Explanation, freedom: int) -> bool:
    left = freedom - len(one.readings)
    if left <= 0 or len(one.readings) > FEW:
        return False
    # scipy is slow to import, and a survey that is in doubt has it already.
    from scipy.special import chdtrc

    return bool(chdtrc(left, one.squares) >= AGREES)


def _polished(laid: Equations, one: Explanation) -> Explanation:
    """Return an explanation with its marks settled as well as a survey's."""
    root = laid.root.copy()
    root[list(one.readings)] = 0.0
    at = fitted(replace(laid, root=root), one.at)
    return one if at is None else replace(one, at=at)


def _best(tried: dict[tuple[int, ...], Explanation | None]) -> Explanation | None:
    known = [one for one in tried.values() if one is not None]
    return max(known, key=lambda one: (one.score, one.readings), default=None)


def _without(
    laid: Equations,
    at: np.ndarray,
    readings: tuple[int, ...],
    squares: float,
    critical: float,
) -> Explanation | None:
    """Return what is left with some readings set aside, or None where nothing fits the rest."""
    root = laid.root.copy()
    root[list(readings)] = 0.0
    rest = replace(laid, root=root)
    there = fitted(rest, at, settled=SETTLED)
    if there is None:
        return None
    _, misfit = linearised(rest, there)
    left = float(np.sum((root * misfit) ** 2))
    return Explanation(readings, left, squares - left - critical**2 * len(readings), there)
