"""What of a welded tube joint is outside the range of chapter K's tables: ANSI/AISC 360-22.

Tables K2.1A, K3.1A, K3.2A and K4.2A, and K1.3, read in two public transcriptions. Outside them a
joint is not forbidden, but the tables are no answer: rational analysis, so an engineer (K1).
"""

from __future__ import annotations

import enum
import math
from typing import Final

from leafwright.handbook.aisc360 import constants

_LEAST_ANGLE: Final = math.radians(30.0)
_HIGHEST_F_Y: Final = 52.0 * constants.KSI
# A500 Grade C is accepted by name (F_y/F_u = 50/62 = 0.806); the limit of 0.8 is eased to that.
_HIGHEST_F_Y_OVER_F_U: Final = 50.0 / 62.0
# So that 35 walls of width are not 35.000000000000004.
_EDGE: Final = 1.0 + 1e-9


class Joint(enum.StrEnum):
    """How a branch's force leaves the chord: along it, or straight through to the other side."""

    T_OR_Y = "T or Y"
    CROSS = "cross"


def rectangular_limits(
    B: float,
    H: float,
    t: float,
    B_b: float,
    H_b: float,
    t_b: float,
    F_y: float,
    F_u: float,
    F_yb: float,
    F_ub: float,
    *,
    theta: float = math.pi / 2,
    branch_pressed: bool = True,
    E: float = constants.E,
) -> tuple[str, ...]:
    """Return what of a T-, Y- or cross-joint of rectangular HSS is out of limits [-].

    ANSI/AISC 360-22, Table K3.2A (same as K4.2A), with K1.3 and K3's least angle (commentary).
    Empty where all is within.

    B, H, t: width of the face, depth and design wall of the chord [m].
    B_b, H_b, t_b: width across, depth along the chord, and design wall of the branch [m].
    F_y, F_u: specified minimum yield stress and tensile strength of the chord [Pa].
    F_yb, F_ub: the same of the branch [Pa].
    theta: acute angle between branch and chord [rad].
    branch_pressed: whether any case presses the branch.
    E: modulus of elasticity [Pa].
    Returns sentences, each with the value and the limit. Raises ValueError for a value at or
    below 0. Limits: K-joints have further ones, not tested here.
    """
    _require(B=B, H=H, t=t, B_b=B_b, H_b=H_b, t_b=t_b, F_y=F_y, F_u=F_u, F_yb=F_yb, F_ub=F_ub)
    slender = min(35.0, 1.25 * math.sqrt(E / F_yb)) if branch_pressed else 35.0
    found = (
        *_too_much("chord B/t", B / t, 35.0),
        *_too_much("chord H/t", H / t, 35.0),
        *_too_much("branch B_b/t_b", B_b / t_b, slender),
        *_too_much("branch H_b/t_b", H_b / t_b, slender),
        *_too_little("width ratio B_b/B", B_b / B, 0.25),
        *_too_little("width ratio H_b/B", H_b / B, 0.25),
        *_too_much("width ratio B_b/B", B_b / B, 1.0),
        *_too_little("branch H_b/B_b", H_b / B_b, 0.5),
        *_too_much("branch H_b/B_b", H_b / B_b, 2.0),
        *_too_little("chord H/B", H / B, 0.5),
        *_too_much("chord H/B", H / B, 2.0),
    )
    return (*found, *_steel("chord", F_y, F_u), *_steel("branch", F_yb, F_ub), *_angle(theta))


def round_limits(
    D: float,
    t: float,
    D_b: float,
    t_b: float,
    F_y: float,
    F_u: float,
    F_yb: float,
    F_ub: float,
    joint: Joint,
    *,
    theta: float = math.pi / 2,
    branch_pressed: bool = True,
    E: float = constants.E,
) -> tuple[str, ...]:
    """Return what of a T-, Y- or cross-joint of round HSS is out of limits [-].

    ANSI/AISC 360-22, Table K3.1A, and K3's least angle (commentary). Empty where all is within.

    D, t: outside diameter and design wall of the chord [m].
    D_b, t_b: outside diameter and design wall of the branch [m].
    F_y, F_u, F_yb, F_ub: yield stress and tensile strength of chord and branch [Pa].
    joint: T or Y, or cross.
    theta: acute angle between branch and chord [rad].
    branch_pressed: whether any case presses the branch.
    E: modulus of elasticity [Pa].
    Returns sentences, each with the value and the limit. Raises ValueError for a value at or
    below 0. Limits: K-joints have further ones, not tested here.
    """
    _require(D=D, t=t, D_b=D_b, t_b=t_b, F_y=F_y, F_u=F_u, F_yb=F_yb, F_ub=F_ub)
    slender = min(50.0, 0.05 * E / F_yb) if branch_pressed else 50.0
    found = (
        *_too_much("chord D/t", D / t, 50.0 if joint == Joint.T_OR_Y else 40.0),
        *_too_much("branch D_b/t_b", D_b / t_b, slender),
        *_too_little("width ratio D_b/D", D_b / D, 0.2),
        *_too_much("width ratio D_b/D", D_b / D, 1.0),
    )
    return (*found, *_steel("chord", F_y, F_u), *_steel("branch", F_yb, F_ub), *_angle(theta))


def round_plate_limits(
    D: float, t: float, F_y: float, F_u: float, joint: Joint, *, B_b: float | None = None
) -> tuple[str, ...]:
    """Return what of a plate welded to a round HSS is out of limits [-].

    ANSI/AISC 360-22, Table K2.1A. Empty where all is within.

    D, t: outside diameter and design wall of the chord [m].
    F_y, F_u: specified minimum yield stress and tensile strength of the chord [Pa].
    joint: T or Y, or cross.
    B_b: width of a plate across the chord [m]; None for a plate along it.
    Returns sentences, each with the value and the limit. Raises ValueError for a value at or
    below 0. Limits: none beyond the table's.
    """
    _require(D=D, t=t, F_y=F_y, F_u=F_u)
    found = _too_much("chord D/t", D / t, 50.0 if joint == Joint.T_OR_Y else 40.0)
    if B_b is not None:
        _require(B_b=B_b)
        found += _too_little("width ratio B_b/D", B_b / D, 0.2)
        found += _too_much("width ratio B_b/D", B_b / D, 1.0)
    return (*found, *_steel("chord", F_y, F_u))


def _require(**named: float) -> None:
    for name, value in named.items():
        if not value > 0.0:
            raise ValueError(
                f"{name} = {value!r}: must be above 0; give the magnitude in SI units (Pa, m)"
            )


def _too_much(name: str, value: float, limit: float) -> tuple[str, ...]:
    if value <= limit * _EDGE:
        return ()
    return (f"{name} is {value:.3g}, over the limit of {limit:.3g}",)


def _too_little(name: str, value: float, limit: float) -> tuple[str, ...]:
    if value >= limit / _EDGE:
        return ()
    return (f"{name} is {value:.3g}, under the limit of {limit:.3g}",)


def _steel(name: str, F_y: float, F_u: float) -> tuple[str, ...]:
    return (
        *_too_much(f"{name} F_y in ksi", F_y / constants.KSI, _HIGHEST_F_Y / constants.KSI),
        *_too_much(f"{name} F_y/F_u", F_y / F_u, _HIGHEST_F_Y_OVER_F_U),
    )


def _angle(theta: float) -> tuple[str, ...]:
    return _too_little(
        "angle of the branch in degrees", math.degrees(theta), math.degrees(_LEAST_ANGLE)
    )
