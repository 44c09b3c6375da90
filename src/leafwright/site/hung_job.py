"""The hung leaves of a job: what was read of them, what it should be, and what to move."""

from __future__ import annotations

import math
from dataclasses import replace

from leafwright.doorway import Doorway
from leafwright.doorway.heel import leaf_words
from leafwright.doorway.swing import Swing
from leafwright.job.model import BarrelHinge, Job, LeafTable
from leafwright.records import Held
from leafwright.site import taken
from leafwright.site.hung import Hung, hung, hung_together
from leafwright.site.hung_fit import between_leaves
from leafwright.site.hung_planned import planned_of
from leafwright.site.in_doorway import table_of
from leafwright.site.pose import GapReading, HungLeaf, gap_words, hung_leaf
from leafwright.site.wished import Wished
from leafwright.survey import Survey
from leafwright.units import Tape


def hinges_of(table: LeafTable) -> tuple[float, float] | None:
    """Return the lowest and highest barrel hinge over a leaf's bottom [m]; None on pivots."""
    if not isinstance(table.mount, BarrelHinge):
        return None
    heights = sorted(h.si for h in table.mount.heights)
    return heights[0], heights[-1]


def hung_of_job(
    job: Job,
    found: Survey,
    room: Doorway,
    wished: Wished,
    swings: Swing,
    *,
    tape: Tape,
) -> dict[str, Hung | Held | None]:
    """Return by leaf how it hangs and what to move; None where nothing was read of it.

    The leaves of a pair are fitted at once where both were read and a gap between them was.

    Args:
        job: the readings.
        found: the adjusted opening.
        room: where the leaves stand.
        wished: what the site stage goes by.
        swings: the leaves as they turn.
        tape: the maker's tape, for the words.
    """
    leaves: list[HungLeaf] = []
    read: list[tuple[GapReading, ...]] = []
    notes: list[tuple[str, ...]] = []
    result: dict[str, Hung | Held | None] = {}
    for place in room.leaves:
        leaf = hung_leaf(place, hinges=hinges_of(table_of(job, place)))
        every = taken.gap_readings(
            job, leaf, place.swing, planned_of(job, found, room, place, wished, swings)
        )
        usable = tuple(r for r in every if not math.isnan(r.planned))
        result[place.key] = None
        if every and not usable:
            result[place.key] = Held(
                "what the heel gap of this leaf should be with it open is not worked out",
                ("the heel gap read with the leaf shut",),
            )
        if usable:
            leaves.append(leaf)
            read.append(usable)
            notes.append(_left_out(leaf, every))
    plates = [taken.plate_levels(job, leaf.hand) for leaf in leaves]
    keep = job.site.keep or "plumb axis"
    square = wished.limits().diagonals
    pair = len(room.leaves) == 2
    closing = any(between_leaves(r) for own in read for r in own)
    try:
        if len(leaves) == 2 and closing:
            told = hung_together(
                leaves, read, tape=tape, plates=plates, keep=keep, notes=notes, square=square
            )
            return result | {one.key: one for one in told}
    except ValueError as error:
        return result | {leaf.key: _unusable(error) for leaf in leaves}
    for leaf, own, plate, note in zip(leaves, read, plates, notes, strict=True):
        if pair and any(between_leaves(r) for r in own):
            other = next(p.key for p in room.leaves if p.key != leaf.key)
            note = (*note, f"{leaf_words(other)} is taken as hanging true: read its gaps too")
        try:
            one = hung(leaf, own, tape=tape, plates=plate, keep=keep, notes=note, square=square)
        except ValueError as error:
            result[leaf.key] = _unusable(error)
        else:
            result[leaf.key] = one
    return result


def _unusable(error: ValueError) -> Held:
    return Held(str(error), ("the reading taken again",))


def _left_out(leaf: HungLeaf, every: tuple[GapReading, ...]) -> tuple[str, ...]:
    """Return the readings that nothing is known to hold against, in words."""
    out = [gap_words(leaf, replace(r, planned=0.0)) for r in every if math.isnan(r.planned)]
    return tuple(f"{words} is left out: what it should be there is not worked out" for words in out)
