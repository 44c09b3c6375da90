"""Round tubes welded to a round tube and bent: ANSI/AISC 360-22, Table K4.1.

Symbols as in `round_joints`. Read in a public transcription of the 2022 edition, and in a national
standard that has the same table (KDS 14 31 25, 4.3.3.1).
"""

from __future__ import annotations

import numpy as np

from leafwright.handbook.aisc360._values import Real, require_not_negative, require_positive, where


def round_in_plane(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength M_n of a round chord, its branch bent in the plane [N m].

    ANSI/AISC 360-22, Table K4.1, Eq. K4-1: 5.39 F_y t² gamma^0.5 beta (D_b/sin theta) Q_f,
    beta = D_b/D, gamma = D/(2 t). `LimitState.HSS_ROUND_PLASTIFICATION`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K4.1A, see
    `joint_limits.round_limits`, which are those of K3.1A.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta, Q_f=Q_f)
    gamma = D / (2.0 * t)
    return 5.39 * F_y * t**2 * gamma**0.5 * (D_b / D) * D_b / np.sin(theta) * Q_f


def round_in_plane_punching(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2
) -> Real:
    """Return the nominal strength M_n against a branch bent in the plane punching through [N m].

    ANSI/AISC 360-22, Table K4.1, Eq. K4-2: 0.6 F_y t D_b² (1 + 3 sin theta)/(4 sin² theta).
    `LimitState.HSS_PUNCHING`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: inf where D_b >= D - 2 t, where it
    cannot punch; Table K4.1A.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta)
    s = np.sin(theta)
    M_n = 0.6 * F_y * t * D_b**2 * (1.0 + 3.0 * s) / (4.0 * s**2)
    return where(D_b < D - 2.0 * t, M_n, np.inf)


def round_out_of_plane(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2, Q_f: Real = 1.0
) -> Real:
    """Return the nominal strength M_n of a round chord, its branch bent out of the plane [N m].

    ANSI/AISC 360-22, Table K4.1, Eq. K4-3: F_y t² (D_b/sin theta) 3.0/(1 - 0.81 beta) Q_f,
    beta = D_b/D. `LimitState.HSS_ROUND_PLASTIFICATION`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Q_f: chord-stress factor [-].
    Raises ValueError for a value at or below 0. Limits: Table K4.1A; nan above beta = 1.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta, Q_f=Q_f)
    beta: Real = np.minimum(D_b / D, 1.0)
    M_n = F_y * t**2 * D_b / np.sin(theta) * 3.0 / (1.0 - 0.81 * beta) * Q_f
    return where(D_b <= D, M_n, np.nan)


def round_out_of_plane_punching(
    F_y: Real, t: Real, D: Real, D_b: Real, *, theta: Real = np.pi / 2
) -> Real:
    """Return the nominal strength M_n against a branch bent out of the plane punching [N m].

    ANSI/AISC 360-22, Table K4.1, Eq. K4-4: 0.6 F_y t D_b² (3 + sin theta)/(4 sin² theta).
    `LimitState.HSS_PUNCHING`.

    F_y: yield stress of the chord [Pa].
    t, D: design wall and outside diameter of the chord [m].
    D_b: outside diameter of the branch [m].
    theta: angle between branch and chord [rad].
    Raises ValueError for a value at or below 0. Limits: inf where D_b >= D - 2 t, where it
    cannot punch; Table K4.1A.
    """
    require_positive(F_y=F_y, t=t, D=D, D_b=D_b, theta=theta)
    s = np.sin(theta)
    M_n = 0.6 * F_y * t * D_b**2 * (3.0 + s) / (4.0 * s**2)
    return where(D_b < D - 2.0 * t, M_n, np.inf)


def round_interaction(axial: Real, in_plane: Real, out_of_plane: Real) -> Real:
    """Return how much of a round joint axial force and both moments use together [-].

    ANSI/AISC 360-22, Table K4.1, Eq. K4-5: P_r/P_c + (M_r-ip/M_c-ip)² + M_r-op/M_c-op.

    axial, in_plane, out_of_plane: what each would use alone of its available strength [-].
    Raises ValueError for a negative value. Limits: T-, Y- and cross-joints.
    """
    require_not_negative(axial=axial, in_plane=in_plane, out_of_plane=out_of_plane)
    return axial + in_plane**2 + out_of_plane
