"""Posts in the ground, hinge pins, screws through sheet, bent faces, and wind on a door in a wall.

Each source stands beside its values; *by hand* is worked from the named rule outside this package,
*independent* by another way of solving the same thing.
"""

from __future__ import annotations

import math
from typing import Literal

import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from leafwright.handbook import piers, pins, screws, wind
from leafwright.handbook.aisc360 import face_moments

INCH, FOOT = 0.0254, 0.3048
LB = 4.4482216152605
KSI = 1000.0 * LB / INCH**2
PSF = LB / FOOT**2
ZONES: tuple[Literal[4], Literal[5]] = (4, 5)


# --- posts --------------------------------------------------------------------------------------


def test_cantilever_turned_at_its_tip() -> None:
    """Independent: virtual work, ∫ M m/(EI) with m = x and 1; 500 N m, 2 m, EI 1e5."""
    found = piers.cantilever_end_moment(500.0, 2.0, 1.0e5)
    deflection, _ = quad(lambda x: 500.0 * x / 1.0e5, 0.0, 2.0)
    slope, _ = quad(lambda _: 500.0 / 1.0e5, 0.0, 2.0)
    assert (found.moment, found.deflection, found.slope) == pytest.approx(
        (500.0, deflection, slope)
    )


@pytest.mark.parametrize(
    ("feet", "psf"),
    # IBC 1807.3.2.1: at a third of the depth, depth counted to 12 ft (an engineering program's
    # notes quote the definition of d); by hand for 100 psf a foot.
    [(3.0, 100.0), (6.0, 200.0), (12.0, 400.0), (15.0, 400.0)],
)
def test_ground_beside_a_post(feet: float, psf: float) -> None:
    found = piers.lateral_bearing(100.0 * PSF, FOOT, feet * FOOT)
    assert found / PSF == pytest.approx(psf)


def test_post_of_a_sign() -> None:
    """A public thread on IBC 2006, Eq. 18-1: 480 lb at 5 ft, 100 psf a foot, 1.5 ft: almost 6.5 ft.

    By hand at 6.4 ft: S_1 = 213.3, A = 3.510, d = 1.755 (1 + √(1 + 21.8/3.51)) = 6.468; at 6.5 ft
    6.412: they meet at 6.44.
    """
    P, M_g, b = 480.0 * LB, 2400.0 * LB * FOOT, 1.5 * FOOT
    at = piers.embedment(P, M_g, 640.0 / 3.0 * PSF, b)
    assert at / FOOT == pytest.approx(6.468, abs=0.001)
    found = piers.embedment_in(P, M_g, 100.0 * PSF, FOOT, b)
    assert found / FOOT == pytest.approx(6.44, abs=0.01)
    # What it asks for there is what there is.
    S_1 = piers.lateral_bearing(100.0 * PSF, FOOT, found)
    assert piers.embedment(P, M_g, S_1, b) == pytest.approx(found)


def test_post_deeper_than_the_ground_counts() -> None:
    """IBC 1807.3.2.1, by hand: 3000 lb at 40 ft, 1.5 ft, 150 psf a foot: S_1 stops at 600 psf.

    A = 2.34 · 3000/(600 · 1.5) = 7.8: d = 3.9 (1 + √(1 + 174.4/7.8)) = 22.75 ft. No load, no depth.
    """
    P, M_g = 3000.0 * LB, 120_000.0 * LB * FOOT
    found = piers.embedment_in(P, M_g, 150.0 * PSF, FOOT, 1.5 * FOOT)
    assert found / FOOT == pytest.approx(22.75, abs=0.01)
    assert piers.embedment_in(0.0, 0.0, 1000.0, 1.0, 0.5) == 0.0
    # Moment alone: d = 0.5 √(4.36 · 2.34 M/(S_1 b)), the limit of the equation for a small P.
    few = piers.embedment(1e-3, 1000.0, 10_000.0, 0.4)
    assert piers.embedment(0.0, 1000.0, 10_000.0, 0.4) == pytest.approx(few, rel=1e-5)
    assert few == pytest.approx(0.5 * math.sqrt(4.36 * 2.34 * 1000.0 / 4000.0), rel=1e-5)


