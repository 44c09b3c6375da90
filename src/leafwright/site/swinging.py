"""How a leaf swings on an axis that leans: gravity's torque, friction, period and energy.

Angles of opening are 0 closed, positive toward the viewer and negative away. An axis that leans
lifts the leaf's centre of gravity as it turns: the leaf falls toward where the axis' top leans to.
With W the weight, ρ the distance of the centre of gravity from the axis and λ the lean, the torque
is W·ρ·sin λ·sin(angle from the lowest place), exactly; friction holds it up to what the pins and
the bearing give.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.handbook.friction import pivot_friction as friction_of_pivots
from leafwright.records import Metres, Newtons, Radians


@dataclass(frozen=True, slots=True)
class AxisLean:
    """How far an axis is out of plumb, and how surely that is known.

    ``x`` is the lean of its top to the right and ``z`` that toward the viewer, as seen from the
    face side; each is the angle whose tangent is the offset over the height.
    """

    x: Radians
    z: Radians
    sd_x: Radians = 0.0
    sd_z: Radians = 0.0


@dataclass(frozen=True, slots=True)
class SwingingLeaf:
    """What of a hung leaf decides how it swings.

    Attributes:
        key: the leaf.
        hand: the side on which it hangs, as seen from the face side.
        weight: the hung weight with all that turns [N].
        out: centre of gravity, from the axis along the closed leaf [m].
        through: centre of gravity off the axis through the leaf, toward the face side [m].
        inertia: about the axis [kg m2].
        reach: axis to the nose [m].
        handle: axis to the place that is pushed [m].
        pin_spacing: bottom pin to top pin [m].
        swing: least and greatest angle of opening; away is negative [rad].
    """

    key: str
    hand: Literal["left", "right"]
    weight: Newtons
    out: Metres
    through: Metres
    inertia: float
    reach: Metres
    handle: Metres
    pin_spacing: Metres
    swing: tuple[Radians, Radians]


@dataclass(frozen=True, slots=True)
class Bearings:
    """Where a leaf rubs: the radius of each pin, and that at which the weight is borne [m].

    See `leafwright.handbook.friction`.
    """

    bottom_pin: Metres
    top_pin: Metres
    bearing: Metres


@dataclass(frozen=True, slots=True)
class Stay:
    """Angles of opening between which the leaf stays where it is left [rad].

    ``steady`` is False about the highest place, where a nudge sets it off.
    """

    from_: Radians
    to: Radians
    steady: bool


def axis_lean(off_x: float, off_z: float, over: float, *, sd: float = 0.0) -> AxisLean:
    """Return the lean of an axis from a plumb line read at its two pins [rad].

    Args:
        off_x: the top pin off the bottom pin, to the right positive [m].
        off_z: the same toward the viewer [m].
        over: height between the two places read, positive [m].
        sd: standard deviation of each offset [m].

    Raises:
        ValueError: ``over`` is not positive.
    """
    if not over > 0.0:
        raise ValueError(
            f"height between the pins {over!r} m: give the height between the two places where "
            "the plumb line was read"
        )
    return AxisLean(math.atan(off_x / over), math.atan(off_z / over), sd / over, sd / over)


def _rises(lean: AxisLean, hand: str) -> tuple[float, float]:
    """Return how much a metre out along the closed leaf, and out of its face, goes up [-]."""
    axis = np.array([math.tan(lean.x), 1.0, math.tan(lean.z)])
    axis /= np.linalg.norm(axis)
    side = 1.0 if hand == "left" else -1.0
    along = np.array([side, 0.0, 0.0])
    along -= (along @ axis) * axis
    along /= np.linalg.norm(along)
    face = side * np.cross(along, axis)
    return float(along[1]), float(face[1])


def _rise_parts(leaf: SwingingLeaf, lean: AxisLean) -> tuple[float, float]:
    """Return P and Q of the height of the centre of gravity, P cos θ + Q sin θ [m]."""
    along, face = _rises(lean, leaf.hand)
    return (leaf.out * along + leaf.through * face, leaf.out * face - leaf.through * along)


def centre_height(
    leaf: SwingingLeaf, lean: AxisLean, opening: float | np.ndarray
) -> float | np.ndarray:
    """Return the height of the centre of gravity over its place on the axis [m].

    Args:
        opening: angle of opening, positive toward the viewer, any shape [rad].
    """
    p, q = _rise_parts(leaf, lean)
    return p * np.cos(opening) + q * np.sin(opening)


def gravity_torque(
    leaf: SwingingLeaf, lean: AxisLean, opening: float | np.ndarray
) -> float | np.ndarray:
    """Return gravity's torque about the axis, positive toward the viewer [N m].

    It is minus the slope of the potential energy: −W·d(height)/dθ = −W·ρ·sin λ·sin(θ − θ_lowest).

    Args:
        opening: angle of opening, positive toward the viewer, any shape [rad].
    """
    p, q = _rise_parts(leaf, lean)
    return leaf.weight * (p * np.sin(opening) - q * np.cos(opening))


def lean_of(leaf: SwingingLeaf, lean: AxisLean) -> float:
    """Return the angle of the axis from plumb, both ways together [rad]."""
    reach = math.hypot(leaf.out, leaf.through)
    return math.asin(min(math.hypot(*_rise_parts(leaf, lean)) / reach, 1.0))


def lowest_opening(leaf: SwingingLeaf, lean: AxisLean) -> float:
    """Return the opening at which the centre of gravity is lowest, −π to π [rad]."""
    p, q = _rise_parts(leaf, lean)
    return math.atan2(-q, -p)


def pivot_friction(leaf: SwingingLeaf, bearings: Bearings, coefficient: float) -> float:
    """Return the torque that friction holds [N m]; see `leafwright.handbook.friction`.

    Args:
        coefficient: of friction, μ [-].
    """
    return friction_of_pivots(
        leaf.weight,
        leaf.out,
        leaf.pin_spacing,
        coefficient,
        bottom_pin=bearings.bottom_pin,
        top_pin=bearings.top_pin,
        bearing=bearings.bearing,
    )


def swing_period(leaf: SwingingLeaf, lean: AxisLean, *, amplitude: float = 0.0) -> float:
    """Return the period of the leaf swinging without friction about its lowest place [s].

    The physical pendulum with gravity lessened to W·ρ·sin λ: 2π √(I / W ρ sin λ), over the
    arithmetic-geometric mean of 1 and cos(amplitude / 2), which makes it exact at any amplitude.

    Args:
        amplitude: swing to either side of the lowest place, under π [rad].

    Raises:
        ValueError: the axis is plumb, so that the leaf does not swing.
    """
    stiffness = leaf.weight * math.hypot(*_rise_parts(leaf, lean))
    if stiffness == 0.0:
        raise ValueError(f"{leaf.key}: the axis is plumb, so the leaf does not swing by itself")
    first, second = 1.0, math.cos(amplitude / 2.0)
    while abs(first - second) > 1e-15:
        first, second = (first + second) / 2.0, math.sqrt(first * second)
    return 2.0 * math.pi * math.sqrt(leaf.inertia / stiffness) / first


def falling_energy(
    leaf: SwingingLeaf, lean: AxisLean, start: float, end: float, *, friction: float = 0.0
) -> float:
    """Return what a leaf let go at one opening brings to another [N m]; 0 where it would not go.

    Args:
        start: where it is let go, positive toward the viewer [rad].
        end: where it arrives [rad].
        friction: torque lost to friction on the way [N m].
    """
    fall = float(centre_height(leaf, lean, start) - centre_height(leaf, lean, end))
    return max(leaf.weight * fall - friction * abs(end - start), 0.0)


def nose_speed(leaf: SwingingLeaf, energy: float) -> float:
    """Return the speed of the nose of a leaf with this energy of motion [m/s]."""
    return leaf.reach * math.sqrt(2.0 * energy / leaf.inertia)


def stays(leaf: SwingingLeaf, lean: AxisLean, friction: float) -> tuple[Stay, ...]:
    """Return the openings at which friction holds the leaf, in order; none where it always drifts.

    Args:
        friction: torque that friction holds [N m].
    """
    start, end = leaf.swing
    p, q = _rise_parts(leaf, lean)
    greatest = leaf.weight * math.hypot(p, q)
    if greatest <= friction:
        return (Stay(start, end, True),)
    half = math.asin(friction / greatest)
    lowest = math.atan2(-q, -p)
    found = []
    for turns in range(-3, 4):
        middle = lowest + turns * math.pi
        first, last = max(middle - half, start), min(middle + half, end)
        if first <= last:
            found.append(Stay(first, last, turns % 2 == 0))
    return tuple(found)


def greatest_in_swing(leaf: SwingingLeaf, lean: AxisLean) -> float:
    """Return the greatest gravity torque in the swing [N m]."""
    start, end = leaf.swing
    turned = [lowest_opening(leaf, lean) + (k + 0.5) * math.pi for k in range(-3, 3)]
    places = [start, end, *(t for t in turned if start < t < end)]
    return max(abs(float(gravity_torque(leaf, lean, t))) for t in places)


def stop_energy(leaf: SwingingLeaf, lean: AxisLean, friction: float) -> float:
    """Return the most that the leaf brings to either end of its swing by itself [N m].

    From where fall less friction is greatest the leaf runs all the way: had friction stopped it
    on the way, setting off from there would bring more still.

    Args:
        friction: torque lost to friction on the way [N m].
    """
    openings = np.linspace(*leaf.swing, 361)
    heights = np.asarray(centre_height(leaf, lean, openings))
    most = 0.0
    for stop in (0, -1):
        lost = friction * np.abs(openings - openings[stop])
        most = max(most, float(np.max(leaf.weight * (heights - heights[stop]) - lost)))
    return most
