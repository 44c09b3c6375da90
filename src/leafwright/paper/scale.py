"""Standard scales, the choice of one that fits, and the bar that shows it on the print."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.paper.scene import Anchor, Fill, Line, Point, Polyline, Primitive, Text

System = Literal["imperial", "metric"]


@dataclass(frozen=True, slots=True)
class Scale:
    """A drawing scale: 1 on paper is ``ratio`` on the thing; ``words`` as a maker writes it."""

    ratio: int
    words: str

    @property
    def mm_per_m(self) -> float:
        """Millimetres of paper to a metre of the thing."""
        return 1000.0 / self.ratio


FULL_SIZE = Scale(1, "full size, 1:1")

IMPERIAL_SCALES: tuple[Scale, ...] = (
    FULL_SIZE,
    Scale(2, "half size, 1:2"),
    Scale(4, '3" = 1\'-0"'),
    Scale(8, '1 1/2" = 1\'-0"'),
    Scale(12, '1" = 1\'-0"'),
    Scale(16, '3/4" = 1\'-0"'),
    Scale(24, '1/2" = 1\'-0"'),
    Scale(32, '3/8" = 1\'-0"'),
    Scale(48, '1/4" = 1\'-0"'),
    Scale(64, '3/16" = 1\'-0"'),
    Scale(96, '1/8" = 1\'-0"'),
)

METRIC_SCALES: tuple[Scale, ...] = (
    FULL_SIZE,
    *(Scale(ratio, f"1:{ratio}") for ratio in (2, 5, 10, 15, 20, 25, 50, 100)),
)


def standard_scales(system: System) -> tuple[Scale, ...]:
    """Return the standard scales of "imperial" or "metric" drawings, largest picture first."""
    return IMPERIAL_SCALES if system == "imperial" else METRIC_SCALES


def fitting_scale(
    extents_m: tuple[float, float], space_mm: tuple[float, float], system: System
) -> Scale:
    """Return the largest standard scale at which a thing fits into a space.

    Args:
        extents_m: width and height of the thing [m].
        space_mm: width and height of the room on paper, dimensions' room already taken off [mm].
        system: "imperial" or "metric".

    Raises:
        ValueError: when it does not fit at the smallest scale.
    """
    for scale in standard_scales(system):
        if all(
            size * scale.mm_per_m <= room + 1e-9
            for size, room in zip(extents_m, space_mm, strict=True)
        ):
            return scale
    raise too_large(extents_m, space_mm, standard_scales(system)[-1])


def too_large(
    extents_m: tuple[float, float], space_mm: tuple[float, float], scale: Scale
) -> ValueError:
    """Return the error of a drawing that does not fit into its place at a scale."""
    return ValueError(
        f"a drawing of {extents_m[0]:.3g} by {extents_m[1]:.3g} m does not fit into "
        f"{space_mm[0]:.0f} by {space_mm[1]:.0f} mm of paper with its words at 1:{scale.ratio}; "
        "use a larger sheet or a smaller scale, or divide the drawing"
    )


_INCH = 0.0254
_BAR_LENGTHS: dict[System, tuple[tuple[float, str, str], ...]] = {
    "imperial": tuple(
        (inches * _INCH, whole, half)
        for inches, whole, half in (
            (2, '2"', '1"'),
            (4, '4"', '2"'),
            (6, '6"', '3"'),
            (12, "1'-0\"", '6"'),
            (24, "2'-0\"", "1'-0\""),
            (48, "4'-0\"", "2'-0\""),
            (96, "8'-0\"", "4'-0\""),
            (144, "12'-0\"", "6'-0\""),
            (240, "20'-0\"", "10'-0\""),
        )
    ),
    "metric": tuple(
        (metres, whole, half)
        for metres, whole, half in (
            (0.05, "50 mm", "25"),
            (0.1, "100 mm", "50"),
            (0.2, "200 mm", "100"),
            (0.4, "400 mm", "200"),
            (0.6, "600 mm", "300"),
            (1.0, "1 m", "0.5"),
            (2.0, "2 m", "1"),
            (4.0, "4 m", "2"),
        )
    ),
}
DO_NOT_SCALE = "Do not scale this print: work to the figures."


def scale_bar(
    at: Point, scale: Scale, system: System, *, longest_mm: float = 60.0
) -> tuple[Primitive, ...]:
    """Return a bar drawn true to a scale, with "do not scale" beneath it [mm of paper].

    It is 10 mm high; the bar is up to ``longest_mm`` wide, the words beneath it about 60 mm.

    Args:
        at: its lower left corner [mm].
        scale: the scale of the drawing that it belongs to.
        system: whose round lengths it shows.
        longest_mm: the longest that the bar may be [mm].
    """
    fitting = [bar for bar in _BAR_LENGTHS[system] if bar[0] * scale.mm_per_m <= longest_mm]
    if not fitting:
        raise ValueError(
            f"no round length at 1:{scale.ratio} is shorter than {longest_mm!r} mm; "
            "give the scale bar more room"
        )
    metres, whole, half = fitting[-1]
    length = metres * scale.mm_per_m
    x, y = at
    low, high = y + 4.0, y + 5.6
    parts = [x + length * i / 4 for i in range(5)]
    flat: list[Primitive] = [
        Fill(((a, low), (b, low), (b, high), (a, high)), "black", layer="note")
        for a, b in (parts[0:2], parts[2:4])
    ]
    outline = ((x, low), (x + length, low), (x + length, high), (x, high))
    flat.append(Polyline(outline, "thin", closed=True))
    labels: tuple[tuple[float, str, Anchor], ...] = (
        (parts[0], "0", "left-bottom"),
        (parts[2], half, "centre-bottom"),
        (parts[4], whole, "right-bottom"),
    )
    for place, words, anchor in labels:
        flat.append(Line((place, high), (place, high + 0.8), "thin"))
        flat.append(Text((place, high + 1.5), words, height_mm=2.4, anchor=anchor))
    flat.append(Text((x, y + 0.6), DO_NOT_SCALE, height_mm=2.3))
    return tuple(flat)


def check_square(at: Point, system: System) -> tuple[Primitive, ...]:
    """Return a square to lay a rule on before a full-size print is trusted [mm of paper].

    It is 4 in (imperial) or 100 mm (metric) on a side.

    Args:
        at: its lower left corner [mm].
        system: "imperial" or "metric".
    """
    side = 101.6 if system == "imperial" else 100.0
    words = "4 in" if system == "imperial" else "100 mm"
    x, y = at
    corners = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    middle = (x + 0.5 * side, y + 0.5 * side)
    return (
        Polyline(corners, "note", closed=True),
        Text(
            middle,
            f"Test square: {words} each way.\nLay a rule on both sides. If it is not {words},\n"
            "the print is not full size: do not use it.",
            height_mm=2.8,
            anchor="centre-middle",
        ),
    )
