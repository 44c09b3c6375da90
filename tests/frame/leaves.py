"""Seeded random frames like a leaf, and the frames that several tests share."""

import dataclasses
import itertools
import math

import numpy as np

from leafwright.frame.model import (
    NOT_RELEASED,
    BeamSection,
    Case,
    Element,
    Flags6,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    PointLoad,
    Support,
)

FIXED: Flags6 = (True,) * 6
PINNED: Flags6 = (True, True, True, False, False, False)

E_STEEL = 200e9
G_STEEL = 77e9


def random_flags(rng: np.random.Generator, share: float) -> Flags6:
    a, b, c, d, e, f = (bool(x) for x in rng.random(6) < share)
    return a, b, c, d, e, f


def three(rng: np.random.Generator, size: float) -> tuple[float, float, float]:
    x, y, z = rng.uniform(-size, size, 3).tolist()
    return x, y, z


def random_leaf(seed: int) -> FrameModel:
    """Return a rectangle of 1 to 6 m with mid rails and braces, turned anyhow in space.

    Sections, releases, supports with springs, and line, point and node loads in all directions are
    random. Each frame can stand in each of its cases: one node is held in every direction.
    """
    rng = np.random.default_rng(seed)
    sections = tuple(_random_section(rng, f"section-{i}") for i in range(3))
    flat, members = _random_layout(rng)
    turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
    away = rng.uniform(-3.0, 3.0, 3)
    nodes = tuple(
        Node(key, tuple((turn @ np.array([x, y, 0.0]) + away).tolist()))
        for key, (x, y) in flat.items()
    )
    normal = turn[:, 2] + turn @ np.array([0.3, 0.2, 0.0]) * rng.uniform(-1.0, 1.0)
    x, y, z = normal.tolist()
    elements = []
    for member, chain in members:
        section = sections[int(rng.integers(len(sections)))].key
        # Stiles and bottom rail stay whole, and another member has one released end at most, so
        # that the frame can stand.
        whole = "stile" in member or member == "rail-0"
        place = -1 if whole else int(rng.integers(2 * len(chain)))
        for i, (start, end) in enumerate(itertools.pairwise(chain)):
            released: Flags6 = (False, False, False, *_three_flags(rng))
            elements.append(
                Element(
                    f"{member}/{i}",
                    member,
                    start,
                    end,
                    section,
                    (x, y, z),
                    releases_start=released if place == 2 * i else NOT_RELEASED,
                    releases_end=released if place == 2 * i + 1 else NOT_RELEASED,
                )
            )
    lengths = {e.key: math.dist(_at(nodes, e.start), _at(nodes, e.end)) for e in elements}
    cases = tuple(
        _random_case(rng, f"case-{i}", [n.key for n in nodes], lengths)
        for i in range(int(rng.integers(1, 4)))
    )
    return FrameModel(nodes, tuple(elements), sections, cases)


def _at(nodes: tuple[Node, ...], key: str) -> tuple[float, float, float]:
    return next(node.at for node in nodes if node.key == key)


def _three_flags(rng: np.random.Generator) -> tuple[bool, bool, bool]:
    a, b, c = (bool(x) for x in rng.random(3) < 0.5)
    return a, b, c


def _random_section(rng: np.random.Generator, key: str) -> BeamSection:
    depth, width = rng.uniform(0.03, 0.12, 2).tolist()
    wall = float(rng.uniform(0.002, 0.006))
    return BeamSection(
        key,
        area=2.0 * wall * (depth + width),
        inertia_y=wall * width**2 * (width / 6.0 + depth / 2.0),
        inertia_z=wall * depth**2 * (depth / 6.0 + width / 2.0),
        torsion=2.0 * wall * (depth * width) ** 2 / (depth + width),
        shear_area_y=2.0 * wall * depth,
        shear_area_z=2.0 * wall * width,
        elastic_modulus=E_STEEL,
        shear_modulus=G_STEEL,
    )


