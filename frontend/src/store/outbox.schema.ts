/**
 * The outbox database, for ever: these stores, these keys, version 1. It never changes, so that no
 * upgrade can ever lose what was entered. What is in `body` is an opaque string to it.
 */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";

export const OUTBOX = "yardloop-outbox";

/** An operation that waits; immutable from its commit until an answer for its id. */
export interface Entry {
  id: string;
  body: string;
  sequence: number;
  entered_at: number;
}

/** An operation that the server has answered; kept 30 days, to be pushed again after a restore. */
export interface Sent extends Entry {
  answered_at: number;
  outcome: string;
  code: string | null;
  /** Where in the feed of which epoch its effect will be seen. */
  position: string | null;
  epoch: string;
}

/** Why an entry (or a photo, by its hash) was refused; the entry itself stays untouched. */
export interface Refusal {
  id: string;
  at: number;
  code: string;
  field: string | null;
  value: string | null;
  allowed: string | null;
}

export interface Photo {
  sha256: string;
  blob: Blob;
}

/** meta keys: incarnation, sequence, stamp, offset, device. */
export interface Meta {
  key: string;
  value: string | number;
}

interface OutboxSchema extends DBSchema {
  entries: { key: string; value: Entry; indexes: { sequence: number } };
  sent: { key: string; value: Sent; indexes: { sequence: number; answered_at: number } };
  refusals: { key: string; value: Refusal };
  photos: { key: string; value: Photo };
  meta: { key: string; value: Meta };
}

export type OutboxDb = IDBPDatabase<OutboxSchema>;

/** Committed means on the disk, not in a buffer of the operating system. */
export const STRICT = { durability: "strict" } as const;

export function openOutbox(prefix: string): Promise<OutboxDb> {
  return openDB<OutboxSchema>(prefix + OUTBOX, 1, {
    upgrade(db) {
      db.createObjectStore("entries", { keyPath: "id" }).createIndex("sequence", "sequence", {
        unique: true,
      });
      const sent = db.createObjectStore("sent", { keyPath: "id" });
      sent.createIndex("sequence", "sequence", { unique: true });
      sent.createIndex("answered_at", "answered_at");
      db.createObjectStore("refusals", { keyPath: "id" });
      db.createObjectStore("photos", { keyPath: "sha256" });
      db.createObjectStore("meta", { keyPath: "key" });
    },
  });
}
