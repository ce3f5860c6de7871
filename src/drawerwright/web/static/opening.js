// What is opened or taken on a click: panels, an archive.

const body = document.body;

body.addEventListener("click", (event) => {
  const opener = event.target.closest?.("[data-opens]");
  if (!opener) return;
  const panel = document.getElementById(opener.dataset.opens);
  panel.open = panel.hasAttribute("name") || !panel.open;  // of panels that share a place, one is shown
  if (panel.open) {
    (panel.querySelector("input:checked") ?? panel.querySelector("input:not([type=hidden]), select, summary"))?.focus();
    panel.scrollIntoView({ block: "nearest" });
  }
  event.preventDefault();
});

// An archive that was asked for is taken as soon as it is made.
body.addEventListener("htmx:afterSwap", () => {
  const link = document.querySelector("[data-take]");
  if (link) { delete link.dataset.take; link.click(); }
});

// Browsers that do not know where a list of pages is to begin are shown it.
document.querySelector(".tabs [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });
