"""What each kind of reading says of the marks: signs, instruments, words, and points in space."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from leafwright.job.defaults import DEFAULTS
from leafwright.records import Verdict
from leafwright.survey import Survey, at, coordinate, floor_marks, side_marks
from leafwright.survey.observe import observations
from tests.sizes import cases
from tests.survey.openings import (
    INCH,
    Marks,
    Reading,
    along,
    distance,
    example,
    floor,
    inches,
    job_of,
    level,
    plumb,
    random_marks,
    rise,
    surveyed,
    true_readings,
)

SQUARE = [distance("BL", "BR", 3.0), distance("BL", "TL", 4.0), distance("BR", "TR", 4.0)]


def test_readings_without_error_give_the_opening_back() -> None:
    rng = random.Random(21)
    for _ in range(cases(25, 500)):
        marks = random_marks(rng)
        up = rng.choice([None, f"{rng.uniform(600, 1500):.0f} mm"])
        found = surveyed(job_of(true_readings(marks, up=up)))
        for name, place in marks.items():
            assert at(found, name).at == pytest.approx(place, abs=1e-8)
        assert found.weighted_sum == pytest.approx(0.0, abs=1e-9)
        assert found.agreement == "agrees"
        if up is not None:
            for side, letter in (("left", "L"), ("right", "R")):
                place = along(marks, side, float(up.removesuffix(" mm")) / 1000)
                assert at(found, f"{letter}@{up}").at == pytest.approx(place, abs=1e-7)


@pytest.mark.parametrize(
    ("to", "toward", "step"),
    [
        ("TL", "left", -1.0),
        ("TL", "right", 1.0),
        ("TL", "outward", -1.0),
        ("TL", "inward", 1.0),
        ("TR", "left", -1.0),
        ("TR", "right", 1.0),
        ("TR", "outward", 1.0),
        ("TR", "inward", -1.0),
    ],
)
@pytest.mark.parametrize("size", [0.007, -0.004])
def test_which_way_a_plumb_reading_points(to: str, toward: str, step: float, size: float) -> None:
    foot = "BL" if to == "TL" else "BR"
    other = plumb("BR", "TR", 0.0, "left") if to == "TL" else plumb("BL", "TL", 0.0, "left")
    readings = [*SQUARE, rise("BL", "BR", 0.0), plumb(foot, to, size, toward), other]
    found = surveyed(job_of(readings))
    assert at(found, to).at[0] - at(found, foot).at[0] == pytest.approx(step * size, abs=1e-9)
    assert found.adjusted[4].observation.words == f"{to} {toward} of plumb from {foot}"


def test_levels_and_rises_count_up_as_plus() -> None:
    found = surveyed(
        job_of(
            [
                *SQUARE,
                level("BL", -1.0),
                level("BR", -1.02),
                level("TR", 3.0, plane="second day"),
                level("BR", -1.0, plane="second day"),
                plumb("BL", "TL", 0.0, "left"),
                plumb("BR", "TR", 0.0, "left"),
                rise("TL", "TR", -0.02),
            ]
        )
    )
    assert at(found, "BR").at[1] == pytest.approx(-0.02, abs=1e-6)
    assert at(found, "plane laser").at[1] == pytest.approx(1.0, abs=1e-6)
    assert at(found, "TR").at[1] - at(found, "BR").at[1] == pytest.approx(4.0, abs=1e-6)
    words = [a.observation.words for a in found.adjusted]
    assert "TR from the second day line" in words
    assert "TR above TL" in words


def test_the_floor_is_read_above_the_mark_that_is_named() -> None:
    readings = [
        distance("BL", "BR", 3.0),
        rise("BL", "BR", 0.1),
        floor("left", 0.006),
        floor("left", 0.004, out="500 mm"),
        floor("right", -0.02, out="1 m", above="BR"),
    ]
    found = surveyed(job_of(readings))
    assert at(found, "floor left highest").at[1] == pytest.approx(0.006)
    assert at(found, "floor right 1 m out").at[1] == pytest.approx(0.08)
    assert [m.name for m in floor_marks(found, "left")] == [
        "floor left highest",
        "floor left 500 mm out",
    ]
    assert len(floor_marks(found)) == 3
    # Over a mark that is itself read, the floor is less sure than its reading.
    assert at(found, "floor right 1 m out").sd_y == pytest.approx(math.hypot(0.0015, 0.0015))


def test_a_mark_of_ones_own_may_be_called_after_the_floor() -> None:
    sill = {"name": "floor sill", "near_x": "1 m", "near_y": "0 m"}
    found = surveyed(
        job_of(
            [
                distance("BL", "BR", 3.0),
                rise("BL", "BR", 0.0),
                distance("BL", "floor sill", 1.0),
                rise("BL", "floor sill", 0.0),
            ],
            mark=[sill],
        )
    )
    assert at(found, "floor sill").at == pytest.approx((1.0, 0.0, 0.0), abs=1e-9)
    assert coordinate(found, "floor sill", "x").value == pytest.approx(1.0)


@pytest.mark.parametrize("system", ["feet-inch", "metric"])
def test_how_sure_each_instrument_is_unless_it_is_said(system: str) -> None:
    by = ["tape", "long tape", "laser", "level", "plumb line", "rule"]
    readings: list[Reading] = [distance("BL", "BR", 3.0, by=name) for name in by]
    readings += [
        distance("BL", "BR", 3.0),
        distance("BL", "BR", 3.0, sd="7 mm"),
        plumb("BL", "TL", 0.0, "left"),
        level("BL", 0.0),
        floor("left", 0.0),
    ]
    seen, used = observations(job_of(readings, system=system))

    def usual(name: str) -> float:
        rule = DEFAULTS[f"{name} sd"]
        return rule.inch if system == "feet-inch" else rule.metric

    expected = [usual(name) for name in by]
    expected += [usual("tape"), 0.007, usual("plumb line"), usual("level"), usual("level")]
    assert [s.sd for s in seen] == expected
    assert [s.quantity.sd for s in seen] == expected
    assert {q.name for q in used} == {f"{name} sd" for name in by}
    assert all(q.kind == "default" and "common practice, no source" in q.note for q in used)


def test_trade_figures_of_the_instruments() -> None:
    # Common practice, no source: one-person tape ±1/16 in, two-person long drop ±1/8, laser ±1/16;
    # 1.5, 3 and 1.5 mm.
    for name, inch, metric in (
        ("tape sd", 1 / 16, 0.0015),
        ("long tape sd", 1 / 8, 0.003),
        ("laser sd", 1 / 16, 0.0015),
    ):
        assert (DEFAULTS[name].inch, DEFAULTS[name].metric) == (inch * INCH, metric)


def test_a_reading_keeps_who_read_it_how_and_as_typed() -> None:
    one = {"kind": "distance", "from": "BL", "to": "BR", "is": "10'-6 11/16"}
    seen, _ = observations(job_of([{**one, "by": "laser", "who": "Ann"}, one, one]))
    assert seen[0].quantity.note == "10'-6 11/16 by laser, Ann"
    assert [s.words for s in seen] == [
        "BL to BR",
        "BL to BR (reading 2)",
        "BL to BR (reading 3)",
    ]
    assert [s.key for s in seen] == [f"reading/{s.words}" for s in seen]


def test_marks_along_a_side_are_assumed_to_be_nearly_on_it() -> None:
    marks = random_marks(random.Random(5))
    readings = [*true_readings(marks), distance("L@mid", "R@900mm", 3.0)]
    seen, used = observations(job_of(readings, opening={"side_straightness": "10 mm"}))
    assumed = [s for s in seen if s.assumed]
    assert [(s.words, s.sd) for s in assumed] == [
        ("left side straight at L@mid", 0.010),
        ("L@mid is half way up", 0.012),
        ("right side straight at R@900mm", 0.010),
        ("R@900mm is 900mm up", 0.006),
    ]
    assert all(s.quantity.kind == "default" and s.quantity.note == "assumed" for s in assumed)
    assert "side straightness" not in {q.name for q in used}


def test_side_marks_come_from_the_floor_up() -> None:
    found = surveyed(example("boathouse"))
    assert [m.name for m in side_marks(found, "left")] == ["BL", "L@84in", "TL"]
    assert [m.name for m in side_marks(found, "right")] == ["BR", "R@84in", "TR"]


SWAPPED = {"BL": "BR", "BR": "BL", "TL": "TR", "TR": "TL", "left": "right", "right": "left"}


def mirrored(reading: Reading) -> Reading:
    """Return the reading of the opening seen from its back."""
    found: dict[str, Any] = {}
    for key, value in reading.items():
        text = SWAPPED.get(value, value) if isinstance(value, str) else value
        if key in ("from", "to", "at") and "@" in text:
            text = ("R" if text[0] == "L" else "L") + text[1:]
        found[key] = text
    return found


def test_an_opening_seen_from_the_back_is_its_mirror_image() -> None:
    rng = random.Random(22)
    for _ in range(cases(25, 500)):
        marks = random_marks(rng)
        readings = true_readings(marks, up="1000 mm")
        # Errors, so that something is adjusted.
        for reading in readings:
            metres = float(reading["is"].removesuffix(" mm")) / 1000 + rng.gauss(0.0, 0.001)
            reading["is"] = inches(metres)
        one = surveyed(job_of(readings))
        other = surveyed(job_of([mirrored(reading) for reading in readings]))
        width, base = at(other, "BR").at[:2]
        for mark in one.marks:
            if mark.name.startswith("plane"):
                continue
            name = SWAPPED.get(mark.name, mark.name)
            name = ("R" if name[0] == "L" else "L") + name[1:] if "@" in name else name
            x, y, _ = at(other, name).at
            # The origin is the other bottom corner then.
            assert (width - x, y - base) == pytest.approx(mark.at[:2], abs=1e-8)
        assert other.weighted_sum == pytest.approx(one.weighted_sum, rel=1e-6)


def turned(marks: Marks, angle: float) -> Marks:
    c, s = math.cos(angle), math.sin(angle)
    return {name: (c * x - s * y, s * x + c * y, z) for name, (x, y, z) in marks.items()}


def test_an_opening_that_leans_is_found_leaning() -> None:
    rng = random.Random(23)
    for _ in range(cases(25, 500)):
        marks = turned(random_marks(rng), rng.uniform(-0.2, 0.2))
        found = surveyed(job_of(true_readings(marks)))
        for name, place in marks.items():
            assert at(found, name).at == pytest.approx(place, abs=1e-8)


def test_a_mark_out_of_the_plane_is_read_in_space() -> None:
    rng = random.Random(24)
    for _ in range(cases(25, 500)):
        marks = random_marks(rng)
        x, y, z = rng.uniform(0.2, 0.8), rng.uniform(0.5, 1.5), rng.uniform(-0.9, 0.9)
        place = (x, y, z)
        own = {
            "name": "hook",
            "near_x": f"{1000 * (x + 0.1):.0f} mm",
            "near_y": f"{1000 * (y - 0.1):.0f} mm",
            "z": f"{1000 * z:.6f} mm",
        }
        apart = [distance(name, "hook", math.dist(marks[name], place)) for name in marks]
        found = surveyed(job_of([*true_readings(marks), *apart], mark=[own]))
        assert at(found, "hook").at == pytest.approx(place, abs=1e-7)
        assert found.agreement == "agrees"


@pytest.mark.parametrize("write", [inches, lambda metres: f"{metres:.9f} m"])
def test_the_family_of_units_changes_no_mark(write: Any) -> None:
    rng = random.Random(25)
    for _ in range(cases(25, 500)):
        readings = true_readings(random_marks(rng), sd="1/16 in")
        for reading in readings:
            reading["is"] = f"{float(reading['is'].removesuffix(' mm')) + rng.gauss(0, 1):.6f} mm"
        one = surveyed(job_of(readings, system="metric"))
        other = surveyed(
            job_of(
                [
                    {**r, "is": write(float(r["is"].removesuffix(" mm")) / 1000), "sd": "1.5875 mm"}
                    for r in readings
                ],
                system="feet-inch",
            )
        )
        assert agree(one, other)


def agree(one: Survey, other: Survey) -> bool:
    """Return whether two surveys have the same marks, as sure; else fail with the difference."""
    assert [m.name for m in one.marks] == [m.name for m in other.marks]
    for a, b in zip(one.marks, other.marks, strict=True):
        assert b.at == pytest.approx(a.at, abs=1e-8)
        assert (b.sd_x, b.sd_y) == pytest.approx((a.sd_x, a.sd_y), rel=1e-6)
    return True


def test_a_width_between_bottom_and_top_is_asked_for_where_none_was_read() -> None:
    marks = random_marks(random.Random(8))
    bare = surveyed(job_of(true_readings(marks)))
    (asked,) = (c for c in bare.checks if c.verdict is Verdict.ASK)
    assert "read the width half way up, from L@mid to R@mid" in asked.change
    read_there = surveyed(job_of(true_readings(marks, up="1200 mm")))
    assert all(c.verdict is Verdict.OK for c in read_there.checks)


def test_a_mark_higher_than_its_side_is_asked_about() -> None:
    marks = random_marks(random.Random(8))
    far = distance("L@9000 mm", "R@1200 mm", 8.0)
    found = surveyed(job_of([*true_readings(marks, up="1200 mm"), far]))
    (asked,) = (c for c in found.checks if "beyond its side" in c.key)
    assert asked.verdict is Verdict.ASK and "L@9000 mm" in asked.subject
    assert "put right how far up the mark is" in asked.change
