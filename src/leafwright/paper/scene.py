"""The flat picture that every writer draws: lines, arcs, texts and fills, each with a layer.

The same primitives serve a `Drawing` (where a length is in metres, true size) and a `Scene` or a
sheet's own items (where it is in millimetres of paper). A text's height is always in millimetres
of paper. x to the right, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import KW_ONLY, dataclass
from typing import Literal

Point = tuple[float, float]

Layer = Literal[
    "cut", "mark", "note", "centre", "hidden", "thin", "dimension", "hatch", "border", "rule"
]
Ink = Literal["black", "dark", "grey", "pale", "white", "spot"]
Anchor = Literal[
    "left-bottom",
    "centre-bottom",
    "right-bottom",
    "left-middle",
    "centre-middle",
    "right-middle",
    "left-top",
    "centre-top",
    "right-top",
]

FULL_TURN = 2.0 * math.pi


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from ``a`` to ``b``."""

    a: Point
    b: Point
    layer: Layer
    _: KW_ONLY
    key: str = ""


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines from point to point; ``closed`` joins the last to the first.

    ``fill`` is the ink inside, under the line.
    """

    points: tuple[Point, ...]
    layer: Layer
    _: KW_ONLY
    closed: bool = False
    fill: Ink | None = None
    key: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, anticlockwise from the angle ``start`` to ``end`` [rad], 0 along +x."""

    centre: Point
    radius: float
    start: float
    end: float
    layer: Layer
    _: KW_ONLY
    key: str = ""

    @property
    def span(self) -> float:
        """The angle turned through [rad], more than 0 and at most a full turn."""
        turned = (self.end - self.start) % FULL_TURN
        return turned if turned > 1e-12 else FULL_TURN


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle; ``fill`` is the ink inside, under the line."""

    centre: Point
    radius: float
    layer: Layer
    _: KW_ONLY
    fill: Ink | None = None
    key: str = ""


@dataclass(frozen=True, slots=True)
class Fill:
    """An area filled with ink and no line round it; ``holes`` are left out of it."""

    points: tuple[Point, ...]
    ink: Ink
    _: KW_ONLY
    holes: tuple[tuple[Point, ...], ...] = ()
    layer: Layer = "hatch"
    key: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """Words at a point.

    ``height_mm`` is the height of a capital on paper [mm]. ``anchor`` says which place of the
    words stands at ``at``: "bottom" is the line they stand on, "top" the top of a capital.
    ``angle`` [rad] turns them anticlockwise about ``at``. ``knockout`` puts a white box behind.
    A line break in ``text`` starts a new line (split when the drawing is put on a sheet).
    """

    at: Point
    text: str
    _: KW_ONLY
    height_mm: float = 3.0
    anchor: Anchor = "left-bottom"
    angle: float = 0.0
    bold: bool = False
    knockout: bool = False
    ink: Ink = "black"
    layer: Layer = "note"
    key: str = ""


Primitive = Line | Polyline | Arc | Circle | Fill | Text


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle, in the unit of what it was measured from (metres or mm)."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Bottom to top."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """The middle."""
        return (0.5 * (self.left + self.right), 0.5 * (self.bottom + self.top))

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, anticlockwise from bottom left."""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )

    def inset(self, by: float) -> Box:
        """Return the box made smaller by ``by`` on every side (larger when negative)."""
        return Box(self.left + by, self.bottom + by, self.right - by, self.top - by)


@dataclass(frozen=True, slots=True)
class Scene:
    """One finished page in millimetres of paper, y up: what the writers draw.

    ``frame`` is the border that nothing may cross, ``area`` the room inside it that the sheet's
    content keeps to; ``furniture`` is the border, title strip and boxes around that room.
    """

    title: str
    width: float
    height: float
    frame: Box
    area: Box
    items: tuple[Primitive, ...]
    furniture: tuple[Primitive, ...] = ()

    @property
    def all_items(self) -> tuple[Primitive, ...]:
        """Everything to draw, in order: furniture, content, and every text last."""
        both = self.furniture + self.items
        return tuple(i for i in both if not isinstance(i, Text)) + tuple(
            i for i in both if isinstance(i, Text)
        )


def box_around(points: Iterable[Point]) -> Box:
    """Return the smallest upright box around the points; ValueError when there are none."""
    listed = list(points)
    if not listed:
        raise ValueError("no points to put a box around; draw something first")
    xs = [x for x, _ in listed]
    ys = [y for _, y in listed]
    return Box(min(xs), min(ys), max(xs), max(ys))


def arc_points(arc: Arc, *, sagitta: float) -> tuple[Point, ...]:
    """Return points along an arc whose chords stray at most ``sagitta`` from it (same unit)."""
    ratio = min(max(1.0 - sagitta / arc.radius, -1.0), 1.0)
    step = max(2.0 * math.acos(ratio), math.radians(1.0))
    count = max(2, math.ceil(arc.span / step))
    return tuple(
        (
            arc.centre[0] + arc.radius * math.cos(arc.start + arc.span * i / count),
            arc.centre[1] + arc.radius * math.sin(arc.start + arc.span * i / count),
        )
        for i in range(count + 1)
    )


def outline_points(item: Line | Polyline | Arc | Circle | Fill) -> tuple[Point, ...]:
    """Return points whose box is the item's box: its corners, ends and extreme points."""
    if isinstance(item, Line):
        return (item.a, item.b)
    if isinstance(item, Polyline | Fill):
        return item.points
    (x, y), r = item.centre, item.radius
    if isinstance(item, Circle):
        return ((x - r, y - r), (x + r, y + r))
    angles = [item.start, item.start + item.span]
    first = math.ceil(item.start / (0.5 * math.pi))
    angles += [
        quarter * 0.5 * math.pi
        for quarter in range(first, first + 5)
        if quarter * 0.5 * math.pi <= item.start + item.span
    ]
    return tuple((x + r * math.cos(angle), y + r * math.sin(angle)) for angle in angles)


def union(boxes: Sequence[Box]) -> Box:
    """Return the smallest upright box around all the boxes; ValueError when there are none."""
    return box_around(corner for box in boxes for corner in (box.corners[0], box.corners[2]))
