"""Throats of welds that are no fillet in a right angle: skewed fillets, and square grooves.

AWS D1.1. The rules for skewed T-joints were read second-hand (D1.1:2010, 2.4.2.6, in an excerpt;
an article on skewed fillets); their Z loss, Table 2.2 there and Table 4.2 of D1.1:2020, is from
memory. The square grooves were read in a copy of D1.1:2020, Figure 5.2. The contract's own edition
decides.
"""

from __future__ import annotations

import math
from typing import Final

from leafwright.records import Metres

_INCH: Final = 0.0254
_EDGE: Final = 1e-9

# Between these angles a weld in a corner is a fillet; under the first some is lost at its root,
# under the second all [rad].
SHARPEST_FILLET: Final = math.radians(60.0)
BLUNTEST_FILLET: Final = math.radians(135.0)
SHARPEST_WELD: Final = math.radians(30.0)
_SHARP: Final = math.radians(45.0)

# Thickest part that a square groove, welded from one side, is given for [m].
THICKEST_SQUARE_GROOVE: Final = _INCH / 4


def root_loss(psi: float) -> Metres:
    """Return how much of a weld in a sharp corner is lost at its root, Z [m].

    AWS D1.1, Z loss of skewed T-joints (Table 4.2 of the 2020 edition; from memory): 1/8 in from
    60° down to 45°, 1/4 in from there down to 30°, for stick in every position; wire with gas,
    laid flat or horizontal, loses no more.

    psi: angle between the faces that the weld joins [rad].
    Raises ValueError for an angle that is not between 0 and π. Limits: 0 from 60° up; inf under
    30°, where no weld counts; gas-shielded cored wire overhead or up a wall loses 3/8 in under
    45°.
    """
    _require_angle(psi)
    if psi >= SHARPEST_FILLET - _EDGE:
        return 0.0
    if psi >= _SHARP - _EDGE:
        return _INCH / 8
    return _INCH / 4 if psi >= SHARPEST_WELD - _EDGE else math.inf


def skewed_fillet_throat(w: float, psi: float) -> Metres:
    """Return the effective throat of a fillet between faces at any angle [m].

    AWS D1.1:2010, 2.4.2.6 and 2.4.3: the shortest way from root to face, w cos(psi/2), less the
    root loss under 60°; nothing under 30°, nor above 135°, where it is no fillet.

    w: leg along each of the two faces [m].
    psi: angle between the faces [rad], π/2 for a right angle.
    Raises ValueError for a leg at or below 0 or an angle that is not between 0 and π. Limits:
    equal legs, flat face; see `root_loss`. 0 where nothing of it counts.
    """
    _require_angle(psi)
    if not w > 0.0:
        raise ValueError(f"w = {w!r}: must be above 0; give the leg in metres")
    if psi > BLUNTEST_FILLET + _EDGE:
        return 0.0
    return max(0.0, w * math.cos(psi / 2.0) - root_loss(psi))


def square_groove_throat(t: float) -> Metres:
    """Return the effective throat of a square groove weld, from one side, edges not bevelled [m].

    AWS D1.1:2020, Figure 5.2, B-P1a and B-P1c: t - 1/32 in up to 1/8 in, the parts up to 1/16 in
    apart; half of t up to 1/4 in, the parts at least t/2 apart. Of the two the greater.

    t: thickness of the thinner part [m].
    Raises ValueError for t at or below 0. Limits: butt joints, solid through at the edge; parts
    of 1/8 in or more (D1.3 has sheet); 0 above 1/4 in, where the edges must be bevelled. The
    metric figure takes 1 mm off where this takes 1/32 in.
    """
    if not t > 0.0:
        raise ValueError(f"t = {t!r}: must be above 0; give the thickness in metres")
    if t > THICKEST_SQUARE_GROOVE * (1.0 + _EDGE):
        return 0.0
    thin = t <= _INCH / 8 * (1.0 + _EDGE)
    return max(t - _INCH / 32, 0.5 * t) if thin else 0.5 * t


def _require_angle(psi: float) -> None:
    if not 0.0 < psi < math.pi:
        raise ValueError(
            f"psi = {psi!r}: must be above 0 and under π; give the angle between the faces in "
            "radians"
        )
