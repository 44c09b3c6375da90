"""Leaves that are welded, taken as they came out, before the rest of the doorway is divided.

A leaf of which welded readings give the width at the bottom and at the top is made: it keeps the
design that it was cut to, and takes up what it came out as. Readings that do not tell, or do not
agree, or are too far from the design to be true, stop the leaf that is not made yet: it would be
cut to a size that may not fit beside the first.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import AsMade, Doorway, LeafPlace, MadeLeaf
from leafwright.doorway.heel import leaf_words
from leafwright.job.model import Job, LeafTable
from leafwright.records import Held, Metres, Stop
from leafwright.site import pad, taken
from leafwright.site.as_built import as_built_of
from leafwright.site.pad_doubt import pad_doubt
from leafwright.site.wording import is_a_mark, listed, shown
from leafwright.units import Tape, show_length

#: A width typed for the second leaf that is as near to an equal share as this was typed to suit the
#: first one as made, and not when the first was designed [m] (common practice, no source).
SUITED: Metres = 0.0254

#: A leaf that came out farther than this from its design was more likely read wrong [m] (common
#: practice, no source).
FAR_OUT: Metres = 0.0254


@dataclass(frozen=True, slots=True)
class Made:
    """The leaves that are made, where there are any, and what keeps the other from being cut."""

    leaves: AsMade | None
    stops: tuple[Stop, ...]


def welded_hands(job: Job) -> tuple[str, ...]:
    """Return the sides whose leaves have readings of them welded."""
    hands = [table.hand for table in job.leaf if table.hand is not None]
    return tuple(hand for hand in hands if taken.fit_up_of(job, hand, "welded"))


def as_designed(job: Job) -> Job:
    """Return the job as it was when the leaf that is made was designed, as far as that is known.

    A width that is near an equal share, typed for the leaf that is not made, was typed to suit
    the made one: it does not change the design of a leaf that is welded already.
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


def was_typed_to_suit(job: Job, room: Doorway) -> bool:
    """Return whether the width typed for the leaf that is not made is near an equal share.

    Args:
        job: as the maker wrote it.
        room: the doorway without that width.
    """
    made = welded_hands(job)
    typed = {t.hand: t.width for t in job.leaf if t.hand not in made}
    return all(
        width is None or abs(width.si - place.width.value) <= SUITED
        for place in room.leaves
        for width in [typed.get(place.hand)]
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
    return Made(AsMade(tuple(leaves), before), tuple(stops))


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
    )


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
    return tuple(said)


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
