"""Tube joints, welds, bolts and plates: the arms that the worked examples do not reach.

*Spec*: ANSI/AISC 360-22, read in a public transcription, clause beside each value; *by hand* is
worked from the named equation outside this package. Units are the sources' (kip, inch).
"""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import anchor_group, aws, weld_group
from leafwright.handbook.aisc360 import Method, bolts, hss_joints, joint_limits, welds
from leafwright.handbook.aisc360.joint_limits import Joint

INCH = 0.0254
KIP = 4448.2216152605
KSI = KIP / INCH**2
A500_C = (50.0 * KSI, 62.0 * KSI)


# --- tube joints --------------------------------------------------------------------------------


def test_thick_face_lets_the_whole_plate_punch() -> None:
    """Spec Eq. K1-2, by hand: B/t 8 gives 1.25 B_b, so B_b; B/t 20 gives half."""
    assert hss_joints.effective_punching_width(4.0, 0.5, 3.0) == 3.0
    assert hss_joints.effective_punching_width(10.0, 0.5, 3.0) == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("beta", "degrees", "B_e", "counted"),
    [
        # Spec Table K5.1, by hand: over beta 0.85 or theta 50° B_e is at most half of B_b = 6 in.
        (0.90, 45.0, 4.0, 3.0),
        (0.90, 45.0, 2.0, 2.0),
        (0.50, 90.0, 4.0, 3.0),
        (0.50, 90.0, 2.0, 2.0),
        (0.50, 45.0, 4.0, 4.0),
    ],
)
def test_weld_round_a_branch(beta: float, degrees: float, B_e: float, counted: float) -> None:
    theta = math.radians(degrees)
    along = 5.0 / math.sin(theta)
    l_e = hss_joints.weld_effective_length(6.0, 5.0, B_e, beta, theta=theta)
    assert l_e == pytest.approx(2.0 * along + 2.0 * counted)
    S_ip = hss_joints.weld_modulus_in_plane(0.2, 6.0, 5.0, B_e, beta, theta=theta)
    assert S_ip == pytest.approx(0.2 * (along**2 / 3.0 + counted * along))
    S_op = hss_joints.weld_modulus_out_of_plane(0.2, 6.0, 5.0, B_e, beta, theta=theta)
    lost = (6.0 - counted) ** 3 / (3.0 * 6.0)
    assert S_op == pytest.approx(0.2 * (6.0 * along + 12.0 - lost))


@pytest.mark.parametrize(
    ("joint", "D_over_t", "width", "said"),
    [
        # Spec Table K2.1A, read: D/t to 50 at a T, 40 at a cross; 0.2 < B_b/D <= 1.0 across.
        (Joint.T_OR_Y, 50.0, None, ()),
        (Joint.T_OR_Y, 51.0, None, ("over the limit of 50",)),
        (Joint.CROSS, 40.0, None, ()),
        (Joint.CROSS, 41.0, None, ("over the limit of 40",)),
        (Joint.CROSS, 30.0, 0.5, ()),
        (Joint.CROSS, 30.0, 1.0, ()),
        (Joint.T_OR_Y, 30.0, 0.19, ("under the limit of 0.2",)),
        (Joint.T_OR_Y, 30.0, 1.01, ("over the limit of 1",)),
    ],
)
def test_limits_of_a_plate_on_a_round_tube(
    joint: Joint, D_over_t: float, width: float | None, said: tuple[str, ...]
) -> None:
    D = 0.1
    found = joint_limits.round_plate_limits(
        D, D / D_over_t, *A500_C, joint, B_b=None if width is None else width * D
    )
    assert len(found) == len(said)
    for sentence, words in zip(found, said, strict=True):
        assert words in sentence


