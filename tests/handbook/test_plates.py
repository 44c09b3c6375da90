"""Plates on four simple edges: Roark's table against the exact double series."""

import numpy as np
import pytest

from leafwright.handbook import plates


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
