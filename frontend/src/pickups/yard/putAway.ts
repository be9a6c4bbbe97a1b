/** A visit that was begun on this device is open no more: struck off whatever is open by then. */
import type { Phone } from "../../bridge/phone";
import { amend } from "../../store/local";

export async function putAway(phone: Phone, pickup: string): Promise<void> {
  await amend(phone.deps.store.local, "visits", (visits) =>
    (visits ?? []).filter((visit) => visit.pickup !== pickup),
  );
  await phone.changed();
}
