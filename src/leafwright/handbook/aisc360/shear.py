"""Members in shear: ANSI/AISC 360-22, chapter G, for hollow sections."""

from __future__ import annotations

from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import Real, require_positive, where

# Plate buckling coefficient of the webs of rectangular HSS (ANSI/AISC 360-22, G4).
_K_V: Final = 5.0


def shear_buckling_coefficient(h_over_t: Real, F_y: Real, *, E: Real = constants.E) -> Real:
    """Return the web shear buckling coefficient C_v2 of a rectangular HSS [-].

    ANSI/AISC 360-22, G2.2, Eqs. G2-9 to G2-11, with k_v = 5 (G4). The equations' rounded
    constants make it rise by 0.2 % where G2-11 takes over.

    h_over_t: flat depth over design wall of the webs [-].
    F_y: specified minimum yield stress [Pa].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(h_over_t=h_over_t, F_y=F_y, E=E)
    root = np.sqrt(_K_V * E / F_y)
    return where(
        h_over_t <= 1.10 * root,
        1.0,
        where(
            h_over_t <= 1.37 * root,
            1.10 * root / h_over_t,
            1.51 * root**2 / h_over_t**2,
        ),
    )


def shear_rectangular_hss(F_y: Real, h: Real, t: Real, *, E: Real = constants.E) -> Real:
    """Return the nominal shear strength V_n of a square or rectangular HSS [N].

    ANSI/AISC 360-22, G4, Eq. G4-1: V_n = 0.6 F_y A_w C_v2, with A_w = 2 h t.
    `LimitState.SHEAR`.

    F_y: specified minimum yield stress [Pa].
    h: flat width of the two walls parallel to the shear [m]; see `classification.flat_width`.
    t: design wall [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: no openings in the webs (G7).
    """
    require_positive(h=h, t=t)
    return 0.6 * F_y * 2.0 * h * t * shear_buckling_coefficient(h / t, F_y, E=E)


def shear_round_hss(
    F_y: Real, A_g: Real, D: Real, t: Real, L_v: Real, *, E: Real = constants.E
) -> Real:
    """Return the nominal shear strength V_n of a round HSS or pipe [N].

    ANSI/AISC 360-22, G5, Eq. G5-1: V_n = F_cr A_g/2, F_cr the larger of Eqs. G5-2a and G5-2b but
    not more than 0.6 F_y. `LimitState.SHEAR`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    D: outside diameter [m].
    t: design wall [m].
    L_v: distance from greatest to zero shear [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: no openings in the wall (G7).
    """
    require_positive(F_y=F_y, A_g=A_g, D=D, t=t, L_v=L_v, E=E)
    D_over_t = D / t
    long = 1.60 * E / (np.sqrt(L_v / D) * D_over_t**1.25)  # G5-2a
    very_long = 0.78 * E / D_over_t**1.5  # G5-2b
    F_cr: Real = np.minimum(np.maximum(long, very_long), 0.6 * F_y)
    return F_cr * A_g / 2.0
