"""Growth of a part by heat, and the coefficients of what leaves are made of."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Numbers = float | NDArray[np.float64]

#: Structural steel [1/K]: EN 1993-1-1:2005, 3.2.6(1).
STEEL = 12e-6


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
