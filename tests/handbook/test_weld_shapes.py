"""Skewed fillets, square grooves and mitred corners: each rule at its edges and by hand."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook.aisc360.welds import fillet_throat
from leafwright.handbook.knees import mitre_factor
from leafwright.handbook.weld_shapes import (
    root_loss,
    skewed_fillet_throat,
    square_groove_throat,
)

INCH = 0.0254
DEG = math.pi / 180.0


def test_a_fillet_in_a_right_angle_has_its_usual_throat() -> None:
    assert skewed_fillet_throat(0.006, 90 * DEG) == pytest.approx(float(fillet_throat(0.006)))


# w cos(psi/2), the shortest way from the root to a flat face between equal legs: at 60° and 120°
# of an equilateral triangle, √3/2 and 1/2; at 135° cos 67.5°.
@pytest.mark.parametrize(("angle", "share"), [(60, 0.8660), (120, 0.5), (135, 0.3827)])
def test_the_throat_of_a_skewed_fillet_by_geometry(angle: float, share: float) -> None:
    assert skewed_fillet_throat(1.0, angle * DEG) == pytest.approx(share, abs=5e-5)


# AWS D1.1:2020, Table 4.2, Z loss for stick [in]; from memory. None: no weld counts.
@pytest.mark.parametrize(
    ("angle", "inches"),
    [(90, 0.0), (60, 0.0), (59, 0.125), (45, 0.125), (44, 0.25), (30, 0.25), (29, None)],
)
def test_what_a_sharp_corner_loses_at_its_root(angle: float, inches: float | None) -> None:
    expected = math.inf if inches is None else inches * INCH
    assert root_loss(angle * DEG) == pytest.approx(expected)


def test_a_small_fillet_in_a_sharp_corner_is_all_root() -> None:
    assert skewed_fillet_throat(3 / 16 * INCH, 40 * DEG) == 0.0
    # 1/2 in at 50°: 0.5 cos 25° - 0.125 = 0.328 in.
    assert skewed_fillet_throat(INCH / 2, 50 * DEG) == pytest.approx(
        0.328 * INCH, abs=0.0005 * INCH
    )
    assert skewed_fillet_throat(INCH / 2, 29 * DEG) == 0.0
    assert skewed_fillet_throat(INCH / 2, 136 * DEG) == 0.0


# AWS D1.1:2020, Figure 5.2, B-P1a (3 mm, less 1 mm) and B-P1c (6 mm, half of it), in inches 1/8,
# less 1/32, and 1/4; read in a copy.
@pytest.mark.parametrize(
    ("wall", "throat"),
    [
        (0.120, 0.08875),
        (0.125, 0.09375),
        (3 / 16, 3 / 32),
        (0.25, 0.125),
        (5 / 16, 0.0),
        (0.05, 0.025),
    ],
)
def test_square_grooves(wall: float, throat: float) -> None:
    assert square_groove_throat(wall * INCH) == pytest.approx(throat * INCH)


def test_what_is_no_weld_shape_is_refused() -> None:
    for angle in (0.0, math.pi):
        with pytest.raises(ValueError, match="must be above 0 and under π"):
            root_loss(angle)
    with pytest.raises(ValueError, match=r"w = 0\.0: must be above 0"):
        skewed_fillet_throat(0.0, 1.0)
    with pytest.raises(ValueError, match=r"t = -1\.0: must be above 0"):
        square_groove_throat(-1.0)


def test_a_mitred_corner_of_square_tube() -> None:
    # By hand: 3/20^0.8 + 1/3 = 3/10.986 + 0.3333.
    assert mitre_factor(0.06, 0.06, 0.003) == pytest.approx(0.6064, abs=1e-4)
    # The ends of a published chart's curves for square tube of 10 and 35 walls (from memory).
    assert mitre_factor(0.10, 0.10, 0.01) == pytest.approx(0.8, abs=0.03)
    assert mitre_factor(0.35, 0.35, 0.01) == pytest.approx(0.5, abs=0.03)


def test_a_mitre_is_never_stronger_than_its_tube_nor_better_for_a_thinner_wall() -> None:
    factors = [mitre_factor(0.06, 0.06, t / 1000.0) for t in range(1, 15)]
    assert factors == sorted(factors)
    assert max(factors) <= 1.0
    with pytest.raises(ValueError, match=r"t = 0\.0: must be above 0"):
        mitre_factor(0.06, 0.06, 0.0)
