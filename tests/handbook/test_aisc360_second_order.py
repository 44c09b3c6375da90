"""Moment amplification of compressed members with ends held: closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.handbook.aisc360 import Method
from leafwright.handbook.aisc360.second_order import elastic_critical_load, moment_amplifier

KN = 1000.0


def test_euler_load_is_pi_squared_e_i_over_l_squared() -> None:
    assert elastic_critical_load(1e-6, 2.0, E=200e9) == pytest.approx(math.pi**2 * 50e3)
    # Twice as long carries a quarter.
    assert elastic_critical_load(1e-6, 4.0, E=200e9) == pytest.approx(math.pi**2 * 12.5e3)


def test_euler_load_takes_29000_ksi_where_no_modulus_is_given() -> None:
    # ANSI/AISC 360-22, Appendix 8: E = 29,000 ksi (from memory).
    assert elastic_critical_load(1e-6, 1.0) == pytest.approx(
        math.pi**2 * 29e6 * 6894.757293168362 * 1e-6
    )


@pytest.mark.parametrize(
    ("P_r", "P_e1", "method", "C_m", "B_1"),
    [
        # 1 / (1 − 1.6 × 0.1) and 1 / (1 − 0.1), by hand.
        (100 * KN, 1000 * KN, Method.ASD, 1.0, 1 / 0.84),
        (100 * KN, 1000 * KN, Method.LRFD, 1.0, 1 / 0.9),
        (500 * KN, 1000 * KN, Method.ASD, 1.0, 5.0),
        (500 * KN, 1000 * KN, Method.LRFD, 1.0, 2.0),
        (0.0, 1000 * KN, Method.ASD, 1.0, 1.0),
        # A small C_m does not make less of a moment than it is.
        (100 * KN, 1000 * KN, Method.LRFD, 0.6, 1.0),
        (500 * KN, 1000 * KN, Method.LRFD, 0.6, 1.2),
        # At the critical load and beyond there is no equilibrium.
        (625 * KN, 1000 * KN, Method.ASD, 1.0, math.inf),
        (1000 * KN, 1000 * KN, Method.LRFD, 1.0, math.inf),
        (2000 * KN, 1000 * KN, Method.LRFD, 1.0, math.inf),
        (2000 * KN, 1000 * KN, Method.LRFD, 0.0, math.inf),
    ],
)
def test_amplifier_is_its_closed_form(
    P_r: float, P_e1: float, method: Method, C_m: float, B_1: float
) -> None:
    assert moment_amplifier(P_r, P_e1, method, C_m=C_m) == pytest.approx(B_1)


@pytest.mark.parametrize("share", [0.05, 0.2, 0.4])
def test_amplifier_is_near_the_exact_beam_column(share: float) -> None:
    # A pinned beam-column under an even line load: the exact midspan moment over w L²/8 is
    # 2 (sec u − 1)/u², u = π/2 √(P/P_e). B_1 with C_m = 1 comes within 1.2 % up to P = 0.4 P_e.
    u = math.pi / 2 * math.sqrt(share)
    exact = 2 * (1 / math.cos(u) - 1) / u**2
    B_1 = float(moment_amplifier(share, 1.0, Method.LRFD))
    assert pytest.approx(exact, rel=0.012) == B_1


def test_amplifier_broadcasts() -> None:
    found = moment_amplifier(np.array([0.0, 250.0, 1000.0]), 1000.0, Method.LRFD)
    assert np.asarray(found) == pytest.approx([1.0, 4 / 3, math.inf])


@pytest.mark.parametrize(
    ("P_r", "P_e1", "message"),
    [
        (-1.0, 1000.0, r"P_r = -1\.0: must be 0 or more"),
        (1.0, 0.0, r"P_e1 = 0\.0: must be above 0"),
    ],
)
def test_wrong_sign_is_refused(P_r: float, P_e1: float, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        moment_amplifier(P_r, P_e1, Method.ASD)
    with pytest.raises(ValueError, match=r"L_c = 0\.0: must be above 0"):
        elastic_critical_load(1e-6, 0.0)