@pytest.mark.parametrize(
    ("wall", "width", "F_yb", "pressed", "said"),
    [
        # Spec Table K3.2A: B_b/t_b to 35, pressed to 1.25 √(E/F_yb) (30.1 at 50 ksi, 35.5 at
        # 36 ksi, by hand, where 35 rules); B_b/B from 0.25.
        (30.0, 0.5, 50.0, True, 0),
        (31.0, 0.5, 50.0, True, 2),
        (31.0, 0.5, 50.0, False, 0),
        (35.0, 0.5, 50.0, False, 0),
        (35.2, 0.5, 50.0, False, 2),
        (35.0, 0.5, 36.0, True, 0),
        (35.2, 0.5, 36.0, True, 2),
        (20.0, 0.25, 50.0, True, 0),
        (20.0, 0.24, 50.0, True, 2),
    ],
)
def test_limits_of_a_square_branch(
    wall: float, width: float, F_yb: float, pressed: bool, said: int
) -> None:
    B = 0.1
    B_b = width * B
    found = joint_limits.rectangular_limits(
        B,
        B,
        B / 20.0,
        B_b,
        B_b,
        B_b / wall,
        *A500_C,
        F_yb * KSI,
        62.0 * KSI,
        branch_pressed=pressed,
    )
    assert len(found) == said


@pytest.mark.parametrize(("wall", "said"), [(50.0, 0), (50.5, 1), (51.5, 1)])
def test_soft_round_branch_has_the_plain_limit(wall: float, said: int) -> None:
    # Spec Table K3.1A, read: D_b/t_b to 50 and, pressed, 0.05 E/F_yb, 51.8 at 28 ksi by hand.
    D = 0.1
    found = joint_limits.round_limits(
        D, D / 30.0, 0.05, 0.05 / wall, *A500_C, 28.0 * KSI, 50.0 * KSI, Joint.T_OR_Y
    )
    assert len(found) == said


# --- welds --------------------------------------------------------------------------------------


def test_groove_filled_too_little_has_no_throat() -> None:
    """Spec J2.1a and Table J2.2, by hand: 5/8 and 3/4 of R = 1/2 in are 5/16 and 3/8 in."""
    R, process = 0.5 * INCH, welds.Process.GMAW_OR_FCAW_G
    for throat, full in ((welds.flare_bevel_throat, 5 / 16), (welds.flare_v_throat, 3 / 8)):
        short = throat(R, process, below_flush=INCH / 4)
        assert short / INCH == pytest.approx(full - 1 / 4)
        assert throat(R, process, below_flush=INCH / 2) == 0.0


@pytest.mark.parametrize(
    ("w", "area"),
    [
        # Spec J2.2a, by hand, in a hole of 1 in: 0.7071 w π (1 - w/2) up to w = 1/2, then the
        # hole's π/4 [in²]; so too where the leg is wider than the hole.
        (0.25, 0.48597),
        (0.5, 0.78540),
        (0.6, 0.78540),
        (2.5, 0.78540),
    ],
)
def test_fillet_in_a_hole(w: float, area: float) -> None:
    found = welds.fillet_in_hole_area(INCH, w * INCH)
    assert found / INCH**2 == pytest.approx(area, rel=1e-4)


@pytest.mark.parametrize(
    ("thinner", "cyclic", "leg"),
    [
        # AWS D1.1:2020, Table 7.7 and its note, read in excerpts: 1/8, 3/16, 1/4, 5/16 in; 3/16 at
        # least under cyclic load (row E07).
        (1 / 4, False, 1 / 8),
        (1 / 4, True, 3 / 16),
        (1 / 2, True, 3 / 16),
        (3 / 4, True, 1 / 4),
        (1.0, True, 5 / 16),
    ],
)
def test_least_fillet_under_cyclic_load(thinner: float, cyclic: bool, leg: float) -> None:
    found = aws.minimum_fillet(thinner * INCH, INCH, cyclic=cyclic)
    assert found / INCH == pytest.approx(leg)


