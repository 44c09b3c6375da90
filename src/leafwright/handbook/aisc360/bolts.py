"""Strength of bolts and of the material round them: ANSI/AISC 360-22, section J3.

Clauses were read in a public transcription of the 2022 edition, which prints no equation letters;
those of J3-6 are remembered. Sizes of holes, spacing and edges are in `bolt_holes`; what a bolt is
made of in `bolts_steel`.
"""

from __future__ import annotations

import enum
from typing import Final

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import (
    Real,
    require_not_negative,
    require_positive,
    where,
)
from leafwright.handbook.aisc360.safety import FACTORS, LimitState, Method

_INCH: Final = 0.0254
_KIP: Final = constants.KSI * _INCH**2

# Ratio of mean installed to least pretension (J3.9).
D_U: Final = 1.13
# Mean slip coefficients of Class A (clean mill scale, galvanized) and B (blast-cleaned) (J3.9).
MU_CLASS_A: Final = 0.30
MU_CLASS_B: Final = 0.50


class BoltGroup(enum.StrEnum):
    """Bolts by strength (J3.1, J3.2)."""

    A307 = "A307"
    GROUP_120 = "Group 120 (A325)"
    GROUP_144 = "Group 144 (F3148)"
    GROUP_150 = "Group 150 (A490)"
    GROUP_200 = "Group 200 (F3043)"


# Table J3.2 [ksi]: F_nt; F_nv with threads in the shear plane; F_nv with threads out of it.
_STRESSES: Final = {
    BoltGroup.A307: (45.0, 27.0, 27.0),
    BoltGroup.GROUP_120: (90.0, 54.0, 68.0),
    BoltGroup.GROUP_144: (108.0, 65.0, 81.0),
    BoltGroup.GROUP_150: (113.0, 68.0, 84.0),
    BoltGroup.GROUP_200: (150.0, 90.0, 113.0),
}

# Table J3.1 [in, kip]: Group 120; Groups 144 and 150.
_PRETENSION: Final = (
    (1 / 2, 12.0, 15.0),
    (5 / 8, 19.0, 24.0),
    (3 / 4, 28.0, 35.0),
    (7 / 8, 39.0, 49.0),
    (1.0, 51.0, 64.0),
    (1 + 1 / 8, 64.0, 80.0),
    (1 + 1 / 4, 81.0, 102.0),
    (1 + 3 / 8, 97.0, 121.0),
    (1 + 1 / 2, 118.0, 148.0),
)
# Table J3.1M [mm, kN]: Group 120; Group 150.
_PRETENSION_METRIC: Final = (
    (12.0, 49.0, 72.0),
    (16.0, 91.0, 114.0),
    (20.0, 142.0, 179.0),
    (22.0, 176.0, 221.0),
    (24.0, 205.0, 257.0),
    (27.0, 267.0, 334.0),
    (30.0, 326.0, 408.0),
    (36.0, 475.0, 595.0),
)


def nominal_tensile_stress(group: BoltGroup) -> float:
    """Return the nominal tensile stress F_nt of a bolt on its body area [Pa].

    ANSI/AISC 360-22, Table J3.2 (the ksi column; the MPa column is rounded from it).

    group: of the bolt.
    Limits: no fatigue. A part threaded to A3.4: `threaded_part_stresses`.
    """
    return _STRESSES[group][0] * constants.KSI


def nominal_shear_stress(group: BoltGroup, *, threads_in_plane: bool = True) -> float:
    """Return the nominal shear stress F_nv of a bolt on its body area, bearing-type [Pa].

    ANSI/AISC 360-22, Table J3.2 (ksi column).

    group: of the bolt.
    threads_in_plane: whether threads lie in the shear plane (N), which is always safe to say.
    Limits: times `end_loaded_factor` in a long joint and, for A307, `a307_grip_factor`.
    """
    return _STRESSES[group][1 if threads_in_plane else 2] * constants.KSI


def threaded_part_stress(F_u: Real) -> Real:
    """Return the nominal tensile stress F_nt of a threaded rod or part on its body area [Pa].

    ANSI/AISC 360-22, Table J3.2: 0.75 F_u.

    F_u: specified minimum tensile strength of the rod [Pa].
    Raises ValueError for F_u at or below 0. Limits: material of A3.4, threads cut or rolled.
    """
    require_positive(F_u=F_u)
    return 0.75 * F_u


def threaded_part_shear_stress(F_u: Real, *, threads_in_plane: bool = True) -> Real:
    """Return the nominal shear stress F_nv of a threaded rod or part on its body area [Pa].

    ANSI/AISC 360-22, Table J3.2: 0.450 F_u with threads in the shear plane, 0.563 F_u without.

    F_u: specified minimum tensile strength of the rod [Pa].
    threads_in_plane: whether threads lie in the shear plane.
    Raises ValueError for F_u at or below 0. Limits: material of A3.4.
    """
    require_positive(F_u=F_u)
    return (0.450 if threads_in_plane else 0.563) * F_u


