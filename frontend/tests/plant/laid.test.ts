/** What was told here is seen at once, whatever the rows say, and goes when it was taken back. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import type { Outcome } from "../../src/domain/plantTelling";
import type { Told } from "../../src/domain/view";
import { events, inside, takenBack } from "../../src/plant/laid";
import { stationsOf } from "../../src/plant/stations";
import { K1, K2, told, workRow } from "./things";

const STATIONS = stationsOf(null);
const of = (rows: Parameters<typeof inside>[0], all: Told[], label = K1) =>
  inside(rows, all, STATIONS).get(label);

it("a label of which nothing came yet can be told of, and stands where it was told", () => {
  const work = of([], [told({ label: K1, outcome: "passed" })]);
  expect(work).toMatchObject({ label: K1, station: "buffing", next: "skiving", wanted: null });
  expect(work?.standing).toBe("waiting");
});

it("a finding told here stands behind those of earlier stations, open until it is mended", () => {
  const rows = [
    workRow(K1, { findings: [{ event: "e", zone: "bead", kind: "cut", done: false }] }),
  ];
  const nail = told({
    label: K1,
    outcome: "repair",
    findings: [{ zone: "crown", kind: "nail_hole", size_mm: 5 }],
  });
  expect(of(rows, [nail])?.findings.map(({ zone, done }) => [zone, done])).toEqual([
    ["bead", false],
    ["crown", false],
  ]);
  expect(of(rows, [nail])).toMatchObject({ stage: "repair", next: "skiving" });
  const mended = told({ label: K1, station: "repair", outcome: "passed" });
  expect(of(rows, [nail, mended])?.findings.every(({ done }) => done)).toBe(true);
  expect(of(rows, [nail, mended])?.stage).toBe("in_work");
});

it("once the rows show it, it lies on them no longer; refused it never did", () => {
  const shown = told({ label: K1, outcome: "rejected", reason: "ZIPPER" }, { seen: true });
  expect(of([workRow(K1)], [shown])?.rejections).toEqual([]);
  const refused = told(
    { label: K1, outcome: "rejected", reason: "ZIPPER" },
    { standing: "needs_you" },
  );
  const work = of([workRow(K1)], [refused]);
  expect(work?.rejections).toEqual([]);
  expect(work?.standing).toBe("needs_you");
});

it("what may never be released stays, whoever releases it; another rejection goes", () => {
  for (const [reason, left] of [
    ["ZIPPER", 1],
    ["AGE_POLICY", 0],
  ] as const) {
    const no = told({ label: K1, outcome: "rejected", reason, cause: "casing" });
    const yes = told({ label: K1, outcome: "released", releases: no.operation.id, note: "x" });
    expect(of([workRow(K1)], [no, yes])?.rejections).toHaveLength(left);
    expect(of([workRow(K1)], [no, yes])?.stage).toBe(left ? "rejected" : "in_work");
  }
});

it("a hold keeps it, a release lets it go on, a later pass alone does not", () => {
  const hold = told({ label: K1, outcome: "hold", note: "bead" });
  const pass = told({ label: K1, outcome: "passed" });
  expect(of([workRow(K1)], [hold, pass])?.stage).toBe("on_hold");
  const release = told({ label: K1, outcome: "released", releases: hold.operation.id, note: "ok" });
  expect(of([workRow(K1)], [hold, release])).toMatchObject({ stage: "in_work", holds: [] });
});

it("sent back it goes there again, and is counted", () => {
  const back = told({
    label: K1,
    station: "final-inspection",
    outcome: "repair",
    again_at: "curing",
  });
  expect(of([workRow(K1)], [back])).toMatchObject({
    next: "curing",
    again_at: "curing",
    reworks: 1,
  });
  const again = told({ label: K1, station: "curing", outcome: "passed" });
  expect(of([workRow(K1)], [back, again])).toMatchObject({ next: "stripping", again_at: "" });
});

it("a tag names the casing from now on, and the old label still finds it", () => {
  const tagged = told({ label: K1, station: "paint", outcome: "finished", tag: K2 });
  const works = inside([workRow(K1)], [tagged], STATIONS);
  expect(works.get(K2)).toBe(works.get(K1));
  expect(works.get(K2)).toMatchObject({ label: K2, stage: "finished" });
});

it("taken back before anybody saw it, it never lay there; taken back after, the row forgets it", () => {
  const hold = told({ label: K1, outcome: "hold", note: "x" });
  const back = told({ label: K1, outcome: "withdrawn", withdraws: hold.operation.id, note: "no" });
  expect(of([workRow(K1)], [hold, back])?.holds).toEqual([]);
  const rows = [
    workRow(K1, {
      stage: "on_hold",
      holds: [{ event: hold.operation.id, station: "buffing", note: "x", releasable: true }],
      last: [{ event: hold.operation.id, station: "buffing", outcome: "hold" }],
    }),
  ];
  const seen = { ...hold, seen: true };
  expect(of(rows, [seen, back])).toMatchObject({ stage: "in_work", holds: [], last: [] });
  expect([...takenBack(events([hold, back]))]).toEqual([hold.operation.id]);
});

it("what is held moves nothing here either: it only says that somebody looks at it", () => {
  const row = workRow(K1, { station: "curing", next: "stripping" });
  const held = { held: true, standing: "in_question" as const };
  const all = [
    told({ label: K1, outcome: "passed" }, held),
    told({ label: K1, outcome: "rejected", reason: "AGE_POLICY", cause: "casing" }, held),
    told({ label: K1, outcome: "hold", note: "x" }, held),
  ];
  expect(of([row], all)).toMatchObject({
    station: "curing",
    next: "stripping",
    stage: "in_work",
    holds: [],
    rejections: [],
    standing: "in_question",
  });
});

it("a word older than what the row has heard adds to the casing and does not move it", () => {
  const row = workRow(K1, {
    station: "curing",
    next: "stripping",
    seen_at: "2026-04-30T12:30:00.000Z",
    envelope: "E-9",
    last: [{ event: "e", at: "2026-04-30T12:30:00.000Z", station: "curing", outcome: "passed" }],
  });
  const old = told({
    label: K1,
    outcome: "repair",
    envelope: "E-1",
    findings: [{ zone: "crown", kind: "cut" }],
  });
  const work = of([row], [old]);
  expect(work).toMatchObject({
    station: "curing",
    next: "stripping",
    stage: "in_work",
    seen_at: "2026-04-30T12:30:00.000Z",
    envelope: "E-9",
  });
  expect(work?.findings).toHaveLength(1);
  expect(work?.last.map(({ station }) => station)).toEqual(["curing", "buffing"]);
  // A hold stops it all the same, and its release frees it again.
  const hold = told({ label: K1, outcome: "hold", note: "x" });
  expect(of([row], [hold])).toMatchObject({ stage: "on_hold", station: "curing" });
  const free = told({ label: K1, outcome: "released", releases: hold.operation.id, note: "ok" });
  expect(of([row], [hold, free])).toMatchObject({ stage: "in_work", station: "curing" });
});

it("taken back, a finish gives its tag free: the same tag may go on after all", () => {
  const done = told({ label: K1, station: "paint", outcome: "finished", tag: K2 }, { seen: true });
  const back = told({ label: K1, outcome: "withdrawn", withdraws: done.operation.id, note: "no" });
  const row = workRow(K1, {
    label: K2,
    labels: [K2, K1],
    last: [{ event: done.operation.id, station: "paint", outcome: "finished" }],
  });
  expect(of([row], [done, back])).toMatchObject({ label: K1, labels: [K1] });
});

it("in whatever order what was told is read, the casing stands the same", () => {
  const outcome = fc.constantFrom<Outcome>("passed", "repair", "hold", "rejected", "finished");
  fc.assert(
    fc.property(
      fc.array(outcome, { minLength: 1, maxLength: 8 }),
      fc.infiniteStream(fc.nat()),
      (outcomes, at) => {
        const all = outcomes.map((one) =>
          told({ label: K1, outcome: one, reason: "AGE_POLICY", cause: "casing", note: "n" }),
        );
        const shuffled = [...all].sort(() => (at.next().value % 3) - 1);
        expect(of([workRow(K1)], shuffled)).toEqual(of([workRow(K1)], all));
      },
    ),
  );
});
