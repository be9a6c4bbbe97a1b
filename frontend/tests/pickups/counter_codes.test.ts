/** Condition by code: each place and kind has its own, and letters of the words find them too. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { KINDS_BY_ZONE, ZONES } from "../../src/domain/condition";
import {
  ALL_SEEN,
  codeOf,
  findingOf,
  meant,
  type Seen,
  typedIn,
} from "../../src/pickups/counter/codes";
import { en } from "../../src/pickups/words.en";
import { es } from "../../src/pickups/words.es";

const said = ({ zone, kind }: Seen) => `${en.kinds[kind]}, ${en.zones[zone]}`;
const dicho = ({ zone, kind }: Seen) => `${es.kinds[kind]}, ${es.zones[zone]}`;
const codes = (head: string, words = said) => meant(head, words).map(codeOf);

it("every kind in every zone where it can be has a code of its own, three letters", () => {
  const all = ALL_SEEN.map(codeOf);
  expect(all.length).toBe(ZONES.flatMap((zone) => KINDS_BY_ZONE[zone]).length);
  expect(new Set(all).size).toBe(all.length);
  for (const code of all) expect(code).toMatch(/^[cswbl][a-z]{2}$/);
});

it("a whole code means one thing, first of all", () => {
  fc.assert(
    fc.property(fc.constantFrom(...ALL_SEEN), (seen) => {
      expect(meant(codeOf(seen), said)[0]).toBe(seen);
      expect(meant(codeOf(seen), dicho)[0]).toBe(seen);
    }),
  );
});

it("letters of the words find it in both languages, in any order, accents or none", () => {
  expect(codes("nail")).toEqual(["cnh", "con", "snh", "son", "wnh", "lon"]);
  expect(codes("side cord")).toEqual(["wcd"]);
  expect(codes("cord side")).toEqual(["wcd"]);
  expect(codes("clavo corona", dicho)).toContain("cnh");
  expect(codes("xyz")).toEqual([]);
});

it("where nothing is typed a short list by zone is offered, from the road to the air", () => {
  const offered = meant("", said);
  expect(offered.length).toBeLessThan(10);
  const order = offered.map(({ zone }) => ZONES.indexOf(zone));
  expect(order).toEqual([...order].sort((a, b) => a - b));
  expect(new Set(offered.map(({ zone }) => zone))).toEqual(new Set(ZONES));
  for (const seen of offered) expect(ALL_SEEN).toContain(seen);
});

it.each([
  ["cnh", { head: "cnh", side: "", mm: null, count: 1 }],
  ["WCT 40 s", { head: "wct", side: "serial", mm: 40, count: 1 }],
  ["cnh x3", { head: "cnh", side: "", mm: null, count: 3 }],
  ["wct o 12mm x2", { head: "wct", side: "other", mm: 12, count: 2 }],
  ["nail hole", { head: "nail hole", side: "", mm: null, count: 1 }],
  ["40", { head: "40", side: "", mm: null, count: 1 }],
  ["cnh x0", { head: "cnh x0", side: "", mm: null, count: 1 }],
  ["wct 4000", { head: "wct 4000", side: "", mm: null, count: 1 }],
  ["  ", { head: "", side: "", mm: null, count: 1 }],
])("%j tells %j", (text, told) => {
  expect(typedIn(text)).toEqual(told);
});

it("a side is told where the zone has one", () => {
  const typed = typedIn("x 40 s x2");
  expect(findingOf({ zone: "sidewall", kind: "cut" }, typed)).toEqual({
    zone: "sidewall",
    kind: "cut",
    side: "serial",
    mm: 40,
    count: 2,
    photos: [],
  });
  expect(findingOf({ zone: "crown", kind: "cut" }, typed).side).toBe("");
});
