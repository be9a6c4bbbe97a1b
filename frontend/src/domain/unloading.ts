/**
 * An unloading that is under way: where, the driver's own count, what was on the truck by then.
 * What was handed in is read from what was told, so that a kill takes nothing. Pure.
 */
import { furtherThan, type Road, type RunNow, type StopNow } from "./run";
import type { CountLoad } from "./runTelling";
import {
  difference,
  driver,
  expectedAt,
  type Further,
  holderAt,
  NOTHING_FURTHER,
  onTruck,
} from "./truck";

export interface Unloading {
  site: string;
  /** The run and its stop there; empty where no sheet names the place, or it is where it starts. */
  run: string;
  stop: string;
  /** As it is typed. */
  count: string;
  /** It is counted, and being scanned. */
  began: boolean;
  /** The last hand-over that was told before; clocks may be set meanwhile, the order stays. */
  after: string;
  /** Labels that this phone expected then, and all that it had on the truck. */
  expected: string[];
  aboard: string[];
  ended: boolean;
}

export const BLANK_UNLOADING: Unloading = {
  site: "",
  run: "",
  stop: "",
  count: "",
  began: false,
  after: "",
  expected: [],
  aboard: [],
  ended: false,
};

const isOpen = ({ state }: StopNow): boolean => state === "next" || state === "later";

/** Where a driver most likely unloads: the run's next place of ours, where it started, or `own`. */
export function likelySite(runs: RunNow[], own: string): string {
  const ahead = runs[0]?.stops.find((now) => now.stop.site !== null && isOpen(now));
  return ahead?.stop.site ?? runs[0]?.run.start ?? own;
}

/** What stays on the truck at a site, by the runs that are not over. */
export function furtherAt(road: Road, runs: RunNow[], site: string): Further {
  for (const { run, stops } of runs) {
    const i = stops.findIndex((now) => now.stop.site === site && isOpen(now));
    if (i >= 0) return furtherThan(run, i, road.sites);
    const open = stops.filter(isOpen);
    // Back in the middle of a run: what its open stops are to get stays on.
    if (open.length > 0)
      return { ...NOTHING_FURTHER, later: new Set(open.flatMap(({ stop }) => stop.drop)) };
  }
  return NOTHING_FURTHER;
}

/** What is kept when scanning begins: what this phone expects, and where the telling stands. */
export function begun(
  road: Road,
  runs: RunNow[],
  site: string,
): Omit<Unloading, "count" | "ended"> {
  const truck = onTruck(road, road.me);
  const expected = expectedAt(truck, holderAt(road.sites, site), furtherAt(road, runs, site));
  return {
    site,
    ...stopThere(runs, site),
    began: true,
    after: road.moves.at(-1)?.id ?? "",
    expected: expected.map(({ label }) => label),
    aboard: [...truck.casings.map(({ label }) => label), ...truck.unknown],
  };
}

/** The stop of today's run at which this is unloaded: one that is open, else the last there was. */
function stopThere(runs: RunNow[], site: string): { run: string; stop: string } {
  for (const { run, stops } of runs) {
    const there = stops.filter(({ stop }) => stop.site === site);
    const stop = there.find(isOpen) ?? there.at(-1);
    if (stop !== undefined) return { run: run.id, stop: stop.stop.uid };
    if (run.start === site) return { run: run.id, stop: "" };
  }
  return { run: "", stop: "" };
}

/** Labels handed in at the place since scanning began, the latest last, each once. */
export function handedIn({ moves, me, sites }: Road, { site, after }: Unloading): string[] {
  const [mine, place] = [driver(me), holderAt(sites, site)];
  const first = moves.findIndex(({ id }) => id === after) + 1;
  const came = moves
    .slice(first)
    .filter(
      ({ taker, giver, standing }) => taker === place && giver === mine && standing !== "needs_you",
    );
  return [...new Set(came.map(({ label }) => label))];
}

export interface Reckoning {
  counted: number;
  scanned: number;
  /** Expected and not handed in; handed in and not on the truck by what was told. */
  short: string[];
  over: string[];
}

export function reckon(road: Road, unloading: Unloading): Reckoning {
  const came = handedIn(road, unloading);
  const { short } = difference(unloading.expected, came);
  const { over } = difference(unloading.aboard, came);
  return { short, over, scanned: came.length, counted: Number(unloading.count) };
}

/** What is told of it at the end: the count beside the scans, and what is odd by label. */
export function unloadTold(road: Road, unloading: Unloading): CountLoad {
  const { site, run, stop } = unloading;
  const { counted, short, over } = reckon(road, unloading);
  const scanned = handedIn(road, unloading);
  return { site, run: run || null, stop: stop || null, way: "off", counted, scanned, short, over };
}
