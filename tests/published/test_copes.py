"""The saddle of a round tube on a round tube against published depths."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.handbook.copes import common_volume, saddle_nearest, saddle_reach

INCH = 0.0254


@pytest.mark.parametrize(
    ("branch", "header", "depth", "within"),
    [(4.500, 6.625, 0.8814, 0.0002), (1.5, 1.5, 0.75, 1e-9)],
)
def test_depth_of_a_square_saddle(
    branch: float, header: float, depth: float, within: float
) -> None:
    """R − √(R² − r²) at 90°: 4 in pipe on 6 in pipe, 0.8814 in, worked on a pipe saddle page, read;
    equal tubes, one radius, on a tube notching page, read [in]. Other rows of the first page's
    table do not follow its own formula and are left out.
    """
    r, R = branch / 2 * INCH, header / 2 * INCH
    far = saddle_reach(r, R, math.pi / 2, 0.0)
    near = saddle_reach(r, R, math.pi / 2, math.pi / 2)
    assert (far - near) / INCH == pytest.approx(depth, abs=within)


def test_volume_that_two_tubes_share() -> None:
    """The solid of Steinmetz: 16/3 R³ of equal cylinders, by its slices of unequal ones.

    Equal: published since Archimedes. Unequal, r = 1, R = 2: independent, by adding up slices
    2 · 2√(r² − z²) · √(R² − z²) in a million strips.
    """
    assert common_volume(0.03, 0.03) == pytest.approx(16 / 3 * 0.03**3)
    z = (np.arange(1_000_000) + 0.5) / 1_000_000
    slices = 8.0 * float((np.sqrt(1.0 - z**2) * np.sqrt(4.0 - z**2)).mean())
    assert common_volume(1.0, 2.0) == pytest.approx(slices, rel=1e-8)


@pytest.mark.parametrize(
    ("r", "R", "degrees"), [(0.02, 0.02, 90), (0.02, 0.02, 40), (0.02, 0.05, 35), (0.02, 0.03, 80)]
)
def test_where_a_saddle_is_longest(r: float, R: float, degrees: float) -> None:
    """The least of the published saddle, looked for round the branch by a million steps."""
    theta = math.radians(degrees)
    phi = np.linspace(0, math.pi, 1_000_001)
    d = (np.sqrt(R**2 - (r * np.sin(phi)) ** 2) + r * math.cos(theta) * np.cos(phi)) / math.sin(
        theta
    )
    assert saddle_nearest(r, R, theta) == pytest.approx(float(d.min()), abs=1e-12)
