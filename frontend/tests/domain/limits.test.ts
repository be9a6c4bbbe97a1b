/** Repair limits against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import { type Limit, limitsFrom, type Says, verdict } from "../../src/domain/limits";
import { vectors } from "../golden/read";

type Case = {
  about: string;
  zone: string;
  kind: string;
  size_mm: number;
  count: number;
  size_class: string;
  limits: Limit[];
  says: Says;
  charts: string[];
  silent: string[];
};
const { cases } = vectors("repair_limits") as { cases: Case[] };

describe("repair limits", () => {
  it.each(cases)("$about", (c) => {
    expect(verdict(c.zone, c.kind, c.size_mm, c.count, c.size_class, c.limits)).toEqual({
      says: c.says,
      charts: c.charts,
      silent: c.silent,
    });
  });

  it("are read from the row that a device is given", () => {
    const row = { zone: "crown", kind: "nail_hole", size_class: "", most_mm: 10, most_count: null };
    const body = { limits: [{ ...row, source: "Chart 7", active: true, entered_by: "Ivor Tamm" }] };
    expect(limitsFrom(body)).toEqual([{ ...row, source: "Chart 7", active: true }]);
    expect(limitsFrom({})).toEqual([]);
  });

  it("never speak without a limit that was entered", () => {
    for (const c of cases.filter(({ limits }) => limits.every(({ active }) => !active)))
      expect(c.says).toBe("no limit entered");
  });
});
