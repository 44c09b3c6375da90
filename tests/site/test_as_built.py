"""The first leaf as made, and the second leaf's width from it."""

from __future__ import annotations

import math

import pytest

from leafwright.records import Held, Verdict, to_json
from leafwright.site.as_built import (
    AsBuilt,
    OpeningWidth,
    PairGaps,
    Resplit,
    Sized,
    as_built,
    resplit,
)
from leafwright.site.pad import PadReading
from leafwright.units import Tape

INCH = 0.0254
TAPE = Tape("inch", 16)
WIDTH, HEIGHT = 44 * INCH, 174 * INCH
GAPS = PairGaps(0.5 * INCH, 0.25 * INCH, 0.5 * INCH)


def first(bottom: float = 44.0, middle: float = 44.0, top: float = 44.0) -> AsBuilt:
    """Return a first leaf of these widths [in]."""
    names = ("width at the bottom", "width at mid height", "width at the top")
    heights = (0.0, HEIGHT / 2, HEIGHT)
    widths = zip(names, heights, (bottom, middle, top), strict=True)
    return AsBuilt("left", tuple(Sized(n, at, w * INCH, 0.0003) for n, at, w in widths), ())


def opening(*widths: float) -> list[OpeningWidth]:
    """Return an opening of these widths [in], from the bottom up."""
    step = HEIGHT / (len(widths) - 1) if len(widths) > 1 else 0.0
    return [OpeningWidth(i * step, w * INCH, 0.0004) for i, w in enumerate(widths)]


def split(widths: list[OpeningWidth], leaf: AsBuilt, **wishes: float) -> Resplit:
    found = resplit(widths, leaf, GAPS, tape=TAPE, **wishes)  # type: ignore[arg-type]
    assert isinstance(found, Resplit), found
    return found


def test_sizes_of_a_leaf_as_made() -> None:
    readings = [
        PadReading("distance", "bottom hinge", "bottom closing", value=44.0 * INCH, sd=0.0003),
        PadReading("distance", "top hinge", "top closing", value=44.125 * INCH, sd=0.0003),
        PadReading("distance", "hinge edge", "closing edge", value=44.25 * INCH, sd=0.0003),
        PadReading("distance", "bottom hinge", "top hinge", value=173.9 * INCH, sd=0.0005),
    ]
    found = as_built(readings, WIDTH, HEIGHT)
    assert [w.value for w in found.widths] == pytest.approx(
        [44.0 * INCH, 44.25 * INCH, 44.125 * INCH], abs=1e-6
    )
    assert [w.sd for w in found.widths] == pytest.approx([0.0003] * 3, rel=1e-6)
    assert found.heights[0].value == pytest.approx(173.9 * INCH, abs=1e-9)
    assert found.heights[1].value is None
    assert [w.at for w in found.widths] == [0.0, HEIGHT / 2, HEIGHT]


def test_the_second_leaf_takes_what_is_left_at_the_tightest_height() -> None:
    found = split(opening(89.5, 89.625, 89.75), first(44.0, 44.25, 44.0))
    # 89.625 − 44.25 − 1.25 = 44.125 at mid height; 44.25 at the bottom, 44.5 at the top.
    assert found.width == pytest.approx(44.125 * INCH, abs=1e-12)
    assert found.governs == pytest.approx(HEIGHT / 2)
    assert [g.gaps.meeting / INCH for g in found.gaps] == pytest.approx([0.375, 0.25, 0.625])
    assert {(g.gaps.first_heel, g.gaps.second_heel) for g in found.gaps} == {
        (0.5 * INCH, 0.5 * INCH)
    }
    assert found.sd == pytest.approx(math.hypot(0.0003, 0.0004))


def test_leaves_and_gaps_fill_the_opening_everywhere() -> None:
    widths, leaf = opening(89.5, 89.5, 89.75, 89.6, 89.9), first(44.0, 43.9, 44.1)
    found = split(widths, leaf)
    made = [44.0, 43.95, 43.9, 44.0, 44.1]
    for place, gaps, width in zip(widths, found.gaps, made, strict=True):
        g = gaps.gaps
        filled = g.first_heel + width * INCH + g.meeting + found.width + g.second_heel
        assert filled == pytest.approx(place.width, abs=1e-12)
        assert g.meeting >= GAPS.meeting - 1e-12


def test_words_say_which_gap_takes_what() -> None:
    found = split(opening(89.5, 89.5, 89.75), first(), planned=44.5 * INCH)
    assert found.words == (
        'Make the second leaf 44 1/4" wide (± 1/16"); it is tightest at the bottom.',
        'That is 1/4" narrower than its sheet says.',
        'Heel gaps stay as wished: 1/2" at the first leaf, 1/2" at the second.',
        'Meeting gap at the bottom: 1/4", as wished.',
        'Meeting gap 87" up: 1/4", as wished.',
        'Meeting gap 174" up: 1/2", 1/4" over the wish.',
        "Make the second leaf from its own sheet, of its own hand: it is not the first one turned "
        "about.",
    )
    assert to_json(found)["gaps"][0]["gaps"]["meeting"] == pytest.approx(0.25 * INCH)


@pytest.mark.parametrize(
    ("least", "verdict"),
    [(0.1 * INCH, Verdict.OK), (0.24 * INCH, Verdict.TIGHT), (0.26 * INCH, Verdict.SHORT)],
)
def test_meeting_gap_against_its_least(least: float, verdict: Verdict) -> None:
    found = split(opening(89.5, 89.5, 89.5), first(), least_meeting=least)
    assert {c.verdict for c in found.checks} == {verdict}


def test_what_is_missing_or_leaves_no_room() -> None:
    unknown = as_built([], WIDTH, HEIGHT, key="left")
    assert resplit(opening(89.5, 89.5), unknown, GAPS, tape=TAPE) == Held(
        "the first leaf's width as made is not known from its readings",
        ("width at the bottom of the left leaf", "width at the top of the left leaf"),
    )
    tight = resplit(opening(44.0, 89.5), first(), GAPS, tape=TAPE)
    assert isinstance(tight, Held)
    assert tight.why == "no room is left for the second leaf beside the first one at the bottom"
    with pytest.raises(ValueError, match="read it at three heights or more"):
        resplit([], first(), GAPS, tape=TAPE)
