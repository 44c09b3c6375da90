"""Second-order effects in members whose ends stay in place (Appendix 8)."""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where
from leafwright.handbook.aisc360.safety import Method

#: What P_r is raised by to reach its effect at strength level [-]: Eq. A-8-3, alpha.
ALPHA = {Method.ASD: 1.6, Method.LRFD: 1.0}


def elastic_critical_load(I: Real, L_c: Real, *, E: Real = constants.E) -> Real:  # noqa: E741
    """Return the elastic critical load P_e1 of a member in the plane of bending [N].

    ANSI/AISC 360-22, Appendix 8, Eq. A-8-5: P_e1 = π² E I / L_c1².

    I: second moment of area in the plane of bending [m4].
    L_c: effective length in that plane, ends held in place [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: elastic, prismatic.
    """
    require_positive(I=I, L_c=L_c, E=E)
    return np.pi**2 * E * I / np.square(L_c)


def moment_amplifier(P_r: Real, P_e1: Real, method: Method, *, C_m: Real = 1.0) -> Real:
    """Return B_1, what bending along a compressed member grows by [-]; never under 1.

    ANSI/AISC 360-22, Appendix 8, Eq. A-8-3: B_1 = C_m / (1 − α P_r / P_e1), with α = 1.6 for ASD
    and 1.0 for LRFD.

    P_r: compression [N], a magnitude; 0 for a member in tension.
    P_e1: elastic critical load in the plane of bending [N].
    method: ASD or LRFD.
    C_m: equivalent uniform moment factor [-]; 1.0 where loads act between the ends (for an even
        line load that is within 1.2 % of the exact moment up to P = 0.4 P_e1).
    Raises ValueError for a negative P_r or a P_e1 at or below 0. Limits: ends held in place; inf
    where α P_r reaches P_e1, so that the check fails.
    """
    require_not_negative(P_r=P_r, C_m=C_m)
    require_positive(P_e1=P_e1)
    left = 1.0 - ALPHA[method] * P_r / P_e1
    with np.errstate(divide="ignore"):
        grown = np.maximum(1.0, C_m / np.maximum(left, 1e-12))
    return where(left > 1e-9, grown, np.inf)
