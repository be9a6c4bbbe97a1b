/** Which screen: the address below /app/, with the browser's own way back. */
import { signal } from "@preact/signals";

const BASE = "/app/";
const parts = (): string[] => location.pathname.slice(BASE.length).split("/").filter(Boolean);

/** The parts of the address, for example ["pickup", id, "finish"]; empty is Today. */
export const route = signal<string[]>(parts());

addEventListener("popstate", () => {
  route.value = parts();
});

export function go(...to: string[]): void {
  const path = BASE + to.join("/");
  if (path !== location.pathname) history.pushState(null, "", path);
  route.value = to;
  scrollTo(0, 0);
  document.getElementById("scroll")?.scrollTo(0, 0);
}
