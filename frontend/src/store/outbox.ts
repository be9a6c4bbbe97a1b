/**
 * The outbox: what was entered on this phone and what the server said to it.
 *
 * An operation, its sequence, its stamp and its photos are written in one strict transaction and
 * count as entered only when it has committed. An entry leaves only on an answer for its id: never
 * by age, never on an upgrade, never before sending. Repeating any call here is harmless.
 */
import { type IDBPTransaction, unwrap } from "idb";
import { nextStamp } from "../domain/operation";
import type { Entry, OutboxDb, Photo, Refusal, Sent } from "./outbox.schema";
import { STRICT } from "./outbox.schema";

/** What makes the body once its place in the order is known; must not wait for anything. */
export type Write = (place: { incarnation: string; sequence: number; stamp: number }) => string;

export interface Entering {
  id: string;
  photos: Photo[];
  clockMs: number;
  newIncarnation: string;
  write: Write;
}

/** What an answer says of one operation, as the store keeps it. */
export interface Verdict {
  id: string;
  outcome: "accepted" | "contested" | "held" | "refused";
  code: string | null;
  position: string | null;
  field: string | null;
  value: string | null;
  allowed: string | null;
}

// biome-ignore lint/suspicious/noExplicitAny: the store names differ from call to call
type Tx = IDBPTransaction<any, any, "readwrite">;

async function number(tx: Tx, key: string): Promise<number> {
  return ((await tx.objectStore("meta").get(key))?.value as number | undefined) ?? 0;
}

/** Enters one operation; entered already under this id, it changes nothing. */
export async function enter(db: OutboxDb, e: Entering): Promise<"entered" | "was_there"> {
  const tx = db.transaction(["entries", "sent", "photos", "meta"], "readwrite", STRICT);
  const meta = tx.objectStore("meta");
  const there =
    (await tx.objectStore("entries").getKey(e.id)) ?? (await tx.objectStore("sent").getKey(e.id));
  if (there !== undefined) {
    await tx.done;
    return "was_there";
  }
  const incarnation = ((await meta.get("incarnation"))?.value as string) ?? e.newIncarnation;
  const sequence = (await number(tx, "sequence")) + 1;
  const stamp = nextStamp(await number(tx, "stamp"), e.clockMs, await number(tx, "offset"));
  const body = e.write({ incarnation, sequence, stamp });
  void meta.put({ key: "incarnation", value: incarnation });
  void meta.put({ key: "sequence", value: sequence });
  void meta.put({ key: "stamp", value: stamp });
  for (const photo of e.photos) void tx.objectStore("photos").put(photo);
  void tx.objectStore("entries").add({ id: e.id, body, sequence, entered_at: e.clockMs });
  await tx.done;
  return "entered";
}

/**
 * The first entries to send, in their order, at most so many, behind the one of the sequence
 * `after`; those that were refused wait for the driver, those in `apart` for another turn. A phone
 * that was away for days holds thousands.
 */
export async function unsent(
  db: OutboxDb,
  most: number,
  apart: ReadonlySet<string> = new Set(),
  after = 0,
): Promise<Entry[]> {
  const tx = db.transaction(["entries", "refusals"]);
  const refused = await tx.objectStore("refusals").getAllKeys();
  const passed = new Set([...refused, ...apart]);
  // Of so many more at least `most` are none that is passed by.
  const first = await tx
    .objectStore("entries")
    .index("sequence")
    .getAll(IDBKeyRange.lowerBound(after, true), most + passed.size);
  return first.filter((entry) => !passed.has(entry.id)).slice(0, most);
}

/**
 * Settles what the server has answered for, of the entries that were sent; both lists in one
 * transaction with the marks. Entries never change, so they need not be read again.
 */
