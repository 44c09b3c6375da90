"""Which readings are wrong: what setting some aside takes away, and which sets are found."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from leafwright.survey import Survey
from leafwright.survey.adjust import CHECKED, adjust
from leafwright.survey.culprits import (
    ALIKE,
    Explanation,
    blamed,
    correlation,
    projected,
    standardised,
    unnested,
)
from leafwright.survey.predict import Equations, equations, placed
from tests.sizes import cases
from tests.survey.blunders import Read, read

CRITICAL = 3.29


def laid_at(opening: Read) -> tuple[Survey, Equations, np.ndarray]:
    found = opening.adjusted()
    places = {mark.name: mark.at for mark in found.marks}
    laid = equations(opening.seen, found.unknowns, tuple(places))
    return found, laid, placed(laid.names, places)


def test_standardised_residuals_are_those_of_the_survey() -> None:
    rng = random.Random(71)
    for _ in range(cases(25, 500)):
        found, laid, at = laid_at(read(rng, well=rng.random() < 0.5))
        weighted, spare = projected(laid, at)
        assert float(weighted @ weighted) == pytest.approx(found.weighted_sum)
        # Of the survey they are adjusted − read; here, as errors are, read − adjusted.
        theirs = [-(a.standardised or 0.0) for a in found.adjusted]
        assert standardised(weighted, spare) == pytest.approx(theirs, abs=1e-6)


def test_what_is_taken_away_is_the_fall_of_the_weighted_squares() -> None:
    rng = random.Random(72)
    for _ in range(cases(25, 500)):
        # With a fiftieth of the errors the adjustment is as good as linear.
        opening = read(rng, noise=0.02)
        index = rng.randrange(len(opening.seen))
        opening = opening.wrong_by(index, 0.0005 * rng.choice((-1, 1)))
        found, laid, at = laid_at(opening)
        weighted, spare = projected(laid, at)
        for one in blamed(weighted, spare, freedom=found.freedom, critical=0.01, most=2):
            rest = [s for i, s in enumerate(opening.seen) if i not in one.readings]
            without = adjust(rest, {m.name: m.at for m in found.marks})
            assert isinstance(without, Survey)
            fall = found.weighted_sum - without.weighted_sum
            assert one.taken == pytest.approx(fall, rel=0.02, abs=0.002)
            assert one.score == pytest.approx(one.taken - 0.01**2 * len(one.readings))


def test_the_best_sets_are_those_of_trying_all() -> None:
    rng = random.Random(73)
    for _ in range(cases(10, 100)):
        opening = read(rng, well=False)
        for index in rng.sample(range(10), 2):
            opening = opening.wrong_by(index, rng.choice((-1, 1)) * rng.uniform(0.01, 0.03))
        found, laid, at = laid_at(opening)
        weighted, spare = projected(laid, at)
        scores = {}
        checked = np.flatnonzero(np.diag(spare) >= CHECKED).tolist()
        for size in (1, 2, 3):
            for some in itertools.combinations(checked, size):
                block = spare[np.ix_(some, some)]
                if np.linalg.eigvalsh(block)[0] < CHECKED:
                    continue
                part = weighted[list(some)]
                taken = float(part @ np.linalg.solve(block, part))
                scores[some] = taken - CRITICAL**2 * size
        best = max(scores, key=lambda some: scores[some])
        offered = blamed(weighted, spare, freedom=found.freedom, critical=CRITICAL, most=3)
        if scores[best] <= 0.0:
            assert offered == ()
            continue
        assert offered[0].readings == best
        assert offered[0].score == pytest.approx(scores[best])
        listed = {one.readings for one in offered}
        near = sorted(scores, key=lambda some: scores[some])
        near = [some for some in near if scores[some] > scores[best] - ALIKE]
        assert set(near[-4:]) <= listed


def test_nothing_is_blamed_that_does_not_pay_its_price() -> None:
    opening = read(random.Random(74), noise=0.3)
    found, laid, at = laid_at(opening)
    weighted, spare = projected(laid, at)
    assert blamed(weighted, spare, freedom=found.freedom, critical=CRITICAL) == ()


def test_readings_of_one_condition_are_wholly_correlated() -> None:
    # Two readings of one width, and nothing else to check them: one error looks like the other's.
    spare = np.array([[0.5, -0.5, 0.0], [-0.5, 0.5, 0.0], [0.0, 0.0, 1e-12]])
    assert correlation(spare) == pytest.approx(np.array([[1, -1, 0], [-1, 1, 0], [0, 0, 0]]))
    assert standardised(np.array([1.0, -1.0, 1e-9]), spare) == pytest.approx([2**0.5, -(2**0.5), 0])


def test_of_nested_sets_the_better_one_stays() -> None:
    def of(readings: tuple[int, ...], score: float) -> Explanation:
        return Explanation(readings, 0.0, score, np.zeros((1, 3)))

    offered = {(1,): 5.0, (1, 2): 9.0, (3,): 8.0, (3, 4): 7.0, (2, 4): 6.0}
    kept = unnested([of(readings, score) for readings, score in offered.items()])
    assert [one.readings for one in kept] == [(1, 2), (3,), (2, 4)]
