"""Area K of the check values: the swing of a leaf on a leaning axis.

How each is known stands beside it: *recomputed* from the named formula. Tolerances are the rows'
own. A leaf swung by an angle from its lowest place is one whose axis leans toward the viewer, so
that 90° open is lowest.
"""

from __future__ import annotations

import math

import pytest

from leafwright.site.swinging import (
    AxisLean,
    SwingingLeaf,
    centre_height,
    falling_energy,
    gravity_torque,
    lowest_opening,
    nose_speed,
    swing_period,
)

STANDARD_GRAVITY = 9.80665


def leaf(weight: float, centre: float, width: float) -> SwingingLeaf:
    """Return an even leaf: I = m b²/3 [N, m, m]."""
    return SwingingLeaf(
        key="leaf",
        hand="left",
        weight=weight,
        out=centre,
        through=0.0,
        inertia=weight / STANDARD_GRAVITY * width**2 / 3.0,
        reach=width,
        handle=width,
        pin_spacing=3.0,
        swing=(-math.pi, math.pi),
    )


# K01, K03: T = W x sin(tilt) sin(angle), from the energy h = x sin(tilt) (1 − cos angle); 0.1 %.
@pytest.mark.parametrize(
    ("weight", "centre", "tilt", "angle", "torque"),
    [(2000.0, 1.5, 0.5, 90.0, 26.180), (800.0, 2.0, 2.0, 60.0, 48.358)],
)
def test_gravity_torque_about_an_axis_out_of_plumb(
    weight: float, centre: float, tilt: float, angle: float, torque: float
) -> None:
    swung, lean = leaf(weight, centre, 2 * centre), AxisLean(0.0, math.radians(tilt))
    lowest = lowest_opening(swung, lean)
    assert lowest == pytest.approx(math.pi / 2.0, abs=1e-12)
    found = float(gravity_torque(swung, lean, lowest - math.radians(angle)))
    assert found == pytest.approx(torque, rel=1e-3)


def test_period_of_an_even_gate() -> None:
    # K04, garden-gate pendulum: T = 2π √(2b / (3 g sin tilt)); 0.2 %.
    assert swing_period(leaf(1000.0, 1.5, 3.0), AxisLean(math.radians(1.0), 0.0)) == pytest.approx(
        21.48, rel=2e-3
    )


def test_period_with_the_axis_laid_level_is_that_of_a_rod() -> None:
    # K06, physical pendulum, b = 1 m, tilt 90°; 0.1 %. A right angle has no tangent: 1e-6 rad less.
    laid = AxisLean(0.0, math.pi / 2.0 - 1e-6)
    assert swing_period(leaf(1000.0, 0.5, 1.0), laid) == pytest.approx(1.6382, rel=1e-3)


def test_energy_and_nose_speed_from_a_right_angle_to_the_bottom() -> None:
    # K07: W = 2000 N, x = 1.5 m, tilt 1°, b = 3 m; 0.2 %.
    swung, lean = leaf(2000.0, 1.5, 3.0), AxisLean(0.0, math.radians(1.0))
    energy = falling_energy(swung, lean, 0.0, math.pi / 2.0)
    assert energy == pytest.approx(52.36, rel=2e-3)
    assert nose_speed(swung, energy) == pytest.approx(1.241, rel=2e-3)


def test_rise_of_the_free_edge() -> None:
    # K09: leaf 3 m wide, tilt 0.5°, swung 90° from its lowest: b sin(tilt); 0.1 %.
    edge, lean = leaf(1.0, 3.0, 3.0), AxisLean(0.0, math.radians(0.5))
    rise = centre_height(edge, lean, 0.0) - centre_height(edge, lean, math.pi / 2.0)
    assert float(rise) == pytest.approx(26.18e-3, rel=1e-3)
