import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest

from leafwright.paper.font import text_width
from leafwright.paper.scene import Arc, Circle, Fill, Line, Scene, Text
from leafwright.paper.sheet import flatten
from leafwright.paper.svg import svg_text
from tests.paper.samples import page, sample_sheet

NAMESPACE = "{http://www.w3.org/2000/svg}"


def svg_of(scene: Scene) -> ET.Element:
    return ET.fromstring(svg_text(scene, title="Left leaf", description="Seen from the yard"))


def test_it_is_true_to_size_and_says_what_it_is() -> None:
    root = svg_of(flatten(sample_sheet()))
    assert (root.get("width"), root.get("height")) == ("431.8mm", "279.4mm")
    assert root.get("viewBox") == "0 0 431.8 279.4"
    assert root.get("role") == "img"
    assert [child.tag for child in root[:2]] == [f"{NAMESPACE}title", f"{NAMESPACE}desc"]
    assert root[0].text == "Left leaf"


def test_words_are_words_and_markup_in_them_is_escaped() -> None:
    scene = page(
        Text((50, 50), '<b>&"', key='k"<&'),
        Text((50, 60), "two  spaces"),
        Line((1, 2), (3, 4), "cut"),
    )
    written = svg_text(scene, title="<b>&", description='"quoted" <i>')
    root = ET.fromstring(written)
    texts = list(root.iter(f"{NAMESPACE}text"))
    assert [text.text for text in texts] == ['<b>&"', "two  spaces"]
    assert texts[0].get("data-key") == 'k"<&'
    assert root[0].text == "<b>&"
    assert "<b>" not in written


def test_a_control_character_is_refused() -> None:
    with pytest.raises(ValueError, match=r"'Left\\x00' holds the control character '\\x00'"):
        svg_text(page(), title="Left\x00", description="")


def test_y_points_down_in_the_file() -> None:
    root = svg_of(page(Line((10, 20), (30, 50), "cut")))
    line = next(root.iter(f"{NAMESPACE}line"))
    assert [line.get(name) for name in ("x1", "y1", "x2", "y2")] == ["10", "180", "30", "150"]


def test_an_arc_is_an_arc_the_right_way_round() -> None:
    for start, end in ((0.0, 1.0), (1.0, 0.5), (-2.0, 2.5)):
        root = svg_of(page(Arc((100, 100), 20, start, end, "cut")))
        data = next(root.iter(f"{NAMESPACE}path")).get("d") or ""
        first = re.match(r"M(\S+) ([^A]+)A", data)
        pieces = re.findall(r"A(\S+) (\S+) 0 (\d) (\d) (\S+) ([^A]+)", data)
        assert first
        assert (float(first[1]), float(first[2])) == pytest.approx(
            (100 + 20 * math.cos(start), 100 - 20 * math.sin(start)), abs=1e-3
        )
        last = pieces[-1]
        assert (float(last[4]), float(last[5])) == pytest.approx(
            (100 + 20 * math.cos(end), 100 - 20 * math.sin(end)), abs=1e-3
        )
        # Sweep 0 is anticlockwise on a page whose y points down; no piece is over half a turn
        # unless flagged large.
        span = (end - start) % (2 * math.pi)
        assert all(piece[3] == "0" for piece in pieces)
        assert all(piece[2] == str(int(span / len(pieces) > math.pi)) for piece in pieces)


def test_lines_carry_their_layer_and_key() -> None:
    root = svg_of(flatten(sample_sheet()))
    groups = [group.get("class") for group in root.iter(f"{NAMESPACE}g")]
    assert {"pen-cut", "pen-centre", "pen-mark", "pen-dimension", "pen-hatch", "words"} <= set(
        groups
    )
    # Neighbours of one layer share a group.
    assert all(a != b for a, b in itertools.pairwise(groups))
    keys = {element.get("data-key") for element in root.iter()} - {None}
    assert {"left/frame", "left/brace-1", "left/hole-1", "tick/2"} <= keys


def test_nothing_runs_and_nothing_comes_from_outside() -> None:
    written = svg_text(flatten(sample_sheet()), title="t", description="d")
    assert not re.search(r"<script|<style|style=|href|url\(|@import|\son\w+=", written)
    assert re.findall(r"https?://[^\"']+", written) == ["http://www.w3.org/2000/svg"]


def test_words_keep_their_width_in_any_font() -> None:
    root = svg_of(page(Text((50, 50), "14'-6\"", height_mm=6.0, bold=True, angle=math.pi / 2)))
    text = next(root.iter(f"{NAMESPACE}text"))
    width = text_width("14'-6\"", 6.0, bold=True)
    assert float(text.get("textLength") or 0) == pytest.approx(width, abs=1e-3)
    assert text.get("transform") == "rotate(-90 50 150)"
    assert text.get("font-weight") == "600"


def test_words_hang_from_their_anchor_in_any_font() -> None:
    root = svg_of(
        page(
            Text((50, 50), "1 1/2", anchor="right-middle"),
            Text((50, 70), "3/8", anchor="centre-top"),
            Text((50, 90), "5/8"),
        )
    )
    texts = list(root.iter(f"{NAMESPACE}text"))
    assert [text.get("text-anchor") for text in texts] == ["end", "middle", None]
    assert [float(text.get("x") or 0) for text in texts] == [50.0, 50.0, 50.0]
    assert [float(text.get("y") or 0) for text in texts] == pytest.approx([151.5, 133.0, 110.0])
    assert [text.get("word-spacing") is not None for text in texts] == [True, False, False]


def test_fills_circles_and_knockouts_are_drawn() -> None:
    hole = ((40.0, 40.0), (50.0, 40.0), (50.0, 50.0))
    root = svg_of(
        page(
            Fill(((30, 30), (60, 30), (60, 60)), "black", holes=(hole,)),
            Circle((100, 100), 5, "mark", fill="white"),
            Text((50, 80), "note", knockout=True, ink="white"),
        )
    )
    path = next(root.iter(f"{NAMESPACE}path"))
    assert path.get("fill-rule") == "evenodd"
    assert (path.get("d") or "").count("Z") == 2
    assert next(root.iter(f"{NAMESPACE}circle")).get("fill") == "#ffffff"
    box = next(root.iter(f"{NAMESPACE}polygon"))
    assert box.get("class") == "knockout"
    assert next(root.iter(f"{NAMESPACE}text")).get("fill") == "#ffffff"
