// What a quick hand does before the other scripts are there waits for them, in its order, and is then done as if it came
// only now. A form with an address of its own and a link go at once, unless a change waits before them.

(() => {
  const held = [];
  const BY_SCRIPT = "[hx-get], [hx-post], [data-opens], [type=button]:not([popovertarget])";

  function click({ target, ctrlKey, metaKey, shiftKey }) {
    const pressed = target.closest?.("a[href], button");
    if (!pressed || ctrlKey || metaKey || shiftKey) return null;
    const waits = pressed.matches(BY_SCRIPT) || (pressed.matches("a") && held.length > 0);
    return waits ? () => pressed.click() : null;
  }

  function submit({ target: form, submitter }) {
    return form.matches(BY_SCRIPT) || held.length > 0 ? () => form.requestSubmit(submitter) : null;
  }

  const change = ({ type, target }) => () => target.dispatchEvent(new Event(type, { bubbles: true }));
  const toggle = ({ target }) => (target.popover ? () => target.dispatchEvent(new Event("toggle")) : null);
  const kinds = { click, submit, input: change, change, toggle };

  function hold(event) {
    const repeat = kinds[event.type](event);
    if (!repeat) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    held.push(repeat);
  }

  for (const kind of Object.keys(kinds)) window.addEventListener(kind, hold, true);
  // The window hears of it last: by now htmx has taken hold of the document.
  window.addEventListener("DOMContentLoaded", () => {
    for (const kind of Object.keys(kinds)) window.removeEventListener(kind, hold, true);
    for (const repeat of held) repeat();
  });
})();
