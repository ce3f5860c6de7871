// The run at the machine: a tick moves bar and count at once, the large button ticks and goes on, and cautions that were
// read on this device fold to one line.

const body = document.body;
const [READ, MOST_MARKS] = ["drawerwright_cautions", 12];

body.addEventListener("change", ({ target }) => {
  if (!("tick" in target.dataset)) return;
  const [count, bar] = [document.querySelector("[data-done]"), document.querySelector(".run-head progress")];
  const done = Number(count.textContent) + (target.checked ? 1 : -1);
  count.textContent = String(done);
  bar.value = done;
});

// Before the link is followed: whoever leaves the page leaves after the changes.
body.addEventListener("click", ({ target, ctrlKey, metaKey, shiftKey }) => {
  const box = document.getElementById(target.closest?.("[data-ticks]")?.dataset.ticks);
  if (!box || box.checked || ctrlKey || metaKey || shiftKey) return;
  box.checked = true;
  box.dispatchEvent(new Event("change", { bubbles: true }));
}, true);

body.addEventListener("click", ({ target }) => {
  const mark = target.closest?.("[data-cautions]")?.dataset.cautions;
  if (!mark) return;
  const kept = document.cookie.split("; ").find((cookie) => cookie.startsWith(`${READ}=`))?.slice(READ.length + 1) ?? "";
  const marks = [mark, ...kept.split(".").filter((one) => one && one !== mark)].slice(0, MOST_MARKS);
  document.cookie = `${READ}=${marks.join(".")}; path=/; max-age=31536000; samesite=strict`;
  const panel = document.getElementById("cautions");
  panel.open = false;
  panel.querySelector("summary").focus();
  window.htmx.trigger("#planned", "again");
});
