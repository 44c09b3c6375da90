"""A scene as SVG text: true millimetres, words as words, no script and nothing from outside."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence

from leafwright.paper.font import (
    FAMILY,
    WORD_SPACE,
    font_size,
    foot_of,
    knockout_corners,
    text_width,
)
from leafwright.paper.pens import INKS, PENS
from leafwright.paper.scene import (
    Arc,
    Circle,
    Fill,
    Ink,
    Layer,
    Line,
    Point,
    Polyline,
    Scene,
    Text,
)

FONT_FAMILIES = f"'{FAMILY}', 'Fira Sans', sans-serif"

_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}

# What XML 1.0 cannot hold even escaped.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg_text(scene: Scene, *, title: str, description: str) -> str:
    """Return the scene as an SVG document.

    Lengths are millimetres of paper. Each layer's lines stand in groups of class
    ``pen-<layer>``; an item with a key carries it as ``data-key``. Every text is held to the
    width it has in the drawing font, so that a viewer without that font still fits it.

    Args:
        scene: what to draw.
        title: what the picture is, in a few words, for those who do not see it.
        description: what it shows.

    Raises:
        ValueError: for a character that XML cannot hold.
    """
    wide, high = _number(scene.width), _number(scene.height)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" role="img">',
        f"<title>{_escaped(title)}</title>",
        f"<desc>{_escaped(description)}</desc>",
    ]
    items = scene.all_items
    shapes = [item for item in items if not isinstance(item, Text)]
    texts = [item for item in items if isinstance(item, Text)]
    for layer, run in itertools.groupby(shapes, key=lambda item: item.layer):
        parts.append(_group_start(layer))
        parts += [_shape(item, scene.height) for item in run]
        parts.append("</g>")
    parts += _texts(texts, scene.height)
    parts.append("</svg>")
    return "\n".join(parts) + "\n"


def _group_start(layer: Layer) -> str:
    pen = PENS[layer]
    dash = f' stroke-dasharray="{" ".join(map(_number, pen.dash))}"' if pen.dash else ""
    ends = "butt" if pen.dash else "round"
    return (
        f'<g class="pen-{layer}" fill="none" stroke="{INKS[pen.ink]}" '
        f'stroke-width="{_number(pen.width)}" stroke-linecap="{ends}" '
        f'stroke-linejoin="round"{dash}>'
    )


def _shape(item: Line | Polyline | Arc | Circle | Fill, high: float) -> str:
    key = f' data-key="{_escaped(item.key)}"' if item.key else ""
    match item:
        case Line():
            (x1, y1), (x2, y2) = item.a, item.b
            return (
                f'<line x1="{_number(x1)}" y1="{_number(high - y1)}" '
                f'x2="{_number(x2)}" y2="{_number(high - y2)}"{key}/>'
            )
        case Polyline():
            name = "polygon" if item.closed else "polyline"
            return f'<{name} points="{_points(item.points, high)}"{_fill(item.fill)}{key}/>'
        case Circle():
            x, y = item.centre
            return (
                f'<circle cx="{_number(x)}" cy="{_number(high - y)}" r="{_number(item.radius)}"'
                f"{_fill(item.fill)}{key}/>"
            )
        case Fill():
            loops = " ".join(f"M{_points(loop, high)}Z" for loop in (item.points, *item.holes))
            return f'<path d="{loops}" fill-rule="evenodd" stroke="none"{_fill(item.ink)}{key}/>'
        case Arc():
            return f'<path d="{_arc(item, high)}"{key}/>'


def _arc(item: Arc, high: float) -> str:
    """Return path data for an arc; a whole turn is two halves, which SVG needs."""
    (x, y), r = item.centre, item.radius
    pieces = 2 if item.span > 1.5 * math.pi else 1
    radius = _number(r)
    data = ""
    for number in range(pieces + 1):
        angle = item.start + item.span * number / pieces
        end = f"{_number(x + r * math.cos(angle))} {_number(high - y - r * math.sin(angle))}"
        large = int(item.span / pieces > math.pi)
        data += f"M{end}" if number == 0 else f"A{radius} {radius} 0 {large} 0 {end}"
    return data


def _texts(texts: Sequence[Text], high: float) -> list[str]:
    if not texts:
        return []
    parts = [
        f'<g class="words" font-family="{FONT_FAMILIES}" font-stretch="condensed" '
        f'fill="{INKS["black"]}">'
    ]
    for text in texts:
        if text.knockout:
            corners = _points(knockout_corners(text), high)
            parts.append(f'<polygon class="knockout" points="{corners}" fill="{INKS["white"]}"/>')
    for text in texts:
        x, y = foot_of(text)
        place = f'x="{_number(x)}" y="{_number(high - y)}"'
        if text.angle:
            turn = _number(-math.degrees(text.angle))
            place += f' transform="rotate({turn} {_number(x)} {_number(high - y)})"'
        size = font_size(text.height_mm)
        width = text_width(text.text, text.height_mm, bold=text.bold)
        more = f' textLength="{_number(width)}" lengthAdjust="spacingAndGlyphs"'
        anchor = _ANCHORS[text.anchor.split("-")[0]]
        if anchor != "start":
            more += f' text-anchor="{anchor}"'
        if " " in text.text:
            more += f' word-spacing="{_number(WORD_SPACE * size)}"'
        if text.bold:
            more += ' font-weight="600"'
        if text.ink != "black":
            more += f' fill="{INKS[text.ink]}"'
        if text.key:
            more += f' data-key="{_escaped(text.key)}"'
        if text.text != " ".join(text.text.split()):
            more += ' xml:space="preserve"'
        parts.append(
            f'<text {place} font-size="{_number(size)}"{more}>{_escaped(text.text)}</text>'
        )
    parts.append("</g>")
    return parts


def _fill(ink: Ink | None) -> str:
    return f' fill="{INKS[ink]}"' if ink else ""


def _points(points: Sequence[Point], high: float) -> str:
    return " ".join(f"{_number(x)},{_number(high - y)}" for x, y in points)


def _number(value: float) -> str:
    """Return a number to the thousandth of a millimetre, without needless zeros."""
    words = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if words == "-0" else words


def _escaped(words: str) -> str:
    wrong = _NOT_XML.search(words)
    if wrong:
        raise ValueError(
            f"{words!r} holds the control character {wrong.group()!r}, which a picture cannot "
            "carry; take it out"
        )
    for sign, name in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        words = words.replace(sign, name)
    return words
