/**
 * What the server has told this phone: rows by [scope, entity, id], the greater version wins.
 *
 * Rows are kept as they come, a page of them in one value, and folded when they are read: every
 * screen reads them all, and one value of 500 rows costs a phone a fiftieth of 500 values of one.
 * Small pages are joined; what newer rows have made idle is thrown out when it outweighs the rest.
 *
 * Disposable: its name carries the number of its schema, another number is another database; the
 * old one goes when this one holds as much. Nothing that a person entered lives only here.
 */
import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from "idb";
import { type Before, before, dropOthers } from "./replicasBefore";

const NAME = "yardloop-replica-";
const SCHEMA = 2;
/** As many rows as one value holds, at most; how many idle ones are always let lie. */
const HEAP = 500;
const IDLE = 2000;

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

/** Where some rows lie: their turn, and how many they are, so that nobody reads them to know. */
type Place = [turn: number, count: number];

interface ReplicaSchema extends DBSchema {
  heaps: { key: Place; value: Row[] };
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
  const db = await openDB<ReplicaSchema>(name, 1, {
    upgrade(made) {
      made.createObjectStore("heaps");
      made.createObjectStore("meta", { keyPath: "key" });
    },
  });
  if ((await marks(db)).cursor === null) {
    const old = await before<Row>(family(db), name);
    if (old !== null) await carry(db, old);
  }
  if ((await marks(db)).seen !== null) await dropOthers(family(db), name);
  return db;
}

/** How the names of all replicas of this device begin. */
const family = (db: ReplicaDb): string => db.name.slice(0, -String(SCHEMA).length);

/** Rows and marks of an older build, both or neither, where this one has none yet. */
async function carry(db: ReplicaDb, { rows, meta }: Before<Row>): Promise<void> {
  const tx = db.transaction(["heaps", "meta"], "readwrite");
  if ((await tx.objectStore("meta").get("cursor")) === undefined) {
    write(tx, rows);
    for (const mark of meta) void tx.objectStore("meta").put(mark);
  }
  await tx.done;
}

export async function marks(db: ReplicaDb): Promise<Marks> {
  const read = async (key: string) => (await db.get("meta", key))?.value ?? null;
  const [cursor, epoch, seen] = await Promise.all([read("cursor"), read("epoch"), read("seen")]);
  return { cursor, epoch, seen };
}

/** Takes a page in with the cursor after it: both or neither. */
export async function take(db: ReplicaDb, page: Page): Promise<void> {
  const tx = db.transaction(["heaps", "meta"], "readwrite");
  const meta = tx.objectStore("meta");
  if (page.forget.length > 0) {
    const forget = new Set(page.forget);
    await rewrite(tx, ({ scope }) => !forget.has(scope));
  }
  if (page.rows.length > 0) await add(tx, newest(page.rows));
  void meta.put({ key: "cursor", value: page.cursor });
  void meta.put({ key: "epoch", value: page.epoch });
  let first = false;
  if (!page.more) {
    first = (await meta.get("seen")) === undefined;
    void meta.put({ key: "seen", value: page.horizon });
    const live = Number((await meta.get("live"))?.value ?? 0);
    const places = await tx.objectStore("heaps").getAllKeys();
    // The feed never goes back behind a whole pull: what is gone by now needs no mark any more.
    if (total(places) > 2 * live + IDLE) await rewrite(tx, ({ gone }) => !gone);
  }
  await tx.done;
  if (first) await dropOthers(family(db), db.name);
}

type Tx = IDBPTransaction<ReplicaSchema, ("heaps" | "meta")[], "readwrite">;

const total = (places: Place[]): number => places.reduce((sum, [, count]) => sum + count, 0);

/** Behind all others, together with those at the end that are no more than they are. */
async function add(tx: Tx, rows: Row[]): Promise<void> {
  const heaps = tx.objectStore("heaps");
  const places = await heaps.getAllKeys();
  let first = places.length;
  let count = rows.length;
  while (first > 0 && places[first - 1]![1] <= count && count + places[first - 1]![1] <= HEAP)
    count += places[--first]![1];
  const joined = places.slice(first);
  const before = await Promise.all(joined.map((place) => heaps.get(place)));
  for (const place of joined) void heaps.delete(place);
  const all =
    joined.length === 0 ? rows : newest([...before.flatMap((some) => some ?? []), ...rows]);
  void heaps.put(all, [(places[first - 1]?.[0] ?? 0) + 1, all.length]);
}

/** Writes down anew what still counts, of that what is to stay. */
async function rewrite(tx: Tx, stays: (row: Row) => boolean): Promise<void> {
  const rows = newest((await tx.objectStore("heaps").getAll()).flat());
  write(tx, rows.filter(stays));
}

function write(tx: Tx, rows: Row[]): void {
  const heaps = tx.objectStore("heaps");
  void heaps.clear();
  for (let at = 0; at < rows.length; at += HEAP) {
    const some = rows.slice(at, at + HEAP);
    void heaps.put(some, [at / HEAP, some.length]);
  }
  void tx.objectStore("meta").put({ key: "live", value: String(rows.length) });
}

/** Each row once: of several versions the greatest, of equal ones the first. */
function newest(rows: Row[]): Row[] {
  const best = new Map<string, Row>();
  for (const row of rows) {
    const key = `${row.scope}\n${row.entity}\n${row.id}`;
    if (row.version > (best.get(key)?.version ?? -1)) best.set(key, row);
  }
  return [...best.values()];
}

/** Forgets all rows and marks, to pull afresh or because this phone may no longer see them. */
export async function wipe(db: ReplicaDb): Promise<void> {
  const tx = db.transaction(["heaps", "meta"], "readwrite");
  void tx.objectStore("heaps").clear();
  void tx.objectStore("meta").clear();
  await tx.done;
  await dropOthers(family(db), db.name);
}

/**
 * Every row that is there, in every scope. One that is gone stays as a mark in the heaps until a
 * whole pull is behind it: an older version out of another page must not bring it back.
 */
export async function held(db: ReplicaDb): Promise<Row[]> {
  return newest((await db.getAll("heaps")).flat()).filter((row) => !row.gone && row.body !== null);
}

/** Every row that is there, once an id: of several scopes the greatest version. */
export async function present(db: ReplicaDb): Promise<Row[]> {
  const best = new Map<string, Row>();
  for (const row of await held(db)) {
    const key = `${row.entity} ${row.id}`;
    const other = best.get(key);
    if (other === undefined || row.version > other.version) best.set(key, row);
  }
  return [...best.values()];
}

/** Whether any row of an entity is there. */
export async function hasAny(db: ReplicaDb, entity: string): Promise<boolean> {
  return (await held(db)).some((row) => row.entity === entity);
}
