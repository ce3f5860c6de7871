// Whoever leaves the page leaves after the changes, or takes along what waits; but a link is not followed minutes after
// it was clicked.

import { isDeleted, isLost, seek } from "./connection.js";
import { afterChanges, isAnyWaiting, isIdle, isOnItsWay, unansweredChanges } from "./order.js";
import { refuse } from "./saying.js";

const body = document.body;
const { notFollowed, notSent } = document.getElementById("link-state").dataset;
const MOST_KEPT_ALIVE = 60000;  // bytes; browsers let no more than 64 KiB outlive their page
let waitingWords = "";

// `go` when the changes are made: at once where there are none, and not at all without a connection.
async function goAfterChanges(go, words) {
  if (isLost()) await seek();
  if (isLost()) { refuse(words); return; }
  if (isIdle()) { go(); return; }
  waitingWords = words;
  afterChanges(() => { waitingWords = ""; go(); });
}

body.addEventListener("connection-lost", () => {
  if (!waitingWords) return;
  afterChanges(null);
  refuse(waitingWords);
  waitingWords = "";
});

function mayGo() {
  return isDeleted() || (isIdle() && !isLost());
}

body.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href]");
  if (!link || event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey || mayGo()) return;
  if (link.getAttribute("href").startsWith("#")) return;
  event.preventDefault();
  goAfterChanges(() => (link.isConnected ? link.click() : window.location.assign(link.href)), notFollowed);
});

body.addEventListener("submit", (event) => {
  if (event.defaultPrevented || mayGo()) return;
  const { target: form, submitter } = event;
  event.preventDefault();
  goAfterChanges(() => form.requestSubmit(submitter), notSent);
});

// What was typed but not left yet, when a phone goes to sleep or somebody reloads or goes elsewhere.
function beingTyped() {
  return [...document.querySelectorAll("[data-dirty][hx-post]")].filter((field) => !isOnItsWay(field));
}

// In one piece, because the order would be lost otherwise; the request outlives the page. Where the page lives on, its
// queue sends the same changes under the same names.
function sendWhatWaits() {
  for (const field of beingTyped()) window.htmx.trigger(field, "again");
  const changes = unansweredChanges();
  if (!changes.length || isDeleted()) return;
  const form = new URLSearchParams(changes.map((change) => ["change", JSON.stringify(change)]));
  const keepalive = String(form).length < MOST_KEPT_ALIVE;
  const headers = JSON.parse(body.getAttribute("hx-headers"));
  fetch("/late", { method: "POST", body: form, headers, keepalive }).catch(() => {});
}

document.addEventListener("visibilitychange", () => { if (document.hidden) sendWhatWaits(); });
window.addEventListener("pagehide", sendWhatWaits);
window.addEventListener("beforeunload", (event) => {
  if (!isDeleted() && isLost() && isAnyWaiting()) event.preventDefault();
});
