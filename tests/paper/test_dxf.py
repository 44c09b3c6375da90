import io
import math
from typing import Any

import ezdxf
import pytest

from leafwright.paper.drawing import (
    AngleDimension,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    RunningDimensions,
    Symbol,
)
from leafwright.paper.dxf import Units, dxf_text
from leafwright.paper.pens import PENS
from leafwright.paper.scale import IMPERIAL_SCALES, METRIC_SCALES, Scale
from leafwright.paper.scene import Arc, Circle, Fill, Line, Polyline, Text
from tests.paper.samples import everything, rectangle_points

ONE_TO_TEN = METRIC_SCALES[3]
PER_METRE: dict[Units, float] = {"mm": 1000.0, "in": 1.0 / 0.0254}


def read(drawing: Drawing, units: Units = "mm", *, scale: Scale = ONE_TO_TEN) -> Any:
    return ezdxf.read(io.StringIO(dxf_text(drawing, units=units, scale=scale)))  # type: ignore[attr-defined]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_audit_finds_nothing(units: Units) -> None:
    document = read(everything(), units)
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])


@pytest.mark.parametrize(("units", "code"), [("mm", 4), ("in", 1)])
def test_units_are_stated_and_lines_true(units: Units, code: int) -> None:
    document = read(Drawing((Line((0.1, 0.2), (1.3, 0.7), "cut"),)), units)
    assert document.header["$INSUNITS"] == code
    (line,) = document.modelspace()
    assert (line.dxftype(), line.dxf.layer) == ("LINE", "cut")
    factor = PER_METRE[units]
    assert tuple(line.dxf.start)[:2] == pytest.approx((0.1 * factor, 0.2 * factor))
    assert tuple(line.dxf.end)[:2] == pytest.approx((1.3 * factor, 0.7 * factor))


def test_curves_are_curves() -> None:
    document = read(
        Drawing(
            (
                Arc((0.1, 0.2), 0.3, 0.5, 2.0, "mark"),
                Circle((0.1, 0.2), 0.05, "cut"),
                Polyline(rectangle_points(0, 0, 1, 2), "cut", closed=True),
            )
        )
    )
    arc, circle, polyline = document.modelspace()
    assert arc.dxftype() == "ARC"
    assert arc.dxf.radius == pytest.approx(300.0)
    assert (arc.dxf.start_angle, arc.dxf.end_angle) == pytest.approx(
        (math.degrees(0.5), math.degrees(2.0))
    )
    assert (circle.dxftype(), circle.dxf.radius) == ("CIRCLE", pytest.approx(50.0))
    assert polyline.dxftype() == "LWPOLYLINE"
    assert polyline.closed
    corners = [tuple(point) for point in polyline.get_points("xy")]
    assert corners == [(0, 0), (1000, 0), (1000, 2000), (0, 2000)]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize(
    ("item", "expected"),
    [
        (Dimension((0.1, 0.0), (0.7, 0.3), 9, "words", "x"), 0.6),
        (Dimension((0.7, 0.3), (0.1, 0.0), -9, "words", "x", base=-0.1), 0.6),
        (Dimension((0.1, 0.0), (0.7, 0.3), 9, "words", "y", ends="ticks"), 0.3),
        (Dimension((0.1, 0.0), (0.5, 0.3), 9, "words"), 0.5),
    ],
)
def test_dimensions_are_native_and_measure_the_true_distance(
    units: Units, item: Dimension, expected: float
) -> None:
    (dimension,) = read(Drawing((item,)), units).modelspace()
    assert dimension.dxftype() == "DIMENSION"
    assert dimension.dxf.text == "words"
    assert dimension.get_measurement() == pytest.approx(expected * PER_METRE[units])
    assert dimension.dxf.actual_measurement == pytest.approx(expected * PER_METRE[units])
    assert dimension.override().get("dimlfac") == 1.0
    drawn = [e for e in dimension.get_geometry_block() if e.dxftype() == "MTEXT"]
    assert [e.text.split(";")[-1].rstrip("}") for e in drawn] == ["words"]


def test_the_dimension_line_is_where_it_is_on_paper() -> None:
    (dimension,) = read(Drawing((Dimension((0.1, 0.0), (0.7, 0.3), 9, "w", "x"),))).modelspace()
    # 9 mm of paper at 1:10 above the higher point.
    assert dimension.dxf.defpoint.y == pytest.approx(300.0 + 90.0)


