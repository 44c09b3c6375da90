"""The gap over the leaves: what it must hold, and what is left of it under each top plate.

A floor pivot's top plate lies under what is over the leaf, in this gap. It is taken out of it
here, once: whoever needs the room between a leaf and its plate takes it from the doorway.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.allow import heat_growth, warmer
from leafwright.doorway.gaps import gap_check
from leafwright.doorway.heel import Heel, leaf_words
from leafwright.doorway.records import Side
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot, Job
from leafwright.records import Check


@dataclass(frozen=True, slots=True)
class Over:
    """The gap over the leaves [m], and what it must hold, share by share."""

    gap: Quantity
    parts: list[tuple[float, Quantity]]


def top_plate(heel: Heel) -> Quantity | None:
    """Return the thickness of a leaf's top plate [m]; None on hinges, or where it is not given."""
    mount = heel.table.mount
    if not isinstance(mount, FloorPivot) or mount.top_plate is None:
        return None
    typed = mount.top_plate.thickness
    name = f"top plate of {leaf_words(heel.key)}"
    return chain.base("wish", f"{heel.key}/top plate", name, typed.si, note=typed.text)


def over_the_leaves(
    job: Job, heels: dict[Side, Heel], room: Quantity, wished: Quantity | None
) -> Over:
    """Return the gap over the leaves: the one wished, the usual one, or what is needed if larger.

    Args:
        job: its wishes, and how far what is over the leaves comes down.
        heels: the leaves, by their hand.
        room: from the leaves' bottom to what is over the gap [m].
        wished: the height wished for the leaves [m].
    """
    wish = job.doorway.top_gap
    name = "top gap" if wish is not None else "usual top gap"
    usual = chosen(wish, "top gap", f"doorway/{name}", name, system=job.job.system)
    # Growth follows the height so little that the height before the gap is widened will do:
    # 20 mm less height grow by some micrometres less.
    first = wished or chain.total("doorway/first height", "height", [(1.0, room), (-1.0, usual)])
    parts = _parts(job, heels, first)
    if wish is not None:
        return Over(usual, parts)
    needed = chain.total("doorway/top gap needed", "top gap needed", parts)
    gap = needed if needed.value > usual.value else usual
    return Over(chain.renamed(gap, "doorway/top gap", "top gap"), parts)


def _parts(job: Job, heels: dict[Side, Heel], height: Quantity) -> list[tuple[float, Quantity]]:
    """Return what the gap must hold: plate, growth by heat, head coming down, running clearance."""
    running = chosen(
        job.doorway.running_clearance,
        "running clearance",
        "doorway/running clearance",
        "running clearance",
        system=job.job.system,
    )
    grown = heat_growth("doorway/heat up", "growth of the leaves' height", height, warmer(job))
    parts = [(1.0, grown), (1.0, running)]
    drop = job.building.beam_drop
    if drop is not None and drop.si > 0.0:
        name = "what is over the leaves, coming down"
        parts.append((1.0, chain.base("wish", "doorway/head down", name, drop.si, note=drop.text)))
    plates = [plate for heel in heels.values() if (plate := top_plate(heel)) is not None]
    if plates:
        thickest = chain.largest("doorway/top plate", "top plate, the thickest", plates)
        parts.append((1.0, thickest))
    return parts


def as_cut(height: Quantity) -> Quantity:
    """Return the leaves' height once they are cut to it [m]."""
    return chain.as_made(height, "doorway/leaf height as cut", "leaves as cut")


def top_as_hung(head: Quantity, as_set: Quantity, cut: Quantity) -> Quantity:
    """Return the gap over leaves that are cut to fill the opening: as unsure as the head is [m]."""
    parts = [(1.0, head), (-1.0, as_set), (-1.0, cut)]
    return chain.total("doorway/top gap as hung", "top gap, as hung", parts)


def under_plates(heels: dict[Side, Heel], top_gap: Quantity) -> tuple[Quantity, ...]:
    """Return the room between each leaf's top and its top plate [m]; nothing without a plate."""
    return tuple(
        chain.total(
            f"{heel.key}/gap under top plate",
            f"gap under the top plate of {leaf_words(heel.key)}",
            [(1.0, top_gap), (-1.0, plate)],
        )
        for heel in heels.values()
        if (plate := top_plate(heel)) is not None
    )


def top_check(top_gap: Quantity, over: Over) -> Check:
    """Return whether the leaves clear what is over them, their plates and all."""
    plate = any(part.key == "doorway/top plate" for _, part in over.parts)
    return gap_check(
        "doorway/top gap",
        "top of the leaves",
        "do the leaves clear what is over them on the hottest day"
        + (", with its plate in the gap" if plate else ""),
        needed=chain.total("doorway/top gap needed", "top gap needed", over.parts),
        has=top_gap,
        change="make the top gap larger, or the "
        + ("plate thinner or let in, or the leaves lower" if plate else "leaves lower"),
    )
