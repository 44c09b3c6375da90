"""What chapter 17 asks of concrete, spacing, edge and thickness: ACI 318-19, 17.2, 17.3, 17.9.

The product's own least values, by tests, go first: these are for where it gives none, and a
smaller value by its evaluation report may be used (17.9.1).
"""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aci318.kinds import CONSTANTS, Edition, Kind
from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive

# Table 17.9.2(b): least edge distance in anchor diameters where no product tests are at hand.
_EDGE_DIAMETERS = {
    Kind.TORQUE_CONTROLLED: 8.0,
    Kind.DISPLACEMENT_CONTROLLED: 10.0,
    Kind.SCREW: 6.0,
    Kind.UNDERCUT: 6.0,
    Kind.ADHESIVE: 6.0,
}

# Table 17.9.5: critical edge distance in embedments.
_CRITICAL_EMBEDMENTS = {
    Kind.TORQUE_CONTROLLED: 4.0,
    Kind.DISPLACEMENT_CONTROLLED: 4.0,
    Kind.SCREW: 4.0,
    Kind.UNDERCUT: 2.5,
    Kind.ADHESIVE: 2.0,
}


def usable_concrete(f_c: Real, kind: Kind, *, edition: Edition = Edition.US) -> Real:
    """Return the compressive strength f'c that may be counted [Pa].

    ACI 318-19, 17.3.1: up to 10,000 psi (70 MPa) for cast-in anchors and 8,000 psi (55 MPa) for
    post-installed ones.

    f_c: specified compressive strength f'c [Pa]; kind: of anchor.
    Raises ValueError for a value at or below 0. Limits: post-installed anchors in concrete
    stronger than that need tests.
    """
    require_positive(f_c=f_c)
    own = CONSTANTS[edition]
    counted: Real = np.minimum(f_c, own.f_c_cast_in if kind.cast_in else own.f_c_post_installed)
    return counted


def lightweight_factor(kind: Kind, *, lambda_: Real = 1.0, bond: bool = False) -> Real:
    """Return the factor λ_a for lightweight concrete [-].

    ACI 318-19, 17.2.4.1 and Table 17.2.4.1: 1.0 λ for cast-in and undercut anchors, 0.8 λ for
    expansion, screw and adhesive ones, 0.6 λ for bond; 1.0 in normal-weight concrete (λ = 1).

    kind: of anchor; lambda_: λ of 19.2.4, 0.75 to 1 [-]; bond: for Eq. 17.6.5.2.1.
    Raises ValueError for λ outside 0.75 to 1. Limits: other values by the product's tests.
    """
    if not (np.greater_equal(lambda_, 0.75) & np.less_equal(lambda_, 1.0)).all():
        raise ValueError(
            f"lambda_ = {lambda_!r}: ACI 318-19, 19.2.4, has 0.75 to 1; give 1 for normal-weight "
            "concrete"
        )
    whole = kind.cast_in or kind is Kind.UNDERCUT
    factor = 1.0 if whole else (0.6 if bond else 0.8)
    chosen: Real = np.where(np.less(lambda_, 1.0), factor * lambda_, 1.0)[()]
    return chosen


def least_spacing(kind: Kind, d_a: Real, h_ef: Real, *, torqued: bool = True) -> Real:
    """Return the least distance between anchors, centre to centre [m].

    ACI 318-19, 17.9.2 and Table 17.9.2(a): cast-in 4 d_a, 6 d_a if they are tightened; expansion
    and undercut 6 d_a; screws the greater of 0.6 h_ef and 6 d_a. Adhesive anchors are taken with
    expansion anchors at 6 d_a (remembered).

    kind: of anchor; d_a: diameter [m]; h_ef: effective embedment [m]; torqued: whether cast-in
        anchors are tightened to a torque.
    Raises ValueError for a value at or below 0. Limits: unless bars are placed against splitting.
    """
    require_positive(d_a=d_a, h_ef=h_ef)
    if kind.cast_in and not torqued:
        return 4.0 * d_a
    if kind is Kind.SCREW:
        greater: Real = np.maximum(6.0 * d_a, 0.6 * h_ef)
        return greater
    return 6.0 * d_a


