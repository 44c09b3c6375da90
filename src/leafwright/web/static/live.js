// Edits are saved as they are made and the page is made into the one of the answer. What is typed
// is kept in the browser until it is on the disk; a slow answer never overwrites a newer edit.
import { drop, keep, kept, keptNames } from "./kept.js";
import { become, keepingFocus } from "./morph.js";

const LIVE = { "X-Leafwright": "live" };
const AGAIN_MS = 2000;
const LOOK_MS = 4000;

// What only time, room on the disk or the door's code mends: it is sent again until it is taken.
const LATER = new Set([401, 408, 429, 503, 507]);

let main = document.querySelector("main[data-job]");
const slug = main?.dataset.job;
// What is to be sent, in the order in which it was done: fields of one version of the job, by name,
// or a whole form.
const queue = [];
const refused = new Map(); // field name -> the text that was not saved, and why
let shown = main?.dataset.version; // the version that the page shows
let newest = shown; // the newest version that this page's own edits led to
let asked = 0;
let busy = false;
let decided = true; // false where two edits of one place wait for the maker
let retry = null;
let stopped = document.querySelectorAll("#stops .stop").length;

document.documentElement.classList.add("live");

// ---------------------------------------------------------------- showing

/** The fields of a name; a part that was touched may show one that the list shows too. */
function fieldsNamed(name) {
  return [...document.querySelectorAll("form[data-live-form] [name]")].filter((f) => f.name === name && f.type !== "hidden");
}
function fieldNamed(name) {
  const found = fieldsNamed(name);
  return found.find((f) => f.dataset.typed) ?? found[0];
}

const called = (one) => one.getAttribute("aria-label") || one.textContent;

/** What is looked at, with how far down the screen it stands: what is in the hand, then all in sight. */
function heldInView() {
  const hand = main.querySelector(".field:has(.keys) [id]") ?? document.activeElement;
  const near = [];
  for (let e = hand; e && e !== main && e !== document.body; e = e.parentElement) if (e.id) near.push(e);
  const held = [];
  for (const e of [...near, ...main.querySelectorAll("[id]")]) {
    const box = e.getBoundingClientRect();
    if (!box.height || box.bottom <= 0 || box.top >= innerHeight) continue;
    // Something that begins over the screen says little of what is looked at in it.
    if (near.includes(e) || box.top >= 0) held.push({ id: e.id, top: box.top });
  }
  return held;
}

/** Put what is looked at back where it stood: what came in above it must not move it. */
function stay(held) {
  for (const { id, top } of held) {
    const now = document.getElementById(id);
    if (!now || !now.getClientRects().length) continue;
    const moved = now.getBoundingClientRect().top - top;
    if (Math.abs(moved) > 1) scrollBy({ top: moved, behavior: "instant" });
    return;
  }
}

