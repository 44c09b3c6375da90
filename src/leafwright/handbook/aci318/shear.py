"""Anchors in shear: ACI 318-19, 17.7.

c_a1 is the distance from the row that is looked at to the edge that the shear pushes towards, c_a2
the distances to the two edges at right angles to it (``math.inf`` where there is none). Near a
corner each edge is looked at by itself and the smaller strength counts (17.7.2.1(d)).
"""

from __future__ import annotations

import enum
from collections.abc import Sequence

import numpy as np

from leafwright.handbook.aci318._areas import eccentricity_factor, edge_factor, extent
from leafwright.handbook.aci318.kinds import CONSTANTS, Edition, Kind
from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where


class EdgeSteel(enum.StrEnum):
    """What bars run between the anchor and the edge (Table 17.7.2.5.1)."""

    NONE = "none, or edge bars smaller than No. 4 (No. 13)"
    BAR = "a bar of No. 4 (No. 13) or more"
    BAR_IN_STIRRUPS = "such a bar inside stirrups at 4 in (100 mm) or less"


def steel_shear(
    A_se_V: Real,
    f_uta: Real,
    f_ya: Real,
    kind: Kind,
    *,
    grout_pad: bool = False,
    edition: Edition = Edition.US,
) -> Real:
    """Return the nominal strength V_sa of one anchor's steel in shear [N].

    ACI 318-19, 17.7.1.2, Eqs. 17.7.1.2a (headed studs: A_se,V f_uta) and 17.7.1.2b (headed bolts
    and post-installed: 0.6 A_se,V f_uta), f_uta counted up to 1.9 f_ya and 125,000 psi (860 MPa);
    times 0.80 on a built-up grout pad (17.7.1.2.1).

    A_se_V: effective cross-section of one anchor in shear [m2]; f_uta, f_ya: tensile strength and
        yield of its steel [Pa]; kind: of anchor; grout_pad: whether the plate stands on one.
    Raises ValueError for a value at or below 0. Limits: a sleeve through the shear plane has its
    own tests. A plate that stands free of the concrete bends its anchors: not covered.
    """
    require_positive(A_se_V=A_se_V, f_uta=f_uta, f_ya=f_ya)
    counted: Real = np.minimum(np.minimum(f_uta, 1.9 * f_ya), CONSTANTS[edition].f_uta_greatest)
    factor = 1.0 if kind is Kind.HEADED_STUD else 0.6
    return (0.80 if grout_pad else 1.0) * factor * A_se_V * counted


def edge_distance_in_narrow_member(c_a1: Real, c_a2: tuple[Real, Real], h_a: Real, s: Real) -> Real:
    """Return the edge distance c_a1 with which breakout in shear is worked out [m].

    ACI 318-19, 17.7.2.1.2: where both c_a2 and the thickness h_a are less than 1.5 c_a1, c_a1 is
    not more than the greatest of c_a2,max/1.5, h_a/1.5 and s/3.

    c_a1: distance to the edge [m]; c_a2: to the two edges at right angles [m]; h_a: thickness of
        the member [m]; s: greatest spacing at right angles to the shear within the group [m].
    Raises ValueError for a negative s or another value at or below 0. Limits: none stated.
    """
    require_positive(c_a1=c_a1, c_a2_before=c_a2[0], c_a2_after=c_a2[1], h_a=h_a)
    require_not_negative(s=s)
    widest: Real = np.maximum(c_a2[0], c_a2[1])
    narrow = np.less(widest, 1.5 * c_a1) & np.less(h_a, 1.5 * c_a1)
    greatest: Real = np.maximum(np.maximum(widest / 1.5, h_a / 1.5), s / 3.0)
    instead: Real = np.minimum(c_a1, greatest)
    return where(narrow, instead, c_a1)


def shear_breakout_area_single(c_a1: Real) -> Real:
    """Return A_Vco, the breakout area of one anchor in a deep member [m2].

    ACI 318-19, 17.7.2.1.3, Eq. 17.7.2.1.3: 4.5 c_a1².

    c_a1: distance to the edge [m]. Raises ValueError for a value at or below 0.
    """
    require_positive(c_a1=c_a1)
    return 4.5 * c_a1**2


