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

#: Everything that the keyboard reaches is seen when it has the focus, and nothing lies over it.
REACHED = """() => {
  const said = (e) => e.outerHTML.slice(0, 90).replace(/\\s+/g, ' ');
  const found = [];
  if (document.querySelector('[tabindex]:not([tabindex="0"], [tabindex="-1"])'))
    found.push('something has a place of its own in the order of keys');
  const all = 'a[href], button, summary, [tabindex="0"], select, textarea, ';
  for (const e of document.querySelectorAll(`${all} input:not([type=hidden])`)) {
    if (!e.checkVisibility() || e.disabled) continue;
    e.focus({ focusVisible: true });
    if (document.activeElement !== e) { found.push(`not reached: ${said(e)}`); continue; }
    const style = getComputedStyle(e.closest('svg') ? e.lastElementChild : e);
    const ring = e.closest('svg') ? parseFloat(style.strokeWidth) : parseFloat(style.outlineWidth);
    if (!(ring >= 1) || (!e.closest('svg') && style.outlineStyle === 'none'))
      found.push(`no ring: ${said(e)}`);
    const r = e.getBoundingClientRect();
    if (r.bottom <= 0 || r.top >= innerHeight || r.right <= 0 || r.left >= innerWidth) {
      found.push(`out of sight: ${said(e)}`);
      continue;
    }
    if (e.closest('svg')) continue;
    const over = [[.5, .5], [.1, .5], [.9, .5], [.5, .1], [.5, .9]].map(([x, y]) =>
      document.elementFromPoint(r.left + x * r.width, r.top + y * r.height));
    if (!over.some(t => t && (t === e || e.contains(t) || t.contains(e))))
      found.push(`under another: ${said(e)}`);
  }
  document.activeElement?.blur();
  return found;
}"""

#: A name says which thing it is of: two of one name and one place do the same, and what is seen on
#: a control is in what is said of it.
NAMES = """() => {
  const flat = (text) => text.replace(/\\s+/g, ' ').trim();
  const byId = (id) => document.getElementById(id)?.textContent ?? '';
  const byIds = (ids) => ids.split(' ').map(byId).join(' ');
  const shown = (e) => flat([...e.childNodes].map(n => n.nodeType === 3 ? n.data
    : n.nodeType !== 1 || n.getAttribute('aria-hidden') === 'true' ? ''
    : n.getAttribute('alt') ?? n.textContent).join(''));
  const named = (e) => e.getAttribute('aria-label') ? flat(e.getAttribute('aria-label'))
    : e.hasAttribute('aria-labelledby') ? flat(byIds(e.getAttribute('aria-labelledby'))) : '';
  const name = (e) => named(e) || (e.labels?.length ? flat(e.labels[0].textContent) : shown(e));
  const around = (e) => {
    const names = [];
    for (let up = e.parentElement; up && up.tagName !== 'MAIN'; up = up.parentElement)
      names.push(up.tagName === 'FIELDSET' ? flat(up.firstElementChild.textContent) : named(up));
    return names.filter(Boolean).join(' of ');
  };
  const put = (form, hidden) => [...form?.elements ?? []]
    .filter(x => x.name && !['base', 'entry'].includes(x.name) && (x.type === 'hidden') === hidden)
    .map(x => hidden ? `${x.name}=${x.value}` : x.id).join();
  const does = (e) => e.tagName === 'A' ? e.getAttribute('href')
    : e.tagName === 'SUMMARY' ? `fold ${e.parentElement.id || shown(e.parentElement)}`
    : e.tagName === 'BUTTON' && !e.form ? `keys ${e.previousElementSibling?.id}`
    : `${e.form?.getAttribute('action')} ${put(e.form, true)} `
      + (e.tagName === 'BUTTON' ? `${put(e.form, false)} ${e.value}` : e.name);
  const found = [];
  const seen = new Map();
  for (const e of document.querySelectorAll('a[href], button, input, select, textarea, summary')) {
    if (!e.checkVisibility() || e.type === 'hidden') continue;
    const kind = ['INPUT', 'SELECT', 'TEXTAREA'].includes(e.tagName) ? 'field' : e.tagName;
    if (!name(e)) found.push(`without a name: ${e.outerHTML.slice(0, 90)}`);
    if (kind !== 'field' && named(e) && /[a-z]{2}/.test(shown(e)) && !e.closest('svg')
        && !flat(named(e)).toLowerCase().includes(flat(e.innerText).toLowerCase()))
      found.push(`shown as ${flat(e.innerText)}, but called ${named(e)}`);
    const key = `${kind} “${name(e)}” of ${around(e)}`;
    if (seen.has(key) && seen.get(key) !== does(e)) found.push(`two are called alike: ${key}`);
    seen.set(key, does(e));
  }
  for (const svg of document.querySelectorAll('svg'))
    for (const words of ['title', 'desc'])
      if (!svg.querySelector(`:scope > ${words}`)?.textContent.trim())
        found.push(`a drawing has no ${words}`);
  for (const th of document.querySelectorAll('th'))
    if (!th.textContent.trim() || !th.scope) found.push(`an empty head: ${th.outerHTML}`);
  for (const td of document.querySelectorAll('td'))
    if (!td.closest('tr').querySelector('th[scope=row]')) found.push('a row without a head');
  return [...new Set(found)];
}"""

