// A slider and its number field are one value: the slider in mm, the field in the reader's unit.

const body = document.body;

function written(field, mm) {
  const text = (mm / Number(field.dataset.mmPerUnit)).toFixed(Number(field.dataset.digits));
  return text.replace(".", field.dataset.sign);
}

function meant(field) {
  const plain = field.value.trim().replace(",", ".");
  return /^\d*\.?\d+$/.test(plain) ? Number(plain) * Number(field.dataset.mmPerUnit) : NaN;
}

function follow(field) {
  const mm = meant(field);
  if (!Number.isNaN(mm)) document.getElementById(field.dataset.slider).value = String(mm);
}

body.addEventListener("input", (event) => {
  const { slideFor, slider } = event.target.dataset ?? {};
  if (slideFor) {
    const field = document.getElementById(slideFor);
    field.value = written(field, Number(event.target.value));
  } else if (slider) {
    follow(event.target);
  }
}, true);

body.addEventListener("htmx:afterSettle", () => {
  for (const state of document.querySelectorAll("[data-setting]:not([data-taken])")) {
    state.dataset.taken = "yes";
    const field = document.getElementById(state.dataset.setting);
    const slider = document.getElementById(field.dataset.slider);
    const [right, reach] = [Number(state.dataset.right), Number(state.dataset.reach)];
    slider.min = String(Math.max(right - reach, 0.01));
    slider.max = String(right + reach);
    const isFirst = slider.disabled;
    slider.disabled = false;
    if (field.value.trim() === "") field.placeholder = written(field, Number(state.dataset.now));
    if (isFirst || field.value.trim() === "") slider.value = state.dataset.now;
  }
  for (const fault of document.querySelectorAll("[data-fault-for]")) {
    const field = document.getElementById(fault.dataset.faultFor);
    if (fault.textContent.trim()) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
});

body.addEventListener("click", ({ target }) => {
  const back = target.closest?.("[data-right-settings], [data-job-settings]");
  if (!back) return;
  const isJobs = "jobSettings" in back.dataset;
  for (const field of document.querySelectorAll("[data-slider]")) {
    field.value = isJobs ? field.dataset.inJob : "";
    follow(field);
  }
  window.htmx.trigger("#corner-form", "again");
});
