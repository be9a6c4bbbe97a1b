/** A casing that stays where it is, as it is told; taken after all, it begins a sheet. Pure. */
import type { LeaveHere } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { photosKept } from "../seen/findings";
import { type Checked, seenPayload } from "../seen/seen";
import { BLANK, type CasingFields } from "./fields";

export function leftPayload(
  at: { pickup: string; yard: string; store: string | null },
  fields: CasingFields,
  checked: Checked | null,
  photos: string[],
): LeaveHere {
  const { tins, size, brand, findings, check } = seenPayload(fields, checked);
  return {
    ...at,
    tins,
    size,
    brand,
    findings: photosKept(findings, photos),
    check: check === null ? null : { ...check, overruled: "" },
    note: fields.note.trim(),
    photos,
    corrects: null,
  };
}

/** What was left, told again: with another note and more photos, or that it was taken after all. */
export const leftAgain = (
  line: VisitLine,
  some: Pick<LeaveHere, "note" | "photos" | "taken">,
): LeaveHere => ({
  pickup: line.pickup,
  yard: line.yard,
  store: line.store,
  tins: line.tins,
  size: line.size,
  brand: line.brand,
  findings: line.findings,
  check: line.check,
  ...some,
  corrects: line.id,
});

/** The sheet of a casing that is taken after all: what was seen of it need not be entered again. */
export const takenAfterAll = (line: VisitLine): CasingFields => ({
  ...BLANK,
  tins: line.tins,
  size: line.size,
  brand: line.brand,
  findings: line.findings,
  note: line.note,
  photos: line.photos,
});
