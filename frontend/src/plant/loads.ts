/**
 * Cure loads with what was told of them on this tablet and not yet seen: number, chamber, times,
 * what was set in and out. What is missing is counted from both. Pure.
 */
import type { CureLoad } from "../domain/plantTelling";
import type { RowLike } from "../domain/rows";
import type { Told } from "../domain/view";
import { events, takenBack } from "./laid";
import { type Load, loadFrom, read } from "./rows";
import { isA } from "./stations";

const blank = (uid: string): Load => loadFrom(uid, {});

export function loads(rows: RowLike[], told: Told[]): Load[] {
  const all = new Map(read(rows, "cure_load", loadFrom).map((load) => [load.uid, load]));
  const numbers = new Map([...all.values()].map((load) => [load.number, load.uid]));
  const inOrder = [...told].sort((a, b) => a.operation.stamp - b.operation.stamp);
  for (const { operation, seen, standing } of inOrder) {
    if (operation.kind !== "curing.load") continue;
    const said = operation.payload as CureLoad;
    // The plant's own number makes it one load: its row may stand under another id than was told.
    const uid = numbers.get(said.number) ?? said.load;
    const before = all.get(uid) ?? blank(uid);
    const also = [...new Set([...before.also, said.load])];
    if (all.has(uid)) all.set(uid, { ...before, also });
    if (seen || standing === "needs_you") continue;
    numbers.set(said.number, uid);
    all.set(uid, {
      ...before,
      also,
      number: said.number,
      chamber: said.chamber,
      started_at: said.started_at ?? "",
      ended_at: said.ended_at ?? "",
      lots: said.lots,
      state: stateOf(said, before.state),
    });
  }
  const own = events(told);
  const back = takenBack(own);
  for (const { id, tell, seen, standing } of own) {
    if (seen || standing === "needs_you" || back.has(id) || !tell.load) continue;
    const load = [...all.values()].find(({ number }) => number === tell.load);
    if (load === undefined || tell.outcome !== "passed") continue;
    if (isA(tell.station, "stripping")) setOut(load, tell.label);
    else setIn(load, tell.label, tell.envelope ?? "");
  }
  return [...all.values()].sort((a, b) => b.started_at.localeCompare(a.started_at));
}

/** The row's own word about a load that fell short or was released stands until it says another. */
function stateOf(said: CureLoad, before: string): string {
  if (before === "held" || before === "released") return before;
  return said.ended_at !== null ? "out" : said.started_at !== null ? "in" : "setting";
}

function setIn(load: Load, label: string, envelope: string): void {
  const others = load.set_in.filter((one) => one.label !== label);
  const known = load.set_in.find((one) => one.label === label)?.envelope ?? "";
  load.set_in = [...others, { label, envelope: envelope || known }];
}

function setOut(load: Load, label: string): void {
  if (!load.set_out.includes(label)) load.set_out = [...load.set_out, label];
  load.missing = load.missing.filter((one) => one !== label);
}

/** What went in and has not come out: each with the number of its envelope, where one was told. */
export const missingFrom = (load: Load): { label: string; envelope: string }[] =>
  load.set_in.filter(({ label }) => !load.set_out.includes(label));

/** Loads that a station can work on: none that is over for good. */
export function openLoads(all: Load[], station: string): Load[] {
  if (isA(station, "stripping"))
    return all.filter((load) => load.set_in.length > 0 && missingFrom(load).length > 0);
  return all.filter(({ state }) => state === "setting");
}

/** The label that an envelope or hook is tied to in a load; null where none or several are. */
export function inEnvelope(load: Load, number: string): string | null {
  const tied = load.set_in.filter(({ envelope }) => envelope !== "" && envelope === number.trim());
  return tied.length === 1 ? tied[0]!.label : null;
}
