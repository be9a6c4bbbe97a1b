/** Addresses for a phone's own map and dialler, as RFC 5870 and RFC 3966 write them. */
import fc from "fast-check";
import { expect, it } from "vitest";
import type { Yard } from "../../src/domain/rows";
import { geoUri, telUri } from "../../src/domain/ways";

const yard = (some: Partial<Yard>): Yard => ({
  id: "y",
  name: "North yard",
  customer: "c",
  customer_name: "Tarn Valley Haulage",
  address: "",
  ...some,
});

it("a yard with a place is found by it, with its name; one without by its address", () => {
  expect(geoUri(yard({ lat: 41.123456, lon: -88.5, address: "4 Quarry Lane" }))).toBe(
    "geo:41.123456,-88.5?q=41.123456,-88.5(Tarn%20Valley%20Haulage%2C%20North%20yard)",
  );
  expect(geoUri(yard({ address: " 4 Quarry Lane, Gate #2 " }))).toBe(
    "geo:0,0?q=4%20Quarry%20Lane%2C%20Gate%20%232",
  );
  expect(geoUri(yard({}))).toBeNull();
  expect(geoUri(yard({ lat: null, lon: null }))).toBeNull();
});

it("every place is a geo address by the grammar: decimals, no exponent", () => {
  const degrees = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
  fc.assert(
    fc.property(degrees(90), degrees(180), (lat, lon) => {
      const uri = geoUri(yard({ lat, lon }))!;
      expect(uri).toMatch(/^geo:-?\d+(\.\d+)?,-?\d+(\.\d+)?\?q=/);
      const [, a, o] = /^geo:([^,]+),([^?]+)/.exec(uri)!;
      expect(Math.abs(Number(a) - lat)).toBeLessThan(1e-6);
      expect(Math.abs(Number(o) - lon)).toBeLessThan(1e-6);
    }),
  );
});

it("a number is dialled as it was typed, without what a dialler does not know", () => {
  expect(telUri("+1 (555) 555-0142")).toBe("tel:+15555550142");
  expect(telUri("555 0142 ext. 12")).toBe("tel:5550142;ext=12");
  expect(telUri("555.555.0142x7")).toBe("tel:5555550142;ext=7");
  for (const none of ["", "ask at the gate", "12"]) expect(telUri(none)).toBeNull();
});

it("whatever is typed makes a tel address or none", () => {
  fc.assert(
    fc.property(fc.string(), (typed) => {
      expect(telUri(typed) ?? "tel:000").toMatch(/^tel:\+?\d{3,}(;ext=\d+)?$/);
    }),
  );
});
