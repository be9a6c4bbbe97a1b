/** A finished tire against its order: the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import {
  type BuiltRead,
  before,
  type Difference,
  differences,
  type Ordered,
} from "../../src/domain/ordering";
import { vectors } from "../golden/read";

type Before = { caps_least: number; caps_most: number | null };
const told = vectors("ordering") as {
  differences: {
    about: string;
    ordered: Ordered;
    found: BuiltRead;
    on: string;
    differences: Difference[];
  }[];
  before: { about: string; tins: { tin: string; made: string }[]; on: string; before: Before }[];
};

describe("ordering", () => {
  it.each(told.differences)("differs: $about", ({ ordered, found, on, differences: said }) => {
    expect(differences(ordered, found, on)).toEqual(said);
  });

  it.each(told.before)("counts caps before: $about", ({ tins, on, before: said }) => {
    expect(before(tins, on)).toEqual(said);
  });
});
