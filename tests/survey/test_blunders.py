"""Misread openings: they stop the job, and the reading that is wrong is named."""

from __future__ import annotations

import random

import pytest

from leafwright.job.model import Job
from leafwright.records import Held
from leafwright.survey import Survey, survey
from leafwright.units import read_length
from tests.sizes import cases
from tests.survey.openings import (
    distance,
    example,
    job_of,
    mm,
    plumb,
    random_marks,
    rise,
    surveyed,
    true_readings,
)

FOOT = 0.3048


def misread(job: Job, index: int, metres: float) -> Job:
    readings = list(job.reading)
    wrong = read_length(mm(metres))
    readings[index] = readings[index].model_copy(update={"is_": wrong})
    return job.model_copy(update={"reading": tuple(readings)})


def first_suspect(found: Survey) -> str:
    (stop,) = found.stops
    assert stop.key == "survey/global test"
    told = stop.decide.removeprefix("read again, first: ")
    return told.split(";")[0].split(". ")[0]


def test_the_boathouse_agrees() -> None:
    found = surveyed(example("boathouse"))
    assert found.agreement == "agrees"
    assert found.stops == ()


def test_the_kiln_shed_does_not_agree_and_its_head_is_to_be_read_again() -> None:
    found = surveyed(example("kiln-shed"))
    assert found.agreement == "does not agree"
    (stop,) = found.stops
    assert stop.why == (
        "the readings of the opening do not agree with one another: at least one is wrong"
    )
    assert stop.decide.startswith("read again, first: TL to TR; ")
    assert stop.decide.endswith(
        'Then give the wrong reading a set_aside = "why" in the job file and write the new one '
        "beside it"
    )


def test_the_yard_gate_is_narrow_half_way_up_or_its_posts_are_bent() -> None:
    found = surveyed(example("yard-gate"))
    (stop,) = found.stops
    assert first_suspect(found) == "L@mid to R@mid"
    assert "If it reads the same again, the sides are less straight there" in stop.decide
    # Nothing else checks the rise of the ground, so it is not among the suspects.
    assert "BR above BL" not in stop.decide


@pytest.mark.parametrize("wrong", ["boathouse", "kiln-shed"])
@pytest.mark.parametrize("by", [FOOT, -FOOT])
def test_a_foot_misread_is_named_first(wrong: str, by: float) -> None:
    job = example(wrong)
    checked = {a.observation.key: a for a in surveyed(job).adjusted if a.standardised is not None}
    words = {a.observation.words for a in checked.values()}
    labels = [a.observation for a in surveyed(job).adjusted if not a.observation.assumed]
    places = [i for i, reading in enumerate(job.reading) if not reading.set_aside]
    tried = 0
    for place, seen in zip(places, labels, strict=True):
        if seen.words not in words:
            continue
        found = survey(misread(job, place, seen.quantity.value + by))
        assert isinstance(found, Survey), (seen.words, found)
        assert found.agreement == "does not agree"
        assert first_suspect(found) == seen.words
        tried += 1
    assert tried >= 11


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_a_slip_of_the_point_stops_the_job_too(name: str) -> None:
    # However far out a reading is, the answer is a stop or a survey that is held, never a crash.
    job = example(name)
    for i, reading in enumerate(job.reading):
        if reading.set_aside or reading.kind != "distance":
            continue
        for times in (10.0, 0.1):
            found = survey(misread(job, i, times * reading.is_.si))
            if isinstance(found, Held):
                assert "look for a foot or a digit misread" in found.needs[0]
            else:
                assert found.agreement == "does not agree"
                assert len(found.stops) == 1


def test_random_openings_with_one_gross_error_never_agree() -> None:
    rng = random.Random(41)
    for _ in range(cases(25, 500)):
        readings = true_readings(random_marks(rng))
        job = job_of(readings)
        i = rng.randrange(len(readings))
        error = rng.choice([-1, 1]) * rng.choice([FOOT, 0.1, 0.0254 * 6])
        value = job.reading[i].is_.si + error
        if job.reading[i].kind == "distance" and value < 0.3:
            continue
        found = surveyed(misread(job, i, value))
        assert found.agreement == "does not agree"
        assert first_suspect(found) == found.adjusted[i].observation.words


def test_with_one_reading_to_spare_a_blunder_is_seen_and_not_placed() -> None:
    # All standardised residuals are then equal: nothing can tell which reading is wrong.
    found = surveyed(
        job_of(
            [
                distance("BL", "BR", 3.0),
                distance("BL", "TL", 4.0),
                distance("BR", "TR", 4.0),
                distance("TL", "TR", 3.0),
                distance("BL", "TR", 5.05),
                plumb("BL", "TL", 0.0, "left"),
                rise("BL", "BR", 0.0),
            ]
        )
    )
    assert found.freedom == 1
    (stop,) = found.stops
    assert "these readings cannot tell which of them is wrong" in stop.decide
    assert "first" not in stop.decide
    for a in found.adjusted:
        if a.standardised is not None:
            assert a.observation.words in stop.decide


def test_the_floor_is_checked_by_nothing() -> None:
    job = example("boathouse")
    i = next(i for i, reading in enumerate(job.reading) if reading.kind == "floor")
    found = surveyed(misread(job, i, FOOT))
    assert found.agreement == "agrees"
    unchecked = [a for a in found.adjusted if a.observation.relation == "floor"]
    assert len(unchecked) == 6
    assert all(a.standardised is None and a.redundancy < 1e-9 for a in unchecked)


def test_setting_the_wrong_reading_aside_mends_it() -> None:
    job = example("kiln-shed")
    aside = [
        r.model_copy(update={"set_aside": "13 mm short of all the rest"})
        if r.kind == "distance" and (r.from_, r.to) == ("TL", "TR")
        else r
        for r in job.reading
    ]
    found = surveyed(job.model_copy(update={"reading": tuple(aside)}))
    assert found.agreement == "agrees"
    assert found.stops == ()
