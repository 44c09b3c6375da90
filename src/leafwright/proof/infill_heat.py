"""The room that infill needs for heat: slots for its screws, gaps where pieces meet."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import units
from leafwright.chain import Quantity
from leafwright.doorway.allow import warmer
from leafwright.handbook import thermal
from leafwright.job.defaults import chosen
from leafwright.job.model import Infill, Job
from leafwright.job.tape import tape_of
from leafwright.leaf import InfillPiece, Leaf
from leafwright.proof.compared import compared
from leafwright.proof.infill_stuff import colder, difference, growth_of, piece_subject
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Source

_HEAT = Source("physics of linear expansion", "EN 1993-1-1:2005, 3.2.6(1) for the frame")


@dataclass(frozen=True, slots=True)
class InfillRoom:
    """What room one piece of infill needs for heat.

    ``screw`` is the fastener's diameter and ``slot`` the length over all of its slot, farthest
    from a fixed point in the middle; ``edge`` is how far each of its long edges' ends moves
    against the frame, and ``gap`` what two pieces need between them where they meet [m].
    """

    piece: str
    screw: Metres
    slot: Metres
    edge: Metres
    gap: Metres
    source: str


def heat_room(
    job: Job, leaf: Leaf, piece: InfillPiece, infill: Infill, taken: list[Quantity]
) -> tuple[list[Check], list[InfillRoom]]:
    """Return whether a piece that grows stays off the jamb, and the room that it needs."""
    grows = growth_of(infill)
    if grows is None or difference(grows) == 0.0:
        return [], []
    rise = warmer(job)
    fall = colder(job.building.least_temperature, job.opening.survey_temperature, job.job.system)
    screw = chosen(
        infill.screw, "infill screw", "proof/infill screw", "infill: screw", system=job.job.system
    )
    placing = chosen(
        None, "slot placing", "proof/slot placing", "play for placing", system=job.job.system
    )
    taken += [rise, fall, screw, placing]
    lines = Lines()
    wide, high = piece.right - piece.left, piece.top - piece.bottom
    longest = max(wide, high)
    slot = lines.work(
        thermal.slot_length,
        diameter=screw.value,
        distance=longest / 2.0,
        alpha=grows.greatest,
        rise=rise.value,
        fall=fall.value,
        placing=placing.value,
    )
    grown = lines.work(
        thermal.thermal_growth,
        length=wide / 2.0,
        alpha=grows.greatest - thermal.STEEL,
        difference=rise.value,
    )
    edge = abs(float(grown))
    gap = abs(grows.greatest - thermal.STEEL) * longest * rise.value
    room = InfillRoom(piece.key, screw.value, slot, edge, gap, grows.source)
    if grows.greatest < thermal.STEEL:
        # The frame outgrows it: nothing comes nearer to a jamb.
        return [], [room]
    clear = chosen(
        job.doorway.running_clearance,
        "running clearance",
        "doorway/running clearance",
        "running clearance",
        system=job.job.system,
    )
    tape = tape_of(job)
    return [
        compared(
            f"{piece.key}/heat",
            piece_subject(leaf, piece),
            "does it stay off the jamb when it is warm",
            edge,
            clear.value,
            source=_HEAT,
            rule=(
                f"{grows.source}: half its width grows past the frame's edge, held fast in its "
                f"middle; slots {units.show_length(slot, tape)} long for a screw of "
                f"{units.show_length(screw.value, tape)}, and where two pieces meet a gap of "
                f"{units.show_length(gap, tape)}"
            ),
            change="cut it back from the frame's edge by what it grows",
            unit="m",
            case="as warm as the building becomes",
            lines=lines,
        )
    ], [room]
