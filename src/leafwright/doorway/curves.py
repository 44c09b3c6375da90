"""Gap against angle: how near a turning leaf comes to something, as a curve and at its least."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.doorway.outline import LeafPlan, Way, pieces
from leafwright.doorway.turning import Shape, gaps, nearest, shape
from leafwright.records import Metres, Point2, Radians, read_only


@dataclass(frozen=True, slots=True)
class GapCurve:
    """The gap from a turning leaf to something [m], at each angle that it is open [rad].

    ``gaps`` are at ``angles``, negative where the two would overlap, for a picture. ``least`` and
    ``least_at`` are exact, from shut to ``upto``, the angle wished. ``contact`` is the first
    angle at which they touch, over all ``angles``. ``sd`` is the gap's standard deviation.
    """

    key: str
    name: str
    way: Way
    angles: np.ndarray
    gaps: np.ndarray
    upto: Radians
    least: Metres
    least_at: Radians
    contact: Radians | None
    sd: Metres


def turning(plan: LeafPlan, way: Way) -> Shape:
    """Return the leaf about its axis as it turns one way, so that opening is always positive."""
    own = pieces(plan)
    if way == "away":
        own = [[p.conjugate() for p in piece] for piece in own]
    return shape(own)


def seen(plan: LeafPlan, way: Way, at: Point2) -> complex:
    """Return a point in plan (x, z) [m] as the leaf sees it that opens one way."""
    z = at[1] - plan.axis_z
    return complex(plan.sign * (at[0] - plan.axis_x), z if way == "toward" else -z)


def standing(plan: LeafPlan, way: Way, outlines: Sequence[Sequence[Point2]]) -> Shape:
    """Return things in plan (x, z) [m] as the leaf sees them that opens one way."""
    return shape([[seen(plan, way, at) for at in one] for one in outlines])


def gap_curve(
    key: str,
    name: str,
    plan: LeafPlan,
    way: Way,
    outlines: Sequence[Sequence[Point2]],
    angles: np.ndarray,
    *,
    upto: float,
    sd: float = 0.0,
) -> GapCurve:
    """Return the gap between a turning leaf and what stands still [m].

    Args:
        key: of the curve.
        name: what the gap is, in the maker's words.
        plan: the leaf.
        way: which way it opens.
        outlines: convex pieces of what stands, each a tuple of (x, z) [m].
        angles: at which the curve is drawn, rising from 0 [rad].
        upto: how far the leaf is to open [rad].
        sd: standard deviation of the gap [m].
    """
    return curve_of(
        key, name, way, turning(plan, way), standing(plan, way, outlines), angles, upto=upto, sd=sd
    )


def curve_of(
    key: str,
    name: str,
    way: Way,
    first: Shape,
    other: Shape,
    angles: np.ndarray,
    *,
    upto: float,
    sd: float,
    mate: complex | None = None,
) -> GapCurve:
    """Return the curve of two shapes (see `turning.gaps`), as `gap_curve` does for a leaf."""
    found = nearest(first, other, upto, to=float(angles[-1]), mate=mate)
    return GapCurve(
        key=key,
        name=name,
        way=way,
        angles=angles,
        gaps=read_only(gaps(first, other, angles, mate=mate, known_apart=found.contact is None)),
        upto=upto,
        least=found.gap,
        least_at=found.angle,
        contact=found.contact,
        sd=sd,
    )
