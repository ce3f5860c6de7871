// A job file that is dropped anywhere on the start page is imported, as if it had been chosen in its field.

const form = document.getElementById("import");
const body = document.body;

function carriesFiles(event) {
  return [...(event.dataTransfer?.types ?? [])].includes("Files");
}

function show(isOver) {
  if (isOver) body.dataset.drop = form.dataset.drop;
  else delete body.dataset.drop;
}

for (const name of ["dragenter", "dragover"]) {
  window.addEventListener(name, (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();  // else the browser opens the file itself
    show(true);
  });
}
window.addEventListener("dragleave", (event) => { if (!event.relatedTarget) show(false); });
window.addEventListener("drop", (event) => {
  if (!carriesFiles(event)) return;
  event.preventDefault();
  show(false);
  const chosen = new DataTransfer();
  chosen.items.add(event.dataTransfer.files[0]);
  form.elements.file.files = chosen.files;
  form.requestSubmit();
});
