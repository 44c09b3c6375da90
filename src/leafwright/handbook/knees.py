"""Corners of square and rectangular tube cut to a mitre and welded without a plate between.

Chapter K of ANSI/AISC 360-22 has no rule for them. CIDECT Design Guide 3, 2nd edition (2009),
section 5.3 (number remembered), Eqs. 5.16 and 5.17 after Mang and others, read in a copy:
N/N_pl + M/M_pl <= alpha in each of the two parts, with N up to 0.2 N_pl and V up to 0.5 V_pl. The
guide draws alpha; its formula is from memory (EN 1993-1-8:2005, section 7, welded knees).
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.records import Number

# Greatest axial force and shear over their plastic resistances at such a corner [-].
GREATEST_AXIAL: Final = 0.2
GREATEST_SHEAR: Final = 0.5


def mitre_factor(b: float, h: float, t: float) -> Number:
    """Return by how much a mitred corner of tube is weaker than the tube itself, alpha [-].

    CIDECT Design Guide 3, 2nd edition, figures 5.9 and 5.10, by the formula of EN 1993-1-8
    (from memory): 3 √(b/h)/(b/t)^0.8 + 1/(1 + 2 b/h), up to 1.

    b: width of the tube square to the plane of the corner [m].
    h: depth of the tube in the plane of the corner [m].
    t: wall [m].
    Raises ValueError for a value at or below 0. Limits: both parts of one section, at right
    angles (safe for sharper corners), static load in the corner's plane; 1.0 with a plate of
    1.5 t between, welded all round.
    """
    for name, value in (("b", b), ("h", h), ("t", t)):
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in metres")
    alpha: float = 3.0 * math.sqrt(b / h) / (b / t) ** 0.8 + 1.0 / (1.0 + 2.0 * b / h)
    return min(1.0, alpha)
