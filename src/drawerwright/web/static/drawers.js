// A front in the picture opens the details of its row and is the drawer that the 3-D view shows.

const body = document.body;

function rowsOf() {
  const chest = document.querySelector(".chest[data-rows]");
  return chest ? JSON.parse(chest.dataset.rows) : {};
}

function shownDrawer() {
  return document.getElementById("viewer-drawer")?.value ?? "";
}

// Which front is chosen, and which row of the tables has its panel open.
function mark() {
  for (const region of document.querySelectorAll(".chest [data-region]")) {
    if (region.dataset.region === shownDrawer()) region.setAttribute("aria-current", "true");
    else region.removeAttribute("aria-current");
  }
  const isOpen = (id) => document.getElementById(id)?.open ?? false;
  for (const row of document.querySelectorAll("[data-row-of]")) row.classList.toggle("chosen", isOpen(row.dataset.rowOf));
  const rows = rowsOf();
  for (const height of document.querySelectorAll(".front-height")) {
    height.classList.toggle("folded", !isOpen(rows[height.querySelector("a").dataset.region]));
  }
}

function choose(name) {
  const drawer = document.getElementById("viewer-drawer");
  if (drawer && drawer.value !== name) {
    drawer.value = name;
    drawer.dispatchEvent(new Event("change", { bubbles: true }));
  }
  const panel = document.getElementById(rowsOf()[name]);
  if (panel) {
    panel.open = true;
    if (panel.getBoundingClientRect().top > window.innerHeight) panel.scrollIntoView();  // on a phone it is below
  }
  mark();
}

body.addEventListener("click", (event) => {
  const region = event.target.closest?.(".chest[data-rows] [data-region]");
  if (!region || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  choose(region.dataset.region);
});

// ---- Heights at the fronts ----

const LEAST = { across: 90, tall: 20 };  // px of a front that has room for its height

// Where each stands is known in per cent of the picture; a page may set styles by script alone.
function place() {
  const heights = document.querySelector(".front-heights");
  if (!heights) return;
  const { width: across, height: down } = heights.parentElement.querySelector(".at-desk").getBoundingClientRect();
  const spots = [...heights.querySelectorAll(".front-height")];
  const least = (name) => Math.min(...spots.map((spot) => Number(spot.dataset[name]))) / 100;
  heights.classList.toggle("listed", least("width") * across < LEAST.across || least("tall") * down < LEAST.tall);
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

// A browser opens the panels around what an address leads to. A cell stands in no panel, but on a phone its row is shown
// only while its own is open.
function follow() {
  const cell = document.getElementById(decodeURIComponent(window.location.hash.slice(1)));
  const panel = document.getElementById(cell?.closest("[data-row-of]")?.dataset.rowOf);
  if (!panel || panel.open) return;
  panel.open = true;
  mark();
  cell.scrollIntoView({ block: "center" });
}

if (document.querySelector(".drawers")) {
  document.addEventListener("toggle", mark, true);
  body.addEventListener("change", (event) => { if (event.target.id === "viewer-drawer") mark(); });
  body.addEventListener("htmx:afterSwap", mark);
  body.addEventListener("htmx:oobAfterSwap", () => { place(); mark(); });
  window.addEventListener("hashchange", follow);
  window.addEventListener("resize", place);
  follow();
  place();
  mark();
}
