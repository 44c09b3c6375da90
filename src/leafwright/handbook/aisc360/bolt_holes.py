"""Holes for bolts, their spacing and edges: ANSI/AISC 360-22, J3.3 to J3.6.

Tables J3.3 to J3.5 and their metric twins, read in a public transcription of the 2022 edition; its
misprinted fractions (1/8 for 5/8 and the like) were mended by the step of the rows and the metric
table. The nominal diameter says which table is meant: 12.7 mm is a half inch, 12 mm an M12.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Final

from leafwright.handbook.aisc360._values import require_positive
from leafwright.records import Metres

_INCH: Final = 0.0254
_SIXTEENTH: Final = _INCH / 16
_MM: Final = 0.001
# A diameter within this of a table's size is that size [m].
_SAME: Final = 2e-5

# Table J3.3, sixteenths of an inch: bolt; standard; oversize; short slot length; long slot length.
_INCH_ROWS: Final = (
    (8, 9, 10, 11, 20),
    (10, 11, 13, 14, 25),
    (12, 13, 15, 16, 30),
    (14, 15, 17, 18, 35),
    (16, 18, 20, 21, 40),
)
# Above 1 in the table goes by rule; these are the sizes that are taken for inch bolts.
_LARGE_INCH: Final = tuple(range(18, 26, 2)) + tuple(range(28, 68, 4))
# Table J3.3M [mm], same columns.
_METRIC_ROWS: Final = (
    (12, 14, 16, 18, 30),
    (16, 18, 20, 22, 40),
    (20, 22, 24, 26, 50),
    (22, 24, 28, 30, 55),
    (24, 27, 30, 32, 60),
    (27, 30, 35, 37, 67),
    (30, 33, 38, 40, 75),
)
_LARGE_METRIC: Final = (36, 42, 48, 56, 64)

# Table J3.4 [sixteenths of an inch] and J3.4M [mm].
_EDGES: Final = {8: 12, 10: 14, 12: 16, 14: 18, 16: 20, 18: 24, 20: 26}
_EDGES_METRIC: Final = {12: 18, 16: 22, 20: 26, 22: 28, 24: 30, 27: 34, 30: 38, 36: 46}


class Hole(enum.StrEnum):
    """What a hole counts as, and which way a slot lies to the nearest edge."""

    STANDARD = "standard"
    OVERSIZE = "oversize"
    LARGER = "larger than oversize"
    SHORT_SLOT_TO_EDGE = "short slot, pointing at the edge"
    LONG_SLOT_TO_EDGE = "long slot, pointing at the edge"
    SLOT_ALONG_EDGE = "slot along the edge"


@dataclass(frozen=True, slots=True)
class HoleSizes:
    """Greatest nominal holes for a bolt, by class; both slots are as wide as the standard hole."""

    standard: Metres
    oversize: Metres
    short_slot_length: Metres
    long_slot_length: Metres


def hole_sizes(d: float) -> HoleSizes:
    """Return the nominal holes and slots for a bolt [m].

    ANSI/AISC 360-22, Tables J3.3 (1/2 in and up) and J3.3M (M12 and up).

    d: nominal diameter of the bolt [m].
    Raises ValueError for a size in neither table. Limits: steel to steel; holes in base plates
    over concrete are larger (J9).
    """
    sixteenths, metric = _size(d)
    if not metric:
        for row in _INCH_ROWS:
            if row[0] == sixteenths:
                return HoleSizes(*(size * _SIXTEENTH for size in row[1:]))
        return HoleSizes(
            (sixteenths + 2) * _SIXTEENTH,
            (sixteenths + 5) * _SIXTEENTH,
            (sixteenths + 6) * _SIXTEENTH,
            2.5 * sixteenths * _SIXTEENTH,
        )
    for row in _METRIC_ROWS:
        if row[0] == sixteenths:
            return HoleSizes(*(size * _MM for size in row[1:]))
    return HoleSizes(
        (sixteenths + 3) * _MM,
        (sixteenths + 8) * _MM,
        (sixteenths + 10) * _MM,
        2.5 * sixteenths * _MM,
    )


def hole_class(d: float, d_h: float) -> Hole:
    """Return what a round hole counts as for its bolt [-].

    ANSI/AISC 360-22, J3.3(a): a hole between two classes counts as the next larger; a smaller
    one than the standard is standard (user note).

    d: nominal diameter of the bolt [m].
    d_h: diameter of the hole [m].
    Returns `Hole.STANDARD`, `OVERSIZE` or `LARGER`. Oversize needs a slip-critical joint (no
    counting on bearing, J3.3(d)) and hardened washers over outer plies (RCSC section 6); larger
    is not permitted at all. Raises ValueError for a bolt not in the tables or a hole smaller
    than its bolt. Limits: round holes in steel on steel.
    """
    sizes = hole_sizes(d)
    require_positive(d_h=d_h)
    if d_h < d - 1e-6:
        raise ValueError(
            f"d_h = {d_h!r} m: smaller than its bolt of {d!r} m; drill it to "
            f"{sizes.standard!r} m (standard) or give a smaller bolt"
        )
    if d_h <= sizes.standard + 1e-6:
        return Hole.STANDARD
    return Hole.OVERSIZE if d_h <= sizes.oversize + 1e-6 else Hole.LARGER


def minimum_spacing(d: float, d_h: float) -> float:
    """Return the least distance between centres of holes [m].

    ANSI/AISC 360-22, J3.4: 2-2/3 d, and d clear between the holes; 3 d is preferred.

    d: nominal diameter of the bolt [m].
    d_h: diameter of the holes, or length of slots in line [m].
    Raises ValueError for a value at or below 0. Limits: none stated.
    """
    require_positive(d=d, d_h=d_h)
    return max(8.0 / 3.0 * d, d_h + d)


def minimum_edge_distance(d: float, *, hole: Hole = Hole.STANDARD) -> float:
    """Return the least distance from the centre of a hole to an edge [m].

    ANSI/AISC 360-22, J3.5, Tables J3.4 and J3.4M, with the increment C_2 of Tables J3.5 and
    J3.5M for other than standard holes.

    d: nominal diameter of the bolt [m].
    hole: its class and the way of its slot. `Hole.LARGER` is refused.
    Raises ValueError for a bolt not in the tables or too large a hole. Limits: a smaller
    distance may do where bearing, tearout and J4 hold, but never under d (note [a]); a slot
    shorter than the longest needs less (J3.5, note [a]), which is not counted here.
    """
    size, metric = _size(d)
    if hole == Hole.LARGER:
        raise ValueError(
            f"{hole!s}: no edge distance is given for it, because it is not permitted (J3.3); "
            "plate over it or use a larger bolt"
        )
    unit = _MM if metric else _SIXTEENTH
    table = _EDGES_METRIC if metric else _EDGES
    edge = table[size] * unit if size in table else 1.25 * d
    return edge + _increment(d, size, metric, hole)


def maximum_edge_distance(t: float) -> float:
    """Return the greatest distance from the centre of a bolt to the nearest edge [m].

    ANSI/AISC 360-22, J3.6: 12 t, not more than 6 in.

    t: thickness of the part [m].
    Raises ValueError for t at or below 0. Limits: parts in contact that must shut out water.
    """
    require_positive(t=t)
    return min(12.0 * t, 6.0 * _INCH)


def maximum_spacing(thinner: float, *, bare_weathering_steel: bool = False) -> float:
    """Return the greatest spacing of bolts along two parts in contact [m].

    ANSI/AISC 360-22, J3.6: 24 times the thinner part, not more than 12 in; 14 times and 7 in for
    bare weathering steel outdoors.

    thinner: thickness of the thinner part [m].
    bare_weathering_steel: whether it is unpainted weathering steel in the weather.
    Raises ValueError for a thickness at or below 0. Limits: a plate and a shape, or two plates.
    """
    require_positive(thinner=thinner)
    if bare_weathering_steel:
        return min(14.0 * thinner, 7.0 * _INCH)
    return min(24.0 * thinner, 12.0 * _INCH)


def _increment(d: float, size: int, metric: bool, hole: Hole) -> float:
    """Return C_2 of Table J3.5 or J3.5M [m]."""
    if hole == Hole.LONG_SLOT_TO_EDGE:
        return 0.75 * d
    if hole in (Hole.STANDARD, Hole.SLOT_ALONG_EDGE):
        return 0.0
    unit, middle = (_MM, 24) if metric else (_SIXTEENTH, 16)
    small, same, large = ((2, 3), (3, 3), (3, 5)) if metric else ((1, 2), (2, 2), (2, 3))
    pair = small if size < middle else same if size == middle else large
    return pair[0 if hole == Hole.OVERSIZE else 1] * unit


def _size(d: float) -> tuple[int, bool]:
    """Return a bolt's size in sixteenths of an inch or in mm, and whether it is metric."""
    require_positive(d=d)
    for size in (*(row[0] for row in _INCH_ROWS), *_LARGE_INCH):
        if abs(size * _SIXTEENTH - d) < _SAME:
            return size, False
    for size in (*(row[0] for row in _METRIC_ROWS), *_LARGE_METRIC):
        if abs(size * _MM - d) < _SAME:
            return size, True
    raise ValueError(
        f"d = {d!r} m: not a bolt of Table J3.3 or J3.3M; give 1/2, 5/8, 3/4, 7/8, 1 in and up "
        "by eighths, or M12, M16, M20, M22, M24, M27, M30, M36 and up"
    )
