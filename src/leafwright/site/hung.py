"""From the gaps of a hung leaf to what to move: shim, slide, or turn a hinge, which way, how much.

The pose that fits the gaps says how far the leaf is from where it was planned; the plates or
hinges are moved back by as much, rounded to the tape; every gap that was read is then foretold.
What the readings do not tell is not moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.chain import BAND_95
from leafwright.records import COMMON_PRACTICE, Check, Metres, Stop, Verdict
from leafwright.site import squares
from leafwright.site.doubt import Answer, Doubt, agreement_check
from leafwright.site.hung_fit import (
    Read,
    Together,
    rack_slopes,
    together,
    together_doubt,
    with_racked,
    without,
)
from leafwright.site.hung_gaps import ForetoldGap, gap_check, gap_stops
from leafwright.site.hung_missing import missing_for, wanted_of
from leafwright.site.hung_racked import RACK, rack_found, rack_remains
from leafwright.site.moves import Keep, Move, PlateLevel, motion_of, moves_for, split_moves
from leafwright.site.out_of_shape import Limits
from leafwright.site.pose import (
    MOTIONS,
    GapReading,
    HungLeaf,
    closed_tilt_slopes,
    gap_words,
)
from leafwright.site.squares import Compared
from leafwright.site.wording import is_a_mark, listed, shown
from leafwright.units import Tape, show_length

NOT_KNOWN = "not known from these readings"

#: Nothing is shimmed, slid or turned farther than this without being asked: plates have no longer
#: slots, and hinges no longer threads [m] (common practice, no source).
MOST_MOVED: Metres = 0.0254

#: How sure a gap that could be read next is taken to be [m].
READ_NEXT: Metres = 0.0008

#: By how much the diagonals of a hung leaf may differ [m] (common practice, no source).
SQUARE: Metres = Limits().diagonals

#: Answers that are shown without the readings likeliest to be wrong [-].
NAMED = 2

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
        suspects: which readings are wrong where they do not agree, and what to read, in words.
        caution: what must be done before anything is loosened.
        doubt: whether the readings agree. Where they do not, nothing is moved.
        answers: where they do not agree, how it hangs with all of them and without the suspects.
        notes: readings that were left out, and what was taken for granted, in words.
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
    doubt: Doubt
    answers: tuple[Answer, ...]
    notes: tuple[str, ...]


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
    return np.array([1.0 if name == key else 0.0 for name in MOTIONS])


def hung(
    leaf: HungLeaf,
    readings: Sequence[GapReading],
    *,
    tape: Tape,
    plates: Sequence[PlateLevel] = (),
    keep: Keep = "plumb axis",
    notes: Sequence[str] = (),
    square: Metres = SQUARE,
) -> Hung:
    """Return how a leaf hangs, what to move, and the gaps after it.

    Args:
        leaf: the leaf and its mount.
        readings: gaps and plumb lines, any number of any kind.
        tape: the maker's tape: moves are rounded to it.
        plates: how level the pivot plates lie, where that was read.
        keep: what to bring right where the leaf hangs out of square on its axis and only plates
            can be moved: the axis plumb (it does not drift), the closed gaps even, or the axis
            plumb and what is left of the gaps split.
        notes: what was left out or taken for granted, in words.
        square: by how much its diagonals may differ before it is put right [m].

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    (found,) = hung_together(
        [leaf], [readings], tape=tape, plates=[plates], keep=keep, notes=[notes], square=square
    )
    return found


