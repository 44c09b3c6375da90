"""Openings made for tests: their true marks, readings of them, and jobs that hold the readings."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from leafwright import chain, load_job
from leafwright.job.model import Job
from leafwright.survey import Observation, Survey, survey

INCH = 0.0254
EXAMPLES = Path(__file__).parents[2] / "examples"

Marks = dict[str, tuple[float, float, float]]
Reading = dict[str, Any]

DOORWAY = {"leaves": "single"}
LEAF = {
    "hand": "left",
    "frame": "HSS 2 x 2 x 3/16",
    "mount": {"kind": "floor pivot"},
}


def example(name: str) -> Job:
    return load_job(EXAMPLES / f"{name}.toml").job


def job_of(
    readings: Sequence[Reading],
    *,
    doorway: Mapping[str, Any] | None = None,
    leaves: Sequence[Mapping[str, Any]] = (LEAF,),
    system: str = "metric",
    **tables: Any,
) -> Job:
    """Return a job with these readings, and a plain single leaf unless it is given."""
    return Job.model_validate(
        {
            "leafwright": 1,
            "job": {"name": "a test", "seen_from": "yard side", "system": system},
            "reading": list(readings),
            "doorway": dict(doorway or DOORWAY),
            "leaf": [dict(leaf) for leaf in leaves],
            **tables,
        }
    )


def surveyed(job: Job) -> Survey:
    found = survey(job)
    assert isinstance(found, Survey), found
    return found


def mm(metres: float) -> str:
    """Return a length as a metric tape that reads to a thousandth of a micrometre would show it."""
    return f"{1000 * metres:.6f} mm"


def inches(metres: float) -> str:
    return f"{metres / INCH:.9f} in"


def distance(first: str, second: str, metres: float, **more: Any) -> Reading:
    return {"kind": "distance", "from": first, "to": second, "is": mm(metres), **more}


def level(at: str, metres: float, **more: Any) -> Reading:
    return {"kind": "level", "at": at, "is": mm(metres), **more}


def rise(first: str, second: str, metres: float, **more: Any) -> Reading:
    return {"kind": "rise", "from": first, "to": second, "is": mm(metres), **more}


def plumb(first: str, second: str, metres: float, toward: str, **more: Any) -> Reading:
    read = {"kind": "plumb", "from": first, "to": second, "is": mm(metres), "toward": toward}
    return {**read, **more}


def floor(leaf: str, metres: float, **more: Any) -> Reading:
    return {"kind": "floor", "leaf": leaf, "is": mm(metres), **more}


def random_marks(rng: random.Random) -> Marks:
    """Return the corners of a crooked opening that a shop might be asked to close [m]."""
    width, height = rng.uniform(0.9, 7.0), rng.uniform(1.9, 5.5)

    def out() -> float:
        return rng.uniform(-0.02, 0.02)

    return {
        "BL": (0.0, 0.0, 0.0),
        "BR": (width, out(), 0.0),
        "TL": (out(), height + out(), 0.0),
        "TR": (width + out(), height + out(), 0.0),
    }


def along(marks: Marks, side: str, up: float) -> tuple[float, float, float]:
    """Return the point so far up the straight line from a side's foot to its head [m]."""
    foot, head = (marks["BL"], marks["TL"]) if side == "left" else (marks["BR"], marks["TR"])
    share = up / math.dist(foot, head)
    x, y = (f + share * (h - f) for f, h in zip(foot[:2], head[:2], strict=True))
    return (x, y, 0.0)


def true_readings(marks: Marks, *, up: str | None = None, sd: str = "1.5 mm") -> list[Reading]:
    """Return readings of an opening without error: more than are needed to find it.

    Args:
        marks: its true corners [m].
        up: a height along the sides, as in ``"1200 mm"``, at which a width more is read.
        sd: standard deviation of every reading.
    """

    def apart(first: str, second: str) -> Reading:
        return distance(first, second, math.dist(marks[first], marks[second]), sd=sd)

    found = [
        apart("BL", "BR"),
        apart("TL", "TR"),
        apart("BL", "TL"),
        apart("BR", "TR"),
        apart("BL", "TR"),
        apart("BR", "TL"),
        plumb("BL", "TL", marks["TL"][0] - marks["BL"][0], "right", sd=sd),
        plumb("BR", "TR", marks["TR"][0] - marks["BR"][0], "right", sd=sd),
    ]
    found += [level(name, marks[name][1] - 1.1, sd=sd) for name in ("BL", "BR", "TL", "TR")]
    if up is not None:
        metres = float(up.removesuffix(" mm")) / 1000
        across = math.dist(along(marks, "left", metres), along(marks, "right", metres))
        found.append(distance(f"L@{up}", f"R@{up}", across, sd=sd))
    return found


def shifted(seen: Observation, by: float) -> Observation:
    """Return an observation that reads more by so much [m]."""
    return replace(seen, quantity=replace(seen.quantity, value=seen.quantity.value + by))


def observation(
    key: str, relation: Any, between: tuple[str, ...], value: float, sd: float
) -> Observation:
    quantity = chain.base("reading", key, key, value, sd=sd, note="made for a test")
    return Observation(key, key, relation, between, quantity, sd)
