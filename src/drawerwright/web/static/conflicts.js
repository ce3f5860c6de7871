// Changes that met: one form for each entry, gone when it is settled.

const body = document.body;

function settle(form) {
  const place = document.getElementById("messages");
  form.remove();
  if (!place.querySelector("form.conflict")) place.replaceChildren();
}

body.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.elt.matches?.("form.conflict") && event.detail.successful) settle(event.detail.elt);
});

body.addEventListener("click", ({ target }) => {
  const theirs = target.closest?.("[data-theirs]");
  if (theirs) settle(theirs.closest("form"));
  if (target.closest?.("[data-all-mine]")) {
    for (const form of document.querySelectorAll("form.conflict")) window.htmx.trigger(form, "again");
  }
  if (target.closest?.("[data-dismiss]")) document.getElementById("messages").replaceChildren();
});