def hung_together(
    leaves: Sequence[HungLeaf],
    readings: Sequence[Sequence[GapReading]],
    *,
    tape: Tape,
    plates: Sequence[Sequence[PlateLevel]],
    keep: Keep = "plumb axis",
    notes: Sequence[Sequence[str]],
    square: Metres = SQUARE,
) -> tuple[Hung, ...]:
    """Return how each of a pair hangs, both fitted at once: the gap between them is both leaves'.

    Args are those of `hung`, each for both leaves.

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    found = together(leaves, readings)
    wanted: list[Read] = [(n, w) for n, leaf in enumerate(leaves) for w in wanted_of(leaf)]
    doubted = together_doubt(found, wanted, tape=tape, sure=READ_NEXT)
    if doubted.shape is not None:
        # One leaf has lost its shape, and no wrong reading explains as much: it is fitted so.
        found = with_racked(found, (doubted.shape,))
    poses = [_pose(found, number, tape) for number in range(len(leaves))]
    moves = [
        () if doubted.holds else moves_for(leaf, _values(pose), plates=own, tape=tape, keep=keep)
        for leaf, pose, own in zip(leaves, poses, plates, strict=True)
    ]
    far = [[m for m in own if abs(m.exact) > MOST_MOVED] for own in moves]
    # What is too far to be true of one of a pair makes the moves of the other untrue too.
    held = doubted.holds or any(far)
    moves = [() if held else own for own in moves]
    answers = _answers(found, doubted, tape)
    turned = [motion_of(own) for leaf, own in zip(leaves, moves, strict=True)]
    change = found.rows @ np.concatenate(turned)
    result = []
    for number, leaf in enumerate(leaves):
        mine = [i for i, (n, _) in enumerate(found.read) if n == number]
        own = [found.read[i][1] for i in mine]
        gaps = tuple(
            ForetoldGap(
                gap_words(leaf, r),
                r.value,
                r.value + float(change[i]),
                BAND_95 * r.sd,
                r.least,
                r.planned,
            )
            for i, r in zip(mine, own, strict=True)
        )
        checks: tuple[Check, ...]
        if held:
            checks = (_held_check(leaf, doubted, [m for some in far for m in some], tape),)
        else:
            checks = tuple(gap_check(leaf, gap, tape) for gap in gaps if gap.least is not None)
        values = _values(poses[number])
        result.append(
            Hung(
                key=leaf.key,
                pose=poses[number],
                moves=moves[number],
                remains=()
                if held
                else (
                    *_remains(leaf, values, tape, keep),
                    *(rack_remains(leaf, values, tape, square) if number in found.racked else ()),
                ),
                gaps=gaps,
                checks=checks,
                stops=_held_stops(leaf, doubted, far[number], tape)
                if held
                else gap_stops(leaf, checks, gaps),
                missing=_missing(found, number, poses[number]),
                readings=tuple(
                    squares.compared(
                        gap_words(leaf, r),
                        r.value,
                        r.unsure,
                        float(found.fit.residuals[i]),
                        float(found.fit.redundancy[i]),
                    )
                    for i, r in zip(mine, own, strict=True)
                ),
                freedom=found.freedom,
                suspects=doubted.words,
                caution=CAUTION if moves[number] else "",
                doubt=doubted,
                answers=tuple(Answer(names, words[number]) for names, words in answers),
                notes=tuple(notes[number]),
            )
        )
    return tuple(result)


def _values(pose: Sequence[Found]) -> dict[str, float | None]:
    return {part.key: part.value for part in pose}


def _slopes_of(found: Together, number: int, key: str) -> np.ndarray:
    """Return how a part of a leaf's pose follows what the fit tells of all leaves [-]."""
    return found.slopes(number, _slopes(found.leaves[number], key))


def _pose(found: Together, number: int, tape: Tape) -> tuple[Found, ...]:
    parts = tuple(_found(key, _slopes_of(found, number, key), found.fit, tape) for key in _SAID)
    racked = found if number in found.racked else with_racked(found, (*found.racked, number))
    own = squares.sd_of(racked.slopes(number, rack_slopes()), racked.fit)
    value = None if own is None else float(racked.slopes(number, rack_slopes()) @ racked.fit.values)
    name, words = rack_found(found.leaves[number], value, own, number in found.racked, tape)
    band = None if own is None else BAND_95 * own
    return (*parts, Found(RACK, name, value, own, band, words))


def _answers(found: Together, doubted: Doubt, tape: Tape) -> list[tuple[str, tuple[str, ...]]]:
    """Return how each leaf hangs with every reading, and without the suspects."""
    if not doubted.holds:
        return []

    def told(fits: Together) -> tuple[str, ...]:
        said = []
        for number in range(len(found.leaves)):
            pose = _pose(fits, number, tape)
            mine = [p for p in pose if p.key != RACK or number in fits.racked]
            out = [p.words for p in mine if p.value is not None and is_a_mark(p.value, tape)]
            unknown = [p.name for p in pose if p.value is None]
            words = "; ".join(out) or "right, as near as the tape shows"
            said.append(words + (f"; not known: {listed(unknown)}" if unknown else ""))
        return tuple(said)

    answers = [("", told(found))]
    for blamed in doubted.suspects[:NAMED]:
        names = listed([c.words for c in blamed])
        answers.append((names, told(without(found, {c.number for c in blamed}))))
    return answers


