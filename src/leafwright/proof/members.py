"""Every member against AISC 360-22, at every section where a force can be greatest."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright.frame.forces import Forces, every_member_force
from leafwright.frame.load_cases import NAMES, LeafCase
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.handbook.aisc360 import Method, combined, compression, tension
from leafwright.handbook.aisc360.second_order import elastic_critical_load, moment_amplifier
from leafwright.leaf import Leaf, Member
from leafwright.proof.capacity import DOCUMENT, Capacity, Real, capacity, compressive_strength
from leafwright.proof.working import Lines
from leafwright.records import Check, Held, Source, Verdict, Working, graded

#: A compression under this share of the strength is rounding, and presses nothing [-].
NOTHING = 1e-6


@dataclass(frozen=True, slots=True)
class Lengths:
    """Effective lengths of a member, K = 1 [m]: in the leaf's plane, and out of it.

    ``crossed_by`` is the bar that crosses it in the middle of ``out_of_plane``, in one piece or
    two: where that one pulls, it holds this one from bowing out of the plane by
    `crossing_factor`.
    """

    in_plane: float
    out_of_plane: float
    crossed_by: tuple[str, ...] = ()


def crossing_factor(C: float, T: float) -> float:
    """Return the effective length factor K out of the plane of a bar crossed in its middle [-].

    Elastic stability, worked here: a bar with ends held and a spring k at mid length carries at
    least P = P_E + 3 k L/16, and 4 P_E from k = 16 P_E/L on. A like bar across it, welded to it
    stiffly, gives k = 48 E I/L³ by bending and 4 T/L by its pull; with T in proportion to C this
    is K² = P_E/P = (1 − 0.75 T/C)/(1 + 9/π²), not under 0.5². Published tests and analysis of X
    braces give √(0.523 − 0.428 T/C), not under 0.5 (Picard and Beaulieu, 1987, from memory).

    C: compression in the bar [N], a magnitude above 0.
    T: pull in the bar across it, the mean of its two halves [N]; negative where it is pressed.
    Limits: both bars of one section and crossing in the middle; 1.0 where the bar across does
    not pull, since both may then bow together.
    """
    if T <= 0.0:
        return 1.0
    return math.sqrt(max(0.25, (1.0 - 0.75 * T / C) / (1.0 + 9.0 / math.pi**2)))


def effective_lengths(leaf: Leaf, model: FrameModel) -> dict[str, Lengths]:
    """Return the effective lengths of every member, from the joints it runs between.

    A stile buckles in the leaf's plane between rails and out of it between its ends; a rail
    between stiles; a brace between its corners, an X in the plane between corner and crossing.
    """
    at = {n.key: n.at for n in model.nodes}
    found: dict[str, Lengths] = {}
    across: tuple[str, ...]
    for member in leaf.members:
        nodes = [(e.start, e.end) for e in model.elements if e.member == member.key]
        whole = sum(math.dist(at[a], at[b]) for a, b in nodes)
        if member.role in ("hanging stile", "meeting stile", "closing stile"):
            side = "hinge" if member.role == "hanging stile" else "nose"
            rails = sorted(n.at[1] for n in model.nodes if _rail_end(n.key, side))
            bays = [b - a for a, b in itertools.pairwise(rails)]
            found[member.key] = Lengths(max(bays), whole)
        elif member.key.endswith(("/through", "/across")):
            stem, own = member.key.rsplit("/", 1)
            parts = [math.dist(at[a], at[b]) for a, b in nodes]
            lapped = any(m.key == f"{stem}/across" for m in leaf.members)
            across = (f"{stem}/lower", f"{stem}/upper")
            if lapped:
                across = (f"{stem}/{'across' if own == 'through' else 'through'}",)
            # The relief is known for bars that cross in the middle alone.
            across = across if _halved(parts) else ()
            found[member.key] = Lengths(max(parts), whole, across)
        elif member.key.endswith(("/lower", "/upper")):
            stem, half = member.key.rsplit("/", 1)
            other = f"{stem}/{'upper' if half == 'lower' else 'lower'}"
            rest = sum(
                math.dist(at[e.start], at[e.end]) for e in model.elements if e.member == other
            )
            across = (f"{stem}/through",) if _halved((whole, rest)) else ()
            found[member.key] = Lengths(whole, whole + rest, across)
        else:
            found[member.key] = Lengths(whole, whole)
    return found


def _halved(parts: Sequence[float]) -> bool:
    """Return whether a bar is crossed in its middle, to a thousandth."""
    return max(parts) <= min(parts) * 1.001


def _rail_end(node: str, side: str) -> bool:
    return node.endswith(f" {side}") and node.split(" ")[0] in ("bottom", "mid", "top")


@dataclass(frozen=True, slots=True)
class _Used:
    """Demands over available strengths of one member, cases × sections along it [-].

    ``axial_force`` and ``axial_strength`` are in [N]; ``slenderness`` and ``length_out`` are one a
    case; ``shear_strength`` is that of the direction which is used more [N].
    """

    member: Member
    has: Capacity
    method: Method
    length_in: float
    length_out: np.ndarray
    cases: tuple[LeafCase, ...]
    shear_strength: np.ndarray
    axial: np.ndarray
    bending_in: np.ndarray
    bending_out: np.ndarray
    shear: np.ndarray
    torsion: np.ndarray
    together: np.ndarray
    axial_force: np.ndarray
    axial_strength: np.ndarray
    slenderness: np.ndarray


def _used(
    cases: Sequence[LeafCase],
    forces: Sequence[Forces],
    member: Member,
    has: Capacity,
    lengths: tuple[float, Sequence[float]],
    method: Method,
) -> _Used:
    """Return what a member uses of its strengths, all cases at once.

    ``lengths`` are the effective lengths in the plane, and out of it in each case [m].
    """
    N, V_y, V_z, T, M_y, M_z = (
        np.stack([getattr(f, name) for f in forces])
        for name in ("N", "V_y", "V_z", "T", "M_y", "M_z")
    )
    in_plane, out = lengths[0], np.array(lengths[1])
    pressed, slenderness = compressive_strength(member.section, in_plane, out, method)
    strength: np.ndarray = np.where(N < 0, np.asarray(pressed)[:, None], has.tension)
    P: Real = np.abs(N) / strength
    p, E = member.section.properties(), member.section.grade.elastic_modulus
    compressed = np.array([_greatest_compression(f) for f in forces])
    grown_in = moment_amplifier(
        compressed, elastic_critical_load(p.inertia_v, in_plane, E=E), method
    )
    grown_out = moment_amplifier(compressed, elastic_critical_load(p.inertia_u, out, E=E), method)
    M_in = _grown(np.asarray(grown_in), np.abs(M_z)) / has.bending_in
    M_out = _grown(np.asarray(grown_out), np.abs(M_y)) / has.bending_out
    V = np.maximum(np.abs(V_y) / has.shear_in, np.abs(V_z) / has.shear_out)
    if has.torsion is None:
        twist = np.zeros_like(V)
        together = combined.interaction_axial_bending(P, M_in, M_out)
    else:
        twist = np.abs(T) / has.torsion
        together = combined.interaction_with_torsion(P, M_in, M_out, V, twist)
    deeper = np.abs(V_y) / has.shear_in >= np.abs(V_z) / has.shear_out
    return _Used(
        member=member,
        has=has,
        method=method,
        length_in=in_plane,
        length_out=out,
        cases=tuple(cases),
        shear_strength=np.where(deeper, has.shear_in, has.shear_out),
        axial=np.asarray(P),
        bending_in=M_in,
        bending_out=M_out,
        shear=V,
        torsion=twist,
        together=np.asarray(together),
        axial_force=N,
        axial_strength=strength,
        slenderness=np.asarray(slenderness),
    )


def _greatest_compression(forces: Forces) -> float:
    """Return the greatest compression anywhere in a member [N], 0 where it is pulled all along."""
    return max(0.0, -float(np.min(forces.N)))


def _grown(by: np.ndarray, moment: np.ndarray) -> np.ndarray:
    """Return amplified moments; a bar past its critical load fails even where none is on it."""
    lost = ~np.isfinite(by)
    return np.where(lost[:, None], np.inf, np.where(lost, 1.0, by)[:, None] * moment)


def _length_out(span: Lengths, own: Forces, across: Sequence[Forces]) -> float:
    """Return a member's effective length out of the plane in one case [m]."""
    C = _greatest_compression(own)
    if not across or C == 0.0:
        return span.out_of_plane
    # Straight from corner to crossing, each half holds it by the mean of its force.
    T = float(np.mean([np.trapezoid(f.N, f.at) / f.at[-1] for f in across]))
    return crossing_factor(C, T) * span.out_of_plane


