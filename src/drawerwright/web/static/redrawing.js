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
  // The form may have been drawn anew while its answer was on the way.
  if (successful && elt.matches?.("form[data-fresh]")) document.getElementById(elt.querySelector("input[id]").id)?.form.reset();
});

body.addEventListener("reset", ({ target: form }) => { for (const field of form.elements) delete field.dataset.dirty; });

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

// ---- A part that is drawn anew is changed where it differs: what was there and is still there stays the same element ----

const OURS = ["data-dirty", "data-drafted", "data-watched", "data-touched"];  // the server knows nothing of these
const VALUES = ["value", "checked", "selected", "hx-vals"];

let taken = [];  // fields that others took out while somebody typed into them
Object.assign(window.Idiomorph.defaults.callbacks, {
  beforeNodeMorphed(present, drawn) {
    if (present.dataset && "filled" in present.dataset) return false;  // by a script of its own
    // What is drawn as it was typed has arrived, though its answer may still be on the way.
    if (present.dataset?.dirty && says(present) === says(drawn)) delete present.dataset.dirty;
  },
  beforeAttributeUpdated(name, element) {
    if (OURS.includes(name)) return false;
    // What is typed stays, with the revision that was seen before; what others wrote here since is asked about when
    // the field is left.
    if (VALUES.includes(name) && element.closest("[data-dirty]")) return false;
    return !(name === "open" && "touched" in element.dataset);
  },
  beforeNodeRemoved(node) {
    const fields = node.matches?.("[data-dirty]") ? [node] : node.querySelectorAll?.("[data-dirty][hx-post]") ?? [];
    for (const field of fields) taken.push({ id: field.id, typed: says(field), to: field.getAttribute("hx-post"), form: formOfField(field) });
  },
});

function says(field) {
  return field.type === "checkbox" ? String(field.checked) : field.value;
}

// A panel that was opened or closed, by whatever, stays so; a quick hand opens one before this script is there.
document.addEventListener("toggle", ({ target }) => { if (target.tagName === "DETAILS") target.dataset.touched = "yes"; }, true);
for (const panel of document.querySelectorAll("details[open]")) panel.dataset.touched = "yes";

let focused = [];
let marked = null;
body.addEventListener("htmx:beforeSwap", (event) => {
  const active = document.activeElement;
  focused = event.detail.target.contains(active) ? namesAround(active) : [];
  marked = focused.length && typeof active.selectionStart === "number" ? [active.selectionStart, active.selectionEnd] : null;
});
body.addEventListener("htmx:afterSwap", () => {
  for (const { id, typed, to, form } of taken) {
    const field = document.getElementById(id);
    if (!field) sendFrom(to, form);
    else if (says(field) !== typed) typeInto(field, typed);
  }
  taken = [];
  // Where a button is gone, the keyboard goes on from its place; a field in a closed panel could not take the focus.
  for (const id of focused) {
    const place = document.activeElement === body ? document.getElementById(id) : null;
    place?.focus({ preventScroll: true });
  }
  // What is typed next replaces what was marked, as it would have without the redraw.
  if (marked && document.activeElement.id === focused[0]) document.activeElement.setSelectionRange?.(...marked);
  focused = [];
  marked = null;
});

function typeInto(field, typed) {
  if (field.type === "checkbox") field.checked = typed === "true"; else field.value = typed;
  field.dataset.dirty = "yes";
}

// Of a field that is gone: others took out a row, and where it stood in the list there is none any more.
function sendFrom(to, form) {
  window.htmx.ajax("POST", to, {
    source: "#messages", target: "#messages", swap: "innerHTML", values: Object.fromEntries(form),
  });
}

// The element and what it stands in.
function namesAround(element) {
  const names = [];
  for (let at = element; at; at = at.parentElement) if (at.id) names.push(at.id);
  return names;
}
