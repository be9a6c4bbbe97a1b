/** Drop-offs of this counter, and what begins one. */
import { signal } from "@preact/signals";
import type { Phone } from "../../bridge/phone";
import type { Snapshot } from "../../bridge/snapshot";
import type { Pickup, Yard } from "../../domain/rows";
import { amend } from "../../store/local";
import { go } from "../route";
import { type OpenVisit, openVisits, pickupOf } from "../yard/visits";
import { type Customer, customersOf } from "./find";

/** A free label that was scanned before anybody said whose casing it is on. */
export const scannedLabel = signal("");

export const storeOf = (now: Snapshot): string => now.enrolment?.site ?? "";

/** Open at this counter: begun here, or told here and not finished. */
export const openDropOffs = (now: Snapshot): OpenVisit[] =>
  openVisits(now).filter(({ id }) => {
    const told = pickupOf(now, id);
    return told === null || told.casings.length === 0 || told.store === storeOf(now);
  });

/** Finished at this counter, the latest first. */
export const finishedDropOffs = (now: Snapshot): Pickup[] =>
  now.pickups.filter(({ store, finished_at }) => store === storeOf(now) && finished_at !== null);

export const customerOf = (now: Snapshot, id: string): Customer | null =>
  customersOf(now.yards).find((customer) => customer.id === id) ?? null;

export const customerOfYard = (now: Snapshot, yard: string): Customer | null =>
  customersOf(now.yards).find(({ yards }) => yards.some((one) => one.id === yard)) ?? null;

/** The yard that a customer's last visit was from, else the first. */
export function usualYard(now: Snapshot, customer: Customer): Yard | undefined {
  const last = now.pickups.find((pickup) => customer.yards.some(({ id }) => id === pickup.yard));
  return customer.yards.find(({ id }) => id === last?.yard) ?? customer.yards[0];
}

export async function begin(phone: Phone, yard: string): Promise<void> {
  const pickup = phone.deps.ids.next();
  const visit = { pickup, yard, begun_at: phone.deps.clock.now() };
  await amend(phone.deps.store.local, "visits", (visits) => [...(visits ?? []), visit]);
  await phone.changed();
  go("pickup", pickup);
}
