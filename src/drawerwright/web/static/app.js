// What htmx does not do by itself: news from the server, lost connections, typed values that survive a
// redraw, tables by keyboard, pasting from a spreadsheet, and the 3-D view on demand.

import "./drafts.js";
import { formOf, isAnyWaiting, isAway, isOnItsWay, resume, sentBy } from "./order.js";

const body = document.body;
const linkState = document.getElementById("link-state");
const announcer = document.getElementById("announce");

export function announce(text) {
  announcer.textContent = "";
  window.setTimeout(() => { announcer.textContent = text; }, 30);
}

// ---- Lost connection: say so, keep asking, then send again what did not arrive ----

const unsent = new Set();
let isLost = false;
let probe = 0;

function lose(element) {
  if (element) unsent.add(element);
  linkState.hidden = false;
  if (isLost) return;
  announce(linkState.textContent);
  isLost = true;
  probe = window.setInterval(ask, 1000);
}

async function ask() {
  try {
    const answer = await fetch("/alive", { cache: "no-store", signal: AbortSignal.timeout(900) });
    if (answer.status === 401 || answer.redirected) { window.location.assign("/pair"); return; }
    if (answer.ok && isLost) find();
  } catch { /* still away */ }
}

function find() {
  isLost = false;
  window.clearInterval(probe);
  linkState.hidden = true;
  const again = [...unsent].filter((element) => element.isConnected);
  unsent.clear();
  resume();
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

function wordsOf(answer) {
  const words = new DOMParser().parseFromString(answer, "text/html").body.textContent;
  return words.replace(/\s+/g, " ").trim().slice(0, 400);
}

// A change that the server did not take is said where everybody sees it.
function refuse(text) {
  const place = document.getElementById("messages") ?? document.getElementById("work");
  const words = document.createElement("p");
  words.className = "notice";
  words.setAttribute("role", "alert");
  words.textContent = text;
  document.querySelector("#messages > .notice, #work > .notice[role=alert]")?.remove();
  place.prepend(words);
}
window.addEventListener("online", ask);
window.addEventListener("offline", () => lose(null));

// ---- News: the versions of the job and of its progress ----

let events = null;

function take(versions) {
  for (const [name, version] of Object.entries(versions)) {
    const key = `version${name[0].toUpperCase()}${name.slice(1)}`;
    if (body.dataset[key] === undefined || Number(body.dataset[key]) === version) continue;
    body.dataset[key] = String(version);
    window.htmx.trigger(body, `${name}-changed`);
  }
}

function refresh() {
  for (const name of ["job", "progress"]) window.htmx.trigger(body, `${name}-changed`);
}

function listen() {
  if (!body.dataset.events || document.hidden) return;
  events?.close();
  events = new EventSource(body.dataset.events);
  events.addEventListener("versions", (event) => take(JSON.parse(event.data)));
  events.onopen = () => { if (isLost) ask(); };
  events.onerror = () => lose(null);
}

body.addEventListener("versions", (event) => {
  const { elt: _, ...versions } = event.detail;
  take(versions);
});
document.addEventListener("visibilitychange", () => {
  if (document.hidden) {
    for (const field of beingTyped()) window.htmx.trigger(field, "again");
    events?.close();  // a browser holds few connections to one host
    events = null;
  }
  else { ask(); listen(); }
});
window.addEventListener("pagehide", () => {
  for (const field of beingTyped()) leaveBehind(field);
  events?.close();
});
window.addEventListener("pageshow", (event) => { if (event.persisted) { ask(); listen(); refresh(); } });

// ---- What is being typed survives a redraw of the form around it ----

body.addEventListener("input", (event) => { event.target.dataset.dirty = "yes"; });
body.addEventListener("htmx:afterRequest", (event) => {
  const { successful, xhr, requestConfig } = event.detail;
  const { elt } = requestConfig;  // the event names what the field stood in where it was drawn anew meanwhile
  if (requestConfig.verb === "post" && elt.name && (successful || xhr.status === 409 || xhr.status === 422)) {
    const field = document.getElementById(elt.id) ?? elt;
    const sent = requestConfig.formData.get(elt.name);
    if (field.type === "checkbox" ? field.checked === (sent !== null) : field.value === sent) {
      delete field.dataset.dirty;
    }
  }
  if (xhr.status === 409 || xhr.status === 412) refresh();  // what others saved stands in the fields, what was typed beside them
  // What an answer says to the page goes unheard where its button was drawn anew meanwhile.
  if (successful && !elt.isConnected && xhr.getResponseHeader("HX-Trigger")) refresh();
  // A refusal is said no more once a change was taken; what is still to be chosen, or was not saved, stays.
  if (xhr.status < 400 && requestConfig.verb === "post") document.querySelector("#messages > .fault[role=alert]")?.remove();
  if (successful && elt.matches?.("form[data-fresh]")) freshen(elt.querySelectorAll("input[id]"));
  if (xhr.status === 204 && elt.matches?.("[data-settles]")) {
    // What was tried is now what the job says, or is not wanted any more.
    freshen(document.querySelectorAll("[data-slider]"));
    window.htmx.trigger("#corner-form", "again");
  }
});

// The form may have been drawn anew while its answer was on the way.
function freshen(fields) {
  for (const { id } of fields) {
    const field = document.getElementById(id);
    if (field) { delete field.dataset.dirty; field.value = field.defaultValue; }
  }
}

// A field that was redrawn while it was being typed into fires no change of its own when it is left.
body.addEventListener("focusout", (event) => {
  const field = event.target;
  if (!field.dataset?.dirty || !field.hasAttribute("hx-post")) return;
  window.setTimeout(() => {
    if (field.isConnected && field.dataset.dirty && !isOnItsWay(field)) {
      window.htmx.trigger(field, "again");
    }
  }, 60);
});

// What was typed but not left yet, when a phone goes to sleep or somebody reloads or goes elsewhere.
function beingTyped() {
  return [...document.querySelectorAll("[data-dirty][hx-post]")].filter((field) => !isOnItsWay(field));
}

// Sends one field from a page that is going away: the request outlives the page, its answer nobody reads.
function leaveBehind(field) {
  delete field.dataset.dirty;
  fetch(field.getAttribute("hx-post"), { method: "POST", body: sentBy(field), keepalive: true }).catch(() => {});
}

let kept = [];
body.addEventListener("htmx:beforeSwap", (event) => {
  kept = [...event.detail.target.querySelectorAll("[data-dirty][id]")].map((field) => ({
    id: field.id, value: field.value, checked: field.checked, focused: field === document.activeElement,
    seen: field.getAttribute("hx-vals"), to: field.getAttribute("hx-post"), form: formOf(field),
  }));
});
body.addEventListener("htmx:afterSwap", () => {
  for (const { id, value, checked, focused, seen, to, form } of kept) {
    const field = document.getElementById(id);
    if (!field && to) sendFrom(to, form);
    if (!field || field.dataset.dirty) continue;
    // What is drawn as it was typed has arrived, though its answer may still be on the way.
    if (field.value !== value || field.checked !== checked) {
      if (field.type === "checkbox") field.checked = checked; else field.value = value;
      field.dataset.dirty = "yes";
      // Who typed saw the old revision; what others wrote here since is asked about when the field is left.
      if (seen) field.setAttribute("hx-vals", seen);
    }
    if (focused && document.activeElement !== field) field.focus({ preventScroll: true });
  }
  kept = [];
});
// Of a field that is gone: others took out a row, and where it stood in the list there is none any more.
function sendFrom(to, form) {
  window.htmx.ajax("POST", to, {
    source: "#messages", target: "#messages", swap: "innerHTML", values: Object.fromEntries(form),
  });
}

window.addEventListener("beforeunload", (event) => {
  if (unsent.size || isAnyWaiting()) event.preventDefault();
});

// ---- A table by keyboard: arrows and Enter move, a paste fills cells to the right and below ----

function cellAt(table, row, column) {
  return table.querySelector(`[data-row="${row}"][data-column="${column}"]`);
}

body.addEventListener("keydown", (event) => {
  const cell = event.target.closest?.("[data-row][data-column]");
  if (!cell || event.altKey || event.ctrlKey || event.metaKey) return;
  const table = cell.closest("[data-grid]");
  const isText = cell.tagName === "INPUT" && cell.type !== "checkbox";
  const atStart = !isText || (cell.selectionStart === 0 && cell.selectionEnd === 0);
  const atEnd = !isText || cell.selectionStart === cell.value.length;
  const allChosen = isText && cell.selectionStart === 0 && cell.selectionEnd === cell.value.length;
  let [row, column] = [Number(cell.dataset.row), Number(cell.dataset.column)];
  if (event.key === "ArrowDown" && cell.tagName !== "SELECT" || event.key === "Enter" && !event.shiftKey) row += 1;
  else if (event.key === "ArrowUp" && cell.tagName !== "SELECT" || event.key === "Enter") row -= 1;
  else if (event.key === "ArrowLeft" && (atStart || allChosen)) column -= 1;
  else if (event.key === "ArrowRight" && (atEnd || allChosen)) column += 1;
  else return;
  const next = cellAt(table, row, column);
  if (!next) return;
  event.preventDefault();
  next.focus();
  next.select?.();
});

body.addEventListener("paste", (event) => {
  const cell = event.target.closest?.("[data-row][data-column]");
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!cell || !/[\t\n]/.test(text.trim())) return;
  const table = cell.closest("[data-grid]");
  if (!table.dataset.pasteTo) return;
  event.preventDefault();
  const [row, column] = [Number(cell.dataset.row), Number(cell.dataset.column)];
  window.htmx.ajax("POST", table.dataset.pasteTo, {
    source: table, target: "#messages", swap: "innerHTML",
    values: { text, list: table.dataset.list, row, column, base: table.dataset.base },
  });
});

