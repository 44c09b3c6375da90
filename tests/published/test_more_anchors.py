"""Anchors: the arms of ACI 318-19 and EN 1992-4 that the worked examples beside do not reach.

*Guide 22*: a design guide to ACI 318-19, chapter 17, July 2022, read; it quotes the clauses.
*By hand*: worked from the named clause outside this package. Units are the sources'.
"""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import en1992_4 as ec
from leafwright.handbook.aci318 import Edition, Kind, bearing, bond, shear, tension

INCH = 0.0254
LB = 4.4482216152605
PSI = LB / INCH**2
KSI = 1000.0 * PSI
MM = 1e-3
FAR = math.inf


# --- ACI 318-19 ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("f_uta", "f_ya", "counted"),
    [
        # Guide 22, p. 136, quotes 17.6.1.2: f_uta not over 1.9 f_ya or 125,000 psi. F1554 Grade 36
        # and 105 count whole (its table); stainless rod of 75 and 30 ksi counts 57, a rod of 150
        # and 130 ksi 125.
        (58.0, 36.0, 58.0),
        (125.0, 105.0, 125.0),
        (75.0, 30.0, 57.0),
        (150.0, 130.0, 125.0),
    ],
)
def test_steel_that_may_be_counted(f_uta: float, f_ya: float, counted: float) -> None:
    area = 0.226 * INCH**2
    pull = tension.steel_tension(area, f_uta * KSI, f_ya * KSI)
    push = shear.steel_shear(area, f_uta * KSI, f_ya * KSI, Kind.HEADED_BOLT)
    stud = shear.steel_shear(area, f_uta * KSI, f_ya * KSI, Kind.HEADED_STUD, grout_pad=True)
    assert pull / LB == pytest.approx(0.226 * 1000.0 * counted)
    # 17.7.1.2, 0.6 A f_uta for bolts; 17.7.1.2.1, 0.80 on grout.
    assert push / LB == pytest.approx(0.6 * 0.226 * 1000.0 * counted)
    assert stud / LB == pytest.approx(0.8 * 0.226 * 1000.0 * counted)


@pytest.mark.parametrize(
    ("diameter", "area", "N_sa"),
    [
        # ICC-ES report table quoted in Guide 22, p. 140: F1554 Grade 36 rod [in, in², lb].
        (0.500, 0.1419, 8_230.0),
        (0.625, 0.2260, 13_110.0),
        (0.750, 0.3345, 19_400.0),
        (0.875, 0.4617, 26_780.0),
        (1.000, 0.6057, 35_130.0),
        (1.250, 0.9691, 56_210.0),
    ],
)
def test_rods_of_an_evaluation_report(diameter: float, area: float, N_sa: float) -> None:
    threads = {0.5: 13, 0.625: 11, 0.75: 10, 0.875: 9, 1.0: 8, 1.25: 7}[diameter]
    found = tension.threaded_area(diameter * INCH, INCH / threads)
    assert found / INCH**2 == pytest.approx(area, abs=6e-5)
    assert tension.steel_tension(found, 58.0 * KSI, 36.0 * KSI) / LB == pytest.approx(
        N_sa, rel=0.001
    )


def test_anchors_far_apart_break_out_alone() -> None:
    """17.6.2.1.1, 17.6.5.1.1, 17.7.2.1.1: not more than n single areas; by hand, n = 4, 4 and 2."""
    reach = 4.0
    single = bond.bond_area_single(reach)
    far = bond.bond_area(reach, (FAR,) * 4, [9.0], [20.0])
    assert (single, far) == pytest.approx((64.0, 4 * 64.0))
    h_ef = 3.0
    four = tension.tension_breakout_area(h_ef, (FAR,) * 4, [9.5], [40.0])
    assert four == pytest.approx(4 * 9.0 * h_ef**2)
    two = shear.shear_breakout_area(5.0, (FAR, FAR), [16.0], 100.0)
    assert two == pytest.approx(2 * 4.5 * 5.0**2)
    # A near edge behind the last anchor cuts as one before the first (F15's 0.75).
    near = tension.tension_breakout_area(3.25, (FAR, 2.4375, FAR, FAR), [], [])
    assert near / (9.0 * 3.25**2) == pytest.approx(0.75)


