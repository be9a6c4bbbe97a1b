/**
 * The engine: push, photos, pull, one run at a time on this device (one Web Lock for all tabs and
 * the worker). Who pokes it never waits for the network. After a failure it tries again by itself,
 * ever more rarely, and at once when poked by a person or by the signal coming back. A page that
 * is locked, and a worker, only send: they hold nothing to fetch with, and that is no trouble.
 */
import { set, setting } from "../store/local";
import { hasAny, wipe } from "../store/replica";
import { prune } from "../store/sent";
import { quietMs, waitMs } from "./backoff";
import { type Deps, isShut, NoAnswer, type Trouble } from "./exchange";
import { LOCK } from "./news";
import { sendPhotos } from "./photos";
import { pull } from "./pull";
import { dropStrangers, readToken } from "./pins";
import { type Behind, push } from "./push";
import { withCookie } from "./renew";
import { stand } from "./standing";

/** How the last run went: `idle` before any, `reached` when all was said and heard. */
export type Reach = "idle" | "reached" | Trouble;

export interface Engine {
  /** Run now, or once more when the present run ends. */
  poke(): void;
  /** As poke; resolves when a run that began after the call has ended. */
  sync(): Promise<Reach>;
  reach(): Reach;
  running(): boolean;
  stop(): void;
}

/** `changed` hears of every step; `report` of a fault of our own, which must not stop the phone. */
export function makeEngine(
  deps: Deps,
  changed: () => void,
  report: (fault: unknown) => void = console.error,
): Engine {
  const behind: Behind = new Set();
  let reach: Reach = "idle";
  let failures = 0;
  let present: Promise<void> | null = null;
  let next: Promise<void> | null = null;
  let cancel: () => void = () => {};
  let stopped = false;

  async function once(): Promise<void> {
    cancel();
    let retryAfterS: number | null = null;
    try {
      reach = await deps.locks.hold(LOCK, () => noted(deps, () => run(deps, behind, changed)));
    } catch (no) {
      if (stopped) return;
      // A fault of our own (a full disk) is met like a server that is away: keep all, try again.
      reach = no instanceof NoAnswer ? no.trouble : "server_away";
      retryAfterS = no instanceof NoAnswer ? no.retryAfterS : null;
      if (!(no instanceof NoAnswer)) report(no);
    }
    if (stopped) return;
    failures = reach === "reached" ? 0 : failures + 1;
    const chance = deps.ids.chance();
    const wait =
      failures === 0
        ? quietMs(chance, reach === "idle" || (await hasAny(deps.store.replica, "person")))
        : waitMs(failures, chance, retryAfterS);
    if (stopped) return;
    cancel = deps.clock.after(wait, () => void sync());
    changed();
  }

  function sync(): Promise<Reach> {
    if (stopped) return Promise.resolve(reach);
    if (present === null) {
      present = once().finally(() => {
        present = null;
        changed();
      });
      changed();
      return present.then(() => reach);
    }
    next ??= present.then(async () => {
      next = null;
      await sync();
    });
    return next.then(() => reach);
  }

  return {
    poke: () => void sync(),
    sync,
    reach: () => reach,
    running: () => present !== null,
    stop() {
      stopped = true;
      cancel();
    },
  };
}

/**
 * Keeps on the phone whether the office lets it in: that is still so without signal and after a
 * restart. Under the lock, so that a phone enrolled meanwhile is not shut again by an old answer.
 * Only who fetched has heard that it may.
 */
async function noted(deps: Deps, work: () => Promise<Run>): Promise<Reach> {
  const { local, replica } = deps.store;
  try {
    const { reach, fetched } = await work();
    if (fetched && (await setting(local, "shut")) !== null) await set(local, "shut", null);
    return reach;
  } catch (no) {
    if (no instanceof NoAnswer && isShut(no.trouble)) {
      // A cookie that a killed browser has lost is renewed as soon as somebody unlocks.
      if (no.trouble === "device_unknown" && (await mayRenew(deps))) throw no;
      if (no.trouble !== "device_unknown") await wipe(replica);
      await set(local, "shut", no.trouble);
    }
    throw no;
  }
}

interface Run {
  reach: Reach;
  /** The server was asked for news and gave them. */
  fetched: boolean;
}

const mayRenew = async (deps: Deps): Promise<boolean> =>
  (await readToken(deps)) === null && (await setting(deps.store.local, "pins")) !== null;

/** One run. Nobody is asked before the phone is enrolled. */
async function run(deps: Deps, behind: Behind, changed: () => void): Promise<Run> {
  if ((await setting(deps.store.local, "enrolment")) === null)
    return { reach: "idle", fetched: false };
  await prune(deps.store.outbox, deps.clock.now());
  // What fails in one part must not keep the others from their turn.
  const first = await attempt(() => withCookie(deps, () => push(deps, behind, changed)));
  if (first !== null && fatal(first)) throw first;
  const second = await attempt(() => withCookie(deps, () => sendPhotos(deps, changed)));
  if (second !== null && fatal(second)) throw second;
  const fetched = (await readToken(deps)) !== null;
  const anew = fetched ? await pullOrStand(deps, changed) : await stand(deps).then(() => false);
  if (anew) {
    // What is told again may name photos that the server has lost and this phone still has.
    await withCookie(deps, () => push(deps, behind, changed));
    await withCookie(deps, () => sendPhotos(deps, changed));
    await pull(deps, changed);
  }
  if (fetched) await dropStrangers(deps);
  if (first !== null || second !== null) throw first ?? second;
  return { reach: "reached", fetched };
}

/** One that is closing fetches nothing any more, and says what it still holds. */
async function pullOrStand(deps: Deps, changed: () => void): Promise<boolean> {
  try {
    return await pull(deps, changed);
  } catch (no) {
    if (no instanceof NoAnswer && no.trouble === "device_closing") await attempt(() => stand(deps));
    throw no;
  }
}

/** Where nobody answers at all, or this phone may not ask, the other parts need not try. */
const fatal = (no: NoAnswer): boolean => no.trouble !== "broken";

async function attempt(work: () => Promise<unknown>): Promise<NoAnswer | null> {
  try {
    await work();
    return null;
  } catch (no) {
    if (no instanceof NoAnswer) return no;
    throw no;
  }
}
