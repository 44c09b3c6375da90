"""The frame as data: nodes, elements, sections, supports and loads, and what is wrong with them.

Global axes are the project's: x to the right, y up, z toward the viewer. An element's local axes
are x along the member from start to end; z square to x and to the element's reference vector
(z = x cross reference); y = z cross x, so that the reference lies in the local x-y plane on the
positive y side. Deflections along local x, y, z are u, v, w; turns about them rx, ry, rz by the
right-hand rule. Bending in the x-y plane (v, rz) uses ``inertia_z``, bending in the x-z plane
(w, ry) uses ``inertia_y``.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from leafwright.records import (
    Metres,
    NewtonMetres,
    Newtons,
    NewtonsPerMetre,
    Pascals,
    Point3,
    QuarticMetres,
    SquareMetres,
)

Flags6 = tuple[bool, bool, bool, bool, bool, bool]
Force3 = tuple[Newtons, Newtons, Newtons]
Moment3 = tuple[NewtonMetres, NewtonMetres, NewtonMetres]
Line3 = tuple[NewtonsPerMetre, NewtonsPerMetre, NewtonsPerMetre]
Springs6 = tuple[float, float, float, float, float, float]

NOT_RELEASED: Flags6 = (False, False, False, False, False, False)
"""An end that is welded to its node in every direction."""

HINGED: Flags6 = (False, False, False, False, True, True)
"""An end that bends freely both ways but cannot twist or part from its node."""

LEAST_LENGTH = 1e-6
"""The shortest element that is taken as one [m]."""

LEAST_SINE = 1e-6
"""The least sine of the angle between an element and its reference vector [-]."""


class FrameError(ValueError):
    """The frame kernel was asked for something that the model or the arrays do not allow."""


@dataclass(frozen=True, slots=True)
class Node:
    """A point of the frame; ``at`` in global axes [m]."""

    key: str
    at: Point3


@dataclass(frozen=True, slots=True)
class BeamSection:
    """The stiffness of a cross-section, about the element's local axes.

    ``inertia_y`` and ``inertia_z`` are the second moments about the local y and z axes;
    ``torsion`` is the torsion constant. ``shear_area_y`` carries a shear force along y (bending in
    the x-y plane), ``shear_area_z`` one along z; None means no shear deformation that way.
    """

    key: str
    area: SquareMetres
    inertia_y: QuarticMetres
    inertia_z: QuarticMetres
    torsion: QuarticMetres
    shear_area_y: SquareMetres | None
    shear_area_z: SquareMetres | None
    elastic_modulus: Pascals
    shear_modulus: Pascals


@dataclass(frozen=True, slots=True)
class Element:
    """A straight prismatic piece of a member between two nodes.

    ``member`` is the key of the leaf's member that it belongs to. ``reference`` is a vector in
    global axes that lies in the local x-y plane; only its direction counts. A release frees the
    element's end from its node in a local direction, in the order u, v, w, rx, ry, rz.

    A ``tension_only`` element is a rod, cable or strap from joint to joint: it pulls along its
    axis and does nothing else. It has no bending and no torsional stiffness whatever its section
    says, goes slack rather than push, and hands the loads on it to its two nodes as a simple beam
    does, taut or slack.
    """

    key: str
    member: str
    start: str
    end: str
    section: str
    reference: tuple[float, float, float]
    releases_start: Flags6 = NOT_RELEASED
    releases_end: Flags6 = NOT_RELEASED
    tension_only: bool = False


@dataclass(frozen=True, slots=True)
class Support:
    """What holds a node, in global axes: x, y, z, then turning about x, y, z.

    ``springs`` are stiffnesses [N/m] and [N m/rad], zero for none; None means no spring at all.
    """

    node: str
    fixed: Flags6
    springs: Springs6 | None = None


@dataclass(frozen=True, slots=True)
class NodeLoad:
    """A force [N] and a moment [N m] on a node, in global axes."""

    node: str
    force: Force3
    moment: Moment3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class LineLoad:
    """A force per metre of element [N/m], in global axes, linear from ``start`` to ``end``."""

    element: str
    start: Line3
    end: Line3


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A force [N] and a moment [N m] in global axes, ``at`` metres from the element's start."""

    element: str
    at: Metres
    force: Force3
    moment: Moment3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Case:
    """One load case: how the frame is held in it, and what it carries. Loads add up."""

    key: str
    name: str
    supports: tuple[Support, ...]
    node_loads: tuple[NodeLoad, ...] = ()
    line_loads: tuple[LineLoad, ...] = ()
    point_loads: tuple[PointLoad, ...] = ()


