/** One input for everything: what a name, a label, a TIN or a ticket's number finds. */
import { describe, expect, it } from "vitest";
import { emptyVisit } from "../../src/domain/visits";
import { ticketNumber } from "../../src/domain/ticket";
import { customersOf, find, type Match } from "../../src/pickups/counter/find";
import { aCasing, YARDS } from "./counter_things";

const PICKUP = "01963b1c-7a00-7c3e-8d21-5a0f3c6ea000";
const casings = [
  aCasing({ id: "old", label: "K7000Y02", progress: "returned", tin: "4B08 2910" }),
  aCasing({ id: "now", label: "K7000Y02", tin: "4B08 X1 2910", picked_up_at: "2026-06-01" }),
  aCasing({ id: "late", label: "K7001PRB", tin: "DOT 1121", progress: "returned" }),
  aCasing({ id: "gone", label: "K7002MMM", withdrawn: true, tin: "4B08 2910" }),
];
const pickups = [emptyVisit(PICKUP, "y-hollow")];
const known = { yards: YARDS, casings, pickups };
const ids = (matches: Match[]) =>
  matches.map((m) =>
    m.what === "customer" ? m.customer.id : m.what === "casing" ? m.casing.id : m.pickup.id,
  );
const found = (typed: string) => ids(find(typed, known).matches);

it("yards are gathered under their customers, in the order of names", () => {
  expect(customersOf(YARDS).map(({ name, yards }) => [name, yards.length])).toEqual([
    ["Hollow Creek Dairy", 1],
    ["Pérez e Hijos", 1],
    ["Tarn Valley Haulage", 2],
  ]);
});

describe("a name", () => {
  it.each([
    ["tarn", ["c-tarn"]],
    ["TARN val", ["c-tarn"]],
    ["south gate", ["c-tarn"]],
    ["haulage north", ["c-tarn"]],
    ["creamery road", ["c-hollow"]],
    ["perez", ["c-perez"]],
    ["pérez", ["c-perez"]],
    ["ho", ["c-hollow"]],
    ["nobody", []],
  ])("%j finds %j", (typed, customers) => {
    expect(found(typed)).toEqual(customers);
  });

  it("that begins so stands before one that only holds it", () => {
    const yards = [
      ...YARDS,
      { id: "y", customer: "c-z", customer_name: "Abel of Tarn", name: "Z", address: "" },
    ];
    expect(ids(find("tarn", { ...known, yards }).matches)).toEqual(["c-tarn", "c-z"]);
  });
});

describe("a label", () => {
  it.each(["K7000Y02", "k700 0y02", "https://h.example/L/K7000Y02"])(
    "%j is the casing that wears it now",
    (typed) => {
      expect(found(typed)).toEqual(["now"]);
    },
  );

  it("of a casing that is back finds its last one", () => {
    const back = casings.filter(({ id }) => id !== "now");
    expect(ids(find("K7000Y02", { ...known, casings: back }).matches)).toEqual(["old"]);
  });

  it("that two casings wear finds both: the office has not settled it", () => {
    const twice = [...casings, aCasing({ id: "twin", label: "K7000Y02" })];
    expect(ids(find("K7000Y02", { ...known, casings: twice }).matches)).toEqual(["now", "twin"]);
  });

  it("that was replaced finds the casing that wore it, beside one that wears it now", () => {
    const anew = aCasing({ id: "anew", label: "K72K54X2", void_labels: ["K7003XXK", "K7000Y02"] });
    const all = [...casings, anew];
    expect(ids(find("K7000Y02", { ...known, casings: all }).matches)).toEqual(["now", "anew"]);
    expect(find("K72K54X2", { ...known, casings: all }).free).toBeNull();
    const only = { ...known, casings: [anew] };
    expect(ids(find("K7000Y02", only).matches)).toEqual(["anew"]);
    expect(find("K7000Y02", only).free).toBeNull();
  });

  it("that nobody wears is free", () => {
    expect(find("K7000XB4", known)).toEqual(expect.objectContaining({ matches: [] }));
    expect(find("K72K54X2", known).free).toBe("K72K54X2");
    expect(find("K7000Y02", known).free).toBeNull();
  });

  it("half typed finds what begins so", () => {
    expect(found("K700")).toEqual(["now", "old", "late"]);
    expect(found("K70")).toEqual([]);
  });
});

describe("a TIN", () => {
  it.each(["2910", "4B08 2910", "4b08x1", "DOT 4B08 X1"])("%j", (typed) => {
    expect(found(typed)).toContain("now");
  });

  it("of any of its treads finds the casing: birth or retread", () => {
    const tins = [
      { tin: "4B08 4DHR 2911", made: "new" },
      { tin: "7RT 1219", made: "retread" },
    ];
    const only = { ...known, casings: [aCasing({ id: "twice", tins })] };
    for (const typed of ["2911", "1219", "7RT 1219", "7rt1219", "4DHR 2911"])
      expect(ids(find(typed, only).matches)).toEqual(["twice"]);
    expect(ids(find("4B08 1219", only).matches)).toEqual([]);
  });

  it("finds what is with us before what is back, and never what was withdrawn", () => {
    expect(found("2910")).toEqual(["now", "old"]);
    expect(found("DOT 1121")).toEqual(["late"]);
    expect(found("291")).toEqual([]);
  });
});

it("a ticket's number finds its drop-off, however it is read", () => {
  const number = ticketNumber(PICKUP);
  for (const typed of [number, `T/${number}`, number.toLowerCase()])
    expect(find(typed, known).matches).toEqual([{ what: "ticket", pickup: pickups[0], number }]);
});

it("nothing typed finds nothing", () => {
  expect(find("  ", known)).toEqual({ matches: [], free: null });
});

describe("a telephone", () => {
  const yards = YARDS.map((yard) => ({
    ...yard,
    contact_name: "Ines Corvo",
    contact_phone:
      { "y-tarn-south": "+1 555 555 0142", "y-hollow": "(555) 555-0199" }[yard.id] ?? "",
  }));
  it.each([
    ["555 0142", ["c-tarn"]],
    ["5550142", ["c-tarn"]],
    ["(555) 555-0142", ["c-tarn"]],
    ["+15555550142", ["c-tarn"]],
    ["001 555 555 0142", ["c-tarn"]],
    ["+1 555 555 0199", ["c-hollow"]],
    ["555.555.0199", ["c-hollow"]],
    ["550142", []],
    ["555 0143", []],
  ])("%j finds %j", (typed, customers) => {
    expect(ids(find(typed, { ...known, yards }).matches)).toEqual(customers);
  });
});

describe("a purchase order or a unit", () => {
  const marked = [
    aCasing({ id: "po", purchase_order: "PO-4711", unit: "12", label: "K7004XXJ" }),
    aCasing({ id: "unit", unit: "T-12", label: "K70047TK" }),
  ];
  it.each([
    ["po-4711", ["po"]],
    ["po 47", ["po"]],
    ["12", ["po"]],
    ["t-12", ["unit"]],
    ["t12", ["unit"]],
    ["1", []],
    ["p", []],
  ])("%j finds %j", (typed, found) => {
    const only = find(typed, { ...known, casings: marked }).matches.filter(
      ({ what }) => what === "casing",
    );
    expect(ids(only)).toEqual(found);
  });
});
