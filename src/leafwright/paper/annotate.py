"""Dimensions, leaders and hatches turned into plain lines and words, in millimetres of paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import assert_never, cast

from leafwright.paper.drawing import (
    AngleDimension,
    Dimension,
    Drawing,
    DrawingItem,
    Hatch,
    Leader,
    RunningDimensions,
    Symbol,
)
from leafwright.paper.font import lines_of, text_width
from leafwright.paper.hatching import hatch_lines
from leafwright.paper.scene import (
    Anchor,
    Arc,
    Circle,
    Fill,
    Layer,
    Line,
    Point,
    Polyline,
    Primitive,
    Text,
)

ARROW_LENGTH = 3.0
ARROW_HALF_WIDTH = 0.55
TICK_HALF = 1.25
TICK_HALF_WIDTH = 0.22
WITNESS_GAP = 1.0
WITNESS_PAST = 1.6
TEXT_GAP = 1.1
SHELF = 2.5
RUNNING_STUB = 1.4
RUNNING_KINK = 4.0
ZERO_RADIUS = 0.9
DOT_RADIUS = 0.55


@dataclass(frozen=True, slots=True)
class Paper:
    """How a drawing's metres lie on the paper: ``mm_per_m``, and where (0, 0) falls [mm]."""

    mm_per_m: float
    origin: Point

    def point(self, p: Point) -> Point:
        """Return where a point of the drawing [m] falls on the paper [mm]."""
        return (self.origin[0] + p[0] * self.mm_per_m, self.origin[1] + p[1] * self.mm_per_m)

    def points(self, listed: Sequence[Point]) -> tuple[Point, ...]:
        """Return where points of the drawing [m] fall on the paper [mm]."""
        return tuple(self.point(p) for p in listed)


def on_paper(drawing: Drawing, paper: Paper) -> tuple[Primitive, ...]:
    """Return the drawing as plain primitives in millimetres of paper, in painting order."""
    return tuple(flat for item in drawing.items for flat in flat_item(item, paper))


def flat_item(item: DrawingItem, paper: Paper) -> tuple[Primitive, ...]:
    """Return one item of a drawing as plain primitives in millimetres of paper."""
    match item:
        case Line():
            return (replace(item, a=paper.point(item.a), b=paper.point(item.b)),)
        case Polyline():
            return (replace(item, points=paper.points(item.points)),)
        case Arc() | Circle():
            radius = item.radius * paper.mm_per_m
            return (replace(item, centre=paper.point(item.centre), radius=radius),)
        case Fill():
            holes = tuple(paper.points(hole) for hole in item.holes)
            return (replace(item, points=paper.points(item.points), holes=holes),)
        case Text():
            return lines_of(replace(item, at=paper.point(item.at)))
        case Hatch():
            loops = [paper.points(loop) for loop in (item.outline, *item.holes)]
            return tuple(
                Line(a, b, item.layer, key=item.key)
                for a, b in hatch_lines(loops, item.kind, item.spacing_mm)
            )
        case Symbol():
            return on_paper(Drawing(item.items), Paper(1.0, paper.point(item.at)))
        case Dimension():
            return _dimension(item, paper)
        case RunningDimensions():
            return _running(item, paper)
        case Leader():
            return _leader(item, paper)
        case AngleDimension():
            return _angle(item, paper)
        case _:
            assert_never(item)


def dimension_line(item: Dimension, paper: Paper) -> tuple[Point, Point, Point, Point]:
    """Return a dimension's two points and the two ends of its line [mm of paper].

    The points are ordered so that the line runs right or up (or, aligned, from a to b).
    """
    a, b = paper.point(item.a), paper.point(item.b)
    if item.along == "aligned":
        if a == b:
            raise ValueError(
                f"the aligned dimension {item.text!r} runs from {item.a!r} to the same point; "
                'give two points, or measure along "x" or "y"'
            )
        length = math.dist(a, b)
        n = (-(b[1] - a[1]) / length * item.offset_mm, (b[0] - a[0]) / length * item.offset_mm)
        return a, b, (a[0] + n[0], a[1] + n[1]), (b[0] + n[0], b[1] + n[1])
    run, rise = (0, 1) if item.along == "x" else (1, 0)
    if a[run] > b[run]:
        a, b = b, a
    if item.base is None:
        outer = max if item.offset_mm >= 0.0 else min
        base = outer(a[rise], b[rise])
    else:
        base = paper.point((item.base, item.base))[rise]
    level = base + item.offset_mm
    if item.along == "x":
        return a, b, (a[0], level), (b[0], level)
    return a, b, (level, a[1]), (level, b[1])


