"""Contact, dents and pivot friction: what always holds, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from leafwright.handbook import contact, friction
from tests.sizes import cases


def test_more_load_never_presses_less() -> None:
    rng = np.random.default_rng(11)
    for _ in range(cases(25, 500)):
        load, radius = rng.uniform(10.0, 2e4), rng.uniform(2e-3, 0.03)
        more = load * rng.uniform(1.0, 3.0)
        seat = radius * rng.uniform(1.3, 5.0)
        for less_pressed, pressed in (
            [contact.sphere_on_plane(f, radius) for f in (load, more)],
            [contact.two_spheres(f, radius, seat) for f in (load, more)],
        ):
            assert pressed.peak_pressure >= less_pressed.peak_pressure
            assert pressed.radius >= less_pressed.radius
        assert (
            contact.cylinder_on_plane(more, radius).half_width
            >= contact.cylinder_on_plane(load, radius).half_width
        )
        assert (
            contact.brinell_dent(more, 2 * radius, 400.0).depth
            >= contact.brinell_dent(load, 2 * radius, 400.0).depth
        )


def test_scaling_every_length_leaves_pressure_alone() -> None:
    # Load as length squared, at the same modulus.
    rng = np.random.default_rng(12)
    for _ in range(cases(25, 500)):
        load, radius, scale = rng.uniform(10.0, 2e4), rng.uniform(2e-3, 0.03), rng.uniform(0.1, 10)
        one = contact.sphere_on_plane(load, radius)
        other = contact.sphere_on_plane(load * scale**2, radius * scale)
        assert other.peak_pressure == pytest.approx(one.peak_pressure)
        assert other.approach == pytest.approx(scale * one.approach)


def test_a_flat_seat_presses_hardest_but_a_dome() -> None:
    flat = contact.sphere_on_plane(2000.0, 0.01).peak_pressure
    assert contact.sphere_in_seat(2000.0, 0.01, 0.02).peak_pressure < flat
    assert contact.two_spheres(2000.0, 0.01, 0.02).peak_pressure > flat
    assert contact.two_spheres(2000.0, 0.01, 1e9).peak_pressure == pytest.approx(flat, rel=1e-6)
    assert contact.sphere_in_seat(2000.0, 0.01, 1e9).peak_pressure == pytest.approx(flat, rel=1e-6)


def test_dent_and_hardness_are_each_others_inverse() -> None:
    rng = np.random.default_rng(13)
    for _ in range(cases(25, 500)):
        ball, hardness = rng.uniform(5e-3, 0.04), rng.uniform(100.0, 600.0)
        load = rng.uniform(0.01, 0.4) * math.pi * ball**2 * hardness * contact.BRINELL
        dent = contact.brinell_dent(load, ball, hardness)
        found = contact.brinell_hardness(load, ball, dent.diameter)
        assert found == pytest.approx(hardness, rel=1e-6)


def test_nothing_loaded_is_nothing_touched() -> None:
    none = contact.sphere_on_plane(0.0, 0.01)
    assert (none.radius, none.peak_pressure, none.approach) == (0.0, 0.0, 0.0)
    assert contact.cylinder_on_plane(0.0, 0.01).peak_pressure == 0.0
    assert contact.brinell_dent(0.0, 0.01, 200.0) == contact.Dent(0.0, 0.0)


def test_a_worn_bearing_rubs_nearer_in() -> None:
    rng = np.random.default_rng(14)
    for _ in range(cases(25, 500)):
        outer = rng.uniform(5e-3, 0.05)
        inner = outer * rng.uniform(0.0, 0.95)
        new, worn = (friction.collar_friction_radius(outer, inner, worn=w) for w in (False, True))
        assert inner <= worn <= new <= outer
    assert friction.flat_friction_radius(0.02) == pytest.approx(
        friction.collar_friction_radius(0.02, 0.0)
    )
    assert friction.flat_friction_radius(0.02, worn=True) == pytest.approx(
        friction.collar_friction_radius(0.02, 0.0, worn=True)
    )
    assert friction.cone_friction_radius(0.02, 0.01, math.pi / 2) == pytest.approx(
        friction.collar_friction_radius(0.02, 0.01)
    )


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: contact.sphere_on_plane(-1.0, 0.01), r"the load is -1\.0 N; give 0 or more"),
    (lambda: contact.sphere_on_plane(1.0, 0.0), r"the radius is 0\.0 m; give more than 0"),
    (lambda: contact.sphere_on_plane(1.0, 0.01, modulus=0.0), "the contact modulus is"),
    (lambda: contact.two_spheres(1.0, 0.01, -1.0), r"the other radius is -1\.0 m"),
    (lambda: contact.sphere_in_seat(1.0, 0.01, 0.01), "give the seat's radius, larger than the"),
    (lambda: contact.sphere_in_seat(1e5, 0.01, 0.0101), "take the load over the seat's whole"),
    (lambda: contact.pin_in_bore(1.0, 0.01, 0.009), "give the bore's radius, larger than the"),
    (lambda: contact.pin_in_bore(1e7, 0.01, 0.01001), "diameter times its engagement"),
    (lambda: contact.cylinder_on_plane(float("nan"), 0.01), "the load is nan N/m"),
    (lambda: contact.contact_modulus(2e11, 0.6), r"Poisson's ratio is 0\.6; give 0 to 0\.5"),
    (lambda: contact.contact_modulus(0.0, 0.3), "the modulus of elasticity is"),
    (lambda: contact.axis_shear(1.0, 0.0, 1.0, 0.3), "the contact's radius is"),
    (lambda: contact.load_at_pressure(0.0, 0.01), "the peak pressure is"),
    (lambda: contact.first_yield_load(0.0, 0.01), "the yield stress is"),
    (lambda: contact.first_yield_line_load(1e8, 0.0), "the radius is"),
    (lambda: contact.indentation_hardness(-1.0), "the yield stress is"),
    (lambda: contact.brinell_hardness(1.0, 0.01, 0.02), "measure both again"),
    (lambda: contact.brinell_dent(1e6, 0.01, 100.0), "take a larger ball or a harder seat"),
    (lambda: friction.ball_friction_radius(-1.0), "the contact's radius is"),
    (lambda: friction.flat_friction_radius(0.0), "the pivot's radius is"),
    (lambda: friction.collar_friction_radius(0.01, 0.02), "the outer radius must be the greater"),
    (lambda: friction.cone_friction_radius(0.02, 0.01, 2.0), "up to a right angle"),
    (lambda: friction.friction_torque(1.0, 1.0, -0.1), "the coefficient of friction is"),
    (
        lambda: friction.pivot_friction(
            1.0, 1.0, 0.0, 0.1, bottom_pin=0.01, top_pin=0.01, bearing=0.01
        ),
        "the spacing of the pins is",
    ),
]


@pytest.mark.parametrize(("asked", "message"), REFUSED)
def test_refused(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        asked()
