/** English and Spanish say the same things; inside words and exclamations reach no screen. */
import { expect, it } from "vitest";
import { en } from "../../src/pickups/words.en";
import { es } from "../../src/pickups/words.es";

type Said = string | string[] | Words | ((...given: never[]) => string);
interface Words {
  [key: string]: Said;
}

/** Every sentence with sample values put in. */
function sentences(words: Words): string[] {
  return Object.values(words).flatMap((said) => {
    if (typeof said === "string") return [said];
    if (typeof said === "function") return [1, 3].map((n) => said(...([n, n, n] as never[])));
    return Array.isArray(said) ? said : sentences(said);
  });
}

it("both languages have a sentence for everything, and none is left untranslated", () => {
  expect(Object.keys(es).sort()).toEqual(Object.keys(en).sort());
  expect(Object.keys(es.stages)).toEqual(Object.keys(en.stages));
  const same = sentences(en).filter((said) => sentences(es).includes(said));
  // A field's own name, its value and what is allowed come from the server.
  expect(same.filter((said) => /[a-z]{3}/.test(said))).toEqual([]);
});

it("no inside word, no exclamation, no empty sentence", () => {
  const inside = /outbox|replica|sync|cursor|feed|horizon|journal|payload|queue|token|epoch|!|¡/i;
  for (const said of [...sentences(en), ...sentences(es)]) {
    expect(said).not.toMatch(inside);
    expect(said.trim()).not.toBe("");
  }
});

it("a casing has one word in Spanish, and it is feminine", () => {
  const said = sentences(es).join("\n");
  expect(said).not.toMatch(/casco/i);
  expect(said).not.toMatch(/\b(un|este|el|los|segundo) carcasas?\b|\bcarcasas? \w+[aeiu]do\b/i);
  for (const word of ["recorded", "saved"] as const) {
    const told = es[word];
    expect(typeof told === "function" ? told("K") : told).toMatch(/da$/);
  }
  for (const stage of ["picked_up", "finished", "rejected"])
    expect(es.stages[stage]).toMatch(/da$/);
});

it("what is over, one or several, is spoken of as one or several", () => {
  expect(es.day_over(1, "A")).toBe("1 sobra, no está en esta hoja: A.");
  expect(es.day_over(2, "A, B")).toBe("2 sobran, no están en esta hoja: A, B.");
  expect([1, 2].map((n) => en.day_over_do(n).split(" ")[1])).toEqual(["it", "them"]);
  expect([1, 2].map((n) => es.day_over_do(n).split(" ")[0])).toEqual(["Déjela", "Déjelas"]);
});
