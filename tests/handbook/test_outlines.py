"""Outlines: exact moments, cut and whole, against two independent programs."""

import dataclasses
import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sectionproperties.analysis.section import Section
from sectionproperties.pre.library.steel_sections import rectangular_hollow_section
from shapely import Polygon, affinity, box

from leafwright.handbook import outlines
from leafwright.handbook.outlines import Arc, Line, Moments, Outline

TUBE = outlines.rectangular_tube(0.080, 0.050, 0.004, 0.008, 0.004)
SHAPES = {
    "tube": TUBE,
    "sharp tube": outlines.rectangular_tube(0.080, 0.050, 0.004, 0.0, 0.0),
    "round tube": outlines.round_tube(0.0483, 0.003),
    "round bar": outlines.round_bar(0.025),
    "flat": outlines.flat_bar(0.076, 0.010),
    "angle": outlines.angle(0.060, 0.040, 0.005, root_radius=0.006, toe_radius=0.003),
}
NAMES = [field.name for field in dataclasses.fields(Moments)]


def values(moments: Moments) -> list[float]:
    return [getattr(moments, name) for name in NAMES]


def size_of(outline: Outline) -> list[float]:
    """Return what each moment is measured against, so that a zero needs no tolerance of its own."""
    u_min, u_max, v_min, v_max = outlines.extent(outline)
    u, v = max(abs(u_min), u_max), max(abs(v_min), v_max)
    area = outlines.moments(outline).area
    return [area * scale for scale in (1.0, u, v, u * u, u * v, v * v)]


def as_polygon(outline: Outline) -> Polygon:
    outside, *holes = outlines.polygon(outline, chord_error=1e-8)
    return Polygon(outside, holes)


POLYGONS = {name: as_polygon(outline) for name, outline in SHAPES.items()}


@pytest.mark.parametrize("name", SHAPES)
@given(first=st.floats(-0.05, 0.05), second=st.floats(-0.05, 0.05))
def test_parts_between_cuts_add_up_to_the_whole(name: str, first: float, second: float) -> None:
    outline = SHAPES[name]
    low, high = sorted((first, second))
    parts = [
        outlines.moments(outline, u_to=low),
        outlines.moments(outline, u_from=low, u_to=high),
        outlines.moments(outline, u_from=high),
    ]
    whole = outlines.moments(outline)
    for number, size in enumerate(size_of(outline)):
        total = sum(values(part)[number] for part in parts)
        assert abs(total - values(whole)[number]) <= 1e-14 * size


@pytest.mark.parametrize("name", SHAPES)
@given(first=st.integers(-45_000_000, 45_000_000), second=st.integers(-45_000_000, 45_000_000))
def test_cut_parts_agree_with_a_fine_polygon(name: str, first: int, second: int) -> None:
    outline = SHAPES[name]
    # In whole nanometres: the polygon program loses its way at cuts of 5e-324 m.
    low, high = (1e-9 * nanometres for nanometres in sorted((first, second)))
    kept = POLYGONS[name].intersection(box(low, -1.0, high, 1.0))
    part = outlines.moments(outline, u_from=low, u_to=high)
    # Chords within 10 nm of the arcs leave out less than 10 nm along inside and outside.
    perimeter = 2.0 * outlines.perimeter(outline)
    assert part.area == pytest.approx(kept.area, abs=1e-8 * perimeter)
    if not kept.is_empty:
        reach = 0.05  # no point lies further from the centre [m]
        u, v = kept.area * kept.centroid.x, kept.area * kept.centroid.y
        assert part.u == pytest.approx(u, abs=1e-8 * perimeter * reach)
        assert part.v == pytest.approx(v, abs=1e-8 * perimeter * reach)


