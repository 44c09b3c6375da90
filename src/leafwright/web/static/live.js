// Edits are saved as they are made and the page is redrawn from the answer. What is typed is kept
// in the browser until it is on the disk; a slow answer never overwrites a newer edit.
import { become, keepingFocus } from "./morph.js";

const LIVE = { "X-Leafwright": "live" };
const AGAIN_MS = 2000;
const LOOK_MS = 4000;

let main = document.querySelector("main[data-job]");
const slug = main?.dataset.job;
const waiting = new Map(); // field name -> what was typed, not yet saved
const tasks = []; // whole forms to be sent, in order
let asked = 0;
let busy = false;
let retry = null;
let stopped = document.querySelectorAll("#stops .stop").length;

document.documentElement.classList.add("live");

// ---------------------------------------------------------------- what is typed is kept

const keyOf = (name) => `leafwright/${slug}/${name}`;
function keep(name, value) {
  try { localStorage.setItem(keyOf(name), value); } catch { /* a private window keeps nothing */ }
}
function drop(name) {
  try { localStorage.removeItem(keyOf(name)); } catch { /* as above */ }
}
function keptNames() {
  const found = [];
  try {
    for (let i = 0; i < localStorage.length; i += 1) {
      const key = localStorage.key(i);
      if (key.startsWith(keyOf(""))) found.push(key.slice(keyOf("").length));
    }
  } catch { /* as above */ }
  return found;
}
function kept(name) {
  try { return localStorage.getItem(keyOf(name)); } catch { return null; }
}

// ---------------------------------------------------------------- showing

/** The fields of a name; a part that was touched may show one that the list shows too. */
function fieldsNamed(name) {
  return [...document.querySelectorAll("form[data-live-form] [name]")].filter((f) => f.name === name && f.type !== "hidden");
}
function fieldNamed(name) {
  const found = fieldsNamed(name);
  return found.find((f) => f.dataset.typed) ?? found[0];
}

/** Put a new page in place: only what differs, and nothing that is being typed in. */
export function show(html) {
  const next = new DOMParser().parseFromString(html, "text/html");
  const nextMain = next.querySelector("main");
  if (!nextMain) return;
  document.title = next.title;
  if (!nextMain.dataset.job) {
    main.replaceWith(document.adoptNode(nextMain));
    main = document.querySelector("main");
    main.focus();
    return;
  }
  keepingFocus(() => {
    for (const piece of main.querySelectorAll("[data-live]")) {
      const fresh = next.getElementById(piece.id);
      if (!fresh) continue;
      if (fresh.tagName === piece.tagName) become(piece, fresh);
      else piece.replaceWith(document.adoptNode(fresh));
    }
  });
  for (const key of ["version", "stage", "here"]) main.dataset[key] = nextMain.dataset[key];
  for (const base of document.querySelectorAll("input[name=base]")) base.value = main.dataset.version;
  document.dispatchEvent(new CustomEvent("leafwright:shown"));
}

/** Say something aloud, once: this is the one place that a screen reader listens to. */
export function tell(words) {
  const place = document.getElementById("heard");
  if (!place) return;
  // The same words again are heard again only where they were gone meanwhile.
  place.textContent = "";
  setTimeout(() => { place.textContent = words; }, 60);
}

/** Say what the last edit changed, in one sentence; a stop that it brought comes first. */
function tellEdit() {
  const changed = document.querySelector("#notice summary")?.textContent.trim();
  const stops = document.querySelectorAll("#stops .stop").length;
  if (changed) tell(stops > stopped ? `Not for cutting. ${changed}` : changed);
  stopped = stops;
  edited = false;
}

/** Say what is wrong with what was sent, each field by its name, and return the first of them. */
function tellWrong() {
  const wrong = [...main.querySelectorAll(".field.wrong")];
  const told = wrong.map((one) => `${one.querySelector("label").textContent.trim()}: ${one.querySelector(".error").textContent.trim()}`);
  const said = [...main.querySelectorAll("#notice .error, form > .error")].map((one) => one.textContent.trim());
  tell(`Not saved. ${[...said, ...told].join(" ")}`);
  return wrong[0]?.querySelector("input, select, textarea");
}

