/** A TIN in words while it is typed, key by key, in both languages. */
import { expect, it } from "vitest";
import { tinSaid, tinShort } from "../../src/pickups/yard/tinWords";
import { en } from "../../src/pickups/words.en";
import { es } from "../../src/pickups/words.es";

const TODAY = "2026-04-15";
const said = (typed: string) => tinSaid(typed, TODAY, en);

it.each([
  ["", "soft", en.tin_hint],
  ["2", "soft", en.tin_hint],
  ["29", "soft", en.tin_hint],
  ["2910", "good", "Week 29 of 2010, 15 years old."],
  ["DOT 4B08 4DHR 2910", "good", "Week 29 of 2010, 15 years old."],
  ["dot 4b08 4dhr", "soft", en.tin_no_date],
  ["1426", "good", "Week 14 of 2026, 1 week old."],
  ["1526", "good", "Week 15 of 2026, 0 weeks old."],
  ["R 4B0 2923", "good", "Retreaded in week 29 of 2023; the casing is older."],
  ["MILEAGE CONTRACT", "good", en.tin_mileage],
  ["4B08 ?910", "asks", en.tin_unread],
  ["0010", "asks", en.tin_week_wrong("00")],
  ["6710", "asks", en.tin_week_wrong("67")],
  ["5310", "asks", en.tin_no_week_53("10")],
  ["4026", "asks", "Week 40 of 2026 is still to come. Look again."],
  ["#2910", "asks", en.tin_symbol("#")],
  ["ABCD EFHJ KLMN 2910", "asks", en.tin_too_long(16)],
])("%j is %s: %s", (typed, tone, text) => {
  expect(said(typed)).toEqual({ tone, text });
});

it("slips are put right and said", () => {
  expect(said("dot 4bO8 4dhr 291O")).toEqual({
    tone: "good",
    text: "Week 29 of 2010, 15 years old. Read O as 0: no TIN holds such letters.",
  });
  expect(said("Z91O").text).toContain("Week 29 of 2010");
});

it("three digits leave the decade open, and every year that they may mean is told", () => {
  expect(said("298").text).toBe(
    "Three digits, so made before July 2000: week 29 of 1978 or week 29 of 1988 or week 29 of 1998.",
  );
  expect(tinShort("298", TODAY, en)).toBe("DOT 298");
});

it("the same in Spanish", () => {
  expect(tinSaid("2910", TODAY, es).text).toBe("Semana 29 de 2010, 15 años de edad.");
  expect(tinSaid("6710", TODAY, es).tone).toBe("asks");
});

it("on a list it stands as it was read, with its week", () => {
  expect(tinShort("2910", TODAY, en)).toBe("DOT 2910 · week 29 of 2010");
  expect(tinShort("DOT 4B08 4DHR 2910", TODAY, en)).toBe("DOT 4B08 4DHR 2910 · week 29 of 2010");
  expect(tinShort("unreadable", TODAY, en)).toBe("DOT UNREADABLE");
  expect(tinShort("", TODAY, en)).toBe("");
});
