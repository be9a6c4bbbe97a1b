/**
 * A sheet's fields as they were kept on the phone, perhaps by the version before: what has another
 * shape by now is brought into it, what cannot be read is empty. Knows no store. Pure.
 */
import {
  type Body,
  findingsFrom,
  isBody,
  list,
  number,
  text,
  texts,
  tinsFrom,
} from "../../domain/body";
import { BLANK_WANTED } from "../wanted/wanted";

/** Those that are more than a text, a choice or a list that was always the same. */
const READ: Record<string, (kept: Body, empty: unknown) => unknown> = {
  tins: (kept) => tinsFrom(kept),
  treads: (kept, empty) => (Array.isArray(empty) ? places(list(kept.treads)) : text(kept.treads)),
  findings: (kept) => findingsFrom(kept),
  photos: (kept) => texts(kept.photos),
  wanted: ({ wanted }) => (isBody(wanted) ? readBack(BLANK_WANTED, wanted) : null),
  seen: ({ seen, size }) =>
    isBody(seen) ? seen : typeof size === "string" && size !== "" ? { size } : {},
};

export function readBack<F extends object>(blank: F, kept: Body): F {
  const read = Object.entries(blank).map(([key, empty]) => {
    const asKept = alike(empty, kept[key]) ? kept[key] : empty;
    return [key, READ[key]?.(kept, empty) ?? asKept];
  });
  return Object.fromEntries(read) as F;
}

/** Depths once stood in one row, without places. */
const places = (kept: unknown[]): (number | null)[][] => {
  if (kept.some(Array.isArray)) return kept.map((place) => list(place).map(number));
  return kept.length > 0 ? [kept.map(number)] : [];
};

const alike = (empty: unknown, kept: unknown): boolean =>
  typeof kept === typeof empty && Array.isArray(kept) === Array.isArray(empty) && kept !== null;
