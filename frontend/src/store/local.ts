/**
 * What only this phone knows: half-filled sheets (kept at every keystroke), who holds it, its
 * language, its way to read. A draft carries the id that its operation will have, so a sheet that
 * was saved just before a kill is recognised and not offered again.
 */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Left } from "../domain/left";
import type { Link } from "../domain/run";
import { isFull } from "../ports/room";
import type { Sealed } from "../ports/sealing";
import { type Draft, held } from "./held";

export type { Draft } from "./held";

export interface DraftPhoto {
  sha256: string;
  draft: string;
  blob: Blob;
}

export interface Enrolment {
  device: string;
  name: string;
  site: string;
  site_name: string;
  /** Only until the first PIN is set: from then on it lies sealed in `pins` alone. */
  read_token: string | null;
}

/** The read token of this device, sealed once for each person who has a PIN here. */
export interface Pins {
  salt: Uint8Array<ArrayBuffer>;
  iterations: number;
  copies: (Sealed & { person: string })[];
}

/** A photo of an entered operation that lies with its sheet until the outbox has room for it. */
export interface LeftOut {
  draft: string;
  sha256: string;
  operation: string;
}

/** Wrong PINs in a row, and when the last one was typed. */
export interface PinTries {
  wrong: number;
  at: number;
}

/** A pickup begun on this phone; it has no operation of its own until its first casing. */
export interface Visit {
  pickup: string;
  yard: string;
  begun_at: number;
}

/** A delivery begun on this phone; it has no operation of its own until its first casing. */
export interface BegunDelivery {
  delivery: string;
  yard: string;
  begun_at: number;
}

/** The labels that a store's device was given: the same list on every start, used from its front. */
export interface LabelStock {
  /** The store that they were printed for. */
  site: string;
  /** A roll that was asked for and whose answer has not come: asked for again under its id. */
  asked: { id: string; count: number } | null;
  labels: string[];
  /** On casings already, and not printed yet. */
  unprinted: string[];
  /** Who the dealer is, as labels and tickets say it. */
  dealer: string;
  phone: string;
}

/** How casings get their labels at a counter: printed at once, when asked, or off a roll. */
export interface Printing {
  how: "at_once" | "by_key" | "from_roll";
  stock: "roll" | "sheet";
}

/** What a tablet at a plant remembers: where it stands, and by station what is in use there. */
export interface FloorKept {
  station: string;
  machines: Record<string, string>;
  lots: Record<string, { kind: string; number: string }[]>;
  /** The cure load that is being set in or out, by station. */
  loads: Record<string, string>;
  /** The pitch of a tread design as it was typed last, in mm, by design. */
  pitches: Record<string, string>;
}

export type Workplace = "road" | "counter";

/** Why the office lets this phone no further: until it is enrolled again. */
export type Shut = "device_revoked" | "device_unknown" | "device_closing";

/** The server's public key, an RSA JWK: what is saved to a file is sealed to it. */
export interface SealingKey {
  kty: string;
  n: string;
  e: string;
  kid: string;
}

export interface Settings {
  enrolment: Enrolment;
  export_key: SealingKey;
  shut: Shut;
  /** Who unlocked this device last. */
  person: string;
  pins: Pins;
  pin_tries: PinTries;
  /** Who left which visit open when somebody else unlocked this device. */
  left: Left;
  /** After how many minutes without a touch it locks. */
  idle_minutes: number;
  language: "en" | "es";
  visits: Visit[];
  deliveries: BegunDelivery[];
  /** Which visits were begun for which stops. */
  links: Link[];
  left_out: LeftOut[];
  label_stock: LabelStock;
  printing: Printing;
  /** Where somebody works who may work at either. */
  workplace: Workplace;
  floor: FloorKept;
}

interface LocalSchema extends DBSchema {
  drafts: { key: string; value: Draft };
  draft_photos: { key: [string, string]; value: DraftPhoto; indexes: { draft: string } };
  settings: { key: string; value: { key: string; value: unknown } };
}

export type LocalDb = IDBPDatabase<LocalSchema>;

export const openLocal = (prefix: string): Promise<LocalDb> =>
  openDB<LocalSchema>(`${prefix}yardloop-local`, 1, {
    upgrade(db) {
      db.createObjectStore("drafts", { keyPath: "key" });
      db.createObjectStore("draft_photos", { keyPath: ["draft", "sha256"] }).createIndex(
        "draft",
        "draft",
      );
      db.createObjectStore("settings", { keyPath: "key" });
    },
  });

export async function setting<K extends keyof Settings>(
  db: LocalDb,
  key: K,
): Promise<Settings[K] | null> {
  return ((await db.get("settings", key))?.value as Settings[K] | undefined) ?? null;
}

export async function set<K extends keyof Settings>(
  db: LocalDb,
  key: K,
  value: Settings[K] | null,
): Promise<void> {
  if (value === null) await db.delete("settings", key);
  else await db.put("settings", { key, value });
}

