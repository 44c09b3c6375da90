"""What is moved to bring a hung leaf right, and what each move does to it.

On pivots: the bottom plate is slid along the wall and shimmed, the top pin plate is slid both
ways. On barrel hinges: each hinge is turned in or out, both are raised on washers, and the upper
one is moved on its post.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.records import Metres
from leafwright.site.pose import MOTIONS, HungLeaf
from leafwright.site.wording import is_a_mark, shown
from leafwright.units import Tape, rounded_to_tape

#: What is brought right where plates cannot do both: the axis plumb; the closed gaps even; or the
#: axis plumb, and what that leaves of the gaps split between the ends.
Keep = Literal["plumb axis", "even gaps", "split gaps"]


@dataclass(frozen=True, slots=True)
class PlateLevel:
    """How level a pivot plate lies, read across it with a level and feelers.

    ``right_up`` is how much its right edge stands over its left [m]; ``near_up`` how much its edge
    toward the viewer stands over the far one [m].
    """

    plate: Literal["bottom plate", "top pin plate"]
    right_up: Metres
    near_up: Metres


@dataclass(frozen=True, slots=True)
class Move:
    """One thing to move.

    Attributes:
        key: part and way, as in ``bottom plate/along wall``.
        part: what is moved.
        by: how far, rounded to the tape: right, up, toward the viewer or out of the post positive;
            a shim under an edge is positive [m].
        exact: the same before rounding [m].
        words: for the maker.
    """

    key: str
    part: str
    by: Metres
    exact: Metres
    words: str


#: Key of each move of a mount, and how it is said where positive and negative.
_SAID = {
    "bottom plate/up": (
        "shim the whole bottom plate up {}",
        "take {} of shims from under the whole bottom plate",
    ),
    "bottom plate/along wall": (
        "slide the bottom plate right {}",
        "slide the bottom plate left {}",
    ),
    "top pin plate/along wall": (
        "slide the top pin plate right {}",
        "slide the top pin plate left {}",
    ),
    "top pin plate/through wall": (
        "slide the top pin plate toward you {}",
        "slide the top pin plate away from you {}",
    ),
    "hinges/up": (
        "put {} of washers under the leaf's barrel on the hinge that bears",
        "take {} of washers from the hinge that bears",
    ),
    "lower hinge/out": (
        "turn the lower hinge out {}, leaf farther from the post",
        "turn the lower hinge in {}, leaf closer to the post",
    ),
    "upper hinge/out": (
        "turn the upper hinge out {}, leaf farther from the post",
        "turn the upper hinge in {}, leaf closer to the post",
    ),
    "upper hinge/along wall": (
        "move the upper hinge right {} on its post",
        "move the upper hinge left {} on its post",
    ),
    "upper hinge/through wall": (
        "move the upper hinge toward you {} on its post",
        "move the upper hinge away from you {} on its post",
    ),
}


def _move(key: str, exact: float, tape: Tape) -> list[Move]:
    """Return the move, or none where the tape does not show it."""
    if not is_a_mark(exact, tape):
        return []
    by = float(rounded_to_tape(exact, tape))
    words = _SAID[key][0 if by > 0.0 else 1].format(shown(by, tape))
    return [Move(key, key.partition("/")[0], by, exact, words)]


def moves_for(
    leaf: HungLeaf,
    pose: Mapping[str, float | None],
    *,
    plates: Sequence[PlateLevel],
    tape: Tape,
    keep: Keep,
) -> tuple[Move, ...]:
    """Return what brings a leaf back to its planned place, as far as its pose is known.

    Args:
        leaf: the leaf and its mount.
        pose: each part of how it stands, None where not known [m].
        plates: how level the plates lie.
        tape: the maker's tape, to which each move is rounded.
        keep: what to bring right where plates cannot do both.
    """
    right, up = -(pose["shift x"] or 0.0), -(pose["shift y"] or 0.0)
    toward = -(pose["lean z"] or 0.0)
    lean, square = 0.0, 0.0
    if pose["lean x"] is not None and not (keep == "even gaps" and leaf.mount == "pivot"):
        lean = -pose["lean x"]
        square = -(pose["out of square"] or 0.0)
    elif pose["tilt"] is not None:
        # Closed gaps alone: plates bring them even by the axis, hinges by the leaf on its axis.
        lean, square = leaf.side * pose["tilt"], -pose["tilt"]
    if leaf.mount == "barrel hinge":
        out = leaf.side * right
        lean = 0.0 if pose["lean x"] is None else lean
        return (
            *_move("hinges/up", up, tape),
            *_move("lower hinge/out", out, tape),
            *_move("upper hinge/out", out - square, tape),
            *_move("upper hinge/along wall", lean, tape),
            *_move("upper hinge/through wall", toward, tape),
        )
    shims = [shim for plate in plates for shim in _shims(plate, tape)]
    # A shim under one edge lifts the middle of the plate by half of it.
    lifted = sum(s.by / 2.0 for s in shims if s.part == "bottom plate")
    if keep == "split gaps" and pose["lean x"] is not None and pose["out of square"] is not None:
        along, lift = _split(leaf, pose["out of square"])
        right, up = right + along, up + lift
    if pose["lean x"] is None and keep != "even gaps":
        # Until the plumb is read, gaps do not tell whether the leaf or its axis is out: one plate
        # slid without the other may put the pins off plumb, and the leaf then swings by itself.
        lean = 0.0
    return (
        *_move("bottom plate/along wall", right, tape),
        *_move("bottom plate/up", up - lifted, tape),
        *shims,
        *_move("top pin plate/along wall", right + lean, tape),
        *_move("top pin plate/through wall", toward, tape),
    )


def _split(leaf: HungLeaf, out: float) -> tuple[float, float]:
    """Return how far right and up a leaf out of square goes to have half at either end [m].

    On a plumb axis its hinge edge leans by ``out`` over the pins, and its closing edge is up by
    as much over the pins for each width: moved by half of either, ends are off alike.
    """
    middle = leaf.height / 2.0 - leaf.bottom_pin
    reach = leaf.width / 2.0 - leaf.axis
    return leaf.side * out * middle / leaf.pin_spacing, -out * reach / leaf.pin_spacing


def split_moves(leaf: HungLeaf, out: float, tape: Tape) -> tuple[Move, ...]:
    """Return what splits the gaps of a leaf that hangs so far out of square on a plumb axis."""
    along, lift = _split(leaf, out)
    return (
        *_move("bottom plate/along wall", along, tape),
        *_move("bottom plate/up", lift, tape),
        *_move("top pin plate/along wall", along, tape),
    )


def _shims(plate: PlateLevel, tape: Tape) -> list[Move]:
    """Return the shims that level a plate: under a low edge, or over a high one at the top."""
    found = []
    at_top = plate.plate == "top pin plate"
    for rise, positive, negative in (
        (plate.right_up, "right", "left"),
        (plate.near_up, "near", "far"),
    ):
        if not is_a_mark(rise, tape):
            continue
        high, low = (positive, negative) if rise > 0.0 else (negative, positive)
        edge, where = (high, "over") if at_top else (low, "under")
        by = float(rounded_to_tape(abs(rise), tape))
        words = f"shim {shown(by, tape)} {where} the {edge} edge of the {plate.plate}, to level it"
        found.append(Move(f"{plate.plate}/shim {edge} edge", plate.plate, by, abs(rise), words))
    return found


def motion_of(moves: Sequence[Move]) -> np.ndarray:
    """Return what moves do to the leaf, as lengths in the order of `MOTIONS` [m].

    A plate's shim under one edge lifts the leaf by half of it.
    """
    by = {move.key: move.by for move in moves}
    edges = sum(m.by / 2.0 for m in moves if m.key.startswith("bottom plate/shim"))
    right = by.get("bottom plate/along wall", 0.0)
    lower = by.get("lower hinge/out", 0.0)
    upper = by.get("upper hinge/out", 0.0)
    done = {
        "shift x": right,
        "shift y": by.get("bottom plate/up", 0.0) + by.get("hinges/up", 0.0) + edges,
        "out of square": lower - upper,
        "lean x": by.get("top pin plate/along wall", 0.0)
        - right
        + by.get("upper hinge/along wall", 0.0),
        "lean z": by.get("top pin plate/through wall", 0.0)
        + by.get("upper hinge/through wall", 0.0),
        "drawn out": lower,
    }
    return np.array([done.get(name, 0.0) for name in MOTIONS])
