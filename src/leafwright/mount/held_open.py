"""What keeps the open leaf where it is: a hook, a drop rod, or nothing; against wind, or a draught.

The wind on an open leaf is taken as the one on the shut leaf, square on, and held at its nose:
half of it all for a leaf that is covered evenly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.handbook import beams
from leafwright.handbook.aisc360 import LimitState, available, bending, connecting
from leafwright.handbook.aisc360.constants import E as STEEL_E
from leafwright.job.defaults import chosen
from leafwright.mount.closing import asked_of, small
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.blows import is_indoors
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.working import Lines
from leafwright.records import Check, Held, Metres, Newtons, Source, Verdict, graded
from leafwright.units import show_force

_JOB = Source("the job file", "hold of this leaf")
_MAKER = Source("the maker's data sheet for the hook, or an engineer")

#: A round bar's greatest shear stress is 4/3 of its mean: so much of it counts [-] (statics).
ROUND_SHEAR = 0.75


@dataclass(frozen=True, slots=True)
class OpenForce:
    """What holds the open leaf at its nose, factors of the method in it [N], and how it came."""

    force: Newtons
    rule: str


def open_force(m: Mounting, out: float, reach: float) -> OpenForce | None:
    """Return what wind puts on a hook or rod at the open leaf's nose; None where not known.

    Statics: each panel's wind at its own middle, over the nose's distance.

    Args:
        m: the leaf as it hangs.
        out: middle of what the wind acts on, from the axis [m].
        reach: axis to nose [m].
    """
    wind = m.proof.wind
    if isinstance(wind, Held):
        return None
    factor = wind.factors.strength
    force = factor * wind.force * out / reach
    what = "the push of air indoors" if is_indoors(m.job) else "the wind on the shut leaf"
    return OpenForce(force, f"{what}, square on the open one, × {factor:g}, held at the nose")


def held_open(m: Mounting, out: float, reach: float) -> Proved:
    """Return the proof of what keeps a leaf open.

    Args:
        m: the leaf as it hangs.
        out: middle of what the wind acts on, from the axis [m].
        reach: axis to nose [m].
    """
    given, who = m.table.hold.open, asked_of(m)
    found = open_force(m, out, reach)
    told = "" if found is None else f"{show_force(found.force, m.tape.system)} at its nose"
    rule = "" if found is None else found.rule
    if given == "unknown":
        needs = f"; it must hold {told} ({rule})" if told else ""
        change = f'say in its hold: open = "hook", "drop rod" or "nothing"{needs}'
        return Proved((_ask(m, who, "what keeps it open", _JOB, change, found),) if who else ())
    if given == "nothing":
        if m.job.building.indoors == "yes":
            return Proved(
                (), cautions=(f"Nothing keeps {m.who} open: a draught shuts it on somebody.",)
            )
        change = f"fit a hook or a drop rod{f' good for {told}' if told else ''} ({rule or 'wind'})"
        question = "may nothing keep it open, in wind"
        return Proved((_ask(m, who, question, _JOB, change, found),) if who else ())
    if found is None:
        change = "the wind on it is not known: see what is asked of it"
        return Proved((_ask(m, who, "does what keeps it open hold", _JOB, change, None),))
    if given == "hook":
        change = (
            f"show that hook, eye and fixings hold {told}, in the direction that they are hung "
            f"({rule}); or write that the leaf is shut before it blows"
        )
        return Proved((_ask(m, who, "is the hook good for the wind", _MAKER, change, found),))
    return _rod(m, found)


def _ask(
    m: Mounting, who: str, question: str, source: Source, change: str, found: OpenForce | None
) -> Check:
    return Check(
        key=f"{m.key}/hold/open",
        subject=f"{who or m.who}, standing open",
        question=question,
        verdict=Verdict.ASK,
        source=source,
        unit="N" if found is not None else "1",
        demand=None if found is None else found.force,
        change=change,
        basis="unknown",
        rule="" if found is None else found.rule,
    )


def rod_arm(m: Mounting, diameter: float) -> Metres:
    """Return how far a drop rod stands out of its guide to bear in the floor [m].

    The gap over the lowest floor, and one diameter more; the guide ends at the leaf's edge.
    """
    gaps = {gap.key: gap.value for gap in m.room.gaps}
    gap = gaps.get("doorway/deepest gap", gaps.get("doorway/floor clearance", 0.0))
    return max(gap, 0.0) + diameter


def _rod(m: Mounting, found: OpenForce) -> Proved:
    """Return whether a drop rod holds the open leaf: bent across the gap, and sheared."""
    rod = m.table.hold.rod_diameter
    if rod is None:
        who = asked_of(m)
        change = f"write rod_diameter in its hold; {show_force(found.force, m.tape.system)} at it"
        question = "is the drop rod thick enough"
        return Proved((_ask(m, who, question, _JOB, change, found),) if who else ())
    d, arm = rod.si, rod_arm(m, rod.si)
    F_y: Quantity = chosen(
        None,
        "drop rod yield",
        "proof/drop rod yield",
        "yield of a drop rod",
        system=m.job.job.system,
    )
    lines = Lines()
    bent = lines.work(
        beams.cantilever_tip_load,
        load=found.force,
        length=arm,
        stiffness=STEEL_E * math.pi / 64.0 * d**4,
    )
    M_n = lines.work(bending.bending_round_bar, F_y=F_y.value, D=d)
    M_a = lines.work(available, nominal=M_n, limit_state=LimitState.BENDING, method=m.method)
    sheared = Lines()
    V_n = sheared.work(
        connecting.element_shear_yielding,
        F_y=F_y.value,
        A_gv=ROUND_SHEAR * math.pi / 4.0 * d**2,
    )
    V_a = sheared.work(
        available, nominal=V_n, limit_state=LimitState.ELEMENT_SHEAR_YIELDING, method=m.method
    )
    rows = (
        ("bending", bent.moment, float(M_a), "N m", "F11", lines),
        ("shear", found.force, float(V_a), "N", "J4.2(a), on three quarters of the bar", sheared),
    )
    checks = []
    for what, demand, has, unit, clause, worked in rows:
        ratio = demand / has
        verdict = graded(ratio)
        checks.append(
            Check(
                key=f"{m.key}/hold/open rod {what}",
                subject=f"the drop rod of {m.who}, standing open",
                question=f"{what} of the rod in the wind",
                verdict=verdict,
                source=Source(DOCUMENT, clause),
                unit=unit,
                demand=demand,
                available=has,
                ratio=ratio,
                case="standing open in the wind",
                change=""
                if verdict is Verdict.OK
                else "a thicker rod, a socket block that makes its reach shorter, or a hook on the "
                "wall",
                basis=m.method.value,
                rule=f"{show_force(found.force, m.tape.system)} at the rod ({found.rule}), which "
                f"stands {small(m, arm)} out of its guide: the gap over the lowest floor and one "
                "diameter",
                working=worked.kept(),
            )
        )
    return Proved(
        tuple(checks),
        (F_y,) if F_y.kind == "default" else (),
        (),
        (f"A drop rod that is left down in the way of {m.who} is tripped over and bent.",),
        ("the open leaf's drop rod is at its nose, of plain bar",),
    )
