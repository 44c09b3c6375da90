"""Outlines, sections and grades against an independent geometry library and published tables.

Independent: the same shapes put together in shapely (GEOS), arcs as 4096 chords a quarter, their
second moments summed over the polygon's edges. Tables are named beside their values; lengths in mm.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable
from importlib import resources
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from leafwright.handbook import outlines, sections
from leafwright.handbook.catalogue import (
    Catalogue,
    catalogue_from,
    find,
    load_catalogue,
    turned,
)
from leafwright.handbook.grades import grade_from, strength_of
from leafwright.handbook.outlines import Arc, Line, Outline
from leafwright.handbook.rolled_beams import rolled_beam

KSI = 6.894757293168e6
MPA = 1e6
FINE = 4096


def rounded(width: float, height: float, radius: float) -> Polygon:
    """Return a rounded rectangle about 0, 0."""
    u, v = 0.5 * width, 0.5 * height
    if radius == 0.0:
        return box(-u, -v, u, v)
    core = box(radius - u, radius - v, u - radius, v - radius)
    return core.buffer(radius, quad_segs=FINE)


def second_moments(shape: Polygon) -> tuple[float, float]:
    """Return the integrals of u² and v² over a polygon with holes, by its edges."""
    found = [0.0, 0.0]
    for ring, sign in [(shape.exterior, 1.0), *((hole, -1.0) for hole in shape.interiors)]:
        u, v = np.array(ring.coords).T
        cross = u[:-1] * v[1:] - u[1:] * v[:-1]
        turning = sign * math.copysign(1.0, cross.sum())
        for axis, x in enumerate((u, v)):
            along = x[:-1] ** 2 + x[:-1] * x[1:] + x[1:] ** 2
            found[axis] += turning * float((cross * along).sum()) / 12.0
    return found[0], found[1]


def disc(radius: float) -> Polygon:
    return Point(0.0, 0.0).buffer(radius, quad_segs=FINE)


def only(shape: BaseGeometry) -> Polygon:
    assert isinstance(shape, Polygon)
    return shape


def angle_of(a: float, b: float, t: float, root: float, toe: float) -> Polygon:
    """Return an angle about the middle of its box, its heel at the least u and v."""
    shape = box(0.0, 0.0, a, t).union(box(0.0, 0.0, t, b))
    if root:
        corner = box(t, t, t + root, t + root)
        shape = shape.union(corner - Point(t + root, t + root).buffer(root, quad_segs=FINE))
    if toe:
        for u, v in ((a - toe, t - toe), (t - toe, b - toe)):
            cut = box(u, v, u + toe, v + toe) - Point(u, v).buffer(toe, quad_segs=FINE)
            shape -= cut
    return only(affinity.translate(shape, -0.5 * a, -0.5 * b))


# Name, what makes the outline, and the same shape put together in shapely.
SHAPES: list[tuple[str, Callable[[], Outline], Polygon]] = [
    (
        "rectangular tube",
        lambda: outlines.rectangular_tube(0.08, 0.05, 0.004, 0.008, 0.004),
        only(rounded(0.08, 0.05, 0.008) - rounded(0.072, 0.042, 0.004)),
    ),
    (
        "sharp tube",
        lambda: outlines.rectangular_tube(0.08, 0.05, 0.004, 0.0, 0.0),
        only(rounded(0.08, 0.05, 0.0) - rounded(0.072, 0.042, 0.0)),
    ),
    (
        "round tube",
        lambda: outlines.round_tube(0.0603, 0.0029),
        only(disc(0.03015) - disc(0.02725)),
    ),
    ("round bar", lambda: outlines.round_bar(0.024), disc(0.012)),
    ("flat bar", lambda: outlines.flat_bar(0.1, 0.012), rounded(0.1, 0.012, 0.0)),
    (
        "angle with fillet and toes",
        lambda: outlines.angle(0.06, 0.04, 0.006, root_radius=0.006, toe_radius=0.003),
        angle_of(0.06, 0.04, 0.006, 0.006, 0.003),
    ),
    (
        "thick angle with long toes",
        lambda: outlines.angle(0.03, 0.03, 0.02, toe_radius=0.008),
        angle_of(0.03, 0.03, 0.02, 0.0, 0.008),
    ),
]


@pytest.mark.parametrize(("name", "made", "other"), SHAPES)
def test_outline_is_the_shape_that_shapely_builds(
    name: str, made: Callable[[], Outline], other: Polygon
) -> None:
    # Independent: shapely; 4096 chords a quarter are 1e-7 off at most.
    outline = made()
    whole = outlines.moments(outline)
    uu, vv = second_moments(other)
    assert whole.area == pytest.approx(other.area, rel=1e-6), name
    assert (whole.uu, whole.vv) == pytest.approx((uu, vv), rel=1e-6)
    assert outlines.perimeter(outline) == pytest.approx(other.exterior.length, rel=1e-6)
    least_u, least_v, greatest_u, greatest_v = other.bounds
    assert outlines.extent(outline) == pytest.approx(
        (least_u, greatest_u, least_v, greatest_v), abs=1e-9
    )


@pytest.mark.parametrize(("name", "made", "other"), SHAPES)
def test_turned_and_cut_outline_is_shapelys(
    name: str, made: Callable[[], Outline], other: Polygon
) -> None:
    # Independent: shapely rotates by 90° and cuts with a box.
    outline = made()
    quarter = affinity.rotate(other, 90.0, origin=(0.0, 0.0))
    uu, vv = second_moments(quarter)
    whole = outlines.moments(outlines.quarter_turned(outline))
    assert (whole.uu, whole.vv) == pytest.approx((uu, vv), rel=1e-6), name
    least, greatest = other.bounds[0], other.bounds[2]
    cut = least + 0.37 * (greatest - least)
    below = other.intersection(box(least, -1.0, cut, 1.0))
    part = outlines.moments(outline, u_to=cut)
    assert part.area == pytest.approx(below.area, rel=1e-6)
    assert part.u == pytest.approx(below.area * below.centroid.x, rel=1e-6)


@pytest.mark.parametrize(("name", "made", "other"), SHAPES)
def test_plastic_modulus_by_halving_in_shapely(
    name: str, made: Callable[[], Outline], other: Polygon
) -> None:
    # Independent: the line along v that halves the area, found by Brent's method on shapely cuts;
    # each half's area times the distance of its centroid.
    least, greatest = other.bounds[0], other.bounds[2]

    def below(u: float) -> BaseGeometry:
        return other.intersection(box(least - 1.0, -1.0, u, 1.0))

    half = brentq(lambda u: below(u).area - 0.5 * other.area, least, greatest, xtol=1e-14)
    low = below(half)
    high = other - box(least - 1.0, -1.0, half, 1.0)
    Z = low.area * (half - low.centroid.x) + high.area * (high.centroid.x - half)
    assert sections.plastic_modulus(made()) == pytest.approx(Z, rel=1e-6), name


@pytest.mark.parametrize("chord_error", [1e-5, 2e-3, 9e-3])
@pytest.mark.parametrize(("name", "made", "other"), SHAPES)
def test_polygon_stays_within_the_chord_error(
    name: str, made: Callable[[], Outline], other: Polygon, chord_error: float
) -> None:
    # Independent: shapely's Hausdorff distance from the true edge, coarse to over half a radius.
    loops = outlines.polygon(made(), chord_error=chord_error)
    found = Polygon(loops[0], loops[1:])
    assert len(loops) == 1 + len(other.interiors), name
    for ring, true in zip(
        [found.exterior, *found.interiors], [other.exterior, *other.interiors], strict=True
    ):
        # The vertices lie on the edge, and the edge lies no further off than asked.
        assert max(true.distance(Point(point)) for point in ring.coords) < 1e-8
        assert max(ring.distance(Point(p)) for p in true.coords[::64]) <= chord_error * 1.001
    if chord_error == 1e-5:
        assert found.area == pytest.approx(other.area, rel=5e-3)


def test_a_half_disc_reaches_beyond_the_ends_of_its_arc() -> None:
    """By hand: an arc from -90° swept by 180° passes 0°, so the least and greatest u are 0 and r.

    Area π r²/2 (shapely agrees); walked the other way the sweep is -180°; ends that coincide make
    a full turn.
    """
    r = 0.05
    arc = Arc((0.0, -r), (0.0, r), (0.0, 0.0), r)
    half = Outline(((arc, Line((0.0, r), (0.0, -r))),))
    assert outlines.arc_angles(arc) == pytest.approx((-math.pi / 2, math.pi))
    back = Arc((0.0, r), (0.0, -r), (0.0, 0.0), r, counterclockwise=False)
    assert outlines.arc_angles(back) == pytest.approx((math.pi / 2, -math.pi))
    full = Arc((r, 0.0), (r, 0.0), (0.0, 0.0), r)
    assert outlines.arc_angles(full) == pytest.approx((0.0, 2.0 * math.pi))
    assert outlines.extent(half) == pytest.approx((0.0, r, -r, r))
    other = disc(r).intersection(box(0.0, -1.0, 1.0, 1.0))
    assert outlines.moments(half).area == pytest.approx(math.pi * r**2 / 2.0)
    assert outlines.moments(half).area == pytest.approx(other.area, rel=1e-6)
    assert outlines.perimeter(half) == pytest.approx(other.length, rel=1e-6)


# EN 10219-2: outer corners T ≤ 6 mm 1.6 to 2.4 T, to 10 mm 2.0 to 3.0 T, above 2.4 to 3.6 T (read
# in three makers' tables): calculation takes the middle. Side and wall [mm] and the area [cm²] of a
# published table of British sections (read), which the radii must give back.
@pytest.mark.parametrize(
    ("side", "wall", "outer", "inner", "area"),
    [
        (50.0, 3.0, 2.0, 1.0, 5.41),
        (80.0, 4.0, 2.0, 1.0, 11.7),
        (100.0, 8.0, 2.5, 1.5, 27.2),
        (120.0, 10.0, 2.5, 1.5, 40.6),
        (180.0, 12.5, 3.0, 2.0, 77.0),
    ],
)
def test_corner_radii_of_cold_formed_tube(
    side: float, wall: float, outer: float, inner: float, area: float
) -> None:
    r_o, r_i = sections.en10219_radii(wall / 1000.0)
    assert (r_o * 1000.0 / wall, r_i * 1000.0 / wall) == pytest.approx((outer, inner))
    b, T = side / 1000.0, wall / 1000.0
    tube = rounded(b, b, r_o) - rounded(b - 2.0 * T, b - 2.0 * T, r_i)
    # Half a unit of the last of three digits.
    assert tube.area * 1e4 == pytest.approx(area, abs=0.005 if area < 10.0 else 0.05)


# The same British table: CHS, outside and wall [mm]; A [cm²], W_el, W_t [cm³].
@pytest.mark.parametrize(
    ("D", "T", "A", "W_el", "W_t"),
    [(33.7, 3.0, 2.89, 2.04, 4.08), (48.3, 3.0, 4.27, 4.55, 9.11)],
)
def test_round_tube_of_en_10219(D: float, T: float, A: float, W_el: float, W_t: float) -> None:
    found = sections.en10219_round_properties(D / 1000.0, T / 1000.0)
    assert found.area * 1e4 == pytest.approx(A, rel=0.002)
    assert found.section_modulus_u * 1e6 == pytest.approx(W_el, rel=0.003)
    assert found.torsional_shear_constant * 1e6 == pytest.approx(W_t, rel=0.003)


# Saint-Venant torsion of a rectangle b by t, J = k2 b t³ and C = k1 b t²: k2 read in an analysis
# program's theory manual and in a university's annex, k1 in the annex; half a unit of the last
# digit. The two differ at 10 (0.312 and 0.31).
TORSION = [
    (1.0, 0.141, 0.208),
    (1.5, 0.196, 0.231),
    (2.0, 0.229, 0.246),
    (3.0, 0.263, 0.267),
    (4.0, 0.281, 0.282),
    (5.0, 0.291, None),
    (8.0, 0.307, 0.307),
    (10.0, 0.312, None),
]


@pytest.mark.parametrize(("ratio", "k2", "k1"), TORSION)
@pytest.mark.parametrize("lying", [True, False])
def test_flat_bar(ratio: float, k2: float, k1: float | None, lying: bool) -> None:
    # Besides torsion: b t, b t³/12, b t²/4 and the radii by closed forms (Roark, Appendix A).
    t = 0.012
    b = ratio * t
    found = sections.properties_of_flat_bar(*((b, t) if lying else (t, b)))
    assert found.torsion_constant / (b * t**3) == pytest.approx(k2, abs=0.0011)
    if k1 is not None:
        assert found.torsional_shear_constant / (b * t**2) == pytest.approx(k1, abs=0.0006)
    thin, wide = ("u", "v") if lying else ("v", "u")
    assert found.area == pytest.approx(b * t)
    assert getattr(found, f"inertia_{thin}") == pytest.approx(b * t**3 / 12.0)
    assert getattr(found, f"inertia_{wide}") == pytest.approx(t * b**3 / 12.0)
    assert getattr(found, f"section_modulus_{wide}") == pytest.approx(t * b**2 / 6.0)
    assert getattr(found, f"plastic_modulus_{thin}") == pytest.approx(b * t**2 / 4.0)
    assert found.least_radius_of_gyration == pytest.approx(t / math.sqrt(12.0))


def test_very_thin_flat_bar() -> None:
    """Both k tend to 1/3 (read in a textbook on narrow rectangles); J = b t³/3 (1 - 0.630 t/b)."""
    b, t = 0.6, 0.0006
    found = sections.properties_of_flat_bar(b, t)
    assert found.torsion_constant == pytest.approx(b * t**3 / 3.0 * (1 - 0.630 * t / b), rel=1e-5)
    assert found.torsional_shear_constant == pytest.approx(b * t**2 / 3.0, rel=1e-3)


def test_shear_area_of_a_flat_bar_by_integration() -> None:
    """Parabolic shear: V over 2A/3 is the greatest stress, V Q/(I t) at mid-depth, integrated."""
    b, t = 0.1, 0.012
    found = sections.properties_of_flat_bar(b, t)
    Q, _ = quad(lambda u: u * t, 0.0, b / 2.0)
    assert 1.0 / found.shear_area_u == pytest.approx(Q / (t * b**3 / 12.0 * t))


def test_sharp_angle_and_its_other_lie() -> None:
    """L50x50x6 EN 10056: sharp-cornered by hand: A 564 mm², centroid 14.4 mm, I 12.89 cm⁴."""
    found = sections.properties_of_angle(0.05, 0.05, 0.006)
    A = (50.0 + 44.0) * 6.0
    e = (50.0 * 6.0 * 3.0 + 44.0 * 6.0 * 28.0) / A
    I = 50 * 6**3 / 12 + 300 * (e - 3) ** 2 + 6 * 44**3 / 12 + 264 * (28 - e) ** 2  # noqa: E741
    assert found.area * 1e6 == pytest.approx(A)
    assert (found.centroid_v + 0.025) * 1e3 == pytest.approx(e)
    assert found.inertia_u * 1e12 == pytest.approx(I)
    # The furthest fibre is the toe's end.
    assert found.section_modulus_u * 1e9 == pytest.approx(I / (50.0 - e))


# --- the catalogue ------------------------------------------------------------------------------


def data_file() -> dict[str, Any]:
    file = resources.files("leafwright.handbook") / "steel_catalogue.toml"
    return tomllib.loads(file.read_text(encoding="utf-8"))


# ASTM A500, two makers' sheets (read): Grades B and C, shaped and round [ksi]. EN 10025-2, Table 7
# (read): S355J2, tensile strength under 3 mm and from 3 mm [MPa]. Thickness [mm].
STRENGTHS = [
    ("A500 Gr C", sections.RECTANGULAR_TUBE, 3.0, 50.0 * KSI, 62.0 * KSI),
    ("A500 Gr C", sections.ROUND_TUBE, 3.0, 46.0 * KSI, 62.0 * KSI),
    ("A500 Gr B", sections.RECTANGULAR_TUBE, 3.0, 46.0 * KSI, 58.0 * KSI),
    ("A500 Gr B", sections.ROUND_TUBE, 3.0, 42.0 * KSI, 58.0 * KSI),
    ("S355J2", sections.FLAT_BAR, 2.9, 355.0 * MPA, 510.0 * MPA),
    ("S355J2", sections.FLAT_BAR, 3.0, 355.0 * MPA, 470.0 * MPA),
    ("S275JR", sections.FLAT_BAR, 16.0, 275.0 * MPA, 410.0 * MPA),
    ("S235JR", sections.FLAT_BAR, 20.0, 225.0 * MPA, 360.0 * MPA),
]


@pytest.mark.parametrize(("name", "shape", "thickness", "yielding", "tensile"), STRENGTHS)
def test_strength_of_a_grade(
    name: str, shape: str, thickness: float, yielding: float, tensile: float
) -> None:
    data = data_file()
    entry = next(one for one in data["grade"] if one["name"] == name)
    grade = grade_from(entry, data["moduli"])
    assert strength_of(grade, shape, thickness / 1000.0) == pytest.approx((yielding, tensile))
    # 29,000 ksi (AISC 360) and 210 GPa (EN 1993-1-1, 3.2.6).
    E = 29_000.0 * KSI if name.startswith("A") else 210_000.0 * MPA
    assert grade.elastic_modulus == pytest.approx(E)


@pytest.mark.parametrize("made", [load_catalogue, lambda: catalogue_from(data_file())])
def test_catalogue_holds_the_published_sizes(made: Callable[[], Catalogue]) -> None:
    """AISC Shapes Database v16.0 (read): 3.05 lb/ft, A 0.84 in²; British RHS 60x40x3: 4.25 kg/m.

    I about the axis along the long side 13.4, along the short one 25.4 cm⁴: turned, they change.
    """
    catalogue = made()
    hss = find(catalogue, "HSS 2 x 2 x 1/8")
    assert hss.mass_per_metre / (0.45359237 / 0.3048) == pytest.approx(3.05, rel=0.002)
    assert hss.properties().area / 0.0254**2 == pytest.approx(0.84, rel=0.005)
    lying = find(catalogue, "RHS 60 x 40 x 3")
    assert lying.mass_per_metre == pytest.approx(4.25, rel=0.005)
    assert lying.properties().inertia_u * 1e8 == pytest.approx(13.4, rel=0.005)
    standing = turned(lying)
    assert standing.properties().inertia_u * 1e8 == pytest.approx(25.4, rel=0.005)
    assert (standing.width, standing.height) == pytest.approx((0.040, 0.060))


# --- rolled beams overhead ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "depth", "width", "web", "flange", "unit"),
    [
        # AISC Manual, Table 1-1, as published examples quote it (read): Design Examples v16.0, J.7
        # (W24x55); a beam-column (W12x65); a beam in shear (W21x55, d and t_w); the Commentary's
        # benchmark (W14x48, d and t_w) [in].
        ("W24x55", 23.6, None, 0.395, 0.505, 0.0254),
        ("W12x65", 12.1, 12.0, 0.390, 0.605, 0.0254),
        ("w 21 x 55", 20.8, None, 0.375, None, 0.0254),
        ("W14X48", 13.8, None, 0.340, None, 0.0254),
        # A classification example (read) [mm].
        ("IPE 300", 300.0, 150.0, 7.1, 10.7, 0.001),
        ("HE 300 A", 290.0, 300.0, None, 14.0, 0.001),
    ],
)
def test_rolled_beam(
    name: str,
    depth: float,
    width: float | None,
    web: float | None,
    flange: float | None,
    unit: float,
) -> None:
    found = rolled_beam(name)
    assert found is not None
    for size, expected in (
        (found.depth, depth),
        (found.flange_width, width),
        (found.web, web),
        (found.flange, flange),
    ):
        if expected is not None:
            assert size / unit == pytest.approx(expected)


def test_rolled_beam_has_its_published_area() -> None:
    """HEA 300: 11,250 mm² in a column example (read): flanges, web and four fillets of 27 mm."""
    beam = rolled_beam("HEA 300")
    assert beam is not None
    root = beam.k - beam.flange
    area = 2.0 * beam.flange_width * beam.flange + (beam.depth - 2.0 * beam.flange) * beam.web
    assert root * 1e3 == pytest.approx(27.0)
    assert (area + (4.0 - math.pi) * root**2) * 1e6 == pytest.approx(11_250.0, rel=0.001)
