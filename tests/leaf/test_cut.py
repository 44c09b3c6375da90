"""A bar cut by planes: outline, volume and centroid against methods that share nothing with it."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely.geometry import Polygon

from leafwright.handbook import outlines
from leafwright.leaf import CutBar, Plane, cut_bar
from leafwright.records import Point2
from tests.leaves import INCH, STEEL, TUBES
from tests.sizes import cases

# So many fibres between one change of the section and the next. Where a corner's arc stands
# upright, a sum over strips is good to the power 3/2 of a strip: under 1e-7 of the whole.
STRIPS = 20_000
FIBRES = 1e-7


def height_of_metal(
    u: NDArray[np.float64], width: float, height: float, radius: float
) -> NDArray[np.float64]:
    """Return how high a rounded rectangle stands at u from its middle [m], 0 beside it."""
    inside = np.abs(u) < width / 2
    past = np.maximum(np.abs(u) - (width / 2 - radius), 0.0)
    lost = radius - np.sqrt(np.maximum(radius**2 - past**2, 0.0))
    return np.where(inside, height - 2 * lost, 0.0)


def strips(ends: list[float]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return middles and widths of the strips between each end and the next [m]."""
    middles, widths = [], []
    for a, b in itertools.pairwise(ends):
        middles.append(a + (b - a) * (np.arange(STRIPS) + 0.5) / STRIPS)
        widths.append(np.full(STRIPS, (b - a) / STRIPS))
    return np.concatenate(middles), np.concatenate(widths)


def by_fibres(
    designation: str, foot: Point2, direction: Point2, start: list[Plane], end: list[Plane]
) -> tuple[float, Point2]:
    """Return volume [m3] and centroid [m] of a cut tube, added up strip by strip."""
    tube = STEEL.section(designation)
    outer, inner = tube.nominal_radii()
    width, height, wall = tube.width, tube.height, tube.nominal_wall
    half = width / 2
    changes = [half, half - outer, half - wall, half - wall - inner]
    u, strip = strips(sorted({*changes, *(-c for c in changes)}))
    metal = height_of_metal(u, width, height, outer)
    metal -= height_of_metal(u, width - 2 * wall, height - 2 * wall, inner)
    size = math.hypot(*direction)
    along, across = np.array(direction) / size, np.array([-direction[1], direction[0]]) / size
    edge = np.array(foot) + u[:, None] * across

    def reach(plane: Plane) -> NDArray[np.float64]:
        n = np.array(plane.normal)
        found: NDArray[np.float64] = (plane.offset - edge @ n) / (along @ n)
        return found

    lo = np.max([reach(p) for p in start], axis=0)
    hi = np.min([reach(p) for p in end], axis=0)
    weight = metal * (hi - lo) * strip
    volume = float(weight.sum())
    centroid = weight @ (edge + ((lo + hi) / 2)[:, None] * along) / volume
    return volume, (float(centroid[0]), float(centroid[1]))


def by_clipping(width: float, foot: Point2, direction: Point2, planes: list[Plane]) -> Polygon:
    """Return a bar's elevation: a long strip from which each plane's far side is taken."""
    far = 100.0
    size = math.hypot(*direction)
    d = np.array(direction) / size
    n = np.array([-d[1], d[0]])
    at = np.array(foot)
    corners = [(-far, -1), (far, -1), (far, 1), (-far, 1)]
    strip = Polygon([at + s * d + side * width / 2 * n for s, side in corners])
    for plane in planes:
        normal = np.array(plane.normal)
        tangent = np.array([-normal[1], normal[0]])
        on = plane.offset * normal
        kept = [(-far, -2 * far), (-far, 2 * far), (0.0, 2 * far), (0.0, -2 * far)]
        left = strip.intersection(Polygon([on + s * normal + t * tangent for s, t in kept]))
        assert isinstance(left, Polygon)
        strip = left
    return strip


