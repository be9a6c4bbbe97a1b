/* Single keys on a load sheet, for who works without a mouse. Everything they do a button does too,
   and they can be switched off; the page is whole without this file. */
"use strict";
(() => {
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const one = (selector) => document.querySelector(selector);
  const ticks = () => all('input[name="work_order"]');
  const offs = () => all("[data-off]");
  const OFF = "yardloop.singleKeysOff";
  const PLACE = "yardloop.sheetPlace";

  const printer = one("[data-print]");
  if (printer) {
    printer.hidden = false;
    printer.addEventListener("click", () => window.print());
  }

  const count = one("[data-count]");
  const put = one('[data-key="m"]');
  const recount = () => {
    const n = ticks().filter((box) => box.checked).length;
    if (count && put) count.textContent = n ? put.dataset.ticked.replace("{n}", String(n)) : "";
  };
  document.addEventListener("change", recount);
  recount();

  // Where the hand was: the page that comes after a step begins there again.
  const remember = () => {
    const focus = document.activeElement;
    const lists = { ticks: ticks(), offs: offs() };
    for (const [list, lines] of Object.entries(lists)) {
      const at = lines.indexOf(focus);
      if (at >= 0) {
        const left = list === "ticks" ? lines.slice(0, at).filter((b) => !b.checked).length : at;
        sessionStorage.setItem(PLACE, JSON.stringify({ path: location.pathname, list, at: left }));
      }
    }
  };
  const sent = new WeakSet();
  document.addEventListener("submit", (event) => {
    // A second press on the way would only be told that the page is behind.
    if (sent.has(event.target)) event.preventDefault();
    sent.add(event.target);
    remember();
  });
  window.addEventListener("pageshow", (event) => event.persisted && location.reload());
  const back = () => {
    const kept = JSON.parse(sessionStorage.getItem(PLACE) || "null");
    sessionStorage.removeItem(PLACE);
    if (!kept || kept.path !== location.pathname) return;
    const lines = kept.list === "ticks" ? ticks() : offs();
    lines[Math.min(kept.at, lines.length - 1)]?.focus();
  };
  // After the browser itself has gone to the part of the page that the address names.
  window.addEventListener("load", () => setTimeout(back));

  const keys = one("[data-keys]");
  const on = one("[data-keys-on]");
  if (!keys || !on) return;
  keys.hidden = false;
  on.checked = localStorage.getItem(OFF) === null;
  on.addEventListener("change", () => {
    if (on.checked) localStorage.removeItem(OFF);
    else localStorage.setItem(OFF, "1");
  });

  const step = (by) => {
    const focus = document.activeElement;
    const lines = [ticks(), offs()].find((list) => list.includes(focus));
    if (!lines) {
      // From nowhere in particular the arrow down takes the first line; else they scroll.
      if (by < 0 || document.activeElement?.closest("form:not(#put), a, summary")) return false;
      part("loose");
      return true;
    }
    const next = lines[Math.max(0, Math.min(lines.length - 1, lines.indexOf(focus) + by))];
    next.focus();
    next.scrollIntoView({ block: "nearest" });
    return true;
  };
  const part = (id) => {
    const found = one(`#${id}`);
    found?.scrollIntoView();
    const first = (id === "loose" ? ticks() : offs())[0] ?? found;
    first?.focus();
  };
  const wholeYard = () => {
    const group = document.activeElement?.closest("[data-group]");
    const boxes = group ? all('input[name="work_order"]', group) : [];
    const every = boxes.every((box) => box.checked);
    for (const box of boxes) box.checked = !every;
    recount();
  };
  const press = (button) => {
    if (!button) return;
    remember();
    button.click();
  };
  const does = {
    ArrowDown: () => step(1),
    ArrowUp: () => step(-1),
    a: wholeYard,
    m: () => press(put),
    b: () => document.activeElement?.matches("[data-off]") && press(document.activeElement),
    u: () => press(one('[data-key="u"]')),
    l: () => part("loose"),
    s: () => part("stops"),
  };
  document.addEventListener("keydown", (event) => {
    const typing = event.target.matches(
      'input:not([type="checkbox"]), select, textarea, [contenteditable]',
    );
    if (typing || !on.checked || event.ctrlKey || event.altKey || event.metaKey) return;
    // A scanner types labels in capitals; a hand that means a key writes a small letter.
    const capital = event.key.length === 1 && event.key !== event.key.toLowerCase();
    if (capital && !event.getModifierState("CapsLock")) return;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    const act = does[key];
    if (!act || event.repeat && !key.startsWith("Arrow")) return;
    if (act() !== false) event.preventDefault();
  });
})();
