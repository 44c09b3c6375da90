import math

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from leafwright.paper.font import (
    CAP_HEIGHT,
    LEADING,
    drawable,
    extent,
    font_file,
    ink_corners,
    lines_of,
    missing_characters,
    start_of,
    text_width,
)
from leafwright.paper.scene import Anchor, Text


@pytest.mark.parametrize("bold", [False, True])
def test_cap_height_is_the_font_files(bold: bool) -> None:
    font = TTFont(font_file(bold=bold))
    # The semi-bold's capitals are 0.4 % of the em higher; the regular's height serves for both.
    cap_height = font["OS/2"].sCapHeight / font["head"].unitsPerEm
    assert cap_height == pytest.approx(CAP_HEIGHT, abs=0.005 if bold else 1e-9)


def test_a_capital_is_as_high_as_asked() -> None:
    corners = ink_corners(Text((10.0, 20.0), "H", height_mm=3.0))
    assert corners[0][1] == pytest.approx(20.0, abs=0.01)
    # To the cap height's rounding in the font, 1/1000 of the em.
    assert corners[2][1] == pytest.approx(23.0, abs=0.01)


def test_width_is_the_sum_of_the_advances_in_the_font_file() -> None:
    font = TTFont(font_file())
    names, advances = font.getBestCmap(), font["hmtx"]
    ems = sum(advances[names[ord(c)]][0] for c in "14'-6\"") / font["head"].unitsPerEm
    assert text_width("14'-6\"", 3.0) == pytest.approx(ems * 3.0 / CAP_HEIGHT)


def test_a_mixed_fraction_is_not_read_as_one_fraction() -> None:
    apart = extent("1 1/2").advance - extent("11/2").advance
    # More than a third of the em, where two letters of a word stand about 0.12 of it apart.
    assert apart > 0.35


@pytest.mark.parametrize("sign", "½¼¾⅛⅜⅝⅞\u00d8\u00b0±×−→≤√ΔΣμ")
def test_the_font_has_the_trades_signs(sign: str) -> None:
    assert missing_characters(sign) == ()


def test_a_character_that_the_font_lacks_is_named() -> None:
    assert missing_characters("3′ 2″ ok ✓ ✓") == ("′", "″", "✓")
    assert drawable("done ✓, 船庫") == "done ?, ??"
    assert extent("done ✓") == extent("done ?")


@pytest.mark.parametrize(
    ("anchor", "x", "y"),
    [
        ("left-bottom", 0.0, 0.0),
        ("centre-middle", -0.5, -1.5),
        ("right-top", -1.0, -3.0),
    ],
)
def test_anchor_places_the_start(anchor: Anchor, x: float, y: float) -> None:
    text = Text((50.0, 50.0), "HHH", height_mm=3.0, anchor=anchor)
    width = text_width("HHH", 3.0)
    assert start_of(text) == pytest.approx((50.0 + x * width, 50.0 + y))


def test_turned_text_turns_about_its_anchor() -> None:
    upright = Text((50.0, 50.0), "HHH", anchor="centre-middle", angle=0.5 * math.pi)
    xs = [x for x, _ in ink_corners(upright)]
    ys = [y for _, y in ink_corners(upright)]
    assert max(ys) - min(ys) > max(xs) - min(xs)
    assert 0.5 * (max(xs) + min(xs)) == pytest.approx(50.0, abs=0.01)


def test_lines_stand_under_each_other_round_the_anchor() -> None:
    lines = lines_of(Text((0.0, 0.0), "one\n\ntwo", height_mm=2.0, anchor="left-middle"))
    assert [line.text for line in lines] == ["one", "two"]
    assert [line.at[1] for line in lines] == pytest.approx([2.0 * LEADING, -2.0 * LEADING])
    turned = lines_of(
        Text((0.0, 0.0), "one\ntwo", height_mm=2.0, anchor="left-top", angle=0.5 * math.pi)
    )
    assert turned[1].at == pytest.approx((2.0 * LEADING, 0.0))


def test_blank_text_draws_nothing() -> None:
    assert lines_of(Text((0.0, 0.0), "  ")) == ()
