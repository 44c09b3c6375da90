"""Whether the walls of the tubes hold at every joint: ANSI/AISC 360-22, chapter K.

A member wedged into a corner stands on two walls, and each takes what the seams on it bring. A
mitred corner is in no table of chapter K; it is worked as published elsewhere.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright.doorway.heel import leaf_words
from leafwright.frame.element import Bools, Floats
from leafwright.frame.load_cases import NAMES, LeafCase
from leafwright.handbook import knees
from leafwright.handbook.aisc360 import Method, hss_joints
from leafwright.handbook.sections import SectionProperties
from leafwright.leaf import Leaf
from leafwright.proof.capacity import DOCUMENT, capacity
from leafwright.proof.seam_group import wall_axes
from leafwright.proof.seam_parts import WeldedEnd, is_tube, thickness
from leafwright.proof.seam_states import Load, State, strengths
from leafwright.proof.seam_walls import Wall, out_of_limits, too_sharp, wall_of
from leafwright.proof.working import Lines
from leafwright.records import Check, Held, Number, Radians, Source, Verdict, Working, graded

WALL_QUESTION = "do the tube walls there hold what it brings"
_CHANGE = "a thicker wall for what it stands on, a wider member, or a plate welded on the wall"

#: A push under this share of the greatest force is rounding [-].
_NOTHING = 1e-6
#: What uses less of a wall than this is not told beside what uses more [-].
_NOT_TOLD = 0.005

_LOADS: dict[str, tuple[Load, ...]] = {
    "force": ("pull", "push"),
    "in": ("in",),
    "out": ("out",),
    "across": ("across",),
}

_WORDS: dict[str, str] = {
    "force": "pull or push",
    "in": "bending in the leaf's plane",
    "out": "bending out of it",
    "across": "shear in the side walls between the branch's edges",
}


@dataclass(frozen=True, slots=True, eq=False)
class AtWall:
    """What comes to one wall in every case.

    ``brought`` (cases, 6) is force and moment on it in the member's axes about the middle of the
    landing; ``own`` (cases, 6) the member's internal forces; ``chord`` (cases, sides, 6) those of
    what it stands on, on one or both sides of the joint [N, N m].
    """

    number: int
    brought: Floats
    own: Floats
    chord: Floats


@dataclass(frozen=True, slots=True)
class SharpEnd:
    """An end that comes in at a sharper angle than chapter K has, and what it would use [-]."""

    end: WeldedEnd
    angle: Radians
    used: Number


def wall_check(
    end: WeldedEnd, walls: Sequence[AtWall], cases: Sequence[LeafCase], method: Method
) -> tuple[Check, SharpEnd | None]:
    """Return the check of the walls that an end stands on, by the wall and case that govern.

    An angle outside chapter K's tables is given back, to be asked once for a leaf; all else that
    is outside is asked here.
    """
    key = f"{end.key}/wall"
    solid = _solid(end)
    if solid:
        return _asked(key, end, "K1", solid), None
    found = [_on_wall(end, at, method) for at in walls]
    ratios = np.stack([used.total for used in found])
    which, case = (int(i) for i in np.unravel_index(int(np.argmax(ratios)), ratios.shape))
    used, ratio = found[which], float(ratios[which, case])
    out = tuple(dict.fromkeys(reason for each in found for reason in each.out))
    sharp = [each.wall.theta for each in found if too_sharp(each.wall)]
    governing, working = used.governing(case, method)
    onto = end.landings[walls[which].number].onto
    rule = f"{used.told(case)}, on {onto.mark} {onto.role}"
    if len(walls) > 1:
        rule += "; each of the two walls takes what the seams on it bring (rational analysis, K1)"
    if sharp:
        rule += f"; it comes in at {math.degrees(min(sharp)):.0f}°, under 30°: asked for the leaf"
    if out:
        rule += f"; worked all the same it would use {ratio:.2f}"
    verdict = Verdict.ASK if out or not math.isfinite(ratio) else graded(ratio)
    change = _CHANGE if verdict is not Verdict.OK else ""
    if out:
        change = f"outside the tables ({'; '.join(out)}): have an engineer answer, or change that"
    clauses = dict.fromkeys(state.clause for state in governing)
    check = Check(
        key=key,
        subject=end.subject,
        question=WALL_QUESTION,
        verdict=verdict,
        source=Source(DOCUMENT, ", ".join(("K1 to K4", *clauses))),
        demand=ratio,
        available=1.0,
        ratio=ratio if math.isfinite(ratio) else None,
        case=NAMES[cases[case].situation],
        change=change,
        basis=method.value,
        rule=rule,
        working=working,
    )
    return check, SharpEnd(end, min(sharp), ratio) if sharp else None


def _asked(key: str, end: WeldedEnd, clause: str, change: str) -> Check:
    return Check(
        key=key,
        subject=end.subject,
        question=WALL_QUESTION,
        verdict=Verdict.ASK,
        source=Source(DOCUMENT, clause),
        change=change,
    )


def not_known(end: WeldedEnd) -> Check:
    """Return the question about walls whose seams cannot be told to hold."""
    why = "its seams must hold before its walls can be told: see the seams of this end"
    return _asked(f"{end.key}/wall", end, "K1", _solid(end) or why)


def _solid(end: WeldedEnd) -> str:
    """Return what to say of an end that stands on no tube, or ''."""
    for landing in end.landings:
        if not is_tube(landing.onto):
            onto = landing.onto
            return f"{onto.mark} {onto.role} is no tube: have an engineer answer"
    return ""


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """The limit states of a wall for one load, as columns to work all cases at once."""

    states: tuple[State, ...]
    holds: Floats
    by_chord: Bools
    whole: Bools
    pushed_only: Bools


@functools.lru_cache(maxsize=512)
def _tables(wall: Wall, method: Method) -> dict[str, _Table]:
    known = strengths(wall, method)
    tables = {}
    for name, loads in _LOADS.items():
        mine = [holds for holds in known if set(holds.state.load) & set(loads)]
        states = tuple(holds.state for holds in mine)
        tables[name] = _Table(
            states,
            np.array([[holds.value] for holds in mine]),
            np.array([[state.by_chord] for state in states]),
            np.array([[state.whole] for state in states]),
            np.array([[state.load == ("push",)] for state in states]),
        )
    return tables


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """One load on a wall in every case: what it uses most of, and how much [-]."""

    name: str
    states: tuple[State, ...]
    which: NDArray[np.intp]
    used: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Used:
    """What one wall uses of its strength in every case, part by part.

    ``pressing`` [N] and ``bending`` [N m] press the wall in the chord itself.
    """

    wall: Wall
    parts: tuple[_Part, ...]
    chord: SectionProperties
    pressing: Floats
    bending: Floats
    Q_f: Floats
    total: Floats
    out: tuple[str, ...]

    def _counted(self, case: int) -> list[_Part]:
        """Return the parts that make up the greatest use in a case: three together, or one."""
        *three, across = self.parts
        if across.used[case] >= self.total[case]:
            return [across]
        told = [part for part in three if part.used[case] >= _NOT_TOLD]
        return told or [max(three, key=lambda part: float(part.used[case]))]

    def told(self, case: int) -> str:
        """Return what a case uses, in words."""
        return " + ".join(
            f"{part.used[case]:.2f} {_WORDS[part.name]} ({part.states[part.which[case]].words})"
            for part in self._counted(case)
        )

    def governing(self, case: int, method: Method) -> tuple[tuple[State, ...], tuple[Working, ...]]:
        """Return the limit states that govern in a case, and the formulas behind them."""
        w, Q_f, lines = self.wall, float(self.Q_f[case]), Lines()
        if Q_f < 1.0:
            U = lines.work(
                hss_joints.chord_use,
                P_ro=float(self.pressing[case]),
                M_ro=float(self.bending[case]),
                F_y=w.F_y,
                A_g=self.chord.area,
                S=self.chord.section_modulus_v,
                method=method,
            )
            if w.plate:
                lines.work(hss_joints.chord_stress_factor_round, U=U)
            else:
                lines.work(hss_joints.chord_stress_factor, U=U, beta=w.beta)
        states = tuple(part.states[part.which[case]] for part in self._counted(case))
        working = lines.kept()
        for holds in strengths(w, method, Q_f):
            if holds.state in states:
                working += holds.working
        return states, working


def _on_wall(end: WeldedEnd, at: AtWall, method: Method) -> _Used:
    """Return what one wall uses, all cases at once."""
    landing = end.landings[at.number]
    wall = wall_of(end.member, landing)
    axes = wall_axes(end, at.number)
    force, moment = at.brought[:, :3] @ axes.T, at.brought[:, 3:] @ axes.T
    P, M_in, M_out = force[:, 0], np.abs(moment[:, 2]), np.abs(moment[:, 1])
    # The chord bends so that the wall with this normal is pressed where M_z has its sign.
    dx, dy = landing.along
    side = 1.0 if landing.normal[1] * dx - landing.normal[0] * dy > 0.0 else -1.0
    p = landing.onto.section.properties()
    pressing = np.maximum(-at.chord[..., 0], 0.0)
    bending = np.maximum(side * at.chord[..., 5], 0.0)
    U = np.asarray(
        hss_joints.chord_use(pressing, bending, wall.F_y, p.area, p.section_modulus_v, method)
    )
    rows = np.arange(len(U))
    worst = np.argmax(U, axis=1)
    U = U[rows, worst]
    if wall.plate:
        # Past U = 1 the chord itself fails, which its own check says.
        Q_f = np.asarray(hss_joints.chord_stress_factor_round(np.minimum(U, 1.0)))
    else:
        Q_f = np.asarray(hss_joints.chord_stress_factor(U, wall.beta))
    own = np.abs(at.own)
    # Between the middles of the branch's two walls that lie across; a solid bar's own depth.
    lever = wall.l_b - (wall.t_b if wall.tube else 0.0)
    loads: tuple[tuple[str, Floats, Floats], ...] = (
        ("force", np.abs(P), own[:, 0]),
        ("in", M_in, own[:, 5]),
        ("out", M_out, own[:, 4]),
        ("across", M_in / lever, own[:, 0]),
    )
    tables = _tables(wall, method)
    pushed = P < 0.0
    parts = []
    for name, size, whole in loads:
        t = tables[name]
        used = np.where(t.whole, whole, size) / (t.holds * np.where(t.by_chord, Q_f, 1.0))
        used = np.where(t.pushed_only & ~pushed, 0.0, used)
        which = np.argmax(used, axis=0)
        parts.append(_Part(name, t.states, which, used[which, rows]))
    total = np.maximum(parts[0].used + parts[1].used + parts[2].used, parts[3].used)
    pressed = bool(P.min() < -_NOTHING * (np.abs(P).max() + 1.0))
    return _Used(
        wall,
        tuple(parts),
        p,
        pressing[rows, worst],
        bending[rows, worst],
        Q_f,
        total,
        out_of_limits(wall, pressed=pressed),
    )


def sharp_check(leaf: Leaf, sharp: Sequence[SharpEnd]) -> tuple[Check, ...]:
    """Return the question about ends that come in sharper than chapter K's tables have."""
    if not sharp:
        return ()
    angles = [math.degrees(one.angle) for one in sharp]
    most = max(sharp, key=lambda one: one.used)
    ends = ", ".join(f"{one.end.member.mark} {one.end.name}" for one in sharp)
    between = f"{min(angles):.0f}°"
    if max(angles) - min(angles) >= 1.0:
        between += f" to {max(angles):.0f}°"
    return (
        Check(
            key=f"{leaf.key}/seams/sharp ends",
            subject=f"the sharp brace ends of {leaf_words(leaf.key)}",
            question="do the tube walls hold braces sharper than chapter K's tables have",
            verdict=Verdict.ASK,
            source=Source(DOCUMENT, "K3, the least angle of 30° (commentary); K1"),
            change=f"have an engineer answer, or divide the panel by a mid rail: {ends} end at "
            f"{between} to what they stand on; worked all the same {most.end.member.mark} "
            f"{most.end.name} uses most, {most.used:.2f}",
            rule="the tables were tested down to 30°; no weld is counted in a corner under that",
        ),
    )


