"""Area e of the check values, welds: rows E01 to E12, and published examples beyond them.

Sources. *DE16*: AISC, Design Examples, v16.0 (companion to the Manual, 16th ed.), read in a public
transcription, by example and page. *Spec*: ANSI/AISC 360-22, read in public transcriptions. Rows
recomputed from a named formula say so. Tolerances follow the printed digits. Units are the sources'
(kip, inch) unless said otherwise.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from leafwright.handbook import aws, weld_group
from leafwright.handbook.aisc360 import (
    LimitState,
    Method,
    available,
    connecting,
    welds,
)

INCH = 0.0254
KIP = 4448.2216152605
KSI = KIP / INCH**2
KIP_IN = KIP * INCH
E70 = 70.0 * KSI
THREE_FIGURES = 0.005


def both(nominal: float, state: LimitState) -> tuple[float, float]:
    """Return the available strengths by LRFD and ASD."""
    return (
        float(available(nominal, state, Method.LRFD)),
        float(available(nominal, state, Method.ASD)),
    )


@pytest.mark.parametrize(
    ("row", "leg", "lrfd", "asd"),
    [
        # Spec J2.4, Table J2.5; Manual 1.392 D and 0.928 D, read in DE16 K.7 (p. K-37); recomputed.
        ("E01", 1 / 8, 2.784, 1.856),
        ("E03", 1 / 4, 5.568, 3.712),
        ("E04", 5 / 16, 6.961, 4.640),
    ],
)
def test_fillet_strength_per_inch(row: str, leg: float, lrfd: float, asd: float) -> None:
    R_n = float(welds.weld_shear(E70, welds.fillet_throat(leg * INCH) * INCH))
    found = both(R_n, LimitState.WELD_SHEAR)
    assert np.array(found) / KIP == pytest.approx([lrfd, asd], rel=0.002), row


def test_e06_directional_increase() -> None:
    """Spec Eq. J2-5; 1.40 at 60° read in DE16 J.2A (p. J-5), the rest recomputed."""
    angles = np.radians([0.0, 30.0, 45.0, 60.0, 90.0])
    assert welds.directional_factor(angles) == pytest.approx(
        [1.0, 1.177, 1.297, 1.403, 1.5], abs=0.001
    )


THICKNESSES = [
    # E07: Spec Table J2.4 and AWS D1.1 Table 7.7 (2020, 2025), both read; inches.
    (0.12, 1 / 8),
    (1 / 4, 1 / 8),
    (0.26, 3 / 16),
    (1 / 2, 3 / 16),
    (0.51, 1 / 4),
    (3 / 4, 1 / 4),
    (0.76, 5 / 16),
    (3.0, 5 / 16),
]


@pytest.mark.parametrize(("thinner", "least"), THICKNESSES)
def test_e07_least_fillet(thinner: float, least: float) -> None:
    assert welds.minimum_fillet(thinner * INCH) == pytest.approx(least * INCH, abs=1e-9)
    by_aws = aws.minimum_fillet(thinner * INCH, 4.0 * INCH)
    assert by_aws == pytest.approx(min(least, thinner) * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("thinner", "least"), [(6.0, 3.0), (8.0, 5.0), (13.0, 5.0), (19.0, 6.0), (20.0, 8.0)]
)
def test_least_fillet_in_millimetres(thinner: float, least: float) -> None:
    """Spec Table J2.4, metric values, read."""
    assert welds.minimum_fillet(thinner / 1e3, metric=True) == pytest.approx(least / 1e3)


def test_least_fillet_notes_of_d1_1() -> None:
    """AWS D1.1 Table 7.7 notes (a) to (c), read with the example 3/16 in to 1 in plate, E6010."""
    thin, thick = 3 / 16 * INCH, 1.0 * INCH
    assert aws.minimum_fillet(thin, thick) == pytest.approx(1 / 8 * INCH)
    assert aws.minimum_fillet(thin, thick, low_hydrogen=False) == pytest.approx(3 / 16 * INCH)
    assert aws.minimum_fillet(thin, thin, cyclic=True) == pytest.approx(3 / 16 * INCH)


def test_greatest_fillet() -> None:
    """Spec J2.2b(b). DE16 J.1 (p. J-2): 3/16 on a 1/4 plate; K.2 (p. K-13): 0.498 on 0.560."""
    assert welds.maximum_fillet(1 / 4 * INCH) == pytest.approx(3 / 16 * INCH)
    assert welds.maximum_fillet(0.560 * INCH) == pytest.approx(0.498 * INCH, rel=0.002)
    # Under 1/4 in all of it; metric limits 6 and 2 mm: read in the Spec.
    assert welds.maximum_fillet(0.120 * INCH) == pytest.approx(0.120 * INCH)
    assert welds.maximum_fillet(0.006, metric=True) == pytest.approx(0.004)
    assert welds.maximum_fillet(0.005, metric=True) == pytest.approx(0.005)


def test_e09_least_length_and_throat() -> None:
    """Spec J2.2: 1/4 fillet is whole from 1.0 in on; throat 0.1768 in; recomputed."""
    w = INCH / 4
    assert welds.fillet_effective_size(w, 1.0 * INCH) == pytest.approx(w)
    assert welds.fillet_effective_size(w, 0.5 * INCH) == pytest.approx(INCH / 8)
    assert welds.fillet_throat(w) == pytest.approx(0.1768 * INCH, rel=3e-4)
    # Unequal legs: the height of the triangle, twice its area over its face (geometry).
    assert welds.fillet_throat(0.003, 0.004) == pytest.approx(0.003 * 0.004 / 0.005)


@pytest.mark.parametrize(
    ("t", "least", "greatest"),
    [
        # E10: Spec J2.3b(a), read; D1.1 alike; recomputed. 3/16: 1/2 goes up to 9/16.
        (1 / 8, 7 / 16, 9 / 16),
        (3 / 16, 9 / 16, 11 / 16),
        (1 / 4, 9 / 16, 11 / 16),
        (3 / 8, 11 / 16, 27 / 32),
    ],
)
def test_e10_plug_holes(t: float, least: float, greatest: float) -> None:
    found = aws.plug_hole(t * INCH, least * INCH)
    assert found.least == pytest.approx(least * INCH, abs=1e-9)
    assert found.greatest == pytest.approx(greatest * INCH, abs=1e-9)
    assert found.size == aws.Size.WITHIN
    assert aws.plug_hole(t * INCH, (least - 1 / 64) * INCH).size == aws.Size.UNDER
    assert aws.plug_hole(t * INCH, greatest * INCH).size == aws.Size.WITHIN
    assert aws.plug_hole(t * INCH, (greatest + 1 / 64) * INCH).size == aws.Size.OVER


def test_e10_spacing_and_slots() -> None:
    """Spec J2.3b(b), (c), (d): 4 diameters; slot up to 10 by 2-1/4 of the weld; read."""
    assert welds.PLUG_SPACING_OVER_DIAMETER == 4.0
    assert welds.SLOT_LENGTH_OVER_WELD == 10.0
    assert welds.SLOT_WIDTH_OVER_WELD == 2.25


def test_metric_plug_holes() -> None:
    """Spec J2.3b(a) metric, read: t + 8 mm to the next even mm; + 3 mm or 2-1/4 weld.

    3 mm: 11, so 12 and 15 mm. 10 mm: 18 and 22.5 mm. Worked by hand.
    """
    thin, thick = aws.plug_hole_metric(0.003, 0.0155), aws.plug_hole_metric(0.010, 0.020)
    assert (thin.least, thin.greatest) == pytest.approx((0.012, 0.015))
    assert (thick.least, thick.greatest) == pytest.approx((0.018, 0.0225))
    assert (thin.size, thick.size) == (aws.Size.OVER, aws.Size.WITHIN)


def test_plug_in_a_2_by_0_120_tube_read_three_ways() -> None:
    """A 5/8 hole in a 0.120 wall: over size by D1.1 (7/16 to 9/16); d_e = 0.26 in, under 3/8.

    An inspectors' discussion of D1.3 (read) has d = 0.793 in at d_e = 3/8 and t = 0.120. As a
    fillet round the hole 3.16 kip ASD: length π (5/8 - 0.06), throat 0.0849, 42 ksi, by hand.
    """
    t, d = 0.120 * INCH, 5 / 8 * INCH
    hole, arc = aws.plug_hole(t, d), aws.arc_plug(d, t)
    assert (hole.least, hole.greatest) == pytest.approx((7 / 16 * INCH, 9 / 16 * INCH))
    assert hole.size == aws.Size.OVER
    assert arc.effective_diameter == pytest.approx(0.2575 * INCH)
    assert not arc.enough
    assert aws.arc_plug_diameter(t) == pytest.approx(0.793 * INCH, rel=0.001)
    assert aws.arc_plug(0.794 * INCH, t).enough
    R_n = float(welds.weld_shear(E70, welds.fillet_in_hole_area(d, t)))
    assert both(R_n, LimitState.WELD_SHEAR)[1] == pytest.approx(3.16 * KIP, rel=0.003)


def test_plug_and_slot_areas() -> None:
    """Spec J2.3a and J2.2a: areas of circle and of circle with rectangle (geometry)."""
    d = 9 / 16 * INCH
    assert welds.plug_area(d) == pytest.approx(0.2485 * INCH**2, rel=2e-4)
    assert welds.slot_area(d, d) == pytest.approx(welds.plug_area(d))
    assert welds.slot_area(d, 2 * INCH) == pytest.approx((0.2485 + 0.8086) * INCH**2, rel=2e-4)
    # Fillets that meet in the middle: no more than the hole.
    assert welds.fillet_in_hole_area(d, 0.3 * INCH) == pytest.approx(welds.plug_area(d))
    # Middle of the throat by integration: a cone's face at half depth between root and face.
    w, turns = 0.1 * INCH, np.linspace(0.0, 2.0 * np.pi, 2001)
    radius = d / 2 - w / 4
    line = np.hypot(np.diff(radius * np.cos(turns)), np.diff(radius * np.sin(turns))).sum()
    assert welds.fillet_in_hole_area(d, w) == pytest.approx(line * w / math.sqrt(2), rel=1e-5)


@pytest.mark.parametrize(("t", "filled"), [(0.12, 0.12), (0.625, 0.625), (1.0, 0.625), (2.0, 1.0)])
def test_plug_thickness(t: float, filled: float) -> None:
    """Spec J2.3b(h), read (5/8 in is 16 mm there): whole to 5/8, then half but 5/8 at least."""
    assert welds.plug_weld_thickness(t * INCH) == pytest.approx(filled * INCH)


def test_e12_base_metal_beside_a_weld() -> None:
    """A500 Gr C, t = 0.116 in. Spec J4.2 and Manual Eq. 9-6; recomputed by hand."""
    yielding = float(connecting.element_shear_yielding(50.0 * KSI, 0.116 * INCH**2))
    rupture = float(connecting.element_shear_rupture(62.0 * KSI, 0.116 * INCH**2))
    assert both(yielding, LimitState.ELEMENT_SHEAR_YIELDING)[0] == pytest.approx(
        3.480 * KIP, rel=0.003
    )
    assert both(rupture, LimitState.ELEMENT_SHEAR_RUPTURE)[0] == pytest.approx(
        3.236 * KIP, rel=0.003
    )
    t_min = welds.base_metal_thickness(E70, INCH / 8, 62.0 * KSI)
    assert t_min == pytest.approx(0.0997 * INCH, rel=0.003)


@pytest.mark.parametrize(
    ("sixteenths", "F_u", "welds_on_it", "t_min"),
    [
        # Manual Eq. 9-6 in DE16 K.1 (p. K-10) and K.2 (p. K-13).
        (3.30, 62.0, 1, 0.164),
        (4.0, 62.0, 1, 0.199),
        # Two welds on one thickness: Manual Eq. 9-5, 6.19 D/F_u, recomputed.
        (4.0, 62.0, 2, 0.399),
    ],
)
def test_thickness_to_match_a_weld(
    sixteenths: float, F_u: float, welds_on_it: int, t_min: float
) -> None:
    found = welds.base_metal_thickness(
        E70, sixteenths / 16 * INCH, F_u * KSI, welds_on_it=welds_on_it
    )
    assert found == pytest.approx(t_min * INCH, rel=THREE_FIGURES)


def test_j1_long_fillet_along_the_load() -> None:
    """DE16 J.1, pp. J-3 and J-4: 3/16 by 27 in, l/w = 144, beta 0.912, 274 (206, 137), 527 kip."""
    w, length = 3 / 16 * INCH, 27.0 * INCH
    l_e = float(welds.fillet_effective_length(length, w))
    assert l_e / length == pytest.approx(0.912, abs=1e-9)
    R_n = float(welds.weld_shear(E70, 2.0 * welds.fillet_throat(w) * l_e))
    assert R_n == pytest.approx(274.0 * KIP, rel=THREE_FIGURES)
    assert np.array(both(R_n, LimitState.WELD_SHEAR)) / KIP == pytest.approx(
        [206.0, 137.0], rel=THREE_FIGURES
    )
    plate = float(connecting.element_shear_rupture(65.0 * KSI, 2.0 * INCH / 4 * length))
    assert np.array(both(plate, LimitState.ELEMENT_SHEAR_RUPTURE)) / KIP == pytest.approx(
        [395.0, 264.0], rel=THREE_FIGURES
    )


def test_effective_length_of_short_and_very_long_fillets() -> None:
    """Spec J2.2b(d)(1) and (3), read: whole to 100 w, 180 w over 300 w; both meet J2-1."""
    w = 0.003
    assert welds.fillet_effective_length(99.0 * w, w) == pytest.approx(99.0 * w)
    assert welds.fillet_effective_length(300.0 * w, w) == pytest.approx(0.6 * 300.0 * w)
    assert welds.fillet_effective_length(400.0 * w, w) == pytest.approx(180.0 * w)


def test_j2a_fillet_at_an_angle() -> None:
    """DE16 J.2A, pp. J-5 and J-6: 5/16, 60°: 13.0 kip/in; two sides 19.5 LRFD, 13.0 ASD."""
    R_n = float(
        welds.weld_shear(
            E70,
            welds.fillet_throat(5 / 16 * INCH) * INCH,
            k_ds=welds.directional_factor(math.radians(60.0)),
        )
    )
    assert R_n == pytest.approx(13.0 * KIP, rel=THREE_FIGURES)
    assert 2.0 * np.array(both(R_n, LimitState.WELD_SHEAR)) / KIP == pytest.approx(
        [19.5, 13.0], rel=THREE_FIGURES
    )


def test_j2b_groove_weld_at_an_angle() -> None:
    """DE16 J.2B, pp. J-8 to J-10: two 1/4 PJP; 15.8, 10.5 shear; 16.8, 11.2 pull; 0.442 and 0.439.

    The plate itself: 14.6 and 9.75 (shear), 24.4 and 16.3 (pull), J4.1 and J4.2.
    """
    per_inch = 2.0 * INCH / 4 * INCH
    weld = float(welds.weld_shear(E70, per_inch))
    assert weld == pytest.approx(21.0 * KIP, rel=THREE_FIGURES)
    assert np.array(both(weld, LimitState.WELD_SHEAR)) / KIP == pytest.approx(
        [15.8, 10.5], rel=THREE_FIGURES
    )
    assert np.array(both(weld, LimitState.GROOVE_WELD_TENSION)) / KIP == pytest.approx(
        [16.8, 11.2], rel=THREE_FIGURES
    )
    shear = both(
        float(connecting.element_shear_rupture(65.0 * KSI, per_inch)),
        LimitState.ELEMENT_SHEAR_RUPTURE,
    )
    pull = both(
        float(connecting.element_tension_rupture(65.0 * KSI, per_inch)),
        LimitState.TENSION_RUPTURE,
    )
    assert np.array(shear) / KIP == pytest.approx([14.6, 9.75], rel=THREE_FIGURES)
    assert np.array(pull) / KIP == pytest.approx([24.4, 16.3], rel=THREE_FIGURES)
    for P, capacity_pull, capacity_shear, expected in (
        (300.0, pull[0], shear[0], 0.442),
        (200.0, pull[1], shear[1], 0.439),
    ):
        use = connecting.connecting_interaction(
            0.0,
            P * KIP * math.sin(math.radians(60.0)) / (18.25 * capacity_pull),
            P * KIP * math.cos(math.radians(60.0)) / (18.25 * capacity_shear),
        )
        # The example carries three figures to the fourth power.
        assert use == pytest.approx(expected, rel=0.01)
    # The moment's term is linear: Manual Eq. 9-1 as printed there.
    assert connecting.connecting_interaction(0.3, 0.0, 0.0) == pytest.approx(0.3)
    assert welds.minimum_groove_throat(5 / 8 * INCH) == pytest.approx(INCH / 4)


def test_groove_weld_in_compression() -> None:
    """Spec Table J2.5, read: 0.90 F_EXX, phi 0.80: 1.5 times what it bears in tension."""
    assert welds.groove_weld_compression(E70, 1e-4) == pytest.approx(
        1.5 * welds.weld_shear(E70, 1e-4)
    )
    assert both(1.0, LimitState.GROOVE_WELD_TENSION) == pytest.approx((0.80, 1 / 1.88))


def test_fillets_along_and_across_together() -> None:
    """AISC Companion v15.1, II.B-2, p. IIB-23: 166 along, 55.7 across: 225 (168.5 LRFD), read."""
    R_n = float(welds.fillet_group_strength(165.9 * KIP, 55.7 * KIP))
    assert R_n == pytest.approx(225.0 * KIP, rel=THREE_FIGURES)
    assert both(R_n, LimitState.WELD_SHEAR)[0] == pytest.approx(169.0 * KIP, rel=THREE_FIGURES)
    # Mostly along: plain addition is more, Spec J2.4(b) user note.
    assert welds.fillet_group_strength(100.0, 10.0) == pytest.approx(110.0)


@pytest.mark.parametrize(
    ("thinner", "least"),
    [
        # Spec Table J2.3, read (two rows' fractions by its millimetres).
        (0.233, 1 / 8),
        (1 / 2, 3 / 16),
        (3 / 4, 1 / 4),
        (1.5, 5 / 16),
        (2.25, 3 / 8),
        (6.0, 1 / 2),
        (7.0, 5 / 8),
    ],
)
def test_least_groove_throat(thinner: float, least: float) -> None:
    assert welds.minimum_groove_throat(thinner * INCH) == pytest.approx(least * INCH)


@pytest.mark.parametrize(
    ("thinner", "least"),
    [(6, 3), (13, 5), (19, 6), (38, 8), (57, 10), (150, 13), (151, 16)],
)
def test_least_groove_throat_in_millimetres(thinner: int, least: int) -> None:
    """Spec Table J2.3, metric values, read."""
    found = welds.minimum_groove_throat(thinner / 1e3, metric=True)
    assert found == pytest.approx(least / 1e3)


def test_flare_bevel_of_k1() -> None:
    """DE16 K.1, p. K-9: R = 0.466 in, 5/16 R = 0.146 in. DG24 2010 (paraphrase read): 5/8 R gas."""
    R = 2.0 * 0.233 * INCH
    throat = welds.flare_bevel_throat(R, welds.Process.SMAW_OR_FCAW_S)
    assert throat == pytest.approx(0.146 * INCH, rel=THREE_FIGURES)
    assert welds.flare_bevel_throat(R, welds.Process.SAW) == pytest.approx(throat)
    assert welds.flare_bevel_throat(R, welds.Process.GMAW_OR_FCAW_G) == pytest.approx(2.0 * throat)
    short = welds.flare_bevel_throat(R, welds.Process.SAW, below_flush=INCH / 16)
    assert short == pytest.approx(throat - INCH / 16)


def test_flare_bevel_on_a_thin_tube_counts_for_nothing() -> None:
    """Spec Table J2.2 note [a], read: R under 3/8 in, only the reinforcing fillet."""
    thin = 2.0 * 0.93 * 0.120 * INCH
    assert welds.flare_bevel_throat(thin, welds.Process.GMAW_OR_FCAW_G) == 0.0
    at = welds.flare_bevel_throat(3 / 8 * INCH, welds.Process.GMAW_OR_FCAW_G)
    assert at == pytest.approx(15 / 64 * INCH)


def test_flare_v_throats() -> None:
    """Spec Table J2.2, read: 3/4, 5/8 and 1/2 R."""
    R = 0.5 * INCH
    found = [float(welds.flare_v_throat(R, process)) / R for process in welds.Process]
    assert found == pytest.approx([0.75, 0.625, 0.5])


# Weld groups as lines.

A = 1.0  # side of the square in which the patterns below lie
SQUARE = ((0.0, 0.0), (A, 0.0), (A, A), (0.0, A))
PATTERNS = {
    # Shigley, Mechanical Engineering Design, solutions to problem 9-9, read: J_u over the length
    # of weld, over a².
    "one": ([((0.0, 0.0), (0.0, A))], 1 / 12),
    "two": ([((0.0, 0.0), (0.0, A)), ((A, 0.0), (A, A))], 1 / 3),
    "corner": ([(SQUARE[3], SQUARE[0]), (SQUARE[0], SQUARE[1])], 5 / 24),
    "three": ([(SQUARE[1], SQUARE[0]), (SQUARE[0], SQUARE[3]), (SQUARE[3], SQUARE[2])], 11 / 36),
    "four": ([(SQUARE[i], SQUARE[(i + 1) % 4]) for i in range(4)], 1 / 3),
}


@pytest.mark.parametrize("name", PATTERNS)
def test_polar_moments_of_patterns(name: str) -> None:
    lines, expected = PATTERNS[name]
    group = weld_group.line_properties(lines)
    assert group.I_p / group.length == pytest.approx(expected * A**2)


def test_rectangle_as_lines() -> None:
    """b by d all round: I_x = d²(3 b + d)/6, I_p = (b + d)³/6 (Shigley, Table 9-1; read)."""
    b, d = 0.08, 0.15
    corners = [(0.0, 0.0), (b, 0.0), (b, d), (0.0, d)]
    group = weld_group.line_properties([(corners[i], corners[(i + 1) % 4]) for i in range(4)])
    assert group.I_x == pytest.approx(d**2 * (3 * b + d) / 6)
    assert group.I_y == pytest.approx(b**2 * (3 * d + b) / 6)
    assert group.I_p == pytest.approx((b + d) ** 3 / 6)
    assert group.I_xy == pytest.approx(0.0, abs=1e-12)


def test_ring_in_torsion() -> None:
    """Shigley, problem 9-8, solution read: r = 4 cm, J_u = 402 cm³; 200 N m a kN: 2.82 MPa a kN.

    Two such welds of 0.707 by 5 mm share it. (The solution then divides 140 by 2.82 wrongly.)
    """
    assert weld_group.ring_properties(0.04).I_p == pytest.approx(402e-6, rel=THREE_FIGURES)
    force = weld_group.ring_greatest_force(0.04, twist=200.0 / 2.0)
    assert force / (0.707 * 0.005) == pytest.approx(2.82e6, rel=THREE_FIGURES)
    # And fom = a²/4 for the circle of diameter a, problem 9-9, read.
    ring = weld_group.ring_properties(0.5)
    assert ring.I_p / ring.length == pytest.approx(0.25)


def test_ring_against_a_polygon() -> None:
    """The ring's own formulas against `line_forces` on 720 sides, worst points together."""
    r, n = 0.02, 720
    points = [(r * math.cos(a), r * math.sin(a)) for a in np.arange(n) * 2.0 * math.pi / n]
    lines = [(points[i], points[(i + 1) % n]) for i in range(n)]
    group, ring = weld_group.line_properties(lines), weld_group.ring_properties(r)
    assert group.length == pytest.approx(ring.length, rel=1e-5)
    assert (group.I_x, group.I_y) == pytest.approx((ring.I_x, ring.I_y), rel=5e-5)
    tipped = weld_group.greatest_line_force(
        lines, (0.0, 0.0, 500.0), (0.0, 0.0, 0.0), moment=(30.0, 0.0, 0.0)
    ).resultant
    assert tipped == pytest.approx(
        weld_group.ring_greatest_force(r, pull=500.0, bending=30.0), rel=1e-4
    )
    twisted = weld_group.greatest_line_force(lines, (0.0, 900.0, 0.0), (0.01, 0.0, 0.0)).resultant
    assert twisted == pytest.approx(
        weld_group.ring_greatest_force(r, shear=900.0, twist=9.0), rel=1e-4
    )


