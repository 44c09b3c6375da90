"""The adjustment of an opening read two hundred times, and looking for what is wrong in it.

The opening has marks all the way up both sides, distances between pairs of them at random, levels
and plumb lines. The adjustment is held against a general-purpose least squares solver in the same
run: it is given the same residuals as a function of all unknowns and finds its own slopes. Of
several runs the quickest counts, on both sides. The times of looking for blunders have no such
rival here and stand beside their targets.
"""

from __future__ import annotations

import math
import os
import platform
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np
from scipy.optimize import least_squares

sys.path.insert(0, str(Path(__file__).parents[1]))

from leafwright.records import Point3
from leafwright.survey import Observation, Survey, at
from leafwright.survey.adjust import adjust
from leafwright.survey.doubt import doubts
from leafwright.survey.further import further
from leafwright.survey.observe import observations, starting_places
from leafwright.survey.predict import equations, linearised, moved, placed
from tests.survey.blunders import planted, read
from tests.survey.openings import along, example, observation, random_marks

SD = 0.0015
ALONG = 20


def large(count: int) -> tuple[list[Observation], dict[str, Point3]]:
    """Return so many readings of one opening, and rough places of its marks [m]."""
    rng = random.Random(1)
    true = random_marks(rng)
    height = true["TL"][1]
    for i in range(ALONG):
        for letter, side in (("l", "left"), ("r", "right")):
            true[f"{letter}{i}"] = along(true, side, height * (i + 1) / (ALONG + 1))
    names = list(true)
    seen: list[Observation] = []

    def add(relation: str, ends: tuple[str, ...], value: float) -> None:
        seen.append(observation(f"{len(seen)}", relation, ends, value + rng.gauss(0.0, SD), SD))

    for name in names:
        add("level", (name, "plane"), true[name][1] - 1.1)
        if name != "BL" and rng.random() < 0.3:
            add("across", ("BL", name), true[name][0])
    while len(seen) < count:
        a, b = rng.sample(names, 2)
        add("distance", (a, b), math.dist(true[a], true[b]))
    rough: dict[str, Point3] = {
        name: (x + rng.uniform(-0.05, 0.05), y + rng.uniform(-0.05, 0.05), 0.0)
        for name, (x, y, _) in true.items()
    }
    return seen, {**rough, "BL": (0.0, 0.0, 0.0), "plane": (0.0, 1.1, 0.0)}


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Return the least time of several runs [ms]."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1e3 * min(times)


def _row(name: str, took: float, target: float) -> None:
    print(f"{name:58} {took:8.2f} ms   target {target:5.0f} ms   ratio {took / target:5.2f}")


def adjusted(seen: list[Observation], places: dict[str, Point3]) -> Survey:
    """Return the survey, which here is never held."""
    found = adjust(seen, places)
    assert isinstance(found, Survey), found
    return found


def rival(seen: list[Observation], places: dict[str, Point3]) -> Callable[[], np.ndarray]:
    """Return the general-purpose solver at the same task, giving all unknowns [m]."""
    found = adjusted(seen, places)
    laid = equations(seen, found.unknowns, tuple(places))
    start = placed(laid.names, places)

    def residuals(by: np.ndarray) -> np.ndarray:
        return np.asarray(laid.root * linearised(laid, moved(laid, start, by))[1])

    def solve() -> np.ndarray:
        other = least_squares(residuals, np.zeros(len(laid.unknowns)), xtol=1e-12, ftol=1e-12)
        return np.asarray(moved(laid, start, other.x)[laid.place, laid.axis])

    return solve


def main() -> None:
    """Print the times beside their targets."""
    print(
        f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}, "
        f"numpy {np.__version__}"
    )
    seen, places = large(200)
    found = adjusted(seen, places)
    print(f"opening: {len(seen)} readings, {len(found.unknowns)} unknowns")
    ours = milliseconds(lambda: adjust(seen, places), 20)
    _row("adjusting 200 readings, with covariance", ours, 50)
    solver = rival(seen, places)
    mine = np.array([at(found, name).at["xy".index(axis)] for name, axis in found.unknowns])
    apart = float(np.max(np.abs(solver() - mine)))
    theirs = milliseconds(solver, 3)
    print(
        f"  scipy least_squares, without covariance: {theirs:.0f} ms; "
        f"ratio {theirs / ours:.0f}; the answers are within {1e6 * apart:.2g} µm"
    )
    _row(
        "doubting them, nothing suspect", milliseconds(lambda: doubts(seen, places, found), 20), 50
    )
    job = example("boathouse")
    everything = list(observations(job)[0])
    rough = starting_places(job, [o for o in everything if not o.set_aside])
    demo = adjusted(everything, rough)
    _row("adjusting the boathouse", milliseconds(lambda: adjust(everything, rough), 50), 5)
    took = milliseconds(lambda: doubts(everything, rough, demo), 50)
    _row("doubting the boathouse, nothing suspect", took, 5)
    rng = random.Random(2)
    for count in (1, 2):
        opening, _ = planted(rng, read(rng), count, metres=0.3048)
        survey = opening.adjusted()
        took = milliseconds(opening.doubted, 5) - milliseconds(opening.adjusted, 5)
        words = "a foot misread" if count == 1 else "two of a foot"
        _row(f"doubting {len(opening.seen)} readings, {words}", took, 100)
        assert doubts(opening.seen, opening.places, survey).suspects
    yard = example("yard-gate")
    gate = list(observations(yard)[0])
    start = starting_places(yard, gate)
    bent = adjusted(gate, start)
    said = doubts(gate, start, bent)
    took = milliseconds(lambda: further(gate, start, bent, said), 10)
    _row("what to measure next at the yard gate", took, 50)


if __name__ == "__main__":
    main()
