// What a slider comes to next is drawn before it is there: while a hand is at it the server draws its way a piece at a
// time, the nearest first, so that a move shows its drawing in the same frame. Drawings are known by what the slider's
// field says, and forgotten as soon as anything else in the form is another.

import { fieldOf, waysOf } from "./sliders.js";

const FIRST = 10;  // drawings in the first answer, so that the nearest are soon there
const MOST = 40;  // in one of the others: some 25 kB over the wire
const PATIENCE = 4000;  // ms
const drawings = new Map();
let moving = "";  // the field
let others = "";  // what the form says besides
let isWhole = false;
let isAsking = false;

export function drawnAhead(asked) {
  return othersIn(asked, moving) === others ? drawings.get(asked.get(moving)) : undefined;
}

export function forgetAhead() {
  [moving, others, isWhole] = ["", "", false];
  drawings.clear();
}

// A piece of the way where a hand is only near; on to both its ends while `isMoved` says that the slider is moved.
export async function lookAhead(slider, asked, isMoved) {
  if (isAsking || slider.disabled) return;
  const { name } = fieldOf(slider);
  const own = othersIn(asked, name);
  if (name !== moving || own !== others) {
    forgetAhead();
    [moving, others] = [name, own];
  }
  if (isWhole) return;
  const count = Math.min(FIRST + drawings.size, MOST);
  const lacking = waysOf(slider).filter((text) => !drawings.has(text)).slice(0, count);
  isWhole = lacking.length === 0;
  if (isWhole) return;
  isAsking = true;
  const drawn = await fetchDrawings(name, asked, lacking.sort());
  isAsking = false;
  if (!drawn || name !== moving || own !== others) return;
  for (const text of lacking) drawings.set(text, drawn[text] ?? null);
  if (isMoved()) lookAhead(slider, asked, isMoved);
}

function othersIn(asked, name) {
  const said = new URLSearchParams(asked);
  said.delete(name);
  return String(said);
}

// Nothing where no answer comes: each drawing is then asked for when the slider is there.
async function fetchDrawings(name, asked, texts) {
  const address = new URLSearchParams(asked);
  address.set("moves", name);
  for (const text of texts) address.append("at", text);
  try {
    const answer = await fetch(`/corner/ahead?${address}`, {
      headers: { "hx-request": "true" }, signal: AbortSignal.timeout(PATIENCE),
    });
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}
