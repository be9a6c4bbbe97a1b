/** A void label means the casing that wears another now, until somebody else wears it. */
import { describe, expect, it } from "vitest";
import { isNamed, nowOf, replacements } from "../../src/domain/replaced";

const worn = (label: string, void_labels: string[] = [], progress = "picked_up", pickup = "p") => ({
  label,
  void_labels,
  progress,
  pickup,
});

describe("labels that were replaced", () => {
  it("lead to the one that is worn now", () => {
    const casings = [worn("C", ["A", "B"]), worn("D")];
    expect(["A", "B", "C", "D", "E"].map((label) => nowOf(label, casings))).toEqual([
      "C",
      "C",
      "C",
      "D",
      "E",
    ]);
    expect(isNamed(casings[0]!, "A")).toBe(true);
    expect(isNamed(casings[1]!, "A")).toBe(false);
  });

  it("are not void where another casing wears them", () => {
    expect(nowOf("A", [worn("B", ["A"]), worn("A")])).toBe("A");
  });

  it("lead nowhere once the casing is back with its owner, or was taken back", () => {
    expect(replacements([worn("B", ["A"], "returned"), worn("D", ["C"], "picked_up", "")])).toEqual(
      new Map(),
    );
  });
});
