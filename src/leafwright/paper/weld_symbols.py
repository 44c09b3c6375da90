"""Welding symbols drawn with lines: AWS A2.4, and ISO 2553 in its system A.

Read second-hand, in open guides to both: AWS has what is on the arrow's side of the joint under
its one line and what is on the other side over it; ISO's system A has the arrow's side on the
unbroken line and the other side on the dashed one. Size stands left of the weld's sign and length
right of it, whichever way the arrow points; a fillet's upright leg is on the left; a groove's
throat stands in brackets (AWS), a throat behind ``s`` and a leg behind ``z`` (ISO). A circle where
arrow and line meet says all round, a flag there field or site; a straight line over the sign says
flush, with AWS's G for grinding; ISO has no letter for that, and it goes into the tail. The curves
of the flare signs are from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leafwright.paper.annotate import arrowhead
from leafwright.paper.font import text_width
from leafwright.paper.scene import Arc, Circle, Fill, Line, Point, Polyline, Primitive, Text

Side = Literal["arrow", "other"]
Standard = Literal["AWS", "ISO"]
Kind = Literal["fillet", "flare-bevel", "flare-V", "square groove", "bevel groove", "plug"]

#: How high a weld's sign is, and the words beside it [mm].
SIGN, WORDS = 3.2, 2.4
_GAP, _ALL_ROUND, _FLAG, _DASHED_DOWN = 0.9, 1.1, 3.6, 1.1
#: How much room a symbol needs over and under its line [mm].
OVER, UNDER = 6.2, 6.2


@dataclass(frozen=True, slots=True)
class WeldMark:
    """What a welding symbol says; ``size``, ``length`` and ``tail`` are words, '' for none."""

    kind: Kind
    size: str = ""
    length: str = ""
    side: Side = "arrow"
    all_round: bool = False
    field: bool = False
    flush: bool = False
    tail: str = ""
    standard: Standard = "AWS"

    @property
    def over(self) -> bool:
        """Whether the sign stands over the line: AWS's other side, ISO's arrow side."""
        return (self.side == "other") is (self.standard == "AWS")

    @property
    def flush_words(self) -> str:
        """What stands beyond the flush line."""
        return "G" if self.flush and self.standard == "AWS" else ""


def mark_width(mark: WeldMark) -> float:
    """Return how wide a symbol is, from where arrow and line meet to its tail's end [mm]."""
    return _layout(mark)[-1]


def _layout(mark: WeldMark) -> tuple[float, float, float, float]:
    """Return where size, sign and length begin, and where all ends [mm from the junction]."""
    size = 2.6 + (_ALL_ROUND if mark.all_round else 0.0)
    sign = size + (text_width(mark.size, WORDS) + _GAP if mark.size else 0.0)
    length = sign + SIGN * (1.4 if mark.kind == "plug" else 1.25) + _GAP
    end = length + (text_width(mark.length, WORDS) if mark.length else 0.0) + 1.6
    tail = mark.tail
    return size, sign, length, end + (2.4 + text_width(tail, WORDS) + _GAP if tail else 0.0)


