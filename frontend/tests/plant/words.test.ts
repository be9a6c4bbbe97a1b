/** English and Spanish say the same things on the floor; no permission, no inside word. */
import { expect, it } from "vitest";
import { en } from "../../src/plant/words.en";
import { es } from "../../src/plant/words.es";

type Said = string | string[] | Record<string, string> | ((...given: never[]) => string);

/** Every sentence with sample values put in. */
function sentences(words: Record<string, Said>): string[] {
  return Object.values(words).flatMap((one) => {
    if (typeof one === "string") return [one];
    if (typeof one === "function")
      return [1, 3].map((n) => one(...(["A", "B", "C"].map(() => n) as never[])));
    return Object.values(one);
  });
}
const words = (all: unknown) =>
  Object.fromEntries(
    Object.entries(all as Record<string, Said>).map(([key, said]) => [
      key,
      // These take texts where the others take numbers.
      ["told", "difference", "limit_of"].includes(key)
        ? (said as (...given: string[]) => string)("A", "B", "C")
        : said,
    ]),
  );

it("both languages have a sentence for everything, and none is left untranslated", () => {
  expect(Object.keys(es).sort()).toEqual(Object.keys(en).sort());
  for (const table of [
    "outcomes",
    "answers",
    "missing",
    "causes",
    "gauges",
    "works",
    "bases",
  ] as const)
    expect(Object.keys(es[table])).toEqual(Object.keys(en[table]));
  const same = sentences(words(en)).filter((one) => sentences(words(es)).includes(one));
  expect(same.filter((one) => /[a-z]{3}/.test(one))).toEqual([]);
});

it("no inside word, no exclamation, no empty sentence", () => {
  const inside = /outbox|replica|sync|cursor|feed|horizon|journal|payload|queue|token|epoch|!|¡/i;
  for (const one of [...sentences(words(en)), ...sentences(words(es))]) {
    expect(one).not.toMatch(inside);
    expect(one.trim()).not.toBe("");
  }
});

it("no word on the floor gives a permission by a limit", () => {
  for (const one of [...sentences(words(en)), ...sentences(words(es))])
    expect(one).not.toMatch(/within (the |its )?limit|dentro del límite|repairable|reparable/i);
});

it("a rejected casing is marked and tagged with the same words in every language", () => {
  for (const one of [en, es])
    expect(one.rejected_mark).toContain("REJECTED – do not mount or inflate");
});

it("what a load or a chamber says never speaks of opening or releasing as ours", () => {
  expect(en.caution_chamber).toContain("Nothing here opens, starts or releases it");
  expect(es.caution_chamber).toContain("Nada de aquí la abre, arranca ni libera");
});

it("why the plant's own pages hold a casing is said in both languages, by the code of its note", () => {
  for (const w of [en, es]) {
    expect(Object.keys(w.kept).sort()).toEqual(["claim", "load_short", "too_often"]);
  }
});
