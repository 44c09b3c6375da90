"""From the gaps of a hung leaf to what to move: shim, slide, or turn a hinge, which way, how much.

The pose that fits the gaps says how far the leaf is from where it was planned; the plates or
hinges are moved back by as much, rounded to the tape; every gap that was read is then foretold.
What the readings do not tell is not moved.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.chain import BAND_95
from leafwright.records import Check, Metres, Source, Stop, Verdict
from leafwright.site import squares
from leafwright.site.moves import Move, PlateLevel, motion_of, moves_for
from leafwright.site.pose import (
    UNKNOWNS,
    GapReading,
    HungLeaf,
    closed_tilt_slopes,
    fitted_pose,
    gap_row,
    gap_rows,
    gap_words,
)
from leafwright.site.squares import Compared
from leafwright.site.wording import is_a_mark, listed, shown
from leafwright.units import Tape, show_length

NOT_KNOWN = "not known from these readings"

RIGID = Source("geometry of the hung leaf", "a rigid leaf moved a little on its axis")

CAUTION = (
    "Before a plate or a hinge is loosened: block the leaf's bottom, tether the leaf, keep the top "
    "plate fastened while the bottom is open, and nobody under it. One fastening at a time."
)


@dataclass(frozen=True, slots=True)
class Found:
    """One part of how the leaf stands: how far from plan, how surely, in words.

    ``value``, ``sd`` and ``band`` (95 %) are None where the readings do not tell [m]. Leans and
    tilts are offsets over the spacing of the pins.
    """

    key: str
    name: str
    value: Metres | None
    sd: Metres | None
    band: Metres | None
    words: str


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


@dataclass(frozen=True, slots=True)
class Hung:
    """How a leaf hangs, and what to do about it.

    Attributes:
        key: the leaf.
        pose: each part of how it stands.
        moves: what to move, in the order in which it is done.
        remains: what these moves cannot put right, and what would.
        gaps: every gap read, and as it will be.
        checks: gaps after the moves against their least.
        stops: why the moves are not to be made.
        missing: what is not known, and which readings would tell.
        readings: each beside its fit.
        freedom: readings more than what they fix; 0 means that nothing checks them.
        suspects: readings that stand out, in words.
        caution: what must be done before anything is loosened.
    """

    key: str
    pose: tuple[Found, ...]
    moves: tuple[Move, ...]
    remains: tuple[str, ...]
    gaps: tuple[ForetoldGap, ...]
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    missing: tuple[str, ...]
    readings: tuple[Compared, ...]
    freedom: int
    suspects: tuple[str, ...]
    caution: str


#: Name of each part, and how it is said where positive and negative.
_SAID = {
    "shift x": ("place along the wall", "stands {} too far right", "stands {} too far left"),
    "shift y": ("height", "stands {} too high", "stands {} too low"),
    "tilt": (
        "closed, against plumb",
        "closed, its closing edge is up: it leans {} toward its hinges over its height",
        "closed, its closing edge is down: it leans {} from its hinges over its height",
    ),
    "out of square": (
        "square on its axis",
        "hangs out of square on its axis, closing edge up by {} over the pins",
        "hangs out of square on its axis, closing edge down by {} over the pins",
    ),
    "lean x": (
        "axis along the wall",
        "top pin stands {} to the right of plumb",
        "top pin stands {} to the left of plumb",
    ),
    "lean z": (
        "axis through the wall",
        "top pin stands {} toward you from plumb",
        "top pin stands {} away from you from plumb",
    ),
}


def _slopes(leaf: HungLeaf, key: str) -> np.ndarray:
    if key == "tilt":
        return closed_tilt_slopes(leaf)
    return np.array([1.0 if name == key else 0.0 for name in UNKNOWNS])


def hung(
    leaf: HungLeaf,
    readings: Sequence[GapReading],
    *,
    tape: Tape,
    plates: Sequence[PlateLevel] = (),
    keep: Literal["plumb axis", "even gaps"] = "plumb axis",
) -> Hung:
    """Return how a leaf hangs, what to move, and the gaps after it.

    Args:
        leaf: the leaf and its mount.
        readings: gaps and plumb lines, any number of any kind.
        tape: the maker's tape: moves are rounded to it.
        plates: how level the pivot plates lie, where that was read.
        keep: what to bring right where the leaf hangs out of square on its axis and only plates
            can be moved: the axis plumb (it does not drift), or the closed gaps even.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    found = fitted_pose(leaf, readings)
    pose = tuple(_found(leaf, key, found, tape) for key in _SAID)
    values = {part.key: part.value for part in pose}
    moves = moves_for(leaf, values, plates=plates, tape=tape, keep=keep)
    change = gap_rows(leaf, readings) @ motion_of(leaf, moves)
    gaps = tuple(
        ForetoldGap(
            gap_words(leaf, r), r.value, r.value + float(by), BAND_95 * r.sd, r.least, r.planned
        )
        for r, by in zip(readings, change, strict=True)
    )
    compared = tuple(
        squares.compared(gap_words(leaf, r), r.value, r.sd, float(v), float(redundancy))
        for r, v, redundancy in zip(readings, found.residuals, found.redundancy, strict=True)
    )
    checks = tuple(_check(leaf, gap, tape) for gap in gaps if gap.least is not None)
    return Hung(
        key=leaf.key,
        pose=pose,
        moves=moves,
        remains=_remains(leaf, values, tape, keep),
        gaps=gaps,
        checks=checks,
        stops=_stops(leaf, checks),
        missing=_missing(leaf, readings, pose),
        readings=compared,
        freedom=len(readings) - (len(UNKNOWNS) - found.loose.shape[1]),
        suspects=squares.suspect_words(compared, tape),
        caution=CAUTION if moves else "",
    )


