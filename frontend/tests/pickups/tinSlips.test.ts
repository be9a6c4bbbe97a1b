/** Slips of a hand in a TIN: put right where one thing can be meant, offered, or explained. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { read, SYMBOLS } from "../../src/domain/tin";
import { en } from "../../src/pickups/words.en";
import { offered, oneMore, putRight, typedTin } from "../../src/pickups/yard/tinSlips";
import { tinSaid } from "../../src/pickups/yard/tinWords";
import { noted, noteOf, withoutNoted } from "../../src/pickups/yard/yearNote";

const TODAY = "2026-04-15";

/** As typed, as it is kept, what is offered beside it, and what is said while it is typed. */
it.each([
  ["dot 4bo8 4dhr 29i0", "DOT 4B08 4DHR 2910", null, "Week 29 of 2010"],
  ["dot4b084dhr2910", "DOT4B084DHR2910", null, "Week 29 of 2010"],
  ["  4b08   4dhr 2910 ", "4B08 4DHR 2910", null, "Week 29 of 2010"],
  ["291O", "2910", null, "Read O as 0"],
  ["29I0", "2910", null, "Read I as 1"],
  ["r 4bo 2923", "R 4B0 2923", null, "Retreaded in week 29 of 2023"],
  ["DOT R 4BO 2923", "DOT R 4B0 2923", null, "Retreaded in week 29 of 2023"],
  ["4B08 4DHR 29S0", "4B08 4DHR 29S0", "4B08 4DHR 2950", "Read S as 5"],
  ["4GO8 4DHR 2910", "4G08 4DHR 2910", "4608 4DHR 2910", "Read G as 6"],
  ["Z910", "Z910", "2910", "Week 29 of 2010"],
  ["4bo8 4dhr", "4BO8 4DHR", null, en.tin_no_date],
  ["no tin", "NO TIN", null, ""],
  ["mileage contract", "MILEAGE CONTRACT", null, en.tin_mileage],
  ["6710", "6710", null, en.tin_week_wrong("67")],
  ["4B08 ?9I0", "4B08 ?9I0", null, en.tin_unread],
  ["", "", null, en.tin_hint],
])("%j is kept as %j, offered %j, and said to be %j", (typed, kept, meant, said) => {
  expect(putRight(typed, TODAY)).toBe(kept);
  expect(offered(typed, TODAY)).toBe(meant);
  expect(tinSaid(typed, TODAY, en).text).toContain(said);
});

it("what is put right reads as what was typed, and is put right once and for all", () => {
  const typed = fc.stringMatching(/^(DOT |dot|R |)[0-9A-Za-z ]{0,14}$/);
  fc.assert(
    fc.property(typed, (text) => {
      const kept = putRight(text, TODAY);
      const { tin, retread, date } = read(text, TODAY);
      const again = read(kept, TODAY);
      expect([again.tin, again.retread, again.date]).toEqual([tin, retread, date]);
      expect(putRight(kept, TODAY)).toBe(kept);
    }),
  );
});

it("a TIN of sound symbols is kept as it is", () => {
  const symbols = fc.array(fc.constantFrom(...SYMBOLS), { maxLength: 13 });
  fc.assert(
    fc.property(symbols, (some) => {
      expect(putRight(some.join(""), TODAY)).toBe(some.join(""));
      expect(offered(some.join(""), TODAY)).toBeNull();
    }),
  );
});

it("an R that was typed says whose TIN it is, and a person's word stands", () => {
  expect(typedTin(undefined, "R 4B0 2923", TODAY).made).toBe("retread");
  expect(typedTin(undefined, "2923", TODAY).made).toBe("");
  expect(typedTin({ tin: "", made: "new" }, "R 4B0 2923", TODAY).made).toBe("new");
});

it("one more TIN is a retread's only where the birth is told", () => {
  expect(oneMore([{ tin: "2910", made: "new" }])[1]).toEqual({ tin: "", made: "retread" });
  expect(oneMore([{ tin: "2910", made: "" }])[1]).toEqual({ tin: "", made: "" });
});

it("a year that is known stands in the note as a line of its own and can be taken out again", () => {
  const note = "Cut on one side\nDOT 298: week 29 of 1988";
  expect(noted(note, "DOT 298: week 29 of 1988")).toBe(true);
  expect(noted(note, "DOT 298: week 29 of 1998")).toBe(false);
  expect(withoutNoted(note, ["DOT 298: week 29 of 1988"])).toBe("Cut on one side");
  expect(withoutNoted("DOT 298: week 29 of 1988", ["DOT 298: week 29 of 1988"])).toBe("");
});

it("what was noted of a decade goes with the digits that it was noted of", () => {
  const tin = (digits: string) => [{ tin: digits, made: "" as const }];
  const line = en.tin_decade_noted("298", en.tin_week(29, 1988));
  const note = `on the rack\n${line}`;
  const after = (...tins: ReturnType<typeof tin>) =>
    noteOf(note, { before: tin("298"), after: tins }, "2026-04-15", en);
  expect(after(...tin("297"))).toBe("on the rack");
  expect(after()).toBe("on the rack");
  expect(after(...tin("298"), ...tin("2910"))).toBe(note);
  const typed = noteOf("on the rack", { before: tin("298"), after: [] }, "2026-04-15", en);
  expect(typed).toBe("on the rack");
});
