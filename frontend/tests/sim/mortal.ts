/**
 * A kill at any moment. Every step of a phone to the outside (a database request, the network, a
 * lock) costs one breath; with none left the running transaction is lost and so is every later
 * step, as for a process that is no more. Opening the phone again on the same databases is a new
 * life.
 */
import type { Ports } from "../../src/sync/exchange";

export class Killed extends Error {}

let breaths = Infinity;
let installed = false;

/** From now on so many steps are left. */
export function live(steps: number): void {
  install();
  breaths = steps;
}

export const dead = (): boolean => breaths <= 0;

function breathe(): void {
  breaths--;
  if (dead()) throw new Killed();
}

/** The ports of a phone that can die. */
export function mortal(ports: Ports): Ports {
  return {
    ...ports,
    clock: {
      now: () => ports.clock.now(),
      after: (ms, then) => (dead() ? () => {} : ports.clock.after(ms, () => dead() || then())),
    },
    net: {
      online: () => ports.net.online(),
      async ask(ask) {
        breathe();
        const reply = await ports.net.ask(ask);
        breathe();
        return reply;
      },
    },
    locks: {
      async hold(name, work) {
        breathe();
        return await ports.locks.hold(name, work);
      },
    },
  };
}

type Methods = Record<string, (...args: unknown[]) => unknown>;

/** Makes every request of the in-memory IndexedDB cost a breath. */
function install(): void {
  if (installed) return;
  installed = true;
  const requests = ["put", "add", "delete", "get", "getKey", "getAll", "getAllKeys", "clear"];
  patch(IDBObjectStore.prototype as unknown as Methods, requests, (store) => store.transaction);
  patch(
    IDBIndex.prototype as unknown as Methods,
    ["getAll", "getAllKeys", "openCursor"],
    (index) => (index.objectStore as { transaction: unknown }).transaction,
  );
}

function patch(
  methods: Methods,
  names: string[],
  transaction: (self: Record<string, unknown>) => unknown,
): void {
  for (const name of names) {
    const real = methods[name]!;
    methods[name] = function (this: Record<string, unknown>, ...args: unknown[]) {
      try {
        breathe();
      } catch (killed) {
        try {
          (transaction(this) as IDBTransaction).abort();
        } catch {
          // It had ended already: then it has committed, as it would have.
        }
        throw killed;
      }
      return real.apply(this, args);
    };
  }
}
