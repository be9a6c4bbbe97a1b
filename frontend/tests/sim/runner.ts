/**
 * Plays schedules on the shipped engine on Node: a schedule on stdin, its outcome on stdout, as JSON
 * lines. Many phones live in this one process, each with its databases, its clock and its line.
 *
 *   node tests/sim/dist/runner.mjs        (after `npm run sim:build`)
 *
 *   in   {"play": {"nonce", "upstreams", "names", "seats", "jpeg", "steps", "plantKey"}}
 *   out  {"world": n, "what": …}     the steps have come to a thing that happens to the server
 *   in   {"done": n}                 it has happened, and the server is there again
 *   out  {"over": {…}}               every phone's state, and a fresh phone's view of each scope
 *   out  {"broke": "…"}              the runner itself could not go on
 */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { createInterface } from "node:readline";
import { Killed } from "./mortal";
import { type Play, play } from "./play";

const arrived = new Map<number, () => void>();
const say = (message: object) => process.stdout.write(`${JSON.stringify(message)}\n`);

/** Asks for something to happen to the server; resolves when it has. */
function world(at: number, what: object): Promise<void> {
  say({ world: at, what });
  return new Promise((resolve) => arrived.set(at, resolve));
}

// What a dead phone was still waiting for fails without anybody there to hear of it.
process.on("unhandledRejection", (fault) => {
  const name = (fault as Error | null)?.name ?? "";
  if (fault instanceof Killed || name === "AbortError" || name === "InvalidStateError") return;
  throw fault;
});

for await (const line of createInterface({ input: process.stdin })) {
  const message = JSON.parse(line) as { play?: Play; done?: number };
  if (message.done !== undefined) {
    arrived.get(message.done)?.();
    arrived.delete(message.done);
  }
  if (message.play === undefined) continue;
  globalThis.indexedDB = new IDBFactory();
  play(message.play, world).then(
    (over) => say({ over }),
    (fault) => say({ broke: String((fault as Error)?.stack ?? fault) }),
  );
}
process.exit(0);
