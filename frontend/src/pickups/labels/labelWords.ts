/** What is odd about a label that was read or typed, in words: mistyped, void, not of our ranges. */
import { meant, shown, tidy } from "../../domain/labels";
import { nowOf } from "../../domain/replaced";
import type { Casing } from "../../domain/rows";
import type { Words } from "../words.en";
import { labelFault } from "../yard/fields";

interface Known {
  casings: Map<string, Casing>;
  /** The ranges in which the dealer has printed; empty where this phone has not heard of them. */
  ranges: string[];
  /** Those found damaged before use. */
  spoiled: string[];
}

/** What is wrong with a typed label, and which known one may be meant; null for a sound one. */
export function mistyped(typed: string, { casings }: Known, w: Words): string | null {
  const wrong = labelFault(typed, w);
  if (wrong === null) return null;
  const known = new Set([...casings.values()].flatMap((one) => [one.label, ...one.void_labels]));
  const offers = meant(tidy(typed), known);
  const [first] = offers;
  if (first === undefined) return wrong;
  if (offers.length > 1)
    return `${wrong} ${w.label_meant_some(offers.map(({ code }) => shown(code)).join(", "))}`;
  return `${wrong} ${w.label_meant(shown(first.code), first.slip)}`;
}

/** What somebody has to know of a sound label before it is used; null where nothing is odd. */
export function odd(label: string, { casings, ranges, spoiled }: Known, w: Words): string | null {
  const now = nowOf(label, casings.values());
  if (now !== label) return w.label_void(shown(label), shown(now));
  if (spoiled.includes(label)) return w.label_spoiled(shown(label));
  const range = label.slice(0, 2);
  return ranges.length > 0 && !ranges.includes(range) ? w.label_foreign(range) : null;
}
