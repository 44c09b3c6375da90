"""The same frame in PyNiteFEA, an independent solver (Euler-Bernoulli, no shear deformation)."""

import dataclasses
import math

import numpy as np
from Pynite import FEModel3D

from leafwright.frame.element import Floats
from leafwright.frame.model import Case, FrameModel
from leafwright.frame.solve import FrameResult

FREEDOMS = ("DX", "DY", "DZ", "RX", "RY", "RZ")


def pynite_model(model: FrameModel, cases: tuple[Case, ...]) -> FEModel3D:
    """Return a PyNite model with the supports of the first case and a load combination for each."""
    twin = FEModel3D()
    for node in model.nodes:
        twin.add_node(node.key, *node.at)
    for section in model.sections:
        modulus, shear = section.elastic_modulus, section.shear_modulus
        twin.add_material(section.key, modulus, shear, 0.3, 7850.0)
        twin.add_section(
            section.key, section.area, section.inertia_y, section.inertia_z, section.torsion
        )
    for element in model.elements:
        twin.add_member(element.key, element.start, element.end, element.section, element.section)
        twin.def_releases(element.key, *element.releases_start, *element.releases_end)
        member = twin.members[element.key]
        y, z = member.T()[1:3, :3]
        reference = np.array(element.reference)
        member.rotation = math.degrees(math.atan2(reference @ z, reference @ y))
    for support in cases[0].supports:
        twin.def_support(support.node, *support.fixed)
        for freedom, stiffness in zip(FREEDOMS, support.springs or (), strict=False):
            if stiffness:
                twin.def_support_spring(support.node, freedom, stiffness)
    for case in cases:
        _add_loads(twin, case)
        twin.add_load_combo(case.key, {case.key: 1.0})
    return twin


def _add_loads(twin: FEModel3D, case: Case) -> None:
    for load in case.node_loads:
        for direction, amount in zip("XYZ", load.force, strict=True):
            twin.add_node_load(load.node, f"F{direction}", amount, case.key)
        for direction, amount in zip("XYZ", load.moment, strict=True):
            twin.add_node_load(load.node, f"M{direction}", amount, case.key)
    for line in case.line_loads:
        for direction, start, end in zip("XYZ", line.start, line.end, strict=True):
            if start or end:
                twin.add_member_dist_load(
                    line.element, f"F{direction}", start, end, None, None, case.key
                )
    for point in case.point_loads:
        for direction, amount in zip("XYZ", point.force, strict=True):
            twin.add_member_pt_load(point.element, f"F{direction}", amount, point.at, case.key)
        for direction, amount in zip("XYZ", point.moment, strict=True):
            twin.add_member_pt_load(point.element, f"M{direction}", amount, point.at, case.key)


def pynite_arrays(model: FrameModel, result: FrameResult) -> tuple[Floats, Floats, Floats]:
    """Return PyNite's displacements, reactions and end forces, shaped as in ``result``.

    The end forces are turned from PyNite's own local axes into those of ``result``.
    """
    moved = np.zeros_like(result.displacements)
    back = np.zeros_like(result.reactions)
    ends = np.zeros_like(result.end_forces)
    for c, case in enumerate(model.cases):
        twin = pynite_model(dataclasses.replace(model, cases=(case,)), (case,))
        twin.analyze_linear(check_stability=False)
        for n, node in enumerate(model.nodes):
            at = twin.nodes[node.key]
            moved[c, n] = [getattr(at, f)[case.key] for f in FREEDOMS]
            names = [f"Rxn{kind}{axis}" for kind in "FM" for axis in "XYZ"]
            back[c, n] = [getattr(at, name)[case.key] for name in names]
        for e, element in enumerate(model.elements):
            (piece,) = twin.members[element.key].sub_members.values()
            in_space = np.asarray(piece.F(case.key), dtype=np.float64).reshape(4, 3)
            ends[c, e] = (in_space @ result.axes[e].T).ravel()
    return moved, back, ends
