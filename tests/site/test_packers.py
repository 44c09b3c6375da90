"""Packers: all points come up into one plane, stacked from what lies on the bench."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Sequence

import numpy as np
import pytest

from leafwright.records import Held, Verdict, to_json
from leafwright.site.packers import FloorPoint, Packing, packers
from leafwright.units import Tape
from tests.sizes import cases

INCH = 0.0254
TAPE = Tape("feet-inch", 16)
SIXTEENTHS = (INCH / 16, INCH / 8, INCH / 4, INCH / 2)


def packed(
    points: Sequence[FloorPoint], stock: Sequence[float] = SIXTEENTHS, *, level: bool = True
) -> Packing:
    found = packers(points, stock, tape=TAPE, level=level)
    assert isinstance(found, Packing), found
    return found


def random_floor(seed: int, count: int = 6) -> list[FloorPoint]:
    rng = np.random.default_rng(seed)
    return [
        FloorPoint(
            f"stand {i + 1}",
            float(rng.uniform(0.0, 1.2)),
            float(rng.uniform(0.0, 4.5)),
            float(rng.uniform(0.0, 0.03)),
        )
        for i in range(count)
    ]


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_every_point_comes_up_to_the_highest(seed: int) -> None:
    points = random_floor(seed)
    found = packed(points)
    tops = [p.height + q.needed for p, q in zip(points, found.packers, strict=True)]
    assert tops == pytest.approx([max(p.height for p in points)] * len(points), abs=1e-12)
    assert min(q.needed for q in found.packers) == 0.0
    for packer in found.packers:
        # Sixteenths reach every sixteenth: half of one is the most that is left.
        assert abs(math.fsum(packer.stack) - packer.needed) <= INCH / 32 + 1e-12
        assert packer.left == pytest.approx(math.fsum(packer.stack) - packer.needed, abs=1e-15)
    assert found.worst_left == max(abs(q.left) for q in found.packers)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_flat_but_not_level_follows_the_floor(seed: int) -> None:
    points = random_floor(seed)
    found = packed(points, level=False)
    rows = np.array([[1.0, p.across, p.along] for p in points])
    tops = np.array([p.height for p in points]) + [q.needed for q in found.packers]
    plane, *_ = np.linalg.lstsq(rows, tops, rcond=None)
    floor, *_ = np.linalg.lstsq(rows, np.array([p.height for p in points]), rcond=None)
    assert rows @ plane == pytest.approx(tops, abs=1e-12)
    assert plane[1:] == pytest.approx(floor[1:], abs=1e-12)
    assert min(q.needed for q in found.packers) == pytest.approx(0.0, abs=1e-15)
    # The floor's own wave: what lies over and under its plane sums to nothing.
    assert sum(q.floor_wave for q in found.packers) == pytest.approx(0.0, abs=1e-12)
    assert found.wave == pytest.approx(max(q.needed for q in found.packers), abs=1e-12)


def test_tilt_of_a_sloping_floor() -> None:
    # Falls 1/8 in a foot along and 1 in 100 across; no wave.
    points = [
        FloorPoint(f"{i}{j}", float(i), float(j), 0.5 - 0.01 * i - j / 96)
        for i, j in itertools.product((0, 1), (0, 1, 2))
    ]
    found = packed(points)
    assert found.falls_across == pytest.approx(0.01, abs=1e-12)
    assert found.falls_along == pytest.approx(1 / 96, abs=1e-12)
    assert found.tilt == pytest.approx(math.atan(math.hypot(0.01, 1 / 96)), abs=1e-12)
    assert found.wave == pytest.approx(0.0, abs=1e-12)
    flat = packed(points, level=False)
    assert max(q.needed for q in flat.packers) == pytest.approx(0.0, abs=1e-12)
    assert flat.words[-1] == (
        "Packed, the stands are flat, not level: do not go by a spirit level on this leaf."
    )


@pytest.mark.parametrize("stock", [SIXTEENTHS, (0.003, 0.005), (0.001, 0.0064, 0.012), (0.007,)])
def test_stacks_are_nearest_and_of_the_fewest_packers(stock: tuple[float, ...]) -> None:
    points = random_floor(7, count=5)
    for packer in packed(points, stock).packers:
        best = min(
            (abs(math.fsum(c) - packer.needed), len(c))
            for count in range(16)
            for c in itertools.combinations_with_replacement(stock, count)
        )
        assert abs(packer.left) == pytest.approx(best[0], abs=1e-9)
        assert len(packer.stack) == best[1]


def test_words_for_the_stands() -> None:
    points = [
        FloorPoint("stand A", 0.0, 0.0, 0.0),
        FloorPoint("stand B", 1.0, 0.0, -7 * INCH / 16),
        FloorPoint("stand C", 0.0, 3.0, -INCH / 8),
    ]
    found = packed(points)
    assert found.words[:3] == (
        "stand A is the highest: nothing goes under it.",
        'stand B: 7/16" (1/4" + 1/8" + 1/16")',
        'stand C: 1/8"',
    )
    assert found.words[-1] == "Packed, the stands are level."
    # They lie in a plane, as far as a level that reads to a millimetre can tell.
    assert found.checks[0].verdict is Verdict.TIGHT
    finer = packed([dataclasses.replace(p, sd=0.0002) for p in points])
    assert finer.checks[0].verdict is Verdict.OK
    assert to_json(found)["packers"][1]["stack"] == pytest.approx([INCH / 4, INCH / 8, INCH / 16])


def test_too_thick_packers_are_short() -> None:
    points = [
        FloorPoint("a", 0.0, 0.0, 0.0),
        FloorPoint("b", 1.0, 0.0, -0.006),
        FloorPoint("c", 0.0, 1.0, 0.0),
    ]
    found = packed(points, (0.010,))
    assert found.worst_left == pytest.approx(0.004)
    assert found.checks[0].verdict is Verdict.SHORT
    assert found.checks[0].change == "find thinner packers, or shave one to suit"


def test_how_sure_a_packer_is() -> None:
    # A packer rests on its own reading and on the highest point's.
    points = [
        FloorPoint("a", 0.0, 0.0, 0.02, sd=0.003),
        FloorPoint("b", 1.0, 0.0, 0.0, sd=0.004),
        FloorPoint("c", 0.0, 1.0, 0.01, sd=0.001),
    ]
    level = packed(points)
    assert [p.sd for p in level.packers] == pytest.approx([0.0, 0.005, math.sqrt(10) * 0.001])
    # Three points always lie in their plane, whatever was read.
    flat = packed(points, level=False)
    assert [p.sd for p in flat.packers] == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_points_in_one_line_are_not_enough(count: int) -> None:
    points = [FloorPoint(f"p{i}", float(i), 2.0 * i, 0.0) for i in range(count)]
    found = packers(points, SIXTEENTHS, tape=TAPE)
    assert found == Held(
        "the floor's plane is not known from these points",
        ("three points or more that do not lie in one line",),
    )


def test_all_that_is_wrong_is_told_at_once() -> None:
    points = [
        FloorPoint("a", 0.0, 0.0, math.nan),
        FloorPoint("b", 0.0, 0.0, 0.0, sd=0.0),
        FloorPoint("b", 1.0, 0.0, 0.0),
    ]
    with pytest.raises(ValueError) as told:
        packers(points, (0.0,), tape=TAPE)
    for words in (
        "point 'a': (0.0, 0.0, nan): give its place and height in numbers",
        "point 'b': sd 0.0 m: say how well it was read",
        "point 'b' is given more than once",
        "packer 0.0 m: a thickness is more than nothing",
    ):
        assert words in str(told.value), words
    with pytest.raises(ValueError, match="no packers are given"):
        packers(random_floor(1), (), tape=TAPE)
    with pytest.raises(ValueError, match="have no common part to count in"):
        packers(random_floor(1), (0.00157480315, 0.0031415926), tape=TAPE)
