/** Whose an open visit is on a device that several people use: who had it when it changed hands. */

/** By the id of a pickup or delivery, the person who left it open. */
export type Left = Record<string, string>;

/**
 * The device goes from `holder` to somebody else, with these visits open. What was left before
 * stays with who left it; what is no longer open is forgotten.
 */
export const handedOn = (left: Left, open: string[], holder: string): Left =>
  Object.fromEntries(open.map((id) => [id, left[id] ?? holder]));
