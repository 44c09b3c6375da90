"""A leaf seen from its side on its way up: its poses from flat to hung, under what is over it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.doorway import LeafPlace
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Hatch, Leader, Symbol
from leafwright.paper.scene import Anchor, Circle, Fill, Ink, Layer, Line, Point, Polyline, Text
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import WALL, box, centre_mark
from leafwright.site.poses import Part, Pose
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import PosePath, side_section

#: Poses drawn of a way in are those nearest to these tilts, and every one of the last few [rad].
TILTS = tuple(math.radians(d) for d in (0.0, 22.5, 45.0, 67.5, 84.0))
#: Poses drawn of a leaf that is walked up in the open [rad].
WALKED = tuple(math.radians(d) for d in (0.0, 20.0, 45.0, 70.0, 90.0))
#: Two poses nearer than this to one another are drawn as one [m] and [rad].
ALIKE = (0.01, math.radians(1.0))
#: Two tops nearer to one another than this share of the leaf's height have one number [-].
APART = 0.1
#: How far the drawn floor goes on past the lying leaf [m].
BEYOND = 0.35


def shown_poses(path: PosePath) -> list[Pose]:
    """Return the poses of a way in that are drawn and told, in order, the first and last too."""
    poses = path.poses
    keep = {0, len(poses) - 1, len(poses) - 2}
    for tilt in TILTS:
        keep.add(min(range(len(poses)), key=lambda i: (abs(poses[i].tilt - tilt), -i)))
    farthest = max(range(len(poses)), key=lambda i: (abs(poses[i].foot), i))
    keep.add(farthest)
    found: list[Pose] = []
    for i in sorted(k for k in keep if k >= 0):
        pose = poses[i]
        if found and _alike(found[-1], pose) and i != len(poses) - 1:
            continue
        found.append(pose)
    return found


def _alike(a: Pose, b: Pose) -> bool:
    near, little = ALIKE
    return (
        abs(a.lift - b.lift) < near
        and abs(a.foot - b.foot) < near
        and abs(a.tilt - b.tilt) < little
    )


def _posed(parts: Sequence[Part], pose: Pose, sign: float) -> list[list[Point]]:
    """Return a leaf's rectangles in a pose, as (distance out, height over the floor) [m].

    ``sign`` is 1 for a leaf that lies on the viewer's side and −1 for one on the other.
    """
    cosine, sine = math.cos(pose.tilt), math.sin(pose.tilt)

    def turned(up: float, across: float) -> Point:
        return up * cosine + across * sine, up * sine - across * cosine

    corners = []
    for part in parts:
        back, front = (part.back, part.front) if sign > 0.0 else (-part.front, -part.back)
        ends = ((part.low, back), (part.high, back), (part.high, front), (part.low, front))
        corners.append([turned(*end) for end in ends])
    lowest = min(y for one in corners for _, y in one)
    return [
        [(pose.foot + sign * out, pose.lift - lowest + up) for out, up in one] for one in corners
    ]


def items_of_pose(
    parts: Sequence[Part], pose: Pose, sign: float, layer: Layer
) -> list[DrawingItem]:
    """Return a leaf in one pose, seen from its side."""
    outlines = _posed(parts, pose, sign)
    fill: Ink | None = "pale" if layer == "cut" else None
    return [Polyline(tuple(points), layer, closed=True, fill=fill) for points in outlines]


def _top(parts: Sequence[Part], pose: Pose, sign: float) -> Point:
    """Return the middle of a posed leaf's top edge."""
    first = _posed(parts, pose, sign)[0]
    return (first[1][0] + first[2][0]) / 2, (first[1][1] + first[2][1]) / 2


def _ringed(at: Point, words: str, sign: float, tilt: float) -> Symbol:
    """Return a pose's number in a ring past its top edge [mm]."""
    out, up = 5.0 * math.cos(tilt) * sign, 5.0 * math.sin(tilt)
    spot = (out, max(up, 2.2))
    return Symbol(
        at,
        (
            Circle(spot, 2.5, "thin", fill="white"),
            Text(spot, words, height_mm=2.8, anchor="centre-middle", bold=True),
        ),
    )


def ground_items(left: float, right: float) -> list[DrawingItem]:
    """Return the floor between two places across the wall."""
    return [
        Hatch(box(left, -0.5 * WALL, right, 0.0), "ground", 2.4),
        Line((left, 0.0), (right, 0.0), "cut"),
    ]


