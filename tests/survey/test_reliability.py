"""How well readings check one another: the smallest blunder that shows, against planting it."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.stats import norm

from leafwright.survey import Survey, at
from leafwright.survey.adjust import adjust
from leafwright.survey.reliability import (
    count_checked,
    critical_value,
    least_checked,
    noncentrality,
    reliabilities,
)
from tests.sizes import cases
from tests.survey.blunders import Read, read
from tests.survey.openings import distance, example, job_of, level, surveyed


def fitted(opening: Read) -> Read:
    """Return the opening with all readings just what fits, so that nothing is left over."""
    found = opening.adjusted()
    for i, a in enumerate(found.adjusted):
        opening = opening.wrong_by(i, a.residual)
    return opening


def test_a_blunder_of_the_smallest_size_stands_out_by_delta_and_moves_the_marks_as_said() -> None:
    rng = random.Random(61)
    for _ in range(cases(25, 500)):
        opening = fitted(read(rng))
        before = opening.adjusted()
        sure = reliabilities(before)
        i = rng.choice([i for i, one in enumerate(sure) if one.smallest is not None])
        smallest, moves = sure[i].smallest, sure[i].moves
        assert smallest is not None
        assert moves is not None
        # A hundredth of it, so that the marks move in proportion.
        after = opening.wrong_by(i, smallest / 100).adjusted()
        w = after.adjusted[i].standardised
        delta = noncentrality(critical_value(count_checked(before)))
        assert w == pytest.approx(-delta / 100, rel=1e-3)
        gone = {
            mark.name: float(np.hypot(*np.subtract(mark.at, at(before, mark.name).at)[:2]))
            for mark in after.marks
        }
        assert max(gone.values()) == pytest.approx(moves / 100, rel=5e-3)
        assert gone[sure[i].farthest] == pytest.approx(max(gone.values()), rel=1e-3)


def test_where_nothing_checks_a_reading_no_size_is_said() -> None:
    sure = {one.words: one for one in reliabilities(surveyed(example("boathouse")))}
    floor = sure["floor left 20 in out above BL"]
    assert (floor.smallest, floor.moves) == (None, None)
    assert floor.redundancy == pytest.approx(0.0, abs=1e-9)
    lone = surveyed(job_of([distance("BL", "BR", 3.0), level("BL", 0.0), level("BR", 0.0)]))
    assert all(one.smallest is None for one in reliabilities(lone))
    assert least_checked(reliabilities(lone)) is None


def test_the_reading_that_could_do_most_harm_unseen() -> None:
    sure = reliabilities(surveyed(example("boathouse")))
    worst = least_checked(sure)
    assert worst is not None
    assert worst.words == "BL from the laser line"
    assert all((one.moves or 0.0) <= (worst.moves or 0.0) for one in sure if not one.assumed)


def test_with_many_readings_each_must_stand_out_further() -> None:
    assert critical_value(1) == critical_value(40)
    assert critical_value(200) > critical_value(40)
    # Šidák: of 200 independent good readings one stands out in four sets of a hundred.
    alone = 2 * norm.sf(critical_value(200))
    assert 1 - (1 - alone) ** 200 == pytest.approx(0.04, rel=1e-9)


def test_repeated_readings_check_one_another_half() -> None:
    twice = job_of(
        [
            distance("BL", "BR", 3.0, sd="2 mm"),
            distance("BL", "BR", 3.0, sd="2 mm"),
            level("BL", 0.0),
            level("BR", 0.0),
        ]
    )
    first = reliabilities(surveyed(twice))[0]
    assert first.redundancy == pytest.approx(0.5)
    assert first.smallest == pytest.approx(0.002 * noncentrality(critical_value(2)) / 0.5**0.5)
    assert first.moves == pytest.approx((first.smallest or 0.0) / 2)
    assert first.farthest == "BR"


def test_which_readings_are_hard_to_tell_apart() -> None:
    sure = {one.key: one for one in reliabilities(surveyed(example("yard-gate")))}
    width = sure["reading/L@mid to R@mid"]
    # One condition ties the width half way up to both sides' straightness.
    assert width.looks_like.startswith("assumed/")
    assert width.likeness == pytest.approx(1.0, abs=1e-6)
    assert sure["reading/BR above BL"].looks_like == ""
    assert sure["reading/BR above BL"].likeness == 0.0


def test_an_error_of_the_smallest_size_is_found_with_the_power_that_is_said() -> None:
    # The standardised residual of the wrong reading follows N(δ0, 1): 80 % pass the critical value.
    rng = random.Random(62)
    count, seen = cases(100, 2000), 0
    opening = fitted(read(rng))
    before = opening.adjusted()
    sure = reliabilities(before)
    critical = critical_value(count_checked(before))
    i = next(i for i, one in enumerate(sure) if one.words == "BL to TR")
    for _ in range(count):
        noisy = opening.wrong_by(i, sure[i].smallest or 0.0)
        for k, one in enumerate(noisy.seen):
            noisy = noisy.wrong_by(k, rng.gauss(0.0, one.sd))
        found = adjust(noisy.seen, noisy.places)
        assert isinstance(found, Survey)
        seen += abs(found.adjusted[i].standardised or 0.0) > critical
    # Five standard deviations of the binomial distribution either way.
    assert abs(seen / count - 0.8) < 5.0 * (0.8 * 0.2 / count) ** 0.5
