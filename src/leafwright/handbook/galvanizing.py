"""Vents and drains for tube that is hot-dip galvanized: least hole sizes.

Two rules that are published for galvanizers' customers. The galvanizer who dips the work decides;
a closed tube without openings bursts in the bath.
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.handbook._given import require_positive
from leafwright.records import Metres

_MM: Final = 1e-3
_INCH: Final = 0.0254

#: Inside sizes [mm]: round or square up to; oblong up to, both ways; least diameter of 1, 2 or 4
#: holes at each end [mm], 0 where so many are not given. A galvanizer's sheet after EN ISO
#: 14713-2, read: https://mostostal.siedlce.pl (size of holes).
_ROWS: Final = (
    (15, 20, 10, 8, 0, 0),
    (20, 30, 15, 10, 0, 0),
    (30, 40, 20, 12, 10, 0),
    (40, 50, 30, 14, 12, 0),
    (50, 60, 40, 16, 12, 10),
    (60, 80, 40, 20, 12, 10),
    (80, 100, 60, 25, 16, 12),
    (100, 120, 80, 30, 25, 14),
    (120, 160, 80, 40, 30, 18),
    (160, 200, 120, 60, 40, 25),
    (200, 260, 140, 80, 50, 30),
    (250, 350, 150, 120, 80, 50),
    (300, 400, 200, 150, 100, 60),
)
#: The table is for tubes no longer than this [m]; beyond it the holes have this share of the
#: inside.
LONGEST: Final = 2.8
LONG_SHARE: Final = 0.30


def vent_hole(inside_u: float, inside_v: float, length: float, *, holes: int = 2) -> Metres:
    """Return the least diameter of the holes at each end of a closed tube [m].

    A galvanizer's sheet after EN ISO 14713-2 (read): a table by the tube's inside and the number
    of holes at each end; for tubes over 2.8 m, holes of 30 % of the inside area together.

    inside_u, inside_v: inside width and height, or the bore twice [m].
    length: of the tube [m].
    holes: at each end: 1, 2 or 4 [-].
    Raises ValueError where a size is not above 0, for another number of holes, and for a tube that
    the table does not reach or that wants fewer holes. Limits: holes that lie across from one
    another, as near the ends as can be.
    """
    require_positive("the tube's inside", min(inside_u, inside_v), "m")
    require_positive("the tube's length", length, "m")
    if holes not in (1, 2, 4):
        raise ValueError(f"{holes!r} holes at each end: the table has 1, 2 and 4")
    wide, high = max(inside_u, inside_v) / _MM, min(inside_u, inside_v) / _MM
    for square, long, short, *least in _ROWS:
        if wide <= square or (wide <= long and high <= short):
            size = least[(1, 2, 4).index(holes)] * _MM
            if size == 0.0:
                raise ValueError(
                    f"{holes!r} holes at each end of a tube {wide:.0f} mm wide inside: the table "
                    "has fewer there; take 1 or 2"
                )
            if length <= LONGEST:
                return size
            share = LONG_SHARE * inside_u * inside_v / holes
            return max(size, math.sqrt(4.0 * share / math.pi))
    raise ValueError(
        f"a tube {wide:.0f} x {high:.0f} mm inside is over the table's largest; ask the galvanizer"
    )


def rail_vent_hole(inside: float) -> Metres:
    """Return the least diameter of each of two vents where a tube ends on another [m].

    ASTM A385, as galvanizers publish it for handrail (read): a quarter of the inside diameter, no
    less than 3/8 in; two holes, across from one another, as near the weld as can be.

    inside: inside diameter, or the larger inside width of an oblong tube [m].
    Raises ValueError for a size not above 0. Limits: given for pipe; taken for square tube, whose
    corners ask for holes near them.
    """
    require_positive("the tube's inside", inside, "m")
    return max(0.25 * inside, 3.0 / 8.0 * _INCH)
