/**
 * Tire identification numbers (TIN, "DOT code") of 49 CFR 574.5, as a hand types them. Pure.
 *
 * A TIN tells who made or retreaded a tire and in which week; all tires of one plant, code and
 * week share it, so it is never a key. Each way in which a text can be read is a candidate; what
 * the symbols do not tell stays open and is never guessed. What is wrong or odd is a finding, a
 * key with its facts. The twin of pickups/casings/tin.py, same names, where the sources stand;
 * fixtures/vectors/tin.json holds both to the same answers. A day is a text, "2026-04-15".
 */

/** 49 CFR 574.5(f): twenty letters and ten digits. */
export const SYMBOLS = "0123456789ABCDEFHJKLMNPRTUVWXY";
/** The six letters left out cannot be right anywhere in a TIN: what was meant instead. */
export const SLIPS: Record<string, string> = { G: "6", I: "1", O: "0", Q: "0", S: "5", Z: "2" };
/** A small l is a letter of TINs, but never of their date, where it is the digit it looks like. */
export const DATE_SLIP: [string, string] = ["L", "1"];
/** Typed for a symbol that scuffing has taken away. */
export const UNREAD = "?";

export const THREE_SYMBOL_PLANTS_FROM = "2015-04-13";
export const TWO_SYMBOL_PLANTS_UNTIL = "2025-04-13";
export const THREE_DIGITS_FROM = "1971-05-22";
export const FOUR_DIGITS_FROM = "2000-07-02";
export const FOUR_DIGITS_FIRST_YEAR = 1999;
const LAST_WEEK = 53;
const LONGEST = 13;

const GAPS =
  /[\t-\r \x85\xa0\u1680\u2000-\u200b\u2010-\u2015\u2028\u2029\u202f\u205f\u3000\ufeff()*._:,/-]+/;

/** Which making of the casing a TIN tells of. */
export type Kind = "new" | "retread";

/** How the symbols are grouped: plant + codes + date. */
export type Layout =
  | "new"
  | "retread"
  | "new_old"
  | "retread_old"
  | "new_three_digit"
  | "retread_three_digit"
  | "date_only"
  | "mileage_contract";

/** What there is to say about a text; screens have words for each. */
export type Found =
  | "empty"
  | "symbol_not_used"
  | "length_fits_no_layout"
  | "date_unread"
  | "date_not_numeric"
  | "week_00"
  | "week_above_53"
  | "no_week_53_that_year"
  | "decade_open"
  | "from_the_future"
  | "too_old"
  | "layout_not_in_use_then"
  | "may_be_three_digits"
  | "mileage_contract";

export type Finding = { key: Found; facts: Record<string, number | string> };

/** A letter that no TIN holds, at its place among the symbols, and what it is read as. */
export type Correction = { at: number; typed: string; meant: string };

/** A week of the regulation's calendar, Sunday to Saturday; `last` may lie in the next year. */
export type DateCode = { week: number; year: number; first: string; last: string };

/** One way to read the symbols. kind: null where the layout does not tell. */
export type Candidate = {
  layout: Layout;
  kind: Kind | null;
  plant: string;
  codes: string[];
  digits: string;
  dates: DateCode[];
};

/** All that a text tells. retread: the R mark was seen. date: only where one week is left. */
export type Reading = {
  tin: string;
  retread: boolean;
  date: DateCode | null;
  candidates: Candidate[];
  corrections: Correction[];
  findings: Finding[];
};

/** New or retread as far as it shows; both means that somebody has to look for an R. */
export const kinds = ({ candidates }: Reading): Kind[] =>
  (["new", "retread"] as const).filter((k) =>
    candidates.some((c) => c.kind === k || c.kind === null),
  );

// --- The regulation's calendar -----------------------------------------------------------------

const DAY_MS = 86_400_000;
const numberOf = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;
const dayOf = (number: number): string => new Date(number * DAY_MS).toISOString().slice(0, 10);
const yearOf = (day: string): number => Number(day.slice(0, 4));

