"""Members in compression: ANSI/AISC 360-22, chapter E, for hollow sections and solid bars.

Flexural buckling only. Hollow sections and solid bars are closed or compact enough that torsional
buckling (E4) does not come before it, unless the length free to twist is made longer than the
length free to bend.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import classification, constants
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)

# Advised, not required (ANSI/AISC 360-22, E2, user note), for members designed for compression:
# the greatest effective slenderness L_c/r, and the greatest L/r of the member as fabricated.
ADVISED_L_C_OVER_R: Final = 200.0
ADVISED_L_OVER_R: Final = 300.0

# Walls of square and rectangular HSS (ANSI/AISC 360-22, Table E7.1, case b). c_2 is the table's
# rounding of Eq. E7-4 (1.38197), so that b_e drops by 0.09 % where E7-3 takes over from E7-2.
_C_1: Final = 0.20
_C_2: Final = 1.38


def elastic_buckling_stress(L_c_over_r: Real, *, E: Real = constants.E) -> Real:
    """Return the elastic flexural buckling stress F_e [Pa].

    ANSI/AISC 360-22, E3, Eq. E3-4: F_e = π² E / (L_c/r)².

    L_c_over_r: effective slenderness L_c/r [-], the larger of the two axes'; L_c = K L (E2).
    E: modulus of elasticity [Pa].
    Returns inf where L_c/r is 0. Raises ValueError for a negative slenderness or E at or below 0.
    Limits: doubly symmetric sections, torsional buckling not governing; see
    `ADVISED_L_C_OVER_R`.
    """
    require_not_negative(L_c_over_r=L_c_over_r)
    require_positive(E=E)
    with np.errstate(divide="ignore"):
        F_e: Real = np.divide(np.pi**2 * E, np.square(L_c_over_r))
    return F_e


def column_stress(F_y: Real, F_e: Real) -> Real:
    """Return the nominal stress F_n of a column [Pa] (called F_cr before the 2022 edition).

    ANSI/AISC 360-22, E3, Eq. E3-2 where F_y/F_e <= 2.25 and Eq. E3-3 above.

    F_y: specified minimum yield stress [Pa].
    F_e: elastic buckling stress [Pa]; inf gives F_y.
    Raises ValueError for a value at or below 0. Limits: those of F_e.
    """
    require_positive(F_y=F_y, F_e=F_e)
    ratio = F_y / F_e
    inelastic = 0.658**ratio * F_y
    elastic = 0.877 * F_y / np.maximum(ratio, 2.25)
    return where(ratio <= 2.25, inelastic, elastic)


def compression_nonslender(
    F_y: Real, A_g: Real, L_c_over_r: Real, *, E: Real = constants.E
) -> Real:
    """Return the nominal compressive strength P_n of a member without slender elements [N].

    ANSI/AISC 360-22, E3, Eq. E3-1: P_n = F_n A_g. `LimitState.COMPRESSION`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    L_c_over_r: effective slenderness [-], the larger of the two axes'.
    E: modulus of elasticity [Pa].
    Raises ValueError for F_y, A_g or E at or below 0, or a negative slenderness. Limits: walls
    within Table B4.1a (not tested here); solid bars always.
    """
    require_positive(A_g=A_g)
    return column_stress(F_y, elastic_buckling_stress(L_c_over_r, E=E)) * A_g


def effective_wall_width(
    b_over_t: Real, t: Real, F_y: Real, F_n: Real, *, E: Real = constants.E
) -> Real:
    """Return the effective width b_e (or h_e) of a rectangular HSS wall in compression [m].

    ANSI/AISC 360-22, E7.1, Eqs. E7-2, E7-3 and E7-5 with Table E7.1, case (b).

    b_over_t: flat width over design wall of this wall [-].
    t: design wall [m].
    F_y: specified minimum yield stress [Pa].
    F_n: nominal stress of the member by E3 on gross properties [Pa].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: walls held along both edges.
    """
    require_positive(b_over_t=b_over_t, t=t, F_n=F_n)
    lambda_r = classification.rectangular_compression_limit(F_y, E=E)
    b = b_over_t * t
    F_el = (_C_2 * lambda_r / b_over_t) ** 2 * F_y  # E7-5
    root = np.sqrt(F_el / F_n)
    return where(
        b_over_t <= lambda_r * np.sqrt(F_y / F_n),
        b,  # E7-2
        b * (1.0 - _C_1 * root) * root,  # E7-3
    )


def effective_area_rectangular_hss(
    A_g: Real,
    b_over_t: Real,
    h_over_t: Real,
    t: Real,
    F_y: Real,
    F_n: Real,
    *,
    E: Real = constants.E,
) -> Real:
    """Return the effective area A_e of a square or rectangular HSS in compression [m2].

    ANSI/AISC 360-22, E7 (user note): the gross area less (b - b_e) t of each of the four walls.

    A_g: gross area [m2].
    b_over_t, h_over_t: flat width over design wall of the two pairs of walls [-], in any order.
    t: design wall [m].
    F_y: specified minimum yield stress [Pa].
    F_n: nominal stress of the member by E3 [Pa].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0, or an A_g less than its own four flats. Limits:
    as `effective_wall_width`.
    """
    require_positive(A_g=A_g, b_over_t=b_over_t, h_over_t=h_over_t, t=t)
    _require_flats_within(A_g, b_over_t, h_over_t, t)
    b_e = effective_wall_width(b_over_t, t, F_y, F_n, E=E)
    h_e = effective_wall_width(h_over_t, t, F_y, F_n, E=E)
    return A_g - 2.0 * (b_over_t * t - b_e) * t - 2.0 * (h_over_t * t - h_e) * t


def _require_flats_within(A_g: Real, b_over_t: Real, h_over_t: Real, t: Real) -> None:
    flats = 2.0 * (b_over_t + h_over_t) * t**2
    bad = np.less(A_g, flats)
    if bad.any():
        area, flats = np.broadcast_arrays(A_g, flats)
        raise ValueError(
            f"A_g = {float(area[bad].flat[0])!r}: less than the four flats of the same section, "
            f"2 (b + h) t = {float(flats[bad].flat[0])!r} m2; check b/t, h/t and the design wall t"
        )


def compression_rectangular_hss(
    F_y: Real,
    A_g: Real,
    L_c_over_r: Real,
    b_over_t: Real,
    h_over_t: Real,
    t: Real,
    *,
    E: Real = constants.E,
) -> Real:
    """Return the nominal compressive strength P_n of a square or rectangular HSS [N].

    ANSI/AISC 360-22, E3 (Eq. E3-1) and, for slender walls, E7 (Eq. E7-1): P_n = F_n A_e.
    `LimitState.COMPRESSION`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    L_c_over_r: effective slenderness [-], the larger of the two axes'.
    b_over_t, h_over_t: flat width over design wall of the two pairs of walls [-].
    t: design wall [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative slenderness, any other value at or below 0, or an A_g less
    than its own four flats. Limits: the torsional effective length no longer than the lateral.
    """
    F_n = column_stress(F_y, elastic_buckling_stress(L_c_over_r, E=E))
    # Walls within Table B4.1a come out whole (F_n <= F_y), so E3 needs no branch of its own.
    return F_n * effective_area_rectangular_hss(A_g, b_over_t, h_over_t, t, F_y, F_n, E=E)


def effective_area_round_hss(
    A_g: Real, D_over_t: Real, F_y: Real, *, E: Real = constants.E
) -> Real:
    """Return the effective area A_e of a round HSS in compression [m2].

    ANSI/AISC 360-22, E7.2, Eqs. E7-6 and E7-7. Departure: E7-7 exceeds A_g by up to 1.2 % for
    D/t from 0.11 to 0.114 E/F_y; here A_e is never more than A_g.

    A_g: gross area [m2].
    D_over_t: outside diameter over design wall [-].
    F_y: specified minimum yield stress [Pa].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: D/t < 0.45 E/F_y; nan at or above it.
    """
    require_positive(A_g=A_g, D_over_t=D_over_t)
    reduced = np.minimum(0.038 * E / (F_y * D_over_t) + 2.0 / 3.0, 1.0) * A_g  # E7-7
    whole = D_over_t <= classification.round_compression_limit(F_y, E=E)
    valid = D_over_t < classification.round_validity_limit(F_y, E=E)
    return where(valid, where(whole, A_g, reduced), np.nan)


def compression_round_hss(
    F_y: Real, A_g: Real, L_c_over_r: Real, D_over_t: Real, *, E: Real = constants.E
) -> Real:
    """Return the nominal compressive strength P_n of a round HSS or pipe [N].

    ANSI/AISC 360-22, E3 (Eq. E3-1) and, for slender walls, E7 (Eq. E7-1): P_n = F_n A_e.
    `LimitState.COMPRESSION`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    L_c_over_r: effective slenderness [-].
    D_over_t: outside diameter over design wall [-].
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative slenderness or any other value at or below 0. Limits:
    D/t < 0.45 E/F_y; nan at or above it.
    """
    F_n = column_stress(F_y, elastic_buckling_stress(L_c_over_r, E=E))
    return F_n * effective_area_round_hss(A_g, D_over_t, F_y, E=E)
