/** Marks beside the outbox: the device that this phone is, and how far its clock is off. */
import type { OutboxDb } from "./outbox.schema";
import { STRICT } from "./outbox.schema";

export async function meta(
  db: OutboxDb,
  key: "incarnation" | "sequence" | "stamp" | "offset" | "device",
): Promise<string | number | null> {
  return (await db.get("meta", key))?.value ?? null;
}

export async function put(
  db: OutboxDb,
  key: "offset" | "device",
  value: string | number,
): Promise<void> {
  const tx = db.transaction("meta", "readwrite", STRICT);
  void tx.objectStore("meta").put({ key, value });
  await tx.done;
}
