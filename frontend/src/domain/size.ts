/**
 * Size designations of truck tires, as a hand types them in a yard. Pure; knows no form, no table.
 *
 * Two families: metric (295/75R22.5) and numeric (11R22.5, 10.00R20); R radial, a dash or D bias. A
 * text that does not read is kept as typed by whoever asked: here stands why, and what may be meant.
 * The twin of pickups/casings/size.py, same names, where the sources of the figures stand;
 * fixtures/vectors/size.json holds both to the same answers.
 */
import { readRating, written } from "./load_index";

export { KM_H, loadKg, PLY, type Rating, type RatingFault, readRating } from "./load_index";

type Millimetres = ReadonlyMap<string, number>;
const millimetres = (table: string): Millimetres =>
  new Map(table.split(" ").map((pair) => [pair.split(":")[0]!, Number(pair.split(":")[1])]));

const HALF_INCH_RIMS_MM = millimetres("17.5:445 19.5:495 22.5:572 24.5:622");
const WHOLE_INCH_RIMS_MM = millimetres("15:381 16:406 18:457 20:508 22:559 24:610");
const RIMS_MM: Millimetres = new Map([...HALF_INCH_RIMS_MM, ...WHOLE_INCH_RIMS_MM]);
const TUBELESS_MM = millimetres(
  "8:203 8.5:215 9:229 9.5:240 10:254 11:279 12:300 13:320 15:387 16.5:419 18:457",
);
const TUBE_TYPE_MM = millimetres(
  "7.00:200 7.50:210 8.25:230 9.00:258 10.00:275 11.00:286 12.00:313 13.00:340 14.00:375",
);
const TUBELESS_ASPECT = 88;
const TUBE_TYPE_ASPECT = 98;
const WIDE_ASPECT = 65;
const WIDE_FROM_MM = 385;

/** What comes to a yard in North America, roughly the commonest first. */
export const USUAL: readonly string[] = `
295/75R22.5 11R22.5 285/75R24.5 11R24.5 255/70R22.5 225/70R19.5 315/80R22.5 445/50R22.5
425/65R22.5 385/65R22.5 245/70R19.5 275/70R22.5 10.00R20 11.00R20 12R22.5 10R22.5 275/80R22.5
265/70R19.5 235/75R17.5 215/75R17.5 455/55R22.5 295/80R22.5 9R22.5 235/80R22.5 255/80R22.5
9.00R20 12.00R20 11.00R22 11.00R24 12.00R24 445/65R22.5 435/50R19.5 385/55R22.5 305/70R22.5
315/70R22.5 245/75R22.5 265/75R22.5 305/75R24.5 285/70R19.5 305/70R19.5 8R19.5 9R17.5 10R17.5
8.25R15 10.00R15 7.50R16 8.25R20 10.00R22 14.00R20 10.00-20 11-22.5 11-24.5
`
  .trim()
  .split(/\s+/);

const MOST_PICKS = 8;
const MOST_OFFERS = 4;

export type Construction = "R" | "D" | "-";

/** What there is to say about a text; screens have words for each. */
export type SizeFound =
  | "empty"
  | "incomplete"
  | "not_read"
  | "out_of_scope"
  | "digits_only"
  | "letter_for_digit"
  | "section_not_used"
  | "aspect_not_used"
  | "rim_not_used"
  | "construction_open"
  | "construction_missing"
  | "slash_missing"
  | "point_missing"
  | "metric_bias"
  | "uncommon"
  | "rating_unread";

export type SizeFinding = { key: SizeFound; facts: Record<string, string | number> };

/** A size that reads. shown: as it stands on a sidewall. aspect: in %, metric sizes only. */
export type Size = {
  shown: string;
  family: "metric" | "numeric";
  section_mm: number;
  aspect: number | null;
  construction: Construction;
  rim: string;
  tube: boolean;
};

/** rating: what stands behind the size, for `readRating`. offers: the likelier first. */
export type SizeReading = {
  size: Size | null;
  rating: string;
  offers: string[];
  findings: SizeFinding[];
};

/** How a worn casing loads: kg, and room in units of one standard casing. */
export type Freight = { kind: "light" | "standard" | "wide"; kg: number; room: number };

// --- Reading -------------------------------------------------------------------------------------

