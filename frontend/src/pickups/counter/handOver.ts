/** What a label amounts to when finished work is handed over at a counter, and what is told. Pure. */
import type { Doubt } from "../../domain/asked";
import { deliver, finishDelivery, type SignedFor, type Telling } from "../../domain/operation";
import type { Casing, Delivery, Yard } from "../../domain/rows";
import { wearing } from "../../domain/view";
import { isBack, ownerOf } from "./rack";

/** A line of the list: a casing and the id of the operation that will tell of it. */
export interface Line {
  casing: string;
  operation: string;
  /** What was odd about it was asked, and it is to be handed over all the same. */
  asked?: boolean;
  /** When it was ticked, in ms. */
  at?: number;
}

/** `told`: the label that it was told under; null where it is not told yet. */
export interface Listed extends Line {
  told: string | null;
}

/**
 * The list as it stands. What was told under the delivery is on it, whatever became of the sheet:
 * who was cut off in the middle signs for it too. What the office could not take is off it.
 */
export function listed(lines: Line[], delivery: Delivery | null): Listed[] {
  const told = new Map((delivery?.lines ?? []).map((one) => [one.id, one]));
  const stands = [...told.values()].filter(({ standing }) => standing !== "needs_you");
  const handed = new Set(stands.map(({ casing }) => casing));
  const onSheet = new Set(lines.map(({ operation }) => operation));
  const kept = lines.flatMap((line): Listed[] => {
    const one = told.get(line.operation);
    if (one === undefined) return handed.has(line.casing) ? [] : [{ ...line, told: null }];
    return one.standing === "needs_you" ? [] : [{ ...line, told: one.label }];
  });
  const missing = stands
    .filter(({ id }) => !onSheet.has(id))
    .map(({ id, casing, label }) => ({ casing: casing ?? "", operation: id, told: label }));
  return [...kept, ...missing];
}

/** When the last was ticked of those that an earlier try has left on the list; null without any. */
export function keptSince(lines: Listed[], opened: number): number | null {
  const kept = leftOver(lines, opened).map(({ at }) => at ?? 0);
  return kept.length > 0 ? Math.max(...kept) : null;
}

/** Ticked before this page was opened, and not told. */
export const leftOver = (lines: Listed[], opened: number): Listed[] =>
  lines.filter(({ told, at }) => told === null && at !== undefined && at < opened);

export type Judged =
  | { what: "take" | "again" | "back"; casing: Casing }
  | { what: "ask"; casing: Casing; doubts: Doubt[] }
  | { what: "unknown" };

export interface At {
  casings: Map<string, Casing>;
  yards: Yard[];
  store: string;
  /** Who stands in front. */
  customer: string;
  lines: Line[];
}

export function judge(label: string, at: At): Judged {
  const all = [...at.casings.values()].filter((one) => one.label === label && one.pickup !== "");
  const there = all.find(({ id }) => at.lines.some((line) => line.casing === id));
  if (there !== undefined) return { what: "again", casing: there };
  const casing = wearing(all, label);
  if (casing === null) {
    const back = all.find(({ progress }) => progress === "returned");
    return back === undefined ? { what: "unknown" } : { what: "back", casing: back };
  }
  const doubts = doubtsAbout(casing, at);
  return doubts.length > 0 ? { what: "ask", casing, doubts } : { what: "take", casing };
}

/** What is odd about handing it over here, the gravest first; so that a driver is asked too. */
export function doubtsAbout(
  casing: Casing,
  { yards, store, customer }: Pick<At, "yards" | "store" | "customer">,
): Doubt[] {
  const foreign = ownerOf(casing, yards).id !== customer;
  const doubts: (Doubt | false)[] = [
    // Whose it is comes first: where it is matters to its owner only.
    foreign && "other_customer",
    casing.dealers !== "" && "dealers",
    casing.on_hold && "on_hold",
    casing.standing === "in_question" && "in_question",
    !foreign && !isBack(casing, store) && "elsewhere",
  ];
  return doubts.filter((doubt) => doubt !== false);
}

export interface Chosen {
  label: string;
  /** Null where this device has not its work order any more: then it is told already. */
  casing: Casing | null;
  operation: string;
  foreign: boolean;
  told: boolean;
}

/** Every operation of a hand-over with its id, in order: each casing, then the end. */
export function told(
  visit: { delivery: string; end: string; store: string; yard: string },
  lines: Chosen[],
  signed: Required<SignedFor>,
  receipt_key: string,
): { id: string; telling: Telling }[] {
  const { delivery, store, yard } = visit;
  const each = lines
    .filter((line) => !line.told)
    .map(({ label, casing, operation, foreign }) => ({
      id: operation,
      telling: deliver({
        delivery,
        // Who took it is told, whoever owns it: the office asks where the two differ.
        yard: foreign || casing === null ? yard : casing.yard,
        label,
        store,
      }),
    }));
  const casings = lines.map(({ operation }) => operation);
  const end = finishDelivery({ delivery, yard, store, casings, ...signed, receipt_key });
  return [...each, { id: visit.end, telling: end }];
}
