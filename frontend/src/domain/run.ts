/**
 * A driver's run as it stands: which stop is next and what it needs now, read from what this phone
 * knows. A stop is done when its casings are where they belong and what waits was fetched, when
 * the visits begun for it are finished, or when its driver has skipped it. Pure; days are those
 * of this phone's calendar.
 */
import { dayOf, momentOf } from "./days";
import type { Casing, Pickup, Run, Site, Stop } from "./rows";
import {
  driver,
  expectedAt,
  type Further,
  holderAt,
  isAt,
  isPlant,
  isRejected,
  type Known,
  onTruck,
  type Truck,
  wayOf,
} from "./truck";

/** A pickup or a delivery that was begun on this phone for a stop of a run. */
export interface Link {
  visit: string;
  stop: string;
  on: number;
}

export interface Road extends Known {
  pickups: Pickup[];
  sites: Site[];
  links: Link[];
  /** Who holds this phone. */
  me: string;
}

export interface Drop {
  /** The work order; its casing may not have come to this phone. */
  id: string;
  casing: Casing | null;
  at: "done" | "truck" | "away";
}

export type Need = "load" | "deliver" | "fetch" | "unload" | "none";

export interface StopNow {
  stop: Stop;
  /** Its place on the run, first is 1. */
  number: number;
  drops: Drop[];
  /** Of what is still to be dropped: how many, and how many of these are rejected. */
  left: number;
  rejected: number;
  /** Of what is still to be dropped: how many are on the truck. */
  aboard: number;
  /** How many are said to wait; null where that is not known. */
  fetch: number | null;
  need: Need;
  state: "done" | "passed" | "next" | "later";
}

/** One casing that is to be loaded for a stop. */
export interface Wanted {
  id: string;
  casing: Casing | null;
  /** Which of the run's stops, first is 1. */
  stop: number;
  loaded: boolean;
}

export interface Loading {
  /** In the order of loading: what leaves the truck last goes in first. */
  wanted: Wanted[];
  /** The sheet names nothing: what stands at this place is meant. */
  open: boolean;
  over: boolean;
}

export interface RunNow {
  run: Run;
  loading: Loading;
  stops: StopNow[];
  /** What is to be done now: the loading, a stop, or nothing more on this run. */
  next: "loading" | StopNow | null;
}

/** A driver's load sheets: today's, then earlier ones that are not over, then later ones. */
export function runsOf(runs: Run[], road: Road, today: string): RunNow[] {
  const mine = runs.filter((run) => run.driver === road.me).map((run) => runNow(run, road));
  const todays = mine.filter(({ run }) => run.on === today);
  const left = mine.filter(({ run, next }) => run.on < today && next !== null);
  return [...todays, ...left, ...mine.filter(({ run }) => run.on > today)];
}

export function runNow(run: Run, road: Road): RunNow {
  const truck = onTruck(road, road.me);
  const stops = run.stops.map((stop, i) => stopNow(run, stop, i, road, truck));
  const loading = loadingAt(run, -1, road);
  let next: RunNow["next"] = loading.over ? null : "loading";
  for (const stop of stops) {
    if (stop.state !== "later" || next !== null) continue;
    stop.state = "next";
    next = stop;
  }
  return { run, loading, stops, next };
}

function stopNow(run: Run, stop: Stop, i: number, road: Road, truck: Truck): StopNow {
  const at = stop.site === null ? null : holderAt(road.sites, stop.site);
  const drops = stop.drop.map((id) => drop(id, at, road));
  const open = drops.filter((one) => one.at !== "done");
  const now: StopNow = {
    stop,
    number: i + 1,
    drops,
    left: open.length,
    aboard: open.filter((one) => one.at === "truck").length,
    rejected: open.filter(rejected).length,
    fetch: stop.fetch,
    need: "none",
    state: "later",
  };
  const need = at === null ? yardNeeds(run, now, road) : siteNeeds(run, now, at, road, truck);
  // Who has driven off from it is done there, whatever was unloaded without a scan.
  if (need === "none" || stop.loaded_at !== null) return { ...now, state: "done" };
  return stop.skipped === null ? { ...now, need } : { ...now, state: "passed" };
}

function drop(id: string, at: string | null, { casings, me }: Road): Drop {
  const casing = casings.get(id) ?? null;
  if (casing === null || casing.pickup === "") return { id, casing: null, at: "away" };
  if (casing.progress === "returned") return { id, casing, at: "done" };
  if (casing.holder === driver(me)) return { id, casing, at: "truck" };
  // A yard has it only when it is back with its owner; a plant may have begun with it.
  const there =
    at !== null && (isAt(casing, at) || (isPlant(at) && casing.progress !== "picked_up"));
  return { id, casing, at: there ? "done" : "away" };
}

/** Where a run starts (i is -1) or its stop i is, if that is a place of the dealer's. */
const placeOf = (run: Run, i: number, sites: Site[]): string | null => {
  const site = i < 0 ? run.start : (run.stops[i]?.site ?? null);
  return site === null ? null : holderAt(sites, site);
};

const since = (at: string | null, day: string): boolean =>
  at !== null && dayOf(Date.parse(at)) >= day;

