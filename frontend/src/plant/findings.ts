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

/** The photos that go with a finding which is taken off: those that no other one shows. */
export const photosOff = (all: Find[], off: number): string[] => {
  const others = new Set(findsAfter(all, off).flatMap(({ photos }) => photos));
  return (all[off]?.photos ?? []).filter((sha256) => !others.has(sha256));
};

export const findsAfter = (all: Find[], off: number): Find[] => all.filter((_, i) => i !== off);
