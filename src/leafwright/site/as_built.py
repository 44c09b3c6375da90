"""The first leaf as it came out, and the second leaf's width made to suit it.

The second leaf is its own part: cut it from its own sheet, of its own hand, at the width given
here. It is never the first one turned about.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from leafwright.chain import BAND_95
from leafwright.records import Check, Held, Metres, Source, Verdict
from leafwright.site import pad, squares
from leafwright.site.pad import PadFit, PadReading
from leafwright.site.wording import is_a_mark, shown
from leafwright.units import Tape, show_length

SUM = Source("geometry of the doorway", "opening = heel gap + leaf + meeting gap + leaf + heel gap")


@dataclass(frozen=True, slots=True)
class Sized:
    """A size of a leaf as made: ``at`` is how far along it lies from the bottom or hinge edge [m].

    ``value`` and its ``sd`` are None where the readings do not fix it [m].
    """

    name: str
    at: Metres
    value: Metres | None
    sd: Metres | None


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """A leaf as made: widths at bottom, middle and top, heights at hinge and closing edge.

    ``risen`` is how far its closing edge stands up beside its hinge edge, as it is racked.
    """

    key: str
    widths: tuple[Sized, ...]
    heights: tuple[Sized, ...]
    risen: Sized | None = None


@dataclass(frozen=True, slots=True)
class OpeningWidth:
    """The clear width between the jambs at a height over the leaves' bottom, with its sd [m]."""

    at: Metres
    width: Metres
    sd: Metres


@dataclass(frozen=True, slots=True)
class PairGaps:
    """The three gaps of a pair across its opening [m]."""

    first_heel: Metres
    meeting: Metres
    second_heel: Metres


@dataclass(frozen=True, slots=True)
class GapsAt:
    """How the gaps come out at one height, with the 95 % band of the meeting gap [m]."""

    at: Metres
    gaps: PairGaps
    band: Metres


@dataclass(frozen=True, slots=True)
class Resplit:
    """The second leaf's width, and which gap takes what.

    ``width`` is the greatest that leaves every wished gap, with its standard deviation [m];
    ``governs`` is the height at which it is tightest [m].
    """

    key: str
    width: Metres
    sd: Metres
    governs: Metres
    gaps: tuple[GapsAt, ...]
    checks: tuple[Check, ...]
    words: tuple[str, ...]


def as_built(
    readings: Sequence[PadReading], width: float, height: float, *, key: str = "leaf"
) -> AsBuilt:
    """Return a leaf's sizes as made, from the readings of it welded and lying flat [m].

    Args:
        readings: as for `fit_up`.
        width: designed width [m].
        height: designed height [m].
        key: the leaf.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    return as_built_of(pad.fitted(readings, width, height), width, height, key=key)


def as_built_of(found: PadFit, width: float, height: float, *, key: str = "leaf") -> AsBuilt:
    """Return a leaf's sizes as made, from the shape that fits its readings [m].

    Args:
        found: the shape.
        width: designed width [m].
        height: designed height [m].
        key: the leaf.
    """

    def sized(name: str, at: float, function: Callable[[np.ndarray], float]) -> Sized:
        slopes = pad.slopes_of(function, found.plane)
        if not squares.is_known(slopes, found.plane_loose):
            return Sized(name, at, None, None)
        variance = float(slopes @ found.plane_covariance @ slopes)
        return Sized(name, at, function(found.plane), math.sqrt(max(variance, 0.0)))

    return AsBuilt(
        key=key,
        widths=(
            sized("width at the bottom", 0.0, partial(pad.edge_length, edge="bottom edge")),
            sized("width at mid height", height / 2.0, _middle_width),
            sized("width at the top", height, partial(pad.edge_length, edge="top edge")),
        ),
        heights=(
            sized("height at the hinge edge", 0.0, partial(pad.edge_length, edge="hinge edge")),
            sized(
                "height at the closing edge", width, partial(pad.edge_length, edge="closing edge")
            ),
        ),
        # Hung by its hinge edge a leaf whose top leans has its closing edge up by as much a width.
        risen=sized(
            "rise of the closing edge",
            width,
            lambda plane: pad.lean_over_height(plane) * width / height,
        )
        if height > 0.0
        else None,
    )


def _middle_width(plane: np.ndarray) -> float:
    across = pad.edge_point(plane, "closing edge", 0.5) - pad.edge_point(plane, "hinge edge", 0.5)
    return float(np.linalg.norm(across))


def resplit(
    opening: Sequence[OpeningWidth],
    first: AsBuilt,
    wished: PairGaps,
    *,
    tape: Tape,
    least_meeting: float = 0.0,
    planned: float | None = None,
    now: float | None = None,
    second: str = "the second leaf",
) -> Resplit | Held:
    """Return the second leaf's width now that the first is made, and which gap takes what.

    The second leaf is made with straight edges, as wide as its tightest height allows with every
    gap as wished. Elsewhere the meeting gap takes what is over: the heel gaps follow the posts.

    Args:
        opening: clear widths between the jambs as they stand.
        first: the first leaf as made.
        wished: the gaps wished for.
        tape: the maker's tape, for the words.
        least_meeting: the least meeting gap [m].
        planned: the second leaf's width on its sheet before, where there is one [m].
        now: its width on its sheet since the first leaf was read, where there is one [m].
        second: what to call the second leaf.

    Returns:
        The width and the gaps, or what is missing.

    Raises:
        ValueError: no width of the opening is given.
    """
    if not opening:
        raise ValueError("the opening's width is not given: read it at three heights or more")
    known = [(w.at, w.value, w.sd) for w in first.widths if w.value is not None]
    ends = (first.widths[0], first.widths[-1])
    lacking = tuple(f"{w.name} of the {first.key} leaf" for w in ends if w.value is None)
    if lacking:
        return Held("the first leaf's width as made is not known from its readings", lacking)
    heights = [k[0] for k in known]
    rooms = []
    for place in opening:
        made = float(np.interp(place.at, heights, [k[1] or 0.0 for k in known]))
        sd = float(np.interp(place.at, heights, [k[2] or 0.0 for k in known]))
        taken = wished.first_heel + wished.meeting + wished.second_heel
        rooms.append((place.width - made - taken, math.hypot(place.sd, sd), place.at))
    width, sd, governs = min(rooms)
    if width <= 0.0:
        return Held(
            f"no room is left for {second} beside the first one {_up(governs, tape)}",
            ("smaller gaps, or the opening and the first leaf read again",),
        )
    gaps = tuple(
        GapsAt(
            at,
            PairGaps(wished.first_heel, wished.meeting + room - width, wished.second_heel),
            BAND_95 * of_room,
        )
        for room, of_room, at in rooms
    )
    return Resplit(
        key=first.key,
        width=width,
        sd=sd,
        governs=governs,
        gaps=gaps,
        checks=tuple(_meeting_check(first.key, g, least_meeting, tape) for g in gaps),
        words=_words(width, sd, governs, gaps, wished, (planned, now), second, tape),
    )


def _up(at: float, tape: Tape) -> str:
    """Return a height over the leaves' bottom in words."""
    return f"{show_length(at, tape)} up" if is_a_mark(at, tape) else "at the bottom"


