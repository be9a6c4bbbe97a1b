/**
 * What the server has told this phone: rows by [scope, entity, id], the greater version wins.
 *
 * Disposable: its name carries the number of its schema, another number is another database and
 * the old one is deleted. Nothing that a person entered lives only here.
 */
import { type DBSchema, deleteDB, type IDBPDatabase, openDB } from "idb";

const NAME = "yardloop-replica-";
const SCHEMA = 1;

export interface Row {
  scope: string;
  entity: string;
  id: string;
  version: number;
  gone: boolean;
  body: Record<string, unknown> | null;
}

export interface Page {
  epoch: string;
  cursor: string;
  horizon: string;
  more: boolean;
  rows: Row[];
  forget: string[];
}

interface ReplicaSchema extends DBSchema {
  rows: { key: [string, string, string]; value: Row; indexes: { scope: string } };
  meta: { key: string; value: { key: string; value: string } };
}

export type ReplicaDb = IDBPDatabase<ReplicaSchema>;

/** How far this phone has seen: `seen` is the last horizon with nothing more to come. */
export interface Marks {
  cursor: string | null;
  epoch: string | null;
  seen: string | null;
}

export async function openReplica(prefix: string): Promise<ReplicaDb> {
  const name = `${prefix}${NAME}${SCHEMA}`;
  for (const { name: other } of (await indexedDB.databases?.()) ?? []) {
    if (other?.startsWith(prefix + NAME) && other !== name) void deleteDB(other);
  }
  return openDB<ReplicaSchema>(name, 1, {
    upgrade(db) {
      db.createObjectStore("rows", { keyPath: ["scope", "entity", "id"] }).createIndex(
        "scope",
        "scope",
      );
      db.createObjectStore("meta", { keyPath: "key" });
    },
  });
}

export async function marks(db: ReplicaDb): Promise<Marks> {
  const read = async (key: string) => (await db.get("meta", key))?.value ?? null;
  const [cursor, epoch, seen] = await Promise.all([read("cursor"), read("epoch"), read("seen")]);
  return { cursor, epoch, seen };
}

/** Takes a page in with the cursor after it: both or neither. */
export async function take(db: ReplicaDb, page: Page): Promise<void> {
  const tx = db.transaction(["rows", "meta"], "readwrite");
  const rows = tx.objectStore("rows");
  for (const scope of page.forget) {
    for (const key of await rows.index("scope").getAllKeys(scope)) void rows.delete(key);
  }
  const given = newest(page.rows);
  // Asked for all at once: one after the other, a page waits longer here than for the server.
  const known = await Promise.all(given.map((row) => rows.get([row.scope, row.entity, row.id])));
  for (const [i, row] of given.entries()) {
    // A row that is gone stays as a mark: a late older version must not bring it back.
    if (row.version > (known[i]?.version ?? -1)) void rows.put(row);
  }
  const meta = tx.objectStore("meta");
  void meta.put({ key: "cursor", value: page.cursor });
  void meta.put({ key: "epoch", value: page.epoch });
  if (!page.more) void meta.put({ key: "seen", value: page.horizon });
  await tx.done;
}

/** Each row of a page once: of several versions the greatest. */
function newest(rows: Row[]): Row[] {
  const best = new Map<string, Row>();
  for (const row of rows) {
    const key = JSON.stringify([row.scope, row.entity, row.id]);
    if (row.version > (best.get(key)?.version ?? -1)) best.set(key, row);
  }
  return [...best.values()];
}

/** Forgets all rows and marks, to pull afresh or because this phone may no longer see them. */
export async function wipe(db: ReplicaDb): Promise<void> {
  const tx = db.transaction(["rows", "meta"], "readwrite");
  void tx.objectStore("rows").clear();
  void tx.objectStore("meta").clear();
  await tx.done;
}

/** Every row that is there, once an id: of several scopes the greatest version. */
export async function present(db: ReplicaDb): Promise<Row[]> {
  const best = new Map<string, Row>();
  for (const row of await db.getAll("rows")) {
    if (row.gone || row.body === null) continue;
    const key = `${row.entity} ${row.id}`;
    const other = best.get(key);
    if (other === undefined || row.version > other.version) best.set(key, row);
  }
  return [...best.values()];
}

/** Whether any row of an entity is there. */
export async function hasAny(db: ReplicaDb, entity: string): Promise<boolean> {
  const tx = db.transaction("rows");
  for await (const { value } of tx.store) if (value.entity === entity && !value.gone) return true;
  return false;
}
