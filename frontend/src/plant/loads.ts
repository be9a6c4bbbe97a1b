/**
 * Cure loads with what was told of them on this tablet: number, chamber, times, what was set in and
 * out. A load's row is written a moment after the words that make it, so a word lies over it until
 * the row itself shows it. What is missing is counted from both. Pure.
 */
import type { CureLoad, Tell } from "../domain/plantTelling";
import type { RowLike } from "../domain/rows";
import type { Told } from "../domain/view";
import { type Event, events, takenBack } from "./laid";
import { type Load, loadFrom, read, type Work } from "./rows";
import { isA } from "./stations";

const blank = (uid: string): Load => loadFrom(uid, {});

/** How long a word that was answered makes a load of which there is no row: a load that is over is
 * taken off the devices after days, and must not come back. Our own figure. */
const LATE_MS = 24 * 3_600_000;

export function loads(
  rows: RowLike[],
  told: Told[],
  works: Map<string, Work>,
  now: number,
): Load[] {
  const all = new Map(read(rows, "cure_load", loadFrom).map((load) => [load.uid, load]));
  const numbers = new Map([...all.values()].map((load) => [load.number, load.uid]));
  const inOrder = [...told].sort((a, b) => a.operation.stamp - b.operation.stamp);
  const newest = new Map(
    wordsIn(inOrder).map(({ operation, said }) => [said.number, operation.id]),
  );
  for (const { operation, seen, said } of wordsIn(inOrder)) {
    // The plant's own number makes it one load: its row may stand under another id than was told.
    const uid = numbers.get(said.number) ?? said.load;
    const row = all.get(uid);
    if (row === undefined && seen && now - Date.parse(operation.happened_at) > LATE_MS) continue;
    const before = row ?? blank(uid);
    numbers.set(said.number, uid);
    all.set(uid, { ...before, also: [...new Set([...before.also, said.load])] });
    const at = all.get(uid)!;
    if (row === undefined || !seen) all.set(uid, whole(at, said));
    // Of those that were answered only the last can be what the row has not caught up with.
    else if (newest.get(said.number) === operation.id) all.set(uid, behind(at, said));
  }
  const own = events(told);
  const back = takenBack(own);
  const named = ({ tell }: Event) => [...all.values()].find(({ number }) => number === tell.load);
  /** The casing's own row says at once whether a word that was seen still stands. */
  const stands = ({ tell }: Event) => works.get(tell.label)?.loads.includes(tell.load!) === true;
  const undone = new Set(own.filter(({ seen }) => !seen).map(({ tell }) => tell.withdraws));
  for (const one of own) {
    const load = one.tell.load && back.has(one.id) ? named(one) : undefined;
    if (load !== undefined && (undone.has(one.id) || !stands(one))) takeOut(load, one.tell);
  }
  for (const one of own) {
    const { id, tell, seen, standing } = one;
    if (standing === "needs_you" || back.has(id) || !tell.load) continue;
    const load = named(one);
    if (load === undefined || tell.outcome !== "passed") continue;
    if (seen && !stands(one)) continue;
    if (isA(tell.station, "stripping")) setOut(load, tell.label);
    else setIn(load, tell.label, tell.envelope ?? "");
  }
  return [...all.values()].sort((a, b) => b.started_at.localeCompare(a.started_at));
}

const wordsIn = (told: Told[]) =>
  told
    .filter(
      ({ operation: { kind }, standing }) => kind === "curing.load" && standing !== "needs_you",
    )
    .map((one) => ({ ...one, said: one.operation.payload as CureLoad }));

/** A newer word over what was known: its moments, and of the rest what it says. */
const whole = (before: Load, said: CureLoad): Load => ({
  ...before,
  number: said.number,
  chamber: said.chamber ?? before.chamber,
  started_at: said.started_at ?? "",
  ended_at: said.ended_at ?? "",
  lots: said.lots ?? before.lots,
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

/** A scan of this tablet that was a mistake, whatever the row still shows of it. */
function takeOut(load: Load, { station, label }: Tell): void {
  if (isA(station, "stripping")) load.set_out = load.set_out.filter((one) => one !== label);
  else load.set_in = load.set_in.filter((one) => one.label !== label);
}

/**
 * The word that takes back the last one of this tablet about a load: that its cure is over, or that
 * it began. Null where the last was neither, or somebody else has said it otherwise since.
 */
export function takesBack(load: Load, told: Told[]): CureLoad | null {
  if (load.state !== "in" && load.state !== "out") return null;
  const last = wordsIn(told)
    .filter(({ said }) => said.number === load.number || load.also.includes(said.load))
    .sort((a, b) => b.operation.stamp - a.operation.stamp)[0]?.said;
  const same = (told: string | null | undefined, known: string) =>
    known !== "" && Date.parse(told ?? "") === Date.parse(known);
  const word = { load: load.uid, number: load.number, ended_at: null };
  if (same(last?.ended_at, load.ended_at)) return { ...word, started_at: load.started_at || null };
  const began = load.ended_at === "" && same(last?.started_at, load.started_at);
  return began ? { ...word, started_at: null } : null;
}

/** Casings are set in before the cure begins; what was forgotten may be told of while it lasts. */
export const takesIn = ({ state }: Load): boolean => state === "setting" || state === "in";

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
