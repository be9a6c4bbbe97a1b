/** The simulation's own eye: a phone that is not as a fresh one would be is never taken for equal. */
import { describe, expect, it } from "vitest";
import { compare, type Row } from "../sim/compare";

const row = (id: string, given: Partial<Row> = {}): Row => ({
  entity: "work_order",
  id,
  version: 2,
  body: { holder: "person:1" },
  ...given,
});
const fresh = (...rows: Row[]) => new Map(rows.map((one) => [`${one.entity} ${one.id}`, one]));

describe("a phone beside a fresh one", () => {
  const known = [row("a"), row("b")];

  it("is equal where it knows the same, whatever came first", () => {
    const seen = compare([row("b"), row("a")], fresh(...known));
    expect(seen).toEqual({ compared: 2, differs: [] });
  });

  it.each([
    ["a row that never came", [row("a")], "work_order b: missing here"],
    ["a row that is gone elsewhere", [...known, row("c")], "work_order c: only here"],
    ["an older version", [row("a"), row("b", { version: 1 })], "work_order b: 1, not 2"],
    ["another body", [row("a"), row("b", { body: { holder: "" } })], "work_order b: body"],
  ])("differs by %s", (_, mine, said) => {
    expect(compare(mine, fresh(...known)).differs).toEqual([said]);
  });
});
