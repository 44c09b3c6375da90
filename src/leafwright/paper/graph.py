"""Graphs: curves over two axes in a box of paper, each with a ringed letter at a stated point."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import KW_ONLY, dataclass
from typing import Literal

from leafwright.paper.font import text_width
from leafwright.paper.scene import Box, Circle, Layer, Line, Point, Polyline, Primitive, Text

TICK_MM = 1.2
TEXT_MM = 2.4
RING_MM = 2.2
#: How far a ring stands off the point that it names, and from another ring [mm].
RING_OFF_MM = 6.0


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis from ``low`` to ``high``, with its name and its ticks: place and words of each."""

    name: str
    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve through points, drawn with a layer's pen; what leaves the box is cut off.

    ``mark`` is the letter in the ring, and ``at`` the point that it names; None names none.
    """

    points: tuple[Point, ...]
    layer: Layer
    _: KW_ONLY
    mark: str = ""
    at: Point | None = None


@dataclass(frozen=True, slots=True)
class Level:
    """A straight line right across, level at a y or upright at an x, with its words."""

    along: Literal["x", "y"]
    value: float
    words: str
    layer: Layer = "hidden"


def graph(
    box: Box,
    across: Axis,
    up: Axis,
    curves: Sequence[Curve],
    levels: Sequence[Level] = (),
) -> tuple[Primitive, ...]:
    """Return a graph that fills a box [mm].

    Args:
        box: its place, words included.
        across: the axis along the lower edge.
        up: the axis along the left edge.
        curves: in the axes' own units.
        levels: lines right across; the words of level ones stand at the right, those of upright
            ones at the top.
    """
    wide = max(text_width(words, TEXT_MM) for _, words in up.ticks)
    inner = Box(
        box.left + wide + TICK_MM + 2.0,
        box.bottom + 2.0 * TEXT_MM + TICK_MM + 5.0,
        box.right - 4.0,
        box.top - 2.0 * TEXT_MM - 3.5,
    )

    def on(point: Point) -> Point:
        x = inner.left + (point[0] - across.low) / (across.high - across.low) * inner.width
        y = inner.bottom + (point[1] - up.low) / (up.high - up.low) * inner.height
        return x, y

    items: list[Primitive] = [Polyline(inner.corners, "thin", closed=True)]
    for value, words in across.ticks:
        x, _ = on((value, up.low))
        items.append(Line((x, inner.bottom), (x, inner.bottom - TICK_MM), "thin"))
        spot = (x, inner.bottom - TICK_MM - 0.8)
        items.append(Text(spot, words, height_mm=TEXT_MM, anchor="centre-top"))
    for value, words in up.ticks:
        _, y = on((across.low, value))
        items.append(Line((inner.left, y), (inner.left - TICK_MM, y), "thin"))
        items.append(Line((inner.left, y), (inner.right, y), "rule"))
        spot = (inner.left - TICK_MM - 0.8, y)
        items.append(Text(spot, words, height_mm=TEXT_MM, anchor="right-middle"))
    items.append(
        Text(
            (inner.centre[0], box.bottom),
            across.name,
            height_mm=TEXT_MM,
            anchor="centre-bottom",
        )
    )
    items.append(Text((box.left, box.top), up.name, height_mm=TEXT_MM, anchor="left-top"))
    for level in levels:
        items += _level(level, inner, on)
    for curve in curves:
        for piece in _inside(tuple(on(p) for p in curve.points), inner):
            items.append(Polyline(piece, curve.layer))
    items += _rings([(c.mark, on(c.at)) for c in curves if c.at is not None and c.mark], inner)
    return tuple(items)


def _level(level: Level, inner: Box, on: Callable[[Point], Point]) -> list[Primitive]:
    if level.along == "x":
        x, _ = on((level.value, 0.0))
        return [
            Line((x, inner.bottom), (x, inner.top), level.layer),
            Text((x, inner.top + 0.9), level.words, height_mm=TEXT_MM, anchor="centre-bottom"),
        ]
    _, y = on((0.0, level.value))
    return [
        Line((inner.left, y), (inner.right, y), level.layer),
        Text(
            (inner.right - 1.0, y),
            level.words,
            height_mm=TEXT_MM,
            anchor="right-middle",
            knockout=True,
        ),
    ]


def _inside(points: tuple[Point, ...], inner: Box) -> list[tuple[Point, ...]]:
    """Return the parts of a curve between the lower and the upper edge of a box."""
    parts: list[list[Point]] = []
    for a, b in itertools.pairwise(points):
        cut = _clipped(a, b, inner)
        if cut is None:
            continue
        if parts and parts[-1][-1] == cut[0]:
            parts[-1].append(cut[1])
        else:
            parts.append([*cut])
    return [tuple(part) for part in parts]


def _clipped(a: Point, b: Point, inner: Box) -> tuple[Point, Point] | None:
    low, high = inner.bottom, inner.top
    if max(a[1], b[1]) < low or min(a[1], b[1]) > high:
        return None

    def at(y: float) -> Point:
        share = (y - a[1]) / (b[1] - a[1])
        return (a[0] + share * (b[0] - a[0]), y)

    ends = []
    for end in (a, b):
        ends.append(at(high) if end[1] > high else at(low) if end[1] < low else end)
    return ends[0], ends[1]


def _rings(marks: Sequence[tuple[str, Point]], inner: Box) -> list[Primitive]:
    """Return a dot at each point with its letter in a ring beside it, no two on one another."""
    items: list[Primitive] = []
    placed: list[Point] = []
    for mark, (x, y) in marks:
        spots = [
            (x + dx, y + dy)
            for dy in (RING_OFF_MM, -RING_OFF_MM, 2 * RING_OFF_MM)
            for dx in (0.0, RING_OFF_MM, -RING_OFF_MM, 2 * RING_OFF_MM, -2 * RING_OFF_MM)
        ]
        room = inner.inset(RING_MM + 0.3)
        free = [
            s
            for s in spots
            if room.left <= s[0] <= room.right
            and room.bottom <= s[1] <= room.top
            and all(_apart(s, p) for p in placed)
        ]
        spot = free[0] if free else room.centre
        placed += [spot, (x, y)]
        items += [
            Line((x, y), spot, "thin"),
            Circle((x, y), 0.7, "note", fill="black"),
            Circle(spot, RING_MM, "thin", fill="white"),
            Text(spot, mark, height_mm=TEXT_MM, anchor="centre-middle", bold=True),
        ]
    return items


def _apart(a: Point, b: Point) -> bool:
    return (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 > (2.0 * RING_MM + 0.6) ** 2
