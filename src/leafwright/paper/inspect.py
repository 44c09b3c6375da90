"""What is wrong with a page: words on words, words on lines, things outside."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from leafwright.paper.font import ink_corners, missing_characters
from leafwright.paper.pens import HEAVY_LAYERS, PENS
from leafwright.paper.scene import (
    Arc,
    Box,
    Circle,
    Fill,
    Line,
    Point,
    Polyline,
    Primitive,
    Scene,
    Text,
    arc_points,
    box_around,
    outline_points,
)

LEAST_TEXT_MM = 2.2
# How far boxes may reach into each other before words touch.
TOLERANCE_MM = 0.15
OUTSIDE_TOLERANCE_MM = 0.05


def defects(scene: Scene, *, light_lines: bool = False) -> list[str]:
    """Return what is wrong with a scene, a sentence each; an empty list when nothing is.

    Reported: texts that overlap, anything outside the frame or content outside its area, words
    lower than 2.2 mm, words that the font cannot write, words crossed by a heavy line or lying on
    a dark fill (unless they have a white box behind them).

    Args:
        scene: the flat page.
        light_lines: also report words crossed by light lines (not those of a hatch).
    """
    return [
        *_outside(scene.items, scene.area, "the sheet's room"),
        *_outside(scene.furniture, scene.frame, "the frame"),
        *_small(scene),
        *_unwritten(scene),
        *_overlaps(scene),
        *_crossed(scene, light_lines),
    ]


def _texts(scene: Scene) -> list[Text]:
    return [item for item in scene.all_items if isinstance(item, Text)]


def _outside(items: Sequence[Primitive], room: Box, name: str) -> Iterator[str]:
    room = room.inset(-OUTSIDE_TOLERANCE_MM)
    for item in items:
        box = box_around(ink_corners(item) if isinstance(item, Text) else outline_points(item))
        over = {
            "left": room.left - box.left,
            "below": room.bottom - box.bottom,
            "right": box.right - room.right,
            "above": box.top - room.top,
        }
        beyond = [f"{by:.1f} mm {side}" for side, by in over.items() if by > 0.0]
        if beyond:
            yield f"{_named(item)} stands outside {name}: {', '.join(beyond)}"


def _unwritten(scene: Scene) -> Iterator[str]:
    for text in _texts(scene):
        if missing := missing_characters(text.text):
            yield f"{_named(text)} has what the font cannot write: {', '.join(missing)}"


def _named(item: Primitive) -> str:
    if isinstance(item, Text):
        return f"the text “{item.text}”"
    name = type(item).__name__.lower()
    article = "an" if name == "arc" else "a"
    x, y = outline_points(item)[0]
    key = f" ({item.key})" if item.key else ""
    return f"{article} {name} of layer {item.layer!r}{key} at {x:.1f}, {y:.1f}"


def _small(scene: Scene) -> Iterator[str]:
    for text in _texts(scene):
        if text.height_mm < LEAST_TEXT_MM - 1e-9:
            yield (
                f"the text “{text.text}” is {text.height_mm:.1f} mm high; "
                f"{LEAST_TEXT_MM} mm is the least that can be read"
            )


def _overlaps(scene: Scene) -> Iterator[str]:
    boxed = sorted(
        ((grown(ink_corners(text), -0.5 * TOLERANCE_MM), text) for text in _texts(scene)),
        key=lambda pair: min(x for x, _ in pair[0]),
    )
    for number, (corners, text) in enumerate(boxed):
        right = max(x for x, _ in corners)
        for other_corners, other in boxed[number + 1 :]:
            if min(x for x, _ in other_corners) > right:
                break
            if boxes_meet(corners, other_corners):
                yield f"the texts “{text.text}” and “{other.text}” overlap {_near(corners)}"


def _near(corners: Sequence[Point]) -> str:
    x, y = box_around(corners).centre
    return f"near {x:.1f}, {y:.1f}"


def grown(corners: Sequence[Point], by: float) -> tuple[Point, ...]:
    """Return a turned box made larger by ``by`` on every side (smaller when negative)."""
    a, b, c, d = corners
    wide, high = math.dist(a, b), math.dist(a, d)
    if wide <= -2.0 * by or high <= -2.0 * by:
        return tuple(corners)
    u = ((b[0] - a[0]) / wide * by, (b[1] - a[1]) / wide * by)
    v = ((d[0] - a[0]) / high * by, (d[1] - a[1]) / high * by)
    return (
        (a[0] - u[0] - v[0], a[1] - u[1] - v[1]),
        (b[0] + u[0] - v[0], b[1] + u[1] - v[1]),
        (c[0] + u[0] + v[0], c[1] + u[1] + v[1]),
        (d[0] - u[0] + v[0], d[1] - u[1] + v[1]),
    )


def boxes_meet(first: Sequence[Point], second: Sequence[Point]) -> bool:
    """Return whether two turned boxes overlap: no side of either separates them."""
    for box in (first, second):
        for start, end in ((box[0], box[1]), (box[0], box[3])):
            ax, ay = end[0] - start[0], end[1] - start[1]
            one = [x * ax + y * ay for x, y in first]
            two = [x * ax + y * ay for x, y in second]
            if max(one) <= min(two) or max(two) <= min(one):
                return False
    return True


def _crossed(scene: Scene, light_lines: bool) -> Iterator[str]:
    lines = [
        (item.layer, a, b, box_around((a, b)))
        for item in scene.all_items
        if item.layer in HEAVY_LAYERS or (light_lines and item.layer != "hatch")
        for a, b in segments(item)
    ]
    dark = [
        item
        for item in scene.all_items
        if isinstance(item, Fill) and item.ink in ("black", "dark", "spot")
    ]
    for text in _texts(scene):
        if text.knockout:
            continue
        inked = ink_corners(text)
        around = box_around(inked).inset(-1.0)
        crossed = set()
        for layer, a, b, box in lines:
            apart = (
                box.right < around.left
                or box.left > around.right
                or box.top < around.bottom
                or box.bottom > around.top
            )
            # The line has a width, so words may not come nearer than half of it.
            reach = 0.5 * PENS[layer].width - 0.5 * TOLERANCE_MM
            if not apart and segment_meets_box(a, b, grown(inked, reach)):
                crossed.add("heavy" if layer in HEAVY_LAYERS else "light")
        for weight in sorted(crossed):
            yield f"the text “{text.text}” is crossed by a {weight} line {_near(inked)}"
        if text.ink != "white" and any(_inside(box_around(inked).centre, f) for f in dark):
            yield f"the text “{text.text}” lies on a dark area {_near(inked)}"


def segments(item: Primitive) -> Iterator[tuple[Point, Point]]:
    """Yield the straight pieces of an item's line; an arc's chords stray by 0.05 mm at most."""
    if isinstance(item, Text | Fill):
        return
    if isinstance(item, Line):
        points: tuple[Point, ...] = (item.a, item.b)
    elif isinstance(item, Polyline):
        points = (*item.points, item.points[0]) if item.closed else item.points
    else:
        if isinstance(item, Circle):
            item = Arc(item.centre, item.radius, 0.0, 2.0 * math.pi, item.layer)
        points = arc_points(item, sagitta=0.05)
    yield from itertools.pairwise(points)


def segment_meets_box(a: Point, b: Point, corners: Sequence[Point]) -> bool:
    """Return whether a straight line from ``a`` to ``b`` enters a turned box.

    The line is cut down to the part between the box's two pairs of sides in turn.
    """
    origin = corners[0]
    low, high = 0.0, 1.0
    for corner in (corners[1], corners[3]):
        ux, uy = corner[0] - origin[0], corner[1] - origin[1]
        size = ux * ux + uy * uy
        start = (a[0] - origin[0]) * ux + (a[1] - origin[1]) * uy
        run = (b[0] - a[0]) * ux + (b[1] - a[1]) * uy
        if abs(run) < 1e-12:
            if not 0.0 < start < size:
                return False
            continue
        near, far = sorted((-start / run, (size - start) / run))
        low, high = max(low, near), min(high, far)
        if low >= high:
            return False
    return True


def _inside(point: Point, fill: Fill) -> bool:
    x, y = point
    inside = False
    for loop in (fill.points, *fill.holes):
        for (x0, y0), (x1, y1) in zip(loop, (*loop[1:], loop[0]), strict=True):
            if (y0 <= y) != (y1 <= y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
                inside = not inside
    return inside
