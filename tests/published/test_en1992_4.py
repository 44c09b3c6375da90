"""Anchors to EN 1992-4:2018 against published design reports and by hand.

Sources. *H1* to *H4*: four public anchor design reports by EN 1992-4, their numbers read
second-hand in a public test suite that quotes them (H1 four headed M16, h_ef 120, C20/25 cracked;
H2 two fasteners near the end of a narrow thin member; H3 a stand-off M20 8.8; H4 splitting, h_ef
200, C30/37). *R*: a public connection report, read from a scan (C25/30, eight anchors). *S*: public
study notes on a column base, whose numbers were worked by a third party. *T*: a public calculator's
sample. *Recomputed* values are worked by hand from the named equation. Units are N, mm, MPa, kN.
"""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import en1992_4 as ec
from leafwright.records import Held

MM = 1e-3
MPA = 1e6
KN = 1e3
FAR = math.inf


def test_partial_factors() -> None:
    """Table 4.1. H3: γ_Ms 1.25 in shear for 8.8; S: γ 1.5 in tension for 8.8; others recomputed."""
    assert ec.gamma_Ms_tension(800 * MPA, 640 * MPA) == pytest.approx(1.5)
    assert ec.gamma_Ms_tension(400 * MPA, 360 * MPA) == pytest.approx(1.4)
    assert ec.gamma_Ms_tension(400 * MPA, 240 * MPA) == pytest.approx(2.0)
    assert ec.gamma_Ms_shear(800 * MPA, 640 * MPA) == pytest.approx(1.25)
    assert ec.gamma_Ms_shear(400 * MPA, 240 * MPA) == pytest.approx(400 / 240)
    assert ec.gamma_Ms_shear(500 * MPA, 450 * MPA) == 1.5
    assert ec.gamma_Ms_shear(1000 * MPA, 700 * MPA) == 1.5
    assert ec.gamma_Mc(1.0) == 1.5
    assert ec.gamma_Mc(1.2) == pytest.approx(1.8)


def test_steel_in_tension() -> None:
    """S: six M20 8.8 give 784 kN by design, so N_Rk,s = 245 mm² × 800 MPa = 196 kN each."""
    N_Rk_s = ec.N_Rk_s(245 * MM**2, 800 * MPA)
    assert N_Rk_s == pytest.approx(196.0 * KN)
    assert 6 * N_Rk_s / ec.gamma_Ms_tension(800 * MPA, 640 * MPA) == pytest.approx(784.0 * KN)


@pytest.mark.parametrize(
    ("source", "headed", "cracked", "f_ck", "h_ef", "N0"),
    [
        ("H1", True, True, 20, 120, 52.321),
        ("H2", False, True, 20, 68.8, 19.673),  # the report rounds h_ef
        ("R", True, True, 25, 410 / 1.5, 201.1),
        ("T", True, True, 30, 200, 91.92 * 1.5),
        ("S", False, True, 30, 120, 76.8 * 1.5 / 2.078),
        ("recomputed: 11.0 √25 × 1000", False, False, 25, 100, 55.0),
        ("recomputed: 12.7 √25 × 1000", True, False, 25, 100, 63.5),
    ],
)
def test_cone_of_one_fastener(
    source: str, headed: bool, cracked: bool, f_ck: float, h_ef: float, N0: float
) -> None:
    found = ec.N0_Rk_c(ec.k_1(headed, cracked), f_ck * MPA, h_ef * MM)
    assert found / KN == pytest.approx(N0, rel=0.002), source


def test_embedment_in_a_narrow_member() -> None:
    """R: h_ef 500 counts as 410/1.5 = 273 mm (s_max 495); a second public report: 250/1.5 = 167."""
    edges = (400 * MM, 410 * MM, 400 * MM, 410 * MM)
    assert ec.h_ef_in_narrow_member(0.5, edges, 0.495) / MM == pytest.approx(273, abs=0.5)
    assert ec.h_ef_in_narrow_member(0.4, (0.25,) * 4, 0.3) / MM == pytest.approx(167, abs=0.5)
    assert ec.h_ef_in_narrow_member(0.4, (0.25,) * 4, 0.6) / MM == pytest.approx(200)
    assert ec.h_ef_in_narrow_member(0.4, (0.25, 0.25, FAR, FAR), 0.3) == 0.4


