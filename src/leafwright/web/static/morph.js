// Makes a piece of the page what it is to be and leaves alone all that stays: what has the focus
// keeps it, what is typed stays typed, what was unfolded stays so, and a reader stays in its place.

// What says by itself which thing it is; what stands in a list is known by the first within it.
const NAMED = "[id], a[href], button[aria-label]";
const HOLDERS = new Set(["LI", "FORM", "ARTICLE", "TR", "P"]);
const FIELDS = new Set(["INPUT", "SELECT", "TEXTAREA"]);
// These are the maker's own, whatever the page that was fetched says.
const OURS = new Set(["open", "inputmode", "data-typed", "data-base", "data-shut"]);

function nameOf(node) {
  if (node.id) return `#${node.id}`;
  if (node.localName === "a") return node.dataset.part ?? (node.rel || node.getAttribute("href"));
  return node.localName === "button" ? node.getAttribute("aria-label") : null;
}

/** Return by what a node is found again among its siblings, and how much it is worth to find it. */
function keyed(node) {
  if (node.nodeType !== Node.ELEMENT_NODE) return { node, key: String(node.nodeType), worth: 1 };
  let name = nameOf(node);
  if (!name && HOLDERS.has(node.tagName)) {
    const first = node.querySelector(NAMED);
    name = first && nameOf(first);
  }
  return { node, key: `${node.tagName} ${name ?? ""}`, worth: name ? 8 : 2 };
}

/** Whether a script put a node here: no page that is fetched has it, and it goes with its field. */
const isMade = (node) => node?.nodeType === Node.ELEMENT_NODE && "made" in node.dataset;

/** Return which old node each new one stays as, in order: as much as can stay does. */
function staying(old, fresh) {
  const found = new Map();
  let start = 0;
  let ends = 0;
  const most = Math.min(old.length, fresh.length);
  while (start < most && old[start].key === fresh[start].key) {
    found.set(fresh[start].node, old[start].node);
    start += 1;
  }
  while (ends < most - start && old.at(-1 - ends).key === fresh.at(-1 - ends).key) {
    found.set(fresh.at(-1 - ends).node, old.at(-1 - ends).node);
    ends += 1;
  }
  const a = old.slice(start, old.length - ends);
  const b = fresh.slice(start, fresh.length - ends);
  // The common run of most worth, by the table of what is left from each pair on.
  const wide = b.length + 1;
  const table = new Uint32Array((a.length + 1) * wide);
  for (let i = a.length - 1; i >= 0; i -= 1) {
    for (let j = b.length - 1; j >= 0; j -= 1) {
      const without = Math.max(table[(i + 1) * wide + j], table[i * wide + j + 1]);
      const both = a[i].key === b[j].key ? table[(i + 1) * wide + j + 1] + a[i].worth : 0;
      table[i * wide + j] = Math.max(without, both);
    }
  }
  for (let i = 0, j = 0; i < a.length && j < b.length;) {
    const here = table[i * wide + j];
    if (a[i].key === b[j].key && here === table[(i + 1) * wide + j + 1] + a[i].worth) {
      found.set(b[j].node, a[i].node);
      i += 1;
      j += 1;
    } else if (here === table[(i + 1) * wide + j]) i += 1;
    else j += 1;
  }
  return found;
}

function attributes(node, next) {
  for (const { name } of [...node.attributes]) {
    if (!OURS.has(name) && !next.hasAttribute(name)) node.removeAttribute(name);
  }
  for (const { name, value } of next.attributes) {
    if (!OURS.has(name) && node.getAttribute(name) !== value) node.setAttribute(name, value);
  }
  if (node.tagName !== "DETAILS" || !next.open) return;
  if (!node.dataset.shut || next.querySelector(".wrong, .error")) node.open = true;
}

/** Whether what a field holds is the maker's: typed and not saved yet, or in hand. */
function isTyped(field) {
  if (field.dataset.typed) return true;
  const inHand = field === document.activeElement && field.type !== "range";
  return inHand && field.defaultValue !== undefined && field.value !== field.defaultValue;
}

/** Make a node what another of its kind is. */
export function become(node, next) {
  const isField = FIELDS.has(node.tagName) && node.type !== "file";
  if (!isField && node.isEqualNode(next) && !node.querySelector("input, select, textarea")) return;
  const typed = isField && isTyped(node) ? node.value : null;
  attributes(node, next);
  children(node, next);
  if (isField && node.value !== (typed ?? next.value)) node.value = typed ?? next.value;
}

function children(node, next) {
  const now = [...node.childNodes];
  const stay = staying(now.filter((one) => !isMade(one)).map(keyed), [...next.childNodes].map(keyed));
  const kept = new Set(stay.values());
  let goes = false;
  for (const one of now) {
    if (!isMade(one)) goes = !kept.has(one);
    if (goes) one.remove();
  }
  let place = node.firstChild;
  for (const fresh of [...next.childNodes]) {
    while (isMade(place)) place = place.nextSibling;
    const old = stay.get(fresh);
    if (!old) {
      node.insertBefore(document.adoptNode(fresh), place);
      continue;
    }
    place = old.nextSibling;
    if (old.nodeType === Node.ELEMENT_NODE) become(old, fresh);
    else if (old.data !== fresh.data) old.data = fresh.data;
  }
}

// ---------------------------------------------------------------- the focus

const REACHED = "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0']";
const isThere = (one) => one?.isConnected && one.checkVisibility();

/** Do what redraws, and give the focus back where what had it is there no more. */
export function keepingFocus(redraw) {
  const had = document.activeElement;
  if (!had || had === document.body) return redraw();
  const before = [...document.querySelectorAll(REACHED)].filter((one) => one.checkVisibility());
  const place = before.indexOf(had);
  const name = nameOf(had);
  const folds = [];
  for (let up = had.parentElement; up; up = up.parentElement) if (up.matches("details[id]")) folds.push(up.id);
  redraw();
  if (document.activeElement === had && isThere(had)) return undefined;
  if (document.activeElement && document.activeElement !== document.body && document.activeElement !== had) return undefined;
  const same = name?.startsWith("#")
    ? document.getElementById(name.slice(1))
    : [...document.querySelectorAll(had.localName)].find((one) => name && nameOf(one) === name);
  // What was ticked may be out of a list of what is left: the fold that it was in is next to it.
  const fold = folds.map((id) => document.getElementById(id)?.querySelector("summary")).find(isThere);
  const near = before.slice(0, Math.max(place, 0)).reverse().find(isThere);
  [same, fold, near, document.querySelector("main")].find(isThere)?.focus({ preventScroll: true });
  return undefined;
}
