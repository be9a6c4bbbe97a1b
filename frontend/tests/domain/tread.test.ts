/** Tread depths against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import {
  type Ban,
  bans,
  fromMm,
  limits,
  type Measurement,
  MOST_32NDS,
  measure,
  type Places,
  type Position,
  toMm,
} from "../../src/domain/tread";
import { vectors } from "../golden/read";

type Case = {
  about: string;
  places: Places;
  position: Position | null;
  pull_depth_32nds: number | null;
  uneven_from_32nds: number;
  measurement: Measurement;
};
type Millimetres = { mm: number; decimals: number; depth_32nds: number };
const told = vectors("tread") as {
  cases: Case[];
  bans: { position: Position | null; bans: Ban[] }[];
  to_mm: Millimetres[];
  from_mm: Millimetres[];
};
const { cases, to_mm, from_mm } = told;

describe("tread depths", () => {
  it.each(cases)("$about: $places", (given) => {
    const { places, position, pull_depth_32nds, uneven_from_32nds } = given;
    expect(measure(places, position, pull_depth_32nds, uneven_from_32nds)).toEqual(
      given.measurement,
    );
  });

  it("every depth is shown in millimetres and read back", () => {
    expect(to_mm.map(({ depth_32nds }) => toMm(depth_32nds))).toEqual(to_mm.map(({ mm }) => mm));
    for (let depth = 0; depth <= MOST_32NDS; depth++) expect(fromMm(toMm(depth))).toBe(depth);
  });

  it.each(from_mm)("$mm mm are $depth_32nds/32", ({ mm, decimals, depth_32nds }) => {
    expect(fromMm(mm, decimals)).toBe(depth_32nds);
  });

  it("what may not run at a position is the regulation's", () => {
    // 49 CFR 393.75(d) to (f) and 570.62(d)
    expect(told.bans.map(({ position }) => bans(position))).toEqual(told.bans.map((b) => b.bans));
  });

  it("every limit is called a minimum and no advice", () => {
    // 49 CFR 393.75(b) and (c)
    expect(limits(null).map(({ section, least_32nds }) => [section, least_32nds])).toEqual([
      ["49 CFR 393.75(b)", 4],
      ["49 CFR 393.75(c)", 2],
    ]);
    for (const { caution } of limits(null)) expect(caution).toBe("legal_minimum_not_advice");
  });

  it("what is asked of it stays as it was", () => {
    const places: Places = [[8, 88, null]];
    measure(places, "drive", 6);
    expect(places).toEqual([[8, 88, null]]);
  });
});
