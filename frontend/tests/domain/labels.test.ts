/** Label grammar against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import { checkSymbol, fault, LENGTH, meant, SYMBOLS, shown, tidy } from "../../src/domain/labels";
import { vectors } from "../golden/read";

type Case = { about: string; text: string; tidy: string; fault: string | null };
const {
  cases,
  checks,
  meant: slips,
} = vectors("labels") as {
  cases: Case[];
  meant: { about: string; typed: string; known: string[]; offers: object[] }[];
  checks: { body: string; check: string }[];
};

describe("labels", () => {
  it.each(cases)("$about: $text", (given) => {
    expect(tidy(given.text)).toBe(given.tidy);
    expect(fault(given.tidy)).toBe(given.fault);
  });

  it.each(checks)("check of $body is $check", ({ body, check }) => {
    expect(checkSymbol(body)).toBe(check);
  });

  it("every single slip of every sound code shows", () => {
    for (const { tidy: code } of cases.filter((c) => c.fault === null)) {
      for (let at = 0; at < LENGTH; at++) {
        for (const symbol of SYMBOLS) {
          if (symbol === code[at]) continue;
          expect(fault(code.slice(0, at) + symbol + code.slice(at + 1))).not.toBeNull();
        }
      }
    }
  });

  it.each(slips)("$about: $typed", ({ typed, known, offers }) => {
    expect(meant(typed, new Set(known))).toEqual(offers);
  });

  it("is shown in groups of four", () => {
    expect(shown("K72K54X2")).toBe("K72K\u200954X2");
    expect(tidy(shown("K72K54X2"))).toBe("K72K54X2");
  });
});
