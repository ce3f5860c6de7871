// A page prints whole: what comes only as it comes into view is fetched before it is printed. A browser waits for no
// answer once somebody asks it to print, so each is waited for here.

const body = document.body;

function fetchNow(place) {
  const asked = new XMLHttpRequest();
  asked.open("GET", place.getAttribute("hx-get"), false);
  for (const [name, value] of Object.entries(JSON.parse(body.getAttribute("hx-headers")))) asked.setRequestHeader(name, value);
  asked.setRequestHeader("HX-Request", "true");
  try { asked.send(); } catch { return; }  // without a connection it prints what there is
  if (asked.status === 200) place.innerHTML = asked.responseText;
}

window.addEventListener("beforeprint", () => {
  for (const place of document.querySelectorAll("[hx-trigger^='intersect']:empty:not(.row-panel *)")) fetchNow(place);
});
body.addEventListener("click", ({ target }) => { if (target.closest?.("[data-print]")) window.print(); });