// ---- Changes that met: one form for each entry, gone when it is settled ----

function settle(form) {
  const place = document.getElementById("messages");
  form.remove();
  if (!place.querySelector("form.conflict")) place.replaceChildren();
}

body.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.elt.matches?.("form.conflict") && event.detail.successful) settle(event.detail.elt);
});

// ---- Panels that are opened stay open when they are drawn anew ----

let opened = [];
let focused = [];
let marked = null;
body.addEventListener("htmx:beforeSwap", (event) => {
  const active = document.activeElement;
  focused = event.detail.target.contains(active) ? namesAround(active) : [];
  marked = focused.length && typeof active.selectionStart === "number" ? [active.selectionStart, active.selectionEnd] : null;
  opened = [...event.detail.target.querySelectorAll("details[data-keep][open]")].map((panel) => panel.id);
});
body.addEventListener("htmx:afterSwap", () => {
  for (const id of opened) document.getElementById(id)?.setAttribute("open", "");
  // A field in a closed panel could not take the focus back.
  for (const id of focused) {
    const place = document.activeElement === body ? document.getElementById(id) : null;
    place?.focus({ preventScroll: true });
  }
  // What is typed next replaces what was marked, as it would have without the redraw.
  if (marked && document.activeElement.id === focused[0]) document.activeElement.setSelectionRange?.(...marked);
  opened = [];
  focused = [];
  marked = null;
});

