// What is typed into a form that is sent as a whole outlives its page: after a reload, or when the phone has put the
// page away, it is there again, until the server has said that it took the form. It says so by a cookie with the mark
// that the form was sent with.

const [KEPT, TAKEN, MARK] = ["draft ", "drawerwright_taken_", "draft"];
const body = document.body;

function fieldsOf(form) {
  return [...form.elements].filter((field) => field.name && field.name !== MARK && field.type !== "file");
}

// Hidden fields go along, so that a text comes back with the revision that it was made from.
function typedIn(form) {
  return fieldsOf(form)
    .filter((field) => !["checkbox", "radio"].includes(field.type) || field.checked)
    .map((field) => [field.name, field.value]);
}

// With the mark that it was sent with, if it was; what is typed after that is another draft.
function keep(form, mark) {
  sessionStorage.setItem(KEPT + form.dataset.draft, JSON.stringify({ typed: typedIn(form), mark }));
}

function bringBack(form) {
  form.dataset.drafted = "yes";
  // A page that an answer made of what was sent shows it already. Who comes back to it later gets the empty form and what
  // was typed in it; a browser would want to send all of it again, and show nothing of its own.
  if ("typed" in form.dataset) {
    keep(form, "");
    history.replaceState(history.state, "", form.dataset.typed || location.href);
    return;
  }
  const key = KEPT + form.dataset.draft;
  const kept = JSON.parse(sessionStorage.getItem(key) ?? "null");
  if (!kept) return;
  const hidden = fieldsOf(form).filter((field) => field.type === "hidden").map((field) => field.name);
  const [now, then] = [typedIn(form), kept.typed].map((all) => JSON.stringify(all.filter(([name]) => !hidden.includes(name))));
  if (now === then) { sessionStorage.removeItem(key); return; }
  for (const field of fieldsOf(form)) {
    if (field.type === "hidden") field.dataset.drawn = field.value;
    const values = kept.typed.filter(([name]) => name === field.name).map(([, value]) => value);
    if (["checkbox", "radio"].includes(field.type)) field.checked = values.includes(field.value);
    else if (values.length) [field.value] = values;
  }
  form.querySelector("[data-draft-note]").hidden = false;
}

function bringAllBack() {
  for (const form of document.querySelectorAll("form[data-draft]:not([data-drafted])")) bringBack(form);
}

function forgetTaken() {
  const marks = document.cookie.split("; ").filter((cookie) => cookie.startsWith(TAKEN))
    .map((cookie) => cookie.slice(TAKEN.length).split("=")[0]);
  for (const key of Object.keys(sessionStorage).filter((name) => name.startsWith(KEPT))) {
    const { mark } = JSON.parse(sessionStorage.getItem(key));
    if (!marks.includes(mark)) continue;
    sessionStorage.removeItem(key);
    document.cookie = `${TAKEN}${mark}=; path=/; max-age=0; samesite=strict`;
  }
}

function newMark() {
  return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

body.addEventListener("input", ({ target }) => { if (target.form?.dataset.draft) keep(target.form, ""); });
body.addEventListener("submit", ({ target: form }) => {
  if (!form.dataset.draft) return;
  form.elements[MARK].value = newMark();
  keep(form, form.elements[MARK].value);
}, true);
body.addEventListener("click", ({ target }) => {
  const form = target.closest?.("[data-draft-drop]")?.form;
  if (!form) return;
  sessionStorage.removeItem(KEPT + form.dataset.draft);
  form.reset();
  for (const field of fieldsOf(form)) if ("drawn" in field.dataset) field.value = field.dataset.drawn;  // no reset does
  form.querySelector("[data-draft-note]").hidden = true;
});
body.addEventListener("htmx:afterRequest", forgetTaken);
body.addEventListener("htmx:afterSettle", bringAllBack);
forgetTaken();
bringAllBack();
