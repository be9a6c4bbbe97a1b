/** A replaced label: nothing is taken for said, and void is said of it when it is. */
import { expect, it } from "vitest";
import { BLANK, unsaid } from "../../src/pickups/labels/relabelling";
import { en } from "../../src/pickups/words.en";
import { es } from "../../src/pickups/words.es";

it("nothing is chosen at first, and lost or spoiled has to be said before the rest", () => {
  expect(BLANK.why).toBe("");
  expect(unsaid(BLANK, en)).toEqual({
    why: en.relabel_why_missing,
    known_by: en.relabel_known_by_missing,
    at: "relabel-why",
  });
  expect(unsaid({ why: "spoiled", known_by: " " }, en).at).toBe("known-by");
  expect(unsaid({ why: "lost", known_by: "its TIN" }, en)).toEqual({
    why: null,
    known_by: null,
    at: null,
  });
});

it("the old label will be void while it is asked about, and is void once it is told", () => {
  expect(en.relabel_say("K1")).toContain("K1 will be void");
  expect(en.relabel_done("K1", "K2")).toContain("K1 is void");
  expect(es.relabel_say("K1")).toContain("K1 quedará anulada");
  expect(es.relabel_done("K1", "K2")).toContain("K1 está anulada");
});

it("what is on the way may be a photo or a signature", () => {
  expect(en.photos_waiting(1)).toBe("1 photo or signature on the way");
  expect(es.photos_waiting(2)).toBe("2 fotos o firmas en camino");
});
