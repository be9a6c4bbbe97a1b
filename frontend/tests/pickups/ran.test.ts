/** Where a casing ran: what is carried on to the next, and how it is said. */
import { expect, it } from "vitest";
import { casingFromRow } from "../../src/domain/rows";
import { en } from "../../src/pickups/words.en";
import { BLANK, toldOf } from "../../src/pickups/yard/fields";
import { carriedRan, odometerFault, onAnotherUnit, ranSaid } from "../../src/pickups/yard/ran";

const TODAY = "2026-04-15";
const told = casingFromRow("c", {
  position: "drive",
  wheel: "left rear outer",
  odometer: 412000,
  odometer_in: "km",
  pulled_for: "puncture",
});

it("position and odometer go on to the next casing; its wheel and its reason are its own", () => {
  expect(carriedRan(told)).toEqual({ position: "drive", odometer: "412000", odometer_in: "km" });
  expect(carriedRan(undefined)).toEqual({});
  const next = toldOf({ ...BLANK, wheel: "" }, told, TODAY);
  expect([next.position, next.odometer, next.wheel, next.pulled_for]).toEqual([
    "drive",
    "412000",
    "",
    "",
  ]);
});

it("what was changed for a casing is its own, even where it was emptied", () => {
  const own = toldOf({ ...BLANK, ran_own: true, odometer: "" }, told, TODAY);
  expect([own.position, own.odometer]).toEqual(["", ""]);
});

it("on another unit the odometer carried on is dropped, one that was typed stays", () => {
  const next = toldOf(BLANK, told, TODAY);
  expect(onAnotherUnit(next, told)).toEqual({ odometer: "" });
  expect(onAnotherUnit({ ...next, odometer: "5000" }, told)).toEqual({});
  expect(onAnotherUnit({ ...next, odometer: "5000" }, undefined)).toEqual({});
});

it("it is said in one line, and nothing where nothing is told", () => {
  const ran = { ...BLANK, wheel: "LRO", odometer: "412000", pulled_for: "worn" as const };
  expect(ranSaid(ran, "T-118", en)).toBe("unit\u00a0T-118 · wheel LRO · 412000 mi · worn out");
  expect(ranSaid(BLANK, "", en)).toBe("");
});

it("a unit that is carried on from the casing before is said to be, another one is not", () => {
  const before = casingFromRow("c", { unit: "H12" });
  expect(ranSaid(BLANK, "H12", en, before)).toBe("Unit\u00a0H12, as before");
  expect(ranSaid(BLANK, "H13", en, before)).toBe("unit\u00a0H13");
  expect(ranSaid(BLANK, "H12", en)).toBe("unit\u00a0H12");
  expect(ranSaid(BLANK, "", en, casingFromRow("c", { unit: "" }))).toBe("");
});

it.each([
  ["", null],
  ["412,000", null],
  ["9 999 999", null],
  ["12345678", en.odometer_fault("12345678")],
  ["about 4", en.odometer_fault("about 4")],
  ["-5", en.odometer_fault("-5")],
  ["1,234,567", null],
  ["98.765", null],
  ["98,765.4", en.odometer_fault("98,765.4")],
  ["123456.7", en.odometer_fault("123456.7")],
  ["412.300,5", en.odometer_fault("412.300,5")],
])("odometer %j: %s", (typed, said) => {
  expect(odometerFault(typed, en)).toBe(said);
});
