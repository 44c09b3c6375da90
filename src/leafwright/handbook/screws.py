"""Self-drilling and self-tapping screws that hold a sheet on a thin wall.

AISI S100-16, section J4.4, second-hand: equations read in a published thesis and in an evaluation
report whose tables they give. Wood and plastic held by screws are not here.
"""

from __future__ import annotations

from typing import Final

from leafwright.handbook._given import require_positive

#: Safety factor Omega of screws, allowable strength (J4).
SAFETY: Final = 3.0
#: Least diameter of a screw's head or washer: 5/16 in [m] (J4.4).
LEAST_HEAD: Final = 5.0 / 16.0 * 0.0254
#: Diameters of screws that the section covers: 0.08 to 0.25 in [m] (J4).
SIZES: Final = (0.08 * 0.0254, 0.25 * 0.0254)


def pull_out(diameter: float, wall: float, F_u: float) -> float:
    """Return the nominal strength P_not of a screw against being pulled out of a wall [N].

    AISI S100-16, J4.4.1, Eq. J4.4.1-1: 0.85 t_c d F_u2; allowable strength over 3.0 (`SAFETY`).

    diameter: d, nominal, over the threads [m].
    wall: t_c, of the part that the thread holds in, or how far the screw goes in where less [m].
    F_u: F_u2, tensile strength of that part [Pa].
    Raises ValueError where a value is not above 0. Limits: screws of 0.08 to 0.25 in; a thread
    tapped into a thicker wall is a bolt.
    """
    require_positive("the screw's diameter", diameter, "m")
    require_positive("the wall", wall, "m")
    require_positive("the tensile strength", F_u, "Pa")
    return 0.85 * wall * diameter * F_u


def pull_over(head: float, sheet: float, F_u: float) -> float:
    """Return the nominal strength P_nov of a sheet against being pulled over a screw's head [N].

    AISI S100-16, J4.4.2, Eq. J4.4.2-1: 1.5 t_1 d'_w F_u1; allowable strength over 3.0 (`SAFETY`).

    head: d'_w, diameter of the head or washer, 5/16 in or more, not taken over 3/4 in [m].
    sheet: t_1, thickness of the sheet under the head [m].
    F_u: F_u1, tensile strength of the sheet [Pa].
    Raises ValueError where a value is not above 0 or the head is under 5/16 in.
    """
    require_positive("the sheet", sheet, "m")
    require_positive("the tensile strength", F_u, "Pa")
    if not head >= LEAST_HEAD * (1.0 - 1e-9):
        raise ValueError(f"a head {head!r} m wide is under 5/16 in; put a washer under it")
    return 1.5 * sheet * min(head, 0.75 * 0.0254) * F_u
