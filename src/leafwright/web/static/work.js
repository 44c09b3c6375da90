// Work that is going on is looked at again until it has ended; that it has is said aloud, once.
import { become, keepingFocus } from "./morph.js";

const AGAIN_MS = 200; // the answer itself waits for the end a little
const state = () => document.getElementById("state");

async function look() {
  try {
    const answer = await fetch(location.href);
    const next = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("main");
    keepingFocus(() => become(document.querySelector("main"), next));
  } catch { /* without the server it is asked for again */ }
  if (state()?.dataset.state === "going") setTimeout(look, AGAIN_MS);
  else document.getElementById("heard").textContent = document.querySelector("main .told").textContent;
}

setTimeout(look, AGAIN_MS);