def test_cone_and_pryout_of_a_group_h1() -> None:
    """H1: A_c,N 257,050, A⁰ 129,600 mm², ψ_s 0.950, V_Rd,cp 131.447 kN."""
    h_ef = 120 * MM
    edges = (FAR, 150 * MM, 200 * MM, 500 * MM)
    area = ec.A_c_N(1.5 * h_ef, edges, [200 * MM], [125 * MM])
    single = ec.A_c_N(1.5 * h_ef, (FAR,) * 4, [], [])
    psi_s = ec.psi_s_N(150 * MM, 1.5 * h_ef)
    N_Rk_c = ec.resistance_of_group(ec.N0_Rk_c(8.9, 20 * MPA, h_ef), area, single, [psi_s])
    assert area / MM**2 == pytest.approx(257_050)
    assert single / MM**2 == pytest.approx(129_600)
    assert psi_s == pytest.approx(0.950, abs=0.0005)
    assert ec.V_Rk_cp(N_Rk_c, h_ef) / ec.gamma_Mc(1.0) / KN == pytest.approx(131.447, rel=0.0005)


def test_pryout_of_a_pair_h2() -> None:
    """H2: V_Rd,cp 38.929 kN with k_1 7.7 and k_8 2 from the assessment."""
    h_ef = 68.8 * MM
    area = ec.A_c_N(1.5 * h_ef, (650 * MM, 650 * MM, 600 * MM, 600 * MM), [], [100 * MM])
    N_Rk_c = ec.resistance_of_group(
        ec.N0_Rk_c(7.7, 20 * MPA, h_ef), area, (3 * h_ef) ** 2, [ec.psi_s_N(600 * MM, 1.5 * h_ef)]
    )
    assert ec.V_Rk_cp(N_Rk_c, h_ef, k_8=2.0) / 1.5 / KN == pytest.approx(38.929, rel=0.002)


def test_pryout_factor_turns_at_60_millimetres() -> None:
    """7.2.2.4, headed fasteners, recomputed."""
    assert ec.V_Rk_cp(1000.0, 0.059) == 1000.0
    assert ec.V_Rk_cp(1000.0, 0.060) == 2000.0


def test_six_anchors_share_two_cones() -> None:
    """S: 6 M20, spacings 156 and 81 mm: A_c,N 516 × 522 mm, ratio 2.078, 76.8 kN by design."""
    h_ef = 120 * MM
    area = ec.A_c_N(1.5 * h_ef, (FAR,) * 4, [156 * MM], [81 * MM, 81 * MM])
    single = (3 * h_ef) ** 2
    N_Rk_c = ec.resistance_of_group(ec.N0_Rk_c(7.7, 30 * MPA, h_ef), area, single, [])
    assert area / MM**2 == pytest.approx(269_352)
    assert area / single == pytest.approx(2.078, abs=0.0005)
    assert N_Rk_c / 1.5 / KN == pytest.approx(76.8, abs=0.05)


def test_sample_of_a_calculator() -> None:
    """T: 250,000 of 360,000 mm² and ψ_s 0.85 leave 54.3 kN by design."""
    N_Rk_c = ec.resistance_of_group(
        ec.N0_Rk_c(8.9, 30 * MPA, 0.2), 250_000 * MM**2, 360_000 * MM**2, [0.85]
    )
    assert N_Rk_c / 1.5 / KN == pytest.approx(54.3, abs=0.05)
    assert ec.psi_s_N(150 * MM, 300 * MM) == pytest.approx(0.85)


def test_dense_bars_spall() -> None:
    """7.2.1.4(5), Eq. (7.5); R: 0.5 + 500/200, so 1; h_ef 60 mm recomputed: 0.8."""
    assert ec.psi_re_N(0.5, dense_bars=True) == 1.0
    assert ec.psi_re_N(0.06, dense_bars=True) == pytest.approx(0.8)
    assert ec.psi_re_N(0.06, dense_bars=False) == 1.0


