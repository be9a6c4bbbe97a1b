/** What is noted on the drawing: added, changed, taken off and put back; lengths; marks. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { isStop, KINDS_BY_ZONE } from "../../../src/domain/condition";
import type { Finding } from "../../../src/domain/operation";
import {
  cautionsSaid,
  changed,
  findingSaid,
  found,
  lengthIn,
  MOST_FINDINGS,
  notedSaid,
  photosKept,
  putBack,
  withOne,
  without,
} from "../../../src/pickups/seen/findings";
import {
  HEIGHT,
  OUTLINES,
  PLACES,
  spotOf,
  spotsOf,
  WIDTH,
} from "../../../src/pickups/seen/section";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";
import { numerals } from "./things";

const finding = fc.constantFrom(...PLACES).chain((place) =>
  fc
    .record({
      kind: fc.constantFrom(...KINDS_BY_ZONE[place.zone]),
      mm: fc.option(fc.integer({ min: 1, max: 3000 })),
      count: fc.integer({ min: 1, max: 99 }),
    })
    .map((some): Finding => ({ ...found(place, some.kind), ...some })),
);
const findings = fc.array(finding, { maxLength: MOST_FINDINGS });

it("what is taken off and put back stands as before", () => {
  fc.assert(
    fc.property(findings, fc.nat(), (all, n) => {
      fc.pre(all.length > 0);
      const at = n % all.length;
      expect(putBack(without(all, at), all[at]!, at)).toEqual(all);
    }),
  );
});

it("no more are noted than can be told, one way or the other", () => {
  fc.assert(
    fc.property(findings, finding, fc.nat(), (all, one, n) => {
      const more = withOne(all, one);
      expect(more.length).toBe(Math.min(all.length + 1, MOST_FINDINGS));
      expect(more.slice(0, all.length)).toEqual(all);
      expect(putBack(all, one, n % (all.length + 1)).length).toBe(more.length);
    }),
  );
});

it("a change touches one finding only", () => {
  fc.assert(
    fc.property(findings, fc.nat(), (all, n) => {
      fc.pre(all.length > 0);
      const at = n % all.length;
      const now = changed(all, at, { count: 7 });
      expect(now[at]).toEqual({ ...all[at], count: 7 });
      expect(without(now, at)).toEqual(without(all, at));
    }),
  );
});

it.each([
  ["", null],
  [" 25 ", 25],
  ["3000", 3000],
  ["0", "none"],
  ["3001", "none"],
  ["2.5", "none"],
  ["1 in", "none"],
])("a length typed as %j is %j", (typed, mm) => {
  expect(lengthIn(typed)).toBe(mm);
});

it("a photo that the casing no longer has is not shown with a finding", () => {
  const one = { ...found({ zone: "bead", side: "other" }, "bead_wire"), photos: ["a", "b"] };
  expect(photosKept([one], ["b", "c"])).toEqual([{ ...one, photos: ["b"] }]);
});

it("a finding is said whole, in both languages, with its length in both measures", () => {
  const one = found({ zone: "bead", side: "serial" }, "bead_wire");
  expect(findingSaid(one, en, numerals.decimal)).toBe("Bead wire showing · Bead, serial side");
  const more = { ...one, mm: 51, count: 2 };
  expect(findingSaid(more, en, numerals.decimal)).toBe(
    "Bead wire showing · Bead, serial side · 51 mm (2.0 in) · 2 times",
  );
  expect(findingSaid(more, es, numerals.decimal)).toBe(
    "Alambre del talón a la vista · Talón, lado de la serie · 51 mm (2.0 pulg.) · 2 veces",
  );
});

it("every zone is on the drawing, with every side that it has, and each kind has its words", () => {
  expect(new Set(PLACES.map(({ zone }) => zone))).toEqual(new Set(Object.keys(OUTLINES)));
  expect(Object.keys(KINDS_BY_ZONE).sort()).toEqual(Object.keys(OUTLINES).sort());
  for (const kind of Object.values(KINDS_BY_ZONE).flat()) {
    expect(en.kinds[kind]).not.toBe("");
    expect(es.kinds[kind]).not.toBe(en.kinds[kind]);
  }
});

it("marks stand on the drawing, the other side's mirrored, the first few apart", () => {
  for (const place of PLACES) {
    const spots = [0, 1, 2].map((nth) => spotOf(place, nth));
    for (const { x, y } of [...spots, spotOf(place, 20)]) {
      expect(x).toBeGreaterThan(12);
      expect(x).toBeLessThan(WIDTH - 12);
      expect(y).toBeGreaterThan(12);
      expect(y).toBeLessThan(HEIGHT - 12);
    }
    for (const [i, a] of spots.entries())
      for (const b of spots.slice(i + 1))
        expect(Math.hypot(a.x - b.x, a.y - b.y), JSON.stringify(place)).toBeGreaterThan(22);
  }
  const [left, right] = ["serial", "other"].map((side) =>
    spotOf({ zone: "sidewall", side: side as "serial" | "other" }, 0),
  );
  expect(left!.x + right!.x).toBe(WIDTH);
  expect(left!.x).toBeLessThan(right!.x);
});

it("two findings of one place have two marks, whatever was noted between", () => {
  const bead = { zone: "bead", side: "other" } as const;
  const all = [found(bead, "cut"), found({ zone: "crown", side: "" }, "cut"), found(bead, "oil")];
  expect(spotsOf(all)).toEqual([
    spotOf(bead, 0),
    spotOf({ zone: "crown", side: "" }, 0),
    spotOf(bead, 1),
  ]);
});

it("whatever stops a casing is neither filled with air nor run, and each caution is said once", () => {
  fc.assert(
    fc.property(findings, (all) => {
      const said = cautionsSaid(all);
      expect(new Set(said).size).toBe(said.length);
      if (all.some(({ kind }) => isStop(kind)))
        expect(said.slice(0, 2)).toEqual(["never_add_air", "do_not_run"]);
    }),
  );
  expect(cautionsSaid([found({ zone: "crown", side: "" }, "nail_hole")])).toEqual([]);
});

it("what was noted is said in words; what stops a casing stands apart with its caution", () => {
  const cut = { ...found({ zone: "sidewall", side: "serial" }, "cut"), mm: 25 };
  const cord = found({ zone: "sidewall", side: "other" }, "cord");
  const { noted, stop } = notedSaid([cut, cord], en, String);
  expect(noted).toContain("Cut · Sidewall, serial side · 25 mm");
  expect(noted).not.toContain("Cord");
  expect(stop).toContain("Stop: Cord showing · Sidewall");
  for (const caution of ["never_add_air", "do_not_run", "wire_ends"] as const)
    expect(stop).toContain(en.cautions[caution]);
  expect(notedSaid([cut], en, String).stop).toBe("");
  const bulge = found({ zone: "sidewall", side: "other" }, "bulge");
  expect(notedSaid([bulge], en, String).stop).toContain(en.cautions.never_add_air);
  expect(notedSaid([], en, String)).toEqual({ noted: "", stop: "" });
});
