"""The stiffness equations of a frame, reduced to the nodes that some support or rod touches.

Every load case holds the frame differently, but only at a few nodes. All others are eliminated
once for all cases. They go in steps: in one step, nodes of which no two are joined, those with
the fewest neighbours first, so that the long chains of a leaf's members halve each time and all
nodes of a step, of all variants, are one stack of 6 x 6 blocks. This is block Gaussian
elimination in a minimum-degree order; it needs no pivoting, because the stiffness is positive
definite wherever the frame can stand at all.

Letters in the shapes: n nodes, e elements, v variants, r right-hand sides, m nodes of a step,
d neighbours of each of them, k nodes that are kept.
"""

from __future__ import annotations

import contextlib
import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leafwright.frame.element import Floats

Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Layer:
    """Items, given by indices, and the targets that they are added to, none of them twice."""

    items: tuple[Ints, ...]
    targets: Ints


@dataclass(frozen=True, slots=True)
class Step:
    """Nodes (m) eliminated together, with their neighbours (m, d) and coupling blocks (m, d)."""

    nodes: Ints
    neighbours: Ints
    couplings: Ints
    blocks: tuple[Layer, ...]
    loads: tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """How one topology is assembled and eliminated; the same for all its variants.

    A block is a 6 x 6 part of the stiffness: the first n are the diagonal, the others couple an
    earlier node of the elimination (rows) to a later one (columns).
    """

    blocks: int
    assembly: tuple[Layer, ...]
    loads: tuple[Layer, ...]
    steps: tuple[Step, ...]
    kept: Ints
    kept_rows: Ints
    kept_columns: Ints
    kept_blocks: Ints


@dataclass(frozen=True, slots=True)
class Reduced:
    """What elimination leaves.

    ``stiffness`` (v, 6k, 6k) and ``loads`` (v, 6k, r) of the kept nodes; for each step the
    eliminated nodes' movement per movement of their neighbours (m, v, 6, 6d) and under the loads
    (m, v, 6, r).
    """

    stiffness: Floats
    loads: Floats
    by_neighbours: tuple[Floats, ...]
    by_loads: tuple[Floats, ...]


# Which joint hangs on which seldom changes from one leaf or edit to the next, only where they are.
@functools.lru_cache(maxsize=64)
def elimination_plan(
    nodes: int, ends: tuple[tuple[int, int], ...], rods: frozenset[int], kept: frozenset[int]
) -> Plan:
    """Return the plan that eliminates every node but those ``kept`` (at least one).

    ``nodes`` is how many there are; ``ends`` holds each element's start and end; ``rods`` are the
    elements whose stiffness is added later, by whoever knows whether they are taut (both their
    ends must be kept).
    """
    neighbours: list[set[int]] = [set() for _ in range(nodes)]
    for e, (a, b) in enumerate(ends):
        if e not in rods:
            neighbours[a].add(b)
            neighbours[b].add(a)
    rounds = _rounds(neighbours, kept)
    order = [node for eliminated in rounds for node, _ in eliminated] + sorted(kept)
    rank = {node: place for place, node in enumerate(order)}
    blocks: dict[tuple[int, int], int] = {(node, node): node for node in range(nodes)}

    def block(a: int, b: int) -> int:
        return blocks.setdefault((a, b) if rank[a] <= rank[b] else (b, a), len(blocks))

    assembly: list[tuple[int, ...]] = []
    for e, (a, b) in enumerate(ends):
        if e not in rods:
            first = 0 if rank[a] <= rank[b] else 1
            assembly += [(a, e, 0, 0), (b, e, 1, 1), (block(a, b), e, first, 1 - first)]
    steps = [
        _step([r for r in eliminated if len(r[1]) == degree], rank, block)
        for eliminated in rounds
        for degree in sorted({len(near) for _, near in eliminated})
    ]
    kept_order = sorted(kept)
    places = [
        (i, j, blocks[a, b])
        for i, a in enumerate(kept_order)
        for j, b in enumerate(kept_order[i:], start=i)
        if (a, b) in blocks
    ]
    rows, columns, found = np.array(places, dtype=np.intp).T
    sides = [(node, e, side) for e, pair in enumerate(ends) for side, node in enumerate(pair)]
    return Plan(
        blocks=len(blocks),
        assembly=_layers(assembly),
        loads=_layers(sides),
        steps=tuple(steps),
        kept=np.array(kept_order, dtype=np.intp),
        kept_rows=rows,
        kept_columns=columns,
        kept_blocks=found,
    )


def _rounds(neighbours: list[set[int]], kept: frozenset[int]) -> list[list[tuple[int, list[int]]]]:
    """Return rounds of nodes that are not joined to one another, each with its neighbours then."""
    left = set(range(len(neighbours))) - kept
    rounds = []
    while left:
        order = sorted(left, key=lambda node: (len(neighbours[node]), node))
        most = max(2, len(neighbours[order[0]]))
        taken: list[tuple[int, list[int]]] = []
        barred: set[int] = set()
        for node in order:
            near = neighbours[node]
            if len(near) > most:
                break
            if node not in barred:
                taken.append((node, list(near)))
                barred |= near
        for node, near_list in taken:
            left.discard(node)
            for other in near_list:
                neighbours[other].discard(node)
                neighbours[other].update(n for n in near_list if n != other)
        rounds.append(taken)
    return rounds


