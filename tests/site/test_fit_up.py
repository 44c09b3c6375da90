"""The fit-up pad: known shapes are found again, and what is not known is said to be."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pytest

from leafwright.records import Check, Verdict, to_json
from leafwright.site.fit_up import FitUp, fit_up, fit_up_of
from leafwright.site.out_of_shape import Limits
from leafwright.site.pad import CORNERS, EDGES, Kind, PadReading
from leafwright.units import Tape
from tests.leaves import place
from tests.sizes import cases

INCH = 0.0254
TAPE = Tape("inch", 16)

# The reference leaf of the trade brief, 44 x 174 in.
WIDTH, HEIGHT = 44 * INCH, 174 * INCH

SIDES = (
    ("bottom hinge", "bottom closing"),
    ("top hinge", "top closing"),
    ("bottom hinge", "top hinge"),
    ("bottom closing", "top closing"),
)
DIAGONALS = (("bottom hinge", "top closing"), ("bottom closing", "top hinge"))


@dataclass(frozen=True)
class Shape:
    """A leaf out of shape: four corners in its plane, bows outward, and a twist [m]."""

    corners: tuple[tuple[float, float], ...]
    bows: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    twist: float = 0.0

    def at(self, name: str, share: float = 0.5) -> np.ndarray:
        """Return a place in space: a corner, or a part of the way along a bowed edge."""
        lift = [self.twist / 4, -self.twist / 4, -self.twist / 4, self.twist / 4]
        solid = [np.array([*c, z]) for c, z in zip(self.corners, lift, strict=True)]
        if name in CORNERS:
            return solid[CORNERS.index(name)]
        ends, outward = {
            "hinge edge": ((0, 2), (-1.0, 0.0)),
            "closing edge": ((1, 3), (1.0, 0.0)),
            "bottom edge": ((0, 1), (0.0, -1.0)),
            "top edge": ((2, 3), (0.0, 1.0)),
        }[name]
        a, b = solid[ends[0]], solid[ends[1]]
        way = b - a
        square = np.array([-way[1], way[0], 0.0]) / math.hypot(way[0], way[1])
        square *= math.copysign(1.0, square[:2] @ np.array(outward))
        bow = self.bows[list(EDGES).index(name)]
        return np.asarray(a + share * way + 4 * share * (1 - share) * bow * square)

    def distance(self, first: str, second: str, share: float = 0.5) -> float:
        return float(np.linalg.norm(self.at(first, share) - self.at(second, share)))


def racked(
    lean: float = 0.0, *, width: float = WIDTH, height: float = HEIGHT, wider: float = 0.0
) -> Shape:
    """Return a leaf whose top leans to the closing edge and is wider than its bottom [m]."""
    up = math.sqrt(height**2 - lean**2)
    half = wider / 4
    return Shape(
        (
            (half, 0.0),
            (width - half, 0.0),
            (lean - half, up),
            (width + lean + half, up),
        )
    )


def read(
    kind: Kind,
    first: str,
    second: str,
    shape: Shape,
    *,
    at: float | None = None,
    level: float = 1.0,
    sd: float = 0.0005,
) -> PadReading:
    if kind == "level":
        value = level + float(shape.at(first)[2])
    elif kind == "string":
        ends = EDGES[first]
        a, b = shape.at(CORNERS[ends[0]]), shape.at(CORNERS[ends[1]])
        away = float(np.linalg.norm(shape.at(first) - (a + b) / 2))
        value = math.copysign(away, shape.bows[list(EDGES).index(first)])
    else:
        long = HEIGHT if first in ("hinge edge", "closing edge") else WIDTH
        value = shape.distance(first, second, 0.5 if at is None else at / long)
    return PadReading(kind, first, second, at, value, sd)


def read_all(shape: Shape) -> list[PadReading]:
    readings = [read("distance", a, b, shape) for a, b in (*SIDES, *DIAGONALS)]
    readings.append(read("distance", "hinge edge", "closing edge", shape))
    readings += [read("string", edge, "", shape) for edge in EDGES]
    return readings + [read("level", corner, "", shape) for corner in CORNERS]


def values(found: FitUp) -> dict[str, float | None]:
    return {i.key: i.value for i in found.items}


def check(found: FitUp, key: str) -> Check:
    return next(c for c in found.checks if c.key == f"leaf/fit up/{key}")


def random_shape(rng: np.random.Generator) -> Shape:
    perfect = ((0.0, 0.0), (WIDTH, 0.0), (0.0, HEIGHT), (WIDTH, HEIGHT))
    corners = tuple(
        (u + float(rng.uniform(-0.01, 0.01)), v + float(rng.uniform(-0.01, 0.01)))
        for u, v in perfect
    )
    bows = tuple(float(b) for b in rng.uniform(-0.005, 0.005, 4))
    return Shape(corners, bows, float(rng.uniform(-0.02, 0.02)))


@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_a_known_shape_is_found_again(seed: int) -> None:
    shape = random_shape(np.random.default_rng(seed))
    found = fit_up(read_all(shape), WIDTH, HEIGHT, tape=TAPE)
    bh, bc, th, tc = (np.array(c) for c in shape.corners)
    across, up = (bc - bh + tc - th) / 2, (th - bh + tc - bc) / 2
    bottom, top = np.linalg.norm(bc - bh), np.linalg.norm(tc - th)
    hinge, closing = np.linalg.norm(th - bh), np.linalg.norm(tc - bc)
    expected = {
        "rack": across @ up / np.linalg.norm(across),
        "width": (bottom + top) / 2 - WIDTH,
        "height": (hinge + closing) / 2 - HEIGHT,
        "width taper": top - bottom,
        "height taper": closing - hinge,
        **{f"{e} bow": b for e, b in zip(EDGES, shape.bows, strict=True)},
        "twist": shape.twist,
    }
    assert values(found) == pytest.approx(expected, abs=1e-9)
    assert found.missing == ()
    assert found.suspects == ()
    assert found.freedom == len(found.readings) - 5 - 4 - 4
    assert max(abs(r.residual) for r in found.readings) < 1e-9
    assert [c.w for c in found.corners] == pytest.approx(
        [shape.twist / 4 * s for s in (1, -1, -1, 1)], abs=1e-12
    )


def test_places_along_the_edges_and_heights_off_any_plane() -> None:
    shape = replace(racked(0.004), bows=(0.003, -0.002, 0.001, 0.0), twist=0.006)
    readings = [read("distance", a, b, shape) for a, b in (*SIDES, *DIAGONALS)]
    for at in (0.2 * HEIGHT, 0.5 * HEIGHT, 0.9 * HEIGHT):
        readings.append(read("distance", "hinge edge", "closing edge", shape, at=at))
    readings.append(read("string", "hinge edge", "", shape))
    readings += [read("level", c, "", shape, level=-7.0) for c in CORNERS]
    found = values(fit_up(readings, WIDTH, HEIGHT, tape=TAPE))
    assert found["closing edge bow"] == pytest.approx(-0.002, abs=1e-9)
    assert found["twist"] == pytest.approx(0.006, abs=1e-9)
    assert found["bottom edge bow"] is None


def test_a_pad_that_is_not_level_is_no_twist() -> None:
    readings = read_all(racked(0.003))
    tilted = []
    for reading in readings:
        if reading.kind == "level":
            u, v = racked(0.003).corners[CORNERS.index(reading.from_)]
            reading = replace(reading, value=reading.value + 0.01 * u - 0.004 * v)
        tilted.append(reading)
    found = values(fit_up(tilted, WIDTH, HEIGHT, tape=TAPE))
    assert found["twist"] == pytest.approx(0.0, abs=1e-9)


# What each set of readings tells, and nothing more.
STRINGS = [("string", e, "") for e in EDGES]
LEVELS = [("level", c, "") for c in CORNERS]
SIDE = [("distance", a, b) for a, b in SIDES]
DIAGONAL = [("distance", a, b) for a, b in DIAGONALS]
MIDDLE = [("distance", "hinge edge", "closing edge")]
BOWS = {f"{e} bow" for e in EDGES}
SIZES = {"width", "height", "width taper", "height taper"}
TELLS = [
    ("two diagonals", DIAGONAL, {"rack"}),
    ("one diagonal", DIAGONAL[:1], set()),
    ("four sides", SIDE, SIZES),
    ("four sides and one diagonal", SIDE + DIAGONAL[:1], SIZES | {"rack"}),
    ("four sides and two diagonals", SIDE + DIAGONAL, SIZES | {"rack"}),
    (
        "two widths and two diagonals",
        SIDE[:2] + DIAGONAL,
        {"rack", "width", "width taper", "height"},
    ),
    ("heights of three corners", LEVELS[:3], set()),
    ("heights of four corners", LEVELS, {"twist"}),
    ("strings", STRINGS, BOWS),
    (
        "four sides, a mid width and one string",
        SIDE + STRINGS[:1] + MIDDLE,
        SIZES | {"hinge edge bow", "closing edge bow"},
    ),
    ("four sides and a mid width", SIDE + MIDDLE, SIZES),
    ("nothing", [], set()),
]


@pytest.mark.parametrize(("kinds", "known"), [t[1:] for t in TELLS], ids=[t[0] for t in TELLS])
def test_what_a_set_of_readings_tells(kinds: list[tuple[Kind, str, str]], known: set[str]) -> None:
    shape = racked(0.003, wider=0.002)
    readings = [read(k, a, b, shape) for k, a, b in kinds]
    found = fit_up(readings, WIDTH, HEIGHT, tape=TAPE)
    told = {i.key for i in found.items if i.value is not None}
    assert told == known
    for item in found.items:
        if item.value is None:
            assert item.words == f"{item.name}: not known from these readings"
            assert item.sd is None
            assert check(found, item.key).verdict is Verdict.ASK
    assert len(found.missing) == len(found.items) - len(told)


def test_equal_diagonals_alone_prove_little() -> None:
    # Trap 4 of the trade brief: an isosceles trapezoid and a twisted leaf have equal diagonals.
    shape = racked(wider=0.5 * INCH)
    found = fit_up([read("distance", a, b, shape) for a, b in DIAGONALS], WIDTH, HEIGHT, tape=TAPE)
    assert values(found)["rack"] == pytest.approx(0.0, abs=1e-9)
    assert check(found, "width taper").verdict is Verdict.ASK
    taper = next(m for m in found.missing if m.startswith("top against bottom width"))
    assert taper == (
        "top against bottom width is not known from these readings: read the width along the "
        "bottom and the width along the top (a leaf wider at one end has equal diagonals all the "
        "same)"
    )
    twist = next(m for m in found.missing if m.startswith("twist"))
    assert "read the height of the bottom hinge corner, the height of" in twist
    assert 'a corner 1/2" up changes a diagonal by 0.0007 in only' in twist
    both = fit_up(
        [read("distance", a, b, shape) for a, b in (*DIAGONALS, *SIDES[:2])],
        WIDTH,
        HEIGHT,
        tape=TAPE,
    )
    assert values(both)["width taper"] == pytest.approx(0.5 * INCH, abs=1e-9)
    assert check(both, "width taper").verdict is Verdict.SHORT


def test_a_corner_half_an_inch_up_hardly_changes_a_diagonal() -> None:
    # Trap 4: under 0.001 in. The diagonals do not tell; four heights do.
    flat, high = racked(), replace(racked(), twist=0.5 * INCH)
    for a, b in DIAGONALS:
        assert abs(high.distance(a, b) - flat.distance(a, b)) < 0.001 * INCH
    sides = [read("distance", a, b, high) for a, b in (*SIDES, *DIAGONALS)]
    assert values(fit_up(sides, WIDTH, HEIGHT, tape=TAPE))["twist"] is None
    levels = [read("level", c, "", high) for c in CORNERS]
    found = fit_up(sides + levels, WIDTH, HEIGHT, tape=TAPE)
    assert values(found)["twist"] == pytest.approx(0.5 * INCH, abs=1e-9)
    assert found.pushes[0].words == (
        'let the top closing corner down by 1/2", or pack the top hinge corner up by 1/2", and '
        "read the diagonals again"
    )


def test_lean_from_the_difference_of_the_diagonals() -> None:
    # Computed in the trade brief: Δ·D/(2W); 1/16 in is 0.13 in of lean on the reference leaf.
    diagonal = math.hypot(WIDTH, HEIGHT)
    lean = INCH / 16 * diagonal / (2 * WIDTH)
    assert lean / INCH == pytest.approx(0.13, abs=0.005)
    shape = racked(lean)
    difference = shape.distance(*DIAGONALS[0]) - shape.distance(*DIAGONALS[1])
    assert difference == pytest.approx(INCH / 16, rel=1e-3)
    found = fit_up([read("distance", a, b, shape) for a, b in DIAGONALS], WIDTH, HEIGHT, tape=TAPE)
    assert values(found)["rack"] == pytest.approx(lean, rel=1e-3)
    # The default limit is that difference, so the lean is just at it.
    assert check(found, "rack").ratio == pytest.approx(1.0, rel=1e-3)


@pytest.mark.parametrize(
    ("lean", "corner", "toward"),
    [(0.5, "top closing", "bottom hinge"), (-0.5, "top hinge", "bottom closing")],
)
def test_which_corner_to_push(lean: float, corner: str, toward: str) -> None:
    shape = racked(lean * INCH)
    found = fit_up(read_all(shape), WIDTH, HEIGHT, tape=TAPE)
    (push,) = found.pushes
    assert (push.place, push.toward) == (f"{corner} corner", f"{toward} corner")
    long = max(shape.distance(*d) for d in DIAGONALS)
    # Pushed square with its sides kept, the leaf has the diagonals of a rectangle.
    assert long - push.by == pytest.approx(math.hypot(WIDTH, HEIGHT), abs=1e-9)
    assert push.words == (
        f"clamp the bottom edge, and push the {corner} corner toward the {toward} corner until "
        'that long diagonal is 1/8" less: 179 5/8" now, 179 1/2" when square'
    )


def test_bowed_edges_are_pushed_straight() -> None:
    shape = replace(racked(), bows=(0.25 * INCH, -0.25 * INCH, 0.0, 0.0))
    found = fit_up(read_all(shape), WIDTH, HEIGHT, tape=TAPE)
    assert [p.words for p in found.pushes] == [
        'push the middle of the hinge edge in by 1/4"',
        'push the middle of the closing edge out by 1/4"',
    ]


def test_within_the_limits_nothing_is_pushed() -> None:
    sure = [replace(r, sd=0.0001) for r in read_all(racked(0.0002))]
    found = fit_up(sure, WIDTH, HEIGHT, tape=TAPE)
    assert found.pushes == ()
    assert {c.verdict for c in found.checks} == {Verdict.OK}


def test_a_band_across_the_limit_is_tight() -> None:
    unsure = [replace(r, sd=0.003) for r in read_all(racked())]
    found = fit_up(unsure, WIDTH, HEIGHT, tape=TAPE)
    assert check(found, "width taper").verdict is Verdict.TIGHT
    assert check(found, "width taper").change.startswith("the readings cannot tell")
    loose = Limits(taper=0.1)
    wide = fit_up(unsure, WIDTH, HEIGHT, tape=TAPE, limits=loose)
    assert check(wide, "width taper").verdict is Verdict.OK


@pytest.mark.parametrize("which", range(7))
def test_a_misread_length_is_named_and_sized(which: int) -> None:
    readings = read_all(racked(0.002))
    readings += [read("distance", "hinge edge", "closing edge", racked(0.002), at=0.25 * HEIGHT)]
    readings[which] = replace(readings[which], value=readings[which].value + INCH)
    found = fit_up(readings, WIDTH, HEIGHT, tape=TAPE)
    assert found.suspects
    assert found.readings[which].words in found.suspects[0]
    if "one of these" not in found.suspects[0]:
        assert 'about 1" long against the rest' in found.suspects[0]


def test_without_redundancy_nothing_is_suspected() -> None:
    found = fit_up(
        [read("distance", a, b, racked(0.05)) for a, b in DIAGONALS], WIDTH, HEIGHT, tape=TAPE
    )
    assert found.freedom == 0
    assert found.suspects == ()
    assert {r.standardised for r in found.readings} == {None}


def test_the_bands_are_as_wide_as_the_readings_scatter() -> None:
    shape = racked(0.003, wider=0.002)
    exact = read_all(shape)
    truth = values(fit_up(exact, WIDTH, HEIGHT, tape=TAPE))
    squared: dict[str, list[float]] = {key: [] for key in truth}
    for seed in range(cases(60, 500)):
        rng = np.random.default_rng(seed)
        noisy = [replace(r, value=r.value + float(rng.normal(0.0, r.sd))) for r in exact]
        for item in fit_up(noisy, WIDTH, HEIGHT, tape=TAPE).items:
            assert item.value is not None
            assert item.sd is not None
            squared[item.key].append(((item.value - (truth[item.key] or 0.0)) / item.sd) ** 2)
    # The mean of n squared normal deviates scatters by √(2/n) about 1; four times that.
    spread = 4.0 * math.sqrt(2.0 / cases(60, 500))
    for key, found in squared.items():
        assert np.mean(found) == pytest.approx(1.0, abs=spread), key


def test_where_the_maker_stands() -> None:
    for hand, face_up, side in (
        ("left", True, "left"),
        ("right", True, "right"),
        ("left", False, "right"),
    ):
        found = fit_up(
            [],
            WIDTH,
            HEIGHT,
            tape=TAPE,
            hand="left" if hand == "left" else "right",
            face_up=face_up,
        )
        up = "face" if face_up else "back"
        assert found.standing == (
            f"Stand at the bottom edge and look toward the top, {up} side up: the hinge edge is "
            f"on your {side}."
        )


def test_all_that_is_wrong_is_told_at_once() -> None:
    wrong = [
        PadReading("distance", "top hinj", "bottom hinge", value=1.0),
        PadReading("distance", "top hinge", "top hinge", value=1.0),
        PadReading("distance", "top hinge", "bottom hinge", value=-1.0),
        PadReading("level", "hinge edge", value=0.0),
        PadReading("string", "hinge edge", at=9.0, value=0.0),
        PadReading("string", "hinge edge", value=math.nan, sd=0.0),
        PadReading("width", "hinge edge"),  # type: ignore[arg-type]
    ]
    with pytest.raises(ValueError) as told:
        fit_up(wrong, WIDTH, HEIGHT, tape=TAPE)
    text = str(told.value)
    for words in (
        "reading 1 (top hinj to bottom hinge corner): place 'top hinj' is not one of",
        "the nearest is 'top hinge'",
        "reading 2 (top hinge corner to top hinge corner): both ends are the same place",
        "reading 3 (top hinge corner to bottom hinge corner): value -1.0 m",
        "reading 4 (the height of the hinge edge): place 'hinge edge' is not one of",
        "reading 5 (the string along the hinge edge): at 9.0 m along the hinge edge",
        "reading 6 (the string along the hinge edge): value nan",
        "reading 6 (the string along the hinge edge): sd 0.0 m",
        "reading 7 (hinge edge): kind 'width': use distance, string or level",
    ):
        assert words in text, words


def test_of_a_leaf_of_the_plan_and_as_data() -> None:
    found = fit_up_of(place(WIDTH, HEIGHT, hand="right"), read_all(racked()), tape=TAPE)
    assert "on your right" in found.standing
    data = to_json(found)
    assert data["items"][0]["key"] == "rack"
    assert data["corners"][0]["name"] == "bottom hinge"
