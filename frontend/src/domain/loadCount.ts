/**
 * A loading that is under way: the driver's own count, made before anything is scanned. What came
 * on is read from what was told, so that a kill takes nothing. Pure.
 */
import type { CountLoad } from "./runTelling";
import type { Road, Wanted } from "./run";
import { difference, driver } from "./truck";

export interface LoadCount {
  /** As it is typed. */
  count: string;
  /** It is counted, and being scanned. */
  began: boolean;
  /** The last hand-over that was told before. */
  after: string;
}

export const BLANK_LOAD_COUNT: LoadCount = { count: "", began: false, after: "" };

/** Labels taken from `place` onto the truck since scanning began, each once, in order. */
export function takenOn({ moves, me }: Road, place: string, after: string): string[] {
  const first = moves.findIndex(({ id }) => id === after) + 1;
  const came = moves
    .slice(first)
    .filter(
      ({ taker, giver, standing }) =>
        taker === driver(me) && giver === place && standing !== "needs_you",
    );
  return [...new Set(came.map(({ label }) => label))];
}

/** What is told when the truck drives off: short and over by label, as far as labels are known. */
export function loadTold(
  place: { site: string; run: string | null; stop: string | null },
  counted: number,
  scanned: string[],
  wanted: Wanted[] | null,
): CountLoad {
  const short = (wanted ?? []).flatMap(({ casing, loaded }) =>
    loaded || casing === null ? [] : [casing.label],
  );
  const named = (wanted ?? []).flatMap(({ casing }) => casing?.label ?? []);
  const over = wanted === null ? [] : difference(named, scanned).over;
  return { ...place, way: "on", counted, scanned, short, over };
}
