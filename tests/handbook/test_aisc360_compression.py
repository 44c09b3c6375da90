"""Tension, classification and compression: how the formulas of chapters B, D and E behave."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from leafwright.handbook.aisc360 import classification, compression, constants, tension

KSI = 6.894757293168361e6
F_Y = 50.0 * KSI
E_OVER_FY = 580.0


def test_tension_is_the_product_of_stress_and_area() -> None:
    assert tension.tension_yielding(345e6, 2.0e-3) == pytest.approx(690e3)
    assert tension.tension_rupture(450e6, 1.5e-3) == pytest.approx(675e3)


def test_advised_slenderness() -> None:
    # ANSI/AISC 360-22, user notes of D1 (tension) and E2 (compression), read.
    assert tension.ADVISED_L_OVER_R == 300.0
    assert compression.ADVISED_L_OVER_R == 300.0
    assert compression.ADVISED_L_C_OVER_R == 200.0


def test_flat_width_is_the_outside_less_three_walls() -> None:
    # B4.1b(d), read; AISC Design Examples v16.0, H.5C: 6.00 − 3 × 0.233 = 5.30.
    assert classification.flat_width(6.00, 0.233) == pytest.approx(5.301)


def test_a_wall_that_leaves_no_flat_gives_none() -> None:
    assert math.isnan(classification.flat_width(0.030, 0.010))


@pytest.mark.parametrize(
    "limits",
    [
        classification.rectangular_flange_limits,
        classification.rectangular_web_limits,
        classification.round_bending_limits,
    ],
)
def test_stronger_steel_has_lower_limits(
    limits: Callable[[float], classification.BendingLimits],
) -> None:
    mild, strong = limits(250e6), limits(450e6)
    assert strong.lambda_p < mild.lambda_p < mild.lambda_r
    assert strong.lambda_r < mild.lambda_r


def test_a_column_of_no_length_yields() -> None:
    assert compression.elastic_buckling_stress(0.0) == math.inf
    assert compression.compression_nonslender(F_Y, 1e-3, 0.0) == pytest.approx(F_Y * 1e-3)


def test_a_very_long_column_carries_0_877_of_euler() -> None:
    F_e = compression.elastic_buckling_stress(300.0)
    assert F_e == pytest.approx(math.pi**2 * constants.E / 300.0**2)
    assert compression.column_stress(F_Y, F_e) == pytest.approx(0.877 * F_e)


@pytest.mark.parametrize(
    ("ratio", "share"),
    [
        # By hand: 0.658^ratio to 2.25, then 0.877/ratio, in multiples of F_y.
        (0.5, 0.811172),
        (2.24, 0.391585),
        (2.26, 0.388053),
        (10.0, 0.0877),
    ],
)
def test_column_stress_by_hand(ratio: float, share: float) -> None:
    assert compression.column_stress(F_Y, F_Y / ratio) / F_Y == pytest.approx(share, rel=1e-5)


def test_inelastic_and_elastic_columns_meet() -> None:
    """0.658^2.25 = 0.38994 and 0.877/2.25 = 0.38978: 0.04 % apart, as the constants are rounded."""
    below = compression.column_stress(F_Y, F_Y / 2.249999)
    above = compression.column_stress(F_Y, F_Y / 2.250001)
    assert above == pytest.approx(below, rel=0.0005)
    assert above < below


def test_the_two_ways_to_state_the_columns_limit_agree() -> None:
    # E3, user note: L_c/r = 4.71 sqrt(E/F_y) is F_y/F_e = 2.25.
    F_e = compression.elastic_buckling_stress(4.71 * math.sqrt(E_OVER_FY))
    assert F_Y / F_e == pytest.approx(2.25, rel=0.002)


def test_a_longer_column_is_never_stronger() -> None:
    slenderness = np.linspace(0.0, 400.0, 2001)
    for P_n in (
        compression.compression_nonslender(F_Y, 1e-3, slenderness),
        compression.compression_rectangular_hss(F_Y, 5e-3, slenderness, 43.0, 66.0, 4e-3),
        compression.compression_round_hss(F_Y, 5e-3, slenderness, 100.0),
    ):
        assert np.all(np.diff(P_n) <= 0.0)


def test_a_thinner_wall_is_never_stronger() -> None:
    """At one area: only the ineffective part grows with b/t."""
    ratio = np.linspace(5.0, 200.0, 2001)
    for L_c_over_r in (0.0, 60.0, 120.0):
        rectangular = compression.compression_rectangular_hss(
            F_Y, 5e-3, L_c_over_r, ratio, 20.0, 2e-3
        )
        round_ = compression.compression_round_hss(F_Y, 5e-3, L_c_over_r, ratio)
        assert np.all(np.diff(rectangular) <= 1e-9)
        assert np.all(np.diff(round_) <= 1e-9)


def test_walls_are_whole_up_to_the_limit_and_join_it() -> None:
    """E7-3 at the limit gives 0.99912 b: Table E7.1 rounds c_2 to 1.38 where E7-4 has 1.38197."""
    limit = 1.40 * math.sqrt(E_OVER_FY)
    t = 3e-3
    whole = compression.effective_wall_width(limit * 0.999999, t, F_Y, F_Y)
    reduced = compression.effective_wall_width(limit * 1.000001, t, F_Y, F_Y)
    assert whole == pytest.approx(limit * t)
    assert reduced / (limit * t) == pytest.approx((1.0 - 0.20 * 1.38) * 1.38, rel=1e-5)


def test_a_lightly_stressed_wall_may_be_thinner() -> None:
    """E7.1: the limit grows as sqrt(F_y/F_n), so a long column keeps its slender walls whole."""
    stressed = compression.effective_wall_width(60.0, 3e-3, F_Y, F_Y)
    slack = compression.effective_wall_width(60.0, 3e-3, F_Y, 0.2 * F_Y)
    assert stressed < slack == pytest.approx(60.0 * 3e-3)


def test_very_thin_walls_approach_the_edges_alone() -> None:
    """b_e tends to 1.38 × 1.40 = 1.93 t sqrt(E/F_y); plate theory's 2 x 0.95 is 1.90."""
    b_e = compression.effective_wall_width(1e6, 1e-3, F_Y, F_Y)
    assert b_e == pytest.approx(1.932e-3 * math.sqrt(E_OVER_FY), rel=1e-3)


