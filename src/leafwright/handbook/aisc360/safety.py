"""From nominal to available strength: resistance factors and safety factors (B3.1, B3.2)."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from leafwright.handbook.aisc360._values import Real


class Method(enum.StrEnum):
    """How loads and strengths are compared: by allowable strength, or by load factors."""

    ASD = "ASD"
    LRFD = "LRFD"


class LimitState(enum.StrEnum):
    """What ends a member's strength, as far as its factors differ or its clause does."""

    TENSION_YIELDING = "tension yielding"
    TENSION_RUPTURE = "tension rupture"
    COMPRESSION = "compression"
    BENDING = "bending"
    SHEAR = "shear"
    TORSION = "torsion"


@dataclass(frozen=True, slots=True)
class Factors:
    """Resistance factor phi [-] (LRFD), safety factor Omega [-] (ASD), and their clause."""

    phi: float
    Omega: float
    clause: str


# ANSI/AISC 360-22. SHEAR leaves out the more favourable pair of G2.1(a), which is for the webs of
# rolled I-shapes only.
FACTORS: Final[Mapping[LimitState, Factors]] = MappingProxyType(
    {
        LimitState.TENSION_YIELDING: Factors(0.90, 1.67, "D2(a)"),
        LimitState.TENSION_RUPTURE: Factors(0.75, 2.00, "D2(b)"),
        LimitState.COMPRESSION: Factors(0.90, 1.67, "E1"),
        LimitState.BENDING: Factors(0.90, 1.67, "F1(a)"),
        LimitState.SHEAR: Factors(0.90, 1.67, "G1(a)"),
        LimitState.TORSION: Factors(0.90, 1.67, "H3.1"),
    }
)


def available(nominal: Real, limit_state: LimitState, method: Method) -> Real:
    """Return the available strength: phi R_n (LRFD) or R_n / Omega (ASD), in nominal's unit.

    ANSI/AISC 360-22, B3.1 (Eq. B3-1) and B3.2 (Eq. B3-2), with the factors of the limit state's
    own clause (see `FACTORS`). It is compared with the effect of the load combinations of the
    same method; the two methods' loads are not interchangeable.

    nominal: nominal strength R_n [N, N m or Pa], a magnitude; float or array.
    limit_state: what ends the strength.
    method: ASD or LRFD.
    Raises ValueError if the method is neither.
    """
    factors = FACTORS[limit_state]
    if method == Method.LRFD:
        return factors.phi * nominal
    if method == Method.ASD:
        return nominal / factors.Omega
    raise ValueError(f"method = {method!r}: must be Method.ASD or Method.LRFD")
