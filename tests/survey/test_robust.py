"""The second opinion: it does not let a wrong reading pull the rest, and is the same every time."""

from __future__ import annotations

import random

import numpy as np
import pytest

from leafwright.survey import Survey
from leafwright.survey.predict import equations, placed
from leafwright.survey.robust import biweight, robust_places, second_opinion
from tests.sizes import cases
from tests.survey.blunders import Read, read
from tests.survey.openings import observation


def robust(opening: Read) -> tuple[Survey, dict[str, np.ndarray]]:
    found = opening.adjusted()
    places = {mark.name: mark.at for mark in found.marks}
    laid = equations(opening.seen, found.unknowns, tuple(places))
    at = robust_places(laid, placed(laid.names, places))
    return found, dict(zip(laid.names, at, strict=True))


def test_one_foot_out_of_many_readings_of_a_width_does_not_pull_it() -> None:
    # The one that is out has no weight in the end, and the rest have nearly all of theirs.
    values = [3.000, 3.001, 3.002, 3.003, 3.3048]
    seen = [observation("rise", "up", ("BL", "BR"), 0.0, 0.001)]
    seen += [observation(f"{v}", "distance", ("BL", "BR"), v, 0.001) for v in values]
    _, at = robust(Read(seen, {"BL": (0.0, 0.0, 0.0), "BR": (3.0, 0.0, 0.0)}))
    assert at["BR"][0] == pytest.approx(3.0015, abs=1e-4)


def test_a_wrong_reading_pulls_the_marks_less_than_by_least_squares() -> None:
    rng = random.Random(111)
    nearer = 0
    count = cases(25, 300)
    for _ in range(count):
        opening = read(rng)
        i = opening.index(rng.choice(["BL to TR", "BR to TL", "BL to TL", "TL to TR"]))
        true = {mark.name: np.array(mark.at) for mark in opening.adjusted().marks}
        found, at = robust(opening.wrong_by(i, 0.08))
        pulled = max(float(np.linalg.norm(np.array(m.at) - true[m.name])) for m in found.marks)
        left = max(float(np.linalg.norm(at[name] - true[name])) for name in true)
        nearer += left < pulled
    assert nearer >= 0.8 * count


def test_it_is_the_same_every_time() -> None:
    opening = read(random.Random(112))
    opening = opening.wrong_by(3, 0.2)
    first, again = robust(opening)[1], robust(opening)[1]
    assert all(np.array_equal(first[name], again[name]) for name in first)


def test_weights_and_whether_it_agrees() -> None:
    opening = read(random.Random(113), noise=0.5)
    i = opening.index("TL to TR")
    wrong = opening.wrong_by(i, 0.1)
    key = opening.seen[i].key
    found = wrong.adjusted()
    places = {mark.name: mark.at for mark in found.marks}
    laid = equations(wrong.seen, found.unknowns, tuple(places))
    at = robust_places(laid, placed(laid.names, places))
    said = second_opinion(wrong.seen, laid, at, {key: True})
    weights = {one.key: one.weight for one in said.weights}
    assert weights[key] == 0.0
    assert min(w for k, w in weights.items() if k != key) > 0.5
    assert said.against == (key,)
    assert said.agrees
    other = wrong.seen[0].key
    assert not second_opinion(wrong.seen, laid, at, {other: True}).agrees
    assert not second_opinion(wrong.seen, laid, at, {}).agrees
    # One of two that cannot be told apart is enough.
    assert second_opinion(wrong.seen, laid, at, {key: False, other: False}).agrees


def test_good_readings_are_believed() -> None:
    opening = read(random.Random(114), noise=0.5)
    found = opening.adjusted()
    places = {mark.name: mark.at for mark in found.marks}
    laid = equations(opening.seen, found.unknowns, tuple(places))
    at = robust_places(laid, placed(laid.names, places))
    said = second_opinion(opening.seen, laid, at, {})
    assert said.against == ()


def test_the_biweight() -> None:
    # Tukey: (1 − (u/c)²)² up to c, and nothing beyond.
    found = biweight(np.array([0.0, 1.0, -2.0, 4.0, 9.0]), 4.0)
    assert found.tolist() == pytest.approx([1.0, (15 / 16) ** 2, (3 / 4) ** 2, 0.0, 0.0])


def test_where_few_readings_are_believed_the_marks_stay() -> None:
    # Two readings of one width that have nothing to do with one another, and no third.
    seen = [observation("rise", "up", ("BL", "BR"), 0.0, 0.001)]
    seen += [observation(f"{v}", "distance", ("BL", "BR"), v, 0.001) for v in (3.0, 4.0)]
    _, at = robust(Read(seen, {"BL": (0.0, 0.0, 0.0), "BR": (3.0, 0.0, 0.0)}))
    assert 3.0 - 1e-9 <= at["BR"][0] <= 4.0 + 1e-9
