"""How high a leaf reaches as it is turned up on its foot: closed forms for a plain rectangle.

Geometry. For a leaf with pins and cladding, under a real head, see `tilt_in`.
"""

from __future__ import annotations

import math


def overshoot(height: float, thickness: float) -> float:
    """Return how far a corner rises over the upright height as a leaf turns on its edge [m].

    √(H² + t²) − H, about t²/2H.
    """
    return math.hypot(height, thickness) - height


def kicked_out_height(height: float, thickness: float, kick: float) -> float:
    """Return the height of the high corner of a leaf whose foot is kicked out [m].

    H·cos φ + t·sin φ with sin φ = kick / H. Raises ValueError for a kick beyond the height.
    """
    if not 0.0 <= kick <= height:
        raise ValueError(
            f"a kick-out of {kick!r} m does not fit a leaf {height!r} m high; "
            "give one between nothing and the height"
        )
    sine = kick / height
    return height * math.sqrt(1.0 - sine * sine) + thickness * sine
