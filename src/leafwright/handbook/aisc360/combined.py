"""Torsion of hollow sections and combined forces: ANSI/AISC 360-22, chapter H."""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)


def torsional_constant_rectangular_hss(B: Real, H: Real, t: Real) -> Real:
    """Return the HSS torsional constant C of a square or rectangular HSS [m3].

    ANSI/AISC 360-22, H3.1, user note: 2 (B − t)(H − t) t − 4.5 (4 − π) t³, which is
    Bredt's 2 t times the area inside a wall centre line with corners of radius 1.5 t.

    B, H: outside width and depth [m].
    t: design wall [m].
    Raises ValueError for a value at or below 0. Limits: outside corner radius of 2 t; rounder
    corners enclose less.
    """
    require_positive(B=B, H=H, t=t)
    return 2.0 * (B - t) * (H - t) * t - 4.5 * (4.0 - np.pi) * t**3


def torsional_constant_round_hss(D: Real, t: Real) -> Real:
    """Return the HSS torsional constant C of a round HSS [m3].

    ANSI/AISC 360-22, H3.1, user note: π (D − t)² t / 2. The note calls this conservative, and
    against the fully plastic torque it is; but the AISC Shapes Database lists 2 J/D, which is
    lower (by 4 % at D/t = 21), so prefer a listed C where there is one.

    D: outside diameter [m].
    t: design wall [m].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(D=D, t=t)
    return np.pi * (D - t) ** 2 * t / 2.0


def torsion_rectangular_hss(F_y: Real, C: Real, h_over_t: Real, *, E: Real = constants.E) -> Real:
    """Return the nominal torsional strength T_n of a square or rectangular HSS [N m].

    ANSI/AISC 360-22, H3.1(b), Eq. H3-1: T_n = F_cr C, F_cr from Eqs. H3-3 to H3-5. The
    equations' rounded constants make it rise by 0.2 % where H3-5 takes over.
    `LimitState.TORSION`.

    F_y: specified minimum yield stress [Pa].
    C: HSS torsional constant [m3].
    h_over_t: flat width over design wall of the *longer* side [-].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: h/t <= 260; nan above it.
    """
    require_positive(F_y=F_y, C=C, h_over_t=h_over_t, E=E)
    root = np.sqrt(E / F_y)
    F_cr = where(
        h_over_t <= 3.07 * root,
        0.6 * F_y * np.minimum(2.45 * root / h_over_t, 1.0),  # H3-3, H3-4
        0.458 * np.pi**2 * root**2 * F_y / h_over_t**2,  # H3-5, where root² F_y is E
    )
    return where(h_over_t <= 260.0, F_cr * C, np.nan)


def torsion_round_hss(
    F_y: Real, C: Real, D: Real, t: Real, L: Real, *, E: Real = constants.E
) -> Real:
    """Return the nominal torsional strength T_n of a round HSS or pipe [N m].

    ANSI/AISC 360-22, H3.1(a), Eq. H3-1: T_n = F_cr C, F_cr the larger of Eqs. H3-2a and H3-2b
    but not more than 0.6 F_y. `LimitState.TORSION`.

    F_y: specified minimum yield stress [Pa].
    C: HSS torsional constant [m3].
    D: outside diameter [m].
    t: design wall [m].
    L: length of the member [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(F_y=F_y, C=C, D=D, t=t, L=L, E=E)
    D_over_t = D / t
    long = 1.23 * E / (np.sqrt(L / D) * D_over_t**1.25)  # H3-2a
    very_long = 0.60 * E / D_over_t**1.5  # H3-2b
    F_cr: Real = np.minimum(np.maximum(long, very_long), 0.6 * F_y)
    return F_cr * C


def interaction_axial_bending(
    P_r_over_P_c: Real, M_rx_over_M_cx: Real, M_ry_over_M_cy: Real = 0.0
) -> Real:
    """Return the ratio of demand to strength for axial force with bending [-]; 1.0 is full.

    ANSI/AISC 360-22, H1.1 (compression) and H1.2 (tension), Eqs. H1-1a and H1-1b.

    P_r_over_P_c: required over available axial strength [-]. For compression P_c is by chapter
        E, for tension by chapter D.
    M_rx_over_M_cx, M_ry_over_M_cy: required over available flexural strength about the major and
        the minor axis [-].
    All are magnitudes, by one method (ASD or LRFD); the required strengths include second-order
    effects (chapter C).
    Raises ValueError for a negative ratio. Limits: doubly symmetric sections (or singly, bent
    about a geometric axis). Shear is a check of its own.
    """
    require_not_negative(
        P_r_over_P_c=P_r_over_P_c,
        M_rx_over_M_cx=M_rx_over_M_cx,
        M_ry_over_M_cy=M_ry_over_M_cy,
    )
    bending = M_rx_over_M_cx + M_ry_over_M_cy
    return where(
        P_r_over_P_c >= 0.2,
        P_r_over_P_c + 8.0 / 9.0 * bending,  # H1-1a
        0.5 * P_r_over_P_c + bending,  # H1-1b
    )


def interaction_with_torsion(
    P_r_over_P_c: Real,
    M_rx_over_M_cx: Real,
    M_ry_over_M_cy: Real,
    V_r_over_V_c: Real,
    T_r_over_T_c: Real,
) -> Real:
    """Return the ratio of demand to strength for axial force, bending, shear and torsion [-].

    ANSI/AISC 360-22, H3.2: Eq. H3-6 where T_r exceeds 0.20 T_c; at or below that, torsion is
    neglected and H1 applies, so that the ratio jumps there.

    P_r_over_P_c: required over available axial strength [-].
    M_rx_over_M_cx, M_ry_over_M_cy: the same for bending about the major and the minor axis [-].
    V_r_over_V_c: the same for shear [-], the larger of the two axes'; enters H3-6 only.
    T_r_over_T_c: the same for torsion [-].
    All are magnitudes at one place in the member, by one method (ASD or LRFD); the required
    strengths include second-order effects (chapter C).
    Raises ValueError for a negative ratio. Limits: HSS. Where H1 applies, shear is a check of
    its own.
    """
    require_not_negative(V_r_over_V_c=V_r_over_V_c, T_r_over_T_c=T_r_over_T_c)
    without = interaction_axial_bending(P_r_over_P_c, M_rx_over_M_cx, M_ry_over_M_cy)
    normal = P_r_over_P_c + M_rx_over_M_cx + M_ry_over_M_cy
    tangential = V_r_over_V_c + T_r_over_T_c
    return where(T_r_over_T_c <= 0.2, without, normal + tangential**2)
