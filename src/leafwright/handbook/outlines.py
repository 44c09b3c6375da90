"""Exact geometry of plane cross-sections bounded by straight lines and circular arcs.

Coordinates are (u, v) in metres from the centre of the outline's bounding box: u lies in the plane
of a leaf (a member's width), v across it (its height). Nothing here is approximate but `polygon`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright.records import CubicMetres, Metres, Point2, QuarticMetres, SquareMetres

FULL_TURN = 2.0 * math.pi
QUARTER_TURN = 0.5 * math.pi
# 16 points integrate a quarter circle's cubic moments to the last bit or two.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_FRACTIONS = 0.5 * (_NODES + 1.0)
_SHARES = 0.5 * _WEIGHTS


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge, walked from start to end with the material on its left."""

    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular edge, walked from start to end; ends that coincide make a full circle."""

    start: Point2
    end: Point2
    centre: Point2
    radius: Metres
    counterclockwise: bool = True


Edge = Line | Arc


@dataclass(frozen=True, slots=True)
class Outline:
    """A plane section: the first loop runs counter-clockwise, each hole clockwise."""

    loops: tuple[tuple[Edge, ...], ...]


@dataclass(frozen=True, slots=True)
class Moments:
    """Integrals over a section of 1, u, v, u², uv and v², about the outline's own origin."""

    area: SquareMetres
    u: CubicMetres
    v: CubicMetres
    uu: QuarticMetres
    uv: QuarticMetres
    vv: QuarticMetres


def rectangular_tube(
    width: float, height: float, wall: float, outer_radius: float, inner_radius: float
) -> Outline:
    """Return the outline of a square or rectangular tube.

    width: outside size along u [m]; height: outside size along v [m]; wall: thickness [m].
    outer_radius, inner_radius: corner radii outside and inside [m]; 0 is a sharp corner.
    Raises ValueError where the sizes leave no hole, or no material at a corner.
    """
    _need_positive(width=width, height=height, wall=wall)
    least = min(width, height)
    if 2.0 * wall >= least:
        raise ValueError(
            f"a tube {width!r} x {height!r} m with a wall of {wall!r} m has no hole; "
            "give a thinner wall, or a flat bar"
        )
    _need_radius("outer_radius", outer_radius, 0.5 * least)
    _need_radius("inner_radius", inner_radius, 0.5 * least - wall)
    across_corner = wall * math.sqrt(2.0) - (outer_radius - inner_radius) * (math.sqrt(2.0) - 1.0)
    if across_corner <= 0.0:
        raise ValueError(
            f"corner radii {outer_radius!r} outside and {inner_radius!r} inside leave no metal "
            f"at the corner of a {wall!r} m wall; give radii that differ by about the wall"
        )
    outside = _rounded_rectangle(width, height, outer_radius)
    inside = _rounded_rectangle(width - 2.0 * wall, height - 2.0 * wall, inner_radius)
    return Outline((outside, _reversed(inside)))


def round_tube(outside_diameter: float, wall: float) -> Outline:
    """Return the outline of a round tube.

    Geometry, exact.

    outside_diameter: over the outside [m]; wall: thickness [m].
    Raises ValueError where the wall leaves no hole.
    """
    _need_positive(outside_diameter=outside_diameter, wall=wall)
    if 2.0 * wall >= outside_diameter:
        raise ValueError(
            f"a round tube of {outside_diameter!r} m with a wall of {wall!r} m has no hole; "
            "give a thinner wall, or a round bar"
        )
    radius = 0.5 * outside_diameter
    return Outline((_circle(radius), _reversed(_circle(radius - wall))))


def round_bar(diameter: float) -> Outline:
    """Return the outline of a solid round bar.

    Geometry, exact.

    diameter: of the bar [m].
    """
    _need_positive(diameter=diameter)
    return Outline((_circle(0.5 * diameter),))


def flat_bar(width: float, thickness: float) -> Outline:
    """Return the outline of a sharp-edged solid flat.

    Geometry, exact.

    width: along u [m]; thickness: along v [m].
    """
    _need_positive(width=width, thickness=thickness)
    return Outline((_rounded_rectangle(width, thickness, 0.0),))


