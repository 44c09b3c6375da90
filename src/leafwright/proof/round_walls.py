"""Whether a round tube's wall holds under a round tube coped to it: ANSI/AISC 360-22, K3 and K4."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.frame.load_cases import NAMES, LeafCase
from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    hss_joints,
    joint_limits,
    round_joints,
    round_moments,
)
from leafwright.handbook.aisc360.joint_limits import Joint
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.seam_parts import Landing, WeldedEnd, thickness
from leafwright.proof.working import Lines
from leafwright.records import Check, Number, Source, Verdict, graded

_CLAUSE = "K1.3; K3, Table K3.1; K4, Table K4.1"
#: A push under this share of the greatest force is rounding [-].
_NOTHING = 1e-6


@dataclass(frozen=True, slots=True)
class _Strength:
    """What a joint may carry: axial [N], bending in and out of the plane [N m]."""

    axial: float
    in_plane: float
    out: float


def _strength(
    end: WeldedEnd, landing: Landing, Q_f: Number, method: Method, lines: Lines
) -> _Strength:
    """Return the available strengths of a joint, keeping the formulas behind them."""
    chord = landing.onto.section
    given = {
        "F_y": chord.yield_stress,
        "t": thickness(landing.onto, design=True),
        "D": chord.width,
        "D_b": end.member.section.width,
        "theta": landing.angle,
    }
    chords = [round_joints.round_t_joint]
    if landing.cross:
        # What the two halves bring is not always in balance: the lesser of the two joints.
        chords.append(round_joints.round_cross_joint)
    found = []
    for plastic, punching in (
        (chords, round_joints.round_punching),
        ([round_moments.round_in_plane], round_moments.round_in_plane_punching),
        ([round_moments.round_out_of_plane], round_moments.round_out_of_plane_punching),
    ):
        has = []
        for formula in plastic:
            nominal = lines.work(formula, **given, Q_f=Q_f)
            state = LimitState.HSS_ROUND_PLASTIFICATION
            has.append(lines.work(available, nominal=nominal, limit_state=state, method=method))
        nominal = punching(**given)
        if np.isfinite(nominal):
            lines.work(punching, **given)
            state = LimitState.HSS_PUNCHING
            has.append(lines.work(available, nominal=nominal, limit_state=state, method=method))
        found.append(float(min(has)))
    return _Strength(*found)


def _out_of_limits(end: WeldedEnd, landing: Landing, *, pressed: bool) -> tuple[str, ...]:
    """Return what of a joint is outside Tables K3.1A and K4.1A, a sentence each."""
    chord, branch = landing.onto.section, end.member.section
    found = joint_limits.round_limits(
        chord.width,
        thickness(landing.onto, design=True),
        branch.width,
        thickness(end.member, design=True),
        chord.yield_stress,
        chord.tensile_strength,
        branch.yield_stress,
        branch.tensile_strength,
        Joint.CROSS if landing.cross else Joint.T_OR_Y,
        theta=landing.angle,
        branch_pressed=pressed,
        E=chord.grade.elastic_modulus,
    )
    need = float(hss_joints.end_distance_round(chord.width, branch.width / chord.width))
    if landing.to_end < need:
        found += ("it stands nearer to the tube's open end than K1.4 has it",)
    return found


def round_wall_check(
    end: WeldedEnd,
    brought: Floats,
    chord: Floats,
    cases: Sequence[LeafCase],
    method: Method,
    question: str,
) -> Check:
    """Return the check of a round tube's wall under a round tube coped to it.

    Args:
        end: with its one landing, on a round tube.
        brought: force and moment on the wall in the member's axes (cases, 6) [N, N m].
        chord: the tube's own forces there (cases, sides, 6) [N, N m].
        cases: for strength, in the order of both.
        method: ASD or LRFD.
        question: that the check asks.
    """
    landing = end.landings[0]
    section = landing.onto.section
    p = section.properties()
    pressing = np.maximum(-chord[..., 0], 0.0)
    bending = np.hypot(chord[..., 4], chord[..., 5])
    U = np.asarray(
        hss_joints.chord_use(
            pressing, bending, section.yield_stress, p.area, p.section_modulus_v, method
        )
    )
    rows = np.arange(len(U))
    worst = np.argmax(U, axis=1)
    # Past U = 1 the tube itself fails, which its own check says.
    Q_f = np.asarray(hss_joints.chord_stress_factor_round(np.minimum(U[rows, worst], 1.0)))
    axial, in_plane = np.abs(brought[:, 0]), np.abs(brought[:, 5])
    out = np.hypot(brought[:, 4], brought[:, 3])
    plain = _strength(end, landing, 1.0, method, Lines())
    # Punching does not lessen with Q_f; taken as if it did, which is on the safe side.
    a, i, o = axial / plain.axial / Q_f, in_plane / plain.in_plane / Q_f, out / plain.out / Q_f
    used = np.asarray(round_moments.round_interaction(a, i, o))
    case = int(np.argmax(used))
    ratio = float(used[case])
    lines = Lines()
    side = worst[case]
    lines.work(
        hss_joints.chord_use,
        P_ro=float(pressing[case, side]),
        M_ro=float(bending[case, side]),
        F_y=section.yield_stress,
        A_g=p.area,
        S=p.section_modulus_v,
        method=method,
    )
    lines.work(hss_joints.chord_stress_factor_round, U=min(float(U[case, side]), 1.0))
    _strength(end, landing, float(Q_f[case]), method, lines)
    lines.work(
        round_moments.round_interaction,
        axial=float(a[case]),
        in_plane=float(i[case]),
        out_of_plane=float(o[case]),
    )
    # Along the member, so that a pull on the wall at its end points back.
    pull = -brought[:, 0] if end.at_end else brought[:, 0]
    pressed = bool(pull.min() < -_NOTHING * (axial.max() + 1.0))
    beyond = _out_of_limits(end, landing, pressed=pressed)
    rule = (
        f"{a[case]:.2f} pull or push + {i[case]:.2f}² bending in the leaf's plane + "
        f"{o[case]:.2f} bending out of it, twisting taken with that, on {landing.onto.mark} "
        f"{landing.onto.role}: the round tube's wall giving way all round the joint"
    )
    if landing.cross:
        rule += "; of a cross-joint and a joint on one side the lesser strength is taken"
    verdict = Verdict.ASK if beyond else graded(ratio)
    change = "" if verdict is Verdict.OK else "a thicker wall for both tubes, or larger ones"
    if beyond:
        rule += f"; worked all the same it would use {ratio:.2f}"
        change = f"outside the tables ({'; '.join(beyond)}): have an engineer answer"
    return Check(
        key=f"{end.key}/wall",
        subject=end.subject,
        question=question,
        verdict=verdict,
        source=Source(DOCUMENT, _CLAUSE),
        demand=ratio,
        available=1.0,
        ratio=ratio,
        case=NAMES[cases[case].situation],
        change=change,
        basis=method.value,
        rule=rule,
        working=lines.kept(),
    )
