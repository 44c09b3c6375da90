"""The hanging stile where the access hole for the grease fitting is cut out of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leafwright.chain import Quantity
from leafwright.frame.forces import forces_along
from leafwright.frame.load_cases import NAMES
from leafwright.handbook.aisc360 import LimitState, available, combined
from leafwright.handbook.aisc360.connecting import element_tension_yielding
from leafwright.handbook.sections import RECTANGULAR_TUBE, SectionProperties
from leafwright.job.model import FloorPivot
from leafwright.mount.parts import force, hanging_stile, made_check, moment, relied_on, size
from leafwright.mount.pivot_sleeve import wide_hole
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, CubicMetres, Metres, SquareMetres


@dataclass(frozen=True, slots=True)
class NetSection:
    """A tube with a round hole in the middle of its worst wall, at first yield [m2, m3]."""

    area: SquareMetres
    modulus_u: CubicMetres
    modulus_v: CubicMetres


def net_section(p: SectionProperties, d: Metres) -> NetSection:
    """Return what is left of a tube at a hole through one wall.

    Geometry: a strip d t is taken from a wall at its distance y from the middle; the centroid
    moves by e = A_h y/A_n, and I_n = I − A_h y² − A_n e². For bending each way the hole is put in
    the wall where it takes most.

    Args:
        p: of the tube, by its design wall.
        d: diameter of the hole [m].
    """
    hole = d * p.wall
    left = p.area - hole

    def modulus(inertia: float, depth: float) -> float:
        y = (depth - p.wall) / 2.0
        shift = hole * y / left
        return (inertia - hole * y**2 - left * shift**2) / (depth / 2.0 + shift)

    return NetSection(left, modulus(p.inertia_u, p.height), modulus(p.inertia_v, p.width))


def access_reach(m: Mounting) -> Quantity:
    """Return how far up the stile the hole is looked for at least, a listed default [m]."""
    return relied_on(m, "access reach", "stile proved with its access hole")


def hole_checks(m: Mounting) -> tuple[Check, ...]:
    """Return the check of the hanging stile at its access hole; none where there is no hole.

    First yield of the net section under what the frame analysis finds there: nowhere lower or
    higher than the fitting can be, pins free and clamped. Amplified stress at the hole's edge is
    left out, as the specification does for steel under loads that stand.
    """
    mount, stile = m.table.mount, hanging_stile(m)
    section = stile.section
    if not isinstance(mount, FloorPivot) or mount.access_hole is None:
        return ()
    if section.shape != RECTANGULAR_TUBE:
        return ()
    d, p = mount.access_hole.si, section.properties()
    subject = "hanging stile at its access hole"
    if d >= min(p.flat_u, p.flat_v):
        return (wide_hole(m, "hanging stile/access hole", subject, d),)
    lines = Lines()
    net = net_section(p, d)
    F_y = section.yield_stress
    P_n = lines.work(element_tension_yielding, F_y=F_y, A_g=net.area)
    P_c, M_u, M_v = (
        float(lines.work(available, nominal=nominal, limit_state=state, method=m.method))
        for nominal, state in (
            (P_n, LimitState.TENSION_YIELDING),
            (F_y * net.modulus_u, LimitState.BENDING),
            (F_y * net.modulus_v, LimitState.BENDING),
        )
    )
    sizes = (mount.bottom_pin_length, mount.ball_diameter, mount.slug_length)
    high = max(access_reach(m).value, sum(typed.si for typed in sizes if typed is not None) + d)
    greatest, named, N_r, M_in, M_out = -1.0, "", 0.0, 0.0, 0.0
    for case in m.proof.cases:
        if not case.for_strength:
            continue
        N, out, in_plane = _forces_low(m, stile.key, case.key, high)
        uses = np.asarray(combined.interaction_axial_bending(N / P_c, in_plane / M_v, out / M_u))
        at = int(np.argmax(uses))
        if uses[at] > greatest:
            greatest, named = float(uses[at]), NAMES[case.situation]
            N_r, M_in, M_out = float(N[at]), float(in_plane[at]), float(out[at])
    use = lines.work(
        combined.interaction_axial_bending,
        P_r_over_P_c=N_r / P_c,
        M_rx_over_M_cx=M_in / M_v,
        M_ry_over_M_cy=M_out / M_u,
    )
    return (
        made_check(
            m,
            "hanging stile/access hole",
            subject,
            "is what the hole leaves strong enough",
            clause="D2, F7 at first yield of the net section, H1.1",
            demand=float(use),
            available=1.0,
            unit="1",
            case=named,
            change="a smaller hole, a doubler round it, or a thicker stile",
            rule=(
                f"{force(m, N_r)} along the stile with {moment(m, M_in)} in the "
                f"leaf's plane and {moment(m, M_out)} out of it, the worst anywhere in its "
                f"lowest {size(m, high)}; a hole of {size(m, d)} in the wall where it takes most"
            ),
            lines=lines,
        ),
    )


def _forces_low(
    m: Mounting, member: str, case: str, high: Metres
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return N, M out of the plane and M in it along the lowest of a member, magnitudes."""
    model, result = m.proof.model, m.proof.result
    at = {node.key: node.at for node in model.nodes}
    found = []
    for element in (e for e in model.elements if e.member == member):
        low, top = at[element.start][1], at[element.end][1]
        upto = min(high, top) - low
        if upto <= 0.0:
            continue
        length = float(result.lengths[result.elements.index(element.key)])
        stations = np.linspace(0.0, min(upto, length), 5)
        forces = forces_along(model, result, case, element.key, stations)
        found.append(np.abs(np.stack([forces.N, forces.M_y, forces.M_z])))
    N, out, in_plane = np.concatenate(found, axis=1)
    return N, out, in_plane
