"""Area I of the check values: the NIOSH lifting equation, and slings.

Rows are numbered with gaps; tolerances are the rows' own. NIOSH 94-110: HM, VM, DM and AM read
second-hand; the frequency table as two independent public programs print it, which agree.
"""

from __future__ import annotations

import math

import pytest

from leafwright.handbook.niosh import (
    Coupling,
    Lift,
    asymmetry_multiplier,
    coupling_multiplier,
    distance_multiplier,
    frequency_multiplier,
    horizontal_multiplier,
    lift_limit,
    load_constant,
    vertical_multiplier,
)
from leafwright.handbook.slings import two_leg_sling

INCH, CM, LB, DEGREE = 0.0254, 0.01, 0.45359237, math.pi / 180


def lift(h: float, v: float, d: float, a: float) -> Lift:
    return Lift(h * INCH, v * INCH, d * INCH, a * DEGREE, coupling="good")


def test_load_constant() -> None:
    # I01.
    assert load_constant("US") / LB == pytest.approx(51.0)
    assert load_constant("metric") == 23.0


@pytest.mark.parametrize("at", [12.0, 20.0, 25.0])
def test_formulas_in_inches_and_centimetres(at: float) -> None:
    # I01: HM=10/H, VM=1-0.0075|V-30|, DM=0.82+1.8/D, AM=1-0.0032A; 25/H, 0.003|V-75|, 4.5/D.
    assert horizontal_multiplier(at * INCH) == pytest.approx(10 / at)
    assert vertical_multiplier(at * INCH) == pytest.approx(1 - 0.0075 * abs(at - 30))
    assert distance_multiplier(at * INCH) == pytest.approx(0.82 + 1.8 / at)
    assert asymmetry_multiplier(at * DEGREE) == pytest.approx(1 - 0.0032 * at)
    cm = 2.5 * at
    assert horizontal_multiplier(cm * CM, "metric") == pytest.approx(25 / cm)
    assert vertical_multiplier(cm * CM, "metric") == pytest.approx(1 - 0.003 * abs(cm - 75))
    assert distance_multiplier(cm * CM, "metric") == pytest.approx(0.82 + 4.5 / cm)


@pytest.mark.parametrize(
    ("task", "HM", "VM", "DM", "AM", "product", "pounds"),
    [
        ((20, 15, 40, 30), 0.500, 0.8875, 0.865, 0.904, 0.3470, 17.70),  # I03
        ((25, 60, 25, 90), 0.400, 0.7750, 0.892, 0.712, 0.1969, 10.04),  # I04
    ],
)
def test_multipliers_and_limit(
    task: tuple[float, float, float, float],
    HM: float,
    VM: float,
    DM: float,
    AM: float,
    product: float,
    pounds: float,
) -> None:
    found = lift_limit(lift(*task))
    m = found.multipliers
    for found_one, expected in ((m.HM, HM), (m.VM, VM), (m.DM, DM), (m.AM, AM)):
        assert found_one == pytest.approx(expected, rel=1e-3)
    together = m.HM * m.VM * m.DM * m.AM
    assert together == pytest.approx(product, rel=1e-3)
    assert m.FM == 1.0 and m.CM == 1.0
    assert found.weight / LB == pytest.approx(pounds, rel=1e-3)


def test_bounds() -> None:
    # I06 (from memory; the cut-offs are also those of the second-hand programs).
    assert horizontal_multiplier(5 * INCH) == 1.0
    assert horizontal_multiplier(25 * INCH) == pytest.approx(0.4)
    assert horizontal_multiplier(25.1 * INCH) == 0.0
    assert vertical_multiplier(30 * INCH) == 1.0
    assert vertical_multiplier(70 * INCH) == pytest.approx(0.7)
    assert vertical_multiplier(70.1 * INCH) == 0.0
    assert distance_multiplier(3 * INCH) == pytest.approx(1.0)
    assert distance_multiplier(70.1 * INCH) == 0.0
    assert asymmetry_multiplier(135 * DEGREE) == pytest.approx(0.568)
    assert asymmetry_multiplier(136 * DEGREE) == 0.0


# NIOSH 94-110, Table 5: lifts a minute, hours, hands below 30 in and not below.
@pytest.mark.parametrize(
    ("a_minute", "hours", "low", "high"),
    [
        (0.1, 1, 1.00, 1.00),
        (0.2, 8, 0.85, 0.85),
        (1, 1, 0.94, 0.94),
        (4, 2, 0.72, 0.72),
        (8, 8, 0.18, 0.18),
        (9, 8, 0.00, 0.15),
        (11, 8, 0.00, 0.00),
        (10, 2, 0.26, 0.26),
        (12, 2, 0.00, 0.21),
        (12, 1, 0.37, 0.37),
        (15, 1, 0.00, 0.28),
        (16, 1, 0.00, 0.00),
    ],
)
def test_frequency_table(a_minute: float, hours: float, low: float, high: float) -> None:
    assert frequency_multiplier(a_minute, hours, 29 * INCH) == low
    assert frequency_multiplier(a_minute, hours, 30 * INCH) == high
    assert frequency_multiplier(a_minute, hours, 74 * CM, "metric") == low
    assert frequency_multiplier(a_minute, hours, 75 * CM, "metric") == high


def test_between_two_rows_the_heavier_work_counts() -> None:
    # The same Table 5: 0.84 at 4 a minute; 0.88 stands at 3.
    assert frequency_multiplier(3.5, 1, 0.0) == 0.84


# NIOSH 94-110, Table 7 (second-hand).
@pytest.mark.parametrize(
    ("coupling", "low", "high"), [("good", 1.0, 1.0), ("fair", 0.95, 1.0), ("poor", 0.9, 0.9)]
)
def test_coupling_table(coupling: Coupling, low: float, high: float) -> None:
    assert coupling_multiplier(coupling, 29 * INCH) == low
    assert coupling_multiplier(coupling, 30 * INCH) == high


def test_what_the_equation_cannot_judge_is_refused() -> None:
    with pytest.raises(ValueError, match="9 hours of lifting is beyond the equation; give 8"):
        frequency_multiplier(1, 9, 0.5)
    with pytest.raises(ValueError, match=r"the hands are at -0\.1 m; they cannot be below"):
        vertical_multiplier(-0.1)


@pytest.mark.parametrize(
    ("degrees", "leg", "inward"),
    [(90, 500.0, 0.0), (45, 707.1, 500.0), (30, 1000.0, 866.0)],  # I07, I09, I10
)
def test_two_leg_sling(degrees: float, leg: float, inward: float) -> None:
    found = two_leg_sling(1000.0, degrees * DEGREE)
    assert found.tension == pytest.approx(leg, rel=1e-3)
    assert found.inward == pytest.approx(inward, rel=1e-3, abs=1e-9)


def test_level_legs_are_refused() -> None:
    with pytest.raises(ValueError, match="lifts nothing; give more than 0"):
        two_leg_sling(1000.0, 0.0)
