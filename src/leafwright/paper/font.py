"""Widths, heights and outlines of words in the drawing font (Fira Sans Condensed).

The font comes with a package and is read when first needed. It has the binary fractions, the
trade's signs and Greek, but no prime, double prime or tick: write ' and " and draw ticks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from leafwright.paper.scene import Point, Text

FAMILY = "Fira Sans Condensed"

# Cap height, from the font's OS/2 table [of the em]; a test compares it with the file.
CAP_HEIGHT = 0.688

# Line to line, in cap heights.
LEADING = 1.65

# What stands on paper for a character that the font does not have.
STAND_IN = "?"

# Added to the font's own space [of the em], so that 1 1/2 is never read as 11/2.
WORD_SPACE = 0.12

KNOCKOUT_MARGIN_MM = 0.4


@dataclass(frozen=True, slots=True)
class Extent:
    """What a string takes up, in ems from its start on the line it stands on.

    ``advance`` is where the next letter would start; the rest is the box of the ink.
    """

    advance: float
    left: float
    bottom: float
    right: float
    top: float


def font_file(*, bold: bool = False) -> Path:
    """Return where the font's file is; ``bold`` for the semi-bold."""
    import fontpkg_fira_sans_condensed

    name = "FiraSansCondensed-SemiBold.ttf" if bold else "FiraSansCondensed-Regular.ttf"
    return Path(fontpkg_fira_sans_condensed.ROOT) / "files" / name


@cache
def _tables(bold: bool) -> tuple[dict[int, str], Any, Any, int]:
    """Return the font's character map, advances, outlines and units to the em."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    font = TTFont(font_file(bold=bold), lazy=True)
    return font.getBestCmap(), font["hmtx"], font["glyf"], int(font["head"].unitsPerEm)


@cache
def _letter(character: str, bold: bool) -> Extent:
    names, advances, outlines, em = _tables(bold)
    name = names.get(ord(character)) or names[ord(STAND_IN)]
    advance = advances[name][0] / em + (WORD_SPACE if character == " " else 0.0)
    outline = outlines[name]
    if outline.numberOfContours == 0:
        return Extent(advance, 0.0, 0.0, 0.0, 0.0)
    return Extent(
        advance, outline.xMin / em, outline.yMin / em, outline.xMax / em, outline.yMax / em
    )


def missing_characters(text: str) -> tuple[str, ...]:
    """Return the characters of ``text`` that the drawing font cannot write, each once."""
    return tuple(
        dict.fromkeys(
            character
            for character in text
            if character != "\n"
            and not all(ord(character) in _tables(bold)[0] for bold in (False, True))
        )
    )


def drawable(text: str) -> str:
    """Return a text with `STAND_IN` for each character that the drawing font cannot write.

    A maker may write any script; the cover says which characters the sheets lack. Of our own words
    `inspect.defects` reports it.
    """
    missing = missing_characters(text)
    return "".join(STAND_IN if letter in missing else letter for letter in text)


@lru_cache(maxsize=20_000)
def extent(text: str, *, bold: bool = False) -> Extent:
    """Return what one line of text takes up [em], as it is `drawable`.

    Args:
        text: the words, without line breaks.
        bold: in the semi-bold.
    """
    pen = 0.0
    left, bottom, right, top = math.inf, math.inf, -math.inf, -math.inf
    for character in text:
        letter = _letter(character, bold)
        if letter.right > letter.left:
            left = min(left, pen + letter.left)
            right = max(right, pen + letter.right)
            bottom = min(bottom, letter.bottom)
            top = max(top, letter.top)
        pen += letter.advance
    if right < left:
        return Extent(pen, 0.0, 0.0, 0.0, 0.0)
    return Extent(pen, left, bottom, right, top)


def font_size(height_mm: float) -> float:
    """Return the size of the em [mm] for capitals ``height_mm`` high [mm]."""
    return height_mm / CAP_HEIGHT


def text_width(text: str, height_mm: float, *, bold: bool = False) -> float:
    """Return the width of one line of text [mm] for capitals ``height_mm`` high [mm]."""
    return extent(text, bold=bold).advance * font_size(height_mm)


def foot_of(text: Text) -> Point:
    """Return the anchor of a one-line text brought down to the line it stands on [mm]."""
    down = {"bottom": 0.0, "middle": 0.5, "top": 1.0}[text.anchor.split("-")[1]] * text.height_mm
    return (
        text.at[0] + down * math.sin(text.angle),
        text.at[1] - down * math.cos(text.angle),
    )


def start_of(text: Text) -> Point:
    """Return where a one-line text starts on the line it stands on [mm]."""
    width = text_width(text.text, text.height_mm, bold=text.bold)
    back = {"left": 0.0, "centre": 0.5, "right": 1.0}[text.anchor.split("-")[0]] * width
    x, y = foot_of(text)
    return (x - back * math.cos(text.angle), y - back * math.sin(text.angle))


def _turned(text: Text, left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    x, y = start_of(text)
    c, s = math.cos(text.angle), math.sin(text.angle)
    return tuple(
        (x + u * c - v * s, y + u * s + v * c)
        for u, v in ((left, bottom), (right, bottom), (right, top), (left, top))
    )


def ink_corners(text: Text) -> tuple[Point, ...]:
    """Return the four corners of the box round a one-line text's ink [mm], turned with it."""
    size = font_size(text.height_mm)
    box = extent(text.text, bold=text.bold)
    return _turned(text, box.left * size, box.bottom * size, box.right * size, box.top * size)


def knockout_corners(text: Text) -> tuple[Point, ...]:
    """Return the four corners of the white box behind a one-line text [mm].

    It goes no further down than the words do, so that a dimension's does not rub out its line.
    """
    size = font_size(text.height_mm)
    box = extent(text.text, bold=text.bold)
    m = KNOCKOUT_MARGIN_MM
    return _turned(
        text,
        min(0.0, box.left * size) - m,
        min(-m, box.bottom * size),
        max(box.advance, box.right) * size + m,
        max(text.height_mm, box.top * size) + m,
    )


def lines_of(text: Text) -> tuple[Text, ...]:
    """Return the text's lines, each a text of its own in its place; empty lines are left out.

    The anchor is the whole block's: "middle" is the middle of all the lines.
    """
    lines = text.text.split("\n")
    pitch = LEADING * text.height_mm
    first_up = {"bottom": 1.0, "middle": 0.5, "top": 0.0}[text.anchor.split("-")[1]]
    s, c = math.sin(text.angle), math.cos(text.angle)
    placed = []
    for number, line in enumerate(lines):
        up = pitch * (first_up * (len(lines) - 1) - number)
        at = (text.at[0] - up * s, text.at[1] + up * c)
        if line.strip():
            placed.append(replace(text, at=at, text=line))
    return tuple(placed)
