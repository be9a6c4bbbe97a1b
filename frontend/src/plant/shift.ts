/** What a station has to know of its day: what comes next, how many it has done, its last scans. Pure. */
import { dayOf } from "../domain/days";
import type { Standing } from "../domain/rows";
import { type Event, takenBack } from "./laid";
import type { Work } from "./rows";

/** Each casing once, whatever labels name it. */
const once = (works: Iterable<Work>): Work[] => [...new Set(works)];

const ENDED = new Set(["shipped", "rejected", "on_hold"]);

/** Casings whose way leads here next: rush first, then the earliest promise, then who waits longest. */
export const queueAt = (works: Iterable<Work>, station: string): Work[] =>
  once(works)
    .filter((work) => work.next === station && !ENDED.has(work.stage))
    .sort(
      (a, b) =>
        Number(b.wanted?.rush ?? false) - Number(a.wanted?.rush ?? false) ||
        (a.wanted?.promised || "9").localeCompare(b.wanted?.promised || "9") ||
        a.seen_at.localeCompare(b.seen_at) ||
        a.label.localeCompare(b.label),
    );

const day = (at: string): string => dayOf(Date.parse(at));

/**
 * How many casings were told at a station on this tablet today, each once. Of other tablets' work
 * only the last few words of a casing come here: a count of those would fall as the day goes on.
 */
export function countToday(
  all: Event[],
  works: Map<string, Work>,
  station: string,
  now: number,
): number {
  const today = dayOf(now);
  const back = takenBack(all);
  const labels = new Set<string>();
  for (const { id, at, tell, standing } of all) {
    const counts = tell.outcome !== "withdrawn" && standing !== "needs_you" && !back.has(id);
    if (tell.station === station && counts && day(at) === today)
      labels.add(works.get(tell.label)?.label ?? tell.label);
  }
  return labels.size;
}

/** A scan that stays in sight until five others came after it. */
export interface LastScan {
  event: Event;
  back: boolean;
  standing: Standing;
}

export const LAST = 5;

/** What was told at this station on this tablet, the newest first. */
export function lastScans(all: Event[], station: string): LastScan[] {
  const back = takenBack(all);
  return all
    .filter(({ tell }) => tell.station === station && tell.outcome !== "withdrawn")
    .slice(-LAST)
    .reverse()
    .map((event) => ({ event, back: back.has(event.id), standing: event.standing }));
}
