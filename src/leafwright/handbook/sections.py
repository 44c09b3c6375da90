"""Section properties of tubes, bars and angles, exact from the outline wherever that is possible.

Axes: u lies in the plane of a leaf, v across it. "About u" is bending out of the leaf's plane,
"about v" bending in it. Clauses of AISC 360 are of ANSI/AISC 360-22.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from leafwright.handbook import outlines
from leafwright.handbook.outlines import Outline
from leafwright.records import (
    CubicMetres,
    Metres,
    Number,
    QuarticMetres,
    SquareMetres,
)

RECTANGULAR_TUBE = "rectangular tube"
ROUND_TUBE = "round tube"
ROUND_BAR = "round bar"
FLAT_BAR = "flat bar"
ANGLE = "angle"


@dataclass(frozen=True, slots=True)
class SectionProperties:
    """Properties of one cross-section; u and v as in the module's first lines.

    ``inertia_u`` is the integral of v² about the centroid: bending about u. Section moduli are to
    the furthest fibre. ``shear_area_u`` resists a force along u. ``flat_u`` is the flat width of
    the walls that lie along u and ``slenderness_u`` that width over the wall; a round tube has
    its diameter there, a solid bar 0, having no wall to buckle. ``wall`` of a solid bar is 0.
    """

    shape: str
    width: Metres
    height: Metres
    wall: Metres
    area: SquareMetres
    centroid_u: Metres
    centroid_v: Metres
    inertia_u: QuarticMetres
    inertia_v: QuarticMetres
    product_uv: QuarticMetres
    section_modulus_u: CubicMetres
    section_modulus_v: CubicMetres
    plastic_modulus_u: CubicMetres
    plastic_modulus_v: CubicMetres
    radius_of_gyration_u: Metres
    radius_of_gyration_v: Metres
    least_radius_of_gyration: Metres
    torsion_constant: QuarticMetres
    torsional_shear_constant: CubicMetres
    shear_area_u: SquareMetres
    shear_area_v: SquareMetres
    flat_u: Metres
    flat_v: Metres
    slenderness_u: Number
    slenderness_v: Number
    perimeter: Metres


def properties_of_rectangular_tube(
    width: float,
    height: float,
    wall: float,
    *,
    outer_radius: float | None = None,
    inner_radius: float | None = None,
) -> SectionProperties:
    """Return the properties of a square or rectangular tube by AISC conventions.

    Torsion: Bredt, J = 4 A_h² t / h on the mid-line with rounded corners, as the AISC Shapes
    Database v16.0 tables it; C = 2 t A_h, which at the usual radii is ANSI/AISC 360-22 H3.1 (user
    note), 2(B - t)(H - t)t - 4.5(4 - π)t³. Flat widths: outside less 3t (B4.1b(d), corner radius
    not known). Shear area 2ht of the two walls along the force (G4).

    width, height: outside along u and v [m]; wall: design wall thickness (B4.2) [m].
    outer_radius, inner_radius: corners [m]; 2t and t where not given (common practice of the AISC
    tables). Raises ValueError where the sizes leave no tube.
    """
    outer = 2.0 * wall if outer_radius is None else outer_radius
    inner = wall if inner_radius is None else inner_radius
    A_h, h = _midline(width, height, wall, outer, inner)
    return _rectangular_tube(
        width,
        height,
        wall,
        outer,
        inner,
        torsion_constant=4.0 * A_h**2 * wall / h,
        torsional_shear_constant=2.0 * wall * A_h,
    )


def en10219_radii(wall: float) -> tuple[Metres, Metres]:
    """Return the outer and inner corner radius of a cold-formed tube for calculation [m].

    EN 10219-2, annex of formulae (Annex A in the 2019 edition): 2T and T up to T = 6 mm, 2.5T and
    1.5T up to 10 mm, 3T and 2T above. The annex was not opened; published tables of cold-formed
    sections agree to their last printed digit in all three ranges.

    wall: nominal thickness T [m].
    """
    if wall <= 0.006:
        return 2.0 * wall, wall
    if wall <= 0.010:
        return 2.5 * wall, 1.5 * wall
    return 3.0 * wall, 2.0 * wall


def en10219_properties(width: float, height: float, wall: float) -> SectionProperties:
    """Return the properties of a square or rectangular tube by EN 10219-2.

    EN 10219-2, annex of formulae (Annex A in the 2019 edition). Area and moduli are those of the
    rounded outline. Torsion: I_t = T³h/3 + 2 K A_h with K = 2 A_h T / h, and
    C_t = I_t / (T + K/T). Flat widths are outside less 3T.

    width, height: outside along u and v [m]; wall: nominal thickness T [m].
    Raises ValueError where the sizes leave no tube.
    """
    outer, inner = en10219_radii(wall)
    A_h, h = _midline(width, height, wall, outer, inner)
    K = 2.0 * A_h * wall / h
    I_t = wall**3 * h / 3.0 + 2.0 * K * A_h
    return _rectangular_tube(
        width,
        height,
        wall,
        outer,
        inner,
        torsion_constant=I_t,
        torsional_shear_constant=I_t / (wall + K / wall),
    )


def properties_of_round_tube(outside_diameter: float, wall: float) -> SectionProperties:
    """Return the properties of a round tube.

    J is the polar moment; C = π(D - t)²t/2 (ANSI/AISC 360-22 H3.1, user note); shear area A/2
    (G5); width to thickness is D/t (B4.1b(g)).

    outside_diameter: over the outside, D [m]; wall: design wall thickness [m].
    """
    outline = outlines.round_tube(outside_diameter, wall)
    polar = 2.0 * outlines.moments(outline).uu
    area = outlines.moments(outline).area
    return _properties(
        ROUND_TUBE,
        outline,
        wall=wall,
        torsion_constant=polar,
        torsional_shear_constant=0.5 * math.pi * (outside_diameter - wall) ** 2 * wall,
        shear_areas=(0.5 * area, 0.5 * area),
        flats=(outside_diameter, outside_diameter),
    )


def en10219_round_properties(outside_diameter: float, wall: float) -> SectionProperties:
    """Return the properties of a round tube by EN 10219-2.

    EN 10219-2, annex of formulae (Annex A in the 2019 edition): as `properties_of_round_tube`, but
    C_t = 2 W_el, the stress at the outer fibre rather than in the middle of the wall.

    outside_diameter: D [m]; wall: nominal thickness T [m].
    """
    tube = properties_of_round_tube(outside_diameter, wall)
    return replace(tube, torsional_shear_constant=2.0 * tube.section_modulus_u)


def properties_of_round_bar(diameter: float) -> SectionProperties:
    """Return the properties of a solid round bar.

    Geometry: J = πd⁴/32, C = J/(d/2); shear area 3A/4, so that V over it is the greatest elastic
    stress.

    diameter: d [m].
    """
    outline = outlines.round_bar(diameter)
    section = outlines.moments(outline)
    return _properties(
        ROUND_BAR,
        outline,
        wall=0.0,
        torsion_constant=2.0 * section.uu,
        torsional_shear_constant=4.0 * section.uu / diameter,
        shear_areas=(0.75 * section.area, 0.75 * section.area),
        flats=(0.0, 0.0),
    )


def properties_of_flat_bar(width: float, thickness: float) -> SectionProperties:
    """Return the properties of a solid rectangular bar, width along u, thickness along v.

    Torsion by Saint-Venant's series for a rectangle (Timoshenko and Goodier, Theory of
    Elasticity, torsion of rectangular bars); shear area 2A/3, so that V over it is the greatest
    elastic stress.

    width, thickness: the two sides [m]; either may be the larger.
    """
    outline = outlines.flat_bar(width, thickness)
    area = width * thickness
    J, C = _torsion_of_rectangle(max(width, thickness), min(width, thickness))
    return _properties(
        FLAT_BAR,
        outline,
        wall=0.0,
        torsion_constant=J,
        torsional_shear_constant=C,
        shear_areas=(area / 1.5, area / 1.5),
        flats=(0.0, 0.0),
    )


def properties_of_angle(
    leg_a: float,
    leg_b: float,
    thickness: float,
    *,
    root_radius: float = 0.0,
    toe_radius: float = 0.0,
) -> SectionProperties:
    """Return the properties of an angle about axes through its centroid along its legs.

    The axes are not principal ones: see ``product_uv`` and ``least_radius_of_gyration``.
    J = Σ b t³ / 3 over both legs, fillets neglected (safe); C = J/t; shear area of a force along a
    leg is that leg, b t (ANSI/AISC 360-22 G3); b/t is the full leg (B4.1a).

    leg_a: along u [m]; leg_b: along v [m]; thickness: of both legs [m].
    root_radius, toe_radius: of the fillet in the heel and of the toes [m]; 0 is sharp.
    """
    outline = outlines.angle(
        leg_a, leg_b, thickness, root_radius=root_radius, toe_radius=toe_radius
    )
    J = (leg_a + leg_b - thickness) * thickness**3 / 3.0
    return _properties(
        ANGLE,
        outline,
        wall=thickness,
        torsion_constant=J,
        torsional_shear_constant=J / thickness,
        shear_areas=(leg_a * thickness, leg_b * thickness),
        flats=(leg_a, leg_b),
    )


def plastic_modulus(outline: Outline) -> CubicMetres:
    """Return the plastic section modulus for bending about v: the integral of |u - u0| dA [m3].

    Definition of the plastic modulus: u0 is the line along v that halves the area, found to the
    last bits by bisection. For bending about u, give the outline turned by a quarter
    (`outlines.quarter_turned`).

    outline: of the section.
    """
    whole = outlines.moments(outline)
    low, high = outlines.extent(outline)[:2]
    least, greatest = low, high
    halving = 0.5 * (low + high)
    # A symmetric section is halved at once; 60 halvings leave nothing of any width.
    for _ in range(60):
        excess = outlines.moments(outline, u_to=halving).area - 0.5 * whole.area
        if abs(excess) <= 1e-14 * whole.area:
            break
        low, high = (low, halving) if excess > 0.0 else (halving, high)
        halving = 0.5 * (low + high)
    below = outlines.moments(outline, u_from=least, u_to=halving)
    above = outlines.moments(outline, u_from=halving, u_to=greatest)
    return (above.u - halving * above.area) - (below.u - halving * below.area)


def _rectangular_tube(
    width: float,
    height: float,
    wall: float,
    outer_radius: float,
    inner_radius: float,
    *,
    torsion_constant: float,
    torsional_shear_constant: float,
) -> SectionProperties:
    flat_u, flat_v = width - 3.0 * wall, height - 3.0 * wall
    return _properties(
        RECTANGULAR_TUBE,
        outlines.rectangular_tube(width, height, wall, outer_radius, inner_radius),
        wall=wall,
        torsion_constant=torsion_constant,
        torsional_shear_constant=torsional_shear_constant,
        shear_areas=(2.0 * flat_u * wall, 2.0 * flat_v * wall),
        flats=(flat_u, flat_v),
    )


def _midline(
    width: float, height: float, wall: float, outer_radius: float, inner_radius: float
) -> tuple[float, float]:
    """Return the area within the wall's mid-line and the mid-line's length."""
    R_c = 0.5 * (outer_radius + inner_radius)
    A_h = (width - wall) * (height - wall) - R_c**2 * (4.0 - math.pi)
    h = 2.0 * ((width - wall) + (height - wall)) - 2.0 * R_c * (4.0 - math.pi)
    return A_h, h


def _torsion_of_rectangle(long: float, short: float) -> tuple[float, float]:
    """Return J and C of a solid rectangle by Saint-Venant's series."""
    of_J = of_C = 0.0
    for n in range(1, 60, 2):
        argument = 0.5 * n * math.pi * long / short
        of_J += math.tanh(argument) / n**5
        if argument < 700.0:  # beyond it cosh overflows and the term is nothing
            of_C += 1.0 / (n**2 * math.cosh(argument))
    J = long * short**3 / 3.0 * (1.0 - 192.0 * short / (math.pi**5 * long) * of_J)
    return J, J / (short * (1.0 - 8.0 / math.pi**2 * of_C))


