"""Concrete pressed by a plate: ACI 318-19, 22.8.3 (the same as ANSI/AISC 360-22, J8)."""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_positive


def concrete_bearing(A_1: Real, f_c: Real, *, A_2: Real | None = None) -> Real:
    """Return the nominal bearing strength B_n of concrete under a plate [N].

    ACI 318-19, 22.8.3.2 and Table 22.8.3.2 (clause number remembered; the formula read in a public
    worked example of AISC 360, J8): 0.85 f'c A_1 √(A_2/A_1), not more than twice 0.85 f'c A_1.

    A_1: loaded area [m2].
    f_c: specified compressive strength f'c [Pa].
    A_2: base of the frustum, sides 1 up to 2 out, that lies wholly within the concrete [m2]; None
        where it is not known, which counts A_1 alone.
    Raises ValueError for a value at or below 0, or A_2 under A_1. Limits: static pressing.
    """
    require_positive(A_1=A_1, f_c=f_c)
    plain = 0.85 * f_c * A_1
    if A_2 is None:
        return plain
    if np.less(A_2, A_1).any():
        raise ValueError(
            f"A_2 = {A_2!r}: under the loaded area A_1 = {A_1!r}; give the larger area that it "
            "spreads into, or leave it out"
        )
    spread: Real = np.minimum(np.sqrt(A_2 / A_1), 2.0)
    return spread * plain


def phi_bearing() -> float:
    """Return the factor φ for bearing on concrete, 0.65 [-].

    ACI 318-19, Table 21.2.1(d) (remembered). Limits: load combinations of ACI 318, 5.3.
    """
    return 0.65
