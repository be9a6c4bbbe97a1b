/** What is proposed next for a casing that waits, as the server would propose it too. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { daysBetween, later, nextStep, type Step, USUAL_DAYS } from "../../src/domain/reminding";

interface Case {
  why: string;
  told: Step[];
  today: string;
  next: string;
  until: string | null;
}
const vectors = JSON.parse(readFileSync("../fixtures/vectors/unclaimed.json", "utf8")) as {
  days: typeof USUAL_DAYS;
  since: string;
  cases: Case[];
};

it.each(vectors.cases)("$why", ({ told, today, next, until }) => {
  const { since, days } = vectors;
  expect(nextStep(told, { since, today, days })).toEqual({ what: next, until });
});

it("what is usual here is what the vectors say", () => {
  expect(USUAL_DAYS).toEqual(vectors.days);
});

it("days are counted over months, years and a change of the clock", () => {
  expect(later("2026-12-25", 10)).toBe("2027-01-04");
  expect(later("2026-03-07", 2)).toBe("2026-03-09");
  expect(daysBetween("2026-03-07", "2026-03-09")).toBe(2);
  expect(daysBetween("2026-10-31", "2026-11-02")).toBe(2);
});
