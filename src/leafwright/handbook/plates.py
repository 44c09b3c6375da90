"""Flat plates under pressure or a person's push: sheet and cladding panels between members.

Roark's Formulas for Stress and Strain, 7th edition, Table 11.4, Poisson's ratio 0.3.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.records import Metres, NewtonsPerMetre, Number, Pascals

_POISSON: Final = 0.3

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
# Table 11.4 case 1b: a/b, beta, alpha.
_CENTRE_ROWS = (
    (1.0, 0.435, 0.1267),
    (1.2, 0.650, 0.1478),
    (1.4, 0.789, 0.1621),
    (1.6, 0.875, 0.1715),
    (1.8, 0.927, 0.1770),
    (2.0, 0.958, 0.1805),
    (float("inf"), 1.000, 0.1851),
)
# Table 11.4 case 8a: a/b, beta 1, beta 2, alpha; and gamma, which is not the table's: the table (as
# open programs print it) repeats case 1a's, up to 6 % short of an independent Rayleigh-Ritz
# solution, whose values these are, rounded up. So is the row of 2.5, where all pass the strip's.
_CLAMPED_ROWS = (
    (1.0, 0.3078, 0.1386, 0.0138, 0.442),
    (1.2, 0.3834, 0.1794, 0.0188, 0.487),
    (1.4, 0.4356, 0.2094, 0.0226, 0.510),
    (1.6, 0.4680, 0.2286, 0.0251, 0.518),
    (1.8, 0.4872, 0.2406, 0.0267, 0.519),
    (2.0, 0.4974, 0.2472, 0.0277, 0.517),
    (2.5, 0.5040, 0.2520, 0.0286, 0.510),
    (float("inf"), 0.5000, 0.2500, 0.0284, 0.500),
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


@dataclass(frozen=True, slots=True)
class ClampedPlateResult:
    """A plate clamped all round: stress at the middle of the long edges and at the centre.

    Deflection at the centre; reaction at the middle of the long edges. ``small_deflection`` as in
    `PlateResult`.
    """

    edge_stress: Pascals
    centre_stress: Pascals
    deflection: Metres
    greatest_reaction: NewtonsPerMetre
    small_deflection: bool


@dataclass(frozen=True, slots=True)
class PushedPlateResult:
    """A plate pushed at its centre: stress and deflection there.

    ``small_deflection`` as in `PlateResult`.
    """

    stress: Pascals
    deflection: Metres
    small_deflection: bool


def simply_supported_coefficients(ratio: float) -> PlateCoefficients:
    """Return Roark's coefficients for a plate held on four simple edges, uniformly loaded.

    Roark's Formulas, 7th edition, Table 11.4 case 1a, between rows by straight lines in b/a, so
    that the last row (an endless strip) is reached; within 1.2 % of the exact series everywhere.

    ratio: long side over short side, a/b [-]. Raises ValueError where it is under 1.
    """
    beta, alpha, gamma = _at(_ROWS, ratio)
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


def clamped_plate(
    pressure: float,
    long_side: float,
    short_side: float,
    thickness: float,
    elastic_modulus: float,
) -> ClampedPlateResult:
    """Return the stresses, deflection and edge reaction of a plate clamped on four edges.

    Roark's Formulas, 7th edition, Table 11.4 case 8a: σ_edge = β1 q b² / t², σ_centre =
    β2 q b² / t², y = α q b⁴ / (E t³), R = γ q b; between rows by straight lines in b/a.
    Poisson's ratio 0.3. Departure: γ, and the row at a/b = 2.5, come of an independent solution,
    as the table's γ is up to 6 % short.

    pressure: uniform, q [Pa].
    long_side: a, between supports [m].
    short_side: b, between supports [m].
    thickness: t [m].
    elastic_modulus: E [Pa].
    Raises ValueError where the long side is the shorter or a size is not positive.
    Limits: deflections small against the thickness; edges that neither turn nor draw in. A sheet
    stitch-welded to tubes turns with them, and is nearer `simply_supported_plate`.
    """
    _refuse_sizes(long_side, short_side, thickness, elastic_modulus)
    beta_1, beta_2, alpha, gamma = _at(_CLAMPED_ROWS, long_side / short_side)
    bending = pressure * short_side**2 / thickness**2
    deflection = alpha * pressure * short_side**4 / (elastic_modulus * thickness**3)
    return ClampedPlateResult(
        edge_stress=beta_1 * bending,
        centre_stress=beta_2 * bending,
        deflection=deflection,
        greatest_reaction=gamma * pressure * short_side,
        small_deflection=abs(deflection) <= 0.5 * thickness,
    )


def pushed_plate(
    load: float,
    long_side: float,
    short_side: float,
    thickness: float,
    elastic_modulus: float,
    *,
    pad_radius: float,
) -> PushedPlateResult:
    """Return the stress and deflection of a plate on four simple edges, pushed at its centre.

    Roark's Formulas, 7th edition, Table 11.4 case 1b, for a hand, a shoulder or a fixing:
    σ = 3 W / (2π t²) [(1 + ν) ln(2 b / (π r0')) + β], y = α W b² / (E t³), with
    r0' = √(1.6 r0² + t²) − 0.675 t where r0 < 0.5 t, else r0. Poisson's ratio 0.3.

    load: W [N].
    long_side: a, between supports [m].
    short_side: b, between supports [m].
    thickness: t [m].
    elastic_modulus: E [Pa].
    pad_radius: r0 of the round pad that the load comes through [m].
    Raises ValueError where the long side is the shorter, a size is not positive or the pad is
    larger than the plate. Limits: deflections small against the thickness; corners held down.
    """
    _refuse_sizes(long_side, short_side, thickness, elastic_modulus)
    require_not_negative("the load", load, "N")
    require_not_negative("the pad's radius", pad_radius, "m")
    if pad_radius > 0.5 * short_side:
        raise ValueError(
            f"a pad of radius {pad_radius!r} m is larger than a plate {short_side!r} m wide; "
            "take simply_supported_plate with the load as a pressure"
        )
    r0 = pad_radius
    if r0 < 0.5 * thickness:
        r0 = math.sqrt(1.6 * r0**2 + thickness**2) - 0.675 * thickness
    beta, alpha = _at(_CENTRE_ROWS, long_side / short_side)
    spread = (1.0 + _POISSON) * math.log(2.0 * short_side / (math.pi * r0)) + beta
    deflection = alpha * load * short_side**2 / (elastic_modulus * thickness**3)
    return PushedPlateResult(
        stress=3.0 * load / (2.0 * math.pi * thickness**2) * spread,
        deflection=deflection,
        small_deflection=abs(deflection) <= 0.5 * thickness,
    )


def _at(rows: tuple[tuple[float, ...], ...], ratio: float) -> list[float]:
    """Return the columns of a table at a/b, between rows by straight lines in b/a."""
    if not ratio >= 1.0:
        raise ValueError(
            f"a plate's long side over its short side is {ratio!r}; "
            "give the sides the other way round, so that it is 1 or more"
        )
    inverse = [1.0 / row[0] for row in reversed(rows)]
    return [
        float(np.interp(1.0 / ratio, inverse, [row[column] for row in reversed(rows)]))
        for column in range(1, len(rows[0]))
    ]


def _refuse_sizes(
    long_side: Metres, short_side: Metres, thickness: Metres, elastic_modulus: Pascals
) -> None:
    require_positive("the long side", long_side, "m")
    require_positive("the short side", short_side, "m")
    require_positive("the thickness", thickness, "m")
    require_positive("the modulus of elasticity", elastic_modulus, "Pa")
