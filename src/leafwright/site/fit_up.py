"""The leaf on the pad before it is welded: how far out of shape, and which corner to push.

Directions are the leaf's own, so that they hold whichever face is up: hinge and closing edge,
bottom and top. Readings that fix a number give it with its 95 % band; of the rest it is said which
reading would fix it. Equal diagonals alone show that nothing is racked, and no more: a leaf wider
at the top than at the bottom has equal diagonals, and so has a twisted one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

import numpy as np

from leafwright.chain import BAND_95
from leafwright.doorway import LeafPlace
from leafwright.records import COMMON_PRACTICE, Check, Metres, Radians, Verdict
from leafwright.site import pad, squares
from leafwright.site.doubt import Answer, Doubt, agreement_check
from leafwright.site.out_of_shape import Figure, Limits, figures_of
from leafwright.site.pad import CORNERS, EDGES, TWIST, PadFit, PadReading
from leafwright.site.pad_doubt import pad_doubt
from leafwright.site.pad_missing import missing_in_plane, missing_levels
from leafwright.site.squares import Compared
from leafwright.site.wording import is_a_mark, listed, shown
from leafwright.units import Tape, show_length, show_machined

_INCH = 0.0254

NOT_KNOWN = "not known from these readings"

#: Answers that are shown without the readings likeliest to be wrong [-].
NAMED = 2


@dataclass(frozen=True, slots=True)
class Item:
    """One way of being out of shape: how far, how surely, and in words.

    ``value``, ``sd`` and ``band`` (95 %) are None where the readings do not fix it [m].
    """

    key: str
    name: str
    value: Metres | None
    sd: Metres | None
    band: Metres | None
    words: str


@dataclass(frozen=True, slots=True)
class Push:
    """What to move: a corner or an edge's middle, toward where, by how much [m], in words."""

    key: str
    place: str
    toward: str
    by: Metres
    words: str


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner as adjusted, in the leaf's axes; ``w`` is over the flat plane nearest to all four.

    ``w`` is None where the heights of the corners are not all read.
    """

    name: str
    u: Metres
    v: Metres
    w: Metres | None


@dataclass(frozen=True, slots=True)
class FitUp:
    """A leaf's shape on the pad.

    Attributes:
        key: the leaf.
        standing: where the maker stands, and what is then on which side.
        corners: as adjusted; where readings leave them loose, as near the design as they allow.
        rack: angle of the mean upright from square, top toward the closing edge positive; None
            where not known [rad].
        diagonals: bottom hinge to top closing, and bottom closing to top hinge, adjusted; None
            where not known [m].
        items: each way of being out of shape.
        checks: each item against its limit.
        pushes: what to move, first things first.
        missing: what is not known, and which readings would tell.
        readings: each beside its fit.
        freedom: readings more than what they fix; 0 means that nothing checks them.
        suspects: which readings are wrong where they do not agree, and what to read, in words.
        doubt: whether the readings agree. Where they do not, nothing is pushed.
        answers: where they do not agree, the shape with all of them and without the suspects.
        past_pushing: what no push cures, and what does.
    """

    key: str
    standing: str
    corners: tuple[Corner, ...]
    rack: Radians | None
    diagonals: tuple[Metres | None, Metres | None]
    items: tuple[Item, ...]
    checks: tuple[Check, ...]
    pushes: tuple[Push, ...]
    missing: tuple[str, ...]
    readings: tuple[Compared, ...]
    freedom: int
    suspects: tuple[str, ...]
    doubt: Doubt
    answers: tuple[Answer, ...]
    past_pushing: tuple[str, ...]


def fit_up(
    readings: Sequence[PadReading],
    width: float,
    height: float,
    *,
    tape: Tape,
    key: str = "leaf",
    hand: Literal["left", "right"] = "left",
    face_up: bool = True,
    limits: Limits | None = None,
) -> FitUp:
    """Return a leaf's shape on the pad, its verdict, and what to push.

    Args:
        readings: what was read, any number of any kind.
        width: designed width of the leaf, outside [m].
        height: designed height of the leaf, outside [m].
        tape: the maker's tape, for the words.
        key: the leaf.
        hand: the side on which it will hang, as seen from the face side.
        face_up: whether its face side is up as it lies.
        limits: how far it may be out; the stated defaults where not given.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    limits = limits or Limits()
    found = pad.fitted(readings, width, height)
    items: list[Item] = []
    checks: list[Check] = []
    missing: list[str] = []
    known: dict[str, float] = {}
    for figure in figures_of(width, height, limits):
        function, slopes, sd = _told(figure, found, width)
        value = function(found.plane)
        if sd is None:
            wanted = missing_in_plane(readings, found, slopes, width, height)
            missing.append(_missing_words(figure.name, wanted, figure.why))
            item = _unknown(figure.key, figure.name)
        else:
            known[figure.key] = value
            item = _item(figure.key, figure.name, value, sd, (figure.more, figure.less), tape)
            if figure.key == "rack":
                item = _with_diagonals(item, found, tape)
        items.append(item)
        checks.append(_check(key, item, figure.limit, figure.change, missing))
    twist = _twist_item(found, tape)
    if twist.value is None:
        why = (
            f"a corner {shown(0.5 * _INCH, tape)} up changes a diagonal by "
            f"{_corner_up(width, height, tape)} only"
        )
        missing.append(_missing_words("twist", missing_levels(readings), why))
    items.append(twist)
    checks.append(
        _check(key, twist, limits.twist, "pack one corner until all four lie in a plane", missing)
    )
    bad = {c.key.rpartition("/")[2] for c in checks if c.verdict is Verdict.SHORT}
    doubted = pad_doubt(readings, found, width, height, tape=tape)
    answers: tuple[Answer, ...] = ()
    if doubted.holds:
        checks = [
            *_unsettled(checks),
            agreement_check(
                f"{key}/fit up/agreement", "the leaf on the pad, its readings", doubted, "pushed"
            ),
        ]
        answers = _answers(readings, doubted, items, width, height, limits, tape)
    return FitUp(
        key=key,
        standing=_standing(hand, face_up),
        corners=_corners(found, twist.value is not None),
        rack=pad.rack_angle(found.plane) if "rack" in known else None,
        diagonals=_diagonals(found),
        items=tuple(items),
        checks=tuple(checks),
        pushes=() if doubted.holds else _pushes(found, items, bad, tape),
        missing=tuple(missing),
        readings=found.readings,
        freedom=found.freedom,
        suspects=doubted.words,
        doubt=doubted,
        answers=answers,
        past_pushing=() if doubted.holds else _past_pushing(items, bad),
    )


