import math

import pytest

from leafwright.paper.font import ink_corners
from leafwright.paper.inspect import defects, segment_meets_box
from leafwright.paper.scene import Arc, Box, Circle, Fill, Line, Polyline, Text
from tests.paper.samples import page


def test_two_texts_on_each_other_are_found() -> None:
    found = defects(page(Text((50, 50), "14'-6\""), Text((53, 51), "3'-8\"")))
    assert found == ["the texts “14'-6\"” and “3'-8\"” overlap near 55.0, 51.5"]


def test_texts_close_by_are_not() -> None:
    assert defects(page(Text((50, 50), "HHH"), Text((50, 53.3), "HHH"))) == []
    assert len(defects(page(Text((50, 50), "HHH"), Text((50, 52.7), "HHH")))) == 1


def test_turned_texts_are_judged_by_their_turned_boxes() -> None:
    slanted = Text((50, 50), "hanging stile", angle=math.radians(45))
    # Inside the upright box around the slanted words, but clear of the words.
    corner = Text((60, 50), "stile")
    assert defects(page(slanted, corner)) == []
    across = Text((50, 58), "hanging stile", angle=math.radians(-45))
    assert len(defects(page(slanted, across))) == 1


def test_words_lower_than_can_be_read_are_found() -> None:
    (found,) = defects(page(Text((50, 50), "small", height_mm=2.0)))
    assert found == "the text “small” is 2.0 mm high; 2.2 mm is the least that can be read"


@pytest.mark.parametrize(
    "item",
    [
        Line((100, 100), (250, 100), "thin"),
        Polyline(((100, 100), (100, 250), (90, 100)), "thin"),
        Circle((100, 100), 101, "thin"),
        Arc((190, 100), 20, -0.5, 0.5, "thin"),
        Fill(((100, 100), (100, 250), (90, 100)), "pale"),
        Text((190, 100), "hanging stile"),
    ],
)
def test_anything_outside_is_found(item: object) -> None:
    (found,) = defects(page(item))
    assert "stands outside the sheet's room" in found


def test_an_arc_is_judged_by_its_own_part_of_the_circle() -> None:
    assert defects(page(Arc((190, 100), 20, math.pi / 2, 1.5 * math.pi, "thin"))) == []


def test_words_crossed_by_a_heavy_line_are_found() -> None:
    text = Text((50, 50), "14'-6\"")
    line = Line((40, 51.5), (90, 51.5), "cut")
    (found,) = defects(page(text, line))
    assert found.startswith("the text “14'-6\"” is crossed by a heavy line near")
    knocked_out = Text((50, 50), "14'-6\"", knockout=True)
    assert defects(page(knocked_out, line)) == []


def test_a_heavy_line_has_a_width() -> None:
    text = Text((50, 50), "H")
    top = max(y for _, y in ink_corners(text))
    near, clear = (Line((40, top + gap), (90, top + gap), "cut") for gap in (0.15, 0.35))
    assert len(defects(page(text, near))) == 1
    assert defects(page(text, clear)) == []


@pytest.mark.parametrize(
    "shape",
    [
        Circle((53, 60), 9.0, "cut"),
        Arc((53, 60), 9.0, 4.0, 5.5, "cut"),
        Polyline(((53, 40), (53, 60)), "border"),
    ],
)
def test_round_and_broken_heavy_lines_count_too(shape: object) -> None:
    assert len(defects(page(Text((50, 50), "14'-6\""), shape))) == 1


def test_light_lines_are_reported_only_when_asked() -> None:
    scene = page(Text((50, 50), "14'-6\""), Line((40, 51.5), (90, 51.5), "dimension"))
    assert defects(scene) == []
    (found,) = defects(scene, light_lines=True)
    assert "is crossed by a light line" in found


def test_dark_words_on_a_dark_area_are_found() -> None:
    area = Fill(Box(40, 40, 90, 70).corners, "black")
    (found,) = defects(page(area, Text((50, 50), "14'-6\"")))
    assert "lies on a dark area" in found
    assert defects(page(area, Text((50, 50), "14'-6\"", ink="white"))) == []
    hole = Fill(area.points, "black", holes=(Box(45, 45, 80, 60).corners,))
    assert defects(page(hole, Text((50, 50), "14'-6\""))) == []


@pytest.mark.parametrize(
    ("a", "b", "meets"),
    [
        ((0, 5), (20, 5), True),
        ((0, 0), (20, 10), True),
        ((0, 20), (20, 12), False),
        ((12, 4), (13, 6), True),
        ((5, 0), (5, 10), False),
        ((0, 10.5), (9, 20), False),
    ],
)
def test_a_line_against_a_box(a: tuple[float, float], b: tuple[float, float], meets: bool) -> None:
    box = Box(10, 2, 15, 8).corners
    assert segment_meets_box(a, b, box) is meets
    assert segment_meets_box(b, a, box) is meets