def words_of_sides(at: Desk, sign: float, foot: Point) -> Symbol:
    """Return which side of the wall is which, under the drawing."""
    face = at.plan.job.job.seen_from
    words = face.upper() if sign > 0.0 else f"AWAY FROM THE {face.upper()}"
    anchor: Anchor = "left-top" if sign > 0.0 else "right-top"
    text = Text((0.0, -10.5), words, height_mm=2.8, anchor=anchor, bold=True)
    return Symbol(foot, (text,))


def path_drawing(
    at: Desk, place: LeafPlace, leaf: Leaf, path: PosePath, over: float, depth: float
) -> Drawing:
    """Return the way in of a leaf, seen from its side.

    Args:
        at: the plan and its words.
        place: where the leaf hangs.
        leaf: the leaf as designed.
        path: its poses.
        over: room between its top as it hangs and what is over it [m].
        depth: how deep what is over it is, through the wall [m].
    """
    parts = side_section(place, leaf).parts
    sign = 1.0 if path.side == "toward" else -1.0
    shown = shown_poses(path)
    hung = shown[-1]
    items: list[DrawingItem] = []
    for pose in shown[:-1]:
        items += items_of_pose(parts, pose, sign, "hidden")
    items += items_of_pose(parts, hung, sign, "cut")
    under = hung.lift + leaf.height + over
    head = box(-depth / 2, under, depth / 2, under + WALL)
    items += [Hatch(head, "masonry", 1.8), Polyline(head, "cut", closed=True)]
    first = _posed(parts, shown[0], sign)
    reach = max(abs(x) for one in first for x, _ in one) + BEYOND
    low, high = sorted((-sign * BEYOND * 1.4, sign * reach))
    items += ground_items(low, high)
    numbered: list[Point] = []
    for number, pose in enumerate(shown[:-1], start=1):
        top = _top(parts, pose, sign)
        # A number that would lie on another is left out; the table has it.
        if all(math.dist(top, other) > APART * leaf.height for other in numbered):
            items.append(_ringed(top, str(number), sign, min(pose.tilt, 1.45)))
            numbered.append(top)
    foot = max((p for p in shown), key=lambda p: abs(p.foot))
    if abs(foot.foot) > 0.005:
        text = f"foot out {at.words.length(abs(foot.foot))}"
        items += [
            Line((0.0, -0.5 * WALL), (0.0, under), "centre"),
            Dimension(
                (0.0, 0.0),
                (foot.foot, 0.0),
                -6.0,
                text,
                "x",
                base=-0.5 * WALL,
                outside="after" if sign > 0.0 else "before",
            ),
        ]
    items.append(
        Leader(
            (-sign * depth / 2, under),
            (-sign * 6.0, -8.0),
            f"room over it, hung {at.words.length(over)}",
            knockout=True,
        )
    )
    items.append(words_of_sides(at, sign, (sign * 0.45 * reach, -0.5 * WALL)))
    return Drawing(tuple(items))


def walk_up_drawing(place: LeafPlace, leaf: Leaf, up: StandUp) -> Drawing:
    """Return a leaf that is walked up in the open, with the height of the hands and the balance."""
    parts = side_section(place, leaf).parts
    poses = [Pose(0.0, 0.0, tilt) for tilt in WALKED]
    items: list[DrawingItem] = []
    for pose in poses[:-1]:
        items += items_of_pose(parts, pose, 1.0, "hidden")
    items += items_of_pose(parts, poses[-1], 1.0, "cut")
    items += ground_items(-BEYOND, leaf.height + BEYOND)
    for pose in poses:
        words = f"{math.degrees(pose.tilt):.0f}°"
        items.append(_degrees_at(_top(parts, pose, 1.0), words, pose.tilt))
    items += centre_mark((0.0, leaf.centre[1]), 0.02 * leaf.height)
    nearest = int(abs(up.push.tilt - math.radians(45.0)).argmin())
    tilt, hands = float(up.push.tilt[nearest]), float(up.push.hands[nearest])
    spot = (hands * math.cos(tilt), hands * math.sin(tilt))
    items += [Fill(_dot(spot, 0.02 * leaf.height), "black", layer="note")]
    items.append(Leader(spot, (10.0, -9.0), "hands", end="none", knockout=True))
    return Drawing(tuple(items))


def _dot(at: Point, radius: float) -> tuple[Point, ...]:
    steps = [2.0 * math.pi * i / 16 for i in range(16)]
    return tuple((at[0] + radius * math.cos(s), at[1] + radius * math.sin(s)) for s in steps)


def _degrees_at(at: Point, words: str, tilt: float) -> Symbol:
    spot = (5.5 * math.cos(tilt), max(5.0 * math.sin(tilt), 2.4))
    text = Text(spot, words, height_mm=2.8, anchor="centre-middle", bold=True)
    return Symbol(at, (text,))
