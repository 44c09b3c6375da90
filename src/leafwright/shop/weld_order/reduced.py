"""A leaf reduced to its welded ends: how they hold one another, and what its shape makes of them.

Each welded end may shift along its member and turn both ways against its node (three numbers:
shift u, turns ry and rz in the member's own axes). Everything between is elastic and linear, so
that an order of welding is a chain of small steps on a matrix with three rows an end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats, local_axes, shear_ratios, stiffness
from leafwright.frame.model import Case, Element, FrameModel, NodeLoad, Support
from leafwright.frame.of_leaf import Holding, LeafFrame, leaf_frame
from leafwright.frame.solve import FrameResult, solve
from leafwright.leaf import Leaf, Member
from leafwright.records import Held, Number, Point2
from leafwright.shop.weld_order.ends import Bead, End

#: Numbers of one end: shift along the member, turn ry, turn rz.
FREE = 3

_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Unknown:
    """What is not known of welds and tacks, each as a factor on what is taken [-].

    ``tacks`` how much of its seam's stiffness a tack has, for its length; ``give`` how long a
    piece of wall beside a bead gives with it; ``bends`` how much a bead bends the tube it lies on.
    """

    tacks: Number = 1.0
    give: Number = 1.0
    bends: Number = 1.0


#: A brace that is not put in yet holds by so much of its tacks: next to nothing [-].
NOT_THERE = 1e-5
#: The walls beside a bead give as a piece of them so many walls long would [-]: an assumption.
GIVE_WALLS = 2.0


@dataclass(frozen=True, slots=True, eq=False)
class Linear:
    """A leaf's answer to unit movements at its welded ends (n numbers) and to beads' bends.

    ``stiffness`` (n, n) is what the frame puts against them; ``shape`` (m, n) what they make of
    its shape; ``bend_forces`` (b, n) and ``bend_shapes`` (b, m) what each bead's bend does with
    every end rigid. ``pressed`` and ``bend_pressed`` (d, n), (b, d) are the forces of the dogs;
    ``let_go_forces`` (n, d) and ``let_go_shapes`` (m, d) what a force at each does once it is free.
    ``residual`` is the greatest reaction of what should have none, over the greatest force [-].
    """

    stiffness: Floats
    shape: Floats
    bend_forces: Floats
    bend_shapes: Floats
    pressed: Floats
    bend_pressed: Floats
    let_go_forces: Floats
    let_go_shapes: Floats
    names: tuple[str, ...]
    residual: Number


@dataclass(frozen=True, slots=True, eq=False)
class Welds:
    """The beads (b) on the ends (n numbers): what each adds and how hard it pulls.

    ``rows`` (b, 3) are the numbers of a bead's end, ``adds`` (b, 3, 3) the stiffness that it adds
    to them over its tack's, ``pulls`` (b, n) the forces of its own shrinkage, with the bend of
    the tube that it lies on counted in; ``moves`` (b, m) what that bend makes of the shape, and
    ``presses`` (b, d) of the dogs' forces.

    The first ``bare_steps`` beads of any order are those that braces will cover: ``bare`` (n, n) is
    the tacked leaf without its braces, ``joined`` with them, once those beads are laid.
    ``tacked`` (n, n) is the leaf's stiffness when only tacked, all of it.
    """

    tacked: Floats
    rows: np.ndarray
    adds: Floats
    pulls: Floats
    moves: Floats
    presses: Floats
    bare: Floats
    joined: Floats
    bare_steps: int


# ---------------------------------------------------------------- the frame


@dataclass(frozen=True, slots=True, eq=False)
class _Cut:
    """A movement between an element and its node: ``way`` (12) in the element's own axes."""

    element: int
    way: Floats


