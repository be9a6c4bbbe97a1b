/**
 * Repair limits: a find held against what the plant entered from its supplier's chart. Pure.
 *
 * A limit counts only once it was entered; what is not beyond one is no permission. The twin of
 * plant/inspection/limits.py, same names; fixtures/vectors/repair_limits.json holds both to the same
 * answers.
 */
import { type Body, isBody, list, number, text } from "./body";

export const LIGHT = "light";
export const MEDIUM = "medium";

/** What a limit has to say of a find; there is no word for a permission. */
export type Says = "no limit entered" | "beyond the entered limit" | "not beyond the entered limit";

/** most_mm: the longest, in mm; most_count: how many on a casing; null: the chart does not say. */
export interface Limit {
  zone: string;
  kind: string;
  /** `light`, `medium`, a size as it stands on a sidewall, or empty for all. */
  size_class: string;
  most_mm: number | null;
  most_count: number | null;
  /** Which chart. */
  source: string;
  active: boolean;
}

export interface Verdict {
  says: Says;
  /** The charts that were asked, by name. */
  charts: string[];
  /** Measures of which no limit was entered; how many is one only where there is more than one. */
  silent: ("size" | "count")[];
}

/**
 * A find held against the entered limits; the strictest of several speaks. One that is silent
 * on how long a find may be says nothing of it, however few there are. `size_class`: the
 * casing's size as read, or its class; where it is empty each limit of the zone and kind counts.
 */
export function verdict(
  zone: string,
  kind: string,
  size_mm: number,
  count: number,
  size_class: string,
  limits: readonly Limit[],
): Verdict {
  const known = classesOf(size_class);
  const asked = limits.filter(
    (one) =>
      one.active &&
      one.zone === zone &&
      one.kind === kind &&
      (size_class === "" || known.includes(one.size_class)),
  );
  const over = asked.filter((one) => isOver(one, size_mm, count));
  const charts = [...new Set((over.length > 0 ? over : asked).map((one) => one.source))].sort();
  const silent = silentOn(asked, count);
  if (over.length === 0 && silent.includes("size"))
    return { says: "no limit entered", charts: [], silent };
  const says = over.length > 0 ? "beyond the entered limit" : "not beyond the entered limit";
  return { says, charts, silent };
}

function silentOn(asked: Limit[], count: number): Verdict["silent"] {
  const silent: Verdict["silent"] = [];
  if (asked.every(({ most_mm }) => most_mm === null)) silent.push("size");
  if (count > 1 && asked.every(({ most_count }) => most_count === null)) silent.push("count");
  return silent;
}

/** Under which size classes a casing falls: all, its own size, and light or medium by its rim. */
export function classesOf(size: string): string[] {
  const rim = /[R-](\d{2}(?:\.5)?)(?:C|LT)?$/.exec(size)?.[1];
  if (rim === undefined) return ["", size];
  return ["", size, Number(rim) >= 17.5 ? MEDIUM : LIGHT];
}

function isOver(one: Limit, size_mm: number, count: number): boolean {
  const tooLong = one.most_mm !== null && size_mm > one.most_mm;
  const tooMany = one.most_count !== null && count > one.most_count;
  return tooLong || tooMany;
}

/** The limits in the row that a plant's devices are given. */
export const limitsFrom = (body: Body): Limit[] =>
  list(body.limits)
    .filter(isBody)
    .map((one) => ({
      zone: text(one.zone),
      kind: text(one.kind),
      size_class: text(one.size_class),
      most_mm: number(one.most_mm),
      most_count: number(one.most_count),
      source: text(one.source),
      active: one.active === true,
    }));
