"""A plate or branch that bends a rectangular tube's face, where the side walls do not carry it.

The 2010 edition had these in Table K3.2; since 2016 the specification has them no more (K1 then
asks for rational analysis). B, B_b, l_b and t as in `hss_joints`, whose `face_plastification` is
the strength against a straight pull.
"""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_positive, where
from leafwright.handbook.aisc360.hss_joints import WIDE_BRANCH, face_plastification


def face_moment_along(
    F_y: Real, t: Real, B: Real, B_b: Real, l_b: Real, *, Q_f: Real = 1.0
) -> Real:
    """Return the nominal moment M_n that a plate along the chord may put on its face [N m].

    ANSI/AISC 360-22, J10.10 with commentary K1.2 for each half of the plate, one pulled and one
    pushed, l_b/2 apart (rational analysis, K1): face_plastification of l_b/2 times l_b/2. Under
    Eq. K3-6 of the 2010 edition, which is 1/(2 eta) + 2/√(1 - beta) + eta/(1 - beta) (from
    memory). `LimitState.FACE_PLASTIFICATION`. The moment lies in the plane of plate and chord.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B: width of the chord's face [m].
    B_b: width across the chord of plate or branch [m].
    l_b: length along the chord of plate or branch [m].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: beta up to 0.85, inf above.
    """
    require_positive(F_y=F_y, t=t, B=B, B_b=B_b, l_b=l_b, Q_f=Q_f)
    return face_plastification(F_y, t, B, B_b, 0.5 * l_b, Q_f=Q_f) * 0.5 * l_b


def face_moment_across(
    F_y: Real, t: Real, B: Real, B_b: Real, l_b: Real, *, Q_f: Real = 1.0
) -> Real:
    """Return the nominal moment M_n of a chord's face, the branch bent out of the plane [N m].

    ANSI/AISC 360-10, Table K3.2, Eq. K3-8 (from memory; the same as EN 1993-1-8 Table 7.14; the
    yield-line pattern worked again by virtual work):
    F_y t² (0.5 l_b (1 + beta)/(1 - beta) + √(2 B B_b (1 + beta)/(1 - beta))) Q_f, beta = B_b/B.
    `LimitState.FACE_PLASTIFICATION`. The moment turns the branch about the chord's own length.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B: width of the chord's face [m].
    B_b: width across the chord of plate or branch [m].
    l_b: length along the chord of plate or branch [m].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: beta up to 0.85, inf above; the chord kept
    square.
    """
    require_positive(F_y=F_y, t=t, B=B, B_b=B_b, l_b=l_b, Q_f=Q_f)
    beta = np.minimum(B_b / B, WIDE_BRANCH)
    spread = (1.0 + beta) / (1.0 - beta)
    M_n = F_y * t**2 * (0.5 * l_b * spread + np.sqrt(2.0 * B * B_b * spread)) * Q_f
    return where(B_b / B <= WIDE_BRANCH + 1e-9, M_n, np.inf)