class _Frame:
    """The leaf's frame without its rods, and its elements' own stiffness."""

    def __init__(self, leaf: Leaf) -> None:
        hanging = next(m for m in leaf.members if m.role == "hanging stile")
        whole: LeafFrame = leaf_frame(leaf, Holding(hanging.foot[0], ()), leaf.height / 2)
        self.elements = tuple(e for e in whole.model.elements if not e.tension_only)
        used = {key for e in self.elements for key in (e.start, e.end)}
        self.nodes = tuple(n for n in whole.model.nodes if n.key in used)
        self.sections = whole.model.sections
        self.at = {n.key: n.at for n in self.nodes}
        self.number = {n.key: i for i, n in enumerate(self.nodes)}
        sections = {
            s.key: np.array(
                [
                    s.area,
                    s.inertia_y,
                    s.inertia_z,
                    s.torsion,
                    math.inf if s.shear_area_y is None else s.shear_area_y,
                    math.inf if s.shear_area_z is None else s.shear_area_z,
                    s.elastic_modulus,
                    s.shear_modulus,
                ]
            )
            for s in self.sections
        }
        rows = np.array([sections[e.section] for e in self.elements])
        start = np.array([self.at[e.start] for e in self.elements])
        end = np.array([self.at[e.end] for e in self.elements])
        self.length, self.axes = local_axes(
            start, end, np.array([e.reference for e in self.elements])
        )
        phi_y, phi_z = shear_ratios(rows, self.length, shear=True)
        rods = np.zeros(len(self.elements), dtype=np.bool_)
        self.own = stiffness(rows, self.length, phi_y, phi_z, rods)

    def of_member(self, member: str) -> list[int]:
        """Return a member's elements, from its start to its end."""
        return [i for i, e in enumerate(self.elements) if e.member == member]

    def turned(self, element: int) -> Floats:
        """Return the (12, 12) that turns global movements of an element's nodes into its axes."""
        turn = np.zeros((12, 12))
        for corner in (0, 3, 6, 9):
            turn[corner : corner + 3, corner : corner + 3] = self.axes[element]
        return turn

    def node_loads(self, cut: _Cut) -> tuple[NodeLoad, ...]:
        """Return the loads on the nodes that stand for a unit of a movement."""
        element = self.elements[cut.element]
        load = -self.turned(cut.element).T @ self.own[cut.element] @ cut.way
        return tuple(
            NodeLoad(
                key,
                (load[i], load[i + 1], load[i + 2]),
                (load[i + 3], load[i + 4], load[i + 5]),
            )
            for i, key in ((0, element.start), (6, element.end))
        )


def _end_cuts(frame: _Frame, end: End) -> list[_Cut]:
    """Return the three movements of an end against its node, where its beads are."""
    element = frame.of_member(end.member)[-1 if end.at_end else 0]
    e = frame.elements[element]
    node = np.array(frame.at[e.end if end.at_end else e.start][:2])
    along = frame.axes[element][0, :2]
    arm = float((np.array(end.at) - node) @ along)
    first = 6 if end.at_end else 0
    ways = np.zeros((3, 12))
    ways[0, first] = 1.0
    # A turn about the beads moves the member's line where the node is.
    ways[1, first + 4], ways[1, first + 2] = 1.0, arm
    ways[2, first + 5], ways[2, first + 1] = 1.0, -arm
    return [_Cut(element, way) for way in ways]


def _bend_cuts(frame: _Frame, bead: Bead) -> list[tuple[_Cut, float]]:
    """Return how a bead's bend enters the tube that it lies on: half on each side of its node."""
    elements = frame.of_member(bead.onto)
    node = min(
        {k for i in elements for k in (frame.elements[i].start, frame.elements[i].end)},
        key=lambda k: (math.dist(frame.at[k][:2], bead.at[:2]), k),
    )
    found = []
    for i in elements:
        e = frame.elements[i]
        for key, first, sign in ((e.start, 0, 0.5), (e.end, 6, -0.5)):
            if key == node:
                way = np.zeros(12)
                way[first + 5], way[first + 4] = bead.bends
                found.append((_Cut(i, way), sign))
    return found


# ---------------------------------------------------------------- the shape


def _corners(leaf: Leaf, frame: _Frame) -> dict[str, str]:
    """Return the nodes of the four corners, by ``bottom hinge`` and so on."""
    at = {j.key.removeprefix(f"{leaf.key}/"): j.at for j in leaf.joints}
    return {
        name: min(frame.at, key=lambda k: math.dist(frame.at[k][:2], at[name]))
        for name in ("bottom hinge", "bottom nose", "top hinge", "top nose")
    }


