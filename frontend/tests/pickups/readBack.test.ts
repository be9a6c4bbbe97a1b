/** Sheets that were half filled in before the app was renewed. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { measure } from "../../src/domain/tread";
import { BLANK_ENTRY } from "../../src/pickups/counter/entry";
import { BLANK_WANTED } from "../../src/pickups/wanted/wanted";
import { BLANK } from "../../src/pickups/yard/fields";
import { readBack } from "../../src/pickups/yard/readBack";

it("one TIN and one row of depths, as the yard's sheet once kept them", () => {
  const before = {
    label: "K72K 54X2",
    tin: "2910",
    treads: [7, null, 6],
    size: "11R22.5",
    note: "n",
  };
  expect(readBack(BLANK, before)).toEqual({
    ...BLANK,
    label: "K72K 54X2",
    tins: [{ tin: "2910", made: "" }],
    treads: [[7, null, 6]],
    size: "11R22.5",
    note: "n",
  });
});

it("the size stood beside the rest at the counter", () => {
  const before = { label: "K72K54X2", tin: "2910 R", treads: "7 6", size: "11R22.5" };
  expect(readBack(BLANK_ENTRY, before)).toEqual({
    ...BLANK_ENTRY,
    label: "K72K54X2",
    tin: "2910 R",
    treads: "7 6",
    seen: { size: "11R22.5" },
  });
});

it("what was wanted before more could be asked for is filled up", () => {
  const { tread_design: _, fleet_brand: __, ...before } = { ...BLANK_WANTED, unit: "T-1" };
  expect(readBack(BLANK, { wanted: before }).wanted).toEqual({ ...BLANK_WANTED, unit: "T-1" });
});

it("what is kept now is read as it is", () => {
  const kept = {
    ...BLANK,
    tins: [{ tin: "2910", made: "new" as const }],
    treads: [[7, null], []],
    wanted: BLANK_WANTED,
    ran_own: true,
    photos: ["a"],
  };
  expect(readBack(BLANK, { ...kept })).toEqual(kept);
  const began = { pieces: "6", note: "on the rack" };
  expect(readBack({ pieces: "", note: "" }, began)).toEqual(began);
});

it("whatever is kept, a sheet has the shape of a sheet", () => {
  const keys = fc.constantFrom(...Object.keys(BLANK), "tin", "seen");
  fc.assert(
    fc.property(fc.dictionary(keys, fc.jsonValue()), (kept) => {
      const read = readBack(BLANK, kept);
      expect(Object.keys(read)).toEqual(Object.keys(BLANK));
      expect(typeof read.label).toBe("string");
      expect(typeof read.ran_own).toBe("boolean");
      measure(read.treads);
    }),
  );
});
