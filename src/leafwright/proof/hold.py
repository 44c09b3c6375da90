"""What holds the nose of the shut leaf against wind: asked, or a drop rod worked out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.chain import Quantity
from leafwright.frame.load_cases import NAMES, NosePlace, is_wind
from leafwright.handbook import beams
from leafwright.handbook.aisc360 import LimitState, Method, available, bending, connecting
from leafwright.handbook.aisc360.constants import E as STEEL_E
from leafwright.job.defaults import chosen
from leafwright.job.model import Job, LeafTable
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.compared import asked, compared, force_words, leaf_subject
from leafwright.proof.records import PivotLoad
from leafwright.proof.working import Lines
from leafwright.records import Check, Source

_MAKER = Source("the latch maker's data sheet, or an engineer")
_JOB = Source("the job file", "hold of this leaf")


def nose_force(loads: Sequence[PivotLoad], place: NosePlace) -> tuple[float, str]:
    """Return the greatest force at one place of the nose in wind [N], and in which case."""
    there = [p for p in loads if p.place == f"{place} nose" and is_wind(p.situation)]
    if not there:
        return 0.0, ""
    worst = max(there, key=lambda p: abs(p.z))
    return abs(worst.z), NAMES[worst.situation]


def hold_checks(
    job: Job,
    table: LeafTable,
    key: str,
    loads: Sequence[PivotLoad],
    gaps: dict[NosePlace, Quantity],
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return the checks of what holds the nose, and the defaults that they rest on.

    Args:
        job: its basis, for factors and words.
        table: the leaf's choices.
        key: of the leaf.
        loads: what the pivots and the nose give in each case for strength.
        gaps: from the leaf's edge to the floor or the head, by place of the nose [m].
    """
    forces = {place: nose_force(loads, place) for place in dict.fromkeys(table.hold.at)}
    if not any(force for force, _ in forces.values()):
        return (), ()
    told = " and ".join(
        f"{force_words(job, force)} at the {place}" for place, (force, _) in forces.items()
    )
    rule = f"wind puts {told} of its nose, either way, with the factors of {job.basis.method}"
    subject, ask = leaf_subject(key), f"{key}/hold/shut"
    shut = table.hold.shut
    if shut == "unknown":
        check = asked(
            ask,
            subject,
            "what holds its nose in the wind",
            source=_JOB,
            change=(
                'say in its hold: shut = "latch" or "drop rod", at = ["bottom"] or ["top", '
                f'"bottom"]; {rule}; nothing else keeps it from swinging'
            ),
            rule=rule,
        )
        return (check,), ()
    if shut == "stop":
        check = asked(
            ask,
            subject,
            "what holds its nose off the stop, the other way",
            source=_JOB,
            change=f"a stop holds one way only: add a latch or a drop rod for the other; {rule}",
            rule=rule,
        )
        return (check,), ()
    if shut == "latch":
        check = asked(
            ask,
            subject,
            "is the latch good for the wind",
            source=_MAKER,
            change=f"show by its maker's data that latch, keep and fixings hold it: {rule}",
            rule=rule,
        )
        return (check,), ()
    if table.hold.rod_diameter is None:
        check = asked(
            ask,
            subject,
            "is the drop rod thick enough for the wind",
            source=_JOB,
            change=f"give rod_diameter in its hold; {rule}",
            rule=rule,
        )
        return (check,), ()
    return _drop_rod(job, key, table.hold.rod_diameter.si, forces, gaps)


def _drop_rod(
    job: Job,
    key: str,
    diameter: float,
    forces: dict[NosePlace, tuple[float, str]],
    gaps: dict[NosePlace, Quantity],
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return whether a drop rod carries the nose's force across the gap it bridges."""
    method = Method(job.basis.method)
    F_y = chosen(
        None, "drop rod yield", "proof/drop rod yield", "yield of a drop rod", system=job.job.system
    )
    checks: list[Check] = []
    for place, (force, case) in forces.items():
        lines = Lines()
        arm = gaps[place].value + diameter
        stiffness = STEEL_E * math.pi / 64.0 * diameter**4
        beam = lines.work(beams.cantilever_tip_load, load=force, length=arm, stiffness=stiffness)
        nominal = lines.work(bending.bending_round_bar, F_y=F_y.value, D=diameter)
        strength = lines.work(
            available, nominal=nominal, limit_state=LimitState.BENDING, method=method
        )
        subject = f"drop rod at the {place} of {leaf_subject(key)}"
        checks.append(
            compared(
                f"{key}/hold/{place} rod bending",
                subject,
                "bending of the rod in the wind",
                beam.moment,
                float(strength),
                source=Source(DOCUMENT, "F11"),
                rule=(
                    f"{force_words(job, force)} on a rod that stands out of its guide over the gap "
                    "and one diameter more, the guide ending at the leaf's edge; plain bar"
                ),
                change="a thicker rod, a guide nearer its socket, or hold the nose at both ends",
                unit="N m",
                case=case,
                basis=method.value,
                lines=lines,
            )
        )
        lines = Lines()
        nominal = lines.work(
            connecting.element_shear_yielding,
            F_y=F_y.value,
            A_gv=0.75 * math.pi / 4.0 * diameter**2,
        )
        strength = lines.work(
            available, nominal=nominal, limit_state=LimitState.ELEMENT_SHEAR_YIELDING, method=method
        )
        checks.append(
            compared(
                f"{key}/hold/{place} rod shear",
                subject,
                "shear of the rod in the wind",
                force,
                float(strength),
                source=Source(DOCUMENT, "J4.2(a), on three quarters of the bar"),
                rule="the nose's force across the bar, by the greatest stress in a round",
                change="a thicker rod, or hold the nose at both ends",
                unit="N",
                case=case,
                basis=method.value,
                lines=lines,
            )
        )
    socket = asked(
        f"{key}/hold/socket",
        leaf_subject(key),
        "do guide and socket of the drop rod hold",
        source=_MAKER,
        change=(
            "guide, its welds and the socket in floor or head must hold "
            + " and ".join(
                f"{force_words(job, force)} at the {place}" for place, (force, _) in forces.items()
            )
            + ", either way, with the factors of "
            + job.basis.method
        ),
    )
    return (*checks, socket), (F_y,)
