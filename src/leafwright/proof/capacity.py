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
from leafwright.records import Held

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
    specification gives no torsional strength for the shape.
    """

    tension: float
    bending_in: float
    bending_out: float
    shear_in: float
    shear_out: float
    torsion: float | None
    clauses: dict[str, str]


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
    pulled = available(tension.tension_yielding(F_y, p.area), LimitState.TENSION_YIELDING, method)
    # Welded ends are held along the whole section, so rupture on U A_g with U = 1 (D3, case 1).
    torn = available(
        tension.tension_rupture(section.tensile_strength, p.area),
        LimitState.TENSION_RUPTURE,
        method,
    )
    clauses = {"tension": "D2, Eqs. D2-1 and D2-2"}
    twist: float | None = None
    if section.shape == sections.RECTANGULAR_TUBE:
        M_in = _rectangular_bending(section, length, in_plane=True)
        M_out = _rectangular_bending(section, length, in_plane=False)
        V_in = shear.shear_rectangular_hss(F_y, p.flat_u, p.wall, E=E)
        V_out = shear.shear_rectangular_hss(F_y, p.flat_v, p.wall, E=E)
        longer = max(p.slenderness_u, p.slenderness_v)
        twist = float(
            combined.torsion_rectangular_hss(
                F_y,
                combined.torsional_constant_rectangular_hss(p.width, p.height, p.wall),
                longer,
                E=E,
            )
        )
        clauses |= {"bending": "F7", "shear": "G4, Eq. G4-1", "torsion": "H3.1(b)"}
    elif section.shape == sections.ROUND_TUBE:
        D_over_t = p.width / p.wall
        M_in = M_out = float(
            bending.bending_round_hss(F_y, p.plastic_modulus_u, p.section_modulus_u, D_over_t, E=E)
        )
        V_in = V_out = shear.shear_round_hss(F_y, p.area, p.width, p.wall, length, E=E)
        twist = float(
            combined.torsion_round_hss(
                F_y, p.torsional_shear_constant, p.width, p.wall, length, E=E
            )
        )
        clauses |= {"bending": "F8", "shear": "G5, Eq. G5-1", "torsion": "H3.1(a)"}
    elif section.shape == sections.ROUND_BAR:
        M_in = M_out = float(bending.bending_round_bar(F_y, p.width))
        V_in = V_out = 0.6 * F_y * p.shear_area_u
        clauses |= {"bending": "F11", "shear": _BAR_SHEAR}
    elif section.shape == sections.FLAT_BAR:
        M_in = float(bending.bending_rectangular_bar(F_y, p.width, p.height, length, E=E))
        M_out = float(bending.bending_rectangular_bar(F_y, p.height, p.width, length, E=E))
        V_in, V_out = 0.6 * F_y * p.shear_area_u, 0.6 * F_y * p.shear_area_v
        clauses |= {"bending": "F11", "shear": _BAR_SHEAR}
    else:
        return Held(
            f"the strength of an {section.shape} is not there yet",
            ("a tube, a flat or a round bar, or an engineer's answer",),
        )
    return Capacity(
        tension=float(min(pulled, torn)),
        bending_in=float(available(M_in, LimitState.BENDING, method)),
        bending_out=float(available(M_out, LimitState.BENDING, method)),
        shear_in=float(available(V_in, LimitState.SHEAR, method)),
        shear_out=float(available(V_out, LimitState.SHEAR, method)),
        torsion=None if twist is None else float(available(twist, LimitState.TORSION, method)),
        clauses=clauses,
    )


def _rectangular_bending(section: CatalogueSection, length: float, *, in_plane: bool) -> float:
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
    S_e = bending.effective_section_modulus(F_y, inertia, p.area, depth, flange, p.wall, E=E)
    M_n = float(bending.bending_rectangular_hss(F_y, Z, S, flange, web, S_e=S_e, E=E))
    if major:
        sideways = bending.lateral_torsional_rectangular_hss(
            F_y, Z, S, p.area, r_y, p.torsion_constant, length, E=E
        )
        M_n = min(M_n, float(sideways))
    return M_n


def compressive_strength(
    section: CatalogueSection, length_in: Real, length_out: Real, method: Method
) -> tuple[Real, Real]:
    """Return the available compressive strength [N] and the governing L_c/r [-].

    Args:
        section: the member's section in its grade.
        length_in: effective length for buckling in the leaf's plane [m]; float or array.
        length_out: the same out of the plane [m].
        method: ASD or LRFD.
    """
    F_y, E = section.yield_stress, section.grade.elastic_modulus
    p = section.properties()
    slenderness = np.maximum(
        np.asarray(length_in) / p.radius_of_gyration_v,
        np.asarray(length_out) / p.radius_of_gyration_u,
    )
    if section.shape == sections.RECTANGULAR_TUBE:
        P_n = compression.compression_rectangular_hss(
            F_y, p.area, slenderness, p.slenderness_u, p.slenderness_v, p.wall, E=E
        )
    elif section.shape == sections.ROUND_TUBE:
        P_n = compression.compression_round_hss(F_y, p.area, slenderness, p.width / p.wall, E=E)
    else:
        P_n = compression.compression_nonslender(F_y, p.area, slenderness, E=E)
    return available(P_n, LimitState.COMPRESSION, method), slenderness
