"""Too few readings: what they leave loose is said in the maker's words, and so is what would do."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from leafwright.records import Held
from leafwright.survey import Survey, survey
from tests.survey.openings import (
    Reading,
    distance,
    example,
    job_of,
    level,
    plumb,
    random_marks,
    rise,
    true_readings,
)

MARKS = random_marks(random.Random(31))
NO_UP = "nothing says which way is up"
LEVEL = "a level, a rise or a plumb line between two marks"
REACH = "a width, a height, a diagonal, a level or a plumb line that reaches each"
HOOK = {"name": "hook", "near_x": "1 m", "near_y": "2 m"}


def held(readings: list[Reading], **tables: Any) -> Held:
    found = survey(job_of(readings, **tables))
    assert isinstance(found, Held), found
    return found


def test_without_a_level_or_a_plumb_line_nothing_says_which_way_is_up() -> None:
    distances = [r for r in true_readings(MARKS) if r["kind"] == "distance"]
    found = held(distances)
    assert found.why == NO_UP
    assert found.needs == (LEVEL,)


@pytest.mark.parametrize(
    "one",
    [
        plumb("BL", "TL", 0.0, "left"),
        plumb("BR", "TR", 0.0, "inward"),
        rise("BL", "BR", 0.0),
        rise("TL", "TR", 0.0),
    ],
)
def test_one_plumb_line_or_rise_says_it(one: Reading) -> None:
    distances = [r for r in true_readings(MARKS) if r["kind"] == "distance"]
    assert isinstance(survey(job_of([*distances, one])), Survey)


def test_one_level_says_nothing_and_two_do() -> None:
    distances = [r for r in true_readings(MARKS) if r["kind"] == "distance"]
    assert held([*distances, level("BL", 0.0)]).why == NO_UP
    two = [*distances, level("BL", 0.0), level("BR", 0.0)]
    assert isinstance(survey(job_of(two)), Survey)


def test_of_two_planes_each_needs_two_marks() -> None:
    distances = [r for r in true_readings(MARKS) if r["kind"] == "distance"]
    one_each = [level("BL", 0.0), level("BR", 0.0, plane="another")]
    assert held([*distances, *one_each]).why == NO_UP


def test_only_widths() -> None:
    found = held([distance("BL", "BR", 3.0), distance("TL", "TR", 3.0)])
    assert found.why == (
        f"{NO_UP}; not pinned by these readings: "
        "TL sideways and up and down, TR sideways and up and down"
    )
    assert found.needs == (LEVEL, REACH)


def test_widths_and_a_plumb_line_without_a_height() -> None:
    found = held(
        [
            distance("BL", "BR", 3.0),
            distance("TL", "TR", 3.0),
            plumb("BL", "TL", 0.0, "left"),
            plumb("BR", "TR", 0.0, "left"),
            rise("BL", "BR", 0.0),
        ]
    )
    assert found.why == "not pinned by these readings: TL up and down, TR up and down"
    assert found.needs == (REACH,)


def test_heights_and_levels_without_a_width() -> None:
    found = held(
        [
            distance("BL", "TL", 4.0),
            distance("BR", "TR", 4.0),
            *(level(name, 0.0) for name in ("BL", "BR")),
            *(level(name, 4.0) for name in ("TL", "TR")),
        ]
    )
    assert found.why == "not pinned by these readings: TL sideways, BR sideways, TR sideways"


@pytest.mark.parametrize(
    ("place", "one", "way"),
    [
        (("1 m", "0 m"), distance("BL", "hook", 1.0), "up and down"),
        (("0 m", "1 m"), distance("BL", "hook", 1.0), "sideways"),
        (("1 m", "1 m"), distance("BL", "hook", math.sqrt(2)), "at a slant"),
        (("1 m", "1 m"), rise("BL", "hook", 1.0), "sideways"),
        (("1 m", "1 m"), plumb("BL", "hook", 1.0, "right"), "up and down"),
    ],
)
def test_a_mark_reached_along_one_direction_only(
    place: tuple[str, str], one: Reading, way: str
) -> None:
    hook = {"name": "hook", "near_x": place[0], "near_y": place[1]}
    found = held([*true_readings(MARKS), one], mark=[hook])
    assert found.why == f"not pinned by these readings: hook {way}"
    assert found.needs[0] == REACH


def test_a_mark_that_starts_on_the_line_between_its_two_readings() -> None:
    hook = {"name": "hook", "near_x": "1 m", "near_y": "0 m"}
    square = [
        distance("BL", "BR", 3.0),
        rise("BL", "BR", 0.0),
        distance("BL", "hook", 2.0),
        distance("BR", "hook", 2.0),
    ]
    found = held(square, mark=[hook])
    assert found.why == "not pinned by these readings: hook up and down"
    assert found.needs[1] == (
        "or, where readings from two directions reach hook already, near_x and near_y closer to "
        "where it is"
    )
    assert isinstance(survey(job_of(square, mark=[{**hook, "near_y": "0.5 m"}])), Survey)


def test_two_marks_given_the_same_place() -> None:
    hook = {"name": "hook", "near_x": "0 m", "near_y": "0 m"}
    found = held([*true_readings(MARKS), distance("BL", "hook", 1.0)], mark=[hook])
    assert found.why == (
        "BL and hook are given the same place, and a distance is read from one to the other"
    )
    assert found.needs == ("near_x and near_y of each [[mark]] near to where it is",)


def test_readings_that_never_reach_the_corner_the_axes_start_from() -> None:
    found = held([distance("BR", "TR", 4.0), rise("BR", "TR", 4.0), distance("TR", "TL", 3.0)])
    assert found.why.startswith("no reading ties the other marks to BL")
    assert found.needs[0] == "a reading from or to BL"


def test_a_corner_that_no_reading_reaches_is_simply_not_there() -> None:
    found = survey(job_of([distance("BL", "BR", 3.0), rise("BL", "BR", 0.0)]))
    assert isinstance(found, Survey)
    assert [m.name for m in found.marks] == ["BL", "BR"]


def test_a_point_along_a_side_whose_head_is_not_read() -> None:
    found = held([distance("BL", "BR", 3.0), rise("BL", "BR", 0.0), distance("L@1m", "R@1m", 3.0)])
    assert "TL" in found.why
    assert "TR" in found.why


def test_everything_set_aside() -> None:
    job = example("boathouse")
    aside = tuple(r.model_copy(update={"set_aside": "rain"}) for r in job.reading)
    found = survey(job.model_copy(update={"reading": aside}))
    assert found == Held("every reading is set aside", ("at least one reading that is used",))


def test_setting_one_reading_too_many_aside() -> None:
    job = example("boathouse")
    kinds = ("level", "plumb")
    aside = tuple(
        r.model_copy(update={"set_aside": "wet"}) if r.kind in kinds else r for r in job.reading
    )
    found = survey(job.model_copy(update={"reading": aside}))
    assert isinstance(found, Held)
    assert found.why == NO_UP