def _apart(frame: _Frame, a: str, b: str) -> Floats:
    """Return the row (6 n) by which two nodes move apart."""
    row = np.zeros((len(frame.nodes), 6))
    way = np.array(frame.at[b]) - np.array(frame.at[a])
    way /= np.linalg.norm(way)
    row[frame.number[b], :3] += way
    row[frame.number[a], :3] -= way
    return row.reshape(-1)


@dataclass(frozen=True, slots=True, eq=False)
class _Measure:
    """A number of the leaf's shape: of its nodes (6 n), and of one element's ends (12)."""

    name: str
    of_nodes: Floats
    element: int = -1
    of_element: Floats | None = None


def _measures(leaf: Leaf, frame: _Frame) -> list[_Measure]:
    c = _corners(leaf, frame)
    twist = np.zeros((len(frame.nodes), 6))
    for name, sign in (
        ("bottom hinge", 1.0),
        ("bottom nose", -1.0),
        ("top hinge", -1.0),
        ("top nose", 1.0),
    ):
        twist[frame.number[c[name]], 2] += sign
    found = [
        _Measure(
            "square",
            _apart(frame, c["bottom hinge"], c["top nose"])
            - _apart(frame, c["bottom nose"], c["top hinge"]),
        ),
        _Measure("twist", twist.reshape(-1)),
    ]
    for member in leaf.members:
        if member.role not in ("brace", "rod"):
            found += _bows(frame, member.key, _outward(leaf, member))
    found += [
        _Measure("size", _apart(frame, c[a], c[b]))
        for a, b in (
            ("bottom hinge", "bottom nose"),
            ("top hinge", "top nose"),
            ("bottom hinge", "top hinge"),
            ("bottom nose", "top nose"),
        )
    ]
    return found


def _outward(leaf: Leaf, member: Member) -> Floats:
    """Return which way is counted as outward of a member: up for a rail, out for a stile."""
    if "stile" not in member.role:
        return np.array([0.0, 1.0, 0.0])
    return np.array([1.0 if member.foot[0] > leaf.width / 2 else -1.0, 0.0, 0.0])


def _bows(frame: _Frame, member: str, outward: Floats) -> list[_Measure]:
    """Return how far a member's middle stands out of the line of its ends.

    ``flat`` toward the face, ``edge`` as ``outward`` says.
    """
    elements = frame.of_member(member)
    half = float(sum(frame.length[i] for i in elements)) / 2
    run = 0.0
    for i in elements:
        if run + frame.length[i] >= half - _SAME:
            break
        run += float(frame.length[i])
    long = float(frame.length[i])
    s = (half - run) / long
    first, last = frame.elements[elements[0]].start, frame.elements[elements[-1]].end
    axes = frame.axes[i]
    found = []
    for name, axis, turn, sign, way in (
        ("flat", 2, 4, -1.0, np.array([0.0, 0.0, 1.0])),
        ("edge", 1, 5, 1.0, outward),
    ):
        of_element = np.zeros(12)
        of_element[axis] = 1 - 3 * s**2 + 2 * s**3
        of_element[axis + 6] = 3 * s**2 - 2 * s**3
        of_element[turn] = sign * long * (s - 2 * s**2 + s**3)
        of_element[turn + 6] = sign * long * (s**3 - s**2)
        row = np.zeros((len(frame.nodes), 6))
        for key in (first, last):
            row[frame.number[key], :3] -= 0.5 * axes[axis]
        seen = math.copysign(1.0, float(axes[axis] @ way))
        found.append(_Measure(f"{name} {member}", seen * row.reshape(-1), i, seen * of_element))
    return found


# ---------------------------------------------------------------- put together


