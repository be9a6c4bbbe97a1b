/** Money as it is written: in the dealer's currency, and without a sign before that is known. */
import { expect, it } from "vitest";
import { moneyIn } from "../../src/pickups/money";

it("a fee carries the dealer's currency as the language writes it", () => {
  expect(moneyIn("en", "", 123450)).toBe("1,234.50");
  expect(moneyIn("en", "USD", 123450)).toBe("$1,234.50");
  expect(moneyIn("en", "CAD", 350)).toBe("CA$3.50");
  expect(moneyIn("es", "CAD", 350)).toMatch(/^3,50\sCAD$/);
});