def test_round_footing_by_its_weight() -> None:
    """By hand: 2 ft across and 4 ft deep at 150 lb/ft³ is 1885 lb; it tips at 1885 lb ft."""
    weight = piers.cylinder_weight(2.0 * FOOT, 4.0 * FOOT, 150.0 * 0.45359237 / FOOT**3)
    assert weight / LB == pytest.approx(1885.0, abs=0.1)
    assert piers.weight_moment(weight, 2.0 * FOOT) / (LB * FOOT) == pytest.approx(1885.0, abs=0.1)


# --- pins ---------------------------------------------------------------------------------------


def test_half_of_a_barrel_hinge() -> None:
    """Independent: an even load over the length, held at its end, integrated: 10 kN, 60 mm."""
    moment, _ = quad(lambda x: 10_000.0 / 60.0 * x, 0.0, 60.0)
    assert pins.half_barrel_moment(10_000.0, 60.0) == pytest.approx(moment)


def test_pin_bent_and_sheared() -> None:
    """EN 1993-1-8, Table 3.10, by hand: 0.6² + 0.7² = 0.85; 10 kN on 20 by 25 mm is 20 N/mm²."""
    assert pins.pin_interaction(0.6, 0.7) == pytest.approx(0.85)
    assert pins.projected_pressure(10_000.0, 20.0, 25.0) == pytest.approx(20.0)


# --- screws -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("diameter", "wall", "pounds"),
    [
        # ICC-ES evaluation report, allowable pull-out (over 3.0) in steel of 45 ksi, read: screw
        # and member [in], lb.
        (0.190, 0.018, 44),
        (0.190, 0.036, 87),
        (0.190, 0.060, 145),
        (0.190, 0.125, 303),
        (0.216, 0.024, 66),
        (0.216, 0.075, 207),
        (0.216, 0.187, 515),
        (0.250, 0.030, 96),
        (0.250, 0.105, 335),
        (0.250, 0.250, 797),
    ],
)
def test_pull_out_of_a_screw(diameter: float, wall: float, pounds: float) -> None:
    found = screws.pull_out(diameter * INCH, wall * INCH, 45.0 * KSI)
    assert found / screws.SAFETY / LB == pytest.approx(pounds, abs=0.6)


@pytest.mark.parametrize(
    ("head", "sheet", "pounds"),
    [
        # A maker's technical guide, ultimate pull-over in steel of 45 ksi, read, rounded to 5 and
        # 10: head or washer and sheet [in], lb.
        (0.335, 0.030, 675),
        (0.399, 0.048, 1290),
        (0.415, 0.060, 1680),
        (0.500, 0.075, 2530),
        (0.364, 0.036, 885),
        # AISI S100-16, J4.4.2, by hand: not over 3/4 in: 1.5 · 0.06 · 0.75 · 45,000.
        (0.750, 0.060, 3037.5),
        (1.000, 0.060, 3037.5),
    ],
)
def test_pull_over_of_a_sheet(head: float, sheet: float, pounds: float) -> None:
    found = screws.pull_over(head * INCH, sheet * INCH, 45.0 * KSI)
    assert found / LB == pytest.approx(pounds, rel=0.006)


# --- bent faces ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("beta", "eta"), [(0.3, 0.4), (0.5, 0.5), (0.7, 1.0), (0.85, 0.6)])
def test_branch_bent_out_of_the_plane(beta: float, eta: float) -> None:
    """Independent: virtual work. The branch turns by 1 about the chord's length, the face held at
    both walls, F_y t²/4 a length of hinge, end hinges x beyond the branch, the best x by search.

    Each half: hinges along wall and branch edge, and two end triangles with their corners.
    """
    B, t, F_y = 0.1, 0.005, 345e6
    B_b, l_b = beta * B, eta * B
    rise, gap = 0.5 * B_b, 0.5 * (B - B_b)

    def work(x: float) -> float:
        side = rise / gap
        along = side * (l_b + 2.0 * x) + (side + 1.0) * l_b
        ends = 2.0 * ((side + 1.0) * x + (gap + rise + 0.5 * B) * rise / x)
        return 2.0 * 0.25 * F_y * t**2 * (along + ends)

    least = minimize_scalar(work, bounds=(1e-4, 1.0), method="bounded", options={"xatol": 1e-12})
    found = face_moments.face_moment_across(F_y, t, B, B_b, l_b)
    assert found == pytest.approx(least.fun, rel=1e-6)
    # Wider, the side walls carry it and the face gives no limit.
    assert face_moments.face_moment_across(F_y, t, B, 0.86 * B, l_b) == math.inf


