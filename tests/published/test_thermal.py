"""Growth by heat against published coefficients and their producers' own figures."""

from __future__ import annotations

import pytest

from leafwright.handbook.thermal import STEEL, thermal_growth


def test_steel_grows_as_the_manual_says() -> None:
    # AISC Steel Construction Manual: 6.5e-6 a degree Fahrenheit, 11.7e-6 a degree Celsius (from
    # memory); 3 m over 50 K, worked out from it.
    assert thermal_growth(3.0, 11.7e-6, 50.0) == pytest.approx(1.755e-3, rel=0.002)
    # EN 1993-1-1:2005, 3.2.6(1) rounds the same property up.
    assert pytest.approx(11.7e-6, rel=0.03) == STEEL


def test_polycarbonate_grows_as_its_producers_say() -> None:
    # European polycarbonate sheet producers' association, questions and answers: 0.065 mm a metre
    # and degree; over 55 degrees.
    assert thermal_growth(1.0, 65e-6, 55.0) == pytest.approx(3.575e-3, rel=0.001)


def test_a_colder_part_is_shorter() -> None:
    assert thermal_growth(2.0, STEEL, -10.0) == -thermal_growth(2.0, STEEL, 10.0)
