"""Every gap of a hung leaf as the moves will leave it, against the least that it may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.records import Check, Metres, Source, Stop, Verdict
from leafwright.site.pose import HungLeaf
from leafwright.site.wording import listed
from leafwright.units import Tape, show_length

RIGID = Source("geometry of the hung leaf", "a rigid leaf moved a little on its axis")


@dataclass(frozen=True, slots=True)
class ForetoldGap:
    """A gap that was read, and what it will be after the moves [m].

    ``after`` is what was read and what the moves do to it: it rests on the reading itself, and
    not on the fit. ``band`` is its 95 % band.
    """

    words: str
    before: Metres
    after: Metres
    band: Metres
    least: Metres | None
    planned: Metres


def gap_check(leaf: HungLeaf, gap: ForetoldGap, tape: Tape) -> Check:
    """Return a gap after the moves against its least; tight where its 95 % band crosses it.

    A gap may be planned to be just its least, so that a reading of it falls short by its own error
    as often as not: it is short where it is so by more than that, and where the moves close it, by
    more than a mark of the tape.
    """
    least = gap.least or 0.0
    slack = min(gap.band, float(tape.step)) if _closes(gap) else gap.band
    verdict = Verdict.OK
    change = ""
    if gap.after + slack < least - 1e-9:
        verdict = Verdict.SHORT
        change = (
            "do not make these moves: they close this gap. Read it again, then ease the jamb, head "
            "or leaf there, or move less"
        )
        if not _closes(gap):
            change = (
                "no move told here mends this gap: read it again, then ease the jamb, head or leaf "
                "there"
            )
    elif gap.after - gap.band < least - 1e-9:
        verdict = Verdict.TIGHT
        change = "within the reading's band of its least: move, then try it with a feeler"
    return Check(
        key=f"{leaf.key}/hung/{gap.words}",
        subject=gap.words,
        question=f"is it still {show_length(least, tape)} or more after the moves",
        verdict=verdict,
        source=RIGID,
        unit="m",
        demand=least,
        available=gap.after,
        ratio=least / gap.after if gap.after > 0.0 else None,
        change=change,
    )


def _closes(gap: ForetoldGap) -> bool:
    """Return whether the moves make a gap smaller, by more than rounding."""
    return gap.after < gap.before - 1e-6


def gap_stops(
    leaf: HungLeaf, checks: Sequence[Check], gaps: Sequence[ForetoldGap]
) -> tuple[Stop, ...]:
    """Return why the moves are not to be made: they close a gap that is then too small."""
    closed = {gap.words for gap in gaps if _closes(gap)}
    short = [c.subject for c in checks if c.verdict is Verdict.SHORT and c.subject in closed]
    if not short:
        return ()
    return (
        Stop(
            key=f"{leaf.key}/hung/least gap",
            why=f"after these moves too little would be left at {listed(short)}",
            decide="read those gaps again; then ease the jamb, head or leaf there, or move less",
        ),
    )
