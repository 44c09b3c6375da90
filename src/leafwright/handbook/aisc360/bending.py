"""Members in bending: ANSI/AISC 360-22, chapter F, for hollow sections and solid bars.

Moments are about one principal axis; points of support are held against turning about the
member's length (F1(b)).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.handbook.aisc360 import classification, constants
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)


@dataclass(frozen=True, slots=True)
class UnbracedLimits:
    """Greatest unbraced length [m] without loss (L_p) and with inelastic loss only (L_r)."""

    L_p: Real
    L_r: Real


def bending_rectangular_hss(
    F_y: Real,
    Z: Real,
    S: Real,
    b_over_t: Real,
    h_over_t: Real,
    *,
    S_e: Real = np.nan,
    E: Real = constants.E,
) -> Real:
    """Return the nominal flexural strength M_n of a square or rectangular HSS [N m].

    ANSI/AISC 360-22, F7.1 to F7.3: the least of yielding (Eq. F7-1), flange local buckling (F7-2
    noncompact, F7-3 slender) and web local buckling (F7-6). `LimitState.BENDING`.

    F_y: specified minimum yield stress [Pa].
    Z, S: plastic and elastic section modulus about the axis of bending [m3].
    b_over_t: flat width over design wall of the compression flange [-], the wall parallel to the
        axis of bending.
    h_over_t: the same of the webs [-].
    S_e: effective section modulus [m3] from `effective_section_modulus`. Needed only where the
        flange is slender; without it the result there is nan.
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: nan where h/t > 5.70 sqrt(E/F_y); no HSS
    has such webs (F7.3, user note), and box sections are not covered. Lateral-torsional buckling
    (F7.4) cannot occur in squares or about the minor axis; about the major axis of a rectangle
    take the lesser of this and `lateral_torsional_rectangular_hss`.
    """
    require_positive(Z=Z, S=S, b_over_t=b_over_t, h_over_t=h_over_t, S_e=S_e)
    flange = classification.rectangular_flange_limits(F_y, E=E)
    web = classification.rectangular_web_limits(F_y, E=E)
    M_p = F_y * Z  # F7-1
    loss = M_p - F_y * S
    M_flange = where(
        b_over_t > flange.lambda_r,
        F_y * S_e,  # F7-3
        M_p - loss * _share(b_over_t, flange),  # F7-2
    )
    M_web = where(
        h_over_t > web.lambda_r,
        np.nan,
        M_p - loss * _share(h_over_t, web),  # F7-6
    )
    M_n: Real = np.minimum(M_flange, M_web)
    return M_n


def _share(slenderness: Real, limits: classification.BendingLimits) -> Real:
    """Return how far past compact an element is: 0 at lambda_p or under, 1 at lambda_r."""
    past = (slenderness - limits.lambda_p) / (limits.lambda_r - limits.lambda_p)
    share: Real = np.maximum(past, 0.0)
    return share


def effective_flange_width(b_over_t: Real, t: Real, F_y: Real, *, E: Real = constants.E) -> Real:
    """Return the effective width b_e of a rectangular HSS's slender compression flange [m].

    ANSI/AISC 360-22, F7.2(c), Eq. F7-4, never more than b.

    b_over_t: flat width over design wall of the compression flange [-].
    t: design wall [m].
    F_y: specified minimum yield stress [Pa].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: the equation is for b/t above
    1.40 sqrt(E/F_y); below, the flange is whole.
    """
    require_positive(b_over_t=b_over_t, t=t)
    lambda_r = classification.rectangular_flange_limits(F_y, E=E).lambda_r
    root = np.sqrt(E / F_y)
    b_e = 1.92 * t * root * (1.0 - 0.38 / b_over_t * root)
    b = b_over_t * t
    return where(b_over_t <= lambda_r, b, np.minimum(b_e, b))


def effective_section_modulus(
    F_y: Real,
    I_x: Real,
    A_g: Real,
    H: Real,
    b_over_t: Real,
    t: Real,
    *,
    E: Real = constants.E,
) -> Real:
    """Return the effective section modulus S_e of a rectangular HSS to its compression face [m3].

    ANSI/AISC 360-22, F7.2(c), below Eq. F7-3: the compression flange is reduced to b_e (Eq.
    F7-4), and the neutral axis moves away from it.

    F_y: specified minimum yield stress [Pa].
    I_x: second moment of area of the whole section about the axis of bending [m4].
    A_g: gross area [m2].
    H: outside depth, at right angles to the axis of bending [m].
    b_over_t: flat width over design wall of the compression flange [-].
    t: design wall [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: equal flanges. Equals I_x/(H/2) where the
    flange is not slender.
    """
    require_positive(I_x=I_x, A_g=A_g, H=H)
    strip, lever = _ineffective_strip(F_y, H, b_over_t, t, E)
    A_eff = A_g - strip
    shift = strip * lever / A_eff
    I_eff = I_x - strip * (lever**2 + t**2 / 12.0) - A_eff * shift**2
    return I_eff / (0.5 * H + shift)


def effective_section_modulus_both_flanges(
    F_y: Real, I_x: Real, H: Real, b_over_t: Real, t: Real, *, E: Real = constants.E
) -> Real:
    """Return S_e of a rectangular HSS with both flanges reduced alike [m3]: simpler, and lower.

    ANSI/AISC 360-22, F7.2(c), Eq. F7-4, by the short cut of AISC's Design Examples v16.0, F.8B:
    the ineffective width is taken from the tension flange too, so that the neutral axis stays.
    `effective_section_modulus` is what the specification asks for.

    F_y: specified minimum yield stress [Pa].
    I_x: second moment of area of the whole section about the axis of bending [m4].
    H: outside depth, at right angles to the axis of bending [m].
    b_over_t: flat width over design wall of the compression flange [-].
    t: design wall [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: equal flanges.
    """
    require_positive(I_x=I_x, H=H)
    strip, lever = _ineffective_strip(F_y, H, b_over_t, t, E)
    return (I_x - 2.0 * strip * (lever**2 + t**2 / 12.0)) / (0.5 * H)


def _ineffective_strip(F_y: Real, H: Real, b_over_t: Real, t: Real, E: Real) -> tuple[Real, Real]:
    """Return the area (b - b_e) t [m2] and its distance from mid-depth [m]."""
    b_e = effective_flange_width(b_over_t, t, F_y, E=E)
    return (b_over_t * t - b_e) * t, 0.5 * (H - t)


def unbraced_limits_rectangular_hss(
    F_y: Real, Z_x: Real, S_x: Real, A_g: Real, r_y: Real, J: Real, *, E: Real = constants.E
) -> UnbracedLimits:
    """Return the limiting unbraced lengths L_p and L_r of a rectangular HSS [m].

    ANSI/AISC 360-22, F7.4, Eqs. F7-10 and F7-11 (F7-12 and F7-13 in the edition before, and
    still so numbered in the Design Examples v16.0).

    F_y: specified minimum yield stress [Pa].
    Z_x, S_x: plastic and elastic section modulus about the major axis [m3].
    A_g: gross area [m2].
    r_y: radius of gyration about the minor axis [m].
    J: torsional constant [m4].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: bending about the major axis.
    """
    require_positive(F_y=F_y, Z_x=Z_x, S_x=S_x, A_g=A_g, r_y=r_y, J=J, E=E)
    root = np.sqrt(J * A_g)
    return UnbracedLimits(
        L_p=0.13 * E * r_y * root / (F_y * Z_x),
        L_r=2.0 * E * r_y * root / (0.7 * F_y * S_x),
    )


def lateral_torsional_rectangular_hss(
    F_y: Real,
    Z_x: Real,
    S_x: Real,
    A_g: Real,
    r_y: Real,
    J: Real,
    L_b: Real,
    *,
    C_b: Real = 1.0,
    E: Real = constants.E,
) -> Real:
    """Return M_n of a rectangular HSS for lateral-torsional buckling alone [N m].

    ANSI/AISC 360-22, F7.4, Eqs. F7-8 and F7-9; F_y Z_x where L_b <= L_p. `LimitState.BENDING`.

    F_y: specified minimum yield stress [Pa].
    Z_x, S_x: plastic and elastic section modulus about the major axis [m3].
    A_g: gross area [m2].
    r_y: radius of gyration about the minor axis [m].
    J: torsional constant [m4].
    L_b: length between points braced against sideways movement of the compression flange or
        against twist [m].
    C_b: moment gradient factor (Eq. F1-1) [-]; 1.0 is safe.
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative L_b or any other value at or below 0. Limits: bending about
    the major axis; squares and minor-axis bending do not buckle so (F7.4, user note).
    """
    require_not_negative(L_b=L_b)
    require_positive(C_b=C_b)
    limits = unbraced_limits_rectangular_hss(F_y, Z_x, S_x, A_g, r_y, J, E=E)
    M_p = F_y * Z_x
    M_r = 0.7 * F_y * S_x
    inelastic = C_b * (M_p - (M_p - M_r) * (L_b - limits.L_p) / (limits.L_r - limits.L_p))
    elastic = 2.0 * E * C_b * np.sqrt(J * A_g) * r_y / np.maximum(L_b, limits.L_r)
    buckling = np.minimum(where(L_b <= limits.L_r, inelastic, elastic), M_p)
    return where(L_b <= limits.L_p, M_p, buckling)


def bending_round_hss(
    F_y: Real, Z: Real, S: Real, D_over_t: Real, *, E: Real = constants.E
) -> Real:
    """Return the nominal flexural strength M_n of a round HSS or pipe [N m].

    ANSI/AISC 360-22, F8: the lesser of yielding (Eq. F8-1) and local buckling (F8-2 noncompact,
    F8-3 with F8-4 slender). `LimitState.BENDING`.

    F_y: specified minimum yield stress [Pa].
    Z, S: plastic and elastic section modulus [m3].
    D_over_t: outside diameter over design wall [-].
    E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0. Limits: D/t < 0.45 E/F_y; nan at or above it.
    """
    require_positive(Z=Z, S=S, D_over_t=D_over_t)
    limits = classification.round_bending_limits(F_y, E=E)
    M_p = F_y * Z  # F8-1
    noncompact = (0.021 * E / D_over_t + F_y) * S  # F8-2
    slender = 0.33 * E / D_over_t * S  # F8-3, F8-4
    local = where(D_over_t <= limits.lambda_r, noncompact, slender)
    M_n = where(D_over_t <= limits.lambda_p, M_p, np.minimum(M_p, local))
    return where(D_over_t < classification.round_validity_limit(F_y, E=E), M_n, np.nan)


def bending_rectangular_bar(
    F_y: Real, d: Real, t: Real, L_b: Real, *, C_b: Real = 1.0, E: Real = constants.E
) -> Real:
    """Return the nominal flexural strength M_n of a solid rectangular bar [N m].

    ANSI/AISC 360-22, F11: the lesser of yielding (Eq. F11-1) and lateral-torsional buckling
    (F11-3; F11-4 with F11-5). `LimitState.BENDING`.

    F_y: specified minimum yield stress [Pa].
    d: depth in the plane of bending [m].
    t: width at right angles to it [m].
    L_b: length between points braced against sideways movement of the compression edge or
        against twist [m].
    C_b: moment gradient factor (Eq. F1-1) [-]; 1.0 is safe.
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative L_b or any other value at or below 0. Limits: a bar bent
    flatwise (d <= t) does not buckle sideways (F11.2(a)).
    """
    require_positive(F_y=F_y, d=d, t=t, C_b=C_b, E=E)
    require_not_negative(L_b=L_b)
    S_x = t * d**2 / 6.0
    M_p = np.minimum(F_y * t * d**2 / 4.0, 1.5 * F_y * S_x)  # F11-1
    slenderness = L_b * d / t**2 * F_y / E
    inelastic = C_b * (1.52 - 0.274 * slenderness) * F_y * S_x  # F11-3
    elastic = 1.9 * C_b * F_y / np.maximum(slenderness, 1.9) * S_x  # F11-4, F11-5
    buckling = np.minimum(where(slenderness <= 1.9, inelastic, elastic), M_p)
    return where(d <= t, M_p, where(slenderness <= 0.08, M_p, buckling))


def bending_round_bar(F_y: Real, D: Real) -> Real:
    """Return the nominal flexural strength M_n of a solid round bar [N m].

    ANSI/AISC 360-22, F11.1, Eq. F11-2: F_y Z but not more than 1.6 F_y S, which governs.
    `LimitState.BENDING`.

    F_y: specified minimum yield stress [Pa].
    D: diameter [m].
    Raises ValueError for a value at or below 0. Limits: none; rounds do not buckle sideways
    (F11.2(a)).
    """
    require_positive(F_y=F_y, D=D)
    M_n: Real = np.minimum(F_y * D**3 / 6.0, 1.6 * F_y * np.pi * D**3 / 32.0)
    return M_n
