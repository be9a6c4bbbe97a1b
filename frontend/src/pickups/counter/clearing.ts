/**
 * Sheets beside the entry that are cleared from elsewhere: one that is on the page is emptied where
 * it stands, so that nothing else that was opened meanwhile is lost; any other is dropped.
 */
import { useEffect } from "preact/hooks";
import { dropDraft, type LocalDb } from "../../store/local";
import type { Sheet } from "../yard/draft";

const here = new Map<string, () => Promise<void>>();

/** This sheet is on the page under its key. */
export function useClearable<F extends object>(key: string, sheet: Sheet<F>): void {
  useEffect(() => {
    const clear = () => sheet.clear();
    here.set(key, clear);
    return () => {
      if (here.get(key) === clear) here.delete(key);
    };
  });
}

export async function clearSheets(local: LocalDb, keys: string[]): Promise<void> {
  for (const key of keys) {
    const clear = here.get(key);
    if (clear !== undefined) await clear();
    await dropDraft(local, key);
  }
}
