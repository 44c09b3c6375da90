"""How much metal a weld takes, by geometry: its cross-section as drawn, with no reinforcement.

Handbooks of filler metals print tables made the same way: area times length times the density of
steel. What is deposited is more: convexity, gaps and fit come on top.
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.records import CubicMetres, Kilograms, Metres, SquareMetres

#: Of steel as those tables take it, 0.2836 lb/in3 [kg/m3].
DENSITY: Final = 0.2836 * 0.45359237 / 0.0254**3


def fillet_area(w: float, psi: float = math.pi / 2) -> SquareMetres:
    """Return the cross-section of a fillet with a flat face [m2].

    Geometry: w² sin psi / 2; w²/2 in a right angle.

    w: leg along each of the two faces [m].
    psi: angle between the faces [rad].
    Raises ValueError for a leg at or below 0 or an angle that is not between 0 and π.
    """
    _require(w=w)
    if not 0.0 < psi < math.pi:
        raise ValueError(f"psi = {psi!r}: must be above 0 and under π; give it in radians")
    return 0.5 * w * w * math.sin(psi)


def flare_bevel_area(R: float) -> SquareMetres:
    """Return the cross-section between a round corner and a straight edge, filled flush [m2].

    Geometry: the square on the radius less the quarter circle, R² (1 - π/4).

    R: outer radius of the corner [m].
    Raises ValueError for R at or below 0. Limits: filled down to where the two touch.
    """
    _require(R=R)
    return R * R * (1.0 - math.pi / 4.0)


def square_groove_area(root: float, depth: float) -> SquareMetres:
    """Return the cross-section of a square groove, filled flush [m2].

    Geometry: a rectangle.

    root: how far the parts are apart [m], 0 where they touch.
    depth: how deep it is filled [m].
    Raises ValueError for a depth at or below 0 or a negative root. Limits: what is melted of the
    parts themselves is no deposit.
    """
    _require(depth=depth)
    if root < 0.0:
        raise ValueError(f"root = {root!r}: must not be below 0; give it in metres")
    return root * depth


def plug_volume(d: float, depth: float) -> CubicMetres:
    """Return how much metal fills a plug weld's hole [m3].

    Geometry: the cylinder, pi d²/4 times its depth.

    d: diameter of the hole [m].
    depth: how deep it is filled [m].
    Raises ValueError for a value at or below 0.
    """
    _require(d=d, depth=depth)
    return math.pi / 4.0 * d * d * depth


def deposit_mass(area: float, length: float) -> Kilograms:
    """Return the mass of steel in a weld [kg].

    Area times length times 0.2836 lb/in3, as handbooks of filler metals print it a foot.

    area: cross-section [m2].
    length: of the weld [m].
    Raises ValueError for a negative value. Limits: what is in the joint; not what is bought.
    """
    if area < 0.0 or length < 0.0:
        raise ValueError(f"area = {area!r}, length = {length!r}: must not be below 0")
    return area * length * DENSITY


def square_groove_root(t: float) -> Metres:
    """Return how far apart the parts of a square groove are, welded from one side [m].

    AWS D1.1:2020, Figure 5.2: B-P1c, at least t/2, for which `square_groove_throat` counts t/2.

    t: thickness of the thinner part [m].
    Raises ValueError for t at or below 0. Limits: up to 1/8 in the parts may touch (B-P1a); half
    of t is taken there too, which takes more metal.
    """
    _require(t=t)
    return 0.5 * t


def _require(**named: float) -> None:
    for name, value in named.items():
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in metres")