def test_bracket_on_two_lines_by_hand() -> None:
    """Two welds 100 long, 60 apart, 6 kN down at 150 from the middle: textbook hand calculation.

    L = 200, I_p = 2 (100³/12) + 200 · 30² = 346 667 mm³; M = 900 N m. At the near top corner
    f_x = 900e3 · 50/346667 = 129.8, f_y = 30 + 900e3 · 30/346667 = 107.9: 168.8 N/mm.
    """
    lines = [((x, -0.05), (x, 0.05)) for x in (-0.03, 0.03)]
    worst = weld_group.greatest_line_force(lines, (0.0, -6000.0, 0.0), (0.15, 0.0, 0.0))
    assert worst.resultant == pytest.approx(168.8e3, rel=0.001)
    assert worst.at[0] == pytest.approx(0.03)
    near_top = weld_group.line_forces(lines, (0.0, -6000.0, 0.0), (0.15, 0.0, 0.0))[3]
    assert (abs(near_top.f_x), abs(near_top.f_y)) == pytest.approx((129.8e3, 107.9e3), rel=0.001)


def test_bracket_bent_out_of_plane_by_hand() -> None:
    """Same welds, 6 kN down at 80 off the plate: I_x/c = 2 · 100²/6 = 3333 mm²; 144 and 30 N/mm."""
    lines = [((x, -0.05), (x, 0.05)) for x in (-0.03, 0.03)]
    worst = weld_group.greatest_line_force(lines, (0.0, -6000.0, 0.0), (0.0, 0.0, 0.08))
    assert abs(worst.f_z) == pytest.approx(144e3, rel=1e-6)
    assert worst.resultant == pytest.approx(math.hypot(144e3, 30e3), rel=1e-6)


