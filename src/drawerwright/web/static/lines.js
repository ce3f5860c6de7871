// A text of one line may take several on the page where it is long; Enter ends it as in any other field.

document.body.addEventListener("keydown", (event) => {
  const { target: field, key, isComposing, defaultPrevented } = event;
  if (key !== "Enter" || isComposing || defaultPrevented || !field.matches("textarea.line")) return;
  event.preventDefault();
  field.blur();  // what was typed is sent
  field.focus();
});