def test_no_splitting_from_the_critical_distance_on() -> None:
    """17.6.5.5.1, by hand: c_ac 12: 8/12 at 8, not under c_Na/c_ac = 6/12 at 4, 1 from 12 on."""
    found = [float(bond.psi_cp_Na(c, 12.0, 6.0)) for c in (4.0, 8.0, 12.0, 15.0)]
    assert found == pytest.approx([0.5, 2 / 3, 1.0, 1.0])


def test_embedment_is_never_made_deeper() -> None:
    """17.6.2.1.2, by hand: h_ef 4 in, three edges at 5 in: 5/1.5 = 3.33; s 9 in gives 3.0, so 3.33.

    A spacing of 15 in would give 5: anchors so far apart are no group (3 h_ef), and h_ef stays.
    """
    edges = (5.0, 5.0, 5.0, FAR)
    assert tension.embedment_near_three_edges(4.0, edges, 9.0) == pytest.approx(5.0 / 1.5)
    assert tension.embedment_near_three_edges(4.0, edges, 15.0) == 4.0


def test_corner_of_a_side_face() -> None:
    """17.6.4.1.1, by hand: (1 + c_a2/c_a1)/4 with the ratio from 1 to 3: 0.5 at 1, 0.75 at 2.

    160 c_a1 √A_brg √f'c: 160 · 3 · √1.2 · √4000 = 33,255 lb.
    """
    h_ef, c_a1, A_brg = 12.0 * INCH, 3.0 * INCH, 1.2 * INCH**2
    whole = tension.side_face_blowout(h_ef, c_a1, A_brg, 4000.0 * PSI)
    assert whole / LB == pytest.approx(33_255.0, rel=1e-4)
    for c_a2, factor in ((2.5, 0.5), (3.0, 0.5), (6.0, 0.75), (9.0, 1.0)):
        found = tension.side_face_blowout(h_ef, c_a1, A_brg, 4000.0 * PSI, c_a2=c_a2 * INCH)
        assert found / whole == pytest.approx(factor)


def test_metric_edition_counts_860_mpa() -> None:
    """ACI 318M-19, 17.6.1.2, by hand: 10.9 rod (1040, 940 MPa), 157 mm²: 860 · 157 = 135.0 kN."""
    found = tension.steel_tension(157e-6, 1040e6, 940e6, edition=Edition.METRIC)
    assert found == pytest.approx(135_020.0)


@pytest.mark.parametrize(
    ("A_2", "kips"),
    [
        # ANSI/AISC 360-22, J8, read in a public transcription (ACI 318 alike): 0.85 f'c A_1
        # √(A_2/A_1), not over 1.7 f'c A_1; by hand, 10 by 10 in on 4 ksi: 340 kip; 510 on 15 by
        # 15 in; 680 from 20 by 20 in on.
        (None, 340.0),
        (100.0, 340.0),
        (225.0, 510.0),
        (400.0, 680.0),
        (900.0, 680.0),
    ],
)
def test_bearing_on_concrete(A_2: float | None, kips: float) -> None:
    area = None if A_2 is None else A_2 * INCH**2
    found = bearing.concrete_bearing(100.0 * INCH**2, 4000.0 * PSI, A_2=area)
    assert found / LB == pytest.approx(1000.0 * kips)
    assert bearing.phi_bearing() == 0.65


# --- EN 1992-4 ----------------------------------------------------------------------------------


