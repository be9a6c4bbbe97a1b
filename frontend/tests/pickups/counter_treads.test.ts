/** Treads as a keyboard tells them. */
import { expect, it } from "vitest";
import { treadsIn, treadsSoFar } from "../../src/pickups/counter/treads";

it.each([
  ["6 7 6 5", [6, 7, 6, 5]],
  ["6,7, 6;5", [6, 7, 6, 5]],
  ["6/7/6", [6, 7, 6]],
  ["6 · 7", [6, 7]],
  [" 0  30 ", [0, 30]],
  ["", []],
  ["1 2 3 4 5 6 7 8 9 10 11 12", [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]],
])("%j is %j", (typed, depths) => {
  expect(treadsIn(typed)).toEqual({ depths });
});

it.each([
  ["6765", "6765"],
  ["31", "31"],
  ["6 7.5", "7.5"],
  ["6 -1", "-1"],
  ["six", "six"],
  ["6 066", "066"],
])("%j: %j is no depth", (typed, wrong) => {
  expect(treadsIn(typed)).toEqual({ wrong });
});

it("more than twelve grooves are too many", () => {
  expect(treadsIn("1 ".repeat(13))).toEqual({ many: true });
});

it("what is still being typed is not found fault with", () => {
  expect(treadsSoFar("6 7 66")).toEqual({ depths: [6, 7] });
  expect(treadsSoFar("6 7 66 ")).toEqual({ wrong: "66" });
  expect(treadsSoFar("x")).toEqual({ depths: [] });
});
