/** Readings by place and groove: one after the other, and back. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { Places } from "../../src/domain/tread";
import { MOST_GROOVES } from "../../src/pickups/yard/fields";
import {
  deeperBy,
  depthsSaid,
  groovesOf,
  MOST_PLACES,
  nextOf,
  turnPlace,
  wheelsOf,
  withoutLast,
  withReading,
} from "../../src/pickups/yard/treads";

const read = (depths: (number | null)[], grooves: number | null, from: Places = []): Places =>
  depths.reduce<Places>((places, depth) => withReading(places, depth, grooves), from);

it("as long as nobody knows how many grooves there are, all readings are of one place", () => {
  expect(read([6, 7, 6, 5], null)).toEqual([[6, 7, 6, 5]]);
  expect(nextOf([[6, 7]])).toEqual({ place: 1, groove: 3, full: false });
});

it("where the number of grooves is known the next place comes by itself", () => {
  expect(read([6, 7, 6, 5, 5, 5], 3)).toEqual([[6, 7, 6], [5, 5, 5], []]);
  expect(nextOf([[6, 7, 6], []])).toEqual({ place: 2, groove: 1, full: false });
});

it("it is known from this casing's first place, else from the last one with several places", () => {
  const before: Places[] = [
    [
      [6, 6, 6],
      [6, 6, 6],
    ],
    [[5, 5, 5, 5], [5, 5, 5, 5], []],
    [[9]],
  ];
  expect(groovesOf([], before)).toBe(4);
  expect(groovesOf([[6, 7]], before)).toBe(4);
  expect(groovesOf([[6, 7], [6]], before)).toBe(2);
  expect(groovesOf([[6, 7]], [[[9, 9]]])).toBeNull();
});

it("the next place is turned to by hand, and turned back from as long as it is empty", () => {
  expect(turnPlace([[6, 7]])).toEqual([[6, 7], []]);
  expect(turnPlace([[6, 7], []])).toEqual([[6, 7]]);
  expect(withReading(turnPlace([[6, 7, 6], []]), 5, 3)).toEqual([[6, 7, 6, 5]]);
  expect(turnPlace([])).toEqual([]);
  const all: Places = Array.from({ length: MOST_PLACES }, () => [6]);
  expect(turnPlace(all)).toEqual(all);
});

it("taking back steps over places", () => {
  expect(withoutLast([[6, 7], [5]])).toEqual([[6, 7]]);
  expect(withoutLast([[6, 7], []])).toEqual([[6]]);
  expect(withoutLast([[6]])).toEqual([]);
  expect(withoutLast([])).toEqual([]);
});

it("ten more for what no single key types, and never deeper than there are keys", () => {
  expect(deeperBy([[6, 14]], 10)).toEqual([[6, 24]]);
  expect(deeperBy([[6, 14], []], 10)).toEqual([[6, 24], []]);
  expect(deeperBy([[21]], 10)).toEqual([[21]]);
  expect(deeperBy([[null]], 10)).toEqual([[null]]);
  expect(deeperBy([], 10)).toEqual([]);
});

it("on a list places stand apart, and a groove that was not read is a dash", () => {
  expect(depthsSaid([[6, 7, null], [5, 5, 5], []])).toBe("6 · 7 · – | 5 · 5 · 5");
});

it("front wheels of a bus are front wheels", () => {
  expect(["", "steer", "bus_front", "drive"].map((one) => wheelsOf(one as ""))).toEqual([
    null,
    "steer",
    "steer",
    "drive",
  ]);
});

it("what was read is all there in its order, within what can be told, and goes back one by one", () => {
  const depth = fc.option(fc.integer({ min: 0, max: 30 }));
  const grooves = fc.option(fc.integer({ min: 1, max: MOST_GROOVES }));
  fc.assert(
    fc.property(fc.array(depth, { maxLength: 90 }), grooves, (depths, count) => {
      let places: Places = [];
      const taken: Places[] = [];
      for (const one of depths) {
        const full = nextOf(places).full;
        const next = withReading(places, one, count);
        expect(next.flat()).toEqual(full ? places.flat() : [...places.flat(), one]);
        if (!full) taken.push(places);
        places = next;
      }
      expect(places.length).toBeLessThanOrEqual(MOST_PLACES);
      expect(Math.max(0, ...places.map((place) => place.length))).toBeLessThanOrEqual(MOST_GROOVES);
      for (const before of taken.reverse()) {
        places = withoutLast(places);
        expect(places.flat()).toEqual(before.flat());
      }
    }),
  );
});
