"""Where a ball or a roller bears: contact, first yield and dent.

K. L. Johnson, Contact Mechanics (1985), after Hertz: smooth, frictionless, elastic bodies whose
contact is small against their radii. Equation numbers are from memory; every value is recomputed
in the tests. The plane and the seat are thick against the contact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.records import Metres, Newtons, NewtonsPerMetre, Pascals

#: Greatest shear under a circular contact, over p0, and its depth over a; ν = 0.3 (Johnson 4.2).
POINT_SHEAR: Final = 0.310
POINT_SHEAR_DEPTH: Final = 0.481

#: The same under a line of contact (Johnson 4.2c); it does not hang on ν.
LINE_SHEAR: Final = 0.300
LINE_SHEAR_DEPTH: Final = 0.786

#: Mean pressure under a fully plastic dent, over the yield stress (Johnson 6.3; Tabor).
FULLY_PLASTIC: Final = 3.0

#: One unit of Brinell hardness, 1 kgf/mm2 [Pa] (ISO 6506-1).
BRINELL: Final = 9.80665e6

STEEL_MODULUS: Final = 200e9
STEEL_POISSON: Final = 0.3
#: Contact modulus of steel on steel [Pa], of E = 200 GPa and ν = 0.3 (EN 1993-1-1 has 210 GPa).
STEEL_ON_STEEL: Final = STEEL_MODULUS / (2.0 * (1.0 - STEEL_POISSON**2))


@dataclass(frozen=True, slots=True)
class PointContact:
    """A round contact between two bodies.

    Attributes:
        radius: a, of the contact.
        peak_pressure: p0, in its middle; the mean is two thirds of it.
        approach: δ, by which far parts of the two bodies come together.
        greatest_shear: τ, under the surface (ν = 0.3).
        shear_depth: where it is.
        edge_tension: σ_r, at the contact's edge, pulling outward (ν = 0.3).
    """

    radius: Metres
    peak_pressure: Pascals
    approach: Metres
    greatest_shear: Pascals
    shear_depth: Metres
    edge_tension: Pascals


@dataclass(frozen=True, slots=True)
class LineContact:
    """A strip of contact between a cylinder and another body.

    Attributes:
        half_width: b, half the width of the strip.
        peak_pressure: p0, along its middle.
        greatest_shear: τ, under the surface.
        shear_depth: where it is.
    """

    half_width: Metres
    peak_pressure: Pascals
    greatest_shear: Pascals
    shear_depth: Metres


@dataclass(frozen=True, slots=True)
class Dent:
    """What a ball leaves in a seat: diameter across the dent, and depth below the flat."""

    diameter: Metres
    depth: Metres


def contact_modulus(
    elastic_modulus: float,
    poisson: float,
    *,
    other_modulus: float | None = None,
    other_poisson: float | None = None,
) -> float:
    """Return the contact modulus E* of two bodies [Pa].

    Johnson, Contact Mechanics (1985), section 4.2: 1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2.

    Args:
        elastic_modulus: E of one body [Pa].
        poisson: Poisson's ratio ν of it [-].
        other_modulus: E of the other body, as the first where left out [Pa].
        other_poisson: ν of the other body, as the first where left out [-].

    Raises ValueError where a modulus is not positive or a ratio not from 0 to 0.5.
    """
    bodies = (
        (elastic_modulus, poisson),
        (
            elastic_modulus if other_modulus is None else other_modulus,
            poisson if other_poisson is None else other_poisson,
        ),
    )
    softness = 0.0
    for E, nu in bodies:
        require_positive("the modulus of elasticity", E, "Pa")
        if not 0.0 <= nu <= 0.5:
            raise ValueError(f"Poisson's ratio is {nu!r}; give 0 to 0.5 (steel 0.3)")
        softness += (1.0 - nu**2) / E
    return 1.0 / softness


def sphere_on_plane(load: float, radius: float, *, modulus: float = STEEL_ON_STEEL) -> PointContact:
    """Return the contact of a ball on a flat seat.

    Johnson, Contact Mechanics (1985), eqs. 4.22 to 4.24: a = (3 F R / 4 E*)^⅓,
    p0 = 3 F / 2π a², δ = a² / R; the greatest shear is 0.310 p0 at 0.481 a (ν = 0.3).

    Args:
        load: F on the ball [N].
        radius: R of the ball [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where the load is negative, or the radius or modulus not positive.
    Limits: elastic; a mild seat dents under far less than a hard ball bears, see `first_yield_load`
    and `brinell_dent`; the contact is then wider.
    """
    return _point_contact(load, radius, modulus)


def sphere_in_seat(
    load: float, radius: float, seat_radius: float, *, modulus: float = STEEL_ON_STEEL
) -> PointContact:
    """Return the contact of a ball in a hollow seat.

    Johnson, Contact Mechanics (1985), section 4.2: as a ball on a flat, with
    1/R* = 1/R − 1/R_seat.

    Args:
        load: F on the ball [N].
        radius: R of the ball [m].
        seat_radius: of the hollow, larger than the ball's [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where the seat is not larger than the ball, or the contact is more than 0.3 of
    the ball's radius. Limits: elastic, contact small against the ball: a seat that fits the ball
    closely bears over more than this gives.
    """
    require_positive("the ball's radius", radius, "m")
    if not seat_radius > radius:
        raise ValueError(
            f"a seat of radius {seat_radius!r} m does not take a ball of radius {radius!r} m; "
            "give the seat's radius, larger than the ball's"
        )
    found = _point_contact(load, radius * seat_radius / (seat_radius - radius), modulus)
    if found.radius > 0.3 * radius:
        raise ValueError(
            f"the contact's radius of {found.radius!r} m is more than 0.3 of the ball's "
            f"{radius!r} m, too wide for this theory; take the load over the seat's whole area"
        )
    return found


def two_spheres(
    load: float, radius: float, other_radius: float, *, modulus: float = STEEL_ON_STEEL
) -> PointContact:
    """Return the contact of two balls, or of a ball on a domed end.

    Johnson, Contact Mechanics (1985), section 4.2: as a ball on a flat, with
    1/R* = 1/R1 + 1/R2.

    Args:
        load: F that presses them together [N].
        radius: R1 of one [m].
        other_radius: R2 of the other [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where the load is negative, or a radius or the modulus not positive.
    Limits: elastic, see `sphere_on_plane`.
    """
    require_positive("the radius", radius, "m")
    require_positive("the other radius", other_radius, "m")
    return _point_contact(load, radius * other_radius / (radius + other_radius), modulus)


def cylinder_on_plane(
    load: float, radius: float, *, modulus: float = STEEL_ON_STEEL
) -> LineContact:
    """Return the contact of a pin or roller lying on a flat.

    Johnson, Contact Mechanics (1985), eqs. 4.43 to 4.45: b = √(4 P R / π E*),
    p0 = √(P E* / π R); the greatest shear is 0.300 p0 at 0.786 b.

    Args:
        load: P on each metre of the cylinder [N/m].
        radius: R of the cylinder [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where the load is negative, or the radius or modulus not positive.
    Limits: elastic; even load along the cylinder (its ends bear harder); how far the bodies come
    together hangs on the whole of them, and is not given.
    """
    return _line_contact(load, radius, modulus)


def pin_in_bore(
    load: float, pin_radius: float, bore_radius: float, *, modulus: float = STEEL_ON_STEEL
) -> LineContact:
    """Return the contact of a loose pin on the side of its bore.

    Johnson, Contact Mechanics (1985), section 4.2c: as a cylinder on a flat, with
    1/R* = 1/R_pin − 1/R_bore.

    Args:
        load: P on each metre of engagement [N/m].
        pin_radius: of the pin [m].
        bore_radius: of the bore, larger than the pin's [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where the bore is not larger than the pin, or the strip is wider than 0.3 of
    the pin's radius to each side. Limits: elastic, parallel; a tilted pin bears on its ends.
    """
    require_positive("the pin's radius", pin_radius, "m")
    if not bore_radius > pin_radius:
        raise ValueError(
            f"a bore of radius {bore_radius!r} m does not take a pin of radius {pin_radius!r} m; "
            "give the bore's radius, larger than the pin's"
        )
    found = _line_contact(load, pin_radius * bore_radius / (bore_radius - pin_radius), modulus)
    if found.half_width > 0.3 * pin_radius:
        raise ValueError(
            f"the contact's half width of {found.half_width!r} m is more than 0.3 of the pin's "
            f"radius {pin_radius!r} m, too wide for this theory; take the load over the pin's "
            "diameter times its engagement"
        )
    return found


def axis_shear(peak_pressure: float, contact_radius: float, depth: float, poisson: float) -> float:
    """Return the greatest shear at a depth under the middle of a round contact [Pa].

    Johnson, Contact Mechanics (1985), eq. 3.45, z = depth: σ_z = −p0 / (1 + z²/a²),
    σ_r = −p0 {(1 + ν)(1 − z/a·arctan(a/z)) − ½/(1 + z²/a²)}, τ = ½ |σ_z − σ_r|.

    Args:
        peak_pressure: p0 of the contact [Pa].
        contact_radius: a of the contact [m].
        depth: z below the surface [m].
        poisson: Poisson's ratio ν [-].

    Raises ValueError where the contact's radius is not positive or the depth negative.
    Limits: elastic, on the axis.
    """
    require_positive("the contact's radius", contact_radius, "m")
    require_not_negative("the depth", depth, "m")
    deep = depth / contact_radius
    spread = 1.0 / (1.0 + deep**2)
    lean = 1.0 - deep * math.atan2(1.0, deep)
    across = (1.0 + poisson) * lean - 0.5 * spread
    return 0.5 * peak_pressure * abs(spread - across)


def load_at_pressure(
    peak_pressure: float, radius: float, *, modulus: float = STEEL_ON_STEEL
) -> float:
    """Return the load at which a ball on a flat reaches a peak pressure [N].

    Johnson, Contact Mechanics (1985), eq. 4.24 turned round: F = π³ p0³ R² / 6 E*². At
    p0 = 4200 MPa it is the static limit of hardened ball bearings by ISO 76 (from memory).

    Args:
        peak_pressure: p0 [Pa].
        radius: R of the ball, or R* of the pair [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where a value is not positive.
    """
    require_positive("the peak pressure", peak_pressure, "Pa")
    require_positive("the radius", radius, "m")
    require_positive("the contact modulus", modulus, "Pa")
    return math.pi**3 * peak_pressure**3 * radius**2 / (6.0 * modulus**2)


def first_yield_load(
    yield_stress: float, radius: float, *, modulus: float = STEEL_ON_STEEL
) -> float:
    """Return the load at which the softer of ball and flat first yields, below the surface [N].

    Johnson, Contact Mechanics (1985), eqs. 6.9 and 6.10, Tresca: the greatest shear 0.310 p0
    reaches ½ Y, so p0 = 1.60 Y (rounded as the source prints it), in F = π³ p0³ R² / 6 E*².

    Args:
        yield_stress: Y of the softer body [Pa].
        radius: R of the ball, or R* of the pair [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where a value is not positive. Limits: ν = 0.3. Nothing shows at this load; a
    lasting dent is seen at loads some hundred times it, see `brinell_dent`.
    """
    require_positive("the yield stress", yield_stress, "Pa")
    return load_at_pressure(1.60 * yield_stress, radius, modulus=modulus)


def first_yield_line_load(
    yield_stress: float, radius: float, *, modulus: float = STEEL_ON_STEEL
) -> float:
    """Return the load on each metre at which a cylinder or its flat first yields [N/m].

    Johnson, Contact Mechanics (1985), section 6.1, Tresca: the greatest shear 0.300 p0 reaches
    ½ Y, so p0 = 1.67 Y (rounded as the source prints it), in P = π R p0² / E*.

    Args:
        yield_stress: Y of the softer body [Pa].
        radius: R of the cylinder, or R* of the pair [m].
        modulus: contact modulus E*, see `contact_modulus` [Pa].

    Raises ValueError where a value is not positive.
    """
    require_positive("the yield stress", yield_stress, "Pa")
    require_positive("the radius", radius, "m")
    require_positive("the contact modulus", modulus, "Pa")
    return math.pi * radius * (1.67 * yield_stress) ** 2 / modulus


def indentation_hardness(yield_stress: float) -> float:
    """Return the mean pressure under a full dent in a steel of this yield stress [Pa].

    Johnson, Contact Mechanics (1985), section 6.3: p_m ≈ 3 Y. Y is the flow stress of the steel as
    it is after some strain: the yield stress for a steel that does not harden.

    Args:
        yield_stress: Y [Pa].

    Raises ValueError where it is not positive. Limits: metals; within some 10 %.
    """
    require_positive("the yield stress", yield_stress, "Pa")
    return FULLY_PLASTIC * yield_stress


def brinell_hardness(load: float, ball_diameter: float, dent_diameter: float) -> float:
    """Return the Brinell hardness that a dent shows [-].

    ISO 6506-1, 0.102 × 2F / π D (D − √(D² − d²)): load in kgf over the dent's curved area in mm².

    Args:
        load: F [N].
        ball_diameter: D [m].
        dent_diameter: d, measured across the dent [m].

    Raises ValueError where a value is not positive or the dent is wider than the ball.
    """
    require_positive("the load", load, "N")
    require_positive("the dent's diameter", dent_diameter, "m")
    if not dent_diameter <= ball_diameter:
        raise ValueError(
            f"a dent of {dent_diameter!r} m is wider than its ball of {ball_diameter!r} m; "
            "measure both again"
        )
    depth = 0.5 * (ball_diameter - math.sqrt(ball_diameter**2 - dent_diameter**2))
    return load / (math.pi * ball_diameter * depth) / BRINELL


def brinell_dent(load: float, ball_diameter: float, hardness: float) -> Dent:
    """Return the dent that a hard ball leaves in a softer flat [m].

    ISO 6506-1 turned round: depth h = F / π D HB, diameter 2 √(h (D − h)); HB in kgf/mm².

    Args:
        load: F [N].
        ball_diameter: D [m].
        hardness: Brinell hardness of the flat [-].

    Raises ValueError where a value is not positive, or the ball would sink to its middle.
    Limits: the ball stays round (some 2.5 times as hard as the flat, common practice), the flat is
    thicker than eight times the depth (ISO 6506-1). Dents of less than a quarter of the ball's
    diameter (d/D under 0.24, ISO 6506-1) are partly elastic, and smaller than this gives.
    """
    require_not_negative("the load", load, "N")
    require_positive("the ball's diameter", ball_diameter, "m")
    require_positive("the hardness", hardness, "(Brinell)")
    depth = load / (math.pi * ball_diameter * hardness * BRINELL)
    if depth > 0.5 * ball_diameter:
        raise ValueError(
            f"{load!r} N sinks a ball of {ball_diameter!r} m past its middle at hardness "
            f"{hardness!r}; take a larger ball or a harder seat"
        )
    return Dent(2.0 * math.sqrt(depth * (ball_diameter - depth)), depth)


def _point_contact(load: Newtons, radius: Metres, modulus: Pascals) -> PointContact:
    require_not_negative("the load", load, "N")
    require_positive("the radius", radius, "m")
    require_positive("the contact modulus", modulus, "Pa")
    a = math.cbrt(0.75 * load * radius / modulus)
    # As 2 E* a / π R, which an unloaded contact does not divide by zero.
    p0 = 2.0 * modulus * a / (math.pi * radius)
    return PointContact(
        radius=a,
        peak_pressure=p0,
        approach=a**2 / radius,
        greatest_shear=POINT_SHEAR * p0,
        shear_depth=POINT_SHEAR_DEPTH * a,
        edge_tension=(1.0 - 2.0 * STEEL_POISSON) / 3.0 * p0,
    )


def _line_contact(load: NewtonsPerMetre, radius: Metres, modulus: Pascals) -> LineContact:
    require_not_negative("the load", load, "N/m")
    require_positive("the radius", radius, "m")
    require_positive("the contact modulus", modulus, "Pa")
    b = math.sqrt(4.0 * load * radius / (math.pi * modulus))
    p0 = math.sqrt(load * modulus / (math.pi * radius))
    return LineContact(b, p0, LINE_SHEAR * p0, LINE_SHEAR_DEPTH * b)
