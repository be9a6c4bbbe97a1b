/** What the body of a row says, field by field; what is missing reads as nothing. Pure. */
import type { Reminder } from "./reminding";
import type { Ahead, Check, Finding, Promised, Tin } from "./operation";

export type Body = Record<string, unknown>;

export const text = (value: unknown): string => (typeof value === "string" ? value : "");
export const number = (value: unknown): number | null =>
  typeof value === "number" && Number.isFinite(value) ? value : null;
export const isBody = (value: unknown): value is Body =>
  typeof value === "object" && value !== null && !Array.isArray(value);
export const list = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);
export const texts = (value: unknown): string[] =>
  list(value).filter((one) => typeof one === "string");
export const numbers = (value: unknown): number[] =>
  list(value).filter((one): one is number => number(one) !== null);

/** Earlier versions told one TIN, and depths in a row. */
export function tinsFrom(body: Body): Tin[] {
  const told = list(body.tins).filter(isBody) as unknown as Tin[];
  if (told.length > 0) return told;
  return text(body.tin) === "" ? [] : [{ tin: text(body.tin), made: "" }];
}

export function treadsFrom(body: Body): (number | null)[][] {
  const told = list(body.treads_32nds).map((place) => list(place).map(number));
  if (told.length > 0) return told;
  const row = numbers(body.tread_32nds);
  return row.length > 0 ? [row] : [];
}

/** The wire has checked them: they are as they were told. */
export const findingsFrom = (body: Body): Finding[] =>
  list(body.findings).filter(isBody) as unknown as Finding[];
export const checkFrom = (body: Body): Check | null =>
  isBody(body.check) ? (body.check as unknown as Check) : null;

export function promisedFrom(said: unknown): Promised | null {
  if (!isBody(said) || text(said.on) === "") return null;
  const bases = ["forecast", "by_hand"] as const;
  return {
    on: text(said.on),
    basis: bases.find((basis) => basis === said.basis) ?? "standard_time",
    offered: text(said.offered) || null,
    table: number(said.table),
    confidence: number(said.confidence),
    forecast_at: text(said.forecast_at) || null,
    ahead: aheadFrom(said.ahead),
  };
}

/** A reason is no ground to lose a casing: only what the server takes with a promise is kept. */
export const aheadFrom = (said: unknown): Ahead[] =>
  list(said)
    .filter(isBody)
    .map((one) => ({
      name: text(one.name),
      name_es: text(one.name_es),
      count: number(one.count) ?? 0,
    }))
    .filter(
      ({ name, name_es, count }) =>
        [name, name_es].every((one) => [...one].length <= AHEAD_NAME_MOST) &&
        Number.isInteger(count) &&
        count >= 1 &&
        count <= 99_999,
    )
    .slice(0, 3);

/** See Ahead1 in the server's custody/wire/picking_up.py. */
const AHEAD_NAME_MOST = 80;

/** In the order of the facts, which is the server's. */
export const remindersFrom = (said: unknown): Reminder[] =>
  list(said)
    .filter(isBody)
    .map((one) => ({
      step: STEPS.find((step) => step === one.step) ?? "hold",
      at: text(one.at),
      by: text(one.by),
      said: text(one.said),
      until: text(one.until) || null,
      decision: text(one.decision),
    }));

const STEPS: Reminder["step"][] = ["called", "written", "hold", "decided"];