def test_the_order_of_the_walls_does_not_matter() -> None:
    one = compression.compression_rectangular_hss(F_Y, 5e-3, 40.0, 43.0, 66.0, 4e-3)
    other = compression.compression_rectangular_hss(F_Y, 5e-3, 40.0, 66.0, 43.0, 4e-3)
    assert one == pytest.approx(other)


def test_a_round_wall_is_whole_at_its_limit_and_never_more_than_whole() -> None:
    ratios = np.array([0.10, 0.11, 0.1101, 0.113, 0.12, 0.44]) * E_OVER_FY
    area = np.asarray(compression.effective_area_round_hss(1.0, ratios, F_Y))
    np.testing.assert_array_equal(area[:4], 1.0)
    # E7-7 by hand: 0.038/0.12 + 2/3 and 0.038/0.44 + 2/3.
    np.testing.assert_allclose(area[4:], [0.983333, 0.753030], rtol=1e-6)


@pytest.mark.parametrize("share", [0.45, 0.6])
def test_a_round_wall_outside_e7_has_no_strength_to_quote(share: float) -> None:
    strength = compression.compression_round_hss(F_Y, 1e-3, 50.0, share * E_OVER_FY)
    assert math.isnan(strength)


def test_an_area_less_than_its_walls_is_refused() -> None:
    with pytest.raises(
        ValueError, match=r"^A_g = 0\.001: less than the four flats .* = 0\.0012\d+ m2; check b/t"
    ):
        compression.compression_rectangular_hss(F_Y, 1e-3, 50.0, 20.0, 20.0, 4e-3)


def test_the_message_names_the_value_found_in_an_array() -> None:
    with pytest.raises(ValueError, match=r"^A_g = 0\.0: must be above 0; give the magnitude in SI"):
        compression.compression_nonslender(F_Y, np.array([1e-3, 0.0]), 50.0)
