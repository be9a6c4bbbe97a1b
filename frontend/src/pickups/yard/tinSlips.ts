/**
 * What a hand writes wrong in a TIN. Round and straight letters are put right by themselves; the
 * others that no TIN holds are offered, since another look may find another symbol. Pure.
 */
import type { Tin } from "../../domain/operation";
import { read, SLIPS } from "../../domain/tin";

/** Nobody reads them off a tire as anything else than 0 and 1. */
const OBVIOUS = /[OI]/g;
const ANY = /[GIOQSZ]/g;
/** What stands before the symbols and is none of them. */
const MARKS = /^(?:R\s+)?(?:DOT|TIN)?(?:\s+R\s+)?/;

/** In capitals, single spaces, with O and I as the digits that they stand for. */
export const putRight = (typed: string, today: string): string => mended(typed, today, OBVIOUS);

/** How it may be meant; null where there is nothing to offer beyond what is put right. */
export function offered(typed: string, today: string): string | null {
  const meant = mended(typed, today, ANY);
  return meant === putRight(typed, today) ? null : meant;
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

/** One more: where the birth is told already, it is a retread's. */
export const oneMore = (tins: Tin[]): Tin[] => [
  ...tins,
  { tin: "", made: tins.some(({ made }) => made === "new") ? "retread" : "" },
];

/** What the wire takes: a birth and seven retreads. */
export const MOST_TINS = 8;