def member_checks(
    leaf: Leaf,
    model: FrameModel,
    result: FrameResult,
    cases: Sequence[LeafCase],
    method: Method,
) -> tuple[Check, ...]:
    """Return the strength checks of every member, each by the case and section that govern.

    A rod is checked for its pull only: it hangs slack rather than be pressed or bent.
    """
    lengths = effective_lengths(leaf, model)
    strong = [c for c in cases if c.for_strength]
    forces = every_member_force(model, result, [member.key for member in leaf.members])
    checks: list[Check] = []
    for member in leaf.members:
        span = lengths[member.key]
        has = capacity(member.section, span.out_of_plane, method)
        if isinstance(has, Held):
            checks.append(_asked(member, has))
            continue
        own = [forces[member.key, case.key] for case in strong]
        if member.role == "rod":
            # It hangs between its ends; what its own weight does to it as a beam is nothing.
            own = [replace(f, N=np.maximum(f.N, 0.0)) for f in own]
        out = [
            _length_out(span, f, [forces[k, case.key] for k in span.crossed_by])
            for f, case in zip(own, strong, strict=True)
        ]
        used = _used(strong, own, member, has, (span.in_plane, out), method)
        checks += _checks_of(used, span)
    return tuple(checks)


def _asked(member: Member, held: Held) -> Check:
    return Check(
        key=f"{member.key}/strength",
        subject=_subject(member),
        question="is the member strong enough",
        verdict=Verdict.ASK,
        source=Source(DOCUMENT),
        change=f"{held.why}; needs {', '.join(held.needs)}",
    )


