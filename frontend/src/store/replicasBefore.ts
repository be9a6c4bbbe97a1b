/**
 * Replicas of other builds on this device. One that the first builds made is written over into this
 * build's form, with its cursor: whoever takes a new build where there is no signal has the day's
 * rows. Any other is let lie until this build has a whole pull of its own, and is deleted then.
 */
import { deleteDB, openDB } from "idb";

/** What an older replica held: its rows, and how far it had seen. */
export interface Before<Row> {
  rows: Row[];
  meta: { key: string; value: string }[];
}

const MARKS = new Set(["cursor", "epoch", "seen"]);

async function others(family: string, own: string): Promise<string[]> {
  const all = (await indexedDB.databases?.()) ?? [];
  return all.flatMap(({ name }) => (name?.startsWith(family) && name !== own ? [name] : []));
}

/** Null where no build before this one left rows here that this one can read. */
export async function before<Row>(family: string, own: string): Promise<Before<Row> | null> {
  const first = `${family}1`;
  if (!(await others(family, own)).includes(first)) return null;
  const db = await openDB(first);
  try {
    if (!db.objectStoreNames.contains("rows") || !db.objectStoreNames.contains("meta")) return null;
    const tx = db.transaction(["rows", "meta"]);
    const [rows, meta] = await Promise.all([
      tx.objectStore("rows").getAll(),
      tx.objectStore("meta").getAll(),
    ]);
    return { rows, meta: meta.filter(({ key }) => MARKS.has(key)) };
  } finally {
    db.close();
  }
}

/** Nothing waits for it: one that is open in another window goes when that is shut. */
export async function dropOthers(family: string, own: string): Promise<void> {
  for (const other of await others(family, own)) void deleteDB(other);
}
