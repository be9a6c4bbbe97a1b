/**
 * What was typed of TINs and treads, said back in words. Pure; `decimal` writes the language's own
 * number, and the rules are the domain's.
 */
import { DEEPEST_32NDS, type Position } from "../../domain/operation";
import type { SizeReading } from "../../domain/size";
import { type Limit, measure } from "../../domain/tread";
import type { Words } from "../words.en";
import { MOST_GROOVES } from "../yard/fields";
import { type Sidewall, sized } from "../yard/sizeText";
import { type Said, tinSaid } from "../yard/tinWords";
import { wheelsOf } from "../yard/treads";
import { LONGEST_TIN, MOST_TINS, tinsIn, tinTexts } from "./tins";
import {
  MOST_PLACES,
  type Places,
  type TreadsFault,
  treadsIn,
  treadsShown,
  treadsSoFar,
} from "./treads";
import type { CounterWords } from "./words.en";

/** Each TIN of the line in words; another look is asked for where one of them asks for it. */
export function tinsSaid(line: string, today: string, w: CounterWords, all: Words): Said {
  const said = tinTexts(line).map((text) => tinSaid(text, today, all));
  if (said.length === 0) return { tone: "soft", text: w.tin_line_hint };
  const text = said.map((one) => one.text).join(" ");
  const tones = said.map((one) => one.tone);
  return { tone: (["asks", "soft", "good"] as const).find((one) => tones.includes(one))!, text };
}

/** What cannot be told of a line of TINs; null where it can. */
export function tinsFault(line: string, today: string, w: CounterWords): string | null {
  const tins = tinsIn(line, today);
  const long = tins.find(({ tin }) => tin.length > LONGEST_TIN);
  if (long !== undefined) return w.tin_long(long.tin, LONGEST_TIN);
  return tins.length > MOST_TINS ? w.tins_many(MOST_TINS) : null;
}

/** What the wire takes of a size and of what stands behind it. */
export const SIZE_MOST = 24;
export const RATING_MOST = 40;

/** What cannot be told of a size as it is typed; null where it can. */
export function sizeFault(fields: Sidewall, w: CounterWords): string | null {
  const { size, rating } = sized(fields);
  if (size.trim().length > SIZE_MOST) return w.size_long(size.trim(), SIZE_MOST);
  return rating.trim().length > RATING_MOST ? w.rating_long(rating.trim(), RATING_MOST) : null;
}

/** What may be meant by slips, or by digits alone, is offered; only what was begun is completed. */
export const completes = ({ size, findings }: SizeReading): boolean =>
  size === null && !findings.some(({ key }) => OPEN.includes(key));
const OPEN = ["construction_open", "digits_only", "letter_for_digit"];

export function treadsFault(typed: string, w: CounterWords): string | null {
  const read = treadsIn(typed);
  return "fault" in read ? faultSaid(read.fault, w) : null;
}

function faultSaid(fault: TreadsFault, w: CounterWords): string {
  switch (fault.key) {
    case "no_depth":
      return w.treads_no_depth(fault.text, DEEPEST_32NDS);
    case "two_ways":
      return w.treads_two_ways(fault.text);
    case "size":
      return w.treads_size(fault.text, fault.size, fault.depths);
    case "grooves":
      return w.treads_many(MOST_GROOVES);
    case "places":
      return w.treads_many_places(MOST_PLACES);
  }
}

/** The readings, the lowest for the law, the mean for wear; what stands out, in careful words. */
export function treadsSaid(
  typed: string,
  about: { position: Position; pull: number | null },
  w: CounterWords,
  all: Words,
  decimal: (value: number) => string,
): { said: Said } | { fault: string } {
  const read = treadsSoFar(typed);
  if ("fault" in read) return { fault: faultSaid(read.fault, w) };
  const { places } = read;
  const wheels = wheelsOf(about.position);
  const found = measure(places, wheels, about.pull);
  if (found.lowest === null || found.mean === null)
    return { said: { tone: "soft", text: w.treads_hint } };
  const uneven = unevenSaid(found, all);
  const ragged = places.some((place) => place.length !== places[0]!.length);
  const text = [
    asRead(places, w),
    `${all.tread_lowest(String(found.lowest), decimal(found.mean))}.`,
    ...belowSaid(found.below, wheels, all),
    pullSaid(found, about.pull, all, decimal),
    uneven,
    ragged ? w.treads_uneven_places : "",
  ];
  const pointing = found.causes.some((cause) => cause !== "uneven_cause_open");
  const asks = pointing || ragged || belowSaid(found.below, wheels, all).length > 0;
  return { said: { tone: asks ? "asks" : "good", text: text.filter(Boolean).join(" ") } };
}

/** Where the position is not known, only what holds of every wheel. */
const belowSaid = (below: Limit[], wheels: ReturnType<typeof wheelsOf>, all: Words): string[] =>
  below
    .filter((limit) => wheels !== null || limit.wheels === "all_other")
    .map((limit) => all.tread_below(limit.least_32nds, limit.wheels));

const asRead = (places: Places, w: CounterWords): string => {
  const shown = treadsShown(places);
  return places.length === 1
    ? w.treads_grooves(places[0]!.length, shown)
    : w.treads_places(places.length, shown);
};

type Found = ReturnType<typeof measure>;

function pullSaid(
  { under_pull, left }: Found,
  pull: number | null,
  all: Words,
  decimal: (value: number) => string,
): string {
  if (pull === null) return "";
  if (under_pull !== null && under_pull > 0) return all.tread_under_pull(under_pull, pull);
  return left !== null && left > 0 ? all.tread_left(decimal(left), pull) : "";
}

function unevenSaid({ across, between, causes }: Found, all: Words): string {
  if (causes.length === 0) return "";
  const round = causes.includes("may_be_balance_or_flat_spot");
  const differences = [
    causes.length > Number(round) ? all.tread_across(across) : "",
    round ? all.tread_between(between) : "",
  ];
  const said = causes.map((cause) => all.tread_causes[cause]);
  return all.tread_uneven(differences.filter(Boolean).join(", "), said.join(", "));
}
