/** A deposit as it is typed, and as it is said back. */
import { describe, expect, it } from "vitest";
import { depositIn, depositOf, depositSaid } from "../../src/pickups/counter/deposit";

describe("what is typed", () => {
  it.each([
    ["", null],
    ["  ", null],
    ["50", { cents: 5000, how: "" }],
    ["50 cash", { cents: 5000, how: "cash" }],
    ["50 cash, slip 88", { cents: 5000, how: "cash, slip 88" }],
    ["50, cash", { cents: 5000, how: "cash" }],
    ["$50.5 card", { cents: 5050, how: "card" }],
    ["€ 12,25 efectivo", { cents: 1225, how: "efectivo" }],
    ["99999.99 check", { cents: 9_999_999, how: "check" }],
    ["1,500 cash", "none"],
    ["1.500,00 cash", "none"],
    ["100000 cash", "none"],
    ["0 cash", "none"],
    ["0.00", "none"],
    ["-5", "none"],
    ["cash 50", "none"],
    ["50cash", "none"],
    [`50 ${"x".repeat(41)}`, "none"],
    [`50 ${"x".repeat(40)}`, { cents: 5000, how: "x".repeat(40) }],
  ])("%j", (typed, deposit) => {
    expect(depositIn(typed)).toEqual(deposit);
  });
});

it("amount and how are said together, the amount alone where nobody said how", () => {
  const money = (cents: number) => `$${(cents / 100).toFixed(2)}`;
  expect(depositSaid({ cents: 5000, how: "cash, slip 88" }, money)).toBe("$50.00, cash, slip 88");
  expect(depositSaid({ cents: 5000, how: "" }, money)).toBe("$50.00");
});

it("a visit without one has none", () => {
  expect(depositOf({ deposit_cents: null, deposit_note: "" })).toBeNull();
  expect(depositOf({ deposit_cents: 1, deposit_note: "card" })).toEqual({ cents: 1, how: "card" });
});
