"""The highest floor under a leaf's swing, the lowest head over it, and what was not mapped."""

from __future__ import annotations

import math
import random
from typing import Literal

import numpy as np
import pytest

from leafwright.job.model import Job
from leafwright.survey import (
    FloorUnder,
    Sweep,
    at,
    floor_heights,
    floor_of,
    head_of,
    head_points,
    heights_at,
    highest_floor,
    lowest_head,
)
from leafwright.survey.swept import swept
from tests.sizes import cases
from tests.survey.openings import Reading, floor, job_of, mm, surveyed
from tests.survey.test_surface import on_plan, square

LEFT = Sweep("left", "both", 0.03, 1.4, 0.03)


def under(job: Job, sweep: Sweep = LEFT) -> FloorUnder:
    return highest_floor(job, surveyed(job), sweep)


def arcs(heights: dict[int, float], **more: str) -> list[Reading]:
    return [floor("left", h, out=f"{out} mm", **more) for out, h in heights.items()]


def test_it_is_never_below_what_was_read() -> None:
    rng = random.Random(411)
    for _ in range(cases(25, 500)):
        heights = {200 * i: rng.uniform(-0.02, 0.02) for i in range(1, 8)}
        found = under(job_of([*square(), *arcs(heights)]))
        most = max(0.0, *heights.values())
        assert found.highest.value >= most - 1e-8
        assert [q.value for q in found.read] == pytest.approx([0.0, *heights.values()], abs=1e-8)
        worst = found.unsure.value + 2 * found.unsure.sd
        assert worst >= max(q.value + 2 * q.sd for q in found.read) - 1e-12
        assert found.not_mapped == 0.0


def test_a_smooth_floor_is_highest_where_it_was_read_highest() -> None:
    found = under(job_of([*square(), *arcs({400: 0.001, 800: 0.004, 1200: 0.001})]))
    assert found.highest.value == pytest.approx(0.004)
    assert found.place == pytest.approx((0.03 + 0.8, 0.0))


def test_a_floor_that_rises_is_higher_past_the_last_reading() -> None:
    rising = {400: 0.004, 800: 0.008, 1000: 0.010}
    found = under(job_of([*square(), *arcs(rising, sd="0.1 mm")]))
    # It comes down again to the far corner, 3 m off, which lies as low as the near one.
    assert 0.0101 < found.highest.value < 0.0110
    assert found.place is not None and found.place[0] > LEFT.axis + 1.0
    assert found.highest.name == "highest floor under the left leaf"
    assert found.highest.sd > 0.0003


def test_the_highest_of_all_leaves_nothing_between() -> None:
    found = under(job_of([*square(), floor("left", 0.006)]))
    assert found.highest.value == pytest.approx(0.006)
    assert (found.place, found.not_mapped) == (None, 0.0)
    assert found.unsure is found.read[-1]


def test_the_far_corner_counts_where_the_leaf_reaches_it() -> None:
    job = job_of(square(wide=3.0))
    assert len(under(job).read) == 1
    assert len(under(job, Sweep("left", "both", 0.03, 2.95, 0.03)).read) == 2


@pytest.mark.parametrize(
    ("place", "swing", "reached"),
    [
        ((0.6, 0.6), "toward", True),
        ((0.6, 0.6), "both", True),
        ((0.6, 0.6), "away", False),
        ((0.6, -0.6), "toward", False),
        ((0.6, -0.6), "away", True),
        ((1.2, 1.2), "both", False),
        ((1.2, -0.02), "toward", True),
        ((-0.2, 0.5), "both", False),
    ],
)
def test_a_bump_counts_under_the_swing_only(
    place: tuple[float, float], swing: Literal["toward", "away", "both"], reached: bool
) -> None:
    grid = {(0.5 * i, 0.5 * k): 0.0 for i in range(4) for k in range(-3, 4)}
    job = job_of([*square(), *on_plan({**grid, place: 0.02})])
    sweep = Sweep("left", swing, 0.03, 1.4, 0.03)
    found = under(job, sweep)
    bump = 0.02 in {round(q.value, 6) for q in found.read}
    assert bump is reached
    if reached:
        assert found.highest.value == pytest.approx(0.02, abs=1e-6)
        assert found.place == pytest.approx(place)


@pytest.mark.parametrize(
    ("place", "degrees", "reached"),
    [
        ((-0.2, 0.5), 120.0, True),
        ((-0.2, -0.5), 120.0, True),
        ((-0.2, 0.5), 100.0, False),
        ((-1.0, 0.5), 120.0, False),
        ((-1.0, 0.5), 180.0, True),
        ((0.5, 0.6), 30.0, False),
        ((0.5, 0.2), 30.0, True),
    ],
)
def test_a_leaf_that_opens_farther_sweeps_farther(
    place: tuple[float, float], degrees: float, reached: bool
) -> None:
    assert swept(Sweep("left", "both", 0.03, 1.4, 0.03, math.radians(degrees)), *place) is reached


