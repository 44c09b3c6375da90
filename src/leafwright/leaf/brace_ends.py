"""What a brace's ends stand on, and how its slope and length follow from that.

An end is wedged into the corner of its panel, or stands on one face alone, the stile's or the
rail's, so far from the other that a weld goes between. All here is by the panel's clear width and
height; the slope is the angle of the brace over the rails.

Wedged, the centre line runs through the corner itself. On one face alone the nearer edge of the
bar stays ``clear`` of the other face, so the centre line starts ``clear`` and half of the bar's
cut from it (both where it is cut, the root gap short of its own face), and the slope has to be
found with that in it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.job.cut_wishes import BraceEnd
from leafwright.leaf.cut import Plane
from leafwright.records import Held, Metres, Point2, Radians


@dataclass(frozen=True, slots=True)
class End:
    """How one end of a brace is wished.

    ``clear`` is how far an end on one face keeps from the other one, ``bead`` how far each face
    of a wedged end stops short of the corner, so that the bead there has room [m]; ``gap`` is the
    root gap to whatever it stands on [m].
    """

    on: BraceEnd
    clear: Quantity
    bead: Quantity
    gap: Quantity


@dataclass(frozen=True, slots=True)
class Size:
    """An end as numbers alone, to work with: its kind and ``clear``, ``bead`` and ``gap`` [m]."""

    on: BraceEnd
    clear: Metres
    bead: Metres
    gap: Metres

    def offset(self, bar: Metres, slope: Radians) -> Point2:
        """Return how far from the corner the centre line meets the faces: along rail, up stile."""
        c, s = math.cos(slope), math.sin(slope)
        if self.on == "stile":
            return 0.0, self.kept + (bar / 2 - self.gap * s) / c
        if self.on == "rail":
            return self.kept + (bar / 2 - self.gap * c) / s, 0.0
        return 0.0, 0.0

    @property
    def kept(self) -> Metres:
        """Return how far the steel of an end on one face is from the other face [m]."""
        return max(self.clear, self.gap)

    def reach(self, bar: Metres, slope: Radians) -> Metres:
        """Return how far the long point lies beyond where the centre line meets the face [m].

        Less than nothing where a root gap or the room for a bead keeps it back.
        """
        c, s = math.cos(slope), math.sin(slope)
        if self.on == "stile":
            return (bar * s / 2 - self.gap) / c
        if self.on == "rail":
            return (bar * c / 2 - self.gap) / s
        return -(max(self.bead, self.gap) * min(c, s) + self.gap * max(c, s))


def size_of(end: End) -> Size:
    """Return an end as numbers."""
    return Size(end.on, end.clear.value, end.bead.value, end.gap.value)


def slope_of(width: Metres, height: Metres, bar: Metres, ends: Sequence[Size]) -> Radians:
    """Return the slope of a brace over the rails [rad].

    With A the clear width less what ends on rails keep clear and the root gaps of those on
    stiles, and B the clear height the other way round, the centre line has to satisfy
    A sin − B cos = (rail ends − stile ends) bar/2, whose root is closed.

    Args:
        width: clear width of the panel [m].
        height: clear height of the panel [m].
        bar: width of the brace [m].
        ends: both of them.

    Raises:
        ValueError: the ends leave no room for a bar between them.
    """
    across = width - sum({"rail": e.kept, "stile": e.gap, "corner": 0.0}[e.on] for e in ends)
    up = height - sum({"rail": e.gap, "stile": e.kept, "corner": 0.0}[e.on] for e in ends)
    more = sum({"rail": 1, "stile": -1, "corner": 0}[e.on] for e in ends)
    size = math.hypot(across, up)
    if across <= 0.0 or up <= 0.0 or abs(more) * bar >= 2 * size:
        raise ValueError("its ends would stand so far from the corners that nothing is left")
    return math.atan2(up, across) + math.asin(more * bar / (2 * size))


def bar_length(width: Metres, height: Metres, bar: Metres, lower: Size, upper: Size) -> Metres:
    """Return a brace's length, long point to long point [m]; arguments as in `slope_of`."""
    slope = slope_of(width, height, bar, (lower, upper))
    ends = [end.offset(bar, slope) for end in (lower, upper)]
    line = math.hypot(width - sum(e[0] for e in ends), height - sum(e[1] for e in ends))
    return line + lower.reach(bar, slope) + upper.reach(bar, slope)


def half_length(
    width: Metres,
    height: Metres,
    bar: Metres,
    lower: Size,
    upper: Size,
    *,
    of_upper: bool,
    coped: bool = False,
) -> Metres:
    """Return the length of half a crossed brace, long point to long point [m].

    From its end to the middle of the crossing, less half of what the through bar takes along it
    and the root gap beside that, plus what the slanting cut reaches beyond the centre line. Coped
    to a round bar of its own size its long points, on face and back, stop the root gap short of
    that bar's middle. Both bars have the same ends, so that they cross in the middle of the panel's
    width. Arguments as in `slope_of`.
    """
    slope = slope_of(width, height, bar, (lower, upper))
    own = upper if of_upper else lower
    line = (width / 2 - own.offset(bar, slope)[0]) / math.cos(slope)
    across = abs(math.sin(2 * slope))
    if coped:
        return line + own.reach(bar, slope) - own.gap / across
    slant = bar / 2 * abs(math.cos(2 * slope)) / across
    return line + own.reach(bar, slope) - (bar / 2 + own.gap) / across + slant


def planes_of(
    end: Size, corner: Point2, *, far: bool, top: bool
) -> tuple[tuple[Plane, ...], tuple[float, float]]:
    """Return the cuts of an end in a corner, and the way out of the panel there, per axis.

    Stile's face first, then the rail's, then the cut that clears the bead.
    """
    x, y = (1.0 if far else -1.0), (1.0 if top else -1.0)
    stile = Plane((x, 0.0), x * corner[0] - end.gap)
    rail = Plane((0.0, y), y * corner[1] - end.gap)
    if end.on == "stile":
        return (stile,), (x, y)
    if end.on == "rail":
        return (rail,), (x, y)
    if end.bead <= end.gap:
        return (stile, rail), (x, y)
    root = math.sqrt(0.5)
    at = root * (x * corner[0] + y * corner[1] - end.bead - end.gap)
    return (stile, rail, Plane((root * x, root * y), at)), (x, y)


def end_held(end: Size, bar: Metres, width: Metres, height: Metres, slope: Radians) -> Held | None:
    """Return why an end cannot stand as wished, or None where it can.

    Args:
        end: as numbers.
        bar: width of the brace [m].
        width: clear width of the panel [m].
        height: clear height of the panel [m].
        slope: of the brace [rad].
    """
    c, s = math.cos(slope), math.sin(slope)
    if end.on == "corner":
        # What is left of the shorter of its two landings, behind the root gap.
        left = bar / 2 - max(end.bead, end.gap) * max(c, s) + end.gap * min(c, s)
        if left <= 0.0:
            what = "room for the corner's bead" if end.bead > end.gap else "root gap"
            return Held(
                f"the {what} takes away one whole face of a brace's wedged end",
                (f"less {what}, a wider brace, or its end on the stile or rail alone",),
            )
        return None
    face, room = (bar / c, height) if end.on == "stile" else (bar / s, width)
    if not (c > 0.0 and s > 0.0) or end.kept + face > room:
        return Held(
            f"a brace's end has no room on the {end.on}",
            ("a larger panel, a smaller brace, or its end wedged into the corner",),
        )
    return None