def shear_breakout_area(
    c_a1: Real, c_a2: tuple[Real, Real], spacings: Sequence[Real], h_a: Real
) -> Real:
    """Return A_Vc, the area of the breakout on the side face of the concrete [m2].

    ACI 318-19, 17.7.2.1.1 and Fig. R17.7.2.1b: 1.5 c_a1 to either side of the row or to the
    corner, 1.5 c_a1 deep or the member's thickness, not more than n A_Vco.

    c_a1: distance to the edge [m], after `edge_distance_in_narrow_member`; c_a2: to the two edges
        at right angles [m]; spacings: between neighbours along the edge [m], empty for one anchor;
        h_a: thickness of the member [m].
    Raises ValueError for a distance at or below 0. Limits: one row. With several rows, check the
    front row with its share of the shear and the rear row with all of it (Fig. R17.7.2.1b).
    """
    require_positive(h_a=h_a)
    width = extent(1.5 * c_a1, c_a2[0], spacings, c_a2[1])
    depth: Real = np.minimum(h_a, 1.5 * c_a1)
    number = len(spacings) + 1
    area: Real = np.minimum(width * depth, number * shear_breakout_area_single(c_a1))
    return area


def load_bearing_length(h_ef: Real, d_a: Real, *, distance_sleeve: bool = False) -> Real:
    """Return the length l_e over which an anchor bears on the concrete in shear [m].

    ACI 318-19, 17.7.2.2.1: h_ef for anchors of constant stiffness, 2 d_a for torque-controlled
    ones with a distance sleeve apart from the expansion sleeve, never more than 8 d_a.

    h_ef: effective embedment [m]; d_a: outside diameter [m]; distance_sleeve: as above.
    Raises ValueError for a value at or below 0.
    """
    require_positive(h_ef=h_ef, d_a=d_a)
    length: Real = np.minimum(2.0 * d_a if distance_sleeve else h_ef, 8.0 * d_a)
    return length


def basic_shear_breakout(
    f_c: Real,
    c_a1: Real,
    d_a: Real,
    l_e: Real,
    *,
    welded: bool = False,
    lambda_a: Real = 1.0,
    edition: Edition = Edition.US,
) -> Real:
    """Return the basic breakout strength V_b of one anchor in shear in cracked concrete [N].

    ACI 318-19, 17.7.2.2.1: the lesser of 7 (l_e/d_a)^0.2 √d_a λ_a √f'c c_a1^1.5 (a) and
    9 λ_a √f'c c_a1^1.5 (b) in lb, psi, in (0.6 and 3.7 in N, MPa, mm). For cast-in headed anchors
    welded all round to the plate 8 (0.66) stands for 7 and (b) does not apply (17.7.2.2.2).

    f_c: f'c [Pa]; c_a1: distance to the edge [m]; d_a: outside diameter [m]; l_e:
        `load_bearing_length` [m]; lambda_a: for lightweight concrete [-].
    welded: whether 17.7.2.2.2 applies: plate not thinner than d_a/2 and 3/8 in (10 mm), spacing
        2.5 in (65 mm) or more, bars in the corner where c_a2 ≤ 1.5 h_ef.
    Raises ValueError for a value at or below 0. Limits: anchors up to 4 in diameter (17.3.2).
    """
    require_positive(f_c=f_c, c_a1=c_a1, d_a=d_a, l_e=l_e, lambda_a=lambda_a)
    own = CONSTANTS[edition]
    common = lambda_a * np.sqrt(f_c / own.stress) * (c_a1 / own.length) ** 1.5
    shape = (l_e / d_a) ** 0.2 * np.sqrt(d_a / own.length)
    if welded:
        V_b: Real = own.shear_welded * shape * common
    else:
        V_b = np.minimum(own.shear_a * shape, own.shear_b) * common
    return V_b * own.force


def psi_ec_V(e_V: Real, c_a1: Real) -> Real:
    """Return the factor ψ_ec,V for shear beside the centroid of the row [-].

    ACI 318-19, 17.7.2.3.1, Eq. 17.7.2.3.1: 1/(1 + e'_V/(1.5 c_a1)) ≤ 1.

    e_V: distance e'_V of the shear from the centroid of the anchors that carry it [m]; c_a1:
        distance to the edge [m]. Raises ValueError for a negative e_V or c_a1 at or below 0.
    """
    return eccentricity_factor(e_V, 1.5 * c_a1)


