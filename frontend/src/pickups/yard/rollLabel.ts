/**
 * Labels come off a roll one after the other: of the next one, the three symbols that do not count
 * up are enough, and the check symbol among them says whether it is that one. Pure.
 */
import { fault, LENGTH, SYMBOLS, tidy } from "../../domain/labels";

const RANGE = 2;
const SERIAL = 3;
const TAIL = LENGTH - RANGE - SERIAL;

/** The range and serial before and after those of a label; a roll is pulled from either end. */
function beside(label: string): string[] {
  const range = label.slice(0, RANGE);
  const base = SYMBOLS.length;
  const serial = [...label.slice(RANGE, RANGE + SERIAL)].reduce(
    (sum, symbol) => sum * base + SYMBOLS.indexOf(symbol),
    0,
  );
  return [serial + 1, serial - 1]
    .filter((next) => next >= 0 && next < base ** SERIAL)
    .map((next) => {
      const places = [base ** 2, base, 1].map((unit) => Math.floor(next / unit) % base);
      return range + places.map((place) => SYMBOLS[place]).join("");
    });
}

/** The label beside the last one on its roll that ends as it was typed; null where none does. */
export function nextOfRoll(last: string | null, typed: string): string | null {
  const tail = tidy(typed);
  if (last === null || tail.length !== TAIL) return null;
  const sound = beside(last)
    .map((start) => start + tail)
    .filter((label) => fault(label) === null);
  return sound.length === 1 ? sound[0]! : null;
}
