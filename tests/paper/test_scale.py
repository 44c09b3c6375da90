import pytest

from leafwright.paper.inspect import defects
from leafwright.paper.scale import (
    DO_NOT_SCALE,
    IMPERIAL_SCALES,
    METRIC_SCALES,
    System,
    check_square,
    fitting_scale,
    scale_bar,
    standard_scales,
)
from leafwright.paper.scene import Polyline, Text
from tests.paper.samples import page


def test_imperial_ratios_follow_from_their_words() -> None:
    # A scale of a/b" = 1'-0" is 12 b / a.
    inches = {"3": 3, "1 1/2": 1.5, "1": 1, "3/4": 0.75, "1/2": 0.5, "3/8": 0.375}
    inches |= {"1/4": 0.25, "3/16": 0.1875, "1/8": 0.125}
    found = {s.words: s.ratio for s in IMPERIAL_SCALES if "1'-0" in s.words}
    assert found == {f'{words}" = 1\'-0"': 12 / size for words, size in inches.items()}


def test_metric_ratios() -> None:
    assert [s.ratio for s in METRIC_SCALES] == [1, 2, 5, 10, 15, 20, 25, 50, 100]


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_the_largest_scale_that_fits_is_chosen(system: System) -> None:
    size, space = (1.1, 4.4), (180.0, 230.0)
    chosen = fitting_scale(size, space, system)
    scales = standard_scales(system)
    larger = scales[: scales.index(chosen)]
    assert size[1] * chosen.mm_per_m <= space[1]
    assert all(size[1] * scale.mm_per_m > space[1] for scale in larger)


def test_what_fits_exactly_fits() -> None:
    assert fitting_scale((0.2, 0.1), (200.0, 100.0), "metric").ratio == 1


def test_what_does_not_fit_is_refused() -> None:
    with pytest.raises(ValueError, match=r"90 by 4 m does not fit into 200 by 200 mm .* 1:100"):
        fitting_scale((90.0, 4.0), (200.0, 200.0), "metric")


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_the_bar_is_true_and_readable_at_every_scale(system: System) -> None:
    for scale in standard_scales(system):
        items = scale_bar((20.0, 20.0), scale, system)
        outline = next(item for item in items if isinstance(item, Polyline))
        length = (outline.points[1][0] - outline.points[0][0]) / scale.mm_per_m
        texts = [item.text for item in items if isinstance(item, Text)]
        assert DO_NOT_SCALE in texts
        words = texts[2]
        if system == "metric":
            unit = 0.001 if words.endswith("mm") else 1.0
            assert length == pytest.approx(float(words.split()[0]) * unit)
        else:
            feet, _, inches = words.replace('"', "").rpartition("'-")
            assert length / 0.0254 == pytest.approx(12 * int(feet or 0) + int(inches))
        assert defects(page(*items), light_lines=True) == []


def test_a_bar_without_room_is_refused() -> None:
    with pytest.raises(ValueError, match=r"no round length at 1:1 is shorter than 10"):
        scale_bar((0.0, 0.0), METRIC_SCALES[0], "metric", longest_mm=10.0)


@pytest.mark.parametrize(("system", "side"), [("imperial", 4 * 25.4), ("metric", 100.0)])
def test_the_square_to_check_a_print_by(system: System, side: float) -> None:
    items = check_square((10.0, 10.0), system)
    square = items[0]
    assert isinstance(square, Polyline)
    (x0, y0), _, (x1, y1), _ = square.points
    assert (x1 - x0, y1 - y0) == pytest.approx((side, side))
