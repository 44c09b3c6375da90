"""Members: what the worked examples beside leave out of ANSI/AISC 360-22 and EN 1993-1-1.

*Spec*: ANSI/AISC 360-22, read in a public transcription. Other sources stand beside their values;
*by hand* is worked from the named equation outside this package. Units are the sources'.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import eigh_tridiagonal

from leafwright.handbook import en1993
from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    bending,
    classification,
    combined,
    compression,
    second_order,
    shear,
)

INCH = 0.0254
FOOT = 12.0 * INCH
KIP = 4448.2216152605
KSI = KIP / INCH**2
KIP_IN = KIP * INCH
E_KSI = 29_000.0
THREE_FIGURES = 0.005


# --- compression --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("A_g", "r", "feet", "F_y", "expected"),
    [
        # HSS16x16x1/2, 18 ft: 1080 kip, Manual (14th ed.) Table 4-4 in a university's lecture
        # (read; its own hand sum, 1074, has two digits of F_cr exchanged).
        (28.3, 6.31, 18.0, 46.0, 1080.0),
        # AISC Design Examples v14.0, E.11: 10 in standard pipe, 30 ft: 221 kip (read in a
        # program's verification manual).
        (11.5, 3.68, 30.0, 35.0, 221.0),
    ],
)
def test_columns_without_slender_walls(
    A_g: float, r: float, feet: float, F_y: float, expected: float
) -> None:
    P_n = compression.compression_nonslender(F_y * KSI, A_g * INCH**2, 12.0 * feet / r)
    design = available(P_n, LimitState.COMPRESSION, Method.LRFD)
    assert design / KIP == pytest.approx(expected, rel=THREE_FIGURES)


def test_slender_round_tube() -> None:
    """A public calculation sheet: 1 m by 5/16 in, 36 ksi: D/t 125.98, 88.611, 362.5, Q 0.91."""
    F_y = 36.0 * KSI
    D_over_t = 1.0 / (5.0 / 16.0 * INCH)
    assert D_over_t == pytest.approx(125.984, abs=0.001)
    assert classification.round_compression_limit(F_y) == pytest.approx(88.611, abs=0.001)
    assert classification.round_validity_limit(F_y) == pytest.approx(362.5)
    assert compression.effective_area_round_hss(1.0, D_over_t, F_y) == pytest.approx(0.91, abs=5e-4)
    # Design Examples v14.0, E.11: a 10 in standard pipe (D/t 31.6) is not slender.
    assert compression.effective_area_round_hss(1.0, 10.75 / 0.340, 35.0 * KSI) == 1.0


# --- second-order effects -----------------------------------------------------------------------


# AISC 360-16, Commentary Figure C-C2.2, Case 1, bending only, as two public programs' benchmarks
# quote it: W14x48 (484 in⁴), 28 ft, pinned, 0.200 kip/ft: axial force [kip], mid-span moment
# [kip-in]. B_1 with C_m = 1 keeps within 1.2 % of these exact amplifications.
@pytest.mark.parametrize(("P", "M"), [(150.0, 269.0), (300.0, 313.0), (450.0, 375.0)])
def test_amplifier_against_the_commentarys_benchmark(P: float, M: float) -> None:
    P_e1 = second_order.elastic_critical_load(484.0 * INCH**4, 28.0 * FOOT)
    lrfd = second_order.moment_amplifier(P * KIP, P_e1, Method.LRFD)
    assert lrfd == pytest.approx(M / 235.0, rel=0.012)
    # Spec Eq. A-8-3: alpha is 1.0 for LRFD and 1.6 for ASD.
    asd = second_order.moment_amplifier(P / 1.6 * KIP, P_e1, Method.ASD)
    assert asd == pytest.approx(lrfd)


@pytest.mark.parametrize("share", [0.05, 0.2, 0.4])
def test_amplifier_against_the_exact_beam_column(share: float) -> None:
    """Independent: EI y'' + P y = -M(x) solved: M/M_0 = 8 (sec(u/2) - 1)/u², u = π √(P/P_e)."""
    u = math.pi * math.sqrt(share)
    exact = 8.0 * (1.0 / math.cos(u / 2.0) - 1.0) / u**2
    found = second_order.moment_amplifier(share, 1.0, Method.LRFD)
    assert found == pytest.approx(exact, rel=0.013)


def test_amplifier_at_its_limits() -> None:
    """Spec Eq. A-8-3: not under 1; at the critical load no finite moment balances the deflection.

    By hand: C_m 0.6 and P 0.2 P_e1 give 0.75, so 1; C_m 0.85 and 0.5 P_e1 give 1.70.
    """
    assert second_order.moment_amplifier(0.2, 1.0, Method.LRFD, C_m=0.6) == 1.0
    assert second_order.moment_amplifier(0.5, 1.0, Method.LRFD, C_m=0.85) == pytest.approx(1.70)
    assert second_order.moment_amplifier(0.0, 1.0, Method.ASD) == 1.0
    assert second_order.moment_amplifier(1.0, 1.0, Method.LRFD) == math.inf
    assert second_order.moment_amplifier(0.7, 1.0, Method.ASD) == math.inf


def test_elastic_critical_load_is_the_least_eigenvalue() -> None:
    """Independent: -EI y'' = P y between pins, by finite differences at 4000 points."""
    E_I, L, number = 2.0e5, 3.0, 4000
    step = L / number
    least = eigh_tridiagonal(
        np.full(number - 1, 2.0 * E_I / step**2),
        np.full(number - 2, -E_I / step**2),
        select="i",
        select_range=(0, 0),
        eigvals_only=True,
    )[0]
    found = second_order.elastic_critical_load(1e-6, L, E=E_I / 1e-6)
    assert found == pytest.approx(least, rel=1e-6)


# --- bending ------------------------------------------------------------------------------------


def test_whole_flange_is_effective_where_it_is_not_slender() -> None:
    """Design Examples v16.0, F.6, read: b/t 27.2 under 33.7 is noncompact: S is the section's."""
    F_y, t, H = 50.0 * KSI, 0.116 * INCH, 3.5 * INCH
    I_x = 2.90 * INCH**4
    assert bending.effective_flange_width(27.2, t, F_y) == pytest.approx(27.2 * t)
    S_e = bending.effective_section_modulus(F_y, I_x, 1.54 * INCH**2, H, 27.2, t)
    assert S_e / INCH**3 == pytest.approx(1.66, rel=THREE_FIGURES)
    # Slender (b/t 43.0), F.8B, read: b_e 6.33 in.
    assert bending.effective_flange_width(43.0, 0.174 * INCH, F_y) / INCH == pytest.approx(
        6.33, rel=THREE_FIGURES
    )


