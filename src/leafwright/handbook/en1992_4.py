"""Fastenings in concrete by EN 1992-4:2018 (Eurocode 2, part 4), clauses 4.4, 7.2.1, 7.2.2, 7.2.3.

Symbols are the standard's. Formulas and equation numbers were read in public implementations and
theory notes that quote the edition, and checked against design reports; the standard itself was
not at hand. Resistances are characteristic; divide by `gamma_Ms_…` or `gamma_Mc` for design, and
compare with factored actions (EN 1990). Quantities are SI, floats or arrays that broadcast; the
formulas' N, mm and MPa are converted inside.

What a product's European assessment gives (h_ef, k_1, k_8, pull-out, c_cr,sp, h_min, γ_inst) is an
argument. Not covered: bonded anchors' combined pull-out (without it the result is to be held),
blow-out, supplementary reinforcement, fatigue, earthquake, hole clearance beyond Table 6.1.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where
from leafwright.records import Held

_MM = 1e-3
_MPA = 1e6

Edges = tuple[Real, Real, Real, Real]


def gamma_Ms_tension(f_uk: Real, f_yk: Real) -> Real:
    """Return the partial factor γ_Ms of steel in tension [-].

    EN 1992-4:2018, Table 4.1: 1.2 f_uk/f_yk ≥ 1.4 (recommended; national annexes may differ).

    f_uk, f_yk: characteristic tensile strength and yield [Pa]. Raises ValueError for a value at or
    below 0.
    """
    require_positive(f_uk=f_uk, f_yk=f_yk)
    factor: Real = np.maximum(1.2 * f_uk / f_yk, 1.4)
    return factor


def gamma_Ms_shear(f_uk: Real, f_yk: Real) -> Real:
    """Return the partial factor γ_Ms of steel in shear, with and without lever arm [-].

    EN 1992-4:2018, Table 4.1: f_uk/f_yk ≥ 1.25 where f_uk ≤ 800 MPa and f_yk/f_uk ≤ 0.8, else 1.5
    (recommended).

    f_uk, f_yk: characteristic tensile strength and yield [Pa]. Raises ValueError for a value at or
    below 0.
    """
    require_positive(f_uk=f_uk, f_yk=f_yk)
    mild = np.less_equal(f_uk, 800.0 * _MPA) & np.less_equal(f_yk, 0.8 * f_uk * (1.0 + 1e-12))
    factor: Real = np.maximum(f_uk / f_yk, 1.25)
    return where(mild, factor, 1.5)


def gamma_Mc(gamma_inst: Real, *, gamma_c: Real = 1.5) -> Real:
    """Return the partial factor γ_Mc of concrete cone, edge, pry-out and splitting [-].

    EN 1992-4:2018, Table 4.1: γ_c γ_inst, γ_c = 1.5 (recommended); γ_inst = 1.0 for headed
    fasteners set with care and for all in shear, else the product's.

    gamma_inst: factor for installation, 1.0 to 1.4, from the assessment [-];
    gamma_c: partial factor of concrete [-].
    Raises ValueError for γ_inst below 1 or γ_c at or below 0.
    """
    require_positive(gamma_c=gamma_c)
    if np.less(gamma_inst, 1.0).any():
        raise ValueError(
            f"gamma_inst = {gamma_inst!r}: must be 1.0 or more; give the value of the product's "
            "assessment"
        )
    return gamma_c * gamma_inst


def N_Rk_s(A_s: Real, f_uk: Real) -> Real:
    """Return the resistance N_Rk,s of one fastener's steel in tension [N].

    EN 1992-4:2018, 7.2.1.3: A_s f_uk (a product's value is in its assessment).

    A_s: stressed area [m2]; f_uk: characteristic tensile strength [Pa]. Raises ValueError for a
    value at or below 0. Limits: f_uk ≤ 1000 MPa (1.3).
    """
    require_positive(A_s=A_s, f_uk=f_uk)
    return A_s * f_uk


def k_1(headed: bool, cracked: bool) -> float:
    """Return the factor k_1 of the concrete cone [-], in N, mm, MPa.

    EN 1992-4:2018, 7.2.1.4(2): cast-in headed 8.9 cracked, 12.7 uncracked; post-installed
    7.7 and 11.0 as an indication, the product's assessment goes first.

    headed: whether cast-in and headed; cracked: whether the concrete may crack there.
    """
    if headed:
        return 8.9 if cracked else 12.7
    return 7.7 if cracked else 11.0


def h_ef_in_narrow_member(h_ef: Real, edges: Edges, s_max: Real) -> Real:
    """Return the embedment h'_ef with which the cone is worked out [m].

    EN 1992-4:2018, 7.2.1.4(8): with three or more edges nearer than c_cr,N = 1.5 h_ef, the greater
    of c_max/c_cr,N and s_max/s_cr,N, times h_ef.

    h_ef: effective embedment [m]; edges: distances to the four edges [m], inf where there is none;
        s_max: greatest spacing in the group [m], 0 for one.
    Raises ValueError for a negative s_max or another value at or below 0. Limits: never more than
    h_ef is given back.
    """
    require_positive(h_ef=h_ef, x_before=edges[0], x_after=edges[1], y_before=edges[2])
    require_positive(y_after=edges[3])
    require_not_negative(s_max=s_max)
    count: Real = 0.0
    c_max: Real = 0.0
    for edge in edges:
        near = np.less(edge, 1.5 * h_ef)
        count = count + where(near, 1.0, 0.0)
        c_max = np.maximum(c_max, where(near, edge, 0.0))
    instead: Real = np.minimum(h_ef, np.maximum(c_max / 1.5, s_max / 3.0))
    return where(np.greater_equal(count, 3.0), instead, h_ef)


def N0_Rk_c(k_1: Real, f_ck: Real, h_ef: Real) -> Real:
    """Return the cone resistance N⁰_Rk,c of one fastener far from edges [N].

    EN 1992-4:2018, 7.2.1.4(2), Eq. (7.2): k_1 √f_ck h_ef^1.5 in N, MPa, mm.

    k_1: the function of that name, or the assessment's k_cr,N or k_ucr,N [-]; f_ck: cylinder
        strength [Pa]; h_ef: effective embedment [m].
    Raises ValueError for a value at or below 0. Limits: C12/15 to C90/105 (1.3), as assessed.
    """
    require_positive(k_1=k_1, f_ck=f_ck, h_ef=h_ef)
    resistance: Real = k_1 * np.sqrt(f_ck / _MPA) * (h_ef / _MM) ** 1.5
    return resistance


def _extent(reach: Real, before: Real, spacings: Sequence[Real], after: Real) -> Real:
    require_positive(before=before, after=after)
    total: Real = np.minimum(before, reach) + np.minimum(after, reach)
    for number, spacing in enumerate(spacings, start=1):
        require_positive(**{f"spacing {number}": spacing})
        total = total + np.minimum(spacing, 2.0 * reach)
    return total


def A_c_N(c_cr: Real, edges: Edges, spacings_x: Sequence[Real], spacings_y: Sequence[Real]) -> Real:
    """Return the projected area A_c,N of the cones of a group [m2].

    EN 1992-4:2018, 7.2.1.4(3): c_cr,N out from the outer fasteners or to the edge, spacings up to
    s_cr,N = 2 c_cr,N. One fastener's is A⁰_c,N = s_cr,N² (Eq. 7.3).

    c_cr: c_cr,N = 1.5 h_ef [m] (c_cr,sp of the assessment for splitting); edges: distances to the
        four edges [m], inf where there is none; spacings_x, spacings_y: between rows [m].
    Raises ValueError for a distance at or below 0. Limits: a full rectangular pattern of the
    fasteners that are in tension.
    """
    require_positive(c_cr=c_cr)
    return _extent(c_cr, edges[0], spacings_x, edges[1]) * _extent(
        c_cr, edges[2], spacings_y, edges[3]
    )


def psi_s_N(c_min: Real, c_cr: Real) -> Real:
    """Return the factor ψ_s,N for the nearest edge [-].

    EN 1992-4:2018, 7.2.1.4(4), Eq. (7.4): 0.7 + 0.3 c/c_cr,N ≤ 1.

    c_min: distance to the nearest edge [m]; c_cr: c_cr,N [m]. Raises ValueError for a value at or
    below 0.
    """
    require_positive(c_min=c_min, c_cr=c_cr)
    factor: Real = 0.7 + 0.3 * np.minimum(c_min / c_cr, 1.0)
    return factor


def psi_re_N(h_ef: Real, dense_bars: bool) -> Real:
    """Return the factor ψ_re,N for shells that spall over dense bars [-].

    EN 1992-4:2018, 7.2.1.4(5), Eq. (7.5): 0.5 + h_ef/200 mm ≤ 1; 1.0 where bars lie 150 mm apart
    or more, or bars of 10 mm or less 100 mm apart or more.

    h_ef: effective embedment [m]; dense_bars: whether neither of the two is known to hold.
    Raises ValueError for a value at or below 0.
    """
    require_positive(h_ef=h_ef)
    factor: Real = np.minimum(0.5 + h_ef / 0.2, 1.0)
    return where(np.bool_(dense_bars), factor, 1.0)


def psi_ec(e: Real, s_cr: Real) -> Real:
    """Return the factor ψ_ec for a load beside the centroid of the group [-].

    EN 1992-4:2018, 7.2.1.4(6), Eq. (7.6): ψ_ec,N = 1/(1 + 2 e_N/s_cr,N) ≤ 1, and 7.2.2.5(8), Eq.
    (7.47): ψ_ec,V, the same with s_cr = 3 c_1. For two axes the product.

    e: eccentricity [m]; s_cr: s_cr,N, or 3 c_1 for edge failure [m]. Raises ValueError for a
    negative e or s_cr at or below 0.
    """
    require_not_negative(e=e)
    require_positive(s_cr=s_cr)
    factor: Real = 1.0 / (1.0 + 2.0 * e / s_cr)
    return factor


def resistance_of_group(R0: Real, A: Real, A0: Real, factors: Sequence[Real]) -> Real:
    """Return a group's resistance R⁰ (A/A⁰) times its factors ψ [N].

    EN 1992-4:2018, Eqs. (7.1) cone, (7.23) splitting and (7.40) edge; ψ_M,N for a compression
    strut beside the cone (Eq. 7.7) is left at 1, on the safe side.

    R0: one fastener's resistance [N]; A, A0: the group's and the one's area [m2]; factors: the ψ
        that apply [-]. Raises ValueError for a value at or below 0.
    """
    require_positive(R0=R0, A=A, A0=A0)
    total: Real = R0 * A / A0
    for number, factor in enumerate(factors, start=1):
        require_positive(**{f"factor {number}": factor})
        total = total * factor
    return total


def N_Rk_p_headed(A_h: Real, f_ck: Real, cracked: bool) -> Real:
    """Return the pull-out resistance N_Rk,p of one headed fastener [N].

    EN 1992-4:2018, 7.2.1.5: k_2 A_h f_ck, k_2 = 7.5 cracked, 10.5 uncracked.

    A_h: bearing area of the head [m2]; f_ck: cylinder strength [Pa]; cracked: whether the concrete
        may crack there. Raises ValueError for a value at or below 0. Limits: head up to 6 thread or
        shank radii beyond the shank (remembered).
    """
    require_positive(A_h=A_h, f_ck=f_ck)
    return (7.5 if cracked else 10.5) * A_h * f_ck


def N_Rk_p_post_installed(N_Rk_p: Real | None) -> Real | Held:
    """Return the pull-out (or bond) resistance of a post-installed fastener [N], or why not.

    EN 1992-4:2018, 7.2.1.5 and 7.2.1.6: from the product's assessment.

    N_Rk_p: the assessment's value for this concrete [N]; None where it is not at hand. Raises
    ValueError for a value at or below 0.
    """
    if N_Rk_p is None:
        return Held(
            "the pull-out resistance of a post-installed fastener is in its assessment only",
            ("N_Rk,p from the European assessment, for this concrete, cracked or uncracked",),
        )
    require_positive(N_Rk_p=N_Rk_p)
    return N_Rk_p


def psi_h_sp(h: Real, h_min: Real, h_ef: Real, c_1: Real) -> Real:
    """Return the factor ψ_h,sp for the thickness of the member against splitting [-].

    EN 1992-4:2018, 7.2.1.7, Eq. (7.24): (h/h_min)^(2/3), not more than
    max(1, ((h_ef + 1.5 c_1)/h_min)^(2/3)) and 2.

    h: thickness of the member [m]; h_min: the assessment's least [m]; h_ef: effective embedment
        [m]; c_1: nearest edge [m].
    Raises ValueError for a value at or below 0, or a member thinner than h_min.
    """
    require_positive(h=h, h_min=h_min, h_ef=h_ef, c_1=c_1)
    if np.less(h, h_min).any():
        raise ValueError(
            f"h = {h!r}: thinner than the product's least thickness h_min = {h_min!r}; choose a "
            "shallower anchor"
        )
    most: Real = np.clip(((h_ef + 1.5 * c_1) / h_min) ** (2.0 / 3.0), 1.0, 2.0)
    factor: Real = np.minimum((h / h_min) ** (2.0 / 3.0), most)
    return factor


def V_Rk_s(A_s: Real, f_uk: Real, *, k_7: Real = 1.0) -> Real:
    """Return the resistance V_Rk,s of one fastener's steel in shear without lever arm [N].

    EN 1992-4:2018, 7.2.2.3.1: k_7 k_6 A_s f_uk, k_6 = 0.6 up to f_uk = 500 MPa, 0.5 above.

    A_s: stressed area [m2]; f_uk: characteristic tensile strength [Pa]; k_7: 1.0, or 0.8 in groups
        of steel that stretches 8 % or less [-].
    Raises ValueError for a value at or below 0. Limits: f_uk ≤ 1000 MPa; no grout, or up to d/2 of
    strong grout (6.2.2.3).
    """
    require_positive(A_s=A_s, f_uk=f_uk, k_7=k_7)
    k_6 = where(np.less_equal(f_uk, 500.0 * _MPA), 0.6, 0.5)
    return k_7 * k_6 * A_s * f_uk


def V_Rk_s_M(
    A_s: Real, f_uk: Real, l_a: Real, alpha_M: Real, *, N_Ed_over_N_Rd_s: Real = 0.0
) -> Real:
    """Return the resistance V_Rk,s,M of one fastener's steel in shear with lever arm [N].

    EN 1992-4:2018, 7.2.2.3.2: α_M M_Rk,s/l_a, M_Rk,s = 1.2 W_el f_uk (1 − N_Ed/N_Rd,s), W_el of the
    round bar of area A_s.

    A_s: stressed area [m2]; f_uk: characteristic tensile strength [Pa].
    l_a: lever arm [m]: from the middle of the plate to half a diameter inside the concrete.
    alpha_M: 1 where the plate may turn, 2 where it may not [-].
    N_Ed_over_N_Rd_s: use of the steel in tension [-], 0 to 1.
    Raises ValueError for a use outside 0 to 1 or another value at or below 0.
    """
    require_positive(A_s=A_s, f_uk=f_uk, l_a=l_a, alpha_M=alpha_M)
    require_not_negative(N_Ed_over_N_Rd_s=N_Ed_over_N_Rd_s)
    if np.greater(N_Ed_over_N_Rd_s, 1.0).any():
        raise ValueError(
            f"N_Ed_over_N_Rd_s = {N_Ed_over_N_Rd_s!r}: above 1 the steel fails in tension alone; "
            "give a bigger or another anchor"
        )
    d = np.sqrt(4.0 * A_s / np.pi)
    M_Rk_s = 1.2 * np.pi * d**3 / 32.0 * f_uk * (1.0 - N_Ed_over_N_Rd_s)
    return alpha_M * M_Rk_s / l_a


def V_Rk_cp(N_Rk_c: Real, h_ef: Real, *, k_8: Real | None = None) -> Real:
    """Return the pry-out resistance V_Rk,cp of the fasteners in shear [N].

    EN 1992-4:2018, 7.2.2.4, Eq. (7.39): k_8 N_Rk,c; k_8 = 1 for h_ef < 60 mm, else 2, for headed
    fasteners, for others as assessed.

    N_Rk_c: cone resistance of *all* fasteners that carry the shear [N]; h_ef: effective embedment
        [m]; k_8: the assessment's [-].
    Raises ValueError for a value at or below 0.
    """
    require_positive(N_Rk_c=N_Rk_c, h_ef=h_ef)
    if k_8 is None:
        k_8 = where(np.less(h_ef, 60.0 * _MM), 1.0, 2.0)
    require_positive(k_8=k_8)
    return k_8 * N_Rk_c


def c_1_in_narrow_member(c_1: Real, c_2: tuple[Real, Real], h: Real, s_2_max: Real) -> Real:
    """Return the edge distance c'_1 with which edge failure is worked out [m].

    EN 1992-4:2018, 7.2.2.5(7), Eq. (7.50): in a member with c_2,max ≤ 1.5 c_1 and h ≤ 1.5 c_1, the
    greatest of c_2,max/1.5, h/1.5 and s_2,max/3.

    c_1: distance to the edge that is pushed towards [m]; c_2: to the two edges at right angles [m],
        inf where there is none; h: thickness [m]; s_2_max: greatest spacing along the edge [m].
    Raises ValueError for a negative spacing or another value at or below 0. Limits: never more
    than c_1 is given back.
    """
    require_positive(c_1=c_1, c_2_before=c_2[0], c_2_after=c_2[1], h=h)
    require_not_negative(s_2_max=s_2_max)
    c_2_max: Real = np.maximum(c_2[0], c_2[1])
    narrow = np.less_equal(c_2_max, 1.5 * c_1) & np.less_equal(h, 1.5 * c_1)
    greatest: Real = np.maximum(np.maximum(c_2_max / 1.5, h / 1.5), s_2_max / 3.0)
    instead: Real = np.minimum(c_1, greatest)
    return where(narrow, instead, c_1)


def V0_Rk_c(f_ck: Real, c_1: Real, d_nom: Real, l_f: Real, cracked: bool) -> Real:
    """Return the edge resistance V⁰_Rk,c of one fastener [N].

    EN 1992-4:2018, 7.2.2.5, Eqs. (7.41) to (7.43): k_9 d_nom^α l_f^β √f_ck c_1^1.5 in N, mm, MPa,
    α = 0.1 (l_f/c_1)^0.5, β = 0.1 (d_nom/c_1)^0.2, k_9 = 1.7 cracked, 2.4 uncracked.

    f_ck: cylinder strength [Pa]; c_1: distance to the edge [m], after `c_1_in_narrow_member`;
        d_nom: outside diameter [m]; l_f: length that bears, h_ef for a plain shank [m], counted up
        to 12 d_nom, and from d_nom = 24 mm up to the greater of 8 d_nom and 300 mm.
    cracked: whether the concrete may crack there.
    Raises ValueError for a value at or below 0. Limits: d_nom ≤ 60 mm.
    """
    require_positive(f_ck=f_ck, c_1=c_1, d_nom=d_nom, l_f=l_f)
    d, c = d_nom / _MM, c_1 / _MM
    most = where(np.less_equal(d, 24.0), 12.0 * d, np.maximum(8.0 * d, 300.0))
    length: Real = np.minimum(l_f / _MM, most)
    alpha: Real = 0.1 * np.sqrt(length / c)
    beta: Real = 0.1 * (d / c) ** 0.2
    k_9 = 1.7 if cracked else 2.4
    resistance: Real = k_9 * d**alpha * length**beta * np.sqrt(f_ck / _MPA) * c**1.5
    return resistance


def A_c_V(c_1: Real, c_2: tuple[Real, Real], spacings: Sequence[Real], h: Real) -> Real:
    """Return the projected area A_c,V of the broken edge of a row [m2].

    EN 1992-4:2018, 7.2.2.5(4): 1.5 c_1 to either side or to the corner, spacings up to 3 c_1,
    1.5 c_1 deep or the member's thickness. One fastener's is A⁰_c,V = 4.5 c_1² (Eq. 7.44).

    c_1, c_2, h: as for `c_1_in_narrow_member` [m]; spacings: between neighbours along the edge [m].
    Raises ValueError for a distance at or below 0. Limits: the row nearest to the edge.
    """
    require_positive(c_1=c_1, h=h)
    depth: Real = np.minimum(h, 1.5 * c_1)
    return _extent(1.5 * c_1, c_2[0], spacings, c_2[1]) * depth


def psi_s_V(c_2: Real, c_1: Real) -> Real:
    """Return the factor ψ_s,V for the nearer edge at right angles [-].

    EN 1992-4:2018, 7.2.2.5(5), Eq. (7.45): 0.7 + 0.3 c_2/(1.5 c_1) ≤ 1.

    c_2: distance to that edge [m]; c_1: to the edge pushed towards [m]. Raises ValueError for a
    value at or below 0.
    """
    return psi_s_N(c_2, 1.5 * c_1)


def psi_h_V(h: Real, c_1: Real) -> Real:
    """Return the factor ψ_h,V for a member thinner than 1.5 c_1 [-].

    EN 1992-4:2018, 7.2.2.5(6), Eq. (7.46): (1.5 c_1/h)^0.5 ≥ 1.

    h: thickness [m]; c_1: distance to the edge [m]. Raises ValueError for a value at or below 0.
    """
    require_positive(h=h, c_1=c_1)
    factor: Real = np.sqrt(np.maximum(1.5 * c_1 / h, 1.0))
    return factor


def psi_alpha_V(alpha: Real) -> Real:
    """Return the factor ψ_α,V for the direction of the shear [-].

    EN 1992-4:2018, 7.2.2.5(9), Eq. (7.48): √(1/(cos² α + (0.5 sin α)²)) ≥ 1.

    alpha: angle between the shear and the line square to the edge [rad], 0 to π/2.
    Raises ValueError for an angle outside 0 to π/2.
    """
    if not (np.greater_equal(alpha, 0.0) & np.less_equal(alpha, np.pi / 2.0 + 1e-12)).all():
        raise ValueError(
            f"alpha = {alpha!r}: must be from 0 (square to the edge) to π/2 (along it); shear away "
            "from the edge does not break it"
        )
    factor: Real = np.sqrt(1.0 / (np.cos(alpha) ** 2 + (0.5 * np.sin(alpha)) ** 2))
    return factor


def psi_re_V(edge_bars_in_stirrups: bool) -> float:
    """Return the factor ψ_re,V for bars along the edge [-].

    EN 1992-4:2018, 7.2.2.5(10): 1.4 in cracked concrete with edge reinforcement and stirrups or
    mesh at not more than 100 mm and 2 c_1; else 1.0.

    edge_bars_in_stirrups: whether they are known to be there.
    """
    return 1.4 if edge_bars_in_stirrups else 1.0


def interaction_steel(beta_N: Real, beta_V: Real) -> Real:
    """Return the sum that tension and shear together make in one fastener's steel [-]; 1.0 is full.

    EN 1992-4:2018, 7.2.3, Table 7.3: (N_Ed/N_Rd,s)² + (V_Ed/V_Rd,s)² ≤ 1.

    beta_N, beta_V: use in tension and in shear [-]. Raises ValueError for a negative one. Limits:
    without supplementary reinforcement; with a lever arm the tension is in V_Rk,s,M already.
    """
    require_not_negative(beta_N=beta_N, beta_V=beta_V)
    total: Real = np.square(beta_N) + np.square(beta_V)
    return total


def interaction_concrete(beta_N: Real, beta_V: Real) -> Real:
    """Return the sum that tension and shear together make in all but steel [-]; 1.0 is full.

    EN 1992-4:2018, 7.2.3, Table 7.3: β_N^1.5 + β_V^1.5 ≤ 1 (or, instead, β_N + β_V ≤ 1.2, which is
    stricter in the middle and looser at the ends and is not offered).

    beta_N, beta_V: the greatest uses in tension and in shear other than of steel [-]. Raises
    ValueError for a negative one. Limits: without supplementary reinforcement.
    """
    require_not_negative(beta_N=beta_N, beta_V=beta_V)
    total: Real = np.power(beta_N, 1.5) + np.power(beta_V, 1.5)
    return total
