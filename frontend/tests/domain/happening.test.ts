/** What was told of a run here stands as the server will fold it, and where it belongs. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { laidOnRuns } from "../../src/domain/happening";
import type { Told } from "../../src/domain/laying";
import type { Envelope } from "../../src/domain/operation";
import type { Run, Stop } from "../../src/domain/rows";
import { run, stop } from "./cargo";

interface Case {
  name: string;
  told: Envelope[];
  stands: Record<string, Partial<Stop>>;
}
const FILE = new URL("../../../fixtures/vectors/happenings.json", import.meta.url);
const { cases, run: id, stops, yard } = JSON.parse(readFileSync(FILE, "utf8"));
const bare: Run = run(
  stops.map((uid: string) => stop(uid, { yard })),
  { id },
);

const as = (operation: Envelope, some: Partial<Told> = {}): Told => ({
  operation,
  standing: "waiting",
  held: false,
  seen: false,
  entered_at: 0,
  ...some,
});

function stands(laid: Run, uid: string): Partial<Stop> {
  if (uid === "start")
    return { arrived_at: null, skipped: null, loaded_at: laid.loaded_at, why_added: null };
  const { arrived_at, skipped, loaded_at, why_added } = laid.stops.find((one) => one.uid === uid)!;
  return { arrived_at, skipped, loaded_at, why_added };
}

describe("each case stands as it says, in any order", () => {
  it.each(cases as Case[])("$name", (one) => {
    fc.assert(
      fc.property(fc.shuffledSubarray(one.told, { minLength: one.told.length }), (shuffled) => {
        const [laid] = laidOnRuns(
          [bare],
          shuffled.map((op) => as(op)),
        );
        for (const [uid, said] of Object.entries(one.stands))
          expect(stands(laid!, uid)).toEqual(said);
      }),
    );
  });
});

const added = (cid: string, after: string | null, stamp: number) =>
  as({
    id: cid,
    kind: "runs.add_stop",
    stamp,
    happened_at: "2026-04-28T15:00:00.000Z",
    payload: { run: id, yard, after, why: "" },
  } as Envelope);
const order = (told: Told[]) => laidOnRuns([bare], told)[0]!.stops.map(({ uid }) => uid);

it("a driver's own stop comes behind the one it names, first without one, last where that is gone", () => {
  const [a, b] = stops;
  expect(order([added("x", a, 1)])).toEqual([a, "x", b]);
  expect(order([added("x", null, 1)])).toEqual(["x", a, b]);
  expect(order([added("x", "gone", 1)])).toEqual([a, b, "x"]);
  expect(order([added("x", a, 1), added("y", "x", 2)])).toEqual([a, "x", "y", b]);
});

it("what the rows show, what needs its driver and what is of another run is not laid", () => {
  const arrive = (cases as Case[])[0]!.told[0]!;
  const laid = (told: Told[]) => laidOnRuns([bare], told)[0]!;
  expect(laid([as(arrive, { seen: true })])).toEqual(bare);
  expect(laid([as(arrive, { standing: "needs_you" })])).toEqual(bare);
  expect(laid([as({ ...arrive, payload: { ...arrive.payload, run: "another" } })])).toEqual(bare);
  expect(laid([added("x", null, 1), added("x", null, 1)]).stops).toHaveLength(3);
});
