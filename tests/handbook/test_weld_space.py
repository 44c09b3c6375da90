"""Weld groups in space: the plane method where all lies in one plane, and statics everywhere."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.handbook import weld_group
from leafwright.handbook.weld_space import Line3, Vector, force_in_space, space_properties
from tests.sizes import cases

# Two planes at right angles, as round a tube cut to a corner [m].
CORNER: tuple[Line3, ...] = (
    ((0.0, 0.0, 0.03), (0.08, 0.0, 0.03)),
    ((0.0, 0.0, -0.03), (0.08, 0.0, -0.03)),
    ((0.0, 0.0, 0.03), (0.0, 0.05, 0.03)),
    ((0.0, 0.0, -0.03), (0.0, 0.05, -0.03)),
    ((0.08, 0.0, -0.03), (0.08, 0.0, 0.03)),
)

LOADS = st.tuples(*[st.floats(-1e4, 1e4)] * 3)
MOMENTS = st.tuples(*[st.floats(-500.0, 500.0)] * 3)


@settings(max_examples=cases(25, 250), derandomize=True)
@given(force=LOADS, moment=MOMENTS)
def test_in_one_plane_it_is_the_plane_method(force: Vector, moment: Vector) -> None:
    flat = (((0.0, 0.0), (0.1, 0.0)), ((0.0, 0.0), (0.02, 0.06)))
    lines: tuple[Line3, ...] = tuple(((*a, 0.0), (*b, 0.0)) for a, b in flat)
    known = weld_group.line_forces(flat, force, (0.3, 0.1, 0.2), moment=moment)
    for f in known:
        found = force_in_space(lines, (*f.at, 0.0), force, (0.3, 0.1, 0.2), moment=moment)
        expected = pytest.approx((f.f_x, f.f_y, f.f_z), rel=1e-9, abs=1e-6)
        assert (found.f_x, found.f_y, found.f_z) == expected
        assert found.resultant == pytest.approx(f.resultant, abs=1e-6)


@settings(max_examples=cases(25, 250), derandomize=True)
@given(force=LOADS, moment=MOMENTS)
def test_the_forces_along_the_lines_are_the_load(force: Vector, moment: Vector) -> None:
    at = (0.1, -0.2, 0.05)
    total, turning = np.zeros(3), np.zeros(3)
    for a, b in CORNER:
        points = [np.array(a), (np.array(a) + np.array(b)) / 2, np.array(b)]
        f = []
        for p in points:
            here = force_in_space(CORNER, (p[0], p[1], p[2]), force, at, moment=moment)
            f.append(np.array([here.f_x, here.f_y, here.f_z]))
        # Simpson's rule is exact for a force that runs straight along a line, and its moment.
        for share, p, g in zip((1, 4, 1), points, f, strict=True):
            length = math.dist(a, b) * share / 6
            total += length * g
            turning += length * np.cross(p, g)
    assert total == pytest.approx(np.array(force), abs=1e-6)
    whole = np.array(moment) + np.cross(at, force)
    assert turning == pytest.approx(whole, abs=1e-6)


def test_turned_round_it_gives_the_same() -> None:
    turn = np.linalg.qr(np.array([[1.0, 2.0, 0.5], [0.3, -1.0, 2.0], [1.5, 0.2, 0.7]]))[0]
    turn *= np.linalg.det(turn)

    def turned(v: Vector) -> Vector:
        x, y, z = (turn @ np.array(v)).tolist()
        return x, y, z

    force, moment, at, place = (
        (900.0, -400.0, 300.0),
        (20.0, 35.0, -15.0),
        (0.1, 0.0, 0.2),
        CORNER[4][1],
    )
    lines: tuple[Line3, ...] = tuple((turned(a), turned(b)) for a, b in CORNER)
    f = force_in_space(CORNER, place, force, at, moment=moment)
    g = force_in_space(lines, turned(place), turned(force), turned(at), moment=turned(moment))
    assert (g.f_x, g.f_y, g.f_z) == pytest.approx(turned((f.f_x, f.f_y, f.f_z)), rel=1e-9)


def test_second_moments_of_a_square_by_hand() -> None:
    b = 0.05
    square: list[Line3] = [
        ((b * x, b * y, 0.0), (b * u, b * v, 0.0))
        for (x, y), (u, v) in (
            ((0, 0), (1, 0)),
            ((1, 0), (1, 1)),
            ((1, 1), (0, 1)),
            ((0, 1), (0, 0)),
        )
    ]
    found = space_properties(square)
    # Lines of unit throat: I = 2 b³/12 + 2 b (b/2)² = 2 b³/3 in its plane, both ways.
    assert found.length == pytest.approx(4 * b)
    assert found.centroid == pytest.approx((b / 2, b / 2, 0.0))
    assert found.I_xx == pytest.approx(2 * b**3 / 3)
    assert found.I_zz == pytest.approx(4 * b**3 / 3)
    assert (found.I_xy, found.I_yz, found.I_zx) == pytest.approx((0.0, 0.0, 0.0), abs=1e-12)


def test_one_straight_line_holds_no_moment_about_itself() -> None:
    line: tuple[Line3, ...] = (((0.0, 0.0, 0.0), (0.0, 0.0, 0.1)),)
    held = force_in_space(
        line, (0.0, 0.0, 0.1), (0.0, 0.0, 0.0), (0.0, 0.0, 0.05), moment=(10.0, 0.0, 0.0)
    )
    # M = f L²/6 for a force that runs from f to -f.
    assert held.f_y == pytest.approx(-10.0 * 6 / 0.1**2)
    with pytest.raises(ValueError, match="turns the part about the weld itself"):
        force_in_space(
            line, (0.0, 0.0, 0.1), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), moment=(0.0, 0.0, 5.0)
        )


def test_what_is_no_weld_is_refused() -> None:
    with pytest.raises(ValueError, match="a weld group needs a line"):
        space_properties([])
    with pytest.raises(ValueError, match=r"line 2 runs from .*: it has no length"):
        space_properties([CORNER[0], ((0.1, 0.0, 0.0), (0.1, 0.0, 0.0))])
