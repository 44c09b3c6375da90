"""What a notch to half its depth leaves of a section, by hand."""

from __future__ import annotations

import pytest

from leafwright.proof.cut_members import section_left
from tests.leaves import STEEL


def test_half_of_a_flat_bar() -> None:
    # 60 x 20 mm cut to 10: 600 mm2 whose middle lies 5 mm off; 60 x 10^2/6 and 10 x 60^2/6.
    left = section_left(STEEL.section("flat 60 x 20 mm"))
    assert left.area == pytest.approx(600e-6)
    assert left.off == pytest.approx(5e-3)
    assert left.modulus_out == pytest.approx(1000e-9)
    assert left.modulus_in == pytest.approx(6000e-9)


def test_half_of_a_square_tube_is_near_a_channel_with_sharp_corners() -> None:
    # 80 x 80 x 4 as a channel: web 80 x 4, two legs 36 x 4: A 320 + 288 = 608 mm2; from the
    # middle of the tube the web's middle is 38, the legs' 18: (320 x 38 + 288 x 18)/608 = 28.53.
    # I = 320 x 9.47^2 + 80 x 4^3/12 + 288 x 10.53^2 + 2 x 4 x 36^3/12 = 28.7 + 0.4 + 31.9 + 31.1
    # = 92.1e3 mm4; the legs' tips are 28.53 from there: S = 3.23e3 mm3. In the plane:
    # I = 4 x 80^3/12 + 2 x 144 x 38^2 = 170.7e3 + 415.9e3 = 586.6e3, S = 14.66e3 mm3.
    left = section_left(STEEL.section("SHS 80 x 80 x 4"))
    # Round corners, 8 mm outside and 4 inside, take a twelfth or so of the far steel away.
    assert left.area == pytest.approx(608e-6, rel=0.06)
    assert left.off == pytest.approx(28.53e-3, rel=0.04)
    assert left.modulus_out == pytest.approx(3.23e-6, rel=0.08)
    assert left.modulus_in == pytest.approx(14.66e-6, rel=0.08)
