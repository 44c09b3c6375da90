"""Weld groups in space, skewed fillets, grooves and mitred corners against outside values."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.handbook.knees import mitre_factor
from leafwright.handbook.weld_shapes import root_loss, skewed_fillet_throat, square_groove_throat
from leafwright.handbook.weld_space import Line3, Vector, force_in_space, space_properties

INCH = 0.0254

#: Round a tube cut to a corner, in two planes at right angles [m].
CORNER: tuple[Line3, ...] = (
    ((0.0, 0.0, 0.03), (0.08, 0.0, 0.03)),
    ((0.0, 0.0, -0.03), (0.08, 0.0, -0.03)),
    ((0.0, 0.0, 0.03), (0.0, 0.05, 0.03)),
    ((0.0, 0.0, -0.03), (0.0, 0.05, -0.03)),
    ((0.08, 0.0, -0.03), (0.08, 0.0, 0.03)),
)


def pieces(lines: tuple[Line3, ...], each: int = 4000) -> tuple[np.ndarray, np.ndarray]:
    """Return the middles and lengths of many small pieces of the lines [m]."""
    share = (np.arange(each) + 0.5) / each
    ends = [(np.array(a), np.array(b)) for a, b in lines]
    middles = np.concatenate([a + share[:, None] * (b - a) for a, b in ends])
    lengths = np.concatenate([np.full(each, np.linalg.norm(b - a) / each) for a, b in ends])
    return middles, lengths


def test_properties_in_space() -> None:
    """Independent: the lines cut into 4,000 pieces each and summed."""
    at, long = pieces(CORNER)
    whole = long.sum()
    centre = (at * long[:, None]).sum(axis=0) / whole
    x, y, z = (at - centre).T
    found = space_properties(CORNER)
    assert found.length == pytest.approx(whole)
    assert found.centroid == pytest.approx(tuple(centre))
    assert found.I_xx == pytest.approx(((y**2 + z**2) * long).sum(), rel=1e-6)
    assert found.I_yy == pytest.approx(((x**2 + z**2) * long).sum(), rel=1e-6)
    assert found.I_zz == pytest.approx(((x**2 + y**2) * long).sum(), rel=1e-6)


@pytest.mark.parametrize("place", [CORNER[0][0], CORNER[0][1], CORNER[3][1], CORNER[4][0]])
def test_force_in_space(place: Vector) -> None:
    """Independent: a stiff part on equal springs along the lines, cut into 4,000 pieces each; six
    equations of balance solved with numpy for how the part moves and turns.
    """
    force, at, moment = (900.0, -400.0, 300.0), (0.1, 0.02, 0.2), (20.0, 35.0, -15.0)
    middles, lengths = pieces(CORNER)
    stiffness = np.zeros((6, 6))
    for r, length in zip(middles, lengths, strict=True):
        cross = np.array([[0, -r[2], r[1]], [r[2], 0, -r[0]], [-r[1], r[0], 0]])
        motion = np.hstack([np.eye(3), -cross])
        stiffness += length * motion.T @ motion
    load = np.concatenate([force, np.array(moment) + np.cross(at, force)])
    moved = np.linalg.solve(stiffness, load)
    here = moved[:3] + np.cross(moved[3:], place)
    found = force_in_space(CORNER, place, force, at, moment=moment)
    assert (found.f_x, found.f_y, found.f_z) == pytest.approx(tuple(here), rel=1e-6, abs=1e-3)


def test_one_straight_line() -> None:
    """By hand: a moment across a line is held by a force that runs from f to −f: M = f L²/6."""
    line: tuple[Line3, ...] = (((0.0, 0.0, 0.0), (0.0, 0.0, 0.1)),)
    end, middle = (0.0, 0.0, 0.1), (0.0, 0.0, 0.05)
    found = force_in_space(line, end, (0.0, 0.0, 0.0), middle, moment=(10.0, 0.0, 0.0))
    assert found.f_y == pytest.approx(-6.0 * 10.0 / 0.1**2)


@pytest.mark.parametrize(
    ("angle", "share"),
    # An equilateral triangle's height, half of a leg, and at 135° the cosine of 67.5°.
    [(60, math.sqrt(3.0) / 2.0), (90, math.sqrt(0.5)), (120, 0.5), (135, 0.38268)],
)
def test_throat_of_a_skewed_fillet(angle: float, share: float) -> None:
    """Independent: plane geometry, the shortest way from the root to a face between equal legs."""
    assert skewed_fillet_throat(1.0, math.radians(angle)) == pytest.approx(share, abs=1e-5)


@pytest.mark.parametrize(
    ("angle", "inches"),
    [(90, 0.0), (60, 0.0), (59, 0.125), (45, 0.125), (44, 0.25), (30, 0.25), (29, math.inf)],
)
def test_loss_at_the_root(angle: float, inches: float) -> None:
    """AWS D1.1:2020, Table 4.2, Z loss for stick [in], from memory; D. K. Miller's design file on
    skewed T-joints, figure 1, read: none from 60° on.
    """
    assert root_loss(math.radians(angle)) == pytest.approx(inches * INCH)


def test_a_small_fillet_in_a_sharp_corner() -> None:
    """By hand: 1/2 in at 50° is 0.5 cos 25° − 0.125 = 0.328 in; 3/16 in at 40° is all root; a
    fillet in less than 30° or over 135° does not count (AWS D1.1:2020, 2.4.2).
    """
    assert skewed_fillet_throat(0.5 * INCH, math.radians(50)) / INCH == pytest.approx(
        0.328, abs=5e-4
    )
    assert skewed_fillet_throat(3 / 16 * INCH, math.radians(40)) == 0.0
    assert skewed_fillet_throat(0.5 * INCH, math.radians(29)) == 0.0
    assert skewed_fillet_throat(0.5 * INCH, math.radians(136)) == 0.0


@pytest.mark.parametrize(
    ("wall", "throat"),
    [(0.125, 0.09375), (0.120, 0.08875), (1 / 16, 1 / 32), (0.25, 0.125), (5 / 16, 0.0)],
)
def test_square_groove(wall: float, throat: float) -> None:
    """AWS D1.1:2020, Figure 5.2, B-P1a and B-P1c, read in a copy [in]: up to 1/8 in less 1/32, up
    to 1/4 in one half; thicker ones have none.
    """
    assert square_groove_throat(wall * INCH) / INCH == pytest.approx(throat)


@pytest.mark.parametrize(
    ("b_over_t", "b_over_h", "alpha"),
    # 3 √(b/h)/(b/t)^0.8 + 1/(1 + 2 b/h), worked by hand.
    [(20.0, 1.0, 0.6064), (35.0, 1.0, 0.5078), (20.0, 2.0, 0.5862), (5.0, 1.0, 1.0)],
)
def test_mitred_corner(b_over_t: float, b_over_h: float, alpha: float) -> None:
    """EN 1993-1-8, welded knee joints, the formula from memory; a tube maker's guide to welded
    joints, figure 26, read: curves for b/t of 10 to 35, all between 0.4 and 1.0.
    """
    found = mitre_factor(0.1, 0.1 / b_over_h, 0.1 / b_over_t)
    assert found == pytest.approx(alpha, abs=2e-4)
    assert 0.4 < found <= 1.0
