/** Visits that are open on a phone, and what keeps one from being finished. */
import { expect, it, vi } from "vitest";
import type { Snapshot } from "../../src/bridge/snapshot";
import type { Pickup } from "../../src/domain/rows";

// Words ask the browser for its language, and tell the page.
vi.stubGlobal("navigator", { language: "en" });
vi.stubGlobal("document", { documentElement: {} });
const { halfEntered, openVisits } = await import("../../src/pickups/yard/visits");

const pickup = (some: object): Pickup =>
  ({
    id: "p",
    yard: "y",
    here: true,
    finished_at: null,
    count: 0,
    casings: [],
    lines: [],
    ...some,
  }) as unknown as Pickup;
const snapshot = (some: object): Snapshot =>
  ({ pickups: [], visits: [], drafts: [], ...some }) as unknown as Snapshot;
const drafts = (...keys: string[]) => keys.map((key) => ({ key }));

it("a casing, scrap, what stays and every change of theirs that is not saved holds the end up", () => {
  const lines = [
    { id: "s", kind: "scrap" },
    { id: "l", kind: "left" },
  ];
  const one = pickup({ casings: [{ id: "c" }], lines });
  const own = ["casing:p", "scrap:p", "scrap:s", "left:l", "correct:c"];
  const others = ["casing:q", "scrap:q", "left:s", "finish:p", "unload:d"];
  expect(halfEntered(snapshot({ drafts: drafts(...own, ...others) }), one)).toEqual(own);
  expect(halfEntered(snapshot({ drafts: drafts(...others) }), one)).toEqual([]);
});

it("a visit whose every line was taken back is open until its sheet is put away", () => {
  const taken = snapshot({ pickups: [pickup({})], visits: [{ pickup: "p", yard: "y" }] });
  expect(openVisits(taken).map(({ id }) => id)).toEqual(["p"]);
  expect(openVisits({ ...taken, visits: [] })).toEqual([]);
  const stands = [pickup({ lines: [{ id: "s", kind: "scrap" }] })];
  expect(openVisits(snapshot({ pickups: stands })).map(({ id }) => id)).toEqual(["p"]);
});