@given(
    width=st.floats(0.02, 0.2),
    height=st.floats(0.02, 0.2),
    wall_share=st.floats(0.02, 0.2),
    radius_share=st.floats(0.0, 1.0),
)
def test_a_tube_has_the_moments_of_its_rectangles_less_its_corners(
    width: float, height: float, wall_share: float, radius_share: float
) -> None:
    wall = wall_share * min(width, height)
    inner = radius_share * wall
    outer = inner + wall
    whole = outlines.moments(outlines.rectangular_tube(width, height, wall, outer, inner))

    def rounded(b: float, h: float, r: float) -> tuple[float, float]:
        # A spandrel's area, centroid from the sharp corner, and second moment about that centroid.
        area = (1.0 - math.pi / 4.0) * r**2
        away = (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi) * r
        own = (1.0 / 3.0 - math.pi / 16.0 - 1.0 / (36.0 - 9.0 * math.pi)) * r**4
        return b * h - 4.0 * area, b * h**3 / 12.0 - 4.0 * (own + area * (h / 2.0 - away) ** 2)

    out, hole = (
        rounded(width, height, outer),
        rounded(width - 2.0 * wall, height - 2.0 * wall, inner),
    )
    assert whole.area == pytest.approx(out[0] - hole[0], rel=1e-12)
    assert whole.vv == pytest.approx(out[1] - hole[1], rel=1e-12)


def test_round_shapes_have_their_closed_forms() -> None:
    tube = outlines.moments(outlines.round_tube(0.1, 0.01))
    assert tube.area == pytest.approx(math.pi * (0.1**2 - 0.08**2) / 4.0, rel=1e-14)
    assert tube.uu == pytest.approx(math.pi * (0.1**4 - 0.08**4) / 64.0, rel=1e-14)
    half = outlines.moments(outlines.round_bar(2.0), u_from=0.0)
    assert half.u == pytest.approx(2.0 / 3.0, rel=1e-14)
    # A slice of a disc, cut off where the tangent is nearly along the cut.
    sliver = outlines.moments(outlines.round_bar(2.0), u_from=1.0 - 1e-6)
    assert sliver.area == pytest.approx(math.acos(1 - 1e-6) - (1 - 1e-6) * 1.414213208e-3, rel=1e-3)


def test_a_full_circle_and_a_long_arc_are_split_where_they_must_be() -> None:
    disc = Outline(((Arc((1.0, 0.0), (1.0, 0.0), (0.0, 0.0), 1.0),),))
    assert outlines.moments(disc).area == pytest.approx(math.pi, rel=1e-14)
    assert outlines.extent(disc) == (-1.0, 1.0, -1.0, 1.0)
    # Three quarters of a disc: the quarter u > 0, v < 0 is missing.
    wedge = Outline(
        (
            (
                Line((0.0, 0.0), (1.0, 0.0)),
                Arc((1.0, 0.0), (0.0, -1.0), (0.0, 0.0), 1.0),
                Line((0.0, -1.0), (0.0, 0.0)),
            ),
        )
    )
    assert outlines.moments(wedge).area == pytest.approx(0.75 * math.pi, rel=1e-14)
    right = outlines.moments(wedge, u_from=0.0)
    assert right.area == pytest.approx(0.25 * math.pi, rel=1e-14)
    assert right.v == pytest.approx(1.0 / 3.0, rel=1e-14)


def test_moments_agree_with_a_finite_element_program() -> None:
    b, h, t = 80.0, 50.0, 4.0
    geometry = rectangular_hollow_section(d=h, b=b, t=t, r_out=8.0, n_r=64)
    section = Section(geometry.create_mesh(mesh_sizes=[20.0]))
    section.calculate_geometric_properties()
    whole = outlines.moments(TUBE)
    inertia_x, inertia_y, _ = section.get_ic()
    # 63 chords to a corner leave out (π/2/63)²/6 of the corner's sectors: parts in 1e4 of those.
    assert whole.area == pytest.approx(section.get_area() * 1e-6, rel=3e-5)
    assert whole.vv == pytest.approx(inertia_x * 1e-12, rel=3e-5)
    assert whole.uu == pytest.approx(inertia_y * 1e-12, rel=3e-5)