export async function settle(
  db: OutboxDb,
  batch: readonly Entry[],
  verdicts: readonly Verdict[],
  at: number,
  epoch: string,
): Promise<void> {
  const tx = db.transaction(["entries", "sent", "refusals"], "readwrite", STRICT);
  const refusals = tx.objectStore("refusals");
  const refused = new Set(await refusals.getAllKeys());
  const entries = new Map(batch.map((entry) => [entry.id, entry]));
  const ended: string[] = [];
  // Bare, since a promise for each of 500 rows costs more than writing it.
  const sent = unwrap(tx.objectStore("sent"));
  for (const v of verdicts) {
    const entry = entries.get(v.id);
    if (entry === undefined) continue;
    const { code, field, value, allowed } = v;
    if (v.outcome === "refused") {
      void refusals.put({ id: v.id, at, code: code ?? "refused", field, value, allowed });
      continue;
    }
    const { id, body, sequence, entered_at } = entry;
    const { outcome, position } = v;
    sent.put({ id, body, sequence, entered_at, answered_at: at, outcome, code, position, epoch });
    ended.push(id);
    if (refused.has(v.id)) void refusals.delete(v.id);
  }
  await drop(tx, ended.sort());
  await tx.done;
}

/** Takes these entries out: in one go where nothing else lies between the first and the last. */
async function drop(tx: Tx, ids: string[]): Promise<void> {
  if (ids.length === 0) return;
  const entries = tx.objectStore("entries");
  const range = IDBKeyRange.bound(ids[0], ids.at(-1));
  const between = await entries.getAllKeys(range);
  if (between.length === ids.length && between.every((id, i) => id === ids[i]))
    void entries.delete(range);
  else for (const id of ids) void entries.delete(id);
}

/** Marks one thing as needing the driver without a word from the push (a photo, a lone 413). */
export async function refuse(db: OutboxDb, refusal: Refusal): Promise<void> {
  await writing(db, "refusals", (store) => store.put(refusal));
}

/** The driver wants it tried once more. */
export async function tryAgain(db: OutboxDb, id: string): Promise<void> {
  await writing(db, "refusals", (store) => store.delete(id));
}

/** The photos still to be sent, by hash; refused ones wait for the driver. */
export async function unsentPhotos(db: OutboxDb): Promise<string[]> {
  const tx = db.transaction(["photos", "refusals"]);
  const refused = new Set(await tx.objectStore("refusals").getAllKeys());
  return (await tx.objectStore("photos").getAllKeys()).filter((sha) => !refused.has(sha));
}

/** The server asks for these photos: those that are still here go again, refused before or not. */
export async function askedFor(db: OutboxDb, hashes: string[]): Promise<void> {
  const tx = db.transaction(["photos", "refusals"], "readwrite", STRICT);
  const here = new Set(await tx.objectStore("photos").getAllKeys());
  for (const sha256 of hashes) {
    if (here.has(sha256)) void tx.objectStore("refusals").delete(sha256);
  }
  await tx.done;
}

export async function photo(db: OutboxDb, sha256: string): Promise<Blob | null> {
  return (await db.get("photos", sha256))?.blob ?? null;
}

/** The server said "here" for this hash: only then the phone may drop it. */
export async function dropPhoto(db: OutboxDb, sha256: string): Promise<void> {
  await writing(db, "photos", (store) => store.delete(sha256));
}

async function writing(
  db: OutboxDb,
  name: "refusals" | "photos",
  // biome-ignore lint/suspicious/noExplicitAny: one of two stores
  work: (store: any) => Promise<unknown>,
): Promise<void> {
  const tx = db.transaction(name, "readwrite", STRICT);
  void work(tx.objectStore(name));
  await tx.done;
}

/** All that this phone has told and not yet forgotten, with what became of it. */
export interface Told {
  entries: Entry[];
  sent: Sent[];
  refusals: Refusal[];
  photos: string[];
}

export async function told(db: OutboxDb): Promise<Told> {
  const tx = db.transaction(["entries", "sent", "refusals", "photos"]);
  const [entries, sent, refusals, photos] = await Promise.all([
    tx.objectStore("entries").index("sequence").getAll(),
    tx.objectStore("sent").index("sequence").getAll(),
    tx.objectStore("refusals").getAll(),
    tx.objectStore("photos").getAllKeys(),
  ]);
  return { entries, sent, refusals, photos };
}

/** Whether an operation of this id was ever entered here, as far as this phone remembers. */
export async function wasEntered(db: OutboxDb, id: string): Promise<boolean> {
  return (
    (await db.getKey("entries", id)) !== undefined || (await db.getKey("sent", id)) !== undefined
  );
}
