"""The saddle of a round tube on a round tube against published depths."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook.copes import saddle_reach

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
