"""Doorways made for tests: jobs with wishes over openings read without error."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from typing import Any

from leafwright.doorway import Allowances, Doorway, LeafPlace, allowances, doorway
from leafwright.job.model import Job
from leafwright.job.steel import steel
from leafwright.records import Check, Held
from tests.survey.openings import Marks, distance, job_of, level, surveyed

TUBE = "HSS 2 x 2 x 3/16"
NOTHING = allowances(0.0, 0.0, "none yet")
#: A pin as thick as its bore, and no day warmer than the survey's: nothing to allow for.
PIVOT = {"kind": "floor pivot", "pin_diameter": "20 mm", "sleeve_bore": "20 mm"}
SURVEY_DAY = {"survey_temperature": "20 C"}
BUILDING = {"greatest_temperature": "20 C"}


def leaf(hand: str = "left", **wishes: Any) -> dict[str, Any]:
    return {"hand": hand, "frame": TUBE, "mount": PIVOT, **wishes}


def pair(left: Mapping[str, Any] | None = None, right: Mapping[str, Any] | None = None) -> Any:
    """Return both leaves of a pair, with what each wishes."""
    return (leaf("left", **(left or {})), leaf("right", **(right or {})))


def square(width: float, height: float, sd: str = "1.5 mm") -> list[dict[str, Any]]:
    """Return readings of an opening that is level, plumb and square [m]."""
    levels = [level(name, 0.0, sd=sd) for name in ("BL", "BR")]
    levels += [level(name, height, sd=sd) for name in ("TL", "TR")]
    plumb = {"kind": "plumb", "is": "0 mm", "toward": "left", "sd": sd}
    return [
        distance("BL", "BR", width, sd=sd),
        distance("TL", "TR", width, sd=sd),
        {**plumb, "from": "BL", "to": "TL"},
        *levels,
    ]


def made(
    readings: Sequence[Mapping[str, Any]],
    leaves: Sequence[Mapping[str, Any]],
    allow: Allowances = NOTHING,
    /,
    *,
    system: str = "metric",
    opening: Mapping[str, Any] | None = None,
    mark: Sequence[Mapping[str, Any]] = (),
    building: Mapping[str, Any] = BUILDING,
    **wishes: Any,
) -> Doorway | Held:
    """Return the doorway of an opening with these leaves and wishes of ``[doorway]``."""
    if "leaves" not in wishes:
        wishes["leaves"] = "single" if len(leaves) == 1 else "pair"
    job = job_of(
        [dict(reading) for reading in readings],
        doorway=wishes,
        leaves=leaves,
        system=system,
        opening={**SURVEY_DAY, **(opening or {})},
        building=dict(building),
        mark=[dict(one) for one in mark],
    )
    return of_job(job, allow)


def of_job(job: Job, allow: Allowances = NOTHING) -> Doorway | Held:
    return doorway(job, surveyed(job), steel(job), allow)


def fitted(*args: Any, **wishes: Any) -> Doorway:
    """Return the doorway that `made` makes; it must be there."""
    found = made(*args, **wishes)
    assert isinstance(found, Doorway), found
    return found


def check(found: Doorway, key: str) -> Check:
    (one,) = (c for c in found.checks if c.key == key)
    return one


def gap(found: Doorway, key: str) -> float:
    (one,) = (g for g in found.gaps if g.key == key)
    return one.value


def placed(found: Doorway, key: str) -> LeafPlace:
    (one,) = (place for place in found.leaves if place.key == key)
    return one


def sides(marks: Marks) -> tuple[float, float]:
    """Return the x of the innermost point of the left and of the right side [m]."""
    left = max(marks["BL"][0], marks["TL"][0])
    return left, min(marks["BR"][0], marks["TR"][0])


def random_infill(rng: random.Random) -> list[dict[str, Any]]:
    if rng.random() < 0.4:
        return []
    on = rng.choice(["face", "back", "both"])
    thickness = f"{rng.uniform(1, 25):.2f} mm"
    return [{"kind": "sheet", "on": on, "thickness": thickness}]


def random_wishes(rng: random.Random) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """Return leaves and wishes of a doorway in which something is left to solve."""

    def some(low: float, high: float) -> str:
        return f"{rng.uniform(low, high):.3f} mm"

    count = rng.choice([1, 2, 2])
    hands = [rng.choice(["left", "right"])] if count == 1 else ["left", "right"]
    leaves = []
    for hand in hands:
        mount: dict[str, Any] = dict(PIVOT)
        if rng.random() < 0.5:
            mount["axis"] = some(0, 60)
        if rng.random() < 0.5:
            mount["spacer"] = some(3, 20)
        swing = rng.choice(["toward", "away", "both"])
        leaves.append(leaf(hand, swing=swing, mount=mount, infill=random_infill(rng)))
    wishes: dict[str, Any] = {"leaves": "single" if count == 1 else "pair"}
    if count == 2 and rng.random() < 0.5:
        wishes["leaves"] = "unequal pair"
        rng.choice(leaves)["width"] = some(300, 340)
    if rng.random() < 0.5:
        wishes["heel_gap"] = some(5, 40)
    if rng.random() < 0.5:
        wishes["running_clearance"] = some(2, 8)
    if rng.random() < 0.5:
        wishes["meeting_gap" if count == 2 else "closing_gap"] = some(3, 12)
    for name in ("jamb", "transom"):
        choice = rng.choice(["none", "post", "shimmed post", "shim"])
        filler = {} if choice == "shim" else {"section": TUBE}
        if "shim" in choice:
            filler["shim"] = some(2, 20)
        if choice != "none":
            wishes[name] = filler
    for name, low, high in (("top_gap", 5, 20), ("bottom_gap", 5, 20)):
        if rng.random() < 0.5:
            wishes[name] = some(low, high)
    if rng.random() < 0.3:
        wishes["leaf_height"] = "1500 mm"
    return leaves, wishes
