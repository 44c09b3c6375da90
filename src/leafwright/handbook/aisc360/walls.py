"""Flanges and webs of a beam under concentrated forces: ANSI/AISC 360-22, section J10.

For the beam overhead that a top plate hangs from or bears on. The section is for wide-flange and
similar built-up shapes; the side walls of an HSS use its formulas through `hss_joints`. Clauses
were read in a public transcription of the 2022 edition.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import (
    Real,
    Truth,
    require_not_negative,
    require_positive,
    where,
)
from leafwright.handbook.aisc360.safety import Method

# C_r of web sidesway buckling (J10.4) [Pa]: 960,000 ksi below yield in bending, half at yield.
_C_R: Final = 960_000.0 * constants.KSI

# A load across less than this share of the flange's width does not bend it (J10.1).
_LEAST_LOADED_SHARE: Final = 0.15


def flange_bending_applies(loaded_length: Real, b_f: Real) -> Truth:
    """Return whether flange local bending must be checked at all [-].

    ANSI/AISC 360-22, J10.1: not where the load lies across less than 0.15 b_f of the flange.

    loaded_length: length of loading across the flange [m].
    b_f: width of the flange [m].
    Raises ValueError for a value at or below 0. Limits: see `flange_local_bending`.
    """
    require_positive(loaded_length=loaded_length, b_f=b_f)
    return loaded_length >= _LEAST_LOADED_SHARE * b_f


def flange_local_bending(F_yf: Real, t_f: Real, *, distance_to_end: Real = np.inf) -> Real:
    """Return the nominal strength R_n of a flange bent by a pull on it [N].

    ANSI/AISC 360-22, J10.1, Eq. J10-1: 6.25 F_yf t_f², half of it nearer to the member's end
    than 10 t_f. `LimitState.FLANGE_LOCAL_BENDING`.

    F_yf: specified minimum yield stress of the flange [Pa].
    t_f: thickness of the loaded flange [m].
    distance_to_end: from the force to the nearer end of the member [m].
    Raises ValueError for a stress or thickness at or below 0 or a negative distance. Limits: a
    pulling line load across the flange, symmetric about the web, as from a welded plate. Bolts
    through one side of a flange bend it otherwise (prying): a yield-line check is needed there.
    """
    require_positive(F_yf=F_yf, t_f=t_f)
    require_not_negative(distance_to_end=distance_to_end)
    R_n = 6.25 * F_yf * t_f**2
    return where(distance_to_end < 10.0 * t_f, 0.5 * R_n, R_n)


def web_local_yielding(
    F_yw: Real, t_w: Real, k: Real, l_b: Real, d: Real, *, distance_to_end: Real = np.inf
) -> Real:
    """Return the nominal strength R_n of a web yielding at the toe of its fillet [N].

    ANSI/AISC 360-22, J10.2: F_yw t_w (5 k + l_b) (Eq. J10-2) farther from the member's end than
    d, else F_yw t_w (2.5 k + l_b) (Eq. J10-3). `LimitState.WEB_LOCAL_YIELDING`.

    F_yw: specified minimum yield stress of the web [Pa].
    t_w: thickness of the web [m].
    k: from the outer face of the flange to the web toe of the fillet [m].
    l_b: length of bearing along the member [m], 0 for a line load across it; not less than k at
        the end reactions of a beam.
    d: full depth of the member [m].
    distance_to_end: from the force to the nearer end of the member [m].
    Raises ValueError for a negative l_b or distance or any other value at or below 0. Limits:
    pulling or pressing force in the plane of the web.
    """
    require_positive(F_yw=F_yw, t_w=t_w, k=k, d=d)
    require_not_negative(l_b=l_b, distance_to_end=distance_to_end)
    spread = where(distance_to_end > d, 5.0 * k, 2.5 * k)
    return F_yw * t_w * (spread + l_b)


def web_local_crippling(
    F_yw: Real,
    t_w: Real,
    t_f: Real,
    l_b: Real,
    d: Real,
    *,
    distance_to_end: Real = np.inf,
    Q_f: Real = 1.0,
    E: Real = constants.E,
) -> Real:
    """Return the nominal strength R_n of a web crumpling under a pressing force [N].

    ANSI/AISC 360-22, J10.3: Eq. J10-4 at d/2 or more from the member's end; nearer, Eq. J10-5a
    where l_b/d <= 0.2 and J10-5b above. `LimitState.WEB_LOCAL_CRIPPLING`.

    F_yw: specified minimum yield stress of the web [Pa].
    t_w, t_f: thickness of web and of the loaded flange [m].
    l_b: length of bearing along the member [m].
    d: full depth of the member [m].
    distance_to_end: from the force to the nearer end of the member [m].
    Q_f: chord-stress factor [-]: 1.0 for wide-flange shapes, channels and boxes; K1.3 for HSS.
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative l_b or distance or any other value at or below 0. Limits:
    force in the plane of the web.
    """
    require_positive(F_yw=F_yw, t_w=t_w, t_f=t_f, d=d, Q_f=Q_f, E=E)
    require_not_negative(l_b=l_b, distance_to_end=distance_to_end)
    ratio = (t_w / t_f) ** 1.5
    bearing = l_b / d
    inside = 0.80 * (1.0 + 3.0 * bearing * ratio)
    short = 0.40 * (1.0 + 3.0 * bearing * ratio)
    long = 0.40 * (1.0 + (4.0 * bearing - 0.2) * ratio)
    near_end = where(bearing <= 0.2, short, long)
    share = where(distance_to_end >= 0.5 * d, inside, near_end)
    return share * t_w**2 * np.sqrt(E * F_yw * t_f / t_w) * Q_f


def web_sidesway_buckling(
    t_w: Real,
    t_f: Real,
    h: Real,
    L_b: Real,
    b_f: Real,
    M_r: Real,
    M_y: Real,
    method: Method,
    *,
    flange_held_against_rotation: bool,
) -> Real:
    """Return the nominal strength R_n of a web against its tension flange moving sideways [N].

    ANSI/AISC 360-22, J10.4: with x = (h/t_w)/(L_b/b_f), Eq. J10-6 (flange held, x <= 2.3) or
    J10-7 (not held, x <= 1.7); inf above, where it does not apply.
    `LimitState.WEB_SIDESWAY_BUCKLING`. C_r is 960,000 ksi, half of that where
    alpha_s M_r >= M_y (alpha_s = 1.0 LRFD, 1.5 ASD).

    t_w, t_f: thickness of web and flange [m].
    h: clear distance between flanges less the fillets [m].
    L_b: largest length along either flange not braced sideways, at the load [m].
    b_f: width of flange [m].
    M_r: required flexural strength at the force, by the method's load combinations [N m].
    M_y: yield moment F_y S_x [N m].
    method: ASD or LRFD, of M_r.
    flange_held_against_rotation: whether the pressed flange cannot turn about its own length.
    Raises ValueError for a negative M_r or any other value at or below 0. Limits: a single
    pressing force, the flanges free to move sideways against each other at the load.
    """
    require_positive(t_w=t_w, t_f=t_f, h=h, L_b=L_b, b_f=b_f, M_y=M_y)
    require_not_negative(M_r=M_r)
    alpha_s = 1.0 if method == Method.LRFD else 1.5
    C_r = where(alpha_s * M_r < M_y, _C_R, 0.5 * _C_R)
    x = (h / t_w) / (L_b / b_f)
    base = C_r * t_w**3 * t_f / h**2
    if flange_held_against_rotation:
        return where(x <= 2.3, base * (1.0 + 0.4 * x**3), np.inf)
    return where(x <= 1.7, base * 0.4 * x**3, np.inf)


def web_compression_buckling(
    F_yw: Real,
    t_w: Real,
    h: Real,
    *,
    d: Real = 0.0,
    distance_to_end: Real = np.inf,
    Q_f: Real = 1.0,
    E: Real = constants.E,
) -> Real:
    """Return the nominal strength R_n of a web squeezed between two opposite forces [N].

    ANSI/AISC 360-22, J10.5, Eq. J10-8: 24 t_w³ √(E F_yw)/h · Q_f, half of it nearer to the
    member's end than d/2. `LimitState.WEB_COMPRESSION_BUCKLING`.

    F_yw: specified minimum yield stress of the web [Pa].
    t_w: thickness of the web [m].
    h: clear distance between flanges less the fillets [m].
    d: full depth of the member [m]; needed only near an end.
    distance_to_end: from the forces to the nearer end of the member [m].
    Q_f: chord-stress factor [-]: 1.0 for wide-flange shapes, channels and boxes; K1.3 for HSS.
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative depth or distance or any other value at or below 0. Limits:
    forces at both flanges at the same place, short along the member.
    """
    require_positive(F_yw=F_yw, t_w=t_w, h=h, Q_f=Q_f, E=E)
    require_not_negative(d=d, distance_to_end=distance_to_end)
    R_n = 24.0 * t_w**3 * np.sqrt(E * F_yw) / h * Q_f
    return where(distance_to_end < 0.5 * d, 0.5 * R_n, R_n)
