// A front in the picture opens the details of its row and is the drawer that the 3-D view shows.

const body = document.body;
const MOST_LISTED = 16;  // heights in a list; of more only those of the open row

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
  const heights = document.querySelectorAll(".front-height");
  for (const height of heights) {
    const isOfOpen = isOpen(rows[height.querySelector("a").dataset.region]);
    height.classList.toggle("folded", heights.length > MOST_LISTED && !isOfOpen);
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
    bring(panel);
    if (panel.querySelector(".to-come")) body.addEventListener("htmx:afterSettle", () => bring(panel), { once: true });
  }
  mark();
}

// On a phone a panel is below what was tapped, and what comes with it may push it out of view.
function bring(panel) {
  const head = panel.querySelector("summary").getBoundingClientRect();
  if (head.top > window.innerHeight || head.bottom < 0) panel.scrollIntoView();
}

body.addEventListener("click", (event) => {
  const region = event.target.closest?.(".chest[data-rows] [data-region]");
  if (!region || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  choose(region.dataset.region);
});

// Where details are open, they are those of the row that is typed in.
function goWith(event) {
  const row = event.target.closest?.("[data-row-of] :is(input, textarea, select)")?.closest("[data-row-of]");
  const panel = row && document.getElementById(row.dataset.rowOf);
  if (panel && !panel.open && document.querySelector(".row-panel[open]")) panel.open = true;
}

// A browser opens the panels around what an address leads to; those of a long job come when their row is opened. A cell
// stands in no panel, but on a phone its row is shown only while its own is open.
function follow() {
  const id = decodeURIComponent(window.location.hash.slice(1));
  const entry = document.getElementById(id);
  const row = entry?.closest("[data-row-of]");
  const panel = document.getElementById(row?.dataset.rowOf ?? `more-${id.split("-", 2).join("-")}`);
  if (!panel || (panel.open && (row || !entry))) return;
  panel.open = true;
  mark();
  if (entry) show(entry);
  else body.addEventListener("htmx:afterSettle", function arrived() {
    const come = document.getElementById(id);
    if (!come) return;
    body.removeEventListener("htmx:afterSettle", arrived);
    show(come);
  });
}

function show(entry) {
  for (let around = entry.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
  entry.scrollIntoView({ block: "center" });
}

if (document.querySelector(".drawers")) {
  document.addEventListener("toggle", mark, true);
  body.addEventListener("change", (event) => { if (event.target.id === "viewer-drawer") mark(); });
  body.addEventListener("htmx:afterSwap", mark);
  body.addEventListener("htmx:oobAfterSwap", mark);
  body.addEventListener("focusin", goWith);
  window.addEventListener("hashchange", follow);
  follow();
  mark();
}
