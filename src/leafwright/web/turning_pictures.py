"""Pictures of the site stage for a screen: swing, pad, way in, gaps; drawn as the sheets draw them.

What a sheet draws is taken from there, so that paper and page show one picture.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from markupsafe import Markup

from leafwright.doorway import LeafPlace
from leafwright.doorway.outline import LeafPlan, Way, outline
from leafwright.doorway.swing import LeafTurn, Swing
from leafwright.leaf import Leaf
from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Symbol, extents
from leafwright.paper.scene import Arc, Box, Circle, Point, Polyline, Scene, Text
from leafwright.paper.sheet import item_box
from leafwright.paper.sheets import align, pad, side_view, standing, swing, swing_plan
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import WALL
from leafwright.paper.sheets.flow import Picture, Says
from leafwright.site.fit_up import FitUp
from leafwright.site.poses import Pose
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import PosePath, side_section
from leafwright.web.pictures import leading, picture, ringed, svg_of

#: Width of a screen that graphs and pictures not to scale are drawn for [mm].
WIDE = 92.0
#: The clear opening is dimensioned so far beyond the noses [mm].
CLEAR_MM = 5.5


def _flat(items: Sequence[DrawingItem], title: str, told: str) -> Markup:
    """Return a picture that is drawn in millimetres of screen, cut to what is on it."""
    placed = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (0.0, 0.0))))
    boxes = [item_box(item) for item in placed]
    left, low = min(b.left for b in boxes) - 1.0, min(b.bottom for b in boxes) - 1.0
    right, top = max(b.right for b in boxes) + 1.0, max(b.top for b in boxes) + 1.0
    page = Box(0.0, 0.0, right - left, top - low)
    moved = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (-left, -low))))
    scene = Scene(title, page.width, page.height, page, page, moved)
    return svg_of(scene, title=title, description=told)


def _drawn(one: Picture, title: str, told: str, high: float = 0.0) -> Markup:
    room = Box(0.0, 0.0, WIDE, high or one.height_mm)
    return _flat(tuple(one.draw(room)), title, told)


# ---------------------------------------------------------------- swing


def _down(point: Point) -> Point:
    """Return a place in plan on the picture: the viewer stands at its foot."""
    return point[0], -point[1]


def swing_picture(at: Desk, found: Swing, way: Way, angle: float) -> Markup:
    """Return the doorway seen from above with its leaves open at an angle.

    Args:
        at: the plan and its words.
        found: how they swing.
        way: which way they are opened.
        angle: how far [rad]; a leaf that meets something first stands there.
    """
    around = found.around
    items: list[DrawingItem] = [*swing_plan.items_of_block(around.blocks)]
    turned: dict[str, list[Point]] = {}
    for plan in found.plans:
        reach = _reach(found, plan, way, angle)
        signed = reach if way == "toward" else -reach
        for shut in outline(plan, 0.0):
            items.append(Polyline(tuple(map(_down, shut)), "hidden", closed=True))
        turned[plan.hand] = [p for piece in outline(plan, signed) for p in piece]
        for piece in outline(plan, signed):
            items.append(Polyline(tuple(map(_down, piece)), "cut", closed=True, fill="pale"))
        items += [
            _arc(plan, way, corner, found.wished) for corner in swing_plan.ends_of_swing(plan)
        ]
        items.append(Circle(_down((plan.axis_x, plan.axis_z)), 0.012, "note", fill="black"))
    items += _clear(at, found, way, angle, turned)
    words = f"YOU, {at.plan.job.job.seen_from.upper()}"
    xs = [x for block in around.blocks for x, _ in block.corners]
    foot = extents(Drawing(tuple(items))).bottom
    below = -5.0 - (1.5 * CLEAR_MM if way == "toward" else 0.0)
    here = Text((0.0, below), words, height_mm=2.8, anchor="centre-top", bold=True)
    items.append(Symbol(((min(xs) + max(xs)) / 2, foot), (here,)))
    degrees = f"{math.degrees(angle):.0f}°"
    return picture(
        Drawing(tuple(items)),
        title=f"The doorway seen from above, leaves open {degrees}",
        description="You stand at the foot of the picture. Dashed: the leaves shut.",
    )


def _arc(plan: LeafPlan, way: Way, corner: Point, upto: float) -> Arc:
    return swing_plan.path_of(plan, way, corner, upto)


def _reach(found: Swing, plan: LeafPlan, way: Way, angle: float) -> float:
    """Return how far a leaf is open when that is asked of it; nothing where it does not go."""
    for one in found.leaves:
        for turn in one.turns:
            if one.key == plan.key and turn.way == way:
                return min(angle, turn.opens_to)
    return 0.0


def clear_at(found: Swing, way: Way, angle: float) -> float | None:
    """Return the clear opening seen straight on, at the drawn angle nearest to one [m]."""
    for one in found.clear:
        if one.way == way:
            return float(one.seen[int(abs(one.angles - angle).argmin())])
    return None


def _clear(
    at: Desk, found: Swing, way: Way, angle: float, turned: dict[str, list[Point]]
) -> list[DrawingItem]:
    width = clear_at(found, way, angle)
    if width is None or width < 0.05:
        return []
    if "left" in turned:
        left = max(x for x, _ in turned["left"])
        right = left + width
    else:
        right = min(x for x, _ in turned["right"])
        left = right - width
    # Beyond the noses: between the leaves the words would lie on one of them.
    zs = [z for points in turned.values() for _, z in points]
    z, off = (max(zs), -CLEAR_MM) if way == "toward" else (min(zs), CLEAR_MM)
    text = f"clear {at.words.length(width)}"
    a, b = _down((left, z)), _down((right, z))
    return [Dimension(a, b, off, text, "x", height_mm=2.6, bold=True, knockout=True)]


def gap_graph(at: Desk, found: Swing, turn: LeafTurn, who: str) -> tuple[Markup, tuple[str, ...]]:
    """Return a leaf's gaps against angle as a picture, and what each curve is."""
    graph: Markup | None = None
    told: list[str] = []
    for block in swing.blocks_of_graphs(at, found, turn, who):
        if isinstance(block, Picture):
            graph = _drawn(block, f"{who}: gap against angle", "What each curve is stands below it")
        elif isinstance(block, Says):
            told.append(block.text)
    return graph or Markup(""), tuple(told)


