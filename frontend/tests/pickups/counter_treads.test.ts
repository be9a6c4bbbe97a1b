/** Treads as a keyboard tells them; what could mean two things. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { DEEPEST_32NDS } from "../../src/domain/operation";
import { readSize, USUAL } from "../../src/domain/size";
import { treadsIn, treadsShown, treadsSoFar } from "../../src/pickups/counter/treads";

it.each([
  ["6 7 6 5", [[6, 7, 6, 5]]],
  ["6,7, 6;5", [[6, 7, 6, 5]]],
  ["6 · 7", [[6, 7]]],
  [" 0  30 ", [[0, 30]]],
  ["6 - 6 5", [[6, null, 6, 5]]],
  [
    "6 7 6 5 / 6 6 6 5",
    [
      [6, 7, 6, 5],
      [6, 6, 6, 5],
    ],
  ],
  [
    "6765/6665/",
    [
      [6, 7, 6, 5],
      [6, 6, 6, 5],
    ],
  ],
  ["6/7", [[6], [7]]],
  ["", []],
  [" / ", []],
  ["1 2 3 4 5 6 7 8 9 10 11 12", [[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]]],
])("%j is %j", (typed, places) => {
  expect(treadsIn(typed)).toEqual({ places });
});

it.each([
  ["676565", [[6, 7, 6, 5, 6, 5]]],
  ["67-5", [[6, 7, null, 5]]],
  ["245", [[2, 4, 5]]],
  ["67", [[6, 7]]],
  ["22", [[22]]],
  ["29", [[29]]],
  ["12", [[12]]],
  ["222", [[2, 2, 2]]],
  ["22 22 23", [[22, 22, 23]]],
])("in one run %j is %j", (typed, places) => {
  expect(treadsIn(typed)).toEqual({ places });
});

it.each([
  ["31", "no_depth", "31"],
  ["6 7.5", "no_depth", "7.5"],
  ["6 -1", "no_depth", "-1"],
  ["six", "no_depth", "six"],
  ["6 66 7", "no_depth", "66"],
  ["6 066", "two_ways", "066"],
  ["101", "two_ways", "101"],
  ["617", "two_ways", "617"],
  ["676 5", "two_ways", "676"],
  ["6 7 / 610", "two_ways", "610"],
])("%j: %s %j is asked about", (typed, key, text) => {
  expect(treadsIn(typed)).toEqual({ fault: { key, text } });
});

it("the digits of a size are asked about, in whatever place they stand, and parted they are depths", () => {
  const fault = { key: "size", text: "29575225", size: "295/75R22.5", depths: "2 9 5 7 5 2 2 5" };
  expect(treadsIn("29575225")).toEqual({ fault });
  expect(treadsIn("666 / 29575225")).toEqual({ fault });
  expect(treadsIn("2 9 5 7 5 2 2 5")).toEqual({ places: [[2, 9, 5, 7, 5, 2, 2, 5]] });
  expect(treadsIn("67676767")).toEqual({ places: [[6, 7, 6, 7, 6, 7, 6, 7]] });
});

it("no usual size of eight digits or more is taken as depths", () => {
  const digits = USUAL.map((size) => size.replace(/\D/g, "")).filter((run) => run.length >= 8);
  expect(digits.length).toBeGreaterThan(10);
  for (const run of digits) expect(treadsIn(run), run).toHaveProperty("fault");
});

it("more than twelve grooves or six places are too many", () => {
  expect(treadsIn("1 ".repeat(13))).toEqual({ fault: { key: "grooves" } });
  expect(treadsIn("6".repeat(13))).toEqual({ fault: { key: "grooves" } });
  expect(treadsIn("6 7/".repeat(7))).toEqual({ fault: { key: "places" } });
});

it("what is still being typed is not found fault with", () => {
  expect(treadsSoFar("6 7 66")).toEqual({ places: [[6, 7]] });
  expect(treadsSoFar("6 7 66 ")).toEqual({ fault: { key: "no_depth", text: "66" } });
  expect(treadsSoFar("6 7 / 6 66")).toEqual({ places: [[6, 7], [6]] });
  expect(treadsSoFar("101")).toEqual({ places: [] });
  expect(treadsSoFar("x")).toEqual({ places: [] });
});

const depth = fc.option(fc.integer({ min: 0, max: DEEPEST_32NDS }));
const place = fc.array(depth, { minLength: 1, maxLength: 12 });

it("whatever is shown is read as the same", () => {
  fc.assert(
    fc.property(fc.array(place, { maxLength: 6 }), (places) => {
      expect(treadsIn(treadsShown(places))).toEqual({ places });
    }),
  );
});

it("any run of three or more digits from 2 to 9 is a groove each, unless it is a size's", () => {
  const digits = fc.array(fc.integer({ min: 2, max: 9 }), { minLength: 3, maxLength: 12 });
  fc.assert(
    fc.property(digits, (depths) => {
      const run = depths.join("");
      fc.pre(run.length < 8 || readSize(run).findings[0]?.key !== "digits_only");
      expect(treadsIn(run)).toEqual({ places: [depths] });
    }),
  );
});
