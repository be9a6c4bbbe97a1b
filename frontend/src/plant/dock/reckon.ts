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

/** Until when scans belong to a list: the next list that was counted here. */
const nextCount = (told: Told[], stamp: number): number =>
  Math.min(
    ...told
      .filter(({ operation }) => operation.kind === "dock.count_in" && operation.stamp > stamp)
      .map(({ operation }) => operation.stamp),
    Number.POSITIVE_INFINITY,
  );

/** Labels scanned for it here, the latest first, each once. */
export function scannedFor(told: Told[], all: Event[], list: Consignment): string[] {
  const count = countOf(told, list.uid);
  if (count === null) return [];
  const until = nextCount(told, count.stamp);
  const outcome = list.way === "in" ? "received" : "shipped";
  const back = takenBack(all);
  const labels = all
    .filter(
      ({ id, stamp, standing, tell }) =>
        stamp > count.stamp &&
        stamp < until &&
        tell.outcome === outcome &&
        standing !== "needs_you" &&
        !back.has(id),
    )
    .map(({ tell }) => tell.label);
  return [...new Set(labels.reverse())];
}

/** Others may scan the same truck: a casing that is inside has come, one that is not is on its way. */
function isDone(list: Consignment, label: string, works: Map<string, Work>): boolean {
  const work = works.get(label);
  const state = list.labels.find((one) => one.label === label)?.state;
  if (state === "here" || state === "gone") return true;
  return list.way === "in" ? work !== undefined : work === undefined || work.stage === "shipped";
}

export interface Reckoning {
  short: string[];
  over: string[];
  scanned: number;
}

export function reckon(list: Consignment, scanned: string[], works: Map<string, Work>): Reckoning {
  const listed = new Set(list.labels.map(({ label }) => label));
  const here = new Set(scanned);
  return {
    short: [...listed].filter((label) => !here.has(label) && !isDone(list, label, works)),
    over: scanned.filter((label) => !listed.has(label)),
    scanned: scanned.length,
  };
}

/** What a label is to a list, as far as is known here. */
export type IsTo = "listed" | "again" | "on_another" | "inside" | "unknown";

export function isTo(
  label: string,
  list: Consignment,
  at: { scanned: string[]; lists: Consignment[]; works: Map<string, Work> },
): IsTo {
  if (at.scanned.includes(label)) return "again";
  if (list.labels.some((one) => one.label === label)) return "listed";
  const others = at.lists.filter(({ uid }) => uid !== list.uid);
  if (others.some(({ labels }) => labels.some((one) => one.label === label))) return "on_another";
  return at.works.has(label) ? "inside" : "unknown";
}
