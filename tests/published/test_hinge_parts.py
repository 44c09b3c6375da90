"""A hinge's pin, and a tube's face under a plate's moment: published values and other derivations.

Sources. *PS*: a public spreadsheet of a pin to EN 1993-1-8, Table 3.10, read (pin 16 mm, S235,
W_el 402.124 mm³). *VW*: virtual work on yield lines, worked here, independent of the formulas.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from leafwright.handbook import pins
from leafwright.handbook.aisc360 import face_moments, hss_joints

Point = tuple[float, float]


def test_pin_bent_and_sheared() -> None:
    """PS: shear 5 of 35 kN and bending 27.1 of 123 N·m: shares 0.14 and 0.21 (printed 0.14, 0.21).

    Together, by Table 3.10: 0.143² + 0.220² = 0.069, by hand.
    """
    M, V = 27.1 / 123.0, 5.0 / 35.0
    assert pins.pin_interaction(M, V) == pytest.approx(0.069, abs=0.0005)
    assert pins.pin_interaction(1.0, 0.0) == 1.0
    assert pins.pin_interaction(0.6, 0.8) == pytest.approx(1.0)


def test_pin_in_a_half_barrel() -> None:
    """By hand: 300 lb on a half of 4 in, at its middle: 600 lb·in."""
    assert pins.half_barrel_moment(300.0, 4.0) == 600.0
    assert pins.projected_pressure(3000.0, 0.75, 4.0) == 1000.0


def test_pin_is_as_stiff_as_two_beams_turned_at_one_end() -> None:
    """Slope at the loaded end of a simple beam under an end moment is ∫ (M/EI)(s/L)² ds = M L/3EI.

    Summed here in small steps for both halves, by the unit-load method.
    """
    length, d, E = 0.1, 0.02, 200e9
    inertia = math.pi * d**4 / 64.0
    s = (np.arange(2000) + 0.5) / 2000.0
    both = 2.0 * float(np.mean(s**2)) * length / (E * inertia)
    assert pins.pin_stiffness(length, d, E) == pytest.approx(1.0 / both, rel=1e-6)


def _work(
    points: dict[str, Point],
    lifted: dict[str, float],
    faces: Sequence[tuple[str, str, str]],
    held: Sequence[tuple[str, str]],
) -> float:
    """Return the work of plane facets folding along their edges, plastic moment 1/4 a length."""
    slopes = []
    for face in faces:
        matrix = np.array([[*points[k], 1.0] for k in face])
        slopes.append(np.linalg.solve(matrix, np.array([lifted[k] for k in face]))[:2])
    edges: dict[frozenset[str], list[int]] = {}
    for number, (a, b, c) in enumerate(faces):
        for pair in ((a, b), (b, c), (c, a)):
            edges.setdefault(frozenset(pair), []).append(number)
    clamped, total = {frozenset(pair) for pair in held}, 0.0
    for edge, sides in edges.items():
        start, end = (np.array(points[k]) for k in edge)
        length = float(np.linalg.norm(end - start))
        across = np.array([start[1] - end[1], end[0] - start[0]]) / length
        if len(sides) == 2:
            fold = slopes[sides[0]] - slopes[sides[1]]
            total += 0.25 * length * abs(float(fold @ across))
        elif edge in clamped:
            total += 0.25 * length * abs(float(slopes[sides[0]] @ across))
    return total


@pytest.mark.parametrize(
    ("beta", "eta"), [(0.0625, 0.5), (0.25, 1.0), (0.375, 2.0), (0.5, 0.5), (0.7, 1.0)]
)
def test_face_turned_about_the_chords_length_against_virtual_work(beta: float, eta: float) -> None:
    """VW: a quarter of the face, the plate turned by 1; the end fold's distance x is free."""
    b, h = beta, eta

    def work(x: float) -> float:
        points = {
            "O": (0.0, 0.0),
            "M": (0.0, h / 2),
            "C0": (b / 2, 0.0),
            "C": (b / 2, h / 2),
            "W0": (0.5, 0.0),
            "W1": (0.5, h / 2),
            "A": (0.0, h / 2 + x),
            "V": (0.5, h / 2 + x),
        }
        lifted = {k: (b / 2 if k in ("C0", "C") else 0.0) for k in points}
        faces = [
            ("O", "C0", "C"),
            ("O", "C", "M"),
            ("M", "C", "A"),
            ("C0", "W0", "C"),
            ("W0", "W1", "C"),
            ("W1", "V", "C"),
            ("C", "V", "A"),
        ]
        return 4.0 * _work(points, lifted, faces, [("W0", "W1"), ("W1", "V"), ("V", "A")])

    least = minimize_scalar(work, bounds=(1e-3, 3.0), method="bounded", options={"xatol": 1e-10})
    M_n = face_moments.face_moment_across(1.0, 1.0, 1.0, b, h)
    assert M_n == pytest.approx(least.fun, rel=1e-6)


@pytest.mark.parametrize(("beta", "eta"), [(0.0625, 0.5), (0.375, 2.0), (0.7, 1.0)])
def test_face_bent_along_the_chord_is_under_what_the_2010_edition_had(
    beta: float, eta: float
) -> None:
    """AISC 360-10, K3-6, from memory: F_y t² l_b (1/(2 eta) + 2/√(1-beta) + eta/(1-beta))."""
    M_n = face_moments.face_moment_along(1.0, 1.0, 1.0, beta, eta)
    printed = eta * (1.0 / (2.0 * eta) + 2.0 / math.sqrt(1.0 - beta) + eta / (1.0 - beta))
    by_hand = eta * (2.0 / math.sqrt(1.0 - beta) + 0.5 * eta / (1.0 - beta))
    assert M_n == pytest.approx(by_hand, rel=1e-12)
    assert M_n < printed


def test_face_moments_of_a_wide_branch_and_with_a_stressed_chord() -> None:
    wide = (345e6, 3e-3, 0.05, 0.045, 0.05)
    assert face_moments.face_moment_across(*wide) == math.inf
    assert face_moments.face_moment_along(*wide) == math.inf
    narrow = (345e6, 3e-3, 0.05, 0.02, 0.05)
    for moment in (face_moments.face_moment_across, face_moments.face_moment_along):
        assert moment(*narrow, Q_f=0.5) == pytest.approx(0.5 * moment(*narrow))
    # A moment about the plate's own length cannot be more than its pull at the full width.
    pull = hss_joints.face_plastification(*narrow)
    assert face_moments.face_moment_across(*narrow) < pull * 0.05


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match=r"the length is 0\.0 m"):
        pins.half_barrel_moment(1.0, 0.0)
    with pytest.raises(ValueError, match=r"the pin's diameter is -1\.0 m"):
        pins.pin_stiffness(1.0, -1.0, 1.0)
    with pytest.raises(ValueError, match="B_b"):
        face_moments.face_moment_across(1.0, 1.0, 1.0, 0.0, 1.0)
