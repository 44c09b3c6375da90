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

// The field whose keys are open, with the button that opened them.
let openAt = null;

function opened(field, opener) {
  const system = field.dataset.keys;
  const board = document.createElement("div");
  board.className = "keys";
  board.id = `keys-${field.id}`;
  board.dataset.made = "";
  board.setAttribute("role", "group");
  board.setAttribute("aria-label", "Keys for the reading");
  const use = (key) => {
    if (key === "done") {
      field.value = finished(field.value, system);
      shut();
      field.dispatchEvent(new Event("input", { bubbles: true }));
      field.dispatchEvent(new Event("change", { bubbles: true }));
      return;
    }
    field.value = pressed(field.value, key);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  for (const row of system === "mm" ? MM : FEET) {
    const line = document.createElement("div");
    for (const key of row) line.append(button(key, use));
    board.append(line);
  }
  if (system !== "mm") {
    const line = document.createElement("div");
    line.className = "sixteenths";
    for (const key of SIXTEENTHS) line.append(button(key, use));
    board.prepend(line);
  }
  field.setAttribute("inputmode", "none");
  opener.setAttribute("aria-expanded", "true");
  opener.after(board);
  openAt = { field, opener, board };
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
    const name = `Keys for ${field.labels?.[0]?.textContent ?? "this field"}`;
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
      shut();
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
