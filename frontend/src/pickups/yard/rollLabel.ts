/**
 * Labels come off a roll one after the other: of the next one, the three symbols that do not count
 * up are enough, and the check symbol among them says whether it is that one. Of the roll that a
 * driver has every label is known: its next free one is offered before anything is typed. Pure.
 */
import { fault, LENGTH, SYMBOLS, tidy } from "../../domain/labels";
import type { Casing, Roll } from "../../domain/rows";

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

/** What a driver's own rolls hold: each roll's labels, those used or void, the one used last. */
export interface Own {
  rolls: string[][];
  used: ReadonlySet<string>;
  last: string | null;
}

type Worn = Pick<Casing, "label" | "void_labels" | "picked_up_at">;

/** The rolls that a person has, as far as is known here. */
export function ownRolls(
  person: string | null,
  rolls: Roll[],
  casings: Iterable<Worn>,
  spoiled: string[],
): Own {
  const own = rolls.filter((roll) => roll.holder === person).map((roll) => roll.labels);
  const mine = new Set(own.flat());
  const worn = [...casings];
  const used = new Set([...spoiled, ...worn.flatMap((one) => [one.label, ...one.void_labels])]);
  const [last] = worn
    .filter((one) => mine.has(one.label))
    .sort((a, b) => Date.parse(b.picked_up_at) - Date.parse(a.picked_up_at));
  return { rolls: own, used, last: last?.label ?? null };
}

/**
 * The next free label of his own roll: beside the one used last, after it or before it as the roll
 * is pulled; a roll in use goes before a new one. Null where none is free.
 */
export function proposed({ rolls, used, last }: Own): string | null {
  const free = (label: string | undefined): label is string =>
    label !== undefined && !used.has(label);
  const current = rolls.find((labels) => last !== null && labels.includes(last));
  if (current !== undefined) {
    const at = current.indexOf(last!);
    const next = [current[at + 1], current[at - 1], ...current.slice(at + 1), ...current].find(
      free,
    );
    if (next !== undefined) return next;
  }
  return rolls.flat().find(free) ?? null;
}

/** The free label of his own rolls that ends as it was typed; null where none or several do. */
export function ofOwnRoll({ rolls, used }: Own, typed: string): string | null {
  const tail = tidy(typed);
  if (tail.length !== TAIL) return null;
  const ends = rolls.flat().filter((label) => label.endsWith(tail) && !used.has(label));
  return ends.length === 1 ? ends[0]! : null;
}
