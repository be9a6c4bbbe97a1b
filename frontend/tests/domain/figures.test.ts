/** Buffing and building figures against the vectors that are read by Python too. */
import { describe, expect, it } from "vitest";
import {
  type Gauged,
  type Remark,
  remarks,
  type Target,
  type TreadLength,
  treadLength,
} from "../../src/domain/figures";
import { vectors } from "../golden/read";

const told = vectors("figures") as {
  lengths: { circumference_mm: number; pitch_mm: number; gum_mm: number; length: TreadLength }[];
  remarks: { about: string; measured: Gauged; target: Target; remarks: Remark[] }[];
};

describe("figures", () => {
  it.each(told.lengths)("cuts a tread for $circumference_mm", (c) => {
    expect(treadLength(c.circumference_mm, c.pitch_mm, c.gum_mm)).toEqual(c.length);
  });

  it.each(told.remarks)("remarks: $about", ({ measured, target, remarks: said }) => {
    expect(remarks(measured, target)).toEqual(said);
  });

  it("refuses a length that is none", () => {
    expect(() => treadLength(0, 50)).toThrow(RangeError);
  });
});
