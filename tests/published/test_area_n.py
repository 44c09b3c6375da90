"""Area N of the check values: growth by heat, bow of a leaf warm on one face, slots.

Coefficients as their standards or producers state them (second-hand where it says so); lengths
recomputed; the bow against an independent integration and a published case.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad

from leafwright.handbook import thermal
from tests.sizes import cases

FOOT, INCH, FAHRENHEIT = 0.3048, 0.0254, 5.0 / 9.0


@pytest.mark.parametrize(
    ("length", "alpha", "difference", "growth", "within"),
    [
        (1.0, thermal.POLYCARBONATE, 55.0, 3.575e-3, 1e-3),  # N01, producers' association
        # N03: 3.61e-5 a degree F, 12 in, 100 F; the seller's 1/32 in a foot understates it.
        (1.0 * FOOT, 3.61e-5 / FAHRENHEIT, 100 * FAHRENHEIT, 0.0433 * INCH, 2e-3),
        # N04: multiwall technical overview, 10 ft, 100 F, 4.0e-5: 0.48 in.
        (10.0 * FOOT, 4.0e-5 / FAHRENHEIT, 100 * FAHRENHEIT, 0.48 * INCH, 1e-2),
        (3.0, 11.7e-6, 50.0, 1.755e-3, 2e-3),  # N06, AISC Manual's 6.5e-6 a degree F
    ],
)
def test_growth(
    length: float, alpha: float, difference: float, growth: float, within: float
) -> None:
    assert thermal.thermal_growth(length, alpha, difference) == pytest.approx(growth, rel=within)


def test_coefficients() -> None:
    # Polycarbonate in degrees F (N03); steel of the AISC Manual, rounded up in EN 1993 (N06);
    # aluminium by EN 1999-1-1, 3.2.5, read in a draft, and 21 to 24 in an open table; timber by
    # EN 1991-1-5 (second-hand: across the grain 30 to 70), and 3 to 5 along, 30 across in an open
    # table.
    for a_degree, expected, within in (
        (thermal.POLYCARBONATE * FAHRENHEIT, 3.61e-5, 1e-3),
        (thermal.STEEL * FAHRENHEIT, 6.5e-6, 0.03),
    ):
        assert a_degree == pytest.approx(expected, rel=within)
    assert thermal.ALUMINIUM == 23e-6 and 21e-6 <= thermal.ALUMINIUM <= 24e-6
    assert 3e-6 <= thermal.TIMBER_ALONG_GRAIN <= 5e-6
    assert thermal.TIMBER_ACROSS_GRAIN == (30e-6, 70e-6)


def test_sheet_against_its_steel_frame() -> None:
    # N07: 2.4 m of sheet, both 50 K warmer, (65 − 11.7)e-6: 6.40 mm. A slot for a 6 mm screw.
    found = thermal.slot_length(
        6e-3, 2.4, thermal.POLYCARBONATE, rise=50.0, fall=0.0, frame_alpha=11.7e-6
    )
    assert found - 6e-3 == pytest.approx(6.40e-3, rel=2e-3)
    # Part of it up and part down is the same slot; 1 mm of error to each side is 2 mm more.
    apart = thermal.slot_length(
        6e-3, 2.4, thermal.POLYCARBONATE, rise=30.0, fall=20.0, frame_alpha=11.7e-6, placing=1e-3
    )
    assert apart == pytest.approx(found + 2e-3)


def test_bow_of_a_cantilever_and_of_simple_ends() -> None:
    # Roark's Formulas, 7th edition, Table 8.1 case 6a (read in an open copy): a cantilever warm on
    # one face bends γ ΔT l²/(2 t) at its end. Half of a simple span is such a cantilever.
    L, d, alpha, dT = 4.0, 0.05, thermal.STEEL, 20.0
    found = thermal.thermal_bow(L, d, alpha, dT)
    assert found == pytest.approx(alpha * dT * (L / 2) ** 2 / (2 * d))
    # By hand: 12e-6 × 20 × 16 / 0.4 = 9.6 mm.
    assert found == pytest.approx(9.6e-3)
    # An arc of radius d/(α ΔT), exactly: sagitta R (1 − cos(L/2R)).
    R = d / (alpha * dT)
    assert found == pytest.approx(R * (1.0 - math.cos(L / (2 * R))), rel=1e-4)
    # Unit load at mid-span: ∫ m(x) α ΔT/d dx.
    worked, _ = quad(lambda x: min(x, L - x) / 2.0 * alpha * dT / d, 0.0, L, points=[L / 2])
    assert found == pytest.approx(worked)


def test_what_always_holds() -> None:
    rng = np.random.default_rng(61)
    for _ in range(cases(25, 500)):
        L, d, dT = rng.uniform(0.5, 6.0), rng.uniform(0.02, 0.2), rng.uniform(1.0, 40.0)
        assert thermal.thermal_bow(L, d, 12e-6, -dT) == -thermal.thermal_bow(L, d, 12e-6, dT)
        doubled = thermal.thermal_bow(2 * L, 2 * d, 12e-6, dT)
        assert doubled == pytest.approx(2 * thermal.thermal_bow(L, d, 12e-6, dT))
        short, long = (thermal.slot_length(6e-3, x, 65e-6, rise=dT, fall=5.0) for x in (L, 1.5 * L))
        assert 6e-3 < short < long
    # One material all through needs no slot.
    assert thermal.slot_length(6e-3, 3.0, 12e-6, rise=40.0, fall=40.0) == 6e-3
    lengths = np.array([1.0, 2.0])
    assert thermal.thermal_bow(lengths, 0.05, 12e-6, 20.0) == pytest.approx([0.6e-3, 2.4e-3])


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: thermal.slot_length(0.0, 1.0, 65e-6, rise=1.0, fall=1.0), "the fastener's diameter"),
    (lambda: thermal.slot_length(6e-3, -1.0, 65e-6, rise=1.0, fall=1.0), "the distance to the"),
    (lambda: thermal.slot_length(6e-3, 1.0, 65e-6, rise=-1.0, fall=1.0), "the rise of temperature"),
    (lambda: thermal.slot_length(6e-3, 1.0, 65e-6, rise=1.0, fall=-1.0), "the fall of temperature"),
    (
        lambda: thermal.slot_length(6e-3, 1.0, 65e-6, rise=1.0, fall=1.0, placing=-1.0),
        "the allowance for placing",
    ),
]


@pytest.mark.parametrize(("asked", "message"), REFUSED)
def test_refused(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        asked()
