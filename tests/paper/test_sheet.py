import math
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from leafwright.paper.drawing import Dimension, Drawing
from leafwright.paper.inspect import defects
from leafwright.paper.layout import Caution
from leafwright.paper.scale import FULL_SIZE, METRIC_SCALES
from leafwright.paper.scene import Arc, Box, Line, Polyline, Scene, Text
from leafwright.paper.sheet import (
    A3,
    A4,
    LETTER,
    PAPER_SIZES,
    TABLOID,
    PaperSize,
    Placed,
    Sheet,
    area,
    fitted,
    flatten,
    item_box,
    numbered,
    scene_of,
)
from leafwright.paper.strip import BAND_MM, TitleBlock, not_for_cutting_band
from tests.paper.samples import everything, rectangle_points, sample_sheet
from tests.sizes import cases


def words(scene: Scene) -> list[str]:
    return [item.text for item in scene.all_items if isinstance(item, Text)]


def test_paper_sizes() -> None:
    # ISO 216 (A series) in mm; ANSI Y14.1 sizes A and B in inches. Both from memory.
    assert (A4.width, A4.height, A3.width, A3.height) == (210.0, 297.0, 297.0, 420.0)
    assert (LETTER.width / 25.4, LETTER.height / 25.4) == pytest.approx((8.5, 11.0))
    assert (TABLOID.width / 25.4, TABLOID.height / 25.4) == pytest.approx((11.0, 17.0))
    assert PAPER_SIZES["A3 landscape"] == PaperSize("A3 landscape", 420.0, 297.0)
    assert A3.landscape.landscape == A3.landscape


@pytest.mark.parametrize("not_for_cutting", [False, True])
def test_the_sample_sheet_has_no_defect(not_for_cutting: bool) -> None:
    assert defects(flatten(sample_sheet(not_for_cutting=not_for_cutting))) == []


@pytest.mark.parametrize("size", PAPER_SIZES.values(), ids=PAPER_SIZES.keys())
def test_furniture_has_no_defect_on_any_paper(size: PaperSize) -> None:
    sheet = sample_sheet(not_for_cutting=True)
    empty = replace(sheet, size=size, placed=(), items=())
    assert defects(flatten(empty)) == []
    assert area(empty).height > 0.5 * size.height


@settings(max_examples=cases(25, 300), derandomize=True, deadline=None)
@example(job="boathouse doors " * 18, survey="two readings unverified " * 5, size=LETTER)
@example(job="boathouse doors " * 18, survey="", size=TABLOID.landscape)
@given(
    job=st.text(alphabet="abc defg-0'", max_size=300),
    survey=st.text(alphabet="abc de", max_size=120),
    size=st.sampled_from(list(PAPER_SIZES.values())),
)
def test_the_strip_grows_until_all_is_read(job: str, survey: str, size: PaperSize) -> None:
    block = TitleBlock(job=job, survey=survey, seen_from="yard side", units="mm")
    scene = flatten(Sheet("Left leaf", size, block=block))
    assert defects(scene) == []
    printed = "".join("".join(words(scene)).split())
    assert "".join(job.split()) in printed
    assert "".join(survey.split()) in printed


def test_the_strip_says_what_it_was_given() -> None:
    scene = flatten(numbered([sample_sheet(), sample_sheet()])[1])
    found = words(scene)
    for expected in ("Left leaf", "yard side", "verified", "feet and inches", "B", "2", "of 2"):
        assert expected in found


def test_the_scale_is_the_drawings_own() -> None:
    drawing = Drawing((Polyline(rectangle_points(0, 0, 0.1, 0.1), "cut", closed=True),))
    one = Placed(drawing, METRIC_SCALES[1], (50.0, 100.0))
    other = Placed(drawing, METRIC_SCALES[2], (120.0, 100.0))
    sheet = Sheet("Plate", A4)
    assert "–" in words(flatten(sheet))
    assert METRIC_SCALES[1].words in words(flatten(replace(sheet, placed=(one,))))
    assert "as noted" in words(flatten(replace(sheet, placed=(one, other))))


def test_the_room_is_the_same_before_and_after_drawings_are_placed() -> None:
    for size in PAPER_SIZES.values():
        sheet = Sheet("Plate", size, block=TitleBlock(job="Yard gate"))
        room = area(sheet)
        placed = tuple(fitted(everything(), room, system) for system in ("imperial", "metric"))
        assert area(replace(sheet, placed=placed)) == room


