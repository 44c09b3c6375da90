"""Plates and tubes welded to a tube's wall: ANSI/AISC 360-22, chapter K, with J4 and J10.

Since 2016 the specification has no table for the T-, Y- and cross-joints of rectangular HSS: K3.3
sends the reader to chapter J, and the commentary to K1 says how. Each limit state has a function
here; `joint_limits.rectangular_limits` says what is outside the range in which they were tested,
where they are no longer an answer (K1: rational analysis). Round chords: `round_joints`.

B is the chord's face that the branch stands on, H its depth; B_b the branch's width across the
chord, H_b its depth along it. t and t_b are *design* walls (B4.2). theta is the acute angle between
branch and chord [rad]. Strengths are forces along the branch, magnitudes. Clauses were read in two
public transcriptions of the 2022 edition; eccentric, multiplanar and K-joints are not covered.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import constants, walls
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)
from leafwright.handbook.aisc360.safety import Method

# From here on the side walls carry the load and the face no longer bends (commentary K1.2).
WIDE_BRANCH: Final = 0.85


def effective_width(B: Real, t: Real, F_y: Real, B_b: Real, t_b: Real, F_yb: Real) -> Real:
    """Return the effective width B_e of a plate or branch wall across a rectangular chord [m].

    ANSI/AISC 360-22, K1.2a, Eq. K1-1: (10/(B/t)) (F_y t/(F_yb t_b)) B_b, not more than B_b.

    B, t: width of the chord's face and its wall [m].
    F_y: yield stress of the chord [Pa].
    B_b, t_b: width of plate or branch across the chord, and its thickness [m].
    F_yb: yield stress of plate or branch [Pa].
    Raises ValueError for a value at or below 0. Limits: those of `joint_limits`.
    """
    require_positive(B=B, t=t, F_y=F_y, B_b=B_b, t_b=t_b, F_yb=F_yb)
    B_e: Real = np.minimum(10.0 * t / B * (F_y * t) / (F_yb * t_b) * B_b, B_b)
    return B_e


def effective_punching_width(B: Real, t: Real, B_b: Real) -> Real:
    """Return the effective width B_ep of a chord's face for punching [m].

    ANSI/AISC 360-22, K1.2a, Eq. K1-2: (10/(B/t)) B_b, not more than B_b.

    B, t: width of the chord's face and its wall [m].
    B_b: width of plate or branch across the chord [m].
    Raises ValueError for a value at or below 0. Limits: those of `joint_limits`.
    """
    require_positive(B=B, t=t, B_b=B_b)
    B_ep: Real = np.minimum(10.0 * t / B * B_b, B_b)
    return B_ep


def chord_use(P_ro: Real, M_ro: Real, F_y: Real, A_g: Real, S: Real, method: Method) -> Real:
    """Return the utilization U of the chord at the joint [-], for `chord_stress_factor`.

    ANSI/AISC 360-22, K1.3, Eq. K1-6: |P_ro/(F_c A_g) + M_ro/(F_c S)|, F_c = F_y (LRFD) or
    0.60 F_y (ASD).

    P_ro: required axial force in the chord [N]: on the side of the joint with the lower
        compression for round, with the higher for rectangular; magnitude.
    M_ro: required moment in the chord there [N m], magnitude.
    F_y: yield stress of the chord [Pa].
    A_g: gross area of the chord [m2].
    S: elastic section modulus of the chord [m3].
    method: ASD or LRFD, of the forces.
    Raises ValueError for a negative force or moment or any other value at or below 0. Limits:
    both act so as to press the face that the branch stands on; above 1.0 the chord itself fails.
    """
    require_not_negative(P_ro=P_ro, M_ro=M_ro)
    require_positive(F_y=F_y, A_g=A_g, S=S)
    F_c = F_y if method == Method.LRFD else 0.60 * F_y
    return P_ro / (F_c * A_g) + M_ro / (F_c * S)


def chord_stress_factor(U: Real, beta: Real) -> Real:
    """Return Q_f for a branch or a plate across a rectangular chord [-].

    ANSI/AISC 360-22, K1.3(c)(1), Eq. K1-4: 1.3 - 0.4 U/beta, from 0.4 to 1.0. 1.0 where the
    face is pulled (K1.3(a)): pass U = 0.

    U: utilization of the chord [-], see `chord_use`.
    beta: width of branch or plate over width of chord, B_b/B [-].
    Raises ValueError for a negative U or beta at or below 0. Limits: face in compression.
    """
    require_not_negative(U=U)
    require_positive(beta=beta)
    Q_f: Real = np.clip(1.3 - 0.4 * U / beta, 0.4, 1.0)
    return Q_f


def chord_stress_factor_round(U: Real) -> Real:
    """Return Q_f for any joint on a round chord, or a plate along a rectangular one [-].

    ANSI/AISC 360-22, K1.3(b) and (c)(3), Eq. K1-5 (K1-3 for round): 1 - 0.3 U (1 + U), up to
    1.0. 1.0 where the face is pulled (K1.3(a)): pass U = 0.

    U: utilization of the chord [-], see `chord_use`.
    Raises ValueError for a negative U. Limits: U up to 1.0; nan above, where the chord fails.
    """
    require_not_negative(U=U)
    return where(U <= 1.0, 1.0 - 0.3 * U * (1.0 + U), np.nan)


def end_distance_rectangular(B: Real, beta: Real) -> Real:
    """Return how far from the chord's open end a branch must stay for full strength [m].

    ANSI/AISC 360-22, K1.4(a), Eq. K1-7: B √(1 - beta), for beta <= 0.85. Nearer, the joint has
    half its strength, unless the end is closed with a plate welded all round.

    B: width of the chord's face [m].
    beta: B_b/B [-].
    Raises ValueError for B or beta at or below 0. Limits: 0 above beta = 0.85, where the clause
    gives none.
    """
    require_positive(B=B, beta=beta)
    return where(beta <= WIDE_BRANCH, B * np.sqrt(np.maximum(1.0 - beta, 0.0)), 0.0)


def end_distance_round(D: Real, beta: Real) -> Real:
    """Return how far from a round chord's open end a branch must stay for full strength [m].

    ANSI/AISC 360-22, K1.4(b), Eq. K1-8: D (1.25 - beta/2). Nearer, half the strength.

    D: outside diameter of the chord [m].
    beta: width of branch or plate over D [-].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(D=D, beta=beta)
    return D * (1.25 - 0.5 * beta)


