"""Row J09 of the check values: how far out of square from the difference of two diagonals."""

from __future__ import annotations

import math

import pytest

from leafwright.site.fit_up import fit_up
from leafwright.site.pad import PadReading
from leafwright.units import Tape

# Law of cosines, recomputed: a parallelogram of sides 3.000 and 2.000 m, racked by 0.5°.
LONG, SHORT = 3.62004, 3.59100


def test_rack_from_the_difference_of_the_diagonals() -> None:
    # d1² − d2² = 4 b h sin g = 0.209437 m²; the difference 29.04 mm, within 0.05 mm. The printed
    # 0.01 mm of a diagonal turn the sides by 0.001° at most.
    found = fit_up(
        [
            PadReading("distance", "bottom hinge", "top closing", value=LONG),
            PadReading("distance", "bottom closing", "top hinge", value=SHORT),
        ],
        3.000,
        2.000,
        tape=Tape("mm", 1),
    )
    rack = found.items[0]
    assert rack.value == pytest.approx(2.000 * math.sin(math.radians(0.5)), abs=5e-5)
    assert rack.value == pytest.approx(0.209437 / (4 * 3.000), abs=1e-5)
    assert found.rack is not None
    assert math.degrees(found.rack) == pytest.approx(0.5, abs=2e-3)
    assert found.diagonals[0] is not None
    assert found.diagonals[1] is not None
    assert found.diagonals[0] - found.diagonals[1] == pytest.approx(29.04e-3, abs=5e-5)
    assert "diagonals differ by 29 mm" in rack.words