def test_the_right_leaf_of_the_mirrored_opening() -> None:
    rng = random.Random(412)
    grid = {(rng.uniform(0, 1.5), rng.uniform(-1.4, 1.4)): rng.gauss(0, 0.003) for _ in range(9)}
    mirrored = {(3.0 - x, z): h for (x, z), h in grid.items()}
    # Without a reading's doubt about the far corner the two are alike to the last figure.
    left = under(job_of([*square(), *on_plan(grid)]))
    right = under(
        job_of([*square(), *on_plan(mirrored)]), Sweep("right", "both", 3.0 - 0.03, 1.4, 0.03)
    )
    assert left.highest.value == pytest.approx(right.highest.value, abs=2e-4)
    assert left.place is not None and right.place is not None
    assert right.place[0] == pytest.approx(3.0 - left.place[0], abs=0.011)
    assert right.place[1] == pytest.approx(left.place[1], abs=0.011)
    assert left.not_mapped == pytest.approx(right.not_mapped, abs=0.02)


def test_what_is_far_from_every_reading_is_not_mapped() -> None:
    plain = under(job_of(square()))
    # Radii from 0 to 1.4 m with the corner at 0.03 m and a reach of 0.6 m: 1 − (0.63 / 1.4)² of
    # the swept area, as nearly as steps of 5 cm tell.
    assert plain.not_mapped == pytest.approx(1 - (0.63 / 1.4) ** 2, abs=0.05)
    assert plain.reach == 0.6
    one = under(job_of([*square(), *on_plan({(0.8, 0.8): 0.0})]))
    grid = {(0.5 * i, 0.5 * k): 0.0 for i in range(4) for k in range(-3, 4)}
    full = under(job_of([*square(), *on_plan(grid)]))
    assert 0.0 < one.not_mapped < 0.8
    assert full.not_mapped == 0.0
    # A reading along the swing maps its whole arc.
    both = under(job_of([*square(), *on_plan({(0.8, 0.8): 0.0}), *arcs({900: 0.0})]))
    assert both.not_mapped < one.not_mapped


def test_where_nothing_was_read_it_may_be_higher() -> None:
    near = under(job_of([*square(), *arcs({300: 0.0, 600: 0.0, 900: 0.0, 1200: 0.0})]))
    plain = under(job_of(square()))
    assert plain.unsure.sd > 1.5 * near.unsure.sd
    assert plain.unsure_place == pytest.approx((LEFT.axis + LEFT.radius, 0.0))


def test_readings_along_the_swing_tell_of_the_whole_arc() -> None:
    job = job_of([*square(), *arcs({400: 0.004, 1200: -0.004})])
    made = floor_of(job, surveyed(job), LEFT)
    turn = np.linspace(-math.pi / 2, math.pi / 2, 7)
    for radius in (0.2, 0.8, 1.4):
        x, z = LEFT.axis + radius * np.cos(turn), radius * np.sin(turn)
        heights, sds = floor_heights(made, x, z)
        assert np.ptp(heights) == pytest.approx(0.0, abs=1e-12)
        assert np.ptp(sds) == pytest.approx(0.0, abs=1e-12)


def test_readings_on_plan_tell_of_their_place() -> None:
    job = job_of([*square(), *on_plan({(0.5, 0.5): 0.004, (0.5, -0.5): -0.004}, sd=1e-5)])
    made = floor_of(job, surveyed(job), LEFT)
    heights, sds = floor_heights(made, np.array([0.5, 0.5]), np.array([0.5, -0.5]))
    assert heights == pytest.approx([0.004, -0.004], abs=1e-5)
    assert np.all(sds < 2e-5)


def head(x: float, height: float) -> Reading:
    return {"kind": "head", "x": mm(x), "is": mm(height)}


def test_the_lowest_head_is_where_it_was_read() -> None:
    found = surveyed(job_of([*square(), head(1.0, -0.02), head(2.0, 0.01)]))
    made = head_of(found, system="metric")
    assert head_points(found) == ["TL", "TR", "head at 1000.000000 mm", "head at 2000.000000 mm"]
    low = lowest_head(made, 0.0, 1.5)
    assert low.lowest.value == pytest.approx(2.48, abs=1e-6)
    assert low.place == pytest.approx(1.0)
    assert lowest_head(made, 1.9, 3.0).lowest.value > 2.495
    assert low.not_mapped == 0.0


def test_a_head_read_at_its_corners_alone_may_hang_between() -> None:
    found = surveyed(job_of(square(wide=3.0)))
    over = lowest_head(head_of(found, system="metric"), 0.0, 3.0)
    assert over.lowest.value == pytest.approx(at(found, "TL").at[1], abs=1e-5)
    assert over.unsure_place == pytest.approx(1.5, abs=0.8)
    assert over.unsure.sd > at(found, "TL").sd_y
    # 1.8 m of its 3 m are farther than 0.6 m from both corners.
    assert over.not_mapped == pytest.approx(0.6, abs=0.03)


def test_more_readings_of_a_head_leave_less_to_guess() -> None:
    readings = square(wide=3.0)
    sds, missed = [], []
    for x in (None, 1.5, 0.75, 2.25):
        readings = readings if x is None else [*readings, head(x, 0.0)]
        made = head_of(surveyed(job_of(readings)), system="metric")
        sds.append(float(np.max(heights_at(made, np.linspace(0, 3, 31)[:, None])[1])))
        missed.append(lowest_head(made, 0.0, 3.0).not_mapped)
    assert sds == sorted(sds, reverse=True) and sds[1] < sds[0]
    assert missed == sorted(missed, reverse=True)
    assert (missed[0] > 0.5, missed[-1]) == (True, 0.0)
