"""The lines of a material's hatch inside an outline, in millimetres of paper."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from leafwright.paper.drawing import HatchKind
from leafwright.paper.scene import Point

LEAST_SPACING_MM = 0.4


@dataclass(frozen=True, slots=True)
class Stripes:
    """Parallel lines of a hatch; every length is a multiple of the hatch's spacing.

    ``angle`` [rad] is the lines' direction, ``apart`` the distance between them, ``shift`` moves
    them all sideways, ``dash`` is (on, off) along the line (() is unbroken) and ``stagger`` moves
    each line's dashes on from those of the line before.
    """

    angle: float
    apart: float = 1.0
    shift: float = 0.0
    dash: tuple[float, ...] = ()
    stagger: float = 0.0


PATTERNS: Mapping[HatchKind, tuple[Stripes, ...]] = MappingProxyType(
    {
        "steel": (Stripes(math.radians(45.0)),),
        "plastic": (
            Stripes(math.radians(-45.0), 2.5),
            Stripes(math.radians(-45.0), 2.5, 0.5),
        ),
        "timber": (
            Stripes(0.0, 2.6),
            Stripes(0.0, 2.6, 0.7),
            Stripes(0.0, 2.6, 1.7, (9.0, 2.0), 4.0),
        ),
        "masonry": (
            Stripes(0.0, 1.5),
            Stripes(math.radians(90.0), 1.5, 0.0, (1.5, 1.5), 1.5),
        ),
        "concrete": (
            Stripes(math.radians(50.0), 1.6, 0.0, (0.5, 3.3), 1.3),
            Stripes(math.radians(-20.0), 2.1, 0.6, (0.4, 4.1), 1.9),
            Stripes(math.radians(110.0), 2.6, 0.3, (0.4, 3.7), 2.3),
        ),
        # Groups of three strokes, this way and that like a basket's weave.
        "ground": tuple(
            Stripes(math.radians(angle), 3.0, shift, (3.0, 3.0), 3.0)
            for angle in (45.0, 135.0)
            for shift in (0.5, 1.5, 2.5)
        ),
    }
)


def hatch_lines(
    loops: Sequence[Sequence[Point]], kind: HatchKind, spacing_mm: float
) -> tuple[tuple[Point, Point], ...]:
    """Return the hatch lines inside closed loops [mm], each as its two ends.

    Lines are laid from the paper's own origin, so that neighbouring areas of one material match.

    Args:
        loops: the outline and any holes, each its corners in order [mm]; what is inside an odd
            number of loops is hatched.
        kind: the material.
        spacing_mm: distance between the lines of a plain hatch [mm].

    Raises:
        ValueError: when the spacing is too fine to print.
    """
    if not spacing_mm >= LEAST_SPACING_MM:
        raise ValueError(
            f"a hatch spacing of {spacing_mm!r} mm prints as grey mud; "
            f"use {LEAST_SPACING_MM} mm or more, or fill the area"
        )
    found: list[tuple[Point, Point]] = []
    for stripes in PATTERNS[kind]:
        c, s = math.cos(stripes.angle), math.sin(stripes.angle)
        apart = stripes.apart * spacing_mm
        # In the stripes' own axes: u along the line, v across it.
        turned = [[(x * c + y * s, y * c - x * s) for x, y in loop] for loop in loops]
        heights = [v for loop in turned for _, v in loop]
        shift = stripes.shift * spacing_mm
        first = math.ceil((min(heights) - shift) / apart)
        last = math.floor((max(heights) - shift) / apart)
        for number in range(first, last + 1):
            v = number * apart + shift
            for start, end in _inside(turned, v):
                for u0, u1 in _dashes(start, end, stripes, number, spacing_mm):
                    found.append(
                        ((u0 * c - v * s, u0 * s + v * c), (u1 * c - v * s, u1 * s + v * c))
                    )
    return tuple(found)


def _inside(loops: Sequence[Sequence[Point]], v: float) -> list[tuple[float, float]]:
    """Return the stretches of the level line at ``v`` that lie inside the loops."""
    crossings = []
    for loop in loops:
        for (u0, v0), (u1, v1) in zip(loop, (*loop[1:], loop[0]), strict=True):
            # Half-open, so that a corner on the line counts once.
            if (v0 <= v) != (v1 <= v):
                crossings.append(u0 + (u1 - u0) * (v - v0) / (v1 - v0))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _dashes(
    start: float, end: float, stripes: Stripes, number: int, spacing: float
) -> list[tuple[float, float]]:
    if not stripes.dash:
        return [(start, end)]
    on, off = (part * spacing for part in stripes.dash)
    period = on + off
    begin = number * stripes.stagger * spacing
    index = math.floor((start - begin) / period)
    pieces = []
    while begin + index * period < end:
        u0 = max(start, begin + index * period)
        u1 = min(end, begin + index * period + on)
        if u1 > u0:
            pieces.append((u0, u1))
        index += 1
    return pieces
