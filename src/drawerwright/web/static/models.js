// The 3-D view opens by itself where it comes into view and the machine draws it quickly; else on a click.

import { announce } from "./saying.js";

const body = document.body;

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
