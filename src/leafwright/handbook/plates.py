"""Flat plates under uniform pressure: sheet and cladding panels between members.

Roark's Formulas for Stress and Strain, 7th edition, Table 11.4.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.records import Metres, NewtonsPerMetre, Number, Pascals

# Table 11.4 case 1a, Poisson's ratio 0.3: a/b, beta, alpha, gamma. The last row is a strip.
_ROWS = (
    (1.0, 0.2874, 0.0444, 0.420),
    (1.2, 0.3762, 0.0616, 0.455),
    (1.4, 0.4530, 0.0770, 0.478),
    (1.6, 0.5172, 0.0906, 0.491),
    (1.8, 0.5688, 0.1017, 0.499),
    (2.0, 0.6102, 0.1110, 0.503),
    (3.0, 0.7134, 0.1335, 0.505),
    (4.0, 0.7410, 0.1400, 0.502),
    (5.0, 0.7476, 0.1417, 0.501),
    (float("inf"), 0.7500, 0.1421, 0.500),
)


@dataclass(frozen=True, slots=True)
class PlateCoefficients:
    """Coefficients of stress (beta), deflection (alpha) and edge reaction (gamma)."""

    beta: Number
    alpha: Number
    gamma: Number


@dataclass(frozen=True, slots=True)
class PlateResult:
    """Stress and deflection at the centre; reaction at the middle of the long edges.

    ``small_deflection`` is False where the deflection passes half the thickness: the sheet then
    carries as a membrane too, stress and deflection are less than given here, and the pull on
    the edges is not given at all.
    """

    stress: Pascals
    deflection: Metres
    greatest_reaction: NewtonsPerMetre
    small_deflection: bool


def simply_supported_coefficients(ratio: float) -> PlateCoefficients:
    """Return Roark's coefficients for a plate held on four simple edges, uniformly loaded.

    Roark's Formulas, 7th edition, Table 11.4 case 1a, between rows by straight lines in b/a, so
    that the last row (an endless strip) is reached; within 1.2 % of the exact series everywhere.

    ratio: long side over short side, a/b [-]. Raises ValueError where it is under 1.
    """
    if not ratio >= 1.0:
        raise ValueError(
            f"a plate's long side over its short side is {ratio!r}; "
            "give the sides the other way round, so that it is 1 or more"
        )
    inverse = [1.0 / row[0] for row in reversed(_ROWS)]
    beta, alpha, gamma = (
        float(np.interp(1.0 / ratio, inverse, [row[column] for row in reversed(_ROWS)]))
        for column in (1, 2, 3)
    )
    return PlateCoefficients(beta=beta, alpha=alpha, gamma=gamma)


def simply_supported_plate(
    pressure: float,
    long_side: float,
    short_side: float,
    thickness: float,
    elastic_modulus: float,
) -> PlateResult:
    """Return the stress, deflection and edge reaction of a plate on four simple edges.

    Roark's Formulas, 7th edition, Table 11.4 case 1a: σ = β q b² / t², y = α q b⁴ / (E t³),
    R = γ q b. Poisson's ratio 0.3; deflections small against the thickness; edges held down at the
    corners but free to draw in.

    pressure: uniform, q [Pa]; long_side, short_side: a and b between supports [m];
    thickness: t [m]; elastic_modulus: E [Pa].
    Raises ValueError where the long side is the shorter.
    """
    c = simply_supported_coefficients(long_side / short_side)
    deflection = c.alpha * pressure * short_side**4 / (elastic_modulus * thickness**3)
    return PlateResult(
        stress=c.beta * pressure * short_side**2 / thickness**2,
        deflection=deflection,
        greatest_reaction=c.gamma * pressure * short_side,
        small_deflection=abs(deflection) <= 0.5 * thickness,
    )
