/**
 * How a request is answered: kept files under /app/ first, every page address under /app/ by the
 * shell. The doors of the server, links, the page behind a label and the office never come from
 * here.
 */
import { known, kept, SHELL } from "./shell";

/** The answer of the worker, or null where the request is none of its business. */
export function route(request: Request): Promise<Response> | null {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return null;
  if (!url.pathname.startsWith(SHELL)) return null;
  if (request.mode === "navigate") {
    const name = url.pathname.slice(SHELL.length);
    return name.includes(".") ? null : keptOrFetched(SHELL, request);
  }
  if (known(url.pathname) || url.pathname.startsWith(`${SHELL}assets/`)) {
    return keptOrFetched(url.pathname, request);
  }
  return null;
}

async function keptOrFetched(path: string, request: Request): Promise<Response> {
  return (await kept(path)) ?? (await fetch(request));
}
