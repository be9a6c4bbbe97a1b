/** What the phone's table offers, day by day, and where it is silent. */
import { expect, it } from "vitest";
import { dayOf, daysAfter, daysBetween, offered, STORE } from "../../src/domain/promise";
import type { PromiseTable } from "../../src/domain/rows";

const table: PromiseTable = {
  computed_on: "2026-02-27",
  valid_until: "2026-03-02",
  version: 7,
  forecast: null,
  stock: [],
  places: {
    yard: { retread: ["2026-03-09", null, "2026-03-10", "2026-03-11", "2026-03-12"] },
    [STORE]: { retread: ["2026-03-06"], repair: ["2026-03-04"] },
  },
};

it.each([
  ["yard", "retread", "2026-02-27", "2026-03-09"],
  ["yard", "retread", "2026-02-28", null],
  ["yard", "retread", "2026-03-01", "2026-03-10"],
  ["yard", "retread", "2026-03-02", "2026-03-11"],
  // The table would go on, but it is not valid any more.
  ["yard", "retread", "2026-03-03", null],
  ["yard", "retread", "2026-02-26", null],
  ["yard", "repair", "2026-02-27", null],
  ["other", "retread", "2026-02-27", null],
  [STORE, "repair", "2026-02-27", "2026-03-04"],
  [STORE, "repair", "2026-02-28", null],
  ["yard", "retread", "no day", null],
  ["yard", "retread", "", null],
])("%s, %s, handed over %s: %s", (place, work, handedOver, on) => {
  expect(offered(table, place, work, handedOver)).toBe(on);
});

it("without a table nothing is offered", () => {
  expect(offered(null, "yard", "retread", "2026-02-27")).toBeNull();
});

it("a day is that of this place", () => {
  expect(dayOf(Date.UTC(2026, 3, 15, 3))).toBe("2026-04-14");
  expect(dayOf(Date.UTC(2026, 0, 1, 12))).toBe("2026-01-01");
});

it("days are counted by the calendar, through a change of the clocks", () => {
  expect(daysBetween("2026-03-07", "2026-03-09")).toBe(2);
  expect(daysBetween("2026-03-09", "2026-03-07")).toBe(-2);
  expect(daysBetween("", "2026-03-07")).toBeNaN();
  expect(daysAfter("2026-02-27", 2)).toBe("2026-03-01");
  expect(daysAfter("2026-01-01", -1)).toBe("2025-12-31");
});
