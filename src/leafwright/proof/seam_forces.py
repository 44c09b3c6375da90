"""Internal forces of members at their seams, in every case for strength, in one call."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.frame.forces import internal_forces
from leafwright.frame.load_cases import LeafCase
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.leaf import Member
from leafwright.records import Metres, Point2

#: Nearer to a node than this, both sides of it are taken [m].
AT_NODE = 0.001


@dataclass(frozen=True, slots=True)
class Place:
    """A place on an element: its number, and how far from its start [m]."""

    element: int
    at: Metres


@dataclass(frozen=True, slots=True)
class _Line:
    """A member's centre line in the frame: from where, which way, its nodes and elements."""

    origin: Floats
    along: Floats
    nodes: tuple[Metres, ...]
    elements: tuple[int, ...]


class SeamForces:
    """Forces in the frame at places on members' centre lines.

    A member's real centre line may lie a little beside the frame's: a place is taken where it is
    nearest to.
    """

    def __init__(self, model: FrameModel, result: FrameResult, cases: Sequence[LeafCase]) -> None:
        self.cases = tuple(case for case in cases if case.for_strength)
        self._result = result
        self._rows = [result.cases.index(case.key) for case in self.cases]
        at = {node.key: np.array(node.at[:2]) for node in model.nodes}
        number = {key: i for i, key in enumerate(result.elements)}
        self._lines: dict[str, _Line] = {}
        chains: dict[str, list[tuple[str, str, int]]] = {}
        for element in model.elements:
            chains.setdefault(element.member, []).append(
                (element.start, element.end, number[element.key])
            )
        for member, chain in chains.items():
            # Elements are laid out from a member's start to its end, one after the other.
            origin, last = at[chain[0][0]], at[chain[-1][1]]
            along = (last - origin) / np.linalg.norm(last - origin)
            nodes = [0.0, *(float((at[end] - origin) @ along) for _, end, _ in chain)]
            self._lines[member] = _Line(origin, along, tuple(nodes), tuple(e for _, _, e in chain))

    def places(self, member: Member, near: Point2) -> tuple[Place, ...]:
        """Return the place on a member nearest to a point; two at a node, one on each side."""
        line = self._lines[member.key]
        s = float((np.array(near) - line.origin) @ line.along)
        found = []
        for number, element in enumerate(line.elements):
            first, last = line.nodes[number], line.nodes[number + 1]
            before = number > 0 and s < first - AT_NODE
            after = number < len(line.elements) - 1 and s > last + AT_NODE
            if not before and not after:
                found.append(Place(element, min(max(s - first, 0.0), last - first)))
        return tuple(found)

    def at(self, places: Sequence[Place]) -> Floats:
        """Return N, V_y, V_z, T, M_y, M_z (cases, places, 6) at places [N, N m].

        Signs as in `leafwright.frame.forces`: what the part beyond exerts on the part before.
        """
        elements = [place.element for place in places]
        r = self._result
        rows = np.array(self._rows)[:, None]
        return internal_forces(
            r.end_forces[rows, elements],
            r.line_loads[rows, elements],
            r.lengths[elements],
            np.array([place.at for place in places]),
        )
