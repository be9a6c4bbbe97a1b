/** What a driver tells of a run on the way, as a device makes it; the shapes are those of the
 * server's runs wire. Pure. */

export const WHYS = [
  "closed",
  "nobody_there",
  "refused",
  "blocked",
  "no_room",
  "no_time",
  "other",
] as const;
/** Why a stop is not made. */
export type Why = (typeof WHYS)[number];

export interface AtStop {
  run: string;
  stop: string;
}

export interface SkipStop extends AtStop {
  why: Why;
  note?: string;
  photos?: string[];
}

/** A stop at a yard that no sheet named; the operation's id is the stop's. */
export interface AddStop {
  run: string;
  yard: string;
  /** The stop behind which it comes; null where it is the first. */
  after: string | null;
  why?: string;
}

/** What was counted by hand before it was scanned onto the truck or off it, and what came of it.
 * A run without a stop is where it starts; neither where no sheet names the place. */
export interface CountLoad {
  site: string;
  way: "on" | "off";
  counted: number;
  scanned: string[];
  run: string | null;
  stop: string | null;
  short: string[];
  over: string[];
}

export type RunTelling =
  | { kind: "runs.arrive"; version: 1; payload: AtStop }
  | { kind: "runs.skip"; version: 1; payload: SkipStop }
  | { kind: "runs.resume"; version: 1; payload: AtStop }
  | { kind: "runs.add_stop"; version: 1; payload: AddStop }
  | { kind: "runs.count_load"; version: 1; payload: CountLoad };

export const arrive = (payload: AtStop): RunTelling => ({
  kind: "runs.arrive",
  version: 1,
  payload,
});

export const skipStop = (payload: SkipStop): RunTelling => ({
  kind: "runs.skip",
  version: 1,
  payload,
});

export const resume = (payload: AtStop): RunTelling => ({
  kind: "runs.resume",
  version: 1,
  payload,
});

export const addStop = (payload: AddStop): RunTelling => ({
  kind: "runs.add_stop",
  version: 1,
  payload,
});

export const countLoad = (payload: CountLoad): RunTelling => ({
  kind: "runs.count_load",
  version: 1,
  payload,
});
