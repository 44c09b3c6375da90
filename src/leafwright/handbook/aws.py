"""Sizes of welds as AWS's structural codes state them: D1.1 for plate and beam, D1.3 for sheet.

AWS D1.1:2020 (Table 7.7 also as repeated in the 2025 edition) and AWS D1.3:2008, read second-hand:
Table 7.7 with its notes in a transcription, the plug rules in ANSI/AISC 360-22 J2.3b, which repeats
them, the arc plug weld's figure in an inspectors' discussion. Clause numbers of D1.1 for plugs are
remembered. The contract's own edition decides.
"""

from __future__ import annotations

import enum
import math
from dataclasses import dataclass
from typing import Final

from leafwright.records import Metres

_INCH: Final = 0.0254
_SIXTEENTH: Final = _INCH / 16
_EDGE: Final = 1.0 + 1e-9

# D1.3 is for sheet up to this thickness, D1.1 for steel from this on [m]; between them either.
GREATEST_SHEET: Final = 3 * _INCH / 16
LEAST_PLATE: Final = _INCH / 8

# Least fillet under loads that come and go, D1.1 Table 7.7 note (c) [m].
LEAST_CYCLIC_FILLET: Final = 3 * _INCH / 16

# Least effective diameter of an arc plug or arc spot weld, D1.3 [m].
LEAST_ARC_PLUG: Final = 3 * _INCH / 8

# Table 7.7: up to this thickness, this least leg [m].
_FILLET_ROWS: Final = (
    (_INCH / 4, _INCH / 8),
    (_INCH / 2, 3 * _INCH / 16),
    (3 * _INCH / 4, _INCH / 4),
    (math.inf, 5 * _INCH / 16),
)


class Size(enum.StrEnum):
    """Where a hole lies against the least and greatest that a rule allows."""

    UNDER = "under the least"
    WITHIN = "within the limits"
    OVER = "over the greatest"


@dataclass(frozen=True, slots=True)
class PlugHole:
    """Least and greatest hole for a plug weld, and where the given one lies."""

    least: Metres
    greatest: Metres
    size: Size


@dataclass(frozen=True, slots=True)
class ArcPlug:
    """Effective diameter of an arc plug weld, the least allowed, and whether it is enough."""

    effective_diameter: Metres
    least: Metres
    enough: bool


def minimum_fillet(
    thinner: float, thicker: float, *, low_hydrogen: bool = True, cyclic: bool = False
) -> Metres:
    """Return the least leg of a fillet weld [m].

    AWS D1.1:2020, 7.13 and Table 7.7 with its notes: by the thinner part with a low-hydrogen
    process, by the thicker without one (and without calculated preheat); not more than the
    thinner part; 3/16 in at least under cyclic load.

    thinner, thicker: thicknesses of the parts joined [m].
    low_hydrogen: gas-shielded solid wire counts as low-hydrogen.
    cyclic: whether the load comes and goes so often that fatigue counts.
    Raises ValueError for a thickness at or below 0 or thinner over thicker. Limits: parts of 1/8
    in or more; D1.3 covers thinner sheet. Without low hydrogen the weld is one pass.
    """
    _require(thinner=thinner, thicker=thicker)
    if thinner > thicker * _EDGE:
        raise ValueError(
            f"thinner = {thinner!r} m is over thicker = {thicker!r} m; give them the other way "
            "round"
        )
    governing = thinner if low_hydrogen else thicker
    row = next(leg for upper, leg in _FILLET_ROWS if governing <= upper * _EDGE)
    leg = min(row, thinner)
    return max(leg, LEAST_CYCLIC_FILLET) if cyclic else leg


def plug_hole(t: float, d: float, *, weld_thickness: float | None = None) -> PlugHole:
    """Return the least and greatest hole for a plug weld, and where one lies between them [m].

    AWS D1.1:2020, 4.4.5 (clause number remembered), as ANSI/AISC 360-22, J2.3b(a): least t +
    5/16 in, to the next odd sixteenth; greatest the larger of least + 1/8 in and 2.25 times the
    thickness of the weld.

    t: thickness of the part with the hole [m].
    d: diameter of the hole [m].
    weld_thickness: how thick the plug is filled [m]; t where not given, as it must be up to 5/8.
    Raises ValueError for a value at or below 0. Limits: a hole that is over is no plug weld by
    this rule, not a stronger one; see also `arc_plug` and a fillet round the hole
    (`aisc360.welds.fillet_in_hole_area`).
    """
    _require(t=t, d=d)
    filled = t if weld_thickness is None else weld_thickness
    _require(weld_thickness=filled)
    sixteenths = math.ceil((t + 5 * _SIXTEENTH) / _SIXTEENTH / _EDGE)
    least = (sixteenths + (sixteenths + 1) % 2) * _SIXTEENTH
    greatest = max(least + _INCH / 8, 2.25 * filled)
    return PlugHole(least, greatest, _size(d, least, greatest))


def plug_hole_metric(t: float, d: float, *, weld_thickness: float | None = None) -> PlugHole:
    """Return the least and greatest hole for a plug weld by the metric rule [m].

    ANSI/AISC 360-22, J2.3b(a), metric: least t + 8 mm, to the next even millimetre; greatest
    the larger of least + 3 mm and 2.25 times the thickness of the weld.

    t: thickness of the part with the hole [m].
    d: diameter of the hole [m].
    weld_thickness: how thick the plug is filled [m]; t where not given.
    Raises ValueError for a value at or below 0. Limits: as `plug_hole`.
    """
    _require(t=t, d=d)
    filled = t if weld_thickness is None else weld_thickness
    _require(weld_thickness=filled)
    millimetres = math.ceil((t + 0.008) / 0.001 / _EDGE)
    least = (millimetres + millimetres % 2) * 0.001
    greatest = max(least + 0.003, 2.25 * filled)
    return PlugHole(least, greatest, _size(d, least, greatest))


def arc_plug(d: float, t: float) -> ArcPlug:
    """Return the effective diameter of an arc plug weld through sheet, and whether it counts [m].

    AWS D1.3:2008, 2.2.6 and Figure 2.6: d_e = 0.7 d - 1.5 t, not less than 3/8 in (the formula
    of arc spot welds; no more than 0.55 d for those in AISI S100, from memory, not used here).

    d: visible diameter of the weld's face [m]; that of the hole where it is filled no wider.
    t: thickness of the sheet, or sheets together, above the plane of shear [m].
    Raises ValueError for a value at or below 0. Limits: sheet up to 3/16 in. An effective
    diameter at or below 0 is given as it comes out: no weld.
    """
    _require(d=d, t=t)
    effective = 0.7 * d - 1.5 * t
    return ArcPlug(effective, LEAST_ARC_PLUG, effective * _EDGE >= LEAST_ARC_PLUG)


def arc_plug_diameter(t: float) -> Metres:
    """Return the visible diameter at which an arc plug weld just counts [m].

    AWS D1.3:2008, Figure 2.6 turned round: d = (3/8 in + 1.5 t)/0.7.

    t: thickness of the sheet above the plane of shear [m].
    Raises ValueError for t at or below 0. Limits: as `arc_plug`.
    """
    _require(t=t)
    return (LEAST_ARC_PLUG + 1.5 * t) / 0.7


def _size(d: float, least: float, greatest: float) -> Size:
    if d < least / _EDGE:
        return Size.UNDER
    return Size.WITHIN if d <= greatest * _EDGE else Size.OVER


def _require(**named: float) -> None:
    for name, value in named.items():
        if not value > 0.0:
            raise ValueError(f"{name} = {value!r}: must be above 0; give it in metres")
