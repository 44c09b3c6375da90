"""Friction of pivots: the radius at which each kind of bearing rubs, and the torque it holds.

Machine-design texts on pivot and collar bearings. *New* bearings press evenly; *worn* ones have
worn until pressure times radius is even, and rub on a smaller radius.
"""

from __future__ import annotations

import math

from leafwright.handbook._given import require_not_negative, require_positive


def ball_friction_radius(contact_radius: float) -> float:
    """Return the radius at which a turning ball's load rubs [m].

    Johnson, Contact Mechanics (1985), chapter 8: 3π/16 of its contact's radius, the integral of
    pressure times radius over a Hertz contact.

    contact_radius: a, see `contact.sphere_on_plane` [m].
    Raises ValueError where it is negative. Limits: elastic contact; a dent rubs at ⅔ of its own
    radius, see `flat_friction_radius`.
    """
    require_not_negative("the contact's radius", contact_radius, "m")
    return 3.0 * math.pi / 16.0 * contact_radius


def flat_friction_radius(radius: float, *, worn: bool = False) -> float:
    """Return the radius at which a flat pivot's load rubs [m].

    Statics, as in machine-design texts: ⅔ R under even pressure (new, the greater), ½ R under
    even wear.

    radius: R of the pivot [m].
    worn: whether it has worn in [-].
    Raises ValueError where the radius is not positive.
    """
    require_positive("the pivot's radius", radius, "m")
    return 0.5 * radius if worn else 2.0 / 3.0 * radius


def collar_friction_radius(outer: float, inner: float, *, worn: bool = False) -> float:
    """Return the radius at which a washer's load rubs [m].

    Statics, as in machine-design texts on collar bearings: ⅔ (R³ − r³)/(R² − r²) under even
    pressure (new, the greater), ½ (R + r) under even wear.

    outer: R of the washer [m].
    inner: r of its hole [m].
    worn: whether it has worn in [-].
    Raises ValueError where the outer radius is not greater than the inner.
    """
    if not outer > inner >= 0.0:
        raise ValueError(
            f"washer of radii {outer!r} and {inner!r} m: the outer radius must be the greater"
        )
    if worn:
        return 0.5 * (outer + inner)
    return 2.0 / 3.0 * (outer**3 - inner**3) / (outer**2 - inner**2)


def cone_friction_radius(outer: float, inner: float, half_angle: float) -> float:
    """Return the radius at which a cone's load rubs in its seat, load along the axis [m].

    Statics, as in machine-design texts on conical pivots, even pressure:
    ⅔ (R³ − r³)/(R² − r²) / sin α.

    outer: R where the cone leaves the seat [m].
    inner: r where it enters, 0 for a pointed one [m].
    half_angle: α of the cone, from the axis to its side [rad].
    Raises ValueError where the outer radius is not greater than the inner, or the angle not within
    0 to 90°. Limits: a steep cone wedges, and holds more than this.
    """
    if not 0.0 < half_angle <= math.pi / 2.0:
        raise ValueError(
            f"the cone's half angle is {half_angle!r} rad; give more than 0 and up to a right angle"
        )
    return collar_friction_radius(outer, inner) / math.sin(half_angle)


def friction_torque(load: float, radius: float, coefficient: float) -> float:
    """Return the torque that friction holds where a load rubs at a radius [N m].

    Coulomb's law: μ W r.

    load: W [N].
    radius: at which it rubs, see the functions of this module; for a pin its own [m].
    coefficient: of friction, μ [-].
    Raises ValueError where a value is negative.
    """
    require_not_negative("the load", load, "N")
    require_not_negative("the radius", radius, "m")
    require_not_negative("the coefficient of friction", coefficient, "")
    return coefficient * load * radius


def pivot_friction(
    weight: float,
    out: float,
    pin_spacing: float,
    coefficient: float,
    *,
    bottom_pin: float,
    top_pin: float,
    bearing: float,
) -> float:
    """Return the torque that the pivots of a hung leaf hold by friction [N m].

    Statics and Coulomb's law: each pin bears the couple H = W·out / spacing at its radius, the
    bearing bears W at its own: μ (H r_bottom + H r_top + W r_bearing).

    weight: W, all that turns [N].
    out: centre of gravity from the axis [m].
    pin_spacing: bottom pin to top pin [m].
    coefficient: of friction, μ [-].
    bottom_pin: radius of the bottom pin [m].
    top_pin: radius of the top pin [m].
    bearing: radius at which the weight rubs, see the functions of this module [m].
    Raises ValueError where the weight, a radius or the coefficient is negative, or the spacing not
    positive. Limits: pins that turn freely; close fits that bind are not in it.
    """
    require_positive("the spacing of the pins", pin_spacing, "m")
    couple = weight * abs(out) / pin_spacing
    return sum(
        friction_torque(load, radius, coefficient)
        for load, radius in ((couple, bottom_pin), (couple, top_pin), (weight, bearing))
    )