def angle(
    leg_a: float,
    leg_b: float,
    thickness: float,
    *,
    root_radius: float = 0.0,
    toe_radius: float = 0.0,
) -> Outline:
    """Return the outline of an equal or unequal angle, its heel at the least u and least v.

    leg_a: leg along u [m]; leg_b: leg along v [m], both outside; thickness: of both legs [m].
    root_radius: fillet inside the heel [m]; toe_radius: rounding of the inner corner of each toe
    [m]. Raises ValueError where a radius does not fit.
    """
    _need_positive(leg_a=leg_a, leg_b=leg_b, thickness=thickness)
    inside = min(leg_a, leg_b) - thickness
    if inside <= 0.0:
        raise ValueError(
            f"an angle {leg_a!r} x {leg_b!r} m of {thickness!r} m thickness has no inside corner; "
            "give longer legs or a thinner leg"
        )
    _need_radius("toe_radius", toe_radius, min(thickness, inside))
    # The toe was found to fit: what is left is under nothing by rounding only.
    _need_radius("root_radius", root_radius, abs(inside - toe_radius))
    left, low = -0.5 * leg_a, -0.5 * leg_b
    right, high = 0.5 * leg_a, 0.5 * leg_b
    u, v = left + thickness, low + thickness  # the inside faces of the legs
    toe, root = toe_radius, root_radius
    edges: list[Edge] = [
        Line((left, low), (right, low)),
        Line((right, low), (right, v - toe)),
        Arc((right, v - toe), (right - toe, v), (right - toe, v - toe), toe),
        Line((right - toe, v), (u + root, v)),
        Arc((u + root, v), (u, v + root), (u + root, v + root), root, counterclockwise=False),
        Line((u, v + root), (u, high - toe)),
        Arc((u, high - toe), (u - toe, high), (u - toe, high - toe), toe),
        Line((u - toe, high), (left, high)),
        Line((left, high), (left, low)),
    ]
    return Outline((tuple(edge for edge in edges if edge.start != edge.end),))


def quarter_turned(outline: Outline) -> Outline:
    """Return the outline turned a quarter counter-clockwise: what lay along u now lies along v.

    Geometry, exact.

    outline: of the section as it lay.
    """
    return Outline(tuple(tuple(_edge_turned(edge) for edge in loop) for loop in outline.loops))


def moments(outline: Outline, *, u_from: float = -math.inf, u_to: float = math.inf) -> Moments:
    """Return the area and the first and second moments of the part with u_from <= u <= u_to.

    Green's theorem: the integral of g over the part is the sum over all edges of F dv, where
    F(u, v) is the integral of g along u from one cut to the point, or to the other cut where the
    point lies beyond it. On the cuts themselves nothing need be added.

    outline: of the whole section; u_from, u_to: the cuts [m]; infinite for none.
    A part that is empty has moments of 0.
    Raises ValueError where u_from > u_to or a cut is not a number.
    """
    if not u_from <= u_to:
        raise ValueError(
            f"the part of a section from u = {u_from!r} to {u_to!r} m does not exist; "
            "give u_from <= u_to"
        )
    base = u_from if math.isfinite(u_from) else u_to if math.isfinite(u_to) else 0.0
    cuts = [cut for cut in (u_from, u_to) if math.isfinite(cut)]
    u, v, dv = _boundary_points(outline, cuts)
    kept = np.minimum(np.maximum(u, u_from), u_to)
    # F dv for g = 1, u and u²; for v, uv and v² the same are multiplied by v or v².
    of_1 = (kept - base) * dv
    of_u = 0.5 * of_1 * (kept + base)
    of_uu = of_1 * (kept * kept + kept * base + base * base) / 3.0
    return Moments(
        area=float(of_1.sum()),
        u=float(of_u.sum()),
        v=float(of_1 @ v),
        uu=float(of_uu.sum()),
        uv=float(of_u @ v),
        vv=float((of_1 * v) @ v),
    )


