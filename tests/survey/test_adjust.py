"""The adjustment: against an independent solver, and what must always hold of least squares."""

from __future__ import annotations

import math
import random
import re
import tomllib
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import chi2

from leafwright.job.model import Job
from leafwright.records import Verdict
from leafwright.survey import Survey, at, coordinate
from leafwright.survey.adjust import adjust
from leafwright.survey.observe import observations, starting_places
from tests.sizes import cases
from tests.survey.openings import (
    EXAMPLES,
    INCH,
    distance,
    example,
    job_of,
    level,
    random_marks,
    shifted,
    surveyed,
    true_readings,
)

Residual = Callable[[dict[str, float]], float]


def inches_of(text: str) -> float:
    """Return a typed length of the boathouse in inches, read without the package's own reader."""
    feet, _, rest = text.rpartition("'")
    whole = 12.0 * float(feet or 0)
    rest = rest.lstrip("-") if feet else rest
    negative = rest.strip().startswith("-")
    parts = re.sub(r"in|-|\"", " ", rest).split()
    return whole + (-1.0 if negative else 1.0) * float(sum(Fraction(part) for part in parts))


# Written out again on purpose: the example's instruments, and the assumptions on its sides.
SD_INCHES = {"tape": 1 / 16, "long tape": 1 / 8}
OTHERWISE = 1 / 16


def boathouse_residuals() -> dict[str, Residual]:
    """Return each weighted residual of the boathouse, of unknowns named ``BR.x`` in inches."""

    def put(v: dict[str, float], name: str) -> tuple[float, float]:
        return (0.0, 0.0) if name == "BL" else (v[f"{name}.x"], v[f"{name}.y"])

    def apart(v: dict[str, float], first: str, second: str) -> float:
        return math.dist(put(v, first), put(v, second))

    def straight(name: str, foot: str, head: str) -> Residual:
        def off_line(v: dict[str, float]) -> float:
            (px, py), (ax, ay), (bx, by) = put(v, name), put(v, foot), put(v, head)
            area = (px - ax) * (by - ay) - (py - ay) * (bx - ax)
            return area / math.hypot(bx - ax, by - ay) / (1 / 8)

        return off_line

    def of(r: dict[str, Any], read: float, sd: float) -> Residual:
        if r["kind"] == "distance":
            return lambda v: (apart(v, r["from"], r["to"]) - read) / sd
        if r["kind"] == "level":
            return lambda v: (put(v, r["at"])[1] - v["plane"] - read) / sd
        if r["kind"] == "floor":
            return lambda v: (v[f"floor {r['leaf']} {r['out']}"] - read) / sd
        sign = -1.0 if r["to"] == "TL" else 1.0
        return lambda v: (sign * (put(v, r["to"])[0] - put(v, r["from"])[0]) - read) / sd

    data = tomllib.loads((EXAMPLES / "boathouse.toml").read_text(encoding="utf-8"))
    found: dict[str, Residual] = {}
    for i, r in enumerate(data["reading"]):
        if "set_aside" not in r:
            sd = SD_INCHES.get(r.get("by", "tape" if r["kind"] == "distance" else ""), OTHERWISE)
            found[f"{i}"] = of(r, inches_of(r["is"]), sd)
    for name, foot, head in (("L@84in", "BL", "TL"), ("R@84in", "BR", "TR")):
        found[f"{name} straight"] = straight(name, foot, head)
        found[f"{name} up"] = of({"kind": "distance", "from": foot, "to": name}, 84.0, 1 / 4)
    return found


