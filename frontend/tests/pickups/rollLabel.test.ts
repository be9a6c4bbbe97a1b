/** The next label of a roll by its last three symbols. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { checkSymbol, fault, SYMBOLS } from "../../src/domain/labels";
import { rolls } from "../../src/domain/entities";
import { nextOfRoll, ofOwnRoll, ownRolls, proposed } from "../../src/pickups/yard/rollLabel";
import page from "../../../fixtures/wire/pull.page.json";

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

// --- The roll that a driver has --------------------------------------------------------------

const labels = (from: number, count: number): string[] =>
  Array.from(
    { length: count },
    (_, at) =>
      SYMBOLS.split("")
        .flatMap((first) => SYMBOLS.split("").map((second) => first + second))
        .map((two) => whole(`K7${serialOf(from + at)}${two}`))
        // Another pair for each, so that no two end alike.
        .filter((label) => fault(label) === null)
        .at(at)!,
  );
const roll = labels(0, 20);
const worn = (label: string, minute: number, void_labels: string[] = []) => ({
  label,
  void_labels,
  picked_up_at: new Date(Date.UTC(2026, 2, 3, 8, minute)).toISOString(),
});
const mine = { id: "r", holder: "dale", labels: roll };

it("the next free label of his own roll is offered as he pulls it, up or down", () => {
  const length = roll.length;
  fc.assert(
    fc.property(fc.integer({ min: 1, max: length - 1 }), fc.boolean(), (used, down) => {
      const order = down ? [...roll].reverse() : roll;
      const casings = order.slice(0, used).map((label, at) => worn(label, at));
      // Rows come in any order.
      const own = ownRolls("dale", [mine], [...casings].reverse(), []);
      expect(proposed(own)).toBe(order[used]);
    }),
  );
  expect(proposed(ownRolls("dale", [mine], [], []))).toBe(roll[0]);
});

it("what was used, replaced or spoiled is never offered, nor another driver's roll", () => {
  const some = fc.subarray(roll);
  fc.assert(
    fc.property(some, some, some, (used, gone, spoiled) => {
      const casings = used.map((label, at) => worn(label, at, gone.slice(at, at + 1)));
      const own = ownRolls("dale", [mine], casings, spoiled);
      const offered = proposed(own);
      const taken = new Set([...used, ...casings.flatMap((one) => one.void_labels), ...spoiled]);
      if (offered === null) expect(taken.size).toBe(roll.length);
      else expect([roll.includes(offered), taken.has(offered)]).toEqual([true, false]);
      for (const label of roll)
        expect(ofOwnRoll(own, label.slice(-3).toLowerCase())).toBe(taken.has(label) ? null : label);
    }),
  );
  const hers = { id: "s", holder: "mira", labels: labels(40, 3) };
  expect(proposed(ownRolls("dale", [hers], [], []))).toBeNull();
  expect(proposed(ownRolls(null, [hers], [], []))).toBeNull();
  const full = roll.map((label, at) => worn(label, at));
  expect(proposed(ownRolls("mira", [mine, hers], full, []))).toBe(hers.labels[0]);
});

it("two free labels that end alike are not guessed between", () => {
  const [first] = roll;
  const own = ownRolls("dale", [mine, { ...mine, labels: [`M4${first!.slice(2)}`] }], [], []);
  expect(ofOwnRoll(own, first!.slice(-3))).toBeNull();
});

it("the rolls of the server's page are read as they are sent", () => {
  const rows = page.message.rows as never;
  expect(rolls(rows)).toMatchObject([
    { holder: "01960000-0000-7000-8000-0000000000b1", labels: ["K7000Y02"] },
  ]);
});
