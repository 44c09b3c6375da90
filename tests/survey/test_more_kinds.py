"""Offsets from a line, floor points on plan, the head's profile and the reveal's depth."""

from __future__ import annotations

import pytest

from leafwright.job.defaults import DEFAULTS
from leafwright.survey import at, coordinate, floor_marks
from leafwright.survey.observe import observations
from tests.survey.openings import Reading, distance, floor, job_of, mm, plumb, rise, surveyed

WIDE, HIGH = 3.0, 4.0
SQUARE = [
    distance("BL", "BR", WIDE),
    distance("BL", "TL", HIGH),
    distance("BR", "TR", HIGH),
    rise("BL", "BR", 0.0),
    plumb("BL", "TL", 0.0, "left"),
    plumb("BR", "TR", 0.0, "left"),
]


def offset(mark: str, first: str, last: str, metres: float, toward: str) -> Reading:
    read = {"kind": "offset", "at": mark, "from": first, "to": last, "is": mm(metres)}
    return {**read, "toward": toward, "sd": "0.001 mm"}


@pytest.mark.parametrize(
    ("mark", "first", "last", "toward", "axis", "moved"),
    [
        ("L@2m", "BL", "TL", "right", 0, 0.01),
        ("L@2m", "TL", "BL", "right", 0, 0.01),
        ("L@2m", "BL", "TL", "left", 0, -0.01),
        ("L@2m", "BL", "TL", "inward", 0, 0.01),
        ("L@2m", "TL", "BL", "outward", 0, -0.01),
        ("R@2m", "BR", "TR", "inward", 0, WIDE - 0.01),
        ("R@2m", "TR", "BR", "outward", 0, WIDE + 0.01),
        ("peak", "TL", "TR", "outward", 1, HIGH + 0.01),
        ("peak", "TR", "TL", "inward", 1, HIGH - 0.01),
        ("sill", "BL", "BR", "inward", 1, 0.01),
        ("sill", "BR", "BL", "outward", 1, -0.01),
    ],
)
def test_which_way_an_offset_points(
    mark: str, first: str, last: str, toward: str, axis: int, moved: float
) -> None:
    own = [
        {"name": "peak", "near_x": "1.5 m", "near_y": "4 m"},
        {"name": "sill", "near_x": "1.5 m", "near_y": "0 m"},
    ]
    beside = [distance("BL", mark, 1.5, sd="0.001 mm")] if mark == "sill" else []
    beside += [distance("TL", mark, 1.5, sd="0.001 mm")] if mark == "peak" else []
    readings = [*SQUARE, *beside, offset(mark, first, last, 0.01, toward)]
    found = surveyed(job_of(readings, mark=own))
    assert at(found, mark).at[axis] == pytest.approx(moved, abs=1e-5)
    words = found.adjusted[len(readings) - 1].observation.words
    assert words == f"{mark} {toward} of the line {first} to {last}"


def test_a_floor_point_on_plan_stands_where_it_was_read() -> None:
    readings = [*SQUARE, {"kind": "floor", "x": "500 mm", "z": "-900 mm", "is": "-12 mm"}]
    found = surveyed(job_of(readings))
    mark = at(found, "floor at 500 mm, -900 mm")
    assert mark.at == pytest.approx((0.5, -0.012, -0.9))
    assert mark in floor_marks(found) and not floor_marks(found, "left")
    assert coordinate(found, mark.name, "y").value == pytest.approx(-0.012)


def test_the_head_between_its_corners() -> None:
    readings = [*SQUARE, {"kind": "head", "x": "1 m", "is": "-7 mm"}]
    readings.append({"kind": "head", "x": "2 m", "is": "3.993 m", "above": "BL"})
    found = surveyed(job_of(readings))
    assert at(found, "head at 1 m").at == pytest.approx((1.0, HIGH - 0.007, 0.0), abs=1e-9)
    assert at(found, "head at 2 m").at == pytest.approx((2.0, HIGH - 0.007, 0.0), abs=1e-9)


def test_the_depth_of_the_reveal_is_kept_apart_from_the_opening() -> None:
    deep = {"kind": "depth", "at": "TR", "is": "200 mm"}
    found = surveyed(job_of([*SQUARE, deep, {**deep, "is": "203 mm"}, deep]))
    plain = surveyed(job_of(SQUARE))
    depth = coordinate(found, "depth at TR", "y")
    assert depth.value == pytest.approx(0.201, abs=1e-9)
    assert depth.sd == pytest.approx(0.0015 / 3**0.5)
    # Two readings more than one depth needs check it, and nothing else.
    assert found.freedom == plain.freedom + 2
    assert at(found, "TR").at == pytest.approx(at(plain, "TR").at, abs=1e-12)


def test_what_the_new_kinds_are_read_with() -> None:
    readings = [
        *SQUARE,
        {k: v for k, v in offset("L@2m", "BL", "TL", 0.0, "left").items() if k != "sd"},
        {"kind": "head", "x": "1 m", "is": "0 mm"},
        {"kind": "depth", "at": "BL", "is": "200 mm"},
        floor("left", 0.0),
    ]
    seen, _ = observations(job_of(readings))
    sds = [o.sd for o in seen if not o.assumed][-4:]
    names = ("rule sd", "level sd", "tape sd", "level sd")
    assert sds == [DEFAULTS[name].metric for name in names]