def test_edge_area_of_a_deep_and_a_shallow_member() -> None:
    """7.2.2.5(4), by hand, c_1 100 mm: depth 150 or h; spacings up to 300; A⁰ = 4.5 c_1²."""
    c_1 = 100 * MM
    deep = ec.A_c_V(c_1, (FAR, FAR), [], 400 * MM)
    assert deep / MM**2 == pytest.approx(45_000.0)
    shallow = ec.A_c_V(c_1, (FAR, FAR), [], 120 * MM)
    assert shallow / MM**2 == pytest.approx(300.0 * 120.0)
    wide = ec.A_c_V(c_1, (FAR, 80 * MM), [400 * MM], 400 * MM)
    assert wide / MM**2 == pytest.approx((150.0 + 300.0 + 80.0) * 150.0)


@pytest.mark.parametrize(
    ("c_2", "h", "s", "counted"),
    [
        # 7.2.2.5(7), Eq. (7.50), by hand, c_1 300 mm: the greatest of c_2/1.5, h/1.5 and s/3,
        # where c_2 and h are both up to 450 mm; else c_1.
        (300.0, 240.0, 0.0, 200.0),
        (240.0, 330.0, 0.0, 220.0),
        (240.0, 270.0, 750.0, 250.0),
        (240.0, 270.0, 1200.0, 300.0),
        (460.0, 270.0, 0.0, 300.0),
        (240.0, 460.0, 0.0, 300.0),
    ],
)
def test_edge_distance_in_a_narrow_thin_member(
    c_2: float, h: float, s: float, counted: float
) -> None:
    found = ec.c_1_in_narrow_member(0.3, (0.1, c_2 * MM), h * MM, s * MM)
    assert found / MM == pytest.approx(counted)


def test_embedment_in_a_narrow_member_is_never_made_deeper() -> None:
    """7.2.1.4(8), by hand: edges 250 mm give 167, s_max 900 would give 300: h_ef 200 stays."""
    edges = (0.25, 0.25, 0.25, FAR)
    assert ec.h_ef_in_narrow_member(0.2, edges, 0.0) / MM == pytest.approx(250 / 1.5)
    assert ec.h_ef_in_narrow_member(0.2, edges, 0.9) == 0.2


@pytest.mark.parametrize(
    ("h", "factor"),
    # 7.2.2.5(6), Eq. (7.46), by hand, c_1 100 mm: √(150/h), 1 from 150 mm on.
    [(100.0, 1.2247), (150.0, 1.0), (300.0, 1.0)],
)
def test_thickness_in_shear(h: float, factor: float) -> None:
    assert ec.psi_h_V(h * MM, 100 * MM) == pytest.approx(factor, abs=5e-5)


@pytest.mark.parametrize(
    ("h", "h_ef", "c_1", "factor"),
    [
        # 7.2.1.7, Eq. (7.24), by hand, h_min 200 mm: (h/h_min)^(2/3); not over
        # ((h_ef + 1.5 c_1)/h_min)^(2/3), which is 1 at least and 2 at most.
        (200.0, 100.0, 200.0, 1.0),
        (250.0, 100.0, 200.0, 1.1604),
        (400.0, 100.0, 200.0, 1.5874),
        (900.0, 100.0, 100.0, 1.1604),
        (900.0, 60.0, 60.0, 1.0),
        (900.0, 300.0, 600.0, 2.0),
    ],
)
def test_thickness_against_splitting(h: float, h_ef: float, c_1: float, factor: float) -> None:
    found = ec.psi_h_sp(h * MM, 200 * MM, h_ef * MM, c_1 * MM)
    assert found == pytest.approx(factor, abs=5e-5)


def test_fasteners_far_apart_have_whole_cones() -> None:
    """7.2.1.4(3), by hand: c_cr 150 mm; two at 500 mm apart have two cones of 300 by 300 mm."""
    found = ec.A_c_N(0.15, (FAR,) * 4, [0.5], [])
    assert found / MM**2 == pytest.approx(2 * 300.0**2)
