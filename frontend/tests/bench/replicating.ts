/**
 * The shipped engine on a page of the bench: operations into the outbox, then the push of all of
 * them and the pull of all rows, each timed by itself. `bench.docs` gives the same content as the
 * documents of the peer.
 */
import { pickUp } from "../../src/domain/operation";
import { systemClock } from "../../src/ports/clock";
import { systemIds } from "../../src/ports/ids";
import { webLocks } from "../../src/ports/locks";
import { fetchNet, type Net } from "../../src/ports/net";
import { openStore } from "../../src/store";
import { told } from "../../src/store/outbox";
import { present } from "../../src/store/replica";
import { enrol } from "../../src/sync/enrol";
import { enterOperation } from "../../src/sync/entering";
import type { Deps } from "../../src/sync/exchange";
import { LOCK } from "../../src/sync/news";
import { pull } from "../../src/sync/pull";
import { push } from "../../src/sync/push";

const nothing = () => {};
const ids = systemIds(systemClock);
/** Milliseconds that this page has waited for the server. */
let waited = 0;

/** The page's way to the server, with a stopwatch. */
function watched(net: Net): Net {
  return {
    online: net.online,
    async ask(ask) {
      const began = performance.now();
      try {
        return await net.ask(ask);
      } finally {
        waited += performance.now() - began;
      }
    },
  };
}

async function open(prefix: string): Promise<Deps> {
  const storage = { prefix, persist: async () => true };
  const net = watched(fetchNet());
  return { clock: systemClock, ids, net, locks: webLocks, storage, store: await openStore(prefix) };
}

/** Milliseconds of work under the device's lock, as in a run of the engine; and of waiting in it. */
async function timed(deps: Deps, work: () => Promise<unknown>) {
  waited = 0;
  const began = performance.now();
  await deps.locks.hold(LOCK, work);
  return { ms: performance.now() - began, waited };
}

const casing = (label: string, pickup: string, yard: string) =>
  pickUp({
    pickup,
    yard,
    label,
    tins: [{ tin: "DOT 4B08 4DHR 2910", made: "new" }],
    size: "295/75R22.5",
    treads_32nds: [[6, 7, 6, 5]],
  });

const bench = {
  /** Enrols a phone and enters the casings; the seconds of entering are for interest only. */
  async fill(prefix: string, code: string, by: string, yard: string, labels: string[]) {
    const deps = await open(prefix);
    await enrol(deps, code, prefix);
    const pickup = ids.next();
    const began = performance.now();
    for (const label of labels) {
      const telling = casing(label, pickup, yard);
      await enterOperation(deps, { id: ids.next(), telling, by, photos: [] });
    }
    return performance.now() - began;
  },
  /** Sends all that waits; how long, and what is left or refused. */
  async push(prefix: string) {
    const deps = await open(prefix);
    const took = await timed(deps, () => push(deps, new Set(), nothing));
    const { entries, sent, refusals } = await told(deps.store.outbox);
    const accepted = sent.filter((one) => one.outcome === "accepted").length;
    return { ...took, left: entries.length, accepted, refused: refusals.length };
  },
  /** A phone that has nothing yet fetches everything. */
  async pull(prefix: string, code: string) {
    const deps = await open(prefix);
    await enrol(deps, code, prefix);
    const took = await timed(deps, () => pull(deps, nothing));
    const rows = await present(deps.store.replica);
    const orders = rows.filter((row) => row.entity === "work_order").length;
    return { ...took, rows: rows.length, orders };
  },
  /** What a phone has sent, each operation a document under its own id. */
  async docs(prefix: string) {
    const { sent } = await told((await open(prefix)).store.outbox);
    return sent.map(({ body }) => {
      const { id, ...rest } = JSON.parse(body);
      return { _id: id, ...rest };
    });
  },
};

export type Bench = typeof bench;
Object.assign(window, { bench });
