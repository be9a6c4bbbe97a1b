/** Pickups that are open on this phone: begun here, or told here and not finished. */
import type { Snapshot } from "../../bridge/snapshot";
import type { Pickup } from "../../domain/rows";
import { words } from "../words";

export interface OpenVisit {
  id: string;
  yard: string;
  count: number;
  /** A casing is half entered on it. */
  draft: boolean;
}

export const sheetKey = (pickup: string): string => `casing:${pickup}`;
export const finishKey = (pickup: string): string => `finish:${pickup}`;
export const correctKey = (casing: string): string => `correct:${casing}`;

export const pickupOf = (now: Snapshot, id: string): Pickup | null =>
  now.pickups.find((pickup) => pickup.id === id) ?? null;

export function openVisits(now: Snapshot): OpenVisit[] {
  const told = now.pickups.filter((pickup) => pickup.here && pickup.finished_at === null);
  const begun = now.visits.filter((visit) => pickupOf(now, visit.pickup) === null);
  const drafts = new Set(now.drafts.map((draft) => draft.key));
  return [
    ...begun.map((visit) => ({ id: visit.pickup, yard: visit.yard, count: 0 })),
    ...told.map(({ id, yard, count }) => ({ id, yard, count })),
  ].map((visit) => ({ ...visit, draft: drafts.has(sheetKey(visit.id)) }));
}

/** The yard of a pickup that may have no casing yet. */
export const yardOf = (now: Snapshot, pickup: string): string | null =>
  pickupOf(now, pickup)?.yard ?? now.visits.find((visit) => visit.pickup === pickup)?.yard ?? null;

export function yardName(now: Snapshot, id: string | null): string {
  const yard = now.yards.find((one) => one.id === id);
  return yard === undefined ? words.value.unknown_yard : `${yard.customer_name}, ${yard.name}`;
}
