/** Where a casing ran, as it is carried on from one to the next on a pickup, and in words. Pure. */
import type { Casing } from "../../domain/rows";
import { seenOf, type SeenFields } from "../seen/seen";
import type { Words } from "../words.en";

/** The wheel it sat on and why it was pulled are each casing's own and are never carried on. */
export type Carried = Pick<SeenFields, "position" | "odometer" | "odometer_in">;

export type Ran = Pick<
  SeenFields,
  "position" | "wheel" | "odometer" | "odometer_in" | "pulled_for"
>;

export function carriedRan(before: Casing | undefined): Partial<Carried> {
  if (before === undefined) return {};
  const { position, odometer, odometer_in } = seenOf(before);
  return { position, odometer, odometer_in };
}

/** Another unit has run what it has run: the count carried on from the unit before is not its. */
export const onAnotherUnit = (ran: Ran, before: Casing | undefined): Partial<Ran> =>
  ran.odometer === carriedRan(before).odometer ? { odometer: "" } : {};

/** In one line of words; "" where nothing is told. A unit carried on from the one before says so. */
export function ranSaid(ran: Ran, unit: string, w: Words, before?: Casing): string {
  return [
    unit && (unit === before?.unit ? w.unit_as_before(unit) : w.unit_short(unit)),
    ran.wheel.trim() && w.wheel_short(ran.wheel.trim()),
    ran.odometer && w.odometer_short(ran.odometer, ran.odometer_in),
    ran.pulled_for && w.pulled[ran.pulled_for],
  ]
    .filter((said) => said)
    .join(" · ");
}

/** Digits, or groups of three parted by one and the same sign: a tenth of a mile is not told. */
const ODOMETER = /^(\d{1,7}|\d{1,3}(?:([.,\s])\d{3}(?:\2\d{3})?)?)$/;

const told = (typed: string): boolean =>
  ODOMETER.test(typed.trim()) && typed.replace(/\D/g, "").length <= 7;

/** What is wrong with an odometer as typed, in words; thousands may be parted. */
export function odometerFault(typed: string, w: Words): string | null {
  return typed.trim() === "" || told(typed) ? null : w.odometer_fault(typed);
}
