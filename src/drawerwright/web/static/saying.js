// Words for who listens to the page, and words that everybody sees.

const announcer = document.getElementById("announce");

export function announce(text) {
  announcer.textContent = "";
  window.setTimeout(() => { announcer.textContent = text; }, 30);
}

// What an answer says, without its marks.
export function wordsOf(answer) {
  const words = new DOMParser().parseFromString(answer, "text/html").body.textContent;
  return words.replace(/\s+/g, " ").trim().slice(0, 400);
}

// Something was not done: said where everybody sees it, one thing at a time.
export function refuse(text) {
  const place = document.getElementById("messages") ?? document.getElementById("work");
  const words = document.createElement("p");
  words.className = "notice";
  words.setAttribute("role", "alert");
  words.textContent = text;
  unsay();
  place.prepend(words);
}

export function unsay() {
  document.querySelector("#messages > p.notice[role=alert], #work > p.notice[role=alert]")?.remove();
}

let lastSaid = "";
let saying = 0;
document.body.addEventListener("htmx:afterSettle", sayNews);

// What a drawing says of itself is read out once it has come to rest.
export function sayNews() {
  window.clearTimeout(saying);
  saying = window.setTimeout(() => {
    const said = document.querySelector("[data-announce]")?.textContent.trim() ?? "";
    if (said && said !== lastSaid) announce(said);
    lastSaid = said;
  }, 400);
}
