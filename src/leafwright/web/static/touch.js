// Touching a part, a size or another case shows it in place; the address follows.
import { fetchPage, showFetched, showWhole } from "./live.js";
import { become } from "./morph.js";

// What is opened in place, and is closed by Escape; the focus then goes back to what opened it.
const OPENED = "#part, #worked, #answer";
let opener = null;
let gone = 0;

async function go(href) {
  const mine = (gone += 1);
  const html = await fetchPage(href);
  if (html === null || mine !== gone) return false;
  history.replaceState(null, "", href);
  // An edit was answered meanwhile: this page is older than that.
  if (html === undefined) await showWhole();
  else showFetched(html);
  return true;
}

/** Show what a link stands for; what it opened has the focus, a step to the next keeps its own. */
async function touched(link) {
  const href = link.getAttribute("href");
  if (!(await go(href)) || link.rel) return;
  const part = document.getElementById(href.split("#")[1] ?? "part");
  if (!part?.hasAttribute("tabindex")) return;
  if (part.matches(OPENED)) opener = link;
  part.focus({ preventScroll: true });
  part.scrollIntoView({ block: "nearest", behavior: "auto" });
}

async function closed(href) {
  if (!(await go(href))) return;
  const again = opener && [...document.querySelectorAll("main a")].find((one) => one.getAttribute("href") === opener.getAttribute("href"));
  (again ?? document.querySelector("#drawing a, #day a"))?.focus({ preventScroll: true });
  opener = null;
}

document.addEventListener("click", (event) => {
  if (event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const link = event.target.closest("a");
  if (!link || !link.closest("main[data-job]")) return;
  if (link.matches("svg .piece, [data-touch], [data-close-part]")) {
    event.preventDefault();
    if (link.matches("[data-close-part]")) closed(link.getAttribute("href"));
    else touched(link);
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || event.defaultPrevented) return;
  const part = event.target.closest?.(OPENED);
  // What was typed and not sent is not thrown away by a key.
  if (!part?.firstElementChild || part.querySelector("[data-typed]")) return;
  event.preventDefault();
  closed(document.querySelector("main").dataset.here);
});

// A slider turns the leaves as it is moved; the number beside it is what the form sends. While it
// is held only the picture and its numbers are put in place, so that it stays in the hand.
let turning = 0;
async function turned(form) {
  const html = await fetchPage(`${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`);
  if (!html) return;
  const next = new DOMParser().parseFromString(html, "text/html");
  for (const id of ["drawing", "at-angle"]) {
    const fresh = next.getElementById(id);
    const piece = document.getElementById(id);
    if (fresh && piece) become(piece, fresh);
  }
}
document.addEventListener("input", (event) => {
  const slider = event.target.closest?.("input[data-slides]");
  if (!slider) return;
  const number = document.getElementById(slider.dataset.slides);
  number.value = slider.value;
  clearTimeout(turning);
  turning = setTimeout(() => turned(number.form), 30);
});
function chosen(form) {
  clearTimeout(turning);
  const data = new URLSearchParams(new FormData(form));
  for (const field of form.querySelectorAll("[data-typed]")) delete field.dataset.typed;
  for (const [name, value] of [...data]) if (!value) data.delete(name);
  const [path, spot] = form.getAttribute("action").split("#");
  go(`${path}?${data}${spot ? `#${spot}` : ""}`);
}

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-choose]");
  if (form) chosen(form);
});
