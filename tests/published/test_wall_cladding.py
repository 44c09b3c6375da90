"""Wind on a part of a building's wall, against public programs and a code's own table."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import wind

MPH, PSF, FOOT = 0.44704, 47.88025898, 0.3048


# ASCE 7 Figure 30.3-1, walls, h up to 60 ft, as four public programs hold it: GC_p +1.0 to +0.7,
# -1.1 to -0.8 (zone 4), -1.4 to -0.8 (zone 5) from 10 to 500 ft2, between them
# 1.1766 - 0.1766 log A, 1.2766 - 0.1766 log A, 1.7532 - 0.3532 log A; their four figures.
@pytest.mark.parametrize("square_feet", [1.0, 10.0, 20.0, 50.0, 100.0, 300.0, 500.0, 900.0])
def test_coefficients(square_feet: float) -> None:
    log_A = math.log10(min(max(square_feet, 10.0), 500.0))
    middle, corner = (
        wind.wall_cladding(1000.0, square_feet * FOOT**2, zone, GC_pi=0.0, K_d=1.0)
        for zone in (4, 5)
    )
    for found in (middle, corner):
        assert found.GC_p_in == pytest.approx(1.1766 - 0.1766 * log_A, abs=2e-4)
        assert found.inward == pytest.approx(1000.0 * found.GC_p_in)
        assert found.outward == pytest.approx(1000.0 * found.GC_p_out)
    assert middle.GC_p_out == pytest.approx(1.2766 - 0.1766 * log_A, abs=2e-4)
    assert corner.GC_p_out == pytest.approx(1.7532 - 0.3532 * log_A, abs=2e-4)


# International Residential Code, Table R301.2(2), component loads on walls, roof 30 ft up, exposure
# B (K_z 0.70), enclosed, 110 mph, 0.6 of strength level (from memory): zone, ft2, psf in and out.
@pytest.mark.parametrize(
    ("zone", "square_feet", "inward", "outward"),
    [
        (4, 10.0, 13.1, 14.2),
        (4, 20.0, 12.5, 13.6),
        (4, 50.0, 11.7, 12.8),
        (5, 10.0, 13.1, 17.5),
        (5, 20.0, 12.5, 16.3),
        (5, 50.0, 11.7, 14.8),
        (5, 100.0, 11.1, 13.5),
    ],
)
def test_pressures_of_the_residential_code(
    zone: int, square_feet: float, inward: float, outward: float
) -> None:
    q = wind.velocity_pressure(110 * MPH, 0.70)
    found = wind.wall_cladding(q, square_feet * FOOT**2, 4 if zone == 4 else 5)
    # Three figures: 0.05 psf, and 0.03 for the constant of 0.00256.
    assert 0.6 * found.inward / PSF == pytest.approx(inward, abs=0.08)
    assert 0.6 * found.outward / PSF == pytest.approx(outward, abs=0.08)


def test_open_building_has_no_pressure_inside() -> None:
    """ASCE 7-22, 30.3.2, by hand: p = q (GC_p − GC_pi), with K_d of 0.85 on both."""
    closed = wind.wall_cladding(800.0, 5.0, 4)
    part = wind.wall_cladding(800.0, 5.0, 4, GC_pi=0.55)
    bare = wind.wall_cladding(800.0, 5.0, 4, GC_pi=0.0)
    assert closed.inward - bare.inward == pytest.approx(0.18 * 0.85 * 800.0)
    assert part.outward - bare.outward == pytest.approx(0.55 * 0.85 * 800.0)


@pytest.mark.parametrize(
    ("given", "word"),
    [
        ({"pressure": -1.0}, "the pressure is -1.0 Pa"),
        ({"area": 0.0}, "the area is 0.0 m2"),
        ({"zone": 3}, "give 4, or 5 beside a corner"),
    ],
)
def test_what_is_no_wall_is_refused(given: dict[str, float], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        wind.wall_cladding(**{"pressure": 500.0, "area": 2.0, "zone": 4, **given})  # type: ignore[arg-type]
