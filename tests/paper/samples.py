"""A drawing and sheets with one of everything, for the paper tests."""

import math
from dataclasses import replace

from leafwright.paper.drawing import (
    AngleDimension,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    RunningDimensions,
    Symbol,
)
from leafwright.paper.layout import Caution, Cell, Column, Table, laid_table
from leafwright.paper.scale import scale_bar
from leafwright.paper.scene import Arc, Box, Circle, Fill, Line, Point, Polyline, Scene, Text
from leafwright.paper.sheet import TABLOID, Sheet, area, fitted
from leafwright.paper.signs import tick_box
from leafwright.paper.strip import TitleBlock

INCH = 0.0254


def rectangle_points(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return Box(left, bottom, right, top).corners


def page(*items: object, size: float = 200.0) -> Scene:
    """Return a bare square page with flat items, all of it room."""
    room = Box(0.0, 0.0, size, size)
    return Scene("page", size, size, room, room, tuple(items))  # type: ignore[arg-type]


def everything() -> Drawing:
    """Return a small framed thing, 0.6 by 1.2 m, with every kind of item."""
    tall, wide, tube = 1.2, 0.6, 2 * INCH
    return Drawing(
        (
            Polyline(rectangle_points(0, 0, wide, tall), "cut", closed=True, key="left/frame"),
            Polyline(rectangle_points(tube, tube, wide - tube, tall - tube), "cut", closed=True),
            Line((tube, tube), (wide - tube, tall - tube), "centre", key="left/brace-1"),
            Arc((0.0, 0.0), 0.3, 0.2, 1.2, "hidden"),
            Circle((0.3, 0.15), 0.02, "mark", key="left/hole-1"),
            Fill(
                rectangle_points(0, 0, tube, tube),
                "black",
                holes=(rectangle_points(0.01, 0.01, 0.04, 0.04),),
            ),
            Hatch(rectangle_points(-0.1, -0.06, wide + 0.1, -0.02), "ground"),
            Text((0.3, 0.9), 'face <b>&" side', anchor="centre-middle"),
            Dimension((0, 0), (wide, 0), -14, '23 5/8"', "x"),
            Dimension((wide, 0), (wide, tall), 12, "3'-11 1/4\"", "y", ends="ticks"),
            Dimension((tube, tall), (0, tall), 8, '2"', "x", outside="before"),
            Dimension((0.2, 0.3), (0.4, 0.7), 4, '17 5/8"', knockout=True),
            RunningDimensions(
                (0, 0), ((0, tube), (0, 0.6), (0, tall)), -12, ('2"', '23 5/8"', "3'-11 1/4\""), "y"
            ),
            Leader((0.3, 0.17), (9, 12), 'Ø 5/8"\none wall', key="left/hole-1"),
            Leader((wide - 0.02, 1.0), (-16, 4), "7", ring=True, end="dot", knockout=True),
            AngleDimension((tube, tube), 24, math.atan2(1.0, 0.5), math.pi / 2, "26.6°"),
            Symbol((0.3, 1.05), tick_box((-2.0, -2.0), 4.0, ticked=True)),
        )
    )


def sample_sheet(*, not_for_cutting: bool = False) -> Sheet:
    """Return a sheet with the drawing, a table and cautions."""
    sheet = Sheet(
        "Left leaf",
        TABLOID.landscape,
        block=TitleBlock(
            job="Boathouse <north> & south",
            seen_from="yard side",
            units="feet and inches",
            survey="verified",
            revision="B",
        ),
        cautions=(
            Caution("Lifting", "194 lb: two people and a strap until the top pin is in."),
            Caution("Slab not scanned", "Do not drill.", kind="stop"),
        ),
        not_for_cutting=not_for_cutting,
        why="A reading fails its test." if not_for_cutting else "",
    )
    room = area(sheet)
    left, right = Box(room.left, room.bottom, 170.0, room.top), room.left + 180.0
    placed = fitted(everything(), left, "imperial", caption="LEFT LEAF")
    table = Table(
        (
            Column("Mark", 15.0, bold=True),
            Column("Piece", 40.0),
            Column("Long point", 30.0, align="right"),
            Column("Done", 15.0),
        ),
        tuple(
            (f"L{n}", "stile & rail", f"{n}'-0 1/2\"", Cell("", tick=n == 2, key=f"tick/{n}"))
            for n in range(1, 5)
        ),
    )
    laid = laid_table(table, left=right, top=room.top, bottom=room.bottom)
    bar = scale_bar((right, room.bottom), placed.scale, "imperial")
    return replace(sheet, placed=(placed,), items=(*laid.items, *bar))