/** Make the page into another: only what differs, and nothing that is being typed in. */
export function show(html) {
  // A file that cannot be read is being put right in this page.
  if (!main.dataset.job && main.querySelector("[data-typed]")) return;
  const next = new DOMParser().parseFromString(html, "text/html");
  const nextMain = next.querySelector("main");
  if (!nextMain) return;
  document.title = next.title;
  if (!nextMain.dataset.job || !main.dataset.job) {
    main.replaceWith(document.adoptNode(nextMain));
    main = document.querySelector("main");
    shown = newest = main.dataset.version;
    main.focus();
    if (main.dataset.job) document.dispatchEvent(new CustomEvent("leafwright:shown"));
    return;
  }
  // What was said of the connection is not the server's to say.
  nextMain.querySelector("#offline").replaceWith(document.getElementById("offline").cloneNode(true));
  const had = document.activeElement;
  const name = called(had);
  const held = heldInView();
  keepingFocus(() => {
    const typed = [...main.querySelectorAll("[data-typed][id]")].map((field) => [field, field.value]);
    become(document.querySelector("header"), next.querySelector("header"));
    become(main, nextMain);
    for (const [was, value] of typed) {
      const field = was.isConnected ? null : document.getElementById(was.id);
      if (!field) continue;
      field.value = value;
      Object.assign(field.dataset, { typed: "1", base: was.dataset.base });
    }
  });
  // A button that now does something else must not be pressed by a key meant for what it did.
  if (had.matches("button:not([id])") && had.isConnected && main.contains(had) && called(had) !== name) main.focus({ preventScroll: true });
  shown = newest = main.dataset.version;
  for (const [field, { value, words }] of refused) mark(field, value, words);
  stay(held);
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

/** Say beside a field why what stands in it was not saved, where the page does not say so. */
function mark(name, value, words) {
  for (const field of fieldsNamed(name)) {
    const around = field.closest(".field");
    if (field.value !== value || !field.dataset.typed || !around || around.querySelector(".error")) continue;
    const said = document.createElement("span");
    said.className = "error";
    said.id = `${field.id}-error`;
    said.textContent = words;
    around.classList.add("wrong");
    around.append(said);
    field.setAttribute("aria-invalid", "true");
    const told = field.getAttribute("aria-describedby");
    field.setAttribute("aria-describedby", told ? `${told} ${said.id}` : said.id);
    for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  }
}

let trouble = ""; // what went wrong with the last thing that was sent
function say(words) {
  const place = document.getElementById("offline");
  const told = words || trouble;
  if (!place) return;
  place.hidden = !told;
  if (place.textContent === told) return;
  place.textContent = told;
  if (told) tell(told);
}

/** The words of an answer that is no new page. */
async function wordsOf(answer) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelector(".told")?.textContent ?? page.body.textContent.trim();
}

let elsewhere = false;
let edited = false; // an edit was shown whose consequences are still to be told