def face_plastification(
    F_y: Real, t: Real, B: Real, B_b: Real, l_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength P_n of a rectangular chord's face in yield-line bending [N].

    ANSI/AISC 360-22, J10.10 with commentary K1.2; the yield-line pattern is that of Eq. K2-7 of
    the 2010 edition: P_n sin theta = F_y t² (2 eta/(1 - beta) + 4/√(1 - beta)) Q_f, with
    beta = B_b/B and eta = l_b/B. `LimitState.FACE_PLASTIFICATION`. Also for a plate: along the
    chord B_b is its thickness, across it l_b is.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B: width of the chord's face [m].
    B_b: width of branch or plate across the chord [m].
    l_b: length of branch or plate along the chord, H_b/sin theta [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-]; multiplies the whole, which is safe for a plate along the chord.
    Raises ValueError for a value at or below 0. Limits: beta up to 0.85, inf above, where the
    side walls govern. The wall gives visibly before this is reached (K1, user note).
    """
    require_positive(F_y=F_y, t=t, B=B, B_b=B_b, l_b=l_b, theta=theta, Q_f=Q_f)
    free = np.maximum(1.0 - B_b / B, 1.0 - WIDE_BRANCH - 1e-9)
    P_n = F_y * t**2 * (2.0 * l_b / B / free + 4.0 / np.sqrt(free)) * Q_f / np.sin(theta)
    return where(B_b / B <= WIDE_BRANCH + 1e-9, P_n, np.inf)


def face_punching(
    F_y: Real,
    t: Real,
    B: Real,
    B_b: Real,
    l_b: Real,
    *,
    theta: Real = np.pi / 2,
) -> Real:
    """Return the nominal strength P_n against punching through a rectangular chord's face [N].

    ANSI/AISC 360-22, J4.2(a) (Eq. J4-3) with commentary Table C-K1.1:
    P_n sin theta = 0.60 F_y t (2 l_b + 2 B_ep). `LimitState.HSS_PUNCHING`. For a plate across
    the chord l_b is its thickness.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B: width of the chord's face [m].
    B_b: width of branch or plate across the chord [m].
    l_b: length of branch or plate along the chord, H_b/sin theta [m].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: inf where B_b > B - 2 t, where the
    branch stands on the side walls and cannot punch between them.
    """
    require_positive(F_y=F_y, l_b=l_b, theta=theta)
    B_ep = effective_punching_width(B, t, B_b)
    P_n = 0.60 * F_y * t * (2.0 * l_b + 2.0 * B_ep) / np.sin(theta)
    return where(B_b <= B - 2.0 * t, P_n, np.inf)


def sidewall_yielding(
    F_y: Real,
    t: Real,
    l_b: Real,
    k: Real,
    H: Real,
    *,
    theta: Real = np.pi / 2,
    distance_to_end: Real = np.inf,
) -> Real:
    """Return the nominal strength P_n of a rectangular chord's two side walls, yielding [N].

    ANSI/AISC 360-22, J10.2 (Eqs. J10-2, J10-3) for both walls, commentary K1.2:
    P_n sin theta = 2 F_y t (5 k + l_b). `LimitState.WEB_LOCAL_YIELDING`. Pulled or pressed.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    l_b: length of branch or plate along the chord, H_b/sin theta [m].
    k: outside corner radius of the chord [m]; 1.5 t where it is not known (2010 edition, K2).
    H: depth of the chord [m].
    theta: angle between branch and chord [rad].
    distance_to_end: from the joint to the nearer end of the chord [m].
    Raises ValueError for a negative distance or any other value at or below 0. Limits: beta of
    0.85 or more; below, the face fails first.
    """
    require_positive(F_y=F_y, t=t, l_b=l_b, k=k, H=H, theta=theta)
    one = walls.web_local_yielding(F_y, t, k, l_b, H, distance_to_end=distance_to_end)
    return 2.0 * one / np.sin(theta)


def sidewall_crippling(
    F_y: Real,
    t: Real,
    l_b: Real,
    H: Real,
    *,
    theta: Real = np.pi / 2,
    Q_f: Real = 1.0,
    distance_to_end: Real = np.inf,
    E: Real = constants.E,
) -> Real:
    """Return the nominal strength P_n of a chord's two side walls, crumpling at a T or Y [N].

    ANSI/AISC 360-22, J10.3 (Eqs. J10-4, J10-5) for both walls with t_f = t and depth H - 3 t
    (Eq. K2-10 of the 2010 edition): 1.6 t² (1 + 3 l_b/(H - 3 t)) √(E F_y) Q_f / sin theta.
    `LimitState.WEB_LOCAL_CRIPPLING`.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    l_b: length of branch or plate along the chord, H_b/sin theta [m].
    H: depth of the chord [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    distance_to_end: from the joint to the nearer end of the chord [m].
    E: modulus of elasticity [Pa].
    Raises ValueError for a negative distance, H at or below 3 t, or any other value at or below
    0. Limits: a pressing branch, beta of 0.85 or more.
    """
    require_positive(F_y=F_y, t=t, l_b=l_b, H=H, theta=theta)
    _require_hollow("H", H, 3.0 * t)
    one = walls.web_local_crippling(
        F_y, t, t, l_b, H - 3.0 * t, distance_to_end=distance_to_end, Q_f=Q_f, E=E
    )
    return 2.0 * one / np.sin(theta)


def sidewall_buckling(
    F_y: Real,
    t: Real,
    H: Real,
    *,
    theta: Real = np.pi / 2,
    Q_f: Real = 1.0,
    E: Real = constants.E,
) -> Real:
    """Return the nominal strength P_n of a chord's two side walls squeezed at a cross-joint [N].

    ANSI/AISC 360-22, J10.5 (Eq. J10-8) for both walls with h = H - 3 t (Eq. K2-11 of the 2010
    edition): 48 t³/(H - 3 t) √(E F_y) Q_f / sin theta. `LimitState.WEB_COMPRESSION_BUCKLING`.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    H: depth of the chord [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    E: modulus of elasticity [Pa].
    Raises ValueError for H at or below 3 t or any other value at or below 0. Limits: two
    pressing branches on opposite faces, beta of 0.85 or more.
    """
    require_positive(F_y=F_y, t=t, H=H, theta=theta)
    _require_hollow("H", H, 3.0 * t)
    one = walls.web_compression_buckling(F_y, t, H - 3.0 * t, Q_f=Q_f, E=E)
    return 2.0 * one / np.sin(theta)


def plate_yielding(F_yb: Real, t_b: Real, B_e: Real) -> Real:
    """Return the nominal strength R_n of a plate across a chord, yielding unevenly [N].

    ANSI/AISC 360-22, J4.1(a) with commentary Table C-K1.1: R_n = F_yb t_b B_e.
    `LimitState.TENSION_YIELDING` (0.90; earlier editions allowed 0.95).

    F_yb: yield stress of the plate [Pa].
    t_b: thickness of the plate [m].
    B_e: effective width [m], see `effective_width`.
    Raises ValueError for a value at or below 0. Limits: those of `joint_limits`.
    """
    require_positive(F_yb=F_yb, t_b=t_b, B_e=B_e)
    return F_yb * t_b * B_e


def branch_yielding(F_yb: Real, A_b: Real, B_b: Real, H_b: Real, B_e: Real) -> Real:
    """Return the nominal strength P_n of a branch yielding unevenly at the joint [N].

    ANSI/AISC 360-22, J4.1(a) with commentary Table C-K1.1: P_n = F_yb A_b (B_e + H_b)/(B_b + H_b).
    `LimitState.TENSION_YIELDING`, pulled or pressed.

    F_yb: yield stress of the branch [Pa].
    A_b: gross area of the branch [m2].
    B_b, H_b: width across and depth along the chord of the branch [m].
    B_e: effective width [m], see `effective_width`.
    Raises ValueError for a value at or below 0. Limits: those of `joint_limits`.
    """
    require_positive(F_yb=F_yb, A_b=A_b, B_b=B_b, H_b=H_b, B_e=B_e)
    return F_yb * A_b * (B_e + H_b) / (B_b + H_b)


def branch_yielding_in_plane(
    F_yb: Real, Z_b: Real, B_b: Real, H_b: Real, t_b: Real, B_e: Real
) -> Real:
    """Return the nominal moment M_n of a branch yielding unevenly, bent in the plane [N m].

    ANSI/AISC 360-22, commentary Table C-K1.1: F_yb (Z_b - (1 - B_e/B_b) B_b H_b t_b).
    `LimitState.BENDING`. In the plane of branch and chord.

    F_yb: yield stress of the branch [Pa].
    Z_b: plastic section modulus of the branch about the axis of bending [m3].
    B_b, H_b, t_b: width across and depth along the chord, and wall, of the branch [m].
    B_e: effective width [m], see `effective_width`.
    Raises ValueError for a value at or below 0. Limits: T- and cross-joints within
    `joint_limits`.
    """
    require_positive(F_yb=F_yb, Z_b=Z_b, B_b=B_b, H_b=H_b, t_b=t_b, B_e=B_e)
    return F_yb * (Z_b - (1.0 - B_e / B_b) * B_b * H_b * t_b)


def branch_yielding_out_of_plane(F_yb: Real, Z_b: Real, B_b: Real, t_b: Real, B_e: Real) -> Real:
    """Return the nominal moment M_n of a branch yielding unevenly, bent out of the plane [N m].

    ANSI/AISC 360-22, commentary Table C-K1.1: F_yb (Z_b - 0.5 (1 - B_e/B_b)² B_b² t_b).
    `LimitState.BENDING`.

    F_yb: yield stress of the branch [Pa].
    Z_b: plastic section modulus of the branch about the axis of bending [m3].
    B_b, t_b: width across the chord, and wall, of the branch [m].
    B_e: effective width [m], see `effective_width`.
    Raises ValueError for a value at or below 0. Limits: T- and cross-joints within
    `joint_limits`.
    """
    require_positive(F_yb=F_yb, Z_b=Z_b, B_b=B_b, t_b=t_b, B_e=B_e)
    return F_yb * (Z_b - 0.5 * (1.0 - B_e / B_b) ** 2 * B_b**2 * t_b)


def sidewall_yielding_in_plane(F_y: Real, t: Real, H_b: Real, *, cross: bool = False) -> Real:
    """Return the nominal moment M_n of a chord's side walls under a branch bent in the plane [N m].

    ANSI/AISC 360-22, Table K4.2, Eq. K4-8: 0.5 F_y* t (H_b + 5 t)². F_y* is F_y for a T-joint
    and 0.8 F_y for a cross-joint (defined so in the 2010 edition, K3; the transcriptions of the
    2022 edition leave the definition out). `LimitState.HSS_SIDEWALL_MOMENT`.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    H_b: depth of the branch along the chord [m].
    cross: whether branches stand on both opposite faces.
    Raises ValueError for a value at or below 0. Limits: beta of 0.85 or more, branch at right
    angles, within `joint_limits`. A narrower branch bends the face (2010, Eq. K3-6, not
    given here).
    """
    require_positive(F_y=F_y, t=t, H_b=H_b)
    return 0.5 * (0.8 if cross else 1.0) * F_y * t * (H_b + 5.0 * t) ** 2


def sidewall_yielding_out_of_plane(
    F_y: Real, t: Real, B: Real, H_b: Real, *, cross: bool = False
) -> Real:
    """Return the nominal moment M_n of a chord's side walls, branch bent out of the plane [N m].

    ANSI/AISC 360-22, Table K4.2, Eq. K4-6: F_y* t (B - t)(H_b + 5 t); F_y* as in
    `sidewall_yielding_in_plane`. `LimitState.HSS_SIDEWALL_MOMENT`.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B: width of the chord's face [m].
    H_b: depth of the branch along the chord [m].
    cross: whether branches stand on both opposite faces.
    Raises ValueError for t, H_b or F_y at or below 0 or B at or below t. Limits: beta of 0.85
    or more, branch at right angles, within `joint_limits`.
    """
    require_positive(F_y=F_y, t=t, H_b=H_b)
    _require_hollow("B", B, t)
    return (0.8 if cross else 1.0) * F_y * t * (B - t) * (H_b + 5.0 * t)


def chord_distortion(F_y: Real, t: Real, B: Real, H: Real, H_b: Real) -> Real:
    """Return the nominal moment M_n at which a chord goes out of square under a T-branch [N m].

    ANSI/AISC 360-22, Table K4.2, Eq. K4-7: 2 F_y t (H_b t + √(B H t (B + H))).
    `LimitState.HSS_DISTORTION`.

    F_y: yield stress of the chord [Pa].
    t: design wall of the chord [m].
    B, H: width of the chord's face and its depth [m].
    H_b: depth of the branch along the chord [m].
    Raises ValueError for a value at or below 0. Limits: branch bent out of the plane, T-joints
    and unbalanced cross-joints; not where a plate or diaphragm keeps the chord square.
    """
    require_positive(F_y=F_y, t=t, B=B, H=H, H_b=H_b)
    return 2.0 * F_y * t * (H_b * t + np.sqrt(B * H * t * (B + H)))


def weld_effective_length(
    B_b: Real, H_b: Real, B_e: Real, beta: Real, *, theta: Real = np.pi / 2
) -> Real:
    """Return the effective length l_e of the weld round a branch on a rectangular chord [m].

    ANSI/AISC 360-22, Table K5.1, Eq. K5-5: 2 H_b/sin theta + 2 B_e. P_n = F_nw t_w l_e (Eq.
    K5-1), with k_ds = 1.0. Above beta = 0.85 or theta = 50° B_e/2 is at most B_b/4.

    B_b, H_b: width across and depth along the chord of the branch [m].
    B_e: effective width [m], see `effective_width`.
    beta: B_b/B [-].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: T-, Y- and cross-joints; one size of
    weld all round. Not needed where the weld develops the branch's wall (throat 1.43 times its
    design wall for 50 ksi tube and E70 metal, commentary K5).
    """
    require_positive(B_b=B_b, H_b=H_b, B_e=B_e, beta=beta, theta=theta)
    return 2.0 * H_b / np.sin(theta) + 2.0 * _weld_width(B_b, B_e, beta, theta)


def weld_modulus_in_plane(
    t_w: Real, B_b: Real, H_b: Real, B_e: Real, beta: Real, *, theta: Real = np.pi / 2
) -> Real:
    """Return the effective section modulus S_ip of the weld round a branch [m3].

    ANSI/AISC 360-22, Table K5.1, Eq. K5-6: t_w/3 (H_b/sin theta)² + t_w B_e H_b/sin theta.
    M_n-ip = F_nw S_ip (Eq. K5-2).

    t_w: least effective throat round the branch [m].
    B_b, H_b: width across and depth along the chord of the branch [m].
    B_e: effective width [m], see `effective_width`.
    beta: B_b/B [-].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: as `weld_effective_length`.
    """
    require_positive(t_w=t_w, B_b=B_b, H_b=H_b, B_e=B_e, beta=beta, theta=theta)
    l_b = H_b / np.sin(theta)
    return t_w / 3.0 * l_b**2 + t_w * _weld_width(B_b, B_e, beta, theta) * l_b


def weld_modulus_out_of_plane(
    t_w: Real, B_b: Real, H_b: Real, B_e: Real, beta: Real, *, theta: Real = np.pi / 2
) -> Real:
    """Return the effective section modulus S_op of the weld round a branch [m3].

    ANSI/AISC 360-22, Table K5.1, Eq. K5-7:
    t_w H_b/sin theta B_b + t_w/3 B_b² - t_w/3 (B_b - B_e)³/B_b. M_n-op = F_nw S_op (Eq. K5-3).

    t_w: least effective throat round the branch [m].
    B_b, H_b: width across and depth along the chord of the branch [m].
    B_e: effective width [m], see `effective_width`.
    beta: B_b/B [-].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: as `weld_effective_length`.
    """
    require_positive(t_w=t_w, B_b=B_b, H_b=H_b, B_e=B_e, beta=beta, theta=theta)
    missing = B_b - _weld_width(B_b, B_e, beta, theta)
    return t_w * (H_b / np.sin(theta) * B_b + B_b**2 / 3.0 - missing**3 / (3.0 * B_b))


def _weld_width(B_b: Real, B_e: Real, beta: Real, theta: Real) -> Real:
    """Return B_e as Table K5.1 limits it for welds [m]."""
    stiff = np.logical_or(beta > WIDE_BRANCH, theta > np.radians(50.0))
    half: Real = np.minimum(B_e, 0.5 * B_b)
    return where(stiff, half, B_e)


def _require_hollow(name: str, outside: Real, walls_and_corners: Real) -> None:
    if np.less_equal(outside, walls_and_corners).any():
        raise ValueError(
            f"{name} = {outside!r}: must be above {walls_and_corners!r}, what its walls take up; "
            "check the chord's size and its design wall t"
        )
