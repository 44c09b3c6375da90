"""Wind: what always holds, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import get_args

import numpy as np
import pytest

from leafwright.handbook import wind
from tests.sizes import cases


def test_higher_and_barer_never_blows_less() -> None:
    rng = np.random.default_rng(41)
    for _ in range(cases(25, 500)):
        low, high = sorted(rng.uniform(0.0, 100.0, 2))
        for exposure in get_args(wind.Exposure):
            assert wind.exposure_coefficient(high, exposure) >= wind.exposure_coefficient(
                low, exposure
            )
        by_exposure = [wind.exposure_coefficient(low, e) for e in ("B", "C", "D")]
        assert by_exposure == sorted(by_exposure)
        speed = rng.uniform(10.0, 60.0)
        peaks = [
            wind.peak_velocity_pressure(speed, low, t).pressure for t in get_args(wind.Terrain)
        ]
        assert peaks == sorted(peaks, reverse=True)
        assert wind.peak_velocity_pressure(speed, high, "II").pressure >= peaks[2]


def test_pressure_goes_with_the_square_of_speed() -> None:
    rng = np.random.default_rng(42)
    for _ in range(cases(25, 500)):
        speed, times = rng.uniform(5.0, 60.0), rng.uniform(1.0, 2.0)
        one, more = (wind.velocity_pressure(v, 0.9) for v in (speed, speed * times))
        assert more == pytest.approx(times**2 * one)
        first, second = (
            wind.peak_velocity_pressure(v, 5.0, "II").pressure for v in (speed, speed * times)
        )
        assert second == pytest.approx(times**2 * first)


def test_regions_cover_the_wall_and_are_worst_at_its_edge() -> None:
    rng = np.random.default_rng(43)
    for _ in range(cases(25, 500)):
        s = rng.uniform(1.0, 5.0)
        width, top = s * rng.uniform(2.0, 10.0), s * rng.uniform(1.0, 4.0)
        found = wind.wall_regions(width, s, top)
        assert found[0].start == 0.0 and found[-1].end == pytest.approx(width)
        for before, after in pairwise(found):
            assert before.end == after.start and before.C_f > after.C_f
    assert wind.wall_regions(1.9, 1.0, 1.0) == ()
    # Half way between two columns, and a stretch that only the longer wall has.
    between = wind.wall_regions(2.5, 1.0, 2.0)
    assert [r.C_f for r in between] == pytest.approx([2.425, 1.60, 1.15])


def test_a_coefficient_is_as_the_table_beyond_its_ends() -> None:
    assert wind.wall_coefficient(0.01, 1.0, 1.0) == wind.wall_coefficient(0.05, 1.0, 1.0)
    assert wind.wall_coefficient(90.0, 1.0, 1.0) == wind.wall_coefficient(45.0, 1.0, 1.0)
    assert wind.wall_coefficient(1.0, 1.0, 50.0) == pytest.approx(1.80)


def test_openings_and_factors_only_lessen() -> None:
    kept = [wind.opening_reduction(e) for e in np.linspace(0.7, 1.0, 31)]
    assert kept == sorted(kept) and kept[-1] == 1.0
    assert wind.ground_elevation_factor(0.0) == 1.0
    assert wind.velocity_pressure(40.0, 0.9, K_e=0.9, K_zt=1.2) == pytest.approx(
        1.08 * wind.velocity_pressure(40.0, 0.9)
    )
    # A hill adds speed, and takes none of the gusts away.
    flat = wind.peak_velocity_pressure(25.0, 8.0, "II")
    hill = wind.peak_velocity_pressure(25.0, 8.0, "II", c_o=1.2)
    assert hill.mean_speed == pytest.approx(1.2 * flat.mean_speed)
    assert hill.turbulence == pytest.approx(flat.turbulence / 1.2)
    assert hill.pressure > flat.pressure
    # Under z_min it blows as at z_min.
    assert wind.peak_velocity_pressure(25.0, 1.0, "IV") == wind.peak_velocity_pressure(
        25.0, 10.0, "IV"
    )


def test_a_dense_screen_takes_what_a_wall_with_holes_does_within_a_fifth() -> None:
    # At the limit of both, per gross area; they come of different tests.
    lattice = wind.lattice_coefficient(0.7) * 0.7
    wall = wind.wall_coefficient(1.0, 1.0, 2.0) * wind.opening_reduction(0.7)
    assert lattice == pytest.approx(wall, rel=0.25)


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: wind.exposure_coefficient(-1.0, "C"), "the height above ground is"),
    (lambda: wind.exposure_coefficient(200.0, "C"), r"give up to 500 ft"),
    (lambda: wind.exposure_coefficient(5.0, "A"), "give B, C or D"),  # type: ignore[arg-type]
    (lambda: wind.velocity_pressure(-1.0, 1.0), "the wind speed is"),
    (lambda: wind.velocity_pressure(1.0, 0.0), "K_z is"),
    (lambda: wind.velocity_pressure(1.0, 1.0, K_zt=0.0), "K_zt is"),
    (lambda: wind.velocity_pressure(1.0, 1.0, K_e=-1.0), "K_e is"),
    (lambda: wind.wall_coefficient(0.0, 1.0, 1.0), "the wall's width is"),
    (lambda: wind.wall_coefficient(1.0, 0.0, 1.0), "the wall's height is"),
    (lambda: wind.wall_coefficient(1.0, 2.0, 1.0), "no less than the wall's own"),
    (lambda: wind.wall_regions(11.0, 1.0, 1.0), "ask for its end stretches"),
    (lambda: wind.opening_reduction(0.69), "take lattice_coefficient on the solid area"),
    (lambda: wind.opening_reduction(1.01), "take lattice_coefficient"),
    (lambda: wind.lattice_coefficient(0.71), "take wall_coefficient with opening_reduction"),
    (lambda: wind.lattice_coefficient(0.0), "take wall_coefficient"),
    (lambda: wind.wind_force(-1.0, 1.0, 1.0), "the pressure is"),
    (lambda: wind.wind_force(1.0, -1.0, 1.0), "C_f is"),
    (lambda: wind.wind_force(1.0, 1.0, -1.0), "the area is"),
    (lambda: wind.wind_force(1.0, 1.0, 1.0, K_d=-1.0), "K_d is"),
    (lambda: wind.wind_force(1.0, 1.0, 1.0, G=-1.0), "G is"),
    (lambda: wind.peak_velocity_pressure(-1.0, 5.0, "II"), "the wind speed is"),
    (lambda: wind.peak_velocity_pressure(25.0, -5.0, "II"), "the height above ground is"),
    (lambda: wind.peak_velocity_pressure(25.0, 201.0, "II"), "give up to 200 m"),
    (lambda: wind.peak_velocity_pressure(25.0, 5.0, "V"), "give 0, I, II"),  # type: ignore[arg-type]
    (lambda: wind.peak_velocity_pressure(25.0, 5.0, "II", c_o=0.0), "c_o is"),
]


@pytest.mark.parametrize(("asked", "message"), REFUSED)
def test_refused(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        asked()
