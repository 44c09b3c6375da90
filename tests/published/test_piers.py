"""A post in the ground: published values, closed forms, and what must always hold.

Sources. *LP*: a public calculation sheet of a light pole's footing, "IBC-09, Eq. 18-1", read.
*HN*: a public house's hand-worked note on cast columns, IBC 1807.3.2.1, read. *IBC*: Table 1806.2
of the 2012 edition as printed in a geotechnical handbook, read; its footnote's SI factors are the
check on ours. Tolerances follow the printed digits.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.handbook import beams, piers

FOOT = 0.3048
LBF = 4.4482216152605
PSF = LBF / FOOT**2


def test_light_pole_footing() -> None:
    """LP: P 1.33 kN at 8.00 m, b 0.849 m, 31.4 kPa a metre, 1.55 m deep: S_1 16.223, d 1.52 m."""
    pressure = piers.lateral_bearing(31.4e3, 1.0, 1.55)
    assert pressure == pytest.approx(16.223e3, rel=1e-4)
    assert piers.embedment(1330.0, 1330.0 * 8.0, pressure, 0.849) == pytest.approx(1.52, abs=0.005)


@pytest.mark.parametrize(
    ("P", "h", "depth"),
    [
        # HN, section 3: b 1.00 ft, 150 psf a foot; pounds and feet.
        (496.1, 7.489, 7.07),
        (200.0, 4.54, 4.45),
        (379.4, 6.898, 6.25),
        (612.9, 7.702, 7.73),
    ],
)
def test_columns_of_a_house(P: float, h: float, depth: float) -> None:
    force = P * LBF
    found = piers.embedment_in(force, force * h * FOOT, 150.0 * PSF, FOOT, FOOT)
    assert found == pytest.approx(depth * FOOT, abs=0.006 * FOOT)


def test_presumed_ground() -> None:
    """IBC Table 1806.2: clay 100, sand 150, gravel 200 psf a foot; 1 psf a foot is 0.157 kPa/m."""
    assert [round(bears / PSF) for _, bears in piers.PRESUMPTIVE] == [100, 150, 200]
    assert piers.PRESUMPTIVE[0][1] / piers.PRESUMPTIVE_AT == pytest.approx(15.7e3, rel=0.002)


def test_equation_as_the_code_prints_it() -> None:
    """d = 0.5 A (1 + √(1 + 4.36 h/A)), A = 2.34 P/(S_1 b): the same as ours wherever P is some."""
    P, h, S_1, b = 2000.0, 1.3, 9000.0, 0.6
    A = 2.34 * P / (S_1 * b)
    printed = 0.5 * A * (1.0 + math.sqrt(1.0 + 4.36 * h / A))
    assert piers.embedment(P, P * h, S_1, b) == pytest.approx(printed, rel=1e-12)


def test_moment_without_a_push() -> None:
    """As P goes to none with P h kept, d goes to 0.5 √(4.36 × 2.34 M/(S_1 b))."""
    M, S_1, b = 3000.0, 9000.0, 0.6
    alone = piers.embedment(0.0, M, S_1, b)
    assert alone == pytest.approx(0.5 * math.sqrt(4.36 * 2.34 * M / (S_1 * b)), rel=1e-12)
    assert piers.embedment(1e-6, M, S_1, b) == pytest.approx(alone, rel=1e-6)
    assert piers.embedment_in(0.0, 0.0, 1e4, 1.0, b) == 0.0


def test_pressure_counts_down_to_twelve_feet() -> None:
    """IBC 1807.3.2.1, by hand: S_1 at a third of the depth, of a depth of 12 ft at most."""
    ground = (100.0 * PSF, FOOT)
    assert piers.lateral_bearing(*ground, 6.0 * FOOT) == pytest.approx(200.0 * PSF)
    assert piers.lateral_bearing(*ground, 12.0 * FOOT) == pytest.approx(400.0 * PSF)
    assert piers.lateral_bearing(*ground, 30.0 * FOOT) == pytest.approx(400.0 * PSF)


@given(
    P=st.floats(0.0, 2e4),
    M=st.floats(10.0, 1e5),
    bears=st.floats(5e3, 1e5),
    b=st.floats(0.15, 1.5),
)
def test_depth_found_is_the_depth_asked_for(P: float, M: float, bears: float, b: float) -> None:
    depth = piers.embedment_in(P, M, bears, 1.0, b)
    asked = piers.embedment(P, M, piers.lateral_bearing(bears, 1.0, depth), b)
    assert depth == pytest.approx(asked, rel=1e-6)
    # More load or softer ground never asks for less; a wider footing never for more.
    assert piers.embedment_in(1.1 * P, 1.1 * M, bears, 1.0, b) >= depth
    assert piers.embedment_in(P, M, 0.9 * bears, 1.0, b) >= depth
    assert piers.embedment_in(P, M, bears, 1.0, 1.1 * b) <= depth


def test_moment_on_a_cantilever_against_a_pair_of_forces() -> None:
    """A moment is two opposite forces close together: F a = M, from the tip-load's own formula."""
    M, L, EI, a = 500.0, 2.0, 3e5, 1e-4
    bent = piers.cantilever_end_moment(M, L, EI)
    far = beams.cantilever_tip_load(M / a, L, EI)
    near = beams.cantilever_tip_load(M / a, L - a, EI)
    assert bent.moment == M
    assert bent.slope == pytest.approx(far.slope - near.slope, rel=1e-3)
    assert bent.deflection == pytest.approx(
        far.deflection - near.deflection - near.slope * a, rel=1e-3
    )


def test_footing_by_its_weight() -> None:
    """Statics, by hand: 24 in by 5 ft is 15.708 ft³, 2356 lb at 150 pcf; it tips at 2356 lb·ft."""
    weight = piers.cylinder_weight(2.0 * FOOT, 5.0 * FOOT, 150.0 * 0.45359237 / FOOT**3)
    assert weight == pytest.approx(2356.2 * LBF, rel=1e-4)
    assert piers.weight_moment(weight, 2.0 * FOOT) == pytest.approx(2356.2 * LBF * FOOT, rel=1e-4)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: piers.embedment(-1.0, 1.0, 1.0, 1.0), "the force is -1.0 N"),
        (lambda: piers.embedment(1.0, -1.0, 1.0, 1.0), "the moment is -1.0 N m"),
        (lambda: piers.embedment(1.0, 1.0, 0.0, 1.0), "the pressure is 0.0 Pa"),
        (lambda: piers.lateral_bearing(1.0, 1.0, 0.0), "the depth is 0.0 m"),
        (lambda: piers.weight_moment(1.0, 0.0), "the footing's width is 0.0 m"),
    ],
)
def test_what_cannot_be_is_refused(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
