"""Shear, torsion and combined forces: how the formulas of chapters G and H behave."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.handbook.aisc360 import combined, shear

KSI = 6.894757293168361e6
F_Y = 50.0 * KSI
ROOT = math.sqrt(580.0)


@pytest.mark.parametrize(
    ("h_over_t", "C_v2"),
    [
        # By hand, F_y = 50 ksi: sqrt(5 x 580) = 53.8516; G2-9 to 59.24, G2-10 to 73.78, G2-11.
        (59.2, 1.0),
        (59.5, 0.995576),
        (73.7, 0.803756),
        (73.9, 0.801837),
        (100.0, 0.437900),
    ],
)
def test_shear_buckling_by_hand(h_over_t: float, C_v2: float) -> None:
    assert shear.shear_buckling_coefficient(h_over_t, F_Y) == pytest.approx(C_v2, rel=1e-5)
    t = 2e-3
    V_n = shear.shear_rectangular_hss(F_Y, h_over_t * t, t)
    assert V_n == pytest.approx(0.6 * F_Y * 2.0 * h_over_t * t * t * C_v2, rel=1e-5)


def test_a_thinner_web_buckles_sooner() -> None:
    """But for the 0.2 % by which G2-11 starts above the end of G2-10 (1.51/1.37 against 1.10)."""
    C_v2 = np.asarray(shear.shear_buckling_coefficient(np.linspace(5.0, 260.0, 5001), F_Y))
    assert np.all(np.diff(C_v2) <= 0.0021)
    assert np.count_nonzero(np.diff(C_v2) > 0.0) <= 1


def test_round_shear_yields_or_buckles() -> None:
    """By hand, D/t = 250, L_v/D = 4: G5-2a 46,400/(2 x 994.1) = 23.34; G5-2b 22,620/3,952.8."""
    D, A_g = 0.5, 1e-3
    stocky = shear.shear_round_hss(F_Y, A_g, D, D / 40.0, 2.0)
    thin = shear.shear_round_hss(F_Y, A_g, D, D / 250.0, 2.0)
    endless = shear.shear_round_hss(F_Y, A_g, D, D / 250.0, 1e6)
    assert stocky == pytest.approx(0.3 * F_Y * A_g)
    assert thin / (0.5 * A_g) == pytest.approx(23.338 * KSI, rel=1e-4)
    assert endless / (0.5 * A_g) == pytest.approx(5.7225 * KSI, rel=1e-4)


def test_a_longer_round_member_is_never_stronger() -> None:
    lengths = np.linspace(0.1, 50.0, 500)
    V_n = np.asarray(shear.shear_round_hss(F_Y, 1e-3, 0.5, 0.002, lengths))
    T_n = np.asarray(combined.torsion_round_hss(F_Y, 1e-3, 0.5, 0.002, lengths))
    for strength in (V_n, T_n):
        assert np.all(np.diff(strength) <= 0.0)
        assert strength[-1] < strength[0]


@pytest.mark.parametrize(
    ("h_over_t", "F_cr"),
    [
        # By hand, F_y = 50 ksi: H3-3 to 59.00, H3-4 30 x 59.0042/(h/t) to 73.93, H3-5.
        (22.8, 30.0),
        (59.5, 29.7500),
        (73.9, 23.9530),
        (74.1, 23.8741),
        (260.0, 1.93916),
    ],
)
def test_rectangular_torsion_by_hand(h_over_t: float, F_cr: float) -> None:
    T_n = combined.torsion_rectangular_hss(F_Y, 1e-3, h_over_t)
    assert T_n == pytest.approx(F_cr * KSI * 1e-3, rel=1e-5)


def test_round_torsion_yields_or_buckles() -> None:
    """By hand, D/t = 250, L/D = 4: H3-2a 35,670/(2 x 994.1) = 17.94; H3-2b 17,400/3,952.8."""
    D, C = 0.5, 1e-3
    stocky = combined.torsion_round_hss(F_Y, C, D, D / 40.0, 2.0)
    thin = combined.torsion_round_hss(F_Y, C, D, D / 250.0, 2.0)
    endless = combined.torsion_round_hss(F_Y, C, D, D / 250.0, 1e6)
    assert stocky == pytest.approx(0.6 * F_Y * C)
    assert thin / C == pytest.approx(17.941 * KSI, rel=1e-4)
    assert endless / C == pytest.approx(4.4019 * KSI, rel=1e-4)


def test_a_thinner_wall_twists_sooner() -> None:
    """But for the 0.2 % by which H3-5 starts above the end of H3-4 (0.4796 against 0.4788)."""
    T_n = np.asarray(combined.torsion_rectangular_hss(F_Y, 1.0, np.linspace(5.0, 260.0, 5001)))
    steps = np.diff(T_n) / T_n[:-1]
    assert np.all(steps <= 0.0018)
    assert np.count_nonzero(steps > 0.0) <= 1


def test_torsion_is_not_answered_above_h_over_t_260() -> None:
    assert math.isnan(combined.torsion_rectangular_hss(F_Y, 1e-3, 260.1))


def test_torsional_constant_is_bredt_on_the_wall_centre_line() -> None:
    B, H, t = 0.10, 0.15, 0.004
    radius = 1.5 * t
    enclosed = (B - t) * (H - t) - (4.0 - math.pi) * radius**2
    assert combined.torsional_constant_rectangular_hss(B, H, t) == pytest.approx(2.0 * t * enclosed)
    D = 0.2
    assert combined.torsional_constant_round_hss(D, t) == pytest.approx(
        2.0 * t * math.pi * (0.5 * (D - t)) ** 2
    )


def test_axial_force_alone_uses_up_its_own_strength_and_moment_alone_its_own() -> None:
    assert combined.interaction_axial_bending(1.0, 0.0) == pytest.approx(1.0)
    assert combined.interaction_axial_bending(0.0, 0.6, 0.4) == pytest.approx(1.0)


def test_half_of_a_small_axial_force_counts() -> None:
    assert combined.interaction_axial_bending(0.1999, 0.0) == pytest.approx(0.09995)
    assert combined.interaction_axial_bending(0.2, 0.0) == pytest.approx(0.2)


def test_both_branches_meet_where_the_member_is_full() -> None:
    """H1-1a and H1-1b are one line at P_r/P_c = 0.2 with 0.9 of the moment, and only there."""
    below = combined.interaction_axial_bending(0.2 - 1e-12, 0.9)
    above = combined.interaction_axial_bending(0.2, 0.9)
    assert below == pytest.approx(1.0)
    assert above == pytest.approx(1.0)


def test_more_of_anything_is_never_safer() -> None:
    share = np.linspace(0.0, 1.0, 101)
    for ratio in (
        combined.interaction_axial_bending(share, 0.9),
        combined.interaction_axial_bending(0.3, share, 0.1),
        combined.interaction_axial_bending(0.1, 0.1, share),
        combined.interaction_with_torsion(0.1, 0.1, 0.1, share, 0.3),
        combined.interaction_with_torsion(0.1, 0.1, 0.1, 0.1, np.linspace(0.21, 1.0, 101)),
    ):
        assert np.all(np.diff(ratio) > 0.0)


def test_little_torsion_is_neglected_and_more_is_not() -> None:
    without = combined.interaction_axial_bending(0.3, 0.4, 0.1)
    little = combined.interaction_with_torsion(0.3, 0.4, 0.1, 0.5, 0.20)
    more = combined.interaction_with_torsion(0.3, 0.4, 0.1, 0.5, 0.21)
    assert little == pytest.approx(without)
    assert more == pytest.approx(0.8 + (0.5 + 0.21) ** 2)


def test_a_signed_force_is_refused() -> None:
    """The house sign is tension positive; a compression passed as such would read as help."""
    with pytest.raises(ValueError, match=r"^P_r_over_P_c = -0\.3: must be 0 or more; give the mag"):
        combined.interaction_axial_bending(-0.3, 0.5)
