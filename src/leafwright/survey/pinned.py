"""Whether the readings pin every mark, and in a maker's words what they leave loose."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from leafwright.job import marks
from leafwright.records import Held
from leafwright.survey.observe import Observation

#: The mark that the survey's axes start from; it stays where it is.
ORIGIN = "BL"

#: One unknown: a mark (or a height) and the axis "x" or "y".
Unknown = tuple[str, str]

#: Directions whose singular value is smaller than this times the largest are loose [-].
LOOSE = 1e-8


def heights_only(used: Sequence[Observation]) -> set[str]:
    """Return the planes and points of the floor, of which only the height is looked for."""
    return {seen.between[1] for seen in used if seen.relation in ("level", "floor")}


def same_place(used: Sequence[Observation], places: Mapping[str, Sequence[float]]) -> Held | None:
    """Return what is wrong where a distance is read between marks that start in one place."""
    for seen in used:
        if seen.relation != "distance":
            continue
        first, second = seen.between
        if math.dist(places[first], places[second]) < 1e-9:
            return Held(
                f"{first} and {second} are given the same place, and a distance is read from one "
                "to the other",
                ("near_x and near_y of each [[mark]] near to where it is",),
            )
    return None


def _loose(rows: np.ndarray) -> np.ndarray:
    """Return the directions that the rows leave loose, as columns."""
    _, sizes, directions = np.linalg.svd(rows, full_matrices=True)
    rank = int(np.sum(sizes > LOOSE * max(sizes.max(initial=0.0), 1e-30)))
    return directions[rank:].T


def inverted(rows: np.ndarray) -> np.ndarray | None:
    """Return the inverse by least squares (unknowns × observations), or None where it is loose.

    Args:
        rows: slopes of the observations, each over its standard deviation [1/m].
    """
    if rows.shape[0] < rows.shape[1]:
        return None
    left, sizes, right = np.linalg.svd(rows, full_matrices=False)
    if not _pins(sizes):
        return None
    return np.asarray((right.T / sizes) @ left.T)


def _pins(sizes: np.ndarray) -> bool:
    return bool(np.all(sizes > LOOSE * max(sizes.max(initial=0.0), 1e-30)))


def _whole(
    unknowns: Sequence[Unknown], places: Mapping[str, Sequence[float]], tied: bool
) -> list[tuple[np.ndarray, str, str]]:
    """Return the ways in which all marks may move as one, with the words and what would stop it.

    ``tied`` is whether any reading reaches the origin, so that they can but turn about it.
    """
    aside, up, turn = (np.zeros(len(unknowns)) for _ in range(3))
    for i, (name, axis) in enumerate(unknowns):
        aside[i] = 1.0 if axis == "x" else 0.0
        up[i] = 1.0 if axis == "y" else 0.0
        turn[i] = -places[name][1] if axis == "x" else places[name][0]
    tie = (f"no reading ties the other marks to {ORIGIN}", f"a reading from or to {ORIGIN}")
    plumb = ("nothing says which way is up", "a level, a rise or a plumb line between two marks")
    return [*([] if tied else [(aside, *tie), (up, *tie)]), (turn, *plumb)]


def _way(moves: np.ndarray) -> str:
    """Return in words how a mark is loose: ``moves`` is its x and y in each loose direction."""
    _, sizes, ways = np.linalg.svd(moves.T, full_matrices=False)
    if len(sizes) > 1 and sizes[1] > 0.01 * sizes[0]:
        return "sideways and up and down"
    x, y = np.abs(ways[0])
    if y < 0.05:
        return "sideways"
    return "up and down" if x < 0.05 else "at a slant"


def unpinned(
    rows: np.ndarray,
    unknowns: tuple[Unknown, ...],
    places: Mapping[str, Sequence[float]],
    used: Sequence[Observation],
) -> Held | None:
    """Return what the readings leave loose, or None where they pin every mark.

    Args:
        rows: slopes of the observations (observations × unknowns), each over its standard
            deviation [1/m].
        unknowns: what the columns of ``rows`` stand for.
        places: where the marks are taken to be [m].
        used: the observations.
    """
    enough = rows.shape[0] >= rows.shape[1]
    if enough and _pins(np.linalg.svd(rows, compute_uv=False)):
        return None
    loose = _loose(rows)
    only_height = heights_only(used)
    tied = any(ORIGIN in seen.between for seen in used)
    of_marks = np.array([name not in only_height for name, _ in unknowns])
    scale = float(np.max(np.abs(rows)))
    why: dict[str, None] = {}
    needs: dict[str, None] = {}
    for move, words, need in _whole(unknowns, places, tied):
        # Heights follow their marks, so only the marks need to move as one.
        wanted = move[of_marks]
        basis = loose[of_marks]
        share, *_ = np.linalg.lstsq(basis, wanted, rcond=None)
        if not np.any(wanted) or np.linalg.norm(basis @ share - wanted) > 1e-6 * math.hypot(
            *wanted
        ):
            continue
        why[words], needs[need] = None, None
        rows = np.vstack([rows, scale * _stopped(move, of_marks, unknowns, used)])
        loose = _loose(rows)
    names = _loose_marks(loose, unknowns, only_height)
    if names:
        why[f"not pinned by these readings: {', '.join(names.values())}"] = None
        needs["a width, a height, a diagonal, a level or a plumb line that reaches each"] = None
    own = [name for name in names if name not in only_height and marks.side_of(name) is None]
    if own:
        needs[
            f"or, where readings from two directions reach {', '.join(own)} already, near_x and "
            "near_y closer to where it is"
        ] = None
    return Held("; ".join(why), tuple(needs))


def _stopped(
    move: np.ndarray,
    of_marks: np.ndarray,
    unknowns: Sequence[Unknown],
    used: Sequence[Observation],
) -> np.ndarray:
    """Return the row that stops a move of all marks as one.

    It holds the mark that the move takes farthest of those at a distance from the origin, so that
    what else is loose shows by itself; without any, it holds the marks together.
    """
    beside = {
        n for s in used if s.relation == "distance" and ORIGIN in s.between for n in s.between
    }
    sizes = [
        abs(by) if name in beside else 0.0 for (name, _), by in zip(unknowns, move, strict=True)
    ]
    row = np.where(of_marks, move, 0.0)
    if max(sizes) > 0.0:
        row = np.zeros(len(unknowns))
        row[sizes.index(max(sizes))] = 1.0
    return np.asarray(row / np.linalg.norm(row))


def _loose_marks(
    loose: np.ndarray, unknowns: Sequence[Unknown], only_height: set[str]
) -> dict[str, str]:
    """Return each mark that is loose, with its words; heights only where no mark is."""
    found: dict[str, str] = {}
    heights: dict[str, str] = {}
    if loose.shape[1] == 0:
        return found
    most = float(np.max(np.abs(loose)))
    for name in dict.fromkeys(name for name, _ in unknowns):
        moves = np.zeros((2, loose.shape[1]))
        for i, (of, axis) in enumerate(unknowns):
            if of == name:
                moves["xy".index(axis)] = loose[i]
        if np.max(np.abs(moves)) < 1e-4 * most:
            continue
        (heights if name in only_height else found)[name] = f"{name} {_way(moves)}"
    return found or heights
