"""Readings of a leaf on the pad that do not agree: nothing is pushed, the wrong one is named."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.records import Verdict
from leafwright.site.fit_up import FitUp, fit_up
from leafwright.site.pad import PadReading
from leafwright.units import Tape

INCH = 0.0254
TAPE = Tape("inch", 16)
WIDTH, HEIGHT = 58.9375 * INCH, 165.0 * INCH
DIAGONAL = math.hypot(WIDTH, HEIGHT)

SIDES = (
    ("bottom hinge", "bottom closing", WIDTH),
    ("top hinge", "top closing", WIDTH),
    ("bottom hinge", "top hinge", HEIGHT),
    ("bottom closing", "top closing", HEIGHT),
    ("bottom hinge", "top closing", DIAGONAL),
    ("bottom closing", "top hinge", DIAGONAL),
)


def pad(*off: float, middle: float | None = None) -> FitUp:
    """Return a square leaf's shape whose six distances are misread by so much, in order [in]."""
    errors = [*off, *[0.0] * (6 - len(off))]
    readings = [
        PadReading("distance", a, b, value=long + error * INCH)
        for (a, b, long), error in zip(SIDES, errors, strict=True)
    ]
    if middle is not None:
        width = WIDTH + middle * INCH
        readings.append(PadReading("distance", "hinge edge", "closing edge", value=width))
        for edge in ("hinge edge", "closing edge"):
            readings.append(PadReading("string", edge, value=0.0, sd=0.0005))
    return fit_up(readings, WIDTH, HEIGHT, tape=TAPE)


@pytest.mark.parametrize("which", range(6))
@pytest.mark.parametrize(("error", "slip"), [(1.0, "an inch too much"), (-12.0, "a foot too")])
def test_a_slip_in_a_square_leaf_pushes_nothing_and_is_named_first(
    which: int, error: float, slip: str
) -> None:
    found = pad(*[0.0] * which, error)
    if found.doubt.verdict == "agree":
        # An inch in a long side hardly shows in one reading too many: nothing is pushed on it.
        assert which in (0, 1)
        assert abs(error) == 1.0
        return
    assert found.pushes == ()
    assert found.doubt.suspects[0][0].number == which
    assert slip in found.suspects[0]
    assert "Read the" in found.suspects[0]
    assert all(c.verdict in (Verdict.OK, Verdict.ASK) for c in found.checks)
    # Both answers are shown: with every reading, and without the likeliest to be wrong.
    assert found.answers[0].without == ""
    assert "nothing out of shape" in found.answers[1].words


def test_what_is_set_aside_leaves_a_set_that_is_pushed_on_again() -> None:
    off = [
        PadReading("distance", a, b, value=long)
        for a, b, long in (*SIDES[:4], ("bottom hinge", "top closing", DIAGONAL + 0.5 * INCH))
    ]
    found = fit_up(off, WIDTH, HEIGHT, tape=TAPE)
    assert [push.key for push in found.pushes] == ["rack"]
    assert found.doubt.verdict == "unchecked"


def test_a_further_reading_decides_which_is_wrong() -> None:
    assert pad(12.0).doubt.verdict == "ambiguous"
    found = pad(12.0, middle=0.0)
    assert [c.words for c in found.doubt.suspects[0]] == [
        "bottom hinge corner to bottom closing corner"
    ]


def test_a_perfect_leaf_orders_no_push() -> None:
    levels = [
        PadReading("level", corner, value=0.0, sd=0.0015)
        for corner in ("bottom hinge", "bottom closing", "top hinge", "top closing")
    ]
    readings = [PadReading("distance", a, b, value=long) for a, b, long in SIDES]
    assert fit_up([*readings, *levels], WIDTH, HEIGHT, tape=TAPE).pushes == ()


def test_a_short_rail_is_not_pushed_square() -> None:
    short = WIDTH - 0.25 * INCH
    # The hinge edge is square: the top closing corner alone is in by a quarter.
    readings = [
        PadReading("distance", "bottom hinge", "bottom closing", value=WIDTH, sd=0.0005),
        PadReading("distance", "top hinge", "top closing", value=short, sd=0.0005),
        PadReading("distance", "bottom hinge", "top hinge", value=HEIGHT, sd=0.0005),
        PadReading(
            "distance",
            "bottom closing",
            "top closing",
            value=math.hypot(HEIGHT, WIDTH - short),
            sd=0.0005,
        ),
        PadReading(
            "distance", "bottom hinge", "top closing", value=math.hypot(short, HEIGHT), sd=0.0005
        ),
        PadReading("distance", "bottom closing", "top hinge", value=DIAGONAL, sd=0.0005),
    ]
    found = fit_up(readings, WIDTH, HEIGHT, tape=TAPE)
    assert found.pushes == ()
    assert "top rail too short" in found.past_pushing[0]


def test_good_readings_are_seldom_doubted() -> None:
    random = np.random.default_rng(4)
    doubted = sum(
        pad(*(random.normal(0.0, 0.0015 / INCH, 6)), middle=0.0).doubt.holds for _ in range(60)
    )
    assert doubted <= 2
