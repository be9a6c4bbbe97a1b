/** What of a drop-off is signed for and stands on its ticket. */
import { expect, it } from "vitest";
import { standingOf } from "../../src/pickups/counter/standing";
import { aCasing } from "./counter_things";
import { line } from "./seen/things";

it("what the office refused stands nowhere, and is counted, scrap and what was left too", () => {
  const casings = [aCasing(), { ...aCasing(), standing: "needs_you" as const }];
  const lines = [
    line({ id: "a", kind: "scrap", count: 6 }),
    { ...line({ id: "b", kind: "scrap", count: 2 }), standing: "needs_you" as const },
    { ...line({ id: "c", kind: "left" }), standing: "waiting" as const },
  ];
  expect(standingOf({ casings, lines })).toEqual({
    casings: [casings[0]],
    lines: [lines[0], lines[2]],
    refused: 2,
  });
});
