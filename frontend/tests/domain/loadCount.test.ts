/** Counted blind before loading; what came on is what was told, short and over are named. */
import { expect, it } from "vitest";
import { loadTold, takenOn } from "../../src/domain/loadCount";
import { loadingAt } from "../../src/domain/run";
import { carried, DOCK, MINE, move, RACK, road, run, stop } from "./cargo";

const PLACE = { site: "store", run: "run", stop: null };
const day = run([stop("a", { yard: "north", drop: ["1", "2"] })]);

it("what came on is what was taken from the place since, each once", () => {
  const moves = [
    move("OLD", RACK, MINE),
    move("A", RACK, MINE),
    move("A", RACK, MINE),
    move("B", DOCK, MINE),
    move("C", RACK, "person:another"),
    move("D", RACK, MINE, { standing: "needs_you" }),
  ];
  expect(takenOn(road([], { moves }), RACK, moves[0]!.id)).toEqual(["A"]);
  expect(takenOn(road([], { moves }), RACK, "")).toEqual(["OLD", "A"]);
});

it("short is what the sheet wants and is not aboard, over what it does not name", () => {
  const now = road([carried("1", { holder: MINE }), carried("2"), carried("9", { holder: MINE })]);
  const { wanted } = loadingAt(day, -1, now);
  expect(loadTold(PLACE, 3, ["LABEL1", "LABEL9"], wanted)).toEqual({
    ...PLACE,
    way: "on",
    counted: 3,
    scanned: ["LABEL1", "LABEL9"],
    short: ["LABEL2"],
    over: ["LABEL9"],
  });
});

it("where no sheet names anything nothing is short or over", () => {
  expect(loadTold(PLACE, 1, ["LABEL9"], null)).toMatchObject({ short: [], over: [] });
});
