// The corner while its sliders move. A drawing that was made ahead is shown at once; any other is asked for without htmx:
// one request at a time, and after it one for what the form holds by then; of what comes only the pieces that changed are
// put into the page. Tables and marks of the sliders follow when the slider rests, and now and then while it moves: made
// with every step they would make drawing and slider lag.

import { keepInAddress } from "./address.js";
import { drawnAhead, forgetAhead, lookAhead } from "./ahead.js";
import { isAway } from "./order.js";
import { retouch } from "./retouching.js";
import { refuse, sayNews, wordsOf } from "./saying.js";
import { follow, lead, setSliders, tellFaults } from "./sliders.js";

const body = document.body;
const PATIENCE = 4000;  // ms
let isAsking = false;
let isAskedAgain = false;
let shown = "";  // what the form said when the drawing that is shown was made

function draw() {
  const form = document.getElementById("corner-form");
  const place = document.getElementById("section");
  if (form && !(showAhead(form, place) && !isAllDue())) ask();
}

// What was made ahead may not be so any more.
function drawAnew() {
  forgetAhead();
  draw();
}

// Whether the drawing for what the form says was there already.
function showAhead(form, place) {
  const asked = askedIn(form, place);
  const drawing = hasDrawing(place) && drawnAhead(asked);
  if (!drawing) return false;
  isAskedAgain = false;
  shown = String(asked);
  putPieces(parsed(drawing), place);
  followLater();
  return true;
}

// What decides a drawing: the form, and the room there is for it.
function askedIn(form, place) {
  const asked = new URLSearchParams(new FormData(form));
  asked.set("room", String(roomFor(place)));
  return asked;
}

async function ask() {
  isAskedAgain = isAsking;
  if (isAsking) return;
  isAsking = true;
  do {
    isAskedAgain = false;
    await askOnce();
  } while (isAskedAgain);
  isAsking = false;
}

async function askOnce() {
  const form = document.getElementById("corner-form");
  const place = document.getElementById("section");
  if (!form) return;
  const asked = askedIn(form, place);
  const key = String(asked);
  asked.set("have", place.querySelector("[data-mark]")?.dataset.mark ?? "");
  if (hasDrawing(place) && !isAllDue()) asked.set("only", "drawing");
  hasRested = false;
  try {
    const answer = await fetch(`/corner/section?${asked}`, {
      headers: { "hx-request": "true" }, signal: AbortSignal.timeout(PATIENCE),
    });
    if (answer.status === 401) window.location.assign("/pair");
    else if (isAway(answer.status)) miss(form);
    else if (answer.ok) put(await answer.text(), form, place, key);
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

const MOVING = ["verdict", "seated"];  // pieces that are made ahead

function put(text, form, place, key) {
  const drawn = parsed(text);
  const isLate = key !== shown && shown === String(askedIn(form, place));  // what is shown was asked for since
  const isAll = drawn.querySelector("[data-state]") !== null;
  if (isLate && !hasDrawing(drawn)) return;
  if (!isLate) shown = key;
  if (hasDrawing(drawn) && hasDrawing(place)) putPieces(drawn, place, isLate ? MOVING : []);
  else place.replaceChildren(drawn);
  window.clearTimeout(resting);
  if (isAll) {
    behindSince = null;
    tellState(place);
  }
  if (isLate || !isAll) followLater();
}

// What stands around the drawing is behind it until the slider rests.
function followLater() {
  behindSince ??= performance.now();
  window.clearTimeout(resting);
  resting = window.setTimeout(() => { hasRested = true; ask(); }, REST);
}

function putPieces(drawn, place, but = []) {
  for (const piece of drawn.querySelectorAll("[data-piece]")) {
    const { piece: name, mark } = piece.dataset;
    const present = place.querySelector(`[data-piece="${name}"]`);
    if (!(mark && mark === present.dataset.mark) && !but.includes(name)) retouch(present, piece);
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

let moved = null;  // the slider that a hand has moved last

function lookAround(slider) {
  const form = document.getElementById("corner-form");
  lookAhead(slider, askedIn(form, document.getElementById("section")), () => moved === slider);
}

for (const near of ["pointerover", "focusin"]) {
  body.addEventListener(near, ({ target }) => { if (target.dataset?.slideFor) lookAround(target); });
}

body.addEventListener("input", ({ target }) => {
  if (target.form?.id !== "corner-form") return;
  const { slideFor, slider } = target.dataset;
  if (slideFor) lead(target);
  else if (slider) follow(target);
  moved = slideFor ? target : null;
  draw();
  if (moved) lookAround(moved);
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
  drawAnew();
});

body.addEventListener("again", ({ target }) => { if (target.id === "corner-form") drawAnew(); });
body.addEventListener("htmx:afterSwap", ({ target }) => {
  const form = target.querySelector("#corner-form");
  if (!form) return;
  drawAnew();
  keepInAddress(form);
});
draw();
