"""A frame's movements, reactions and end forces in every load case, for one model or many variants.

Linear elastic, small movements, straight prismatic elements with or without shear deformation,
elastic supports, rods that can go slack. Buckling and second-order effects are not in it.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from leafwright.frame import cases as held_cases
from leafwright.frame.arrays import (
    Numbers,
    Topology,
    Variants,
    model_arrays,
    variant_numbers,
)
from leafwright.frame.cases import Rods, solve_cases
from leafwright.frame.condense import (
    add_element_loads,
    assembled_blocks,
    eliminated,
    restore,
)
from leafwright.frame.element import (
    Bools,
    Floats,
    line_load_matrix,
    local_axes,
    point_load_matrix,
    released,
    shear_ratios,
    stiffness,
)
from leafwright.frame.mechanism import DIRECTIONS, in_words, loose_movements, unit_scale
from leafwright.frame.model import FrameModel
from leafwright.records import Held, read_only

REACH_LIMIT = 1e11
"""Scaled movement under a scaled unit load above which a frame is examined for a mechanism [-]."""

VARIANTS_AT_ONCE = 32
"""How many variants go through the arrays together: enough to hide the cost of each call."""

KEPT_NUMBERS = 4_000_000
"""The size of the block that makes the allocator keep its memory (see `solve_batch`)."""

_ROD_RELEASES = np.array([False, False, False, False, True, True] * 2)


@dataclass(frozen=True, slots=True, eq=False)
class FrameResult:
    """The state of a frame in every case, in the order of the model's cases, nodes, elements.

    ``displacements`` (cases, nodes, 6): x, y, z [m], turns about x, y, z [rad], global axes.
    ``reactions`` (cases, nodes, 6): what supports and springs exert on the frame [N, N m], global
    axes, zero where nothing holds. ``end_forces`` (cases, elements, 12): what the nodes exert on
    the element, in its local axes: N-direction, y, z, moments about x, y, z at the start, then at
    the end [N, N m]; so the first is negative under tension and the seventh positive.
    ``slack`` (cases, elements): rods that hang loose. ``lengths`` (elements) [m]; ``axes``
    (elements, 3, 3): rows are the local x, y, z in global axes; ``line_loads``
    (cases, elements, 6): the line loads in local axes at the start and at the end [N/m].
    """

    cases: tuple[str, ...]
    nodes: tuple[str, ...]
    elements: tuple[str, ...]
    displacements: Floats
    reactions: Floats
    end_forces: Floats
    slack: Bools
    lengths: Floats
    axes: Floats
    line_loads: Floats


@dataclass(frozen=True, slots=True, eq=False)
class BatchResult:
    """The arrays of `FrameResult` with a leading axis of variants.

    ``held`` names the variants that cannot stand (by number) and why; their rows are NaN.
    """

    cases: tuple[str, ...]
    nodes: tuple[str, ...]
    elements: tuple[str, ...]
    displacements: Floats
    reactions: Floats
    end_forces: Floats
    slack: Bools
    lengths: Floats
    axes: Floats
    line_loads: Floats
    held: tuple[tuple[int, Held], ...]


def solve(model: FrameModel, *, shear: bool = True) -> FrameResult | Held:
    """Return the displacements, reactions and end forces of every load case.

    Method: direct stiffness. Each element is exact for line and point loads, with released ends
    and with shear flexibility (`leafwright.frame.element`).

    ``shear`` False leaves shear deformation out whatever the sections say.

    Returns `Held` if in some case the frame is a mechanism: it names the case, the nodes and the
    direction that is not held, for all cases together; or if the rods of a case do not settle as
    taut or slack within `leafwright.frame.cases.MOST_ROUNDS`. Raises FrameError if `problems` finds
    any in the model.
    """
    topology, numbers = model_arrays(model)
    part = _solved_part(topology, numbers, shear=shear)
    held = _troubles(model, topology, part)
    if held:
        return held[0][1]
    arrays: list[Any] = [read_only(getattr(part.state, f.name)[0]) for f in fields(_State)]
    return FrameResult(*_keys(model), *arrays)


def solve_batch(model: FrameModel, variants: Variants, *, shear: bool = True) -> BatchResult:
    """Return the displacements, reactions and end forces of many variants of one model.

    The same computation as `solve`, for all variants together; see `Variants` for what may
    differ. A variant that `solve` would hold is listed in ``held`` and does not stop the others.
    Raises FrameError if the model has problems or the arrays do not fit it.
    """
    topology, own = model_arrays(model)
    numbers = variant_numbers(model, own, variants)
    count = len(numbers.coordinates)
    # The C library of Linux hands freed blocks of a megabyte back to the system and fetches them
    # anew, page by page, which takes longer than the arithmetic; once a large block has been freed
    # it keeps them (its threshold adapts). Nothing is written to this one.
    np.empty(KEPT_NUMBERS)
    states, held = [], []
    for first in range(0, count, VARIANTS_AT_ONCE):
        part = _solved_part(
            topology, numbers.part(slice(first, first + VARIANTS_AT_ONCE)), shear=shear
        )
        for which, why in _troubles(model, topology, part):
            held.append((first + which, why))
            for array in (part.state.displacements, part.state.reactions, part.state.end_forces):
                array[which] = np.nan
        states.append(part.state)
    arrays: list[Any] = [
        read_only(np.concatenate([getattr(state, f.name) for state in states]))
        for f in fields(_State)
    ]
    arrays.append(tuple(held))
    return BatchResult(*_keys(model), *arrays)


def _keys(model: FrameModel) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    return (
        tuple(case.key for case in model.cases),
        tuple(node.key for node in model.nodes),
        tuple(element.key for element in model.elements),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """The arrays of a result, each with the leading axis of variants."""

    displacements: Floats
    reactions: Floats
    end_forces: Floats
    slack: Bools
    lengths: Floats
    axes: Floats
    line_loads: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """Some variants solved, with what is needed to say why one of them cannot stand.

    ``reach`` and ``unsettled`` are (v, c); ``element_stiffness`` (e, v, 12, 12) is in global axes.
    """

    state: _State
    numbers: Numbers
    element_stiffness: Floats
    reach: Floats
    unsettled: Bools


@dataclass(frozen=True, slots=True, eq=False)
class _Elements:
    """The elements of some variants; shapes (e, v, …).

    ``length`` [m], ``axes`` (3, 3), ``mixed`` (12, 12) turns global movements of the nodes into
    local end forces, ``stiffness`` (12, 12) in global axes, ``line_loads`` (6, c) in local axes
    and ``loads`` (12, c), the nodes' share of all loads on the element, in local and global axes.
    """

    length: Floats
    axes: Floats
    mixed: Floats
    stiffness: Floats
    line_loads: Floats
    loads: Floats
    global_loads: Floats


def _solved_part(topology: Topology, numbers: Numbers, *, shear: bool) -> _Part:
    """Return the solution of some variants, all of them together."""
    plan = topology.plan
    variants, cases, nodes, _ = numbers.node_loads.shape
    elements = _elements(topology, numbers, shear=shear)
    blocks = assembled_blocks(plan, elements.stiffness)
    scale = unit_scale(blocks[:nodes].diagonal(axis1=-2, axis2=-1))
    # One more right-hand side than there are cases: a load that reaches every direction of every
    # node. If the frame is loose anywhere, it moves without bound (Dixon's estimate of a norm).
    loads = np.empty((nodes, variants, 6, cases + 1))
    loads[..., :cases] = numbers.node_loads.transpose(2, 0, 3, 1)
    loads[..., cases] = scale * np.cos(1.0 + np.arange(6.0 * nodes) ** 2).reshape(nodes, 1, 6)
    add_element_loads(plan, loads[..., :cases], elements.global_loads)
    reduced = eliminated(plan, blocks, loads)
    reach = np.zeros((variants, cases))
    for step, by_loads in zip(plan.steps, reduced.by_loads, strict=True):
        here = np.abs(scale[step.nodes] * by_loads[..., -1]).max(axis=(0, 2))
        reach = np.maximum(reach, here[:, None])
    kept_scale = scale[plan.kept].swapaxes(0, 1).reshape(variants, -1)
    kept = solve_cases(topology.groups, reduced, _rods(topology, elements), kept_scale)
    reach = np.maximum(reach, kept.reach)
    movement = np.zeros((nodes, variants, 6, cases))
    shape = (variants, plan.kept.size, 6, cases)
    movement[plan.kept] = kept.movement.reshape(shape).swapaxes(0, 1)
    restore(plan, reduced, movement)
    reactions = np.zeros((variants, cases, nodes, 6))
    reactions[:, :, plan.kept] = kept.reactions.reshape(shape).transpose(0, 3, 1, 2)
    end_forces = _end_forces(topology, elements, movement, kept.taut)
    slack = np.zeros((variants, cases, len(topology.ends)), dtype=np.bool_)
    slack[:, :, topology.rods] = ~kept.taut
    state = _State(
        displacements=np.ascontiguousarray(movement.transpose(1, 3, 0, 2)),
        reactions=reactions,
        end_forces=np.ascontiguousarray(end_forces.transpose(1, 3, 0, 2)),
        slack=slack,
        lengths=elements.length.T.copy(),
        axes=elements.axes.swapaxes(0, 1).copy(),
        line_loads=np.ascontiguousarray(elements.line_loads.transpose(1, 3, 0, 2)),
    )
    return _Part(state, numbers, elements.stiffness, reach, kept.unsettled)


def _elements(topology: Topology, numbers: Numbers, *, shear: bool) -> _Elements:
    at = numbers.coordinates.swapaxes(0, 1)
    start, end = topology.ends.T
    length, axes = local_axes(at[start], at[end], topology.references[:, None])
    sections = numbers.sections.swapaxes(0, 1)[topology.section_of]
    phi_y, phi_z = shear_ratios(sections, length, shear=shear)
    rods = np.zeros((len(topology.ends), 1), dtype=np.bool_)
    rods[topology.rods] = True
    local = stiffness(sections, length, phi_y, phi_z, rods)
    lines = numbers.line_loads.transpose(2, 0, 3, 1)
    count, variants, _, cases = lines.shape
    lines = axes[:, :, None] @ lines.reshape(count, variants, 2, 3, cases)
    lines = lines.reshape(count, variants, 6, cases)
    loads = line_load_matrix(length, phi_y, phi_z) @ lines
    on = topology.point_element
    if on.size:
        matrix = point_load_matrix(numbers.point_at.T, length[on], phi_y[on], phi_z[on])
        points = numbers.point_loads.swapaxes(0, 1).reshape(on.size, variants, 2, 3, 1)
        points = (axes[on][:, :, None] @ points).reshape(on.size, variants, 6, 1)
        shares = (matrix @ points)[..., 0]
        for share, element, case in zip(shares, on, topology.point_case, strict=True):
            loads[element, :, :, case] += share
    releases = topology.releases.copy()
    releases[topology.rods] = _ROD_RELEASES
    which = np.flatnonzero(releases.any(axis=-1))
    if which.size:
        local[which], carried = released(local[which], releases[which])
        loads[which] = carried @ loads[which]
    turn = np.zeros_like(local)
    for corner in (0, 3, 6, 9):
        turn[..., corner : corner + 3, corner : corner + 3] = axes
    mixed = local @ turn
    back = turn.swapaxes(-1, -2)
    return _Elements(length, axes, mixed, back @ mixed, lines, loads, back @ loads)


def _rods(topology: Topology, elements: _Elements) -> Rods:
    place = np.zeros(topology.ends.max() + 1, dtype=np.intp)
    place[topology.plan.kept] = np.arange(topology.plan.kept.size)
    ends = place[topology.ends[topology.rods]]
    places = 6 * ends[:, :, None] + np.arange(6)
    return Rods(
        places=places.reshape(-1, 12),
        stiffness=elements.stiffness[topology.rods],
        along=elements.axes[topology.rods][:, :, 0],
    )


def _end_forces(topology: Topology, elements: _Elements, movement: Floats, taut: Bools) -> Floats:
    """Return what the nodes exert on the elements (e, v, 12, c), in local axes."""
    ends = movement[topology.ends].swapaxes(1, 2)
    elastic = elements.mixed @ ends.reshape(*elements.length.shape, 12, -1)
    elastic[topology.rods] *= taut.transpose(2, 0, 1)[:, :, None]
    return elastic - elements.loads


def _troubles(model: FrameModel, topology: Topology, part: _Part) -> list[tuple[int, Held]]:
    """Return the variants that cannot stand, or whose rods did not settle, and why."""
    suspect = ~(part.reach < REACH_LIMIT)
    found = []
    for v in np.flatnonzero((suspect | part.unsettled).any(axis=-1)):
        why: list[str] = []
        needs: list[str] = []
        for c, case in enumerate(model.cases):
            who = f"case {case.key!r}"
            if suspect[v, c]:
                loose = _loose(model, topology, part, int(v), c)
                if loose:
                    slack = [model.elements[i].key for i in np.flatnonzero(part.state.slack[v, c])]
                    when = f" with {', '.join(map(repr, slack))} slack" if slack else ""
                    why.append(f"{who}{when}: {in_words(loose, of=len(model.nodes))}")
                    needs += [
                        f"a support or a stiff joint that keeps node {keys[0]!r} from "
                        f"{DIRECTIONS[direction]}"
                        for direction, keys in loose
                    ]
                    continue
                if not np.isfinite(part.reach[v, c]):
                    why.append(f"{who}: the equations could not be solved")
                    needs.append("sections, lengths and springs within the usual sizes")
                    continue
            if part.unsettled[v, c]:
                why.append(
                    f"{who}: which rods are taut did not settle in {held_cases.MOST_ROUNDS} rounds"
                )
                needs.append("fewer rods, or braces that can also push")
        if why:
            found.append((int(v), Held("; ".join(why), tuple(dict.fromkeys(needs)))))
    return found


def _loose(
    model: FrameModel, topology: Topology, part: _Part, v: int, c: int
) -> list[tuple[int, list[str]]]:
    """Return the movements that nothing resists in one case: direction and keys of nodes."""
    standing = ~part.state.slack[v, c]
    movements = loose_movements(
        part.element_stiffness[standing, v],
        topology.ends[standing],
        topology.fixed[c],
        topology.springs[c],
        part.numbers.coordinates[v],
    )
    return [(direction, [model.nodes[n].key for n in nodes]) for direction, nodes in movements]
