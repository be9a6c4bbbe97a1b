/** What comes next, how many were done, the last scans: each casing once. */
import { expect, it } from "vitest";
import { events, inside } from "../../src/plant/laid";
import { countToday, LAST, lastScans, queueAt } from "../../src/plant/shift";
import { stationsOf } from "../../src/plant/stations";
import { K1, K2, K3, told, workRow } from "./things";

const NOW = Date.parse("2026-04-30T18:00:00.000Z");
const works = (rows: Parameters<typeof inside>[0], all: Parameters<typeof inside>[1] = []) =>
  inside(rows, all, stationsOf(null));

it("next is whose promise is earliest, then who waits longest; held and rejected ones wait not", () => {
  const rows = [
    workRow(K1, { seen_at: "2026-04-30T07:00:00Z" }),
    workRow(K2, { wanted: { promised: "2026-05-02" } }),
    workRow(K3, { stage: "on_hold" }),
    workRow("A0000000", { seen_at: "2026-04-30T06:00:00Z" }),
  ];
  const all = works(rows);
  expect(queueAt(all.values(), "buffing").map(({ label }) => label)).toEqual([K2, "A0000000", K1]);
  expect(queueAt(all.values(), "curing")).toEqual([]);
});

it("rush goes first, however late it was promised", () => {
  const rows = [
    workRow(K1, { wanted: { promised: "2026-05-02" } }),
    workRow(K2, { wanted: { promised: "2026-06-02", rush: true } }),
    workRow(K3, { wanted: { promised: "2026-05-01" } }),
  ];
  const all = works(rows);
  expect(queueAt(all.values(), "buffing").map(({ label }) => label)).toEqual([K2, K3, K1]);
});

it("what was done on this tablet counts, each casing once; what was taken back not at all", () => {
  const at = "2026-04-30T15:00:00.000Z";
  const rows = [
    workRow(K1, { last: [{ event: "m", at, station: "buffing", outcome: "passed" }] }),
    workRow(K3, {
      last: [{ event: "o", at: "2026-04-28T15:00:00.000Z", station: "buffing", outcome: "passed" }],
    }),
  ];
  const twice = told({ label: K1, outcome: "passed" }, { at });
  const wrong = told({ label: K2, outcome: "passed" }, { at });
  const back = told({ label: K2, outcome: "withdrawn", withdraws: wrong.operation.id, note: "n" });
  const count = (all: Parameters<typeof inside>[1]) =>
    countToday(events(all), works(rows, all), "buffing", NOW);
  expect(count([])).toBe(0);
  expect(count([twice, { ...twice, operation: { ...twice.operation, id: "again" } }])).toBe(1);
  expect(count([twice, wrong])).toBe(2);
  expect(count([twice, wrong, back])).toBe(1);
});

it("the count of the day never falls, however far the casings have gone since", () => {
  const at = "2026-04-30T15:00:00.000Z";
  const all = [told({ label: K1, outcome: "passed" }, { at, seen: true })];
  const last = Array.from({ length: 5 }, (_, i) => ({
    event: `e${i}`,
    at,
    station: "paint",
    outcome: "passed",
  }));
  for (const rows of [[workRow(K1)], [workRow(K1, { last })], []])
    expect(countToday(events(all), works(rows, all), "buffing", NOW)).toBe(1);
  // Another tablet's work is not counted one hour and left out the next.
  expect(countToday([], works([workRow(K2, { last })]), "paint", NOW)).toBe(0);
});

it("the last five scans of this station, the newest first, those taken back marked", () => {
  const all = [K1, K2, K3, K1, K2, K3, K1].map((label) => told({ label, outcome: "passed" }));
  const other = told({ label: K1, station: "skiving", outcome: "passed" });
  const back = told({ label: K1, outcome: "withdrawn", withdraws: all.at(-1)!.operation.id });
  const scans = lastScans(events([...all, other, back]), "buffing");
  expect(scans).toHaveLength(LAST);
  expect(scans.map(({ event, back }) => [event.tell.label, back])).toEqual([
    [K1, true],
    [K3, false],
    [K2, false],
    [K1, false],
    [K3, false],
  ]);
});
