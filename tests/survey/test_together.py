"""A slip that all readings of one tape share: named beside the readings that it contradicts."""

from __future__ import annotations

import random

import pytest

from leafwright.survey.misread import typed_in
from leafwright.survey.observe import observations, starting_places
from tests.sizes import cases
from tests.survey.blunders import Read, planted, read
from tests.survey.openings import INCH, example

TAPE = "tape"


def of_tape(opening: Read) -> list[int]:
    return [
        i
        for i, one in enumerate(opening.seen)
        if one.relation == "distance" and not one.assumed and typed_in(one)[1] == TAPE
    ]


def boathouse() -> Read:
    job = example("boathouse")
    everything, _ = observations(job)
    used = [one for one in everything if not one.set_aside]
    return Read(used, starting_places(job, used))


def burned(opening: Read, *, by: float = INCH) -> Read:
    for index in of_tape(opening):
        opening = opening.wrong_by(index, by)
    return opening


def test_a_tape_burned_throughout_is_named_beside_what_it_contradicts() -> None:
    opening = burned(boathouse())
    found = opening.doubted()
    assert found.verdict == "ambiguous"
    assert found.together is not None
    assert set(found.together.keys) == {opening.seen[i].key for i in of_tape(opening)}
    assert len(found.together.keys) == 3
    assert found.together.slip == INCH
    assert found.together.error == pytest.approx(INCH, abs=3 * found.together.sd)
    assert 'all 3 distances read by tape are 1" too long together' in found.sentence
    # What is blamed in its place is not called wrong outright.
    assert found.suspects and not any(one.certain for one in found.suspects)


@pytest.mark.parametrize("by", [0.0, -INCH, 0.4 * INCH, 12 * INCH])
def test_another_amount_is_no_burned_inch(by: float) -> None:
    assert burned(boathouse(), by=by).doubted().together is None


def test_one_reading_burned_is_that_reading() -> None:
    opening = boathouse()
    index = of_tape(opening)[1]
    found = opening.wrong_by(index, INCH).doubted()
    assert found.together is None
    assert opening.seen[index].key in {one.key for one in found.suspects}


def test_a_single_blunder_is_not_laid_at_the_tapes_door() -> None:
    for seed in range(cases(12, 200)):
        rng = random.Random(seed)
        opening, _ = planted(rng, read(rng), 1, times=3.0)
        assert opening.doubted().together is None, seed
