"""The best pattern for given prices, exactly: bounded knapsack tables in whole numbers.

A table answers ``best(j, room)``: the most value that types j, j+1, … can give in a room. Two
tables with the same answers: one with an entry for each room, for problems of small numbers,
and one with an entry for each sum worth having, for lengths that share no grid.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]

DENSE_ROOM = 120_000
DENSE_CELLS = 25_000_000
#: Most sums that all tables of one problem may hold.
MOST_SUMS = 6_000_000


class TooManyError(Exception):
    """There are more sums of lengths than are worth looking at."""


@dataclass(frozen=True, slots=True)
class Knapsack:
    """Types in falling weight, with the value of one, how many there are, and the tables.

    ``rows[j]`` is by room (``sums`` empty), or goes with the rising weights ``sums[j]``.
    """

    weights: tuple[int, ...]
    values: tuple[int, ...]
    demand: tuple[int, ...]
    rows: list[Ints]
    sums: list[Ints]

    def best(self, j: int, room: int) -> int:
        """Return the most value that types j, j+1, … give in ``room`` (room ≥ 0)."""
        if not self.sums:
            return int(self.rows[j][room])
        return int(self.rows[j][self.sums[j].searchsorted(room, side="right") - 1])

    def pattern(self, j: int, room: int) -> list[tuple[int, int]]:
        """Return (type, how many) of a pattern worth ``best(j, room)``."""
        found = []
        value = self.best(j, room)
        for k in range(j, len(self.weights)):
            if value == 0:
                break
            if self.best(k + 1, room) == value:
                continue
            weight, worth = self.weights[k], self.values[k]
            for n in range(1, min(self.demand[k], room // weight) + 1):
                if self.best(k + 1, room - n * weight) + n * worth == value:
                    found.append((k, n))
                    room -= n * weight
                    value -= n * worth
                    break
        return found


def knapsack(
    weights: tuple[int, ...],
    values: tuple[int, ...],
    demand: tuple[int, ...],
    room: int,
    most: int = MOST_SUMS,
) -> Knapsack:
    """Return the tables for rooms up to ``room``. Values are whole and not negative.

    Raises TooManyError where the lengths share no grid and have more than ``most`` sums.
    """
    dense = room <= DENSE_ROOM and (len(weights) + 1) * (room + 1) <= DENSE_CELLS
    if dense:
        rows, sums = _by_room(weights, values, demand, room)
    else:
        rows, sums = _by_sum(weights, values, demand, room, most)
    return Knapsack(weights, values, demand, rows, sums)


def _batches(count: int) -> list[int]:
    """Return batch sizes that add up, some or all of them, to every number up to ``count``."""
    sizes = []
    size = 1
    while count > 0:
        size = min(size, count)
        sizes.append(size)
        count -= size
        size *= 2
    return sizes


def _by_room(
    weights: tuple[int, ...], values: tuple[int, ...], demand: tuple[int, ...], room: int
) -> tuple[list[Ints], list[Ints]]:
    table = np.zeros((len(weights) + 1, room + 1), dtype=np.int64)
    for j in range(len(weights) - 1, -1, -1):
        weight, worth = weights[j], values[j]
        row, below = table[j], table[j + 1]
        row[:] = below
        if worth > 0:
            source = below
            for n in _batches(min(demand[j], room // weight)):
                np.maximum(
                    source[n * weight :], source[: -n * weight] + n * worth, out=row[n * weight :]
                )
                source = row.copy()
    return list(table), []


def _by_sum(
    weights: tuple[int, ...],
    values: tuple[int, ...],
    demand: tuple[int, ...],
    room: int,
    most: int = MOST_SUMS,
) -> tuple[list[Ints], list[Ints]]:
    nothing = np.zeros(1, dtype=np.int64)
    rows, sums = [nothing], [nothing]
    weight_of, value_of = nothing, nothing
    held = 0
    for j in range(len(weights) - 1, -1, -1):
        if values[j] > 0:
            for n in _batches(min(demand[j], room // weights[j])):
                more = weight_of + n * weights[j]
                keep = int(more.searchsorted(room, side="right"))
                all_weights = np.concatenate([weight_of, more[:keep]])
                all_values = np.concatenate([value_of, value_of[:keep] + n * values[j]])
                order = np.lexsort((-all_values, all_weights))
                all_weights, all_values = all_weights[order], all_values[order]
                # A sum is worth keeping only when no lighter one is worth as much.
                peak = np.maximum.accumulate(all_values)
                worth = np.concatenate([[True], all_values[1:] > peak[:-1]])
                weight_of, value_of = all_weights[worth], all_values[worth]
        rows.append(value_of)
        held += len(value_of)
        if held > most:
            raise TooManyError
        sums.append(weight_of)
    return rows[::-1], sums[::-1]
