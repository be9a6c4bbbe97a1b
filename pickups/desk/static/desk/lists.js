/* How far a list is written, looked at again every two seconds; the page is whole without this file. */
"use strict";
(() => {
  const EVERY_MS = 2000;
  const own = () => document.querySelector("[data-progress]");

  const look = async () => {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const now = page.querySelector("[data-progress]");
    if (!now) {
      location.reload(); // it is written: what came of it
      return;
    }
    for (const part of ["h2", "progress"]) {
      const there = own().querySelector(part);
      const here = now.querySelector(part);
      if (part === "progress") there.value = here.value;
      else there.textContent = here.textContent;
    }
    setTimeout(again, EVERY_MS);
  };
  // Without a network the next look may have one.
  const again = () => look().catch(() => setTimeout(again, EVERY_MS));
  setTimeout(again, EVERY_MS);
})();