@pytest.mark.parametrize("name", SHAPES)
def test_a_quarter_turn_turns_the_moments(name: str) -> None:
    outline = SHAPES[name]
    before, after = outlines.moments(outline), outlines.moments(outlines.quarter_turned(outline))
    turned = [before.area, -before.v, before.u, before.vv, -before.uv, before.uu]
    for expected, found, size in zip(turned, values(after), size_of(outline), strict=True):
        assert found == pytest.approx(expected, rel=1e-12, abs=1e-13 * size)
    polygon = affinity.rotate(POLYGONS[name], 90, origin=(0.0, 0.0))
    different = polygon.symmetric_difference(as_polygon(outlines.quarter_turned(outline)))
    assert different.area < 2e-8 * outlines.perimeter(outline)


@pytest.mark.parametrize("name", SHAPES)
def test_loops_close_and_run_the_right_way(name: str) -> None:
    outline = SHAPES[name]
    for loop in outline.loops:
        for edge, following in zip(loop, (*loop[1:], loop[0]), strict=True):
            assert edge.end == following.start
    for number, points in enumerate(outlines.polygon(outline, chord_error=1e-5)):
        ring = Polygon(points).exterior
        assert ring.is_ccw == (number == 0)


@pytest.mark.parametrize("name", SHAPES)
def test_the_centre_is_that_of_the_bounding_box(name: str) -> None:
    u_min, u_max, v_min, v_max = outlines.extent(SHAPES[name])
    assert u_min == -u_max
    assert v_min == -v_max
    assert POLYGONS[name].bounds == pytest.approx((u_min, v_min, u_max, v_max), abs=1e-8)


def test_width_is_along_u_and_height_along_v() -> None:
    assert outlines.extent(TUBE) == (-0.040, 0.040, -0.025, 0.025)
    heel = outlines.moments(SHAPES["angle"])
    assert heel.u < 0.0
    assert heel.v < 0.0


def test_the_perimeter_is_the_outer_loop() -> None:
    straight = 2.0 * (0.080 - 0.016) + 2.0 * (0.050 - 0.016)
    assert outlines.perimeter(TUBE) == pytest.approx(straight + 2.0 * math.pi * 0.008, rel=1e-14)


def test_chords_stay_within_the_error_asked_for() -> None:
    error = 1e-5
    (points,) = outlines.polygon(outlines.round_bar(0.05), chord_error=error)
    for start, end in zip(points, (*points[1:], points[0]), strict=True):
        middle = math.hypot(0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1]))
        assert 0.025 - middle <= error * (1.0 + 1e-9)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: outlines.rectangular_tube(0.05, 0.05, 0.03, 0.0, 0.0), "has no hole"),
        (lambda: outlines.rectangular_tube(0.05, 0.05, 0.003, 0.03, 0.0), "outer_radius is 0.03 m"),
        (lambda: outlines.rectangular_tube(0.05, 0.05, 0.003, 0.02, 0.0), "leave no metal"),
        (lambda: outlines.rectangular_tube(0.0, 0.05, 0.003, 0.0, 0.0), "width is 0.0 m"),
        (lambda: outlines.round_tube(0.05, 0.025), "has no hole"),
        (lambda: outlines.round_bar(math.nan), "diameter is nan m"),
        (lambda: outlines.angle(0.05, 0.05, 0.06), "no inside corner"),
        (lambda: outlines.angle(0.05, 0.05, 0.005, toe_radius=0.006), "toe_radius is 0.006 m"),
        (lambda: outlines.moments(TUBE, u_from=1.0, u_to=0.0), "u = 1.0 to 0.0 m does not exist"),
        (lambda: outlines.moments(TUBE, u_from=math.nan), "does not exist"),
        (lambda: outlines.polygon(TUBE, chord_error=0.0), "chord_error is 0.0 m"),
    ],
)
def test_sizes_that_cannot_be_are_refused(make: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        make()


def test_an_angle_may_be_rounded_right_to_its_inside_corner() -> None:
    # 30 mm less 20 mm leaves 10 mm inside, all of it taken by the toe: rounding noise is no radius.
    found = outlines.angle(0.03, 0.03, 0.02, toe_radius=0.010)
    assert outlines.moments(found).area > 0.0
