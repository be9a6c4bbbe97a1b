/** What a label amounts to when finished work is handed over at a counter, and what is told. Pure. */
import { deliver, finishDelivery, type SignedFor, type Telling } from "../../domain/operation";
import type { Casing, Yard } from "../../domain/rows";
import { wearing } from "../../domain/view";
import { isReady, ownerOf } from "./rack";

/** A line of the list: a casing and the id of the operation that will tell of it. */
export interface Line {
  casing: string;
  operation: string;
}

export type Judged =
  | { what: "take" | "again" | "back" | "foreign" | "elsewhere"; casing: Casing }
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
  const listed = all.find(({ id }) => at.lines.some((line) => line.casing === id));
  if (listed !== undefined) return { what: "again", casing: listed };
  const casing = wearing(all, label);
  if (casing === null) {
    const back = all.find(({ progress }) => progress === "returned");
    return back === undefined ? { what: "unknown" } : { what: "back", casing: back };
  }
  // Whose it is comes first: where it is matters to its owner only.
  if (ownerOf(casing, at.yards).id !== at.customer) return { what: "foreign", casing };
  return { what: isReady(casing, at.store) ? "take" : "elsewhere", casing };
}

/** Every operation of a hand-over with its id, in order: each casing, then the end. */
export function told(
  visit: { delivery: string; end: string; store: string; yard: string },
  lines: { casing: Casing; operation: string; foreign: boolean }[],
  signed: Required<SignedFor>,
): { id: string; telling: Telling }[] {
  const { delivery, store, yard } = visit;
  const each = lines.map(({ casing, operation, foreign }) => ({
    id: operation,
    telling: deliver({
      delivery,
      // Who took it is told, whoever owns it: the office asks where the two differ.
      yard: foreign ? yard : casing.yard,
      label: casing.label,
      store,
    }),
  }));
  const casings = lines.map(({ operation }) => operation);
  const end = finishDelivery({ delivery, yard, store, casings, ...signed });
  return [...each, { id: visit.end, telling: end }];
}