def _unsettled(checks: Sequence[Check]) -> list[Check]:
    """Return the checks with none answered: what the readings say of the shape is not settled."""
    change = "settle first which reading is wrong"
    return [
        c
        if c.verdict in (Verdict.OK, Verdict.ASK)
        else replace(c, verdict=Verdict.ASK, change=change)
        for c in checks
    ]


def _answers(
    readings: Sequence[PadReading],
    doubted: Doubt,
    items: Sequence[Item],
    width: float,
    height: float,
    limits: Limits,
    tape: Tape,
) -> tuple[Answer, ...]:
    """Return the shape with every reading, and without those that are likeliest to be wrong."""
    figures = figures_of(width, height, limits)
    most = {f.key: f.limit for f in figures} | {"twist": limits.twist}
    told = [Answer("", _out_words(items, most))]
    for blamed in doubted.suspects[:NAMED]:
        out = {c.number for c in blamed}
        found = pad.fitted([r for i, r in enumerate(readings) if i not in out], width, height)
        left = []
        for figure in figures:
            function, _, sd = _told(figure, found, width)
            value, said = function(found.plane), (figure.more, figure.less)
            if sd is None:
                left.append(_unknown(figure.key, figure.name))
            else:
                left.append(_item(figure.key, figure.name, value, sd, said, tape))
        twist = _twist_item(found, tape)
        left += [] if twist.value is None else [twist]
        told.append(Answer(listed([c.words for c in blamed]), _out_words(left, most)))
    return tuple(told)