const RIM = "([0-9]{2}(?:\\.[0-9]|[0-9](?![0-9]))?)(?![0-9.])";
const METRIC = new RegExp(
  `^([0-9]{3})( ?[/\\\\X*.-] ?| |)([0-9]{2,3})( ?(?:R|D|-|/|\\\\|X) ?| )${RIM} ?(.*)$`,
  "s",
);
const NUMERIC = new RegExp(
  `^([0-9]{1,2}(?:\\.[0-9]{1,2})?|[0-9]{3,4})( ?(?:R|D|-|X) ?| )${RIM} ?(.*)$`,
  "s",
);
const LIGHT = /^(LT|ST|P|T)(?: ?[0-9])/;
const LIGHT_BEHIND = /^(LT|ST)(?![A-Z0-9])/;
const BEGUN = /^[0-9]{1,3}(?:\.[0-9]{0,2})?(?: ?[/X.-] ?[0-9]{0,3})? ?[RD-]? ?[0-9]{0,2}\.?$/;
/** Letters that a hand or an eye takes for digits. */
const SLIPS: Readonly<Record<string, string>> = {
  O: "0",
  Q: "0",
  I: "1",
  L: "1",
  S: "5",
  Z: "2",
  B: "8",
};

/** Reads a size, and splits off the rating behind it; nothing is refused. */
export function readSize(text: string): SizeReading {
  const line = written(text);
  if (line === "") return { size: null, rating: "", offers: [], findings: [found("empty")] };
  const light = LIGHT.exec(line);
  if (light) return outOfScope(light[1]!);
  const read = straight(line);
  if (read) return read;
  if (BEGUN.test(line)) return unread(line, found("incomplete"));
  for (const corrected of correctedWays(line)) {
    const again = straight(corrected);
    if (!again || (!again.size && again.offers.length === 0)) continue;
    const meant = again.size ? [again.size.shown] : again.offers;
    return unread(line, found("letter_for_digit", { read_as: corrected }), meant);
  }
  return unread(line, found("not_read"));
}

const found = (key: SizeFound, facts: SizeFinding["facts"] = {}): SizeFinding => ({ key, facts });

/** What the symbols tell as they stand; null where they have no form of a size. */
function straight(line: string): SizeReading | null {
  const metric = METRIC.exec(line);
  if (metric) return readMetric(metric.slice(1));
  const numeric = NUMERIC.exec(line);
  if (numeric) return readNumeric(numeric.slice(1));
  if (!/^[0-9 .]+$/.test(line)) return null;
  const meant = fromDigits(digitsOf(line));
  return meant.length > 0 ? unread(line, found("digits_only"), meant) : null;
}

function readMetric(groups: string[]): SizeReading {
  const [section, slash, aspect, mark, rimTyped, rest] = groups as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const typed = `${section}${aspect}${rimTyped}`;
  const [rim, findings] = pointed(rimTyped);
  const light = LIGHT_BEHIND.exec(rest);
  if (light) return outOfScope(light[1]!);
  if (!isMetricSection(Number(section))) {
    return unread(typed, found("section_not_used", { section, allowed: "205 215 ... 495" }));
  }
  if (!isMetricAspect(Number(aspect))) {
    return unread(typed, found("aspect_not_used", { aspect, allowed: "35 40 ... 100" }));
  }
  if (!HALF_INCH_RIMS_MM.has(rim)) {
    return unread(typed, found("rim_not_used", { rim, allowed: listed(HALF_INCH_RIMS_MM) }));
  }
  const hasSlash = slash.trim() === "/";
  const between = mark.trim();
  if (!hasSlash) findings.push(found("slash_missing"));
  // 295-75-22.5: dashes that part the figures, and say nothing of the plies.
  const isTold = between === "R" || between === "D" || (between === "-" && hasSlash);
  const construction = isTold ? constructionOf(between) : "R";
  const offers: string[] = [];
  if (!isTold) {
    findings.push(found("construction_missing"));
  } else if (construction !== "R") {
    findings.push(found("metric_bias"));
    offers.push(`${Number(section)}/${Number(aspect)}R${rim}`);
  }
  const size: Size = {
    shown: `${Number(section)}/${Number(aspect)}${construction}${rim}`,
    family: "metric",
    section_mm: Number(section),
    aspect: Number(aspect),
    construction,
    rim,
    tube: false,
  };
  return told(size, rest, offers, findings);
}