def test_the_boathouse_against_an_independent_solver() -> None:
    found = surveyed(example("boathouse"))
    residuals = boathouse_residuals()
    start = {"BR": (126, 0), "TL": (0, 170), "TR": (126, 170), "L@84in": (0, 84)}
    start["R@84in"] = (126, 84)
    names = [f"{name}.{axis}" for name in start for axis in "xy"] + ["plane"]
    names += [f"floor {leaf} {out} in" for leaf in ("left", "right") for out in (20, 40, 60)]
    first = [float(c) for place in start.values() for c in place] + [36.0] + [0.0] * 6

    def all_of(x: np.ndarray) -> np.ndarray:
        values = dict(zip(names, x.tolist(), strict=True))
        return np.array([residual(values) for residual in residuals.values()])

    other = least_squares(all_of, first, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    jacobian: np.ndarray = np.array(other.jac)
    covariance = np.linalg.inv(jacobian.T @ jacobian) * INCH**2
    index = {name: i for i, name in enumerate(names)}

    def named(name: str, axis: str) -> int:
        if name.startswith("plane"):
            return index["plane"]
        if name.startswith("floor"):
            return index[name.removesuffix(" out")]
        return index[f"{name}.{axis}"]

    order = [named(name, axis) for name, axis in found.unknowns]
    assert sorted(order) == list(range(len(names)))
    mine = [at(found, name).at["xy".index(axis)] for name, axis in found.unknowns]
    assert mine == pytest.approx((other.x[order] * INCH).tolist(), abs=1e-8)
    theirs = covariance[np.ix_(order, order)]
    # scipy's Jacobian is by differences, good to some eight figures.
    assert found.covariance == pytest.approx(theirs, abs=1e-6 * float(np.max(theirs)))
    assert found.weighted_sum == pytest.approx(2 * other.cost, rel=1e-9)
    assert found.freedom == len(residuals) - len(names)
    assert found.critical == pytest.approx(chi2.ppf(0.95, found.freedom), rel=1e-12)
    assert found.chance == pytest.approx(chi2.sf(found.weighted_sum, found.freedom), rel=1e-9)
    assert found.agreement == "agrees"


def noisy(rng: random.Random) -> tuple[Job, Survey]:
    """Return a random opening read with errors such as its instruments have, and its survey.

    The errors are laid on the observations, so that the sides are as little straight and the
    heights along them as badly marked as is assumed.
    """
    marks = random_marks(rng)
    up = rng.choice([None, f"{rng.uniform(600, 1500):.0f} mm"])
    job = job_of(true_readings(marks, up=up))
    everything, _ = observations(job)
    wrong = [shifted(seen, rng.gauss(0.0, seen.sd)) for seen in everything]
    found = adjust(wrong, starting_places(job, everything))
    assert isinstance(found, Survey), found
    return job, found


def test_redundancy_numbers_add_up_to_the_readings_to_spare() -> None:
    rng = random.Random(11)
    for _ in range(cases(25, 500)):
        _, found = noisy(rng)
        shares = [a.redundancy for a in found.adjusted]
        assert sum(shares) == pytest.approx(found.freedom, abs=1e-6)
        assert all(0.0 <= share <= 1.0 + 1e-9 for share in shares)


def test_weighted_squares_are_as_large_as_the_readings_to_spare() -> None:
    # vᵀPv of readings with the errors that they are said to have follows χ²: its mean is the
    # number to spare f, its variance 2 f. Four standard deviations either way.
    rng = random.Random(12)
    sums, spare = 0.0, 0
    for _ in range(cases(25, 500)):
        _, found = noisy(rng)
        sums += found.weighted_sum
        spare += found.freedom
    assert abs(sums - spare) < 4.0 * math.sqrt(2.0 * spare)


@pytest.mark.skipif(cases(0, 1) == 0, reason="five of a hundred are only counted in the sweep")
def test_the_global_test_refuses_five_in_a_hundred_good_sets() -> None:
    rng = random.Random(13)
    count = cases(25, 500)
    refused = sum(noisy(rng)[1].agreement == "does not agree" for _ in range(count))
    assert abs(refused / count - 0.05) < 4.0 * math.sqrt(0.05 * 0.95 / count)


def test_places_are_found_within_what_is_said_of_them() -> None:
    # The error of each coordinate over its standard deviation follows the normal distribution.
    rng = random.Random(14)
    squares: list[float] = []
    for _ in range(cases(25, 500)):
        marks = random_marks(rng)
        job = job_of(true_readings(marks))
        everything, _ = observations(job)
        wrong = [shifted(seen, rng.gauss(0.0, seen.sd)) for seen in everything]
        found = adjust(wrong, starting_places(job, everything))
        assert isinstance(found, Survey)
        mark = at(found, "TR")
        squares.append(((mark.at[0] - marks["TR"][0]) / mark.sd_x) ** 2)
        squares.append(((mark.at[1] - marks["TR"][1]) / mark.sd_y) ** 2)
    # χ² with as many degrees as there are squares; four standard deviations, as if independent.
    assert abs(sum(squares) - len(squares)) < 4.0 * math.sqrt(2.0 * len(squares))


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_gain_is_how_each_place_follows_each_reading(name: str) -> None:
    job = example(name)
    everything, _ = observations(job)
    used = [seen for seen in everything if not seen.set_aside]
    places = starting_places(job, used)
    # Where a reading is wrong, so that residuals are large, the gain is only of the first order.
    found = adjust(used, places)
    assert isinstance(found, Survey)
    fitted = used
    if found.agreement == "does not agree":
        fitted = [shifted(a.observation, a.residual) for a in found.adjusted]
        found = adjust(fitted, places)
        assert isinstance(found, Survey)
        assert found.weighted_sum == pytest.approx(0.0, abs=1e-9)
    step = 1e-5
    for j in range(len(fitted)):
        ends = []
        for by in (step, -step):
            moved = adjust([shifted(s, by) if i == j else s for i, s in enumerate(fitted)], places)
            assert isinstance(moved, Survey)
            ends.append([at(moved, n).at["xy".index(axis)] for n, axis in moved.unknowns])
        slopes = (np.array(ends[0]) - np.array(ends[1])) / (2 * step)
        assert found.gain[:, j] == pytest.approx(slopes, abs=2e-4)


def test_the_sureness_of_a_coordinate_is_that_of_the_adjustment() -> None:
    found = surveyed(example("boathouse"))
    for (name, axis), variance in zip(found.unknowns, np.diag(found.covariance), strict=True):
        quantity = coordinate(found, name, "x" if axis == "x" else "y")
        assert quantity.sd == pytest.approx(math.sqrt(variance), rel=1e-6)
        assert all(below.kind != "derived" and below.note for below in quantity.inputs)


def test_arrays_of_a_survey_cannot_be_written() -> None:
    found = surveyed(example("boathouse"))
    with pytest.raises(ValueError, match="read-only"):
        found.gain[0, 0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        found.covariance[0, 0] = 1.0


def test_readings_set_aside_are_compared_and_change_nothing() -> None:
    job = example("boathouse")
    found = surveyed(job)
    kept = job.model_copy(update={"reading": tuple(r for r in job.reading if not r.set_aside)})
    without = surveyed(kept)
    assert found.marks == without.marks
    assert found.weighted_sum == without.weighted_sum
    assert without.set_aside == ()
    (aside,) = found.set_aside
    assert aside.observation.set_aside.startswith("2 in too long")
    assert aside.read == pytest.approx((17 * 12 + 10 + 3 / 8) * INCH)
    diagonal = math.dist((0.0, 0.0), at(found, "TR").at[:2])
    assert aside.adjusted == pytest.approx(diagonal)
    assert aside.residual == pytest.approx(diagonal - aside.read)
    assert (aside.redundancy, aside.standardised) == (0.0, None)


def test_a_reading_set_aside_may_be_the_only_one_to_its_mark() -> None:
    marks = random_marks(random.Random(3))
    readings = [*true_readings(marks), distance("BL", "sill", 1.0, set_aside="the sill is rotten")]
    sill = {"name": "sill", "near_x": "1 m", "near_y": "0 mm"}
    found = surveyed(job_of(readings, mark=[sill]))
    (aside,) = found.set_aside
    assert aside.read == 1.0
    assert math.isnan(aside.adjusted)
    assert found.marks == surveyed(job_of(true_readings(marks))).marks


def test_with_no_reading_to_spare_nothing_is_verified() -> None:
    found = surveyed(
        job_of(
            [
                distance("BL", "BR", 3.0),
                level("BL", 0.0),
                level("BR", 0.0),
            ]
        )
    )
    assert (found.freedom, found.agreement, found.stops) == (0, "unverified", ())
    assert all(a.standardised is None for a in found.adjusted)
    assert math.isnan(found.critical)
    (check,) = found.checks
    assert check.verdict is Verdict.ASK
    assert check.ratio is None
    assert "measure both diagonals" in check.change


def test_the_check_of_agreement_says_how_far_the_readings_disagree() -> None:
    found = surveyed(example("kiln-shed"))
    check = found.checks[0]
    assert check.verdict is Verdict.SHORT
    assert check.demand == found.weighted_sum
    assert check.available == found.critical
    assert check.ratio == pytest.approx(13.02 / 11.07, rel=1e-3)
    (good,) = surveyed(example("boathouse")).checks
    assert (good.verdict, good.change) == (Verdict.OK, "")


def test_where_the_adjustment_starts_does_not_matter() -> None:
    rng = random.Random(15)
    job = example("boathouse")
    everything, _ = observations(job)
    used = [seen for seen in everything if not seen.set_aside]
    rough = starting_places(job, used)
    first = adjust(used, rough)
    assert isinstance(first, Survey)
    for _ in range(5):
        moved = {
            name: place
            if name == "BL"
            else (place[0] + rng.uniform(-0.3, 0.3), place[1] + rng.uniform(-0.3, 0.3), place[2])
            for name, place in rough.items()
        }
        again = adjust(used, moved)
        assert isinstance(again, Survey)
        for name, axis in first.unknowns:
            i = "xy".index(axis)
            assert at(again, name).at[i] == pytest.approx(at(first, name).at[i], abs=1e-9)


def test_doubling_every_standard_deviation_moves_nothing() -> None:
    job = example("boathouse")
    everything, _ = observations(job)
    used = [seen for seen in everything if not seen.set_aside]
    places = starting_places(job, used)
    one = adjust(used, places)
    two = adjust([replace(seen, sd=2 * seen.sd) for seen in used], places)
    assert isinstance(one, Survey)
    assert isinstance(two, Survey)
    for a, b in zip(one.marks, two.marks, strict=True):
        assert b.at == pytest.approx(a.at, abs=1e-9)
        assert b.sd_x == pytest.approx(2 * a.sd_x)
    assert two.weighted_sum == pytest.approx(one.weighted_sum / 4)


def test_asking_for_a_mark_that_is_not_there() -> None:
    found = surveyed(example("boathouse"))
    with pytest.raises(KeyError, match="the survey has no mark 'sill'"):
        at(found, "sill")
    with pytest.raises(KeyError, match="knows only the height"):
        coordinate(found, "floor left 20 in out", "x")
    assert coordinate(found, "BL", "x").value == 0.0
    assert coordinate(found, "BL", "x").note == "the origin of the survey"
