// What is tried at a corner stays in the address: reload, back and a bookmark keep it. A length is kept with its unit, so
// that it means the same to a reader of another one.

const PAUSE = 250;  // ms: a browser allows only so many changes of the address
let waiting = 0;

export function keepInAddress(form) {
  window.clearTimeout(waiting);
  waiting = window.setTimeout(() => write(form), PAUSE);
}

function write(form) {
  const address = new URL(window.location.href);
  for (const field of form.querySelectorAll("[data-usual]")) {
    const { usual, unit = "" } = field.dataset;
    const typed = field.value.trim();
    if (typed === usual) address.searchParams.delete(field.name);
    else address.searchParams.set(field.name, /^[\d.,]+$/.test(typed) ? `${typed}${unit}` : typed);
  }
  window.history.replaceState(window.history.state, "", address);
}

window.addEventListener("pagehide", () => {
  const form = document.getElementById("corner-form");
  if (form && waiting) write(form);
});
