/** What a plant wants of a tread design: by design and size, figure by figure, or not at all. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import type { RowLike } from "../../src/domain/rows";
import { notAsWanted, wantedFor, wantedOf } from "../../src/plant/targets";
import { en } from "../../src/plant/words.en";
import { es } from "../../src/plant/words.es";

const rows = (...targets: object[]): RowLike[] => [
  { entity: "tread_targets", id: "p", body: { uid: "p", targets, version: 1 } },
];
const all = { tread_design: "DL-41", size: "", pitch_mm: 76.2, texture_least: 2, sheet: "Sheet A" };
const own = { tread_design: "dl 41", size: "11R22.5", radius_mm: 560, radius_off_mm: 3 };

it("nothing is wanted of a design that nobody entered, nor where none is ordered", () => {
  expect(wantedFor([], "DL-41", "11R22.5")).toBeNull();
  expect(wantedFor(rows(all), "DX-1", "11R22.5")).toBeNull();
  expect(wantedFor(rows({ ...all, tread_design: "" }), "", "")).toBeNull();
  expect(wantedFor(rows({ ...all, size: "295/75R22.5" }), "DL-41", "11R22.5")).toBeNull();
  expect(wantedFor([{ entity: "tread_targets", id: "p", body: {} }], "DL-41", "")).toBeNull();
});

it("a size's own line goes before the line for all sizes, figure by figure", () => {
  const line = { ...own, tread_design: "DL-41", pitch_mm: null, sheet: "Sheet B" };
  const { target, sheets } = wantedFor(rows(all, line), " dl-41", "11r22.5")!;
  expect(target).toMatchObject({ pitch_mm: 76.2, radius_mm: 560, texture_least: 2, gum_mm: 0 });
  expect(target.tread_width_mm).toBeNull();
  expect(sheets).toEqual(["Sheet B", "Sheet A"]);
  expect(wantedFor(rows(all, line), "DL-41", "")!.target.radius_mm).toBeNull();
});

it("a figure is held against what is measured only where it was entered how far it may be off", () => {
  const far = wantedFor(rows({ ...all, ...own, tread_design: "DL-41" }), "DL-41", "11R22.5")!;
  const off = notAsWanted({ buffed_radius_mm: 571 }, { texture: 1 }, far.target);
  expect(off.map(({ figure, off: by }) => [figure, by])).toEqual([
    ["buffed_radius_mm", 11],
    ["texture", -1],
  ]);
  const silent = { ...far.target, radius_off_mm: null };
  expect(notAsWanted({ buffed_radius_mm: 571 }, null, silent)).toEqual([]);
  expect(notAsWanted({ buffed_radius_mm: 571 }, { buffed_radius_mm: 562 }, far.target)).toEqual([]);
  expect(wantedOf("crown_width_mm", far.target)).toEqual({ least: null, most: null, off: null });
});

it("without entered figures nothing is ever remarked, whatever is measured", () => {
  const none = wantedFor(rows({ tread_design: "DL-41", size: "" }), "DL-41", "")!;
  fc.assert(
    fc.property(fc.double({ noNaN: true }), (value) => {
      const figures = { buffed_radius_mm: value, crown_width_mm: value, texture: value };
      expect(notAsWanted(figures, null, none.target)).toEqual([]);
    }),
  );
});

it("both languages say what is missing and what is off", () => {
  for (const w of [en, es]) {
    expect(w.figure_off("x", "571", "560", "11", true, "3")).toMatch(/571.*560.*11.*3/);
    expect(w.figure_off("x", "1", "2", "1", false, "0")).not.toMatch(/ 0/);
    expect(w.figures_none("DL-41")).toContain("DL-41");
    expect(w.figure_range("", "4")).toMatch(/4/);
    expect(w.figure_range("2", "")).toMatch(/2/);
  }
});
