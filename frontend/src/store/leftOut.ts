/**
 * Photos of an operation that was entered where there was no room for a second copy of them: they
 * stay where their sheet kept them until the outbox has room. Safe to repeat after a kill.
 */
import type { Store } from ".";
import { amend, type DraftPhoto, type LeftOut, type LocalDb, setting } from "./local";
import { wasEntered } from "./outbox";
import { STRICT } from "./outbox.schema";

const noted = async (local: LocalDb): Promise<LeftOut[]> =>
  (await setting(local, "left_out")) ?? [];

/** Says of which of these a sheet's copy is here and stays; noted before the operation is entered. */
export async function leaveOut(
  local: LocalDb,
  operation: string,
  hashes: string[],
): Promise<Set<string>> {
  const keys = (await local.getAllKeys("draft_photos")).filter(([, sha]) => hashes.includes(sha));
  const more = keys.map(([draft, sha256]) => ({ draft, sha256, operation }));
  if (more.length > 0) await amend(local, "left_out", (now) => [...(now ?? []), ...more]);
  return new Set(more.map(({ sha256 }) => sha256));
}

/** The operation came to nothing: its photos are its sheet's own again. */
export async function takeBack(local: LocalDb, operation: string): Promise<void> {
  await amend(local, "left_out", (now) => (now ?? []).filter((one) => one.operation !== operation));
}

export async function leftOutPhotos(local: LocalDb): Promise<DraftPhoto[]> {
  const all = (await noted(local)).map((one) => local.get("draft_photos", [one.draft, one.sha256]));
  return (await Promise.all(all)).filter((photo) => photo !== undefined);
}

/**
 * Puts them into the outbox, one after the other, and forgets the sheet's copy; says how many.
 * Throws where one does not fit: those before it are in.
 */
export async function bringIn({ local, outbox }: Store): Promise<number> {
  let count = 0;
  for (const { draft, sha256, operation } of await noted(local)) {
    const photo = await local.get("draft_photos", [draft, sha256]);
    if (photo === undefined || !(await wasEntered(outbox, operation))) continue;
    const tx = outbox.transaction("photos", "readwrite", STRICT);
    void tx.store.put({ sha256, blob: photo.blob });
    await tx.done;
    const forget = local.transaction(["settings", "draft_photos"], "readwrite");
    const settings = forget.objectStore("settings");
    const now = ((await settings.get("left_out"))?.value ?? []) as LeftOut[];
    const value = now.filter((one) => one.draft !== draft || one.sha256 !== sha256);
    void settings.put({ key: "left_out", value });
    void forget.objectStore("draft_photos").delete([draft, sha256]);
    await forget.done;
    count++;
  }
  return count;
}

/** After a kill between the note and the entry. */
export async function takeBackUnentered({ local, outbox }: Store): Promise<void> {
  for (const { operation } of await noted(local))
    if (!(await wasEntered(outbox, operation))) await takeBack(local, operation);
}
