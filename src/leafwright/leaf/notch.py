"""The notch of a half-lapped bar: where it lies, what it takes away, what is left to be seen.

Both bars of the crossing run their full length. One is cut to half its depth from the back, the
other from the face: through one wall and both side walls of a tube down to the middle, over the
width of the other bar and a root gap on either side of it. The two notches close each other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from leafwright.handbook.catalogue import CatalogueSection
from leafwright.handbook.outlines import moments
from leafwright.leaf.cut import CutBar, Plane
from leafwright.records import Kilograms, Metres, Point2, Radians


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch across a bar, to half its depth.

    ``sides`` are its two cuts, the lower first, their normals out of the notch; ``face`` is the
    side of the leaf that it is cut from; ``depth`` [m]; ``at`` is its middle on the bar's centre
    line, ``along`` how far that is from the bar's start, long point [m], and ``length`` its
    length along the bar [m]; ``slant`` is the angle of its cuts from square [rad]; ``corners``
    is what it takes in elevation.
    """

    sides: tuple[Plane, Plane]
    face: Literal["face", "back"]
    depth: Metres
    at: Point2
    along: Metres
    length: Metres
    slant: Radians
    corners: tuple[Point2, ...]


def notch_of(
    bar: CutBar,
    section: CatalogueSection,
    foot: Point2,
    direction: Point2,
    other: Point2,
    at: Point2,
    *,
    face: Literal["face", "back"],
    gap: Metres,
) -> Notch:
    """Return the notch of a bar for another of the same section that crosses it.

    Args:
        bar: the bar, both ends cut.
        section: of both bars.
        foot: a point of its centre line [m].
        direction: along it, unit vector [-].
        other: along the bar that crosses, unit vector [-].
        at: where the centre lines cross [m].
        face: the side of the leaf that the notch is cut from.
        gap: root gap on either side of the other bar [m].
    """
    (c, s), (oc, os) = direction, other
    # Across the other bar, toward this one's end.
    normal = (-os, oc) if -os * c + oc * s > 0.0 else (os, -oc)
    middle = normal[0] * at[0] + normal[1] * at[1]
    reach = section.width / 2 + gap
    into = normal[0] * c + normal[1] * s
    lower = Plane((-normal[0], -normal[1]), -(middle - reach))
    upper = Plane(normal, middle + reach)
    on = (at[0] - foot[0]) * c + (at[1] - foot[1]) * s
    starts = min((x - foot[0]) * c + (y - foot[1]) * s for x, y in bar.outline)
    sideways = -normal[0] * s + normal[1] * c

    def corner(sign: float, u: float) -> Point2:
        along = (sign * reach - u * sideways) / into
        return (at[0] + along * c - u * s, at[1] + along * s + u * c)

    half = section.width / 2
    corners = (corner(-1, -half), corner(1, -half), corner(1, half), corner(-1, half))
    return Notch(
        (lower, upper),
        face,
        section.height / 2,
        at,
        on - starts,
        2 * reach / into,
        math.acos(min(1.0, into)),
        corners,
    )


def notched(bar: CutBar, section: CatalogueSection, notch: Notch) -> tuple[CutBar, Kilograms]:
    """Return a bar without the metal of its notch, and its mass.

    The notch's two cuts are parallel and the section is alike on both sides of its middle, so
    that it takes half of the section over the notch's length, about the notch's middle.
    """
    taken = moments(section.mass_outline()).area / 2 * notch.length
    left = bar.volume - taken
    x, y = ((bar.volume * bar.centroid[i] - taken * notch.at[i]) / left for i in (0, 1))
    return replace(bar, volume=left, centroid=(x, y)), left * section.density


def seen_outlines(
    outline: tuple[Point2, ...], direction: Point2, notch: Notch | None
) -> tuple[tuple[Point2, ...], ...]:
    """Return what of a bar's elevation is seen from the face: two parts where it is notched there.

    Args:
        outline: of the bar, counter-clockwise or not [m].
        direction: along it [-].
        notch: of it, None for none.
    """
    if notch is None or notch.face == "back":
        return (outline,)
    c, s = direction
    on = notch.at[0] * c + notch.at[1] * s
    before = [p for p in outline if p[0] * c + p[1] * s < on]
    after = [p for p in outline if p[0] * c + p[1] * s >= on]
    a, b, d, e = notch.corners
    # An outline begins with the cut of the bar's end, from its right edge to its left.
    return ((*before, a, e), (*after, d, b))
