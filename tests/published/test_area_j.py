"""Area J of the check values: level nets, a planted blunder, repeated readings, a racked rectangle.

Rows are numbered with gaps. Sources and how each is known stand beside them: *read* in a printed
output, *recomputed* from the named formula. Tolerances are the rows' own. Level nets leave the
places across open, so each mark is pinned there by an observation of its own, which checks nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest

from leafwright.survey import Observation, Survey, at
from leafwright.survey.adjust import adjust
from tests.survey.openings import distance, job_of, level, observation, rise, surveyed

Line = tuple[str, str, float]


def net(lines: Sequence[Line], sd: float) -> Survey:
    """Return the adjusted level net; the mark ``BL`` is the fixed one, at no height [m]."""
    names = dict.fromkeys(name for first, second, _ in lines for name in (first, second))
    seen: list[Observation] = [
        observation(f"line {i}: {first}-{second}", "up", (first, second), by, sd)
        for i, (first, second, by) in enumerate(lines)
    ]
    seen += [
        observation(f"{name} across", "across", ("BL", name), 0.0, 0.001)
        for name in names
        if name != "BL"
    ]
    found = adjust(seen, dict.fromkeys(names, (0.0, 0.0, 0.0)))
    assert isinstance(found, Survey), found
    return found


def heights(found: Survey) -> dict[str, float]:
    return {m.name: m.at[1] for m in found.marks}


# GNU Gama, 1D sample of version 1.5.09: a loop levelled both ways (observations and results read).
GAMA = [
    ("BL", "4", -1.225),
    ("4", "3", -0.848),
    ("3", "2", 1.342),
    ("2", "BL", 0.720),
    ("BL", "2", -0.724),
    ("2", "3", -1.335),
    ("3", "4", 0.842),
    ("4", "BL", 1.231),
]


def test_heights_of_a_loop_levelled_both_ways() -> None:
    # J01. Heights are over the fixed point at 1000.000 m. Tolerance 0.02 mm: printed digits.
    found = heights(net(GAMA, 0.005))
    assert 1000.0 + found["4"] == pytest.approx(998.77513, abs=2e-5)
    assert 1000.0 + found["3"] == pytest.approx(997.93325, abs=2e-5)
    assert 1000.0 + found["2"] == pytest.approx(999.27487, abs=2e-5)


def test_the_largest_standardised_residual_of_the_loop() -> None:
    # J03. The output prints |w| = 1.68 for observation 6 with sigma-0 = 5 mm; v recomputed.
    found = net(GAMA, 0.005)
    lines = found.adjusted[: len(GAMA)]
    worst = max(lines, key=lambda a: abs(a.standardised or 0.0))
    assert worst is lines[5]
    assert worst.residual == pytest.approx(-6.625e-3, abs=1e-5)
    assert abs(worst.standardised or 0.0) == pytest.approx(1.676, abs=0.01)


# A public examination question's observations (read), adjusted with equal weights (recomputed).
SIX_LINES = [
    ("BL", "B", 8.50),
    ("B", "C", 4.28),
    ("C", "D", -6.60),
    ("D", "BL", -5.72),
    ("B", "D", -2.16),
    ("BL", "C", 12.91),
]


def test_a_six_line_net_with_equal_weights() -> None:
    # J04. The fixed point is at 500 m. With unit weights the row's standard deviations are those
    # scaled by s0 = √(vᵀPv / degrees of freedom). Tolerance: printed digits.
    found = net(SIX_LINES, 1.0)
    height = heights(found)
    assert 500.0 + height["B"] == pytest.approx(508.3775, abs=1e-4)
    assert 500.0 + height["C"] == pytest.approx(512.7300, abs=1e-4)
    assert 500.0 + height["D"] == pytest.approx(506.0225, abs=1e-4)
    s0 = math.sqrt(found.weighted_sum / found.freedom)
    assert found.freedom == 3
    assert s0 == pytest.approx(0.2541, abs=1e-4)
    for name in "BCD":
        assert s0 * at(found, name).sd_y == pytest.approx(0.1797, abs=1e-4)
    residuals = [a.residual for a in found.adjusted[:6]]
    expected = [-0.1225, 0.0725, -0.1075, -0.3025, -0.1950, -0.1800]
    assert residuals == pytest.approx(expected, abs=1e-4)


BLUNDERED = [
    ("BL", "b", 2.000),
    ("b", "c", 1.000),
    ("c", "BL", -3.006),
    ("b", "d", 0.500),
    ("d", "BL", -2.530),
    ("c", "d", -0.502),
]


def test_a_planted_blunder_is_named_first() -> None:
    # J05, recomputed: the w-test of Baarda (1968), A Testing Procedure for Use in Geodetic
    # Networks; line d-a is 28 mm out.
    found = net(BLUNDERED, 0.003)
    height = heights(found)
    assert [height[name] for name in "bcd"] == pytest.approx([2.009, 3.011, 2.516], abs=1e-6)
    lines = found.adjusted[:6]
    w = [a.standardised or 0.0 for a in lines]
    assert w == pytest.approx([4.243, 0.943, -2.357, 3.300, 6.600, 3.300], abs=0.01)
    assert [a.redundancy for a in lines] == pytest.approx([0.5] * 6, abs=1e-9)
    assert found.weighted_sum == pytest.approx(44.89, abs=0.01)
    assert -lines[4].residual / lines[4].redundancy == pytest.approx(-0.028, abs=1e-5)
    assert found.agreement == "does not agree"
    assert found.stops[0].decide.startswith("read again, first: line 4: d-BL;")


def test_the_net_agrees_once_the_blunder_is_left_out() -> None:
    # J06, recomputed.
    found = net([line for line in BLUNDERED if line[:2] != ("d", "BL")], 0.003)
    height = heights(found)
    assert [height[name] for name in "bcd"] == pytest.approx([2.0020, 3.0040, 2.5020], abs=1e-6)
    assert found.freedom == 2
    assert found.weighted_sum == pytest.approx(1.333, abs=1e-3)
    assert math.sqrt(found.weighted_sum / found.freedom) == pytest.approx(0.816, abs=1e-3)
    assert max(abs(a.standardised or 0.0) for a in found.adjusted) == pytest.approx(1.089, abs=1e-3)
    assert found.agreement == "agrees"
    assert found.stops == ()


def test_repeated_readings_weigh_by_their_sureness() -> None:
    # J07, recomputed: weights 4 : 1 : 4.
    job = job_of(
        [
            distance("BL", "BR", 3.002, sd="2 mm"),
            distance("BL", "BR", 3.005, sd="4 mm"),
            distance("BL", "BR", 3.001, sd="2 mm"),
            level("BL", 0.0),
            level("BR", 0.0),
        ]
    )
    found = at(surveyed(job), "BR")
    assert found.at[0] == pytest.approx(3.00189, abs=1e-5)
    assert found.sd_x == pytest.approx(1.3333e-3, abs=1e-7)


def test_out_of_square_from_the_difference_of_the_diagonals() -> None:
    # J09, law of cosines, recomputed: sides 3.000 and 2.000 m, racked by 0.5°. The printed
    # diagonals' 0.01 mm are read; they turn the sides by 0.01 mm · d / (2 b) at most.
    long, short = 3.62004, 3.59100
    assert long**2 - short**2 == pytest.approx(0.209437, abs=5e-5)
    job = job_of(
        [
            distance("BL", "BR", 3.000),
            distance("TL", "TR", 3.000),
            distance("BL", "TL", 2.000),
            distance("BR", "TR", 2.000),
            distance("BL", "TR", long),
            distance("BR", "TL", short),
            rise("BL", "BR", 0.0),
        ]
    )
    found = surveyed(job)
    lean = math.degrees(math.atan2(at(found, "TL").at[0], at(found, "TL").at[1]))
    assert lean == pytest.approx(0.5, abs=0.001)
    places = {m.name: np.array(m.at) for m in found.marks}
    d1 = np.linalg.norm(places["TR"] - places["BL"])
    d2 = np.linalg.norm(places["TL"] - places["BR"])
    assert d1 - d2 == pytest.approx(29.04e-3, abs=5e-5)