function readNumeric(groups: string[]): SizeReading | null {
  const [sectionTyped, mark, rimTyped, rest] = groups as [string, string, string, string];
  const typed = `${sectionTyped}${rimTyped}`;
  const [rim, findings] = pointed(rimTyped);
  const light = LIGHT_BEHIND.exec(rest);
  if (light) return outOfScope(light[1]!);
  if (!RIMS_MM.has(rim)) {
    // 295 75: a metric size that has only begun
    if (/^[0-9]{3}$/.test(sectionTyped)) return null;
    return unread(typed, found("rim_not_used", { rim, allowed: listed(RIMS_MM) }));
  }
  const tube = WHOLE_INCH_RIMS_MM.has(rim);
  const widths = tube ? TUBE_TYPE_MM : TUBELESS_MM;
  // 1000R20, as it is said
  const section =
    tube && /^[0-9]{3,4}$/.test(sectionTyped) ? sectionTyped.replace(/(..)$/, ".$1") : sectionTyped;
  const between = mark.trim();
  if (!widths.has(section)) {
    const meant = sections(section)
      .filter((s) => widths.has(s))
      .map((s) => `${s}${constructionOf(between)}${rim}`);
    return unread(typed, found("section_not_used", { section, allowed: listed(widths) }), meant);
  }
  if (between !== "R" && between !== "D" && between !== "-") {
    const both = [`${section}R${rim}`, `${section}-${rim}`];
    return unread(typed, found("construction_open"), both);
  }
  const size: Size = {
    shown: `${section}${between}${rim}`,
    family: "numeric",
    section_mm: widths.get(section)!,
    aspect: null,
    construction: between,
    rim,
    tube,
  };
  return told(size, rest, [], findings);
}

const isMetricSection = (mm: number): boolean => mm >= 205 && mm <= 495 && mm % 10 === 5;
const isMetricAspect = (percent: number): boolean =>
  percent >= 35 && percent <= 100 && percent % 5 === 0;
const listed = (table: Millimetres): string => [...table.keys()].join(" ");

/** The rim with its point; 225 is 22.5. */
function pointed(rim: string): [string, SizeFinding[]] {
  if (rim.length !== 3) return [rim, []];
  return [`${rim.slice(0, 2)}.${rim[2]}`, [found("point_missing", { rim })]];
}

const constructionOf = (mark: string): Construction => (mark === "D" || mark === "-" ? mark : "R");

/** A numeric section in the ways of the other kind of rim: 11, 11.00 and 1100. */
function sections(section: string): string[] {
  const inches = /^[0-9]{3,4}$/.test(section) ? section.slice(0, -2) : section.split(".")[0]!;
  return [inches, `${inches}.00`];
}

/** The sizes that have just these digits, where no mark parts them. */
function fromDigits(digits: string): string[] {
  const meant: string[] = [];
  const metric = /^([0-9]{3})([0-9]{2,3})(175|195|225|245)$/.exec(digits);
  if (metric && isMetricSection(Number(metric[1])) && isMetricAspect(Number(metric[2]))) {
    meant.push(`${metric[1]}/${Number(metric[2])}R${pointed(metric[3]!)[0]}`);
  }
  for (const [widths, rims] of [
    [TUBELESS_MM, HALF_INCH_RIMS_MM],
    [TUBE_TYPE_MM, WHOLE_INCH_RIMS_MM],
  ] as const) {
    for (const section of widths.keys()) {
      const short = section.replace(/\.00$/, "");
      for (const rim of rims.keys()) {
        if (digits === digitsOf(section + rim) || digits === digitsOf(short + rim)) {
          meant.push(`${section}R${rim}`, `${section}-${rim}`);
        }
      }
    }
  }
  return meant;
}

/** The line with its first letter read as a digit, its first two, and so on. */
function correctedWays(line: string): string[] {
  const slips = [...line].filter((symbol) => symbol in SLIPS).length;
  return Array.from({ length: slips }, (_, last) => {
    let left = last + 1;
    return line.replace(/[A-Z]/g, (symbol) =>
      symbol in SLIPS && left-- > 0 ? SLIPS[symbol]! : symbol,
    );
  });
}

function told(size: Size, rest: string, offers: string[], findings: SizeFinding[]): SizeReading {
  if (rest !== "" && readRating(rest).faults.length > 0) {
    findings.push(found("rating_unread", { text: rest }));
  }
  const isPlain = size.family === "metric" && size.construction === "R";
  const slips =
    isPlain && !USUAL.includes(size.shown) ? USUAL.filter((u) => isOneSlip(size.shown, u)) : [];
  if (slips.length > 0) findings.push(found("uncommon"));
  return { size, rating: rest, offers: [...offers, ...slips].slice(0, MOST_OFFERS), findings };
}

