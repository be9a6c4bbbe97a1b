/** Sheets and lines to test with: blank but for what is named. */
import type { VisitLine } from "../../../src/domain/rows";
import { visitLineFromRow } from "../../../src/domain/visits";
import { BLANK_SEEN, type SeenFields } from "../../../src/pickups/seen/seen";

export const fields = (some: Partial<SeenFields> = {}): SeenFields => ({ ...BLANK_SEEN, ...some });

export const line = (body: Record<string, unknown>): VisitLine =>
  visitLineFromRow(String(body.id ?? "l"), { pickup: "p", yard: "y", ...body });

export const numerals = {
  decimal: (value: number) => value.toFixed(1),
  money: (cents: number) => (cents / 100).toFixed(2),
};
