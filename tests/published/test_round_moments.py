"""Round tube bent on round tube: ANSI/AISC 360-22, Table K4.1."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook.aisc360 import round_moments

INCH = 0.0254
KSI = 6894757.293168361
KIP_IN = 4448.2216152605 * INCH
CHORD = (50.0 * KSI, 0.349 * INCH, 6.0 * INCH)


def test_bent_in_the_plane() -> None:
    """Eq. K4-1, read in a public transcription and in KDS 14 31 25, 4.3.3.1.2; worked by hand.

    gamma = 6/0.698 = 8.5960, its root 2.93189; 5.39 · 50 · 0.121801 · 2.93189 · 0.5 · 3 =
    144.36 kip-in; at 30° twice it.
    """
    square = round_moments.round_in_plane(*CHORD, 3.0 * INCH)
    assert square / KIP_IN == pytest.approx(144.36, abs=0.02)
    slant = round_moments.round_in_plane(*CHORD, 3.0 * INCH, theta=math.pi / 6, Q_f=0.5)
    assert slant == pytest.approx(square)


def test_bent_in_the_plane_punching() -> None:
    """Eq. K4-2, read as above; by hand 0.6 · 50 · 0.349 · 9 · 4/4 = 94.23 kip-in, at 30°
    (1 + 1.5)/(4/4) = 2.5 times it; a branch of 5.31 in cannot punch (D - 2 t = 5.302 in).
    """
    square = round_moments.round_in_plane_punching(*CHORD, 3.0 * INCH)
    assert square / KIP_IN == pytest.approx(94.23, abs=0.005)
    slant = round_moments.round_in_plane_punching(*CHORD, 3.0 * INCH, theta=math.pi / 6)
    assert slant / square == pytest.approx(2.5)
    assert round_moments.round_in_plane_punching(*CHORD, 5.31 * INCH) == math.inf


def test_bent_out_of_the_plane() -> None:
    """Eq. K4-3, read as above, and KDS 14 31 25, 4.3.3.1.3; by hand 50 · 0.121801 · 3 ·
    3/(1 - 0.405) = 92.12 kip-in; at 30° twice it; nothing for a branch wider than its chord.
    """
    square = round_moments.round_out_of_plane(*CHORD, 3.0 * INCH)
    assert square / KIP_IN == pytest.approx(92.12, abs=0.01)
    slant = round_moments.round_out_of_plane(*CHORD, 3.0 * INCH, theta=math.pi / 6, Q_f=0.5)
    assert slant == pytest.approx(square)
    assert math.isnan(float(round_moments.round_out_of_plane(*CHORD, 6.1 * INCH)))


def test_bent_out_of_the_plane_punching() -> None:
    """Eq. K4-4, read as above; by hand 94.23 kip-in square on, at 30° 3.5 times it."""
    square = round_moments.round_out_of_plane_punching(*CHORD, 3.0 * INCH)
    assert square / KIP_IN == pytest.approx(94.23, abs=0.005)
    slant = round_moments.round_out_of_plane_punching(*CHORD, 3.0 * INCH, theta=math.pi / 6)
    assert slant / square == pytest.approx(3.5)
    assert round_moments.round_out_of_plane_punching(*CHORD, 5.31 * INCH) == math.inf


def test_all_together() -> None:
    """Eq. K4-5, read as above: 0.3 + 0.4² + 0.2 = 0.66."""
    assert round_moments.round_interaction(0.3, 0.4, 0.2) == pytest.approx(0.66)
    with pytest.raises(ValueError, match="axial"):
        round_moments.round_interaction(-0.1, 0.0, 0.0)
