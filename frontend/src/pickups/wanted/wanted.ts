/** What is wanted for one casing and promised for it, as it is being filled in, and as it is told. */
import { shown } from "../../domain/labels";
import type { BackTo, Basis, PickUp, Work } from "../../domain/operation";
import { daysAfter, FURTHEST_DAYS } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import type { Words } from "../words.en";
import { type Offer, promisedOf } from "./offer";

export interface WantedFields {
  work: Work;
  basis: Basis;
  tread_design: string;
  /** Branded on, as the fleet wants it. */
  fleet_brand: string;
  purchase_order: string;
  unit: string;
  back_to: BackTo;
  /** The label of the casing that it runs beside, as a matched pair; "" where it stands alone. A
   * draft of an app before this one has none. */
  dual_with: string;
  /** A day that a person named; "" is as offered. */
  promised_on: string;
}

export type Wanted = Required<
  Pick<
    PickUp,
    | "work"
    | "basis"
    | "tread_design"
    | "fleet_brand"
    | "purchase_order"
    | "unit"
    | "back_to"
    | "dual_with"
    | "promised"
  >
>;

/** What the wire takes of a tread design, a purchase order, a unit. */
export const SHORT_MOST = 40;
export const WORKS: Work[] = ["retread", "repair"];
export const BASES: Basis[] = ["own", "pool", "exchange", "bought", "dealer"];
export const BACKS: BackTo[] = ["yard", "store"];

export const BLANK_WANTED: WantedFields = {
  work: "retread",
  basis: "own",
  tread_design: "",
  fleet_brand: "",
  purchase_order: "",
  unit: "",
  back_to: "yard",
  dual_with: "",
  promised_on: "",
};

/** What a casing was taken for, to be filled in again. */
export const wantedOf = (casing: Casing): WantedFields => ({
  work: WORKS.find((work) => work === casing.work) ?? BLANK_WANTED.work,
  basis: BASES.find((basis) => basis === casing.basis) ?? BLANK_WANTED.basis,
  tread_design: casing.tread_design,
  fleet_brand: casing.fleet_brand,
  purchase_order: casing.purchase_order,
  unit: casing.unit,
  back_to: BACKS.find((place) => place === casing.back_to) ?? BLANK_WANTED.back_to,
  dual_with: casing.dual_with,
  promised_on: casing.promised?.basis === "by_hand" ? casing.promised.on : "",
});

/** The next casing of a pickup is wanted for what the one before was; a day gone by is not, and
 * each is a dual of another. */
export function carriedOn(before: Casing | undefined, today: string): WantedFields {
  if (before === undefined) return BLANK_WANTED;
  const wanted = { ...wantedOf(before), dual_with: "" };
  return wanted.promised_on < today ? { ...wanted, promised_on: "" } : wanted;
}

/** Another casing of a visit, that one may be the dual of. */
export type Mate = Pick<Casing, "label" | "promised">;

/**
 * A pair is back when its last is: the two days, where the mate was promised on its own for another
 * one; else null.
 */
export function mateApart(
  mates: Mate[],
  dual_with: string,
  on: string | null,
): { alone: string; together: string } | null {
  const alone = mates.find(({ label }) => label === dual_with)?.promised?.on;
  if (alone === undefined || on === null || alone === on) return null;
  return { alone, together: alone > on ? alone : on };
}

export function wantedPayload(fields: WantedFields, offer: Offer): Wanted {
  return {
    work: fields.work,
    basis: fields.basis,
    tread_design: fields.work === "retread" ? fields.tread_design.trim() : "",
    fleet_brand: fields.work === "retread" ? fields.fleet_brand.trim() : "",
    purchase_order: fields.purchase_order.trim(),
    unit: fields.unit.trim(),
    back_to: fields.back_to,
    dual_with: fields.dual_with || null,
    promised: promisedOf(fields.promised_on, offer),
  };
}

/** The first and the last day that a person may name. */
export const daysToName = (today: string): { first: string; last: string } => ({
  first: today,
  last: daysAfter(today, FURTHEST_DAYS),
});

/** What is wrong with a day that a person named, in words; null where nothing is. */
export function dayFault(
  fields: WantedFields,
  today: string,
  w: Words,
  day: (day: string) => string,
): string | null {
  const { first, last } = daysToName(today);
  const on = fields.promised_on;
  if (on === "" || (on.length === first.length && on >= first && on <= last)) return null;
  return w.promised_day_fault(day(first), day(last));
}

/** What is wanted in one line of words; that it goes back to the yard is not said. */
export function wantedSaid(fields: WantedFields, w: Words): string {
  const design = fields.work === "retread" ? fields.tread_design.trim() : "";
  return [
    w.works[fields.work],
    design,
    w.bases_short[fields.basis],
    fields.purchase_order.trim() && w.purchase_order_short(fields.purchase_order.trim()),
    fields.unit.trim() && w.unit_short(fields.unit.trim()),
    fields.back_to === "store" ? w.backs_short.store : "",
    fields.dual_with ? w.dual_short(shown(fields.dual_with)) : "",
  ]
    .filter((said) => said !== "")
    .join(" · ");
}