def _held_check(leaf: HungLeaf, doubted: Doubt, far: Sequence[Move], tape: Tape) -> Check:
    """Return what must be settled before anything is moved, as a question."""
    if doubted.holds:
        key, subject = f"{leaf.key}/hung/agreement", "the gaps of the hung leaf"
        return agreement_check(key, subject, doubted, "moved")
    most = max(abs(move.exact) for move in far)
    return Check(
        key=f"{leaf.key}/hung/too far",
        subject="moving the hung leaf",
        question="is it moved no farther than plates and hinges can be",
        verdict=Verdict.ASK,
        source=COMMON_PRACTICE,
        unit="m",
        demand=most,
        available=MOST_MOVED,
        ratio=most / MOST_MOVED,
        change=f"read the gaps again: more than {show_length(MOST_MOVED, tape)} is no alignment",
    )


def _held_stops(
    leaf: HungLeaf, doubted: Doubt, far: Sequence[Move], tape: Tape
) -> tuple[Stop, ...]:
    """Return why nothing is to be moved."""
    if doubted.holds:
        return (
            Stop(
                key=f"{leaf.key}/hung/agreement",
                why="the gaps read do not agree, so nothing is to be moved yet",
                decide="; ".join(doubted.words),
            ),
        )
    if not far:
        why = "the other leaf's gaps cannot be true, so nothing is to be moved yet"
        return (Stop(f"{leaf.key}/hung/too far", why, "settle the other leaf's gaps first"),)
    what = "; ".join(move.words for move in far)
    return (
        Stop(
            key=f"{leaf.key}/hung/too far",
            why=f"to bring it right would be to {what}: more than "
            f"{show_length(MOST_MOVED, tape)}, which no plate or hinge is moved, so nothing is to "
            "be moved yet",
            decide="read those gaps again, and whether the leaf hangs on its own mount at the "
            "height and place planned; a plate or hinge set so far off is fastened anew",
        ),
    )


def _missing(found: Together, number: int, pose: Sequence[Found]) -> tuple[str, ...]:
    """Return what is not known, each with the fewest readings that would tell it."""
    said = []
    for part in pose:
        if part.value is None:
            within = found
            if part.key == RACK:
                within = with_racked(found, (*found.racked, number))
            wanted = missing_for(within, number, _slopes_of(within, number, part.key))
            if wanted:
                said.append(f"{part.name} is {NOT_KNOWN}: read {listed(list(wanted))}")
    return tuple(said)


def _found(key: str, slopes: np.ndarray, found: squares.Fit, tape: Tape) -> Found:
    name, more, less = _SAID[key]
    sd = squares.sd_of(slopes, found)
    if sd is None:
        return Found(key, name, None, None, None, f"{name}: {NOT_KNOWN}")
    value, band = float(slopes @ found.values), BAND_95 * sd
    words = f"{name}: right, as near as the tape shows"
    if is_a_mark(value, tape):
        words = (more if value > 0.0 else less).format(shown(value, tape))
    return Found(key, name, value, sd, band, f"{words} (± {shown(band, tape)})")


def _remains(
    leaf: HungLeaf, values: dict[str, float | None], tape: Tape, keep: Keep
) -> tuple[str, ...]:
    """Return what the moves cannot put right: a leaf on pivots, out of square on its axis."""
    out, lean = values["out of square"], values["lean x"]
    tilt = values["tilt"]
    if leaf.mount == "pivot" and lean is None and keep != "even gaps":
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
    told = (
        f"The leaf hangs {size} out of square on its axis, and plates cannot put that right with "
        "the axis plumb: set its sleeve over again, or live with the gaps foretold here."
    )
    split = "; ".join(move.words for move in split_moves(leaf, out, tape))
    if keep == "split gaps":
        return (told, "They are split here: half of it shows at either end.")
    if not split:
        return (told,)
    return (
        told,
        f"The best split of them, half at either end, is to {split} beside what is told here: say "
        'keep = "split gaps" in [site], and it is reckoned in.',
    )
