"""Bolts of the top plate pulled and held by friction: prying, and slip in large holes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.handbook import anchor_group
from leafwright.handbook.aisc360 import LimitState, Method, bolts
from leafwright.handbook.rolled_beams import RolledBeam
from leafwright.mount.head_bolts import Bolted, bolt_check, has_strength
from leafwright.mount.head_loads import pretension
from leafwright.mount.parts import PartSteel, size
from leafwright.mount.plate_loads import State, strip, worked_state
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons

#: φ 0.90 of prying, and what stands for it in ASD (AISC Manual, part 9, Eqs. 9-30a and b).
_PHI = {Method.LRFD: 0.90, Method.ASD: 1.0 / 1.67}


def slip_check(b: Bolted) -> Check | None:
    """Return whether bolts in oversize holes hold by friction, as J3.3(d) wants."""
    group, lines = b.bolt.group, Lines()
    if group is None or pretension(b.bolt) is None:
        # No pretension is in the tables for them: the hole itself is short.
        return None
    T_b = lines.work(bolts.minimum_pretension, d=b.bolt.d, group=group)
    R_n = lines.work(bolts.slip_resistance, mu=bolts.MU_CLASS_A, T_b=T_b)

    def held(state: State, into: Lines) -> Newtons:
        k_sc = into.work(
            bolts.slip_with_tension,
            T=sum(state.tension),
            T_b=T_b,
            n_b=b.number,
            method=b.m.method,
        )
        return has_strength(b, float(R_n * k_sc), LimitState.SLIP_OVERSIZE, into)

    def use(state: State) -> float:
        has = held(state, Lines())
        return state.load.shear / b.number / has if has > 0.0 else math.inf

    state = max(b.states, key=use)
    has = held(state, lines)
    return bolt_check(
        b, "slip", "do the bolts hold by friction, as so large a hole wants",
        "J3.3(d), J3.9 and J3.10", state.load.shear / b.number, has,
        "drill the standard hole",
        "class A faces: clean mill scale without paint; bolts tightened to Table J3.1", lines,
        case=state.load.case,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two parts that a pulled bolt bends: its thickness, steel and levers [m]."""

    tail: str
    question: str
    thickness: Metres
    steel: PartSteel
    b: Metres
    a: Metres
    change: str


def on_plate(b: Bolted) -> Side:
    """Return the top plate as what a pulled bolt bends."""
    near = min(math.hypot(x, y) for x, y in b.layout.points) - b.plate.radius
    return Side(
        "bolts pulled",
        "do the bolts and the top plate hold the pull, the plate prying",
        b.plate.thickness,
        b.plate.steel,
        near,
        b.layout.edge,
        "a thicker plate or larger bolts",
    )


def on_flange(b: Bolted, beam: RolledBeam, steel: PartSteel) -> Side:
    """Return the beam's flange as what a pulled bolt bends."""
    return Side(
        "flange bent",
        "do the bolts and the beam's flange hold the pull, the flange prying",
        beam.flange,
        steel,
        max(b.layout.rows) - beam.web / 2.0,
        beam.flange_width / 2.0 - max(b.layout.rows),
        "a smaller gauge, longer top plate, or stiffeners in the beam",
    )


def pulled_check(b: Bolted, side: Side) -> Check:
    """Return whether bolts and the part that they bend hold the pull, with prying."""
    question, phi = side.question, _PHI[b.m.method]
    d = b.bolt.d
    clause = "part 9, Eqs. 9-21 to 9-34; ANSI/AISC 360-22, J3.8"
    document = "AISC Steel Construction Manual, 16th ed."
    unknown = (b.bolt.unknown, side.steel.unknown)
    if side.b <= d / 2.0 or side.a <= 0.0:
        return bolt_check(
            b, side.tail, question, clause, d / 2.0, max(side.b, 0.0),
            "move the bolts out from the pin and the web: a larger gauge, inside the edges",
            "half a bolt against the room between its middle and what it stands beside", Lines(),
            unit="m", document=document, tight_from=math.inf,
        )  # fmt: skip
    p = max(strip(b.layout, side.b), 1.1 * b.hole)

    def held(state: State, lines: Lines) -> Newtons:
        f_rv = state.load.shear / b.number / b.bolt.area
        F_nt = lines.work(
            bolts.tensile_stress_with_shear,
            F_nt=b.bolt.F_nt,
            F_nv=b.bolt.F_nv,
            f_rv=f_rv,
            method=b.m.method,
        )
        R_n = lines.work(bolts.bolt_strength, F_n=float(F_nt), A_b=b.bolt.area)
        B = has_strength(b, float(R_n), LimitState.BOLT, lines)
        if B <= 0.0:
            return 0.0
        stub = lines.work(
            anchor_group.tee_stub, b=side.b, a=side.a, d_b=d, d_hole=max(b.hole, d), p=p
        )
        t_c = lines.work(
            anchor_group.thickness_without_prying,
            B=B,
            F_u=side.steel.tensile_strength,
            stub=stub,
            phi=phi,
        )
        return float(
            lines.work(
                anchor_group.available_tension_with_prying,
                B=B,
                t=side.thickness,
                t_c=float(t_c),
                stub=stub,
            )
        )

    def use(state: State) -> float:
        if not state.most:
            return 0.0
        has = held(state, Lines())
        return state.most / has if has > 0.0 else math.inf

    state = max(b.states, key=use)
    lines = Lines()
    worked_state(b.layout, state, lines)
    has = held(state, lines)
    return bolt_check(
        b, side.tail, question, clause, state.most, has, side.change,
        f"rigid plate; {b.bolt.name} with what the push leaves of it; {size(b.m, side.b)} from "
        f"the bolt to what it bends about, {size(b.m, p)} of {size(b.m, side.thickness)} "
        f"thickness in {side.steel.words}", lines,
        case=state.load.case, unknown=unknown, document=document,
    )  # fmt: skip