def _out_words(items: Sequence[Item], limits: dict[str, float]) -> str:
    """Return what is out of shape by more than its limit, in words."""
    unknown = [i.name for i in items if i.value is None]
    out = [i.words for i in items if i.value is not None and abs(i.value) > limits[i.key]]
    said = "; ".join(out) or "nothing out of shape"
    return said + (f"; not known: {listed(unknown)}" if unknown else "")


def _past_pushing(items: Sequence[Item], bad: set[str]) -> tuple[str, ...]:
    """Return what no push cures: sides that are not as long as they should be."""
    said = []
    for key, long, short in (
        ("width taper", "top rail", "bottom rail"),
        ("height taper", "closing stile", "hinge stile"),
    ):
        item = next(i for i in items if i.key == key)
        if key in bad and item.value is not None:
            first, other = (long, short) if item.value > 0.0 else (short, long)
            said.append(
                f"No push makes it square: it is {item.words}. The {first} is too long or the "
                f"{other} too short, or a joint between them is open: mend that, and read again "
                "before anything is pushed out of square"
            )
    return tuple(said)


def fit_up_of(
    place: LeafPlace,
    readings: Sequence[PadReading],
    *,
    tape: Tape,
    limits: Limits | None = None,
) -> FitUp:
    """Return the shape on the pad of a leaf of the plan, its face side up."""
    return fit_up(
        readings,
        place.on_sheet.value,
        place.height_on_sheet.value,
        tape=tape,
        key=place.key,
        hand=place.hand,
        limits=limits,
    )


def _told(
    figure: Figure, found: PadFit, width: float
) -> tuple[Callable[[np.ndarray], float], np.ndarray, float | None]:
    """Return a figure's function, its slopes, and its standard deviation if it is known [m]."""
    functions = [figure.function]
    if figure.key == "rack":
        # Two diagonals give the lean times the width; the design's width is near enough for it.
        functions.append(partial(pad.lean_over_height, width=width))
    for function in functions:
        slopes = pad.slopes_of(function, found.plane)
        if not squares.is_known(slopes, found.plane_loose):
            continue
        variance = float(slopes @ found.plane_covariance @ slopes)
        return function, slopes, math.sqrt(max(variance, 0.0))
    return function, slopes, None


def _item(key: str, name: str, value: float, sd: float, said: tuple[str, str], tape: Tape) -> Item:
    band = BAND_95 * sd
    words = f"{name}: nothing that the tape shows"
    if is_a_mark(value, tape):
        words = (said[0] if value > 0.0 else said[1]).format(shown(value, tape))
    return Item(key, name, value, sd, band, f"{words} (± {shown(band, tape)})")


def _with_diagonals(item: Item, found: PadFit, tape: Tape) -> Item:
    """Return the rack with the difference of the diagonals in its words, as the trade reads it."""
    one, other = pad.diagonals(found.plane)
    return replace(item, words=f"{item.words}; diagonals differ by {shown(one - other, tape)}")


def _unknown(key: str, name: str) -> Item:
    return Item(key, name, None, None, None, f"{name}: {NOT_KNOWN}")


def _missing_words(name: str, wanted: tuple[str, ...], why: str) -> str:
    return f"{name} is {NOT_KNOWN}: read {listed(list(wanted))} ({why})"


def _corner_up(width: float, height: float, tape: Tape) -> str:
    """Return by how much half an inch in one corner changes a diagonal, in words."""
    diagonal = math.hypot(width, height)
    return show_machined(math.hypot(diagonal, 0.5 * _INCH) - diagonal, tape.system)


def _twist_item(found: PadFit, tape: Tape) -> Item:
    if not squares.is_known(TWIST, found.heights_loose):
        return _unknown("twist", "twist")
    value = float(TWIST @ found.heights)
    sd = math.sqrt(max(float(TWIST @ found.heights_covariance @ TWIST), 0.0))
    said = (
        "top closing corner stands {} above the plane of the other three",
        "top closing corner lies {} below the plane of the other three",
    )
    return _item("twist", "twist", value, sd, said, tape)


