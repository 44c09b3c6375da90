"""What observations should read: the slopes are those of what is predicted, for every relation."""

from __future__ import annotations

import random

import numpy as np
import pytest

from leafwright.survey.predict import equations, linearised, moved, placed, places_of
from tests.sizes import cases
from tests.survey.openings import observation

NAMES = ("BL", "A", "B", "C", "plane")
UNKNOWNS = (*((name, axis) for name in "ABC" for axis in "xy"), ("plane", "y"))
SEEN = [
    observation("width", "distance", ("BL", "A"), 1.0, 0.001),
    observation("diagonal", "distance", ("B", "C"), 1.0, 0.001),
    observation("half way", "middle", ("A", "B", "C"), 0.0, 0.001),
    observation("string", "straight", ("A", "B", "C"), 0.0, 0.001),
    observation("across", "across", ("A", "B"), 0.0, 0.001),
    observation("up", "up", ("BL", "C"), 0.0, 0.001),
    observation("level", "level", ("B", "plane"), 0.0, 0.001),
]


def test_slopes_are_those_of_what_is_predicted() -> None:
    rng = random.Random(51)
    laid = equations(SEEN, UNKNOWNS, NAMES)
    for _ in range(cases(25, 500)):
        at = np.array([[rng.uniform(-3, 3) for _ in range(3)] for _ in NAMES])
        rows, misfit = linearised(laid, at)
        assert rows.shape == (len(SEEN), len(UNKNOWNS))
        for k in range(len(UNKNOWNS)):
            step = np.zeros(len(UNKNOWNS))
            step[k] = 1e-6
            _, up = linearised(laid, moved(laid, at, step))
            _, down = linearised(laid, moved(laid, at, -step))
            assert rows[:, k] == pytest.approx((down - up) / 2e-6, abs=1e-6)
        assert laid.read - misfit == pytest.approx(_by_hand(at), abs=1e-12)


def _by_hand(at: np.ndarray) -> list[float]:
    bl, a, b, c, plane = at
    along = (c - b)[:2] / np.linalg.norm((c - b)[:2])
    out = (a - b)[:2]
    return [
        float(np.linalg.norm(a - bl)),
        float(np.linalg.norm(c - b)),
        float(np.linalg.norm(b - a) - np.linalg.norm(c - a)),
        # To the right of the way from the second mark to the third.
        float(out[0] * along[1] - out[1] * along[0]),
        float(b[0] - a[0]),
        float(c[1] - bl[1]),
        float(b[1] - plane[1]),
    ]


def test_the_sign_of_a_step_counts() -> None:
    seen = observation("out of plumb to the left", "across", ("BL", "A"), 0.1, 0.001)
    turned = equations([seen], (("A", "x"),), ("BL", "A"))
    at = placed(("BL", "A"), {"BL": (0.0, 0.0, 0.0), "A": (0.1, 1.0, 0.0)})
    assert linearised(turned, at)[1] == pytest.approx([0.0])
    assert places_of(turned, at)["A"] == (0.1, 1.0, 0.0)


def test_two_marks_in_one_place_have_no_direction_and_do_not_break() -> None:
    laid = equations(SEEN, UNKNOWNS, NAMES)
    rows, misfit = linearised(laid, np.zeros((len(NAMES), 3)))
    assert np.all(np.isfinite(rows))
    assert np.all(np.isfinite(misfit))
