// A slider and its number field are one value: the slider in mm, the field in the reader's unit. Its rule shows what is
// recommended and what fits.

import { write } from "./retouching.js";

function written(field, mm) {
  const text = (mm / Number(field.dataset.mmPerUnit)).toFixed(Number(field.dataset.digits));
  return text.replace(".", field.dataset.sign);
}

function meant(field) {
  const plain = field.value.trim().replace(",", ".");
  return /^\d*\.?\d+$/.test(plain) ? Number(plain) * Number(field.dataset.mmPerUnit) : NaN;
}

// The slider goes where its field is.
export function follow(field) {
  const mm = meant(field);
  if (!Number.isNaN(mm)) document.getElementById(field.dataset.slider).value = String(mm);
}

// The field says what its slider does.
export function lead(slider) {
  const field = fieldOf(slider);
  field.value = written(field, Number(slider.value));
}

export function fieldOf(slider) {
  return document.getElementById(slider.dataset.slideFor);
}

// What the field of a slider says wherever the slider can be, the nearest to where it is first.
export function waysOf(slider) {
  const field = fieldOf(slider);
  const [least, most, step, now] = ["min", "max", "step", "value"].map((name) => Number(slider[name]));
  const ways = Array.from({ length: Math.round((most - least) / step) + 1 }, (_, place) => least + place * step);
  ways.sort((one, other) => Math.abs(one - now) - Math.abs(other - now));
  return ways.map((mm) => written(field, mm));
}

export function setSliders({ right = {}, now, reach, fits, gauges, off, words = "" }) {
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

export function tellFaults(faults) {
  for (const told of document.querySelectorAll("[data-fault-for]")) {
    const { faultFor } = told.dataset;
    const words = faults[faultFor] ?? "";
    write(told, words);
    const field = document.getElementById(faultFor);
    if (words) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
}
