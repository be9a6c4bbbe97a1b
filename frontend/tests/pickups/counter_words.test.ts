/** English and Spanish say the same things at the counter; no inside word reaches a customer. */
import { expect, it } from "vitest";
import said from "../../src/pickups/said.json";
import { en } from "../../src/pickups/counter/words.en";
import { es } from "../../src/pickups/counter/words.es";

type Said = string | string[] | Record<string, string> | ((...given: never[]) => string);

function sentences(words: Record<string, Said>): string[] {
  return Object.values(words).flatMap((one) => {
    if (typeof one === "string") return [one];
    if (typeof one === "function") return [1, 3].map((n) => one(...([n, n, n] as never[])));
    return Object.values(one);
  });
}

it("both languages have a sentence for everything, and none is left untranslated", () => {
  expect(Object.keys(es).sort()).toEqual(Object.keys(en).sort());
  expect(Object.keys(es.story_progress)).toEqual(Object.keys(en.story_progress));
  expect(es.ticket_changes.length).toBe(en.ticket_changes.length);
  const same = sentences(en).filter((one) => sentences(es).includes(one));
  expect(same.filter((one) => /[a-z]{3}/.test(one))).toEqual([]);
});

it("no inside word, no exclamation, no empty sentence", () => {
  const inside = /outbox|replica|sync|cursor|feed|horizon|journal|payload|queue|token|epoch|!|¡/i;
  for (const one of [...sentences(en), ...sentences(es)]) {
    expect(one).not.toMatch(inside);
    expect(one.trim()).not.toBe("");
  }
});

it("a casing has one word in Spanish", () => {
  const all = sentences(es).join("\n");
  expect(all).not.toMatch(/casco/i);
  expect(all).toMatch(/carcasa/);
});

it("a rejected casing carries the same caution in every language, as its tag does", () => {
  for (const words of [en, es])
    expect(words.rejected_caution).toContain("REJECTED – do not mount or inflate");
});

it("every reason and station of the server's catalogue has words in both languages", () => {
  for (const table of [said.reasons, said.stations]) {
    expect(Object.keys(table).length).toBeGreaterThan(10);
    for (const words of Object.values(table)) {
      expect(words.en).not.toBe("");
      expect(words.es).not.toBe(words.en);
    }
  }
});
