"""Why a frame cannot stand: the movements that nothing resists, named by node and direction."""

from __future__ import annotations

import numpy as np

from leafwright.frame.condense import Ints
from leafwright.frame.element import Bools, Floats

DIRECTIONS = (
    "moving along x",
    "moving along y",
    "moving along z",
    "turning about x",
    "turning about y",
    "turning about z",
)
"""The six ways in which a node can go, in global axes."""

LEAST_STIFFNESS = 1e-12
"""The least eigenvalue of the stiffness, scaled to a unit diagonal, that counts as held [-].

Rounding leaves about 1e-14 for a true mechanism of 60 nodes; the most slender frames of this
trade stay above 1e-9.
"""

LEAST_SCALE = 1e-6
"""The least diagonal that is scaled to one, as a share of the frame's largest of its kind [-]."""

LEADING_SHARE = 0.5
"""Nodes that move at least this share of the most are named together [-]."""


def unit_scale(diagonal: Floats) -> Floats:
    """Return what the movements (n, …, 6) are measured by, for the diagonal of the stiffness.

    It is the square root of the diagonal, so that all directions count alike in any unit. A
    diagonal that is next to nothing beside the largest of its kind (moving, turning) is not
    blown up, so that a node that only rounding holds is still seen as loose.
    """
    kinds = diagonal.reshape(*diagonal.shape[:-1], 2, 3)
    largest = kinds.max(axis=(0, -1), keepdims=True)
    largest = np.where(largest > 0.0, largest, 1.0)
    return np.sqrt(np.maximum(kinds, LEAST_SCALE * largest)).reshape(diagonal.shape)


def loose_movements(
    stiffness: Floats, ends: Ints, fixed: Bools, springs: Floats, coordinates: Floats
) -> list[tuple[int, list[int]]]:
    """Return what nothing holds: for each free movement its direction (0 to 5) and its nodes.

    ``stiffness`` (e, 12, 12) holds the elements' matrices in global axes, ``ends`` (e, 2) their
    nodes; ``fixed`` (n, 6), ``springs`` (n, 6) [N/m, N m/rad] the supports; ``coordinates``
    (n, 3) [m]. The nodes come with the most moved first. An empty list: the frame can stand.

    Where several movements are free, the null space is reduced to one movement for each of its
    dimensions that touches as few of the others as may be, so that two loose joints are named
    apart. A movement leads with the direction in which it is largest, a turn counted as the
    distance that it moves something as far off as the frame is long.
    """
    nodes = len(coordinates)
    whole = np.zeros((6 * nodes, 6 * nodes))
    for matrix, (a, b) in zip(stiffness, ends, strict=True):
        places = np.concatenate([6 * a + np.arange(6), 6 * b + np.arange(6)])
        whole[np.ix_(places, places)] += matrix
    scale = unit_scale(whole.diagonal().reshape(nodes, 6)).ravel()
    # A spring stiffer than the frame holds as well as one as stiff, and rounds less.
    whole[np.diag_indices(6 * nodes)] += np.minimum(springs.ravel(), scale**2)
    free = np.flatnonzero(~fixed.ravel())
    part = whole[np.ix_(free, free)]
    scale = scale[free]
    values, vectors = np.linalg.eigh(part / np.outer(scale, scale))
    count = int((values < LEAST_STIFFNESS).sum())
    moved = np.zeros((6 * nodes, count))
    moved[free] = vectors[:, :count] / scale[:, None]
    size = float(np.linalg.norm(np.ptp(coordinates, axis=0)))
    moved[np.arange(6 * nodes) % 6 < 3] /= size
    leads = _separated(moved)
    found = []
    for movement, lead in zip(moved.T, leads, strict=True):
        direction = lead % 6
        sizes = np.abs(movement.reshape(nodes, 6)[:, direction])
        # Rounded, so that of nodes that move alike the first is named first.
        order = np.argsort(-np.round(sizes / sizes.max(), 6), kind="stable")
        named = [int(i) for i in order if sizes[i] >= LEADING_SHARE * sizes[order[0]]]
        found.append((int(direction), named))
    return sorted(found)


def _separated(moved: Floats) -> list[int]:
    """Reduce the columns so that each has a row of its own, in place; return those rows."""
    leads = []
    for column in range(moved.shape[1]):
        rest = np.abs(moved[:, column:])
        # Of rows as good as equal the first is taken, so that rounding does not choose the name.
        row, offset = np.unravel_index(int(np.argmax(rest >= 0.999 * rest.max())), rest.shape)
        other = column + int(offset)
        moved[:, [column, other]] = moved[:, [other, column]]
        moved[:, column] /= moved[row, column]
        for elsewhere in range(moved.shape[1]):
            if elsewhere != column:
                moved[:, elsewhere] -= moved[row, elsewhere] * moved[:, column]
        leads.append(int(row))
    return leads


def in_words(movements: list[tuple[int, list[str]]], *, of: int) -> str:
    """Return "nothing holds node 'x' from turning about y", for one or more movements.

    ``movements`` holds directions (0 to 5) and keys of nodes; ``of`` is how many nodes there are.
    """
    directions: dict[str, list[str]] = {}
    for direction, keys in movements:
        directions.setdefault(_who(keys, of), []).append(DIRECTIONS[direction])
    return ", and ".join(
        f"nothing holds {who} from {' or '.join(ways)}" for who, ways in directions.items()
    )


def _who(keys: list[str], of: int) -> str:
    if len(keys) == 1:
        return f"node {keys[0]!r}"
    if len(keys) == of:
        return f"the frame as a whole (all {of} nodes)"
    if len(keys) <= 3:
        return "nodes " + ", ".join(repr(k) for k in keys[:-1]) + f" and {keys[-1]!r}"
    return f"nodes {keys[0]!r}, {keys[1]!r} and {len(keys) - 2} more"