/** Changes a setting by what it is then, whoever else changes it at the same time. */
export async function amend<K extends keyof Settings>(
  db: LocalDb,
  key: K,
  change: (now: Settings[K] | null) => Settings[K] | null,
): Promise<void> {
  const tx = db.transaction("settings", "readwrite");
  const now = ((await tx.store.get(key))?.value as Settings[K] | undefined) ?? null;
  const then = change(now);
  if (then === null) void tx.store.delete(key);
  else void tx.store.put({ key, value: then });
  await tx.done;
}

/**
 * The device is another one from here on: who it is, and that nobody has a PIN any more, in one
 * transaction. PINs sealed the token that is no more, and the new one must not lie beside them.
 */
export async function setEnrolled(
  db: LocalDb,
  enrolment: Enrolment,
  export_key: SealingKey | null,
): Promise<void> {
  const tx = db.transaction("settings", "readwrite");
  void tx.store.put({ key: "enrolment", value: enrolment });
  if (export_key === null) void tx.store.delete("export_key");
  else void tx.store.put({ key: "export_key", value: export_key });
  for (const key of ["shut", "pins", "pin_tries"]) void tx.store.delete(key);
  await tx.done;
}

/**
 * Puts a person's sealed copy in the place of what that person had, and takes away what lies
 * open. False where the device was enrolled anew, or wiped, since the copy was made.
 */
export async function keepCopy(
  db: LocalDb,
  salt: Pins["salt"],
  copy: Pins["copies"][number],
): Promise<boolean> {
  const tx = db.transaction("settings", "readwrite");
  const read = async <K extends keyof Settings>(key: K) =>
    (await tx.store.get(key))?.value as Settings[K] | undefined;
  const [pins, enrolment] = [await read("pins"), await read("enrolment")];
  const same = pins !== undefined && String(pins.salt) === String(salt);
  if (same && enrolment !== undefined) {
    const copies = [...pins.copies.filter(({ person }) => person !== copy.person), copy];
    void tx.store.put({ key: "pins", value: { ...pins, copies } });
    void tx.store.put({ key: "enrolment", value: { ...enrolment, read_token: null } });
  }
  await tx.done;
  return same && enrolment !== undefined;
}

export const draft = async (db: LocalDb, key: string): Promise<Draft | null> =>
  held(db).get(key) ?? (await db.get("drafts", key)) ?? null;

export async function drafts(db: LocalDb): Promise<Draft[]> {
  const written = await db.getAll("drafts");
  const unwritten = held(db);
  return [...written.filter(({ key }) => !unwritten.has(key)), ...unwritten.values()];
}

/** Throws where it cannot be written; it is held in memory then, and the latest of it counts. */
export async function keepDraft(db: LocalDb, kept: Draft): Promise<void> {
  const unwritten = held(db);
  if (unwritten.has(kept.key)) unwritten.set(kept.key, kept);
  try {
    await db.put("drafts", kept);
  } catch (no) {
    unwritten.set(kept.key, kept);
    throw no;
  }
  const latest = unwritten.get(kept.key);
  if (latest !== undefined && latest.changed_at <= kept.changed_at) unwritten.delete(kept.key);
}

/** Tries once more to write what is held in memory only; says whether all of it is on the disk. */
export async function writeHeld(db: LocalDb): Promise<boolean> {
  for (const kept of [...held(db).values()]) {
    try {
      await keepDraft(db, kept);
    } catch (no) {
      if (!isFull(no)) throw no;
    }
  }
  return held(db).size === 0;
}

export async function keepDraftPhoto(db: LocalDb, kept: DraftPhoto): Promise<void> {
  await db.put("draft_photos", kept);
}

/** Those of the sheet that is open; what an entered one left behind is none of its business. */
export async function draftPhotos(db: LocalDb, key: string): Promise<DraftPhoto[]> {
  const left = (await setting(db, "left_out")) ?? [];
  const photos = await db.getAllFromIndex("draft_photos", "draft", key);
  return photos.filter(({ sha256 }) => !left.some((o) => o.draft === key && o.sha256 === sha256));
}

export const dropDraftPhoto = (db: LocalDb, key: string, sha256: string): Promise<void> =>
  db.delete("draft_photos", [key, sha256]);

/**
 * The sheet was saved or thrown away: it and its photos go together, but for those that have to be
 * sent from here. With `id`, only while the sheet is still that one: another tab may have begun the
 * next one under this key.
 */
export async function dropDraft(db: LocalDb, key: string, id?: string): Promise<void> {
  if (id === undefined || held(db).get(key)?.id === id) held(db).delete(key);
  const tx = db.transaction(["drafts", "draft_photos", "settings"], "readwrite");
  const sheets = tx.objectStore("drafts");
  if (id === undefined || (await sheets.get(key))?.id === id) {
    const left = ((await tx.objectStore("settings").get("left_out"))?.value ?? []) as LeftOut[];
    const stays = new Set(left.filter((one) => one.draft === key).map((one) => one.sha256));
    void sheets.delete(key);
    const photos = tx.objectStore("draft_photos");
    for (const at of await photos.index("draft").getAllKeys(key))
      if (!stays.has(at[1])) void photos.delete(at);
  }
  await tx.done;
}