def _meeting_check(key: str, gaps: GapsAt, least: float, tape: Tape) -> Check:
    has = gaps.gaps.meeting
    verdict = Verdict.OK
    if has < least - 1e-9:
        verdict = Verdict.SHORT
    elif has - gaps.band < least:
        verdict = Verdict.TIGHT
    change = "" if verdict is Verdict.OK else "read the opening again there, or make it narrower"
    return Check(
        key=f"{key}/as built/meeting gap at {gaps.at:.3f} m",
        subject=f"meeting gap {_up(gaps.at, tape)}",
        question="is it at least what it must be, with the first leaf as made",
        verdict=verdict,
        source=SUM,
        unit="m",
        demand=least,
        available=has,
        ratio=least / has if has > 0.0 else None,
        change=change,
    )


def _words(
    width: float,
    sd: float,
    governs: float,
    gaps: Sequence[GapsAt],
    wished: PairGaps,
    sheets: tuple[float | None, float | None],
    second: str,
    tape: Tape,
) -> tuple[str, ...]:
    planned, now = sheets
    said = [
        f"Make {second} {show_length(width, tape)} wide (± {shown(BAND_95 * sd, tape)}); it is "
        f"tightest {_up(governs, tape)}."
    ]
    if planned is not None and is_a_mark(width - planned, tape):
        way = "wider" if width > planned else "narrower"
        before = "said before" if now is not None else "says"
        said.append(f"That is {shown(width - planned, tape)} {way} than its sheet {before}.")
    if now is not None:
        over = now - width
        said.append(
            f"Its sheet says {show_length(now, tape)}, as typed: {shown(over, tape)} too "
            f"{'wide' if over > 0.0 else 'narrow'}."
            if is_a_mark(over, tape)
            else "Its sheet, cards and cut list say so now: throw away any that were printed."
        )
    said.append(
        f"Heel gaps stay as wished: {show_length(wished.first_heel, tape)} at the first leaf, "
        f"{show_length(wished.second_heel, tape)} at the second."
    )
    for place in gaps:
        over = place.gaps.meeting - wished.meeting
        more = f", {shown(over, tape)} over the wish" if is_a_mark(over, tape) else ", as wished"
        said.append(
            f"Meeting gap {_up(place.at, tape)}: {show_length(place.gaps.meeting, tape)}{more}."
        )
    said.append(
        f"Make {second} from its own sheet, of its own hand: it is not the first one turned about."
    )
    return tuple(said)
