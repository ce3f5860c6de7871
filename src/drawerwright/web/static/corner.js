// The corner while its sliders move. A slider and its number field are one value: the slider in mm, the field in the
// reader's unit. Each drawing is asked for without htmx: one request at a time, and after it one for what the form holds
// by then; of what comes only the pieces that changed are put into the page. Tables and marks of the sliders follow when
// the slider rests, and now and then while it moves: made with every step they would make drawing and slider lag.

import { keepInAddress } from "./address.js";
import { isAway } from "./order.js";
import { retouch, write } from "./retouching.js";
import { refuse, sayNews, wordsOf } from "./saying.js";

const body = document.body;
const PATIENCE = 4000;  // ms
let isAsking = false;
let isAskedAgain = false;

async function draw() {
  isAskedAgain = isAsking;
  if (isAsking) return;
  isAsking = true;
  do {
    isAskedAgain = false;
    await drawOnce();
  } while (isAskedAgain);
  isAsking = false;
}

async function drawOnce() {
  const form = document.getElementById("corner-form");
  const place = document.getElementById("section");
  if (!form) return;
  const asked = new URLSearchParams(new FormData(form));
  asked.set("room", String(roomFor(place)));
  asked.set("have", place.querySelector("[data-mark]")?.dataset.mark ?? "");
  if (hasDrawing(place) && !isAllDue()) asked.set("only", "drawing");
  hasRested = false;
  try {
    const answer = await fetch(`/corner/section?${asked}`, {
      headers: { "hx-request": "true" }, signal: AbortSignal.timeout(PATIENCE),
    });
    if (answer.status === 401) window.location.assign("/pair");
    else if (isAway(answer.status)) miss(form);
    else if (answer.ok) put(await answer.text(), place);
    else refuse(wordsOf(await answer.text()));
  } catch {
    miss(form);
  }
}

// How many drawings stand beside each other is the style sheet's to say; each is as large as its place.
const SIDE_BY_SIDE = [[1240, 3], [700, 2], [0, 1]];
const FRAME = 40;  // px at the plate's edges
const GAP = 24;

// Kept while the place stays the same: asked while a field changes, it would have the whole page laid out at once.
let width = 0;
let watched = null;
const watch = new ResizeObserver(([{ contentRect }]) => { width = contentRect.width; });

function roomFor(place) {
  if (place !== watched) {
    watch.disconnect();
    watch.observe(place);
    [watched, width] = [place, place.clientWidth];
  }
  const count = SIDE_BY_SIDE.find(([least]) => width >= least)[1];
  return Math.floor((width - FRAME - GAP * (count - 1)) / count);
}

function miss(form) {
  body.dispatchEvent(new CustomEvent("connection-missed", { detail: form }));
}

const REST = 120;  // ms
const LONGEST = 500;
let behindSince = null;  // when the drawing first went ahead of what stands around it
let hasRested = false;
let resting = 0;

function isAllDue() {
  return hasRested || (behindSince !== null && performance.now() - behindSince > LONGEST);
}

function hasDrawing(part) {
  return part.querySelector("[data-piece=verdict]") !== null;
}

function put(text, place) {
  const drawn = parsed(text);
  const isAll = drawn.querySelector("[data-state]") !== null;
  window.clearTimeout(resting);
  if (hasDrawing(drawn) && hasDrawing(place)) putPieces(drawn, place);
  else place.replaceChildren(drawn);
  if (isAll) {
    behindSince = null;
    tellState(place);
  } else {
    behindSince ??= performance.now();
    resting = window.setTimeout(() => { hasRested = true; draw(); }, REST);
  }
}

function putPieces(drawn, place) {
  for (const piece of drawn.querySelectorAll("[data-piece]")) {
    const present = place.querySelector(`[data-piece="${piece.dataset.piece}"]`);
    const isSame = piece.dataset.mark && piece.dataset.mark === present.dataset.mark;
    if (!isSame) retouch(present, piece);
  }
}

function parsed(text) {
  const drawn = document.createElement("template");
  drawn.innerHTML = text;
  return drawn.content;
}

function tellState(place) {
  const { state, faults } = place.querySelector("[data-state]").dataset;
  setSliders(JSON.parse(state));
  tellFaults(JSON.parse(faults));
  sayNews();
}

// ---- A slider and its field ----

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

function setSliders({ right = {}, now, reach, fits, gauges, off, words = "" }) {
  write(document.querySelector("[data-right-words]"), words);
  for (const [name, best] of Object.entries(right)) {
    const field = document.getElementById(name);
    const slider = document.getElementById(field.dataset.slider);
    slider.min = String(Math.max(best - reach, 0.01));
    slider.max = String(best + reach);
    const isFirst = slider.disabled;
    slider.disabled = false;
    const isBlank = field.value.trim() === "";
    if (isBlank) field.placeholder = written(field, now[name]);
    if (isFirst || isBlank) {
      slider.value = String(now[name]);
      follow(field);  // what has been typed since this answer was asked for
    }
    markRule(slider, best, fits[name] ?? []);
    const shown = document.querySelector(`[data-gauge="${name}"]`);
    write(shown, gauges[name][0]);
    write(shown.nextElementSibling, gauges[name][1]);
    write(document.querySelector(`[data-off="${name}"]`), off[name]);
  }
}

// The rule below a slider: a notch at what is recommended, hatched from where to where it fits.
function markRule(slider, best, [low, high]) {
  const [least, most] = [Number(slider.min), Number(slider.max)];
  const share = (mm) => `${(100 * Math.min(Math.max((mm - least) / (most - least), 0), 1)).toFixed(2)}%`;
  slider.parentElement.style.setProperty("--notch", share(best));
  slider.parentElement.style.setProperty("--low", low === undefined ? "0%" : share(low));
  slider.parentElement.style.setProperty("--high", high === undefined ? "0%" : share(high));
}

function tellFaults(faults) {
  for (const told of document.querySelectorAll("[data-fault-for]")) {
    const { faultFor } = told.dataset;
    const words = faults[faultFor] ?? "";
    write(told, words);
    const field = document.getElementById(faultFor);
    if (words) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
}

body.addEventListener("input", ({ target }) => {
  if (target.form?.id !== "corner-form") return;
  const { slideFor, slider } = target.dataset;
  if (slideFor) {
    const field = document.getElementById(slideFor);
    field.value = written(field, Number(target.value));
  } else if (slider) {
    follow(target);
  }
  draw();
  keepInAddress(target.form);
});

body.addEventListener("click", ({ target }) => {
  const back = target.closest?.("[data-right-settings], [data-job-settings]");
  if (!back) return;
  const isJobs = "jobSettings" in back.dataset;
  for (const field of document.querySelectorAll("[data-slider]")) {
    field.value = isJobs ? field.dataset.usual : "";
    follow(field);
  }
  draw();
  keepInAddress(document.getElementById("corner-form"));
});

// What was tried is now what the job says, or is not wanted any more.
body.addEventListener("htmx:afterRequest", ({ detail: { xhr, requestConfig: { elt } } }) => {
  if (xhr.status !== 204 || !elt.matches("[data-settles]")) return;
  for (const field of document.querySelectorAll("[data-slider]")) {
    delete field.dataset.dirty;
    field.value = field.defaultValue;
  }
  draw();
});

body.addEventListener("again", ({ target }) => { if (target.id === "corner-form") draw(); });
body.addEventListener("htmx:afterSwap", ({ target }) => {
  const form = target.querySelector("#corner-form");
  if (!form) return;
  draw();
  keepInAddress(form);
});
draw();
