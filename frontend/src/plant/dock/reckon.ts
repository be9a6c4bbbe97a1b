/**
 * A truck's list against what was scanned: short, over, and what a label is that is not on it.
 * What was scanned is read from what was told, so that a kill takes nothing. Pure.
 */
import type { CountIn } from "../../domain/plantTelling";
import type { Told } from "../../domain/view";
import { type Event, takenBack } from "../laid";
import type { Consignment, Work } from "../rows";

/** The count of a list as it was told on this tablet; null where none was. */
export function countOf(told: Told[], list: string): { counted: number; stamp: number } | null {
  const counts = told
    .filter(
      ({ operation, standing }) => operation.kind === "dock.count_in" && standing !== "needs_you",
    )
    .map(({ operation }) => ({ ...(operation.payload as CountIn), stamp: operation.stamp }))
    .filter(({ consignment }) => consignment === list)
    .sort((a, b) => b.stamp - a.stamp);
  return counts[0] ?? null;
}

/** The label under which a list names a casing, whichever of its labels was read; null: it does not. */
export function listedAs(
  label: string,
  list: Consignment,
  works: Map<string, Work>,
): string | null {
  const names = works.get(label)?.labels ?? [label];
  return list.labels.find((one) => one.label === label || names.includes(one.label))?.label ?? null;
}

/** What else is here: every list, every casing by its labels. */
interface Beside {
  lists: Consignment[];
  works: Map<string, Work>;
}

/** Until when scans that no list names belong to a list: the next list that was counted here. */
const nextCount = (told: Told[], stamp: number): number =>
  Math.min(
    ...told
      .filter(({ operation }) => operation.kind === "dock.count_in" && operation.stamp > stamp)
      .map(({ operation }) => operation.stamp),
    Number.POSITIVE_INFINITY,
  );

/** Labels scanned for it here, as the list has them, the latest first, each once. A scan is the
 * list's that names it; where none of those that were counted by then does, the last counted one's. */
export function scannedFor(
  told: Told[],
  all: Event[],
  list: Consignment,
  { lists, works }: Beside,
): string[] {
  const count = countOf(told, list.uid);
  if (count === null) return [];
  const until = nextCount(told, count.stamp);
  const outcome = list.way === "in" ? "received" : "shipped";
  const back = takenBack(all);
  const counted = lists
    .filter(({ way }) => way === list.way)
    .map((one) => ({ one, stamp: countOf(told, one.uid)?.stamp ?? Number.POSITIVE_INFINITY }));
  const belongs = ({ stamp, tell: { label } }: Event) =>
    counted.some((other) => other.stamp < stamp && listedAs(label, other.one, works) !== null)
      ? listedAs(label, list, works) !== null
      : stamp < until;
  const labels = all
    .filter(
      (one) =>
        one.stamp > count.stamp &&
        one.tell.outcome === outcome &&
        one.standing !== "needs_you" &&
        !back.has(one.id) &&
        belongs(one),
    )
    .map(({ tell: { label } }) => listedAs(label, list, works) ?? label);
  return [...new Set(labels.reverse())];
}

/** Others may scan the same truck: a casing that is inside has come. That one is gone has to be said:
 * where this tablet has no row of it, the rows may have yet to come. */
function isDone(list: Consignment, label: string, works: Map<string, Work>): boolean {
  const work = works.get(label);
  const state = list.labels.find((one) => one.label === label)?.state;
  if (state === "here" || state === "gone") return true;
  return list.way === "in" ? work !== undefined : work?.stage === "shipped";
}

/** Why a casing does not go onto a truck, on its list or not; null: nothing here keeps it. */
export function staysFor(
  label: string,
  list: Consignment,
  works: Map<string, Work>,
): "on_hold" | "not_finished" | null {
  if (list.way === "in") return null;
  const work = works.get(label);
  const named = listedAs(label, list, works);
  const state = list.labels.find((one) => one.label === named)?.state;
  if (state === "on_hold" || (work?.holds.length ?? 0) > 0) return "on_hold";
  const undone =
    work === undefined ? state === "not_finished" : ["in_work", "repair"].includes(work.stage);
  return undone ? "not_finished" : null;
}

export interface Reckoning {
  short: string[];
  over: string[];
  /** On the list, but on hold or not finished: nobody misses them on the truck. */
  stays: string[];
  scanned: number;
}

export function reckon(list: Consignment, scanned: string[], works: Map<string, Work>): Reckoning {
  const listed = new Set(list.labels.map(({ label }) => label));
  const here = new Set(scanned);
  const open = [...listed].filter((label) => !here.has(label) && !isDone(list, label, works));
  return {
    short: open.filter((label) => staysFor(label, list, works) === null),
    over: scanned.filter((label) => !listed.has(label)),
    stays: open.filter((label) => staysFor(label, list, works) !== null),
    scanned: scanned.length,
  };
}

/** What a label is to a list, as far as is known here. */
export type IsTo = "listed" | "again" | "on_another" | "inside" | "unknown";

export function isTo(label: string, list: Consignment, at: Beside & { scanned: string[] }): IsTo {
  const listed = listedAs(label, list, at.works);
  if (at.scanned.includes(listed ?? label)) return "again";
  if (listed !== null) return "listed";
  const others = at.lists.filter(({ uid }) => uid !== list.uid);
  if (others.some((other) => listedAs(label, other, at.works) !== null)) return "on_another";
  return at.works.has(label) ? "inside" : "unknown";
}
