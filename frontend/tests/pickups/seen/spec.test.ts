/** The spec check in words: every ground with its figures, in both languages. */
import { expect, it } from "vitest";
import { check, type Ground, RULES, type Specification } from "../../../src/domain/eligibility";
import {
  checkedAs,
  groundSaid,
  isLookedAt,
  lookedAt,
  staysSaid,
  wantsReason,
} from "../../../src/pickups/seen/spec";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";
import { fields } from "./things";

const TODAY = "2026-04-21";
const SPEC: Specification = {
  id: "01960000-0000-7000-8000-0000000000c9",
  customer: "c",
  yard: null,
  number: 3,
  oldest_years: 7,
  most_caps: 1,
  most_nail_holes: 2,
  repairs: [],
  brands: ["Corvane"],
  sizes: null,
  designs: {},
  fleet_brand: "",
  rejects: "ask",
  pull_32nds: null,
};
const OLD = { tin: "DOT 4B08 4DHR 1210", made: "new" as const };
const BEAD_WIRE = {
  zone: "bead",
  kind: "bead_wire",
  side: "other",
  mm: null,
  count: 1,
  photos: [],
} as const;

it("an age names its week and what this customer takes", () => {
  const seen = fields({ tins: [OLD], brand: "Corvane" });
  const result = check(SPEC, lookedAt(seen, "retread"), TODAY);
  expect(result.verdict).toBe("leave");
  expect(result.grounds.map((ground) => groundSaid(ground, seen, TODAY, en))).toEqual([
    "Week 12 of 2010: more than 7 years old, which is the most this customer takes.",
  ]);
  expect(groundSaid(result.grounds[0]!, seen, TODAY, es)).toBe(
    "Semana 12 de 2010: más de 7 años, que es lo más que acepta este cliente.",
  );
});

it("why it should stay is said in one line, the gravest reason alone", () => {
  const seen = fields({ tins: [OLD], findings: [{ ...BEAD_WIRE, photos: [] }] });
  const told = (some: typeof seen, spec: Specification | null) => ({
    result: check(spec, lookedAt(some, "retread"), TODAY),
    looked: isLookedAt(lookedAt(some, "retread")),
    today: TODAY,
  });
  expect(staysSaid(told(seen, SPEC), seen, en)).toBe(
    `${en.spec_leave}. Bead wire showing, bead: it stops the casing at once.`,
  );
  expect(staysSaid(told(seen, SPEC), seen, es)).toContain(`${es.spec_leave}. `);
  const sound = fields({ tins: [OLD] });
  expect(staysSaid(told(sound, null), sound, en)).toBeNull();
});

it("an age that is past by a month does not read as one that is taken", () => {
  const seen = fields({ tins: [{ tin: "4B08 4DHR 1019", made: "new" }], brand: "Corvane" });
  const result = check(SPEC, lookedAt(seen, "retread"), TODAY);
  expect(result.grounds[0]).toMatchObject({ rule: "too_old", facts: { found: 7, limit: 7 } });
  expect(groundSaid(result.grounds[0]!, seen, TODAY, en)).toBe(
    "Week 10 of 2019: more than 7 years old, which is the most this customer takes.",
  );
});

it("the gravest is said first, each rule with its own figures", () => {
  const seen = fields({
    tins: [OLD],
    brand: "Talvera",
    findings: [
      { ...BEAD_WIRE, photos: [] },
      { zone: "crown", kind: "nail_hole", side: "", mm: 6, count: 3, photos: [] },
      { zone: "sidewall", kind: "cut", side: "serial", mm: null, count: 1, photos: [] },
    ],
  });
  const { grounds } = check(SPEC, lookedAt(seen, "retread"), TODAY);
  expect(grounds.map((ground) => groundSaid(ground, seen, TODAY, en))).toEqual([
    "Bead wire showing, bead: it stops the casing at once.",
    "Week 12 of 2010: more than 7 years old, which is the most this customer takes.",
    "3 nail holes: this customer takes up to 2.",
    "Brand Talvera: not one that this customer takes.",
    "Cut, sidewall: the plant judges it.",
  ]);
});

it("every rule has a sentence of its own and a few words for a list, in both languages", () => {
  const facts = {
    limit: 7,
    found: 9,
    least: 1,
    most: 2,
    digits: "123",
    kind: "cut",
    zone: "crown",
  };
  for (const w of [en, es]) {
    const said = RULES.map((rule) => {
      const ground: Ground = { rule, verdict: "plant", facts: { ...facts, brand: "B", size: "S" } };
      return groundSaid(ground, { tins: [] }, TODAY, w);
    });
    expect(new Set(said).size).toBe(RULES.length);
    for (const one of said) expect(one).not.toMatch(/undefined|NaN|^$/);
    expect(Object.keys(w.because).sort()).toEqual([...RULES].sort());
  }
});

it("a casing that should stay wants a reason, and blanks are none", () => {
  const seen = fields({ findings: [{ ...BEAD_WIRE, photos: [] }] });
  const result = check(null, lookedAt(seen, "retread"), TODAY);
  expect(result.verdict).toBe("leave");
  expect(wantsReason(result, seen)).toBe(true);
  expect(wantsReason(result, { ...seen, overruled: "  " })).toBe(true);
  expect(wantsReason(result, { ...seen, overruled: "the office said so" })).toBe(false);
});

it("what is told names the specification's number, and that there was none", () => {
  const result = check(SPEC, lookedAt(fields({ tins: [OLD] }), "retread"), TODAY);
  expect(checkedAs(result, SPEC)).toEqual({
    verdict: "leave",
    specification: SPEC.id,
    number: 3,
    because: ["too_old", "brand_open"],
  });
  expect(
    checkedAs(check(null, lookedAt(fields({ line: "repair" }), "repair"), TODAY), null),
  ).toEqual({
    verdict: "take",
    specification: null,
    number: null,
    because: [],
  });
});

it("nothing is said before something was read or seen", () => {
  expect(isLookedAt(lookedAt(fields({ tins: [{ tin: " ", made: "" }] }), "retread"))).toBe(false);
  for (const some of [
    { tins: [OLD] },
    { size: "11R22.5" },
    { brand: "Corvane" },
    { findings: [{ ...BEAD_WIRE, photos: [] }] },
  ])
    expect(isLookedAt(lookedAt(fields(some), "retread"))).toBe(true);
});

it("a size that was typed and cannot be read is not said to be missing", () => {
  const known = { ...SPEC, brands: null, sizes: ["11R22.5"] };
  const said = (size: string, w: typeof en) => {
    const seen = fields({ tins: [{ tin: "4B08 4DHR 1025", made: "new" }], size });
    const { grounds } = check(known, lookedAt(seen, "retread"), TODAY);
    const open = grounds.find(({ rule }) => rule === "size_open");
    return open === undefined ? null : groundSaid(open, seen, TODAY, w);
  };
  expect(said("", en)).toBe(en.ground_size_open);
  expect(said("eleven", en)).toContain("“eleven” cannot be read as a size");
  expect(said("eleven", es as typeof en)).toContain("“eleven” no se lee como medida");
});