def weld_mark(at: Point, mark: WeldMark, *, tip: Point | None = None) -> tuple[Primitive, ...]:
    """Return a welding symbol.

    Args:
        at: where arrow and reference line meet [mm]; the line runs to the right from there.
        mark: what it says.
        tip: where the arrow points [mm]; None draws a short one, down to the left.
    """
    x, y = at
    size, sign, length, end = _layout(mark)
    tail = mark.tail
    line_end = x + end - (2.4 + text_width(tail, WORDS) + _GAP if tail else 0.0)
    to = tip or (x - 4.2, y - 4.6)
    items: list[Primitive] = [
        Line((x, y), (line_end, y), "note"),
        Line(at, to, "note"),
        arrowhead(to, (to[0] - x, to[1] - y), layer="note"),
    ]
    up = 1.0 if mark.over else -1.0
    base = y
    if mark.standard == "ISO":
        # The dashed line lies beyond the unbroken one, away from a sign of the arrow's side.
        low = y - _DASHED_DOWN
        items += _dashes(x + 0.9, line_end - 0.4, low)
        if mark.side == "other":
            base = low
    items += _sign(mark.kind, x + sign, base, up)
    middle = base + up * SIGN / 2.0
    if mark.size:
        items.append(_words(mark.size, x + size, middle))
    if mark.length:
        items.append(_words(mark.length, x + length, middle))
    if mark.flush:
        items += _flush(mark, x + sign, base, up)
    if mark.all_round:
        items.append(Circle(at, _ALL_ROUND, "note"))
    if mark.field:
        top = y + _FLAG + 1.4
        items.append(Line(at, (x, top), "note"))
        items.append(Fill(((x, top), (x + 2.8, top - 0.9), (x, top - 1.8)), "black", layer="note"))
    if tail:
        for way in (1.0, -1.0):
            items.append(Line((line_end, y), (line_end + 1.9, y + way * 1.9), "note"))
        items.append(_words(tail, line_end + 2.4, y))
    return tuple(items)


def _words(text: str, x: float, y: float) -> Text:
    return Text((x, y), text, height_mm=WORDS, anchor="left-middle")


def _dashes(left: float, right: float, y: float) -> list[Primitive]:
    items: list[Primitive] = []
    x = left
    while x < right - 0.3:
        items.append(Line((x, y), (min(x + 1.4, right), y), "note"))
        x += 2.1
    return items


def _sign(kind: Kind, x: float, y: float, up: float) -> list[Primitive]:
    """Return a weld's sign, its left edge at x, standing on y or hanging from it."""
    s = SIGN
    if kind == "fillet":
        return [Polyline(((x, y), (x, y + up * s), (x + s, y)), "note", closed=True)]
    if kind == "square groove":
        return [Line((at, y), (at, y + up * s), "note") for at in (x + 0.8, x + 2.0)]
    if kind == "bevel groove":
        slanted = Line((x + 1.0, y), (x + 1.0 + 0.7 * s, y + up * s), "note")
        return [Line((x + 1.0, y), (x + 1.0, y + up * s), "note"), slanted]
    if kind == "plug":
        wide, high = 1.3 * s, 0.75 * s
        corners = ((x, y), (x + wide, y), (x + wide, y + up * high), (x, y + up * high))
        return [Polyline(corners, "note", closed=True)]
    # A quarter circle that leaves the line upright and flares away from it.
    r = 0.85 * s
    right = _quarter((x + 1.1 + r, y), r, left=True, up=up)
    if kind == "flare-bevel":
        return [Line((x + 0.5, y), (x + 0.5, y + up * s), "note"), right]
    return [_quarter((x + 0.5 - r, y), r, left=False, up=up), right]


def _quarter(centre: Point, r: float, *, left: bool, up: float) -> Arc:
    """Return the quarter of a circle on its left or right, over or under its middle."""
    half = math.pi / 2.0
    first = (
        half
        * {(True, True): 1, (True, False): 2, (False, True): 0, (False, False): 3}[(left, up > 0.0)]
    )
    return Arc(centre, r, first, first + half, "note")


def _flush(mark: WeldMark, x: float, y: float, up: float) -> list[Primitive]:
    high = (0.75 if mark.kind == "plug" else 1.0) * SIGN
    if mark.kind == "fillet":
        # Along the slanted face.
        a, b = (x + 0.9, y + up * (high + 0.3)), (x + SIGN + 0.5, y + up * 0.7)
        over: list[Primitive] = [Line(a, b, "note")]
        at = (x + SIGN / 2 + 1.6, y + up * (high + 0.6))
    else:
        level = y + up * (high + 0.55)
        over = [Line((x, level), (x + SIGN + 0.2, level), "note")]
        at = (x + SIGN / 2, level + up * 0.55)
    if mark.flush_words:
        anchor: Literal["centre-bottom", "centre-top"] = (
            "centre-bottom" if up > 0.0 else "centre-top"
        )
        over.append(Text(at, mark.flush_words, height_mm=2.2, anchor=anchor))
    return over
