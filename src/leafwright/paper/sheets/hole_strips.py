"""A tube laid flat: each face with holes as a strip, datum end down, measured from there."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

from leafwright.paper.drawing import Drawing, DrawingItem, RunningDimensions, Symbol, moved
from leafwright.paper.font import text_width
from leafwright.paper.scale import Scale
from leafwright.paper.scene import Circle, Line, Point, Text
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.mount_parts import rect, up_mark, words_above, zigzag
from leafwright.shop.holes.records import FaceOf, Hole, HoledPart

#: A bare stretch longer than this is broken out [m]; so much of it stays at either hole.
BARE, KEPT = 0.40, 0.09
#: Least paper for a strip's figures, what stands before and behind the words, and a break [mm].
FIGURES_MM, AROUND_MM, BREAK_MM = 42.0, 14.5, 9.0
#: Height of a hole's distance from the datum end [mm]: to be read at arm's length.
FIGURE_MM = 3.4
#: Paper between two rows of strips [mm].
ROW_MM = 24.0


def strips_drawing(at: Desk, part: HoledPart, scale: Scale, *, in_row: int = 4) -> Drawing:
    """Return a part's faces side by side, at a scale that its figures are spaced by.

    ``in_row`` are so many in a row, one row under the other.
    """
    unit = 1.0 / scale.mm_per_m
    up, breaks, top = _broken(part, BREAK_MM * unit)
    items: list[DrawingItem] = []
    x = 0.0
    for number, face in enumerate(part.faces):
        row, column = divmod(number, in_row)
        x = 0.0 if column == 0 else x
        strip = _strip(at, part, face, x, up, breaks, top)
        if number == 0 and "stile" in part.name:
            strip.append(up_mark((x, 0.0), (-10.0, 6.0)))
        items += moved(Drawing(tuple(strip)), (0.0, -row * (top + ROW_MM * unit))).items
        x += face.width + _room_for_figures(at, part, face) * unit
    last = -(-len(part.faces) // in_row) - 1
    words = part.datum_end.removeprefix("its ")
    items.append(
        Symbol(
            (0.0, -last * (top + ROW_MM * unit)),
            (Text((0.0, -9.0), f"0 = {words}: hook the tape here", height_mm=3.2, bold=True),),
        )
    )
    return Drawing(tuple(items))


def _room_for_figures(at: Desk, part: HoledPart, face: FaceOf) -> float:
    """Return the paper beside a strip that its figures need [mm]."""
    told = [_figure(at, hole) for hole in part.holes if hole.face == face.key]
    widest = max((text_width(words, FIGURE_MM, bold=True) for words in told), default=0.0)
    return max(FIGURES_MM, widest + AROUND_MM)


def _figure(at: Desk, hole: Hole) -> str:
    return f"{at.words.length(hole.along)} ({hole.label})"


def _broken(
    part: HoledPart, gap: float
) -> tuple[Callable[[float], float], list[tuple[float, float]], float]:
    """Return where each height is drawn, the stretches broken out as drawn, and the top [m]."""
    places = sorted({0.0, *(hole.along.value for hole in part.holes), part.length.value})
    cut: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(places):
        if high - low > BARE:
            cut.append((low + KEPT, high - KEPT))

    def up(metres: float) -> float:
        taken = 0.0
        for low, high in cut:
            if metres >= high:
                taken += high - low - gap
            elif metres > low:
                return low - taken + gap * (metres - low) / (high - low)
        return metres - taken

    return up, [(up(low), up(high)) for low, high in cut], up(part.length.value)


def _strip(
    at: Desk,
    part: HoledPart,
    face: FaceOf,
    x: float,
    up: Callable[[float], float],
    breaks: Sequence[tuple[float, float]],
    top: float,
) -> list[DrawingItem]:
    right = x + face.width
    low = 0.0
    items: list[DrawingItem] = []
    for start, end in (*breaks, (top, top)):
        items.append(rect(x, low, right, start))
        low = end
    side = x if face.datum_left else right
    low = 0.0
    for start, end in (*breaks, (top, top)):
        items.append(Line((side, low), (side, start), "border"))
        low = end
    for start, end in breaks:
        items += [*zigzag((x, start), (right, start)), *zigzag((x, end), (right, end))]
    items.append(words_above((x + face.width / 2.0, top), face.name, 3.0, wide=40.0))
    holes = [hole for hole in part.holes if hole.face == face.key]
    for hole in holes:
        spot = (_across(face, hole, x), up(hole.along.value))
        items += _hole(hole, spot)
    items.append(
        RunningDimensions(
            (right, 0.0),
            tuple((right, up(hole.along.value)) for hole in holes),
            3.5,
            tuple(_figure(at, hole) for hole in holes),
            "y",
            base=right,
            apart=1.7,
            height_mm=FIGURE_MM,
            bold=True,
            knockout=True,
        )
    )
    return items


def _across(face: FaceOf, hole: Hole, x: float) -> float:
    if hole.across.value <= 0.0:
        return x + face.width / 2.0
    return x + (hole.across.value if face.datum_left else face.width - hole.across.value)


def _hole(hole: Hole, spot: Point) -> list[DrawingItem]:
    r = hole.diameter.value / 2.0
    px, py = spot
    reach = max(1.4 * r, 0.006)
    return [
        Circle(spot, r, "cut", fill="white", key=hole.key),
        Line((px - reach, py), (px + reach, py), "centre"),
        Line((px, py - reach), (px, py + reach), "centre"),
    ]
