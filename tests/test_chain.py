"""Derived quantities: values, slopes and sureness follow from the bases."""

import math
import random

import pytest

from leafwright import chain
from tests.sizes import cases


def reading(key: str, value: float, sd: float) -> chain.Quantity:
    return chain.base("reading", key, f"reading {key}", value, sd=sd)


def test_a_difference_of_two_things_that_rest_on_one_reading_knows_it() -> None:
    width = reading("width", 3.0, 0.002)
    half = chain.total("half", "half width", [(0.5, width)])
    rest = chain.total("rest", "the rest", [(1.0, width), (-1.0, half)])
    assert rest.value == 1.5
    assert rest.sd == pytest.approx(0.001)
    nothing = chain.total("nothing", "nothing", [(1.0, rest), (-1.0, half)])
    assert nothing.sd == 0.0
    assert nothing.slopes == ()


def test_the_formula_reads_as_a_maker_would_write_it() -> None:
    a, b = reading("a", 3.0, 0.0), reading("b", 0.5, 0.0)
    assert chain.total("c", "c", [(1, a), (-2, b)]).formula == "reading a − 2 × reading b"


def test_the_largest_takes_the_sureness_of_the_one_that_governs() -> None:
    low, high = reading("low", 1.0, 0.5), reading("high", 2.0, 0.1)
    top = chain.largest("top", "top", [low, high])
    assert (top.value, top.sd) == (2.0, 0.1)
    assert top.formula == "the largest of reading low, reading high: reading high"
    assert [q.key for q in top.inputs] == ["low", "high"]


def test_slopes_of_a_worked_formula_match_its_derivatives() -> None:
    rng = random.Random(7)
    for _ in range(cases(25, 500)):
        w, h = rng.uniform(0.5, 6.0), rng.uniform(0.5, 6.0)
        d = chain.worked(
            "d", "d", "√(w² + h²)", math.hypot, [reading("w", w, 1), reading("h", h, 1)]
        )
        by = {s.base: s.by for s in d.slopes}
        assert by["w"] == pytest.approx(w / math.hypot(w, h), rel=1e-7)
        assert by["h"] == pytest.approx(h / math.hypot(w, h), rel=1e-7)


def test_variance_of_a_sum_of_independent_readings_adds() -> None:
    a, b = reading("a", 1.0, 0.003), reading("b", 2.0, 0.004)
    assert chain.total("s", "s", [(1, a), (1, b)]).sd == pytest.approx(0.005)
    assert chain.covariance(a, b) == 0.0
    assert chain.covariance(a, a) == pytest.approx(9e-6)


def test_tolerances_run_to_the_worst_case_by_the_sign_of_each_slope() -> None:
    plate = chain.base("table", "plate", "plate", 0.010, low=-0.0003, high=0.0008)
    gap = chain.base("wish", "gap", "gap", 0.050)
    left = chain.total("left", "left over", [(1, gap), (-1, plate)])
    assert left.low == pytest.approx(0.040 - 0.0008)
    assert left.high == pytest.approx(0.040 + 0.0003)
    assert left.sd == 0.0


def test_adding_metres_to_radians_is_refused() -> None:
    angle = chain.base("wish", "angle", "angle", 0.1, unit="rad")
    with pytest.raises(ValueError, match="cannot add quantities in"):
        chain.total("x", "x", [(1, angle), (1, reading("w", 1, 0))])


def test_walking_visits_each_quantity_once_down_to_the_readings() -> None:
    a = reading("a", 1.0, 0.1)
    b = chain.total("b", "b", [(2, a)])
    c = chain.total("c", "c", [(1, a), (1, b)])
    assert [q.key for q in chain.walked(c)] == ["c", "a", "b"]


def test_what_is_cut_no_longer_follows_the_readings_but_the_gap_round_it_does() -> None:
    opening = reading("opening", 3.0, 0.002)
    gap = chain.base("wish", "gap", "gap", 0.01)
    leaf = chain.total("leaf", "leaf", [(1, opening), (-1, gap)])
    assert chain.total("drawn", "gap drawn", [(1, opening), (-1, leaf)]).sd == 0.0
    cut = chain.as_made(leaf, "leaf as cut", "leaf as cut")
    hung = chain.total("hung", "gap as hung", [(1, opening), (-1, cut)])
    assert hung.value == pytest.approx(0.01)
    assert hung.sd == pytest.approx(0.002)
    assert [q.key for q in chain.walked(hung)] == ["hung", "opening", "leaf as cut", "leaf", "gap"]
