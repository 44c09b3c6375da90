"""Kinds of anchor, and the constants of the two editions of ACI 318-19, chapter 17."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from leafwright.records import Metres, Newtons, Number, Pascals

_INCH: Final = 0.0254
_POUND_FORCE: Final = 0.45359237 * 9.80665
_PSI: Final = _POUND_FORCE / _INCH**2


class Edition(enum.StrEnum):
    """Whose constants are meant: inch-pound, or the metric edition's rounded ones."""

    US = "ACI 318-19"
    METRIC = "ACI 318M-19"


class Kind(enum.StrEnum):
    """How an anchor holds, as far as chapter 17 tells kinds apart."""

    HEADED_STUD = "cast-in headed stud, welded to the plate"
    HEADED_BOLT = "cast-in headed bolt"
    TORQUE_CONTROLLED = "torque-controlled expansion anchor"
    DISPLACEMENT_CONTROLLED = "displacement-controlled expansion anchor"
    SCREW = "screw anchor"
    UNDERCUT = "undercut anchor"
    ADHESIVE = "adhesive anchor"

    @property
    def cast_in(self) -> bool:
        """Return whether the anchor was in place before the concrete."""
        return self in (Kind.HEADED_STUD, Kind.HEADED_BOLT)


@dataclass(frozen=True, slots=True)
class Constants:
    """Dimensional constants of one edition, each with its clause.

    ``length``, ``stress`` and ``force`` are the edition's units; the coefficients k and N, V are
    in them. All other fields are SI.
    """

    length: Metres
    stress: Pascals
    force: Newtons
    # 17.6.2.2.1: cast-in, post-installed without product tests, and the most that tests may give.
    k_c_cast_in: Number
    k_c_post_installed: Number
    k_c_greatest: Number
    # 17.6.2.2.3: coefficient and range of h_ef of the deep headed anchor.
    deep: Number
    deep_from: Metres
    deep_to: Metres
    # 17.6.4.1
    blowout: Number
    # 17.6.5.1.2b
    tau_reference: Pascals
    # 17.7.2.2.1a, 17.7.2.2.1b and 17.7.2.2.2
    shear_a: Number
    shear_b: Number
    shear_welded: Number
    # 17.7.3.1: from this embedment k_cp is 2.
    h_ef_pryout: Metres
    # 17.3.1 and 17.6.1.2
    f_c_cast_in: Pascals
    f_c_post_installed: Pascals
    f_uta_greatest: Pascals
    # 17.9.4 and 17.3.4
    behind_anchor: Metres
    h_ef_screw: Metres


CONSTANTS: Final[Mapping[Edition, Constants]] = MappingProxyType(
    {
        Edition.US: Constants(
            length=_INCH,
            stress=_PSI,
            force=_POUND_FORCE,
            k_c_cast_in=24.0,
            k_c_post_installed=17.0,
            k_c_greatest=24.0,
            deep=16.0,
            deep_from=11.0 * _INCH,
            deep_to=25.0 * _INCH,
            blowout=160.0,
            tau_reference=1100.0 * _PSI,
            shear_a=7.0,
            shear_b=9.0,
            shear_welded=8.0,
            h_ef_pryout=2.5 * _INCH,
            f_c_cast_in=10_000.0 * _PSI,
            f_c_post_installed=8_000.0 * _PSI,
            f_uta_greatest=125_000.0 * _PSI,
            behind_anchor=4.0 * _INCH,
            h_ef_screw=1.5 * _INCH,
        ),
        Edition.METRIC: Constants(
            length=1e-3,
            stress=1e6,
            force=1.0,
            k_c_cast_in=10.0,
            k_c_post_installed=7.0,
            k_c_greatest=10.0,
            deep=3.9,
            deep_from=0.280,
            deep_to=0.635,
            blowout=13.0,
            tau_reference=7.6e6,
            shear_a=0.6,
            shear_b=3.7,
            shear_welded=0.66,
            h_ef_pryout=0.065,
            f_c_cast_in=70e6,
            f_c_post_installed=55e6,
            f_uta_greatest=860e6,
            behind_anchor=0.100,
            h_ef_screw=0.040,
        ),
    }
)
