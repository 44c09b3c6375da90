"""Whether wishes that leave nothing to solve agree with the opening, or with what is made."""

from __future__ import annotations

from leafwright.chain import Quantity
from leafwright.doorway.gaps import GEOMETRY
from leafwright.doorway.records import AsMade, Side
from leafwright.records import Check, Verdict


def left_over_check(
    left_over: Quantity,
    widths: dict[Side, Quantity],
    room: Quantity,
    filled: bool,
    made: AsMade | None = None,
) -> Check:
    """Return whether wishes that fix everything agree with the opening.

    Short where they need more than there is, by more than the readings' 95 % band; tight within
    it; where they need less, the space is filled, or the maker is asked what may grow.
    """
    wished = sum(w.value for w in widths.values())
    verdict, change = Verdict.OK, ""
    # As wide as the opening leaves is right: the arithmetic may miss by an ulp.
    if left_over.value < -max(left_over.band, 1e-9):
        verdict = Verdict.SHORT
        change = "the wishes do not fit: relax a leaf width, the jamb, the standoff or a gap"
    elif abs(left_over.value) < left_over.band:
        verdict = Verdict.TIGHT
        change = (
            "the wishes take up the opening as nearly as the 95 % band of the readings can tell: "
            "relax a leaf width, the jamb, the standoff or a gap, or measure more"
        )
    elif left_over.value > 1e-9 and not filled:
        verdict = Verdict.ASK
        change = "the wishes leave a space: say which of leaf width, jamb or gap may grow"
    if made is not None and verdict is not Verdict.OK:
        return _left_by_the_made(widths, room, made, verdict)
    return Check(
        key="doorway/left over",
        subject="the wishes across the opening",
        question="leaf widths wished against what the opening leaves for them",
        verdict=verdict,
        source=GEOMETRY,
        unit="m",
        demand=wished,
        available=room.value,
        ratio=wished / room.value if room.value > 0 else None,
        change=change,
    )


def _left_by_the_made(
    widths: dict[Side, Quantity],
    room: Quantity,
    made: AsMade,
    verdict: Verdict,
) -> Check:
    """Return whether what is made, and what is wished beside it, fits in the opening."""
    every = len(made.leaves) == len(widths)
    typed = "take its typed width out of [[leaf]] and it is made to suit"
    changes = {
        Verdict.SHORT: f"the leaf that is not made yet does not fit at the width typed: {typed}",
        Verdict.TIGHT: f"it is as wide as the leaf that is made leaves room for: read the leaf "
        f"that is made again, or {typed}",
        Verdict.ASK: f"the gap at the nose takes what is left over; if it may not, {typed}",
    }
    change = changes[verdict]
    if every:
        # Nothing is to be cut any more: what the gap at the nose comes to has its own check.
        verdict = Verdict.TIGHT if verdict is not Verdict.ASK else Verdict.OK
        change = "as made they leave less than was planned: see the gap at the nose"
    return Check(
        key="doorway/left over",
        subject="the leaves as made",
        question="what is made and what is typed, against what the opening leaves for them",
        verdict=verdict,
        source=GEOMETRY,
        unit="m",
        demand=sum(w.value for w in widths.values()),
        available=room.value,
        ratio=sum(w.value for w in widths.values()) / room.value,
        change="" if verdict is Verdict.OK else change,
    )
