"""The equations of the kept nodes, solved case by case as each is held, with rods taut or slack.

Letters in the shapes: v variants, c cases, k kept nodes, t rods, w pairs of variant and case.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.frame.arrays import Group
from leafwright.frame.condense import Ints, Reduced, solved
from leafwright.frame.element import Bools, Floats

MOST_ROUNDS = 100
"""How often the rods of a case are set taut or slack anew before the case is given up.

In each round one rod of the case changes: in the first half of the rounds the one that is most
wrong, after that the first that is wrong, which cannot go round in circles (least-index rule of
principal pivoting, from memory).
"""

NO_STRETCH = 1e-12
"""A rod's change of length that counts as none, as a share of the largest movement [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Rods:
    """The tension-only elements.

    ``places`` (t, 12) are their directions among the 6k of the kept nodes; ``stiffness``
    (t, v, 12, 12) is in global axes [N/m]; ``along`` (t, v, 3) points from start to end [-].
    """

    places: Ints
    stiffness: Floats
    along: Floats


@dataclass(frozen=True, slots=True, eq=False)
class KeptState:
    """How the kept nodes move, and what holds them.

    ``movement`` and ``reactions`` (v, 6k, c); ``taut`` (v, c, t), and ``unsettled`` (v, c) where
    that was not found in `MOST_ROUNDS`; ``reach`` (v, c), the largest scaled movement under the
    probe load, NaN where the equations are singular.
    """

    movement: Floats
    reactions: Floats
    taut: Bools
    unsettled: Bools
    reach: Floats


def solve_cases(
    groups: tuple[Group, ...], reduced: Reduced, rods: Rods, scale: Floats
) -> KeptState:
    """Return the state of the kept nodes in all cases.

    ``reduced`` has a right-hand side for each case and the probe as the last. ``scale`` (v, 6k) is
    the square root of the diagonal, in which the probe's movement is measured.
    """
    variants, size, columns = reduced.loads.shape
    cases = columns - 1
    state = KeptState(
        movement=np.zeros((variants, size, cases)),
        reactions=np.zeros((variants, size, cases)),
        taut=np.ones((variants, cases, len(rods.places)), dtype=np.bool_),
        unsettled=np.zeros((variants, cases), dtype=np.bool_),
        reach=np.zeros((variants, cases)),
    )
    for group in groups:
        if len(rods.places):
            _solve_with_rods(group, reduced, rods, scale, state)
        else:
            _solve_group(group, reduced, scale, state)
    _add_reactions(groups, reduced, rods, state)
    return state


def _solve_group(group: Group, reduced: Reduced, scale: Floats, state: KeptState) -> None:
    """Solve cases that are held alike, in place: one matrix, several right-hand sides."""
    free = group.free
    matrices = reduced.stiffness[:, free[:, None], free]
    if group.sprung.size:
        at = np.arange(free.size)
        matrices[:, at, at] += group.springs[free]
    columns = np.append(group.cases, -1)
    answers = solved(matrices, reduced.loads[:, free[:, None], columns])
    state.movement[:, free[:, None], group.cases] = answers[..., :-1]
    reach = np.abs(answers[..., -1] * scale[:, free]).max(axis=-1, initial=0.0)
    state.reach[:, group.cases] = reach[:, None]


def _solve_with_rods(
    group: Group, reduced: Reduced, rods: Rods, scale: Floats, state: KeptState
) -> None:
    """Solve cases that are held alike, in place, changing rods until each is right.

    A rod is right if it is taut and not shorter than unloaded, or slack and not longer.
    """
    variants = len(reduced.loads)
    free = group.free
    at = np.arange(free.size)
    v, c = (a.ravel() for a in np.meshgrid(np.arange(variants), group.cases, indexing="ij"))
    for count in range(MOST_ROUNDS):
        matrices = reduced.stiffness[v]
        for t, places in enumerate(rods.places):
            share = state.taut[v, c, t, None, None] * rods.stiffness[t, v]
            matrices[:, places[:, None], places] += share
        matrices = matrices[:, free[:, None], free]
        matrices[:, at, at] += group.springs[free]
        right = np.stack([reduced.loads[v, :, c], reduced.loads[v, :, -1]], axis=-1)
        answers = solved(matrices, right[:, free])
        movement = np.zeros(right.shape[:2])
        movement[:, free] = answers[..., 0]
        state.movement[v, :, c] = movement
        state.reach[v, c] = np.abs(answers[..., 1] * scale[v][:, free]).max(axis=-1, initial=0.0)
        ends = movement[:, rods.places]
        along = rods.along[:, v].swapaxes(0, 1)
        stretch = ((ends[..., 6:9] - ends[..., 0:3]) * along).sum(axis=-1)
        none = NO_STRETCH * np.abs(movement).max(axis=-1, initial=0.0)[:, None]
        wrong = np.where(state.taut[v, c], stretch < -none, stretch > none)
        left = wrong.any(axis=-1)
        if not left.any():
            return
        v, c, wrong, stretch = v[left], c[left], wrong[left], stretch[left]
        order = np.abs(stretch) if 2 * count < MOST_ROUNDS else 1.0
        change = np.argmax(wrong * order, axis=-1)
        state.taut[v, c, change] ^= True
    state.unsettled[v, c] = True


def _add_reactions(
    groups: tuple[Group, ...], reduced: Reduced, rods: Rods, state: KeptState
) -> None:
    """Fill in what fixed supports and springs exert on the kept nodes, in place."""
    forces = reduced.stiffness @ state.movement - reduced.loads[..., :-1]
    for t, places in enumerate(rods.places):
        pulls = rods.stiffness[t] @ state.movement[:, places]
        forces[:, places] += pulls * state.taut[:, None, :, t]
    for group in groups:
        fixed = group.fixed[:, None]
        state.reactions[:, fixed, group.cases] = forces[:, fixed, group.cases]
        if group.sprung.size:
            sprung = group.sprung[:, None]
            moved = state.movement[:, sprung, group.cases]
            state.reactions[:, sprung, group.cases] = -group.springs[sprung] * moved
