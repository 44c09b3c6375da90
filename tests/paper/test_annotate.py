import math
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.paper.annotate import Paper, flat_item, spread_apart
from leafwright.paper.drawing import (
    AngleDimension,
    Dimension,
    Drawing,
    DrawingItem,
    Leader,
    RunningDimensions,
    Symbol,
    combined,
    extents,
    moved,
)
from leafwright.paper.font import ink_corners
from leafwright.paper.inspect import defects, segment_meets_box, segments
from leafwright.paper.scale import IMPERIAL_SCALES, METRIC_SCALES
from leafwright.paper.scene import Arc, Circle, Fill, Line, Point, Polyline, Primitive, Text
from leafwright.paper.sheet import paper_extents, scene_of
from tests.paper.samples import everything, page
from tests.sizes import cases

ONE_TO_TEN = Paper(100.0, (50.0, 50.0))


def texts(items: tuple[Primitive, ...]) -> list[Text]:
    return [item for item in items if isinstance(item, Text)]


def tips(items: tuple[Primitive, ...]) -> list[Point]:
    """Return the points of the arrowheads."""
    return [item.points[0] for item in items if isinstance(item, Fill)]


def flat(item: DrawingItem) -> tuple[Primitive, ...]:
    return flat_item(item, ONE_TO_TEN)


def test_a_level_dimension_stands_off_beyond_the_outer_point() -> None:
    items = flat(Dimension((0.0, 0.1), (0.6, 0.3), 12.0, "600", "x"))
    assert tips(items) == [pytest.approx((50.0, 92.0)), pytest.approx((110.0, 92.0))]
    (text,) = texts(items)
    assert text.angle == 0.0
    assert text.at[0] == pytest.approx(80.0)
    below = flat(Dimension((0.0, 0.1), (0.6, 0.3), -12.0, "600", "x"))
    assert [y for _, y in tips(below)] == pytest.approx([48.0, 48.0])


def test_an_upright_dimension_is_read_from_the_right() -> None:
    items = flat(Dimension((0.0, 0.0), (0.0, 0.6), 12.0, "600", "y"))
    assert tips(items) == [pytest.approx((62.0, 50.0)), pytest.approx((62.0, 110.0))]
    (text,) = texts(items)
    assert text.angle == pytest.approx(0.5 * math.pi)
    # The words stand left of the line: their foot is towards it.
    assert max(x for x, _ in ink_corners(text)) < 62.0


def test_a_base_puts_several_dimensions_on_one_line() -> None:
    levels = {
        round(y, 9)
        for a, b in (((0.0, 0.0), (0.3, 0.2)), ((0.3, 0.2), (0.6, 0.1)))
        for _, y in tips(flat(Dimension(a, b, -10.0, "300", "x", base=0.0)))
    }
    assert levels == {40.0}


def test_an_aligned_dimension_lies_on_the_left_of_its_direction() -> None:
    for way, offset in ((1.0, 10.0), (-1.0, -10.0)):
        a, b = (0.1, 0.1), (0.5, 0.4)
        if way < 0.0:
            a, b = b, a
        items = flat(Dimension(a, b, offset, "500"))
        expected = (60.0 - 6.0, 60.0 + 8.0)
        assert any(math.dist(tip, expected) < 1e-9 for tip in tips(items))
        assert texts(items)[0].angle == pytest.approx(math.atan2(3.0, 4.0))


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(angle=st.floats(-math.pi, math.pi), length=st.floats(0.02, 0.9))
def test_no_dimension_stands_on_its_head(angle: float, length: float) -> None:
    b = (length * math.cos(angle), length * math.sin(angle))
    (text,) = texts(flat(Dimension((0.0, 0.0), b, 8.0, "12'-6")))
    assert -0.5 * math.pi < text.angle <= 0.5 * math.pi + 1e-9


@pytest.mark.parametrize("ends", ["arrows", "ticks"])
@pytest.mark.parametrize("length", [0.0, 0.004, 0.03, 0.07, 0.09, 0.3])
def test_a_dimension_of_any_length_keeps_its_words_off_its_lines(ends: str, length: float) -> None:
    for outside in ("after", "before"):
        item = Dimension((0, 0), (length, 0), 9, '2 1/16"', "x", ends=ends, outside=outside)  # type: ignore[arg-type]
        assert defects(page(*flat(item)), light_lines=True) == []


@pytest.mark.parametrize(("length", "inside"), [(0.3, True), (0.02, False)])
def test_arrowheads_lie_between_the_witness_lines_where_they_fit(
    length: float, inside: bool
) -> None:
    items = flat(Dimension((0, 0), (length, 0), 9, "x", "x"))
    heads = [item for item in items if isinstance(item, Fill)]
    assert len(heads) == 2
    for head in heads:
        tail = 0.5 * (head.points[1][0] + head.points[2][0])
        assert (50.0 < tail < 50.0 + 100.0 * length) is inside