function say(words) {
  const place = document.getElementById("offline");
  if (!place) return;
  place.hidden = !words;
  if (place.textContent === words) return;
  place.textContent = words;
  if (words) tell(words);
}

let elsewhere = false;
let edited = false; // an edit was shown whose consequences are still to be told

/** Show a page that was fetched, and say so where somebody else has changed the job meanwhile. */
export function showFetched(html) {
  const before = main.dataset.version;
  show(html);
  if (main.dataset.version !== before) elsewhere = true;
  const notice = document.getElementById("notice");
  if (!elsewhere || notice?.querySelector(".elsewhere")) return;
  const words = document.createElement("p");
  words.className = "elsewhere";
  words.dataset.made = "";
  words.textContent = "The job was changed elsewhere; this page shows it as it is now.";
  notice?.prepend(words);
  tell(words.textContent);
}

// While something is pressed nothing is put in place: it would be taken from under the finger, and
// the press would be lost.
let pressed = Promise.resolve();
document.addEventListener("pointerdown", () => {
  pressed = new Promise((done) => {
    for (const end of ["pointerup", "pointercancel"]) {
      document.addEventListener(end, () => setTimeout(done), { capture: true, once: true });
    }
  });
}, true);

/** Fetch a page, or return null where there is no connection or a newer one was asked for. */
export async function fetchPage(href) {
  asked += 1;
  const mine = asked;
  try {
    const answer = await fetch(href, { headers: LIVE });
    const html = await answer.text();
    await pressed;
    return mine === asked && answer.ok ? html : null;
  } catch {
    say("No connection: what you see may be old. It is tried again.");
    return null;
  }
}

// ---------------------------------------------------------------- saving

function typedIn(field) {
  field.dataset.typed = "1";
  if (field.name.startsWith("f.")) keep(field.name, field.value);
  if (field.name.startsWith("n.") && field.id) keep(`#${field.id}`, field.value);
}

function edit(field) {
  typedIn(field);
  waiting.set(field.name, field.value);
  send();
  if ("follows" in main.dataset) showWhole();
}

function nextForm() {
  if (tasks.length) {
    const task = tasks[0];
    return { action: task.action, data: task.data, names: new Map(), task };
  }
  const data = new FormData();
  const names = new Map(waiting);
  for (const [name, value] of names) data.append(name, value);
  const here = new URL(location.href);
  for (const [name, value] of here.searchParams) data.append(name, value);
  data.append("stage", main.dataset.stage || (here.searchParams.has("part") ? "shape" : ""));
  return { action: `/job/${slug}/edit`, data, names, task: null };
}

async function send() {
  if (busy || (!waiting.size && !tasks.length) || !main?.dataset.job) return;
  busy = true;
  clearTimeout(retry);
  const { action, data, names, task } = nextForm();
  data.set("base", main.dataset.version);
  let answer;
  try {
    answer = await fetch(action, { method: "POST", body: data, headers: LIVE });
  } catch {
    busy = false;
    say("Not saved: no connection. What you typed is kept here and is sent as soon as it can be.");
    retry = setTimeout(send, AGAIN_MS);
    return;
  }
  if (task) tasks.shift();
  let follows = false;
  try {
    if (task && answer.ok) {
      // What was added stands in the job now; the fields that it was typed in are free again.
      for (const field of document.querySelectorAll("form[data-whole] [data-typed]")) {
        if (field.form.getAttribute("action") !== task.action || !task.ids.includes(field.id)) continue;
        if (field.value !== task.data.get(field.name)) continue;
        delete field.dataset.typed;
        if (field.defaultValue !== undefined) field.value = field.defaultValue;
        drop(`#${field.id}`);
      }
    }
    follows = await answered(answer, names, task);
  } finally {
    busy = false;
  }
  if (waiting.size || tasks.length) send();
  else if (follows) showWhole();
}

/** Show the proof, the cut list and the site, which were not waited for. */
async function showWhole() {
  const html = await fetchPage(location.pathname + location.search);
  if (html === null || busy) return;
  showFetched(html);
  if (edited) tellEdit();
}

/** Take an answer in, and return whether more of it is to be fetched. */

