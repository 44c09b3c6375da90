"""Closed forms for beams, portal frames, tubes in torsion and a hung leaf.

Small elastic deflections, prismatic members, no shear deformation. SI throughout.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright.records import Metres, NewtonMetres, Newtons, Pascals, Radians


@dataclass(frozen=True, slots=True)
class Cantilever:
    """A cantilever: moment at the root; deflection and slope at the tip."""

    moment: NewtonMetres
    deflection: Metres
    slope: Radians


@dataclass(frozen=True, slots=True)
class SimpleBeam:
    """A beam on two supports: greatest moment and deflection; reaction and slope at each end."""

    moment: NewtonMetres
    deflection: Metres
    reactions: tuple[Newtons, Newtons]
    slopes: tuple[Radians, Radians]


@dataclass(frozen=True, slots=True)
class ProppedCantilever:
    """A beam fixed at one end and propped at the other; places are measured from the prop."""

    fixed_moment: NewtonMetres
    fixed_reaction: Newtons
    prop_reaction: Newtons
    span_moment: NewtonMetres
    span_moment_at: Metres
    deflection: Metres
    deflection_at: Metres


@dataclass(frozen=True, slots=True)
class Portal:
    """A portal frame under a side load at the eaves; magnitudes, equal on both sides.

    ``vertical_reaction`` is downward under the loaded column and upward under the other.
    """

    knee_moment: NewtonMetres
    base_moment: NewtonMetres
    horizontal_reaction: Newtons
    vertical_reaction: Newtons
    sway: Metres


@dataclass(frozen=True, slots=True)
class TubeTorsion:
    """A closed tube in torsion: shear stress in the wall and twist per unit of length."""

    shear_stress: Pascals
    twist_per_metre: Radians


@dataclass(frozen=True, slots=True)
class HungLeaf:
    """A pin-jointed leaf hung by one stile; tension positive.

    Only one of the two diagonals is there: each force is what that one would carry alone.
    ``hinge_couple`` is the horizontal force at the top and at the bottom hinge.
    """

    rising_diagonal: Newtons
    falling_diagonal: Newtons
    hinge_couple: Newtons


def cantilever_tip_load(load: float, length: float, stiffness: float) -> Cantilever:
    """Return the moment, deflection and slope of a cantilever with a load at its tip.

    Roark's Formulas, Table 8.1 case 1a; AISC Manual Table 3-23.

    load: across the beam [N]; length: of the beam [m]; stiffness: EI [N m2].
    """
    return Cantilever(
        moment=load * length,
        deflection=load * length**3 / (3.0 * stiffness),
        slope=load * length**2 / (2.0 * stiffness),
    )


def simple_beam_uniform_load(load: float, length: float, stiffness: float) -> SimpleBeam:
    """Return the moment, deflection, reactions and slopes of a simple beam, uniformly loaded.

    AISC Manual Table 3-23 case 1.

    load: per unit of length [N/m]; length: of the beam [m]; stiffness: EI [N m2].
    """
    reaction = 0.5 * load * length
    slope = load * length**3 / (24.0 * stiffness)
    return SimpleBeam(
        moment=load * length**2 / 8.0,
        deflection=5.0 * load * length**4 / (384.0 * stiffness),
        reactions=(reaction, reaction),
        slopes=(slope, slope),
    )


def simple_beam_point_load(
    load: float, length: float, distance: float, stiffness: float
) -> SimpleBeam:
    """Return the moment, deflection, reactions and slopes of a simple beam with one point load.

    AISC Manual Table 3-23 case 8. The deflection is the greatest, which lies between the load and
    mid-span; the moment is that under the load.

    load: across the beam [N]; length: of the beam [m]; stiffness: EI [N m2].
    distance: of the load from the first support [m].
    Raises ValueError where the load is off the beam.
    """
    if not 0.0 <= distance <= length:
        raise ValueError(
            f"the load stands {distance!r} m along a beam of {length!r} m; "
            "give a distance from 0 to the beam's length"
        )
    a, b = distance, length - distance
    short = min(a, b)
    deflection = (
        load * short * (length**2 - short**2) ** 1.5 / (9.0 * math.sqrt(3.0) * length * stiffness)
    )
    return SimpleBeam(
        moment=load * a * b / length,
        deflection=deflection,
        reactions=(load * b / length, load * a / length),
        slopes=(
            load * a * b * (length + b) / (6.0 * length * stiffness),
            load * a * b * (length + a) / (6.0 * length * stiffness),
        ),
    )


def propped_cantilever_uniform_load(
    load: float, length: float, stiffness: float
) -> ProppedCantilever:
    """Return the moments, reactions and deflection of a propped cantilever, uniformly loaded.

    AISC Manual Table 3-23 case 12, whose wL⁴/185EI is the rounded deflection; here it is taken at
    its exact place, (1 + √33)L/16 from the prop.

    load: per unit of length [N/m]; length: of the beam [m]; stiffness: EI [N m2].
    """
    at = (1.0 + math.sqrt(33.0)) / 16.0 * length
    return ProppedCantilever(
        fixed_moment=load * length**2 / 8.0,
        fixed_reaction=5.0 * load * length / 8.0,
        prop_reaction=3.0 * load * length / 8.0,
        span_moment=9.0 * load * length**2 / 128.0,
        span_moment_at=3.0 * length / 8.0,
        deflection=load
        * at
        * (length**3 - 3.0 * length * at**2 + 2.0 * at**3)
        / (48.0 * stiffness),
        deflection_at=at,
    )


def portal_pinned_side_load(
    load: float, height: float, span: float, column_stiffness: float, beam_stiffness: float
) -> Portal:
    """Return the moments, reactions and sway of a pinned portal with a side load at the eaves.

    Kleinlogel, Rahmenformeln (rectangular two-hinged frame). Members do not stretch.

    load: at the eaves [N]; height, span: on centre lines [m]; column_stiffness, beam_stiffness:
    EI [N m2], both columns alike.
    """
    return Portal(
        knee_moment=0.5 * load * height,
        base_moment=0.0,
        horizontal_reaction=0.5 * load,
        vertical_reaction=load * height / span,
        sway=load * height**2 / 12.0 * (2.0 * height / column_stiffness + span / beam_stiffness),
    )


def portal_fixed_side_load(
    load: float, height: float, span: float, column_stiffness: float, beam_stiffness: float
) -> Portal:
    """Return the moments, reactions and sway of a fixed portal with a side load at the eaves.

    Kleinlogel, Rahmenformeln (rectangular frame with fixed feet), with
    k = (EI beam / EI column) × height / span. Members do not stretch.

    load: at the eaves [N]; height, span: on centre lines [m]; column_stiffness, beam_stiffness:
    EI [N m2], both columns alike.
    """
    k = beam_stiffness / column_stiffness * height / span
    knee = 0.5 * load * height * 3.0 * k / (6.0 * k + 1.0)
    return Portal(
        knee_moment=knee,
        base_moment=0.5 * load * height * (3.0 * k + 1.0) / (6.0 * k + 1.0),
        horizontal_reaction=0.5 * load,
        vertical_reaction=2.0 * knee / span,
        sway=load * height**3 * (3.0 * k + 2.0) / (12.0 * column_stiffness * (6.0 * k + 1.0)),
    )


def closed_tube_torsion(
    torque: float,
    enclosed_area: float,
    wall: float,
    torsion_constant: float,
    shear_modulus: float,
) -> TubeTorsion:
    """Return the wall's shear stress and the twist per metre of a thin closed tube (Bredt).

    Roark's Formulas, chapter 10 (thin-walled closed sections): τ = T / (2 A_m t), θ' = T / (G J).
    Thin walls only; warping is free.

    torque: about the tube's length [N m]; enclosed_area: within the mid-line of the wall, A_m [m2];
    wall: thickness [m]; torsion_constant: J [m4]; shear_modulus: G [Pa].
    """
    return TubeTorsion(
        shear_stress=torque / (2.0 * enclosed_area * wall),
        twist_per_metre=torque / (shear_modulus * torsion_constant),
    )


def hung_leaf(width: float, height: float, weight: float) -> HungLeaf:
    """Return the diagonal's force and the hinges' couple of a pin-jointed hung leaf.

    Statics: half the weight acts at the free stile and is carried by the one diagonal. Tension
    positive: the diagonal that rises from the bottom hinge to the top free corner is in
    compression, the falling one in tension. In a welded leaf the rigid corners share the load.

    width: between stiles' centre lines [m]; height: between hinges [m]; weight: of the leaf [N].
    """
    diagonal = 0.5 * weight * math.hypot(width, height) / height
    return HungLeaf(
        rising_diagonal=-diagonal,
        falling_diagonal=diagonal,
        hinge_couple=0.5 * weight * width / height,
    )