def _random_layout(
    rng: np.random.Generator,
) -> tuple[dict[str, tuple[float, float]], list[tuple[str, list[str]]]]:
    """Return flat nodes, and members as chains of nodes: stiles, rails, braces."""
    width, height = rng.uniform(1.0, 6.0, 2).tolist()
    panels = int(rng.integers(1, 4))
    rows = np.arange(panels + 1) + np.array([0.0, *rng.uniform(-0.3, 0.3, panels - 1), 0.0])
    levels = (height * rows / panels).tolist()
    nodes = {}
    for row, y in enumerate(levels):
        nodes[f"hang-{row}"] = (0.0, y)
        nodes[f"meet-{row}"] = (width, y)
    members = [
        ("hanging stile", [f"hang-{row}" for row in range(panels + 1)]),
        ("meeting stile", [f"meet-{row}" for row in range(panels + 1)]),
    ]
    for row, y in enumerate(levels):
        chain = [f"hang-{row}"]
        pieces = int(rng.integers(1, 4))
        for piece in range(1, pieces):
            nodes[f"rail-{row}-{piece}"] = (width * piece / pieces, y)
            chain.append(f"rail-{row}-{piece}")
        members.append((f"rail-{row}", [*chain, f"meet-{row}"]))
    for panel in range(panels):
        kind = int(rng.integers(0, 4))
        if kind in (1, 3):
            members.append((f"brace-{panel}-up", [f"hang-{panel}", f"meet-{panel + 1}"]))
        if kind == 2:
            key = f"cross-{panel}"
            nodes[key] = (width / 2.0, (levels[panel] + levels[panel + 1]) / 2.0)
            members.append((f"brace-{panel}-up", [f"hang-{panel}", key, f"meet-{panel + 1}"]))
            members.append((f"brace-{panel}-low", [f"hang-{panel + 1}", key]))
            members.append((f"brace-{panel}-high", [key, f"meet-{panel}"]))
    return nodes, members


def _random_case(
    rng: np.random.Generator, key: str, nodes: list[str], lengths: dict[str, float]
) -> Case:
    chosen = rng.permutation(len(nodes))[: int(rng.integers(1, 5))]
    supports = []
    for order, place in enumerate(chosen):
        fixed = random_flags(rng, 0.6)
        stiff = 10.0 ** rng.uniform(5.0, 8.0, 6)
        all_springs = order == 0 or rng.random() < 0.3
        a, b, c, d, e, f = (
            0.0 if held or not all_springs else float(k)
            for held, k in zip(fixed, stiff, strict=True)
        )
        springs = (a, b, c, d, e, f) if all_springs else None
        supports.append(Support(nodes[place], fixed, springs))
    return Case(
        key,
        key,
        tuple(supports),
        node_loads=tuple(
            NodeLoad(node, three(rng, 2000.0), three(rng, 300.0))
            for node in nodes
            if rng.random() < 0.3
        ),
        line_loads=tuple(
            LineLoad(element, three(rng, 800.0), three(rng, 800.0))
            for element in lengths
            if rng.random() < 0.6
        ),
        point_loads=tuple(
            PointLoad(element, float(rng.random() * length), three(rng, 1500.0), three(rng, 200.0))
            for element, length in lengths.items()
            if rng.random() < 0.25
        ),
    )


def tube(key: str = "tube", *, shear_area: float | None = None) -> BeamSection:
    """Return a round figure of a square tube: E I = 2e5 N m2."""
    return BeamSection(key, 1e-3, 1e-6, 1e-6, 1.5e-6, shear_area, shear_area, E_STEEL, G_STEEL)


def straight(
    pieces: int,
    length: float,
    cases: tuple[Case, ...],
    *,
    section: BeamSection | None = None,
    along: tuple[float, float, float] = (1.0, 0.0, 0.0),
    reference: tuple[float, float, float] = (0.0, 1.0, 0.0),
) -> FrameModel:
    """Return a straight member ``beam`` of equal elements ``beam/0`` … between nodes ``0`` …"""
    section = section or tube()
    a, b, c = along
    steps = [length * i / pieces for i in range(pieces + 1)]
    return FrameModel(
        nodes=tuple(Node(str(i), (s * a, s * b, s * c)) for i, s in enumerate(steps)),
        elements=tuple(
            Element(f"beam/{i}", "beam", str(i), str(i + 1), section.key, reference)
            for i in range(pieces)
        ),
        sections=(section,),
        cases=cases,
    )


def with_cases(model: FrameModel, *cases: Case) -> FrameModel:
    return dataclasses.replace(model, cases=cases)