def _check(key: str, item: Item, limit: float, change: str, missing: list[str]) -> Check:
    """Return an item against its limit; tight where the readings cannot tell.

    That is where the 95 % band crosses the limit from below, or reaches down to nothing.
    """
    verdict = Verdict.ASK
    if item.value is not None and item.band is not None:
        verdict = Verdict.OK
        if abs(item.value) > max(limit, item.band):
            verdict = Verdict.SHORT
        elif abs(item.value) + item.band > limit:
            verdict = Verdict.TIGHT
            change = f"the readings cannot tell whether it is within the limit; {change}"
    else:
        change = missing[-1]
    return Check(
        key=f"{key}/fit up/{item.key}",
        subject=f"the leaf on the pad, {item.name}",
        question="is it within the limit for fitting up",
        verdict=verdict,
        source=COMMON_PRACTICE,
        unit="m",
        demand=None if item.value is None else abs(item.value),
        available=limit,
        ratio=None if item.value is None else abs(item.value) / limit,
        change="" if verdict is Verdict.OK else change,
    )


def _standing(hand: str, face_up: bool) -> str:
    side = hand if face_up else {"left": "right", "right": "left"}[hand]
    up = "face" if face_up else "back"
    return (
        f"Stand at the bottom edge and look toward the top, {up} side up: the hinge edge is on "
        f"your {side}."
    )


def _corners(found: PadFit, with_height: bool) -> tuple[Corner, ...]:
    over = pad.out_of_plane(found.heights)
    return tuple(
        Corner(
            name,
            float(found.plane[2 * i]),
            float(found.plane[2 * i + 1]),
            float(over[i]) if with_height else None,
        )
        for i, name in enumerate(CORNERS)
    )


def _diagonals(found: PadFit) -> tuple[float | None, float | None]:
    both: list[float | None] = []
    for which in (0, 1):

        def one(plane: np.ndarray, which: int = which) -> float:
            return pad.diagonals(plane)[which]

        known = squares.is_known(pad.slopes_of(one, found.plane), found.plane_loose)
        both.append(one(found.plane) if known else None)
    return both[0], both[1]


def _pushes(found: PadFit, items: Sequence[Item], bad: set[str], tape: Tape) -> tuple[Push, ...]:
    """Return what to move for each item that is out, twist first: a twisted leaf reads falsely.

    What the tape does not show is not pushed, and a leaf whose sides are of unlike lengths is not
    pushed to equal diagonals: that would put its square corners out.
    """
    value = {i.key: i.value for i in items}
    pushes = []
    if "twist" in bad and value["twist"] is not None:
        pushes.append(_untwist(value["twist"], tape))
    for edge in EDGES:
        by = value[f"{edge} bow"]
        if f"{edge} bow" in bad and by is not None:
            way = "in" if by > 0.0 else "out"
            words = f"push the middle of the {edge} {way} by {shown(by, tape)}"
            pushes.append(Push(f"{edge} bow", f"middle of the {edge}", way, abs(by), words))
    tapered = bad & {"width taper", "height taper"}
    if "rack" in bad and value["rack"] is not None and not tapered:
        pushes.append(_square_up(found, value["rack"], tape))
    return tuple(push for push in pushes if is_a_mark(push.by, tape))


def _untwist(by: float, tape: Tape) -> Push:
    high = "top closing" if by > 0.0 else "top hinge"
    other = "top hinge" if by > 0.0 else "top closing"
    size = shown(by, tape)
    words = (
        f"let the {high} corner down by {size}, or pack the {other} corner up by {size}, and read "
        "the diagonals again"
    )
    return Push("twist", f"{high} corner", "down", abs(by), words)


def _square_up(found: PadFit, lean: float, tape: Tape) -> Push:
    """Return the push that makes both diagonals the root mean square of the two.

    With the sides kept their length the squares of the diagonals keep their sum, so that is where
    they come equal.
    """
    both = pad.diagonals(found.plane)
    long, target = max(both), math.sqrt((both[0] ** 2 + both[1] ** 2) / 2.0)
    corner, toward = (
        ("top closing", "bottom hinge") if lean > 0.0 else ("top hinge", "bottom closing")
    )
    by = long - target
    words = (
        f"clamp the bottom edge, and push the {corner} corner toward the {toward} corner until "
        f"that long diagonal is {shown(by, tape)} less: {show_length(long, tape)} now, "
        f"{show_length(target, tape)} when square"
    )
    return Push("rack", f"{corner} corner", f"{toward} corner", by, words)
