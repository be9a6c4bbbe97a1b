/** Slips of a hand in a TIN: put right where one thing can be meant, offered, or explained. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { read, SYMBOLS } from "../../src/domain/tin";
import { en } from "../../src/pickups/words.en";
import {
  marked,
  mayBeMark,
  offered,
  oneMore,
  putRight,
  typedTin,
  untouched,
} from "../../src/pickups/yard/tinSlips";
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
  ["29l0", "29L0", "2910", en.tin_no_date],
  ["4b08 4dhr 29lO r", "4B08 4DHR 29LO R", "4B08 4DHR 2910 R", en.tin_no_date],
  ["99l0", "99L0", null, en.tin_no_date],
  ["29lx", "29LX", null, en.tin_no_date],
  ["4bo8 4dhr", "4BO8 4DHR", null, en.tin_no_date],
  ["no tin", "NO TIN", null, ""],
  ["mileage contract", "MILEAGE CONTRACT", null, en.tin_mileage],
  ["6710", "6710", null, en.tin_week_wrong("67")],
  ["R7RT1219", "R 7RT1219", null, "Retreaded in week 12 of 2019"],
  ["r7rt 1219", "R 7RT 1219", null, "Retreaded in week 12 of 2019"],
  ["DOT R7RT1219", "DOT R 7RT1219", null, "Retreaded in week 12 of 2019"],
  [
    "R1abc1224",
    "R1ABC1224",
    "R 1ABC1224",
    "The R may be a retreader's mark: then write R 1ABC1224",
  ],
  ["R1AB4DHR1210", "R1AB4DHR1210", "R 1AB4DHR1210", "Week 12 of 2010"],
  ["R1A 4B084D 1224", "R1A 4B084D 1224", null, "Week 12 of 2024"],
  ["R2910", "R 2910", null, "Retreaded in week 29 of 2010"],
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
      const { tin, retread, date } = read(marked(text, TODAY), TODAY);
      const again = read(kept, TODAY);
      expect([again.tin, again.retread, again.date]).toEqual([tin, retread, date]);
      expect(putRight(kept, TODAY)).toBe(kept);
    }),
  );
});

it("a TIN of sound symbols is kept as it is, but for an R that may be a retreader's mark", () => {
  const symbols = fc.array(fc.constantFrom(...SYMBOLS), { maxLength: 13 });
  fc.assert(
    fc.property(symbols, (some) => {
      fc.pre(mayBeMark(some.join(""), TODAY) === null);
      expect(putRight(some.join(""), TODAY)).toBe(some.join(""));
      if (!some.includes("L")) expect(offered(some.join(""), TODAY)).toBeNull();
    }),
  );
});

const symbols = (least: number, most: number) =>
  fc
    .array(fc.constantFrom(...SYMBOLS), { minLength: least, maxLength: most })
    .map((some) => some.join(""));
const week = fc.integer({ min: 1, max: 52 }).map((n) => String(n).padStart(2, "0"));
/** Seven symbols, as retreaders mark them since April 2015. */
const retreads = fc
  .tuple(symbols(3, 3), week, fc.integer({ min: 16, max: 25 }))
  .map(([plant, w, year]) => plant + w + year);

it("glued or apart, the R before a retread's seven symbols tells the same", () => {
  fc.assert(
    fc.property(retreads, (tin) => {
      const glued = putRight(`R${tin}`, TODAY);
      expect(glued).toBe(`R ${tin}`);
      expect(typedTin(undefined, glued, TODAY)).toEqual({ tin: `R ${tin}`, made: "retread" });
      expect(read(glued, TODAY).tin).toBe(tin);
    }),
  );
});

it("an R that may be a symbol is never set apart unasked, and what is offered is the same symbols", () => {
  fc.assert(
    fc.property(symbols(0, 12), (behind) => {
      const mark = mayBeMark(`R${behind}`, TODAY);
      if (mark === null) return;
      expect(mark.apart.replace(/ /g, "")).toBe(`R${behind}`);
      expect(read(mark.apart, TODAY)).toMatchObject({ retread: true, tin: behind });
      if (!mark.sure) expect(putRight(`R${behind}`, TODAY)).toBe(`R${behind}`);
    }),
  );
});

it("an R that was typed says whose TIN it is, and a person's word stands", () => {
  expect(typedTin(undefined, "R 4B0 2923", TODAY).made).toBe("retread");
  expect(typedTin(undefined, "2923", TODAY).made).toBe("");
  expect(typedTin({ tin: "", made: "new" }, "R 4B0 2923", TODAY).made).toBe("new");
});

it("one more TIN is a retread's only where the birth is told", () => {
  expect(untouched([{ tin: "", made: "" }])).toEqual([]);
  expect(untouched([{ tin: "", made: "retread" }])).toHaveLength(1);
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