/** Show a page that was fetched, and say so where somebody else has changed the job meanwhile. */
export function showFetched(html) {
  const known = [shown, newest];
  show(html);
  if (!known.includes(shown)) elsewhere = true;
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

/** Fetch a page; null where it cannot be had, undefined where something newer was shown meanwhile. */
export async function fetchPage(href) {
  asked += 1;
  const mine = asked;
  try {
    const answer = await fetch(href, { headers: LIVE });
    const html = await answer.text();
    await pressed;
    if (mine !== asked) return undefined;
    return answer.ok ? html : null;
  } catch {
    say("No connection: what you see may be old. It is tried again.");
    return null;
  }
}

const address = () => location.pathname + location.search;

/** Show the page of the address as it is now: the proof, the cut list and the site follow. */
export async function showWhole() {
  const html = await fetchPage(address());
  if (!html || busy || queue.length) return;
  showFetched(html);
  if (edited) tellEdit();
}

// ---------------------------------------------------------------- saving

function typedIn(field) {
  // What is typed changes the job that was on the page when it was begun.
  if (!field.dataset.typed) field.dataset.base = shown;
  field.dataset.typed = "1";
  if (!field.closest("form[data-live-form]")) return;
  if (field.name.startsWith("f.")) keep(slug, field.name, field.value);
  if (field.name.startsWith("n.") && field.id) keep(slug, `#${field.id}`, field.value);
}

function edit(field) {
  typedIn(field);
  put(field.name, field.value, field.dataset.base);
  send();
}

/** Put what was typed in a field behind all that is to be sent. */
function put(name, value, base) {
  // A key that both leaves a field and sends its form sends it once.
  if (queue.at(-1)?.fields?.get(name) === value) return;
  for (let i = queue.length - 1; i >= 0 && queue[i].fields && !queue[i].sent; i -= 1) queue[i].fields.delete(name);
  let last = queue.at(-1);
  if (!last?.fields || last.sent || last.base !== base) {
    last = { fields: new Map(), base };
    queue.push(last);
  }
  last.fields.set(name, value);
}

/** Put what was refused behind all that is to be sent: what it lacked may be there now. */
function tryAgain() {
  for (const [name, { value, base, again }] of refused) {
    const field = fieldNamed(name);
    if (!field?.dataset.typed || field.value !== value) refused.delete(name);
    // What stands in a list may be another thing by now: that is typed into what it was begun in.
    else if (again) put(name, value, /\.\d+(\.|$)/.test(name) ? base : newest);
  }
  for (const one of queue) one.again = true;
}

function formOf(task) {
  if (!task.fields) {
    // Undo takes back the last edit, though the page may not show it yet.
    task.data.set("base", task.last ? newest : task.base);
    return [task.action, task.data];
  }
  const data = new FormData();
  for (const [name, value] of task.fields) data.append(name, value);
  for (const [name, value] of new URL(location.href).searchParams) data.append(name, value);
  const stage = main.dataset.stage || (new URL(location.href).searchParams.has("part") ? "shape" : "");
  data.append("stage", stage);
  data.set("base", task.base);
  return [`/job/${slug}/edit`, data];
}

async function send() {
  while (queue.length && queue[0].fields?.size === 0) queue.shift();
  if (busy || !queue.length || !decided || !main.dataset.job) return;
  busy = true;
  clearTimeout(retry);
  const task = queue[0];
  task.sent = true;
  const from = address();
  const [action, data] = formOf(task);
  let answer;
  try {
    answer = await fetch(action, { method: "POST", body: data, headers: LIVE });
  } catch {
    busy = false;
    task.sent = false;
    say("Not saved: no connection. What you typed is kept here and is sent as soon as it can be.");
    retry = setTimeout(send, AGAIN_MS);
    return;
  }
  if (LATER.has(answer.status)) {
    const words = await wordsOf(answer).catch(() => "");
    busy = false;
    task.sent = false;
    say(`Not saved yet. ${words} What you typed is kept here and is sent again.`);
    retry = setTimeout(send, AGAIN_MS);
    return;
  }
  queue.shift();
  let follows = false;
  try {
    follows = await answered(answer, task, from);
  } finally {
    busy = false;
  }
  if (queue.length) send();
  else if (follows) showWhole();
}

/** Take an answer in, and return whether more of the page is to be fetched. */
async function answered(answer, task, from) {
  const isJson = (answer.headers.get("content-type") ?? "").includes("json");
  const body = isJson ? await answer.json() : null;
  await pressed;
  if (!body) {
    trouble = await wordsOf(answer);
    say("");
    for (const [name, value] of task.fields ?? []) refuse(name, value, `Not saved. ${trouble}`, task.base, false);
    return true;
  }
  trouble = "";
  say("");
  const wrong = body.errors ?? {};
  const saved = task.fields && answer.status !== 422;
  for (const [name, value] of task.fields ?? []) {
    if (saved && !(name in wrong)) free(name, value, body.version);
    else refuse(name, value, wrong[name] ?? (body.said ?? []).join(" "), task.base, true);
  }
  if (!task.fields && answer.ok) emptied(task);
  const changed = body.version && body.version !== newest && answer.ok;
  edited ||= Boolean(changed);
  if (body.version) newest = body.version;
  if (answer.ok && body.version) {
    // Of the same place the next edit is one of what this one led to.
    for (const one of queue) {
      if ([...(one.fields ?? new Map()).keys()].some((name) => task.fields?.has(name))) one.base = newest;
    }
  }
  decided = !body.conflict;
  // A newer edit waits: its answer will be shown instead.
  if (queue.length && decided) return false;
  // What this edit was for may let another be saved that was refused before it.
  if (changed && !task.again) tryAgain();
  // Pages that were asked for before this answer came are older than it.
  asked += 1;
  // Another part was touched since: the answer is of what was looked at before.
  if (decided && from !== address()) return true;
  // What the page was about is gone: the address follows to what is shown instead.
  if (body.where) history.replaceState(null, "", body.where);
  elsewhere = false;
  document.querySelector("#notice .elsewhere")?.remove();
  show(body.html);
  if (main.dataset.job && !task.again && (answer.status === 422 || Object.keys(wrong).length)) {
    const first = tellWrong();
    // A form that was sent by its button is gone back to; one that was left is not.
    if (!task.fields) first?.focus();
  }
  if (edited && !body.more) tellEdit();
  return Boolean(body.more);
}

/** What was typed in a field is in the job: the field is free again, unless it was typed on in. */
function free(name, value, version) {
  refused.delete(name);
  let typedOn = false;
  for (const field of fieldsNamed(name)) {
    if (field.value === value) {
      delete field.dataset.typed;
      delete field.dataset.base;
    } else if (field.dataset.typed) {
      field.dataset.base = version;
      typedOn = true;
    }
  }
  if (!typedOn) drop(slug, name);
}

function refuse(name, value, words, base, again) {
  const field = fieldNamed(name);
  if (field && field.value !== value) return;
  refused.set(name, { value, words, base, again });
  if (field) mark(name, value, words);
}

/** What was added stands in the job now; the fields that it was typed in are free again. */
function emptied(task) {
  for (const field of document.querySelectorAll("form[data-whole] [data-typed]")) {
    if (field.form.getAttribute("action") !== task.action || task.typed.get(field.id) !== field.value) continue;
    delete field.dataset.typed;
    delete field.dataset.base;
    if (field.defaultValue !== undefined) field.value = field.defaultValue;
    drop(slug, `#${field.id}`);
  }
}

document.addEventListener("input", (event) => {
  const field = event.target;
  if (main?.contains(field) && field.name && field.type !== "range") typedIn(field);
});
document.addEventListener("change", (event) => {
  const field = event.target;
  if (field.closest?.("form[data-live-form]:not([data-whole])") && field.name?.startsWith("f.")) edit(field);
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-live-form]") || !main?.dataset.job) return;
  event.preventDefault();
  const action = form.getAttribute("action");
  if (action.endsWith("/edit")) {
    for (const field of form.querySelectorAll("[name^='f.']")) {
      if (field.dataset.typed) put(field.name, field.value, field.dataset.base);
    }
  } else {
    const typed = new Map([...form.querySelectorAll("[id][name]")].map((field) => [field.id, field.value]));
    const last = /\/(undo|redo)$/.test(action);
    queue.push({ action, data: new FormData(form, event.submitter), typed, base: shown, last });
  }
  send();
});
window.addEventListener("online", send);

