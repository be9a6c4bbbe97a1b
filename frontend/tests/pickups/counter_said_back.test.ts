/** What was typed, said back; where Enter leads; what cannot be told. */
import { describe, expect, it } from "vitest";
import { BLANK_ENTRY, firstWanted, seenFor, takenAfterAll } from "../../src/pickups/counter/entry";
import { faultsIn, leftBy } from "../../src/pickups/counter/faults";
import { leadsTo } from "../../src/pickups/counter/lead";
import { completes, tinsFault, tinsSaid, treadsSaid } from "../../src/pickups/counter/saidBack";
import { tinsIn } from "../../src/pickups/counter/tins";
import { readSize } from "../../src/domain/size";
import { en as w } from "../../src/pickups/counter/words.en";
import { en as all } from "../../src/pickups/words.en";

const TODAY = "2026-04-15";
const decimal = (value: number) => String(Math.round(value * 10) / 10);
const NOWHERE = { position: "" as const, pull: null };
const tins = (line: string) => tinsSaid(line, TODAY, w, all);
function treads(typed: string, about: Parameters<typeof treadsSaid>[1] = NOWHERE) {
  const told = treadsSaid(typed, about, w, all, decimal);
  return "said" in told ? [told.said.tone, told.said.text] : ["fault", told.fault];
}

describe("TINs", () => {
  it("each is said in words, slips too; what asks for another look wins", () => {
    expect(tins("4BO8 4DHR 2910, R 7RT 1219")).toEqual({
      tone: "good",
      text:
        "Week 29 of 2010, 15 years old. Read O as 0: no TIN holds such letters. " +
        "Retreaded in week 12 of 2019; the casing is older.",
    });
    expect(tins("2910, 5410").tone).toBe("asks");
    expect(tins("").tone).toBe("soft");
  });

  it("nine, or one that is too long, cannot be told", () => {
    expect(tinsFault("2910,".repeat(8), TODAY, w)).toBeNull();
    expect(tinsFault("2910,".repeat(9), TODAY, w)).toContain("8 TINs are the most");
    expect(tinsFault(`4B08 ${"A".repeat(21)}`, TODAY, w)).toContain("too long");
  });
});

describe("treads", () => {
  it("as read, the lowest, the mean", () => {
    expect(treads("676656")).toEqual([
      "good",
      "6 grooves: 6 7 6 6 5 6. Lowest 5, mean 6. 2/32 between grooves of a place: the cause is open; look at it.",
    ]);
    expect(treads("666")).toEqual(["good", "3 grooves: 6 6 6. Lowest 6, mean 6."]);
    expect(treads("6 -").at(1)).toContain("2 grooves: 6 -.");
    expect(treads("")[0]).toBe("soft");
    expect(treads("- -")[0]).toBe("soft");
  });

  it("a limit where the position is known, and below 2 on any wheel", () => {
    expect(treads("333")[1]).not.toContain("legal");
    expect(treads("333", { position: "steer", pull: null })[1]).toContain("Below 4/32");
    expect(treads("333", { position: "bus_front", pull: null })[1]).toContain("Below 4/32");
    expect(treads("333", { position: "drive", pull: null })[1]).not.toContain("legal");
    expect(treads("1 1 1")[1]).toContain("Below 2/32, the legal minimum on all but front wheels");
    expect(treads("1 1 1")[1]).not.toContain("Below 4/32");
    expect(treads("1 1 1")[0]).toBe("asks");
  });

  it("the depth at which this customer pulls: below it, and what is left above it", () => {
    expect(treads("555", { position: "drive", pull: 6 })[1]).toContain("1/32 below the 6/32");
    expect(treads("777", { position: "drive", pull: 6 })[1]).toContain("1/32 of tread left");
  });

  it("what uneven wear may point to, in careful words; each difference where it was found", () => {
    const [tone, text] = treads("8 6 4");
    expect(tone).toBe("asks");
    expect(text).toContain("4/32 between grooves of a place: may come from alignment.");
    const round = treads("6 6 / 3 3")[1];
    expect(round).toContain("2 places: 6 6 / 3 3.");
    expect(round).toContain("3/32 round the tire in a groove: may come from balance");
    expect(round).not.toContain("between grooves");
  });

  it("places with different numbers of grooves are asked about", () => {
    expect(treads("666/66")).toEqual(["asks", expect.stringContaining("same number of grooves")]);
  });

  it("what cannot be read is a fault once the number is whole", () => {
    expect(treads("6 66 ")).toEqual(["fault", expect.stringContaining("“66” is no depth")]);
    expect(treads("101 ")).toEqual(["fault", expect.stringContaining("more than one way")]);
    expect(treads("6 66")[0]).toBe("good");
  });

  it("a size typed into them is named, both readings and how to say which", () => {
    const [tone, said] = treads("29575225 ");
    expect(tone).toBe("fault");
    for (const part of ["295/75R22.5", "2 9 5 7 5 2 2 5", "field Size", "space between"])
      expect(said).toContain(part);
  });
});

