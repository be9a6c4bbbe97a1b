/**
 * What the server has answered for, kept 30 days: after a restore it is to be told again.
 */
import type { OutboxDb } from "./outbox.schema";
import { STRICT } from "./outbox.schema";

export const KEEP_MS = 30 * 24 * 3600 * 1000;

/**
 * Puts what was answered under another epoch than this one (null: everything) back into the
 * outbox, unchanged, in one transaction; says how many. From there it goes like anything that
 * waits; the server knows the ids and answers the same as before.
 */
export async function putBack(db: OutboxDb, epoch: string | null): Promise<number> {
  const tx = db.transaction(["entries", "sent"], "readwrite", STRICT);
  const sent = tx.objectStore("sent");
  const again = (await sent.getAll()).filter((one) => one.epoch !== epoch);
  for (const { id, body, sequence, entered_at } of again) {
    void tx.objectStore("entries").put({ id, body, sequence, entered_at });
    void sent.delete(id);
  }
  await tx.done;
  return again.length;
}

/** Forgets what was answered more than 30 days ago. Entries without an answer are never touched. */
export async function prune(db: OutboxDb, now: number): Promise<void> {
  const tx = db.transaction("sent", "readwrite", STRICT);
  const old = IDBKeyRange.upperBound(now - KEEP_MS, true);
  for (const key of await tx.store.index("answered_at").getAllKeys(old)) void tx.store.delete(key);
  await tx.done;
}

/** Forgets these, though they are not 30 days old: the device has no room. */
export async function forgetSent(db: OutboxDb, ids: string[]): Promise<void> {
  if (ids.length === 0) return;
  const tx = db.transaction("sent", "readwrite", STRICT);
  for (const id of ids) void tx.store.delete(id);
  await tx.done;
}
