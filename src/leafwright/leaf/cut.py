"""A bar cut by planes at both ends: its long and short points, outline, volume and centroid.

A bar lies along a straight centre line in the plane of the leaf. Each end is cut by one plane or
more, all square to the leaf's plane; the bar keeps the side that every plane allows, so an end
with two planes is a wedge. Along a fibre at distance u from the centre line (to the left of the
direction) the bar runs between two piecewise linear functions of u, and its volume is their
difference integrated over the true section, corner radii included. An end of a round bar may be
coped to another instead (`leafwright.leaf.cope`).
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leafwright.handbook.outlines import Moments, Outline, moments
from leafwright.leaf.cope import Saddle
from leafwright.records import CubicMetres, Metres, Number, Point2, Radians


@dataclass(frozen=True, slots=True)
class Plane:
    """A cut, square to the leaf's plane: the bar keeps ``normal · p <= offset``.

    ``normal`` is a unit vector [-] that points out of the kept side; ``offset`` is in [m].
    """

    normal: tuple[Number, Number]
    offset: Metres


@dataclass(frozen=True, slots=True)
class EndCut:
    """How one end is cut, as the saw and the rule read it.

    ``angles`` are from square, one a plane [rad]. ``profile`` runs across the bar from its right
    edge to its left (looking from start to end): distance across from the right edge, and
    distance back from the long point [m]. Of a coped end ``saddle`` is what it lands on,
    ``planes`` the one through its axis, less the root gap, and ``profile`` the outside edge.
    """

    planes: tuple[Plane, ...]
    angles: tuple[Radians, ...]
    profile: tuple[Point2, ...]
    saddle: Saddle | None = None

    @property
    def made_by(self) -> tuple[Plane, ...] | Saddle:
        """Return what cuts it: its planes, or the saddle of a coped end."""
        return self.planes if self.saddle is None else self.saddle


@dataclass(frozen=True, slots=True)
class CutBar:
    """A bar with both ends cut.

    ``long`` is long point to long point and ``short`` short point to short point, both along the
    bar [m]; ``outline`` is its elevation, counter-clockwise for a bar that is not mirrored.
    """

    long: Metres
    short: Metres
    volume: CubicMetres
    centroid: Point2
    outline: tuple[Point2, ...]
    start: EndCut
    end: EndCut


@functools.lru_cache(maxsize=4096)
def _moments(outline: Outline, u_from: float, u_to: float) -> Moments:
    return moments(outline, u_from=u_from, u_to=u_to)


@dataclass(frozen=True, slots=True)
class _Line:
    """How far along the bar a plane lies, as a line over u: ``at_centre + slope × u``."""

    at_centre: float
    slope: float

    def at(self, u: float) -> float:
        return self.at_centre + self.slope * u


def _lines(
    planes: Sequence[Plane], foot: Point2, along: Point2, across: Point2, *, end: bool
) -> list[_Line]:
    lines = []
    for plane in planes:
        n, c = plane.normal, plane.offset
        into = n[0] * along[0] + n[1] * along[1]
        if (into <= 1e-9) if end else (into >= -1e-9):
            raise ValueError(
                f"the cut with normal ({n[0]:.6f}, {n[1]:.6f}) does not cross the bar's "
                f"{'end' if end else 'start'}; its normal must point out of the bar"
            )
        at = (c - n[0] * foot[0] - n[1] * foot[1]) / into
        lines.append(_Line(at, -(n[0] * across[0] + n[1] * across[1]) / into))
    return lines


def _breaks(lines: Sequence[_Line], half: float, *, end: bool) -> list[float]:
    """Return the u at which another plane takes over, both edges included."""
    found = {-half, half}
    for i, a in enumerate(lines):
        for b in lines[i + 1 :]:
            if abs(a.slope - b.slope) < 1e-12:
                continue
            u = (b.at_centre - a.at_centre) / (a.slope - b.slope)
            governs = min if end else max
            level = governs(line.at(u) for line in lines)
            if -half < u < half and abs(a.at(u) - level) < 1e-9:
                found.add(u)
    return sorted(found)


def _end_cut(
    cut: Sequence[Plane] | Saddle,
    reaches: Callable[[float], float],
    breaks: Sequence[float],
    along: Point2,
    half: float,
    *,
    end: bool,
) -> EndCut:
    reach = [(u, reaches(u)) for u in breaks]
    planes = _planes(cut)
    long = (max if end else min)(s for _, s in reach)
    angles = tuple(
        math.acos(min(1.0, abs(p.normal[0] * along[0] + p.normal[1] * along[1]))) for p in planes
    )
    profile = tuple((u + half, abs(long - s)) for u, s in reach)
    return EndCut(planes, angles, profile, cut if isinstance(cut, Saddle) else None)


def _planes(cut: Sequence[Plane] | Saddle) -> tuple[Plane, ...]:
    """Return the planes of an end; of a coped one that through the axis it lands on."""
    return (Plane(cut.normal, cut.offset),) if isinstance(cut, Saddle) else tuple(cut)


def _sine(saddle: Saddle, along: Point2) -> float:
    """Return the sine of the angle between a bar and the one that its end is coped to."""
    return abs(saddle.normal[0] * along[0] + saddle.normal[1] * along[1])


def cut_bar(
    section: Outline,
    width: float,
    foot: Point2,
    direction: Point2,
    *,
    start: Sequence[Plane] | Saddle,
    end: Sequence[Plane] | Saddle,
) -> CutBar:
    """Return a bar of a section, cut at both ends.

    Args:
        section: outline of the material, u across the bar in the leaf's plane.
        width: outside size of the section along u [m].
        foot: a point on the centre line [m].
        direction: along the bar from start to end; need not be a unit vector [-].
        start: planes of the start, normals pointing back out of the bar; or the saddle there, of
            a round bar whose outside diameter is ``width``.
        end: those of the end, normals pointing forward out of the bar.

    Raises:
        ValueError: no plane at an end, a plane that does not cross the bar, or nothing left.
    """
    if not start or not end:
        raise ValueError("a bar needs at least one cut at each end")
    size = math.hypot(*direction)
    along = (direction[0] / size, direction[1] / size)
    across = (-along[1], along[0])
    half = width / 2
    first = _lines(_planes(start), foot, along, across, end=False)
    last = _lines(_planes(end), foot, along, across, end=True)
    flat = sorted({*_breaks(first, half, end=False), *_breaks(last, half, end=True)})
    first_breaks = _places(start, first, along, half, end=False)
    last_breaks = _places(end, last, along, half, end=True)

    def from_plane(u: float) -> float:
        return max(line.at(u) for line in first)

    def to_plane(u: float) -> float:
        return min(line.at(u) for line in last)

    def begins(u: float) -> float:
        if isinstance(start, Saddle):
            return from_plane(u) + start.depth(half, u) / _sine(start, along)
        return from_plane(u)

    def ends(u: float) -> float:
        if isinstance(end, Saddle):
            return to_plane(u) - end.depth(half, u) / _sine(end, along)
        return to_plane(u)

    edges = sorted({*first_breaks, *last_breaks})
    if any(ends(u) < begins(u) - 1e-12 for u in edges):
        raise ValueError("the cuts of the two ends cross: nothing of the bar would be left")
    volume, first_moment, sideways = 0.0, 0.0, 0.0
    for u_from, u_to in itertools.pairwise(flat):
        piece = _moments(section, u_from, u_to)
        lo, hi = _between(from_plane, u_from, u_to), _between(to_plane, u_from, u_to)
        volume += (hi[0] - lo[0]) * piece.area + (hi[1] - lo[1]) * piece.u
        sideways += (hi[0] - lo[0]) * piece.u + (hi[1] - lo[1]) * piece.uu
        for sign, (a, b) in ((0.5, hi), (-0.5, lo)):
            first_moment += sign * (a * a * piece.area + 2 * a * b * piece.u + b * b * piece.uu)
    for cut, lines, sign in ((start, first, 1.0), (end, last, -1.0)):
        if isinstance(cut, Saddle):
            less, moved = _coped(cut, lines[0].at_centre, section, half, along, sign)
            volume, first_moment = volume - less, first_moment - moved
    s, u = first_moment / volume, sideways / volume
    outline = [_point(foot, along, across, ends(u_), u_) for u_ in last_breaks]
    outline += [_point(foot, along, across, begins(u_), u_) for u_ in reversed(first_breaks)]
    return CutBar(
        long=max(ends(x) for x in last_breaks) - min(begins(x) for x in first_breaks),
        short=min(ends(x) for x in last_breaks) - max(begins(x) for x in first_breaks),
        volume=volume,
        centroid=_point(foot, along, across, s, u),
        outline=tuple(outline),
        start=_end_cut(start, begins, first_breaks, along, half, end=False),
        end=_end_cut(end, ends, last_breaks, along, half, end=True),
    )


def _places(
    cut: Sequence[Plane] | Saddle,
    lines: Sequence[_Line],
    along: Point2,
    half: float,
    *,
    end: bool,
) -> list[float]:
    """Return the u of the corners of an end, both edges included; of a curved one many."""
    if not isinstance(cut, Saddle):
        return _breaks(lines, half, end=end)
    lean = lines[0].slope * _sine(cut, along)
    return cut.places(half, lean if end else -lean)


def _coped(
    saddle: Saddle, at: float, section: Outline, half: float, along: Point2, sign: float
) -> tuple[float, float]:
    """Return what a saddle takes beyond the plane through its axis: volume, and moment along.

    Along each fibre √(R² − z²)/sin θ, from ``at`` + slope × u back into the bar. A round section
    is alike on both sides of its middle, so that what is odd in u drops out.

    Args:
        saddle: of the end.
        at: where its plane meets the centre line [m].
        section: of the bar.
        half: outside radius of it [m].
        along: unit vector along it [-].
        sign: 1 at the start, where what is taken lies further along; -1 at the end.
    """
    sine = _sine(saddle, along)
    whole = _moments(section, -half, half)
    less = saddle.taken(half) / sine
    squared = (saddle.radius**2 * whole.area - whole.vv) / sine**2
    return less, at * less + sign * squared / 2


def _between(function: Callable[[float], float], u_from: float, u_to: float) -> tuple[float, float]:
    """Return the straight line (value at u = 0, slope) through a function at two places."""
    a, b = function(u_from), function(u_to)
    slope = (b - a) / (u_to - u_from)
    return a - slope * u_from, slope


def _point(foot: Point2, along: Point2, across: Point2, s: float, u: float) -> Point2:
    return (foot[0] + s * along[0] + u * across[0], foot[1] + s * along[1] + u * across[1])
