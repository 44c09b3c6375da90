"""What a plan says its checks were worked for."""

from __future__ import annotations

import pytest

from leafwright import plan
from leafwright.job.model import Building, Job, Wind
from leafwright.say_loads import loads_words
from leafwright.told.plan import plan_text
from leafwright.told.prove import prove_text
from tests.mount.stacks import HOLD, PIVOT, job


def said(of: Job) -> str:
    return loads_words(plan(of, upto="proof"))


def windy(of: Job) -> Job:
    wind = Wind.model_validate({"standard": "ASCE 7-22", "speed": "105 mph", "exposure": "C"})
    building = Building.model_validate({"indoors": "no"})
    return of.model_copy(update={"wind": wind, "building": building})


def test_an_indoor_load_is_called_one_and_wind_outdoors_is_not_proved() -> None:
    told = said(job(PIVOT))
    assert "5.00 psf of air indoors" in told
    assert "Not for wind outdoors" in told.partition("Proved for")[2]
    assert "give [wind]" not in told
    unsaid = said(job(PIVOT, building={}))
    assert "Not for wind outdoors (say indoors, or give [wind])" in unsaid


def test_wind_that_was_proved_is_named_with_its_standard() -> None:
    told = said(windy(job(PIVOT)))
    assert "of wind on the shut leaf (ASCE/SEI 7-22)" in told
    assert "indoors" not in told
    assert "wind on an open leaf" in told.partition("Not for")[2]


@pytest.mark.parametrize("stopped", [True, False])
def test_the_open_stop_is_named_only_where_it_was_a_case(stopped: bool) -> None:
    hold = HOLD if stopped else {**HOLD, "stop_out": None}
    assert ("its open stop" in said(job(PIVOT, hold=hold))) is stopped


def test_it_stands_beside_the_count_of_checks() -> None:
    made = plan(job(PIVOT), upto="proof")
    for text in (plan_text(made), prove_text(made, whole=False)):
        after = " ".join(text.partition("Checks: ")[2].split()[:60])
        assert "Proved for its own weight, a person of 200 lb on the nose" in after


def test_nothing_proved_is_nothing_said() -> None:
    assert loads_words(plan(job(PIVOT), upto="survey")) == ""
