/** What each kind of line has to record, and what it tells. */
import { expect, it } from "vitest";
import type { Line } from "../../../src/domain/operation";
import { lineFault } from "../../../src/pickups/seen/lines";
import { asksWork, carriedLine, LINES, lineFor, seenPayload } from "../../../src/pickups/seen/seen";
import { en } from "../../../src/pickups/words.en";
import { fields } from "./things";

const at = (some: Parameters<typeof fields>[0]) => lineFault(fields(some), en)?.at ?? null;

it("a casing to retread or to repair lacks nothing", () => {
  expect(at({ line: "retread" })).toBeNull();
  expect(at({ line: "repair" })).toBeNull();
});

it("a claim needs its complaint, then what is left of the tread", () => {
  expect(at({ line: "adjustment" })).toBe("complaint");
  expect(at({ line: "adjustment", complaint: " " })).toBe("complaint");
  expect(at({ line: "adjustment", complaint: "tread came off" })).toBe("treads");
  expect(at({ line: "adjustment", complaint: "tread came off", treads: [[null], []] })).toBe(
    "treads",
  );
  expect(at({ line: "adjustment", complaint: "tread came off", treads: [[null, 0]] })).toBeNull();
});

it("a wheel with its tire needs its rim, then its valve core out; a loose wheel its rim", () => {
  expect(at({ line: "wheel_tire" })).toBe("rim");
  expect(at({ line: "wheel_tire", valve_out: true })).toBe("rim");
  expect(at({ line: "wheel_tire", rim: "steel" })).toBe("valve-out");
  expect(at({ line: "wheel_tire", rim: "steel", valve_out: true })).toBeNull();
  expect(at({ line: "wheel" })).toBe("rim");
  expect(at({ line: "wheel", rim: "aluminum" })).toBeNull();
});

it.each([
  ["", null],
  ["45", null],
  ["45,5", null],
  ["99999.99", null],
  ["100000", "sale-price"],
  ["-1", "sale-price"],
  ["forty", "sale-price"],
])("an offer of %j", (sale_price, fault) => {
  expect(at({ line: "sell", sale_price })).toBe(fault);
});

it("a fault names what was typed and what is allowed", () => {
  const fault = lineFault(fields({ line: "sell", sale_price: "forty" }), en);
  expect(fault?.said).toBe(en.sale_price_fault("forty"));
  expect(fault?.said).toContain("from 0 to 99999");
});

const FULL = fields({
  tins: [{ tin: "1210", made: "new" }],
  size: "11R22.5",
  rating: "G",
  brand: "Corvane",
  treads: [[5]],
  findings: [{ zone: "crown", kind: "cut", side: "", mm: null, count: 1, photos: [] }],
  sale_grade: "A",
  sale_price: "45.5",
  sale_pays: "credit",
  complaint: "came off",
  rim: "steel",
  valve_out: true,
});
const CHECKED = { verdict: "take" as const, specification: null, number: null, because: [] };
const told = (line: Line) => seenPayload({ ...FULL, line }, CHECKED);

it("a line tells what belongs to it and nothing else", () => {
  expect(told("sell").sale).toEqual({ grade: "A", cents: 4550, pays: "credit" });
  expect(told("adjustment").complaint).toBe("came off");
  expect([told("wheel_tire").rim, told("wheel_tire").valve_out]).toEqual(["steel", true]);
  for (const line of LINES) {
    if (line !== "sell") expect(told(line).sale).toBeNull();
    if (line !== "adjustment") expect(told(line).complaint).toBe("");
    if (!line.startsWith("wheel")) expect(told(line).rim).toBe("");
    if (line !== "wheel_tire") expect(told(line).valve_out).toBe(false);
  }
});

it("a loose wheel tells nothing of a tire that was filled in before it was one", () => {
  const { tins, size, rating, brand, treads_32nds, findings, check } = told("wheel");
  expect({ tins, size, rating, brand, treads_32nds, findings, check }).toEqual({
    tins: [],
    size: "",
    rating: "",
    brand: "",
    treads_32nds: [],
    findings: [],
    check: null,
  });
  expect(told("wheel_tire").size).toBe("11R22.5");
});

it("the kind of thing is carried on, the work wanted tells retread from repair", () => {
  expect(carriedLine(undefined)).toBe("retread");
  for (const line of LINES) expect(carriedLine({ line })).toBe(line);
  expect(carriedLine({ line: "from a later version" })).toBe("retread");
  expect(lineFor("retread", "repair")).toBe("repair");
  expect(lineFor("repair", "retread")).toBe("retread");
  expect(lineFor("sell", "repair")).toBe("sell");
  expect(LINES.filter(asksWork)).toEqual(["retread", "repair", "wheel_tire"]);
});