@dataclass(frozen=True, slots=True)
class FrameModel:
    """A frame with its load cases: all that `leafwright.frame.solve` needs."""

    nodes: tuple[Node, ...]
    elements: tuple[Element, ...]
    sections: tuple[BeamSection, ...]
    cases: tuple[Case, ...]


def problems(model: FrameModel) -> list[str]:
    """Return everything that keeps the model from being analysed, one sentence each.

    An empty list means that `leafwright.frame.solve.solve` accepts the model. Whether the frame
    can stand is another question, which the solver answers.
    """
    found = _twice("node", [n.key for n in model.nodes])
    found += _twice("element", [e.key for e in model.elements])
    found += _twice("section", [s.key for s in model.sections])
    found += _twice("case", [c.key for c in model.cases])
    for name, things in (("element", model.elements), ("load case", model.cases)):
        if not things:
            found.append(f"the frame has no {name}; give it at least one")
    for node in model.nodes:
        if not _finite(node.at):
            found.append(f"node {node.key!r} is at {node.at!r}; give three finite numbers [m]")
    for section in model.sections:
        found += _section_problems(section)
    nodes = {n.key: n.at for n in model.nodes}
    sections = {s.key for s in model.sections}
    for element in model.elements:
        found += _element_problems(element, nodes, sections)
    joined = {k for e in model.elements for k in (e.start, e.end)}
    found += [
        f"node {n.key!r} is joined to no element; join it or leave it out"
        for n in model.nodes
        if n.key not in joined
    ]
    elements = {e.key: e for e in model.elements}
    for case in model.cases:
        found += _case_problems(case, nodes, elements)
    return found


def _finite(numbers: Iterable[float]) -> bool:
    # A sum is finite only if every term is; one test is cheaper than many.
    return math.isfinite(sum(numbers))


def _twice(kind: str, keys: list[str]) -> list[str]:
    if len(set(keys)) == len(keys):
        return []
    doubled = sorted({k for k in keys if keys.count(k) > 1})
    return [f"{kind} {k!r} is there twice; every {kind} needs its own key" for k in doubled]


def _unknown(who: str, kind: str, key: str, known: Collection[str]) -> str:
    near = difflib.get_close_matches(key, known, n=1)
    hint = f"; did you mean {near[0]!r}?" if near else f"; the frame has {len(known)} {kind}s"
    return f"{who}: there is no {kind} {key!r}{hint}"


def _section_problems(section: BeamSection) -> list[str]:
    numbers: dict[str, float | None] = {
        "area": section.area,
        "inertia_y": section.inertia_y,
        "inertia_z": section.inertia_z,
        "torsion": section.torsion,
        "shear_area_y": section.shear_area_y,
        "shear_area_z": section.shear_area_z,
        "elastic_modulus": section.elastic_modulus,
        "shear_modulus": section.shear_modulus,
    }
    return [
        f"section {section.key!r}: {name} is {value!r}; it must be a positive number"
        for name, value in numbers.items()
        if value is not None and not (math.isfinite(value) and value > 0.0)
    ]


def _element_problems(
    element: Element, nodes: dict[str, Point3], sections: Collection[str]
) -> list[str]:
    who = f"element {element.key!r} of {element.member!r}"
    found = [
        _unknown(who, "node", key, nodes)
        for key in (element.start, element.end)
        if key not in nodes
    ]
    if element.section not in sections:
        found.append(_unknown(who, "section", element.section, sections))
    found += _release_problems(element, who)
    if not found and _finite((*nodes[element.start], *nodes[element.end])):
        found += _direction_problems(element, nodes, who)
    return found


