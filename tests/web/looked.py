"""What every page must be for those who cannot see, cannot point well, or work in the dark."""

from __future__ import annotations

from typing import Any

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import Page

#: Colours are all that the dark changes, and all that costs much: they are looked at apart, and
#: where a page has many rows built alike, of every two only.
NO_CONTRAST = {
    "rules": {"color-contrast": {"enabled": False}},
    "resultTypes": ["violations"],
    "preload": False,
}
ALIKE = """() => {
  const ROWS = 'ul, ol, tbody, dl, main, section, details, svg, svg g';
  const built = e => [e, ...e.querySelectorAll('*')]
    .map(x => x.tagName + (x.getAttribute('class') ?? '') + (x.getAttribute('fill') ?? ''));
  for (const list of document.querySelectorAll(ROWS)) {
    const seen = new Map();
    for (const row of list.children) {
      const kind = [...new Set(built(row))].sort().join();
      seen.set(kind, (seen.get(kind) ?? 0) + 1);
      if (seen.get(kind) > 2) row.setAttribute('data-alike', '');
    }
  }
}"""
CONTRAST = """async () => (await axe.run({exclude: ['[data-alike]']},
  {runOnly: ['color-contrast'], resultTypes: ['violations'], preload: false})).violations"""

SMALL = """() => [...document.querySelectorAll('a, button, input, select, summary')]
  .filter(e => !e.closest('svg') && e.checkVisibility() && e.type !== 'hidden'
    && !e.classList.contains('skip'))
  .map(e => [e.outerHTML.slice(0, 90), e.getBoundingClientRect()])
  .filter(([_, r]) => r.height < 43.5 || r.width < 43.5)
  .map(([html, r]) => `${html} ${r.width}x${r.height}`)"""


def faults(page: Page) -> list[Any]:
    """Return what is wrong with an open page, every fold of it unfolded, in the light and the dark.

    These are the serious findings of axe, what is too small to touch with a glove, and a page that
    scrolls sideways.
    """
    page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    found = _serious(Axe().run(page, options=NO_CONTRAST).response["violations"])
    page.evaluate(ALIKE)
    found += _serious(page.evaluate(CONTRAST))
    found += page.evaluate(SMALL)
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    if wide > 0:
        found.append(f"it scrolls sideways by {wide} px")
    page.emulate_media(color_scheme="dark")
    found += [("dark", *one) for one in _serious(page.evaluate(CONTRAST))]
    page.emulate_media(color_scheme="light")
    return found


def _serious(violations: list[dict[str, Any]]) -> list[Any]:
    return [
        (one["id"], [node["html"][:120] for node in one["nodes"]][:3])
        for one in violations
        if one["impact"] in ("serious", "critical")
    ]
