// Big keys for a gloved hand: feet, inches and sixteenths, or millimetres.
const SIXTEENTHS = ["1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];
const FEET = [["7", "8", "9", "ft"], ["4", "5", "6", "in"], ["1", "2", "3", "−"], ["⌫", "0", ".", "done"]];
const MM = [["7", "8", "9", "⌫"], ["4", "5", "6", "−"], ["1", "2", "3", "."], ["clear", "0", "mm", "done"]];
const NAMES = { "⌫": "rub out", "−": "minus", ft: "feet", in: "inches", ".": "point" };

/** Return what a field holds after a key. */
export function pressed(text, key) {
  if (key === "⌫") return text.slice(0, -1);
  if (key === "clear") return "";
  if (key === "ft") return /['′]/.test(text) || !/\d$/.test(text) ? text : `${text}'-`;
  if (key === "in") return /["″]/.test(text) || !/\d$/.test(text) ? text : `${text}"`;
  if (key === "mm") return /[a-z]/i.test(text) || !/\d$/.test(text) ? text : `${text} mm`;
  if (key === "−") return text.startsWith("-") ? text.slice(1) : `-${text}`;
  if (key.includes("/")) {
    const bare = text.replace(/["″]$/, "").replace(/\s*\d+\/\d+$/, "").trimEnd();
    if (/\d$/.test(bare)) return `${bare} ${key}`;
    return /['′]-?$/.test(bare) ? `${bare}0 ${key}` : `${bare}${key}`;
  }
  return text + key;
}

/** Return a field's text with the unit that its keys mean, where none was typed. */
export function finished(text, system) {
  if (!/\d$/.test(text) || /[a-z'′"″]/i.test(text)) return text;
  return system === "mm" ? `${text} mm` : `${text}"`;
}

function button(key, use) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = key;
  if (NAMES[key]) made.setAttribute("aria-label", NAMES[key]);
  if (key === "done") made.className = "enter";
  made.addEventListener("click", () => use(key));
  return made;
}

// The field whose keys are open, with the button that opened them. ``fresh`` is that its old value
// still stands: the first figure begins a new one, as on any reckoner.
let openAt = null;

const tell = (field, kind) => field.dispatchEvent(new Event(kind, { bubbles: true }));

function nameOf(field) {
  return field.labels?.[0]?.textContent ?? "this field";
}

/** Show on the board what stands in the field, which may be out of sight behind it. */
function readOut() {
  const place = openAt.board.querySelector(".keys-value");
  place.textContent = openAt.field.value || "–";
  place.classList.toggle("old", openAt.fresh);
}

/** Take what was typed as it stands, and shut the keys; a form that asks one thing is sent. */
function finish() {
  const { field } = openAt;
  field.value = finished(field.value, field.dataset.keys);
  shut();
  tell(field, "input");
  tell(field, "change");
  const form = field.form;
  if (!field.value || !form?.matches("[data-whole]") || !form.getAttribute("action").endsWith("/put-in")) return;
  const asked = [...form.elements].filter((e) => e.name && e.type !== "hidden");
  if (asked.length === 1) form.requestSubmit();
}

/** Return the field whose keys come next on the page. */
function nextAfter(field) {
  const all = [...document.querySelectorAll("input[data-keys]")].filter((f) => f.checkVisibility());
  return all[all.indexOf(field) + 1];
}

function press(key) {
  const { field } = openAt;
  if (key === "done") return finish();
  const begins = openAt.fresh && /^[\d.]$/.test(key);
  openAt.fresh = false;
  field.value = pressed(begins ? "" : field.value, key);
  tell(field, "input");
  readOut();
}

function line(keys, kind = "") {
  const made = document.createElement("div");
  if (kind) made.className = kind;
  for (const key of keys) made.append(button(key, press));
  return made;
}

/** Return what stands over the keys: whose they are, what is typed, and the way on. */
function headOf(field) {
  const head = document.createElement("div");
  head.className = "keys-head";
  const name = document.createElement("span");
  name.textContent = nameOf(field);
  const value = document.createElement("output");
  value.className = "keys-value";
  const next = button("next", () => {
    const then = nextAfter(field);
    finish();
    if (then?.isConnected) opened(then, then.parentElement.querySelector(".keys-open"));
  });
  next.setAttribute("aria-label", "next reading");
  head.append(name, value, next);
  return head;
}

function opened(field, opener) {
  const system = field.dataset.keys;
  const board = document.createElement("div");
  board.className = "keys";
  board.id = `keys-${field.id}`;
  board.dataset.made = "";
  board.setAttribute("role", "group");
  board.setAttribute("aria-label", "Keys for the reading");
  board.append(headOf(field));
  if (system !== "mm") board.append(line(SIXTEENTHS, "sixteenths"));
  for (const row of system === "mm" ? MM : FEET) board.append(line(row));
  field.setAttribute("inputmode", "none");
  opener.setAttribute("aria-expanded", "true");
  opener.after(board);
  openAt = { field, opener, board, fresh: field.value !== "" };
  readOut();
  field.scrollIntoView({ block: "nearest", behavior: "instant" });
}

/** Shut the keys that are open; the focus goes back to what opened them if it was in them. */
function shut() {
  if (!openAt) return;
  const { field, opener, board } = openAt;
  openAt = null;
  if (board.contains(document.activeElement)) opener.focus({ preventScroll: true });
  board.remove();
  field.removeAttribute("inputmode");
  opener.setAttribute("aria-expanded", "false");
}

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !openAt || event.defaultPrevented) return;
  if (!openAt.field.parentElement.contains(event.target)) return;
  event.preventDefault();
  shut();
});

function dress(root) {
  for (const field of root.querySelectorAll("input[data-keys]")) {
    const name = `Keys for ${nameOf(field)}`;
    const there = field.nextElementSibling;
    if (there?.classList.contains("keys-open")) {
      there.setAttribute("aria-label", name);
      continue;
    }
    const open = document.createElement("button");
    open.type = "button";
    open.className = "keys-open";
    open.dataset.made = "";
    open.setAttribute("aria-expanded", "false");
    open.textContent = "Keys";
    open.setAttribute("aria-label", name);
    open.addEventListener("click", () => {
      const isOpen = openAt?.field === field;
      // What was typed with other keys stands as it is: it is not lost by going on.
      if (openAt) finish();
      if (!isOpen) opened(field, open);
    });
    field.after(open);
  }
}

dress(document);
document.addEventListener("leafwright:shown", () => {
  dress(document);
  if (openAt && !openAt.board.isConnected) shut();
});