def test_cautions_and_the_band_take_their_room() -> None:
    plain = Sheet("Plate", A4)
    caution = Caution("Hot work", "35 ft clear of what burns.")
    with_one = replace(plain, cautions=(caution,))
    with_three = replace(plain, cautions=(caution,) * 3)
    assert area(plain).bottom < area(with_one).bottom < area(with_three).bottom
    stopped = replace(plain, not_for_cutting=True)
    assert area(stopped).top < area(plain).top
    assert "NOT FOR CUTTING" in words(flatten(stopped))
    assert "NOT FOR CUTTING" not in words(flatten(plain))
    assert words(flatten(with_three)).count("Hot work") == 3


def test_a_fitted_drawing_is_in_the_box_at_the_largest_scale() -> None:
    box = Box(20.0, 30.0, 150.0, 200.0)
    placed = fitted(everything(), box, "imperial", caption="LEFT LEAF")
    sheet = Sheet("Leaf", A4, placed=(placed,))
    around = [item_box(item) for item in flatten(sheet).items]
    assert min(b.left for b in around) >= box.left
    assert max(b.right for b in around) <= box.right
    assert min(b.bottom for b in around) >= box.bottom
    assert max(b.top for b in around) <= box.top
    assert placed.scale.ratio == 12
    with pytest.raises(ValueError, match="does not fit into 130 by 158 mm"):
        larger = next(s for s in (FULL_SIZE,))
        fitted(everything(), box, "imperial", caption="LEFT LEAF", scale=larger)


@pytest.mark.parametrize(
    ("start", "end", "box"),
    [
        (0.1, 0.2, Box(math.cos(0.2), math.sin(0.1), math.cos(0.1), math.sin(0.2))),
        (-0.5, 0.5, Box(math.cos(0.5), -math.sin(0.5), 1.0, math.sin(0.5))),
        (0.5, 0.4, Box(-1.0, -1.0, 1.0, 1.0)),
        (3.0, 0.2, Box(-1.0, -1.0, 1.0, math.sin(0.2))),
        (1.0, 1.0, Box(-1.0, -1.0, 1.0, 1.0)),
    ],
)
def test_the_box_round_an_arc_is_its_own(start: float, end: float, box: Box) -> None:
    found = item_box(Arc((0.0, 0.0), 1.0, start, end, "cut"))
    assert (found.left, found.bottom, found.right, found.top) == pytest.approx(
        (box.left, box.bottom, box.right, box.top)
    )


def test_a_drawing_lands_where_it_is_put() -> None:
    drawing = Drawing((Line((0.0, 0.0), (0.5, 0.25), "cut"),))
    scene = flatten(Sheet("Line", A4, placed=(Placed(drawing, METRIC_SCALES[2], (30.0, 60.0)),)))
    assert scene.items == (Line((30.0, 60.0), (130.0, 110.0), "cut"),)


def test_what_stands_outside_is_kept_and_reported() -> None:
    line = Line((20.0, 100.0), (400.0, 100.0), "cut")
    scene = flatten(Sheet("Line", A4, items=(line,)))
    assert line in scene.items
    (found,) = defects(scene)
    assert found.startswith("a line of layer 'cut' at 20.0, 100.0 stands outside the sheet's room")


def test_a_drawing_over_the_title_strip_is_reported() -> None:
    scene = flatten(Sheet("Line", A4, items=(Line((20.0, 12.0), (50.0, 12.0), "thin"),)))
    assert any("stands outside the sheet's room" in found for found in defects(scene))


def test_a_place_that_is_no_number_is_refused() -> None:
    drawing = Drawing((Line((0.0, 0.0), (float("nan"), 0.0), "cut"),))
    with pytest.raises(ValueError, match="no finite place on the paper"):
        scene_of(drawing, FULL_SIZE)


def test_a_text_that_cannot_be_written_is_reported() -> None:
    scene = flatten(Sheet("Plate", A4, items=(Text((50.0, 50.0), "✓"),)))
    assert any("has what the font cannot write: ✓" in found for found in defects(scene))


def test_a_drawing_alone_fills_its_page() -> None:
    drawing = Drawing((Dimension((0, 0), (0.1, 0), 8, "100", "x"), Line((0, 0), (0.1, 0), "cut")))
    scene = scene_of(drawing, FULL_SIZE, margin_mm=2.0)
    boxes = [item_box(item) for item in scene.items]
    assert min(b.left for b in boxes) == pytest.approx(2.0)
    assert max(b.top for b in boxes) == pytest.approx(scene.height - 2.0)
    assert defects(scene) == []


def test_a_long_reason_stays_in_the_band_and_says_where_the_rest_is() -> None:
    frame = Box(0.0, 0.0, 420.0, 280.0)
    why = "not strong enough: " + ", ".join(f"brace {i} of the left leaf" for i in range(30))
    band = [i for i in not_for_cutting_band(frame, why) if isinstance(i, Text)]
    assert band[-1].text == "… the whole of it stands on the first sheet"
    assert all(frame.top - BAND_MM < text.at[1] < frame.top for text in band)