def arrowhead(tip: Point, towards: Point, *, layer: Layer = "dimension", key: str = "") -> Fill:
    """Return a slim filled arrowhead with its point at ``tip``, pointing along ``towards``."""
    length = math.hypot(*towards)
    ux, uy = towards[0] / length, towards[1] / length
    back = (tip[0] - ARROW_LENGTH * ux, tip[1] - ARROW_LENGTH * uy)
    side = (-uy * ARROW_HALF_WIDTH, ux * ARROW_HALF_WIDTH)
    corners = (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    return Fill(corners, "black", layer=layer, key=key)


def _tick(at: Point, along: Point, layer: Layer, key: str) -> Fill:
    """Return a slanted tick across a dimension line that runs along the unit vector."""
    angle = math.atan2(along[1], along[0]) + math.radians(45.0)
    c, s = math.cos(angle), math.sin(angle)
    corners = tuple(
        (at[0] + u * c - v * s, at[1] + u * s + v * c)
        for u, v in (
            (-TICK_HALF, -TICK_HALF_WIDTH),
            (TICK_HALF, -TICK_HALF_WIDTH),
            (TICK_HALF, TICK_HALF_WIDTH),
            (-TICK_HALF, TICK_HALF_WIDTH),
        )
    )
    return Fill(corners, "black", layer=layer, key=key)


def _witness(start: Point, end: Point, layer: Layer, key: str) -> tuple[Primitive, ...]:
    """Return a witness line, from a small gap at the thing to a little past the line."""
    length = math.dist(start, end)
    if length <= WITNESS_GAP:
        return ()
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    return (
        Line(
            (start[0] + WITNESS_GAP * ux, start[1] + WITNESS_GAP * uy),
            (end[0] + WITNESS_PAST * ux, end[1] + WITNESS_PAST * uy),
            layer,
            key=key,
        ),
    )


def _upright(angle: float) -> float:
    """Return the angle turned by half a turn where words along it would stand on their head."""
    angle = math.remainder(angle, 2.0 * math.pi)
    if angle > 0.5 * math.pi + 1e-9:
        return angle - math.pi
    if angle <= -0.5 * math.pi + 1e-9:
        return angle + math.pi
    return angle


def _widest(text: str, height_mm: float, bold: bool) -> float:
    return max(text_width(line, height_mm, bold=bold) for line in text.split("\n"))


def _dimension(item: Dimension, paper: Paper) -> tuple[Primitive, ...]:
    a, b, start, end = dimension_line(item, paper)
    length = math.dist(start, end)
    if item.along == "aligned":
        u = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    else:
        u = (1.0, 0.0) if item.along == "x" else (0.0, 1.0)

    def along(p: Point, distance: float) -> Point:
        return (p[0] + u[0] * distance, p[1] + u[1] * distance)

    layer, key = item.layer, item.key
    flat = [*_witness(a, start, layer, key), *_witness(b, end, layer, key)]
    words = _widest(item.text, item.height_mm, item.bold)
    words_inside = words + 1.0 <= length
    arrows = item.ends == "arrows"
    ends_inside = not arrows or length >= 2.0 * ARROW_LENGTH + 1.0
    tail = 0.0 if ends_inside else ARROW_LENGTH + 2.0
    before, after = tail, tail
    if words_inside:
        middle = along(start, 0.5 * length)
    else:
        clear = max(tail, WITNESS_PAST)
        if item.outside == "after":
            middle = along(end, clear + 0.5 * words)
            after = clear + words
        else:
            middle = along(start, -clear - 0.5 * words)
            before = clear + words
    flat.append(Line(along(start, -before), along(end, after), layer, key=key))
    if arrows:
        inward = -1.0 if ends_inside else 1.0
        flat.append(arrowhead(start, (inward * u[0], inward * u[1]), layer=layer, key=key))
        flat.append(arrowhead(end, (-inward * u[0], -inward * u[1]), layer=layer, key=key))
    else:
        flat.append(_tick(start, u, layer, key))
        flat.append(_tick(end, u, layer, key))
    angle = _upright(math.atan2(u[1], u[0]))
    at = (middle[0] - math.sin(angle) * TEXT_GAP, middle[1] + math.cos(angle) * TEXT_GAP)
    flat += lines_of(_words(item, at, "centre-bottom", angle))
    return tuple(flat)


def _words(
    item: Dimension | RunningDimensions | Leader | AngleDimension,
    at: Point,
    anchor: Anchor,
    angle: float = 0.0,
    *,
    text: str | None = None,
) -> Text:
    if text is None:
        assert not isinstance(item, RunningDimensions)
        text = item.text
    return Text(
        at,
        text,
        height_mm=item.height_mm,
        anchor=anchor,
        angle=angle,
        bold=item.bold,
        knockout=item.knockout,
        layer=item.layer,
        key=item.key,
    )


def spread_apart(wanted: Sequence[float], apart: float) -> tuple[float, ...]:
    """Return places in the same order, at least ``apart`` from each other, moved least.

    The sum of the squared moves is the least there is: pooling of adjacent violators on the
    places less what must lie below each.

    Args:
        wanted: the places wished for, not falling (any unit).
        apart: the least distance between neighbours, in the same unit.
    """
    pools: list[tuple[float, int]] = []
    for number, place in enumerate(wanted):
        pools.append((place - number * apart, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (mean_1, count_1), (mean_2, count_2) = pools[-2:]
            count = count_1 + count_2
            pools[-2:] = [((mean_1 * count_1 + mean_2 * count_2) / count, count)]
    level = [mean for mean, count in pools for _ in range(count)]
    return tuple(place + number * apart for number, place in enumerate(level))


def running_base(item: RunningDimensions, paper: Paper) -> float:
    """Return the y (or x, along "y") of a running dimension's line [mm of paper]."""
    rise = 1 if item.direction == "x" else 0
    if item.base is not None:
        return paper.point((item.base, item.base))[rise] + item.offset_mm
    outer = max if item.offset_mm >= 0.0 else min
    points = paper.points((item.origin, *item.points))
    return outer(point[rise] for point in points) + item.offset_mm


def _running(item: RunningDimensions, paper: Paper) -> tuple[Primitive, ...]:
    level = running_base(item, paper)
    out = 1.0 if item.offset_mm >= 0.0 else -1.0
    run, rise = (0, 1) if item.direction == "x" else (1, 0)
    layer, key = item.layer, item.key

    def at(along: float, across: float) -> Point:
        return (along, across) if item.direction == "x" else (across, along)

    origin = paper.point(item.origin)
    stations = sorted(
        [(paper.point(p), text) for p, text in zip(item.points, item.texts, strict=True)]
        + [(origin, item.zero)],
        key=lambda station: station[0][run],
    )
    places = [point[run] for point, _ in stations]
    values = spread_apart(places, item.apart * item.height_mm)
    zero = origin[run]
    flat: list[Primitive] = [Line(at(places[0], level), at(places[-1], level), layer, key=key)]
    kinked = any(abs(v - p) > 0.05 for v, p in zip(values, places, strict=True))
    kink = RUNNING_KINK if kinked else 0.0
    for (point, text), place, value in zip(stations, places, values, strict=True):
        start = point[rise] + out * WITNESS_GAP
        if (level - start) * out < 0.0:
            start = level
        bend = level + out * RUNNING_STUB
        turned = bend + out * kink
        end = turned + out * RUNNING_STUB
        flat.append(
            Polyline(
                (at(place, start), at(place, bend), at(value, turned), at(value, end)),
                layer,
                key=key,
            )
        )
        anchor: Anchor = "left-middle" if out > 0.0 else "right-middle"
        angle = 0.5 * math.pi if item.direction == "x" else 0.0
        flat += lines_of(_words(item, at(value, end + out * TEXT_GAP), anchor, angle, text=text))
    flat += _running_marks(places, zero, level, item, at(zero, level))
    return tuple(flat)


def _running_marks(
    places: Sequence[float], zero: float, level: float, item: RunningDimensions, origin: Point
) -> list[Primitive]:
    """Return the ring at the origin, and an arrowhead (or dot, where too close) at each point."""
    flat: list[Primitive] = [
        Circle(origin, ZERO_RADIUS, item.layer, fill="white", key=item.key),
    ]
    ups = sorted(place for place in places if place > zero + 1e-6)
    downs = sorted((place for place in places if place < zero - 1e-6), reverse=True)
    for way, side in ((1.0, ups), (-1.0, downs)):
        last = zero + way * ZERO_RADIUS
        for place in side:
            tip = (place, level) if item.direction == "x" else (level, place)
            if (place - last) * way >= ARROW_LENGTH + 0.3:
                pointing = (way, 0.0) if item.direction == "x" else (0.0, way)
                flat.append(arrowhead(tip, pointing, layer=item.layer, key=item.key))
            else:
                flat.append(Circle(tip, DOT_RADIUS, item.layer, fill="black", key=item.key))
            last = place
    return flat


def _leader(item: Leader, paper: Paper) -> tuple[Primitive, ...]:
    at = paper.point(item.at)
    elbow = (at[0] + item.to_mm[0], at[1] + item.to_mm[1])
    reach = math.hypot(*item.to_mm)
    words = _widest(item.text, item.height_mm, item.bold)
    layer, key = item.layer, item.key
    flat: list[Primitive] = []
    if item.ring:
        radius = max(1.15 * item.height_mm, 0.5 * words + 0.9)
        share = max(0.0, 1.0 - radius / reach) if reach > 0.0 else 0.0
        rim = (at[0] + item.to_mm[0] * share, at[1] + item.to_mm[1] * share)
        if share > 0.0:
            flat.append(Line(at, rim, layer, key=key))
        flat.append(Circle(elbow, radius, "note", fill="white", key=key))
        flat += lines_of(_words(item, elbow, "centre-middle"))
    else:
        way = 1.0 if item.to_mm[0] >= 0.0 else -1.0
        shelf = (elbow[0] + way * SHELF, elbow[1])
        flat.append(Polyline((at, elbow, shelf), layer, key=key))
        beside = (shelf[0] + way * TEXT_GAP, shelf[1])
        flat += lines_of(_words(item, beside, "left-middle" if way > 0.0 else "right-middle"))
    if reach > 0.0 and item.end == "arrow":
        flat.append(arrowhead(at, (-item.to_mm[0], -item.to_mm[1]), layer=layer, key=key))
    if item.end == "dot":
        flat.append(Circle(at, DOT_RADIUS, layer, fill="black", key=key))
    return tuple(flat)


def _angle(item: AngleDimension, paper: Paper) -> tuple[Primitive, ...]:
    centre, radius = paper.point(item.centre), item.radius_mm
    arc = Arc(centre, radius, item.start, item.end, item.layer, key=item.key)
    end = item.start + arc.span

    def on_arc(angle: float, r: float = radius) -> Point:
        return (centre[0] + r * math.cos(angle), centre[1] + r * math.sin(angle))

    def tangent(angle: float, way: float) -> Point:
        # An arrowhead is a chord: turned half its own angle so that its tail lies on the arc.
        lean = angle - way * 0.5 * ARROW_LENGTH / radius
        return (-way * math.sin(lean), way * math.cos(lean))

    inside = arc.span * radius >= 2.0 * ARROW_LENGTH + 1.0
    flat: list[Primitive] = [arc]
    way = 1.0 if inside else -1.0
    for tip, turn in ((item.start, -way), (end, way)):
        flat.append(arrowhead(on_arc(tip), tangent(tip, turn), layer=item.layer, key=item.key))
        if not inside:
            tail = (ARROW_LENGTH + 2.0) / radius
            first, last = (tip - tail, tip) if turn > 0.0 else (tip, tip + tail)
            flat.append(Arc(centre, radius, first, last, item.layer, key=item.key))
    at_angle = item.start + 0.5 * arc.span
    c, s = math.cos(at_angle), math.sin(at_angle)
    across = "centre" if abs(c) < 0.35 else ("left" if c > 0.0 else "right")
    up = "middle" if abs(s) < 0.35 else ("bottom" if s > 0.0 else "top")
    anchor = cast(Anchor, f"{across}-{up}")
    flat += lines_of(_words(item, on_arc(at_angle, radius + TEXT_GAP), anchor))
    return tuple(flat)
