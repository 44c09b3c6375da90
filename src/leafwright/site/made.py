"""Leaves that are welded, taken as they came out, before the rest of the doorway is divided.

A leaf of which welded readings give the width at the bottom and at the top is made: it keeps the
design that it was cut to, and takes up what it came out as. Readings that do not tell, or do not
agree, or are too far from the design to be true, stop the leaf that is not made yet: it would be
cut to a size that may not fit beside the first.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import AsMade, Doorway, LeafPlace, MadeLeaf
from leafwright.doorway.heel import leaf_words
from leafwright.job.model import Job, LeafTable
from leafwright.job.readings import Hand
from leafwright.records import COMMON_PRACTICE, Check, Held, Metres, Stop, Verdict
from leafwright.site import pad, taken
from leafwright.site.as_built import AsBuilt, Sized, as_built, as_built_of
from leafwright.site.pad_doubt import pad_doubt
from leafwright.site.wording import is_a_mark, listed, shown
from leafwright.survey.culprits import ALIKE
from leafwright.units import Tape, show_length

#: How far a leaf comes out from its design where nothing went wrong: two thirds do so [m] (common
#: practice, no source).
COMES_OUT: Metres = 0.0254 / 16

#: A leaf that came out farther than this from its design was more likely read wrong [m] (common
#: practice, no source).
FAR_OUT: Metres = 0.0254


@dataclass(frozen=True, slots=True)
class Made:
    """The leaves that are made, where there are any, and what keeps the other from being cut.

    ``asked`` is what how they came out does not tell.
    """

    leaves: AsMade | None
    stops: tuple[Stop, ...]
    asked: tuple[Check, ...] = ()


def welded_hands(job: Job) -> tuple[Hand, ...]:
    """Return the sides whose leaves have readings of them welded."""
    hands = [table.hand for table in job.leaf if table.hand is not None]
    return tuple(hand for hand in hands if taken.fit_up_of(job, hand, "welded"))


def as_designed(job: Job) -> Job:
    """Return the job as it was when the leaf that is made was designed, as far as that is known.

    A width typed for the leaf that is not made may have been typed before the made one was
    designed, or since, to suit it: this is the job as it was in the second case.
    """
    made = welded_hands(job)
    if len(job.leaf) != 2 or len(made) != 1:
        return job
    first, other = sorted(job.leaf, key=lambda table: table.hand not in made)
    if first.width is not None or other.width is None:
        return job
    return job.model_copy(update={"leaf": [t if t is first else _untyped(t) for t in job.leaf]})


def _untyped(table: LeafTable) -> LeafTable:
    return table.model_copy(update={"width": None})


@dataclass(frozen=True, slots=True)
class Design:
    """What the leaf that is made was cut to: whether a width typed for the other one came since.

    ``asked`` is a question where how it came out does not tell.
    """

    typed_since: bool
    asked: Check | None


def design_of(job: Job, since: Doorway, before: Doorway, *, tape: Tape) -> Design:
    """Return whether the width typed for the leaf that is not made was typed to suit the other.

    Two designs are weighed by how the made leaf came out: an equal share, where that width was
    typed since; what it leaves, where it was typed before. Its widths as read are to be within a
    sixteenth or so of what it was cut to. Where both may be so within twenty to one, or where it
    came out as the typed width leaves it, as one typed to suit it would too, the maker is asked.

    Args:
        job: as the maker wrote it.
        since: the doorway without that width.
        before: the doorway with it.
        tape: the maker's tape, for the words.
    """
    (hand,) = welded_hands(job)
    place, other = (next(p for p in room.leaves if p.hand == hand) for room in (since, before))
    equal, left = place.width.value, other.width.value
    if not is_a_mark(equal - left, tape):
        return Design(True, None)
    readings = taken.pad_readings(job, taken.fit_up_of(job, hand, "welded"))
    try:
        built = as_built_of(pad.fitted(readings, equal, place.height.value), equal, 0.0)
    except ValueError:
        return Design(True, None)
    known = [(w.value, w.sd or 0.0) for w in built.widths if w.value is not None]
    if not known:
        return Design(True, None)
    # The widths of one leaf come out alike: they are one piece of evidence, not three.
    wide = float(np.mean([w for w, _ in known]))
    spread = COMES_OUT**2 + max(sd for _, sd in known) ** 2
    told = ((wide - left) ** 2 - (wide - equal) ** 2) / spread
    if told > ALIKE:
        return Design(True, None)
    return Design(told > 0.0, _when_typed(job, place, (equal, left), tape))


def _when_typed(job: Job, place: LeafPlace, sizes: tuple[float, float], tape: Tape) -> Check:
    """Return the question which of two widths the made leaf was cut to [m]."""
    who = leaf_words(place.key)
    second = next(leaf_words(t.hand or "") for t in job.leaf if t.hand != place.hand)
    one, two = (show_length(size, tape) for size in sizes)
    return Check(
        key=f"{place.key}/as made/cut to",
        subject=f"the width typed for {second}",
        question=f"was it typed to suit {who} as it came out, or before that one was cut",
        verdict=Verdict.ASK,
        source=COMMON_PRACTICE,
        unit="m",
        demand=sizes[0],
        available=sizes[1],
        change=f"write the width that {who} was cut to in its [[leaf]]: {one} if the other was "
        f"typed to suit it, {two} if it was typed before. The cut of {second} is the same",
        basis="unknown",
    )


def made_of(job: Job, room: Doorway, *, tape: Tape) -> Made:
    """Return the leaves that are made, by their welded readings.

    Args:
        job: its readings.
        room: the doorway as designed, before these readings.
        tape: the maker's tape, for the words.
    """
    leaves, stops = [], []
    open_ = [p for p in room.leaves if p.hand not in welded_hands(job)]
    for place in room.leaves:
        found = _made(job, place, tape)
        if isinstance(found, Held) and open_:
            who, other = leaf_words(place.key), leaf_words(open_[0].key)
            stops.append(
                Stop(
                    f"{place.key}/as made",
                    f"{who} was read welded, and {found.why}: {other} may not fit beside it at "
                    "the size on its sheet",
                    f"{'; '.join(found.needs)}; or set those readings aside",
                )
            )
        elif isinstance(found, MadeLeaf):
            leaves.append(found)
    if not leaves:
        return Made(None, tuple(stops))
    before = tuple((p.hand, p.width) for p in open_)
    return Made(AsMade(tuple(leaves), before, room.leaves[0].height), tuple(stops))


def _made(job: Job, place: LeafPlace, tape: Tape) -> MadeLeaf | Held | None:
    """Return a leaf as made, why its readings do not tell, or None where none was taken."""
    readings = taken.pad_readings(job, taken.fit_up_of(job, place.hand, "welded"))
    if not readings:
        return None
    width, height = place.width.value, place.height.value
    try:
        found = pad.fitted(readings, width, height)
    except ValueError:
        return Held("its readings cannot be used", ("mend them as said of the leaf on the pad",))
    doubted = pad_doubt(readings, found, width, height, tape=tape)
    if doubted.holds:
        return Held("its readings do not agree", doubted.words)
    built = as_built_of(found, width, height, key=place.key)
    lacking = [w.name for w in (built.widths[0], built.widths[-1]) if w.value is None]
    if lacking:
        return Held(f"its {listed(lacking)} is not known", ("read it, corner to corner",))
    known = [(w.value, w.sd, w.at) for w in built.widths if w.value is not None]
    widest, sd, at = max(known)
    off = max((w - width for w, _, _ in known), key=abs)
    if abs(off) > FAR_OUT:
        return Held(
            f"its width as read is {shown(off, tape)} {'over' if off > 0.0 else 'under'} its sheet",
            ("read it again; if it is so, make the other leaf by hand-reckoned sizes only",),
        )
    who = leaf_words(place.key)
    heights = [_height(place, one) for one in built.heights]
    high = [q for q in heights if q is not None]
    far = max((q.value - height for q in high), key=abs, default=0.0)
    if abs(far) > FAR_OUT:
        return Held(
            f"its height as read is {shown(far, tape)} {'over' if far > 0.0 else 'under'} what its "
            "sheet says",
            ("read it again; if it is so, make the other leaf by hand-reckoned sizes only",),
        )
    return MadeLeaf(
        hand=place.hand,
        width=chain.base(
            "reading",
            f"{place.key}/width as made",
            f"width of {who} as made, where widest",
            widest,
            sd=sd or 0.0,
            note="adjusted from its fit-up readings, welded",
        ),
        at=at,
        designed=place.width,
        closing=heights[-1],
        tallest=max(high, key=lambda q: q.value) if heights[-1] is not None else None,
        drawn=place.height,
        risen=None if built.risen is None else _height(place, built.risen),
    )


def _height(place: LeafPlace, size: Sized) -> Quantity | None:
    """Return one height of a leaf as made [m]; None where its readings do not tell."""
    if size.value is None:
        return None
    return chain.base(
        "reading",
        f"{place.key}/{size.name} as made",
        f"{size.name} of {leaf_words(place.key)}, as made",
        size.value,
        sd=size.sd or 0.0,
        note="adjusted from its fit-up readings, welded",
    )


def built_of(job: Job, place: LeafPlace) -> AsBuilt | None:
    """Return a leaf's sizes as welded; None where it was not read, or what was read is no use."""
    readings = taken.pad_readings(job, taken.fit_up_of(job, place.hand, "welded"))
    if not readings:
        return None
    wide, high = place.on_sheet.value, place.height_on_sheet.value
    try:
        return as_built(readings, wide, high, key=place.key)
    except ValueError:
        # Said already where the shape was worked out from the same readings.
        return None


