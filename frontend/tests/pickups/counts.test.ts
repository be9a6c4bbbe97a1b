/** The customer's count: kept as typed, told only where it is one, asked about where it differs. */
import { expect, it } from "vitest";
import { countsSaid } from "../../src/pickups/seen/visitLines";
import { seen } from "../../src/pickups/seen/words.en";
import { countsAsked, customerCount, wheelsOf } from "../../src/pickups/yard/counts";

it.each([
  ["", null],
  ["  ", null],
  [undefined, null],
  ["0", 0],
  [" 40 ", 40],
  ["0012", 12],
  ["9999", 9999],
  ["10000", "none"],
  ["99999999", "none"],
  ["-1", "none"],
  ["4.5", "none"],
  ["4e3", "none"],
  ["forty", "none"],
])("%j is %j", (typed, count) => {
  expect(customerCount(typed)).toBe(count);
});

it("only two counts that differ are asked about, and other counts anew", () => {
  expect(countsAsked(1, 1)).toBeNull();
  expect(countsAsked(1, null)).toBeNull();
  expect(countsAsked(1, "none")).toBeNull();
  expect(countsAsked(1, 0)).not.toBeNull();
  expect(new Set([countsAsked(1, 40), countsAsked(14, 0), countsAsked(1, 41)]).size).toBe(3);
});

it("a loose wheel is said beside the casings and is none of them", () => {
  const lines = ["retread", "wheel_tire", "wheel", "", "wheel"].map((line) => ({ line }));
  expect(wheelsOf(lines)).toBe(2);
  expect(countsSaid([], seen, wheelsOf(lines))).toBe("2 loose wheels");
  expect(countsSaid([], seen, 1)).toBe("1 loose wheel");
  expect(countsSaid([], seen)).toBe("");
});
