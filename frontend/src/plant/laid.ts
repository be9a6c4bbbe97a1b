/**
 * What was told on this tablet and has not yet come back, over the rows of the server. Pure.
 *
 * The tablet does not fold: each word lies over the row until its effect is seen in it. A word
 * that was taken back before anybody saw it never lies there, nor one that has no effect as long as
 * somebody looks at it. One that is older than what the row has heard adds to it and moves nothing.
 */
import type { Tell } from "../domain/plantTelling";
import type { RowLike, Standing } from "../domain/rows";
import type { Told } from "../domain/view";
import { NEVER_RELEASED } from "./reasons";
import { read, type Stage, type Station, unheard, type Work, workFrom } from "./rows";
import { isA, nextAfter } from "./stations";

/** One event told here. */
export interface Event {
  id: string;
  at: string;
  by: string;
  stamp: number;
  standing: Standing;
  /** It has no effect as long as somebody looks at it. */
  held: boolean;
  /** The rows show it already. */
  seen: boolean;
  tell: Tell;
}

/** What was told here of casings, in the order of entry. */
export const events = (told: Told[]): Event[] =>
  told
    .filter(({ operation }) => operation.kind === "inspection.tell")
    .sort(
      (a, b) => a.operation.stamp - b.operation.stamp || (a.operation.id < b.operation.id ? -1 : 1),
    )
    .map(({ operation, standing, held, seen }) => ({
      id: operation.id,
      at: operation.happened_at,
      by: operation.by,
      stamp: operation.stamp,
      standing,
      held,
      seen,
      tell: operation.payload as Tell,
    }));

/** The ids of the events that another one has taken back. */
export const takenBack = (all: Event[]): Set<string> =>
  new Set(
    all.flatMap(({ tell, standing }) =>
      tell.outcome === "withdrawn" && standing !== "needs_you" && tell.withdraws
        ? [tell.withdraws]
        : [],
    ),
  );

/** Every casing inside, by each of its labels, the words of this tablet laid over it. */
export function inside(rows: RowLike[], told: Told[], stations: Station[]): Map<string, Work> {
  const works = new Map<string, Work>();
  for (const work of read(rows, "plant_work", workFrom))
    for (const label of work.labels) works.set(label, work);
  const all = events(told);
  const back = takenBack(all);
  const tags = new Map(all.map(({ id, tell }) => [id, tell.tag ?? ""]));
  const heard = new Map([...works.values()].map((work) => [work, work.seen_at]));
  for (const event of all) {
    const { tell, standing, held, seen } = event;
    if (!seen && !held && standing !== "needs_you") {
      const work = works.get(tell.label) ?? unheard(tell.label);
      works.set(tell.label, work);
      if (tell.outcome === "withdrawn") {
        untag(work, tags.get(tell.withdraws ?? "") ?? "");
        withdraw(work, tell.withdraws ?? "");
      } else if (!back.has(event.id))
        lay(work, event, stations, isBefore(event.at, heard.get(work) ?? ""));
      for (const label of work.labels) works.set(label, work);
    }
    const work = works.get(tell.label);
    if (work !== undefined && standing !== "recorded" && !back.has(event.id))
      work.standing = worse(work.standing, standing);
  }
  return works;
}

const WORSE: Standing[] = ["recorded", "waiting", "in_question", "needs_you"];
const worse = (a: Standing, b: Standing): Standing => (WORSE.indexOf(a) > WORSE.indexOf(b) ? a : b);

const isBefore = (at: string, heard: string): boolean => Date.parse(at) < Date.parse(heard);

