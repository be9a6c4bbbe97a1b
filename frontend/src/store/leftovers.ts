/**
 * Sheets whose operation was entered just before a kill: done with, the photos and signatures kept
 * for them too. Looked for when the app is opened; safe to repeat, and beside other tabs.
 */
import type { Store } from ".";
import { drafts } from "./local";
import { wasEntered } from "./outbox";

export async function dropLeftovers({ local, outbox }: Store): Promise<void> {
  for (const { key, id } of await drafts(local)) {
    if (!(await wasEntered(outbox, id))) continue;
    const tx = local.transaction(["drafts", "draft_photos"], "readwrite");
    // Another tab may have begun the next sheet under this key.
    const mine = (await tx.objectStore("drafts").get(key))?.id === id;
    if (mine) {
      void tx.objectStore("drafts").delete(key);
      const photos = tx.objectStore("draft_photos");
      for (const at of await photos.index("draft").getAllKeys(key)) void photos.delete(at);
    }
    await tx.done;
  }
}
