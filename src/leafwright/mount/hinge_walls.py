"""The wall of a tube that a hinge half is welded to: stile or post, square or round.

The half counts as a plate along the tube, as wide as its pin (its barrel is wider) and as long as
its weld. The pull or push square to the wall, the weight on its lever (a moment along the tube)
and the force across on the same lever (a moment that turns the half about the tube's length) are
each compared with the wall's own strength, and the three shares added.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.handbook import sections
from leafwright.handbook.aisc360 import (
    LimitState,
    available,
    face_moments,
    hss_joints,
    joint_limits,
    round_joints,
)
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.mount.parts import force, made_check, moment, size
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonMetres, Newtons

RECTANGULAR = "K1, J10.10 and J4.2; moments by rational analysis (2010 edition, Table K3.2)"
ROUND = "Table K2.1"

#: A share of the wall's strength under this is rounding [-].
_NOTHING = 1e-6


@dataclass(frozen=True, slots=True)
class WallLoad:
    """What one hinge puts on a wall in one case, magnitudes.

    ``out`` is square to the wall, ``along`` the moment in the plane of wall and pin, ``across``
    the moment about the tube's length. ``to_end`` is from the weld to the tube's open end [m].
    """

    words: str
    out: Newtons
    along: NewtonMetres
    across: NewtonMetres
    to_end: Metres


@dataclass(frozen=True, slots=True)
class Patch:
    """What a hinge half covers of a wall: width across the tube and length along it [m]."""

    width: Metres
    length: Metres


@dataclass(frozen=True, slots=True)
class TubeUse:
    """The force and the moment in the tube itself beside the hinge, magnitudes [N, N m].

    The moment is about the axis along the wall's own width.
    """

    axial: Newtons
    moment: NewtonMetres


@dataclass(frozen=True, slots=True)
class _Strengths:
    """Available strengths of a wall, and how near to an open end they are halved."""

    out: Newtons
    along: NewtonMetres
    across: NewtonMetres
    from_end: Metres
    clause: str
    rule: str


def wall_check(
    m: Mounting,
    key: str,
    subject: str,
    tube: CatalogueSection,
    patch: Patch,
    use: TubeUse,
    loads: Sequence[WallLoad],
    *,
    change: str,
) -> Check | None:
    """Return whether a tube's wall holds the hinges welded to it; None for solid steel.

    Args:
        m: the leaf as it hangs.
        key: of the check, after the leaf's.
        subject: what the maker calls the tube.
        tube: its section; the wall that faces the leaf is as wide as the section is high.
        patch: what a hinge half covers.
        use: what is in the tube itself.
        loads: what every hinge puts on it, in every case.
        change: what would mend it.
    """
    if tube.shape in (sections.ROUND_BAR, sections.FLAT_BAR):
        return None
    lines = Lines()
    if tube.shape == sections.RECTANGULAR_TUBE:
        strong = _rectangular(m, tube, patch, use, lines)
        outside = _out_of_limits(tube)
    elif tube.shape == sections.ROUND_TUBE:
        strong = _round(m, tube, patch, use, lines)
        outside = joint_limits.round_plate_limits(
            tube.width,
            tube.design_wall,
            tube.yield_stress,
            tube.tensile_strength,
            joint_limits.Joint.T_OR_Y,
        )
    else:
        strong = _Strengths(math.nan, math.nan, math.nan, 0.0, RECTANGULAR, "not worked out")
        outside = (f"there is no rule here for a hinge on an {tube.shape}",)

    def used(load: WallLoad) -> float:
        whole = load.out / strong.out + load.along / strong.along
        if load.across > _NOTHING * strong.along:
            whole += load.across / strong.across if strong.across > 0.0 else math.nan
        return whole * (2.0 if load.to_end < strong.from_end else 1.0)

    worst = max(loads, key=lambda load: math.inf if math.isnan(used(load)) else used(load))
    ratio = used(worst)
    unknown = [f"{words}: ask an engineer, or {change}" for words in outside]
    if math.isnan(ratio) and not outside:
        unknown.append(
            "a round wall has no rule for a hinge turned about its length: ask an engineer"
        )
    rule = f"{strong.rule}: {force(m, worst.out)}, {moment(m, worst.along)} along the tube and "
    rule += f"{moment(m, worst.across)} about its length, on {size(m, patch.length)} of weld"
    if worst.to_end < strong.from_end:
        rule += "; doubled, so near to the tube's open end (K1.4): cap the end, welded all round"
    known = not math.isnan(ratio)
    return made_check(
        m,
        key,
        subject,
        "does its wall hold the hinges welded to it",
        clause=strong.clause,
        demand=ratio if known else worst.out,
        available=1.0 if known else None,
        unit="1" if known else "N",
        case=worst.words,
        change=change,
        rule=rule,
        lines=lines,
        unknown=unknown,
    )


def _factor(m: Mounting, tube: CatalogueSection, use: TubeUse, lines: Lines) -> float:
    """Return Q_f for a plate along the tube; of a tube past its strength, that of a full one."""
    p = tube.properties()
    U = lines.work(
        hss_joints.chord_use,
        P_ro=use.axial,
        M_ro=use.moment,
        F_y=tube.yield_stress,
        A_g=p.area,
        S=p.section_modulus_v,
        method=m.method,
    )
    return float(lines.work(hss_joints.chord_stress_factor_round, U=min(float(U), 1.0)))


def _rectangular(
    m: Mounting, tube: CatalogueSection, patch: Patch, use: TubeUse, lines: Lines
) -> _Strengths:
    Q_f = _factor(m, tube, use, lines)
    F_y, t, B = tube.yield_stress, tube.design_wall, tube.height
    # A half as wide as the face stands on the side walls; counted narrower, it is safe.
    B_b = min(patch.width, hss_joints.WIDE_BRANCH * B)
    face = lines.work(
        hss_joints.face_plastification, F_y=F_y, t=t, B=B, B_b=B_b, l_b=patch.length, Q_f=Q_f
    )
    punched = lines.work(hss_joints.face_punching, F_y=F_y, t=t, B=B, B_b=B_b, l_b=patch.length)
    along = lines.work(
        face_moments.face_moment_along, F_y=F_y, t=t, B=B, B_b=B_b, l_b=patch.length, Q_f=Q_f
    )
    across = lines.work(
        face_moments.face_moment_across, F_y=F_y, t=t, B=B, B_b=B_b, l_b=patch.length, Q_f=Q_f
    )
    yielding = LimitState.FACE_PLASTIFICATION
    return _Strengths(
        out=float(
            min(
                available(face, yielding, m.method),
                available(punched, LimitState.HSS_PUNCHING, m.method),
            )
        ),
        along=float(available(along, yielding, m.method)),
        across=float(available(across, yielding, m.method)),
        from_end=float(hss_joints.end_distance_rectangular(B, B_b / B)),
        clause=RECTANGULAR,
        rule="the pull over the wall's yield-line or punching strength, and the pin's lever's two "
        "moments over theirs, added",
    )


def _round(
    m: Mounting, tube: CatalogueSection, patch: Patch, use: TubeUse, lines: Lines
) -> _Strengths:
    Q_f = _factor(m, tube, use, lines)
    R_n = lines.work(
        round_joints.longitudinal_plate,
        F_y=tube.yield_stress,
        t=tube.design_wall,
        D=tube.width,
        l_b=patch.length,
        Q_f=Q_f,
    )
    out = float(available(R_n, LimitState.HSS_ROUND_PLASTIFICATION, m.method))
    return _Strengths(
        out=out,
        along=0.8 * patch.length * out,
        across=0.0,
        from_end=float(hss_joints.end_distance_round(tube.width, patch.width / tube.width)),
        clause=ROUND,
        rule="the pull over the strength of a plate along the tube, and the lever's moment over "
        "0.8 of its length times that (Eq. K2-2b), added",
    )


def _out_of_limits(tube: CatalogueSection) -> tuple[str, ...]:
    """Return what of a square or rectangular tube is out of limits, the plate apart."""
    B, H, t = tube.height, tube.width, tube.design_wall
    F_y, F_u = tube.yield_stress, tube.tensile_strength
    # A branch of the tube's own steel that is within limits: only what is said of the chord counts.
    said = joint_limits.rectangular_limits(
        B, H, t, 0.5 * B, 0.5 * B, t, F_y, F_u, F_y, F_u, branch_pressed=False
    )
    return tuple(words for words in said if words.startswith("chord"))