def test_plug_not_filled_whole() -> None:
    """Spec J2.3b(a), by hand. 3/4 in filled 5/8: 17/16 to 2.25 · 5/8 = 1.406 in.

    20 mm filled 16: 28 mm to 2.25 · 16 = 36 mm; filled 12, 28 to 28 + 3 = 31 mm.
    """
    inch = aws.plug_hole(3 / 4 * INCH, 1.25 * INCH, weld_thickness=5 / 8 * INCH)
    assert (inch.least / INCH, inch.greatest / INCH) == pytest.approx((17 / 16, 2.25 * 5 / 8))
    for filled, greatest in ((16.0, 36.0), (12.0, 31.0)):
        metric = aws.plug_hole_metric(0.020, 0.030, weld_thickness=filled / 1000.0)
        assert (metric.least * 1e3, metric.greatest * 1e3) == pytest.approx((28.0, greatest))


@pytest.mark.parametrize("degrees", [0.0, 90.0, 30.0])
def test_one_straight_weld_bent_along_itself(degrees: float) -> None:
    """A single line d of throat 1 has d²/6 (Shigley, Table 9-2; read as d³/12): 6 M/d² at its ends.

    6 kN square to the plate at 40 mm from the middle along a line of 120 mm: 50 N/mm, and from
    the bending 6 · 240 kN mm/120² = 100 N/mm, by hand.
    """
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    line = ((-0.06 * c, -0.06 * s), (0.06 * c, 0.06 * s))
    found = weld_group.line_forces([line], (0.0, 0.0, 6000.0), (0.04 * c, 0.04 * s, 0.0))
    assert [end.f_z / 1e3 for end in found] == pytest.approx([-50.0, 150.0])
    worst = weld_group.greatest_line_force([line], (0.0, 0.0, 6000.0), (0.04 * c, 0.04 * s, 0.0))
    assert worst.resultant / 1e3 == pytest.approx(150.0)


# --- bolts and plates ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("grip", "factor"),
    [
        # Spec Table J3.2 note [d], by hand for 1/2 in: five diameters are 2.5 in.
        (2.0, 1.0),
        (2.5, 1.0),
        (3.5, 0.84),
    ],
)
def test_long_a307_bolt(grip: float, factor: float) -> None:
    assert bolts.a307_grip_factor(grip * INCH, 0.5 * INCH) == pytest.approx(factor)


@pytest.mark.parametrize(
    ("share", "left"),
    [
        # Spec Eq. J3-3a, by hand, share of the available shear stress: 1.3 - share, up to 1.
        (0.0, 1.0),
        (0.2, 1.0),
        (0.3, 1.0),
        (0.8, 0.5),
        (1.0, 0.3),
        (1.1, 0.0),
    ],
)
def test_shear_leaves_a_bolt_its_pull(share: float, left: float) -> None:
    # Group 120-N: 90 and 54 ksi (Spec Table J3.2, read).
    F_nt, F_nv = 90.0 * KSI, 54.0 * KSI
    for method, available in ((Method.LRFD, 0.75 * F_nv), (Method.ASD, F_nv / 2.0)):
        found = bolts.tensile_stress_with_shear(F_nt, F_nv, share * available, method)
        assert found / F_nt == pytest.approx(left, abs=1e-12)


def test_prying_begins_where_the_plate_bends() -> None:
    """AISC Manual, part 9, as DG29, pp. 63 to 69, uses it: α = ((T/B)(t_c/t)² - 1)/δ, 0 at least.

    By hand, b' = a' = 1, δ 0.8, t_c/t = 1.2: nothing under T/B = 1/1.44; at 0.75, α = 0.1 and
    q/B = 0.8 · 0.1/1.44 = 0.0556.
    """
    stub = anchor_group.TeeStub(1.0, 1.0, 1.0, 0.8, 4.0)
    assert anchor_group.prying_force(0.6, 1.0, 1.0, 1.2, stub) == 0.0
    found = anchor_group.prying_force(0.75, 1.0, 1.0, 1.2, stub)
    assert found == pytest.approx(0.8 * 0.1 / 1.44, rel=1e-9)
    # What the plate lets through: α' = 0.44/1.6 = 0.275, Q = 1.22/1.44 = 0.8472.
    most = anchor_group.available_tension_with_prying(1.0, 1.0, 1.2, stub)
    assert most == pytest.approx(1.22 / 1.44)
