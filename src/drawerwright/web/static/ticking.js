// The run at the machine: a tick moves step, bar and count at once, the large button goes on once however often it is
// pressed, and cautions that were read on this device fold to one line.

const body = document.body;
const GOING_MS = 4000;  // a page that has not come by then may be asked for again
let pressed = -Infinity;
const [READ, MOST_MARKS] = ["drawerwright_cautions", 12];

body.addEventListener("change", ({ target }) => {
  if (!("tick" in target.dataset)) return;
  const [count, bar] = [document.querySelector("[data-done]"), document.querySelector(".run-head progress")];
  const done = Number(count.textContent) + (target.checked ? 1 : -1);
  count.textContent = String(done);
  bar.value = done;
  target.closest(".step").classList.toggle("done", target.checked);
});

// The tick goes along with the way to the next page. Each press would ask for that page anew, and a quick hand would wait
// for ever.
body.addEventListener("click", (event) => {
  if (!event.target.closest?.("[data-goes-on]")) return;
  if (event.timeStamp - pressed < GOING_MS) event.preventDefault();
  else pressed = event.timeStamp;
}, true);
window.addEventListener("pageshow", () => { pressed = -Infinity; });

body.addEventListener("click", ({ target }) => {
  const mark = target.closest?.("[data-cautions]")?.dataset.cautions;
  if (!mark) return;
  const kept = document.cookie.split("; ").find((cookie) => cookie.startsWith(`${READ}=`))?.slice(READ.length + 1) ?? "";
  const marks = [mark, ...kept.split(".").filter((one) => one && one !== mark)].slice(0, MOST_MARKS);
  document.cookie = `${READ}=${marks.join(".")}; path=/; max-age=31536000; samesite=strict`;
  const panel = document.getElementById("cautions");
  panel.open = false;
  panel.querySelector("summary").focus();
  if (document.querySelector(".steps.single")) window.scrollTo(0, 0);
  window.htmx.trigger("#planned", "again");
});