# ---------------------------------------------------------------- pad and hung leaf


def pad_picture(leaf: Leaf, spots: Mapping[str, tuple[str, str]]) -> Markup:
    """Return a leaf lying face up, with the numbers of the places to read.

    ``spots`` are by number the address of its row and what it is called.
    """
    svg = picture(
        Drawing(tuple(ringed(pad.pad_outline(leaf).items))),
        title="The leaf lying face up, with the places to read",
        description="The numbers are those of the readings. The heavy edge is the hinge edge.",
    )
    return leading(svg, spots)


def shape_picture(leaf: Leaf, found: FitUp) -> tuple[Markup, int]:
    """Return a leaf as read over the leaf as designed, and how many times its errors are drawn."""
    times = pad.errors_enlarged(found, leaf)
    svg = picture(
        pad.shape_drawing(leaf, found, times),
        title="The leaf as it was read, with what to push",
        description=f"Dashed: as it should be. Its errors are drawn {times} times as large.",
    )
    return svg, times


def gaps_picture(
    leaf: Leaf, *, over: bool, mate: str, spots: Mapping[str, tuple[str, str]]
) -> Markup:
    """Return a hung leaf in its gaps, not to scale, with the numbers of what is read.

    ``spots`` are by number the address of its row and what it is called.
    """
    drawn = align.gaps_picture(leaf, over=over, mate=mate)
    items = ringed(drawn.draw(Box(0.0, 0.0, WIDE, drawn.height_mm)))
    return leading(
        _flat(items, "The gaps round the leaf", "The numbers are those of the readings"), spots
    )


# ---------------------------------------------------------------- the way in


def pose_picture(
    at: Desk, place: LeafPlace, leaf: Leaf, path: PosePath, shown: Pose, over: float, depth: float
) -> Markup:
    """Return a leaf in one pose of its way in, seen from its side, under what is over it.

    Args:
        at: the plan and its words.
        place: where the leaf hangs.
        leaf: the leaf as designed.
        path: its way in; the last pose is hung.
        shown: the pose.
        over: room between its top as it hangs and what is over it [m].
        depth: how deep what is over it is, through the wall [m].
    """
    parts = side_section(place, leaf).parts
    sign = 1.0 if path.side == "toward" else -1.0
    hung = path.poses[-1]
    items: list[DrawingItem] = []
    if shown != hung:
        items += side_view.items_of_pose(parts, hung, sign, "hidden")
    items += side_view.items_of_pose(parts, shown, sign, "cut")
    under = hung.lift + leaf.height + over
    head = ((-depth / 2, under), (depth / 2, under), (depth / 2, under + WALL))
    items.append(Polyline((*head, (-depth / 2, under + WALL)), "cut", closed=True, fill="pale"))
    reach = leaf.height + abs(path.kick_out) + side_view.BEYOND
    low, high = sorted((-sign * 2 * side_view.BEYOND, sign * reach))
    items += side_view.ground_items(low, high)
    items.append(side_view.words_of_sides(at, sign, (sign * 0.45 * reach, -0.5 * WALL)))
    return picture(
        Drawing(tuple(items)),
        title=f"The leaf on its way in, {math.degrees(shown.tilt):.0f}° up from flat",
        description="Seen from the side. Dashed: where it hangs.",
    )


def walk_up_picture(place: LeafPlace, leaf: Leaf, up: StandUp) -> Markup:
    """Return a leaf that is walked up in the open, seen from its side."""
    return picture(
        side_view.walk_up_drawing(place, leaf, up),
        title="The leaf walked up, seen from its side",
        description="At each angle from flat on the floor to upright.",
    )


def push_graph(at: Desk, up: StandUp) -> Markup:
    """Return how hard a leaf is to push, against how far it is up."""
    drawn = standing.curve_of_force(at, up)
    return _drawn(drawn, "How hard it is to push", "Against how far it is up from flat", 54.0)
