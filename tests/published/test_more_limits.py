"""Where a rule turns over: values on both sides of its limits, and the figures that examples round.

*Spec*: ANSI/AISC 360-22, read in a public transcription; other sources stand beside their values.
*By hand* is worked from the named clause outside this package. They were found by moving each
constant of each formula by 4 % and seeing which no value beside noticed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from shapely.geometry import box

from leafwright.handbook import beams, en1993, niosh, plates, sections, threads, wind
from leafwright.handbook import en1992_4 as ec
from leafwright.handbook.aci318 import shear as aci_shear
from leafwright.handbook.aci318 import strength, tension
from leafwright.handbook.aisc360 import (
    Method,
    bending,
    combined,
    compression,
    hss_joints,
    joint_limits,
    round_joints,
    walls,
    welds,
)
from leafwright.handbook.aisc360.joint_limits import Joint

INCH, MM = 0.0254, 1e-3
KIP = 4448.2216152605
KSI = KIP / INCH**2
STEEL = (50.0 * KSI, 62.0 * KSI, 50.0 * KSI, 62.0 * KSI)


# --- members ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("P", "M", "used"),
    # Spec Eqs. H1-1a (from 0.2) and H1-1b, by hand.
    [(0.2, 0.5, 0.64444), (0.1999, 0.5, 0.59995), (0.5, 0.45, 0.9), (0.0, 0.9, 0.9)],
)
def test_axial_force_with_bending(P: float, M: float, used: float) -> None:
    assert combined.interaction_axial_bending(P, M) == pytest.approx(used, abs=1e-5)


@pytest.mark.parametrize(
    ("ratio", "share"),
    # Spec Eqs. E3-2 and E3-3, which meet at F_y/F_e = 2.25, by hand: 0.658^2.24, 0.877/2.26.
    [(1.0, 0.658), (2.24, 0.39158), (2.26, 0.38805), (3.0, 0.29233)],
)
def test_column_stress_on_both_sides(ratio: float, share: float) -> None:
    assert compression.column_stress(ratio, 1.0) / ratio == pytest.approx(share, abs=1e-5)


@pytest.mark.parametrize(
    ("slenderness", "share"),
    [
        # Spec Eqs. F11-1, F11-3 and F11-4, share of F_y S_x, by hand: 1.5 up to L_b d F_y/(t² E)
        # of 0.08; 1.52 - 0.274 times it up to 1.9; 1.9 over it.
        (0.0799, 1.5),
        (0.0801, 1.49805),
        (1.0, 1.246),
        (1.899, 0.99967),
        (1.96, 0.96939),
        (4.0, 0.475),
    ],
)
def test_flat_bar_on_edge(slenderness: float, share: float) -> None:
    d, t, F_y, E = 0.1, 0.01, 345e6, 200e9
    L_b = slenderness * t**2 / d * E / F_y
    found = bending.bending_rectangular_bar(F_y, d, t, L_b, E=E)
    assert found / (F_y * t * d**2 / 6.0) == pytest.approx(share, abs=1e-5)


def test_torsional_constant_is_bredts_with_round_corners() -> None:
    """Independent: 2 t times the area in shapely within the mid-line, corners of radius 1.5 t."""
    B, H, t = 0.1, 0.06, 0.006
    inner = box(0.0, 0.0, B - t - 3.0 * t, H - t - 3.0 * t)
    area = inner.buffer(1.5 * t, quad_segs=4096).area
    found = combined.torsional_constant_rectangular_hss(B, H, t)
    assert found == pytest.approx(2.0 * t * area, rel=1e-6)


def test_longest_wall_for_torsion() -> None:
    """Spec H3.1(b), read: h/t to 260."""
    assert combined.torsion_rectangular_hss(50.0 * KSI, 1.0, 260.0) > 0.0
    assert math.isnan(float(combined.torsion_rectangular_hss(50.0 * KSI, 1.0, 261.0)))


@pytest.mark.parametrize(
    ("kind", "ratio", "number"),
    [
        # EN 1993-1-1 Table 5.2 (as in test_en1993), by hand at 355 MPa: ε² 0.66197; tubes 33.10,
        # 46.34, 59.58; flat walls 26.85, 30.92, 34.17.
        ("round tube", 33.0, 1),
        ("round tube", 33.2, 2),
        ("round tube", 46.2, 2),
        ("round tube", 46.5, 3),
        ("round tube", 59.5, 3),
        ("round tube", 59.7, 4),
        ("rectangular tube", 26.8, 1),
        ("rectangular tube", 26.9, 2),
        ("rectangular tube", 30.9, 2),
        ("rectangular tube", 31.0, 3),
    ],
)
def test_classes_at_355(kind: str, ratio: float, number: int) -> None:
    assert en1993.compression_class(kind, ratio, 355e6) == number


# --- tube joints --------------------------------------------------------------------------------


def test_round_punching() -> None:
    """Spec Eq. K3-1, read; by hand 0.6 · 50 · 0.349 π 3 = 98.68 kip, at 30° three times it.

    D - 2 t = 5.302 in: a branch as wide as that cannot punch.
    """
    chord = (50.0 * KSI, 0.349 * INCH, 6.0 * INCH)
    assert round_joints.round_punching(*chord, 3.0 * INCH) / KIP == pytest.approx(98.68, abs=0.005)
    slanting = round_joints.round_punching(*chord, 3.0 * INCH, theta=math.pi / 6)
    assert slanting / KIP == pytest.approx(296.03, abs=0.01)
    assert round_joints.round_punching(*chord, 5.30 * INCH) < math.inf
    assert round_joints.round_punching(*chord, 5.31 * INCH) == math.inf


def test_distance_from_an_open_end() -> None:
    """Spec Eqs. K1-7 and K1-8, read; by hand: D (1.25 - β/2), B √(1 - β)."""
    assert hss_joints.end_distance_round(6.0, 0.5) == pytest.approx(6.0)
    assert hss_joints.end_distance_round(6.0, 1.0) == pytest.approx(4.5)
    assert hss_joints.end_distance_rectangular(6.0, 0.75) == pytest.approx(3.0)
    assert hss_joints.end_distance_rectangular(6.0, 0.86) == 0.0


def test_chord_that_is_full_or_overfull() -> None:
    """Spec Eqs. K1-4 to K1-6, read; by hand: 1 - 0.3 U (1 + U), 1.3 - 0.4 U/β from 0.4 to 1."""
    assert hss_joints.chord_stress_factor_round(1.0) == pytest.approx(0.4)
    assert math.isnan(float(hss_joints.chord_stress_factor_round(1.01)))
    found = [float(hss_joints.chord_stress_factor(U, 0.4)) for U in (0.3, 0.5, 0.9, 1.0)]
    assert found == pytest.approx([1.0, 0.8, 0.4, 0.4])


def test_plate_that_stands_on_the_side_walls() -> None:
    """Spec K1.2a and J4, by hand: B - 2 t = 9.07 in: 9.06 can punch, 9.08 cannot."""
    face = (46.0 * KSI, 0.465 * INCH, 10.0 * INCH)
    assert hss_joints.face_punching(*face, 9.06 * INCH, 0.75 * INCH) < math.inf
    assert hss_joints.face_punching(*face, 9.08 * INCH, 0.75 * INCH) == math.inf


@pytest.mark.parametrize(
    ("theta", "counts"),
    # Spec Table K5.1, by hand: B_e of 4 in counts whole up to 50°, half of B_b = 6 in above.
    [(49.9, 4.0), (50.1, 3.0)],
)
def test_steep_branch(theta: float, counts: float) -> None:
    angle = math.radians(theta)
    found = hss_joints.weld_effective_length(6.0, 5.0, 4.0, 0.5, theta=angle)
    assert found == pytest.approx(10.0 / math.sin(angle) + 2.0 * counts)


@pytest.mark.parametrize(
    ("chord", "branch", "said"),
    [
        # Spec Table K3.2A, read in two public transcriptions: B/t and H/t to 35, H/B and H_b/B_b
        # from 0.5 to 2, B_b/B to 1. Chord B, H, t; branch B_b, H_b, t_b.
        ((10.0, 10.0, 0.286), (5.0, 5.0, 0.25), 0),
        ((10.0, 5.0, 0.280), (5.0, 5.0, 0.25), 1),
        ((5.0, 10.0, 0.280), (4.0, 4.0, 0.25), 1),
        ((10.0, 5.0, 0.5), (5.0, 5.0, 0.25), 0),
        ((10.0, 4.9, 0.5), (5.0, 5.0, 0.25), 1),
        ((5.0, 10.1, 0.5), (4.0, 4.0, 0.25), 1),
        ((10.0, 10.0, 0.5), (5.0, 2.5, 0.25), 0),
        ((10.0, 10.0, 0.5), (6.0, 2.9, 0.25), 1),
        ((10.0, 10.0, 0.5), (3.0, 6.1, 0.25), 1),
        ((10.0, 10.0, 0.5), (10.0, 10.0, 0.4), 0),
        ((10.0, 10.0, 0.5), (10.1, 10.0, 0.4), 1),
    ],
)
def test_limits_of_rectangular_joints(
    chord: tuple[float, float, float], branch: tuple[float, float, float], said: int
) -> None:
    B, H, t, B_b, H_b, t_b = (x * INCH for x in (*chord, *branch))
    assert len(joint_limits.rectangular_limits(B, H, t, B_b, H_b, t_b, *STEEL)) == said


@pytest.mark.parametrize(("width", "said"), [(0.2, 0), (0.198, 1), (1.0, 0), (1.01, 1)])
def test_width_of_round_joints(width: float, said: int) -> None:
    # Spec Tables K3.1A and K2.1A, read: D_b/D and B_b/D from 0.2 to 1.0.
    D = 0.1
    branch = joint_limits.round_limits(
        D, D / 30.0, width * D, width * D / 20.0, *STEEL, Joint.T_OR_Y
    )
    plate = joint_limits.round_plate_limits(D, D / 30.0, *STEEL[:2], Joint.T_OR_Y, B_b=width * D)
    assert (len(branch), len(plate)) == (said, said)


# --- walls and welds ----------------------------------------------------------------------------


def test_flange_near_an_end() -> None:
    """Spec Eq. J10-1, read; by hand 6.25 · 50 · 0.5² = 78.1 kip, half within 10 t_f = 5 in."""
    whole = walls.flange_local_bending(50.0 * KSI, 0.5 * INCH, distance_to_end=5.0 * INCH)
    half = walls.flange_local_bending(50.0 * KSI, 0.5 * INCH, distance_to_end=4.99 * INCH)
    assert np.array([whole, half]) / KIP == pytest.approx([78.125, 39.0625])


@pytest.mark.parametrize(
    ("l_b", "end", "kips"),
    [
        # Spec Eqs. J10-4, J10-5a (l_b/d to 0.2) and J10-5b, read; by hand: t_w 0.3, t_f 0.4, d 10
        # in, 50 ksi, E 29,000: √(E F t_f/t_w) = 1390.4 ksi, (t_w/t_f)^1.5 = 0.64952.
        (1.0, 5.0, 119.62),
        (1.0, 4.99, 59.81),
        (2.0, 4.99, 69.56),
        (3.0, 4.99, 82.57),
    ],
)
def test_web_crippling_near_an_end(l_b: float, end: float, kips: float) -> None:
    found = walls.web_local_crippling(
        50.0 * KSI, 0.3 * INCH, 0.4 * INCH, l_b * INCH, 10.0 * INCH, distance_to_end=end * INCH
    )
    assert found / KIP == pytest.approx(kips, rel=2e-4)


@pytest.mark.parametrize(
    ("x", "held", "share", "applies"),
    [
        # Spec Eqs. J10-6 (held, to 2.3) and J10-7 (not held, to 1.7), read; share of C_r t_w³
        # t_f/h² by hand: 1 + 0.4 x³ and 0.4 x³.
        (2.0, True, 4.2, True),
        (2.29, True, 5.80359, True),
        (2.31, True, 0.0, False),
        (1.5, False, 1.35, True),
        (1.71, False, 0.0, False),
    ],
)
def test_web_moving_sideways(x: float, held: bool, share: float, applies: bool) -> None:
    t_w, t_f, h, b_f = 0.3 * INCH, 0.5 * INCH, 12.0 * INCH, 6.0 * INCH
    L_b = (h / t_w) * b_f / x

    def strength(M_r: float, method: Method) -> float:
        return float(
            walls.web_sidesway_buckling(
                t_w, t_f, h, L_b, b_f, M_r, 1.0, method, flange_held_against_rotation=held
            )
        )

    unit = KSI * t_w**3 * t_f / h**2
    # C_r 960,000 ksi while alpha_s M_r < M_y, 480,000 from there; alpha_s 1.0 (LRFD), 1.5 (ASD).
    for method, M_y in ((Method.LRFD, 1.0), (Method.ASD, 1.0 / 1.5)):
        low, high = strength(0.99 * M_y, method), strength(1.01 * M_y, method)
        if applies:
            assert low == pytest.approx(960_000.0 * share * unit)
            assert high == pytest.approx(480_000.0 * share * unit)
        else:
            assert low == high == math.inf


def test_squeezed_web_near_an_end() -> None:
    """Spec Eq. J10-8, read; by hand 24 · 0.3³ √(29,000 · 50)/10 = 78.03 kip, half within d/2."""
    sizes = (50.0 * KSI, 0.3 * INCH, 10.0 * INCH)
    found = [
        float(walls.web_compression_buckling(*sizes, d=12.0 * INCH, distance_to_end=end * INCH))
        for end in (6.0, 5.99)
    ]
    assert np.array(found) / KIP == pytest.approx([78.03, 39.015], rel=2e-4)


@pytest.mark.parametrize(
    ("over_w", "counted"),
    # Spec J2.2b(d), by hand, lengths in legs: whole to 100; (1.2 - 0.002 l/w) l; 180 over 300.
    [(100.0, 100.0), (200.0, 160.0), (290.0, 179.8), (301.0, 180.0), (330.0, 180.0)],
)
def test_long_end_loaded_fillet(over_w: float, counted: float) -> None:
    assert welds.fillet_effective_length(over_w, 1.0) == pytest.approx(counted)


# --- anchors ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("N", "V", "used"),
    [
        # ACI 318-19, 17.8.1 to 17.8.3 (F19), by hand: up to 0.2 the other may be full; above, the
        # sum over 1.2.
        (0.2, 0.95, 0.95),
        (0.205, 0.95, 1.155 / 1.2),
        (0.95, 0.2, 0.95),
        (0.95, 0.205, 1.155 / 1.2),
        (0.6, 0.6, 1.0),
    ],
)
def test_tension_with_shear(N: float, V: float, used: float) -> None:
    assert strength.anchor_interaction(N, V) == pytest.approx(used)


@pytest.mark.parametrize(
    ("third", "counted"),
    # ACI 318-19, 17.6.2.1.2, by hand: h_ef 4 in; an edge counts under 6 in. Three near: the
    # farthest of them over 1.5; two: nothing changes.
    [(5.9, 5.9 / 1.5), (6.0, 4.0), (6.1, 4.0)],
)
def test_third_edge(third: float, counted: float) -> None:
    found = tension.embedment_near_three_edges(4.0, (3.0, 5.0, third, math.inf), 0.0)
    assert found == pytest.approx(counted)
    # EN 1992-4, 7.2.1.4(8) has the same rule (c_cr,N = 1.5 h_ef).
    assert ec.h_ef_in_narrow_member(4.0, (3.0, 5.0, third, math.inf), 0.0) == pytest.approx(counted)


@pytest.mark.parametrize(
    ("c_2", "h", "counted"),
    [
        # ACI 318-19, 17.7.2.1.2, and EN 1992-4, 7.2.2.5(7), by hand, c_1 10: where the farther
        # side edge and the thickness are under 15, the greater of them over 1.5.
        (14.9, 12.0, 14.9 / 1.5),
        (9.0, 12.0, 8.0),
        (15.1, 12.0, 10.0),
        (9.0, 14.9, 14.9 / 1.5),
        (9.0, 15.1, 10.0),
    ],
)
def test_narrow_and_thin(c_2: float, h: float, counted: float) -> None:
    us = aci_shear.edge_distance_in_narrow_member(10.0, (4.0, c_2), h, 0.0)
    eu = ec.c_1_in_narrow_member(10.0, (4.0, c_2), h, 0.0)
    assert (us, eu) == pytest.approx((counted, counted))


@pytest.mark.parametrize(
    ("f_uk", "f_yk", "gamma"),
    # EN 1992-4, Table 4.1 (H3: 1.25 for 8.8), by hand: f_uk/f_yk from 1.25, 1.5 over 800 MPa or
    # over 0.8.
    [
        (800.0, 640.0, 1.25),
        (801.0, 640.0, 1.5),
        (800.0, 642.0, 1.5),
        (500.0, 400.0, 1.25),
        (500.0, 320.0, 1.5625),
    ],
)
def test_partial_factor_in_shear(f_uk: float, f_yk: float, gamma: float) -> None:
    assert ec.gamma_Ms_shear(f_uk * 1e6, f_yk * 1e6) == pytest.approx(gamma)


@pytest.mark.parametrize(
    ("degrees", "factor"),
    # EN 1992-4, Eq. (7.48), by hand: √(1/(cos² + 0.25 sin²)).
    [(0.0, 1.0), (30.0, 1.10940), (45.0, 1.26491), (60.0, 1.51186), (90.0, 2.0)],
)
def test_direction_of_shear(degrees: float, factor: float) -> None:
    assert ec.psi_alpha_V(math.radians(degrees)) == pytest.approx(factor, abs=1e-5)


# --- beams and plates ---------------------------------------------------------------------------


def test_beams_whole() -> None:
    """AISC Manual Table 3-23, cases 1 and 12: w L³/(24 EI) by virtual work; 5 w L/8 by statics.

    The propped beam's greatest deflection stands at 0.4215 L from the prop (Table 3-23).
    """
    w, L, E_I = 2000.0, 4.0, 2.0e5
    simple = beams.simple_beam_uniform_load(w, L, E_I)
    slope, _ = quad(lambda x: w * x * (L - x) / 2.0 * (1.0 - x / L) / E_I, 0.0, L)
    assert simple.slopes == pytest.approx((slope, slope))
    assert simple.reactions == pytest.approx((4000.0, 4000.0))
    propped = beams.propped_cantilever_uniform_load(w, L, E_I)
    assert propped.fixed_reaction == pytest.approx(w * L - propped.prop_reaction)
    assert propped.fixed_reaction == pytest.approx(5000.0)
    assert propped.deflection_at / L == pytest.approx(0.4215, abs=1e-4)


def test_portals_stand_in_balance() -> None:
    """Statics on C06 and C07: the feet share the side load; moments about a foot give the uplift.

    Fixed: 2 knees and the sway couple: V b = H h - 2 M_base; pinned: V b = H h.
    """
    H, h, b, E_I = 1000.0, 3.0, 4.0, 2.0e6
    pinned = beams.portal_pinned_side_load(H, h, b, E_I, E_I)
    fixed = beams.portal_fixed_side_load(H, h, b, E_I, E_I)
    for found in (pinned, fixed):
        assert found.horizontal_reaction == pytest.approx(500.0)
        assert found.vertical_reaction * b == pytest.approx(H * h - 2.0 * found.base_moment)
    assert pinned.base_moment == 0.0


@pytest.mark.parametrize("b", [0.5, 2.0])
def test_plates_scale_with_their_short_side(b: float) -> None:
    """Roark, Table 11.4 (read in open copies): 1a at a/b 1.4 0.453 and 0.0770; 8a at 1.0 0.3078 and
    0.0138; 1b at 2.0 0.958 and 0.1805: σ = β q b²/t², y = α q b⁴/(E t³); W b²/(E t³) under a load.

    A pad under half the thickness counts √(1.6 r² + t²) - 0.675 t: by hand, r = 2, t = 10 mm:
    3.566 mm.
    """
    q, t, E, W = 1000.0, 0.010, 2.0e11, 500.0
    simple = plates.simply_supported_plate(q, 1.4 * b, b, t, E)
    assert simple.stress == pytest.approx(0.453 * q * b**2 / t**2)
    assert simple.deflection == pytest.approx(0.0770 * q * b**4 / (E * t**3))
    clamped = plates.clamped_plate(q, b, b, t, E)
    assert clamped.edge_stress == pytest.approx(0.3078 * q * b**2 / t**2)
    assert clamped.deflection == pytest.approx(0.0138 * q * b**4 / (E * t**3))
    for pad, counted in ((0.002, 0.0035657), (0.006, 0.006)):
        pushed = plates.pushed_plate(W, 2.0 * b, b, t, E, pad_radius=pad)
        assert pushed.deflection == pytest.approx(0.1805 * W * b**2 / (E * t**3))
        spread = 1.3 * math.log(2.0 * b / (math.pi * counted)) + 0.958
        assert pushed.stress == pytest.approx(1.5 * W / (math.pi * t**2) * spread, rel=1e-4)


# --- sections -----------------------------------------------------------------------------------


def test_walls_of_a_tube_that_carry_shear() -> None:
    """B21 and B22: HSS4x4x1/4 h 3.301 in, A_w 1.5383 in²; HSS6x4x3/8 h 4.953, A_w 3.4572 in²."""
    square = sections.properties_of_rectangular_tube(4 * INCH, 4 * INCH, 0.233 * INCH)
    assert (square.flat_u / INCH, square.flat_v / INCH) == pytest.approx((3.301, 3.301))
    assert square.shear_area_u / INCH**2 == pytest.approx(1.5383, abs=1e-4)
    assert square.shear_area_v / INCH**2 == pytest.approx(1.5383, abs=1e-4)
    standing = sections.properties_of_rectangular_tube(4 * INCH, 6 * INCH, 0.349 * INCH)
    assert standing.flat_v / INCH == pytest.approx(4.953)
    assert standing.shear_area_v / INCH**2 == pytest.approx(3.4572, abs=1e-4)


def test_round_sections_in_shear_and_torsion() -> None:
    """Round bar: 4/3 V/A and 16 T/(π d³) (Roark); tube: A/2 (Spec G5), π (D - t)² t/2 (H3.1)."""
    bar = sections.properties_of_round_bar(0.02)
    assert bar.area / bar.shear_area_u == pytest.approx(4.0 / 3.0)
    assert bar.area / bar.shear_area_v == pytest.approx(4.0 / 3.0)
    assert bar.torsional_shear_constant == pytest.approx(math.pi * 0.02**3 / 16.0)
    tube = sections.properties_of_round_tube(0.06, 0.003)
    assert (tube.shear_area_u, tube.shear_area_v) == pytest.approx((tube.area / 2,) * 2)
    assert tube.torsional_shear_constant == pytest.approx(math.pi * 0.057**2 * 0.003 / 2.0)
    # Legs of 60 and 34 by 6 mm: Σ b t³/3 = 94 · 216/3 mm⁴ by hand.
    angle = sections.properties_of_angle(0.06, 0.04, 0.006)
    assert angle.torsion_constant * 1e12 == pytest.approx(94.0 * 216.0 / 3.0)


@pytest.mark.parametrize(
    ("wall", "outer", "inner"),
    # EN 10219-2: the steps of its corner table at 6 and 10 mm (read in makers' tables).
    [(6.0, 2.0, 1.0), (6.1, 2.5, 1.5), (10.0, 2.5, 1.5), (10.1, 3.0, 2.0)],
)
def test_corner_steps(wall: float, outer: float, inner: float) -> None:
    found = sections.en10219_radii(wall * MM)
    assert (found[0] / MM, found[1] / MM) == pytest.approx((outer * wall, inner * wall))


# --- shop ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("d", "P", "d2", "D1"),
    # ISO 68-1's basic profile by hand, d - 0.6495 P and d - 1.0825 P, as open ISO 724 tables print
    # it [mm].
    [(8.0, 1.25, 7.188, 6.647), (12.0, 1.75, 10.863, 10.106), (20.0, 2.5, 18.376, 17.294)],
)
def test_metric_threads(d: float, P: float, d2: float, D1: float) -> None:
    found = threads.metric_thread(d * MM, P * MM)
    assert found.pitch_diameter / MM == pytest.approx(d2, abs=6e-4)
    assert found.internal_minor / MM == pytest.approx(D1, abs=6e-4)


def test_root_of_a_pipe_thread() -> None:
    """ASME B1.20.1: the thread is 0.8 P deep: 1/2-14 E0 0.75843 in (open tables), so 0.70129."""
    found = threads.pipe_thread(0.840 * INCH, 14.0)
    assert found.end_pitch_diameter / INCH == pytest.approx(0.75843, abs=2e-5)
    assert found.end_minor / INCH == pytest.approx(0.75843 - 0.8 / 14.0, abs=2e-5)


def test_metric_bounds_of_lifting() -> None:
    """NIOSH 94-110, section 1.3, metric (row I01's formulas; the cut-offs of public programs):

    H to 63, V to 175, D from 25 to 175 cm.
    """
    cm = 0.01
    assert niosh.horizontal_multiplier(63 * cm, "metric") == pytest.approx(25 / 63)
    assert niosh.horizontal_multiplier(63.1 * cm, "metric") == 0.0
    assert niosh.vertical_multiplier(175 * cm, "metric") == pytest.approx(0.7)
    assert niosh.vertical_multiplier(175.5 * cm, "metric") == 0.0
    assert niosh.distance_multiplier(175 * cm, "metric") == pytest.approx(0.82 + 4.5 / 175)
    assert niosh.distance_multiplier(175.5 * cm, "metric") == 0.0
    assert niosh.distance_multiplier(20 * cm, "metric") == pytest.approx(1.0)
    assert niosh.distance_multiplier(30 * cm, "metric") == pytest.approx(0.97)


def test_gap_under_a_wall_lessens_the_aslant_wind() -> None:
    """ASCE 7, Figure 29.3-1, note 3 (public transcription): times 1.8 - s/h over s/h = 0.8."""
    whole = wind.wall_regions(10.0, 2.0, 2.0 / 0.79)
    for share in (0.81, 0.9, 1.0):
        near = wind.wall_regions(10.0, 2.0, 2.0 / share)
        for region, other in zip(near, whole, strict=True):
            assert region.C_f == pytest.approx(other.C_f * (1.8 - share))
