"""Members in compression by EN 1993-1-1:2005 (Eurocode 3), clauses 5.5, 6.3.1.

Symbols are the standard's. Functions broadcast over arrays. The partial factor gamma_M1 is the
national annex's to choose, so it is always an argument (1.0 is recommended, 6.1).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Numbers = float | NDArray[np.float64]

# Table 6.1: imperfection factor alpha of each buckling curve.
IMPERFECTION_FACTORS = {"a0": 0.13, "a": 0.21, "b": 0.34, "c": 0.49, "d": 0.76}

# Table 6.2, steel grades S235 to S420 (from memory; S460 may take a better curve).
_CURVES = {
    "hot finished hollow section": "a",
    "cold formed hollow section": "c",
    "solid section": "c",
    "angle": "b",
}


def buckling_curve(kind: str) -> str:
    """Return the buckling curve of a kind of section, by name.

    EN 1993-1-1:2005 Table 6.2 (from memory), S235 to S420, buckling about any axis.

    kind: "hot finished hollow section", "cold formed hollow section", "solid section" or "angle".
    Raises ValueError for any other.
    """
    if kind not in _CURVES:
        raise ValueError(f"no buckling curve for {kind!r}; give one of {', '.join(_CURVES)}")
    return _CURVES[kind]


def imperfection_factor(curve: str) -> float:
    """Return the imperfection factor alpha of a buckling curve [-].

    EN 1993-1-1:2005 Table 6.1.

    curve: "a0", "a", "b", "c" or "d". Raises ValueError for any other.
    """
    if curve not in IMPERFECTION_FACTORS:
        raise ValueError(
            f"no buckling curve {curve!r}; give one of {', '.join(IMPERFECTION_FACTORS)}"
        )
    return IMPERFECTION_FACTORS[curve]


def elastic_critical_force(E: Numbers, I: Numbers, L_cr: Numbers) -> Numbers:  # noqa: E741
    """Return the elastic critical force of flexural buckling, N_cr = π²EI/L_cr² [N].

    EN 1993-1-1:2005 6.3.1.2(1), Euler's formula.

    E: modulus of elasticity [Pa]; I: second moment about the axis of buckling [m4];
    L_cr: buckling length [m].
    """
    return np.pi**2 * E * I / L_cr**2


def lambda_bar(A: Numbers, f_y: Numbers, N_cr: Numbers) -> Numbers:
    """Return the non-dimensional slenderness √(A f_y / N_cr) [-].

    EN 1993-1-1:2005 6.3.1.2(1), cross-sections of class 1, 2 or 3.

    A: gross area [m2]; f_y: yield strength [Pa]; N_cr: elastic critical force [N].
    """
    return np.sqrt(A * f_y / N_cr)


def chi(slenderness: Numbers, curve: str) -> Numbers:
    """Return the reduction factor for flexural buckling, at most 1 [-].

    EN 1993-1-1:2005 6.3.1.2(1), equation (6.49), with
    Φ = 0.5 [1 + α(λ̄ - 0.2) + λ̄²]; buckling may be ignored up to λ̄ = 0.2 (6.3.1.2(4)).

    slenderness: λ̄, 0 or more [-]; curve: "a0" to "d".
    """
    alpha = imperfection_factor(curve)
    Phi = 0.5 * (1.0 + alpha * (slenderness - 0.2) + slenderness**2)
    # Under λ̄ = 0.2 the formula passes 1, and the standard's own limit is 1.
    return np.minimum(1.0, 1.0 / (Phi + np.sqrt(Phi**2 - slenderness**2)))


def N_b_Rd(reduction: Numbers, A: Numbers, f_y: Numbers, gamma_M1: float) -> Numbers:
    """Return the design buckling resistance, χ A f_y / γ_M1 [N].

    EN 1993-1-1:2005 6.3.1.1(3), equation (6.47): class 1, 2 and 3 only; see `compression_class`.

    reduction: chi [-]; A: gross area [m2]; f_y: yield strength [Pa]; gamma_M1: partial factor [-].
    """
    return reduction * A * f_y / gamma_M1


def compression_class(shape: str, width_to_thickness: float, f_y: float) -> int:
    """Return the class, 1 to 4, of the walls of a hollow section in uniform compression.

    EN 1993-1-1:2005 Table 5.2 (from memory): internal parts c/t up to 33ε, 38ε, 42ε; tubes d/t up
    to 50ε², 70ε², 90ε²; ε = √(235 MPa / f_y). Class 4 is not covered here: use EN 1993-1-5 for
    flat walls, EN 1993-1-6 for round ones.

    shape: "rectangular tube" or "round tube"; width_to_thickness: c/t or d/t [-];
    f_y: yield strength [Pa].
    Raises ValueError for another shape.
    """
    epsilon = math.sqrt(235.0e6 / f_y)
    if shape == "rectangular tube":
        limits = [33.0 * epsilon, 38.0 * epsilon, 42.0 * epsilon]
    elif shape == "round tube":
        limits = [50.0 * epsilon**2, 70.0 * epsilon**2, 90.0 * epsilon**2]
    else:
        raise ValueError(f"no class for {shape!r}; give 'rectangular tube' or 'round tube'")
    return 1 + sum(width_to_thickness > limit for limit in limits)
