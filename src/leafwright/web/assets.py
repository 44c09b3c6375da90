"""What the pages are made with: templates, styles, modules, and the drawing font cut small."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib import resources
from io import BytesIO
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from leafwright.paper.font import font_file
from leafwright.web.ticks import tick_id

#: The characters that the page's copy of the drawing font has: what drawings and words use.
LETTERS = "".join(map(chr, range(0x20, 0x7F))) + "°×±−–—·…←→↔′″½¼¾⅛⅜⅝⅞øØéèüöäßñçμ½²³’“”"
STYLES, MODULES, PICTURES = ".css", ".js", ".svg"
KINDS = {
    STYLES: "text/css; charset=utf-8",
    MODULES: "text/javascript; charset=utf-8",
    PICTURES: "image/svg+xml",
    ".woff": "font/woff",
}
FONTS = {"words.woff": False, "words-bold.woff": True}


@cache
def asset(name: str) -> bytes | None:
    """Return the bytes of a static file by its plain name, or None where there is none."""
    if name in FONTS:
        return _font(bold=FONTS[name])
    if name not in asset_names():
        return None
    return resources.files("leafwright.web").joinpath("static", name).read_bytes()


@cache
def asset_names() -> tuple[str, ...]:
    """Return the names of the static files that come with the package."""
    folder = resources.files("leafwright.web").joinpath("static")
    return tuple(sorted(f.name for f in folder.iterdir() if f.is_file()))


@cache
def stamp() -> str:
    """Return a short hash of all static files: it stands in their addresses."""
    digest = hashlib.sha256(LETTERS.encode())
    for name in asset_names():
        digest.update(name.encode() + (asset(name) or b""))
    return digest.hexdigest()[:12]


def _font(*, bold: bool) -> bytes:
    """Return the drawing font with only the letters that are needed, as WOFF."""
    from fontTools import subset  # type: ignore[import-untyped]

    options = subset.Options()
    options.flavor = "woff"
    options.layout_features = ["kern", "liga"]
    options.hinting = False
    font = subset.load_font(font_file(bold=bold), options)
    cutter = subset.Subsetter(options)
    cutter.populate(text=LETTERS)
    cutter.subset(font)
    written = BytesIO()
    subset.save_font(font, written, options)
    content: bytes = written.getvalue()
    return content


@cache
def _environment() -> Environment:
    loader = PackageLoader("leafwright.web", "templates")
    made = Environment(
        loader=loader,
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["tick_id"] = tick_id
    made.globals["static"] = lambda name: f"/static/{stamp()}/{name}"
    return made


def rendered(template: str, **values: Any) -> str:
    """Return a page; every value in it is escaped unless it is markup already."""
    return _environment().get_template(template).render(**values)
