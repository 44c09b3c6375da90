"""Welds: ANSI/AISC 360-22, section J2.

Clauses were read in a public transcription of the 2022 edition. The base metal beside a weld is
`connecting.element_shear_yielding` and `element_shear_rupture`; a group under an off-centre load is
`weld_group`; the weld round a tube's end has its own effective length in `hss_joints`; sizes by
AWS's own codes are in `aws`.
"""

from __future__ import annotations

import enum
from typing import Final

import numpy as np

from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)

_INCH: Final = 0.0254
_MM: Final = 0.001
# Thicknesses that come out of a conversion sit a rounding error beside their row.
_EDGE: Final = 1.0 + 1e-9

# Table J2.4: up to this thickness of the thinner part, this least leg [m]; inches and metric.
_FILLET_ROWS: Final = (
    (_INCH / 4, _INCH / 8),
    (_INCH / 2, 3 * _INCH / 16),
    (3 * _INCH / 4, _INCH / 4),
    (np.inf, 5 * _INCH / 16),
)
_FILLET_ROWS_METRIC: Final = (
    (6 * _MM, 3 * _MM),
    (13 * _MM, 5 * _MM),
    (19 * _MM, 6 * _MM),
    (np.inf, 8 * _MM),
)

# Table J2.3: up to this thickness of the thinner part, this least throat [m].
_THROAT_ROWS: Final = (
    (_INCH / 4, _INCH / 8),
    (_INCH / 2, 3 * _INCH / 16),
    (3 * _INCH / 4, _INCH / 4),
    (1.5 * _INCH, 5 * _INCH / 16),
    (2.25 * _INCH, 3 * _INCH / 8),
    (6 * _INCH, _INCH / 2),
    (np.inf, 5 * _INCH / 8),
)
_THROAT_ROWS_METRIC: Final = (
    (6 * _MM, 3 * _MM),
    (13 * _MM, 5 * _MM),
    (19 * _MM, 6 * _MM),
    (38 * _MM, 8 * _MM),
    (57 * _MM, 10 * _MM),
    (150 * _MM, 13 * _MM),
    (np.inf, 16 * _MM),
)

# Below this radius a flare-bevel weld filled flush counts for nothing (Table J2.2, note [a]) [m].
LEAST_FLARE_BEVEL_RADIUS: Final = 3 * _INCH / 8

# Least centre-to-centre spacing of plug welds over the diameter of the hole (J2.3b(b)).
PLUG_SPACING_OVER_DIAMETER: Final = 4.0
# Greatest length and width of a slot over the thickness of its weld (J2.3b(c), (d)).
SLOT_LENGTH_OVER_WELD: Final = 10.0
SLOT_WIDTH_OVER_WELD: Final = 2.25


class Process(enum.StrEnum):
    """Welding processes that Table J2.2 tells apart."""

    GMAW_OR_FCAW_G = "wire with gas"
    SMAW_OR_FCAW_S = "stick, or self-shielded wire"
    SAW = "submerged arc"


_FLARE_BEVEL: Final = {
    Process.GMAW_OR_FCAW_G: 5 / 8,
    Process.SMAW_OR_FCAW_S: 5 / 16,
    Process.SAW: 5 / 16,
}
_FLARE_V: Final = {
    Process.GMAW_OR_FCAW_G: 3 / 4,
    Process.SMAW_OR_FCAW_S: 5 / 8,
    Process.SAW: 1 / 2,
}


def fillet_throat(w_1: Real, w_2: Real | None = None) -> Real:
    """Return the effective throat of a fillet weld between faces at right angles [m].

    ANSI/AISC 360-22, J2.2a: the shortest way from root to face; w/√2 for equal legs.

    w_1, w_2: legs [m]; one only where they are equal.
    Raises ValueError for a leg at or below 0. Limits: faces at right angles; deep penetration
    not counted; a weld ground back has the throat that is left.
    """
    other = w_1 if w_2 is None else w_2
    require_positive(w_1=w_1, w_2=other)
    return w_1 * other / np.hypot(w_1, other)