def least_edge_distance(
    kind: Kind,
    d_a: Real,
    cover: Real,
    *,
    torqued: bool = True,
    aggregate: Real = 0.0,
    data_sheet: Real | None = None,
) -> Real:
    """Return the least distance from an anchor to an edge [m].

    ACI 318-19, 17.9.2, Tables 17.9.2(a) and (b): cast-in the cover of 20.5.1.3, 6 d_a if they are
    tightened; post-installed the greatest of that cover, twice the aggregate, and the data sheet's
    least or else 8 d_a (torque-controlled), 10 d_a (displacement-controlled), 6 d_a (screw,
    undercut, adhesive).

    kind: of anchor; d_a: diameter [m]; cover: that 20.5.1.3 asks for over bars [m]; torqued:
        whether cast-in anchors are tightened; aggregate: largest aggregate [m], 0 if not known;
        data_sheet: least edge distance of the product [m].
    Raises ValueError for a negative cover or aggregate or another value at or below 0. Limits:
    unless bars are placed against splitting.
    """
    require_positive(d_a=d_a)
    require_not_negative(cover=cover, aggregate=aggregate)
    if kind.cast_in:
        least: Real = np.maximum(cover, 6.0 * d_a if torqued else 0.0)
        return least
    if data_sheet is None:
        own = _EDGE_DIAMETERS[kind] * d_a
    else:
        require_positive(data_sheet=data_sheet)
        own = data_sheet
    greatest: Real = np.maximum(np.maximum(cover, 2.0 * aggregate), own)
    return greatest


def greatest_embedment(h_a: Real, *, edition: Edition = Edition.US) -> Real:
    """Return the deepest effective embedment h_ef that a member of this thickness allows [m].

    ACI 318-19, 17.9.4: the greater of 2/3 h_a and h_a − 4 in (100 mm), for expansion, screw and
    undercut anchors unless tests show otherwise.

    h_a: thickness of the member [m]. Raises ValueError for a value at or below 0. Limits: the
    product's own least thickness goes first; adhesive anchors have only that.
    """
    require_positive(h_a=h_a)
    greater: Real = np.maximum(2.0 / 3.0 * h_a, h_a - CONSTANTS[edition].behind_anchor)
    return greater


def embedment_range(
    kind: Kind, d_a: float, *, edition: Edition = Edition.US
) -> tuple[float, float]:
    """Return the least and the greatest effective embedment h_ef that the chapter covers [m].

    ACI 318-19, 17.3.3 (adhesive: 4 to 20 d_a) and 17.3.4 (screws: 5 to 10 d_a, 1.5 in or 40 mm at
    least); 0 to inf for other kinds.

    kind: of anchor; d_a: diameter [m]. Raises ValueError for a value at or below 0. Limits: the
    product's own range goes first.
    """
    require_positive(d_a=d_a)
    if kind is Kind.ADHESIVE:
        return 4.0 * d_a, 20.0 * d_a
    if kind is Kind.SCREW:
        return max(5.0 * d_a, CONSTANTS[edition].h_ef_screw), 10.0 * d_a
    return 0.0, float("inf")


def critical_edge_distance(kind: Kind, h_ef: Real) -> Real:
    """Return c_ac, the edge distance from which splitting does not lower the strength [m].

    ACI 318-19, 17.9.5 and Table 17.9.5: 4 h_ef for expansion and screw anchors, 2.5 h_ef for
    undercut, 2 h_ef for adhesive ones, where the product's tests give none.

    kind: of post-installed anchor; h_ef: effective embedment [m].
    Raises ValueError for a cast-in kind or a value at or below 0.
    """
    require_positive(h_ef=h_ef)
    if kind not in _CRITICAL_EMBEDMENTS:
        raise ValueError(
            f"kind = {kind!r}: only post-installed anchors have a critical edge distance c_ac; "
            "leave psi_cp,N at 1 for a cast-in one"
        )
    return _CRITICAL_EMBEDMENTS[kind] * h_ef