/** 1 January 1970, day 0, was a Thursday. */
const weekday = (number: number): number => (((number + 4) % 7) + 7) % 7;

function sundayOf(year: number, week: number): number {
  const newYear = Date.UTC(year, 0, 1) / DAY_MS;
  return newYear + ((7 - weekday(newYear)) % 7) + 7 * (week - 1);
}

/** The Sunday that begins a week; 01 is the first full one, Sunday to Saturday: 574.5(b)(3). */
export const firstDay = (year: number, week = 1): string => dayOf(sundayOf(year, week));

/** 52, or 53 where a last Sunday is left over. Not the weeks of ISO 8601. */
export const weeksIn = (year: number): number => (sundayOf(year + 1, 1) - sundayOf(year, 1)) / 7;

/** A week with its first and last day, or null where that year has no such week. */
export function dateCode(week: number, year: number): DateCode | null {
  if (week < 1 || week > weeksIn(year)) return null;
  const first = sundayOf(year, week);
  return { week, year, first: dayOf(first), last: dayOf(first + 6) };
}

/** The week that a day belongs to; days before the first Sunday belong to the year before. */
export function codeOf(day: string): DateCode {
  const year = day >= firstDay(yearOf(day)) ? yearOf(day) : yearOf(day) - 1;
  return dateCode(Math.floor((numberOf(day) - sundayOf(year, 1)) / 7) + 1, year)!;
}

const two = (n: number): string => String(n).padStart(2, "0");

/** As the date stands on a tire today. */
export const digitsOf = (code: DateCode): string => two(code.week) + two(code.year % 100);

/** Whole weeks from the week of the code to that of a day; less than none is still to come. */
export const ageWeeks = (code: DateCode, on: string): number =>
  Math.floor((numberOf(on) - numberOf(code.first)) / 7);

/** Whole years to a day, counted from the last day of the week, in the casing's favour. */
export const ageYears = ({ last }: DateCode, on: string): number =>
  yearOf(on) - yearOf(last) - (on.slice(5) < last.slice(5) ? 1 : 0);

/** Whether so many years and at least a day have passed since the last day of the week. */
export const olderThan = ({ last }: DateCode, years: number, on: string): boolean =>
  yearOf(last) + years < yearOf(on) ||
  (yearOf(last) + years === yearOf(on) && last.slice(5) < on.slice(5));

/** The weeks that three or four digits may mean, oldest first; none where no year has it. */
export function weeksMeant(digits: string): DateCode[] {
  const week = Number(digits.slice(0, 2));
  if (digits.length === 4) {
    const since = Number(digits.slice(2)) - (FOUR_DIGITS_FIRST_YEAR % 100);
    const code = dateCode(week, FOUR_DIGITS_FIRST_YEAR + ((since + 100) % 100));
    return code ? [code] : [];
  }
  const codes: DateCode[] = [];
  for (let year = 1970 + Number(digits[2]); year <= 2000; year += 10) {
    const code = dateCode(week, year);
    if (code && code.last >= THREE_DIGITS_FROM && code.first < FOUR_DIGITS_FROM) codes.push(code);
  }
  return codes;
}

// --- The symbols -------------------------------------------------------------------------------

