// What is being typed, what has the focus and what is open survive that the page around it is drawn anew.

import { refresh } from "./connection.js";
import { formOfField, isOnItsWay } from "./order.js";

const body = document.body;

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

let kept = [];
body.addEventListener("htmx:beforeSwap", (event) => {
  kept = [...event.detail.target.querySelectorAll("[data-dirty][id]")].map((field) => ({
    id: field.id, value: field.value, checked: field.checked, focused: field === document.activeElement,
    seen: field.getAttribute("hx-vals"), to: field.getAttribute("hx-post"), form: formOfField(field),
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
