import io
import itertools
import math
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from leafwright.paper.font import WORD_SPACE, extent, text_width
from leafwright.paper.pdf import pdf_bytes
from leafwright.paper.scene import Arc, Circle, Fill, Line, Polyline, Scene, Text
from leafwright.paper.sheet import A4, LETTER, Sheet, flatten, numbered
from tests.paper.samples import page, sample_sheet

POINTS_100_MM = 283.4646  # 100 / 25.4 * 72


def read(*scenes: Scene) -> PdfReader:
    return PdfReader(io.BytesIO(pdf_bytes(scenes, title="Packet", author="shop", subject="doors")))


def operations(reader: PdfReader, number: int = 0) -> list[tuple[list[Any], bytes]]:
    return list(ContentStream(reader.pages[number].get_contents(), reader).operations)


def test_a_page_is_as_large_as_its_paper() -> None:
    reader = read(flatten(Sheet("One", A4)), flatten(Sheet("Two", LETTER.landscape)))
    sizes = [(float(p.mediabox.width), float(p.mediabox.height)) for p in reader.pages]
    assert sizes[0] == pytest.approx((595.28, 841.89), abs=0.01)
    assert sizes[1] == pytest.approx((792.0, 612.0), abs=0.01)


def test_a_100_mm_line_is_100_mm() -> None:
    done = operations(read(page(Line((20, 30), (120, 30), "cut"))))
    matrices = [operands for operands, operator in done if operator == b"cm"]
    assert matrices == [[1, 0, 0, 1, 0, 0]]
    (start, end) = [
        [float(v) for v in operands] for operands, operator in done if operator in (b"m", b"l")
    ]
    assert end[0] - start[0] == pytest.approx(POINTS_100_MM, abs=1e-3)
    assert (start[0], start[1]) == pytest.approx(
        (0.2 * POINTS_100_MM, 0.3 * POINTS_100_MM), abs=1e-3
    )


def test_a_circle_and_an_arc_are_true() -> None:
    done = operations(
        read(page(Circle((100, 100), 50, "cut"), Arc((100, 100), 50, 0.3, 5.0, "cut")))
    )
    ends = [[float(v) for v in operands[-2:]] for operands, op in done if op in (b"m", b"c")]
    centre = (POINTS_100_MM, POINTS_100_MM)
    assert len(ends) > 6
    for x, y in ends:
        assert math.dist((x, y), centre) == pytest.approx(0.5 * POINTS_100_MM, abs=1e-2)
    last = ends[-1]
    angle = math.atan2(last[1] - centre[1], last[0] - centre[0]) % (2.0 * math.pi)
    assert angle == pytest.approx(5.0, abs=1e-4)


def test_every_font_is_inside_the_file() -> None:
    reader = read(flatten(sample_sheet()), page(Line((1, 1), (2, 2), "cut")))
    names = set()
    for sheet in reader.pages:
        resources: Any = sheet["/Resources"]
        for reference in resources.get("/Font", {}).values():
            font = reference.get_object()
            names.add(font["/BaseFont"])
            assert "/FontFile2" in font["/FontDescriptor"]
    assert names
    assert all("FiraSansCondensed" in name for name in names)


def test_every_text_of_the_scene_is_on_the_page() -> None:
    scene = flatten(sample_sheet(not_for_cutting=True))
    reader = read(scene)
    texts = [item.text for item in scene.all_items if isinstance(item, Text)]
    shown = [operator for _, operator in operations(reader) if operator == b"BT"]
    assert len(shown) == len(texts)
    extracted = "".join(reader.pages[0].extract_text().split())
    for text in texts:
        assert "".join(text.split()) in extracted


def test_words_are_as_wide_as_they_were_measured() -> None:
    words, height = '1 1/2" x 2', 6.0
    done = operations(read(page(Text((20, 20), words, height_mm=height))))
    values = {
        operator: [float(v) for v in operands]
        for operands, operator in done
        if operator in (b"Tw", b"Tm")
    }
    size = next(float(operands[1]) for operands, operator in reversed(done) if operator == b"Tf")
    advances = sum(extent(letter).advance - WORD_SPACE * (letter == " ") for letter in words)
    width = advances * size + words.count(" ") * values[b"Tw"][0]
    assert width == pytest.approx(text_width(words, height) / 25.4 * 72, rel=1e-4)
    assert values[b"Tm"][4:] == pytest.approx([20 / 25.4 * 72] * 2, abs=1e-3)


def test_it_asks_to_be_printed_at_actual_size_and_lists_its_sheets() -> None:
    scenes = [flatten(sheet) for sheet in numbered([sample_sheet(), sample_sheet()])]
    reader = read(*scenes)
    preferences: Any = reader.root_object["/ViewerPreferences"]
    assert preferences["/PrintScaling"] == "/None"
    assert [entry.title for entry in reader.outline] == ["Left leaf", "Left leaf"]  # type: ignore[union-attr]
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Packet", "shop")


def test_dashes_end_with_their_pen() -> None:
    done = operations(read(page(Line((1, 1), (9, 1), "centre"), Line((1, 2), (9, 2), "cut"))))
    dashes = [len(operands[0]) for operands, operator in done if operator == b"d"]
    assert dashes[-2:] == [4, 0]


def test_fills_have_holes_and_knockouts_lie_under_the_words() -> None:
    hole = ((40.0, 40.0), (50.0, 40.0), (50.0, 50.0))
    items = (
        Fill(((30, 30), (60, 30), (60, 60)), "black", holes=(hole,)),
        Polyline(((1, 1), (2, 1), (2, 2)), "cut", closed=True, fill="spot"),
        Circle((100, 100), 5, "mark", fill="white"),
        Text((50, 80), "note", knockout=True),
    )
    names = [operator for _, operator in operations(read(page(*items)))]
    assert b"f*" in names
    painted = [name for name in names if name in (b"f", b"f*", b"B", b"B*", b"BT")]
    assert painted[-1] == b"BT"
    assert len(painted) == 5


def test_no_pages_is_refused() -> None:
    with pytest.raises(ValueError, match="the PDF 'Packet' would have no pages"):
        pdf_bytes([], title="Packet")


def test_pages_do_not_disturb_each_other() -> None:
    first, second = page(Line((1, 1), (9, 1), "centre")), page(Line((1, 2), (9, 2), "hidden"))
    alone = operations(read(second))
    after = operations(read(first, second), 1)
    for (a, name_a), (b, name_b) in itertools.zip_longest(alone, after):
        assert name_a == name_b
        assert [str(v) for v in a] == [str(v) for v in b]
