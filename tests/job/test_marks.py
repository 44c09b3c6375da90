from __future__ import annotations

from fractions import Fraction

import pytest

from leafwright.job.marks import CORNERS, leaf_mark, side_mark, side_of
from leafwright.units import UnitError


@pytest.mark.parametrize(
    ("name", "side"),
    [
        ("BL", "left"),
        ("TL", "left"),
        ("BR", "right"),
        ("TR", "right"),
        ("L@84in", "left"),
        ("R@mid", "right"),
        ("R@ 7'-0", "right"),
        ("sill bolt", None),
        ("bl", None),
        ("L@", None),
        ("M@mid", None),
    ],
)
def test_the_side_that_a_mark_stands_on(name: str, side: str | None) -> None:
    assert side_of(name) == side


def test_how_far_up_a_side() -> None:
    mark = side_mark("L@84in")
    assert mark is not None and mark.up is not None
    assert mark.up.exact == 84 * Fraction(254, 10_000)
    half = side_mark("R@mid")
    assert half is not None and half.up is None


def test_corners_are_not_marks_along_a_side() -> None:
    assert [side_mark(name) for name in CORNERS] == [None] * 4


def test_a_height_that_is_not_read_is_told() -> None:
    with pytest.raises(UnitError, match="length '84': a number without a unit"):
        side_of("L@84")


@pytest.mark.parametrize(
    ("name", "edges"),
    [
        ("bottom hinge", ("hinge", "bottom")),
        ("top closing", ("closing", "top")),
        ("hinge@84in", ("hinge",)),
        ("bottom@mid", ("bottom",)),
        ("bottom left", None),
        ("hinge", None),
        ("hinge@", None),
        ("L@84in", None),
    ],
)
def test_the_edges_that_a_place_on_a_leaf_lies_on(name: str, edges: tuple[str, ...] | None) -> None:
    place = leaf_mark(name)
    assert (None if place is None else place.edges) == edges


def test_how_far_along_an_edge() -> None:
    place = leaf_mark("closing@84in")
    assert place is not None and place.along is not None
    assert place.along.exact == 84 * Fraction(254, 10_000)
    half = leaf_mark("top@mid")
    assert half is not None and half.along is None
    with pytest.raises(UnitError, match="a place along an edge is 0 or more"):
        leaf_mark("hinge@-1in")
