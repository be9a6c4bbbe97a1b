/**
 * Whether a casing is worth hauling for this customer: take it, let the plant decide, leave it. Pure.
 *
 * Each rule that speaks is a ground: a code, the verdict that it asks for, and the facts that its
 * sentence needs; the verdict is that of the gravest. What was not read or not told stays open and
 * goes to the plant. The check advises: a person may overrule it, and why is kept. The twin of
 * pickups/casings/eligibility.py, same names, where the sources stand;
 * fixtures/vectors/eligibility.json holds both to the same answers. A day is a text, "2026-04-15".
 */
import { CONDITIONS, OLD_REPAIRS, STOPS, ZONES } from "./condition";
import type { Condition, Finding, Line, Position, Tin, Verdict, Work, Zone } from "./operation";
import { readSize } from "./size";
import { ageYears, type DateCode, type Kind, kinds, olderThan, read, UNREAD } from "./tin";

/** A wider hole in the crown, or one whose width was not told, goes to the plant: 3/8 inch, which
 * is 9.525 mm, rounded to the whole millimetres that are told. */
export const NAIL_HOLE_MM = 10;
export const BUS_FRONT = "49 CFR 393.75(d)";

/** Every rule that can speak, in the order in which grounds of one verdict are told. */
export const RULES = [
  "stop_condition",
  "dot_removed",
  "too_old",
  "too_many_caps",
  "too_many_nail_holes",
  "repair_not_accepted",
  "brand_not_accepted",
  "size_not_accepted",
  "no_tin",
  "mileage_contract",
  "date_unread",
  "decade_open",
  "birth_open",
  "caps_open",
  "plant_judges",
  "brand_open",
  "size_open",
  "bus_front_wheel",
] as const;
export type Rule = (typeof RULES)[number];

/** What a customer accepts, for all of its yards or for one; null is "any". */
export interface Specification {
  id: string;
  customer: string;
  yard: string | null;
  number: number;
  oldest_years: number | null;
  most_caps: number | null;
  most_nail_holes: number | null;
  /** Old repairs that are accepted. */
  repairs: Condition[] | null;
  brands: string[] | null;
  sizes: string[] | null;
  /** The tread design wanted by wheel position. */
  designs: Partial<Record<"steer" | "drive" | "trailer", string>>;
  fleet_brand: string;
  /** What is done with what the plant rejects. */
  rejects: "ask" | "return" | "scrap" | "buy";
  pull_32nds: number | null;
}

/** What was seen and told of one thing that is to be picked up. */
export interface Looked {
  line: Line;
  tins: Tin[];
  size: string;
  brand: string;
  findings: Finding[];
  position: Position;
  work: Work;
}

/** One rule that spoke. */
export interface Ground {
  rule: Rule;
  verdict: Verdict;
  facts: Record<string, string | number>;
}

/** What to do, and why: the gravest ground first. */
export interface Result {
  verdict: Verdict;
  grounds: Ground[];
}

/** The rules that spoke, each once: what is told with the casing. */
export const becauseOf = ({ grounds }: Result): Rule[] => [...new Set(grounds.map((g) => g.rule))];

/** The yard's own before the customer's; it wins whole. */
export const specificationFor = (
  all: Specification[],
  customer: string,
  yard: string,
): Specification | null =>
  all.find((one) => one.customer === customer && one.yard === yard) ??
  all.find((one) => one.customer === customer && one.yard === null) ??
  null;

/** Hold a casing against what its customer accepts. today: for ages. */
export function check(spec: Specification | null, looked: Looked, today: string): Result {
  // A loose wheel: nothing of this is about it.
  if (looked.line === "wheel") return { verdict: "take", grounds: [] };
  const wanted = looked.line === "wheel_tire" ? looked.work : looked.line;
  const tins = looked.tins.flatMap((told) => tinOf(told, today));
  let grounds = seen(wanted, looked, tins);
  if (spec !== null && (wanted === "retread" || wanted === "repair")) {
    grounds = [...grounds, ...asked(spec, wanted, looked, tins, today)];
  }
  // A claim's evidence is always taken.
  if (wanted === "adjustment") grounds = grounds.map((g) => ({ ...g, verdict: "plant" }));
  grounds.sort(byGravity);
  return { verdict: grounds[0]?.verdict ?? "take", grounds };
}

const GRAVEST_FIRST: Verdict[] = ["leave", "plant", "take"];

const byGravity = (a: Ground, b: Ground): number =>
  GRAVEST_FIRST.indexOf(a.verdict) - GRAVEST_FIRST.indexOf(b.verdict) ||
  RULES.indexOf(a.rule) - RULES.indexOf(b.rule) ||
  CONDITIONS.indexOf(a.facts.kind as Condition) - CONDITIONS.indexOf(b.facts.kind as Condition) ||
  ZONES.indexOf(a.facts.zone as Zone) - ZONES.indexOf(b.facts.zone as Zone);