def refit_words(room: Doorway, *, tape: Tape) -> tuple[str, ...]:
    """Return what the leaf that is made changed of the other, to be told first of all."""
    made = room.as_made
    if made is None:
        return ()
    said = []
    places = {place.hand: place for place in room.leaves}
    for leaf in made.leaves:
        who = leaf_words(places[leaf.hand].key)
        over = leaf.width.value - leaf.designed.value
        way = "wider" if over > 0.0 else "narrower"
        off = f", {shown(over, tape)} {way} than its sheet" if is_a_mark(over, tape) else ""
        where = f" ({show_length(leaf.at, tape)} up)" if is_a_mark(leaf.at, tape) else ""
        wide = show_length(leaf.width.value, tape)
        said.append(f"{who} is welded, {wide} wide where it is widest{where}{off}: it is taken so")
    for hand, before in made.before:
        said.append(_second_words(places[hand], before, tape))
        said += height_words(room, places[hand], tape=tape)
    return tuple(said)


def height_words(room: Doorway, second: LeafPlace, *, tape: Tape) -> tuple[str, ...]:
    """Return how high the leaf that is not made yet is to be beside the made one, in sentences."""
    made = room.as_made
    first = None if made is None else next(iter(made.leaves), None)
    if made is None or first is None:
        return ()
    who, before = leaf_words(second.key), made.high
    if first.closing is None:
        return (
            f"how high the welded leaf came out at its closing edge was not read: read it before "
            f"{who} is cut, or their tops may not agree. It is drawn "
            f"{show_length(second.height.value, tape)} high",
        )
    off = second.height.value - before.value
    now = show_length(second.height.value, tape)
    if not is_a_mark(off, tape):
        return (f"{who} stays {now} high: the tops agree",)
    return (
        f"{who} is {now} high, NOT {show_length(before.value, tape)} as before, so that its top "
        f"agrees with the welded one's at the meeting edge. It stands on the same line: the gap "
        f"under it stays, the gap over it is {shown(off, tape)} {'less' if off > 0.0 else 'more'}",
    )


def _second_words(place: LeafPlace, before: Quantity, tape: Tape) -> str:
    who, now = leaf_words(place.key), show_length(place.width.value, tape)
    if place.width.kind == "wish":
        return f"{who} stays as it is typed, {now} wide: see that it fits beside the welded one"
    if not is_a_mark(place.width.value - before.value, tape):
        return f"{who} stays {now} wide"
    return (
        f"{who} is made to suit the welded one: {now} wide, NOT {show_length(before.value, tape)} "
        "as before. Its sheet, cards and cut list are the new ones: throw away any printed before"
    )
