"""The largest rectangle that fits: exact openings, its confidence kept, and bad questions."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy as np
import pytest

from leafwright.records import Held
from leafwright.survey import Rectangle, Survey, at, largest_rectangle
from leafwright.survey.adjust import adjust
from leafwright.survey.observe import observations, starting_places
from tests.sizes import cases
from tests.survey.openings import (
    Marks,
    distance,
    floor,
    job_of,
    mm,
    random_marks,
    shifted,
    surveyed,
    true_readings,
)

SURE = "0.001 mm"


def opening(**corners: tuple[float, float]) -> Marks:
    plain = {"BL": (0.0, 0.0), "BR": (3.0, 0.0), "TL": (0.0, 4.0), "TR": (3.0, 4.0), **corners}
    return {name: (x, y, 0.0) for name, (x, y) in plain.items()}


def fits(found: Survey, **asked: Any) -> Rectangle:
    made = largest_rectangle(found, **asked)
    assert isinstance(made, Rectangle), made
    return made


def sure(marks: Marks, *more: dict[str, Any]) -> Survey:
    return surveyed(job_of([*true_readings(marks, sd=SURE), *more]))


def test_a_square_opening_takes_a_leaf_as_large_as_itself() -> None:
    made = fits(sure(opening()))
    assert (made.width, made.height) == pytest.approx((3.0, 4.0), abs=1e-5)
    assert (made.left, made.bottom) == pytest.approx((0.0, 0.0), abs=1e-5)
    assert (made.right, made.top) == pytest.approx((3.0, 4.0), abs=1e-5)
    assert made.confidence == 0.95


@pytest.mark.parametrize(
    ("marks", "width", "height"),
    [
        # Both sides lean inward by 20 mm: the top decides. (Full height beats any lower one.)
        (opening(TL=(0.02, 4.0), TR=(2.98, 4.0)), 2.96, 4.0),
        # Both lean to the right: it must stand between the left's top and the right's foot.
        (opening(TL=(0.03, 4.0), TR=(3.03, 4.0)), 2.97, 4.0),
        # The head falls, the floor rises: the lowest head over the highest floor.
        (opening(BR=(3.0, 0.015), TR=(3.0, 3.98)), 3.0, 3.965),
    ],
)
def test_crooked_openings(marks: Marks, width: float, height: float) -> None:
    made = fits(sure(marks))
    assert (made.width, made.height) == pytest.approx((width, height), abs=2e-5)


def test_a_leaf_may_be_lower_and_wider_or_narrower_and_higher() -> None:
    found = sure(opening(TL=(0.2, 4.0), TR=(2.8, 4.0)))
    low = fits(found, height=2.0)
    # Half way up, half of the lean.
    assert low.width == pytest.approx(2.8, abs=2e-5) and low.height == 2.0
    assert fits(found, height=4.0 - 1e-4).width == pytest.approx(2.6, abs=1e-4)
    back = fits(found, width=low.width - 1e-6)
    assert back.height == pytest.approx(2.0, abs=1e-4)
    head = sure(opening(TR=(3.0, 3.0)))
    # The head falls by a third over the width: half as wide, it may be as high as its middle.
    half = fits(head, width=1.5)
    assert (half.height, half.left) == pytest.approx((3.5, 0.0), abs=1e-4)
    assert "under the head where it is high enough" in half.governed_by[0]
    # Area (4 − x / 3) x grows up to x = 6: all of the width is best.
    assert fits(head).width == pytest.approx(3.0, abs=1e-4)
    steep = sure(opening(TR=(3.0, 1.0)))
    # (4 − x) x is largest at x = 2.
    best = fits(steep)
    assert (best.width, best.height) == pytest.approx((2.0, 2.0), abs=2e-3)


def test_a_bowed_side_and_a_bump_in_the_floor_are_what_it_must_clear() -> None:
    bowed = {
        "kind": "offset",
        "at": "L@2000 mm",
        "from": "BL",
        "to": "TL",
        "is": mm(0.012),
        "toward": "inward",
        "sd": SURE,
    }
    bump = floor("left", 0.02, out="800 mm", sd=SURE)
    low = {"kind": "head", "x": "1 m", "is": "-30 mm", "sd": SURE}
    made = fits(sure(opening(), bowed, bump, low))
    assert (made.width, made.height) == pytest.approx((2.988, 3.95), abs=5e-5)
    assert made.governed_by[0].startswith("from L@2000 mm to ")
    assert made.governed_by[1] == "from floor left 800 mm out to the head, head at 1 m"


def test_it_grows_with_less_confidence_and_with_surer_readings() -> None:
    marks = random_marks(random.Random(421))
    found = surveyed(job_of(true_readings(marks)))
    sizes = [fits(found, confidence=c) for c in (0.5, 0.8, 0.95, 0.999)]
    for more, less in itertools.pairwise(sizes):
        assert less.width < more.width and less.height < more.height
    surer = fits(surveyed(job_of(true_readings(marks, sd="0.5 mm"))))
    assert surer.width > sizes[2].width and surer.height > sizes[2].height
    twice = surveyed(job_of([*true_readings(marks), *true_readings(marks)]))
    assert fits(twice).width > sizes[2].width


def test_it_is_taken_off_as_often_as_the_marks_may_be_off() -> None:
    """A square opening whose corners are known by so much: two widths, four heights, by hand."""
    found = surveyed(job_of(true_readings(opening(), sd="1 mm")))
    made = fits(found, confidence=0.95)
    # Four pairs across and four up: one in 160 each; Φ⁻¹(1 − 1/160) = 2.4977, from memory.
    column = {u: i for i, u in enumerate(found.unknowns)}

    def sd(first: str, second: str, axis: str) -> float:
        row = np.zeros(len(column))
        row[column[second, axis]] = 1.0
        if first != "BL":
            row[column[first, axis]] = -1.0
        return float(math.sqrt(row @ found.covariance @ row))

    across = max(sd(a, b, "x") for a in ("BL", "TL") for b in ("BR", "TR"))
    up = max(sd(a, b, "y") for a in ("BL", "BR") for b in ("TL", "TR"))
    assert made.width == pytest.approx(3.0 - 2.4977 * across, abs=1e-6)
    assert made.height == pytest.approx(4.0 - 2.4977 * up, abs=1e-6)


def stands_in(made: Rectangle, marks: Marks) -> bool:
    """Return whether a rectangle goes into an opening as it truly is, wherever it is pushed."""
    bottom = max(marks["BL"][1], marks["BR"][1])
    left = right = 0.0
    spans = []
    for y in np.linspace(bottom, bottom + made.height, 60):
        edge = []
        for foot, top in (("BL", "TL"), ("BR", "TR")):
            (x0, y0, _), (x1, y1, _) = marks[foot], marks[top]
            share = min(1.0, max(0.0, (y - y0) / (y1 - y0)))
            edge.append(x0 + share * (x1 - x0))
        spans.append(edge)
    left, right = max(a for a, _ in spans), min(b for _, b in spans)
    if right - left < made.width - 1e-9:
        return False
    heads = []
    for x in np.linspace(left, left + made.width, 60):
        (x0, y0, _), (x1, y1, _) = marks["TL"], marks["TR"]
        heads.append(y0 + min(1.0, max(0.0, (x - x0) / (x1 - x0))) * (y1 - y0))
    return bool(min(heads) - bottom >= made.height - 1e-9)


@pytest.mark.parametrize("confidence", [0.8, 0.95])
def test_it_fits_at_least_as_often_as_it_says(confidence: float) -> None:
    rng = random.Random(422)
    count = cases(25, 500)
    missed = 0
    for _ in range(count):
        marks = random_marks(rng)
        job = job_of(true_readings(marks, up="1000 mm"))
        everything, _ = observations(job)
        seen = [o if o.assumed else shifted(o, rng.gauss(0.0, o.sd)) for o in everything]
        found = adjust(seen, starting_places(job, everything))
        assert isinstance(found, Survey)
        made = fits(found, confidence=confidence)
        missed += not stands_in(made, marks)
    chance = 1.0 - confidence
    # No more than three standard deviations over what the confidence allows.
    assert missed <= count * chance + 3 * math.sqrt(count * chance * confidence)


def test_a_size_from_nominal_numbers_would_not_keep_its_word() -> None:
    """What the check above would say of the opening's plain numbers: they miss about as often."""
    rng = random.Random(423)
    missed = 0
    for _ in range(25):
        marks = random_marks(rng)
        job = job_of(true_readings(marks))
        everything, _ = observations(job)
        seen = [shifted(o, rng.gauss(0.0, o.sd)) for o in everything]
        found = adjust(seen, starting_places(job, everything))
        assert isinstance(found, Survey)
        x = {name: at(found, name).at[0] for name in ("BL", "TL", "BR", "TR")}
        y = {name: at(found, name).at[1] for name in ("BL", "TL", "BR", "TR")}
        width = min(x["BR"], x["TR"]) - max(x["BL"], x["TL"])
        height = min(y["TL"], y["TR"]) - max(y["BL"], y["BR"])
        plain = Rectangle(width, height, 0.0, 0.0, width, height, 0.5, ("", ""))
        missed += not stands_in(plain, marks)
    assert missed > 12


