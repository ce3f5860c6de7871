// The height of each front is typed at it, or its lower edge is dragged; where the fronts are drawn too small for that, in
// a list below.

const body = document.body;
const LEAST = 20;  // px of the height of a front that has room for its own to be typed at it
const SIGN = 7.5;  // px of a figure, and of what is around a field's figures
const AROUND = 8;

// Where each stands is known in per cent of the picture; a page may set styles by script alone.
function place() {
  const heights = document.querySelector(".front-heights");
  if (!heights) return;
  const { width: across, height: down } = heights.parentElement.querySelector(".at-desk").getBoundingClientRect();
  const spots = [...heights.querySelectorAll(".front-height")];
  const needed = AROUND + SIGN * Math.max(...spots.map((spot) => spot.querySelector("input").value.length));
  const least = (name) => Math.min(...spots.map((spot) => Number(spot.dataset[name]))) / 100;
  heights.classList.toggle("listed", least("free") * across < needed || least("tall") * down < LEAST);
  for (const spot of spots) {
    const { left, top, width, tall } = spot.dataset;
    spot.style.left = `${Number(left) + Number(width) - 0.8}%`;
    spot.style.top = `${Number(top) + Number(tall) / 2}%`;
  }
  for (const edge of heights.querySelectorAll(".front-edge")) {
    edge.style.left = `${edge.dataset.left}%`;
    edge.style.top = `${edge.dataset.top}%`;
    edge.style.width = `${edge.dataset.width}%`;
  }
}

let drag = null;

body.addEventListener("pointerdown", (event) => {
  const edge = event.target.closest?.(".front-edge");
  const field = edge && document.getElementById(edge.dataset.for);
  if (!field) return;
  const start = Number(edge.dataset.size);  // the field may show a fraction
  event.preventDefault();
  edge.setPointerCapture(event.pointerId);
  edge.classList.add("dragged");
  drag = { edge, field, start, from: event.clientY, sign: field.value.includes(",") ? "," : ".", before: field.value,
    perPixel: Number(edge.dataset.perPercent) * 100 / edge.parentElement.getBoundingClientRect().height };
});

body.addEventListener("pointermove", (event) => {
  if (!drag) return;
  const moved = event.clientY - drag.from;
  const step = drag.perPixel < 0.2 ? 0.05 : 1;  // inches, else mm
  const height = Math.max(Math.round((drag.start + moved * drag.perPixel) / step) * step, step);
  drag.field.value = String(Number(height.toFixed(2))).replace(".", drag.sign);
  drag.edge.style.transform = `translateY(calc(-50% + ${moved}px))`;
});

function drop(event) {
  if (!drag) return;
  const { edge, field, before } = drag;
  drag = null;
  edge.classList.remove("dragged");
  edge.style.transform = "";
  if (event.type === "pointercancel") field.value = before;
  else if (field.value !== before) field.dispatchEvent(new Event("change", { bubbles: true }));
}
body.addEventListener("pointerup", drop);
body.addEventListener("pointercancel", drop);

body.addEventListener("htmx:oobAfterSwap", place);
window.addEventListener("resize", place);
place();