it.each([
  ["11", true],
  ["295/75", true],
  ["11R22.5", false],
  ["11 22.5", false],
  ["1000 20", false],
  ["29575225", false],
  ["11R2Z.5", false],
])("the first that is offered for the size %s is taken by Enter: %j", (typed, taken) => {
  const reading = readSize(typed);
  if (!taken && reading.size === null) expect(reading.offers).not.toEqual([]);
  expect(completes(reading)).toBe(taken);
});

describe("Enter leads", () => {
  const known = { size: "11R22.5", treads: "", tire: true };

  it("from the TIN past a size that is as before, else to it", () => {
    expect(leadsTo("tin", known)).toBe("treads");
    expect(leadsTo("tin", { ...known, size: " " })).toBe("size");
    expect(leadsTo("size", known)).toBe("treads");
    expect(leadsTo("kind", known)).toBe("label");
    expect(leadsTo("position", known)).toBe("treads");
  });

  it("to the end of the casing from its treads, and from anywhere once they are typed", () => {
    expect(leadsTo("treads", known)).toBeNull();
    expect(leadsTo("tin", { ...known, treads: "6" })).toBeNull();
    expect(leadsTo("unit", { ...known, tire: false })).toBeNull();
  });
});

describe("what cannot be told", () => {
  function read(some: Partial<typeof BLANK_ENTRY>, wanted = firstWanted) {
    const fields = { ...BLANK_ENTRY, label: "K7000Y02", ...some };
    const seen = seenFor(fields, undefined, TODAY);
    return faultsIn({ fields, typed: fields.label, seen, wanted }, TODAY, w, all, (day) => day);
  }

  it.each([
    [{}, null],
    [{ label: "K7000Y03" }, "label"],
    [{ treads: "6 66" }, "treads"],
    [{ treads: "29575225" }, "treads"],
    [{ seen: { odometer: "12345678" } }, "odometer"],
    [{ code: "hole of some kind" }, "seen-code"],
    [{ seen: { line: "adjustment" as const } }, "complaint"],
    [{ seen: { line: "adjustment" as const, complaint: "tread came off" } }, "treads"],
    [{ seen: { line: "sell" as const, sale_price: "forty" } }, "sale-price"],
    [{ seen: { line: "wheel_tire" as const } }, "rim"],
    [{ seen: { line: "wheel_tire" as const, rim: "steel" as const } }, "valve-out"],
    [{ seen: { line: "wheel" as const, rim: "steel" as const } }, null],
    [{ seen: { size: "unisteel eight twenty five low pro" } }, "size"],
    [{ seen: { size: `295/75R22.5 ${"G".repeat(41)}` } }, "size"],
    [{ seen: { size: "11R22.5", rating: "G".repeat(40) } }, null],
  ])("%j: %j", (some, field) => {
    expect(read(some).at).toBe(field);
  });

  it("what is not asked of its kind, and not in sight, keeps nothing back", () => {
    const hidden = { tin: "4B08 ".repeat(9), treads: "101", code: "hole of some kind" };
    const size = "unisteel eight twenty five low pro";
    const wheel = { line: "wheel" as const, rim: "steel" as const, size };
    const gone = { ...firstWanted, promised_on: "2020-01-01" };
    expect(read({ ...hidden, seen: wheel }, gone).at).toBeNull();
    expect(read({ ...hidden, seen: { size } }).at).toBe("tin");
    expect(read({ seen: { line: "sell" as const } }, gone).at).toBeNull();
    expect(read({}, gone).at).toBe("promised-on");
  });

  it("one that is not taken needs no label and no treads, but what is told of it", () => {
    const left = (some: Partial<typeof BLANK_ENTRY>) => leftBy(read(some)).at;
    expect(left({ label: "", treads: "101", tin: "2922" })).toBeNull();
    expect(left({ tin: `4B08 ${"A".repeat(24)}` })).toBe("tin");
    expect(left({ tin: "2910,".repeat(9) })).toBe("tin");
    expect(left({ seen: { size: "unisteel eight twenty five low pro" } })).toBe("size");
    expect(left({ code: "hole of some kind" })).toBe("seen-code");
  });
});

it("what was given back and is taken after all is filled in as it was read", () => {
  const tins = tinsIn("4B08 4DHR 2910, R 7RT 1219", TODAY);
  const line = { tins, size: "11R22.5", brand: "Kordan", findings: [], note: "n", photos: ["a"] };
  const fields = { ...BLANK_ENTRY, ...takenAfterAll(line as never) };
  expect(seenFor(fields, undefined, TODAY)).toMatchObject({
    tins,
    size: "11R22.5",
    brand: "Kordan",
  });
  expect([fields.note, fields.photos]).toEqual(["n", ["a"]]);
});
