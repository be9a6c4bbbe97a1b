/**
 * Sheets that the disk had no room for, by their keys: held as long as the page stays open, so that
 * another screen or a lock takes nothing away, and written as soon as there is room.
 */
/** A sheet that is being filled in; `fields` belongs to the screen that keeps it. */
export interface Draft {
  key: string;
  id: string;
  fields: Record<string, unknown>;
  changed_at: number;
}

const all = new WeakMap<object, Map<string, Draft>>();

export function held(db: object): Map<string, Draft> {
  const known = all.get(db) ?? new Map<string, Draft>();
  all.set(db, known);
  return known;
}
