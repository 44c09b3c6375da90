"""Leaves and doorways in plan, made for tests, and the same as polygons of another library."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from leafwright.doorway.outline import (
    Block,
    Cover,
    DoorwayPlan,
    LeafPlan,
    ScrewHeads,
    block,
    outline,
)
from leafwright.records import Point2

INCH = 0.0254


def leaf_of(**changes: Any) -> LeafPlan:
    """Return a left leaf of 2 in tube, its axis 1 in in, 20 mm from a jamb at x = 0 [m]."""
    usual = LeafPlan(
        key="leaf",
        hand="left",
        swing="toward",
        hinge_edge=0.020,
        width=1.1,
        axis=INCH,
        frame_half=INCH,
        bottom=0.020,
        height=4.0,
    )
    return replace(usual, **changes)


def jamb(side: str, x: float, *, depth: float = 2 * INCH, sd: float = 0.0) -> Block:
    """Return a jamb post whose inner face is at x [m]."""
    left, right = (x - 0.1, x) if side == "left" else (x, x + 0.1)
    return block(
        f"{side}/jamb",
        f"{side} jamb",
        "jamb",
        left=left,
        right=right,
        back=-depth / 2,
        front=depth / 2,
        side="left" if side == "left" else "right",
        sd=sd,
    )


def doorway_of(width: float, *more: Block, meeting_sd: float = 0.0) -> DoorwayPlan:
    return DoorwayPlan((jamb("left", 0.0), jamb("right", width), *more), meeting_sd)


def pair_of(width: float, gap: float, **changes: Any) -> tuple[LeafPlan, LeafPlan]:
    """Return two like leaves that leave a meeting gap between them [m]."""
    left = leaf_of(**{"key": "left", "hinge_edge": 0.020, **changes})
    left = replace(left, width=width / 2 - left.hinge_edge - gap / 2)
    return left, replace(left, key="right", hand="right", hinge_edge=width - left.hinge_edge)


def random_leaf(rng: random.Random, **changes: Any) -> LeafPlan:
    """Return a leaf with or without infill held back, and screw heads."""
    width = rng.uniform(0.5, 1.8)
    covers = []
    heads = []
    for face in ("face", "back"):
        if rng.random() < 0.6:
            covers.append(
                Cover(
                    "face" if face == "face" else "back",
                    rng.uniform(0.001, 0.025),
                    rng.uniform(0.0, 0.05),
                    rng.uniform(0.0, 0.05),
                )
            )
        if rng.random() < 0.4:
            start = rng.uniform(0.0, 0.1)
            heads.append(
                ScrewHeads(
                    "face" if face == "face" else "back",
                    rng.uniform(0.001, 0.006),
                    start,
                    start + rng.uniform(0.01, width - 0.12),
                )
            )
    return leaf_of(
        **{
            "width": width,
            "axis": rng.uniform(-0.03, 0.08),
            "axis_z": rng.uniform(-0.01, 0.01),
            "frame_half": rng.uniform(0.015, 0.05),
            "covers": tuple(covers),
            "screw_heads": tuple(heads),
            "hinge_edge": rng.uniform(0.002, 0.06),
            "swing": rng.choice(["toward", "away"]),
            **changes,
        }
    )


def solid(pieces: Sequence[Sequence[Point2]]) -> BaseGeometry:
    return unary_union([Polygon(piece) for piece in pieces])


def opened(plan: LeafPlan, angle: float) -> BaseGeometry:
    """Return the leaf turned by another library, positive toward the viewer [rad]."""
    turned = angle if plan.hand == "left" else -angle
    return affinity.rotate(
        solid(outline(plan, 0.0)), turned, origin=(plan.axis_x, plan.axis_z), use_radians=True
    )