def test_k7_weld_on_an_hss() -> None:
    """DE16 K.7, pp. K-36 to K-38: 34.7 and 23.1 kip on 2 by 8.5 in; HSS wall 0.116 in.

    D needed 1.47 and 1.46 sixteenths; wall 59.1 and 39.4 (yielding), 55.0 and 36.7 kip (rupture).
    """
    area = 2.0 * 8.50 * 0.116 * INCH**2
    yielding = float(connecting.element_shear_yielding(50.0 * KSI, area))
    rupture = float(connecting.element_shear_rupture(62.0 * KSI, area))
    assert np.array(both(yielding, LimitState.ELEMENT_SHEAR_YIELDING)) / KIP == pytest.approx(
        [59.1, 39.4], rel=THREE_FIGURES
    )
    assert np.array(both(rupture, LimitState.ELEMENT_SHEAR_RUPTURE)) / KIP == pytest.approx(
        [55.0, 36.7], rel=THREE_FIGURES
    )
    one = float(welds.weld_shear(E70, welds.fillet_throat(INCH / 16) * 2.0 * 8.5 * INCH))
    lrfd, asd = both(one, LimitState.WELD_SHEAR)
    assert 34.7 * KIP / lrfd == pytest.approx(1.47, rel=THREE_FIGURES)
    assert 23.1 * KIP / asd == pytest.approx(1.46, rel=THREE_FIGURES)
