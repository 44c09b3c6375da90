"""The doorway seen from above, leaves shut, half open and open, with the paths of their edges."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.doorway.outline import (
    Block,
    LeafPlan,
    Way,
    outline,
)
from leafwright.doorway.swing import Swing
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Hatch, Leader, Symbol
from leafwright.paper.scene import Arc, Circle, Point, Polyline, Text
from leafwright.paper.sheets.common import Desk

#: At these angles leaves are drawn beside shut [rad].
SHOWN = (math.radians(45.0), math.radians(90.0))


def _down(point: tuple[float, float]) -> Point:
    """Return a place in plan on the drawing: the viewer stands at its foot."""
    return point[0], -point[1]


def _corners(plan: LeafPlan, angle: float) -> list[Point]:
    return [point for piece in outline(plan, angle) for point in piece]


def _signed(way: Way, angle: float) -> float:
    return angle if way == "toward" else -angle


def path_of(plan: LeafPlan, way: Way, corner: Point, upto: float) -> Arc:
    """Return the path of a corner of the shut leaf as it opens one way [m], on the drawing."""
    axis = (plan.axis_x, plan.axis_z)
    radius = math.dist(corner, axis)
    start = math.atan2(-(corner[1] - axis[1]), corner[0] - axis[0])
    # Seen from above, toward the viewer is down: a left leaf opens clockwise on the paper.
    turn = -plan.sign * _signed(way, upto)
    low, high = (start, start + turn) if turn > 0.0 else (start + turn, start)
    return Arc(_down(axis), radius, low, high, "centre")


def ends_of_swing(plan: LeafPlan) -> tuple[Point, Point]:
    """Return the corners of the shut leaf that reach farthest, of its nose and of its heel."""
    axis = (plan.axis_x, plan.axis_z)
    corners = _corners(plan, 0.0)
    nose = [c for c in corners if plan.sign * (c[0] - axis[0]) > 0.0]
    heel = [c for c in corners if plan.sign * (c[0] - axis[0]) <= 0.0]

    def far(point: Point) -> float:
        return math.dist(point, axis)

    return max(nose, key=far), max(heel or corners, key=far)


def _leaf_items(plan: LeafPlan, wished: float) -> list[DrawingItem]:
    items: list[DrawingItem] = []
    nose, heel = ends_of_swing(plan)
    for way in plan.ways:
        for angle in SHOWN:
            for piece in outline(plan, _signed(way, angle)):
                points = tuple(_down(p) for p in piece)
                items.append(Polyline(points, "hidden", closed=True))
        items += [path_of(plan, way, corner, wished) for corner in (nose, heel)]
    for piece in outline(plan, 0.0):
        items.append(Polyline(tuple(_down(p) for p in piece), "cut", closed=True, fill="pale"))
    axis = _down((plan.axis_x, plan.axis_z))
    items.append(Circle(axis, 0.012, "note", fill="black"))
    return items


def items_of_block(blocks: Sequence[Block]) -> list[DrawingItem]:
    """Return what stands round the leaves, in plan."""
    items: list[DrawingItem] = []
    for one in blocks:
        points = tuple(_down(p) for p in one.corners)
        kind = "steel" if one.name.endswith("post") else "masonry"
        if one.kind != "obstacle":
            items.append(Hatch(points, "steel" if kind == "steel" else "masonry", 1.6))
        items.append(Polyline(points, "cut", closed=True))
        if one.kind == "obstacle":
            x = sum(p[0] for p in points) / len(points)
            low = min(p[1] for p in points)
            items.append(Leader((x, low), (7.0, -7.0), one.name, knockout=True))
    return items


def _clear_items(at: Desk, swing: Swing, leaves: Sequence[LeafPlan]) -> list[DrawingItem]:
    """Return the clear opening at 90° as a dimension on each side that leaves open to."""
    items: list[DrawingItem] = []
    for one in swing.clear:
        row = min(one.table, key=lambda r: abs(r.angle - SHOWN[-1]))
        if abs(row.angle - SHOWN[-1]) > 1e-6:
            continue
        turned = {
            plan.hand: _corners(plan, _signed(one.way, SHOWN[-1]))
            for plan in leaves
            if one.way in plan.ways
        }
        inner = {"left": max, "right": min}
        xs = {hand: inner[hand](x for x, _ in points) for hand, points in turned.items()}
        left = xs.get("left", xs.get("right", 0.0) - row.seen)
        right = xs.get("right", left + row.seen)
        zs = [z for points in turned.values() for _, z in points]
        z = 0.55 * (max(zs) if one.way == "toward" else min(zs))
        text = f"clear {at.words.length(row.seen)} at 90°"
        items.append(
            Dimension(_down((left, z)), _down((right, z)), 0.0, text, "x", bold=True, knockout=True)
        )
    return items


def plan_drawing(at: Desk, swing: Swing) -> Drawing:
    """Return the doorway with its leaves seen from above [m], the viewer at its foot."""
    around, leaves = swing.around, swing.plans
    items: list[DrawingItem] = items_of_block(around.blocks)
    for plan in leaves:
        items += _leaf_items(plan, swing.wished)
    items += _clear_items(at, swing, leaves)
    sweeps: set[str] = set()
    for plan in leaves:
        nose, _ = ends_of_swing(plan)
        way = plan.ways[0]
        # Two leaves of unlike widths have a line each, at unlike heights.
        middle = math.radians(62.0 if not sweeps else 40.0)
        radius = math.dist(nose, (plan.axis_x, plan.axis_z))
        turned = (
            plan.axis_x + plan.sign * radius * math.cos(middle),
            plan.axis_z + (1.0 if way == "toward" else -1.0) * radius * math.sin(middle),
        )
        side = -7.0 if way == "toward" else 7.0
        words = f"nose sweeps {at.words.length(radius)}"
        if words in sweeps:
            continue
        sweeps.add(words)
        items.append(Leader(_down(turned), (plan.sign * 7.0, side), words, knockout=True))
    lowest = min(y for one in items if isinstance(one, Polyline) for _, y in one.points)
    across = [x for b in around.blocks for x, _ in b.corners]
    foot = ((min(across) + max(across)) / 2, lowest)
    face = at.plan.job.job.seen_from
    here = Text((0.0, -9.0), f"YOU, {face.upper()}", height_mm=3.2, anchor="centre-top", bold=True)
    items.append(Symbol(foot, (here,)))
    return Drawing(tuple(items))
