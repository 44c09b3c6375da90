"""Growth by heat: coefficients of what leaves are made of, bow of a warm face, slots for sheets."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from leafwright.handbook._given import require_not_negative, require_positive

Numbers = float | NDArray[np.float64]

#: Structural steel [1/K]: EN 1993-1-1:2005, 3.2.6(1).
STEEL = 12e-6
#: Aluminium alloys [1/K]: EN 1999-1-1, 3.2.5(1) (read in a draft). EN 1991-1-5 has 24e-6.
ALUMINIUM: Final = 23e-6
#: Polycarbonate sheet, solid or twin-wall [1/K]: European polycarbonate sheet producers'
#: association, questions and answers.
POLYCARBONATE: Final = 65e-6
#: Timber along the grain [1/K]: EN 1991-1-5, Annex C (second-hand). Wet and dry move timber far
#: more than heat does, across the grain above all.
TIMBER_ALONG_GRAIN: Final = 5e-6
#: Timber across the grain, least and greatest [1/K]: EN 1991-1-5, Annex C (second-hand).
TIMBER_ACROSS_GRAIN: Final = (30e-6, 70e-6)


def thermal_growth(length: Numbers, alpha: Numbers, difference: Numbers) -> Numbers:
    """Return by how much a part grows when it becomes warmer [m]: α L ΔT.

    Physics of linear expansion; EN 1993-1-1:2005, 3.2.6(1) gives α of steel.

    Args:
        length: of the part [m].
        alpha: coefficient of linear thermal expansion [1/K].
        difference: of temperature, positive where it becomes warmer [K].

    Valid where the part is free to grow and α hardly changes (steel up to 100 °C).
    """
    return alpha * length * difference


def thermal_bow(length: Numbers, depth: Numbers, alpha: Numbers, difference: Numbers) -> Numbers:
    """Return by how much a leaf bows toward its warmer face, at mid-length [m].

    Physics of linear expansion, beam of even depth (Roark's Formulas, Table 8.1 case 6, simple
    ends): curvature α ΔT/d, bow α ΔT L²/(8 d).

    Args:
        length: L between the ends that stay in line [m].
        depth: d from warm face to cool face [m].
        alpha: coefficient of linear thermal expansion [1/K].
        difference: how much warmer one face is than the other [K].

    Valid where heat falls evenly from face to face, both skins are of one material, nothing holds
    the leaf straight, and the bow is small against its length. A leaf held at both ends and the
    middle does not bow but pushes.
    """
    return alpha * difference * length**2 / (8.0 * depth)


def slot_length(
    diameter: float,
    distance: float,
    alpha: float,
    *,
    rise: float,
    fall: float,
    frame_alpha: float = STEEL,
    placing: float = 0.0,
) -> float:
    """Return the length of the slot, over all, in which a sheet's fastener may slide [m].

    Physics of linear expansion, sheet and frame equally warm: d + |α − α_frame| L (rise + fall) +
    2 × placing; the fastener stands where the slot leaves it room for both.

    Args:
        diameter: d of the fastener [m].
        distance: L from the fastener to the point where the sheet is held fast [m].
        alpha: coefficient of the sheet [1/K].
        rise: difference from the temperature at fitting to the warmest [K].
        fall: difference from the temperature at fitting to the coldest, a positive number [K].
        frame_alpha: coefficient of the frame [1/K].
        placing: how far hole or fastener may be from where it belongs, to each side [m].

    Raises ValueError where a value is negative. Valid for a slot that points at the fixed point;
    elsewhere a round hole of this diameter.
    """
    require_positive("the fastener's diameter", diameter, "m")
    require_not_negative("the distance to the fixed point", distance, "m")
    require_not_negative("the rise of temperature", rise, "K")
    require_not_negative("the fall of temperature", fall, "K")
    require_not_negative("the allowance for placing", placing, "m")
    return diameter + abs(alpha - frame_alpha) * distance * (rise + fall) + 2.0 * placing
