"""In which position a weld is made, from how its axis and its face lie.

AWS A3.0 and the figures of production welds in D1.1; the limits for grooves were read second-hand
(D3.6, Figure 5.1, which repeats them), those for fillets are from memory. ISO 6947 names the
positions by letters; where those begin and end it has its own way, of which only the main
positions are here (from memory).
"""

from __future__ import annotations

import enum
import math

_EDGE = math.radians(1e-6)
_LEVEL, _UPRIGHT = math.radians(15.0), math.radians(80.0)
#: How far from face down a weld's face is turned, where the next position begins [rad].
_GROOVE_OVERHEAD, _GROOVE_FLAT = math.radians(80.0), math.radians(150.0)
_FILLET_OVERHEAD, _FILLET_FLAT = math.radians(125.0), math.radians(150.0)


class Position(enum.StrEnum):
    """A welding position, as AWS A3.0 names it."""

    FLAT = "flat"
    HORIZONTAL = "horizontal"
    VERTICAL = "vertical"
    OVERHEAD = "overhead"


def weld_position(inclination: float, rotation: float, *, fillet: bool) -> Position:
    """Return the position in which a weld is made [-].

    AWS D1.1, figures of positions of groove and fillet welds. Axis up to 15° from level: flat with
    the face within 30° of straight up, overhead with it under 80° (groove) or 125° (fillet) from
    straight down, horizontal between. Axis to 80°: overhead or vertical by the same angles.
    Steeper: vertical.

    inclination: of the weld's axis from level [rad], 0 to π/2.
    rotation: of the weld's face from looking straight down [rad], 0 to π; either way round alike.
    fillet: whether it is a fillet; else a groove, or a plug, whose face is the hole's.
    Raises ValueError for an angle out of range. Limits: production welds; test positions are
    narrower.
    """
    if not -_EDGE <= inclination <= math.pi / 2 + _EDGE:
        raise ValueError(f"inclination = {inclination!r}: must be between 0 and π/2")
    if not -_EDGE <= rotation <= math.pi + _EDGE:
        raise ValueError(f"rotation = {rotation!r}: must be between 0 (face down) and π (face up)")
    over, flat = (_FILLET_OVERHEAD, _FILLET_FLAT) if fillet else (_GROOVE_OVERHEAD, _GROOVE_FLAT)
    if inclination > _UPRIGHT + _EDGE:
        return Position.VERTICAL
    if rotation < over - _EDGE:
        return Position.OVERHEAD
    if inclination > _LEVEL + _EDGE:
        return Position.VERTICAL
    return Position.FLAT if rotation >= flat - _EDGE else Position.HORIZONTAL


def iso_position(position: Position, *, fillet: bool) -> str:
    """Return the letters that ISO 6947 has for a position [-].

    ISO 6947 (from memory): PA flat; PB horizontal fillet, PC horizontal groove; PF upward (PG is
    downward); PD overhead fillet, PE overhead groove.

    position: by AWS's limits.
    fillet: whether it is a fillet.
    Limits: main positions, welded upward.
    """
    if position is Position.FLAT:
        return "PA"
    if position is Position.VERTICAL:
        return "PF"
    if position is Position.HORIZONTAL:
        return "PB" if fillet else "PC"
    return "PD" if fillet else "PE"
