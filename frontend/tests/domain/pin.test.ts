/** Which PINs are too plain, and what wrong ones cost. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { DIGITS, MOST_WRONG, pauseMs, pinFault, triesLeft } from "../../src/domain/pin";

it("refuses one digit six times and digits in order, over 9 and 0 too, and nothing else", () => {
  for (const pin of ["000000", "777777"]) expect(pinFault(pin)).toBe("equal");
  for (const pin of ["123456", "012345", "654321", "567890", "890123", "210987"])
    expect(pinFault(pin)).toBe("running");
  for (const pin of ["270941", "112233", "123457", "135791", "121212"])
    expect(pinFault(pin)).toBeNull();
});

it("leaves all but 30 of the million", () => {
  let plain = 0;
  for (let n = 0; n < 1_000_000; n++) if (pinFault(String(n).padStart(DIGITS, "0"))) plain++;
  expect(plain).toBe(30);
});

it("makes each pause as long as the one before or longer, at most a minute, the first two free", () => {
  expect([1, 2, 3, 4, 9].map(pauseMs)).toEqual([0, 0, 2_000, 4_000, 60_000]);
  fc.assert(
    fc.property(fc.nat(500), (wrong) => {
      expect(pauseMs(wrong + 1)).toBeGreaterThanOrEqual(pauseMs(wrong));
      expect(pauseMs(wrong)).toBeLessThanOrEqual(60_000);
    }),
  );
});

it("says what is left from the seventh on, down to none", () => {
  expect([0, 6, 7, 9, MOST_WRONG, 11].map(triesLeft)).toEqual([null, null, 3, 1, 0, 0]);
});
