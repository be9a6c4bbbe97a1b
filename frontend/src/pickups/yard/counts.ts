/** The customer's count as it is typed, and what is asked where it is not the driver's. */
import { hasTire } from "../seen/seen";

/** What the wire takes. */
export const MOST_COUNTED = 9999;

/** Loose wheels among what was taken: a customer who counts casings does not count them. */
export const wheelsOf = (casings: readonly { line: string }[]): number =>
  casings.filter(({ line }) => !hasTire(line)).length;

/** A number; null where nothing was typed; `none` where it is no count that can be told. */
export function customerCount(typed: unknown): number | null | "none" {
  if (typeof typed !== "string" || typed.trim() === "") return null;
  const count = /^\d+$/.test(typed.trim()) ? Number(typed) : Number.NaN;
  return count <= MOST_COUNTED ? count : "none";
}

/** The two counts that a person is asked about once, or null where they agree or one is not told. */
export function countsAsked(own: number, customer: number | null | "none"): string | null {
  return typeof customer === "number" && customer !== own ? `${own} ${customer}` : null;
}
