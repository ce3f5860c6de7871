// Is the server there, and what is new? A lost connection is said and asked for again in one way, whoever noticed it
// first: the news, a request, the browser. Then what did not arrive is sent again, and what is shown is asked for.

import { announce, refuse, unsay, wordsOf } from "./saying.js";
import { isAway, pause, resume } from "./order.js";

const body = document.body;
const linkState = document.getElementById("link-state");
const deletedState = document.getElementById("job-deleted");
const FIRST = 250;  // ms to the first try: most connections are soon back
const SOONEST = 1000;  // ms between two tries from then on
const LATEST = 15000;  // ms to news that broke off again and again, though the server is there

const unanswered = new Set();
let isConnected = true;
let next = 0;
let seekPause = FIRST;
let events = null;
let newsPause = SOONEST;

export function isLost() {
  return !isConnected;
}

export function isDeleted() {
  return deletedState?.hidden === false;
}

function lose(element) {
  if (element) unanswered.add(element);
  quiet();
  window.clearTimeout(next);
  next = window.setTimeout(seek, seekPause);
  seekPause = Math.min(2 * seekPause, SOONEST);
  if (!isConnected) return;
  isConnected = false;
  linkState.hidden = false;
  announce(linkState.textContent);
  body.dispatchEvent(new Event("connection-lost"));
}

// Asks whether the server is there; what was lost goes on as soon as it is.
export async function seek() {
  window.clearTimeout(next);
  try {
    const answer = await fetch("/alive", { cache: "no-store", signal: AbortSignal.timeout(900) });
    if (answer.status === 401 || answer.redirected) { window.location.assign("/pair"); return; }
    if (answer.ok) { find(); return; }
  } catch { /* away */ }
  lose(null);
}

function find() {
  if (isConnected) {
    if (!events) next = window.setTimeout(listen, newsPause);
    return;
  }
  isConnected = true;
  seekPause = FIRST;
  linkState.hidden = true;
  unsay();
  const again = [...unanswered].filter((element) => element.isConnected);
  unanswered.clear();
  if (!isDeleted()) resume();
  for (const element of again) window.htmx.trigger(element, "again");
  listen();
  refresh();
}

// A change that did not arrive stays in its place in the order; all else is asked for again.
function missed({ elt, requestConfig }) {
  lose(requestConfig.verb === "post" ? null : elt);
}

body.addEventListener("htmx:sendError", (event) => missed(event.detail));
body.addEventListener("htmx:timeout", (event) => missed(event.detail));
body.addEventListener("htmx:sendAbort", (event) => { if (event.detail.requestConfig.verb === "post") lose(null); });
body.addEventListener("htmx:responseError", (event) => {
  const { xhr } = event.detail;
  if (xhr.status === 401) window.location.assign("/pair");
  else if (isAway(xhr.status)) missed(event.detail);
  else refuse(wordsOf(xhr.responseText));
});
body.addEventListener("connection-missed", ({ detail }) => lose(detail));  // of a request that htmx does not make
window.addEventListener("online", seek);
window.addEventListener("offline", () => lose(null));

// ---- News: the versions of the job and of its progress ----

function take(versions) {
  for (const [name, version] of Object.entries(versions)) {
    const key = `version${name[0].toUpperCase()}${name.slice(1)}`;
    if (body.dataset[key] === undefined || Number(body.dataset[key]) === version) continue;
    body.dataset[key] = String(version);
    window.htmx.trigger(body, `${name}-changed`);
  }
}

export function refresh() {
  if (isDeleted()) return;
  for (const name of ["job", "progress"]) window.htmx.trigger(body, `${name}-changed`);
}

function listen() {
  if (!body.dataset.events || document.hidden || !isConnected) return;
  quiet();
  events = new EventSource(body.dataset.events);
  events.addEventListener("versions", (event) => {
    newsPause = SOONEST;
    if (isDeleted()) bringBack();
    take(JSON.parse(event.data));
  });
  events.addEventListener("deleted", () => {
    newsPause = SOONEST;
    if (isDeleted()) return;
    deletedState.hidden = false;
    announce(deletedState.textContent);
    pause();
  });
  // That the news broke off may have other reasons than a lost connection.
  events.onerror = () => { quiet(); newsPause = Math.min(2 * newsPause, LATEST); seek(); };
}

function quiet() {
  events?.close();
  events = null;
}

// Somebody took the deletion back.
function bringBack() {
  deletedState.hidden = true;
  resume();
  refresh();
}

body.addEventListener("versions", (event) => {
  const { elt: _, ...versions } = event.detail;
  take(versions);
});
document.addEventListener("visibilitychange", () => {
  if (document.hidden) {
    quiet();  // a browser holds few connections to one host
  } else if (isConnected) listen();
  else seek();
});
window.addEventListener("pagehide", quiet);
window.addEventListener("pageshow", (event) => {
  if (!event.persisted) return;
  if (isConnected) { listen(); refresh(); } else seek();
});
listen();
