/**
 * What the phone may offer without asking anybody: the day of the plants' forecast while it is in
 * force, at the confidence of the yard's account; where no forecast says anything the day of
 * standard times. Pure but for what it is given.
 */
import type { Snapshot } from "../../bridge/snapshot";
import {
  ALL_SIZES,
  type Asked,
  forecastDay,
  HALF,
  inForce,
  NEARLY_ALL,
  NO_DAY,
  USUAL,
} from "../../domain/forecast";
import type { Ahead, Promised } from "../../domain/operation";
import { offered, STORE } from "../../domain/promise";
import type { Casing, PromiseTable } from "../../domain/rows";
import { freight, readSize } from "../../domain/size";

/** What may be promised, on what basis, and the version of the table that says so. */
export interface Offer {
  on: string | null;
  basis: "forecast" | "standard_time";
  table: number | null;
  /** Of a forecast's day: so many percent are back by then; when it was made; what waits. */
  confidence: number | null;
  forecast_at: string | null;
  ahead: Ahead[];
  /** By when half are back, and nearly all. */
  half: string | null;
  nearly: string | null;
  /** When the forecast on this phone ended, where it has. */
  ended: string | null;
}

/** What a day is asked for. */
export interface About {
  work: string;
  back_to: string;
  yard: string;
  size: string;
  count: number;
  percent: number;
  handedOver: string;
  /** An instant as the wire writes it. */
  now: string;
}

/** Where an offer is asked: the yard's account says how sure. */
export const aboutYard = (
  now: Pick<Snapshot, "yards">,
  yard: string,
  handedOver: string,
  clockMs: number,
): Pick<About, "yard" | "percent" | "handedOver" | "now"> => ({
  yard,
  percent: now.yards.find((one) => one.id === yard)?.promise_percent ?? USUAL,
  handedOver,
  now: new Date(clockMs).toISOString(),
});

/** Nothing is offered. */
export const NO_OFFER: Offer = {
  on: null,
  basis: "standard_time",
  table: null,
  confidence: null,
  forecast_at: null,
  ahead: [],
  half: null,
  nearly: null,
  ended: null,
};

export function offerFor(table: PromiseTable | null, about: About): Offer {
  if (table === null) return NO_OFFER;
  const place = about.back_to === "store" ? STORE : about.yard;
  // The wire counts versions from 1.
  const version = table.version > 0 ? table.version : null;
  const asked = askedOf(about);
  const day = (percent: number) =>
    forecastDay(table, { ...asked, percent }, place, about.handedOver, about.now);
  const on = day(asked.percent);
  if (on === NO_DAY) return { ...NO_OFFER, table: version };
  if (on === null || table.forecast === null)
    return {
      ...NO_OFFER,
      on: offered(table, place, about.work, about.handedOver),
      table: version,
      ended:
        table.forecast !== null && inForce(table, about.now) === null
          ? table.forecast.valid_until
          : null,
    };
  return {
    ...NO_OFFER,
    on,
    basis: "forecast",
    table: version,
    confidence: asked.percent,
    forecast_at: table.forecast.made_at,
    ahead: table.forecast.ahead,
    half: day(HALF) || null,
    nearly: day(NEARLY_ALL) || null,
  };
}

const askedOf = ({ work, size, count, percent }: About): Asked => ({
  work,
  sizeClass: sizeClass(size),
  count,
  percent,
});

/** How a casing of this size loads: so the plant's forecast tells them apart. */
export function sizeClass(told: string): string {
  const { size } = readSize(told);
  return size === null ? ALL_SIZES : freight(size).kind;
}

/** What an offer is made for, as far as a correction may change it. */
type OfferedFor = Pick<About, "work" | "back_to" | "size"> & { dual_with?: string };

/** The offer that a correction stands under: the one of then, as long as what it was for stays. */
export function offerOfThen(
  promised: Promised | null,
  was: OfferedFor,
  is: OfferedFor,
  now: Offer,
): Offer {
  if (promised === null || was.work !== is.work || was.back_to !== is.back_to) return now;
  // Standard times know of no size and no pair.
  const forecast = promised.confidence !== null;
  if (forecast && (sizeClass(was.size) !== sizeClass(is.size) || mate(was) !== mate(is)))
    return now;
  const byHand = promised.basis === "by_hand";
  return {
    ...NO_OFFER,
    on: byHand ? promised.offered : promised.on,
    basis: promised.confidence === null ? "standard_time" : "forecast",
    table: promised.table,
    confidence: promised.confidence,
    forecast_at: promised.forecast_at,
    ahead: promised.ahead,
  };
}

const mate = ({ dual_with }: OfferedFor): string => dual_with || "";

/** As it is told: what was offered, or the day that a person named beside it. */
export function promisedOf(named: string, offer: Offer): Promised | null {
  const on = named || offer.on;
  if (on === null) return null;
  return {
    on,
    basis: on === offer.on ? offer.basis : "by_hand",
    offered: offer.on,
    table: offer.table,
    confidence: offer.confidence,
    forecast_at: offer.forecast_at,
    ahead: offer.ahead,
  };
}

/** By when all of a list are back together, and how sure. */
export interface Together {
  on: string;
  count: number;
  percent: number;
}

/** Of what comes back itself and has a day; null where there are not two, where a person agreed on
 * a day beside the forecast, or no forecast says. */
export function together(
  table: PromiseTable | null,
  casings: Casing[],
  at: Pick<About, "yard" | "percent" | "handedOver" | "now">,
): Together | null {
  const due = casings.filter((casing) => casing.promised !== null && casing.basis === "own");
  if (due.length < 2 || due.some(({ promised }) => promised?.basis === "by_hand")) return null;
  const sizes = new Set(due.map(({ size }) => size));
  const days = due.map(({ work, back_to, size }) => {
    const about = { ...at, work, back_to, count: due.length };
    const offer = offerFor(table, { ...about, size: sizes.size === 1 ? size : "" });
    return offer.basis === "forecast" ? offer.on : null;
  });
  const last = days.every((day) => day !== null) ? days.sort().at(-1) : null;
  return last ? { on: last, count: due.length, percent: at.percent } : null;
}

/** Finished casings of the dealer's own at the store that are like what is wanted. */
export function inStock(
  table: PromiseTable | null,
  wanted: { work: string; basis: string; tread_design: string },
  told: string,
): { size: string; tread_design: string; count: number } | null {
  const { size } = readSize(told);
  const design = wanted.tread_design.trim().toLowerCase();
  if (size === null || design === "" || wanted.work !== "retread" || wanted.basis !== "own")
    return null;
  return (
    table?.stock.find(
      (one) => one.size === size.shown && one.tread_design.toLowerCase() === design,
    ) ?? null
  );
}