const ground = (rule: Rule, verdict: Verdict, facts: Ground["facts"] = {}): Ground => ({
  rule,
  verdict,
  facts,
});

// --- What is asked of any casing ---------------------------------------------------------------

function seen(wanted: string, looked: Looked, tins: ReadTin[]): Ground[] {
  const grounds: Ground[] = [];
  const findings = merged(looked.findings);
  for (const facts of findings) {
    if (STOPS.includes(facts.kind)) grounds.push(ground("stop_condition", "leave", { ...facts }));
    else if (plantJudges(facts, looked.findings)) {
      grounds.push(ground("plant_judges", "plant", { ...facts }));
    }
  }
  const removed = findings.some(({ kind }) => kind === "dot_removed");
  if (removed) grounds.push(ground("dot_removed", wanted === "repair" ? "plant" : "leave"));
  if (tins.some(({ mileage }) => mileage)) grounds.push(ground("mileage_contract", "plant"));
  if (tins.length === 0 && !removed && wanted !== "repair") grounds.push(ground("no_tin", "plant"));
  if (wanted === "retread" && looked.position === "bus_front") {
    grounds.push(ground("bus_front_wheel", "plant", { section: BUS_FRONT }));
  }
  return grounds;
}

type Merged = { kind: Condition; zone: Zone; count: number; mm?: number };

/** By kind and zone: how many alike, and the greatest length where one was told. */
function merged(findings: Finding[]): Merged[] {
  const by = new Map<string, Merged>();
  for (const { kind, zone, count, mm } of findings) {
    const key = `${kind} ${zone}`;
    const facts = by.get(key) ?? { kind, zone, count: 0 };
    facts.count += count;
    if (mm !== null) facts.mm = Math.max(facts.mm ?? 0, mm);
    by.set(key, facts);
  }
  return [...by.values()];
}

/** Whether only the plant can tell. A narrow nail hole in the crown is a matter of counting. */
function plantJudges({ kind, zone }: Merged, findings: Finding[]): boolean {
  if (kind !== "nail_hole") return !OLD_REPAIRS.includes(kind) && kind !== "dot_removed";
  const alike = findings.filter((one) => one.kind === kind && one.zone === zone);
  return zone !== "crown" || alike.some(({ mm }) => mm === null || mm > NAIL_HOLE_MM);
}

// --- What this customer asks -------------------------------------------------------------------

function asked(
  spec: Specification,
  wanted: Work,
  looked: Looked,
  tins: ReadTin[],
  today: string,
): Ground[] {
  const told = tins.filter(({ mileage }) => !mileage);
  const { oldest_years, most_caps } = spec;
  const age = oldest_years !== null && (tins.length > 0 || wanted === "repair");
  return [
    ...(age ? ageOf(oldest_years, told, today) : []),
    ...(most_caps !== null && wanted === "retread" ? capsOf(most_caps, told) : []),
    ...repairsOf(spec, looked.findings),
    ...brandOf(spec.brands, looked.brand),
    ...sizeOf(spec.sizes, looked.size),
  ];
}

/** A TIN read. kinds: as what it may have been made, none where that does not show; weeks: those
 * that its date may mean, oldest first, none that is still to come. */
type ReadTin = { tin: string; mileage: boolean; kinds: Kind[]; digits: string; weeks: DateCode[] };

/** None where nothing was typed. Of several ways to read the date the likeliest is taken: three
 * digits behind a fourth are a tire of before 2000, and the field asks about them. */
function tinOf({ tin, made }: Tin, today: string): ReadTin[] {
  const reading = read(tin, today);
  const mileage = reading.candidates.some(({ layout }) => layout === "mileage_contract");
  if (reading.tin === "" && !mileage) return [];
  const may: Kind[] = made !== "" ? [made] : kinds(reading);
  const fitting = reading.candidates.filter(({ kind }) => kind === null || may.includes(kind));
  const likeliest = fitting[0] ?? reading.candidates[0];
  const weeks = (likeliest?.dates ?? []).filter(({ first }) => first <= today);
  return [{ tin: reading.tin, mileage, kinds: may, digits: likeliest?.digits ?? "", weeks }];
}

/** As what it is known to have been made; empty where that is open. */
const madeOf = ({ kinds: may }: ReadTin): Tin["made"] => (may.length === 1 ? may[0]! : "");

/** The oldest birth counts. A retread's date is never the birth, but the birth was before it:
 * where that date alone is too old the casing is, whether anybody looked for the R mark or not. */
