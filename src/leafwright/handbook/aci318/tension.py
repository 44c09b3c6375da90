"""Anchors in tension: ACI 318-19, 17.6.1 to 17.6.4 (bond, 17.6.5, is in `bond`).

Edges are given as four distances, (x−, x+, y−, y+), from the outermost anchors *in tension* to
each edge; ``math.inf`` where there is none.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leafwright.handbook.aci318._areas import eccentricity_factor, edge_factor, extent
from leafwright.handbook.aci318.kinds import CONSTANTS, Edition, Kind
from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where
from leafwright.records import Held

Edges = tuple[Real, Real, Real, Real]


def threaded_area(d_a: Real, pitch: Real) -> Real:
    """Return the effective area A_se of a threaded rod or bolt [m2].

    ACI 318-19, R17.6.1.2: π/4 (d_a − 0.9743/n_t)², n_t threads to the inch, so 0.9743 pitches.

    d_a: nominal diameter [m].
    pitch: of the thread [m]; 1 in / n_t.
    Raises ValueError for a value at or below 0. Limits: unified and metric threads.
    """
    require_positive(d_a=d_a, pitch=pitch)
    return np.pi / 4.0 * (d_a - 0.9743 * pitch) ** 2


def steel_tension(A_se_N: Real, f_uta: Real, f_ya: Real, *, edition: Edition = Edition.US) -> Real:
    """Return the nominal strength N_sa of one anchor's steel in tension [N].

    ACI 318-19, 17.6.1.2, Eq. 17.6.1.2: A_se,N f_uta, where f_uta counts up to 1.9 f_ya and
    125,000 psi (860 MPa in the metric edition).

    A_se_N: effective cross-section of one anchor in tension [m2].
    f_uta, f_ya: specified tensile strength and yield of the anchor's steel [Pa].
    Raises ValueError for a value at or below 0. Limits: none stated. For a group it is compared
    with the anchor that pulls hardest (Table 17.5.2).
    """
    require_positive(A_se_N=A_se_N, f_uta=f_uta, f_ya=f_ya)
    counted: Real = np.minimum(np.minimum(f_uta, 1.9 * f_ya), CONSTANTS[edition].f_uta_greatest)
    return A_se_N * counted


def embedment_near_three_edges(h_ef: Real, edges: Edges, s: Real) -> Real:
    """Return the embedment h_ef with which breakout is worked out [m].

    ACI 318-19, 17.6.2.1.2: where anchors lie less than 1.5 h_ef from three or more edges, the
    greater of c_a,max/1.5 and s/3 takes its place in A_Nc, A_Nco and 17.6.2.1 to 17.6.2.4.

    h_ef: effective embedment of the product [m].
    edges: distances to the four edges [m].
    s: greatest spacing of anchors within the group [m]; 0 for a single anchor.
    Raises ValueError for a distance at or below 0 or a negative spacing. Limits: never more
    than h_ef is given back (the clause's s is below 3 h_ef in a group). The rule can *raise* the
    strength a little at the step where the third edge begins to count.
    """
    require_positive(h_ef=h_ef, x_before=edges[0], x_after=edges[1], y_before=edges[2])
    require_positive(y_after=edges[3])
    require_not_negative(s=s)
    count: Real = 0.0
    greatest: Real = 0.0
    for edge in edges:
        near = np.less(edge, 1.5 * h_ef)
        count = count + where(near, 1.0, 0.0)
        greatest = np.maximum(greatest, where(near, edge, 0.0))
    instead: Real = np.minimum(h_ef, np.maximum(greatest / 1.5, s / 3.0))
    return where(np.greater_equal(count, 3.0), instead, h_ef)


def tension_breakout_area_single(h_ef: Real) -> Real:
    """Return A_Nco, the breakout area of one anchor far from edges [m2].

    ACI 318-19, 17.6.2.1.4, Eq. 17.6.2.1.4: 9 h_ef².

    h_ef: effective embedment [m]. Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(h_ef=h_ef)
    return 9.0 * h_ef**2


def tension_breakout_area(
    h_ef: Real, edges: Edges, spacings_x: Sequence[Real], spacings_y: Sequence[Real]
) -> Real:
    """Return A_Nc, the projected breakout area of a group in tension [m2].

    ACI 318-19, 17.6.2.1.1 and Fig. R17.6.2.1: 1.5 h_ef out from the outer rows or to the edge,
    not more than n A_Nco.

    h_ef: effective embedment [m], after `embedment_near_three_edges`.
    edges: distances to the four edges [m], inf where there is none.
    spacings_x, spacings_y: between neighbouring rows [m]; empty for one row.
    Raises ValueError for a distance at or below 0. Limits: a full rectangular pattern of the
    anchors that are in tension.
    """
    x = extent(1.5 * h_ef, edges[0], spacings_x, edges[1])
    y = extent(1.5 * h_ef, edges[2], spacings_y, edges[3])
    number = (len(spacings_x) + 1) * (len(spacings_y) + 1)
    area: Real = np.minimum(x * y, number * tension_breakout_area_single(h_ef))
    return area


def basic_tension_breakout(
    f_c: Real, h_ef: Real, k_c: Real, *, lambda_a: Real = 1.0, edition: Edition = Edition.US
) -> Real:
    """Return the basic breakout strength N_b of one anchor in cracked concrete [N].

    ACI 318-19, 17.6.2.2.1, Eq. 17.6.2.2.1: k_c λ_a √f'c h_ef^1.5 in lb, psi, in (N, MPa, mm in
    the metric edition). k_c = 24 (10) cast-in, 17 (7) post-installed; a product's tests may give
    more, up to 24 (10).

    f_c: specified compressive strength f'c [Pa], after `limits.usable_concrete`.
    h_ef: effective embedment from the data sheet [m].
    k_c: [-], in the edition's own units.
    lambda_a: for lightweight concrete [-], see `limits.lightweight_factor`.
    Raises ValueError for a value at or below 0, or k_c above what the clause allows. Limits:
    anchors up to 4 in diameter (17.3.2). Cast-in headed anchors from 11 to 25 in deep have
    `basic_tension_breakout_deep` instead.
    """
    require_positive(f_c=f_c, h_ef=h_ef, k_c=k_c, lambda_a=lambda_a)
    own = CONSTANTS[edition]
    if np.greater(k_c, own.k_c_greatest).any():
        raise ValueError(
            f"k_c = {k_c!r}: {edition} allows up to {own.k_c_greatest:g} (17.6.2.2.1); give the "
            "data sheet's value in that edition's units"
        )
    strength: Real = k_c * lambda_a * np.sqrt(f_c / own.stress) * (h_ef / own.length) ** 1.5
    return strength * own.force


def basic_tension_breakout_deep(
    f_c: Real, h_ef: Real, *, lambda_a: Real = 1.0, edition: Edition = Edition.US
) -> Real:
    """Return the basic breakout strength N_b of one deep cast-in headed anchor [N].

    ACI 318-19, 17.6.2.2.3, Eq. 17.6.2.2.3: 16 λ_a √f'c h_ef^(5/3) in lb, psi, in (3.9 in N, MPa,
    mm), for 11 in ≤ h_ef ≤ 25 in (280 to 635 mm).

    f_c: specified compressive strength f'c [Pa]; h_ef: effective embedment [m]; lambda_a: for
        lightweight concrete [-].
    Raises ValueError for a value at or below 0. Limits: headed studs and bolts; nan outside the
    range of h_ef.
    """
    require_positive(f_c=f_c, h_ef=h_ef, lambda_a=lambda_a)
    own = CONSTANTS[edition]
    N_b = own.deep * lambda_a * np.sqrt(f_c / own.stress) * (h_ef / own.length) ** (5.0 / 3.0)
    inside = np.greater_equal(h_ef, own.deep_from) & np.less_equal(h_ef, own.deep_to)
    return where(inside, N_b * own.force, np.nan)


def psi_ec_N(e_N: Real, h_ef: Real) -> Real:
    """Return the factor ψ_ec,N for tension beside the centroid of the group [-].

    ACI 318-19, 17.6.2.3.1, Eq. 17.6.2.3.1: 1/(1 + e'_N/(1.5 h_ef)) ≤ 1; for two axes, the
    product of the two.

    e_N: distance e'_N of the resultant tension from the centroid of the anchors in tension [m].
    h_ef: effective embedment [m]. Raises ValueError for a negative e_N or h_ef at or below 0.
    """
    return eccentricity_factor(e_N, 1.5 * h_ef)


def psi_ed_N(c_a_min: Real, h_ef: Real) -> Real:
    """Return the factor ψ_ed,N for the nearest edge in tension [-].

    ACI 318-19, 17.6.2.4.1, Eqs. 17.6.2.4.1a and b: 0.7 + 0.3 c_a,min/(1.5 h_ef) ≤ 1.

    c_a_min: distance to the nearest edge [m], inf where there is none; h_ef: effective embedment
        [m]. Raises ValueError for a value at or below 0.
    """
    return edge_factor(c_a_min, 1.5 * h_ef)


def psi_c_N(kind: Kind, cracked: bool, *, data_sheet: float | None = None) -> float:
    """Return the factor ψ_c,N for concrete without cracks in tension [-].

    ACI 318-19, 17.6.2.5.1: where no cracks are shown at service load 1.25 for cast-in anchors
    and 1.4 for post-installed ones with k_c = 17 (7); else 1.0. A product whose k_c comes from
    its report brings its own ψ_c,N.

    kind: of anchor.
    cracked: whether the concrete may crack there; yes unless an analysis shows otherwise.
    data_sheet: the product's own factor [-], where k_c is the product's own too.
    Raises ValueError for a data-sheet value at or below 0. Limits: post-installed anchors in
    cracked concrete must be qualified for it (17.6.2.5.2).
    """
    if data_sheet is not None:
        require_positive(data_sheet=data_sheet)
        return data_sheet
    if cracked:
        return 1.0
    return 1.25 if kind.cast_in else 1.4


def psi_cp_N(c_a_min: Real, c_ac: Real, h_ef: Real) -> Real:
    """Return the factor ψ_cp,N against splitting, for uncracked design [-].

    ACI 318-19, 17.6.2.6.1: c_a,min/c_ac, not less than 1.5 h_ef/c_ac, 1 from c_ac on. For
    post-installed anchors designed for *uncracked* concrete without steel against splitting;
    1.0 for cast-in anchors (17.6.2.6.2) and for cracked concrete.

    c_a_min: distance to the nearest edge [m]; c_ac: critical edge distance from the data sheet
        [m], else `limits.critical_edge_distance`; h_ef: effective embedment [m].
    Raises ValueError for a value at or below 0. Limits: as above.
    """
    require_positive(c_a_min=c_a_min, c_ac=c_ac, h_ef=h_ef)
    counted: Real = np.maximum(c_a_min, 1.5 * h_ef)
    factor: Real = np.minimum(counted / c_ac, 1.0)
    return factor


def tension_breakout(
    A_Nc: Real,
    A_Nco: Real,
    N_b: Real,
    *,
    psi_ec_N: Real = 1.0,
    psi_ed_N: Real = 1.0,
    psi_c_N: Real = 1.0,
    psi_cp_N: Real = 1.0,
) -> Real:
    """Return the nominal breakout strength N_cb or N_cbg of an anchor or a group [N].

    ACI 318-19, 17.6.2.1, Eqs. 17.6.2.1a (single, no ψ_ec,N) and 17.6.2.1b (group).

    A_Nc, A_Nco: `tension_breakout_area` and `tension_breakout_area_single` [m2].
    N_b: `basic_tension_breakout` [N].
    psi_ec_N, psi_ed_N, psi_c_N, psi_cp_N: the factors of the same names [-].
    Raises ValueError for an area, N_b or factor at or below 0. Limits: as of its parts.
    """
    require_positive(A_Nc=A_Nc, A_Nco=A_Nco, N_b=N_b, psi_ec_N=psi_ec_N, psi_ed_N=psi_ed_N)
    require_positive(psi_c_N=psi_c_N, psi_cp_N=psi_cp_N)
    return A_Nc / A_Nco * psi_ec_N * psi_ed_N * psi_c_N * psi_cp_N * N_b


def pullout_headed(A_brg: Real, f_c: Real, cracked: bool) -> Real:
    """Return the nominal pull-out strength N_pn of one cast-in headed anchor [N].

    ACI 318-19, 17.6.3.1 and 17.6.3.2.2(a), Eqs. 17.6.3.1 and 17.6.3.2.2a: ψ_c,P 8 A_brg f'c,
    with ψ_c,P = 1.4 in uncracked concrete (17.6.3.3.1), else 1.

    A_brg: net bearing area of the head [m2]; f_c: f'c [Pa]; cracked: as for `psi_c_N`.
    Raises ValueError for a value at or below 0. Limits: headed studs and bolts.
    """
    require_positive(A_brg=A_brg, f_c=f_c)
    return (1.0 if cracked else 1.4) * 8.0 * A_brg * f_c


def pullout_post_installed(N_pn: Real | None) -> Real | Held:
    """Return the nominal pull-out strength of one post-installed anchor [N], or why not.

    ACI 318-19, 17.6.3.2.1: it comes from tests by ACI 355.2 and may not be calculated.

    N_pn: the data sheet's value [N] for this concrete, cracked or not; inf where its report says
        that pull-out does not govern; None where the sheet is not at hand.
    Raises ValueError for a value at or below 0. Limits: expansion, screw and undercut anchors.
    """
    if N_pn is None:
        return Held(
            "the pull-out strength of a post-installed anchor may not be calculated "
            "(ACI 318-19, 17.6.3.2.1)",
            ("N_p from the anchor's evaluation report, for this concrete, cracked or uncracked",),
        )
    require_positive(N_pn=N_pn)
    return N_pn


def side_face_blowout(
    h_ef: Real,
    c_a1: Real,
    A_brg: Real,
    f_c: Real,
    *,
    c_a2: Real = np.inf,
    lambda_a: Real = 1.0,
    edition: Edition = Edition.US,
) -> Real:
    """Return the strength N_sb of one deep headed anchor against bursting of a side face [N].

    ACI 318-19, 17.6.4.1, Eq. 17.6.4.1: 160 c_a1 √A_brg λ_a √f'c in lb, in, psi (13 in N, mm,
    MPa), times (1 + c_a2/c_a1)/4 where c_a2 < 3 c_a1 (17.6.4.1.1).

    h_ef: effective embedment [m]; c_a1: distance to the nearest edge [m]; A_brg: net bearing
        area of the head [m2]; f_c: f'c [Pa]; c_a2: distance to the edge at right angles [m], c_a1
        or more; lambda_a: for lightweight concrete [-].
    Raises ValueError for a value at or below 0. Limits: cast-in headed anchors; inf where
    h_ef ≤ 2.5 c_a1, since it does not arise there.
    """
    require_positive(h_ef=h_ef, c_a1=c_a1, A_brg=A_brg, f_c=f_c, c_a2=c_a2, lambda_a=lambda_a)
    own = CONSTANTS[edition]
    corner = (1.0 + np.clip(c_a2 / c_a1, 1.0, 3.0)) / 4.0
    N_sb = own.blowout * c_a1 / own.length * np.sqrt(A_brg) / own.length
    N_sb = N_sb * lambda_a * np.sqrt(f_c / own.stress) * own.force
    return where(np.greater(h_ef, 2.5 * c_a1), N_sb * corner, np.inf)


def side_face_blowout_group(N_sb: Real, s: Real, c_a1: Real) -> Real:
    """Return the strength N_sbg of a row of headed anchors against bursting of a side face [N].

    ACI 318-19, 17.6.4.2, Eq. 17.6.4.2: (1 + s/(6 c_a1)) N_sb.

    N_sb: `side_face_blowout` of one anchor without the corner factor [N]; s: between the outer
        anchors along the edge [m]; c_a1: distance to that edge [m].
    Raises ValueError for a negative s or another value at or below 0. Limits: neighbours closer
    than 6 c_a1.
    """
    require_positive(N_sb=N_sb, c_a1=c_a1)
    require_not_negative(s=s)
    return (1.0 + s / (6.0 * c_a1)) * N_sb
