"""A leaf as a frame: centre-line nodes, elements, supports and load cases.

Members meet where their centre lines do; a brace, which really ends at the panel's inner corner,
is taken to the corner where stile and rail cross, and one that stands on a stile or rail alone to
that one's centre line. Joints are rigid (welded); a rod pulls only.
Each member's true weight is spread along its centre line, and an infill's along the members round
its panel, in the leaf's middle plane. A pivot off the stile's centre line is reached by a short
link that is next to rigid beside the stile.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from leafwright.frame.model import BeamSection, Element, FrameModel, Node
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.defaults import DEFAULTS
from leafwright.leaf import Leaf, Member
from leafwright.records import Metres, NewtonsPerMetre, Point2

#: Standard gravity [m/s2]: ISO 80000-3, 9.806 65 exactly.
GRAVITY = 9.80665

#: Where a leaf lies on trestles and is lifted, of its height and width from either end [-].
LYING_AT, LIFTED_AT = DEFAULTS["trestles"].inch, DEFAULTS["lifting points"].inch

#: Two places on one member closer than this are one node [m].
SAME_PLACE = 0.001

#: E I / L of a link to a pivot axis, over E I / height of the stile [-]. More would be no nearer to
#: the truth, and the shorter the link the more of the solver's figures it would use up.
LINK_STIFFNESS = 300.0


@dataclass(frozen=True, slots=True)
class Holding:
    """How a leaf is held: pivot places on the axis, bottom first, and which one carries weight.

    ``axis`` is the x of the axis as seen [m], ``heights`` the y of each holding point [m];
    ``stop`` where the open leaf is stopped, on the rail nearest to that; None where nothing is
    told.
    """

    axis: Metres
    heights: tuple[Metres, ...]
    stop: Point2 | None = None


@dataclass(frozen=True, slots=True)
class MemberLoad:
    """A weight per metre of member [N/m] over a stretch of it, in the direction of gravity."""

    element: str
    weight: NewtonsPerMetre


@dataclass(frozen=True, slots=True)
class LeafFrame:
    """The frame of one leaf without its cases, and where on it things may be put.

    ``places`` maps a place (``handle``, ``trestle 1 hinge``, ``pivot 1``, …) to a node; ``own``
    and ``infill`` are weights along elements.
    """

    leaf: Leaf
    model: FrameModel
    places: dict[str, str]
    own: tuple[MemberLoad, ...]
    infill: tuple[MemberLoad, ...]


def beam_section(section: CatalogueSection) -> BeamSection:
    """Return a section's stiffness with local y in the leaf's plane and local z out of it."""
    p = section.properties()
    return BeamSection(
        key=section_key(section),
        area=p.area,
        inertia_y=p.inertia_u,
        inertia_z=p.inertia_v,
        torsion=p.torsion_constant,
        shear_area_y=p.shear_area_u,
        shear_area_z=p.shear_area_v,
        elastic_modulus=section.grade.elastic_modulus,
        shear_modulus=section.grade.shear_modulus,
    )


def section_key(section: CatalogueSection) -> str:
    """Return the key of a section in the frame: designation and grade."""
    return f"{section.designation}, {section.grade.name}"


@dataclass(slots=True)
class _Lines:
    """Nodes along each member's centre line while the frame is being laid out."""

    nodes: dict[str, Point2]
    on: dict[str, dict[str, float]]

    def put(self, member: Member, key: str, at: Point2) -> str:
        """Place a node on a member, or find the one that is there already; return its key."""
        s = (at[0] - member.foot[0]) * member.direction[0] + (
            at[1] - member.foot[1]
        ) * member.direction[1]
        line = self.on.setdefault(member.key, {})
        for known, where in line.items():
            if abs(where - s) < SAME_PLACE:
                return known
        self.nodes.setdefault(key, at)
        line[key] = s
        return key


def _rail_names(leaf: Leaf) -> list[str]:
    mids = len(leaf.panels) - 1
    return ["bottom", *(f"mid rail-{i}" for i in range(1, mids + 1)), "top"]


