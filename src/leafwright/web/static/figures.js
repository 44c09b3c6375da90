// The list of figures follows what is typed: the page is asked for again, and its list is put in.
const form = document.getElementById("find-form");
const field = document.getElementById("find");
const WAIT_MS = 150;

let asked = 0;
let waiting = 0;

async function look() {
  const mine = (asked += 1);
  const words = field.value.trim();
  const where = words ? `/figures?find=${encodeURIComponent(words)}` : "/figures";
  try {
    const answer = await fetch(where);
    if (!answer.ok) return;
    const next = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (mine !== asked) return; // something newer was typed meanwhile
    const fresh = next.getElementById("found");
    const status = next.getElementById("count");
    const found = document.getElementById("found");
    // The line that is read aloud stays in place; only its words change.
    document.getElementById("count").replaceChildren(...status.childNodes);
    status.remove();
    while (found.children.length > 1) found.lastElementChild.remove();
    found.append(...fresh.children);
    history.replaceState(null, "", where);
  } catch { /* without the server the list stays, and the button still asks for it */ }
}

field.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(look, WAIT_MS);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(waiting);
  look();
});