@pytest.mark.parametrize(("beta", "eta"), [(0.1, 0.5), (0.1, 1.0), (0.5, 1.0)])
def test_plate_bent_along_the_chord(beta: float, eta: float) -> None:
    """By hand: half pulls and half pushes, each F_y t² (2 η/(1 - β) + 4/√(1 - β)) with half of η.

    That force has its own virtual work in test_tube_joints. It stays under the whole pattern's
    F_y t² l_b (1/(2 η) + 2/√(1 - β) + η/(1 - β)) of the 2010 edition and EN 1993-1-8 (from memory).
    """
    B, t, F_y = 0.1, 0.005, 345e6
    l_b = eta * B
    half = F_y * t**2 * (eta / (1.0 - beta) + 4.0 / math.sqrt(1.0 - beta))
    found = face_moments.face_moment_along(F_y, t, B, beta * B, l_b)
    assert found == pytest.approx(half * 0.5 * l_b)
    whole = 0.5 / eta + 2.0 / math.sqrt(1.0 - beta) + eta / (1.0 - beta)
    assert 0.5 * F_y * t**2 * l_b * whole < found < F_y * t**2 * l_b * whole


# --- wind on a door in a wall -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("feet2", "zone", "inward", "outward"),
    [
        # ASCE 7, Figure 30.3-1 (walls, h up to 60 ft): straight over log A from 10 to 500 ft²; by
        # hand at 50 ft², a share of log 5/log 50 = 0.41141 on the way.
        (5.0, 4, 1.0, 1.1),
        (10.0, 4, 1.0, 1.1),
        (50.0, 4, 0.87658, 0.97658),
        (500.0, 4, 0.7, 0.8),
        (10.0, 5, 1.0, 1.4),
        (50.0, 5, 0.87658, 1.15315),
        (800.0, 5, 0.7, 0.8),
    ],
)
def test_wind_on_a_door(feet2: float, zone: int, inward: float, outward: float) -> None:
    found = wind.wall_cladding(1000.0, feet2 * FOOT**2, 4 if zone == 4 else 5)
    assert (found.GC_p_in, found.GC_p_out) == pytest.approx((inward, outward), abs=1e-5)
    # Eq. 30.3-1 with K_d 0.85 and 0.18 within, by hand.
    assert found.inward == pytest.approx(850.0 * (inward + 0.18), abs=0.01)
    assert found.outward == pytest.approx(850.0 * (outward + 0.18), abs=0.01)


@pytest.mark.parametrize(
    ("feet2", "inward", "outward_4", "outward_5"),
    [
        # The figure's curves as a public program for ASCE 7-98 to 7-16 reads them off; within 0.03.
        (10.0, 1.0, 1.1, 1.4),
        (20.0, 0.95, 1.05, 1.3),
        (50.0, 0.85, 0.975, 1.15),
        (100.0, 0.825, 0.95, 1.05),
        (200.0, 0.775, 0.85, 0.95),
        (500.0, 0.7, 0.8, 0.8),
    ],
)
def test_curves_of_the_wall_figure(
    feet2: float, inward: float, outward_4: float, outward_5: float
) -> None:
    edge, corner = (wind.wall_cladding(1000.0, feet2 * FOOT**2, zone) for zone in ZONES)
    assert edge.GC_p_in == corner.GC_p_in == pytest.approx(inward, abs=0.03)
    assert edge.GC_p_out == pytest.approx(outward_4, abs=0.03)
    assert corner.GC_p_out == pytest.approx(outward_5, abs=0.03)
