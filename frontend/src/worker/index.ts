/**
 * The service worker: events only. What is kept says shell, how requests are answered says routes.
 *
 * A new build waits until a person agrees, and does not take over while a sheet is half filled in
 * any tab. Where the browser has Background Sync, it sends what waits with no page open, with the
 * same engine and under the same lock as a page.
 */
import { inUse } from "../domain/inUse";
import { systemClock } from "../ports/clock";
import { systemIds } from "../ports/ids";
import { webLocks } from "../ports/locks";
import { fetchNet } from "../ports/net";
import { deviceStorage } from "../ports/storage";
import { openStore } from "../store";
import { drafts, openLocal } from "../store/local";
import { unsent } from "../store/outbox";
import { makeEngine } from "../sync/engine";
import { CHANGED, CHANNEL, HERE, SYNC_TAG, TAKE_OVER } from "../sync/news";
import { route } from "./routes";
import { dropUnused, keepAll, others } from "./shell";

declare const self: ServiceWorkerGlobalScope;

interface SyncEvent extends ExtendableEvent {
  tag: string;
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));

self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("fetch", (event) => {
  const answer = route(event.request);
  if (answer !== null) event.respondWith(answer);
});

self.addEventListener("message", (event) => {
  if (event.data === TAKE_OVER) event.waitUntil(takeOver());
  if (event.data === HERE) event.waitUntil(dropUnused());
});

(self as EventTarget).addEventListener("sync", (event) => {
  if ((event as SyncEvent).tag === SYNC_TAG) (event as SyncEvent).waitUntil(send());
});

/** The first build serves the page that brought it; a later one was agreed to already. */
async function activate(): Promise<void> {
  if ((await others()).length === 0) await self.clients.claim();
}

async function takeOver(): Promise<void> {
  const local = await openLocal(deviceStorage.prefix);
  const open = await drafts(local);
  local.close();
  if (!inUse(open, systemClock.now())) await self.skipWaiting();
}

async function send(): Promise<void> {
  const store = await openStore(deviceStorage.prefix);
  const news = new BroadcastChannel(CHANNEL);
  const ports = { clock: systemClock, ids: systemIds(systemClock), net: fetchNet() };
  const engine = makeEngine({ ...ports, locks: webLocks, storage: deviceStorage, store }, () =>
    news.postMessage(CHANGED),
  );
  try {
    await engine.sync();
    // The browser wakes us again as long as we say that we are not through.
    if ((await unsent(store.outbox, 1)).length > 0) throw new Error("something still waits");
  } finally {
    engine.stop();
    store.close();
    news.close();
  }
}
