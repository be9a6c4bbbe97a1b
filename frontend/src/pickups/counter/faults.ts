/** What of a casing cannot be told as it is typed, in the order of the sheet, in words. Pure. */
import { type LineFault, lineFault } from "../seen/lines";
import type { SeenFields } from "../seen/seen";
import { dayFault, type WantedFields } from "../wanted/wanted";
import type { Words } from "../words.en";
import { labelFault } from "../yard/fields";
import { odometerFault } from "../yard/ran";
import { typedIn } from "./codes";
import type { EntryFields } from "./entry";
import { tinsFault, treadsFault } from "./saidBack";
import type { CounterWords } from "./words.en";

export type Part = "ran" | "condition" | "wanted" | "note";

/** The part that a field is folded into, by the field's id. */
export const PART_OF: Record<string, Part> = {
  odometer: "ran",
  "seen-code": "condition",
  "promised-on": "wanted",
};

export interface Faults {
  /** By the field's id. */
  faults: Record<string, string | null>;
  /** What its kind has to record and has not. */
  lacking: LineFault | null;
  /** The first field to go to; null where all can be told. */
  at: string | null;
}

export function faultsIn(
  told: { fields: EntryFields; typed: string; seen: SeenFields; wanted: WantedFields },
  today: string,
  w: CounterWords,
  all: Words,
  dayInWords: (day: string) => string,
): Faults {
  const { fields, seen } = told;
  const code = typedIn(fields.code).head;
  const faults: Record<string, string | null> = {
    label: labelFault(told.typed, all),
    tin: tinsFault(fields.tin, today, w),
    treads: treadsFault(fields.treads, w),
    odometer: odometerFault(seen.odometer, all),
    "seen-code": code === "" ? null : w.seen_unknown(code.slice(0, 20)),
    "promised-on": dayFault(told.wanted, today, all, dayInWords),
  };
  const lacking = lineFault(seen, all);
  if (lacking?.at === "treads") faults.treads ??= lacking.said;
  const field = Object.entries(faults).find(([, fault]) => fault !== null)?.[0];
  return { faults, lacking, at: field ?? lacking?.at ?? null };
}
