"""The bolts that hold the top plate: the push across them, and what they bear on.

Every bolt takes an equal share of the push; the pulls come of a rigid plate that tips
(`plate_loads`). Where the bolts pass beside a transom to the beam over it, they stand free over
the transom's depth and are bent as well: V h/2 for a bolt held at both ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright.handbook.aisc360 import (
    LimitState,
    available,
    bending,
    bolts,
    connecting,
)
from leafwright.mount.carrier import Carrier
from leafwright.mount.head_loads import BoltKind, TopPlate
from leafwright.mount.parts import made_check, size
from leafwright.mount.plate_loads import (
    Layout,
    State,
    laid_out,
    states,
    worked_shear,
)
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Number

SUBJECT = "top fixing"


@dataclass(frozen=True, slots=True)
class Bolted:
    """A bolted top plate: the bolts, their layout, and what they go into.

    ``free`` is how long the bolts stand free beside a transom [m], 0 where they do not.
    """

    m: Mounting
    plate: TopPlate
    carrier: Carrier
    bolt: BoltKind
    hole: Metres
    layout: Layout
    states: tuple[State, ...]
    free: Metres
    unknown: tuple[str, ...]

    @property
    def number(self) -> int:
        """Return how many bolts there are."""
        return len(self.layout.points)

    @property
    def pulled(self) -> State:
        """Return the state that pulls hardest on one bolt."""
        return max(self.states, key=lambda state: state.most)

    @property
    def pushed(self) -> State:
        """Return the state that pushes hardest across."""
        return max(self.states, key=lambda state: state.load.shear)


def head_layout(
    m: Mounting, plate: TopPlate, number: int, gauge: Metres | None, d: Metres, width: Metres
) -> Layout | str:
    """Return where the bolts of the top plate sit, or why they cannot.

    Args:
        m: the leaf as it hangs.
        plate: the top plate.
        number: of bolts.
        gauge: between the bolts across the plate [m]; along it for two that do not fit across.
        d: their diameter [m].
        width: of what carries the plate [m].
    """
    along = across = None
    if gauge is not None:
        fits = plate.width - gauge >= 2.0 * d
        along, across = (gauge, None) if number == 2 and not fits else (None, gauge)
    return laid_out(
        f"{m.key}/top bolts",
        number,
        d,
        (plate.length, plate.width),
        plate.radius + plate.thickness,
        along=along,
        across=across,
        across_within=width,
    )


def head_states(plate: TopPlate, layout: Layout, width: Metres) -> tuple[State, ...]:
    """Return what the leaf puts on the bolts, the plate pressing no wider than its carrier."""
    out = max(layout.rows)
    # Bolts outside of what the plate lies on: it tips about the carrier's edge, with less lever.
    less = max(2.0 * out / (out + width / 2.0), 1.0) if out > 0.0 else 1.0
    return states(layout, [replace(load, moment=less * load.moment) for load in plate.loads])


def bolt_check(
    b: Bolted,
    tail: str,
    question: str,
    clause: str,
    demand: float,
    has: float,
    change: str,
    rule: str,
    lines: Lines,
    *,
    unit: str = "N",
    case: str = "",
    unknown: Sequence[str] = (),
    document: str = "ANSI/AISC 360-22",
    tight_from: Number = 0.9,
) -> Check:
    """Return a check of the top plate's bolts; arguments as of `made_check`."""
    return made_check(
        b.m,
        f"head/{tail}",
        SUBJECT,
        question,
        clause=clause,
        demand=demand,
        available=has,
        unit=unit,
        case=case,
        change=change,
        rule=rule,
        lines=lines,
        unknown=(*b.unknown, *unknown),
        document=document,
        tight_from=tight_from,
    )


# ---------------------------------------------------------------- across


def _shear_strength(b: Bolted, lines: Lines) -> Newtons:
    R_n = lines.work(bolts.bolt_strength, F_n=b.bolt.F_nv, A_b=b.bolt.area)
    if b.free > 0.0:
        R_n = R_n * lines.work(connecting.filler_factor, t=b.free)
    return has_strength(b, R_n, LimitState.BOLT, lines)


def has_strength(b: Bolted, nominal: float | np.ndarray, state: LimitState, lines: Lines) -> float:
    """Return the available strength by the job's method, in nominal's unit."""
    return float(
        lines.work(available, nominal=float(nominal), limit_state=state, method=b.m.method)
    )


