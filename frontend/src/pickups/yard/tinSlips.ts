/**
 * What a hand writes wrong in a TIN. Round and straight letters are put right by themselves; the
 * others that no TIN holds are offered, since another look may find another symbol. Pure.
 */
import type { Tin } from "../../domain/operation";
import { DATE_SLIP, read, SLIPS } from "../../domain/tin";

/** Nobody reads them off a tire as anything else than 0 and 1. */
const OBVIOUS = /[OI]/g;
const ANY = /[GIOQSZ]/g;
/** What stands before the symbols and is none of them. */
const MARKS = /^(?:R\s+)?(?:DOT|TIN)?(?:\s+R\s+)?/;

/** In capitals, single spaces, the R set apart, with O and I as the digits that they stand for. */
export const putRight = (typed: string, today: string): string =>
  mended(marked(typed, today), today, OBVIOUS);

/** How it may be meant; null where there is nothing to offer beyond what is put right. */
export function offered(typed: string, today: string): string | null {
  const dated = datedOf(typed, today);
  if (dated !== null) return mended(dated, today, ANY);
  const meant = mended(marked(typed, today), today, ANY);
  if (meant !== putRight(typed, today)) return meant;
  const mark = mayBeMark(typed, today);
  return mark === null || mark.sure ? null : mark.apart;
}

const GLUED = /^((?:DOT|TIN)?\s*)R(?=[0-9A-Z?])/;

/**
 * An R glued to what stands behind it, where that reads as a retread's TIN: the same with the R
 * apart. sure: it is the mark, since behind it stand the seven symbols of 49 CFR 574.5(c) or the
 * whole reads in no other way; else either may be. Null too where the whole is a new tire's of 13.
 */
export function mayBeMark(typed: string, today: string): { apart: string; sure: boolean } | null {
  const plain = typed.trim().replace(/\s+/g, " ").toUpperCase();
  const { candidates, retread, tin } = read(plain, today);
  if (retread || !GLUED.test(plain) || candidates.some(({ layout }) => layout === "new"))
    return null;
  const behind = candidates.filter(
    ({ plant, codes, digits }) => plant + codes.join("") + digits === tin.slice(1),
  );
  if (behind.length === 0) return null;
  const sure =
    behind.length === candidates.length || behind.some(({ layout }) => layout === "retread");
  return { apart: plain.replace(GLUED, "$1R "), sure };
}

/** As typed, with the R apart where it is the mark for sure. */
export function marked(typed: string, today: string): string {
  const mark = mayBeMark(typed, today);
  return mark?.sure ? mark.apart : typed;
}

/** The symbols of the date, as far as they are digits or look like them; the R may stand behind. */
const DATE_END = /(?:[0-9LGIOQSZ] ?){4}(?=R?$)/;

/** A small l in the date is the 1 that it looks like; null where none is, or no date comes of it. */
function datedOf(typed: string, today: string): string | null {
  const plain = typed.trim().replace(/\s+/g, " ").toUpperCase();
  const { findings } = read(plain, today);
  const meant = findings.find(({ key }) => key === "date_not_numeric")?.facts.meant;
  const dated = plain.replace(DATE_END, (date) => date.replaceAll(...DATE_SLIP));
  return meant !== undefined && read(dated, today).tin.endsWith(String(meant)) ? dated : null;
}

function mended(typed: string, today: string, slips: RegExp): string {
  const plain = typed.trim().replace(/\s+/g, " ").toUpperCase();
  const { candidates, corrections } = read(plain, today);
  // Only where it reads as a TIN with a date: words that were written instead of one stay.
  if (candidates.length === 0 || corrections.length === 0) return plain;
  const marks = MARKS.exec(plain)?.[0] ?? "";
  return marks + plain.slice(marks.length).replace(slips, (letter) => SLIPS[letter] ?? letter);
}

/** What a mileage-contract tire carries in place of a TIN: 49 CFR 574.5(a)(4). */
export const MILEAGE = "MILEAGE CONTRACT";

/** As typed; that it is a retread's is known where the R was typed with it. */
export function typedTin(before: Tin | undefined, typed: string, today: string): Tin {
  const made = before?.made ?? "";
  return { made: made === "" && read(typed, today).retread ? "retread" : made, tin: typed };
}

/** A single TIN that is empty again, with no mark, is a field that nobody has touched. */
export const untouched = (tins: Tin[]): Tin[] =>
  tins.length === 1 && tins[0]!.tin === "" && tins[0]!.made === "" ? [] : tins;

/** One more: where the birth is told already, it is a retread's. */
export const oneMore = (tins: Tin[]): Tin[] => [
  ...tins,
  { tin: "", made: tins.some(({ made }) => made === "new") ? "retread" : "" },
];

/** What the wire takes: a birth and seven retreads. */
export const MOST_TINS = 8;