function yardNeeds(run: Run, { stop, left, drops, fetch }: StopNow, road: Road): Need {
  const mine = new Set(road.links.filter((one) => one.stop === stop.uid).map((one) => one.visit));
  // What a customer brings to a counter itself is no visit of a driver's to its yard.
  const ended = (visit: Ended): boolean =>
    mine.has(visit.id) && visit.finished_at !== null && visit.store === null;
  if (left > 0 && !road.deliveries.some(ended)) return "deliver";
  // A stop for which nothing is written is a visit: something may wait there.
  const fetches = fetch === null ? drops.length === 0 : fetch > 0;
  // One that this phone did not begin for a stop counts for any of its yard since the run's day.
  const linked = new Set(road.links.map((one) => one.visit));
  const came = (visit: Ended): boolean =>
    visit.yard === stop.yard &&
    visit.store === null &&
    since(visit.finished_at, run.on) &&
    !linked.has(visit.id);
  const fetched =
    road.pickups.some((visit) => ended(visit) || came(visit)) ||
    // A stop of a driver's own was for whatever was done there.
    (stop.why_added !== null && road.deliveries.some(ended));
  return fetches && !fetched ? "fetch" : "none";
}

type Ended = Pick<Pickup, "id" | "yard" | "store" | "finished_at">;

function siteNeeds(run: Run, now: StopNow, at: string, road: Road, truck: Truck): Need {
  const i = now.number - 1;
  const mine = driver(road.me);
  const unloaded = road.moves.some(
    ({ giver, taker, at: when }) => giver === mine && taker === at && since(when, run.on),
  );
  const loaded = now.stop.loaded_at !== null;
  const expected = expectedAt(truck, at, furtherThan(run, i, road.sites));
  if (expected.length > 0 || (now.left > 0 && !unloaded && !loaded)) return "unload";
  if (!loadingAt(run, i, road).over) return "load";
  return unloaded || now.drops.length > 0 ? "none" : "unload";
}

/** What stays on the truck when it is unloaded at stop i of a run. */
export function furtherThan(run: Run, i: number, sites: Site[]): Further {
  const after = run.stops.slice(i + 1);
  return {
    later: new Set(after.flatMap((stop) => stop.drop)),
    plant: after.some((stop) => stop.site !== null && isPlant(holderAt(sites, stop.site))),
    here: new Set(run.stops[i]?.drop ?? []),
  };
}

/** What is to be loaded at the start of a run (i is -1) or at one of its stops. */
export function loadingAt(run: Run, i: number, road: Road): Loading {
  const places = run.stops.map((_, k) => placeOf(run, k, road.sites));
  const here = placeOf(run, i, road.sites);
  const wanted: Wanted[] = [];
  for (let j = run.stops.length - 1; j > i; j--) {
    // What stands at a place between is loaded there.
    const later = places.slice(i + 1, j).filter((place) => place !== here);
    const found = run.stops[j]!.drop.map((id) => drop(id, places[j] ?? null, road));
    for (const { id, casing, at } of found.sort(byLabel)) {
      const stands = (place: string | null) =>
        casing !== null && place !== null && isAt(casing, place);
      // At the start all are asked for, wherever they are; on the way what is there.
      const asked = i < 0 ? !later.some(stands) : stands(here);
      if (at === "truck" || (at === "away" && asked))
        wanted.push({ id, casing, stop: j + 1, loaded: at === "truck" });
    }
  }
  const behind = (i < 0 ? run.loaded_at : (run.stops[i]?.loaded_at ?? null)) !== null;
  const after = run.stops.slice(i + 1);
  const named = after.some((stop) => stop.drop.length > 0);
  const open = run.kind === "transfer" && after.length > 0 && !named && here !== null && !behind;
  return { wanted, open, over: behind || (!open && wanted.every((one) => one.loaded)) };
}

/** By label; the rejected last, since they are said apart. */
const byLabel = (a: Drop, b: Drop): number =>
  Number(rejected(a)) - Number(rejected(b)) ||
  (a.casing?.label ?? a.id).localeCompare(b.casing?.label ?? b.id);

const rejected = ({ casing }: Drop): boolean => casing !== null && isRejected(casing);

/** What stands at a place and goes the way that a transfer from there takes. */
export function standingAt(casings: Iterable<Casing>, place: string): Casing[] {
  const way = isPlant(place) ? "out" : "in";
  return [...casings].filter(
    (casing) =>
      casing.pickup !== "" &&
      casing.progress !== "returned" &&
      isAt(casing, place) &&
      wayOf(casing) === way,
  );
}

/** The stop behind which a driver's own one comes: the last that is over, or where the truck is. */
export function lastMade({ stops }: RunNow): string | null {
  const made = ({ stop, state }: StopNow) =>
    state === "done" || state === "passed" || stop.arrived_at !== null;
  return stops.filter(made).at(-1)?.stop.uid ?? null;
}

/** The window of a stop has ended, and nobody was there in time. `clockMs`: now. */
export function windowMissed(run: Run, { stop, state }: StopNow, clockMs: number): boolean {
  const came = stop.arrived_at;
  if (stop.to === null || state === "passed" || (came === null && state === "done")) return false;
  const at = momentOf(came === null ? clockMs : Date.parse(came));
  return at > `${run.on}T${stop.to}:00`;
}