def fillet_effective_size(w: Real, length: Real) -> Real:
    """Return the leg that may be counted of a short fillet weld [m].

    ANSI/AISC 360-22, J2.2b(c): not more than a quarter of the weld's length.

    w: leg [m].
    length: of the weld [m].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(w=w, length=length)
    size: Real = np.minimum(w, 0.25 * length)
    return size


def fillet_effective_length(length: Real, w: Real) -> Real:
    """Return the effective length of an end-loaded fillet weld [m].

    ANSI/AISC 360-22, J2.2b(d): all of it up to 100 w; beta times it, beta = 1.2 - 0.002 l/w
    (Eq. J2-1), above; 180 w above 300 w.

    length: of the weld, along the force [m].
    w: leg [m].
    Raises ValueError for a value at or below 0. Limits: welds along a member's end that pass its
    axial force; others count whole.
    """
    require_positive(length=length, w=w)
    ratio = length / w
    beta = np.minimum(1.2 - 0.002 * ratio, 1.0)
    return where(ratio > 300.0, 180.0 * w, beta * length)


def directional_factor(theta: Real) -> Real:
    """Return the directional strength increase k_ds of a fillet weld [-].

    ANSI/AISC 360-22, J2.4(a)(1), Eq. J2-5: 1.0 + 0.50 sin^1.5 theta.

    theta: angle between the force and the weld's length [rad], 0 to π/2.
    Raises ValueError for an angle out of range. Limits: only where the parts of the group
    stretch alike (a straight or parallel group loaded through its centre; the instantaneous
    centre method). 1.0 for the end of a rectangular HSS in tension (J2.4(a)(2)) and for the
    elastic method of `weld_group`.
    """
    require_not_negative(theta=theta)
    if np.greater(theta, np.pi / 2 * _EDGE).any():
        raise ValueError(
            f"theta = {theta!r}: over a right angle; give the acute angle between force and weld "
            "in radians"
        )
    return 1.0 + 0.50 * np.sin(theta) ** 1.5


def weld_shear(F_EXX: Real, A_we: Real, *, k_ds: Real = 1.0) -> Real:
    """Return the nominal strength R_n of the metal of fillet, plug, slot or PJP welds [N].

    ANSI/AISC 360-22, J2.4, Eqs. J2-3 and J2-4 with Table J2.5: 0.60 F_EXX A_we k_ds.
    `LimitState.WELD_SHEAR`; for a PJP groove weld pulled at right angles to its length the same
    number with `LimitState.GROOVE_WELD_TENSION`.

    F_EXX: filler metal classification strength [Pa]; 70 ksi for E70 and ER70.
    A_we: effective area: throat times effective length, or the area of plug or slot [m2].
    k_ds: directional increase [-], fillet welds only; see `directional_factor`.
    Raises ValueError for F_EXX at or below 0, a negative area or k_ds below 1. Limits: the
    filler not stronger than one level over matching; the base metal is checked apart.
    """
    require_positive(F_EXX=F_EXX)
    require_not_negative(A_we=A_we)
    if np.less(k_ds, 1.0).any():
        raise ValueError(f"k_ds = {k_ds!r}: must be 1.0 or more; take it from directional_factor")
    return 0.60 * F_EXX * A_we * k_ds


def groove_weld_compression(F_EXX: Real, A_we: Real) -> Real:
    """Return the nominal strength R_n of PJP groove weld metal in compression [N].

    ANSI/AISC 360-22, Table J2.5: 0.90 F_EXX A_we, for joints not finished to bear.
    `LimitState.GROOVE_WELD_TENSION`.

    F_EXX: filler metal classification strength [Pa].
    A_we: effective area [m2].
    Raises ValueError for F_EXX at or below 0 or a negative area. Limits: at right angles to the
    weld's length.
    """
    require_positive(F_EXX=F_EXX)
    require_not_negative(A_we=A_we)
    return 0.90 * F_EXX * A_we


def fillet_group_strength(R_nwl: Real, R_nwt: Real) -> Real:
    """Return the nominal strength R_n of fillets both along and across the load [N].

    ANSI/AISC 360-22, J2.4(b), Eq. J2-6, or J2.4(a) without increase, whichever is more:
    max(0.85 R_nwl + 1.5 R_nwt, R_nwl + R_nwt). `LimitState.WELD_SHEAR`.

    R_nwl: nominal strength of the welds along the load, k_ds = 1 [N].
    R_nwt: nominal strength of the welds across the load, k_ds = 1 [N].
    Raises ValueError for a negative strength. Limits: one leg size, load through the centre of
    the group; not the end of a rectangular HSS in tension.
    """
    require_not_negative(R_nwl=R_nwl, R_nwt=R_nwt)
    R_n: Real = np.maximum(0.85 * R_nwl + 1.5 * R_nwt, R_nwl + R_nwt)
    return R_n


def base_metal_thickness(F_EXX: Real, w: Real, F_u: Real, *, welds_on_it: int = 1) -> Real:
    """Return the thickness at which base metal is as strong in shear as its fillet weld [m].

    AISC Steel Construction Manual, 16th ed., Eqs. 9-5 and 9-6 (3.09 D/F_u, 6.19 D/F_u with 70 ksi
    metal, D in sixteenths): F_EXX w/√2 times the welds, over F_u.

    F_EXX: filler metal classification strength [Pa].
    w: leg of each weld [m].
    F_u: specified minimum tensile strength of the base metal [Pa].
    welds_on_it: welds that load the same thickness: 1, or 2 for one each side of a plate.
    Raises ValueError for a value at or below 0. Limits: weld along the force; a thinner part
    governs its weld in proportion.
    """
    require_positive(F_EXX=F_EXX, w=w, F_u=F_u, welds_on_it=welds_on_it)
    return welds_on_it * F_EXX * fillet_throat(w) / F_u


def minimum_fillet(thinner: float, *, metric: bool = False) -> float:
    """Return the least leg of a fillet weld [m].

    ANSI/AISC 360-22, Table J2.4, in inches or, metric, in millimetres.

    thinner: thickness of the thinner part joined [m].
    metric: whether the table's millimetres are used.
    Raises ValueError for a thickness at or below 0. Limits: single pass; not for fillets that
    reinforce a groove. AWS D1.1 lets it be no more than the thinner part: `aws.minimum_fillet`.
    """
    require_positive(thinner=thinner)
    return _row(_FILLET_ROWS_METRIC if metric else _FILLET_ROWS, thinner)


def maximum_fillet(edge: float, *, metric: bool = False) -> float:
    """Return the greatest leg of a fillet weld along an edge [m].

    ANSI/AISC 360-22, J2.2b(b): the thickness under 1/4 in (6 mm), else 1/16 in (2 mm) less.

    edge: thickness of the part along whose edge it runs [m].
    metric: whether the clause's millimetres are used.
    Raises ValueError for a thickness at or below 0. Limits: unless the drawing calls for the
    edge to be built out to a full throat.
    """
    require_positive(edge=edge)
    thin, less = (6 * _MM, 2 * _MM) if metric else (_INCH / 4, _INCH / 16)
    return edge if edge < thin / _EDGE else edge - less


def minimum_groove_throat(thinner: float, *, metric: bool = False) -> float:
    """Return the least effective throat of a partial-penetration groove weld [m].

    ANSI/AISC 360-22, Table J2.3, in inches or, metric, in millimetres.

    thinner: thickness of the thinner part joined [m].
    metric: whether the table's millimetres are used.
    Raises ValueError for a thickness at or below 0. Limits: none stated.
    """
    require_positive(thinner=thinner)
    return _row(_THROAT_ROWS_METRIC if metric else _THROAT_ROWS, thinner)


def flare_bevel_throat(R: Real, process: Process, *, below_flush: Real = 0.0) -> Real:
    """Return the effective throat of a flare-bevel groove weld [m].

    ANSI/AISC 360-22, Table J2.2: 5/8 R with gas-shielded wire, 5/16 R with stick, self-shielded
    wire and submerged arc, less what it is filled short of flush (J2.1a).

    R: outside corner radius of the tube [m]; 2 t with t the design wall where it is not measured.
    process: by which it is made.
    below_flush: greatest depth of the weld's face under flush [m].
    Raises ValueError for R at or below 0 or a negative depth. Limits: R of 3/8 in or more; 0
    below, where only a reinforcing fillet on the flush joint counts (note [a]). A tube of 0.120
    in wall has R of about 0.22 in.
    """
    require_positive(R=R)
    require_not_negative(below_flush=below_flush)
    throat = np.maximum(_FLARE_BEVEL[process] * R - below_flush, 0.0)
    return where(R * _EDGE >= LEAST_FLARE_BEVEL_RADIUS, throat, 0.0)


def flare_v_throat(R: Real, process: Process, *, below_flush: Real = 0.0) -> Real:
    """Return the effective throat of a flare-V groove weld between two round corners [m].

    ANSI/AISC 360-22, Table J2.2: 3/4 R with gas-shielded wire, 5/8 R with stick or self-shielded
    wire, 1/2 R with submerged arc, less what it is filled short of flush (J2.1a).

    R: outside corner radius of the tubes [m], the smaller; 2 t with t the design wall where it
        is not measured.
    process: by which it is made.
    below_flush: greatest depth of the weld's face under flush [m].
    Raises ValueError for R at or below 0 or a negative depth. Limits: none stated.
    """
    require_positive(R=R)
    require_not_negative(below_flush=below_flush)
    throat: Real = np.maximum(_FLARE_V[process] * R - below_flush, 0.0)
    return throat


def plug_area(d: Real) -> Real:
    """Return the effective shear area of a plug weld [m2].

    ANSI/AISC 360-22, J2.3a: the area of the hole at the faying surface.

    d: diameter of the hole at the faying surface [m].
    Raises ValueError for d at or below 0. Limits: shear in a lap joint only; hole of the right
    size (J2.3b(a), `aws.plug_hole`) and filled as `plug_weld_thickness` says.
    """
    require_positive(d=d)
    return np.pi / 4.0 * d**2


def slot_area(width: Real, length: Real) -> Real:
    """Return the effective shear area of a slot weld with round ends [m2].

    ANSI/AISC 360-22, J2.3a: the area of the slot at the faying surface.

    width, length: of the slot, length over all [m].
    Raises ValueError for a width at or below 0 or a length under the width. Limits: width not
    over `SLOT_WIDTH_OVER_WELD`, length not over `SLOT_LENGTH_OVER_WELD` times the thickness of
    the weld.
    """
    require_positive(width=width)
    if np.less(length, width).any():
        raise ValueError(
            f"length = {length!r} m is under width = {width!r} m; give the slot's length over all"
        )
    return np.pi / 4.0 * width**2 + (length - width) * width


def plug_weld_thickness(t: float) -> float:
    """Return how thick a plug or slot weld must be filled [m].

    ANSI/AISC 360-22, J2.3b(h): the whole thickness up to 5/8 in, above that half of it, not
    less than 5/8 in.

    t: thickness of the part with the hole [m].
    Raises ValueError for t at or below 0. Limits: none stated.
    """
    require_positive(t=t)
    return min(t, max(0.5 * t, 5 * _INCH / 8))


def fillet_in_hole_area(d: Real, w: Real) -> Real:
    """Return the effective area of a fillet weld round the inside of a hole [m2].

    ANSI/AISC 360-22, J2.2a: throat times the length of its centre line through the middle of the
    throat, here π (d - w/2), not more than the area of the hole. Such a weld is no plug weld
    (J2.2b(h)).

    d: diameter of the hole [m].
    w: leg, not more than the thickness of the part with the hole [m].
    Raises ValueError for a value at or below 0. Limits: equal legs; where the fillets meet in
    the middle (w over d/2) the hole's area governs.
    """
    require_positive(d=d, w=w)
    area: Real = np.minimum(
        fillet_throat(w) * np.pi * np.maximum(d - 0.5 * w, 0.0), np.pi / 4.0 * d**2
    )
    return where(w > 0.5 * d, np.pi / 4.0 * d**2, area)


def _row(rows: tuple[tuple[float, float], ...], thickness: float) -> float:
    return next(size for upper, size in rows if thickness <= upper * _EDGE)