def _stands_alone(joint: str) -> bool:
    """Return whether a brace's end stands on a stile or a rail alone, clear of the corner."""
    return joint.endswith((" stile", " rail"))


def _corner_name(leaf: Leaf, joint: str) -> str:
    """Return the frame corner that a brace's joint name stands for."""
    if not joint.startswith("panel-") or joint.endswith("crossing") or _stands_alone(joint):
        return joint
    head, end, side = joint.split(" ")
    number = int(head.removeprefix("panel-"))
    return f"{_rail_names(leaf)[number - 1 if end == 'bottom' else number]} {side}"


def _of_role(leaf: Leaf, *roles: str) -> list[Member]:
    return [m for m in leaf.members if m.role in roles]


def leaf_frame(leaf: Leaf, holding: Holding, handle_height: float) -> LeafFrame:
    """Return the frame of a leaf.

    Args:
        leaf: the leaf with its members.
        holding: where it is held.
        handle_height: height of the handle over the leaf's bottom [m].
    """
    joints = {j.key.removeprefix(f"{leaf.key}/"): j.at for j in leaf.joints}
    hanging = _of_role(leaf, "hanging stile")[0]
    nose = _of_role(leaf, "meeting stile", "closing stile")[0]
    top_rail = _of_role(leaf, "top rail")[0]
    lines = _Lines({}, {})
    for name in _rail_names(leaf):
        lines.put(hanging, f"{name} hinge", joints[f"{name} hinge"])
        lines.put(nose, f"{name} nose", joints[f"{name} nose"])
    for rail, name in zip(
        sorted(_of_role(leaf, "bottom rail", "mid rail", "top rail"), key=lambda m: m.foot[1]),
        _rail_names(leaf),
        strict=True,
    ):
        lines.put(rail, f"{name} hinge", joints[f"{name} hinge"])
        lines.put(rail, f"{name} nose", joints[f"{name} nose"])
    for brace in _of_role(leaf, "brace", "rod"):
        for joint in (brace.start_joint, brace.end_joint):
            corner = _corner_name(leaf, joint)
            node = corner
            if _stands_alone(joint):
                onto = next(j for j in leaf.joints if j.key == f"{leaf.key}/{joint}").members[0]
                member = next(m for m in leaf.members if m.key == onto)
                node = lines.put(member, joint, joints[joint])
            lines.put(brace, node, lines.nodes.get(node, joints[corner]))
        if brace.key.endswith(("/through", "/across")):
            crossing = f"{brace.key.split('/')[1].replace('brace', 'panel')} crossing"
            lines.put(brace, crossing, joints[crossing])
    places = _places(leaf, hanging, nose, top_rail, lines, handle_height)
    if holding.stop is not None:
        places["open stop"] = _stop_node(leaf, hanging, nose, lines, holding.stop)
    links = _links(hanging, holding, lines, places)
    return _assembled(leaf, lines, places, links)


def _places(
    leaf: Leaf, hanging: Member, nose: Member, top_rail: Member, lines: _Lines, handle: float
) -> dict[str, str]:
    places = {
        "handle": lines.put(nose, "handle", (nose.foot[0], min(handle, 0.9 * leaf.height))),
        "bottom nose": "bottom nose",
        "top nose": "top nose",
        "top hinge": "top hinge",
        "bottom hinge": "bottom hinge",
    }
    for i, share in enumerate((LYING_AT, 1.0 - LYING_AT), start=1):
        for side, stile in (("hinge", hanging), ("nose", nose)):
            key = f"trestle {i} {side}"
            places[key] = lines.put(stile, key, (stile.foot[0], share * leaf.height))
    for i, share in enumerate((LIFTED_AT, 1.0 - LIFTED_AT), start=1):
        key = f"lift {i}"
        x = share * leaf.width if leaf.hand == "left" else (1.0 - share) * leaf.width
        places[key] = lines.put(top_rail, key, (x, top_rail.foot[1]))
    return places