def test_words_that_do_not_fit_go_past_the_end_that_was_asked_for() -> None:
    (after,) = texts(flat(Dimension((0, 0), (0.01, 0), 9, "10 mm", "x")))
    (before,) = texts(flat(Dimension((0, 0), (0.01, 0), 9, "10 mm", "x", outside="before")))
    assert min(x for x, _ in ink_corners(after)) > 51.0
    assert max(x for x, _ in ink_corners(before)) < 50.0


def test_an_aligned_dimension_needs_two_points_and_no_base() -> None:
    with pytest.raises(ValueError, match=r"aligned dimension 'gap' runs from .* to the same point"):
        flat(Dimension((0.1, 0.1), (0.1, 0.1), 5, "gap"))
    with pytest.raises(ValueError, match=r"aligned dimension 'gap' has the base 0\.5"):
        Dimension((0.1, 0.1), (0.2, 0.1), 5, "gap", base=0.5)


def test_places_far_enough_apart_are_left_where_they_are() -> None:
    assert spread_apart([0.0, 5.0, 10.0], 5.0) == (0.0, 5.0, 10.0)


def test_crowded_places_move_the_least() -> None:
    # By hand: three at one place, 4 apart, keep their mean; the far one stays.
    assert spread_apart([10.0, 10.0, 10.0, 40.0], 4.0) == pytest.approx((6.0, 10.0, 14.0, 40.0))
    # Two pools that run into each other become one: mean of 0, 0, 3, 3 less 0, 2, 4, 6 is -1.5.
    assert spread_apart([0.0, 0.0, 3.0, 3.0], 2.0) == pytest.approx((-1.5, 0.5, 2.5, 4.5))


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(wanted=st.lists(st.floats(0.0, 100.0), max_size=20), apart=st.floats(0.1, 9.0))
def test_spread_places_keep_order_distance_and_mean(wanted: list[float], apart: float) -> None:
    wanted.sort()
    spread = spread_apart(wanted, apart)
    assert len(spread) == len(wanted)
    assert all(b - a >= apart - 1e-9 for a, b in pairwise(spread))
    assert sum(spread) == pytest.approx(sum(wanted), abs=1e-6)


@pytest.mark.parametrize("direction", ["x", "y"])
@pytest.mark.parametrize("offset", [14.0, -14.0])
def test_running_dimensions_never_collide(direction: str, offset: float) -> None:
    for seed in range(cases(25, 500)):
        random_ = random.Random(seed)
        places = [random_.uniform(-0.1, 1.1) for _ in range(random_.randint(1, 14))]
        item = RunningDimensions(
            (0.0, 0.0),
            tuple((p, 0.0) if direction == "x" else (0.0, p) for p in places),
            offset,
            tuple(f"{random_.randint(0, 14)}'-{random_.randint(0, 11)} 5/16\"" for _ in places),
            direction,  # type: ignore[arg-type]
            height_mm=random_.choice([3.0, 6.0]),
        )
        items = flat_item(item, Paper(150.0, (250.0, 250.0)))
        assert defects(page(*items, size=600.0)) == []
        # Nor does any witness line run through another's words.
        boxes = [ink_corners(text) for text in texts(items)]
        assert len(boxes) == len(places) + 1
        for shape in items:
            for a, b in segments(shape):
                assert not any(segment_meets_box(a, b, box) for box in boxes)


def test_a_running_value_stands_at_its_own_witness_line() -> None:
    points = ((0.0, 0.2), (0.0, 0.9))
    items = flat(RunningDimensions((0.0, 0.0), points, -10.0, ("200", "900"), "y"))
    places = {text.text: text.at[1] for text in texts(items)}
    assert places == {
        "0": pytest.approx(50.0),
        "200": pytest.approx(70.0),
        "900": pytest.approx(140.0),
    }
    assert [c.centre for c in items if isinstance(c, Circle)] == [pytest.approx((40.0, 50.0))]
    assert tips(items) == [pytest.approx((40.0, 70.0)), pytest.approx((40.0, 140.0))]


def test_running_texts_must_pair_up_with_points() -> None:
    with pytest.raises(ValueError, match="2 points and 1 texts; give one text for each point"):
        RunningDimensions((0, 0), ((0, 1), (0, 2)), 5, ("1",), "y")