def test_short_rectangle_reaches_its_plastic_moment() -> None:
    """Design Examples F.7B, read: HSS10x6x3/16, M_p 900 kip-in, L_p 210 in: within it, all M_p."""
    found = bending.lateral_torsional_rectangular_hss(
        50.0 * KSI,
        18.0 * INCH**3,
        14.9 * INCH**3,
        5.37 * INCH**2,
        2.52 * INCH,
        73.8 * INCH**4,
        np.array([0.0, 200.0]) * INCH,
        C_b=0.5,
    )
    assert np.asarray(found) / KIP_IN == pytest.approx([900.0, 900.0])


def test_long_rectangle_buckles_sideways() -> None:
    """The same section, L_p 210 and L_r 5580 in, read; by hand at 2000 in (Spec Eq. F7-8):

    900 - (900 - 0.7 · 50 · 14.9) · 1790/5370 = 773.8 kip-in; at 8000 in (F7-9) 0.7 F_y S L_r/L_b =
    363.7 kip-in.
    """
    found = bending.lateral_torsional_rectangular_hss(
        50.0 * KSI,
        18.0 * INCH**3,
        14.9 * INCH**3,
        5.37 * INCH**2,
        2.52 * INCH,
        73.8 * INCH**4,
        np.array([2000.0, 8000.0]) * INCH,
    )
    assert np.asarray(found) / KIP_IN == pytest.approx([773.8, 363.7], rel=THREE_FIGURES)


def test_slender_round_tube_in_bending() -> None:
    """Spec Eqs. F8-3 and F8-4, by hand: D/t 200, 0.33 · 29,000/200 = 47.85 ksi times S.

    At the limit of 0.31 E/F_y the noncompact equation F8-2 meets it within 0.5 %.
    """
    F_y, S, Z = 50.0 * KSI, 100.0 * INCH**3, 130.0 * INCH**3
    found = bending.bending_round_hss(F_y, Z, S, 200.0)
    assert found / KIP_IN == pytest.approx(4785.0, rel=1e-9)
    limit = 0.31 * E_KSI / 50.0
    below, above = (
        float(bending.bending_round_hss(F_y, Z, S, limit * (1.0 + off))) for off in (-1e-9, 1e-9)
    )
    assert above == pytest.approx(below, rel=THREE_FIGURES)
    assert below / KIP_IN == pytest.approx((0.021 * E_KSI / limit + 50.0) * 100.0)


# --- shear and torsion of slender walls ---------------------------------------------------------


@pytest.mark.parametrize(
    ("h_over_t", "earlier"),
    [
        # The LRFD Specification's earlier form, *Civil Engineering Formulas*, p. 207 (read), with
        # k = 5 and F_y = 50 ksi, as shares of 0.54 F_y A: 1; 187 √(k/F_y)/(h/t) over 59.1;
        # 23,760 k/(0.54 F_y (h/t)²) over 74.
        (50.0, 1.0),
        (65.0, 187.0 * math.sqrt(5.0 / 50.0) / 65.0),
        (70.0, 187.0 * math.sqrt(5.0 / 50.0) / 70.0),
        (100.0, 23_760.0 * 5.0 / (0.54 * 50.0 * 100.0**2)),
        (150.0, 23_760.0 * 5.0 / (0.54 * 50.0 * 150.0**2)),
    ],
)
def test_shear_buckling_of_a_web(h_over_t: float, earlier: float) -> None:
    found = shear.shear_buckling_coefficient(h_over_t, 50.0 * KSI)
    assert found == pytest.approx(earlier, rel=0.006)


