"""Whether what the supports give back is what was put on: forces and moments of the whole frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.frame.model import Case, FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.records import read_only


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """The sums over the whole frame, case by case (cases, 6), in global axes.

    Three forces [N] and three moments about the origin [N m]: of all ``loads``, of all
    ``reactions``, and their sum, the ``residual``, which should be zero. ``relative`` (cases) is
    the largest residual as a share of the largest single contribution, forces and moments each by
    their own [-].
    """

    cases: tuple[str, ...]
    loads: Floats
    reactions: Floats
    residual: Floats
    relative: Floats


def balance(model: FrameModel, result: FrameResult) -> Balance:
    """Return the global equilibrium of a solved frame in every case.

    It is computed from the loads as the model gives them and from the reactions alone, without
    any stiffness, so it checks the whole analysis.
    """
    nodes = {node.key: np.array(node.at) for node in model.nodes}
    position = np.array([node.at for node in model.nodes])
    elements = {e.key: (nodes[e.start], nodes[e.end]) for e in model.elements}
    loads, reactions, relative = [], [], []
    for c, case in enumerate(model.cases):
        put_on = _contributions(case, nodes, elements)
        given = result.reactions[c]
        back = _about_origin(position, given[:, :3], given[:, 3:])
        loads.append(put_on.sum(axis=0))
        reactions.append(back.sum(axis=0))
        both = np.abs(np.concatenate([put_on, back])).reshape(-1, 2, 3).max(axis=(0, 2))
        left = np.abs(loads[-1] + reactions[-1]).reshape(2, 3).max(axis=-1)
        relative.append(float(np.max(left / np.where(both > 0.0, both, 1.0))))
    total, returned = np.array(loads), np.array(reactions)
    return Balance(
        cases=tuple(case.key for case in model.cases),
        loads=read_only(total),
        reactions=read_only(returned),
        residual=read_only(total + returned),
        relative=read_only(np.array(relative)),
    )


def _contributions(
    case: Case, nodes: dict[str, Floats], elements: dict[str, tuple[Floats, Floats]]
) -> Floats:
    """Return each load's force and moment about the origin (loads, 6) [N, N m]."""
    at, forces, moments = [np.zeros(3)], [np.zeros(3)], [np.zeros(3)]
    for load in case.node_loads:
        at.append(nodes[load.node])
        forces.append(np.array(load.force))
        moments.append(np.array(load.moment))
    for point in case.point_loads:
        start, end = elements[point.element]
        at.append(start + (end - start) * point.at / np.linalg.norm(end - start))
        forces.append(np.array(point.force))
        moments.append(np.array(point.moment))
    for line in case.line_loads:
        # A linear load is two triangles; each acts at the third of the length next to its peak.
        start, end = elements[line.element]
        half = np.linalg.norm(end - start) / 2.0
        for share, peak in ((1.0 / 3.0, line.start), (2.0 / 3.0, line.end)):
            at.append(start + (end - start) * share)
            forces.append(half * np.array(peak))
            moments.append(np.zeros(3))
    return _about_origin(np.array(at), np.array(forces), np.array(moments))


def _about_origin(at: Floats, forces: Floats, moments: Floats) -> Floats:
    return np.concatenate([forces, moments + np.cross(at, forces)], axis=-1)
