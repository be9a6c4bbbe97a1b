/**
 * TINs as a keyboard tells them: one after the other on a line, a comma between; an R beside one
 * says that a retreader branded it. Pure. The rules of a TIN are domain/tin's.
 */
import type { Tin } from "../../domain/operation";
import { read, SLIPS } from "../../domain/tin";
import { marked, offered } from "../yard/tinSlips";

/** What the wire takes. */
export const MOST_TINS = 8;
export const LONGEST_TIN = 24;

/** The texts of a line, a TIN each. */
export const tinTexts = (line: string): string[] =>
  line
    .split(/[,;]/)
    .map((text) => text.trim())
    .filter((text) => text !== "");

/** As they are told. Who looked for one R has seen that the only TIN without it is the birth's. */
export function tinsIn(line: string, today: string): Tin[] {
  const found = tinTexts(line).map((typed) => {
    const text = marked(typed, today);
    const { retread } = read(text, today);
    return { tin: written(text, today), retread };
  });
  const plain = found.filter(({ retread }) => !retread).length;
  const born = plain === 1 && found.length > 1 ? "new" : "";
  return found.map(({ tin, retread }) => ({ tin, made: retread ? "retread" : born }));
}

/** How the line may be meant, each TIN with what is offered for it; null where nothing is. */
export function lineMeant(line: string, today: string): string | null {
  const texts = tinTexts(line);
  const meant = texts.map((text) => offered(text, today) ?? text);
  return meant.some((text, nth) => text !== texts[nth]) ? meant.join(", ") : null;
}

/** The other way: the line that tells them. */
export const tinLine = (tins: Tin[]): string =>
  tins.map(({ tin, made }) => (made === "retread" ? `R ${tin}` : tin)).join(", ");

/**
 * In capitals, grouped as typed, without DOT and R. O and I are put right: nobody reads them off a
 * tire as anything else than 0 and 1. The other letters that no TIN holds stay, and are said.
 */
export function written(typed: string, today: string): string {
  const text = marked(typed, today);
  const { tin, retread } = read(text, today);
  const capitals = text.trim().toUpperCase().replace(/\s+/g, " ");
  let symbols = capitals.replace(/^(DOT|TIN)[\s.:-]*/, "");
  if (retread) symbols = symbols.replace(/^R[\s.:-]+|[\s.:-]*R$/, "");
  // What is lettered otherwise (for mileage contract use) or cannot be followed stays as it is.
  if (meantBy(symbols).replace(/[^0-9A-Z?]/g, "") !== tin) return capitals;
  return symbols.replace(/[OI]/g, (symbol) => SLIPS[symbol]!);
}

const meantBy = (symbols: string): string =>
  [...symbols].map((symbol) => SLIPS[symbol] ?? symbol).join("");
