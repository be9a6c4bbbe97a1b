/** The way to a receipt: its key and its square are what the server reads and would draw. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { qr } from "../../src/domain/qr";
import { KEY_BYTES, newReceiptKey, receiptAddress, receiptKey } from "../../src/domain/receiptLink";
import { vectors } from "../golden/read";

const { links } = vectors("receipt_links") as {
  links: { bytes: string; key: string; origin: string; qr: string[] }[];
};

const bytesOf = (hex: string) => Uint8Array.from(hex.match(/../g)!, (two) => parseInt(two, 16));

it("keys and squares are those of the vectors", () => {
  expect(links.length).toBeGreaterThan(3);
  for (const { bytes, key, origin, qr: rows } of links) {
    expect(receiptKey(bytesOf(bytes))).toBe(key);
    const drawn = qr(receiptAddress(origin, key));
    expect(drawn.map((row) => row.map((dark) => (dark ? "#" : ".")).join(""))).toEqual(rows);
  }
});

it("other bytes, another key", () => {
  const bytes = fc.uint8Array({ minLength: KEY_BYTES, maxLength: KEY_BYTES });
  fc.assert(
    fc.property(bytes, bytes, (one, other) => {
      expect(receiptKey(one)).toMatch(/^[0-7][0-9A-HJKMNP-TV-Z]{25}$/);
      expect(receiptKey(one) === receiptKey(other)).toBe(String(one) === String(other));
    }),
  );
  expect(newReceiptKey()).not.toBe(newReceiptKey());
});
