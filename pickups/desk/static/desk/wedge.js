/* A wedge scanner types what it reads as if it were a keyboard, faster than hands do, and ends with
   Enter. A label that is read so ticks its casing on a load sheet, and opens its page elsewhere,
   wherever the last click was. Hands can do the same; the page is whole without this file. */
"use strict";
(() => {
  const FASTEST_HAND_MS = 100; // in a field, slower than this between two keys is a hand
  const PAUSE_MS = 2000; // outside of fields nobody writes a label by chance
  // A bare code or a link; what was keyed just before it does not count. The server knows better.
  const LABEL = /(?:^|[^/]|\/L\/)([0-9A-HJ-NPR-Y]{8})$/;
  const typedIn = (at) => at?.matches("input:not([type=checkbox]), textarea, select");
  let text = "";
  let last = Number.NEGATIVE_INFINITY;
  let began = { at: null, field: null, value: "" };

  const home = document.querySelector("form.find");
  const put = document.querySelector("#put");
  const said = document.querySelector("[data-scanned]");

  function found(label) {
    const box = document.querySelector(`input[name="work_order"][data-label="${label}"]`);
    if (box) {
      box.checked = true;
      box.dispatchEvent(new Event("change", { bubbles: true }));
      box.focus();
      box.scrollIntoView({ block: "nearest" });
      if (said) said.textContent = "";
    } else if (put && said) {
      // What is ticked would be lost with the page.
      said.textContent = said.dataset.scanned.replace("{label}", label);
    } else if (home) location.assign(`${home.action}?q=${label}`);
  }

  document.addEventListener(
    "keydown",
    (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const fast = event.timeStamp - last <= (began.field ? FASTEST_HAND_MS : PAUSE_MS);
      if (event.key === "Enter") {
        const label = fast ? LABEL.exec(text)?.[1] : undefined;
        text = "";
        // The search field sends what was read into it by itself.
        if (!label || began.field?.form === home) return;
        event.preventDefault();
        event.stopImmediatePropagation();
        if (began.field) began.field.value = began.value;
        found(label);
        return;
      }
      if (event.key.length !== 1) return;
      if (!fast || began.at !== document.activeElement) {
        const at = document.activeElement;
        text = "";
        began = typedIn(at) ? { at, field: at, value: at.value } : { at, field: null, value: "" };
      }
      text += event.key;
      last = event.timeStamp;
    },
    true,
  );
})();
