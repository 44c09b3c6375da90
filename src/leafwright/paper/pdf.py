"""Scenes as a PDF at true scale, with the drawing font inside and no other."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from leafwright.paper.font import (
    WORD_SPACE,
    drawable,
    font_file,
    font_size,
    knockout_corners,
    start_of,
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

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS_PER_MM = 72.0 / 25.4

_REGULAR = "LeafwrightRegular"
_BOLD = "LeafwrightBold"


@cache
def _registered_fonts() -> None:
    """Make the drawing font known to the PDF library, once in a process."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    pdfmetrics.registerFont(TTFont(_REGULAR, str(font_file())))
    pdfmetrics.registerFont(TTFont(_BOLD, str(font_file(bold=True))))


def pdf_bytes(scenes: Sequence[Scene], *, title: str, author: str = "", subject: str = "") -> bytes:
    """Return the scenes as a PDF, a page each, at true scale.

    The same scenes give the same bytes. The file asks its viewer to print at actual size.

    Args:
        scenes: the pages.
        title: the document's title.
        author: who made it.
        subject: what it is about.

    Raises:
        ValueError: when there are no pages.
    """
    from reportlab.pdfgen.canvas import Canvas

    if not scenes:
        raise ValueError(f"the PDF {title!r} would have no pages; give at least one sheet")
    _registered_fonts()
    file = io.BytesIO()
    canvas = Canvas(
        file,
        pagesize=_page_size(scenes[0]),
        invariant=1,
        pageCompression=1,
        # The stubs take a number here; the library wants a font's name.
        initialFontName=_REGULAR,  # type: ignore[arg-type]
        initialFontSize=10,
    )
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setSubject(subject)
    canvas.setCreator("Leafwright")
    canvas.setViewerPreference("PrintScaling", "None")
    for number, scene in enumerate(scenes, start=1):
        canvas.setPageSize(_page_size(scene))
        if scene.title:
            canvas.bookmarkPage(f"sheet-{number}")
            canvas.addOutlineEntry(scene.title, f"sheet-{number}")
        _draw(canvas, scene)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _page_size(scene: Scene) -> tuple[float, float]:
    return (scene.width * POINTS_PER_MM, scene.height * POINTS_PER_MM)


def _draw(canvas: Canvas, scene: Scene) -> None:
    pen: Layer | None = None
    texts: list[Text] = []
    canvas.setLineJoin(1)
    for item in scene.all_items:
        if isinstance(item, Text):
            texts.append(item)
            continue
        if item.layer != pen:
            pen = item.layer
            _take_pen(canvas, pen)
        _shape(canvas, item)
    _fill_with(canvas, "white")
    for text in texts:
        if text.knockout:
            path = _loop(canvas.beginPath(), knockout_corners(text), closed=True)
            canvas.drawPath(path, stroke=0, fill=1)
    for ink in dict.fromkeys(text.ink for text in texts):
        _fill_with(canvas, ink)
        for text in texts:
            if text.ink == ink:
                _words(canvas, text)


def _take_pen(canvas: Canvas, layer: Layer) -> None:
    pen = PENS[layer]
    _stroke_with(canvas, pen.ink)
    canvas.setLineWidth(pen.width * POINTS_PER_MM)
    canvas.setLineCap(0 if pen.dash else 1)
    canvas.setDash([part * POINTS_PER_MM for part in pen.dash])


def _shades(ink: Ink) -> tuple[float, float, float]:
    """Return an ink's red, green and blue, each from 0 to 1."""
    red, green, blue = (int(INKS[ink][i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    return (red, green, blue)


def _fill_with(canvas: Canvas, ink: Ink) -> None:
    red, green, blue = _shades(ink)
    # A grey is written as a grey, so that a printer uses its black alone.
    if red == green == blue:
        canvas.setFillGray(red)
    else:
        canvas.setFillColorRGB(red, green, blue)


def _stroke_with(canvas: Canvas, ink: Ink) -> None:
    red, green, blue = _shades(ink)
    if red == green == blue:
        canvas.setStrokeGray(red)
    else:
        canvas.setStrokeColorRGB(red, green, blue)


def _shape(canvas: Canvas, item: Line | Polyline | Arc | Circle | Fill) -> None:
    k = POINTS_PER_MM
    match item:
        case Line():
            canvas.line(item.a[0] * k, item.a[1] * k, item.b[0] * k, item.b[1] * k)
        case Polyline():
            if item.fill is not None:
                _fill_with(canvas, item.fill)
            path = _loop(canvas.beginPath(), item.points, closed=item.closed)
            canvas.drawPath(path, stroke=1, fill=int(item.fill is not None))
        case Circle():
            if item.fill is not None:
                _fill_with(canvas, item.fill)
            (x, y), r = item.centre, item.radius
            canvas.circle(x * k, y * k, r * k, stroke=1, fill=int(item.fill is not None))
        case Fill():
            _fill_with(canvas, item.ink)
            path = canvas.beginPath()
            for loop in (item.points, *item.holes):
                _loop(path, loop, closed=True)
            canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
        case Arc():
            (x, y), r = item.centre, item.radius
            canvas.arc(
                (x - r) * k,
                (y - r) * k,
                (x + r) * k,
                (y + r) * k,
                math.degrees(item.start),
                math.degrees(item.span),
            )


def _loop(path: Any, points: Sequence[Point], *, closed: bool) -> Any:
    k = POINTS_PER_MM
    path.moveTo(points[0][0] * k, points[0][1] * k)
    for x, y in points[1:]:
        path.lineTo(x * k, y * k)
    if closed:
        path.close()
    return path


def _words(canvas: Canvas, text: Text) -> None:
    x, y = start_of(text)
    c, s = math.cos(text.angle), math.sin(text.angle)
    words = canvas.beginText()
    size = font_size(text.height_mm) * POINTS_PER_MM
    words.setFont(_BOLD if text.bold else _REGULAR, size)
    words.setWordSpace(WORD_SPACE * size)
    words.setTextTransform(c, s, -s, c, x * POINTS_PER_MM, y * POINTS_PER_MM)
    words.textOut(drawable(text.text))
    canvas.drawText(words)
