/** Findings of a station in words. */
import type { Side, Zone } from "../domain/operation";
import { lengthSaid, placeSaid } from "../pickups/seen/findings";
import { decimal, words } from "../pickups/words";
import type { Find } from "./answer";

/** A kind that only a plant tells of is said as it is written. */
export const kindSaid = (kind: string): string =>
  (words.value.kinds as Record<string, string>)[kind] ?? kind.replaceAll("_", " ");

export const findSaid = (one: {
  zone: Zone;
  side: Side;
  kind: string;
  size_mm: number | null;
  count: number;
}): string =>
  [
    kindSaid(one.kind),
    placeSaid(one, words.value),
    one.size_mm === null ? "" : lengthSaid(one.size_mm, words.value, decimal),
    one.count > 1 ? words.value.condition_times(one.count) : "",
  ]
    .filter(Boolean)
    .join(" · ");

export const findsAfter = (all: Find[], off: number): Find[] => all.filter((_, i) => i !== off);
