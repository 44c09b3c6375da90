import itertools
import math

import pytest

from leafwright.paper.graph import Axis, Curve, Level, graph
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Box, Circle, Polyline, Text
from tests.paper.samples import page

BOX = Box(20.0, 40.0, 160.0, 110.0)
ACROSS = Axis("open", 0.0, 90.0, tuple((float(d), f"{d}°") for d in range(0, 91, 15)))
UP = Axis("gap", 0.0, 40.0, tuple((float(v), f"{v} mm") for v in range(0, 41, 10)))


def curve(height: float, *, mark: str = "") -> Curve:
    points = tuple((float(x), height + 8.0 * math.cos(math.radians(4 * x))) for x in range(91))
    return Curve(points, "note", mark=mark, at=(45.0, height - 8.0) if mark else None)


def test_a_graph_is_clean_and_keeps_to_its_box() -> None:
    items = graph(BOX, ACROSS, UP, [curve(20.0, mark="A")], [Level("y", 5.0, "clearance 5 mm")])
    assert defects(page(*items)) == []
    for item in items:
        points = item.points if isinstance(item, Polyline) else ()
        assert all(BOX.left <= x <= BOX.right for x, _ in points)
        assert all(BOX.bottom <= y <= BOX.top for _, y in points)


def test_a_value_stands_where_its_axes_say() -> None:
    items = graph(BOX, ACROSS, UP, [curve(20.0, mark="A")])
    frame = next(i for i in items if isinstance(i, Polyline) and i.closed)
    (x0, y0), (x1, y1) = frame.points[0], frame.points[2]
    dot = next(i for i in items if isinstance(i, Circle) and i.fill == "black")
    assert dot.centre == pytest.approx((x0 + 0.5 * (x1 - x0), y0 + 12.0 / 40.0 * (y1 - y0)))


def test_what_leaves_the_graph_is_cut_off_at_its_edge() -> None:
    high = Curve(((0.0, 20.0), (45.0, 100.0), (90.0, 20.0)), "mark")
    items = graph(BOX, ACROSS, UP, [high])
    frame = next(i for i in items if isinstance(i, Polyline) and i.closed)
    top, bottom = frame.points[2][1], frame.points[0][1]
    parts = [i for i in items if isinstance(i, Polyline) and i.layer == "mark"]
    assert len(parts) == 2
    ys = [y for part in parts for _, y in part.points]
    assert max(ys) == pytest.approx(top)
    assert min(ys) == pytest.approx((top + bottom) / 2)


def test_rings_of_curves_that_are_least_at_one_place_stand_apart() -> None:
    near = [curve(20.0, mark="A"), curve(20.2, mark="B"), curve(20.4, mark="C")]
    items = graph(BOX, ACROSS, UP, near)
    assert defects(page(*items)) == []
    letters = [i for i in items if isinstance(i, Text) and i.text in "ABC"]
    assert len(letters) == 3
    for a, b in itertools.combinations(letters, 2):
        assert math.dist(a.at, b.at) > 4.4