def _direction_problems(element: Element, nodes: dict[str, Point3], who: str) -> list[str]:
    (xa, ya, za), (xb, yb, zb) = nodes[element.start], nodes[element.end]
    x, y, z = xb - xa, yb - ya, zb - za
    a, b, c = element.reference
    length = math.hypot(x, y, z)
    if length < LEAST_LENGTH:
        return [
            f"{who} is {length!r} m long between {element.start!r} and {element.end!r}; "
            "join them in one node or part them"
        ]
    size = math.hypot(a, b, c)
    across = math.hypot(y * c - z * b, z * a - x * c, x * b - y * a)
    if not math.isfinite(size) or across <= LEAST_SINE * length * size:
        return [
            f"{who}: the reference {element.reference!r} does not point away from the element's "
            "own axis; give a vector that crosses it"
        ]
    return []


def _release_problems(element: Element, who: str) -> list[str]:
    start, end = element.releases_start, element.releases_end
    if element.tension_only:
        if start[0] or end[0]:
            return [f"{who} pulls only along its axis, and that is released; hold u at both ends"]
        return []
    if not any(start) and not any(end):
        return []
    found = []
    if start[0] and end[0]:
        found.append(f"{who} can slide along its own axis; hold u at one end")
    if start[3] and end[3]:
        found.append(f"{who} can spin about its own axis; hold rx at one end")
    for move, turn, names in ((1, 5, "v or rz"), (2, 4, "w or ry")):
        moves_held = 2 - start[move] - end[move]
        turns_held = 2 - start[turn] - end[turn]
        if moves_held == 0 or moves_held + turns_held < 2:
            found.append(f"{who} is released so far that it can swing loose; hold more of {names}")
    return found


def _case_problems(case: Case, nodes: dict[str, Point3], elements: dict[str, Element]) -> list[str]:
    who = f"case {case.key!r}"
    found = _support_problems(case, nodes)
    for load in case.node_loads:
        if load.node not in nodes:
            found.append(_unknown(f"{who}, load", "node", load.node, nodes))
        if not _finite(load.force + load.moment):
            found.append(f"{who}: the load on node {load.node!r} is not finite: {load!r}")
    for line in case.line_loads:
        if line.element not in elements:
            found.append(_unknown(f"{who}, line load", "element", line.element, elements))
        if not _finite(line.start + line.end):
            found.append(f"{who}: the line load on {line.element!r} is not finite: {line!r}")
    for point in case.point_loads:
        if point.element not in elements:
            found.append(_unknown(f"{who}, point load", "element", point.element, elements))
        elif not _finite((point.at, *point.force, *point.moment)):
            found.append(f"{who}: the point load on {point.element!r} is not finite: {point!r}")
        else:
            found += _point_problems(who, point, elements[point.element], nodes)
    return found


def _support_problems(case: Case, nodes: dict[str, Point3]) -> list[str]:
    who = f"case {case.key!r}"
    found = []
    seen: set[str] = set()
    for support in case.supports:
        if support.node not in nodes:
            found.append(_unknown(f"{who}, support", "node", support.node, nodes))
        if support.node in seen:
            found.append(f"{who}: node {support.node!r} has two supports; make them one")
        seen.add(support.node)
        if support.springs is None:
            continue
        if not _finite(support.springs) or min(support.springs) < 0.0:
            found.append(
                f"{who}: the springs at node {support.node!r} are {support.springs!r}; "
                "give stiffnesses of zero or more"
            )
        if any(f and k for f, k in zip(support.fixed, support.springs, strict=True)):
            found.append(
                f"{who}: node {support.node!r} is both fixed and sprung in one direction; "
                "choose one"
            )
    return found


def _point_problems(
    who: str, point: PointLoad, element: Element, nodes: dict[str, Point3]
) -> list[str]:
    if element.start not in nodes or element.end not in nodes:
        return []
    found = []
    length = math.dist(nodes[element.start], nodes[element.end])
    if not 0.0 <= point.at <= length * (1.0 + 1e-12):
        found.append(
            f"{who}: the point load at {point.at!r} m is off element {element.key!r}, "
            f"which is {length!r} m long; place it from 0 to there"
        )
    if element.tension_only and any(point.moment):
        found.append(
            f"{who}: element {element.key!r} is a rod and takes no moment, but one of "
            f"{point.moment!r} N m is put on it; put it on a node"
        )
    return found