def random_cut(seed: int) -> tuple[str, Point2, Point2, list[Plane], list[Plane]]:
    """Return tube, foot, direction and planes of a bar with square, mitred and wedge ends."""
    rng = random.Random(seed)
    tube = rng.choice(TUBES)
    foot = (rng.uniform(-2, 2), rng.uniform(-2, 2))
    turn = rng.uniform(-math.pi, math.pi)
    direction = (2.5 * math.cos(turn), 2.5 * math.sin(turn))
    length = rng.uniform(0.6, 4.0)
    ends: list[list[Plane]] = []
    for ahead, at in ((math.pi, 0.0), (0.0, length)):
        shape = rng.choice(["square", "mitre", "wedge", "wedge"])
        angles = {
            "square": [0.0],
            "mitre": [rng.uniform(-1.1, 1.1)],
            "wedge": [rng.uniform(0.05, 1.3), -rng.uniform(0.05, 1.3)],
        }[shape]
        # Planes of a wedge need not meet on the centre line: one may take over off it, or never.
        slips = [rng.uniform(-0.03, 0.03) for _ in angles]
        planes = []
        for angle, slip in zip(angles, slips, strict=True):
            n = (math.cos(turn + ahead + angle), math.sin(turn + ahead + angle))
            on = (
                foot[0] + (at + slip) * math.cos(turn),
                foot[1] + (at + slip) * math.sin(turn),
            )
            planes.append(Plane(n, n[0] * on[0] + n[1] * on[1]))
        ends.append(planes)
    return tube, foot, direction, ends[0], ends[1]


def cut(tube: str, foot: Point2, direction: Point2, start: list[Plane], end: list[Plane]) -> CutBar:
    section = STEEL.section(tube)
    return cut_bar(section.mass_outline(), section.width, foot, direction, start=start, end=end)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_volume_and_centroid_of_a_tube_are_those_of_its_fibres(seed: int) -> None:
    given = random_cut(seed)
    bar = cut(*given)
    volume, centroid = by_fibres(*given)
    assert bar.volume == pytest.approx(volume, rel=FIBRES)
    assert bar.centroid == pytest.approx(centroid, abs=FIBRES)


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_outline_is_the_strip_that_the_planes_leave(seed: int) -> None:
    tube, foot, direction, start, end = random_cut(seed)
    bar = cut(tube, foot, direction, start, end)
    clipped = by_clipping(STEEL.section(tube).width, foot, direction, [*start, *end])
    drawn = Polygon(bar.outline)
    # Both are worked in double precision on a strip 200 m long: 1e-12 m2 of area.
    assert drawn.symmetric_difference(clipped).area < 1e-10
    assert drawn.exterior.is_ccw


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_long_and_short_points_are_those_of_the_outline(seed: int) -> None:
    tube, foot, direction, start, end = random_cut(seed)
    bar = cut(tube, foot, direction, start, end)
    size = math.hypot(*direction)
    d = (direction[0] / size, direction[1] / size)
    along = sorted((x - foot[0]) * d[0] + (y - foot[1]) * d[1] for x, y in bar.outline)
    assert bar.long == pytest.approx(along[-1] - along[0], abs=1e-12)
    ends = [len(bar.end.profile), len(bar.start.profile)]
    reached = [(x - foot[0]) * d[0] + (y - foot[1]) * d[1] for x, y in bar.outline]
    assert bar.short == pytest.approx(min(reached[: ends[0]]) - max(reached[ends[0] :]), abs=1e-12)


def test_square_cut_bar_is_area_times_length() -> None:
    section = STEEL.section("HSS 3 x 3 x 3/16")
    bar = cut(
        "HSS 3 x 3 x 3/16",
        (1.0, 2.0),
        (0.0, 3.0),
        [Plane((0.0, -1.0), -2.0)],
        [Plane((0.0, 1.0), 5.5)],
    )
    # Area of the rounded tube by hand: outer less inner rectangle, each less its corners.
    t = 3 / 16 * INCH
    area = (3 * INCH) ** 2 - (4 - math.pi) * (2 * t) ** 2
    area -= (3 * INCH - 2 * t) ** 2 - (4 - math.pi) * t**2
    assert bar.volume == pytest.approx(area * 3.5, rel=1e-12)
    assert bar.centroid == pytest.approx((1.0, 3.75), abs=1e-12)
    assert bar.long == bar.short == pytest.approx(3.5)
    assert bar.start.angles == bar.end.angles == (0.0,)
    assert np.ravel(bar.end.profile) == pytest.approx([0.0, 0.0, section.width, 0.0])


