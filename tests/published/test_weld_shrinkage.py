"""What welds draw in, against rules of thumb from outside."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from leafwright.handbook.weld_shrinkage import bead_bend, bow_of_bead, fillet_shrinkage

INCH = 0.0254


def test_fillet_draws_in() -> None:
    """TWI's open FAQ on weld shrinkage, read: allow 0.8 mm for a fillet of up to 3/4 of the plate.

    The formula itself is from memory; the allowance has one digit.
    """
    assert fillet_shrinkage(0.75 * 0.010, 0.010) == pytest.approx(0.8e-3, abs=0.05e-3)
    assert fillet_shrinkage(0.006, 0.012) < 0.8e-3


def test_bow_of_a_bead() -> None:
    """O. W. Blodgett, weld distortion formulas, worked from memory: 0.2885 in.

    Beside it TWI's open FAQ on weld shrinkage, read: 0.8 mm along 3 m of fillet. The pull that
    bends the bar shortens it too, by 0.04 A_w / A; of a 6 mm fillet on 200 x 13 mm that is as much,
    within the scatter of both.
    """
    bow = bow_of_bead(0.03125 * INCH**2, 1.0 * INCH, 120 * INCH, 7.80 * INCH**4)
    assert bow == pytest.approx(0.2885 * INCH, rel=2e-4)
    A_w, A, lever, inertia = 0.5 * 0.006**2, 0.2 * 0.013, 0.05, 1e-6
    pull_over_E = bead_bend(A_w, lever, 1.0, inertia) * inertia / lever
    assert pull_over_E / A * 3.0 == pytest.approx(0.8e-3, rel=0.5)


@pytest.mark.parametrize(
    ("figure", "values"),
    [
        (fillet_shrinkage, (0.0, 1.0)),
        (bow_of_bead, (1.0, 1.0, -1.0, 1.0)),
        (bead_bend, (1.0, math.nan, 1.0, 1.0)),
    ],
)
def test_nothing_is_refused_in_words(
    figure: Callable[..., float], values: tuple[float, ...]
) -> None:
    """Refusals: no value from outside."""
    with pytest.raises(ValueError, match="must be above 0; give it in SI units"):
        figure(*values)