def test_pullout() -> None:
    """S: a 60 mm washer on M20, C30/37, holds about 565 kN; uncracked 10.5/7.5 of it."""
    A_h = math.pi / 4 * (60**2 - 20**2) * MM**2
    cracked = ec.N_Rk_p_headed(A_h, 30 * MPA, cracked=True)
    assert cracked / KN == pytest.approx(565, abs=1.0)
    assert ec.N_Rk_p_headed(A_h, 30 * MPA, cracked=False) / cracked == pytest.approx(1.4)
    # 7.2.1.5: the assessment's own value, unchanged.
    assert ec.N_Rk_p_post_installed(12.0 * KN) == 12.0 * KN
    held = ec.N_Rk_p_post_installed(None)
    assert isinstance(held, Held)
    assert "assessment" in held.why


def test_splitting_h4() -> None:
    """H4: A_c,N 180,000, A⁰ 160,000, ψ_s 0.850, ψ_ec 0.990, ψ_h,sp 1.272, N_Rd,sp 89.274 kN."""
    area = ec.A_c_N(200 * MM, (100 * MM, 150 * MM, 700 * MM, 500 * MM), [200 * MM], [])
    single = (400 * MM) ** 2
    psi_s = ec.psi_s_N(100 * MM, 200 * MM)
    psi_e = ec.psi_ec(2.1 * MM, 400 * MM)
    psi_h = ec.psi_h_sp(400 * MM, 244 * MM, 200 * MM, 100 * MM)
    N_Rk_sp = ec.resistance_of_group(111.234 * KN, area, single, [psi_s, psi_e, psi_h])
    assert area / MM**2 == pytest.approx(180_000)
    assert psi_s == pytest.approx(0.850)
    assert psi_e == pytest.approx(0.990, abs=0.0005)
    assert psi_h == pytest.approx(1.272, abs=0.0005)
    assert N_Rk_sp / 1.5 / KN == pytest.approx(89.274, rel=0.001)
    # In a thick member the own thickness would count: (380/244)^(2/3), and not more than 2.
    thin = ec.psi_h_sp(300 * MM, 244 * MM, 200 * MM, 100 * MM)
    assert thin == pytest.approx((300 / 244) ** (2 / 3))
    assert ec.psi_h_sp(2.0, 0.1, 0.2, 1.0) == 2.0


def test_steel_in_shear() -> None:
    """H1: V⁰_Rk,s 52.276 kN, f_uk 520, shank 16 mm (k_6 0.5). k_6 0.6 and k_7 0.8 recomputed."""
    shank = math.pi * 16**2 / 4 * MM**2
    assert ec.V_Rk_s(shank, 520 * MPA) / KN == pytest.approx(52.276, rel=0.0005)
    assert ec.V_Rk_s(100 * MM**2, 400 * MPA) == pytest.approx(24.0 * KN)
    assert ec.V_Rk_s(100 * MM**2, 400 * MPA, k_7=0.8) == pytest.approx(19.2 * KN)


def test_steel_in_shear_with_lever_arm_h3() -> None:
    """H3: l_a 34 mm, α_M 2, V_Rk,s,M 30.529, V_Rd,s,M 24.424 kN.

    S, M20 8.8 by design: on 10 mm of grout 41.5 kN, on 30 mm 20.8 kN, 10.4 if the plate may turn.
    """
    found = ec.V_Rk_s_M(245 * MM**2, 800 * MPA, 34 * MM, 2.0)
    assert found / KN == pytest.approx(30.529, rel=0.002)
    assert found / ec.gamma_Ms_shear(800 * MPA, 640 * MPA) / KN == pytest.approx(24.424, rel=0.002)
    for l_a, alpha_M, V_Rd in ((20, 2.0, 41.5), (40, 2.0, 20.8), (40, 1.0, 10.4)):
        on_grout = ec.V_Rk_s_M(245 * MM**2, 800 * MPA, l_a * MM, alpha_M)
        assert on_grout / 1.25 / KN == pytest.approx(V_Rd, abs=0.06)
    pulled = ec.V_Rk_s_M(245 * MM**2, 800 * MPA, 34 * MM, 2.0, N_Ed_over_N_Rd_s=0.25)
    assert pulled / found == pytest.approx(0.75)


