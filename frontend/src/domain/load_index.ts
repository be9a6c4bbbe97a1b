/**
 * Ratings on a truck tire's sidewall: load index, load range, ply rating, speed symbol. Pure.
 *
 * Weights stay in kg, as ISO 4000-1 has them, and are never turned into pounds: a sidewall's pounds
 * are figures of their own. What is wrong is a fault, a key with its facts. The twin of
 * pickups/casings/load_index.py, same names, where the sources stand; fixtures/vectors/size.json
 * holds both to the same answers.
 */

const FROM_100 = [
  800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, 1060, 1090, 1120, 1150, 1180, 1215, 1250,
  1285, 1320, 1360, 1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, 1900, 1950, 2000,
  2060, 2120, 2180, 2240, 2300, 2360, 2430, 2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150,
  3250, 3350, 3450, 3550, 3650, 3750, 3875, 4000, 4125, 4250, 4375, 4500, 4625, 4750, 4875, 5000,
  5150, 5300, 5450, 5600, 5800, 6000, 6150, 6300, 6500, 6700, 6900, 7100, 7300, 7500, 7750, 8000,
];
const LEAST_INDEX = 100;
const MOST_INDEX = LEAST_INDEX + FROM_100.length - 1;

/** Load range to ply rating. */
export const PLY: Readonly<Record<string, number>> = Object.fromEntries(
  [..."ABCDEFGHJLMN"].map((letter, at) => [letter, 2 + 2 * at]),
);

/** Speed symbol to km/h. */
export const KM_H: Readonly<Record<string, number>> = {
  B: 50,
  C: 60,
  D: 65,
  E: 70,
  F: 80,
  G: 90,
  J: 100,
  K: 110,
  L: 120,
  M: 130,
  N: 140,
  P: 150,
  Q: 160,
  R: 170,
  S: 180,
  T: 190,
  U: 200,
  H: 210,
  V: 240,
  W: 270,
  Y: 300,
};

export type RatingWrong =
  | "load_range_unknown"
  | "load_index_unknown"
  | "speed_symbol_unknown"
  | "dual_above_single"
  | "ply_differs"
  | "unread";

export type RatingFault = { key: RatingWrong; facts: Record<string, string | number> };

/** A service description: 144/141L. One index alone is the single one, as on a wide base. */
export type Service = { single: number; dual: number | null; symbol: string | null };

/** What a sidewall says of its load. second: the description in brackets. */
export type Rating = {
  load_range: string | null;
  ply: number | null;
  single: number | null;
  dual: number | null;
  symbol: string | null;
  second: Service | null;
  faults: RatingFault[];
};

const SPACES = /[\t-\r \x85\xa0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u3000\ufeff]+/g;

/** A typed text with capitals, one space where there were some, plain dashes, X and points. */
export function written(text: string): string {
  return text
    .replace(/[a-z]/g, (letter) => letter.toUpperCase())
    .replace(SPACES, " ")
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replaceAll("\u00d7", "X")
    .replace(/([0-9]),(?=[0-9])/g, "$1.")
    .replace(/^[ .,;]+|[ .,;]+$/g, "");
}

/** What a tire of this load index carries, in kg; null outside the table. */
export const loadKg = (index: number): number | null => FROM_100[index - LEAST_INDEX] ?? null;

const DESCRIPTION = "([0-9]{2,3})(?: ?/ ?([0-9]{2,3}))? ?([A-Z])?";
const PARTS = {
  load_range: /^(?:(?:LOAD RANGE|LR) ?)?([A-Z])(?![A-Z0-9])/,
  ply: /^([0-9]{1,2}) ?(?:PR|PLY)(?![A-Z0-9])/,
  service: new RegExp(`^${DESCRIPTION}(?![A-Z0-9])`),
  second: new RegExp(`^\\( ?${DESCRIPTION} ?\\)`),
  tube: /^(?:TL|TT)(?![A-Z0-9])/,
};
type Part = keyof typeof PARTS;

/**
 * Load range, ply rating and service descriptions, in any order, each at most once. A letter after
 * a load index is the speed symbol (144/141L), a letter alone the load range (G); TL and TT are
 * passed over.
 */
export function readRating(text: string): Rating {
  let rest = written(text);
  const parts: Partial<Record<Part, RegExpExecArray>> = {};
  while (rest !== "") {
    const name = (Object.keys(PARTS) as Part[]).find((p) => !parts[p] && PARTS[p].test(rest));
    if (name === undefined) break;
    const match = PARTS[name].exec(rest)!;
    parts[name] = match;
    rest = rest.slice(match[0].length).replace(/^ +/, "");
  }
  const service = serviceOf(parts.service);
  const second = serviceOf(parts.second);
  const range = parts.load_range?.[1] ?? null;
  const toldPly = parts.ply ? Number(parts.ply[1]) : null;
  const expected = range === null ? null : (PLY[range] ?? null);
  const faults: RatingFault[] = [];
  if (range !== null && expected === null) {
    const allowed = Object.keys(PLY).join(" ");
    faults.push({ key: "load_range_unknown", facts: { load_range: range, allowed } });
  }
  if (range !== null && toldPly && expected !== null && toldPly !== expected) {
    faults.push({ key: "ply_differs", facts: { load_range: range, ply: toldPly, expected } });
  }
  for (const told of [service, second]) if (told) faults.push(...faultsOf(told));
  if (rest !== "") faults.push({ key: "unread", facts: { text: rest } });
  return {
    load_range: range,
    ply: toldPly || expected,
    single: service?.single ?? null,
    dual: service?.dual ?? null,
    symbol: service?.symbol ?? null,
    second,
    faults,
  };
}

function serviceOf(match: RegExpExecArray | undefined): Service | null {
  if (!match) return null;
  const [, single, dual, symbol] = match;
  return { single: Number(single), dual: dual ? Number(dual) : null, symbol: symbol ?? null };
}

function faultsOf({ single, dual, symbol }: Service): RatingFault[] {
  const faults: RatingFault[] = [];
  for (const index of [single, dual]) {
    if (index === null || loadKg(index) !== null) continue;
    const facts = { index, least: LEAST_INDEX, most: MOST_INDEX };
    faults.push({ key: "load_index_unknown", facts });
  }
  if (dual !== null && dual > single) {
    faults.push({ key: "dual_above_single", facts: { single, dual } });
  }
  if (symbol !== null && !(symbol in KM_H)) {
    const facts = { symbol, allowed: Object.keys(KM_H).join(" ") };
    faults.push({ key: "speed_symbol_unknown", facts });
  }
  return faults;
}