function ageOf(limit: number, tins: ReadTin[], today: string): Ground[] {
  const tooOld = (week: DateCode): boolean => olderThan(week, limit, today);
  const dated = tins.filter(({ weeks }) => weeks.length > 0);
  const old = dated.filter(({ weeks }) => tooOld(weeks.at(-1)!));
  const births = tins.filter((one) => madeOf(one) === "new");
  const datedBirths = dated.filter((one) => madeOf(one) === "new");
  // Where a birth is dated, whatever else is told is a retread and younger.
  const torn = (datedBirths.length > 0 ? datedBirths : dated).filter(
    ({ weeks }) => tooOld(weeks[0]!) !== tooOld(weeks.at(-1)!),
  );
  const looking = dated.filter((one) => madeOf(one) === "");
  if (old.length > 0) {
    const first = old.sort(
      (a, b) => order(a.weeks.at(-1)!.first, b.weeks.at(-1)!.first) || order(madeOf(a), madeOf(b)),
    )[0]!;
    const found = ageYears(first.weeks.at(-1)!, today);
    return [ground("too_old", "leave", { limit, found, by: madeOf(first) })];
  }
  if (torn.length > 0) {
    return [ground("decade_open", "plant", { limit, digits: firstDigits(torn) })];
  }
  if (datedBirths.length > 0) return [];
  if (looking.length > 0 && births.length === 0) {
    return [ground("birth_open", "plant", { limit, digits: firstDigits(looking) })];
  }
  return [ground("date_unread", "plant", { limit })];
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
const firstDigits = (tins: ReadTin[]): string => tins.map(({ digits }) => digits).sort(order)[0]!;

/** One retread a TIN with the R mark; the same TIN read on both sides is one, and what is left of a
 * TIN may be another's that was read better. */
function capsOf(limit: number, tins: ReadTin[]): Ground[] {
  const told = (made: Tin["made"]): Set<string> =>
    new Set(tins.filter((one) => madeOf(one) === made).map(({ tin }) => tin));
  const [marked, births] = [told("retread"), told("new")];
  const open = [...told("")].filter((tin) => !marked.has(tin) && !births.has(tin));
  const [least, most] = [apart([...marked]).length, marked.size + open.length];
  if (least > limit) return [ground("too_many_caps", "leave", { limit, found: least })];
  return most > limit ? [ground("caps_open", "plant", { limit, least, most })] : [];
}

/** Those of which no two can be one TIN, the best read first. */
function apart(tins: string[]): string[][] {
  const unread = (symbols: string[]): number => symbols.filter((one) => one === UNREAD).length;
  const bestFirst = tins
    .map((tin) => [...tin])
    .sort((a, b) => unread(a) - a.length - (unread(b) - b.length) || order(a.join(""), b.join("")));
  const kept: string[][] = [];
  for (const each of bestFirst) if (!kept.some((other) => mayBeOne(each, other))) kept.push(each);
  return kept;
}

/** Whether both may be readings of one TIN: from the date backwards no symbol differs. */
function mayBeOne(a: string[], b: string[]): boolean {
  const length = Math.min(a.length, b.length);
  const other = b.slice(-length);
  return a
    .slice(-length)
    .every((one, at) => one === other[at] || one === UNREAD || other[at] === UNREAD);
}

function repairsOf(
  { most_nail_holes: limit, repairs }: Specification,
  findings: Finding[],
): Ground[] {
  const grounds: Ground[] = [];
  const holes = findings.filter(({ kind }) => kind === "nail_hole");
  const found = holes.reduce((sum, { count }) => sum + count, 0);
  if (limit !== null && found > limit) {
    grounds.push(ground("too_many_nail_holes", "leave", { limit, found }));
  }
  for (const facts of repairs === null ? [] : merged(findings)) {
    if (OLD_REPAIRS.includes(facts.kind) && !repairs!.includes(facts.kind)) {
      grounds.push(ground("repair_not_accepted", "leave", { ...facts }));
    }
  }
  return grounds;
}

function brandOf(accepted: string[] | null, brand: string): Ground[] {
  if (accepted === null) return [];
  if (tidied(brand) === "") return [ground("brand_open", "plant")];
  if (accepted.some((one) => tidied(one) === tidied(brand))) return [];
  return [ground("brand_not_accepted", "leave", { brand: unblanked(brand) })];
}

/** Two sizes are one where they read alike: 295/75 R 22.5 is 295/75R22.5. */
function sizeOf(accepted: string[] | null, size: string): Ground[] {
  if (accepted === null || accepted.some((one) => asRead(one) === asRead(size))) return [];
  const told = { size: unblanked(size) };
  if (readSize(size).size !== null) return [ground("size_not_accepted", "leave", told)];
  return [ground("size_open", "plant", tidied(size) === "" ? {} : told)];
}

const asRead = (text: string): string => readSize(text).size?.shown ?? tidied(text);
const unblanked = (text: string): string => text.replace(/^ +| +$/g, "");

/** As two texts are compared: capitals, without blanks. */
export const tidied = (text: string): string => text.replaceAll(" ", "").toUpperCase();
