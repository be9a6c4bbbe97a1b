/** TINs as a keyboard tells them: several on a line, marked by an R, slips put right. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { read, SYMBOLS } from "../../src/domain/tin";
import { lineMeant, tinsIn, tinTexts, written } from "../../src/pickups/counter/tins";

const TODAY = "2026-04-15";

it("the line is offered as it may be meant, each TIN by itself", () => {
  expect(lineMeant("4b08 4dhr 29l0, r 7rt 12l9", TODAY)).toBe("4B08 4DHR 2910, R 7RT 1219");
  expect(lineMeant("29l0; 1219", TODAY)).toBe("2910, 1219");
  expect(lineMeant("2910, R 7RT 1219", TODAY)).toBeNull();
  expect(lineMeant("", TODAY)).toBeNull();
});

it.each([
  ["", []],
  ["2910", [["2910", ""]]],
  [
    "4B08 4DHR 2910, R 7RT 1219",
    [
      ["4B08 4DHR 2910", "new"],
      ["7RT 1219", "retread"],
    ],
  ],
  [
    "4b08 4dhr 2910;7rt 1219 r",
    [
      ["4B08 4DHR 2910", "new"],
      ["7RT 1219", "retread"],
    ],
  ],
  ["R 7RT 1219", [["7RT 1219", "retread"]]],
  ["R7RT1219", [["7RT1219", "retread"]]],
  ["R1abc1224", [["R1ABC1224", ""]]],
  [
    "4B08 4DHR 2910, r7rt 1219",
    [
      ["4B08 4DHR 2910", "new"],
      ["7RT 1219", "retread"],
    ],
  ],
  [
    "R 7RT 1219, R 7RT 2021",
    [
      ["7RT 1219", "retread"],
      ["7RT 2021", "retread"],
    ],
  ],
  [
    "2910, 1219",
    [
      ["2910", ""],
      ["1219", ""],
    ],
  ],
  [
    "2910, 1219, R 2021",
    [
      ["2910", ""],
      ["1219", ""],
      ["2021", "retread"],
    ],
  ],
  [" , 2910 ,", [["2910", ""]]],
])("%j is %j", (line, told) => {
  expect(tinsIn(line, TODAY).map(({ tin, made }) => [tin, made])).toEqual(told);
});

it.each([
  ["DOT 4B08 4DHR 2910", "4B08 4DHR 2910"],
  ["dot 4bo8 4dhr 29io", "4B08 4DHR 2910"],
  ["DOT4B084DHR2910", "4B084DHR2910"],
  ["  4B08   2923 ", "4B08 2923"],
  ["4B08 4DHR 29?0", "4B08 4DHR 29?0"],
  ["for mileage contract use only", "FOR MILEAGE CONTRACT USE ONLY"],
])("%j is written %j", (typed, told) => {
  expect(written(typed, TODAY)).toBe(told);
});

it("what is written tells the symbols that were typed, slips put right", () => {
  const symbols = fc.array(fc.constantFrom(...SYMBOLS, "?", " ", "O", "I", "S"), { maxLength: 16 });
  fc.assert(
    fc.property(symbols, fc.constantFrom("", "DOT ", "R "), (body, mark) => {
      const text = mark + body.join("");
      const meant = read(text, TODAY);
      const again = read(written(text, TODAY), TODAY);
      if (meant.tin !== "") expect(again.tin).toBe(meant.tin);
    }),
  );
});

it("a line that is being typed is cut at its commas only", () => {
  expect(tinTexts("4B08/4DHR/2910 , 1219")).toEqual(["4B08/4DHR/2910", "1219"]);
});
