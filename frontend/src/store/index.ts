/** The three databases of a phone, opened together. IndexedDB is known in this folder only. */
import { type LocalDb, openLocal } from "./local";
import { type OutboxDb, openOutbox } from "./outbox.schema";
import { openReplica, type ReplicaDb } from "./replica";

export interface Store {
  outbox: OutboxDb;
  replica: ReplicaDb;
  local: LocalDb;
  close(): void;
}

export async function openStore(prefix: string): Promise<Store> {
  const [outbox, replica, local] = await Promise.all([
    openOutbox(prefix),
    openReplica(prefix),
    openLocal(prefix),
  ]);
  return {
    outbox,
    replica,
    local,
    close() {
      for (const db of [outbox, replica, local]) db.close();
    },
  };
}