def _step(
    eliminated: list[tuple[int, list[int]]], rank: dict[int, int], block: Callable[[int, int], int]
) -> Step:
    couplings, neighbours = [], []
    block_entries: list[tuple[int, ...]] = []
    load_entries: list[tuple[int, ...]] = []
    for i, (node, unordered) in enumerate(eliminated):
        near = sorted(unordered, key=rank.__getitem__)
        neighbours.append(near)
        couplings.append([block(node, other) for other in near])
        for a, first in enumerate(near):
            load_entries.append((first, i, a))
            block_entries += [
                (block(first, second), i, a, b) for b, second in enumerate(near[a:], start=a)
            ]
    return Step(
        nodes=np.array([node for node, _ in eliminated], dtype=np.intp),
        neighbours=np.array(neighbours, dtype=np.intp),
        couplings=np.array(couplings, dtype=np.intp),
        blocks=_layers(block_entries),
        loads=_layers(load_entries),
    )


def _layers(entries: Sequence[tuple[int, ...]]) -> tuple[Layer, ...]:
    """Return the sum of items into targets, for entries ``(target, index, …)``.

    A target's first item is in the first layer, its second in the second, and so on, so that each
    layer is one plain addition of arrays.
    """
    layers: list[list[tuple[int, ...]]] = []
    seen: dict[int, int] = {}
    for entry in entries:
        depth = seen[entry[0]] = seen.get(entry[0], -1) + 1
        if depth == len(layers):
            layers.append([])
        layers[depth].append(entry)
    tables = [np.array(layer, dtype=np.intp).T for layer in layers]
    return tuple(Layer(tuple(table[1:]), table[0]) for table in tables)


def solved(matrices: Floats, right: Floats) -> Floats:
    """Return the solutions (…, q, r) of a stack of equations; NaN where a matrix is singular.

    ``matrices`` (…, q, q) and ``right`` (…, q, r). One singular matrix must not stop the others.
    """
    try:
        return np.asarray(np.linalg.solve(matrices, right), dtype=np.float64)
    except np.linalg.LinAlgError:
        answers = np.full_like(right, np.nan)
    for place in np.ndindex(matrices.shape[:-2]):
        with contextlib.suppress(np.linalg.LinAlgError):
            answers[place] = np.linalg.solve(matrices[place], right[place])
    return answers


def assembled_blocks(plan: Plan, stiffness: Floats) -> Floats:
    """Return the blocks (blocks, v, 6, 6) of global element stiffnesses (e, v, 12, 12)."""
    elements, variants = stiffness.shape[:2]
    blocks = np.zeros((plan.blocks, variants, 6, 6))
    parts = stiffness.reshape(elements, variants, 2, 6, 2, 6)
    for layer in plan.assembly:
        e, a, b = layer.items
        blocks[layer.targets] += parts[e, :, a, :, b, :]
    return blocks


def add_element_loads(plan: Plan, loads: Floats, element_loads: Floats) -> None:
    """Add global element end forces (e, v, 12, r) to the node loads (n, v, 6, r), in place."""
    elements, variants, _, columns = element_loads.shape
    parts = element_loads.reshape(elements, variants, 2, 6, columns)
    for layer in plan.loads:
        e, side = layer.items
        loads[layer.targets] += parts[e, :, side]


def eliminated(plan: Plan, blocks: Floats, loads: Floats) -> Reduced:
    """Return the equations of the kept nodes; uses up ``blocks`` and ``loads``.

    ``blocks`` (blocks, v, 6, 6) from `assembled_blocks`, ``loads`` (n, v, 6, r). Where a node has
    no stiffness at all in some direction, that variant's numbers become NaN.
    """
    variants, columns = blocks.shape[1], loads.shape[-1]
    by_neighbours, by_loads = [], []
    for step in plan.steps:
        m, d = step.neighbours.shape
        coupling = blocks[step.couplings].transpose(0, 2, 3, 1, 4).reshape(m, variants, 6, 6 * d)
        right = np.concatenate([coupling, loads[step.nodes]], axis=-1)
        moved = solved(blocks[step.nodes], right)
        by_neighbours.append(moved[..., : 6 * d])
        by_loads.append(moved[..., 6 * d :])
        if not d:
            continue
        handed = coupling.swapaxes(-1, -2) @ moved
        stiff = handed[..., : 6 * d].reshape(m, variants, d, 6, d, 6)
        for layer in step.blocks:
            i, a, b = layer.items
            blocks[layer.targets] -= stiff[i, :, a, :, b, :]
        forces = handed[..., 6 * d :].reshape(m, variants, d, 6, columns)
        for layer in step.loads:
            i, a = layer.items
            loads[layer.targets] -= forces[i, :, a]
    size = plan.kept.size
    stiffness = np.zeros((variants, size, 6, size, 6))
    kept = blocks[plan.kept_blocks]
    stiffness[:, plan.kept_columns, :, plan.kept_rows, :] = kept.swapaxes(-1, -2)
    stiffness[:, plan.kept_rows, :, plan.kept_columns, :] = kept
    return Reduced(
        stiffness=stiffness.reshape(variants, 6 * size, 6 * size),
        loads=loads[plan.kept].swapaxes(0, 1).reshape(variants, 6 * size, columns),
        by_neighbours=tuple(by_neighbours),
        by_loads=tuple(by_loads),
    )


def restore(plan: Plan, reduced: Reduced, movement: Floats) -> None:
    """Fill in the eliminated nodes' movement (n, v, 6, c), in place, from that of the kept ones.

    The c columns are the first c of the loads that were eliminated.
    """
    _, variants, _, columns = movement.shape
    for step, by_neighbours, by_loads in zip(
        reversed(plan.steps),
        reversed(reduced.by_neighbours),
        reversed(reduced.by_loads),
        strict=True,
    ):
        m, d = step.neighbours.shape
        near = movement[step.neighbours].swapaxes(1, 2).reshape(m, variants, 6 * d, columns)
        movement[step.nodes] = by_loads[..., :columns] - by_neighbours @ near
