"""Drawings: true-size geometry in metres with its dimensions, leaders and hatches.

Lengths are in metres, x to the right and y up; what belongs to the paper and not to the thing
(text heights, how far a dimension line stands off, hatch spacing) is in millimetres of paper, so
that one drawing can be put on a sheet at any scale.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, replace
from typing import Literal, assert_never

from leafwright.paper.scene import (
    Arc,
    Box,
    Circle,
    Fill,
    Layer,
    Line,
    Point,
    Polyline,
    Primitive,
    Text,
    outline_points,
    union,
)
from leafwright.paper.scene import box_around as _box_around

HatchKind = Literal["steel", "ground", "concrete", "masonry", "timber", "plastic"]
Along = Literal["x", "y", "aligned"]


@dataclass(frozen=True, slots=True)
class Hatch:
    """An area filled with the lines of a material, ``spacing_mm`` apart on paper [mm].

    ``holes`` are left out of it. Nothing is drawn along the outline.
    """

    outline: tuple[Point, ...]
    kind: HatchKind
    spacing_mm: float = 2.0
    _: KW_ONLY
    holes: tuple[tuple[Point, ...], ...] = ()
    layer: Layer = "hatch"
    key: str = ""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance from ``a`` to ``b``, written in the maker's words.

    Along "x" the dimension line is level, and a positive ``offset_mm`` puts it that far [mm of
    paper] above both points, a negative one below. Along "y" it is upright; positive is to the
    right. "aligned" runs beside the line from a to b; positive is on its left, looking from a to
    b. ``base`` [m] measures the offset from that y (or x) instead of from the outer point, so
    that several dimensions share one line. Words that do not fit between the witness lines go
    past the far end (``outside`` "after": right or above) or the near one ("before").
    ``ends`` are arrowheads or slanted ticks.
    """

    a: Point
    b: Point
    offset_mm: float
    text: str
    along: Along = "aligned"
    _: KW_ONLY
    base: float | None = None
    ends: Literal["arrows", "ticks"] = "arrows"
    outside: Literal["after", "before"] = "after"
    height_mm: float = 3.0
    bold: bool = False
    knockout: bool = False
    layer: Layer = "dimension"
    key: str = ""

    def __post_init__(self) -> None:
        """Refuse a base for a line that is neither level nor upright."""
        if self.along == "aligned" and self.base is not None:
            raise ValueError(
                f"the aligned dimension {self.text!r} has the base {self.base!r}; a base is a y or "
                'an x, so measure along "x" or "y", or leave the base out'
            )


@dataclass(frozen=True, slots=True)
class RunningDimensions:
    """Distances of several points from one origin, so that the tape hooks once.

    ``direction`` is the way the tape runs, "x" or "y". The line stands ``offset_mm`` [mm of
    paper] beyond the outermost point: above or to the right when positive, below or to the left
    when negative; ``base`` [m] measures it from that y (or x) instead. Each of ``texts`` belongs
    to the point of the same place and is written at its own witness line; values that would
    collide are spread ``apart`` (in text heights), their witness lines kinked. ``zero`` is written
    at the origin.
    """

    origin: Point
    points: tuple[Point, ...]
    offset_mm: float
    texts: tuple[str, ...]
    direction: Literal["x", "y"]
    _: KW_ONLY
    base: float | None = None
    zero: str = "0"
    apart: float = 1.5
    height_mm: float = 3.0
    bold: bool = False
    knockout: bool = False
    layer: Layer = "dimension"
    key: str = ""

    def __post_init__(self) -> None:
        """Refuse points and texts that do not pair up."""
        if len(self.points) != len(self.texts):
            raise ValueError(
                f"running dimensions have {len(self.points)} points and {len(self.texts)} texts; "
                "give one text for each point, in the same order"
            )


@dataclass(frozen=True, slots=True)
class Leader:
    """Words with a thin line that ends on the thing at ``at``.

    The words stand ``to_mm`` (right, up) [mm of paper] away from ``at``. ``end`` is an arrowhead
    for an edge or point, a dot for a face. ``ring`` puts the words, a mark or number, in a circle.
    """

    at: Point
    to_mm: Point
    text: str
    _: KW_ONLY
    end: Literal["arrow", "dot", "none"] = "arrow"
    ring: bool = False
    height_mm: float = 3.0
    bold: bool = False
    knockout: bool = False
    layer: Layer = "dimension"
    key: str = ""


@dataclass(frozen=True, slots=True)
class AngleDimension:
    """The angle at ``centre``, anticlockwise from ``start`` to ``end`` [rad], in words.

    Its arc has the radius ``radius_mm`` [mm of paper].
    """

    centre: Point
    radius_mm: float
    start: float
    end: float
    text: str
    _: KW_ONLY
    height_mm: float = 3.0
    bold: bool = False
    knockout: bool = False
    layer: Layer = "dimension"
    key: str = ""


@dataclass(frozen=True, slots=True)
class Symbol:
    """Primitives of fixed paper size [mm, from ``at``] that stand at a point of the drawing [m]."""

    at: Point
    items: tuple[Primitive, ...]


Annotation = Hatch | Dimension | RunningDimensions | Leader | AngleDimension | Symbol
DrawingItem = Primitive | Annotation


@dataclass(frozen=True, slots=True)
class Drawing:
    """True-size geometry [m] and its annotations, painted in order with all texts last."""

    items: tuple[DrawingItem, ...]


def extents(drawing: Drawing) -> Box:
    """Return the box round a drawing's true-size geometry [m], without words and dimensions.

    Raises:
        ValueError: when there is no geometry.
    """
    boxes = []
    for item in drawing.items:
        if isinstance(item, Line | Polyline | Arc | Circle | Fill):
            boxes.append(_box_around(outline_points(item)))
        elif isinstance(item, Hatch):
            boxes.append(_box_around(item.outline))
    if not boxes:
        raise ValueError("the drawing has no geometry, only words; add lines before scaling it")
    return union(boxes)


def moved(drawing: Drawing, by: Point) -> Drawing:
    """Return the drawing moved by ``by`` (right, up) [m], to set views side by side."""
    return Drawing(tuple(_moved_item(item, by) for item in drawing.items))


def combined(*drawings: Drawing) -> Drawing:
    """Return one drawing with the items of all, in order."""
    return Drawing(tuple(item for drawing in drawings for item in drawing.items))


def _moved_item(item: DrawingItem, by: Point) -> DrawingItem:
    def there(point: Point) -> Point:
        return (point[0] + by[0], point[1] + by[1])

    def all_there(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple(there(point) for point in points)

    match item:
        case Line():
            return replace(item, a=there(item.a), b=there(item.b))
        case Polyline():
            return replace(item, points=all_there(item.points))
        case Arc() | Circle() | AngleDimension():
            return replace(item, centre=there(item.centre))
        case Fill():
            return replace(
                item, points=all_there(item.points), holes=tuple(map(all_there, item.holes))
            )
        case Hatch():
            return replace(
                item, outline=all_there(item.outline), holes=tuple(map(all_there, item.holes))
            )
        case Text() | Leader() | Symbol():
            return replace(item, at=there(item.at))
        case Dimension():
            base = item.base
            if base is not None:
                base += by[1] if item.along == "x" else by[0]
            return replace(item, a=there(item.a), b=there(item.b), base=base)
        case RunningDimensions():
            base = item.base
            if base is not None:
                base += by[1] if item.direction == "x" else by[0]
            return replace(
                item, origin=there(item.origin), points=all_there(item.points), base=base
            )
        case _:
            assert_never(item)
