"""What friction holds about a leaf's axis, and the push at its nose that moves it: a range."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.handbook import contact, friction
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, FloorPivot
from leafwright.mount.records import Mounting
from leafwright.records import NewtonMetres, Newtons, Number
from leafwright.units.constants import INCH, POUND_FORCE, STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Friction:
    """What friction holds about the axis, and the push at the nose that moves the leaf.

    Each least and greatest, for the two coefficients [N m, N].
    """

    coefficients: tuple[Number, Number]
    torque: tuple[NewtonMetres, NewtonMetres]
    push: tuple[Newtons, Newtons]


def friction_of(m: Mounting) -> tuple[Friction | None, tuple[Quantity, ...]]:
    """Return what the leaf's pivots hold by friction, and the defaults it rests on.

    None where a size is not known. `handbook.friction.pivot_friction`: pins at their own radius,
    weight on the ball at the radius of its contact, or on a barrel's end.
    """
    mount, system = m.table.mount, m.job.job.system
    low, high = (
        chosen(None, name, f"site/{name}", name, system=system)
        for name in ("least pin friction", "greatest pin friction")
    )
    radius = None if mount.pin_diameter is None else mount.pin_diameter.si / 2.0
    if radius is None:
        return None, (low, high)
    weight = m.leaf.hung_mass * float(STANDARD_GRAVITY)
    axis = m.place.axis.value
    centre = m.leaf.centre[0]
    out = (centre if m.leaf.hand == "left" else m.leaf.width - centre) - axis
    spacing, top = m.leaf.height, radius
    if isinstance(mount, BarrelHinge):
        heights = sorted(h.si for h in mount.heights)
        spacing = heights[-1] - heights[0]
        # The barrel's end is taken as wide as twice the pin (common practice, no source).
        bearing = friction.collar_friction_radius(2.0 * radius, radius)
    elif mount.ball_diameter is not None:
        seated = contact.sphere_on_plane(weight, mount.ball_diameter.si / 2.0)
        bearing = friction.ball_friction_radius(seated.radius)
    else:
        bearing = friction.flat_friction_radius(radius)
    if isinstance(mount, FloorPivot) and mount.top_pin_diameter is not None:
        top = mount.top_pin_diameter.si / 2.0
    torques = [
        friction.pivot_friction(
            weight, out, spacing, mu.value, bottom_pin=radius, top_pin=top, bearing=bearing
        )
        for mu in (low, high)
    ]
    reach = m.leaf.width - axis
    return (
        Friction(
            coefficients=(low.value, high.value),
            torque=(torques[0], torques[1]),
            push=(torques[0] / reach, torques[1] / reach),
        ),
        (low, high),
    )


def friction_words(m: Mounting) -> tuple[tuple[Quantity, ...], str]:
    """Return a sentence about the friction and the defaults behind it; "" where not known."""
    found, used = friction_of(m)
    if found is None:
        return (), ""
    low, high = found.torque
    push = [_push(m, force) for force in found.push]
    return (
        used,
        f"Friction holds {_torque(m, low)} to {_torque(m, high)} about the axis (coefficient "
        f"{found.coefficients[0]:g} greased to {found.coefficients[1]:g} dirty): a push of "
        f"{push[0]} to {push[1]} at the nose. A leaf that pushes harder than that in still air "
        "binds or leans; it is not heavy.",
    )


def _torque(m: Mounting, newton_metres: float) -> str:
    """Return a small torque: lb·in or N·m."""
    if m.tape.system == "mm":
        return f"{newton_metres:.2f} N·m"
    return f"{newton_metres / float(POUND_FORCE * INCH):.1f} lb·in"


def _push(m: Mounting, newtons: float) -> str:
    """Return a push to a tenth of a pound or newton: friction is known to a factor."""
    if m.tape.system == "mm":
        return f"{max(newtons, 0.1):.1f} N"
    return f"{max(newtons / float(POUND_FORCE), 0.1):.1f} lbf"
