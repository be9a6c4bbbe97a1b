/** Tickets: the same number and the same square as the server's own code makes of them. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { fault, LETTERS, SYMBOLS } from "../../src/domain/labels";
import { qr } from "../../src/domain/qr";
import { shownTicket, ticketIn, ticketNumber, ticketText } from "../../src/domain/ticket";
import { vectors } from "../golden/read";

const tickets = vectors("tickets") as {
  tickets: { pickup: string; number: string; qr: string[] }[];
  numbers: { pickup: string; number: string }[];
};

it("numbers are those of the vectors", () => {
  for (const { pickup, number } of [...tickets.tickets, ...tickets.numbers])
    expect(ticketNumber(pickup)).toBe(number);
});

it("squares are those that the server's encoder draws, module by module", () => {
  expect(tickets.tickets.length).toBeGreaterThan(3);
  for (const { number, qr: rows } of tickets.tickets) {
    const drawn = qr(ticketText(number)).map((row) => row.map((d) => (d ? "#" : ".")).join(""));
    expect(drawn).toEqual(rows);
  }
});

it("a text that is too long, or holds a sign that the square has no place for, is refused", () => {
  expect(() => qr("T".repeat(155))).toThrow("no such QR");
  expect(() => qr("t/abc")).toThrow("no such QR");
  expect(qr("T/ABCDEFGH").length).toBe(21);
});

it("a number is found again however it is typed or read, and never taken for a label", () => {
  fc.assert(
    fc.property(fc.uuid(), (pickup) => {
      const number = ticketNumber(pickup);
      expect(LETTERS).toContain(number[0]);
      for (const typed of [
        number,
        number.toLowerCase(),
        shownTicket(number),
        ` ${number} `,
        ticketText(number),
      ])
        expect(ticketIn(typed)).toBe(number);
      expect(fault(number)).toBe("wrong_length");
    }),
  );
});

it("one wrong symbol, or two neighbours swapped, is no ticket's number", () => {
  fc.assert(
    fc.property(fc.uuid(), fc.nat(6), fc.constantFrom(...SYMBOLS), (pickup, at, symbol) => {
      const number = ticketNumber(pickup);
      const slip = number.slice(0, at) + symbol + number.slice(at + 1);
      if (slip !== number) expect(ticketIn(slip)).toBeNull();
      const i = Math.min(at, 5);
      const swapped = number.slice(0, i) + number[i + 1] + number[i] + number.slice(i + 2);
      if (swapped !== number) expect(ticketIn(swapped)).toBeNull();
    }),
  );
});

it.each(["", "K7000Y02", "1234567", "ABC", "north yard", "TARN", "//", "T/"])(
  "%j is no ticket's number",
  (typed) => {
    expect(ticketIn(typed)).toBeNull();
  },
);