def _found(leaf: HungLeaf, key: str, found: squares.Fit, tape: Tape) -> Found:
    name, more, less = _SAID[key]
    slopes = _slopes(leaf, key)
    sd = squares.sd_of(slopes, found)
    if sd is None:
        return Found(key, name, None, None, None, f"{name}: {NOT_KNOWN}")
    value, band = float(slopes @ found.values), BAND_95 * sd
    words = f"{name}: right, as near as the tape shows"
    if is_a_mark(value, tape):
        words = (more if value > 0.0 else less).format(shown(value, tape))
    return Found(key, name, value, sd, band, f"{words} (± {shown(band, tape)})")


def _remains(
    leaf: HungLeaf, values: dict[str, float | None], tape: Tape, keep: str
) -> tuple[str, ...]:
    """Return what the moves cannot put right: a leaf on pivots, out of square on its axis."""
    out, lean = values["out of square"], values["lean x"]
    tilt = values["tilt"]
    if leaf.mount == "pivot" and lean is None and keep == "plumb axis":
        if tilt is not None and is_a_mark(tilt, tape):
            return (
                "Slide no plate without the other yet: read how far the upper pin is off plumb "
                "over the lower one. The gaps alone do not tell whether the leaf hangs out of "
                "square or its axis leans, and one plate slid to even them may set the leaf "
                "swinging.",
            )
    if leaf.mount != "pivot" or out is None or lean is None or not is_a_mark(out, tape):
        return ()
    size = shown(out, tape)
    if keep == "even gaps":
        return (
            f"The gaps come even, but the axis then leans {size} over the pins and the leaf may "
            "swing by itself: try it open at 45° and 90°.",
        )
    return (
        f"The leaf hangs {size} out of square on its axis, and plates cannot put that right with "
        "the axis plumb: set its sleeve over again, or live with the gaps foretold here.",
    )


def _check(leaf: HungLeaf, gap: ForetoldGap, tape: Tape) -> Check:
    """Return a gap after the moves against its least; tight where its 95 % band crosses it."""
    least = gap.least or 0.0
    verdict = Verdict.OK
    change = ""
    if gap.after < least - 1e-9:
        verdict = Verdict.SHORT
        change = (
            "do not make these moves: they close this gap. Read it again, then ease the jamb, head "
            "or leaf there, or move less"
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


def _stops(leaf: HungLeaf, checks: Sequence[Check]) -> tuple[Stop, ...]:
    short = [c.subject for c in checks if c.verdict is Verdict.SHORT]
    if not short:
        return ()
    return (
        Stop(
            key=f"{leaf.key}/hung/least gap",
            why=f"after these moves too little would be left at {listed(short)}",
            decide="read those gaps again; then ease the jamb, head or leaf there, or move less",
        ),
    )


def _wanted(leaf: HungLeaf) -> list[GapReading]:
    """Return what a maker would read next, easiest first."""
    far, edge = 0.95 * leaf.width, 0.05 * leaf.height
    turned = math.pi / 2.0 if leaf.opens == "toward" else -math.pi / 2.0
    side = "toward you" if leaf.opens == "toward" else "away from you"

    def gap(
        kind: Literal["heel", "floor", "plumb along wall", "plumb through wall"],
        along: float,
        opening: float,
        words: str,
    ) -> GapReading:
        return GapReading(kind, along, opening, 0.0, 0.0, words=words)

    return [
        gap("heel", edge, 0.0, "the heel gap near the bottom, leaf closed"),
        gap("heel", leaf.height - edge, 0.0, "the heel gap near the top, leaf closed"),
        gap("floor", 0.05 * leaf.width, 0.0, "the floor gap near the hinge, leaf closed"),
        gap("floor", far, 0.0, "the floor gap at the nose, leaf closed"),
        gap("plumb along wall", 0.0, 0.0, "a plumb line from pin to pin, along the wall"),
        gap("plumb through wall", 0.0, 0.0, "a plumb line from pin to pin, through the wall"),
        gap("floor", far, turned, f"the floor gap at the nose, leaf open 90° {side}"),
        gap("floor", far, turned / 2.0, f"the floor gap at the nose, leaf open 45° {side}"),
    ]


def _missing(
    leaf: HungLeaf, readings: Sequence[GapReading], pose: Sequence[Found]
) -> tuple[str, ...]:
    """Return what is not known, each with the fewest readings that would tell it."""
    wanted = _wanted(leaf)
    has = gap_rows(leaf, readings)[:, : len(UNKNOWNS)]
    extra = np.array([gap_row(leaf, w)[: len(UNKNOWNS)] for w in wanted])
    found = []
    for part in pose:
        if part.value is not None:
            continue
        slopes = _slopes(leaf, part.key)
        choices = itertools.chain.from_iterable(
            itertools.combinations(range(len(wanted)), count) for count in (1, 2, 3, 4)
        )
        for chosen in choices:
            rows = np.vstack([has, extra[list(chosen)]])
            even = squares.fit(rows, np.zeros(len(rows)), np.ones(len(rows)))
            if squares.is_known(slopes, even.loose):
                words = listed([wanted[i].words for i in chosen])
                found.append(f"{part.name} is {NOT_KNOWN}: read {words}")
                break
    return tuple(found)