/** `late`: the row has heard of something that came after it. */
function lay(work: Work, { id, at, tell }: Event, stations: Station[], late: boolean): void {
  const said = { event: id, at, station: tell.station };
  const place = late ? work.last.filter((one) => isBefore(at, one.at)).length : 0;
  const [newer, older] = [work.last.slice(0, place), work.last.slice(place)];
  work.last = [...newer, { ...said, outcome: tell.outcome }, ...older].slice(0, 5);
  work.entered_at ||= at;
  if (!late) {
    work.seen_at = at;
    work.station = tell.station;
  }
  for (const one of tell.findings ?? [])
    work.findings.push({
      ...said,
      zone: one.zone,
      side: one.side ?? "",
      kind: one.kind,
      size_mm: one.size_mm ?? null,
      count: one.count ?? 1,
      action: one.action ?? "",
      photos: one.photos ?? [],
      done: false,
    });
  if (tell.outcome === "hold")
    work.holds.push({ ...said, note: tell.note ?? "", releasable: true });
  if (tell.outcome === "rejected")
    work.rejections.push({
      ...said,
      reason: tell.reason ?? "",
      cause: tell.cause ?? "",
      zone: tell.findings?.[0]?.zone ?? "",
      note: tell.note ?? "",
      releasable: !NEVER_RELEASED.has(tell.reason ?? ""),
    });
  if (tell.outcome === "released" && tell.releases) release(work, tell.releases);
  if (DONE.has(tell.outcome)) pass(work, tell.station);
  if (tell.outcome === "repair" && !late) {
    work.again_at = tell.again_at ?? "";
    if (work.again_at !== "") work.reworks += 1;
  }
  if (!late && (DONE.has(tell.outcome) || tell.outcome === "repair"))
    work.next = work.again_at || nextAfter(tell.station, stations, isMarked(work));
  if (tell.load) {
    if (!late || work.load === "") work.load = tell.load;
    if (!work.loads.includes(tell.load)) work.loads.push(tell.load);
  }
  if (tell.envelope && (!late || work.envelope === "")) work.envelope = tell.envelope;
  if (tell.machine) work.machines.push({ station: tell.station, machine: tell.machine });
  for (const lot of tell.lots ?? []) work.lots.push({ ...lot, station: tell.station });
  work.measured = late
    ? { ...tell.measured, ...work.measured }
    : { ...work.measured, ...tell.measured };
  if (tell.built && (!late || work.built === null)) work.built = tell.built;
  if (tell.tag) {
    work.labels = [...new Set([tell.tag, ...work.labels])];
    work.label = tell.tag;
  }
  work.stage = late ? stoppedOr(work) : stageOf(work, tell.outcome);
}

/** Where it stood, but for what stops it or stops it no more. */
function stoppedOr(work: Work): Stage {
  if (work.stage === "shipped") return "shipped";
  if (work.rejections.length + work.holds.length > 0) return stageOf(work, "hold");
  return ["rejected", "on_hold"].includes(work.stage) ? stageOf(work, "released") : work.stage;
}

/** The tag that a finish gave it, once that finish is taken back. */
function untag(work: Work, tag: string): void {
  if (tag === "" || work.labels.length < 2) return;
  work.labels = work.labels.filter((one) => one !== tag);
  if (work.label === tag) work.label = work.labels[0]!;
}

/** Outcomes after which a casing is done with at a station. */
const DONE = new Set(["received", "passed", "finished", "shipped"]);

const isMarked = (work: Work): boolean => work.findings.some((one) => !one.done);

/** Passed where injuries are repaired, what was found before is done. */
function pass(work: Work, station: string): void {
  if (!work.passed.includes(station)) work.passed.push(station);
  work.not_scanned = work.not_scanned.filter((one) => one !== station);
  if (isA(station, "repair", "skiving")) for (const one of work.findings) one.done = true;
  if (work.again_at === station) work.again_at = "";
}

function release(work: Work, event: string): void {
  work.holds = work.holds.filter((one) => one.event !== event);
  work.rejections = work.rejections.filter((one) => one.event !== event || !one.releasable);
  work.differences = work.differences.filter((one) => one.event !== event);
}

/** What a row shows of it goes; where the casing stands then, only the server can say. */
function withdraw(work: Work, event: string): void {
  const other = <T extends { event: string }>(all: T[]) => all.filter((one) => one.event !== event);
  const undone = work.last.find((one) => one.event === event);
  work.last = other(work.last);
  work.findings = other(work.findings);
  work.holds = other(work.holds);
  work.rejections = other(work.rejections);
  work.differences = other(work.differences);
  if (undone === undefined) return;
  work.stage = stageOf(work, "withdrawn");
  work.next = undone.station;
  if (undone.outcome === "passed")
    work.passed = work.passed.filter((one) => one !== undone.station);
}

/** What stands comes first; else what the last word leaves it in. */
function stageOf(work: Work, outcome: Tell["outcome"]): Stage {
  if (outcome === "shipped") return "shipped";
  if (work.rejections.length > 0) return "rejected";
  if (work.holds.length > 0) return "on_hold";
  if (outcome === "finished" || (work.stage === "finished" && outcome !== "withdrawn"))
    return outcome === "repair" ? "repair" : "finished";
  if (outcome === "repair") return "repair";
  if (outcome === "hold" || outcome === "released" || outcome === "withdrawn")
    return isMarked(work) ? "repair" : "in_work";
  return "in_work";
}