def psi_ed_V(c_a2_min: Real, c_a1: Real) -> Real:
    """Return the factor ψ_ed,V for the nearer edge at right angles [-].

    ACI 318-19, 17.7.2.4.1, Eqs. 17.7.2.4.1a and b: 0.7 + 0.3 c_a2/(1.5 c_a1) ≤ 1.

    c_a2_min: distance to the nearer edge at right angles to the one pushed towards [m]; c_a1:
        distance to that edge [m]. Raises ValueError for a value at or below 0.
    """
    return edge_factor(c_a2_min, 1.5 * c_a1)


def psi_c_V(cracked: bool, edge_steel: EdgeSteel) -> float:
    """Return the factor ψ_c,V for cracks and for bars along the edge [-].

    ACI 318-19, 17.7.2.5.1 and Table 17.7.2.5.1: 1.4 where no cracks are shown at service load;
    else 1.0, 1.2 or 1.4 by the bars along the edge.

    cracked: whether the concrete may crack there; edge_steel: what is known to be there.
    Raises ValueError for edge steel that is none of the three.
    """
    if edge_steel not in tuple(EdgeSteel):
        raise ValueError(f"edge_steel = {edge_steel!r}: give one of {', '.join(EdgeSteel)}")
    if not cracked or edge_steel == EdgeSteel.BAR_IN_STIRRUPS:
        return 1.4
    return 1.2 if edge_steel == EdgeSteel.BAR else 1.0


def psi_h_V(h_a: Real, c_a1: Real) -> Real:
    """Return the factor ψ_h,V for a member thinner than 1.5 c_a1 [-].

    ACI 318-19, 17.7.2.6.1, Eq. 17.7.2.6.1: √(1.5 c_a1/h_a) ≥ 1.

    h_a: thickness of the member [m]; c_a1: distance to the edge [m]. Raises ValueError for a
        value at or below 0.
    """
    require_positive(h_a=h_a, c_a1=c_a1)
    factor: Real = np.sqrt(np.maximum(1.5 * c_a1 / h_a, 1.0))
    return factor


def shear_breakout(
    A_Vc: Real,
    A_Vco: Real,
    V_b: Real,
    *,
    psi_ec_V: Real = 1.0,
    psi_ed_V: Real = 1.0,
    psi_c_V: Real = 1.0,
    psi_h_V: Real = 1.0,
    parallel: bool = False,
) -> Real:
    """Return the nominal breakout strength V_cb or V_cbg of an anchor or a row [N].

    ACI 318-19, 17.7.2.1, Eqs. 17.7.2.1a (single, no ψ_ec,V) and 17.7.2.1b (row), for shear
    towards the edge; for shear along the edge twice that with ψ_ed,V = 1.0 (17.7.2.1(c)).

    A_Vc, A_Vco: `shear_breakout_area` and `shear_breakout_area_single` [m2].
    V_b: `basic_shear_breakout` [N].
    psi_ec_V, psi_ed_V, psi_c_V, psi_h_V: the factors of the same names [-].
    parallel: whether the shear runs along the edge; ψ_ed,V is then left out whatever was given.
    Raises ValueError for a value at or below 0. Limits: as of its parts.
    """
    require_positive(A_Vc=A_Vc, A_Vco=A_Vco, V_b=V_b, psi_ec_V=psi_ec_V, psi_ed_V=psi_ed_V)
    require_positive(psi_c_V=psi_c_V, psi_h_V=psi_h_V)
    towards = A_Vc / A_Vco * psi_ec_V * psi_c_V * psi_h_V * V_b
    return 2.0 * towards if parallel else psi_ed_V * towards


def pryout(N_cp: Real, h_ef: Real, *, edition: Edition = Edition.US) -> Real:
    """Return the nominal strength V_cp or V_cpg against prying out behind the anchor [N].

    ACI 318-19, 17.7.3.1: k_cp N_cp, k_cp = 1.0 for h_ef < 2.5 in (65 mm), 2.0 from there.

    N_cp: breakout in tension (`tension.tension_breakout`) of *all* anchors that carry the
        shear [N]; for adhesive anchors the lesser of that and `bond.bond_strength`.
    h_ef: effective embedment [m]. Raises ValueError for a value at or below 0.
    """
    require_positive(N_cp=N_cp, h_ef=h_ef)
    k_cp = where(np.less(h_ef, CONSTANTS[edition].h_ef_pryout), 1.0, 2.0)
    return k_cp * N_cp
