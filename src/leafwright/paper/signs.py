"""Signs drawn with lines, as the font has none: tick box, warning triangle, stop sign."""

from __future__ import annotations

import math

from leafwright.paper.scene import Box, Fill, Point, Polyline, Primitive


def tick_box(
    at: Point, side_mm: float, *, ticked: bool = False, key: str = ""
) -> tuple[Primitive, ...]:
    """Return a square to tick, its lower left corner at ``at`` [mm], with a tick in it if done."""
    x, y = at
    s = side_mm
    flat: list[Primitive] = [
        Polyline(((x, y), (x + s, y), (x + s, y + s), (x, y + s)), "note", closed=True, key=key)
    ]
    if ticked:
        hook = (
            (x + 0.18 * s, y + 0.5 * s),
            (x + 0.42 * s, y + 0.22 * s),
            (x + 0.85 * s, y + 0.85 * s),
        )
        flat.append(Polyline(hook, "cut", key=key))
    return tuple(flat)


def warning_triangle(at: Point, size_mm: float) -> tuple[Primitive, ...]:
    """Return a warning triangle drawn with lines, its lower left corner at ``at`` [mm]."""
    x, y = at
    tall = size_mm * math.sqrt(3.0) / 2.0
    half = 0.5 * size_mm
    thick = 0.06 * size_mm

    def bar(low: float, high: float) -> Fill:
        return Fill(
            (
                (x + half - thick, y + low * tall),
                (x + half + thick, y + low * tall),
                (x + half + thick, y + high * tall),
                (x + half - thick, y + high * tall),
            ),
            "black",
            layer="border",
        )

    corners = ((x, y), (x + size_mm, y), (x + half, y + tall))
    return (Polyline(corners, "border", closed=True), bar(0.32, 0.68), bar(0.13, 0.23))


def stop_sign(at: Point, size_mm: float) -> tuple[Primitive, ...]:
    """Return an eight-cornered stop sign drawn with lines, lower left corner at ``at`` [mm]."""
    x, y = at
    r = 0.5 * size_mm / math.cos(math.radians(22.5))
    corners = tuple(
        (
            x + 0.5 * size_mm + r * math.cos(math.radians(22.5 + 45.0 * i)),
            y + 0.5 * size_mm + r * math.sin(math.radians(22.5 + 45.0 * i)),
        )
        for i in range(8)
    )
    bar = Box(x + 0.2 * size_mm, y + 0.41 * size_mm, x + 0.8 * size_mm, y + 0.59 * size_mm)
    return (
        Polyline(corners, "border", closed=True),
        Fill(bar.corners, "black", layer="border"),
    )
