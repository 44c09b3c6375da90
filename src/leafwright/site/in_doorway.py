"""The leaves turning in their doorway: what `doorway.swing` needs, from a whole job."""

from __future__ import annotations

import math

import numpy as np

from leafwright import chain
from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.outline import Block, Reveal, block, doorway_plan, leaf_plan
from leafwright.doorway.swing import Swing, swing
from leafwright.doorway.underneath import Floor
from leafwright.job.model import BarrelHinge, Job, LeafTable
from leafwright.job.model import Swing as Ways
from leafwright.job.steel import Steel
from leafwright.records import Held, Metres
from leafwright.site.taken import read_lean
from leafwright.site.wished import Wished
from leafwright.survey import Survey, Sweep, floor_heights, floor_of

#: Steps of the curves of a swing between shut and its end.
STEPS = 60


def table_of(job: Job, place: LeafPlace) -> LeafTable:
    """Return the job's own choices of the leaf that stands in a place."""
    return next(table for table in job.leaf if table.hand == place.hand)


def swing_of(
    job: Job, found: Survey, room: Doorway, material: Steel, wished: Wished
) -> Swing | Held:
    """Return how the leaves swing in their doorway, or why that is not worked out."""
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
    # A side without a post is the wall itself, as deep as that.
    depth = material.section(posts[0]).height if posts else wished.reveal.value
    half = wished.reveal.value / 2
    reveal = Reveal(half, -half) if job.opening.reveal_depth is not None else None
    doorway = doorway_plan(room, jamb_depth=depth, reveal=reveal, obstacles=_obstacles(job))
    if any(isinstance(t.mount, BarrelHinge) for t in tables.values()):
        return Held(
            "a leaf on barrel hinges turns about an axis off its post's middle: whether it clears "
            "post and nose is checked in the doorway, and nothing else that it meets",
            ("the place of the hinges through the wall",),
        )
    leans = {
        place.key: (math.tan(lean.x), math.tan(lean.z))
        for place in room.leaves
        if (lean := read_lean(job, place.hand, place.height.value)) is not None
    }
    return swing(
        plans,
        doorway,
        running_clearance=wished.margin.value,
        steps=STEPS,
        floor=_floor(job, found, room),
        lean=leans,
        floor_clearance=wished.margin.value,
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


def sweep_of(place: LeafPlace) -> Sweep:
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
    )


def _floor(job: Job, found: Survey, room: Doorway) -> Floor:
    """Return the height of the floor and its standard deviation at places on plan [m].

    Where only readings out along each leaf's swing tell of it, each half of the opening has the
    floor of its own leaf.
    """
    floors = [floor_of(job, found, sweep_of(place)) for place in room.leaves]
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
