from __future__ import annotations

from typing import Any, get_args

import pytest
from pydantic import BaseModel

from leafwright.job.changed_by import CHANGED_BY
from leafwright.job.defaults import DEFAULTS, System, chosen
from leafwright.job.model import Job
from leafwright.records import Verdict, graded
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
    said = "common practice, no source; top_gap in [doorway] changes it"
    assert default.note == said


def test_a_wish_of_nothing_is_a_wish() -> None:
    wish = chosen(read_length("0 mm"), "top gap", "key", "top gap", system="metric")
    assert (wish.value, wish.kind) == (0.0, "wish")


@pytest.mark.parametrize("name", DEFAULTS)
def test_both_unit_families_mean_much_the_same(name: str) -> None:
    default = DEFAULTS[name]
    assert default.why
    assert default.metric == pytest.approx(default.inch, rel=0.30)


@pytest.mark.parametrize("name", CHANGED_BY)
def test_the_key_that_is_named_is_one_of_the_job_file(name: str) -> None:
    assert name in DEFAULTS
    place, key = CHANGED_BY[name]
    tables: set[type[BaseModel]] = {Job}
    for step in place.replace("each_leaf", "leaf").split("."):
        tables = {
            found for table in tables for found in _tables(table.model_fields[step].annotation)
        }
    assert any(key in table.model_fields for table in tables), f"{key} in [{place}]"


def _tables(annotation: Any) -> set[type[BaseModel]]:
    """Return every table that a field may hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return {annotation}
    return {found for part in get_args(annotation) for found in _tables(part)}


def test_a_default_without_a_key_names_none() -> None:
    one = chosen(None, "carry-over", "mount/carry-over", "carry-over", system="metric")
    assert "changes it" not in one.note


def test_the_share_that_makes_a_check_tight_is_the_one_that_is_listed() -> None:
    share = DEFAULTS["tight from"].inch
    assert graded(share) is Verdict.TIGHT
    assert graded(share - 1e-6) is Verdict.OK