def _subject(member: Member) -> str:
    return f"{member.mark} {member.role}"


def _checks_of(used: _Used, span: Lengths) -> list[Check]:
    member, has = used.member, used.has
    rod = member.role == "rod"
    stronger = "a thicker rod" if rod else "a larger tube, a thicker wall or a shorter bay"
    checks = [
        _governing(
            used,
            "axial",
            "axial",
            "axial force against its strength",
            has.clauses["tension"] if rod else f"E3 and E7; {has.clauses['tension']}",
            stronger,
        )
    ]
    if rod:
        return [*checks, *_of_any_member(member, used, span)]
    checks += [
        _governing(
            used,
            "bending in",
            "bending_in",
            "bending in the leaf's plane",
            has.clauses["bending"],
            stronger,
        ),
        _governing(
            used,
            "bending out",
            "bending_out",
            "bending out of the leaf's plane",
            has.clauses["bending"],
            stronger,
        ),
        _governing(used, "shear", "shear", "shear", has.clauses["shear"], stronger),
    ]
    if has.torsion is not None:
        checks.append(
            _governing(
                used,
                "torsion",
                "torsion",
                "twisting",
                has.clauses["torsion"],
                stronger,
            )
        )
    clause = "H1.1, Eqs. H1-1a and H1-1b" + ("; H3.2, Eq. H3-6" if has.torsion else "")
    checks.append(
        _governing(used, "together", "together", "all of these together", clause, stronger)
    )
    return [*checks, *_of_any_member(member, used, span)]


def _of_any_member(member: Member, used: _Used, span: Lengths) -> list[Check]:
    """Return the checks that a rod has as well as a beam."""
    # D1's advice leaves out rods: they have no slenderness to check.
    checks = [] if member.role == "rod" else [_slenderness(member, used, span)]
    if not member.section.yield_guaranteed:
        checks.append(
            Check(
                key=f"{member.key}/certificate",
                subject=_subject(member),
                question="is the steel as strong as it was taken to be",
                verdict=Verdict.ASK,
                source=member.section.grade.source,
                change=f"{member.section.grade.name} promises no yield stress: "
                "get the mill certificate, or take a grade that does",
            )
        )
    return checks


def _governing(
    used: _Used, tail: str, field: str, question: str, clause: str, change: str
) -> Check:
    member = used.member
    ratios: np.ndarray = getattr(used, field)
    # What is no number comes out as the greatest, so that it is asked and never passed.
    where = np.unravel_index(int(np.argmax(ratios)), ratios.shape)
    at = (int(where[0]), int(where[1]))
    ratio = float(ratios[at])
    situation = NAMES[used.cases[at[0]].situation]
    if field == "axial":
        question += ", pressed" if used.axial_force[at] < 0 else ", pulled"
    if not math.isfinite(ratio):
        unknown = math.isnan(ratio)
        why = "outside what the specification covers: " if unknown else "it buckles: "
        return Check(
            key=f"{member.key}/{tail}",
            subject=_subject(member),
            question=question,
            verdict=Verdict.ASK if unknown else Verdict.SHORT,
            source=Source(DOCUMENT, clause),
            case=situation,
            change=why + change,
            basis=used.method.value,
        )
    verdict = graded(ratio)
    available, unit = _strength(used, field, at)
    return Check(
        key=f"{member.key}/{tail}",
        subject=_subject(member),
        question=question,
        verdict=verdict,
        source=Source(DOCUMENT, clause),
        unit=unit,
        demand=ratio * available,
        available=available,
        ratio=ratio,
        case=situation,
        change=change if verdict is not Verdict.OK else "",
        basis=used.method.value,
        rule=_RULES[field],
        working=_working(used, field, at),
    )


