"""A frame model as arrays: its topology once, and its numbers with a leading axis of variants.

One model and a thousand variants of it run through the same code: a model alone is a batch of
one. Letters in the shapes: v variants, n nodes, e elements, s sections, c cases, p point loads
(in the order of the cases, and within a case as listed).
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from dataclasses import dataclass

import numpy as np

from leafwright.frame.condense import Ints, Plan, elimination_plan
from leafwright.frame.element import SECTION_COLUMNS, Bools, Floats
from leafwright.frame.model import (
    LEAST_LENGTH,
    LEAST_SINE,
    BeamSection,
    Case,
    FrameError,
    FrameModel,
    LineLoad,
    Node,
    NodeLoad,
    PointLoad,
    problems,
)


@dataclass(frozen=True, slots=True, eq=False)
class Variants:
    """Numbers that differ from variant to variant of one model; None keeps the model's own.

    Every array has a leading axis v. ``coordinates`` (v, n, 3) [m]; ``sections`` (v, s, 8) in the
    order of `leafwright.frame.element.SECTION_COLUMNS`, an infinite shear area for no shear
    deformation; ``node_loads`` (v, c, n, 6) force and moment [N, N m]; ``line_loads`` (v, c, e, 6)
    at the start and at the end of the whole element [N/m]; ``point_at`` (v, p) [m] and
    ``point_loads`` (v, p, 6) [N, N m] of the model's point loads; ``load_scale`` (v, c) multiplies
    all loads of a case [-]. Loads are in global axes and take the place of the model's.
    Topology, supports, releases and references stay.
    """

    coordinates: Floats | None = None
    sections: Floats | None = None
    node_loads: Floats | None = None
    line_loads: Floats | None = None
    point_at: Floats | None = None
    point_loads: Floats | None = None
    load_scale: Floats | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """Cases that are held alike: which, and how.

    ``free``, ``fixed`` and ``sprung`` are places among the 6k directions of the kept nodes;
    ``springs`` (6k) is zero where there is none [N/m, N m/rad].
    """

    cases: Ints
    free: Ints
    fixed: Ints
    sprung: Ints
    springs: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Topology:
    """What all variants of a model share."""

    ends: Ints
    section_of: Ints
    references: Floats
    releases: Bools
    rods: Ints
    point_case: Ints
    point_element: Ints
    fixed: Bools
    springs: Floats
    groups: tuple[Group, ...]
    plan: Plan


@dataclass(frozen=True, slots=True, eq=False)
class Numbers:
    """What may differ between variants; every array has the leading axis v (see `Variants`)."""

    coordinates: Floats
    sections: Floats
    node_loads: Floats
    line_loads: Floats
    point_at: Floats
    point_loads: Floats

    def part(self, which: slice) -> Numbers:
        """Return the numbers of some of the variants."""
        return Numbers(*(getattr(self, f.name)[which] for f in dataclasses.fields(self)))


def model_arrays(model: FrameModel) -> tuple[Topology, Numbers]:
    """Return the model as arrays, as a batch of one; raises FrameError if it has problems."""
    wrong = problems(model)
    if wrong:
        raise FrameError("this frame cannot be analysed: " + "; ".join(wrong))
    nodes = {node.key: i for i, node in enumerate(model.nodes)}
    elements = {element.key: i for i, element in enumerate(model.elements)}
    sections = {section.key: i for i, section in enumerate(model.sections)}
    ends = [(nodes[e.start], nodes[e.end]) for e in model.elements]
    count = len(model.cases)
    fixed = np.zeros((count, len(nodes), 6), dtype=np.bool_)
    springs = np.zeros((count, len(nodes), 6))
    on_nodes: list[int] = []
    on_elements: list[int] = []
    node_rows: list[tuple[float, ...]] = []
    line_rows: list[tuple[float, ...]] = []
    points: list[tuple[float, ...]] = []
    for c, case in enumerate(model.cases):
        for support in case.supports:
            fixed[c, nodes[support.node]] = support.fixed
            if support.springs is not None:
                springs[c, nodes[support.node]] = support.springs
        for load in case.node_loads:
            on_nodes.append(c * len(nodes) + nodes[load.node])
            node_rows.append(load.force + load.moment)
        for line in case.line_loads:
            on_elements.append(c * len(elements) + elements[line.element])
            line_rows.append(line.start + line.end)
        for point in case.point_loads:
            points.append((c, elements[point.element], point.at, *point.force, *point.moment))
    node_loads = _sums(on_nodes, node_rows, count * len(nodes))
    line_loads = _sums(on_elements, line_rows, count * len(elements))
    table = np.array(points, dtype=np.float64).reshape(-1, 9)
    rods = [i for i, e in enumerate(model.elements) if e.tension_only]
    held = {int(n) for n in np.flatnonzero((fixed | (springs > 0.0)).any(axis=(0, 2)))}
    kept = held | {node for i in rods for node in ends[i]} or {0}
    plan = elimination_plan(len(nodes), tuple(ends), frozenset(rods), frozenset(kept))
    topology = Topology(
        ends=np.array(ends, dtype=np.intp),
        section_of=np.array([sections[e.section] for e in model.elements], dtype=np.intp),
        references=np.array([e.reference for e in model.elements], dtype=np.float64),
        releases=np.array([(*e.releases_start, *e.releases_end) for e in model.elements]),
        rods=np.array(rods, dtype=np.intp),
        point_case=table[:, 0].astype(np.intp),
        point_element=table[:, 1].astype(np.intp),
        fixed=fixed,
        springs=springs,
        groups=_groups(fixed[:, plan.kept], springs[:, plan.kept]),
        plan=plan,
    )
    numbers = Numbers(
        coordinates=np.array([[n.at for n in model.nodes]], dtype=np.float64),
        sections=np.array([[_section_row(s) for s in model.sections]], dtype=np.float64),
        node_loads=node_loads.reshape(1, count, len(nodes), 6),
        line_loads=line_loads.reshape(1, count, len(elements), 6),
        point_at=table[None, :, 2],
        point_loads=table[None, :, 3:],
    )
    return topology, numbers


def _section_row(section: BeamSection) -> tuple[float, ...]:
    return (
        section.area,
        section.inertia_y,
        section.inertia_z,
        section.torsion,
        math.inf if section.shear_area_y is None else section.shear_area_y,
        math.inf if section.shear_area_z is None else section.shear_area_z,
        section.elastic_modulus,
        section.shear_modulus,
    )


def _groups(fixed: Bools, springs: Floats) -> tuple[Group, ...]:
    """Return the cases grouped by how they are held, for supports (c, k, 6) of the kept nodes."""
    alike: dict[bytes, list[int]] = {}
    for c in range(len(fixed)):
        alike.setdefault(fixed[c].tobytes() + springs[c].tobytes(), []).append(c)
    groups = []
    for cases in alike.values():
        held, stiff = fixed[cases[0]].ravel(), springs[cases[0]].ravel()
        groups.append(
            Group(
                cases=np.array(cases, dtype=np.intp),
                free=np.flatnonzero(~held),
                fixed=np.flatnonzero(held),
                sprung=np.flatnonzero(stiff),
                springs=stiff,
            )
        )
    return tuple(groups)


def _sums(places: list[int], rows: list[tuple[float, ...]], count: int) -> Floats:
    """Return (count, 6): the rows of six numbers, added up by their place."""
    numbers = itertools.chain.from_iterable(rows)
    table = np.fromiter(numbers, dtype=np.float64, count=6 * len(rows)).reshape(-1, 6)
    where = np.array(places, dtype=np.intp)
    columns = [np.bincount(where, weights=column, minlength=count) for column in table.T]
    return np.stack(columns, axis=-1)


def variant_numbers(model: FrameModel, own: Numbers, variants: Variants) -> Numbers:
    """Return the numbers of all variants, for the model's ``own``.

    Raises FrameError where an array has the wrong shape, the arrays disagree on how many variants
    there are, or a variant could not be a frame at all.
    """
    fields = [f.name for f in dataclasses.fields(Numbers)]
    given = {name: getattr(variants, name) for name in (*fields, "load_scale")}
    given = {k: np.asarray(a, dtype=np.float64) for k, a in given.items() if a is not None}
    counts = {name: len(array) if array.ndim else 0 for name, array in given.items()}
    count = max(counts.values(), default=0)
    if count == 0 or set(counts.values()) != {count}:
        raise FrameError(
            f"the arrays of the variants have {counts!r} variants; give at least one array and one "
            "variant, and all with the same length of the first axis"
        )
    wanted = {name: getattr(own, name).shape[1:] for name in fields}
    wanted["load_scale"] = (len(model.cases),)
    for name, array in given.items():
        if array.shape[1:] != wanted[name]:
            raise FrameError(
                f"{name} of the variants has the shape {array.shape!r}; this model needs "
                f"{(count, *wanted[name])!r}"
            )
        if name != "sections" and not np.isfinite(array).all():
            raise FrameError(f"{name} of the variants holds numbers that are not finite")
    scale = given.pop("load_scale", None)
    full = {
        name: given.get(name, np.broadcast_to(getattr(own, name), (count, *wanted[name])))
        for name in fields
    }
    if scale is not None:
        cases = dict.fromkeys(("node_loads", "line_loads"), scale[:, :, None, None])
        point_case = [c for c, case in enumerate(model.cases) for _ in case.point_loads]
        cases["point_loads"] = scale[:, point_case, None]
        full |= {name: full[name] * factor for name, factor in cases.items()}
    numbers = Numbers(**full)
    _refuse_impossible(model, numbers)
    return numbers


def _refuse_impossible(model: FrameModel, numbers: Numbers) -> None:
    sections = numbers.sections
    bad = np.argwhere(~(sections > 0.0) | (np.isinf(sections) & ~_MAY_BE_INFINITE))
    if bad.size:
        v, s, column = bad[0]
        raise FrameError(
            f"variant {v}, section {model.sections[s].key!r}: {SECTION_COLUMNS[column]} is "
            f"{float(sections[v, s, column])!r}; it must be a positive number"
        )
    nodes = {node.key: i for i, node in enumerate(model.nodes)}
    start = [nodes[e.start] for e in model.elements]
    end = [nodes[e.end] for e in model.elements]
    along = numbers.coordinates[:, end] - numbers.coordinates[:, start]
    length = np.linalg.norm(along, axis=-1)
    reference = np.array([e.reference for e in model.elements])
    across = np.linalg.norm(np.cross(along, reference), axis=-1)
    least = LEAST_SINE * length * np.linalg.norm(reference, axis=-1)
    bad = np.argwhere((length < LEAST_LENGTH) | (across <= least))
    if bad.size:
        v, e = bad[0]
        raise FrameError(
            f"variant {v}: element {model.elements[e].key!r} is {float(length[v, e])!r} m long or "
            "lies along its own reference; move its nodes"
        )
    elements = {element.key: i for i, element in enumerate(model.elements)}
    on = [elements[p.element] for case in model.cases for p in case.point_loads]
    off = (numbers.point_at < 0.0) | (numbers.point_at > length[:, on] * (1.0 + 1e-12))
    bad = np.argwhere(off)
    if bad.size:
        v, p = bad[0]
        raise FrameError(
            f"variant {v}: point load {p} at {float(numbers.point_at[v, p])!r} m is off element "
            f"{model.elements[on[p]].key!r}, which is {float(length[v, on[p]])!r} m long"
        )


_MAY_BE_INFINITE = np.array([False, False, False, False, True, True, False, False])


def variant_model(model: FrameModel, variants: Variants, which: int) -> FrameModel:
    """Return one variant as a model of its own, to be looked at or solved alone.

    ``which`` counts from zero. Raises FrameError as `leafwright.frame.solve.solve_batch` does.
    """
    topology, own = model_arrays(model)
    numbers = variant_numbers(model, own, variants).part(slice(which, which + 1))
    cases = []
    for c, case in enumerate(model.cases):
        points = np.flatnonzero(topology.point_case == c)
        nodes = zip(model.nodes, numbers.node_loads[0, c].tolist(), strict=True)
        elements = zip(model.elements, numbers.line_loads[0, c].tolist(), strict=True)
        at = numbers.point_at[0, points].tolist()
        rows = numbers.point_loads[0, points].tolist()
        cases.append(
            dataclasses.replace(
                case,
                node_loads=tuple(NodeLoad(n.key, tuple(r[:3]), tuple(r[3:])) for n, r in nodes),
                line_loads=tuple(LineLoad(e.key, tuple(r[:3]), tuple(r[3:])) for e, r in elements),
                point_loads=tuple(
                    PointLoad(load.element, x, tuple(r[:3]), tuple(r[3:]))
                    for load, x, r in zip(case.point_loads, at, rows, strict=True)
                ),
            )
        )
    at = numbers.coordinates[0].tolist()
    rows = numbers.sections[0].tolist()
    return dataclasses.replace(
        model,
        nodes=tuple(Node(n.key, tuple(x)) for n, x in zip(model.nodes, at, strict=True)),
        sections=tuple(_section(s.key, r) for s, r in zip(model.sections, rows, strict=True)),
        cases=tuple(cases),
    )


def _section(key: str, row: list[float]) -> BeamSection:
    area, inertia_y, inertia_z, torsion, shear_y, shear_z, elastic, shear = row
    return BeamSection(
        key=key,
        area=area,
        inertia_y=inertia_y,
        inertia_z=inertia_z,
        torsion=torsion,
        shear_area_y=None if math.isinf(shear_y) else shear_y,
        shear_area_z=None if math.isinf(shear_z) else shear_z,
        elastic_modulus=elastic,
        shear_modulus=shear,
    )


def case_of(model: FrameModel, key: str) -> Case:
    """Return the case with that key; raises FrameError if there is none."""
    for case in model.cases:
        if case.key == key:
            return case
    raise FrameError(
        f"there is no case {key!r}; the frame has {[case.key for case in model.cases]!r}"
    )
