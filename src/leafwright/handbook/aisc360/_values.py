"""Numbers that broadcast: what the formulas of this package take, give back and refuse."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Real = float | NDArray[np.float64]
Truth = bool | np.bool_ | NDArray[np.bool_]


def where(condition: Truth, then: Real, otherwise: Real) -> Real:
    """Return ``then`` where the condition holds, else ``otherwise``; floats give np.float64.

    Both are always computed, so neither may divide by zero where it is not chosen.
    """
    chosen: Real = np.where(condition, then, otherwise)[()]
    return chosen


def require_positive(**named: Real) -> None:
    """Raise ValueError naming the first argument that holds a value at or below zero."""
    _refuse("must be above 0", np.less_equal, **named)


def require_not_negative(**named: Real) -> None:
    """Raise ValueError naming the first argument that holds a value below zero."""
    _refuse("must be 0 or more", np.less, **named)


def _refuse(rule: str, breaks: np.ufunc, **named: Real) -> None:
    for name, value in named.items():
        bad = breaks(value, 0.0)
        if bad.any():
            found = float(np.asarray(value)[bad].flat[0])
            raise ValueError(
                f"{name} = {found!r}: {rule}; give the magnitude in SI units (Pa, m, N) "
                "and check the sign"
            )
