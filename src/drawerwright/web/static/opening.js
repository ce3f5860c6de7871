// What is opened or taken on a click: panels, an archive.

const body = document.body;

body.addEventListener("click", (event) => {
  const opener = event.target.closest?.("[data-opens]");
  if (!opener) return;
  const panel = document.getElementById(opener.dataset.opens);
  panel.open = panel.hasAttribute("name") || !panel.open;  // of panels that share a place, one is shown
  if (panel.open) enter(panel);
  event.preventDefault();
});

// The first of what is to be filled in; where that comes only now, the keyboard waits for it at the head of the panel.
function enter(panel) {
  const first = panel.querySelector("input:checked") ?? panel.querySelector("input:not([type=hidden]), select");
  (first ?? panel.querySelector("summary"))?.focus();
  panel.scrollIntoView({ block: "nearest" });
  if (first) return;
  body.addEventListener("htmx:afterSettle", () => {
    if (document.activeElement === panel.querySelector("summary")) enter(panel);
  }, { once: true });
}

// An archive that was asked for is taken as soon as it is made.
body.addEventListener("htmx:afterSwap", () => {
  const link = document.querySelector("[data-take]");
  if (link) { delete link.dataset.take; link.click(); }
});

// The list of pages shows the one that is open. Only the list moves: to scroll a link into view would have Tab go on
// from there, past what stands before it.
const here = document.querySelector(".tabs [aria-current]");
const pages = here?.closest(".tabs");
if (pages) {
  const middle = (box) => box.left + box.width / 2;
  pages.scrollLeft += middle(here.getBoundingClientRect()) - middle(pages.getBoundingClientRect());
}
