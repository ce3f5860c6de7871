// What is opened, shown or taken on a click: panels, the 3-D view, an archive.

import { announce } from "./saying.js";

const body = document.body;

body.addEventListener("click", (event) => {
  const opener = event.target.closest?.("[data-opens]");
  if (!opener) return;
  const panel = document.getElementById(opener.dataset.opens);
  panel.open = panel.hasAttribute("name") || !panel.open;  // of panels that share a place, one is shown
  if (panel.open) {
    (panel.querySelector("input:checked") ?? panel.querySelector("input, select"))?.focus();
    panel.scrollIntoView({ block: "nearest" });
  }
  event.preventDefault();
});

// An archive that was asked for is taken as soon as it is made.
body.addEventListener("htmx:afterSwap", () => {
  const link = document.querySelector("[data-take]");
  if (link) { delete link.dataset.take; link.click(); }
});

// The 3-D view opens by itself where it comes into view and the machine draws it quickly; else on a click.
const whereSeen = new IntersectionObserver((seen) => {
  for (const { target, isIntersecting } of seen) if (isIntersecting && drawsQuickly()) showModel(target);
});

function drawsQuickly() {
  const drawing = document.createElement("canvas").getContext("webgl2", { failIfMajorPerformanceCaveat: true });
  drawing?.getExtension("WEBGL_lose_context")?.loseContext();  // a page has only so many
  return drawing !== null;
}

async function showModel(place) {
  whereSeen.unobserve(place);
  const button = place.querySelector("[data-show]");
  if (!button) return;
  button.remove();
  const viewer = await import("./viewer.js");
  await viewer.show(place, announce);
}

function watchModels() {
  for (const place of document.querySelectorAll("[data-model]:not([data-watched])")) {
    place.dataset.watched = "yes";
    place.querySelector("[data-show]").addEventListener("click", () => showModel(place));
    whereSeen.observe(place);
  }
}
body.addEventListener("htmx:afterSwap", watchModels);
watchModels();
document.querySelector(".tabs [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });
