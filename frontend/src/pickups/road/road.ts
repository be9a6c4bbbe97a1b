/** The phone's snapshot as the road sees it: this driver's runs, truck and places; and what each
 * step on the way begins. */
import type { Phone } from "../../bridge/phone";
import type { Snapshot } from "../../bridge/snapshot";
import { handOver } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import { lastMade, type Road, type RunNow, runNow, runsOf } from "../../domain/run";
import { addStop, type arrive, type resume } from "../../domain/runTelling";
import { count, driver, onTruck, type Truck, type Way } from "../../domain/truck";
import { amend } from "../../store/local";
import { goFrom, route } from "../route";
import { words } from "../words";
import { openDeliveries, openVisits } from "../yard/visits";

export const roadOf = (now: Snapshot): Road => ({
  casings: now.casings,
  deliveries: now.deliveries,
  pickups: now.pickups,
  moves: now.moves,
  sites: now.sites,
  links: now.links,
  me: now.person ?? "",
});

export const truckOf = (now: Snapshot): Truck => onTruck(now, now.person ?? "");
export const truckCount = (now: Snapshot): number => count(truckOf(now));

export const runsNow = (now: Snapshot, clockMs: number): RunNow[] =>
  runsOf(now.runs, roadOf(now), dayOf(clockMs));

/** A driver's run by its id; null where it is not theirs, or the office has taken it back. */
export function runOf(now: Snapshot, id: string): RunNow | null {
  const run = now.runs.find((one) => one.id === id && one.driver === now.person);
  return run === undefined ? null : runNow(run, roadOf(now));
}

export function siteName(now: Snapshot, id: string): string {
  const site = now.sites.find((one) => one.id === id);
  const own = now.enrolment?.site === id ? now.enrolment.site_name : words.value.road_unknown_place;
  return site?.name ?? own;
}

/** One hand-over, on the disk when it resolves. */
export async function tellHandOver(
  phone: Phone,
  told: { label: string; way: Way; giver: string; taker: string },
): Promise<void> {
  await phone.enter({ id: phone.deps.ids.next(), telling: handOver(told) });
}

export const me = (now: Snapshot): string => driver(now.person ?? "");

/** A mark of no run that is still with a driver is of no use to anybody. */
const KEEP_MS = 30 * 24 * 3600 * 1000;

/** The stop that a visit at a yard is for: the one named, else one of this driver's that is open. */
function stopAt(phone: Phone, yard: string): string | null {
  const clockMs = phone.deps.clock.now();
  const open = runsNow(phone.now.value, clockMs)
    .filter(({ run }) => run.on <= dayOf(clockMs))
    .flatMap(({ stops }) => stops)
    .find(({ stop, state }) => stop.yard === yard && (state === "next" || state === "later"));
  return open?.stop.uid ?? null;
}

/** Begun, and not finished by now: the phone may have been killed before it struck one off. */
function stillOpen<B>(
  begun: B[],
  known: { id: string; finished_at: string | null }[],
  id: (one: B) => string,
): B[] {
  const over = new Set(known.filter((one) => one.finished_at !== null).map((one) => one.id));
  return begun.filter((one) => !over.has(id(one)));
}

/** The link first: whatever is cut off here, a visit that is begun knows its stop. */
async function link(phone: Phone, visit: string, stop: string | null): Promise<void> {
  const on = phone.deps.clock.now();
  if (stop === null) return;
  await amend(phone.deps.store.local, "links", (links) => [
    ...(links ?? []).filter((one) => one.on > on - KEEP_MS),
    { visit, stop, on },
  ]);
}

/** `here`: where the key was pressed, if work went before. */
export async function startPickup(
  phone: Phone,
  yard: string,
  stop?: string,
  here = route.value,
): Promise<void> {
  const there = openVisits(phone.now.value).find((visit) => visit.yard === yard);
  if (there !== undefined) return goFrom(here, "pickup", there.id);
  let pickup = phone.deps.ids.next();
  await link(phone, pickup, stop ?? stopAt(phone, yard));
  const visit = { pickup, yard, begun_at: phone.deps.clock.now() };
  await amend(phone.deps.store.local, "visits", (visits) => {
    const open = stillOpen(visits ?? [], phone.now.value.pickups, (one) => one.pickup);
    // A glove taps twice: the visit that is begun by then is meant.
    const begun = open.find((one) => one.yard === yard);
    pickup = begun?.pickup ?? pickup;
    return begun === undefined ? [...open, visit] : open;
  });
  await phone.changed();
  goFrom(here, "pickup", pickup);
}

export async function startDelivery(
  phone: Phone,
  yard: string,
  stop?: string,
  here = route.value,
): Promise<void> {
  const there = openDeliveries(phone.now.value).find((visit) => visit.yard === yard);
  if (there !== undefined) return goFrom(here, "delivery", there.id);
  let delivery = phone.deps.ids.next();
  await link(phone, delivery, stop ?? stopAt(phone, yard));
  const visit = { delivery, yard, begun_at: phone.deps.clock.now() };
  await amend(phone.deps.store.local, "deliveries", (all) => {
    const open = stillOpen(all ?? [], phone.now.value.deliveries, (one) => one.delivery);
    const begun = open.find((one) => one.yard === yard);
    delivery = begun?.delivery ?? delivery;
    return begun === undefined ? [...open, visit] : open;
  });
  await phone.changed();
  goFrom(here, "delivery", delivery);
}

/** Today's run, to which a visit at this yard is a stop more: none of today's names the yard, and
 * nothing is open there. */
export function growsBy(now: Snapshot, clockMs: number, yard: string): RunNow | null {
  const today = runsNow(now, clockMs).filter(({ run }) => run.on === dayOf(clockMs));
  const named = today.some(({ run }) => run.stops.some((stop) => stop.yard === yard));
  const open = [...openVisits(now), ...openDeliveries(now)].some((one) => one.yard === yard);
  return named || open ? null : (today[0] ?? null);
}

/** A yard that no sheet names becomes a stop of today's run; its id. */
export async function tellStop(phone: Phone, of: RunNow, yard: string, why: string) {
  const stop = phone.deps.ids.next();
  const told = { run: of.run.id, yard, after: lastMade(of), why: why.trim() };
  await phone.enter({ id: stop, telling: addStop(told) });
  return stop;
}

export async function tellOfStop(
  phone: Phone,
  telling: typeof arrive | typeof resume,
  run: string,
  stop: string,
): Promise<void> {
  await phone.enter({ id: phone.deps.ids.next(), telling: telling({ run, stop }) });
}
