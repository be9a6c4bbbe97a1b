/** Visits that are open on this phone: begun here, or told here and not finished. */
import type { Snapshot } from "../../bridge/snapshot";
import type { Delivery, Pickup, VisitLine } from "../../domain/rows";
import { words } from "../words";
import { isShut } from "./bulk/waiting";

export interface OpenVisit {
  id: string;
  yard: string;
  count: number;
  lines: VisitLine[];
  /** A casing is half entered on it. */
  draft: boolean;
}

export const sheetKey = (pickup: string): string => `casing:${pickup}`;
export const finishKey = (pickup: string): string => `finish:${pickup}`;
/** The sheet of an unloading: one a driver. */
export const unloadKey = (person: string | null): string => `unload:${person}`;
export const scrapKey = (at: string): string => `scrap:${at}`;
export const leftKey = (line: string): string => `left:${line}`;
export const relabelKey = (casing: string): string => `relabel:${casing}`;
export const correctKey = (casing: string): string => `correct:${casing}`;

/** What was begun on a pickup and is not told yet; its end waits for it. */
export function halfEntered({ drafts }: Pick<Snapshot, "drafts">, pickup: Pickup): string[] {
  const { id, casings, lines } = pickup;
  const keys = new Set([sheetKey(id), scrapKey(id)]);
  for (const casing of casings) keys.add(correctKey(casing.id));
  for (const line of lines) keys.add(line.kind === "scrap" ? scrapKey(line.id) : leftKey(line.id));
  return drafts.map(({ key }) => key).filter((key) => keys.has(key));
}

/** Something may still be entered on it: it is not finished, or is a trailer's that stands closed. */
export const isOpen = (pickup: Pickup): boolean => pickup.finished_at === null || isShut(pickup);

export const pickupOf = (now: Snapshot, id: string): Pickup | null =>
  now.pickups.find((pickup) => pickup.id === id) ?? null;

export function openVisits(now: Snapshot): OpenVisit[] {
  // All of it was taken back and the sheet put away: nothing of it is left to finish.
  const stands = ({ id, casings, lines }: Pickup): boolean =>
    casings.length + lines.length > 0 || now.visits.some((visit) => visit.pickup === id);
  const told = now.pickups.filter(
    (pickup) => pickup.here && pickup.finished_at === null && stands(pickup),
  );
  const begun = now.visits.filter((visit) => pickupOf(now, visit.pickup) === null);
  const drafts = new Set(now.drafts.map((draft) => draft.key));
  return [
    ...begun.map((visit) => ({ id: visit.pickup, yard: visit.yard, count: 0, lines: [] })),
    ...told.map(({ id, yard, count, lines }) => ({ id, yard, count, lines })),
  ].map((visit) => ({ ...visit, draft: drafts.has(sheetKey(visit.id)) }));
}

export const deliveryOf = (now: Snapshot, id: string): Delivery | null =>
  now.deliveries.find((delivery) => delivery.id === id) ?? null;

export interface OpenDelivery {
  id: string;
  yard: string;
  /** The stop of a run that it was begun for. */
  stop: string | null;
  count: number;
}

export function openDeliveries(now: Snapshot): OpenDelivery[] {
  const told = now.deliveries.filter((one) => one.here && one.finished_at === null);
  const begun = now.begun.filter((one) => deliveryOf(now, one.delivery) === null);
  const stopOf = (id: string) => now.links.find((one) => one.visit === id)?.stop ?? null;
  return [
    ...begun.map(({ delivery: id, yard }) => ({ id, yard, stop: stopOf(id), count: 0 })),
    ...told.map(({ id, yard, count }) => ({ id, yard, stop: stopOf(id), count })),
  ];
}

/** The yard of a pickup that may have no casing yet. */
export const yardOf = (now: Snapshot, pickup: string): string | null =>
  pickupOf(now, pickup)?.yard ?? now.visits.find((visit) => visit.pickup === pickup)?.yard ?? null;

export function yardName(now: Snapshot, id: string | null): string {
  const yard = now.yards.find((one) => one.id === id);
  return yard === undefined ? words.value.unknown_yard : `${yard.customer_name}, ${yard.name}`;
}
