/** A casing by label and size alone: what is told of it, and where that will not do. Pure. */
import { check, type Specification, specificationFor } from "../../../domain/eligibility";
import { fault as faultOf } from "../../../domain/labels";
import type { Work } from "../../../domain/operation";
import type { Casing, Yard } from "../../../domain/rows";
import { asksWork, carriedLine } from "../../seen/seen";
import { lookedAt } from "../../seen/spec";
import { BLANK, type CasingFields } from "../fields";
import { sized } from "../sizeText";
import { isUnread } from "./waiting";

/** What is told of it: the size is that of the one before where none is given; nothing was read. */
export function quickFields(fields: CasingFields, before: Casing[]): CasingFields {
  const line = carriedLine(before.at(-1));
  const given = sized(fields);
  const carried = before.findLast(({ size }) => size !== "")?.size ?? "";
  return {
    ...fields,
    ...given,
    size: given.size === "" ? carried : given.size,
    line: asksWork(line) && line !== "wheel_tire" ? line : "retread",
    line_own: true,
    ran_own: true,
  };
}

/**
 * What becomes of a label that came whole. Another one stands on the sheet, asked about or not saved
 * yet: it is not replaced unseen. Without a size, or where the label is odd, a person looks first.
 */
export function heardAs(
  code: string,
  at: { stands: string; size: string; odd: string | null },
): "another" | "look" | "save" {
  if (at.stands !== code && faultOf(at.stands) === null) return "another";
  return at.size === "" || at.odd !== null ? "look" : "save";
}

/** Nothing is on the sheet that a label, a size and what is wanted could not say. */
export const fitsQuick = (fields: CasingFields, photos: number): boolean =>
  photos === 0 &&
  JSON.stringify({ ...fields, label: "", size: "", rating: "", brand: "", wanted: null }) ===
    JSON.stringify(BLANK);

/** The customer's terms do not take this size: that needs a word, so it needs the whole sheet. */
export function sizeIsRefused(
  known: { yards: Yard[]; specifications: Specification[] },
  yard: string,
  fields: CasingFields,
  work: Work,
  today: string,
): boolean {
  const customer = known.yards.find((one) => one.id === yard)?.customer ?? "";
  const terms = specificationFor(known.specifications, customer, yard);
  const { grounds } = check(terms, lookedAt(fields, work), today);
  return grounds.some(({ rule, verdict }) => rule === "size_not_accepted" && verdict === "leave");
}

/** The pickup goes on as its last casing was taken. */
export const goesQuick = (before: Casing[]): boolean => {
  const last = before.at(-1);
  return last !== undefined && isUnread(last);
};
