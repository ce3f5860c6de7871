// Changes go to the server one after another, in the order in which they were made, and all of them. Each has a name,
// so that one which is sent twice is made once. A part of the page is drawn anew only when nothing in it is pressed or
// has a change on its way.

const body = document.body;
const waiting = [];
const putOff = new Set();
const steps = [];  // from which revision to which this page's own changes led, in their order
const page = [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
let made = 0;
let running = null;
let isPaused = false;
let whenIdle = null;

export function isOnItsWay(element) {
  return running?.element === element || waiting.some((change) => change.element === element);
}

export function isAnyWaiting() {
  return waiting.length > 0;
}

export function isIdle() {
  return !running && !waiting.length;
}

// Something that is to come after the changes; only the last of it, and nothing at all with `null`.
export function afterChanges(go) {
  whenIdle = go;
}

body.addEventListener("htmx:confirm", (event) => {
  const { elt, verb, path, etc, issueRequest } = event.detail;
  if (verb !== "post") return;
  event.preventDefault();
  if ("once" in elt.dataset && isOnItsWay(elt)) return;
  const change = {
    name: `${page}-${made += 1}`, element: elt, to: path, typed: typedIn(elt), told: told(elt, etc?.values),
    send: () => issueRequest(true), xhr: null, base: null,
  };
  waiting.push(change);
  next();
});

function typedIn(element) {
  return [...window.htmx.values(element, "post").entries()];
}

// What goes along with the fields of a form.
function told(element, values) {
  return { ...JSON.parse(element.getAttribute("hx-vals") ?? "{}"), ...values };
}

function next() {
  if (isPaused || running) return;
  running = waiting.shift() ?? null;
  if (!running) { catchUp(); return; }
  running.xhr = null;
  running.send();
  if (!running.xhr) done();  // the browser does not take what the form holds, or its button is gone
}

function done() {
  running = null;
  next();
}

body.addEventListener("htmx:configRequest", (event) => {
  const { verb, formData, headers } = event.detail;
  if (verb !== "post" || !running) return;
  headers["drawerwright-change"] = running.name;
  // What was typed when the change was made, not what has been typed since.
  for (const [name] of typedIn(running.element)) formData.delete(name);
  for (const [name] of running.typed) formData.delete(name);
  for (const [name, value] of running.typed) formData.append(name, value);
  running.base ??= walked(Number(formData.get("base")));
  tellSeen(formData, running.base);
});

// A form with a base says which revision its fields are numbered by, and which one its reader knows by now.
function tellSeen(form, base) {
  if (!form.has("base")) return;
  form.set("drawn", form.get("base"));
  form.set("base", String(base));
}

// What a change would send now; files cannot go along.
function formOf({ typed, told: more }) {
  const form = new URLSearchParams(typed.filter(([, value]) => typeof value === "string"));
  for (const [name, value] of Object.entries(more)) form.set(name, value);
  return form;
}

// What a field would send now.
export function formOfField(element) {
  return formOf({ typed: typedIn(element), told: told(element) });
}

// Every change that has not been answered yet, in its order, for a page that goes away.
export function unansweredChanges() {
  return [running, ...waiting].filter(Boolean).map((change) => {
    const form = formOf(change);
    tellSeen(form, change.base ?? walked(Number(form.get("base"))));
    return { name: change.name, to: change.to, form: String(form) };
  });
}

// The revision that somebody knows who saw `base` and made this page's changes since.
function walked(base) {
  return steps.reduce((at, [from, to]) => (at === from ? to : at), base);
}

body.addEventListener("htmx:beforeSend", (event) => {
  if (running && event.detail.requestConfig.verb === "post") running.xhr = event.detail.xhr;
});

body.addEventListener("htmx:afterRequest", (event) => {
  const { xhr } = event.detail;
  if (!running || xhr !== running.xhr) return;
  if (isAway(xhr.status)) {
    isPaused = true;
    waiting.unshift(running);
    running = null;
    return;
  }
  const step = xhr.getResponseHeader("drawerwright-step");
  if (step) steps.push(step.split(" ").map(Number));
  window.queueMicrotask(done);  // htmx has not let go of the element yet
});

// Whether nobody answered, or only somebody who stands before the server.
export function isAway(status) {
  return status === 0 || status === 502 || status === 503 || status === 504;
}

export function pause() {
  isPaused = true;
}

export function resume() {
  isPaused = false;
  next();
}

// ---- Nothing is drawn anew under a finger, nor under a change on its way ----

function isInUse(part) {
  return part.querySelector(":active") !== null
    || [running, ...waiting].some((change) => change && part.contains(change.element));
}

body.addEventListener("htmx:beforeSwap", (event) => {
  const { target, requestConfig } = event.detail;
  if (requestConfig.verb !== "get" || !isInUse(target)) return;
  event.detail.shouldSwap = false;
  event.stopImmediatePropagation();
  putOff.add(requestConfig.elt);
});

function catchUp() {
  if (!isIdle()) return;
  const parts = [...putOff].filter((part) => part.isConnected);
  putOff.clear();
  for (const part of parts) window.htmx.trigger(part, "again");
  const go = whenIdle;
  whenIdle = null;
  go?.();
}

for (const name of ["pointerup", "pointercancel", "keyup", "dragend"]) {
  window.addEventListener(name, () => window.setTimeout(catchUp));
}