// ---------------------------------------------------------------- changed elsewhere, or unsent

async function lookForNewer() {
  if (document.hidden || busy || queue.length || !decided) return;
  let now;
  try {
    const answer = await fetch(`/job/${slug}/version`, { headers: LIVE });
    if (answer.status === 404) return say("This job is not in its folder any more: what you see is old.");
    now = await answer.json();
  } catch {
    say("No connection: what you see may be old. It is tried again.");
    return;
  }
  say("");
  if (!now.state || busy || queue.length) return;
  if (now.state === main.dataset.state && !("follows" in main.dataset)) return;
  const before = newest;
  await showWhole();
  if (!queue.length && newest !== before) tryAgain();
  send();
}

/** Put back what was typed before the page was loaded anew, and send what was to be sent. */
function putBack() {
  for (const name of keptNames(slug)) {
    const field = name.startsWith("#") ? document.getElementById(name.slice(1)) : fieldNamed(name);
    const value = kept(slug, name);
    if (!field || value === null || field.value === value) {
      if (field && !field.dataset.typed) drop(slug, name);
      continue;
    }
    field.value = value;
    typedIn(field);
    for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    // Of something new that was not sent yet: it stays in its form until that is sent.
    if (!name.startsWith("#")) put(name, value, shown);
  }
}

/** Take up what was typed while this script was still on its way: nothing has heard of it. */
function takeUp() {
  for (const field of document.querySelectorAll("form[data-live-form] :is(input, textarea)[autocomplete=off]")) {
    if (!field.name || field.dataset.typed || field.value === field.defaultValue) continue;
    typedIn(field);
    const alone = !field.form.matches("[data-whole]") && field.name.startsWith("f.");
    // What is still in hand is sent when it is left.
    if (alone && field !== document.activeElement) put(field.name, field.value, shown);
  }
}

if (main) {
  setInterval(lookForNewer, LOOK_MS);
  window.addEventListener("focus", lookForNewer);
  window.addEventListener("pageshow", (event) => { if (event.persisted) lookForNewer(); });
  document.addEventListener("visibilitychange", lookForNewer);
  takeUp();
  putBack();
  send();
  if ("follows" in main.dataset) showWhole();
}
