"""Words broken into lines, and lines set into a place, in millimetres of paper."""

from __future__ import annotations

import functools
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from leafwright.paper.font import LEADING, text_width
from leafwright.paper.scene import Anchor, Ink, Text

Align = Literal["left", "centre", "right"]

_TOP_ANCHORS: dict[Align, Anchor] = {
    "left": "left-top",
    "centre": "centre-top",
    "right": "right-top",
}

# What hangs below the line that words stand on, in cap heights.
DESCENT = 0.35


#: The space before a fraction: it is never parted from its whole inches.
_FRACTION = re.compile(r"(?<=\d) (?=\d+/\d)")


#: A list that is tried ever shorter wraps the same words many times over.
@functools.lru_cache(maxsize=8192)
def wrapped(
    text: str, width_mm: float, *, height_mm: float = 3.0, bold: bool = False
) -> tuple[str, ...]:
    """Return a text's lines, broken between words so that none is wider than ``width_mm`` [mm].

    A word too wide for a line of its own is broken between letters. Line breaks in the text are
    kept; runs of spaces become one.

    Args:
        text: the words.
        width_mm: width of the place [mm].
        height_mm: height of a capital [mm].
        bold: in the semi-bold.

    Raises:
        ValueError: when the place is too narrow for a single letter.
    """
    room, space = width_mm + 1e-9, text_width(" ", height_mm, bold=bold)
    lines: list[str] = []
    for part in _FRACTION.sub("\u00a0", text).split("\n"):
        line, used = "", 0.0
        # Only at plain spaces: a no-break space holds a length and its fraction together.
        for word in (w for w in re.split(r"[ \t]+", part) if w):
            wide = text_width(word, height_mm, bold=bold)
            if (used + space if line else 0.0) + wide <= room:
                line, used = (f"{line} {word}", used + space + wide) if line else (word, wide)
                continue
            if line:
                lines.append(line)
            whole, line = _broken(word, room, width_mm, height_mm, bold)
            lines += whole
            used = text_width(line, height_mm, bold=bold)
        lines.append(line)
    return tuple(lines)


def _broken(
    word: str, room: float, width_mm: float, height_mm: float, bold: bool
) -> tuple[list[str], str]:
    """Return the full lines of a word too wide for one, and what is left of it."""
    lines: list[str] = []
    while text_width(word, height_mm, bold=bold) > room:
        count = len(word) - 1
        while count > 0 and text_width(word[:count], height_mm, bold=bold) > room:
            count -= 1
        if count == 0:
            raise ValueError(
                f"a place {width_mm:.1f} mm wide does not hold the letter {word[0]!r} "
                f"{height_mm:.1f} mm high; make it wider or the words smaller"
            )
        lines.append(word[:count])
        word = word[count:]
    return lines, word


def fitted_height(
    text: str, width_mm: float, *, height_mm: float, least_mm: float, bold: bool = False
) -> float:
    """Return the largest height of one line of text that fits a width [mm].

    Args:
        text: the words, on one line.
        width_mm: width of the place [mm].
        height_mm: the height wished for [mm]; never more is returned.
        least_mm: the least that can be read where the sheet is used [mm].
        bold: in the semi-bold.

    Raises:
        ValueError: when it does not fit at ``least_mm``.
    """
    at_one = text_width(text, 1.0, bold=bold)
    height = min(height_mm, width_mm / at_one) if at_one > 0.0 else height_mm
    if height < least_mm:
        raise ValueError(
            f"{text!r} does not fit {width_mm:.1f} mm at a height of {least_mm:.1f} mm, the least "
            "that can be read there; wrap it, shorten it or give it more room"
        )
    return height


def lines_at(
    lines: Sequence[str],
    left: float,
    top: float,
    width: float,
    *,
    height_mm: float,
    bold: bool,
    align: Align,
    ink: Ink,
    key: str = "",
) -> tuple[Text, ...]:
    """Return one text for each line, empty ones left out.

    Args:
        lines: the lines, as `wrapped` gives them.
        left: left edge of their place [mm].
        top: top of the first line's capitals [mm].
        width: width of their place [mm].
        height_mm: height of a capital [mm].
        bold: in the semi-bold.
        align: against which edge of the place they stand.
        ink: their ink.
        key: what they belong to.
    """
    x = {"left": left, "centre": left + 0.5 * width, "right": left + width}[align]
    style = Text(
        (0.0, 0.0),
        "",
        height_mm=height_mm,
        anchor=_TOP_ANCHORS[align],
        bold=bold,
        ink=ink,
        key=key,
    )
    pitch = LEADING * height_mm
    return tuple(
        replace(style, at=(x, top - number * pitch), text=line)
        for number, line in enumerate(lines)
        if line
    )


def lines_height(count: int, height_mm: float) -> float:
    """Return the height of lines [mm], from the top of a capital to below the last descender."""
    return height_mm * (1.0 + LEADING * (count - 1) + DESCENT)