function unread(typed: string, finding: SizeFinding, meant: string[] = []): SizeReading {
  const digits = digitsOf(typed);
  const begun = digits.length < 2 ? [] : USUAL.filter((u) => digitsOf(u).startsWith(digits));
  const slips = USUAL.filter((u) => isOneSlip(typed, u));
  const offers = meant.length > 0 ? meant : [...new Set([...begun, ...slips])];
  return { size: null, rating: "", offers: offers.slice(0, MOST_OFFERS), findings: [finding] };
}

const outOfScope = (mark: string): SizeReading => ({
  size: null,
  rating: "",
  offers: [],
  findings: [found("out_of_scope", { mark })],
});

const digitsOf = (text: string): string => text.replace(/[^0-9]/g, "");

/** One digit wrong, missing or too many, or two neighbours swapped. */
function isOneSlip(typed: string, usual: string): boolean {
  const a = digitsOf(typed);
  const b = digitsOf(usual);
  if (a.length === b.length) {
    const unlike = [...a].flatMap((digit, at) => (digit === b[at] ? [] : [at]));
    const [first, second] = unlike;
    if (unlike.length === 2 && second === first! + 1) {
      return a[first!] === b[second] && a[second] === b[first!];
    }
    return unlike.length === 1;
  }
  const [longer, shorter] = a.length > b.length ? [a, b] : [b, a];
  if (longer.length !== shorter.length + 1) return false;
  return [...longer].some((_, at) => longer.slice(0, at) + longer.slice(at + 1) === shorter);
}

// --- Figures -------------------------------------------------------------------------------------

/** The nominal rim diameter. */
export const rimMm = (size: Size): number => RIMS_MM.get(size.rim)!;

/**
 * Nominal rim diameter and twice the section height (UN R54), in mm. Metric sizes: exact by that
 * method; numeric ones are approximate, see the twin. A worn casing is smaller.
 */
export function overallDiameterMm(size: Size): number {
  return rimMm(size) + 2 * Math.floor((size.section_mm * aspectOf(size) + 50) / 100);
}

/** How sure the overall diameter is. */
export const diameterSureness = (size: Size): "computed" | "approximate" =>
  size.family === "metric" ? "computed" : "approximate";

function aspectOf(size: Size): number {
  if (size.aspect !== null) return size.aspect;
  if (size.tube) return TUBE_TYPE_ASPECT;
  return size.section_mm >= WIDE_FROM_MM ? WIDE_ASPECT : TUBELESS_ASPECT;
}

const LIGHT_FREIGHT: Freight = { kind: "light", kg: 28, room: 0.5 };
const STANDARD_FREIGHT: Freight = { kind: "standard", kg: 45, room: 1 };
const WIDE_FREIGHT: Freight = { kind: "wide", kg: 70, room: 1.5 };

/** Weight and volume class for loading; standard where the size is not known. */
export function freight(size: Size | null): Freight {
  if (size === null) return STANDARD_FREIGHT;
  if (size.section_mm >= WIDE_FROM_MM) return WIDE_FREIGHT;
  return rimMm(size) < RIMS_MM.get("20")! ? LIGHT_FREIGHT : STANDARD_FREIGHT;
}

/**
 * What to offer while somebody types: this customer's sizes by count, then the usual ones.
 * theirs: sizes of the customer's casings as told, in any order, repeats count; what does not read
 * is left out. typed: its digits narrow the list, those that begin with them first.
 */
export function picks(theirs: string[], typed: string): string[] {
  const texts = new Map<string, number>();
  for (const text of theirs) texts.set(text, (texts.get(text) ?? 0) + 1);
  const counted = new Map<string, number>();
  for (const [text, times] of texts) {
    const shown = readSize(text).size?.shown;
    if (shown !== undefined) counted.set(shown, (counted.get(shown) ?? 0) + times);
  }
  const rank = (shown: string): number => {
    const at = USUAL.indexOf(shown);
    return at < 0 ? USUAL.length : at;
  };
  const own = [...counted.keys()].sort(
    (a, b) => counted.get(b)! - counted.get(a)! || rank(a) - rank(b) || (a < b ? -1 : 1),
  );
  const all = [...own, ...USUAL.filter((shown) => !counted.has(shown))];
  const digits = digitsOf(readSize(typed).size?.shown ?? typed);
  const begun = all.filter((shown) => digitsOf(shown).startsWith(digits));
  const within = all.filter((shown) => !begun.includes(shown) && digitsOf(shown).includes(digits));
  return [...begun, ...within].slice(0, MOST_PICKS);
}