def test_what_does_not_fit_is_held() -> None:
    found = sure(opening())
    for asked in ({"width": 3.1}, {"height": 4.1}):
        made = largest_rectangle(found, **asked)
        (name,) = asked
        assert made == Held(
            f"no rectangle of that {name} fits at 95 % confidence",
            ("a smaller one, a lower confidence, or more and surer readings",),
        )


def test_corners_that_no_reading_reaches_are_named() -> None:
    found = surveyed(job_of([distance("BL", "BR", 3.0), {**_LEVEL, "at": "BL"}, _LEVEL]))
    assert largest_rectangle(found) == Held(
        "no reading reaches TL, TR", ("a reading from or to each corner of the opening",)
    )


_LEVEL = {"kind": "level", "at": "BR", "is": "0 mm"}


def test_questions_that_mean_nothing_are_refused() -> None:
    found = sure(opening())
    with pytest.raises(ValueError, match=r"confidence 95: give one from 0\.5 up to, but not, 1"):
        largest_rectangle(found, confidence=95)
    with pytest.raises(ValueError, match="state one of them, and the other is found"):
        largest_rectangle(found, width=1.0, height=1.0)
    with pytest.raises(ValueError, match=r"height -1\.0: give one of more than 0 m"):
        largest_rectangle(found, height=-1.0)
