"""The leaves turning in their doorway: what `doorway.swing` needs, from a whole job."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from leafwright import chain
from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.heel import leaf_words
from leafwright.doorway.outline import Block, Reveal, block, doorway_plan, leaf_plan
from leafwright.doorway.swing import Swing, swing
from leafwright.doorway.underneath import Floor
from leafwright.job.model import Job, LeafTable
from leafwright.job.model import Swing as Ways
from leafwright.job.steel import Steel
from leafwright.records import Check, Metres, Radians, Source, Verdict
from leafwright.site.taken import read_lean
from leafwright.site.wished import Wished
from leafwright.survey import Survey, Sweep, floor_heights, floor_of
from leafwright.survey.swept import swept

#: Steps of the curves of a swing between shut and its end.
STEPS = 60


def table_of(job: Job, place: LeafPlace) -> LeafTable:
    """Return the job's own choices of the leaf that stands in a place."""
    return next(table for table in job.leaf if table.hand == place.hand)


def swing_of(job: Job, found: Survey, room: Doorway, material: Steel, wished: Wished) -> Swing:
    """Return how the leaves swing in their doorway."""
    tables = {place.key: table_of(job, place) for place in room.leaves}
    plans = [
        leaf_plan(
            place,
            frame_depth=material.section(tables[place.key].frame).height,
            nose_drop=_nose_drop(room),
        )
        for place in room.leaves
    ]
    posts = [p.section for p in room.posts if p.section is not None]
    reveal: Reveal | None = Reveal(wished.reveal.value / 2, -wished.reveal.value / 2)
    # A side without a post is the wall itself, as deep as that; a gate's posts stand free.
    depth = material.section(posts[0]).height if posts else wished.reveal.value
    if job.post is not None:
        depth, reveal = material.section(job.post.section, job.post.grade).height, None
    doorway = doorway_plan(room, jamb_depth=depth, reveal=reveal, obstacles=_obstacles(job))
    leans = {
        place.key: (math.tan(lean.x), math.tan(lean.z))
        for place in room.leaves
        if (lean := read_lean(job, place.hand, place.height.value)) is not None
    }
    turned = swing(
        plans,
        doorway,
        running_clearance=wished.margin.value,
        wished=wished.opens.value,
        steps=STEPS,
        floor=_floor(job, found, room, wished),
        lean=leans,
        floor_clearance=wished.margin.value,
    )
    past = [_past(found, place, turned, wished) for place in room.leaves]
    return replace(turned, checks=(*turned.checks, *(c for c in past if c is not None)))


def _past(found: Survey, place: LeafPlace, turned: Swing, wished: Wished) -> Check | None:
    """Return what asks of floor that was read high where a leaf could go past where it opens to.

    None where it meets something first, or nothing was read there that it would not clear.
    """
    turns = next(one.turns for one in turned.leaves if one.key == place.key)
    near, far = sweep_of(place, wished.opens.value), sweep_of(place, math.pi)
    low = place.bottom.value - wished.margin.value
    high: tuple[Metres, str, Radians] | None = None
    for mark in found.marks:
        x, y, z = mark.at
        if not mark.name.startswith("floor at ") or y <= low:
            continue
        way = "toward" if z >= 0.0 else "away"
        out = (x - far.axis) * (1.0 if place.hand == "left" else -1.0)
        angle = math.atan2(abs(z), out)
        reached = any(turn.way == way and turn.opens_to >= angle for turn in turns)
        if reached and swept(far, x, z) and not swept(near, x, z):
            if high is None or y > high[0]:
                high = (y, mark.name, angle)
    if high is None:
        return None
    y, name, angle = high
    opens = math.degrees(wished.opens.value)
    who = leaf_words(place.key)
    return Check(
        key=f"swing/{place.key}/floor/past",
        subject=f"bottom of {who}",
        question=f"is it stopped at {opens:.0f}° open, before it meets the {name}",
        verdict=Verdict.ASK,
        source=Source("geometry of the doorway", "the turning plan of the leaves"),
        unit="m",
        demand=y + wished.margin.value,
        available=place.bottom.value,
        change=(
            f"the floor there, {math.degrees(angle):.0f}° round, is higher than {who} clears: "
            "stop it before that, or say how far it is to open in opens_to, and its gap follows"
        ),
    )


def _nose_drop(room: Doorway) -> Metres:
    """Return how far the noses sag, as the gap underneath allows for it [m]."""
    gap = next(g for g in room.gaps if g.key == "doorway/floor clearance")
    return next(q.value for q in chain.walked(gap) if q.key == "allowance/nose drop")


def _obstacles(job: Job) -> tuple[Block, ...]:
    found = []
    for one in job.obstacle:
        (x0, x1), (y0, y1), (z0, z1) = (
            sorted((a.si, b.si)) for a, b in zip(one.from_, one.to, strict=True)
        )
        found.append(
            block(
                f"obstacle/{one.name}",
                one.name,
                "obstacle",
                left=x0,
                right=x1,
                back=z0,
                front=z1,
                bottom=y0,
                top=y1,
            )
        )
    return tuple(found)


def sweep_of(place: LeafPlace, opens_to: Radians) -> Sweep:
    """Return what of the floor a leaf sweeps."""
    half = max(place.half_face.value, place.half_back.value)
    out = place.width.value - place.axis.value
    sign = 1.0 if place.hand == "left" else -1.0
    ways: dict[str, Ways] = {"toward": "toward", "away": "away"}
    return Sweep(
        hand=place.hand,
        swing=ways.get(place.swing, "both"),
        axis=place.hinge_edge.value + sign * place.axis.value,
        radius=math.hypot(out, half),
        half=half,
        upto=opens_to,
    )


def _floor(job: Job, found: Survey, room: Doorway, wished: Wished) -> Floor:
    """Return the height of the floor and its standard deviation at places on plan [m].

    Where only readings out along each leaf's swing tell of it, each half of the opening has the
    floor of its own leaf.
    """
    floors = [floor_of(job, found, sweep_of(place, wished.opens.value)) for place in room.leaves]
    middle = sum(p.hinge_edge.value for p in room.leaves) / len(room.leaves)
    first_is_left = room.leaves[0].hand == "left"

    def heights(x: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        one = floor_heights(floors[0], x, z)
        if len(floors) == 1:
            return one
        other = floor_heights(floors[1], x, z)
        own = (x <= middle) if first_is_left else (x > middle)
        return np.where(own, one[0], other[0]), np.where(own, one[1], other[1])

    return heights