def test_a_leader_touches_its_thing_and_writes_beside_its_end() -> None:
    right = flat(Leader((0.1, 0.1), (10.0, 5.0), "Ø 5/8\none wall"))
    assert tips(right) == [pytest.approx((60.0, 60.0))]
    assert min(x for text in texts(right) for x, _ in ink_corners(text)) > 72.0
    left = flat(Leader((0.1, 0.1), (-10.0, 5.0), "Ø 5/8"))
    assert max(x for text in texts(left) for x, _ in ink_corners(text)) < 48.0


def test_a_ring_goes_round_its_words() -> None:
    items = flat(Leader((0.1, 0.1), (15.0, 15.0), "L-12", ring=True, height_mm=4.0))
    (ring,) = [item for item in items if isinstance(item, Circle)]
    assert ring.centre == pytest.approx((75.0, 75.0))
    for corner in ink_corners(texts(items)[0]):
        assert math.dist(corner, ring.centre) < ring.radius
    line = next(item for item in items if isinstance(item, Line))
    assert math.dist(line.b, ring.centre) == pytest.approx(ring.radius)


@pytest.mark.parametrize("span", [3.0, 12.0, 45.0, 140.0, 300.0])
def test_an_angle_is_an_arc_with_its_ends_marked(span: float) -> None:
    end = 0.3 + math.radians(span)
    items = flat(AngleDimension((0.0, 0.0), 20.0, 0.3, end, "x°"))
    arc = next(item for item in items if isinstance(item, Arc))
    assert (arc.radius, math.degrees(arc.span)) == pytest.approx((20.0, span))
    tails = [item for item in items if isinstance(item, Arc)][1:]
    assert len(tails) == (2 if span < 20.0 else 0)
    assert all(tail.span < 0.5 for tail in tails)
    expected = [(50 + 20 * math.cos(a), 50 + 20 * math.sin(a)) for a in (0.3, end)]
    assert tips(items) == [pytest.approx(point) for point in expected]
    # Arrowheads lie along the arc: their tails too are on it, to a hair.
    for head in items:
        if isinstance(head, Fill):
            tail = tuple(0.5 * (p + q) for p, q in zip(*head.points[1:], strict=True))
            assert math.dist(tail, (50.0, 50.0)) == pytest.approx(20.0, abs=0.03)
    assert defects(page(*items), light_lines=True) == []


def test_a_symbol_keeps_its_size_at_any_scale() -> None:
    symbol = Symbol((0.1, 0.2), (Circle((1.0, 0.0), 2.0, "note"),))
    for mm_per_m in (10.0, 1000.0):
        (circle,) = flat_item(symbol, Paper(mm_per_m, (5.0, 5.0)))
        assert isinstance(circle, Circle)
        assert circle.radius == 2.0
        assert circle.centre == pytest.approx((6.0 + 0.1 * mm_per_m, 5.0 + 0.2 * mm_per_m))


def test_extents_are_of_the_thing_and_paper_extents_of_its_words_too() -> None:
    thing = Drawing((Polyline(((0.0, 0.0), (1.0, 2.0)), "cut"), Arc((0, 0), 0.5, 3.0, 3.5, "cut")))
    box = extents(thing)
    # The arc passes through angle pi, its leftmost point.
    assert (box.left, box.right, box.top) == pytest.approx((-0.5, 1.0, 2.0))
    dimensioned = combined(thing, Drawing((Dimension((0, 0), (0, 2), 20, "2.000", "y"),)))
    assert extents(dimensioned) == box
    around = paper_extents(dimensioned, METRIC_SCALES[-1])
    assert around.right > 20.0


def test_only_words_have_no_extents() -> None:
    with pytest.raises(ValueError, match="no geometry, only words"):
        extents(Drawing((Text((0, 0), "note"),)))


def test_a_moved_drawing_looks_the_same_elsewhere() -> None:
    scale = IMPERIAL_SCALES[4]
    with_base = Drawing(
        (
            Dimension((0, 0), (1, 0.5), 5, "1", "x", base=-0.2),
            Dimension((0, 0), (1, 0.5), 5, "1", "y", base=1.2),
            RunningDimensions((0, 0), ((0, 1),), 5, ("1",), "y", base=1.5),
            RunningDimensions((0, 0), ((1, 0),), 5, ("1",), "x", base=1.5),
        )
    )
    drawing = combined(everything(), with_base)
    here, there = scene_of(drawing, scale), scene_of(moved(drawing, (3.0, -2.0)), scale)
    assert (here.width, here.height) == pytest.approx((there.width, there.height))
    shape_here = [a for item in here.items for pair in segments(item) for a in pair[0]]
    shape_there = [a for item in there.items for pair in segments(item) for a in pair[0]]
    # Hatch lines are laid from the paper's origin and so differ; they are few.
    same = sum(abs(p - q) < 1e-6 for p, q in zip(shape_here, shape_there, strict=False))
    assert same > 0.5 * len(shape_here)
