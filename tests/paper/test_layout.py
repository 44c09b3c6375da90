import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.paper.font import text_width
from leafwright.paper.inspect import defects
from leafwright.paper.layout import (
    bullets,
    columns_of,
    figures,
    heading,
    paragraph,
    rows_of,
)
from leafwright.paper.scene import Box, Text
from leafwright.paper.wrapping import fitted_height, wrapped
from tests.paper.samples import page
from tests.sizes import cases

WORDS = st.text(alphabet="abcW1/8\"'-½ \n", max_size=80)


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(text=WORDS, width=st.floats(8.0, 60.0), bold=st.booleans())
def test_wrapping_loses_no_letter_and_keeps_to_the_width(
    text: str, width: float, bold: bool
) -> None:
    lines = wrapped(text, width, height_mm=3.0, bold=bold)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(text_width(line, 3.0, bold=bold) <= width + 1e-6 for line in lines)


def test_wrapping_breaks_between_words() -> None:
    width = text_width("hanging stile", 3.0)
    assert wrapped("hanging stile square", width) == ("hanging stile", "square")
    assert wrapped("one\n\ntwo", 50.0) == ("one", "", "two")


def test_a_place_too_narrow_for_a_letter_is_refused() -> None:
    with pytest.raises(ValueError, match=r"0\.5 mm wide does not hold the letter 'W'"):
        wrapped("W", 0.5)


def test_the_largest_height_that_fits() -> None:
    height = fitted_height("14'-6 1/2\"", 20.0, height_mm=9.0, least_mm=3.0)
    assert text_width("14'-6 1/2\"", height) == pytest.approx(20.0)
    assert fitted_height("2", 20.0, height_mm=9.0, least_mm=3.0) == 9.0
    with pytest.raises(ValueError, match=r"does not fit 5\.0 mm at a height of 3\.0 mm"):
        fitted_height("14'-6 1/2\"", 5.0, height_mm=9.0, least_mm=3.0)


def test_words_laid_under_each_other_do_not_touch() -> None:
    title = heading("Before you cut", left=10.0, top=190.0, width=100.0)
    words = paragraph("Straightest sticks first. " * 8, left=10.0, top=title.bottom, width=100.0)
    points = bullets(
        ["Holes before reach is lost.", "Brace last. " * 12] * 2,
        left=10.0,
        top=words.bottom - 2.0,
        width=100.0,
        numbered_from=1,
    )
    big = figures(
        [("Lift weight", "194 lb"), ("Lean, top to bottom", '0 1/8"'), ("Sticks", "4")],
        left=10.0,
        top=points.bottom - 3.0,
        width=100.0,
        columns=2,
        height_mm=7.0,
    )
    items = (*title.items, *words.items, *points.items, *big.items)
    assert defects(page(*items)) == []
    assert title.bottom > words.bottom > points.bottom > big.bottom > 0.0
    lowest = min(item.at[1] - item.height_mm for item in items if isinstance(item, Text))
    assert lowest >= big.bottom


def test_a_box_is_divided_in_proportion() -> None:
    box = Box(10.0, 20.0, 114.0, 84.0)
    left, right = columns_of(box, 1.0, 3.0)
    assert (left.width, right.width) == pytest.approx((25.0, 75.0))
    assert right.right == pytest.approx(114.0)
    upper, lower = rows_of(box, 1.0, 2.0)
    assert (upper.top, lower.bottom) == pytest.approx((84.0, 20.0))
    assert upper.bottom - lower.top == pytest.approx(4.0)
