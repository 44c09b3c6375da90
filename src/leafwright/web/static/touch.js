// Touching a part, a size or another case shows it in place; the address follows.
import { fetchPage, show } from "./live.js";

async function go(href, focus) {
  const html = await fetchPage(href);
  if (html === null) return;
  history.replaceState(null, "", href);
  show(html);
  if (focus) {
    const part = document.getElementById("part");
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

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-choose]");
  if (form) go(`${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`, false);
});
