/**
 * What this phone has told of a run, laid over the server's row until that shows it. The server
 * folds the same words in `pickups/runs/happenings.py`; both are held to one file of cases. Pure.
 */
import { type Told, visible } from "./laying";
import type { Run, Stop } from "./rows";
import type { AddStop, AtStop, CountLoad, SkipStop } from "./runTelling";

const bare = (uid: string, yard: string, why_added: string): Stop => ({
  uid,
  yard,
  site: null,
  from: null,
  to: null,
  fetch: null,
  note: "",
  drop: [],
  arrived_at: null,
  skipped: null,
  loaded_at: null,
  why_added,
});

/** Lays them in the order of entry; a run that this phone does not have is none of its business. */
export function laidOnRuns(runs: Run[], told: Told[]): Run[] {
  const known = new Map(runs.map((run) => [run.id, { ...run, stops: [...run.stops] }]));
  const mine = told.filter((one) => visible(one) && one.operation.kind.startsWith("runs."));
  mine.sort(
    (a, b) => a.operation.stamp - b.operation.stamp || (a.operation.id < b.operation.id ? -1 : 1),
  );
  for (const { operation } of mine) {
    const run = known.get((operation.payload as { run: string | null }).run ?? "");
    if (run !== undefined) LAYS[operation.kind]?.(run, operation);
  }
  return [...known.values()];
}

type Lay = (run: Run, told: Told["operation"]) => void;

const LAYS: Record<string, Lay> = {
  "runs.arrive": at((_, { happened_at }) => ({ arrived_at: happened_at, skipped: null })),
  "runs.skip": at((_, { happened_at, payload }) => {
    const { why, note = "" } = payload as SkipStop;
    return { skipped: { why, note, at: happened_at } };
  }),
  // The last word about the stop was a mistake: the skip, else the arrival.
  "runs.resume": at(({ skipped, arrived_at }) => ({
    skipped: null,
    arrived_at: skipped === null ? null : arrived_at,
  })),
  "runs.add_stop": (run, { id, payload }) => {
    const { yard, after, why = "" } = payload as AddStop;
    if (run.stops.some(({ uid }) => uid === id)) return;
    const place = after === null ? 0 : run.stops.findIndex(({ uid }) => uid === after) + 1;
    const end = after !== null && place === 0 ? run.stops.length : place;
    run.stops.splice(end, 0, bare(id, yard, why));
  },
  "runs.count_load": (run, told) => {
    const { stop, way } = told.payload as CountLoad;
    if (way === "off") return;
    const loaded = at(() => ({ loaded_at: told.happened_at }));
    if ((stop ?? null) === null) run.loaded_at = told.happened_at;
    else loaded(run, told);
  },
};

function at(change: (stop: Stop, told: Told["operation"]) => Partial<Stop>): Lay {
  return (run, told) => {
    const { stop: uid } = told.payload as AtStop;
    run.stops = run.stops.map((stop) =>
      stop.uid === uid ? { ...stop, ...change(stop, told) } : stop,
    );
  };
}
