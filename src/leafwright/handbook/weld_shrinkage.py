"""What a weld draws in as it cools: across itself, and by bowing what it lies on.

Rules of thumb with a wide scatter, ±50 % or more by how it is welded; the formulas are from memory.
Read beside them: the welding institute TWI's answer "How much shall I allow for weld shrinkage?"
(its open FAQ), which calls it almost impossible to predict, and allows 0.8 mm across a fillet of
up to 3/4 of the plate's thickness and 0.8 mm along 3 m of fillet.
"""

from __future__ import annotations

from leafwright.records import Metres, Radians

# Shrinkage across a fillet as thick as its plate [m].
_ACROSS = 1.02e-3
# Bow over A_w d L^2 / I [-], in any one unit of length.
_BOW = 0.005


def fillet_shrinkage(D: float, t: float) -> Metres:
    """Return how much a fillet draws the plate in across itself [m].

    K. Masubuchi, Analysis of Welded Structures, after Spraragen and Ettinger (from memory):
    1.02 mm D / t, for each fillet of a continuous weld on a plate free to move.

    D: leg of the fillet [m].
    t: thickness of the plate that it is drawn in [m].
    Raises ValueError for a value at or below 0. Limits: plates; scatter ±50 % or more. A tube
    whose other walls hold against it draws in less; a root left open, more.
    """
    _require({"D": D, "t": t})
    return _ACROSS * D / t


def bead_bend(A_w: float, d: float, L: float, I: float) -> Radians:  # noqa: E741
    """Return by what angle a bead along a bar bends it, over the bead's own length [rad].

    O. W. Blodgett, weld distortion formulas (from memory): 0.04 A_w d L / I, the turn between the
    ends of an arc with the bow of `bow_of_bead`, 8 times the bow over L.

    A_w: area of the weld across the bead [m2].
    d: distance of the bead from the bar's neutral axis [m].
    L: length of the bead [m].
    I: second moment of area of the bar about that axis [m4].
    Raises ValueError for a value at or below 0. Limits: steel; free to bend; scatter ±50 % or
    more.
    """
    _require({"A_w": A_w, "d": d, "L": L, "I": I})
    return 8.0 * _BOW * A_w * d * L / I


def bow_of_bead(A_w: float, d: float, L: float, I: float) -> Metres:  # noqa: E741
    """Return the bow of a bar with a bead all along one side of it [m].

    O. W. Blodgett, weld distortion formulas (from memory): 0.005 A_w d L^2 / I.

    A_w: area of the weld across the bead [m2].
    d: distance of the bead from the bar's neutral axis [m].
    L: length of the bar and of the bead [m].
    I: second moment of area of the bar about that axis [m4].
    Raises ValueError for a value at or below 0. Limits: steel; free to bend; scatter ±50 % or
    more.
    """
    return bead_bend(A_w, d, L, I) * L / 8.0


def _require(values: dict[str, float]) -> None:
    for name, value in values.items():
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in SI units")
