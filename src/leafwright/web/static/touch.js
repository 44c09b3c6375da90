// Touching a part, a size or another case shows it in place; the address follows.
import { fetchPage, showFetched } from "./live.js";

async function go(href, focus) {
  const html = await fetchPage(href);
  if (html === null) return;
  history.replaceState(null, "", href);
  showFetched(html);
  if (focus) {
    const part = document.getElementById(href.split("#")[1] ?? "part");
    if (!part) return;
    part.focus({ preventScroll: true });
    part.scrollIntoView({ block: "nearest", behavior: "auto" });
  }
}

document.addEventListener("click", (event) => {
  if (event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const link = event.target.closest("a");
  if (!link || !link.closest("main[data-job]")) return;
  if (link.matches("svg .piece, [data-touch], [data-close-part]")) {
    const href = link.getAttribute("href");
    event.preventDefault();
    go(href, !link.matches("[data-close-part]"));
  }
});

// A slider turns the leaves as it is moved; the number beside it is what the form sends. While it
// is held only the picture and its numbers are put in place, so that it stays in the hand.
let turning = 0;
async function turned(form) {
  const html = await fetchPage(`${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`);
  if (html === null) return;
  const next = new DOMParser().parseFromString(html, "text/html");
  for (const id of ["drawing", "at-angle"]) {
    const fresh = next.getElementById(id);
    if (fresh) document.getElementById(id)?.replaceWith(document.adoptNode(fresh));
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
  for (const [name, value] of [...data]) if (!value) data.delete(name);
  const [path, spot] = form.getAttribute("action").split("#");
  go(`${path}?${data}${spot ? `#${spot}` : ""}`, false);
}

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-choose]");
  if (form) chosen(form);
});
