"""Screw threads and the drills for them: ISO metric, unified inch, taper pipe.

ISO 68-1 and ISO 724 (metric), ASME B1.1 (unified), ASME B1.20.1 (pipe); formulas from memory, and
each checked against several published tables. Basic sizes: the limits of a tolerance class (6H, 2B)
lie about them.
"""

from __future__ import annotations

import math
import string
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final, Literal

from leafwright.handbook._given import require_positive
from leafwright.records import Metres, SquareMetres

_INCH: Final = 0.0254
_MILLIMETRE: Final = 1e-3

#: Height of the sharp 60° triangle over the pitch, H/P (ISO 68-1).
TRIANGLE: Final = math.sqrt(3.0) / 2.0
#: Full depth of thread on the diameter over the pitch, on which a percentage of thread is taken.
FULL_DEPTH: Final = 1.5 * TRIANGLE

#: Coarse pitches of ISO metric threads [mm] by nominal diameter [mm] (ISO 261).
METRIC_COARSE: Final = {
    3: 0.5,
    4: 0.7,
    5: 0.8,
    6: 1.0,
    8: 1.25,
    10: 1.5,
    12: 1.75,
    14: 2.0,
    16: 2.0,
    20: 2.5,
    24: 3.0,
    30: 3.5,
    36: 4.0,
}
#: Threads on an inch of unified threads, coarse and fine, by size (ASME B1.1).
UNIFIED: Final = {
    "#6": (32, 40),
    "#8": (32, 36),
    "#10": (24, 32),
    "1/4": (20, 28),
    "5/16": (18, 24),
    "3/8": (16, 24),
    "7/16": (14, 20),
    "1/2": (13, 20),
    "9/16": (12, 18),
    "5/8": (11, 18),
    "3/4": (10, 16),
    "7/8": (9, 14),
    "1": (8, 12),
    "1-1/8": (7, 12),
    "1-1/4": (7, 12),
    "1-1/2": (6, 12),
}
#: Outside diameter of pipe [in] and threads on an inch of NPT (ASME B1.20.1).
PIPE: Final = {
    "1/16": (0.3125, 27.0),
    "1/8": (0.405, 27.0),
    "1/4": (0.540, 18.0),
    "3/8": (0.675, 18.0),
    "1/2": (0.840, 14.0),
    "3/4": (1.050, 14.0),
    "1": (1.315, 11.5),
}

# Number drills 1 to 80 [0.0001 in], read in two open lists.
_NUMBERS = """
2280 2210 2130 2090 2055 2040 2010 1990 1960 1935 1910 1890 1850 1820 1800 1770 1730 1695 1660 1610
1590 1570 1540 1520 1495 1470 1440 1405 1360 1285 1200 1160 1130 1110 1100 1065 1040 1015 0995 0980
0960 0935 0890 0860 0820 0810 0785 0760 0730 0700 0670 0635 0595 0550 0520 0465 0430 0420 0410 0400
0390 0380 0370 0360 0350 0330 0320 0310 0292 0280 0260 0250 0240 0225 0210 0200 0180 0160 0145 0135
"""
# Letter drills A to Z [0.001 in], read in two open lists.
_LETTERS = """
234 238 242 246 250 257 261 266 272 277 281 290 295
302 316 323 332 339 348 358 368 377 386 397 404 413
"""
# Largest drill held by fraction [in] and by millimetre [mm].
_LARGEST_FRACTION = Fraction(3, 2)
_LARGEST_TENTH = 14
_LARGEST_HALF = 38

DrillFamily = Literal["inch", "number", "letter", "fraction", "millimetre", "any"]
"""*inch* is number, letter and fraction together."""


@dataclass(frozen=True, slots=True)
class Thread:
    """Basic sizes of a straight thread.

    Attributes:
        pitch: P, crest to crest.
        pitch_diameter: d2, where thread and gap are equally wide.
        internal_minor: D1, of the nut or tapped hole.
        external_minor: d3, at the root of the screw.
        stress_area: A_s, that carries tension.
    """

    pitch: Metres
    pitch_diameter: Metres
    internal_minor: Metres
    external_minor: Metres
    stress_area: SquareMetres


