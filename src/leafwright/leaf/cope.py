"""The saddle of a round bar's end: the round bar that it lands on, and what that takes away.

Both axes lie in the leaf's plane. Along a fibre so far (z) from that plane the end stands back from
the other bar's axis by √(R² − z²), so that a saddle is a plane cut through that axis and set back
by as much, fibre by fibre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.handbook.copes import common_volume
from leafwright.records import CubicMetres, Metres, Number, Point2

#: Two radii nearer than this are one [m].
ALIKE = 1e-9
#: Places across an end by which a curved one is drawn [-].
PLACES = 32


@dataclass(frozen=True, slots=True)
class Saddle:
    """A cut to a round bar: a fibre is kept where ``normal · p + √(radius² − z²) <= offset``.

    ``normal`` points out of the kept side, square to the axis of the bar that is landed on [-];
    ``offset`` is where that axis lies, less the root gap [m]; ``radius`` is of that bar and
    ``bore`` the inside radius of the one that is cut, 0 for a solid one [m].
    """

    normal: tuple[Number, Number]
    offset: Metres
    radius: Metres
    bore: Metres

    def mirrored(self, width: Metres) -> Saddle:
        """Return it seen from the other side of a leaf so wide."""
        n = self.normal
        return Saddle((-n[0], n[1]), self.offset - n[0] * width, self.radius, self.bore)

    def depth(self, half: Metres, u: Metres) -> Metres:
        """Return how far off the axis the outside of a bar ends, least over both sides of it [m].

        Args:
            half: outside radius of the bar that is cut [m].
            u: across that bar from its centre line [m].
        """
        return math.sqrt(max(self.radius**2 - half**2, 0.0) + u * u)

    def places(self, half: Metres, lean: Number) -> list[Metres]:
        """Return places across a bar by which its end is drawn, its long point among them [m].

        Of equal bars the outside edge lies in two planes, and its elevation is two straight lines.

        Args:
            half: outside radius of the bar that is cut [m].
            lean: what the plane through the axis gains along the bar for each u, times the sine
                of the angle between the two [-].
        """
        rest = math.sqrt(max(self.radius**2 - half**2, 0.0))
        if rest < ALIKE:
            return [-half, 0.0, half]
        # u / √(rest² + u²) = lean at the long point, if it lies on the bar.
        longest = max(-half, min(half, rest * lean / math.sqrt(1.0 - lean * lean)))
        even = (half * (2.0 * i / PLACES - 1.0) for i in range(PLACES + 1))
        return sorted({*even, longest})

    def taken(self, half: Metres) -> CubicMetres:
        """Return ∫ √(radius² − z²) dA over the section of the bar that is cut [m3]."""
        whole = common_volume(half, self.radius)
        return (whole - (common_volume(self.bore, self.radius) if self.bore else 0.0)) / 2


def axis_point(saddle: Saddle, foot: Point2, along: Point2) -> Metres:
    """Return how far along a bar its centre line meets the axis landed on, less the gap [m]."""
    n = saddle.normal
    into = n[0] * along[0] + n[1] * along[1]
    return (saddle.offset - n[0] * foot[0] - n[1] * foot[1]) / into
