"""Width-to-thickness limits of hollow sections: ANSI/AISC 360-22, B4.1 and Tables B4.1a, B4.1b."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.handbook.aisc360 import constants
from leafwright.handbook.aisc360._values import Real, require_positive, where


@dataclass(frozen=True, slots=True)
class BendingLimits:
    """Greatest width-to-thickness ratio [-] of a compact and of a noncompact element."""

    lambda_p: Real
    lambda_r: Real


def flat_width(outside: Real, t: Real) -> Real:
    """Return the flat width b or h of a rectangular hollow section's wall [m].

    ANSI/AISC 360-22, B4.1b(d) (and G4): the outside dimension less three times the thickness,
    to be used where the corner radius is not known. Where it is known, use the clear distance
    between the walls less the inside corner radius at each end instead.

    outside: outside width or depth, at right angles to the walls that bound the flat [m].
    t: design wall (B4.2) [m].
    Raises ValueError for a value at or below 0. Limits: nan where the wall leaves no flat.
    """
    require_positive(outside=outside, t=t)
    flat = outside - 3.0 * t
    return where(flat > 0.0, flat, np.nan)


def rectangular_compression_limit(F_y: Real, *, E: Real = constants.E) -> Real:
    """Return lambda_r, the b/t [-] above which a rectangular HSS wall is slender in compression.

    ANSI/AISC 360-22, Table B4.1a, case 6: 1.40 sqrt(E/F_y).

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    return 1.40 * np.sqrt(E / F_y)


def round_compression_limit(F_y: Real, *, E: Real = constants.E) -> Real:
    """Return lambda_r, the D/t [-] above which a round HSS is slender in compression.

    ANSI/AISC 360-22, Table B4.1a, case 9: 0.11 E/F_y.

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    return 0.11 * E / F_y


def round_validity_limit(F_y: Real, *, E: Real = constants.E) -> Real:
    """Return the D/t [-] that a round HSS must stay under for E7.2 and F8 to apply.

    ANSI/AISC 360-22, E7.2(b) and F8: D/t < 0.45 E/F_y.

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    return 0.45 * E / F_y


def rectangular_flange_limits(F_y: Real, *, E: Real = constants.E) -> BendingLimits:
    """Return the limits of b/t [-] for the flange of a rectangular HSS in bending.

    ANSI/AISC 360-22, Table B4.1b, case 17: 1.12 sqrt(E/F_y) and 1.40 sqrt(E/F_y).

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    root = np.sqrt(E / F_y)
    return BendingLimits(lambda_p=1.12 * root, lambda_r=1.40 * root)


def rectangular_web_limits(F_y: Real, *, E: Real = constants.E) -> BendingLimits:
    """Return the limits of h/t [-] for the web of a rectangular HSS in bending.

    ANSI/AISC 360-22, Table B4.1b, case 19: 2.42 sqrt(E/F_y) and 5.70 sqrt(E/F_y).

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    root = np.sqrt(E / F_y)
    return BendingLimits(lambda_p=2.42 * root, lambda_r=5.70 * root)


def round_bending_limits(F_y: Real, *, E: Real = constants.E) -> BendingLimits:
    """Return the limits of D/t [-] for a round HSS in bending.

    ANSI/AISC 360-22, Table B4.1b, case 20: 0.07 E/F_y and 0.31 E/F_y.

    F_y: specified minimum yield stress [Pa]. E: modulus of elasticity [Pa].
    Raises ValueError for a value at or below 0.
    """
    require_positive(F_y=F_y, E=E)
    return BendingLimits(lambda_p=0.07 * E / F_y, lambda_r=0.31 * E / F_y)
