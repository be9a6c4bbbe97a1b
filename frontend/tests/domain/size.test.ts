/** Sizes and ratings of truck tires against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import {
  diameterSureness,
  type Freight,
  freight,
  KM_H,
  loadKg,
  overallDiameterMm,
  PLY,
  picks,
  type Rating,
  readRating,
  readSize,
  rimMm,
  type SizeReading,
  USUAL,
} from "../../src/domain/size";
import { vectors } from "../golden/read";

type Figures = {
  size: string;
  rim_mm: number;
  overall_diameter_mm: number;
  sureness: string;
  freight: Freight;
};
const told = vectors("size") as {
  cases: { about: string; text: string; reading: SizeReading }[];
  ratings: { text: string; rating: Rating }[];
  load_kg: { index: number; kg: number | null }[];
  ply: Record<string, number>;
  km_h: Record<string, number>;
  figures: Figures[];
  freight_unknown: Freight;
  picks: { theirs: string[]; typed: string; picks: string[] }[];
};

describe("sizes", () => {
  it.each(told.cases)("$about: $text", ({ text, reading }) => {
    expect(readSize(text)).toEqual(reading);
  });

  it.each(told.ratings)("rating $text", ({ text, rating }) => {
    expect(readRating(text)).toEqual(rating);
  });

  it("load indices, load ranges and speed symbols have their figures", () => {
    expect(told.load_kg.map(({ index }) => loadKg(index))).toEqual(told.load_kg.map((l) => l.kg));
    expect(loadKg(144.5)).toBeNull();
    expect(PLY).toEqual(told.ply);
    expect(KM_H).toEqual(told.km_h);
  });

  it.each(told.figures)("figures of $size", (given) => {
    const size = readSize(given.size).size!;
    expect(rimMm(size)).toBe(given.rim_mm);
    expect(overallDiameterMm(size)).toBe(given.overall_diameter_mm);
    expect(diameterSureness(size)).toBe(given.sureness);
    expect(freight(size)).toEqual(given.freight);
  });

  it("an unknown size loads as a standard one", () => {
    expect(freight(null)).toEqual(told.freight_unknown);
  });

  it.each(told.picks)("offered where $typed is typed: $theirs", (given) => {
    expect(picks(given.theirs, given.typed)).toEqual(given.picks);
  });

  it("every usual size reads as it is written", () => {
    for (const shown of USUAL) expect(readSize(shown).size?.shown).toBe(shown);
  });
});
