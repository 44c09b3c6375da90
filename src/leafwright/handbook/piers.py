"""A post that stands in the ground: what bends it, and how deep a round footing holds it.

International Building Code, sections 1806 and 1807.3 (clause numbers of the 2009 to 2021
editions). The clause's words and its symbols were read in a public transcription; equation 18-1
itself, which that leaves out as a picture, in two public calculation sheets that agree. It tells
how deep a short stiff pole must stand for the ground beside it, and nothing else: not how far it
leans, not the frost, and not whether the ground is what it was taken to be.
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.handbook.beams import Cantilever
from leafwright.records import Metres, NewtonMetres, Newtons, Pascals

_FOOT: Final = 0.3048
_PSF: Final = 4.4482216152605 / _FOOT**2
#: Standard gravity [m/s2]: ISO 80000-3, 9.806 65 exactly.
_GRAVITY: Final = 9.80665

#: What natural ground may be taken to bear sideways for each foot of depth, softest first [Pa]:
#: IBC Table 1806.2 (2012 edition read), 100, 150 and 200 psf. Not for fill, mud or peat.
PRESUMPTIVE: Final = (
    ("clay or silt", 100.0 * _PSF),
    ("sand", 150.0 * _PSF),
    ("gravel", 200.0 * _PSF),
)
#: The depth that `PRESUMPTIVE` is for each of [m].
PRESUMPTIVE_AT: Final = _FOOT

# Eq. 18-1: depth counts for the pressure down to here only (definition of d).
_DEEPEST: Final = 12.0 * _FOOT


def cantilever_end_moment(moment: float, length: float, stiffness: float) -> Cantilever:
    """Return the moment, deflection and slope of a cantilever with a moment at its tip.

    Roark's Formulas, Table 8.1 case 3a (case number from memory): M L²/(2 EI) and M L/(EI).

    moment: at the tip, and so all along [N m]; length: of the beam [m]; stiffness: EI [N m2].
    """
    return Cantilever(
        moment=moment,
        deflection=moment * length**2 / (2.0 * stiffness),
        slope=moment * length / stiffness,
    )


def lateral_bearing(pressure: float, at: float, depth: float) -> Pascals:
    """Return the allowable lateral pressure S_1 that a footing's depth is worked out with [Pa].

    IBC 1807.3.2.1 with 1806.2: that at a third of the depth, pressure/at depth/3, depth counted
    down to 12 ft only. Others read the 12 ft as the limit of a third of the depth, which allows
    more.

    pressure: allowable lateral pressure for each so much of depth, as 150 psf [Pa].
    at: the depth that it is for each of, as 1 ft [m].
    depth: of the footing in the ground [m].
    Raises ValueError for a value at or below 0. Limits: natural ground; neither doubled for a post
    that may move half an inch at the ground (1806.3.4) nor raised for wind.
    """
    require_positive("the pressure", pressure, "Pa")
    require_positive("the depth that it is for", at, "m")
    require_positive("the depth", depth, "m")
    return pressure / at * min(depth, _DEEPEST) / 3.0


def embedment(P: float, M_g: float, S_1: float, b: float) -> Metres:
    """Return how deep a post or its round footing must stand in free ground [m].

    IBC 1807.3.2.1 (nonconstrained), Eq. 18-1: d = 0.5 A (1 + √(1 + 4.36 h/A)) with
    A = 2.34 P/(S_1 b) and h = M_g/P. Written here as 0.5 (A + √(A² + 4.36 A h)) with
    A h = 2.34 M_g/(S_1 b), which is the same and holds where P is none: a leaf at rest turns its
    post over without pushing it.

    P: lateral force on the post, loads as they are (allowable stress) [N].
    M_g: moment at the ground, P times its height h over the ground [N m].
    S_1: allowable lateral pressure at a third of the depth, see `lateral_bearing` [Pa].
    b: diameter of the round footing, or the diagonal of a square one [m].
    Raises ValueError for a negative force or moment, or S_1 or b at or below 0. Limits: nothing
    holds it sideways at the ground or above; frost and scour are not in it. A licensed engineer
    answers for a footing.
    """
    require_not_negative("the force", P, "N")
    require_not_negative("the moment", M_g, "N m")
    require_positive("the pressure", S_1, "Pa")
    require_positive("the footing's width", b, "m")
    A = 2.34 * P / (S_1 * b)
    A_h = 2.34 * M_g / (S_1 * b)
    return 0.5 * (A + math.sqrt(A**2 + 4.36 * A_h))


def embedment_in(P: float, M_g: float, pressure: float, at: float, b: float) -> Metres:
    """Return the depth at which `embedment` asks for no more than there is [m].

    IBC 1807.3.2.1, Eq. 18-1, with S_1 by `lateral_bearing` of the depth found: solved by halving,
    since more depth never asks for more. 0 where neither force nor moment is on it.

    P: lateral force on the post, loads as they are (allowable stress) [N].
    M_g: moment at the ground [N m].
    pressure: allowable lateral pressure for each so much of depth, as 150 psf [Pa].
    at: the depth that it is for each of, as 1 ft [m].
    b: diameter of the round footing, or the diagonal of a square one [m].
    Raises ValueError as `embedment`. Limits: as `embedment`.
    """
    require_not_negative("the force", P, "N")
    require_not_negative("the moment", M_g, "N m")
    if P == 0.0 and M_g == 0.0:
        return 0.0
    shallow, deep = 0.0, 1.0
    while embedment(P, M_g, lateral_bearing(pressure, at, deep), b) > deep:
        shallow, deep = deep, 2.0 * deep
    for _ in range(60):
        middle = 0.5 * (shallow + deep)
        if embedment(P, M_g, lateral_bearing(pressure, at, middle), b) > middle:
            shallow = middle
        else:
            deep = middle
    return deep


def weight_moment(weight: float, b: float) -> NewtonMetres:
    """Return the moment at which a round footing tips about its edge, its weight alone on it [N m].

    Statics: W b/2.

    weight: of the footing and all that stands on it [N].
    b: diameter of the footing [m].
    Raises ValueError for a negative weight or b at or below 0. Limits: hard ground under the
    edge, and nothing beside it; a footing in the ground is held by the ground first.
    """
    require_not_negative("the weight", weight, "N")
    require_positive("the footing's width", b, "m")
    return 0.5 * weight * b


def cylinder_weight(b: float, depth: float, density: float) -> Newtons:
    """Return the weight of a round footing [N].

    Geometry: π b² depth/4 times density and standard gravity.

    b: diameter [m].
    depth: from top to bottom [m].
    density: 150 lb a cubic foot for plain concrete, common practice, no source [kg/m3].
    Raises ValueError for a value at or below 0.
    """
    require_positive("the footing's width", b, "m")
    require_positive("the depth", depth, "m")
    require_positive("the density", density, "kg/m3")
    return math.pi / 4.0 * b**2 * depth * density * _GRAVITY