async function answered(answer, names, task) {
  const isJson = (answer.headers.get("content-type") ?? "").includes("json");
  const body = isJson ? await answer.json() : null;
  await pressed;
  for (const [name, value] of names) {
    if (waiting.get(name) === value) waiting.delete(name);
  }
  if (!body) {
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    say(page.querySelector(".told")?.textContent ?? page.body.textContent.trim());
    return false;
  }
  say("");
  const wrong = body.errors ?? {};
  for (const [name, value] of names) {
    const field = fieldNamed(name);
    // Typed on since it was sent: that text is newer than this answer.
    if (field && field.value !== value) continue;
    if (name in wrong || answer.status === 422) continue;
    for (const one of fieldsNamed(name)) if (one.value === value) delete one.dataset.typed;
    drop(name);
  }
  const isChanged = body.version && body.version !== main.dataset.version;
  if (isChanged) main.dataset.version = body.version;
  // A newer edit waits: its answer will be shown instead.
  if (waiting.size || tasks.length) return false;
  // Pages that were asked for before this answer came are older than it.
  asked += 1;
  // What the page was about is gone: the address follows to what is shown instead.
  if (body.where) history.replaceState(null, "", body.where);
  elsewhere = false;
  document.querySelector("#notice .elsewhere")?.remove();
  show(body.html);
  if (answer.ok) edited ||= isChanged;
  else if (main.dataset.job) {
    const first = tellWrong();
    // A form that was sent by its button is gone back to; one that was left is not.
    if (task) first?.focus();
  }
  if (edited && !body.more) tellEdit();
  return Boolean(body.more);
}

// A fold that was shut by hand stays shut.
document.addEventListener("click", (event) => {
  const fold = event.target.closest?.("summary")?.parentElement;
  if (fold?.open) fold.dataset.shut = "1";
  else if (fold) delete fold.dataset.shut;
});

document.addEventListener("input", (event) => {
  const field = event.target;
  if (field.closest?.("form[data-live-form]") && field.name) typedIn(field);
});
document.addEventListener("change", (event) => {
  const field = event.target;
  if (field.closest?.("form[data-live-form]:not([data-whole])") && field.name?.startsWith("f.")) edit(field);
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-live-form]") || !main?.dataset.job) return;
  event.preventDefault();
  if (form.getAttribute("action").endsWith("/edit")) {
    for (const field of form.querySelectorAll("[name^='f.']")) {
      if (field.dataset.typed) waiting.set(field.name, field.value);
    }
  } else {
    const ids = [...form.querySelectorAll("[id][name]")].map((field) => field.id);
    tasks.push({ action: form.getAttribute("action"), data: new FormData(form, event.submitter), ids });
  }
  send();
});
window.addEventListener("online", send);

// ---------------------------------------------------------------- changed elsewhere, or unsent

async function lookForNewer() {
  if (document.hidden || busy || waiting.size || tasks.length || !main?.dataset.job) return;
  let now;
  try {
    now = await (await fetch(`/job/${slug}/version`, { headers: LIVE })).json();
  } catch {
    say("No connection: what you see may be old. It is tried again.");
    return;
  }
  say("");
  if (!now.version || now.version === main.dataset.version || busy || waiting.size) return;
  const html = await fetchPage(location.pathname + location.search);
  if (html !== null) showFetched(html);
}

if (main) {
  setInterval(lookForNewer, LOOK_MS);
  window.addEventListener("focus", lookForNewer);
  for (const name of keptNames()) {
    if (name.startsWith("#")) {
      // Of something new that was not sent yet: it stays in its form until that is sent.
      const unsent = document.getElementById(name.slice(1));
      if (!unsent || unsent.value === kept(name)) continue;
      unsent.value = kept(name);
      unsent.dataset.typed = "1";
      for (let fold = unsent.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
      continue;
    }
    const field = fieldNamed(name);
    const value = kept(name);
    if (field && value !== null && field.value !== value) {
      field.value = value;
      field.dataset.typed = "1";
      field.closest("details")?.setAttribute("open", "");
      waiting.set(name, value);
    } else if (field) {
      drop(name);
    }
  }
  send();
  if ("follows" in main.dataset) showWhole();
}
