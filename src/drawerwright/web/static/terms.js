// A word of the glossary explains itself while it is pointed at, has the focus, or was tapped; Escape puts that away.

const meaning = document.getElementById("meaning");
const body = document.body;
let word = null;

function show(term) {
  if (word === term) return;
  hide();
  word = term;
  meaning.textContent = term.dataset.meaning;
  term.setAttribute("aria-describedby", "meaning");
  meaning.showPopover();
  const [at, box] = [term.getBoundingClientRect(), meaning.getBoundingClientRect()];
  const isRoomBelow = at.bottom + box.height + 8 < window.innerHeight;
  meaning.style.left = `${Math.max(8, Math.min(at.left, window.innerWidth - box.width - 8))}px`;
  meaning.style.top = `${isRoomBelow ? at.bottom + 4 : at.top - box.height - 4}px`;
}

function hide() {
  if (!word) return;
  word.removeAttribute("aria-describedby");
  word = null;
  meaning.hidePopover();
}

function termAt(event) {
  return event.target.closest?.("[data-meaning]");
}

body.addEventListener("pointerover", (event) => { if (event.pointerType === "mouse" && termAt(event)) show(termAt(event)); });
body.addEventListener("pointerout", (event) => {
  if (event.pointerType !== "mouse" || !termAt(event) || document.activeElement === word) return;
  if (!meaning.contains(event.relatedTarget)) hide();
});
body.addEventListener("focusin", (event) => { const term = termAt(event); if (term) show(term); else hide(); });
body.addEventListener("focusout", (event) => { if (termAt(event)) hide(); });
// Inside a label a tap is for the word, not for the field.
body.addEventListener("click", (event) => {
  const term = termAt(event);
  if (!term) { if (!meaning.contains(event.target)) hide(); return; }
  event.preventDefault();
  term.focus();
  show(term);
});
window.addEventListener("keydown", (event) => { if (event.key === "Escape") hide(); });
for (const name of ["scroll", "resize"]) window.addEventListener(name, hide, { passive: true, capture: true });
body.addEventListener("htmx:afterSwap", () => { if (word && !word.isConnected) hide(); });