def a307_grip_factor(grip: Real, d: Real) -> Real:
    """Return by how much long A307 bolts lose shear strength [-].

    ANSI/AISC 360-22, Table J3.2, note [d]: 1 % for each 1/16 in of grip over five diameters,
    taken here in proportion.

    grip: length between head and nut [m].
    d: nominal diameter [m].
    Raises ValueError for a value at or below 0. Limits: A307 only; not under 0.
    """
    require_positive(grip=grip, d=d)
    over = np.maximum(grip - 5.0 * d, 0.0)
    factor: Real = np.maximum(1.0 - 0.01 * over / (_INCH / 16.0), 0.0)
    return factor


def end_loaded_factor(pattern_length: Real) -> Real:
    """Return by how much bolts lose shear strength in a long end-loaded joint [-].

    ANSI/AISC 360-22, Table J3.2, note [c]: 0.833 where the pattern is over 38 in long, else 1.

    pattern_length: between the first and last bolt, along the force [m].
    Raises ValueError for a negative length. Limits: end-loaded connections.
    """
    require_not_negative(pattern_length=pattern_length)
    return where(pattern_length > 38.0 * _INCH * (1.0 + 1e-9), 0.833, 1.0)


def bolt_strength(F_n: Real, A_b: Real) -> Real:
    """Return the nominal strength R_n of a bolt, in tension or in one shear plane [N].

    ANSI/AISC 360-22, J3.7, Eq. J3-1: F_n A_b; with F'_nt of `tensile_stress_with_shear`, J3.8,
    Eq. J3-2. `LimitState.BOLT`.

    F_n: nominal tensile or shear stress [Pa].
    A_b: area of the unthreaded body, π d²/4 [m2].
    Raises ValueError for a negative stress or A_b at or below 0. Limits: the pull includes
    prying.
    """
    require_not_negative(F_n=F_n)
    require_positive(A_b=A_b)
    return F_n * A_b


def tensile_stress_with_shear(F_nt: Real, F_nv: Real, f_rv: Real, method: Method) -> Real:
    """Return the nominal tensile stress F'_nt that shear leaves a bolt [Pa].

    ANSI/AISC 360-22, J3.8, Eq. J3-3a (LRFD) 1.3 F_nt - F_nt f_rv/(phi F_nv), or J3-3b (ASD)
    1.3 F_nt - Omega F_nt f_rv/F_nv, up to F_nt.

    F_nt, F_nv: nominal tensile and shear stress [Pa].
    f_rv: required shear stress, by the method's load combinations [Pa].
    method: ASD or LRFD, of f_rv.
    Raises ValueError for a negative f_rv or a stress at or below 0. Limits: 0 where f_rv is over
    the available shear stress, where the bolt fails by shear alone. Need not be used where
    either stress is up to 30 % of what is available (user note); it gives nearly the same.
    """
    require_positive(F_nt=F_nt, F_nv=F_nv)
    require_not_negative(f_rv=f_rv)
    factors = FACTORS[LimitState.BOLT]
    available = factors.phi * F_nv if method == Method.LRFD else F_nv / factors.Omega
    left = np.minimum(1.3 * F_nt - F_nt / available * f_rv, F_nt)
    return where(f_rv <= available * (1.0 + 1e-12), left, 0.0)


def bearing(
    d: Real,
    t: Real,
    F_u: Real,
    *,
    long_slot_across: bool = False,
    deformation_matters: bool = True,
) -> Real:
    """Return the nominal strength R_n of the material that one bolt bears on [N].

    ANSI/AISC 360-22, J3.11a(1)(a), Eqs. J3-6a (2.4 d t F_u) and J3-6b (3.0, where the hole's
    stretch at service load does not matter), and J3.11a(2)(a), Eq. J3-6e (2.0).
    `LimitState.BOLT_HOLE`.

    d: nominal diameter of the bolt [m].
    t: thickness of the part [m].
    F_u: specified minimum tensile strength of the part [Pa].
    long_slot_across: whether the hole is a long slot across the force.
    deformation_matters: whether a hole stretched at service load is a fault.
    Raises ValueError for a value at or below 0. Limits: plies in firm contact; a bolt through
    an HSS that is not filled bears by `connecting.pin_bearing` (J3.11b).
    """
    require_positive(d=d, t=t, F_u=F_u)
    if long_slot_across:
        return 2.0 * d * t * F_u
    return (2.4 if deformation_matters else 3.0) * d * t * F_u


def tearout(
    l_c: Real,
    t: Real,
    F_u: Real,
    *,
    long_slot_across: bool = False,
    deformation_matters: bool = True,
) -> Real:
    """Return the nominal strength R_n of the material that one bolt would tear out [N].

    ANSI/AISC 360-22, J3.11a(1)(b), Eqs. J3-6c (1.2 l_c t F_u) and J3-6d (1.5), J3.11a(2)(b),
    Eq. J3-6f (1.0); J3.11b(2) has the same for bolts through an HSS. `LimitState.BOLT_HOLE`.

    l_c: clear distance along the force from the hole's edge to the next hole or the part's edge
        [m]; 0 for a hole cut open.
    t: thickness of the part [m].
    F_u: specified minimum tensile strength of the part [Pa].
    long_slot_across: whether the hole is a long slot across the force.
    deformation_matters: whether a hole stretched at service load is a fault.
    Raises ValueError for a negative l_c or any other value at or below 0. Limits: none stated.
    """
    require_not_negative(l_c=l_c)
    require_positive(t=t, F_u=F_u)
    if long_slot_across:
        return 1.0 * l_c * t * F_u
    return (1.2 if deformation_matters else 1.5) * l_c * t * F_u


def minimum_pretension(d: float, group: BoltGroup) -> float:
    """Return the least pretension T_b of a bolt in a pretensioned or slip-critical joint [N].

    ANSI/AISC 360-22, Tables J3.1 and J3.1M.

    d: nominal diameter [m]: 1/2 to 1-1/2 in, or M12 to M36.
    group: 120, 144 or 150.
    Raises ValueError for a size not in the tables or another group (A307 is never pretensioned).
    Limits: the sizes of the tables; Group 200 not covered.
    """
    columns = {BoltGroup.GROUP_120: 1, BoltGroup.GROUP_144: 2, BoltGroup.GROUP_150: 2}
    if group not in columns:
        raise ValueError(
            f"{group!s} has no pretension in Table J3.1 here; give Group 120, 144 or 150"
        )
    inches = {row[0] * _INCH: row[columns[group]] * _KIP for row in _PRETENSION}
    metric = {row[0] * 1e-3: row[columns[group]] * 1e3 for row in _PRETENSION_METRIC}
    for size, pull in (inches | metric).items():
        if abs(size - d) < 2e-5:
            return pull
    raise ValueError(
        f"d = {d!r} m: not a bolt of Table J3.1 or J3.1M; give 1/2 to 1-1/2 in by eighths, or "
        "M12, M16, M20, M22, M24, M27, M30 or M36"
    )


def slip_resistance(mu: Real, T_b: Real, *, n_s: int = 1, h_f: Real = 1.0, D_u: Real = D_U) -> Real:
    """Return the nominal slip resistance R_n of one pretensioned bolt [N].

    ANSI/AISC 360-22, J3.9, Eq. J3-4: mu D_u h_f T_b n_s. `LimitState.SLIP`, `SLIP_OVERSIZE` or
    `SLIP_LONG_SLOT` by the hole.

    mu: slip coefficient [-]: 0.30 Class A, 0.50 Class B.
    T_b: least pretension [N], see `minimum_pretension`.
    n_s: slip planes.
    h_f: 1.0 with up to one filler, 0.85 with more [-].
    D_u: mean over least pretension [-].
    Raises ValueError for a value at or below 0. Limits: faces as the class says, no paint beyond
    it; bearing must hold too.
    """
    require_positive(mu=mu, T_b=T_b, n_s=n_s, h_f=h_f, D_u=D_u)
    return mu * D_u * h_f * T_b * n_s


def slip_with_tension(T: Real, T_b: Real, n_b: Real, method: Method, *, D_u: Real = D_U) -> Real:
    """Return what a pull leaves of the slip resistance, k_sc [-].

    ANSI/AISC 360-22, J3.10, Eq. J3-5a (LRFD) 1 - T/(D_u T_b n_b), or J3-5b (ASD)
    1 - 1.5 T/(D_u T_b n_b), not under 0.

    T: required pull on all the bolts together, by the method's load combinations [N].
    T_b: least pretension of one bolt [N].
    n_b: bolts that carry the pull [-].
    method: ASD or LRFD, of T.
    D_u: mean over least pretension [-].
    Raises ValueError for a negative T or any other value at or below 0. Limits: none stated.
    """
    require_not_negative(T=T)
    require_positive(T_b=T_b, n_b=n_b, D_u=D_u)
    share = (1.0 if method == Method.LRFD else 1.5) * T / (D_u * T_b * n_b)
    k_sc: Real = np.maximum(1.0 - share, 0.0)
    return k_sc