def mitre_check(
    end: WeldedEnd, internal: Floats, cases: Sequence[LeafCase], method: Method
) -> Check:
    """Return the check of one part of a mitred corner.

    Args:
        end: mitred with another member.
        internal: its internal forces at the corner (cases, 6).
        cases: for strength, in the order of ``internal``.
        method: ASD or LRFD.
    """
    key, member = f"{end.key}/wall", end.member
    has = capacity(member.section, float(member.length.value), method)
    if isinstance(has, Held) or has.torsion is None or not is_tube(member):
        return _asked(key, end, "K1", "a mitre of no tube: have an engineer answer")
    lines = Lines()
    section = member.section
    alpha = lines.work(
        knees.mitre_factor,
        b=section.height,
        h=section.width,
        t=thickness(member, design=True),
    )
    N, V_y, V_z, T, M_y, M_z = (np.abs(internal[:, i]) for i in range(6))
    axial = N / has.tension
    bent = M_z / has.bending_in + M_y / has.bending_out + T / has.torsion
    shear = np.maximum(V_y / has.shear_in, V_z / has.shear_out)
    uses = np.stack(
        [(axial + bent) / alpha, axial / knees.GREATEST_AXIAL, shear / knees.GREATEST_SHEAR]
    )
    which, case = np.unravel_index(int(np.argmax(uses)), uses.shape)
    ratio = float(uses[which, case])
    words = (
        f"axial force {axial[case]:.2f} + bending both ways and twisting {bent[case]:.2f} of the "
        f"tube's own strength, over alpha = {alpha:.2f}; bending out of the plane and twisting, "
        "which the guide does not have, are added",
        f"axial force over {knees.GREATEST_AXIAL} of the tube's own strength",
        f"shear over {knees.GREATEST_SHEAR} of the tube's own strength",
    )[int(which)]
    verdict = graded(ratio)
    return Check(
        key=key,
        subject=end.subject,
        question=WALL_QUESTION,
        verdict=verdict,
        source=Source(
            "CIDECT Design Guide 3 (2009)",
            f"Eqs. 5.16 and 5.17; {DOCUMENT}, K1, has no rule for it",
        ),
        demand=ratio,
        available=1.0,
        ratio=ratio,
        case=NAMES[cases[int(case)].situation],
        change=""
        if verdict is Verdict.OK
        else "a plate in the mitre, half as thick again as the wall, or a thicker tube",
        basis=method.value,
        rule=words,
        working=lines.kept(),
    )
