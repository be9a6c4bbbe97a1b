/**
 * The day that a store's table offers by the plants' forecasts, read without asking anybody: twin
 * of `read` in the server's promises/offering.py, held to fixtures/vectors/offers.json. Pure.
 */
import { numbers } from "./body";
import { DAYS_OFFERED, daysAfter, daysBetween, FURTHEST_OFFERED, STORE } from "./promise";
import type { ForecastTable, PromiseTable } from "./rows";

/** The class of a casing whose size is not known. */
export const ALL_SIZES = "";
/** Percent, where an account says nothing else; and what is told beside it. */
export const USUAL = 90;
export const HALF = 50;
export const NEARLY_ALL = 99;

/** By forecast no day can be promised: too far, or hardly a course brings it back. */
export const NO_DAY = false;

export interface Asked {
  work: string;
  sizeClass: string;
  /** How many casings together; the day is that of the last of them. */
  count: number;
  /** Of a hundred, so many are back by then. */
  percent: number;
}

/** The forecast of a table while it is in force; `now` as the wire writes an instant. */
export const inForce = (table: PromiseTable | null, now: string): ForecastTable | null =>
  table?.forecast != null && now < table.forecast.valid_until ? table.forecast : null;

/**
 * The day for what is handed over on a day, or NO_DAY; null where the forecast is silent, and from
 * the moment on at which it ends: only then do standard times say one. `place`: a yard's id, or
 * STORE. A confidence or a group that is not in the table is read as the next greater one.
 */
export function forecastDay(
  table: PromiseTable | null,
  asked: Asked,
  place: string,
  handedOver: string,
  now: string,
): string | typeof NO_DAY | null {
  const told = inForce(table, now);
  if (table === null || told === null) return null;
  const works = told.days[asked.work] ?? {};
  const groups = works[asked.sizeClass] ?? works[ALL_SIZES] ?? {};
  const sizes = Object.keys(groups).map(Number);
  const at = daysBetween(table.computed_on, handedOver);
  const tellsOf = sizes.length > 0 && told.percents.length > 0;
  if (!tellsOf || !(at >= 0 && at < DAYS_OFFERED)) return null;
  const group = least(sizes, asked.count);
  const percent = least(told.percents, asked.percent);
  if (group === null || percent === null) return NO_DAY;
  const ahead = groups[`${group}`]?.[told.percents.indexOf(percent)]?.[at];
  if (ahead === NO_DAY) return NO_DAY;
  // Only what the server has checked is days; a row that it has not stops nobody.
  if (!Number.isInteger(ahead)) return null;
  const atStore = daysAfter(handedOver, ahead as number);
  if (place === STORE) return atStore;
  const runs = numbers(told.runs[place]);
  return runs.length === 0 ? null : (runAfter(atStore, runs, handedOver) ?? NO_DAY);
}

const least = (values: number[], atLeast: number): number | null => {
  const fit = values.filter((value) => value >= atLeast);
  return fit.length === 0 ? null : Math.min(...fit);
};

/** The first run to a yard after a day; weekdays count from Monday, which is 0. */
function runAfter(day: string, weekdays: number[], handedOver: string): string | null {
  const last = daysAfter(handedOver, FURTHEST_OFFERED);
  for (let at = daysAfter(day, 1); at <= last; at = daysAfter(at, 1))
    if (weekdays.includes((new Date(at).getUTCDay() + 6) % 7)) return at;
  return null;
}