/** Read a TIN, or what is left of one, as somebody typed it; nothing is refused. */
export function read(text: string, today: string, ageLimitYears: number | null = null): Reading {
  const upper = text.replace(/[a-z]/g, (letter) => letter.toUpperCase());
  const [groups, retread] = marks(upper.split(GAPS).filter((group) => group !== ""));
  const body = [...groups.join("")];
  if (body.join("").includes("MILEAGE")) {
    const lettering = candidate("mileage_contract", null, "", [], "");
    return reading("", retread, [lettering], [], [{ key: "mileage_contract", facts: {} }]);
  }
  if (body.length === 0) return reading("", retread, [], [], [{ key: "empty", facts: {} }]);
  const corrections = body.flatMap((typed, at) =>
    typed in SLIPS ? [{ at, typed, meant: SLIPS[typed]! }] : [],
  );
  const symbols = body.map((c) => SLIPS[c] ?? c);
  const tin = symbols.join("");
  const found: Finding[] = [];
  const strange = new Set(symbols.filter((c) => !SYMBOLS.includes(c) && c !== UNREAD));
  if (strange.size > 0) {
    found.push({ key: "symbol_not_used", facts: { symbols: [...strange].join("") } });
  }
  const [main, behind] = dateDigits(symbols, [...groups.at(-1)!].length);
  if (main === undefined) {
    return reading(tin, retread, [], corrections, [...found, undated(symbols)]);
  }
  const told = weeksMeant(main);
  const fitting = layouts(symbols, main, retread);
  let inUse = fitting.filter(isInUse);
  const newest = fitting[0];
  if (newest === undefined) {
    found.push({ key: "length_fits_no_layout", facts: { symbols: symbols.length } });
    inUse = [scuffed(main, retread)];
  } else if (inUse.length === 0 || (newest.layout === "new" && !inUse.includes(newest))) {
    // A symbol too many, or a retread: the early 13 are kept in sight, behind what may be.
    found.push({ key: "layout_not_in_use_then", facts: { symbols: symbols.length } });
    inUse = inUse.length === 0 ? fitting : [...inUse, newest];
  }
  found.push(...aboutWeek(main, told), ...aboutAge(told, today, ageLimitYears));
  const others = behind === undefined ? [] : layouts(symbols, behind, retread);
  if (others[0]) found.push({ key: "may_be_three_digits", facts: { digits: others[0].digits } });
  const only = told.length === 1 ? told[0]! : null;
  return reading(tin, retread, unlike([...inUse, ...others]), corrections, found, only);
}

const reading = (
  tin: string,
  retread: boolean,
  candidates: Candidate[],
  corrections: Correction[],
  findings: Finding[],
  date: DateCode | null = null,
): Reading => ({ tin, retread, date, candidates, corrections, findings });

const candidate = (
  layout: Layout,
  kind: Kind | null,
  plant: string,
  codes: string[],
  digits: string,
  dates: DateCode[] = [],
): Candidate => ({ layout, kind, plant, codes, digits, dates });

/** The groups without DOT and without the R mark, which is no part of a TIN: 574.5(c). */
function marks(given: string[]): [string[], boolean] {
  let groups = given;
  let retread = false;
  for (;;) {
    const [first, ...rest] = groups;
    if (first === undefined) return [groups, retread];
    if (first.startsWith("DOT") || first.startsWith("TIN")) {
      groups = first.length > 3 ? [first.slice(3), ...rest] : rest;
    } else if (first === "D0T" && [...groups.join("")].length > LONGEST) {
      groups = rest;
    } else if (first === "R" && rest.length > 0) {
      groups = rest;
      retread = true;
    } else break;
  }
  const last = groups.at(-1)!;
  if (groups.length > 1 && last === "R") return [groups.slice(0, -1), true];
  if (/[0-9GIOQSZ?]R$/.test(last)) return [[...groups.slice(0, -1), last.slice(0, -1)], true];
  return [groups, retread];
}

/** The digits at the end that can be the date, the likelier first: four before three. */
function dateDigits(symbols: string[], lastGroup: number): string[] {
  const four = symbols.slice(-4).join("");
  const three = symbols.slice(-3).join("");
  const ahead = symbols.at(-4);
  if (!/^[0-9]{3}$/.test(three)) return [];
  if (ahead === undefined || lastGroup === 3) return [three];
  if (ahead === UNREAD) return [];
  if (!/^[0-9]$/.test(ahead)) return [three];
  return lastGroup !== 4 && weeksMeant(three).length > 0 ? [four, three] : [four];
}

const scuffed = (digits: string, retread: boolean): Candidate =>
  candidate("date_only", retread ? "retread" : null, "", [], digits, weeksMeant(digits));