def test_mitre_of_45_degrees_reads_as_the_saw_shows_it() -> None:
    root = math.sqrt(0.5)
    bar = cut(
        "SHS 40 x 40 x 3",
        (0.0, 0.0),
        (1.0, 0.0),
        [Plane((-1.0, 0.0), 0.0)],
        [Plane((root, root), root * 1.0)],
    )
    # The plane x + y = 1 m leaves the lower (right-hand) edge longer by the width of the tube.
    assert bar.long == pytest.approx(1.02)
    assert bar.short == pytest.approx(0.98)
    assert bar.end.angles == pytest.approx((math.pi / 4,))
    assert np.ravel(bar.end.profile) == pytest.approx([0.0, 0.0, 0.04, 0.04])


def test_wedge_runs_back_from_its_point_by_the_cotangent_of_each_face() -> None:
    # Into a corner at (1, 1): faces x = 1 and y = 1, bar rising at 30 degrees to the horizontal.
    rise = math.radians(30)
    bar = cut(
        "SHS 40 x 40 x 3",
        (0.0, 1.0 - math.tan(rise)),
        (math.cos(rise), math.sin(rise)),
        [Plane((-math.cos(rise), -math.sin(rise)), 0.0)],
        [Plane((1.0, 0.0), 1.0), Plane((0.0, 1.0), 1.0)],
    )
    half = 0.02
    assert np.ravel(bar.end.profile) == pytest.approx(
        [0.0, half * math.tan(rise), half, 0.0, 2 * half, half / math.tan(rise)]
    )
    assert bar.end.angles == pytest.approx((rise, math.pi / 2 - rise))


def test_plane_that_nowhere_governs_changes_nothing_but_is_kept() -> None:
    square = [Plane((1.0, 0.0), 1.0)]
    spare = [*square, Plane((math.cos(0.3), math.sin(0.3)), 1.5)]
    one = cut("SHS 40 x 40 x 3", (0.0, 0.0), (1.0, 0.0), [Plane((-1.0, 0.0), 0.0)], square)
    two = cut("SHS 40 x 40 x 3", (0.0, 0.0), (1.0, 0.0), [Plane((-1.0, 0.0), 0.0)], spare)
    assert two.outline == one.outline
    assert two.volume == one.volume
    assert len(two.end.planes) == 2


def test_solid_bar_is_cut_as_well() -> None:
    section = STEEL.section("round bar 1/2 in")
    d = 0.5 * INCH
    bar = cut_bar(
        section.mass_outline(),
        section.width,
        (0.0, 0.0),
        (1.0, 0.0),
        start=[Plane((-1.0, 0.0), 0.0)],
        end=[Plane((math.sqrt(0.5), math.sqrt(0.5)), math.sqrt(0.5))],
    )
    # A mitre through a round bar's axis at 1 m takes as much from one side as it leaves on the
    # other; its centroid lies off the axis by the second moment: I tan 45° / (A L) = d²/16 / L.
    assert bar.volume == pytest.approx(math.pi / 4 * d**2, rel=1e-12)
    assert bar.centroid[1] == pytest.approx(-(d**2) / 16, rel=1e-9)


@pytest.mark.parametrize(
    ("start", "end", "message"),
    [
        ([], [Plane((1.0, 0.0), 1.0)], "a bar needs at least one cut at each end"),
        ([Plane((-1.0, 0.0), 0.0)], [], "a bar needs at least one cut at each end"),
        (
            [Plane((-1.0, 0.0), 0.0)],
            [Plane((-1.0, 0.0), 1.0)],
            r"the cut with normal \(-1\.000000, 0\.000000\) does not cross the bar's end; "
            "its normal must point out of the bar",
        ),
        (
            [Plane((0.0, 1.0), 0.0)],
            [Plane((1.0, 0.0), 1.0)],
            r"the cut with normal \(0\.000000, 1\.000000\) does not cross the bar's start",
        ),
        (
            [Plane((-1.0, 0.0), -1.0)],
            [Plane((1.0, 0.0), 0.5)],
            "the cuts of the two ends cross: nothing of the bar would be left",
        ),
    ],
)
def test_cuts_that_make_no_bar_are_refused(
    start: list[Plane], end: list[Plane], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        cut_bar(outlines.flat_bar(0.04, 0.01), 0.04, (0.0, 0.0), (1.0, 0.0), start=start, end=end)
