/** Counted blind, scanned, and reckoned against what was on the truck. */
import { expect, it } from "vitest";
import { runsOf } from "../../src/domain/run";
import {
  BLANK_UNLOADING,
  begun,
  furtherAt,
  handedIn,
  likelySite,
  reckon,
  unloadTold,
} from "../../src/domain/unloading";
import { carried, DAY, DOCK, MINE, move, RACK, road, run, stop, told } from "./cargo";

const inward = (id: string) => carried(id, { holder: MINE, progress: "picked_up" });
const home = (id: string) => carried(id, { holder: MINE, progress: "shipped" });
const toYard = run([stop("a", { yard: "north", drop: ["9"] }), stop("p", { site: "plant" })]);
const runsIn = (given: ReturnType<typeof road>, ...all: (typeof toYard)[]) =>
  runsOf(all, given, DAY);

it("most likely is the run's next place of the dealer's, then its start, then this phone's own", () => {
  const now = road([home("9")]);
  expect(likelySite(runsIn(now, toYard), "own")).toBe("plant");
  const passed = told(toYard, { p: { skipped: { why: "no_time", note: "", at: "" } } });
  expect(likelySite(runsIn(now, passed), "own")).toBe("store");
  expect(likelySite([], "own")).toBe("own");
});

it("at the run's own stop stays what later stops get; back in its middle what open stops get", () => {
  const now = road([inward("1"), home("8"), home("9")]);
  expect(begun(now, runsIn(now, toYard), "plant")).toEqual({
    site: "plant",
    run: "run",
    stop: "p",
    began: true,
    after: "",
    expected: ["LABEL1"],
    aboard: ["LABEL1", "LABEL8", "LABEL9"],
  });
  expect(begun(now, runsIn(now, toYard), "store").expected).toEqual(["LABEL1", "LABEL8"]);
  // Back where it started, which is no stop; and at a place of no sheet's.
  expect(begun(now, runsIn(now, toYard), "store")).toMatchObject({ run: "run", stop: "" });
  expect(begun(now, [], "store")).toMatchObject({ run: "", stop: "" });
  expect(begun(now, [], "store").expected).toEqual(["LABEL1", "LABEL8", "LABEL9"]);
  expect(furtherAt(now, runsIn(now, toYard), "store").later).toEqual(new Set(["9"]));
});

it("what the sheet has for this very stop is expected, whichever way it goes", () => {
  const back = run([stop("p", { site: "plant", drop: ["7"] }), stop("a", { yard: "north" })]);
  const now = road([home("7"), home("8"), inward("1")]);
  expect(begun(now, runsIn(now, back), "plant").expected).toEqual(["LABEL1", "LABEL7"]);
});

it("what was handed in is what was told since, whatever the clock did meanwhile", () => {
  const before = move("OLD", MINE, RACK);
  const back = { at: "2026-04-27T00:00:00.000Z" }; // a clock that was set back a day
  const moves = [
    before,
    move("A", MINE, RACK, back),
    move("B", MINE, RACK, { standing: "needs_you" }),
    move("C", MINE, DOCK),
    move("D", "person:another", RACK),
    move("A", MINE, RACK),
    move("E", MINE, RACK),
  ];
  const unloading = { ...BLANK_UNLOADING, site: "store", after: before.id };
  expect(handedIn(road([], { moves }), unloading)).toEqual(["A", "E"]);
  // After 30 days the mark may be forgotten: then all that is remembered came later.
  const forgotten = { ...unloading, after: "forgotten" };
  expect(handedIn(road([], { moves }), forgotten)).toEqual(["OLD", "A", "E"]);
});

it("short is what was expected and did not come, over what was not on the truck", () => {
  const moves = [move("LABEL1", MINE, RACK), move("LABEL9", MINE, RACK), move("X", MINE, RACK)];
  const unloading = {
    ...BLANK_UNLOADING,
    site: "store",
    count: "4",
    expected: ["LABEL1", "LABEL2"],
    aboard: ["LABEL1", "LABEL2", "LABEL9"],
  };
  expect(reckon(road([], { moves }), unloading)).toEqual({
    counted: 4,
    scanned: 3,
    short: ["LABEL2"],
    over: ["X"],
  });
});

it("the count is told beside the scans, with what is short and over by label", () => {
  const moves = [move("LABEL1", MINE, DOCK), move("LABEL7", MINE, DOCK)];
  const kept = { ...BLANK_UNLOADING, site: "plant", run: "run", count: "3" };
  const unloading = { ...kept, expected: ["LABEL1", "LABEL2"], aboard: ["LABEL1", "LABEL2"] };
  expect(unloadTold(road([], { moves }), unloading)).toEqual({
    site: "plant",
    run: "run",
    stop: null,
    way: "off",
    counted: 3,
    scanned: ["LABEL1", "LABEL7"],
    short: ["LABEL2"],
    over: ["LABEL7"],
  });
});
