"""A round tube's end laid out flat: how far back it is cut, station by station round the tube.

The line is for a cut held square to the tube's axis at each place, as a grinder or a torch is held
to a line on the outside. Cut so, the wall's inside and outside end at one place along the tube; the
line therefore stands back by the farther of the two, so that the wall touches first where it must
and nothing is ground off afterwards. Where the other edge stands open is told as ``opening``.

Coped to another round tube the wall runs out to an edge on face and back: there the line is the
outside edge itself, which touches all round, and how far the inside has to be ground back behind it
is told as ``inside``.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.handbook.copes import saddle_nearest, saddle_reach
from leafwright.records import Metres, Point2, Radians

#: Places round the tube that are told in figures, for who has no printer [-].
STATIONS = 16
#: Between two of them the line of a template is drawn by so many places [-].
FINE = 12


@dataclass(frozen=True, slots=True)
class Wrap:
    """One end's template.

    ``around`` is once round the outside; ``line`` runs round it from the seam on the lower edge as
    drawn: how far round, and how far back from the end's long point [m]. It goes to the right as
    the paper is read with the end up: first over the face where ``first`` is face, else over the
    back. ``step`` places of it lie between two stations. ``back`` is the farthest back,
    ``opening`` the widest that an edge of the wall stands off, and ``inside`` how far that of a
    coped end is ground back behind the line, 0 where it is cut square [m].
    """

    around: Metres
    line: tuple[Point2, ...]
    step: int
    first: Literal["face", "back"]
    back: Metres
    opening: Metres
    inside: Metres = 0.0

    @property
    def stations(self) -> tuple[Point2, ...]:
        """The places that are told in figures, once round and back to the seam."""
        return self.line[:: self.step]


@dataclass(frozen=True, slots=True)
class Coped:
    """What an end is coped to: the radius of that round tube [m], and the angle between both."""

    radius: Metres
    angle: Radians


def back_at(profile: Sequence[Point2], across: Metres) -> Metres:
    """Return how far back a plane-cut end stands, so far up from its lower edge [m]."""
    places = [u for u, _ in profile]
    i = min(max(bisect.bisect_right(places, across), 1), len(profile) - 1)
    (u0, s0), (u1, s1) = profile[i - 1], profile[i]
    return s0 + (s1 - s0) * (across - u0) / (u1 - u0)


def wrap_of(
    profile: Sequence[Point2], side: Literal["start", "end"], outside: Metres, wall: Metres
) -> Wrap:
    """Return the template of an end of round tube that is cut by planes square to the drawing.

    Args:
        profile: corners of the end, from the lower edge as drawn: across, and back from its long
            point [m].
        side: the left end as drawn (start) or the right one.
        outside: diameter of the tube [m].
        wall: its thickness [m].
    """
    radius = outside / 2
    count = STATIONS * FINE
    line = []
    opening = 0.0
    for i in range(count + 1):
        turn = 2 * math.pi * i / count
        # From the lower edge round to the upper one and back: the same over face and back.
        up = -math.cos(turn)
        out = back_at(profile, radius + radius * up)
        inn = back_at(profile, radius + (radius - wall) * up)
        line.append((radius * turn, max(out, inn)))
        opening = max(opening, abs(out - inn))
    # With the end up, a left end's face lies to the right of its lower edge; a right end's back.
    return Wrap(
        around=2 * math.pi * radius,
        line=tuple(line),
        step=FINE,
        first="face" if side == "start" else "back",
        back=max(s for _, s in line),
        opening=opening,
    )


def coped_wrap(
    profile: Sequence[Point2],
    side: Literal["start", "end"],
    outside: Metres,
    wall: Metres,
    coped: Coped,
) -> Wrap:
    """Return the template of an end that is coped to a round tube, by its published saddle.

    Args:
        profile: corners of the end, as of `wrap_of`: which edge stands farther back is read off it.
        side: the left end as drawn (start) or the right one.
        outside: diameter of the tube [m].
        wall: its thickness [m].
        coped: what it lands on.
    """
    radius, R, theta = outside / 2, coped.radius, coped.angle
    nearest = saddle_nearest(radius, R, theta)
    # Round from the side of the sharper angle, which stands farthest back.
    lower_sharp = profile[0][1] >= profile[-1][1]
    count = STATIONS * FINE
    line = []
    inside = 0.0
    for i in range(count + 1):
        turn = 2 * math.pi * i / count
        phi = turn if lower_sharp else math.pi - turn
        out = saddle_reach(radius, R, theta, phi) - nearest
        line.append((radius * turn, out))
        inside = max(inside, saddle_reach(radius - wall, R, theta, phi) - nearest - out)
    return Wrap(
        around=2 * math.pi * radius,
        line=tuple(line),
        step=FINE,
        first="face" if side == "start" else "back",
        back=max(s for _, s in line),
        opening=0.0,
        inside=inside,
    )
