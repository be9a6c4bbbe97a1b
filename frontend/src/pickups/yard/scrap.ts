/** Scrap as it is being counted, and as it is told. Pure. */
import type { CountScrap } from "../../domain/operation";
import type { VisitLine } from "../../domain/rows";
import { centsIn } from "../seen/seen";
import type { Words } from "../words.en";

export interface ScrapFields {
  /** As typed; digits. */
  pieces: string;
  /** As typed, for each; "" is not told. */
  fee: string;
  manifest: string;
  note: string;
  /** Photos that the line has already, when it is corrected. */
  photos: string[];
}

export const BLANK_SCRAP: ScrapFields = {
  pieces: "1",
  fee: "",
  manifest: "",
  note: "",
  photos: [],
};

/** What the wire takes. */
export const MOST_PIECES = 9999;
export const MOST_FEE_CENTS = 1_000_000;
export const MANIFEST_MOST = 40;

export const scrapOf = (line: VisitLine): ScrapFields => ({
  pieces: String(line.count),
  fee: line.fee_cents === null ? "" : (line.fee_cents / 100).toFixed(2),
  manifest: line.manifest,
  note: line.note,
  photos: line.photos,
});

/** A count as typed; null where it is none that can be told. */
export function piecesIn(typed: string): number | null {
  const pieces = /^\d{1,4}$/.test(typed.trim()) ? Number(typed) : 0;
  return pieces >= 1 ? pieces : null;
}

/** A few more or fewer, within what can be told; what is no count begins at the least. */
export const stepped = (typed: string, by: number): string =>
  String(Math.min(MOST_PIECES, Math.max(1, (piecesIn(typed) ?? 0) + by)));

export interface ScrapFault {
  at: "pieces" | "fee";
  said: string;
}

export function scrapFault(fields: ScrapFields, w: Words): ScrapFault | null {
  if (piecesIn(fields.pieces) === null)
    return { at: "pieces", said: w.scrap_count_fault(fields.pieces.trim().slice(0, 12)) };
  const cents = centsIn(fields.fee);
  const told = fields.fee.trim() !== "";
  return told && (cents === null || cents > MOST_FEE_CENTS)
    ? { at: "fee", said: w.scrap_fee_fault(fields.fee.trim().slice(0, 12)) }
    : null;
}

export const scrapPayload = (
  at: { pickup: string; yard: string; store: string | null },
  fields: ScrapFields,
  newPhotos: string[],
  corrects: string | null,
): CountScrap => ({
  ...at,
  count: piecesIn(fields.pieces) ?? 0,
  fee_cents: centsIn(fields.fee),
  manifest: fields.manifest.trim(),
  note: fields.note.trim(),
  photos: [...fields.photos, ...newPhotos.filter((sha) => !fields.photos.includes(sha))],
  corrects,
});