def _supports(leaf: Leaf, frame: _Frame, dogged: Sequence[str]) -> tuple[Support, ...]:
    """Return supports that hold the leaf without forcing it, and the dogs' hold on its flat."""
    c = _corners(leaf, frame)
    fixed = {
        c["bottom hinge"]: [True, True, True],
        c["bottom nose"]: [False, True, True],
        c["top hinge"]: [False, False, True],
    }
    for key in dogged:
        fixed.setdefault(key, [False, False, True])
    return tuple(Support(key, (x, y, z, False, False, False)) for key, (x, y, z) in fixed.items())


def _dogs(leaf: Leaf, frame: _Frame) -> list[str]:
    """Return the nodes where dogs hold the leaf down: wherever stiles and rails meet."""
    joints = [j.at for j in leaf.joints if j.kind != "crossing"]
    return list(dict.fromkeys(_nearest(frame, at) for at in joints))


def _nearest(frame: _Frame, at: Point2) -> str:
    return min(frame.at, key=lambda k: math.dist(frame.at[k][:2], at))


def linear(leaf: Leaf, ends: Sequence[End], beads: Sequence[Bead], *, dogged: bool) -> Linear:
    """Return a leaf reduced to its welded ends, lying free or dogged down flat.

    Raises ValueError where the frame cannot be solved, with the kernel's reason.
    """
    frame = _Frame(leaf)
    cuts = [cut for end in ends for cut in _end_cuts(frame, end)]
    bends = [_bend_cuts(frame, bead) for bead in beads]
    all_cuts = cuts + [cut for parts in bends for cut, _ in parts]
    dogs = _dogs(leaf, frame) if dogged else []
    loads = [frame.node_loads(cut) for cut in all_cuts]
    supports = _supports(leaf, frame, dogs)
    result = _solved(frame, loads, supports)
    measures = _measures(leaf, frame)
    forces, shapes = _answers(frame, result, all_cuts, cuts, measures)
    pressed = _pressed(frame, result, dogs)
    n = len(cuts)
    bend_forces = np.zeros((len(beads), n))
    bend_shapes = np.zeros((len(beads), len(measures)))
    bend_pressed = np.zeros((len(beads), len(dogs)))
    column = n
    for b, parts in enumerate(bends):
        for _, sign in parts:
            bend_forces[b] += sign * forces[:, column]
            bend_shapes[b] += sign * shapes[:, column]
            bend_pressed[b] += sign * pressed[:, column]
            column += 1
    free = _let_go(leaf, frame, dogs, cuts, measures)
    greatest = max(float(np.abs(forces[:, :n]).max(initial=0.0)), 1.0)
    held = 0.0 if dogged else float(np.abs(result.reactions[:n]).max(initial=0.0))
    return Linear(
        stiffness=(forces[:, :n] + forces[:, :n].T) / 2.0,
        shape=shapes[:, :n],
        bend_forces=bend_forces,
        bend_shapes=bend_shapes,
        pressed=pressed[:, :n],
        bend_pressed=bend_pressed,
        let_go_forces=free[0],
        let_go_shapes=free[1],
        names=tuple(m.name for m in measures),
        residual=held / greatest,
    )


def _solved(
    frame: _Frame, loads: Sequence[Sequence[NodeLoad]], supports: tuple[Support, ...]
) -> FrameResult:
    elements: tuple[Element, ...] = frame.elements
    cases = tuple(Case(str(i), "", supports, tuple(own)) for i, own in enumerate(loads))
    result = solve(FrameModel(frame.nodes, elements, frame.sections, cases))
    if isinstance(result, Held):
        raise ValueError(result.why)
    return result