def _properties(
    shape: str,
    outline: Outline,
    *,
    wall: float,
    torsion_constant: float,
    torsional_shear_constant: float,
    shear_areas: tuple[float, float],
    flats: tuple[float, float],
) -> SectionProperties:
    u_min, u_max, v_min, v_max = outlines.extent(outline)
    section = outlines.moments(outline)
    u, v = section.u / section.area, section.v / section.area
    inertia_u = section.vv - section.area * v * v
    inertia_v = section.uu - section.area * u * u
    product = section.uv - section.area * u * v
    mean, half = 0.5 * (inertia_u + inertia_v), 0.5 * (inertia_u - inertia_v)
    least = mean - math.hypot(half, product)
    return SectionProperties(
        shape=shape,
        width=u_max - u_min,
        height=v_max - v_min,
        wall=wall,
        area=section.area,
        centroid_u=u,
        centroid_v=v,
        inertia_u=inertia_u,
        inertia_v=inertia_v,
        product_uv=product,
        section_modulus_u=inertia_u / max(v_max - v, v - v_min),
        section_modulus_v=inertia_v / max(u_max - u, u - u_min),
        plastic_modulus_u=plastic_modulus(outlines.quarter_turned(outline)),
        plastic_modulus_v=plastic_modulus(outline),
        radius_of_gyration_u=math.sqrt(inertia_u / section.area),
        radius_of_gyration_v=math.sqrt(inertia_v / section.area),
        least_radius_of_gyration=math.sqrt(least / section.area),
        torsion_constant=torsion_constant,
        torsional_shear_constant=torsional_shear_constant,
        shear_area_u=shear_areas[0],
        shear_area_v=shear_areas[1],
        flat_u=flats[0],
        flat_v=flats[1],
        slenderness_u=flats[0] / wall if wall else 0.0,
        slenderness_v=flats[1] / wall if wall else 0.0,
        perimeter=outlines.perimeter(outline),
    )