@dataclass(frozen=True, slots=True)
class PipeThread:
    """Basic sizes of a taper pipe thread.

    Attributes:
        pitch: P, crest to crest.
        end_pitch_diameter: E0, at the small end.
        end_minor: K0, at the small end, near which the hole is drilled.
        effective_length: L2, of useful thread on the pipe.
    """

    pitch: Metres
    end_pitch_diameter: Metres
    end_minor: Metres
    effective_length: Metres


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill as the rack names it: ``#7``, ``F``, ``27/64 in``, ``6.8 mm``."""

    name: str
    diameter: Metres


@dataclass(frozen=True, slots=True)
class TapDrill:
    """The drill for a tapped hole.

    Attributes:
        wanted: hole diameter for the percentage asked for.
        drill: the nearest one.
        percent: of full thread that it leaves; 75 is 75 %.
    """

    wanted: Metres
    drill: Drill
    percent: float


def metric_thread(diameter: float, pitch: float) -> Thread:
    """Return the basic sizes of an ISO metric thread.

    ISO 68-1, ISO 724 and ISO 898-1: with H = √3/2 P, d2 = d − ¾ H, D1 = d − 5/4 H,
    d3 = d − 17/12 H, A_s = π/4 (½ (d2 + d3))².

    diameter: d, nominal [m].
    pitch: P [m].
    Raises ValueError where a size is not positive or the pitch is coarser than 0.3 d.
    """
    H = _triangle(diameter, pitch)
    d2, d3 = diameter - 0.75 * H, diameter - 17.0 / 12.0 * H
    return Thread(
        pitch=pitch,
        pitch_diameter=d2,
        internal_minor=diameter - 1.25 * H,
        external_minor=d3,
        stress_area=math.pi / 4.0 * (0.5 * (d2 + d3)) ** 2,
    )


def unified_thread(diameter: float, threads_per_inch: float) -> Thread:
    """Return the basic sizes of a unified inch thread.

    ASME B1.1: with H = √3/2 P, d2 = d − ¾ H, D1 = d − 5/4 H, d3 = d − 11/8 H (UNR),
    A_s = π/4 (d − 0.9743 P)².

    diameter: d, nominal [m].
    threads_per_inch: n, P = 1 in / n [-].
    Raises ValueError where a size is not positive or the pitch is coarser than 0.3 d.
    """
    require_positive("the number of threads on an inch", threads_per_inch, "")
    pitch = _INCH / threads_per_inch
    H = _triangle(diameter, pitch)
    return Thread(
        pitch=pitch,
        pitch_diameter=diameter - 0.75 * H,
        internal_minor=diameter - 1.25 * H,
        external_minor=diameter - 1.375 * H,
        stress_area=math.pi / 4.0 * (diameter - 0.9743 * pitch) ** 2,
    )


def pipe_thread(pipe_diameter: float, threads_per_inch: float) -> PipeThread:
    """Return the basic sizes of an NPT taper pipe thread.

    ASME B1.20.1: taper 1 in 16 on the diameter, E0 = D − (0.05 D + 1.1) P,
    K0 = E0 − 0.8 P, L2 = (0.80 D + 6.8) P, D in inches within the brackets.

    pipe_diameter: D, outside diameter of the pipe, see `PIPE` [m].
    threads_per_inch: n, P = 1 in / n [-].
    Raises ValueError where a size is not positive.
    """
    require_positive("the pipe's diameter", pipe_diameter, "m")
    require_positive("the number of threads on an inch", threads_per_inch, "")
    pitch = _INCH / threads_per_inch
    D = pipe_diameter / _INCH
    E0 = pipe_diameter - (0.05 * D + 1.1) * pitch
    return PipeThread(pitch, E0, E0 - 0.8 * pitch, (0.80 * D + 6.8) * pitch)


def hole_for_thread(diameter: float, pitch: float, percent: float) -> float:
    """Return the hole diameter that leaves a percentage of full thread [m].

    Machinery's Handbook, tap drills: d − 1.299 P × percent / 100; in inches
    d − 0.01299 × percent / n.

    diameter: nominal, of the screw [m].
    pitch: P [m].
    percent: of full thread, 75 for 75 % [-].
    Raises ValueError where a size is not positive, or the percentage not over 0 and up to 100.
    """
    _triangle(diameter, pitch)
    if not 0.0 < percent <= 100.0:
        raise ValueError(
            f"{percent!r} percent of thread: give over 0 and up to 100 (50 to 75 is usual)"
        )
    return diameter - FULL_DEPTH * pitch * percent / 100.0


