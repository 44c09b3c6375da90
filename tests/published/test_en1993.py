"""Buckling of members by EN 1993-1-1:2005 against its curves and a worked example."""

import math

import numpy as np
import pytest

from leafwright.handbook import en1993

# EN 1993-1-1:2005 6.3.1.2, equation (6.49), Table 6.1; worked outside this project, four digits:
# slenderness, then chi for curves a0, a, b, c, d.
CHI = [
    (0.5, 0.9513, 0.9243, 0.8842, 0.8430, 0.7793),
    (1.5, 0.3953, 0.3724, 0.3422, 0.3145, 0.2766),
    (2.0, 0.2323, 0.2229, 0.2095, 0.1962, 0.1766),
]
CURVES = ("a0", "a", "b", "c", "d")


@pytest.mark.parametrize("row", CHI)
def test_reduction_factors(row: tuple[float, ...]) -> None:
    slenderness, *expected = row
    for curve, chi in zip(CURVES, expected, strict=True):
        assert en1993.chi(slenderness, curve) == pytest.approx(chi, abs=1e-4)


def test_a_column_of_he_340_b() -> None:
    # Eurocodes: Design of steel buildings with worked examples, Brussels, October 2014, Example 1:
    # S355, buckling length about z 4.335 m, curve c, A = 17090 mm2, i_z = 75.3 mm; chi = 0.69 and
    # N_b,Rd = 4186 kN, by the rounded chi; gamma_M1 = 1.
    A, i_z = 17090e-6, 75.3e-3
    N_cr = en1993.elastic_critical_force(210.0e9, A * i_z**2, 4.335)
    chi = en1993.chi(en1993.lambda_bar(A, 355.0e6, N_cr), "c")
    assert chi == pytest.approx(0.6914, abs=2e-4)
    assert en1993.N_b_Rd(chi, A, 355.0e6, 1.0) == pytest.approx(4186.0e3, rel=0.005)
    assert en1993.N_b_Rd(0.69, A, 355.0e6, 1.0) == pytest.approx(4186.0e3, rel=1e-4)


def test_slenderness_is_the_standards_other_form() -> None:
    # 6.3.1.3(1), equation (6.50): λ̄ = (L_cr / i) / λ1 with λ1 = π √(E / f_y) = 93.9 ε.
    lambda_1 = math.pi * math.sqrt(210.0e9 / 235.0e6)
    assert lambda_1 == pytest.approx(93.9, abs=0.05)
    N_cr = en1993.elastic_critical_force(210.0e9, 19.5e-8, 2.0)
    i = math.sqrt(19.5e-8 / 5.41e-4)
    found = en1993.lambda_bar(5.41e-4, 235.0e6, N_cr)
    assert found == pytest.approx(2.0 / i / lambda_1, rel=1e-12)


def test_curves_lie_in_their_order_and_never_pass_1() -> None:
    slenderness = np.linspace(0.0, 3.0, 301)
    higher = np.ones(301)
    for curve in CURVES:
        chi = np.asarray(en1993.chi(slenderness, curve))
        assert np.all(chi <= higher)
        assert np.all(np.diff(chi) <= 0.0)
        assert np.all(chi[slenderness <= 0.2] == 1.0)
        # No curve passes Euler's.
        assert np.all(chi[1:] * slenderness[1:] ** 2 <= 1.0)
        higher = chi


# EN 1993-1-1:2005 Table 5.2: sheet 1 read in an open copy (33, 38, 42 ε); sheet 3 (50, 70, 90 ε²)
# read in several public programs.
def test_classes_of_hollow_sections_in_compression() -> None:
    f_y = 235.0e6
    for shape, limits in (("rectangular tube", (33, 38, 42)), ("round tube", (50, 70, 90))):
        for number, limit in enumerate(limits, start=1):
            assert en1993.compression_class(shape, limit - 0.01, f_y) == number
            assert en1993.compression_class(shape, limit + 0.01, f_y) == number + 1
    # ε² = 235/355: 42ε = 34.2, 90ε² = 59.6.
    assert en1993.compression_class("rectangular tube", 34.0, 355.0e6) == 3
    assert en1993.compression_class("rectangular tube", 34.4, 355.0e6) == 4
    assert en1993.compression_class("round tube", 59.7, 355.0e6) == 4


def test_cold_formed_tube_takes_curve_c() -> None:
    # EN 1993-1-1:2005 Tables 6.1 and 6.2, read in an open copy.
    assert en1993.buckling_curve("cold formed hollow section") == "c"
    assert en1993.buckling_curve("hot finished hollow section") == "a"
    assert en1993.imperfection_factor("c") == 0.49


def test_unknown_names_are_refused_with_what_would_do() -> None:
    with pytest.raises(ValueError, match="no buckling curve 'e'; give one of a0, a, b, c, d"):
        en1993.chi(1.0, "e")
    with pytest.raises(ValueError, match="no buckling curve for 'plank'; give one of hot finished"):
        en1993.buckling_curve("plank")
    with pytest.raises(ValueError, match="no class for 'angle'; give 'rectangular tube'"):
        en1993.compression_class("angle", 10.0, 235.0e6)
