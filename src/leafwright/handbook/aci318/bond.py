"""Bond of adhesive anchors: ACI 318-19, 17.6.5.

The characteristic bond stresses belong to the product, its temperature, moisture and drilling. The
fall-back values of Table 17.6.5.2.5 are not offered here: without a data sheet the result is held.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leafwright.handbook.aci318._areas import eccentricity_factor, edge_factor, extent
from leafwright.handbook.aci318.kinds import CONSTANTS, Edition
from leafwright.handbook.aci318.tension import Edges
from leafwright.handbook.aisc360._values import Real, require_positive
from leafwright.records import Held


def critical_bond_distance(d_a: Real, tau_uncr: Real, *, edition: Edition = Edition.US) -> Real:
    """Return c_Na, how far out one adhesive anchor needs concrete for its full bond [m].

    ACI 318-19, 17.6.5.1.2, Eq. 17.6.5.1.2b: 10 d_a √(τ_uncr/1100 psi) (7.6 MPa in the metric
    edition).

    d_a: diameter of the anchor [m]; tau_uncr: characteristic bond stress in *uncracked* concrete
        from the data sheet [Pa], used here for cracked concrete too.
    Raises ValueError for a value at or below 0. Limits: 4 d_a ≤ h_ef ≤ 20 d_a (17.3.3).
    """
    require_positive(d_a=d_a, tau_uncr=tau_uncr)
    distance: Real = 10.0 * d_a * np.sqrt(tau_uncr / CONSTANTS[edition].tau_reference)
    return distance


def bond_area_single(c_Na: Real) -> Real:
    """Return A_Nao, the area that one adhesive anchor far from edges works on [m2].

    ACI 318-19, 17.6.5.1.2, Eq. 17.6.5.1.2a: (2 c_Na)².

    c_Na: `critical_bond_distance` [m]. Raises ValueError for a value at or below 0.
    """
    require_positive(c_Na=c_Na)
    return (2.0 * c_Na) ** 2


def bond_area(
    c_Na: Real, edges: Edges, spacings_x: Sequence[Real], spacings_y: Sequence[Real]
) -> Real:
    """Return A_Na, the area that a group of adhesive anchors in tension works on [m2].

    ACI 318-19, 17.6.5.1.1: c_Na out from the outer rows or to the edge, not more than n A_Nao.

    c_Na: `critical_bond_distance` [m].
    edges, spacings_x, spacings_y: as for `tension.tension_breakout_area` [m].
    Raises ValueError for a distance at or below 0. Limits: a full rectangular pattern of the
    anchors that are in tension.
    """
    x = extent(c_Na, edges[0], spacings_x, edges[1])
    y = extent(c_Na, edges[2], spacings_y, edges[3])
    number = (len(spacings_x) + 1) * (len(spacings_y) + 1)
    whole: Real = np.minimum(x * y, number * bond_area_single(c_Na))
    return whole


def basic_bond(tau: Real | None, d_a: Real, h_ef: Real, *, lambda_a: Real = 1.0) -> Real | Held:
    """Return the basic bond strength N_ba of one adhesive anchor [N], or why it is not known.

    ACI 318-19, 17.6.5.2.1, Eq. 17.6.5.2.1: λ_a τ_cr π d_a h_ef; τ_uncr in place of τ_cr where an
    analysis shows no cracks at service load (17.6.5.2.2, clause number remembered).

    tau: characteristic bond stress from the data sheet [Pa], for the concrete's state, the
        temperature, the moisture and the way of drilling; None where the sheet is not at hand.
    d_a: diameter [m]; h_ef: effective embedment [m]; lambda_a: for lightweight concrete in bond
        [-], see `limits.lightweight_factor`.
    Raises ValueError for a value at or below 0. Limits: 4 d_a ≤ h_ef ≤ 20 d_a (17.3.3); concrete
    21 days old or more when the anchor is set (17.2.2).
    """
    require_positive(d_a=d_a, h_ef=h_ef, lambda_a=lambda_a)
    if tau is None:
        return Held(
            "the bond stress of an adhesive anchor belongs to the product",
            (
                "the characteristic bond stress from the product's evaluation report, for cracked "
                "or uncracked concrete, its temperature, moisture and drilling",
            ),
        )
    require_positive(tau=tau)
    return lambda_a * tau * np.pi * d_a * h_ef


def psi_ec_Na(e_N: Real, c_Na: Real) -> Real:
    """Return the factor ψ_ec,Na for tension beside the centroid of the group [-].

    ACI 318-19, 17.6.5.3.1, Eq. 17.6.5.3.1: 1/(1 + e'_N/c_Na) ≤ 1; for two axes the product.

    e_N: distance of the resultant tension from the centroid of the anchors in tension [m]; c_Na:
        `critical_bond_distance` [m]. Raises ValueError for a negative e_N or c_Na at or below 0.
    """
    return eccentricity_factor(e_N, c_Na)


def psi_ed_Na(c_a_min: Real, c_Na: Real) -> Real:
    """Return the factor ψ_ed,Na for the nearest edge in bond [-].

    ACI 318-19, 17.6.5.4.1, Eqs. 17.6.5.4.1a and b: 0.7 + 0.3 c_a,min/c_Na ≤ 1.

    c_a_min: distance to the nearest edge [m]; c_Na: `critical_bond_distance` [m]. Raises ValueError
        for a value at or below 0.
    """
    return edge_factor(c_a_min, c_Na)


def psi_cp_Na(c_a_min: Real, c_ac: Real, c_Na: Real) -> Real:
    """Return the factor ψ_cp,Na against splitting, for uncracked design [-].

    ACI 318-19, 17.6.5.5.1: c_a,min/c_ac, not less than c_Na/c_ac, 1 from c_ac on. Only for
    anchors designed for uncracked concrete without steel against splitting; else 1.0.

    c_a_min: distance to the nearest edge [m]; c_ac: critical edge distance from the data sheet
        [m]; c_Na: `critical_bond_distance` [m]. Raises ValueError for a value at or below 0.
    """
    require_positive(c_a_min=c_a_min, c_ac=c_ac, c_Na=c_Na)
    counted: Real = np.maximum(c_a_min, c_Na)
    factor: Real = np.minimum(counted / c_ac, 1.0)
    return factor


def bond_strength(
    A_Na: Real,
    A_Nao: Real,
    N_ba: Real,
    *,
    psi_ec_Na: Real = 1.0,
    psi_ed_Na: Real = 1.0,
    psi_cp_Na: Real = 1.0,
) -> Real:
    """Return the nominal bond strength N_a or N_ag of an adhesive anchor or a group [N].

    ACI 318-19, 17.6.5.1, Eqs. 17.6.5.1a (single, no ψ_ec,Na) and 17.6.5.1b (group).

    A_Na, A_Nao: `bond_area` and `bond_area_single` [m2]; N_ba: `basic_bond` [N].
    psi_ec_Na, psi_ed_Na, psi_cp_Na: the factors of the same names [-].
    Raises ValueError for a value at or below 0. Limits: as of its parts.
    """
    require_positive(A_Na=A_Na, A_Nao=A_Nao, N_ba=N_ba, psi_ec_Na=psi_ec_Na)
    require_positive(psi_ed_Na=psi_ed_Na, psi_cp_Na=psi_cp_Na)
    return A_Na / A_Nao * psi_ec_Na * psi_ed_Na * psi_cp_Na * N_ba


def sustained_bond(N_ba: Real, phi: Real) -> Real:
    """Return how much lasting tension one adhesive anchor may carry, 0.55 φ N_ba [N].

    ACI 318-19, 17.5.2.2, Eq. 17.5.2.2. It is compared with the factored lasting tension on the
    anchor that carries most of it: a leaf that hangs from adhesive anchors.

    N_ba: `basic_bond` [N]; phi: of bond, `strength.phi_concrete_tension` [-].
    Raises ValueError for a value at or below 0. Limits: horizontal or upward holes need a
    product and installers qualified for them (17.2.3, 26.7).
    """
    require_positive(N_ba=N_ba, phi=phi)
    return 0.55 * phi * N_ba
