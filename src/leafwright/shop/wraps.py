"""A round tube's end laid out flat: how far back it is cut, station by station round the tube.

The line is for a cut held square to the tube's axis at each place, as a grinder or a torch is held
to a line on the outside. Cut so, the wall's inside and outside end at one place along the tube; the
line therefore stands back by the farther of the two, so that the wall touches first where it must
and nothing is ground off afterwards. Where the other edge stands open is told as ``opening``.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.records import Metres, Point2

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
    back. ``step`` places of it lie between two stations. ``back`` is the farthest back, and
    ``opening`` the widest that an edge of the wall stands off [m].
    """

    around: Metres
    line: tuple[Point2, ...]
    step: int
    first: Literal["face", "back"]
    back: Metres
    opening: Metres

    @property
    def stations(self) -> tuple[Point2, ...]:
        """The places that are told in figures, once round and back to the seam."""
        return self.line[:: self.step]


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
