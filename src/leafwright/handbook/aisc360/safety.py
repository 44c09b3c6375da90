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
    """What ends a part's strength, as far as its factors differ or its clause does."""

    TENSION_YIELDING = "tension yielding"
    TENSION_RUPTURE = "tension rupture"
    COMPRESSION = "compression"
    BENDING = "bending"
    SHEAR = "shear"
    TORSION = "torsion"
    WELD_SHEAR = "weld metal in shear"
    GROOVE_WELD_TENSION = "groove weld metal in tension or compression"
    BOLT = "bolt in tension or shear"
    BOLT_HOLE = "bearing and tearout at a bolt hole"
    SLIP = "slip, standard holes or short slots across the load"
    SLIP_OVERSIZE = "slip, oversize holes or short slots along the load"
    SLIP_LONG_SLOT = "slip, long slots"
    ELEMENT_SHEAR_YIELDING = "connecting element, shear yielding"
    ELEMENT_SHEAR_RUPTURE = "connecting element, shear rupture"
    BLOCK_SHEAR = "block shear"
    SURFACE_BEARING = "bearing of surfaces"
    FLANGE_LOCAL_BENDING = "flange local bending"
    WEB_LOCAL_YIELDING = "web local yielding"
    WEB_LOCAL_CRIPPLING = "web local crippling"
    WEB_SIDESWAY_BUCKLING = "web sidesway buckling"
    WEB_COMPRESSION_BUCKLING = "web compression buckling"
    FACE_PLASTIFICATION = "face of a rectangular HSS, yield lines"
    HSS_SIDEWALL_MOMENT = "side walls of an HSS chord under a branch moment"
    HSS_DISTORTION = "distortion of an HSS chord"
    HSS_PUNCHING = "punching through an HSS wall"
    HSS_ROUND_PLASTIFICATION = "round HSS chord, plastification"


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
        LimitState.WELD_SHEAR: Factors(0.75, 2.00, "J2.4, Table J2.5"),
        LimitState.GROOVE_WELD_TENSION: Factors(0.80, 1.88, "J2.4, Table J2.5"),
        LimitState.BOLT: Factors(0.75, 2.00, "J3.7"),
        LimitState.BOLT_HOLE: Factors(0.75, 2.00, "J3.11"),
        LimitState.SLIP: Factors(1.00, 1.50, "J3.9(a)"),
        LimitState.SLIP_OVERSIZE: Factors(0.85, 1.76, "J3.9(b)"),
        LimitState.SLIP_LONG_SLOT: Factors(0.70, 2.14, "J3.9(c)"),
        LimitState.ELEMENT_SHEAR_YIELDING: Factors(1.00, 1.50, "J4.2(a)"),
        LimitState.ELEMENT_SHEAR_RUPTURE: Factors(0.75, 2.00, "J4.2(b)"),
        LimitState.BLOCK_SHEAR: Factors(0.75, 2.00, "J4.3"),
        LimitState.SURFACE_BEARING: Factors(0.75, 2.00, "J7"),
        LimitState.FLANGE_LOCAL_BENDING: Factors(0.90, 1.67, "J10.1"),
        LimitState.WEB_LOCAL_YIELDING: Factors(1.00, 1.50, "J10.2"),
        LimitState.WEB_LOCAL_CRIPPLING: Factors(0.75, 2.00, "J10.3"),
        LimitState.WEB_SIDESWAY_BUCKLING: Factors(0.85, 1.76, "J10.4"),
        LimitState.WEB_COMPRESSION_BUCKLING: Factors(0.90, 1.67, "J10.5"),
        LimitState.FACE_PLASTIFICATION: Factors(1.00, 1.50, "J10.10, commentary K1.2"),
        LimitState.HSS_SIDEWALL_MOMENT: Factors(1.00, 1.50, "Table K4.2"),
        LimitState.HSS_DISTORTION: Factors(0.95, 1.58, "Table K4.2"),
        # J4.2(a) would allow 1.00 and 1.50 for the face of a rectangular HSS; Tables K3.1 and
        # K3.2 give the same thing these lower ones, which are kept for it everywhere.
        LimitState.HSS_PUNCHING: Factors(0.95, 1.58, "Tables K3.1 and K3.2"),
        LimitState.HSS_ROUND_PLASTIFICATION: Factors(0.90, 1.67, "Tables K2.1 and K3.1"),
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
