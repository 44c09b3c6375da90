from __future__ import annotations

import pytest

from leafwright.job.defaults import DEFAULTS, System, chosen
from leafwright.units import read_length


def test_a_wish_goes_before_the_default_and_keeps_its_words() -> None:
    typed = read_length('1/2"')
    wish = chosen(typed, "top gap", "doorway/top gap", "top gap", system="metric", sd=0.001)
    assert wish.value == pytest.approx(0.0127)
    assert (wish.kind, wish.note, wish.unit) == ("wish", '1/2"', "m")
    assert wish.sd == 0.001


@pytest.mark.parametrize(("system", "value"), [("feet-inch", 0.0127), ("metric", 0.012)])
def test_a_default_is_of_the_job_s_own_units_and_says_why(system: System, value: float) -> None:
    default = chosen(None, "top gap", "doorway/top gap", "top gap", system=system)
    assert default.value == pytest.approx(value)
    assert default.kind == "default"
    assert default.note == "common practice, no source"


def test_a_wish_of_nothing_is_a_wish() -> None:
    wish = chosen(read_length("0 mm"), "top gap", "key", "top gap", system="metric")
    assert (wish.value, wish.kind) == (0.0, "wish")


@pytest.mark.parametrize("name", DEFAULTS)
def test_both_unit_families_mean_much_the_same(name: str) -> None:
    default = DEFAULTS[name]
    assert default.why
    assert default.metric == pytest.approx(default.inch, rel=0.30)
