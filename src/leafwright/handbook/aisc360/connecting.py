"""Plates, gussets and tube walls at a connection: ANSI/AISC 360-22, sections J4, J5.2 and J7.

Clauses were read in a public transcription of the 2022 edition.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import compression, constants
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)

_INCH: Final = 0.0254

# Added to the nominal hole for the damage of punching (ANSI/AISC 360-22, B4.3b): 1/16 in [m].
HOLE_DAMAGE: Final = _INCH / 16.0

# Up to this slenderness L_c/r a connecting element yields before it buckles (J4.4).
SHORT_L_C_OVER_R: Final = 25.0


def net_area(
    width: Real, t: Real, number_of_holes: Real, d_h: Real, *, damage: Real = HOLE_DAMAGE
) -> Real:
    """Return the net area A_n across a straight row of bolt holes [m2].

    ANSI/AISC 360-22, B4.3b: each hole is taken 1/16 in wider than it is.

    width: gross width of the row, edge to edge [m].
    t: thickness [m].
    number_of_holes: holes in the row [-], 0 or more; half of the last one for block shear.
    d_h: nominal diameter of a hole [m].
    damage: what is added to each hole [m]; 2 mm in the metric form of the clause.
    Raises ValueError for a width or thickness at or below 0, a negative number, hole or damage,
    or holes that leave nothing. Limits: a straight row at right angles to the force; a zigzag
    row (s²/4g) is not covered.
    """
    require_positive(width=width, t=t)
    require_not_negative(number_of_holes=number_of_holes, d_h=d_h, damage=damage)
    left = width - number_of_holes * (d_h + damage)
    if np.less_equal(left, 0.0).any():
        raise ValueError(
            f"{number_of_holes!r} holes of {d_h!r} m leave nothing of a width of {width!r} m; "
            "give a wider plate, or fewer or smaller holes"
        )
    return left * t


def element_tension_yielding(F_y: Real, A_g: Real) -> Real:
    """Return the nominal strength R_n of a connecting element in tension, yielding [N].

    ANSI/AISC 360-22, J4.1(a), Eq. J4-1: R_n = F_y A_g. `LimitState.TENSION_YIELDING`.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    Raises ValueError for F_y at or below 0 or a negative area. Limits: where the force spreads
    into a wide plate only the width that it reaches counts (J4.1, user note).
    """
    require_positive(F_y=F_y)
    require_not_negative(A_g=A_g)
    return F_y * A_g


def element_tension_rupture(F_u: Real, A_e: Real) -> Real:
    """Return the nominal strength R_n of a connecting element in tension, rupture [N].

    ANSI/AISC 360-22, J4.1(b), Eq. J4-2: R_n = F_u A_e. `LimitState.TENSION_RUPTURE`.

    F_u: specified minimum tensile strength [Pa].
    A_e: effective net area [m2] (D3).
    Raises ValueError for F_u at or below 0 or a negative area. Limits: none stated.
    """
    require_positive(F_u=F_u)
    require_not_negative(A_e=A_e)
    return F_u * A_e


def element_shear_yielding(F_y: Real, A_gv: Real) -> Real:
    """Return the nominal strength R_n of a connecting element in shear, yielding [N].

    ANSI/AISC 360-22, J4.2(a), Eq. J4-3: R_n = 0.60 F_y A_gv.
    `LimitState.ELEMENT_SHEAR_YIELDING`. Also the base metal beside a weld in shear.

    F_y: specified minimum yield stress [Pa].
    A_gv: gross area in shear [m2].
    Raises ValueError for F_y at or below 0 or a negative area. Limits: none stated.
    """
    require_positive(F_y=F_y)
    require_not_negative(A_gv=A_gv)
    return 0.60 * F_y * A_gv


def element_shear_rupture(F_u: Real, A_nv: Real) -> Real:
    """Return the nominal strength R_n of a connecting element in shear, rupture [N].

    ANSI/AISC 360-22, J4.2(b), Eq. J4-4: R_n = 0.60 F_u A_nv.
    `LimitState.ELEMENT_SHEAR_RUPTURE`. Also the base metal beside a weld in shear.

    F_u: specified minimum tensile strength [Pa].
    A_nv: net area in shear [m2]; beside a weld, thickness times length of weld.
    Raises ValueError for F_u at or below 0 or a negative area. Limits: none stated.
    """
    require_positive(F_u=F_u)
    require_not_negative(A_nv=A_nv)
    return 0.60 * F_u * A_nv


def block_shear(
    F_y: Real, F_u: Real, A_gv: Real, A_nv: Real, A_nt: Real, *, U_bs: Real = 1.0
) -> Real:
    """Return the nominal strength R_n against a block torn out of the element [N].

    ANSI/AISC 360-22, J4.3, Eq. J4-5: 0.60 F_u A_nv + U_bs F_u A_nt, not more than
    0.60 F_y A_gv + U_bs F_u A_nt. `LimitState.BLOCK_SHEAR`.

    F_y, F_u: specified minimum yield stress and tensile strength [Pa].
    A_gv, A_nv: gross and net area in shear [m2].
    A_nt: net area in tension [m2].
    U_bs: 1.0 where the tension is even along its line, 0.5 where it is not [-].
    Raises ValueError for a stress or U_bs at or below 0 or a negative area. Limits: none stated.
    """
    require_positive(F_y=F_y, F_u=F_u, U_bs=U_bs)
    require_not_negative(A_gv=A_gv, A_nv=A_nv, A_nt=A_nt)
    shear: Real = np.minimum(0.60 * F_u * A_nv, 0.60 * F_y * A_gv)
    return shear + U_bs * F_u * A_nt


def element_compression(F_y: Real, A_g: Real, L_c_over_r: Real, *, E: Real = constants.E) -> Real:
    """Return the nominal strength P_n of a connecting element in compression [N].

    ANSI/AISC 360-22, J4.4: F_y A_g (Eq. J4-6) where L_c/r <= 25, else chapter E (Eq. E3-1).
    `LimitState.COMPRESSION`. So it steps down by 2 to 4 % past 25.

    F_y: specified minimum yield stress [Pa].
    A_g: gross area [m2].
    L_c_over_r: effective slenderness of the plate [-]; r = t/√12 for a flat plate.
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative slenderness or any other value at or below 0. Limits: none
    stated.
    """
    column = compression.compression_nonslender(F_y, A_g, L_c_over_r, E=E)
    return where(L_c_over_r <= SHORT_L_C_OVER_R, F_y * A_g, column)


def connecting_interaction(M_r_over_M_c: Real, P_r_over_P_c: Real, V_r_over_V_c: Real) -> Real:
    """Return the use of a connecting plate under moment, pull and shear together [-].

    AISC Steel Construction Manual, 16th ed., Eq. 9-1: M_r/M_c + (P_r/P_c)² + (V_r/V_c)⁴, to be
    1.0 or less. The specification itself has no such equation.

    M_r_over_M_c, P_r_over_P_c, V_r_over_V_c: required over available strength in bending, in
        tension or compression, and in shear, all of one method [-], magnitudes.
    Raises ValueError for a negative ratio. Limits: flat plates whose strengths are those of
    yielding of the full depth.
    """
    require_not_negative(
        M_r_over_M_c=M_r_over_M_c, P_r_over_P_c=P_r_over_P_c, V_r_over_V_c=V_r_over_V_c
    )
    total: Real = M_r_over_M_c + np.square(P_r_over_P_c) + np.power(V_r_over_V_c, 4)
    return total


def filler_factor(t: Real) -> Real:
    """Return by how much bolts lose shear strength through loose shims or fillers [-].

    ANSI/AISC 360-22, J5.2(a): 1 - 0.4 (t - 0.25) with t in inches, not less than 0.85; 1 up to
    1/4 in. Multiplies the shear strength of `bolts.bolt_strength`.

    t: total thickness of the fillers that the bolt passes through [m], 0 for none.
    Raises ValueError for a negative thickness. Limits: bearing-type connections; more than
    0.85 allows is not asked for however thick the pack, but J5.2(b) and (c) are better then.
    """
    require_not_negative(t=t)
    inches = t / _INCH
    factor: Real = np.maximum(1.0 - 0.4 * np.maximum(inches - 0.25, 0.0), 0.85)
    return factor


def pin_bearing(F_y: Real, d: Real, t: Real) -> Real:
    """Return the nominal strength R_n of a wall or plate in bearing against a pin [N].

    ANSI/AISC 360-22, J7(a), Eq. J7-1: R_n = 1.8 F_y A_pb, A_pb = d t. For pins in reamed,
    drilled or bored holes and for bolts right through an HSS (J3.11b).
    `LimitState.SURFACE_BEARING`.

    F_y: specified minimum yield stress of the softer part [Pa].
    d: diameter of pin or bolt [m].
    t: length of bearing [m]: the wall, or both walls together.
    Raises ValueError for a value at or below 0. Limits: strength only; a pin that turns needs a
    much lower pressure for wear.
    """
    require_positive(F_y=F_y, d=d, t=t)
    return 1.8 * F_y * d * t
