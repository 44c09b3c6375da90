"""What a member can carry: available strengths of its section, by shape, to AISC 360-22."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright.handbook import sections
from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    bending,
    combined,
    compression,
    shear,
    tension,
)
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.proof.working import Lines
from leafwright.records import Held, Working

Real = float | NDArray[np.float64]

DOCUMENT = "ANSI/AISC 360-22"

# Chapter G has no clause for a solid bar: its greatest elastic stress is kept to the shear yield
# stress that the chapter takes.
_BAR_SHEAR = "G, 0.6 F_y; the greatest elastic stress in a solid bar"


@dataclass(frozen=True, slots=True)
class Capacity:
    """Available strengths of one section [N, N m], with the clause of each.

    ``bending_in`` is for bending in the leaf's plane, ``bending_out`` out of it; ``shear_in`` and
    ``shear_out`` for shear along the same directions. ``torsion`` is None where the
    specification gives no torsional strength for the shape. ``working`` is how each came about.
    """

    tension: float
    bending_in: float
    bending_out: float
    shear_in: float
    shear_out: float
    torsion: float | None
    clauses: dict[str, str]
    working: dict[str, tuple[Working, ...]]


# The members of a leaf, and of its mirror image, share a few lengths.
@functools.lru_cache(maxsize=256)
def capacity(section: CatalogueSection, length: float, method: Method) -> Capacity | Held:
    """Return the available strengths of a section, compression apart.

    Args:
        section: the member's section in its grade.
        length: the member's length between joints [m], for sideways buckling.
        method: ASD or LRFD.
    """
    F_y, E = section.yield_stress, section.grade.elastic_modulus
    p = section.properties()
    by = {name: Lines() for name in ("tension", "bending in", "bending out", "shear", "torsion")}
    tearing = by["tension"]

    def usable(lines: Lines, nominal: float, state: LimitState) -> float:
        return float(lines.work(available, nominal=nominal, limit_state=state, method=method))

    gross = tearing.work(tension.tension_yielding, F_y=F_y, A_g=p.area)
    pulled = usable(tearing, float(gross), LimitState.TENSION_YIELDING)
    # Welded ends are held along the whole section, so rupture on U A_g with U = 1 (D3, case 1).
    net = tearing.work(tension.tension_rupture, F_u=section.tensile_strength, A_e=p.area)
    torn = usable(tearing, float(net), LimitState.TENSION_RUPTURE)
    clauses = {"tension": "D2, Eqs. D2-1 and D2-2"}
    twist: float | None = None
    inner, outer, sheared, twisted = (
        by[name] for name in ("bending in", "bending out", "shear", "torsion")
    )
    if section.shape == sections.RECTANGULAR_TUBE:
        M_in = _rectangular_bending(inner, section, length, in_plane=True)
        M_out = _rectangular_bending(outer, section, length, in_plane=False)
        V_in = sheared.work(shear.shear_rectangular_hss, F_y=F_y, h=p.flat_u, t=p.wall, E=E)
        V_out = sheared.work(shear.shear_rectangular_hss, F_y=F_y, h=p.flat_v, t=p.wall, E=E)
        longer = max(p.slenderness_u, p.slenderness_v)
        constant = twisted.work(
            combined.torsional_constant_rectangular_hss, B=p.width, H=p.height, t=p.wall
        )
        twist = float(
            twisted.work(
                combined.torsion_rectangular_hss, F_y=F_y, C=constant, h_over_t=longer, E=E
            )
        )
        clauses |= {"bending": "F7", "shear": "G4, Eq. G4-1", "torsion": "H3.1(b)"}
    elif section.shape == sections.ROUND_TUBE:
        M_in = M_out = float(
            inner.work(
                bending.bending_round_hss,
                F_y=F_y,
                Z=p.plastic_modulus_u,
                S=p.section_modulus_u,
                D_over_t=p.width / p.wall,
                E=E,
            )
        )
        V_in = V_out = sheared.work(
            shear.shear_round_hss, F_y=F_y, A_g=p.area, D=p.width, t=p.wall, L_v=length, E=E
        )
        twist = float(
            twisted.work(
                combined.torsion_round_hss,
                F_y=F_y,
                C=p.torsional_shear_constant,
                D=p.width,
                t=p.wall,
                L=length,
                E=E,
            )
        )
        clauses |= {"bending": "F8", "shear": "G5, Eq. G5-1", "torsion": "H3.1(a)"}
    elif section.shape == sections.ROUND_BAR:
        M_in = M_out = float(inner.work(bending.bending_round_bar, F_y=F_y, D=p.width))
        V_in = V_out = 0.6 * F_y * p.shear_area_u
        clauses |= {"bending": "F11", "shear": _BAR_SHEAR}
    elif section.shape == sections.FLAT_BAR:
        bar = bending.bending_rectangular_bar
        M_in = float(inner.work(bar, F_y=F_y, d=p.width, t=p.height, L_b=length, E=E))
        M_out = float(outer.work(bar, F_y=F_y, d=p.height, t=p.width, L_b=length, E=E))
        V_in, V_out = 0.6 * F_y * p.shear_area_u, 0.6 * F_y * p.shear_area_v
        clauses |= {"bending": "F11", "shear": _BAR_SHEAR}
    else:
        return Held(
            f"the strength of an {section.shape} is not there yet",
            ("a tube, a flat or a round bar, or an engineer's answer",),
        )
    if M_in is M_out:
        by["bending out"] = inner
    strengths = {
        "bending_in": usable(inner, M_in, LimitState.BENDING),
        "bending_out": usable(outer, M_out, LimitState.BENDING),
        "shear_in": usable(sheared, float(V_in), LimitState.SHEAR),
        "shear_out": usable(sheared, float(V_out), LimitState.SHEAR),
    }
    return Capacity(
        tension=min(pulled, torn),
        **strengths,
        torsion=None if twist is None else usable(twisted, twist, LimitState.TORSION),
        clauses=clauses,
        working={name: lines.kept() for name, lines in by.items()},
    )


def _rectangular_bending(
    lines: Lines, section: CatalogueSection, length: float, *, in_plane: bool
) -> float:
    """Return M_n of a rectangular tube about one axis [N m]: F7, sideways buckling included."""
    F_y, E = section.yield_stress, section.grade.elastic_modulus
    p = section.properties()
    if in_plane:
        Z, S, inertia = p.plastic_modulus_v, p.section_modulus_v, p.inertia_v
        flange, web, depth = p.slenderness_v, p.slenderness_u, p.width
        r_y, major = p.radius_of_gyration_u, p.width > p.height
    else:
        Z, S, inertia = p.plastic_modulus_u, p.section_modulus_u, p.inertia_u
        flange, web, depth = p.slenderness_u, p.slenderness_v, p.height
        r_y, major = p.radius_of_gyration_v, p.height > p.width
    S_e = lines.work(
        bending.effective_section_modulus,
        F_y=F_y,
        I_x=inertia,
        A_g=p.area,
        H=depth,
        b_over_t=flange,
        t=p.wall,
        E=E,
    )
    M_n = float(
        lines.work(
            bending.bending_rectangular_hss,
            F_y=F_y,
            Z=Z,
            S=S,
            b_over_t=flange,
            h_over_t=web,
            S_e=S_e,
            E=E,
        )
    )
    if major:
        sideways = lines.work(
            bending.lateral_torsional_rectangular_hss,
            F_y=F_y,
            Z_x=Z,
            S_x=S,
            A_g=p.area,
            r_y=r_y,
            J=p.torsion_constant,
            L_b=length,
            E=E,
        )
        M_n = min(M_n, float(sideways))
    return M_n


def compressive_strength(
    section: CatalogueSection,
    length_in: Real,
    length_out: Real,
    method: Method,
    lines: Lines | None = None,
) -> tuple[Real, Real]:
    """Return the available compressive strength [N] and the governing L_c/r [-].

    Args:
        section: the member's section in its grade.
        length_in: effective length for buckling in the leaf's plane [m]; float or array.
        length_out: the same out of the plane [m].
        method: ASD or LRFD.
        lines: where to keep the formulas as they are worked.
    """
    lines = lines or Lines()
    F_y, E = section.yield_stress, section.grade.elastic_modulus
    p = section.properties()
    slenderness = np.maximum(
        np.asarray(length_in) / p.radius_of_gyration_v,
        np.asarray(length_out) / p.radius_of_gyration_u,
    )
    if section.shape == sections.RECTANGULAR_TUBE:
        P_n = lines.work(
            compression.compression_rectangular_hss,
            F_y=F_y,
            A_g=p.area,
            L_c_over_r=slenderness,
            b_over_t=p.slenderness_u,
            h_over_t=p.slenderness_v,
            t=p.wall,
            E=E,
        )
    elif section.shape == sections.ROUND_TUBE:
        P_n = lines.work(
            compression.compression_round_hss,
            F_y=F_y,
            A_g=p.area,
            L_c_over_r=slenderness,
            D_over_t=p.width / p.wall,
            E=E,
        )
    else:
        P_n = lines.work(
            compression.compression_nonslender, F_y=F_y, A_g=p.area, L_c_over_r=slenderness, E=E
        )
    usable = lines.work(available, nominal=P_n, limit_state=LimitState.COMPRESSION, method=method)
    return usable, slenderness
