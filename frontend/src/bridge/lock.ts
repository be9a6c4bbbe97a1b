/**
 * Locked or not, and what each of it follows from: a PIN, a key, a while without a touch. Each page
 * holds what opens it in its own memory; one that is locked by hand locks the others too.
 */
import { handedOn } from "../domain/left";
import { MOST_WRONG } from "../domain/pin";
import { amend, type Settings, set, setting } from "../store/local";
import type { Deps } from "../sync/exchange";
import type { Opened } from "../sync/opened";
import { readToken, setPin, type Tried, tryPin, waitMs, wipeAfterTen } from "../sync/pins";

export interface Lock {
  /** Gives a person a PIN; where nobody opened this page yet, the person does now. */
  set(person: string, pin: string): Promise<"set" | "taken" | "lost">;
  unlock(pin: string): Promise<Tried>;
  /** Whether it is the PIN of who holds this page; tried, counted and waited for as in unlocking. */
  isTheirs(pin: string): Promise<boolean>;
  /** How long it is too early for the next try, in milliseconds. */
  waitMs(): Promise<number>;
  /** Locks all pages of this device. */
  close(): void;
  idleAfter(minutes: Settings["idle_minutes"]): Promise<void>;
}

/** Locked from outside: by another page, or since nobody touched this one. */
export interface Latch {
  lock: Lock;
  shut(): void;
}

export function makeLock(
  deps: Deps & { opened: Opened },
  tell: () => void,
  changed: () => Promise<void>,
  poke: () => void,
  open: () => string[],
): Latch {
  const { opened } = deps;
  const { local } = deps.store;

  function shut(): void {
    if (opened.token === null) return;
    opened.token = null;
    void changed();
  }

  async function hold(person: string, token: string): Promise<void> {
    const before = await setting(local, "person");
    if (before !== null && before !== person)
      await amend(local, "left", (left) => handedOn(left ?? {}, open(), before));
    await set(local, "person", person);
    opened.person = person;
    opened.token = token;
    await changed();
    poke();
  }

  async function tried(pin: string): Promise<Tried> {
    const came = await tryPin(deps, pin);
    if ("wrong" in came && came.wrong >= MOST_WRONG) {
      tell();
      await wipeAfterTen(deps);
      opened.token = null;
    }
    return came;
  }

  const lock: Lock = {
    async set(person, pin) {
      const token = await readToken(deps);
      const done = await setPin(deps, person, pin);
      if (done === "set" && opened.token === null && token !== null) await hold(person, token);
      else await changed();
      return done;
    },
    async unlock(pin) {
      const came = await tried(pin);
      if ("opened" in came) await hold(came.opened.person, came.opened.token);
      else await changed();
      return came;
    },
    async isTheirs(pin) {
      const came = await tried(pin);
      await changed();
      return "opened" in came && came.opened.person === opened.person;
    },
    waitMs: () => waitMs(deps),
    close() {
      shut();
      tell();
    },
    async idleAfter(minutes) {
      await set(local, "idle_minutes", minutes);
      await changed();
    },
  };
  return { lock, shut };
}
