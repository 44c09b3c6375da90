"""Drift: the torque against a leaf turned in space, the pendulum, where it rests, and the push."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from leafwright.handbook.friction import ball_friction_radius
from leafwright.records import Verdict, to_json
from leafwright.site.drift import Wind, _push_words, drift, push_checks, swinging_leaf
from leafwright.site.swinging import (
    AxisLean,
    Bearings,
    SwingingLeaf,
    axis_lean,
    centre_height,
    falling_energy,
    gravity_torque,
    lowest_opening,
    pivot_friction,
    stays,
    swing_period,
)
from leafwright.units import Tape
from tests.leaves import made
from tests.sizes import cases

INCH = 0.0254
LBF = 4.4482216152605
TAPE = Tape("feet-inch", 16)

# The reference leaf of the trade brief: 194 lb, its centre 21 in from an axis at 1 in.
LEAF = SwingingLeaf(
    key="leaf",
    hand="left",
    weight=194 * LBF,
    out=21 * INCH,
    through=0.0,
    inertia=194 * LBF / 9.80665 * (43 * INCH) ** 2 / 3,
    reach=43 * INCH,
    handle=41 * INCH,
    pin_spacing=172 * INCH,
    swing=(0.0, math.pi / 2),
)
# Pins and a ball of 1-1/4 in; the ball's contact has a radius of 0.018 in.
BEARINGS = Bearings(0.625 * INCH, 0.625 * INCH, ball_friction_radius(0.018 * INCH))


def random_leaf(rng: np.random.Generator) -> tuple[SwingingLeaf, AxisLean]:
    leaf = replace(
        LEAF,
        hand="left" if rng.random() < 0.5 else "right",
        out=float(rng.uniform(0.2, 1.5)),
        through=float(rng.uniform(-0.1, 0.1)),
    )
    return leaf, AxisLean(float(rng.uniform(-0.3, 0.3)), float(rng.uniform(-0.3, 0.3)))


def turned(about: np.ndarray, angle: float, point: np.ndarray) -> np.ndarray:
    """Return a point turned about an axis through the origin (Rodrigues)."""
    return np.asarray(
        point * math.cos(angle)
        + np.cross(about, point) * math.sin(angle)
        + about * (about @ point) * (1.0 - math.cos(angle))
    )


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_height_and_torque_are_those_of_a_point_turned_in_space(seed: int) -> None:
    rng = np.random.default_rng(seed)
    leaf, lean = random_leaf(rng)
    axis = np.array([math.tan(lean.x), 1.0, math.tan(lean.z)])
    axis /= np.linalg.norm(axis)
    side = 1.0 if leaf.hand == "left" else -1.0
    along = np.array([side, 0.0, 0.0]) - side * axis[0] * axis
    along /= np.linalg.norm(along)
    # The closed leaf's face side looks toward the viewer whichever its hand.
    face = np.cross(along, axis)
    face *= np.sign(face[2])
    point = leaf.out * along + leaf.through * face
    for opening in rng.uniform(-math.pi, math.pi, 5):
        # Toward the viewer is against the hands of a clock from above for a right leaf only.
        there = turned(axis, -side * opening, point)
        assert centre_height(leaf, lean, opening) == pytest.approx(there[1], abs=1e-12)
        weight = np.array([0.0, -leaf.weight, 0.0])
        torque = -side * float(np.cross(there, weight) @ axis)
        assert gravity_torque(leaf, lean, opening) == pytest.approx(torque, abs=1e-8)


def test_the_leaf_falls_to_where_the_top_of_its_axis_leans() -> None:
    toward = replace(LEAF, swing=(-math.pi / 2, math.pi / 2))
    assert gravity_torque(toward, AxisLean(0.0, 0.01), 0.0) > 0.0
    assert lowest_opening(toward, AxisLean(0.01, 0.0)) == pytest.approx(0.0, abs=1e-12)
    right = replace(toward, hand="right")
    assert lowest_opening(right, AxisLean(-0.01, 0.0)) == pytest.approx(0.0, abs=1e-12)
    assert gravity_torque(right, AxisLean(0.0, 0.01), 0.0) > 0.0


@pytest.mark.parametrize("amplitude", [0.05, 1.0, 2.5])
def test_the_period_is_that_of_the_motion_step_by_step(amplitude: float) -> None:
    lean = AxisLean(0.01, 0.02)
    leaf = replace(LEAF, through=0.05)
    lowest = lowest_opening(leaf, lean)

    def moving(_: float, state: np.ndarray) -> list[float]:
        return [state[1], float(gravity_torque(leaf, lean, state[0])) / leaf.inertia]

    def at_rest(_: float, state: np.ndarray) -> float:
        return float(state[1])

    at_rest.terminal = True  # type: ignore[attr-defined]
    at_rest.direction = 1.0  # type: ignore[attr-defined]
    period = swing_period(leaf, lean, amplitude=amplitude)
    run = solve_ivp(
        moving,
        (0.0, 1.2 * period),
        [lowest + amplitude, -1e-12],
        events=at_rest,
        rtol=1e-10,
        atol=1e-12,
    )
    # From rest on one side to rest on the other is half a period.
    assert run.t_events is not None
    assert 2.0 * float(run.t_events[0][0]) == pytest.approx(period, rel=1e-6)


def test_an_axis_that_is_plumb_has_no_period() -> None:
    with pytest.raises(ValueError, match="the axis is plumb, so the leaf does not swing by itself"):
        swing_period(LEAF, AxisLean(0.0, 0.0))


def test_friction_of_the_reference_leaf() -> None:
    # Computed in the trade brief at μ = 0.15: two pins 4.4 lb·in, the ball 0.4; holds 0.2 in of
    # lean over the height.
    torque = pivot_friction(LEAF, BEARINGS, 0.15)
    assert torque / (LBF * INCH) == pytest.approx(4.8, abs=0.15)
    found = drift(LEAF, axis_lean(0.0, 0.0, 1.0), BEARINGS, tape=TAPE, friction=(0.15, 0.15))
    assert found.lean_held[0] / INCH == pytest.approx(0.2, abs=0.01)


def test_the_lean_that_friction_just_holds_is_where_it_begins_to_drift() -> None:
    held = drift(LEAF, axis_lean(0.0, 0.0, 1.0), BEARINGS, tape=TAPE).lean_held
    assert held[0] < held[1]
    for off, expected in (
        (0.999 * held[0], "stays"),
        (1.001 * held[0], "may drift"),
        (0.999 * held[1], "may drift"),
        (1.001 * held[1], "drifts"),
    ):
        found = drift(LEAF, axis_lean(0.0, off, LEAF.pin_spacing), BEARINGS, tape=TAPE)
        assert found.held == expected, off / INCH


def test_a_lean_known_badly_is_not_called_safe() -> None:
    lean = axis_lean(0.0, 0.0, LEAF.pin_spacing, sd=0.1 * INCH)
    found = drift(LEAF, lean, BEARINGS, tape=TAPE)
    assert found.held == "may drift"
    assert found.checks[0].verdict is Verdict.TIGHT


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_it_stays_just_where_friction_is_more_than_gravity(seed: int) -> None:
    rng = np.random.default_rng(seed)
    leaf, lean = random_leaf(rng)
    leaf = replace(leaf, swing=(-float(rng.uniform(0.1, 3.0)), float(rng.uniform(0.1, 3.0))))
    friction = float(rng.uniform(0.0, 1.2)) * leaf.weight * leaf.out * math.hypot(lean.x, lean.z)
    found = stays(leaf, lean, friction)
    for opening in np.linspace(*leaf.swing, 400):
        torque = float(gravity_torque(leaf, lean, opening))
        if abs(abs(torque) - friction) < 1e-6 * leaf.weight:
            continue
        inside = any(s.from_ <= opening <= s.to for s in found)
        assert inside == (abs(torque) < friction)
    for stay in found:
        middle = (stay.from_ + stay.to) / 2
        step = 1e-4
        if friction > 0.0 and stay.from_ > leaf.swing[0] and stay.to < leaf.swing[1]:
            heights = [float(centre_height(leaf, lean, middle + d)) for d in (-step, 0.0, step)]
            assert stay.steady == (heights[1] < min(heights[0], heights[2]))


def test_where_it_swings_to_in_words() -> None:
    both = replace(LEAF, swing=(-math.pi / 2, math.pi / 2))
    found = drift(both, axis_lean(0.0, 0.5 * INCH, 172 * INCH), BEARINGS, tape=TAPE)
    assert found.held == "drifts"
    assert found.words[0] == (
        "With little friction, it stays between 90° and 82° open away from you, but a nudge there "
        "sets it off; it stays between 82° and 90° open toward you; left between 82° open away "
        "from you and 82° open toward you it swings toward you, to 82° open toward you or past it."
    )
    assert found.checks[0].change == (
        'slide the top pin plate 1/2" away from you to bring it plumb over the bottom pin'
    )
    shutting = drift(LEAF, axis_lean(0.0, -0.5 * INCH, 172 * INCH), BEARINGS, tape=TAPE)
    assert "it swings away from you, to closed, its stop" in shutting.words[0]


def test_a_plumb_leaf_stays_anywhere() -> None:
    found = drift(LEAF, axis_lean(0.0, 0.0, 1.0), BEARINGS, tape=TAPE)
    assert found.words[0] == "It stays wherever it is left, with little friction and with much."
    assert found.stop_energy == 0.0
    assert found.checks[0].verdict is Verdict.OK


def test_energy_at_the_stop_is_fall_less_friction() -> None:
    lean = axis_lean(0.0, 1.0 * INCH, 172 * INCH)
    least = pivot_friction(LEAF, BEARINGS, 0.05)
    found = drift(LEAF, lean, BEARINGS, tape=TAPE)
    assert found.stop_energy == pytest.approx(
        falling_energy(LEAF, lean, 0.0, math.pi / 2, friction=least), rel=1e-9
    )
    assert found.stop_energy < falling_energy(LEAF, lean, 0.0, math.pi / 2)
    assert found.stop_speed > 0.0


def test_push_adds_friction_gravity_and_wind() -> None:
    # 1 psf on 44 x 174 in is 53 lb, half of it at the nose (computed in the trade brief).
    plumb = axis_lean(0.0, 0.0, 1.0)
    wind = Wind(47.880259, 44 * 174 * INCH**2, 21 * INCH)
    found = drift(replace(LEAF, handle=43 * INCH), plumb, BEARINGS, tape=TAPE, wind=wind)
    assert found.push_wind is not None
    assert (found.push_wind[0] - found.push[0]) / LBF == pytest.approx(53.17 * 21 / 43, rel=1e-3)
    # 0.1 lb at the nose at μ = 0.15 (computed there too).
    assert found.push[0] < 0.11 * LBF < found.push[1]
    assert [c.case for c in found.checks[1:]] == ["still air"] * 3 + ["against the wind"] * 3


def test_push_limits_are_cautions_and_never_short() -> None:
    # 2010 ADA Standards 404.2.9: 5 lbf (22.2 N); IBC 2009 1008.1.3: 30 and 15 lbf (133, 67 N).
    for push, expected in (
        ((1.0, 22.0), [Verdict.OK, Verdict.OK, Verdict.OK]),
        ((20.0, 23.0), [Verdict.TIGHT, Verdict.OK, Verdict.OK]),
        ((70.0, 80.0), [Verdict.ASK, Verdict.OK, Verdict.ASK]),
        ((134.0, 140.0), [Verdict.ASK, Verdict.ASK, Verdict.ASK]),
    ):
        found = push_checks("leaf", push, case="still air")
        assert [c.verdict for c in found] == expected, push
    assert [str(c.source).split(",")[0] for c in found] == [
        "2010 ADA Standards for Accessible Design",
        "International Building Code 2009",
        "International Building Code 2009",
    ]


@pytest.mark.parametrize("friction", [(0.2, 0.05), (-0.1, 0.05)])
def test_wrong_friction_is_refused(friction: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="give the least coefficient first and none below 0"):
        drift(LEAF, AxisLean(0.0, 0.0), BEARINGS, tape=TAPE, friction=friction)


def test_a_handle_at_the_axis_and_pins_of_no_spacing_are_refused() -> None:
    with pytest.raises(ValueError, match=r"handle 0\.0 m from the axis"):
        drift(replace(LEAF, handle=0.0), AxisLean(0.0, 0.0), BEARINGS, tape=TAPE)
    with pytest.raises(ValueError, match=r"height between the pins 0\.0 m"):
        axis_lean(0.01, 0.0, 0.0)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_leaf_of_the_plan(hand: str) -> None:
    sheet = [{"kind": "sheet", "on": "face", "thickness": "1/8 in", "density": "490 lb/ft3"}]
    place, _, leaf = made(44 * INCH, 174 * INCH, hand=hand, infill=sheet)
    found = swinging_leaf(place, leaf, pin_spacing=172 * INCH)
    assert found.weight == pytest.approx(leaf.hung_mass * 9.80665)
    assert found.out == pytest.approx(21 * INCH, rel=0.02)
    assert found.through > 0.0
    assert found.through < INCH
    assert found.swing == (-math.pi / 2, math.pi / 2)
    data = to_json(drift(found, axis_lean(0.0, INCH, 172 * INCH), BEARINGS, tape=TAPE))
    assert data["held"] == "drifts"


@pytest.mark.parametrize(
    ("force", "tape", "says"),
    [
        (0.13, Tape("mm", 1), "0.13 N"),
        (0.527, Tape("mm", 1), "0.53 N"),
        (3.26, Tape("mm", 1), "3.3 N"),
        (41.6, Tape("mm", 1), "42 N"),
        (0.0, Tape("mm", 1), "0 N"),
        (0.2, Tape("feet-inch", 16), "0.04 lbf"),
        (12.0, Tape("feet-inch", 16), "2.7 lbf"),
    ],
)
def test_a_light_push_is_not_told_as_none(force: float, tape: Tape, says: str) -> None:
    assert _push_words(force, tape) == says