def _stop_node(leaf: Leaf, hanging: Member, nose: Member, lines: _Lines, stop: Point2) -> str:
    """Place what stops the open leaf on the rail nearest to it, between the stiles' middles."""
    rails = _of_role(leaf, "bottom rail", "mid rail", "top rail")
    rail = min(rails, key=lambda member: abs(member.foot[1] - stop[1]))
    low, high = sorted((hanging.foot[0], nose.foot[0]))
    return lines.put(rail, "open stop", (min(max(stop[0], low), high), rail.foot[1]))


def _links(
    hanging: Member, holding: Holding, lines: _Lines, places: dict[str, str]
) -> list[tuple[str, str]]:
    """Place the pivots; return pairs of nodes that need a stiff link between them."""
    links = []
    for i, y in enumerate(holding.heights, start=1):
        key = f"pivot {i}"
        on_stile = abs(holding.axis - hanging.foot[0]) < SAME_PLACE
        name = key if on_stile else f"stile at {key}"
        node = lines.put(hanging, name, (hanging.foot[0], y))
        if on_stile:
            places[key] = node
        else:
            lines.nodes[key] = (holding.axis, y)
            places[key] = key
            links.append((node, key))
    return links


def _assembled(
    leaf: Leaf, lines: _Lines, places: dict[str, str], links: Sequence[tuple[str, str]]
) -> LeafFrame:
    elements: list[Element] = []
    own: list[MemberLoad] = []
    sections: dict[str, BeamSection] = {}
    for member in leaf.members:
        section = section_key(member.section)
        if section not in sections:
            sections[section] = beam_section(member.section)
        place_on = lines.on[member.key]
        along = sorted(place_on, key=place_on.__getitem__)
        # From joint to joint: a brace's own direction is that of its panel, a little steeper.
        length = sum(
            math.dist(lines.nodes[a], lines.nodes[b]) for a, b in itertools.pairwise(along)
        )
        across = (-member.direction[1], member.direction[0], 0.0)
        for i, (a, b) in enumerate(itertools.pairwise(along), start=1):
            key = f"{member.key}/{i}"
            elements.append(
                Element(key, member.key, a, b, section, across, tension_only=member.role == "rod")
            )
            own.append(MemberLoad(key, member.mass * GRAVITY / length))
    if links:
        stile = sections[section_key(leaf.members[0].section)]
        reach = math.dist(*(lines.nodes[key] for key in links[0]))
        sections["link"] = _stiffened(stile, LINK_STIFFNESS * reach / leaf.height)
        for a, b in links:
            elements.append(Element(f"link {b}", "link", a, b, "link", (0.0, 1.0, 0.0)))
    model = FrameModel(
        nodes=tuple(Node(k, (x, y, 0.0)) for k, (x, y) in lines.nodes.items()),
        elements=tuple(elements),
        sections=tuple(sections.values()),
        cases=(),
    )
    return LeafFrame(leaf, model, places, tuple(own), _infill_loads(leaf, model))


def _stiffened(section: BeamSection, by: float) -> BeamSection:
    return replace(
        section,
        key="link",
        area=section.area * by,
        inertia_y=section.inertia_y * by,
        inertia_z=section.inertia_z * by,
        torsion=section.torsion * by,
        shear_area_y=None,
        shear_area_z=None,
    )


def _infill_loads(leaf: Leaf, model: FrameModel) -> tuple[MemberLoad, ...]:
    """Return each infill's weight, spread evenly along the elements round its panel."""
    at = {n.key: n.at for n in model.nodes}
    outer = {m.key for m in leaf.members if m.role not in ("brace", "rod")}
    weights: dict[str, float] = {}
    for piece in leaf.infill:
        panel = next(p for p in leaf.panels if p.number == piece.panel)
        names = _rail_names(leaf)
        low = at[f"{names[panel.number - 1]} hinge"][1]
        high = at[f"{names[panel.number]} hinge"][1]
        round_it = {}
        for e in model.elements:
            a, b = at[e.start], at[e.end]
            if e.member in outer and low <= a[1] <= high and low <= b[1] <= high:
                round_it[e.key] = math.dist(a, b)
        total = sum(round_it.values())
        for key in round_it:
            weights[key] = weights.get(key, 0.0) + piece.mass * GRAVITY / total
    return tuple(MemberLoad(key, w) for key, w in weights.items())
