/** The next label of a roll by its last three symbols. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { checkSymbol, fault, SYMBOLS } from "../../src/domain/labels";
import { nextOfRoll } from "../../src/pickups/yard/rollLabel";

const symbol = fc.constantFrom(...SYMBOLS);
const random = fc.tuple(symbol, symbol).map((two) => two.join(""));
const whole = (body: string): string => body + checkSymbol(body);
const serialOf = (n: number): string =>
  [900, 30, 1].map((unit) => SYMBOLS[Math.floor(n / unit) % 30]).join("");

it("three symbols are enough for the one after, and for the one before, on the same roll", () => {
  const serial = fc.integer({ min: 1, max: 26_998 });
  fc.assert(
    fc.property(serial, random, random, fc.constantFrom(1, -1), (at, first, second, step) => {
      const last = whole(`K7${serialOf(at)}${first}`);
      const next = whole(`K7${serialOf(at + step)}${second}`);
      fc.pre(fault(last) === null && fault(next) === null);
      const found = nextOfRoll(last, next.slice(-3).toLowerCase());
      // One tail may fit both neighbours: then it is not guessed.
      const other = `K7${serialOf(at - step)}${next.slice(-3)}`;
      expect(found).toBe(fault(other) === null ? null : next);
    }),
  );
});

it("what is found is always a sound label beside the last one; else nothing is", () => {
  fc.assert(
    fc.property(fc.array(symbol, { maxLength: 8 }), (typed) => {
      const found = nextOfRoll("K7000Y02", typed.join(""));
      if (found === null) return;
      expect(fault(found)).toBeNull();
      expect(found.slice(0, 5)).toBe("K7001");
      expect(typed).toHaveLength(3);
    }),
  );
  expect(nextOfRoll(null, "Y02")).toBeNull();
});
