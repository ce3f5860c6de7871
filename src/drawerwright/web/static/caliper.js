// A caliper with a cable types like a keyboard: the value, perhaps its unit, then Enter. Enter goes to the next field, at
// the last one before the button to the button; the form is sent by hand.

document.body.addEventListener("keydown", (event) => {
  const { target: field, key, isComposing } = event;
  const form = field.form;
  if (key !== "Enter" || isComposing || !form || !("caliper" in form.dataset) || field.inputMode !== "decimal") return;
  event.preventDefault();
  const places = [...form.querySelectorAll("input[inputmode=decimal], .button.main")];
  const next = places[places.indexOf(field) + (event.shiftKey ? -1 : 1)] ?? form.querySelector(".button.main");
  next.focus();
  next.select?.();
});