_RULES = {
    "axial": "the greatest axial force in any case over the strength there",
    "bending_in": "the greatest moment, grown by what presses along the bar (appendix 8), over the "
    "strength",
    "bending_out": "the greatest moment, grown by what presses along the bar (appendix 8), over "
    "the strength",
    "shear": "the greatest shear in either direction over the strength in that direction",
    "torsion": "the greatest twisting moment over the strength",
    "together": "axial force, bending both ways, shear and twisting at one place of one case",
}


def _strength(used: _Used, field: str, at: tuple[int, int]) -> tuple[float, str]:
    """Return the available strength that a ratio is to, with its unit; 1 for their sum."""
    if field == "axial":
        return float(used.axial_strength[at]), "N"
    if field == "shear":
        return float(used.shear_strength[at]), "N"
    if field == "together":
        return 1.0, "1"
    return float(getattr(used.has, field)), "N m"


def _working(used: _Used, field: str, at: tuple[int, int]) -> tuple[Working, ...]:
    """Return the formulas behind a ratio, with the numbers of the case and place that govern."""
    pressed = bool(used.axial_force[at] < 0)
    if field == "axial" and pressed:
        lines = Lines()
        out = float(used.length_out[at[0]])
        compressive_strength(used.member.section, used.length_in, out, used.method, lines)
        return lines.kept()
    if field == "together":
        lines = Lines()
        P, M_in, M_out, V, T = (
            float(array[at])
            for array in (used.axial, used.bending_in, used.bending_out, used.shear, used.torsion)
        )
        if used.has.torsion is None:
            lines.work(
                combined.interaction_axial_bending,
                P_r_over_P_c=P,
                M_rx_over_M_cx=M_in,
                M_ry_over_M_cy=M_out,
            )
        else:
            lines.work(
                combined.interaction_with_torsion,
                P_r_over_P_c=P,
                M_rx_over_M_cx=M_in,
                M_ry_over_M_cy=M_out,
                V_r_over_V_c=V,
                T_r_over_T_c=T,
            )
        return lines.kept()
    return used.has.working["tension" if field == "axial" else field.replace("_", " ")]


def standard_checks(leaf: Leaf) -> tuple[Check, ...]:
    """Return a question for each steel that the specification does not name."""
    standards = {m.section.grade.standard for m in leaf.members}
    return tuple(
        Check(
            key=f"{leaf.key}/{standard}",
            subject=f"steel to {standard}",
            question=f"may it be proved by {DOCUMENT}",
            verdict=Verdict.ASK,
            source=Source(DOCUMENT, "A3.1 and B4.2, which do not name it"),
            change="its wall is taken whole here: have an engineer answer",
        )
        for standard in sorted(standards)
        if standard.startswith("EN ")
    )


def _slenderness(member: Member, used: _Used, span: Lengths) -> Check:
    """Return how slender the member is against what the specification advises."""
    p = member.section.properties()
    pressed = np.min(used.axial_force / used.axial_strength, axis=1) < -NOTHING
    if np.any(pressed):
        ratio = float(np.max(used.slenderness[pressed]))
        limit, clause = compression.ADVISED_L_C_OVER_R, "E2, user note (advice, pressed)"
    else:
        ratio = max(
            span.in_plane / p.radius_of_gyration_v, span.out_of_plane / p.radius_of_gyration_u
        )
        limit, clause = tension.ADVISED_L_OVER_R, "D1, user note (advice, pulled)"
    over = ratio > limit
    return Check(
        key=f"{member.key}/slenderness",
        subject=_subject(member),
        question="length over radius of gyration, K = 1",
        verdict=Verdict.TIGHT if over else Verdict.OK,
        source=Source(DOCUMENT, clause),
        demand=ratio,
        available=limit,
        ratio=ratio / limit,
        change="it will feel whippy: a larger section or a crossing" if over else "",
    )
