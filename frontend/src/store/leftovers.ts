/**
 * Sheets whose operation was entered just before a kill: done with, the photos and signatures kept
 * for them too. Looked for when the app is opened; safe to repeat, and beside other tabs.
 */
import type { Store } from ".";
import { takeBackUnentered } from "./leftOut";
import { drafts, dropDraft } from "./local";
import { wasEntered } from "./outbox";

export async function dropLeftovers(store: Store): Promise<void> {
  await takeBackUnentered(store);
  for (const { key, id } of await drafts(store.local))
    if (await wasEntered(store.outbox, id)) await dropDraft(store.local, key, id);
}