// The element and what it stands in: where a button is gone, the keyboard goes on from its place.
function namesAround(element) {
  const names = [];
  for (let at = element; at; at = at.parentElement) if (at.id) names.push(at.id);
  return names;
}

// ---- A slider and its number field are one value: the slider in mm, the field in the reader's unit ----

function written(field, mm) {
  const text = (mm / Number(field.dataset.mmPerUnit)).toFixed(Number(field.dataset.digits));
  return text.replace(".", field.dataset.sign);
}

function meant(field) {
  const plain = field.value.trim().replace(",", ".");
  return /^\d*\.?\d+$/.test(plain) ? Number(plain) * Number(field.dataset.mmPerUnit) : NaN;
}

function follow(field) {
  const mm = meant(field);
  if (!Number.isNaN(mm)) document.getElementById(field.dataset.slider).value = String(mm);
}

body.addEventListener("input", (event) => {
  const { slideFor, slider } = event.target.dataset ?? {};
  if (slideFor) {
    const field = document.getElementById(slideFor);
    field.value = written(field, Number(event.target.value));
  } else if (slider) {
    follow(event.target);
  }
}, true);

body.addEventListener("htmx:afterSettle", () => {
  for (const state of document.querySelectorAll("[data-setting]:not([data-taken])")) {
    state.dataset.taken = "yes";
    const field = document.getElementById(state.dataset.setting);
    const slider = document.getElementById(field.dataset.slider);
    const [right, reach] = [Number(state.dataset.right), Number(state.dataset.reach)];
    slider.min = String(Math.max(right - reach, 0.01));
    slider.max = String(right + reach);
    const isFirst = slider.disabled;
    slider.disabled = false;
    if (field.value.trim() === "") field.placeholder = written(field, Number(state.dataset.now));
    if (isFirst || field.value.trim() === "") slider.value = state.dataset.now;
  }
  for (const fault of document.querySelectorAll("[data-fault-for]")) {
    const field = document.getElementById(fault.dataset.faultFor);
    if (fault.textContent.trim()) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
});

let lastSaid = "";
let saying = 0;
body.addEventListener("htmx:afterSettle", () => {
  window.clearTimeout(saying);
  saying = window.setTimeout(() => {
    const said = document.querySelector("[data-announce]")?.textContent.trim() ?? "";
    if (said && said !== lastSaid) announce(said);
    lastSaid = said;
  }, 400);
});

// ---- Small things ----

body.addEventListener("click", (event) => {
  const ask = event.target.closest?.("[data-confirm]");
  if (ask && !window.confirm(ask.dataset.confirm)) event.preventDefault();
  if (event.target.closest?.("[data-print]")) window.print();
  const theirs = event.target.closest?.("[data-theirs]");
  if (theirs) settle(theirs.closest("form"));
  if (event.target.closest?.("[data-all-mine]")) {
    for (const form of document.querySelectorAll("form.conflict")) window.htmx.trigger(form, "again");
  }
  const opener = event.target.closest?.("[data-opens]");
  if (opener) {
    const panel = document.getElementById(opener.dataset.opens);
    panel.open = !panel.open;
    if (panel.open) {
      panel.querySelector("input, select")?.focus();
      panel.scrollIntoView({ block: "nearest" });
    }
    event.preventDefault();
  }
  if (event.target.closest?.("[data-dismiss]")) document.getElementById("messages").replaceChildren();
  const back = event.target.closest?.("[data-right-settings], [data-job-settings]");
  if (back) {
    const isJobs = "jobSettings" in back.dataset;
    for (const field of document.querySelectorAll("[data-slider]")) {
      field.value = isJobs ? field.dataset.inJob : "";
      follow(field);
    }
    window.htmx.trigger("#corner-form", "again");
  }
});

// An archive that was asked for is taken as soon as it is made.
body.addEventListener("htmx:afterSwap", () => {
  const link = document.querySelector("[data-take]");
  if (link) { delete link.dataset.take; link.click(); }
});

async function watchModels() {
  for (const place of document.querySelectorAll("[data-model]:not([data-watched])")) {
    place.dataset.watched = "yes";
    place.querySelector("[data-show]")?.addEventListener("click", async () => {
      const viewer = await import("./viewer.js");
      await viewer.show(place, announce);
    }, { once: true });
  }
}
body.addEventListener("htmx:afterSwap", watchModels);
watchModels();
listen();
document.querySelector(".tabs [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });
