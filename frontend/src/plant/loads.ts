/**
 * Cure loads with what was told of them on this tablet: number, chamber, times, what was set in and
 * out. A load's row is written a moment after the words that make it, so a word lies over it until
 * the row itself shows it. What is missing is counted from both. Pure.
 */
import type { CureLoad } from "../domain/plantTelling";
import type { RowLike } from "../domain/rows";
import type { Told } from "../domain/view";
import { events, takenBack } from "./laid";
import { type Load, loadFrom, read, type Work } from "./rows";
import { isA } from "./stations";

const blank = (uid: string): Load => loadFrom(uid, {});

export function loads(rows: RowLike[], told: Told[], works: Map<string, Work>): Load[] {
  const all = new Map(read(rows, "cure_load", loadFrom).map((load) => [load.uid, load]));
  const numbers = new Map([...all.values()].map((load) => [load.number, load.uid]));
  const inOrder = [...told].sort((a, b) => a.operation.stamp - b.operation.stamp);
  for (const { operation, seen, standing } of inOrder) {
    if (operation.kind !== "curing.load" || standing === "needs_you") continue;
    const said = operation.payload as CureLoad;
    // The plant's own number makes it one load: its row may stand under another id than was told.
    const uid = numbers.get(said.number) ?? said.load;
    const before = all.get(uid) ?? blank(uid);
    const now = seen && before.number !== "" ? behind(before, said) : whole(before, said);
    numbers.set(said.number, uid);
    all.set(uid, { ...now, also: [...new Set([...before.also, said.load])] });
  }
  const own = events(told);
  const back = takenBack(own);
  for (const { id, tell, seen, standing } of own) {
    if (standing === "needs_you" || back.has(id) || !tell.load) continue;
    const load = [...all.values()].find(({ number }) => number === tell.load);
    if (load === undefined || tell.outcome !== "passed") continue;
    // The casing's own row says at once whether a word that was seen still stands.
    if (seen && !works.get(tell.label)?.loads.includes(tell.load)) continue;
    if (isA(tell.station, "stripping")) setOut(load, tell.label);
    else setIn(load, tell.label, tell.envelope ?? "");
  }
  return [...all.values()].sort((a, b) => b.started_at.localeCompare(a.started_at));
}

/** A newer word in the place of what was known. */
const whole = (before: Load, said: CureLoad): Load => ({
  ...before,
  number: said.number,
  chamber: said.chamber ?? "",
  started_at: said.started_at ?? "",
  ended_at: said.ended_at ?? "",
  lots: said.lots ?? [],
  state: stateOf(said, before.state),
});

const STATES = ["setting", "in", "out"];

/** The row may not have caught up: what it has not, the word says. */
function behind(row: Load, said: CureLoad): Load {
  const state = stateOf(said, row.state);
  return {
    ...row,
    started_at: row.started_at || (said.started_at ?? ""),
    ended_at: row.ended_at || (said.ended_at ?? ""),
    state: STATES.indexOf(state) > STATES.indexOf(row.state) ? state : row.state,
  };
}

/** The row's own word about a load that fell short or was released stands until it says another. */
function stateOf(said: CureLoad, before: string): string {
  if (before === "held" || before === "released") return before;
  return said.ended_at ? "out" : said.started_at ? "in" : "setting";
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
