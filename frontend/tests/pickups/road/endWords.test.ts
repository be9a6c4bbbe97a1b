/** What stays on the truck is kept with the delivery, a reason once. */
import { expect, it } from "vitest";
import { noteOf } from "../../../src/pickups/road/endWords";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";

it("names each reason once, with its labels, and says where none was given", () => {
  const left: [string, string][] = [
    ["K72K54X2", "not_taken"],
    ["K72K6P0D", ""],
    ["K72K8T90", "not_taken"],
  ];
  expect(noteOf(left, en)).toBe(
    "Not handed over: 3. They did not take it: K72K54X2, K72K8T90. No reason given: K72K6P0D",
  );
  expect(noteOf(left, es), "kept by key, said in the language asked for").toContain(
    "No la aceptaron: K72K54X2, K72K8T90",
  );
});

it("says nothing where nothing stays, and never more than the wire takes", () => {
  expect(noteOf([], en)).toBe("");
  const many = Array.from({ length: 90 }, (_, i): [string, string] => [`LABEL${i}`, "wrong_yard"]);
  expect(noteOf(many, en)).toHaveLength(500);
  expect(noteOf(many, en)).toMatch(/…$/);
});
