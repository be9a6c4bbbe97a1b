/** What each kind of line has to record before it is saved, in words that name field and way out. Pure. */
import type { SeenWords } from "./words.en";
import { centsIn, type SeenFields } from "./seen";

/** What the wire takes of a grade and of a complaint. */
export const GRADE_MOST = 40;
export const COMPLAINT_MOST = 500;

export interface LineFault {
  /** The id of the field to go to. */
  at: "complaint" | "sale-price" | "rim" | "valve-out" | "treads";
  said: string;
}

/** The first thing that this line still lacks, from the top of the sheet down; null: nothing. */
export function lineFault(fields: SeenFields, w: SeenWords): LineFault | null {
  switch (fields.line) {
    case "sell":
      return fields.sale_price.trim() !== "" && centsIn(fields.sale_price) === null
        ? { at: "sale-price", said: w.sale_price_fault(fields.sale_price.trim().slice(0, 12)) }
        : null;
    case "adjustment":
      return claimFault(fields, w);
    case "wheel_tire":
      if (fields.rim === "") return { at: "rim", said: w.rim_missing };
      return fields.valve_out ? null : { at: "valve-out", said: w.valve_missing };
    case "wheel":
      return fields.rim === "" ? { at: "rim", said: w.rim_missing } : null;
    default:
      return null;
  }
}

function claimFault(fields: SeenFields, w: SeenWords): LineFault | null {
  if (fields.complaint.trim() === "") return { at: "complaint", said: w.complaint_missing };
  const measured = fields.treads.some((place) => place.some((depth) => depth !== null));
  return measured ? null : { at: "treads", said: w.claim_tread_missing };
}