def percent_of_thread(diameter: float, pitch: float, hole: float) -> float:
    """Return how much of full thread a hole leaves, 75 for 75 % [-].

    Machinery's Handbook, tap drills: 100 (d − hole) / 1.299 P; in inches
    (d − hole) n / 0.01299.

    diameter: nominal, of the screw [m].
    pitch: P [m].
    hole: diameter of the hole [m].
    Raises ValueError where a size is not positive. 0 or less: the tap cuts nothing.
    """
    _triangle(diameter, pitch)
    require_positive("the hole's diameter", hole, "m")
    return 100.0 * (diameter - hole) / (FULL_DEPTH * pitch)


def nearest_drill(diameter: float, *, family: DrillFamily = "any") -> Drill:
    """Return the drill nearest to a diameter.

    Common lists: numbers 80 to 1, letters A to Z, fractions by 1/64 to 1-1/2 in, millimetres by 0.1
    to 14 and by 0.5 to 38 (common practice, no source).

    diameter: wanted [m].
    family: which drills to look among: *inch* is number, letter and fraction, *any* is all [-].
    Raises ValueError where the diameter is beyond the list by more than a step.
    """
    require_positive("the drill's diameter", diameter, "m")
    drills = _drills(family)
    best = min(drills, key=lambda drill: abs(drill.diameter - diameter))
    if abs(best.diameter - diameter) > 0.5 * _MILLIMETRE:
        low = min(drill.diameter for drill in drills)
        high = max(drill.diameter for drill in drills)
        raise ValueError(
            f"no {family} drill is near {diameter!r} m; the list runs from {low:.5f} to "
            f"{high:.5f} m. Look among another family, or bore the hole"
        )
    return best


def tap_drill(
    diameter: float, pitch: float, *, percent: float = 75.0, family: DrillFamily = "any"
) -> TapDrill:
    """Return the drill for a tapped hole, and how much thread it leaves.

    Machinery's Handbook, tap drills: the nearest to d − 1.299 P × percent / 100.

    diameter: nominal, of the screw [m].
    pitch: P [m].
    percent: of full thread wanted, 75 for 75 % [-].
    family: which drills to look among, see `nearest_drill` [-].
    Raises ValueError as `hole_for_thread` and `nearest_drill` do. Limits: a drill cuts a few
    hundredths of a millimetre over its size.
    """
    wanted = hole_for_thread(diameter, pitch, percent)
    drill = nearest_drill(wanted, family=family)
    return TapDrill(wanted, drill, percent_of_thread(diameter, pitch, drill.diameter))


def _triangle(diameter: Metres, pitch: Metres) -> Metres:
    require_positive("the thread's diameter", diameter, "m")
    require_positive("the pitch", pitch, "m")
    if pitch > 0.3 * diameter:
        raise ValueError(
            f"a pitch of {pitch!r} m on a diameter of {diameter!r} m is no screw thread; "
            "give pitch as crest to crest, or threads to the inch as their number"
        )
    return TRIANGLE * pitch


@cache
def _drills(family: DrillFamily) -> list[Drill]:
    numbers = enumerate(_NUMBERS.split(), start=1)
    number = [Drill(f"#{i}", int(size) * 1e-4 * _INCH) for i, size in numbers]
    letters = zip(string.ascii_uppercase, _LETTERS.split(), strict=True)
    letter = [Drill(name, int(size) * 1e-3 * _INCH) for name, size in letters]
    sixty_fourths = range(1, int(_LARGEST_FRACTION * 64) + 1)
    fraction = [Drill(_fraction_name(n), n / 64.0 * _INCH) for n in sixty_fourths]
    tenths = [n / 10.0 for n in range(3, 10 * _LARGEST_TENTH + 1)]
    halves = [n / 2.0 for n in range(2 * _LARGEST_TENTH + 1, 2 * _LARGEST_HALF + 1)]
    millimetre = [Drill(f"{size:g} mm", size * _MILLIMETRE) for size in tenths + halves]
    if family == "number":
        return number
    if family == "letter":
        return letter
    if family == "fraction":
        return fraction
    if family == "millimetre":
        return millimetre
    inch = fraction + number + letter
    return inch if family == "inch" else inch + millimetre


def _fraction_name(sixty_fourths: int) -> str:
    whole, rest = divmod(Fraction(sixty_fourths, 64), 1)
    if rest == 0:
        return f"{whole} in"
    return f"{whole}-{rest} in" if whole else f"{rest} in"