def test_running_dimensions_are_ordinates_from_the_origin() -> None:
    item = RunningDimensions(
        (0.1, 0.0), ((0.3, 0.0), (1.1, 0.2), (0.05, 0.0)), 12, ("200", "1000", "-50"), "x"
    )
    found = {
        d.dxf.text: (d.dxf.actual_measurement, d.get_measurement().x)
        for d in read(Drawing((item,))).modelspace().query("DIMENSION")
    }
    expected = {"0": 0.0, "200": 200.0, "1000": 1000.0, "-50": 50.0}
    assert set(found) == set(expected)
    for text, (stored, measured) in found.items():
        assert stored == pytest.approx(expected[text], abs=1e-9)
        assert abs(measured) == pytest.approx(expected[text], abs=1e-9)


def test_an_angle_is_an_angular_dimension() -> None:
    item = AngleDimension((0.1, 0.1), 20, 0.2, 1.1, "52°")
    (dimension,) = read(Drawing((item,))).modelspace()
    assert dimension.get_measurement() == pytest.approx(math.degrees(0.9))
    assert dimension.dxf.text == "52°"


def test_signs_that_mean_something_in_the_file_are_words() -> None:
    for text, written in (
        ("{a}\\b", "\\{a\\}\\\\b"),
        ("<>", "< >"),
        ("", " "),
        ("two\nlines", "two\\Plines"),
        ('<b>&"', '<b>&"'),
    ):
        item = Dimension((0, 0), (1, 0), 9, text, "x")
        (dimension,) = read(Drawing((item,))).modelspace()
        assert dimension.dxf.text == written


def test_layers_are_the_drawings_own_with_their_pens() -> None:
    document = read(everything())
    for layer, pen in PENS.items():
        found = document.layers.get(layer)
        assert found.dxf.lineweight == round(100 * pen.width)
        assert (found.dxf.linetype == "CONTINUOUS") is (not pen.dash)
    cut = {entity.dxftype() for entity in document.modelspace().query('*[layer=="cut"]')}
    assert cut <= {"LINE", "ARC", "CIRCLE", "LWPOLYLINE"}


def test_words_have_their_size_on_the_print() -> None:
    document = read(
        Drawing(
            (
                Text((0.1, 0.1), "one\ntwo", height_mm=3.5, anchor="left-top", angle=0.3),
                Leader((0.5, 0.5), (10, 10), "Ø 40", height_mm=3.0),
                Symbol((0.2, 0.2), (Circle((0, 0), 2.0, "note"),)),
            )
        )
    )
    space = document.modelspace()
    texts = {text.dxf.text: text for text in space.query("TEXT")}
    assert set(texts) == {"one", "two", "Ø 40"}
    assert texts["one"].dxf.height == pytest.approx(35.0)
    assert texts["one"].dxf.rotation == pytest.approx(math.degrees(0.3))
    assert tuple(texts["one"].get_placement()[1]) == pytest.approx((100.0, 100.0, 0.0))
    (leader,) = space.query("LEADER")
    assert tuple(leader.vertices[0])[:2] == pytest.approx((500.0, 500.0))
    assert tuple(leader.vertices[1])[:2] == pytest.approx((600.0, 600.0))
    (circle,) = space.query("CIRCLE")
    assert circle.dxf.radius == pytest.approx(20.0)


def test_areas_are_hatches_with_their_holes() -> None:
    outer, inner = rectangle_points(0, 0, 1, 1), rectangle_points(0.2, 0.2, 0.8, 0.8)
    document = read(
        Drawing(
            (
                Hatch(outer, "steel", 2.0, holes=(inner,)),
                Fill(outer, "black", holes=(inner,)),
                Fill(outer, "white"),
            )
        )
    )
    pattern, solid = document.modelspace().query("HATCH")
    assert (pattern.dxf.solid_fill, solid.dxf.solid_fill) == (0, 1)
    assert (len(pattern.paths), len(solid.paths)) == (2, 2)
    line = pattern.pattern.lines[0]
    # 2 mm of paper at 1:10 between lines at 45 degrees.
    assert (line.angle, line.offset.magnitude) == pytest.approx((45.0, 20.0))


def test_sizes_follow_the_scale_and_the_thing_does_not() -> None:
    drawing = Drawing((Dimension((0, 0), (1, 0), 10, "1000", "x"),))
    heights = []
    for scale in (IMPERIAL_SCALES[2], IMPERIAL_SCALES[6]):
        document = read(drawing, scale=scale)
        (dimension,) = document.modelspace()
        assert dimension.get_measurement() == pytest.approx(1000.0)
        heights.append(dimension.override().get("dimtxt") / scale.ratio)
    assert heights == pytest.approx([3.0, 3.0])