#: The widest spacing that a reader may ask for (WCAG 2.2, 1.4.12).
SPACED = """() => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: .12em !important;
    word-spacing: .16em !important; } p { margin-bottom: 2em !important; }`);
  document.adoptedStyleSheets = [sheet];
}"""
CUT = """() => [...document.querySelectorAll('main *, header *')]
  .filter(e => !e.closest('svg, .unseen, .scroll, option') && e.checkVisibility()
    && getComputedStyle(e).position !== 'absolute')
  .filter(e => {
    const holds = !['INPUT', 'SELECT', 'TEXTAREA'].includes(e.tagName);
    const hides = holds && getComputedStyle(e).overflowX !== 'visible'
      && e.scrollWidth > e.clientWidth + 1;
    const r = e.getBoundingClientRect();
    return hides || (r.width > 0 && (r.right > innerWidth + 1 || r.left < -1));
  })
  .map(e => `cut off: ${e.outerHTML.slice(0, 90)}`).slice(0, 4)"""


def faults(page: Page) -> list[Any]:
    """Return what is wrong with an open page, every fold of it unfolded, in the light and the dark.

    These are all findings of axe, what is too small to touch with a glove, what the keyboard does
    not reach or show, names that do not tell things apart, and what is lost or scrolls sideways in
    a narrow window, with wide spacing too.
    """
    page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    found = _told(Axe().run(page, options=NO_CONTRAST).response["violations"])
    found += page.evaluate(NAMES)
    found += page.evaluate(REACHED)
    page.evaluate(ALIKE)
    found += _told(page.evaluate(CONTRAST))
    found += page.evaluate(SMALL)
    page.emulate_media(color_scheme="dark")
    found += [("dark", *one) for one in _told(page.evaluate(CONTRAST))]
    page.emulate_media(color_scheme="light")
    was = page.viewport_size
    # 1280 by 1024 at 400 % leaves 320 by 256.
    page.set_viewport_size({"width": 320, "height": 256})
    for spaced in (False, True):
        if spaced:
            page.evaluate(SPACED)
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if wide > 0:
            found.append(f"it scrolls sideways by {wide} px of 320{', spaced' if spaced else ''}")
        found += page.evaluate(CUT)
    page.evaluate("document.adoptedStyleSheets = []")
    if was is not None:
        page.set_viewport_size(was)
    return found


def _told(violations: list[dict[str, Any]]) -> list[Any]:
    return [(one["id"], [node["html"][:120] for node in one["nodes"]][:3]) for one in violations]
