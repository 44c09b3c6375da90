"""Floor and head where they were not read: do the leaves run clear of what may be there."""

from __future__ import annotations

import math
from dataclasses import replace

from leafwright import chain, units
from leafwright.chain import Quantity
from leafwright.doorway.gaps import gap_check
from leafwright.doorway.heel import Heel, leaf_words
from leafwright.doorway.records import Allowances, Side
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.records import Check, Metres, Number, Point2, Source, Verdict
from leafwright.survey import FloorUnder, Surface, Sweep, lowest_head

BETWEEN = Source(
    "Rasmussen and Williams (2006), Gaussian Processes for Machine Learning",
    "a surface through the points read, with a stated unevenness between them",
)


def _running(job: Job) -> Quantity:
    return chosen(
        job.doorway.running_clearance,
        "running clearance",
        "doorway/running clearance",
        "running clearance",
        system=job.job.system,
    )


def floor_between(
    job: Job,
    heels: dict[Side, Heel],
    under: dict[Side, FloorUnder],
    as_set: Quantity,
    bottom_gap: Quantity,
    allow: Allowances,
) -> list[Check]:
    """Return whether each leaf runs clear of the floor where that may be highest.

    The gap wished underneath is over what was read; between readings a leaf must but run clear.

    Args:
        job: its running clearance and units.
        heels: each leaf, by its hand.
        under: the floor under each leaf.
        as_set: y of the leaves' bottom, as set [m].
        bottom_gap: least gap over the highest floor [m].
        allow: how far a nose sags.
    """
    checks = []
    for hand, heel in heels.items():
        who, floor, key = leaf_words(heel.key), under[hand], f"{heel.key}/floor between readings"
        where = "" if floor.unsure_place is None else _plan_words(job, floor.unsure_place)
        parts = [(1.0, as_set), (-1.0, floor.unsure), (-1.0, allow.nose_drop)]
        check = gap_check(
            key,
            f"bottom of {who}",
            "does it run clear of the floor where that may be highest",
            needed=chain.least(f"{key}/needed", "clearance needed", [_running(job), bottom_gap]),
            has=chain.total(f"{key}/has", "clearance there, sagged", parts),
            change=f"read the floor {where or 'under it'}, or raise the leaves",
            source=BETWEEN,
        )
        told = _told(job, where, "floor it sweeps", floor.not_mapped, floor.reach)
        checks.append(replace(_at_most_tight(check, floor.unsure), case=told))
    return checks


def head_between(
    job: Job,
    profile: Surface,
    heels: dict[Side, Heel],
    sweeps: dict[Side, Sweep],
    top: Quantity,
    transom: list[Quantity],
    top_gap: Quantity,
) -> list[Check]:
    """Return whether each leaf, with a transom over it, fits under the head where it may be lowest.

    Args:
        job: its running clearance and units.
        profile: the head's profile.
        heels: each leaf, by its hand.
        sweeps: what each leaf sweeps: where it stands shut.
        top: y of the leaves' tops, as set [m].
        transom: the transom's depth, where there is one [m].
        top_gap: the gap over the leaves [m].
    """
    checks = []
    for hand, heel in heels.items():
        key, sweep = f"{heel.key}/head between readings", sweeps[hand]
        way = 1.0 if hand == "left" else -1.0
        hinge = sweep.axis - way * heel.axis.value
        nose = sweep.axis + way * math.sqrt(sweep.radius**2 - sweep.half**2)
        left, right = sorted((hinge, nose))
        head = lowest_head(profile, left, right, key=f"{heel.key}/head")
        where = f"{_length(job, head.unsure_place)} right of BL"
        clear = chain.least(f"{key}/clear", "clearance needed", [_running(job), top_gap])
        check = gap_check(
            key,
            f"top of {leaf_words(heel.key)}",
            "does it run clear of the head where that may be lowest",
            needed=chain.total(
                f"{key}/needed", "room needed", [(1.0, clear), *((1.0, q) for q in transom)]
            ),
            has=chain.total(f"{key}/has", "room there", [(1.0, head.unsure), (-1.0, top)]),
            change=f"read the head {where}, or make the leaves lower",
            source=BETWEEN,
        )
        told = _told(job, where, "head over it", head.not_mapped, head.reach)
        checks.append(replace(_at_most_tight(check, head.unsure), case=told))
    return checks


def _at_most_tight(check: Check, unsure: Quantity) -> Check:
    """Return the check, not short where nobody has read what it rests on: that is to be read."""
    guessed = any(slope.base.endswith("/unevenness") for slope in unsure.slopes)
    if check.verdict is Verdict.SHORT and guessed:
        return replace(check, verdict=Verdict.TIGHT)
    return check


def _length(job: Job, metres: Metres) -> str:
    """Return a place to the inch or the centimetre: nobody looks for it closer."""
    if job.job.system == "metric":
        return f"{round(100 * metres)} cm"
    return units.show_length(metres, units.Tape("feet-inch", 1))


def _plan_words(job: Job, place: Point2) -> str:
    x, z = place
    along = f"{_length(job, x)} right of BL"
    if abs(z) < 0.005:
        return along
    return f"{along} and {_length(job, abs(z))} {'toward you' if z > 0 else 'beyond the wall'}"


def _told(job: Job, where: str, what: str, share: Number, reach: Metres) -> str:
    """Return where it was looked at, and how much there is that no reading tells of."""
    told = [where] if where else []
    if share >= 0.005:
        percent = round(100 * share)
        told.append(
            f"{percent} % of the {what} is not mapped: farther than {_length(job, reach)} from "
            "any reading"
        )
    return "; ".join(told)
