"""Plates: Roark's tables against the exact double series and an independent solution."""

import numpy as np
import pytest
from scipy.special import j1

from leafwright.handbook import plates
from tests.sizes import cases


def navier(ratio: float) -> tuple[float, float]:
    """Return alpha and beta of a simply supported plate by Navier's double sine series.

    Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, chapter 5; ν = 0.3, b = 1.
    """
    m, n = np.meshgrid(np.arange(1, 400, 2), np.arange(1, 400, 2), indexing="ij")
    sign = np.where((m + n) // 2 % 2 == 1, 1.0, -1.0)
    u, v = (m / ratio) ** 2, n.astype(float) ** 2
    terms = 16.0 * sign / (m * n * (u + v) ** 2)
    deflection = 12.0 * (1.0 - 0.3**2) / np.pi**6 * terms.sum()
    moment = (terms * (v + 0.3 * u)).sum() / np.pi**4
    return float(deflection), float(6.0 * moment)


@pytest.mark.parametrize("ratio", [1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, 4.0, 5.0])
def test_the_table_is_the_series(ratio: float) -> None:
    alpha, beta = navier(ratio)
    found = plates.simply_supported_coefficients(ratio)
    # The table's own rounding: alpha at 1.4 is printed 0.0770 where the series gives 0.0774.
    assert found.alpha == pytest.approx(alpha, rel=6e-3)
    assert found.beta == pytest.approx(beta, rel=1e-3)


@pytest.mark.parametrize(
    "ratio", [1.1, 1.3, 1.5, 1.7, 1.9, 2.2, 2.5, 2.8, 3.5, 4.5, 6.0, 9.0, 25.0]
)
def test_between_rows_the_series_is_followed(ratio: float) -> None:
    alpha, beta = navier(ratio)
    found = plates.simply_supported_coefficients(ratio)
    assert found.alpha == pytest.approx(alpha, rel=1.2e-2)
    assert found.beta == pytest.approx(beta, rel=1.2e-2)


def test_an_endless_strip_is_a_beam() -> None:
    strip = plates.simply_supported_coefficients(float("inf"))
    assert strip.beta == pytest.approx(6.0 / 8.0)
    assert strip.alpha == pytest.approx(5.0 / 384.0 * 12.0 * (1.0 - 0.3**2), abs=2e-4)
    assert strip.gamma == pytest.approx(0.5)


def test_stress_deflection_and_reaction_have_roarks_form() -> None:
    q, a, b, t, E = 240.0, 2.0, 1.0, 0.003, 2.0e11
    found = plates.simply_supported_plate(q, a, b, t, E)
    assert found.stress == pytest.approx(0.6102 * q * b**2 / t**2)
    assert found.deflection == pytest.approx(0.1110 * q * b**4 / (E * t**3))
    assert found.greatest_reaction == pytest.approx(0.503 * q * b)
    # 4.9 mm of a 3 mm sheet: it hangs as a membrane, and the record says so.
    assert not found.small_deflection
    assert plates.simply_supported_plate(q / 4.0, a, b, t, E).small_deflection


def test_sides_given_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(ValueError, match=r"long side over its short side is 0\.5"):
        plates.simply_supported_plate(240.0, 1.0, 2.0, 0.003, 2.0e11)


def pushed_series(ratio: float, radius: float) -> tuple[float, float]:
    """Return alpha and the centre's M_y/W of a plate with a round load at its centre.

    Navier's double sine series; the load's coefficient is that of a point times 2 J1(k r)/(k r).
    """
    m, n = np.meshgrid(np.arange(1, 800, 2), np.arange(1, 800, 2), indexing="ij")
    u, v = (m / ratio) ** 2, n.astype(float) ** 2
    k = np.pi * np.sqrt(u + v) * radius
    terms = 4.0 / ratio * 2.0 * j1(k) / k / (u + v) ** 2
    deflection = 12.0 * (1.0 - 0.3**2) * terms.sum() / np.pi**4
    moment = (terms * (v + 0.3 * u)).sum() / np.pi**2
    return float(deflection), float(moment)


@pytest.mark.parametrize("ratio", [1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 4.0])
def test_a_push_at_the_centre_is_the_series(ratio: float) -> None:
    W, b, t, E, r0 = 700.0, 1.0, 0.003, 2.0e11, 0.05
    alpha, moment = pushed_series(ratio, r0)
    found = plates.pushed_plate(W, ratio * b, b, t, E, pad_radius=r0)
    assert found.stress == pytest.approx(6.0 * moment * W / t**2, rel=0.02)
    assert found.deflection == pytest.approx(alpha * W * b**2 / (E * t**3), rel=0.02)


def clamped_ritz(ratio: float) -> tuple[float, float, float, float]:
    """Return alpha, beta 2, beta 1 and gamma of a clamped plate, uniform load, b = 1, ν = 0.3.

    Rayleigh-Ritz, w = Σ c_ij f_i(x) f_j(y) with f_i = (1 − s²)² s^2i, integrals by Gauss points.
    """
    s, weight = np.polynomial.legendre.leggauss(40)
    polynomials = [
        np.polynomial.Polynomial([1.0, 0.0, -1.0]) ** 2
        * np.polynomial.Polynomial([0.0] * (2 * i) + [1.0])
        for i in range(9)
    ]
    f = np.array([p(s) for p in polynomials])
    second = np.array([p.deriv(2)(s) for p in polynomials])
    first = np.array([p.deriv(1)(s) for p in polynomials])
    ff, ss, dd = ((one * weight) @ one.T for one in (f, second, first))
    # Sides a = ratio and 1 run over −1 to 1: each derivative is 2/a or 2.
    x, y = 2.0 / ratio, 2.0
    # ∫ w_xx w_yy is ∫ w_xy² of a clamped plate.
    stiffness = np.kron(ss, ff) * x**4 + np.kron(ff, ss) * y**4 + 2 * np.kron(dd, dd) * (x * y) ** 2
    load = np.kron(f @ weight, f @ weight)
    c = np.linalg.solve(stiffness, load).reshape(9, 9)
    zero = np.array([p(0.0) for p in polynomials])
    bent = np.array([p.deriv(2)(0.0) for p in polynomials])
    edge = np.array([p.deriv(2)(1.0) for p in polynomials])
    deflection = zero @ c @ zero
    across, along = zero @ c @ bent * y**2, bent @ c @ zero * x**2
    # M in units of D; 6 M / t² over q b² / t².
    centre = -6.0 * (across + 0.3 * along)
    at_edge = 6.0 * (zero @ c @ edge) * y**2
    # Edge shear w_yyy; the other derivatives are 0 there.
    shear = (zero @ c @ np.array([p.deriv(3)(1.0) for p in polynomials])) * y**3
    alpha = 12.0 * (1.0 - 0.3**2) * deflection
    return float(alpha), float(centre), float(at_edge), float(shear)


@pytest.mark.parametrize("ratio", [1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 3.0, 4.0])
def test_a_clamped_plate_is_as_an_independent_solution_has_it(ratio: float) -> None:
    alpha, beta_2, beta_1, gamma = clamped_ritz(ratio)
    found = plates.clamped_plate(1.0, ratio, 1.0, 1.0, 1.0)
    assert found.deflection == pytest.approx(alpha, rel=0.012)
    assert found.centre_stress == pytest.approx(beta_2, rel=0.012)
    assert found.edge_stress == pytest.approx(beta_1, rel=0.012)
    # The third derivative comes in slowest.
    assert found.greatest_reaction == pytest.approx(gamma, rel=0.02)


def test_a_clamped_strip_is_a_beam_built_in() -> None:
    found = plates.clamped_plate(1.0, float("inf"), 1.0, 1.0, 1.0)
    assert found.edge_stress == pytest.approx(6.0 / 12.0)
    assert found.centre_stress == pytest.approx(6.0 / 24.0)
    assert found.deflection == pytest.approx(12.0 * (1.0 - 0.3**2) / 384.0, abs=1e-4)
    assert found.greatest_reaction == pytest.approx(0.5)


def test_clamping_stiffens_and_more_load_never_bends_less() -> None:
    rng = np.random.default_rng(51)
    for _ in range(cases(25, 500)):
        b, t = rng.uniform(0.3, 1.5), rng.uniform(1e-3, 6e-3)
        a, q, W = b * rng.uniform(1.0, 4.0), rng.uniform(50.0, 2e3), rng.uniform(100.0, 1e3)
        simple = plates.simply_supported_plate(q, a, b, t, 2e11)
        clamped = plates.clamped_plate(q, a, b, t, 2e11)
        assert clamped.deflection < simple.deflection
        assert clamped.edge_stress > clamped.centre_stress
        assert plates.clamped_plate(2 * q, a, b, t, 2e11).edge_stress == pytest.approx(
            2 * clamped.edge_stress
        )
        pad = rng.uniform(0.0, 0.4) * b
        pushed = plates.pushed_plate(W, a, b, t, 2e11, pad_radius=pad)
        wider = plates.pushed_plate(W, a, b, t, 2e11, pad_radius=min(1.1 * pad, 0.5 * b))
        assert wider.stress <= pushed.stress
        assert plates.pushed_plate(2 * W, a, b, t, 2e11, pad_radius=pad).stress == pytest.approx(
            2 * pushed.stress
        )


def test_a_large_deflection_is_said() -> None:
    assert plates.clamped_plate(100.0, 1.0, 1.0, 0.003, 2e11).small_deflection
    assert not plates.clamped_plate(1e4, 1.0, 1.0, 0.003, 2e11).small_deflection
    assert plates.pushed_plate(50.0, 1.0, 1.0, 0.003, 2e11, pad_radius=0.05).small_deflection
    assert not plates.pushed_plate(500.0, 1.0, 1.0, 0.003, 2e11, pad_radius=0.05).small_deflection


def test_plates_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match=r"long side over its short side is 0\.5"):
        plates.clamped_plate(240.0, 1.0, 2.0, 0.003, 2.0e11)
    with pytest.raises(ValueError, match=r"the thickness is 0\.0 m; give more than 0"):
        plates.clamped_plate(240.0, 2.0, 1.0, 0.0, 2.0e11)
    with pytest.raises(ValueError, match="the load is"):
        plates.pushed_plate(-1.0, 2.0, 1.0, 0.003, 2.0e11, pad_radius=0.05)
    with pytest.raises(ValueError, match="the pad's radius is"):
        plates.pushed_plate(1.0, 2.0, 1.0, 0.003, 2.0e11, pad_radius=-0.05)
    with pytest.raises(ValueError, match="take simply_supported_plate with the load as a pressure"):
        plates.pushed_plate(1.0, 2.0, 1.0, 0.003, 2.0e11, pad_radius=0.6)
