/** A wedge scanner is told from a hand by its pace alone. */
import { expect, it } from "vitest";
import { burst, FASTEST_HAND_MS } from "../../src/pickups/wedge";

function typed(text: string, paceMs: number, end = "Enter", endAfterMs = paceMs): string | null {
  const reading = burst();
  let at = 0;
  for (const key of text) {
    at += paceMs;
    expect(reading.key(key, at)).toBeNull();
  }
  return reading.key(end, at + endAfterMs);
}

it.each(["Enter", "Tab"])("eight quick keys and %s are a burst", (end) => {
  expect(typed("K72K54X2", 5, end)).toBe("K72K54X2");
  expect(typed("HTTPS://YARD.EXAMPLE/L/K72K54X2", FASTEST_HAND_MS, end)).toMatch(/K72K54X2$/);
});

it("a hand's keys are none, and fewer than a label has are none", () => {
  expect(typed("K72K54X2", FASTEST_HAND_MS + 1)).toBeNull();
  expect(typed("11R22.5", 5)).toBeNull();
  expect(typed("K72K54X2", 5, "Enter", FASTEST_HAND_MS + 1)).toBeNull();
});

it("a burst begins after a pause, and shift keys belong to none", () => {
  const reading = burst();
  for (const [at, key] of ["1", "1", "R"].entries()) reading.key(key, at * 200);
  let at = 2000;
  for (const key of "K72K54X2") {
    reading.key("Shift", at);
    reading.key(key, at);
    expect(reading.begins()).toBe(key === "K" && at === 2000);
    at += 5;
  }
  expect(reading.key("Enter", at)).toBe("K72K54X2");
  expect(reading.key("Enter", at + 1)).toBeNull();
});
