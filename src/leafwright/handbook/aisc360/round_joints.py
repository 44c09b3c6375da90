"""Plates and round tubes welded to a round tube: ANSI/AISC 360-22, Tables K2.1 and K3.1.

Symbols, sides and signs as in `hss_joints`. D, t are the chord's outside diameter and design wall.
Tables read in two public transcriptions of the 2022 edition.
"""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_positive, where


def transverse_plate(F_y: Real, t: Real, D: Real, B_b: Real, *, Q_f: Real = 1.0) -> Real:
    """Return the nominal strength R_n of a round chord under a plate across it [N].

    ANSI/AISC 360-22, Table K2.1, Eq. K2-1a: F_y t² 5.5/(1 - 0.81 B_b/D) Q_f.
    `LimitState.HSS_ROUND_PLASTIFICATION`. M_n = 0.5 B_b R_n for the plate bent out of the plane
    (Eq. K2-1b).

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    B_b: width of the plate [m].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K2.1A, see
    `joint_limits.round_limits`; nan above B_b/D = 1.
    """
    require_positive(F_y=F_y, t=t, D=D, B_b=B_b, Q_f=Q_f)
    beta: Real = np.minimum(B_b / D, 1.0)
    return where(B_b <= D, F_y * t**2 * 5.5 / (1.0 - 0.81 * beta) * Q_f, np.nan)


def longitudinal_plate(
    F_y: Real, t: Real, D: Real, l_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength R_n of a round chord under a plate along it [N].

    ANSI/AISC 360-22, Table K2.1, Eq. K2-2a: R_n sin theta = 5.5 F_y t² (1 + 0.25 l_b/D) Q_f.
    `LimitState.HSS_ROUND_PLASTIFICATION`. M_n = 0.8 l_b R_n in the plane (Eq. K2-2b).

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    l_b: length of the plate along the chord [m].
    theta: angle between the force and the chord [rad].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K2.1A, see
    `joint_limits.round_limits`.
    """
    require_positive(F_y=F_y, t=t, D=D, l_b=l_b, theta=theta, Q_f=Q_f)
    return 5.5 * F_y * t**2 * (1.0 + 0.25 * l_b / D) * Q_f / np.sin(theta)


def round_punching(F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2) -> Real:
    """Return the nominal strength P_n against a round branch punching through the wall [N].

    ANSI/AISC 360-22, Table K3.1, Eq. K3-1: 0.6 F_y t π D_b (1 + sin theta)/(2 sin² theta).
    `LimitState.HSS_PUNCHING`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: inf where D_b >= D - 2 t, where it
    cannot punch; Table K3.1A, see `joint_limits.round_limits`.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta)
    s = np.sin(theta)
    P_n = 0.6 * F_y * t * np.pi * D_b * (1.0 + s) / (2.0 * s**2)
    return where(D_b < D - 2.0 * t, P_n, np.inf)


def round_t_joint(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength P_n of a round chord at a T- or Y-joint [N].

    ANSI/AISC 360-22, Table K3.1, Eq. K3-2:
    P_n sin theta = F_y t² (3.1 + 15.6 beta²) gamma^0.2 Q_f, beta = D_b/D, gamma = D/(2 t).
    `LimitState.HSS_ROUND_PLASTIFICATION`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K3.1A, see
    `joint_limits.round_limits`.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta, Q_f=Q_f)
    gamma = D / (2.0 * t)
    return F_y * t**2 * (3.1 + 15.6 * (D_b / D) ** 2) * gamma**0.2 * Q_f / np.sin(theta)


def round_cross_joint(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength P_n of a round chord at a cross-joint [N].

    ANSI/AISC 360-22, Table K3.1, Eq. K3-3: P_n sin theta = F_y t² 5.7/(1 - 0.81 beta) Q_f,
    beta = D_b/D. `LimitState.HSS_ROUND_PLASTIFICATION`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K3.1A, see
    `joint_limits.round_limits`; nan above beta = 1.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta, Q_f=Q_f)
    beta: Real = np.minimum(D_b / D, 1.0)
    P_n = F_y * t**2 * 5.7 / (1.0 - 0.81 * beta) * Q_f / np.sin(theta)
    return where(D_b <= D, P_n, np.nan)
