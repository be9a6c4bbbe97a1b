/** Which screen: the address below /app/, with the browser's own way back. */
import { signal } from "@preact/signals";
import { codeInLink } from "./enrolLink";

const BASE = "/app/";
const parts = (): string[] => location.pathname.slice(BASE.length).split("/").filter(Boolean);

/** The parts of the address, for example ["pickup", id, "finish"]; empty is Today. */
export const route = signal<string[]>([]);

/** The code that a link brought; it is not left in the address, nor in the browser's history. */
export const broughtCode = signal("");

function follow(): void {
  const code = codeInLink(location.hash);
  if (code !== null) {
    history.replaceState(null, "", `${BASE}enrol`);
    broughtCode.value = code;
  }
  route.value = parts();
}
follow();
// A link may come to an app that is open already.
for (const moved of ["popstate", "hashchange"]) addEventListener(moved, follow);

/** After work that took its time: on, unless whoever waited went elsewhere meanwhile. */
export function goFrom(here: string[], ...to: string[]): void {
  if (route.value === here) go(...to);
}

export function go(...to: string[]): void {
  const path = BASE + to.join("/");
  if (path !== location.pathname) history.pushState(null, "", path);
  route.value = to;
  scrollTo(0, 0);
  document.getElementById("scroll")?.scrollTo(0, 0);
}