def extent(outline: Outline) -> tuple[Metres, Metres, Metres, Metres]:
    """Return the least and greatest u, then the least and greatest v, of the outline [m].

    Geometry, exact.

    outline: of the section.
    """
    points: list[Point2] = []
    for edge in outline.loops[0]:
        points.append(edge.start)
        if isinstance(edge, Arc):
            start, sweep = arc_angles(edge)
            for turn in range(-8, 9):
                at = turn * QUARTER_TURN
                if 0.0 < (at - start) / sweep < 1.0:
                    points.append(_on_axis(edge, turn % 4))
    us = [point[0] for point in points]
    vs = [point[1] for point in points]
    return min(us), max(us), min(vs), max(vs)


def perimeter(outline: Outline) -> Metres:
    """Return the length of the outline's outer loop [m]: what paint or a wrap goes round.

    Geometry, exact.

    outline: of the section.
    """
    return math.fsum(
        abs(arc_angles(edge)[1]) * edge.radius
        if isinstance(edge, Arc)
        else math.dist(edge.start, edge.end)
        for edge in outline.loops[0]
    )


def polygon(outline: Outline, *, chord_error: float) -> list[list[Point2]]:
    """Return each loop as points on the outline, the last not repeating the first.

    Geometry; only this is not exact.

    outline: of the section; chord_error: greatest distance from an arc to its chords [m].
    Raises ValueError unless > 0.
    """
    _need_positive(chord_error=chord_error)
    loops: list[list[Point2]] = []
    for loop in outline.loops:
        points: list[Point2] = []
        for edge in loop:
            points.append(edge.start)
            if isinstance(edge, Arc):
                start, sweep = arc_angles(edge)
                step = 2.0 * math.acos(max(1.0 - chord_error / edge.radius, 0.5))
                count = math.ceil(abs(sweep) / step)
                points.extend(
                    _on_circle(edge, start + sweep * number / count) for number in range(1, count)
                )
        loops.append(points)
    return loops


def arc_angles(arc: Arc) -> tuple[float, float]:
    """Return the angle of an arc's start and the angle it sweeps [rad].

    Geometry, exact. The sweep is positive counter-clockwise; it is a full turn where the ends
    coincide.

    arc: from its start to its end about its centre.
    """
    start = math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])
    end = math.atan2(arc.end[1] - arc.centre[1], arc.end[0] - arc.centre[0])
    if arc.counterclockwise:
        sweep = (end - start) % FULL_TURN
        return start, sweep or FULL_TURN
    sweep = (start - end) % FULL_TURN
    return start, -(sweep or FULL_TURN)