/** Every layout that the symbols fit; a first R may be the mark, glued on. */
function layouts(symbols: string[], digits: string, retread: boolean): Candidate[] {
  const dates = weeksMeant(digits);
  const head = symbols.slice(0, symbols.length - digits.length);
  const fits = head.length === 0 ? [scuffed(digits, retread)] : [];
  for (const [layout, kind, plant, codes] of groupings(head, digits.length)) {
    if (kind === "retread" || !retread) {
      fits.push(candidate(layout, kind, plant, codes, digits, dates));
    }
  }
  if (head[0] === "R" && !retread) fits.push(...layouts(symbols.slice(1), digits, true));
  return fits;
}

type Grouping = [Layout, Kind, string, string[]];

/** Plant and codes; retreaders' plant codes had three symbols long before 2015. */
function groupings(head: string[], digits: number): Grouping[] {
  const part = (from: number, to?: number): string => head.slice(from, to).join("");
  const fits: Grouping[] = [];
  if (digits === 4 && head.length === 9) fits.push(["new", "new", part(0, 3), [part(3)]]);
  if (digits === 4 && head.length === 3) fits.push(["retread", "retread", part(0), []]);
  const old: [Layout, Kind, number][] = [
    [digits === 4 ? "new_old" : "new_three_digit", "new", 2],
    [digits === 4 ? "retread_old" : "retread_three_digit", "retread", 3],
    [digits === 4 ? "retread_old" : "retread_three_digit", "retread", 2],
  ];
  for (const [layout, kind, plant] of old) {
    if (head.length < plant || head.length > plant + 6) continue;
    const codes = [part(plant, plant + 2), part(plant + 2)].filter((code) => code !== "");
    fits.push([layout, kind, part(0, plant), codes]);
  }
  return fits;
}

/** Whether tires were marked so in the week of the date. */
function isInUse({ layout, dates }: Candidate): boolean {
  const code = dates.at(-1);
  if (code === undefined) return true;
  if (layout === "new" || layout === "retread") return code.last >= THREE_SYMBOL_PLANTS_FROM;
  if (layout === "new_old" || layout === "retread_old") {
    return code.first <= TWO_SYMBOL_PLANTS_UNTIL;
  }
  return true;
}

/** The first of those that read every symbol alike: the layout in force before the old one. */
function unlike(candidates: Candidate[]): Candidate[] {
  const alike = (c: Candidate): string => JSON.stringify([c.kind, c.plant, c.codes, c.digits]);
  return candidates.filter((c, at) => candidates.findIndex((d) => alike(d) === alike(c)) === at);
}

function undated(symbols: string[]): Finding {
  if (symbols.length < 3) {
    return { key: "length_fits_no_layout", facts: { symbols: symbols.length } };
  }
  const end = symbols.slice(-4).join("");
  const meant = end.replaceAll(...DATE_SLIP);
  if (end.includes(UNREAD)) return { key: "date_unread", facts: { symbols: end } };
  if (/^[0-9]{4}$/.test(meant) && weeksMeant(meant).length > 0) {
    return { key: "date_not_numeric", facts: { symbols: end, meant } };
  }
  return { key: "date_not_numeric", facts: { symbols: end } };
}

function aboutWeek(digits: string, told: DateCode[]): Finding[] {
  const week = Number(digits.slice(0, 2));
  if (week === 0) return [{ key: "week_00", facts: { digits } }];
  if (week > LAST_WEEK) return [{ key: "week_above_53", facts: { digits, week } }];
  if (told.length === 0) return [{ key: "no_week_53_that_year", facts: { digits } }];
  return told.length > 1 ? [{ key: "decade_open", facts: { digits } }] : [];
}

/** From the future if the oldest week is, too old if even the youngest is. */
function aboutAge(told: DateCode[], today: string, limit: number | null): Finding[] {
  const oldest = told[0];
  const youngest = told.at(-1);
  const found: Finding[] = [];
  if (oldest && oldest.first > today) {
    found.push({ key: "from_the_future", facts: { weeks: -ageWeeks(oldest, today) } });
  }
  if (youngest && limit !== null && olderThan(youngest, limit, today)) {
    found.push({ key: "too_old", facts: { years: ageYears(youngest, today), limit } });
  }
  return found;
}
