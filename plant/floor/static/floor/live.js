/* The plant's day is asked for again and again; what stands on the page is never thrown away.
 * Without an answer it says since when, and asks on, ever more slowly, until there is one. */
"use strict";

const EVERY_MS = 5000;
const AT_MOST_MS = 30000;

const live = document.getElementById("live");
const now = document.getElementById("now");
const fresh = document.getElementById("fresh");
let wait = EVERY_MS;
let timer = 0;
let asking = false;

const clock = () => new Date().toTimeString().slice(0, 5);
let answered = clock();

function say(text) {
  if (fresh.textContent !== text) fresh.textContent = text;
  fresh.hidden = text === "";
  live.classList.toggle("stale", text !== "");
}

/** The new figures in place of the old ones; what was held by the keyboard is held again. */
function show(html) {
  const held = now.contains(document.activeElement)
    ? document.activeElement.getAttribute("href")
    : null;
  now.innerHTML = html;
  if (held !== null)
    [...now.querySelectorAll("a")].find((a) => a.getAttribute("href") === held)?.focus();
}

async function ask() {
  const seen = now.firstElementChild?.dataset.mark ?? "";
  const answer = await fetch(`${live.dataset.at}?seen=${seen}`, {
    signal: AbortSignal.timeout(AT_MOST_MS),
  });
  if (answer.redirected || answer.status === 403) {
    say(live.dataset.signedOut);
    return false;
  }
  if (!answer.ok) throw new Error(String(answer.status));
  if (answer.status === 200) show(await answer.text());
  answered = clock();
  say("");
  return true;
}

async function turn() {
  if (asking) return;
  clearTimeout(timer);
  asking = true;
  let on = true;
  try {
    on = await ask();
    wait = EVERY_MS;
  } catch {
    say(live.dataset.stale.replace("{at}", answered));
    wait = Math.min(wait * 1.5, AT_MOST_MS);
  }
  asking = false;
  if (on) timer = setTimeout(turn, document.hidden ? AT_MOST_MS : wait);
}

document.addEventListener("visibilitychange", () => document.hidden || turn());
addEventListener("online", turn);
timer = setTimeout(turn, wait);
