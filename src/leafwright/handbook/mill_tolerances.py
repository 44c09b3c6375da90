"""How far a new tube may be out of true and still be what was ordered.

ASTM A500/A500M for inch tube, read in two tube makers' lists of it; EN 10219-2:2006 for
metric cold-formed tube, read in three. The mill certificate names the standard of the tube at hand.
"""

from __future__ import annotations

from typing import Final

from leafwright.handbook._given import require_positive
from leafwright.records import Metres

_INCH: Final = 0.0254
_FOOT: Final = 0.3048

# ASTM A500, twist of square and rectangular tube: largest side up to [in], twist in 3 ft [in].
_TWIST_A500: Final = ((1.5, 0.050), (2.5, 0.062), (4.0, 0.075), (6.0, 0.087), (8.0, 0.100))
_TWIST_A500_OVER: Final = 0.112


def straightness_a500(length: float) -> Metres:
    """Return how far a tube to ASTM A500 may be out of straight over its length [m].

    ASTM A500, permissible variations, straightness: 1/8 in times the feet of its length over 5.

    length: of the tube [m].
    Raises ValueError for a length at or below 0.
    """
    require_positive("the tube's length", length, "m")
    return 0.125 * _INCH * (length / _FOOT) / 5.0


def twist_a500(side: float, length: float) -> Metres:
    """Return how far a corner of a tube to ASTM A500 may stand up by twist at its far end [m].

    ASTM A500, permissible variations, twist of square and rectangular tube: in each 3 ft 0.050 in
    for a largest side up to 1-1/2 in, 0.062 to 2-1/2, 0.075 to 4, 0.087 to 6, 0.100 to 8, 0.112
    over it.

    side: the larger outside [m].
    length: of the tube [m].
    Raises ValueError for a value at or below 0.
    """
    require_positive("the tube's side", side, "m")
    require_positive("the tube's length", length, "m")
    inches = side / _INCH
    row = next((twist for most, twist in _TWIST_A500 if inches <= most + 1e-9), _TWIST_A500_OVER)
    return row * _INCH * (length / (3.0 * _FOOT))


def straightness_en10219(length: float) -> Metres:
    """Return how far a tube to EN 10219-2 may be out of straight over its length [m].

    EN 10219-2:2006, Table 2, square and rectangular: 0.15 % of the whole length.

    length: of the tube [m].
    Raises ValueError for a length at or below 0. Limits: any one metre of it by 3 mm at most.
    """
    require_positive("the tube's length", length, "m")
    return 0.0015 * length


def twist_en10219(length: float) -> Metres:
    """Return how far a corner of a tube to EN 10219-2 may stand up by twist at its far end [m].

    EN 10219-2:2006, Table 2, square and rectangular: 2 mm and 0.5 mm for each metre.

    length: of the tube [m].
    Raises ValueError for a length at or below 0.
    """
    require_positive("the tube's length", length, "m")
    return 0.002 + 0.0005 * length


def greatest_corner_a500(wall: float) -> Metres:
    """Return the largest outside corner radius of a tube to ASTM A500 [m]: three walls.

    ASTM A500, permissible variations, radius of corners: 3 t.

    wall: t as ordered [m].
    Raises ValueError for a wall at or below 0.
    """
    require_positive("the wall", wall, "m")
    return 3.0 * wall


def greatest_corner_en10219(wall: float) -> Metres:
    """Return the largest outside corner of a tube to EN 10219-2 [m].

    EN 10219-2:2006, Table 3, external corner profile: 2.4 T to 6 mm, 3.0 T to 10 mm, 3.6 T over it.

    wall: T as ordered [m].
    Raises ValueError for a wall at or below 0.
    """
    require_positive("the wall", wall, "m")
    if wall <= 0.006 + 1e-9:
        return 2.4 * wall
    return 3.0 * wall if wall <= 0.010 + 1e-9 else 3.6 * wall
