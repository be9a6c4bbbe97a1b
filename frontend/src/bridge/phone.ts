/**
 * The page's side of the phone: one engine, one snapshot that follows every change, the ways to
 * enter something. Nothing here waits for the network but enrolling.
 */
import { type Signal, signal } from "@preact/signals";
import type { Telling } from "../domain/operation";
import type { Camera } from "../ports/camera";
import { systemClock } from "../ports/clock";
import { systemIds } from "../ports/ids";
import { webLocks } from "../ports/locks";
import { fetchNet } from "../ports/net";
import { deviceStorage } from "../ports/storage";
import { openStore } from "../store";
import { dropLeftovers } from "../store/leftovers";
import { tryAgain } from "../store/outbox";
import type { Photo } from "../store/outbox.schema";
import { makeEngine, type Reach } from "../sync/engine";
import { enrol } from "../sync/enrol";
import { enterOperation } from "../sync/entering";
import type { Deps } from "../sync/exchange";
import { CHANGED, CHANNEL } from "../sync/news";
import { canvasCamera } from "./camera";
import { type Snapshot, snapshot } from "./snapshot";
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
  const deps: Deps = { ...ports, storage: deviceStorage, store };
  const now = signal(await snapshot(store));
  const reach = signal<Reach>("idle");
  const sending = signal(false);
  const news = new BroadcastChannel(CHANNEL);

  const refresh = coalesced(async () => {
    now.value = await snapshot(store);
  });
  const engine = makeEngine(deps, () => {
    reach.value = engine.reach();
    sending.value = engine.running();
    void refresh();
    news.postMessage(CHANGED);
  });
  news.onmessage = () => void refresh();

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
    changed,
    async enter({ id, telling, photos = [], kept }) {
      const by = now.value.person;
      if (by === null) throw new Error("nobody holds this phone");
      await enterOperation(deps, { id, telling, by, photos });
      kept?.();
      await changed();
      engine.poke();
      void askForBackgroundSync();
    },
    async enrol(code, name) {
      await enrol(deps, code, name);
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
  return phone;
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