def test_edge_of_a_row_h1() -> None:
    """H1: V⁰ 24.305, A 96,250, A⁰ 101,250, ψ_s 0.967, ψ_h 1.134.

    V_Rd,c 15.244 kN there includes a factor 0.903 for grout that the standard does not have.
    """
    c_1, c_2, h = 150 * MM, (200 * MM, 500 * MM), 175 * MM
    one = ec.V0_Rk_c(20 * MPA, c_1, 16 * MM, 120 * MM, cracked=True)
    area = ec.A_c_V(c_1, c_2, [125 * MM], h)
    psi_s, psi_h = ec.psi_s_V(200 * MM, c_1), ec.psi_h_V(h, c_1)
    V_Rk_c = ec.resistance_of_group(one, area, 4.5 * c_1**2, [psi_s, psi_h])
    assert one / KN == pytest.approx(24.305, rel=0.001)
    assert area / MM**2 == pytest.approx(96_250)
    assert psi_s == pytest.approx(0.967, abs=0.0005)
    assert psi_h == pytest.approx(1.134, abs=0.0005)
    assert V_Rk_c / 1.5 / KN == pytest.approx(15.244 / 0.903, rel=0.002)


def test_edge_in_a_narrow_thin_member_h2() -> None:
    """H2: c_1 650 counts as 400 mm; A 390,000, A⁰ 720,000, V⁰ 84.257, V_Rd,c 43.029 kN."""
    sides, h = (600 * MM, 600 * MM), 300 * MM
    c_1 = ec.c_1_in_narrow_member(650 * MM, sides, h, 100 * MM)
    one = ec.V0_Rk_c(20 * MPA, c_1, 14 * MM, 68.8 * MM, cracked=True)
    area = ec.A_c_V(c_1, sides, [100 * MM], h)
    psis = [ec.psi_s_V(600 * MM, c_1), ec.psi_h_V(h, c_1)]
    V_Rk_c = ec.resistance_of_group(one, area, 4.5 * c_1**2, psis)
    assert c_1 / MM == pytest.approx(400)
    assert one / KN == pytest.approx(84.257, rel=0.001)
    assert area / MM**2 == pytest.approx(390_000)
    assert V_Rk_c / 1.5 / KN == pytest.approx(43.029, rel=0.001)
    assert ec.c_1_in_narrow_member(650 * MM, (600 * MM, FAR), h, 100 * MM) == 650 * MM


def test_edge_uncracked_and_long_anchors() -> None:
    """k_9 1.7 and 2.4 (read in an extract of 7.2.2.5); caps on l_f recomputed."""
    cracked = ec.V0_Rk_c(20 * MPA, 0.1, 0.016, 0.1, cracked=True)
    assert ec.V0_Rk_c(20 * MPA, 0.1, 0.016, 0.1, cracked=False) / cracked == pytest.approx(
        2.4 / 1.7
    )
    assert ec.V0_Rk_c(20 * MPA, 0.1, 0.016, 0.5, cracked=True) == pytest.approx(
        ec.V0_Rk_c(20 * MPA, 0.1, 0.016, 0.192, cracked=True)
    )
    assert ec.V0_Rk_c(20 * MPA, 0.3, 0.030, 0.5, cracked=True) == pytest.approx(
        ec.V0_Rk_c(20 * MPA, 0.3, 0.030, 0.3, cracked=True)
    )
    assert ec.V0_Rk_c(20 * MPA, 0.3, 0.040, 0.5, cracked=True) == pytest.approx(
        ec.V0_Rk_c(20 * MPA, 0.3, 0.040, 0.32, cracked=True)
    )


def test_direction_eccentricity_and_edge_bars() -> None:
    """Eqs. (7.47), 150 mm on c_1 100: 0.5; (7.48), 90°: 2.0; ψ_re,V 1.4: read in an extract."""
    assert ec.psi_ec(150 * MM, 3 * 100 * MM) == pytest.approx(0.5)
    assert ec.psi_alpha_V(0.0) == pytest.approx(1.0)
    assert ec.psi_alpha_V(math.pi / 2) == pytest.approx(2.0)
    assert ec.psi_re_V(True) == 1.4
    assert ec.psi_re_V(False) == 1.0


def test_interaction_h2() -> None:
    """H2: concrete 0.892, printed rounded up as 90 %; steel 0.050, printed as 6 %."""
    concrete = ec.interaction_concrete(9.585 / 12.393, 13.840 / 38.929)
    steel = ec.interaction_steel(9.585 / 67.667, 6.920 / 39.680)
    assert concrete == pytest.approx(0.892, abs=0.0005)
    assert steel == pytest.approx(0.050, abs=0.0015)
