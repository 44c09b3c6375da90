"""Slings: the pull in each leg of a symmetric two-leg sling. Statics.

The load angle factors of ASME B30.9 (1.000, 1.155, 1.414, 2.000 at 90, 60, 45, 30°; second-hand)
are the pull over half the load: 1 / sin of the leg's angle from level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.records import Newtons


@dataclass(frozen=True, slots=True)
class SlingLeg:
    """The pull in one leg, and the part of it that squeezes the load together."""

    tension: Newtons
    inward: Newtons


def two_leg_sling(load: float, angle: float) -> SlingLeg:
    """Return the pull in each leg of a two-leg sling, equally loaded [N].

    Statics: T = W / (2·sin θ), inward part T·cos θ. Both legs alike, the hook over the centre of
    mass. The load angle factors of ASME B30.9 are the same sum.

    load: W, all that hangs [N]; angle: θ of the legs from level [rad].
    Raises ValueError where the legs are level or less.
    """
    if not 0.0 < angle <= math.pi / 2:
        raise ValueError(
            f"a sling's leg at {angle!r} rad from level lifts nothing; "
            "give more than 0 and up to a right angle"
        )
    tension = 0.5 * load / math.sin(angle)
    return SlingLeg(tension, tension * math.cos(angle))
