"""A live page held against the same page loaded anew: what they show must be the same."""

from __future__ import annotations

import difflib
import re
import time

from playwright.sync_api import Page

#: A page as a list of tags and words. What is the reader's own is left out: folds, what the page's
#: modules put in, the number that a tick is given, and, by their ids, fields that were refused.
SHOWN = r"""(doc, without) => {
  const root = doc.documentElement.cloneNode(true);
  const FIELDS = 'input, select, textarea';
  const held = [...doc.querySelectorAll(FIELDS)].map((field) => field.value);
  [...root.querySelectorAll(FIELDS)].forEach((field, i) => {
    field.setAttribute('data-holds', held[i]);
    field.removeAttribute('value');
    if (field.tagName === 'TEXTAREA') field.textContent = '';
  });
  const OURS = '.keys-open, .keys, #offline, #heard, .elsewhere';
  const OWN = `script, link, style, meta, noscript, ${OURS}`;
  for (const one of root.querySelectorAll(`${OWN}, input[name=entry]`)) one.remove();
  for (const id of without) root.querySelector('#' + CSS.escape(id))?.closest('.field').remove();
  root.removeAttribute('class');
  const LEFT = ['open', 'selected', 'data-typed', 'data-base', 'inputmode'];
  for (const one of root.querySelectorAll('*')) LEFT.forEach((name) => one.removeAttribute(name));
  const told = [];
  const tell = (node) => {
    const words = node.nodeType === 3 ? node.data.replace(/\s+/g, ' ').trim() : '';
    if (words) told.push(words);
    if (node.nodeType !== 1) return;
    const has = [...node.attributes].map((a) => ` ${a.name}="${a.value}"`).sort();
    told.push(`<${node.tagName.toLowerCase()}${has.join('')}>`);
    node.childNodes.forEach(tell);
    told.push('</>');
  };
  tell(root);
  // A page with text that was refused says so in its title too.
  return without.length ? told.map((line) => line.replace(/^Not saved: /, '')) : told;
}"""
BOTH = f"""async (without) => {{
  const shown = {SHOWN};
  const answer = await fetch(location.pathname + location.search);
  const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
  return [shown(document, without), shown(fresh, without)];
}}"""
FOLLOWS = "document.querySelector('main').innerText.includes('being worked out')"
TYPED = """([id, text]) => {
  const field = document.getElementById(id);
  field.value = text;
  for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, { bubbles: true }));
}"""


def stale(page: Page, without: tuple[str, ...] = ()) -> list[str]:
    """Return in what an open page differs from the same page loaded anew, at first and last.

    What was asked for is waited for; ``without`` are the ids of fields that are left out.
    """
    until = time.monotonic() + 20
    found = ["nothing was compared"]
    while found and time.monotonic() < until:
        page.wait_for_load_state("networkidle")
        page.wait_for_timeout(60)
        live, fresh = page.evaluate(BOTH, list(without))
        lines = difflib.unified_diff(live, fresh, n=0, lineterm="")
        found = [line for line in lines if not re.match(r"---|\+\+\+|@@", line)]
        if page.evaluate(FOLLOWS):
            found.append("it is still being worked out")
    return found


def typed(page: Page, id: str, text: str) -> None:
    """Type into a field and leave it, at once."""
    page.evaluate(TYPED, [id, text])


def looks(page: Page) -> None:
    """Have a page look at once whether the job was changed elsewhere, as it does by itself."""
    page.evaluate("window.dispatchEvent(new Event('focus'))")
