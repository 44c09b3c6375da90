"""A drawing as DXF text: true size, layers by meaning, native dimensions with the maker's words."""

from __future__ import annotations

import io
import math
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal, assert_never

from leafwright.paper.annotate import (
    ARROW_LENGTH,
    RUNNING_KINK,
    RUNNING_STUB,
    TEXT_GAP,
    TICK_HALF,
    WITNESS_GAP,
    WITNESS_PAST,
    Paper,
    dimension_line,
    flat_item,
    running_base,
    spread_apart,
)
from leafwright.paper.drawing import (
    AngleDimension,
    Dimension,
    Drawing,
    DrawingItem,
    Hatch,
    Leader,
    RunningDimensions,
    Symbol,
)
from leafwright.paper.hatching import PATTERNS
from leafwright.paper.pens import INKS, PENS
from leafwright.paper.scale import Scale
from leafwright.paper.scene import (
    Arc,
    Circle,
    Fill,
    Ink,
    Line,
    Point,
    Polyline,
    Primitive,
    Text,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities.dimstyleoverride import DimStyleOverride
    from ezdxf.layouts.layout import Modelspace

Units = Literal["mm", "in"]

STYLE = "LEAFWRIGHT"
FILL_LAYER = "hatch"
_PER_METRE: dict[Units, float] = {"mm": 1000.0, "in": 1.0 / 0.0254}
_INSUNITS: dict[Units, int] = {"mm": 4, "in": 1}

# The DXF library stamps files with the clock unless a setting of its own says otherwise; the
# setting is shared by the process, so only one file is made at a time.
_ONE_AT_A_TIME = threading.Lock()


@dataclass(frozen=True, slots=True)
class _Sizes:
    """Drawing units to a metre of the thing, and to a millimetre of the print."""

    metre: float
    paper_mm: float

    @property
    def true(self) -> Paper:
        """The drawing at true size, as if a millimetre of paper were a drawing unit."""
        return Paper(self.metre, (0.0, 0.0))


def dxf_text(drawing: Drawing, *, units: Units, scale: Scale) -> str:
    """Return the drawing as a DXF document (R2010) in model space at true size.

    Lines, arcs, circles and polylines are entities of their own kind on layers named as the
    drawing's; dimensions are DIMENSION entities that measure the true distance (``dimlfac`` 1)
    and show the maker's words; areas are HATCH. A white fill, which on paper hides what is under
    it, hides nothing here. The same drawing gives the same text.

    Args:
        drawing: what to write [m].
        units: "mm" or "in", the drawing unit of the file, stated in it.
        scale: the scale at which it would be printed: it sizes words, arrowheads and dashes.
    """
    from ezdxf import new, options  # type: ignore[attr-defined]

    sizes = _Sizes(_PER_METRE[units], _PER_METRE[units] / scale.mm_per_m)
    with _ONE_AT_A_TIME:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            document = new("R2010", setup=False)
            _set_up(document, units, sizes.paper_mm)
            for item in drawing.items:
                _add(document.modelspace(), item, sizes)
            # Until here words were measured with a plain stand-in, so that the file does not
            # depend on the fonts that this machine has.
            document.styles.get(STYLE).dxf.font = "txt"
            # The library would list the kinds of entity in a set's order, different each run.
            for kind in sorted(document.entitydb.dxf_types_in_use()):
                document.classes.add_class(kind)
            file = io.StringIO()
            document.write(file)
        finally:
            options.write_fixed_meta_data_for_testing = before
    return file.getvalue()


def _set_up(document: Document, units: Units, mm: float) -> None:
    document.header["$INSUNITS"] = _INSUNITS[units]
    document.header["$MEASUREMENT"] = 1 if units == "mm" else 0
    document.header["$LUNITS"] = 2
    document.header["$LTSCALE"] = 1.0
    document.styles.add(STYLE, font="*monospace", dxfattribs={"width": 0.7})
    for layer, pen in PENS.items():
        linetype = "CONTINUOUS"
        if pen.dash:
            linetype = f"LW-{layer}".upper()
            parts = [part * mm * (-1.0 if i % 2 else 1.0) for i, part in enumerate(pen.dash)]
            document.linetypes.add(linetype, pattern=[sum(map(abs, parts)), *parts])
        document.layers.add(layer, color=7, linetype=linetype, lineweight=round(100.0 * pen.width))
    # Sizes are given in drawing units, so that nothing is scaled again (dimscale, dimlfac).
    document.dimstyles.new(
        STYLE,
        dxfattribs={
            "dimscale": 1.0,
            "dimlfac": 1.0,
            "dimtxt": 3.0 * mm,
            "dimasz": ARROW_LENGTH * mm,
            "dimexo": WITNESS_GAP * mm,
            "dimexe": WITNESS_PAST * mm,
            "dimgap": TEXT_GAP * mm,
            "dimtad": 1,
            "dimtih": 0,
            "dimtoh": 0,
            "dimlunit": 2,
            "dimdec": 4,
            "dimzin": 8,
            "dimtxsty": STYLE,
        },
    )


def _add(space: Modelspace, item: DrawingItem, sizes: _Sizes) -> None:
    match item:
        case Dimension():
            _add_dimension(space, item, sizes)
        case RunningDimensions():
            _add_running(space, item, sizes)
        case AngleDimension():
            _add_angle(space, item, sizes)
        case Hatch():
            _add_hatch(space, item, sizes)
        case Leader():
            for flat in _paper_sized(item, sizes):
                _add_leader_part(space, flat, item, sizes)
        case Symbol() | Text():
            for flat in _paper_sized(item, sizes):
                _add_plain(space, flat, sizes)
        case Line() | Polyline() | Arc() | Circle() | Fill():
            for flat in flat_item(item, sizes.true):
                _add_plain(space, flat, sizes)
        case _:
            assert_never(item)


def _paper_sized(item: Leader | Symbol | Text, sizes: _Sizes) -> list[Primitive]:
    """Return the primitives of something with a fixed size on paper, in drawing units."""
    around_zero = flat_item(replace(item, at=(0.0, 0.0)), Paper(1.0, (0.0, 0.0)))
    there = Paper(sizes.paper_mm, sizes.true.point(item.at))
    return [placed for flat in around_zero for placed in flat_item(flat, there)]


def _add_plain(space: Modelspace, item: Primitive, sizes: _Sizes) -> None:
    """Add a primitive whose lengths are in drawing units already (but for a text's height)."""
    look = {"layer": item.layer}
    match item:
        case Line():
            space.add_line(item.a, item.b, dxfattribs=look)
        case Polyline():
            if item.fill:
                _add_solid(space, (item.points,), item.fill)
            space.add_lwpolyline(item.points, close=item.closed, dxfattribs=look)
        case Arc():
            space.add_arc(
                item.centre,
                item.radius,
                math.degrees(item.start),
                math.degrees(item.start + item.span),
                dxfattribs=look,
            )
        case Circle():
            space.add_circle(item.centre, item.radius, dxfattribs=look)
        case Fill():
            _add_solid(space, (item.points, *item.holes), item.ink)
        case Text():
            from ezdxf.enums import TextEntityAlignment

            across, up = item.anchor.split("-")
            name = {"left": "LEFT", "centre": "CENTER", "right": "RIGHT"}[across]
            name = {"bottom": "", "middle": "MIDDLE_", "top": "TOP_"}[up] + name
            space.add_text(
                item.text,
                height=item.height_mm * sizes.paper_mm,
                rotation=math.degrees(item.angle),
                dxfattribs={**look, "style": STYLE, "width": 0.7},
            ).set_placement(item.at, align=TextEntityAlignment[name])


def _add_solid(space: Modelspace, loops: Sequence[Sequence[Point]], ink: Ink) -> None:
    if ink == "white":
        return
    hatch = space.add_hatch(color=7, dxfattribs={"layer": FILL_LAYER})
    red, green, blue = (int(INKS[ink][i : i + 2], 16) for i in (1, 3, 5))
    hatch.rgb = (red, green, blue)
    _set_paths(hatch, loops)


def _set_paths(hatch: Any, loops: Sequence[Sequence[Point]]) -> None:
    for number, loop in enumerate(loops):
        # 1 is the outermost boundary, 16 an inner one (DXF group 92).
        hatch.paths.add_polyline_path(loop, is_closed=True, flags=16 if number else 1)


def _add_hatch(space: Modelspace, item: Hatch, sizes: _Sizes) -> None:
    spacing = item.spacing_mm * sizes.paper_mm
    lines = []
    for stripes in PATTERNS[item.kind]:
        c, s = math.cos(stripes.angle), math.sin(stripes.angle)
        along, across = stripes.stagger * spacing, stripes.apart * spacing
        shift = stripes.shift * spacing
        lines.append(
            [
                math.degrees(stripes.angle),
                (-shift * s, shift * c),
                (along * c - across * s, along * s + across * c),
                [part * spacing * (-1.0 if i % 2 else 1.0) for i, part in enumerate(stripes.dash)],
            ]
        )
    hatch = space.add_hatch(dxfattribs={"layer": item.layer})
    hatch.set_pattern_fill(item.kind.upper(), definition=lines)
    _set_paths(hatch, [sizes.true.points(loop) for loop in (item.outline, *item.holes)])


def _add_leader_part(space: Modelspace, flat: Primitive, item: Leader, sizes: _Sizes) -> None:
    """Add the line as a LEADER with an arrowhead of its own, the rest as it is."""
    if isinstance(flat, Fill):
        return
    if isinstance(flat, Line | Polyline):
        points = (flat.a, flat.b) if isinstance(flat, Line) else flat.points
        leader = space.add_leader(points, dimstyle=STYLE, dxfattribs={"layer": item.layer})
        leader.dxf.has_arrowhead = int(item.end == "arrow")
        return
    _add_plain(space, flat, sizes)


def _words(text: str) -> str:
    r"""Return a dimension's words as DXF multi-line text; none at all is a single space.

    An empty text would show the measured number instead, and so would ``<>``.
    """
    if not text:
        return " "
    for sign in "\\{}":
        text = text.replace(sign, "\\" + sign)
    return text.replace("<>", "< >").replace("\n", "\\P")


def _override(item: Dimension | RunningDimensions | AngleDimension, mm: float) -> dict[str, Any]:
    return {"dimtxt": item.height_mm * mm, "dimlfac": 1.0}


def _finished(dimension: DimStyleOverride, measured: float) -> None:
    """Draw a dimension's picture and write what it measures into it (DXF group 42)."""
    dimension.render()
    dimension.dimension.dxf.actual_measurement = measured


def _add_dimension(space: Modelspace, item: Dimension, sizes: _Sizes) -> None:
    mm = sizes.paper_mm
    offset = item.offset_mm * mm
    a, b, start, end = dimension_line(replace(item, offset_mm=offset), sizes.true)
    override = _override(item, mm)
    if item.ends == "ticks":
        override["dimtsz"] = TICK_HALF * mm
    look = {"layer": item.layer}
    words = _words(item.text)
    if item.along == "aligned":
        dimension = space.add_aligned_dim(
            a, b, offset, text=words, dimstyle=STYLE, override=override, dxfattribs=look
        )
    else:
        dimension = space.add_linear_dim(
            base=start,
            p1=a,
            p2=b,
            angle=0.0 if item.along == "x" else 90.0,
            text=words,
            dimstyle=STYLE,
            override=override,
            dxfattribs=look,
        )
    _finished(dimension, math.dist(start, end))


def _add_running(space: Modelspace, item: RunningDimensions, sizes: _Sizes) -> None:
    mm = sizes.paper_mm
    level = running_base(replace(item, offset_mm=item.offset_mm * mm), sizes.true)
    out = 1.0 if item.offset_mm >= 0.0 else -1.0
    run = 0 if item.direction == "x" else 1
    origin = sizes.true.point(item.origin)
    stations = sorted(
        [(sizes.true.point(p), text) for p, text in zip(item.points, item.texts, strict=True)]
        + [(origin, item.zero)],
        key=lambda station: station[0][run],
    )
    places = [point[run] for point, _ in stations]
    values = spread_apart(places, item.apart * item.height_mm * mm)
    reach = level + out * (2.0 * RUNNING_STUB + RUNNING_KINK) * mm
    for (point, text), value in zip(stations, values, strict=True):
        end = (value, reach) if item.direction == "x" else (reach, value)
        dimension = space.add_ordinate_dim(
            feature_location=point,
            offset=(end[0] - point[0], end[1] - point[1]),
            dtype=1 if item.direction == "x" else 0,
            origin=origin,
            text=_words(text),
            dimstyle=STYLE,
            override={**_override(item, mm), "dimtad": 0},
            dxfattribs={"layer": item.layer},
        )
        _finished(dimension, abs(point[run] - origin[run]))


def _add_angle(space: Modelspace, item: AngleDimension, sizes: _Sizes) -> None:
    radius = item.radius_mm * sizes.paper_mm
    span = Arc((0.0, 0.0), 1.0, item.start, item.end, item.layer).span
    dimension = space.add_angular_dim_cra(
        center=sizes.true.point(item.centre),
        radius=0.5 * radius,
        start_angle=math.degrees(item.start),
        end_angle=math.degrees(item.start + span),
        distance=0.5 * radius,
        text=_words(item.text),
        dimstyle=STYLE,
        override={**_override(item, sizes.paper_mm), "dimse1": 1, "dimse2": 1},
        dxfattribs={"layer": item.layer},
    )
    _finished(dimension, span)
