/**
 * The page's side of the phone: one engine, one snapshot that follows every change, the ways to
 * enter something. Nothing here waits for the network but enrolling.
 */
import { type Signal, signal } from "@preact/signals";
import type { Telling } from "../domain/operation";
import { type Warning, warned } from "../domain/warned";
import type { Camera } from "../ports/camera";
import { systemClock } from "../ports/clock";
import { systemIds } from "../ports/ids";
import { webLocks } from "../ports/locks";
import { fetchNet } from "../ports/net";
import { isKept } from "../ports/room";
import { deviceStorage } from "../ports/storage";
import { openStore } from "../store";
import { dropLeftovers } from "../store/leftovers";
import { setting, writeHeld } from "../store/local";
import { tryAgain } from "../store/outbox";
import type { Photo } from "../store/outbox.schema";
import { makeEngine, type Reach } from "../sync/engine";
import { enrol } from "../sync/enrol";
import type { Deps } from "../sync/exchange";
import { enterTight } from "../sync/tight";
import { CHANGED, CHANNEL, LOCKED } from "../sync/news";
import { wipeAfterTen } from "../sync/pins";
import { canvasCamera } from "./camera";
import { watchIdle } from "./idle";
import { type Lock, makeLock } from "./lock";
import { type Snapshot, openHere, snapshot } from "./snapshot";
import { askForBackgroundSync } from "./worker";

export interface Entering {
  id: string;
  telling: Telling;
  photos?: Photo[];
  kept?: () => void;
}

export interface Phone {
  deps: Deps;
  camera: Camera;
  now: Signal<Snapshot>;
  reach: Signal<Reach>;
  sending: Signal<boolean>;
  /** What is to be said of photos that found no room as they were, until somebody looked. */
  tight: Signal<Warning[]>;
  lock: Lock;
  /**
   * Resolves when it is on the disk; sending goes on by itself. `kept` is called when it is on the
   * disk and no screen shows it yet.
   */
  enter(told: Entering): Promise<void>;
  enrol(code: string, name: string): Promise<void>;
  again(id: string): Promise<void>;
  /** Something was changed that other tabs should see too. */
  changed(): Promise<void>;
}

export async function openPhone(): Promise<Phone> {
  const store = await openStore(deviceStorage.prefix);
  await dropLeftovers(store);
  const ids = systemIds(systemClock);
  const ports = { clock: systemClock, ids, net: fetchNet(), locks: webLocks };
  const opened = { token: null, person: null };
  const deps = { ...ports, storage: deviceStorage, store, opened };
  await wipeAfterTen(deps);
  const now = signal(await snapshot(store, opened));
  const reach = signal<Reach>("idle");
  const sending = signal(false);
  const tight = signal<Warning[]>([]);
  const news = new BroadcastChannel(CHANNEL);

  const refresh = coalesced(async () => {
    await writeHeld(store.local);
    now.value = await snapshot(store, opened);
  });
  const engine = makeEngine(deps, () => {
    reach.value = engine.reach();
    sending.value = engine.running();
    void refresh();
    news.postMessage(CHANGED);
  });
  const { lock, shut } = makeLock(
    deps,
    () => news.postMessage(LOCKED),
    changed,
    () => engine.poke(),
    () => openHere(now.value),
  );
  news.onmessage = ({ data }) => {
    if (data === LOCKED) shut();
    void refresh();
  };
  watchIdle(systemClock, () => now.value.idleMinutes, shut);

  async function changed(): Promise<void> {
    news.postMessage(CHANGED);
    await refresh();
  }

  const phone: Phone = {
    deps,
    camera: canvasCamera,
    now,
    reach,
    sending,
    tight,
    lock,
    changed,
    async enter({ id, telling, photos = [], kept }) {
      const by = now.value.person;
      if (by === null) throw new Error("nobody holds this phone");
      const came = await enterTight(deps, canvasCamera, { id, telling, by, photos });
      tight.value = warned(tight.value, came);
      kept?.();
      await changed();
      engine.poke();
      void askForBackgroundSync();
    },
    async enrol(code, name) {
      await enrol(deps, code, name);
      lock.close(); // another page has what the device was before
      await changed();
      engine.poke();
    },
    async again(id) {
      await tryAgain(store.outbox, id);
      await changed();
      engine.poke();
    },
  };
  addEventListener("online", () => engine.poke());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") engine.poke();
  });
  addEventListener("offline", () => void refresh());
  engine.poke();
  void askToBeKept(deps);
  return phone;
}

/** The browser may say no today and yes once the app is used daily: asked until it does. */
async function askToBeKept({ store, storage }: Deps): Promise<void> {
  const asked = (await setting(store.local, "enrolment")) !== null && (await isKept()) === false;
  if (asked) await storage.persist();
}

/** At most one run at a time and one to follow: many changes at once are one look. */
function coalesced(work: () => Promise<void>): () => Promise<void> {
  let present: Promise<void> | null = null;
  let next: Promise<void> | null = null;
  const start = (): Promise<void> => {
    present = work().finally(() => {
      present = null;
    });
    return present;
  };
  return () => {
    if (present === null) return start();
    next ??= present.then(() => {
      next = null;
      return start();
    });
    return next;
  };
}