def _boundary_points(
    outline: Outline, cuts: Sequence[float]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return u, v and the weighted dv at the integration points of every piece of boundary.

    Pieces end at the cuts, so that F is smooth in each; arcs are also split to a quarter turn.
    """
    lines: list[tuple[float, float, float, float]] = []
    arcs: list[tuple[float, float, float, float, float]] = []
    for loop in outline.loops:
        for edge in loop:
            if isinstance(edge, Line):
                (u0, v0), (u1, v1) = edge.start, edge.end
                if v0 == v1:
                    continue  # dv is 0 all along it
                places = [(cut - u0) / (u1 - u0) for cut in cuts if u1 != u0]
                for s0, s1 in _pieces(places, 1.0):
                    lines.append(
                        (u0 + s0 * (u1 - u0), v0 + s0 * (v1 - v0), (s1 - s0) * (u1 - u0),
                         (s1 - s0) * (v1 - v0))
                    )  # fmt: skip
            else:
                start, sweep = arc_angles(edge)
                for s0, s1 in _pieces(_arc_places(edge, start, sweep, cuts), sweep):
                    arcs.append((*edge.centre, edge.radius, start + s0, s1 - s0))
    line = np.array(lines, dtype=np.float64).reshape(-1, 4, 1)
    arc = np.array(arcs, dtype=np.float64).reshape(-1, 5, 1)
    at = arc[:, 3] + arc[:, 4] * _FRACTIONS
    along_u = arc[:, 2] * np.cos(at)
    u = np.concatenate((line[:, 0] + line[:, 2] * _FRACTIONS, arc[:, 0] + along_u))
    v = np.concatenate((line[:, 1] + line[:, 3] * _FRACTIONS, arc[:, 1] + arc[:, 2] * np.sin(at)))
    dv = np.concatenate((line[:, 3] * _SHARES, along_u * arc[:, 4] * _SHARES))
    return u.ravel(), v.ravel(), dv.ravel()


def _arc_places(arc: Arc, start: float, sweep: float, cuts: Sequence[float]) -> list[float]:
    """Return where an arc is split, as angles swept from its start [rad]."""
    quarters = math.ceil(abs(sweep) / QUARTER_TURN - 1e-9)
    places = [sweep * number / quarters for number in range(1, quarters)]
    direction = math.copysign(1.0, sweep)
    for cut in cuts:
        cosine = (cut - arc.centre[0]) / arc.radius
        if -1.0 < cosine < 1.0:
            for angle_at_cut in (math.acos(cosine), -math.acos(cosine)):
                places.append(direction * ((direction * (angle_at_cut - start)) % FULL_TURN))
    return places


def _pieces(places: Sequence[float], whole: float) -> Iterator[tuple[float, float]]:
    """Yield the pieces of [0, whole] between the places that lie inside it."""
    inside = sorted((place for place in places if 0.0 < place / whole < 1.0), key=abs)
    ends = [0.0, *inside, whole]
    yield from itertools.pairwise(ends)


def _rounded_rectangle(width: float, height: float, radius: float) -> tuple[Edge, ...]:
    u, v = 0.5 * width, 0.5 * height
    a, b = u - radius, v - radius  # the corner arcs' centres
    edges: list[Edge] = [
        Line((u, -b), (u, b)),
        Arc((u, b), (a, v), (a, b), radius),
        Line((a, v), (-a, v)),
        Arc((-a, v), (-u, b), (-a, b), radius),
        Line((-u, b), (-u, -b)),
        Arc((-u, -b), (-a, -v), (-a, -b), radius),
        Line((-a, -v), (a, -v)),
        Arc((a, -v), (u, -b), (a, -b), radius),
    ]
    return tuple(edge for edge in edges if edge.start != edge.end)


def _circle(radius: float) -> tuple[Edge, ...]:
    corners = [(radius, 0.0), (0.0, radius), (-radius, 0.0), (0.0, -radius)]
    return tuple(
        Arc(corners[turn], corners[(turn + 1) % 4], (0.0, 0.0), radius) for turn in range(4)
    )


def _reversed(loop: tuple[Edge, ...]) -> tuple[Edge, ...]:
    return tuple(
        Arc(edge.end, edge.start, edge.centre, edge.radius, not edge.counterclockwise)
        if isinstance(edge, Arc)
        else Line(edge.end, edge.start)
        for edge in reversed(loop)
    )


def _edge_turned(edge: Edge) -> Edge:
    start, end = _point_turned(edge.start), _point_turned(edge.end)
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, _point_turned(edge.centre), edge.radius, edge.counterclockwise)


def _point_turned(point: Point2) -> Point2:
    return -point[1], point[0]


def _on_circle(arc: Arc, at: float) -> Point2:
    return arc.centre[0] + arc.radius * math.cos(at), arc.centre[1] + arc.radius * math.sin(at)


def _on_axis(arc: Arc, quarter: int) -> Point2:
    (u, v), radius = arc.centre, arc.radius
    return ((u + radius, v), (u, v + radius), (u - radius, v), (u, v - radius))[quarter]


def _need_positive(**sizes: float) -> None:
    for name, size in sizes.items():
        if not (size > 0.0 and math.isfinite(size)):
            raise ValueError(f"{name} is {size!r} m; give a size greater than 0")


def _need_radius(name: str, radius: float, greatest: float) -> None:
    # A radius typed as half a size may pass it by the last bit.
    if not 0.0 <= radius <= greatest * (1.0 + 1e-12):
        raise ValueError(f"{name} is {radius!r} m; give a radius from 0 to {greatest!r} m")
