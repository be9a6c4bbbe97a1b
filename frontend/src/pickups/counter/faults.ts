/** What of a casing cannot be told as it is typed, in the order of the sheet, in words. Pure. */
import { type LineFault, lineFault } from "../seen/lines";
import { hasTire, type SeenFields } from "../seen/seen";
import { dayFault, type WantedFields } from "../wanted/wanted";
import type { Words } from "../words.en";
import { labelFault } from "../yard/fields";
import { odometerFault } from "../yard/ran";
import { typedIn } from "./codes";
import { type EntryFields, isPromised } from "./entry";
import { sizeFault, tinsFault, treadsFault } from "./saidBack";
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
  const tire = hasTire(seen.line);
  // What is not asked of this kind is not in sight, and is not told.
  const faults: Record<string, string | null> = {
    label: labelFault(told.typed, all),
    tin: tire ? tinsFault(fields.tin, today, w) : null,
    size: tire ? sizeFault(seen, w) : null,
    treads: tire ? treadsFault(fields.treads, w) : null,
    odometer: odometerFault(seen.odometer, all),
    "seen-code": tire && code !== "" ? w.seen_unknown(code.slice(0, 20)) : null,
    "promised-on": isPromised(seen.line) ? dayFault(told.wanted, today, all, dayInWords) : null,
  };
  const lacking = lineFault(seen, all);
  if (lacking?.at === "treads") faults.treads ??= lacking.said;
  const field = Object.entries(faults).find(([, fault]) => fault !== null)?.[0];
  return { faults, lacking, at: field ?? lacking?.at ?? null };
}

/** What is told of a casing that is not taken. */
const LEFT = ["tin", "size", "seen-code"];

/** Of the faults, those that keep it from being told that it is not taken. */
export function leftBy({ faults }: Faults): Pick<Faults, "faults" | "at"> {
  const found = Object.entries(faults).filter(([at, fault]) => LEFT.includes(at) && fault !== null);
  return { faults: Object.fromEntries(found), at: found[0]?.[0] ?? null };
}
