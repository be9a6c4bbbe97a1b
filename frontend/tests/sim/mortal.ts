/**
 * A kill at any moment. Every step of a phone to the outside (a database request, the network, a
 * lock) costs its life one breath; with none left the running transaction is lost and so is every
 * later step, as for a process that is no more. Opening the phone again on the same databases is a
 * new life; many phones live side by side in one process, each its own.
 */
import { unwrap } from "idb";
import type { Store } from "../../src/store";
import type { Ports } from "../../src/sync/exchange";

export class Killed extends Error {}

export class Life {
  private readonly end = new AbortController();

  constructor(private breaths = Infinity) {}

  /** From now on so many steps are left. */
  endAfter(breaths: number): void {
    this.breaths = breaths;
  }

  get dead(): boolean {
    return this.end.signal.aborted;
  }

  /** Ends whatever of this life is still under way outside, as a request to the server. */
  get signal(): AbortSignal {
    return this.end.signal;
  }

  breathe(): void {
    if (!this.dead && --this.breaths <= 0) this.end.abort(new Killed());
    if (this.dead) throw new Killed();
  }

  /** From now on every request to these databases is a step of this life. */
  owns({ outbox, replica, local }: Store): void {
    install();
    for (const db of [outbox, replica, local]) owners.set(unwrap(db as never), this);
  }
}

export interface MortalPorts extends Ports {
  life: Life;
}

export const lifeOf = (ports: Ports): Life | null => (ports as Partial<MortalPorts>).life ?? null;

/** The ports of a phone that can die. */
export function mortal(ports: Ports, life: Life): MortalPorts {
  return {
    ...ports,
    life,
    clock: {
      now: () => ports.clock.now(),
      after: (ms, then) =>
        life.dead ? () => {} : ports.clock.after(ms, () => life.dead || then()),
    },
    net: {
      online: () => ports.net.online(),
      async ask(ask) {
        life.breathe();
        const reply = await ports.net.ask(ask);
        life.breathe();
        return reply;
      },
    },
    locks: {
      async hold(name, work) {
        life.breathe();
        return await ports.locks.hold(name, work);
      },
    },
  };
}

type Methods = Record<string, (...args: unknown[]) => unknown>;
type InTransaction = { transaction: IDBTransaction };

const owners = new WeakMap<object, Life>();
let installed = false;

/** Makes every request of the in-memory IndexedDB a step of the life that owns the database. */
function install(): void {
  if (installed) return;
  installed = true;
  const requests = ["put", "add", "delete", "get", "getKey", "getAll", "getAllKeys", "clear"];
  patch(
    IDBObjectStore.prototype as unknown as Methods,
    [...requests, "openCursor"],
    (store) => (store as unknown as InTransaction).transaction,
  );
  patch(
    IDBIndex.prototype as unknown as Methods,
    ["getAll", "getAllKeys", "openCursor"],
    (index) => (index.objectStore as InTransaction).transaction,
  );
}

function patch(
  methods: Methods,
  names: string[],
  transaction: (self: Record<string, unknown>) => IDBTransaction,
): void {
  for (const name of names) {
    const real = methods[name]!;
    methods[name] = function (this: Record<string, unknown>, ...args: unknown[]) {
      const running = transaction(this);
      try {
        owners.get(running.db)?.breathe();
      } catch (killed) {
        try {
          running.abort();
        } catch {
          // It had ended already: then it has committed, as it would have.
        }
        throw killed;
      }
      return real.apply(this, args);
    };
  }
}
