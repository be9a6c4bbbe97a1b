/** Tread depths as a keyboard tells them: numbers with a space between, a groove each. Pure. */
import { DEEPEST_32NDS } from "../../domain/operation";
import { MOST_GROOVES } from "../yard/fields";

export type Treads = { depths: number[] } | { wrong: string } | { many: true };

export function treadsIn(typed: string): Treads {
  const parts = typed.split(/[\s,;/·]+/).filter((part) => part !== "");
  const wrong = parts.find((part) => !/^\d{1,2}$/.test(part) || Number(part) > DEEPEST_32NDS);
  if (wrong !== undefined) return { wrong: wrong.slice(0, 20) };
  return parts.length > MOST_GROOVES ? { many: true } : { depths: parts.map(Number) };
}

/** As it is typed: a number that is still being typed is not found fault with. */
export const treadsSoFar = (typed: string): Treads =>
  treadsIn(/\s$/.test(typed) ? typed : typed.replace(/[^\s,;/·]+$/, ""));
