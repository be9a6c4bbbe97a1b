/**
 * What the phone may promise without asking anybody: the day that its store's table offers for a
 * hand-over, and how days are counted. Days are written as 2026-04-21. Pure.
 */
import type { PromiseTable } from "./rows";

export { dayOf } from "./days";

/** The key of what is fetched at the store's own counter. */
export const STORE = "store";
/** A person may name a day this far ahead; further is a slip. Our own rule, no published source. */
export const FURTHEST_DAYS = 366;
/** Nothing is offered further ahead of the hand-over than this; see the server's promises/rules. */
export const FURTHEST_OFFERED = 120;
/** For how many hand-over days a table tells what to promise. */
export const DAYS_OFFERED = 14;

const DAY_MS = 86_400_000;
const DAY = /^\d{4}-\d{2}-\d{2}$/;

/**
 * The day that the table offers for a casing handed over on a day; null where it has not come, is
 * too old for that day, or offers none. `place`: a yard's id, or STORE.
 */
export function offered(
  table: PromiseTable | null,
  place: string,
  work: string,
  handedOver: string,
): string | null {
  if (table === null || handedOver > table.valid_until) return null;
  const days = table.places[place]?.[work];
  return days?.[daysBetween(table.computed_on, handedOver)] ?? null;
}

/** So many days after a day. */
export const daysAfter = (day: string, days: number): string =>
  new Date(Date.parse(day) + days * DAY_MS).toISOString().slice(0, 10);

/** Days from one day to another; NaN where either is none. */
export const daysBetween = (from: string, to: string): number =>
  DAY.test(from) && DAY.test(to) ? (Date.parse(to) - Date.parse(from)) / DAY_MS : Number.NaN;
