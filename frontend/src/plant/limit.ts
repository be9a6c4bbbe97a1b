/** The entered limit that a find is laid against: the strictest that speaks of it. Pure. */
import { isBody } from "../domain/body";
import { classesOf, type Limit, limitsFrom, verdict } from "../domain/limits";
import type { RowLike } from "../domain/rows";
import type { Find } from "./answer";

export interface Held {
  /** `stops`: no limit speaks of what stops a casing. `beside`: to be looked at, no permission. */
  says: "stops" | "none" | "beyond" | "beside";
  most_mm: number | null;
  most_count: number | null;
  /** There are several, and of how many there may be no limit was entered. */
  count_unlimited: boolean;
  /** The charts by name. */
  source: string;
}

const NONE: Held = {
  says: "none",
  most_mm: null,
  most_count: null,
  count_unlimited: false,
  source: "",
};

/** Seen on a casing they end its way: exposed cord or wire, separation, running flat, no code. */
const STOPS = new Set(["cord", "bead_wire", "separation", "run_flat", "dot_removed"]);

export function limitFor(rows: RowLike[], find: Find, size: string): Held {
  if (STOPS.has(find.kind)) return { ...NONE, says: "stops" };
  const body = rows.find(({ entity }) => entity === "repair_limits")?.body;
  if (!isBody(body)) return NONE;
  const limits = limitsFrom(body);
  const { zone, kind, size_mm, count } = find;
  const said = verdict(zone, kind, size_mm ?? 0, count, size, limits);
  const most = strictest(limits.filter((one) => speaks(one, find, size)));
  const count_unlimited = said.silent.includes("count");
  if (said.says === "no limit entered") return { ...NONE, ...most, count_unlimited };
  return {
    says: said.says === "beyond the entered limit" ? "beyond" : "beside",
    ...most,
    count_unlimited,
    source: said.charts.join(", "),
  };
}

const speaks = (one: Limit, { zone, kind }: Find, size: string): boolean =>
  one.active &&
  one.zone === zone &&
  one.kind === kind &&
  (size === "" || classesOf(size).includes(one.size_class));

const least = (all: (number | null)[]): number | null => {
  const told = all.filter((one) => one !== null);
  return told.length === 0 ? null : Math.min(...told);
};

const strictest = (limits: Limit[]) => ({
  most_mm: least(limits.map(({ most_mm }) => most_mm)),
  most_count: least(limits.map(({ most_count }) => most_count)),
});
