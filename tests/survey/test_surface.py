"""Floor and head between the points read: kriging written out, and what must always hold."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest

from leafwright import chain
from leafwright.survey import Survey, height_at, heights_at, roughness, surface
from leafwright.survey.adjust import adjust
from leafwright.survey.observe import observations, starting_places
from leafwright.survey.surface import Roughness, Surface
from tests.sizes import cases
from tests.survey.openings import Reading, distance, job_of, mm, plumb, rise, shifted, surveyed

SD, LENGTH, SLOPE = 0.003, 0.6, 0.01
READ_SD = 0.001

Place = tuple[float, ...]
#: Heights of a floor by their places on plan [m].
Points = dict[tuple[float, float], float]


def rough(sd: float = SD, length: float = LENGTH, slope: float = SLOPE) -> Roughness:
    return Roughness(
        chain.base("default", "sd", "sd", sd),
        chain.base("default", "length", "length", length),
        chain.base("default", "slope", "slope", slope, unit="rad"),
    )


def square(wide: float = 3.0, high: float = 2.5) -> list[Reading]:
    return [
        distance("BL", "BR", wide),
        distance("BL", "TL", high),
        distance("BR", "TR", high),
        rise("BL", "BR", 0.0),
        plumb("BL", "TL", 0.0, "left"),
        plumb("BR", "TR", 0.0, "left"),
    ]


def on_plan(points: Points, sd: float = READ_SD) -> list[Reading]:
    return [
        {"kind": "floor", "x": mm(x), "z": mm(z), "is": mm(height), "sd": mm(sd)}
        for (x, z), height in points.items()
    ]


def floor_on_plan(points: Points, sd: float = READ_SD, uneven: Roughness | None = None) -> Surface:
    """Return the surface through points read on plan, without the corners."""
    found = surveyed(job_of([*square(), *on_plan(points, sd)]))
    named = [m.name for m in found.marks if m.name.startswith("floor at ")]
    places = [(name, place) for name, place in zip(named, points, strict=True)]
    return surface(found, "floor", places, uneven or rough())


def random_points(rng: random.Random, count: int, spread: float) -> Points:
    return {(rng.uniform(0, 3), rng.uniform(-1.5, 1.5)): rng.gauss(0, spread) for _ in range(count)}


def field(first: Sequence[Place], second: Sequence[Place], of: Roughness) -> np.ndarray:
    """Return the covariance of a floor, but for its level: Matérn, ν = 3/2, and a slope."""
    found = np.zeros((len(first), len(second)))
    for i, p in enumerate(first):
        for j, q in enumerate(second):
            t = math.sqrt(3) * math.dist(p, q) / of.length.value
            found[i, j] = of.sd.value**2 * (1 + t) * math.exp(-t)
            found[i, j] += math.tan(of.slope.value) ** 2 * sum(
                a * b for a, b in zip(p, q, strict=True)
            )
    return found


def by_constraint(points: Points, place: Place, of: Roughness) -> tuple[float, float]:
    """Return height and sd at a place by ordinary kriging: the shares add up to 1 [m].

    The least variance under that constraint, with a Lagrange multiplier, as in any textbook of
    geostatistics; nothing is taken for granted of the level.
    """
    where = list(points)
    n = len(where)
    middle = np.mean(where, axis=0)
    about = [tuple(np.array(p) - middle) for p in where]
    here = [tuple(np.array(place) - middle)]
    left = np.ones((n + 1, n + 1))
    left[:n, :n] = field(about, about, of) + READ_SD**2 * np.eye(n)
    left[n, n] = 0.0
    right = np.ones(n + 1)
    right[:n] = field(about, here, of)[:, 0]
    solved = np.linalg.solve(left, right)
    height = float(solved[:n] @ list(points.values()))
    variance = float(field(here, here, of)[0, 0] - solved @ right)
    return height, math.sqrt(variance)


def test_it_is_kriging_with_shares_that_add_up_to_one() -> None:
    rng = random.Random(401)
    for _ in range(cases(25, 500)):
        points = random_points(rng, rng.randint(2, 9), 0.0005)
        made = floor_on_plan(points)
        assert made.scale == 1.0
        place = (rng.uniform(-1, 4), rng.uniform(-2, 2))
        mean, sd = heights_at(made, np.array([place]))
        height, off = by_constraint(points, place, rough())
        assert mean[0] == pytest.approx(height, abs=1e-7)
        assert sd[0] == pytest.approx(off, abs=1e-7)


def test_one_point_by_hand() -> None:
    made = floor_on_plan({(1.0, 0.0): 0.012})
    mean, sd = heights_at(made, np.array([[1.0, 0.0], [1.6, 0.0], [1.0, 60.0]]))
    assert mean == pytest.approx([0.012] * 3, abs=1e-9)
    # At the point: its reading's own. A length away: t = √3, so that the heights share
    # (1 + √3) e^−√3 = 0.4834 of their variance; the slope adds 1:100 of 0.6 m.
    assert sd[0] == pytest.approx(0.001, abs=1e-7)
    apart = 2 * 0.003**2 * (1 - (1 + math.sqrt(3)) * math.exp(-math.sqrt(3)))
    assert sd[1] == pytest.approx(math.sqrt(0.001**2 + apart + 0.006**2), rel=1e-4)
    # Far off, only the slope counts.
    assert sd[2] == pytest.approx(0.6, rel=1e-3)


def test_half_way_between_two_points_is_half_way_up() -> None:
    made = floor_on_plan({(1.0, 0.0): 0.001, (2.0, 0.0): 0.003})
    mean, sd = heights_at(made, np.array([[1.5, 0.0], [1.5, 0.4], [1.5, -0.4]]))
    assert mean == pytest.approx([0.002] * 3, abs=1e-9)
    assert sd[1] == pytest.approx(sd[2]) and sd[0] < sd[1]


def test_more_points_never_make_it_less_sure() -> None:
    rng = random.Random(402)
    for _ in range(cases(25, 500)):
        points = random_points(rng, rng.randint(3, 8), 0.0005)
        fewer = dict(list(points.items())[:-1])
        places = np.array([(rng.uniform(-1, 4), rng.uniform(-2, 2)) for _ in range(20)])
        all_of_them, some = floor_on_plan(points), floor_on_plan(fewer)
        assert all_of_them.scale == some.scale == 1.0
        more, less = heights_at(all_of_them, places)[1], heights_at(some, places)[1]
        assert np.all(more <= less + 1e-7)


def test_surer_readings_make_it_surer() -> None:
    points = random_points(random.Random(403), 6, 0.0005)
    places = np.array([(0.5, 0.5), (1.5, -0.7), (2.9, 0.0)])
    sds = [heights_at(floor_on_plan(points, sd), places)[1] for sd in (0.0005, 0.001, 0.003)]
    assert np.all(sds[0] < sds[1]) and np.all(sds[1] < sds[2])


def test_seen_from_the_other_side_it_is_the_same_floor() -> None:
    points = random_points(random.Random(404), 7, 0.001)
    place = (0.8, 0.3)
    mirrored = floor_on_plan({(3.0 - x, -z): height for (x, z), height in points.items()})
    mean, sd = heights_at(floor_on_plan(points), np.array([place]))
    other, other_sd = heights_at(mirrored, np.array([(3.0 - place[0], -place[1])]))
    assert (mean[0], sd[0]) == pytest.approx((other[0], other_sd[0]), abs=1e-9)


@pytest.mark.parametrize("times", [0.1, 2.0])
def test_twice_as_large_in_everything_is_twice_as_high(times: float) -> None:
    points = random_points(random.Random(405), 6, 0.001)
    large = {(times * x, times * z): times * h for (x, z), h in points.items()}
    mean, sd = heights_at(floor_on_plan(points), np.array([(1.0, 0.2)]))
    scaled = floor_on_plan(large, times * READ_SD, rough(times * SD, times * LENGTH))
    other, other_sd = heights_at(scaled, np.array([(times, times * 0.2)]))
    assert other[0] == pytest.approx(times * mean[0], abs=1e-7)
    assert other_sd[0] == pytest.approx(times * sd[0], rel=1e-4)


def test_points_that_differ_more_than_that_show_a_rougher_floor() -> None:
    rng = random.Random(406)
    smooth = random_points(rng, 8, 0.0005)
    rougher = {place: 40 * height for place, height in smooth.items()}
    assert floor_on_plan(smooth).scale == 1.0
    made = floor_on_plan(rougher)
    assert made.scale > 2.0
    places = np.array([(1.5, 0.0)])
    assert heights_at(made, places)[1][0] > heights_at(floor_on_plan(smooth), places)[1][0]


def test_how_sure_it_is_is_how_far_off_it_is() -> None:
    """Floors drawn from the model, read with errors: what is told of them is off by its own sd."""
    rng = np.random.default_rng(407)
    off = []
    for _ in range(cases(60, 500)):
        places = np.column_stack([rng.uniform(0, 3, 8), rng.uniform(-1.5, 1.5, 8)])
        about = places - places[:7].mean(axis=0)
        joint = field([tuple(p) for p in about], [tuple(p) for p in about], rough())
        truth = np.linalg.cholesky(joint + 1e-12 * np.eye(8)) @ rng.standard_normal(8)
        read = truth + READ_SD * rng.standard_normal(8)
        points = {
            (float(x), float(z)): float(h) for (x, z), h in zip(places[:7], read, strict=False)
        }
        mean, sd = heights_at(floor_on_plan(points), places[7:])
        off.append(float((mean[0] - truth[7]) / sd[0]))
    # Of n squares of standard normal numbers the mean is 1 ± √(2/n); where the points looked
    # rougher than they are the sd is told a little too large.
    n = len(off)
    assert 1.0 - 4 * math.sqrt(2 / n) < float(np.mean(np.square(off))) < 1.0 + 3 * math.sqrt(2 / n)


def test_a_height_follows_the_readings_and_says_so() -> None:
    points = random_points(random.Random(408), 5, 0.0005)
    job = job_of([*square(), *on_plan(points)])
    everything, _ = observations(job)
    places = starting_places(job, everything)

    def made(moved: str = "", by: float = 0.0) -> Surface:
        seen = [shifted(o, by) if o.key == moved else o for o in everything]
        found = adjust(seen, places)
        assert isinstance(found, Survey)
        named = [m.name for m in found.marks if m.name.startswith("floor at ")]
        at_places = [(name, place) for name, place in zip(named, points, strict=True)]
        return surface(found, "floor", at_places, rough())

    here = (1.2, 0.4)
    height = height_at(made(), here, "there", "floor there")
    mean, sd = heights_at(made(), np.array([here]))
    assert (height.value, height.sd) == pytest.approx((mean[0], sd[0]), abs=1e-12)
    slopes = {s.base: s.by for s in height.slopes}
    assert sum(by for base, by in slopes.items() if base.startswith("reading/")) == pytest.approx(1)
    for o in everything:
        after = height_at(made(o.key, 1e-4), here, "there", "floor there")
        assert after.value - height.value == pytest.approx(
            1e-4 * slopes.get(o.key, 0.0), abs=1e-9
        ), o.key
    below = {q.key for q in chain.walked(height)}
    assert {"sd", "length", "slope"} <= below
    (uneven,) = (s for s in height.slopes if s.base.endswith("/unevenness"))
    assert uneven.sd > 0.0 and uneven.by == 1.0


@pytest.mark.parametrize("of", ["floor", "head"])
def test_how_uneven_they_are_taken_to_be(of: str) -> None:
    # Common practice, no source: 1/8 in and 1/16 in over 2 ft, 1:100.
    usual = roughness("floor" if of == "floor" else "head", system="feet-inch")
    inch = 0.0254
    assert usual.sd.value == pytest.approx(inch / (8 if of == "floor" else 16))
    assert usual.length.value == pytest.approx(24 * inch)
    assert usual.slope.value == pytest.approx(0.01)
    assert all("no source" in q.note for q in (usual.sd, usual.length, usual.slope))


def test_a_surface_through_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="floor: no point of it was read"):
        surface(surveyed(job_of(square())), "floor", [], rough())
