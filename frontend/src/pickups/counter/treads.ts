/**
 * Tread depths as a keyboard tells them. Pure.
 *
 * Places round the tire are divided by a slash, grooves by a space, 32nds of an inch; "-" is a
 * groove that was not read. A place may be typed in one run, where each of its symbols is a digit
 * from 2 to 9 or a dash: then each is a groove. What could be read in two ways:
 *
 *   22 to 29   one depth: two digits that can be one are one
 *   67         6 and 7: no tread is so deep
 *   245        2, 4 and 5; whoever means 24 and 5 types the space
 *   101, 617   neither way is guessed: a space is asked for
 *   29575225   a size's digits, eight or more: asked about, never taken as depths
 *
 * Beside a space each number is a depth of its own. The screen says back what was read.
 */
import { DEEPEST_32NDS } from "../../domain/operation";
import { readSize } from "../../domain/size";
import { MOST_GROOVES } from "../yard/fields";

/** What the wire takes. */
export const MOST_PLACES = 6;

export type Places = (number | null)[][];
export type TreadsFault =
  | { key: "no_depth" | "two_ways"; text: string }
  | { key: "size"; text: string; size: string; depths: string }
  | { key: "grooves" | "places" };
export type Treads = { places: Places } | { fault: TreadsFault };

export function treadsIn(typed: string): Treads {
  const places: Places = [];
  for (const part of typed.split("/").filter((text) => text.trim() !== "")) {
    const read = placeIn(part.split(/[\s,;·]+/).filter((text) => text !== ""));
    if (!Array.isArray(read)) return { fault: read };
    if (read.length > MOST_GROOVES) return { fault: { key: "grooves" } };
    places.push(read);
  }
  return places.length > MOST_PLACES ? { fault: { key: "places" } } : { places };
}

/** As it is typed: a number that is still being typed is not found fault with. */
export function treadsSoFar(typed: string): Treads {
  const read = treadsIn(typed);
  if ("places" in read || /[\s/]$/.test(typed)) return read;
  return treadsIn(typed.replace(/[^\s,;/·]+$/, ""));
}

function placeIn(groups: string[]): (number | null)[] | TreadsFault {
  const only = groups.length === 1 ? groups[0]! : "";
  const size = sizeMeant(only);
  if (size !== null) return { key: "size", text: only, size, depths: [...only].join(" ") };
  if (isRun(only)) return [...only].map((symbol) => (symbol === "-" ? null : Number(symbol)));
  const depths: (number | null)[] = [];
  for (const text of groups) {
    if (text === "-") depths.push(null);
    else if (isDepth(text)) depths.push(Number(text));
    else return { key: /^\d{3,}$/.test(text) ? "two_ways" : "no_depth", text: text.slice(0, 20) };
  }
  return depths;
}

/** The fewest digits of a size in the metric way: 295 75 225. */
const LEAST_OF_A_SIZE = 8;

/** The size that so many digits in one run are as well; null where they are none. */
function sizeMeant(run: string): string | null {
  if (run.length < LEAST_OF_A_SIZE || !/^\d+$/.test(run)) return null;
  const { offers, findings } = readSize(run);
  return findings.some(({ key }) => key === "digits_only") ? (offers[0] ?? null) : null;
}

const isDepth = (text: string): boolean => /^\d{1,2}$/.test(text) && Number(text) <= DEEPEST_32NDS;
const isRun = (text: string): boolean => /^[2-9-]{2,}$/.test(text) && !isDepth(text);

/** As it would be typed with a space between. */
export const treadsShown = (places: Places): string =>
  places
    .map((place) => place.map((depth) => (depth === null ? "-" : String(depth))).join(" "))
    .join(" / ");
