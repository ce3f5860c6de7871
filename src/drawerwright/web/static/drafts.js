// What is typed into a form that is sent as a whole outlives its page: after a reload, or when the phone has put the
// page away, it is there again, until the form has been sent and taken.

const MARK = "draft ";
const body = document.body;

function fieldsOf(form) {
  return [...form.elements].filter((field) => field.name && field.type !== "file");
}

// Hidden fields go along, so that a text comes back with the revision that it was made from.
function typedIn(form) {
  return fieldsOf(form)
    .filter((field) => !["checkbox", "radio"].includes(field.type) || field.checked)
    .map((field) => [field.name, field.value]);
}

function keep(form, isSent) {
  sessionStorage.setItem(MARK + form.dataset.draft, JSON.stringify({ typed: typedIn(form), isSent }));
}

function bringBack(form) {
  form.dataset.drafted = "yes";
  // A page that an answer made of what was sent shows it already.
  if ("typed" in form.dataset) { keep(form, false); return; }
  const key = MARK + form.dataset.draft;
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

// A form that was sent and is not here any more has been taken.
function forgetTaken() {
  const here = [...document.querySelectorAll("form[data-draft]")].map((form) => MARK + form.dataset.draft);
  for (const key of Object.keys(sessionStorage)) {
    if (key.startsWith(MARK) && !here.includes(key) && JSON.parse(sessionStorage.getItem(key)).isSent) {
      sessionStorage.removeItem(key);
    }
  }
}

body.addEventListener("input", ({ target }) => { if (target.form?.dataset.draft) keep(target.form, false); });
body.addEventListener("submit", ({ target }) => { if (target.dataset.draft) keep(target, true); });
body.addEventListener("click", ({ target }) => {
  const form = target.closest?.("[data-draft-drop]")?.form;
  if (!form) return;
  sessionStorage.removeItem(MARK + form.dataset.draft);
  form.reset();
  for (const field of fieldsOf(form)) if ("drawn" in field.dataset) field.value = field.dataset.drawn;  // no reset does
  form.querySelector("[data-draft-note]").hidden = true;
});
body.addEventListener("htmx:afterSettle", bringAllBack);
forgetTaken();
bringAllBack();
