/**
 * What is kept for use without signal: the files of one build, all or nothing, each by its digest.
 * A build's files stay as long as a tab of that build lives.
 */
import { WHICH_SCRIPT } from "../sync/news";

declare const self: ServiceWorkerGlobalScope;
declare const __FILES__: [string, string][];
declare const __BUILD__: string;

export const SHELL = "/app/";
const PREFIX = "yardloop-app-";
export const CACHE = PREFIX + __BUILD__;
const REVISIONS = new Map(__FILES__);

export const known = (path: string): boolean => REVISIONS.has(path);
const keyOf = (path: string, revision: string): string => `${path}?rev=${revision}`;

/** Fetches every file, taking over unchanged ones from the build before. */
export async function keepAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  await Promise.all(
    __FILES__.map(async ([path, revision]) => {
      const key = keyOf(path, revision);
      const before = await caches.match(key);
      const response = before ?? (await fetch(new Request(path, { cache: "reload" })));
      if (!response.ok || response.redirected) throw new Error(`${path}: ${response.status}`);
      await cache.put(key, response);
    }),
  );
}

/** A kept file: of this build, or, for a tab that still runs another one, of that. */
export async function kept(path: string): Promise<Response | undefined> {
  const revision = REVISIONS.get(path);
  if (revision !== undefined) {
    const own = await (await caches.open(CACHE)).match(keyOf(path, revision));
    if (own !== undefined) return own;
  }
  for (const name of await others()) {
    const old = await (await caches.open(name)).match(path, { ignoreSearch: true });
    if (old !== undefined) return old;
  }
  return undefined;
}

export const others = async (): Promise<string[]> =>
  (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);

/** A build that is newer than this one is being fetched or waits: its files are not old ones. */
const newerComes = (): boolean =>
  self.registration.installing !== null || self.registration.waiting !== null;

/** Drops builds that no living tab runs. A tab that does not answer may run any of them. */
export async function dropUnused(): Promise<void> {
  if (newerComes()) return;
  const old = await others();
  if (old.length === 0) return;
  const tabs = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  const scripts = await Promise.all(tabs.map(scriptOf));
  if (scripts.some((script) => script === null || !known(script)) || newerComes()) return;
  await Promise.all(old.map((name) => caches.delete(name)));
}

function scriptOf(tab: Client): Promise<string | null> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    const timer = setTimeout(() => resolve(null), 2_000);
    port1.onmessage = ({ data }) => {
      clearTimeout(timer);
      resolve(typeof data === "string" ? data : null);
    };
    tab.postMessage(WHICH_SCRIPT, [port2]);
  });
}
