/** Sizes as they are typed, said in words, taken over from the casing before, and offered. Pure. */
import type { Casing, Yard } from "../../domain/rows";
import {
  KM_H,
  loadKg,
  overallDiameterMm,
  readRating,
  readSize,
  type SizeReading,
} from "../../domain/size";
import type { Words } from "../words.en";
import type { Said } from "./tinWords";

/** What stays the same from one casing to the next of a pile. */
export interface Sidewall {
  size: string;
  rating: string;
  brand: string;
}

/** As it is told: the size as it is written, the rating that was typed behind it apart. */
export function sized<F extends Sidewall>(fields: F): Pick<Sidewall, "size" | "rating"> {
  const { size, rating } = readSize(fields.size);
  if (size === null) return { size: fields.size, rating: fields.rating };
  return { size: size.shown, rating: rating || fields.rating };
}

/** That of the last casing before it whose size was told. */
export function sidewallBefore(before: Casing[]): Sidewall | null {
  const like = before.findLast((casing) => casing.size !== "");
  return like === undefined ? null : { size: like.size, rating: like.rating, brand: like.brand };
}

export const sidewallSaid = ({ size, rating, brand }: Sidewall): string =>
  [size, brand, rating].filter((said) => said !== "").join(" · ");

/** The casings of the customer of a yard that this phone knows of. */
export function theirs(casings: Iterable<Casing>, yards: Yard[], yard: string): Casing[] {
  const customer = yards.find((one) => one.id === yard)?.customer ?? "";
  const own = new Set(yards.filter((one) => one.customer === customer).map(({ id }) => id));
  return [...casings].filter((casing) => own.has(casing.yard) || casing.yard === yard);
}

const MOST_BRANDS = 6;

/** Brands of this customer's casings, the commonest first; those that begin as it was typed. */
export function brandPicks(casings: Casing[], typed: string): string[] {
  const count = new Map<string, number>();
  for (const { brand } of casings) {
    if (brand !== "") count.set(brand, (count.get(brand) ?? 0) + 1);
  }
  const begun = typed.trim().toLowerCase();
  return [...count.keys()]
    .filter((brand) => brand.toLowerCase().startsWith(begun) && brand !== typed.trim())
    .sort((a, b) => count.get(b)! - count.get(a)! || a.localeCompare(b))
    .slice(0, MOST_BRANDS);
}

/** What a size means, and what is odd about it. */
export function sizeSaid(reading: SizeReading, w: Words, number: (n: number) => string): Said {
  const { size, findings } = reading;
  const odd = findings.map(({ key, facts }) => w.size_found[key]?.(facts) ?? "").filter(Boolean);
  if (size === null) {
    const begun = findings.some(({ key }) => key === "empty" || key === "incomplete");
    return begun ? { tone: "soft", text: w.size_hint } : { tone: "asks", text: odd.join(" ") };
  }
  const read = w.size_read(size.shown, size.construction === "R", size.rim);
  const height = w.size_height(number(overallDiameterMm(size)));
  if (odd.length > 0) return { tone: "asks", text: `${read}. ${odd.join(" ")}` };
  return { tone: "good", text: `${read}, ${height}.` };
}

/** Load range and service description in words; loads stay in kg, as the standard has them. */
export function ratingSaid(typed: string, w: Words, number: (n: number) => string): Said {
  if (typed.trim() === "") return { tone: "soft", text: w.rating_hint };
  const { load_range, ply, single, dual, symbol, faults } = readRating(typed);
  const fault = faults[0];
  if (fault !== undefined) return { tone: "asks", text: w.rating_faults[fault.key](fault.facts) };
  const kg = (index: number | null) => (index === null ? null : loadKg(index));
  const one = kg(single);
  const two = kg(dual);
  const text = [
    load_range !== null ? w.rating_range(load_range, ply) : ply !== null ? w.rating_ply(ply) : "",
    one === null
      ? ""
      : two === null
        ? w.rating_one(number(one))
        : w.rating_kg(number(one), number(two)),
    symbol === null ? "" : w.rating_speed(KM_H[symbol] ?? 0),
  ];
  return { tone: "good", text: `${text.filter(Boolean).join(", ")}.` };
}