def _answers(
    frame: _Frame,
    result: FrameResult,
    loads: Sequence[_Cut | None],
    cuts: Sequence[_Cut],
    measures: Sequence[_Measure],
) -> tuple[Floats, Floats]:
    """Return the forces at the cuts (n, cases) and the shapes (m, cases) of every case."""
    forces = np.zeros((len(cuts), len(loads)))
    shapes = np.zeros((len(measures), len(loads)))
    moved = result.displacements.reshape(len(loads), -1)
    elastic = result.end_forces
    for j, cut in enumerate(cuts):
        forces[j] = elastic[:, cut.element] @ cut.way
    for m, measure in enumerate(measures):
        shapes[m] = moved @ measure.of_nodes
        if measure.of_element is not None:
            e = frame.elements[measure.element]
            both = [frame.number[e.start], frame.number[e.end]]
            local = (
                result.displacements[:, both].reshape(len(loads), 12)
                @ frame.turned(measure.element).T
            )
            shapes[m] += local @ measure.of_element
    for i, load in enumerate(loads):
        if load is None:
            continue
        own = frame.own[load.element] @ load.way
        for j, cut in enumerate(cuts):
            if cut.element == load.element:
                forces[j, i] += cut.way @ own
        for m, measure in enumerate(measures):
            if measure.element == load.element and measure.of_element is not None:
                shapes[m, i] += measure.of_element @ load.way
    return forces, shapes


def _pressed(frame: _Frame, result: FrameResult, dogs: Sequence[str]) -> Floats:
    """Return what the dogs press on the leaf in every case (d, cases) [N]."""
    where = [frame.number[key] for key in dogs]
    return np.ascontiguousarray(result.reactions[:, where, 2].T)


def _let_go(
    leaf: Leaf,
    frame: _Frame,
    dogs: Sequence[str],
    cuts: Sequence[_Cut],
    measures: Sequence[_Measure],
) -> tuple[Floats, Floats]:
    """Return what a force at each dog does to the leaf once it lies free."""
    if not dogs:
        return np.zeros((len(cuts), 0)), np.zeros((len(measures), 0))
    loads = [(NodeLoad(key, (0.0, 0.0, 1.0)),) for key in dogs]
    result = _solved(frame, loads, _supports(leaf, frame, ()))
    return _answers(frame, result, [None] * len(dogs), cuts, measures)


def welds(
    found: Linear,
    ends: Sequence[End],
    beads: Sequence[Bead],
    modulus: float,
    unknown: Unknown,
) -> Welds:
    """Return what each bead adds and how hard it pulls, with what is not known taken as given.

    ``modulus`` is the steel's [Pa].
    """
    rows = np.array([[FREE * b.end + i for i in range(FREE)] for b in beads], dtype=np.intp)
    adds = np.zeros((len(beads), FREE, FREE))
    pulls = -unknown.bends * found.bend_forces
    tacked, bare = found.stiffness.copy(), found.stiffness.copy()
    for i, bead in enumerate(beads):
        per = modulus * bead.throat / (GIVE_WALLS * unknown.give * bead.wall)
        whole, pull = np.zeros((FREE, FREE)), np.zeros(FREE)
        for (y1, z1), (y2, z2) in bead.lines:
            weight = per * math.dist((y1, z1), (y2, z2)) / 2.0
            for share in (0.5 - 0.5 / math.sqrt(3.0), 0.5 + 0.5 / math.sqrt(3.0)):
                y, z = y1 + share * (y2 - y1), z1 + share * (z2 - z1)
                opens = np.array([1.0, z, -y])
                whole += weight * np.outer(opens, opens)
                pull -= weight * bead.draws * opens
        share = min(0.9, unknown.tacks * bead.tack / bead.length)
        # What lies underneath while the leaf is tacked is not tacked.
        share *= bead.side != "back"
        adds[i] = (1.0 - share) * whole
        at = rows[i]
        tacked[np.ix_(at, at)] += share * whole
        bare[np.ix_(at, at)] += (NOT_THERE if ends[bead.end].later else 1.0) * share * whole
        # A joint opens along the member at its start, and against it at its end.
        pulls[i, at] += -pull if ends[bead.end].at_end else pull
    joined = tacked.copy()
    covered = [i for i, bead in enumerate(beads) if bead.covered_by]
    for i in covered:
        joined[np.ix_(rows[i], rows[i])] += adds[i]
    return Welds(
        tacked=tacked,
        rows=rows,
        adds=adds,
        pulls=pulls,
        moves=unknown.bends * found.bend_shapes,
        presses=unknown.bends * found.bend_pressed,
        bare=bare,
        joined=joined,
        bare_steps=len(covered),
    )
