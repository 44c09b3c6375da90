"""What observations should read with the marks in given places, and its slopes, as arrays.

The one observation model of the survey: each relation is a number of plain terms, a step along an
axis, a distance, or how far off a line. They are laid out once for a set of observations, so that
each round of an adjustment is a few operations on arrays however many readings there are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.records import Point3
from leafwright.survey.observe import Observation
from leafwright.survey.pinned import Unknown

#: Two marks that fall together have no direction to one another; this stands for their distance
#: where it divides [m].
NO_LENGTH = 1e-9


@dataclass(frozen=True, slots=True)
class Equations:
    """A set of observations laid out as arrays over some marks.

    ``column`` (marks × 3) is where each coordinate stands among the unknowns; one past the last
    stands for what is held. ``steps`` has, for each step, the observation, the marks from and to,
    the axis; ``step_signs`` its sign. ``nearer`` and ``farther`` have the observation and two
    marks of each distance that counts, or is taken off; ``off_lines`` the observation, the point,
    the foot and the head. ``level`` holds the slopes of the steps, which are the same everywhere.
    """

    names: tuple[str, ...]
    unknowns: tuple[Unknown, ...]
    read: np.ndarray
    root: np.ndarray
    column: np.ndarray
    place: np.ndarray
    axis: np.ndarray
    steps: np.ndarray
    step_signs: np.ndarray
    level: np.ndarray
    nearer: np.ndarray
    farther: np.ndarray
    off_lines: np.ndarray


def equations(
    seen: Sequence[Observation], unknowns: Sequence[Unknown], names: Sequence[str]
) -> Equations:
    """Return observations laid out as arrays.

    Args:
        seen: the observations; every mark of them is among ``names``.
        unknowns: marks and axes that are looked for; all other coordinates are held.
        names: the marks, in the order in which their places are given.
    """
    index = {name: i for i, name in enumerate(names)}
    column = np.full((len(names), 3), len(unknowns))
    for k, (name, axis) in enumerate(unknowns):
        column[index[name], "xy".index(axis)] = k
    steps, signs = [], []
    nearer, farther, off_lines = [], [], []
    for i, one in enumerate(seen):
        marks = [index[name] for name in one.between]
        if one.relation == "distance":
            nearer.append((i, marks[0], marks[1]))
        elif one.relation == "middle":
            nearer.append((i, marks[0], marks[1]))
            farther.append((i, marks[0], marks[2]))
        elif one.relation == "straight":
            off_lines.append((i, *marks))
        elif one.relation == "level":
            # A plane's height is kept as the y of a mark of its own.
            steps.append((i, marks[1], marks[0], 1))
            signs.append(1.0)
        else:
            steps.append((i, marks[0], marks[1], 0 if one.relation == "across" else 1))
            signs.append(one.sign)
    of_steps = np.array(steps, dtype=int).reshape(-1, 4)
    step_signs = np.array(signs, dtype=float)
    level = np.zeros((len(seen), len(unknowns) + 1))
    np.add.at(level, (of_steps[:, 0], column[of_steps[:, 2], of_steps[:, 3]]), step_signs)
    np.add.at(level, (of_steps[:, 0], column[of_steps[:, 1], of_steps[:, 3]]), -step_signs)
    return Equations(
        names=tuple(names),
        unknowns=tuple(unknowns),
        read=np.array([one.quantity.value for one in seen]),
        root=np.array([1.0 / one.sd for one in seen]),
        column=column,
        place=np.array([index[name] for name, _ in unknowns], dtype=int),
        axis=np.array(["xy".index(axis) for _, axis in unknowns], dtype=int),
        steps=of_steps,
        step_signs=step_signs,
        level=level,
        nearer=np.array(nearer, dtype=int).reshape(-1, 3),
        farther=np.array(farther, dtype=int).reshape(-1, 3),
        off_lines=np.array(off_lines, dtype=int).reshape(-1, 4),
    )


def placed(names: Sequence[str], places: Mapping[str, Point3]) -> np.ndarray:
    """Return places [m] as an array (marks × 3), in the order of the names."""
    return np.array([places[name] for name in names], dtype=float).reshape(-1, 3)


def moved(laid: Equations, at: np.ndarray, by: np.ndarray) -> np.ndarray:
    """Return the places (marks × 3) [m] with each unknown moved [m]."""
    there = at.copy()
    there[laid.place, laid.axis] += by
    return there


def linearised(laid: Equations, at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the slopes (observations × unknowns) [-] and misfits read − predicted [m].

    Args:
        laid: the observations.
        at: where the marks are (marks × 3) [m].
    """
    # In each of these an observation stands once, so that plain adding does; what is held goes to
    # the last column, which is cut off.
    rows = laid.level.copy()
    predicted = np.zeros(len(laid.read))
    if len(laid.steps):
        of, start, end, axis = laid.steps.T
        predicted[of] += laid.step_signs * (at[end, axis] - at[start, axis])
    for lengths, sign in ((laid.nearer, 1.0), (laid.farther, -1.0)):
        if not len(lengths):
            continue
        of, start, end = lengths.T
        step = at[end] - at[start]
        length = np.sqrt(np.einsum("ij,ij->i", step, step))
        length[length == 0.0] = NO_LENGTH
        predicted[of] += sign * length
        way = step[:, :2] * (sign / length)[:, None]
        rows[of[:, None], laid.column[end, :2]] += way
        rows[of[:, None], laid.column[start, :2]] -= way
    if len(laid.off_lines):
        of, point, foot, head = laid.off_lines.T
        along = at[head, :2] - at[foot, :2]
        length = np.sqrt(np.einsum("ij,ij->i", along, along))
        length[length == 0.0] = NO_LENGTH
        along /= length[:, None]
        normal = along[:, ::-1] * (1.0, -1.0)
        out = at[point, :2] - at[foot, :2]
        share = np.einsum("ij,ij->i", out, along) / length
        predicted[of] += np.einsum("ij,ij->i", out, normal)
        rows[of[:, None], laid.column[point, :2]] += normal
        rows[of[:, None], laid.column[foot, :2]] += (share - 1.0)[:, None] * normal
        rows[of[:, None], laid.column[head, :2]] -= share[:, None] * normal
    return rows[:, :-1], laid.read - predicted


def places_of(laid: Equations, at: np.ndarray) -> dict[str, Point3]:
    """Return places (marks × 3) [m] by the marks' names."""
    return {
        name: (float(x), float(y), float(z))
        for name, (x, y, z) in zip(laid.names, at.tolist(), strict=True)
    }