def test_slender_web_buckles_as_a_plate_in_shear() -> None:
    """Independent: τ = k π² E/(12 (1 - ν²) (h/t)²), k = 5, ν = 0.3: 0.9038 k E/(h/t)²."""
    F_y, t, h_over_t = 50.0 * KSI, 0.1 * INCH, 120.0
    tau = 5.0 * math.pi**2 * E_KSI / (12.0 * (1.0 - 0.3**2) * h_over_t**2) * KSI
    V_n = shear.shear_rectangular_hss(F_y, h_over_t * t, t)
    assert V_n / (2.0 * h_over_t * t * t) == pytest.approx(tau, rel=THREE_FIGURES)


@pytest.mark.parametrize(
    ("h_over_t", "stress"),
    [
        # Spec Eqs. H3-3 to H3-5, by hand at 50 ksi (√(E/F_y) = 24.083) [ksi]: 30; 0.6 · 50 ·
        # 59.00/65; 0.458 π² 29,000/100².
        (40.0, 30.0),
        (65.0, 27.233),
        (100.0, 13.109),
    ],
)
def test_torsion_of_slender_tube(h_over_t: float, stress: float) -> None:
    T_n = combined.torsion_rectangular_hss(50.0 * KSI, INCH**3, h_over_t)
    assert T_n / KIP_IN == pytest.approx(stress, rel=1e-4)
    # Independent: it is the shear buckling of a plate with k = 5 (Civil Engineering Formulas, 187).
    plate = {40.0: 30.0, 65.0: 0.6 * 50.0 * 187.0 * math.sqrt(5.0 / 50.0) / 65.0}.get(
        h_over_t, 5.0 * math.pi**2 * E_KSI / (12.0 * (1.0 - 0.3**2) * h_over_t**2)
    )
    assert T_n / KIP_IN == pytest.approx(plate, rel=THREE_FIGURES)


def test_a_little_torsion_is_neglected() -> None:
    """Spec H3.2: up to 0.20 T_c H1 applies. Design Examples H.1B, inputs read; B24: 0.93."""
    shares = 400.0 / 1130.0, 250.0 / 642.0, 80.0 / 311.0
    found = combined.interaction_with_torsion(*shares, 0.5, 0.20)
    assert found == pytest.approx(0.93, rel=THREE_FIGURES)
    # Just over: (0.354 + 0.389 + 0.257) + (0.5 + 0.21)² = 1.505 by hand (Eq. H3-6).
    assert combined.interaction_with_torsion(*shares, 0.5, 0.21) == pytest.approx(1.505, abs=0.001)


# --- EN 1993-1-1 --------------------------------------------------------------------------------


def test_tube_of_a_public_worksheet() -> None:
    """A public calculator's sheet: CHS 76x2, S355, L_cr 10 m, curve a, read.

    d/t 38 is class 2; N_cr 6.60 kN; λ̄ 5.00; χ 0.038; N_b,Rd 6.34 kN (A f_y = 165.06 kN).
    """
    A, I, f_y = 464.96e-6, 318_495e-12, 355e6  # noqa: E741
    assert en1993.compression_class("round tube", 38.0, f_y) == 2
    N_cr = en1993.elastic_critical_force(210e9, I, 10.0)
    slenderness = en1993.lambda_bar(A, f_y, N_cr)
    assert N_cr / 1e3 == pytest.approx(6.60, abs=0.005)
    assert slenderness == pytest.approx(5.00, abs=0.005)
    chi = en1993.chi(slenderness, "a")
    assert chi == pytest.approx(0.038, abs=0.0005)
    assert en1993.N_b_Rd(chi, A, f_y, 1.0) / 1e3 == pytest.approx(6.34, rel=0.002)


@pytest.mark.parametrize("curve", ["a0", "a", "b", "c", "d"])
def test_stocky_member_does_not_buckle(curve: str) -> None:
    # EN 1993-1-1:2005, 6.3.1.2(4), read in an open copy: up to λ̄ = 0.2 nothing is lost.
    assert en1993.chi(0.2, curve) == 1.0
    assert en1993.chi(0.1, curve) == 1.0
    assert en1993.chi(0.21, curve) < 1.0


@pytest.mark.parametrize(
    ("curve", "alpha"), [("a0", 0.13), ("a", 0.21), ("b", 0.34), ("c", 0.49), ("d", 0.76)]
)
def test_imperfection_factors(curve: str, alpha: float) -> None:
    # EN 1993-1-1:2005, Table 6.1, read in an open copy and in a program's manual.
    assert en1993.imperfection_factor(curve) == alpha
