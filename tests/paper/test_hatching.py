import math
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon

from leafwright.paper.drawing import HatchKind
from leafwright.paper.hatching import PATTERNS, hatch_lines
from tests.sizes import cases

OUTLINE = ((0.0, 0.0), (60.0, 5.0), (70.0, 50.0), (30.0, 25.0), (5.0, 60.0))
HOLE = ((15.0, 10.0), (25.0, 10.0), (25.0, 20.0), (15.0, 20.0))


def test_every_material_has_a_pattern() -> None:
    assert set(PATTERNS) == set(get_args(HatchKind))


@pytest.mark.parametrize("kind", get_args(HatchKind))
def test_lines_stay_inside_the_outline_and_out_of_the_hole(kind: HatchKind) -> None:
    area = Polygon(OUTLINE, [HOLE]).buffer(1e-6)
    lines = hatch_lines((OUTLINE, HOLE), kind, 2.0)
    assert lines
    for (ax, ay), (bx, by) in lines:
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            assert area.contains(ShapelyPoint(ax + share * (bx - ax), ay + share * (by - ay)))


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(
    left=st.floats(-50.0, 50.0),
    bottom=st.floats(-50.0, 50.0),
    wide=st.floats(30.0, 90.0),
    high=st.floats(30.0, 90.0),
)
def test_a_plain_hatch_has_a_line_for_each_spacing(
    left: float, bottom: float, wide: float, high: float
) -> None:
    loop = (
        (left, bottom),
        (left + wide, bottom),
        (left + wide, bottom + high),
        (left, bottom + high),
    )
    length = sum(math.dist(a, b) for a, b in hatch_lines((loop,), "steel", 1.0))
    # Lines 1 mm apart cover the area; the ends of the range may be off by one line.
    assert length == pytest.approx(wide * high, rel=0.02)


def test_neighbouring_areas_match() -> None:
    whole = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
    left = ((0.0, 0.0), (17.3, 0.0), (17.3, 20.0), (0.0, 20.0))
    right = ((17.3, 0.0), (40.0, 0.0), (40.0, 20.0), (17.3, 20.0))

    def length(*loops: tuple[tuple[float, float], ...]) -> float:
        return sum(math.dist(a, b) for a, b in hatch_lines(loops, "ground", 1.0))

    assert length(left) + length(right) == pytest.approx(length(whole))


def test_a_hatch_too_fine_to_print_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a hatch spacing of 0\.1 mm prints as grey mud"):
        hatch_lines((OUTLINE,), "steel", 0.1)