def across_check(b: Bolted) -> Check:
    """Return whether the bolts hold the push across."""
    lines = Lines()
    demand = worked_shear(b.layout, b.pushed, lines)
    has = _shear_strength(b, lines)
    return bolt_check(
        b, "bolts across", "do the bolts hold the push across", "J3.7, Eq. J3-1",
        demand, has, "larger bolts, or more of them",
        f"the push shared by {b.number}, one shear plane, threads in it, {b.bolt.name}", lines,
        case=b.pushed.load.case, unknown=(b.bolt.unknown,),
    )  # fmt: skip


def bent_check(b: Bolted) -> Check:
    """Return whether bolts that stand free beside a transom hold their bending and their pull."""

    def bent(state: State) -> float:
        return state.load.shear / b.number * b.free / 2.0

    lines = Lines()
    # Threads all along: the body less one thread and a half or so, as 0.85 d.
    M_n = lines.work(bending.bending_round_bar, F_y=0.6 * b.bolt.F_u, D=0.85 * b.bolt.d)
    M_c = has_strength(b, float(M_n), LimitState.BENDING, lines)
    N_c = has_strength(
        b,
        float(lines.work(bolts.bolt_strength, F_n=b.bolt.F_nt, A_b=b.bolt.area)),
        LimitState.BOLT,
        lines,
    )
    state = max(b.states, key=lambda s: bent(s) / M_c + s.most / N_c)
    use = bent(state) / M_c + state.most / N_c
    return bolt_check(
        b, "bolts bent", "do the bolts stand being bent beside the transom",
        "F11.1 and J3.7, added", use, 1.0,
        "weld or bolt the plate to the transom, and the transom to the beam; or thicker bolts",
        f"V h/2 over {size(b.m, b.free)} that stands free, as a round bar of 0.85 d at 0.6 F_u, "
        "and the pull: their uses added (statics)",
        lines, unit="1", case=state.load.case, unknown=(b.bolt.unknown,),
    )  # fmt: skip


# ---------------------------------------------------------------- what the bolts bear on


def bearing_checks(b: Bolted) -> list[Check]:
    """Return whether plate and carrier hold at their bolt holes."""
    d, found = b.bolt.d, []
    parts = [("plate", "the top plate", b.plate.thickness, b.plate.steel, b.layout.edge)]
    if b.carrier.steel is not None and b.carrier.beam is not None:
        out = b.carrier.width / 2.0 - max(b.layout.rows)
        parts.append(("carrier", b.carrier.name, b.carrier.thickness, b.carrier.steel, out))
    for tail, name, t, steel, edge in parts:
        lines = Lines()
        demand = worked_shear(b.layout, b.pushed, lines)
        clear = max(edge - b.hole / 2.0, 0.0)
        nominal = min(
            float(lines.work(bolts.bearing, d=d, t=t, F_u=steel.tensile_strength)),
            float(lines.work(bolts.tearout, l_c=clear, t=t, F_u=steel.tensile_strength)),
        )
        has = has_strength(b, nominal, LimitState.BOLT_HOLE, lines)
        found.append(
            bolt_check(
                b, f"holes in {tail}", f"does {name} hold at its bolt holes",
                "J3.11a, Eqs. J3-6a and J3-6c", demand, has,
                "thicker, or the holes farther from the edge",
                f"bearing, and tearing out over {size(b.m, clear)}; {size(b.m, t)} in "
                f"{steel.words}", lines,
                case=b.pushed.load.case, unknown=(steel.unknown,),
            )
        )  # fmt: skip
    if b.carrier.kind == "transom" and b.carrier.steel is not None:
        lines = Lines()
        demand = worked_shear(b.layout, b.pushed, lines)
        R_n = lines.work(
            connecting.pin_bearing, F_y=b.carrier.steel.yield_stress, d=d, t=b.carrier.thickness
        )
        has = has_strength(b, float(R_n), LimitState.SURFACE_BEARING, lines)
        found.append(
            bolt_check(
                b, "holes in carrier", "does the transom's wall hold at its bolt holes",
                "J3.11b and J7, Eq. J7-1", demand, has, "more bolts, or a thicker transom",
                "bearing on the lower wall alone", lines,
                case=b.pushed.load.case, unknown=(b.carrier.steel.unknown,),
            )
        )  # fmt: skip
    return found
