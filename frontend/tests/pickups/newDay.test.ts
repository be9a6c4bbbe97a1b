/** A new day that the customer was told stands on phone and counter, beside the first one. */
import { afterEach, expect, it, vi } from "vitest";
import { casingFromRow, dueOn } from "../../src/domain/rows";

vi.stubGlobal("navigator", { language: "en" });
vi.stubGlobal("document", { documentElement: {} });
vi.stubGlobal("location", { hash: "", pathname: "/" });
vi.stubGlobal("addEventListener", () => {});
const { dueSaid } = await import("../../src/pickups/counter/kinds");
const { promiseSaid } = await import("../../src/pickups/counter/story");
const { language } = await import("../../src/pickups/words");

const promised = { on: "2026-12-03", basis: "forecast", confidence: 90 };
const row = { line: "retread", work: "retread", basis: "own", progress: "in_work", promised };
const stands = { on: "2026-12-09", basis: "forecast", confidence: 90 };
const day = (text: string) => Date.parse(`${text}T18:00:00.000Z`);

afterEach(() => {
  language.value = "en";
});

it("both days are said in both languages, and only the new one can be past", () => {
  const casing = casingFromRow("c", { ...row, stands });
  expect(dueOn(casing)).toBe("2026-12-09");
  const said = promiseSaid(casing, day("2026-12-05"));
  expect(said.text).toMatch(/^New day .*Dec.* 9.* \(first promised .*Dec.* 3.*\)\.$/);
  expect(said.past).toBe(false);
  expect(promiseSaid(casing, day("2026-12-10")).past).toBe(true);
  expect(dueSaid(casing)).toMatch(/9/);
  language.value = "es";
  expect(promiseSaid(casing, day("2026-12-05")).text).toMatch(
    /^Nuevo día: .*9.*\(antes .*3.*\)\.$/,
  );
});

it("where no new day was told, or the first one holds again, the promised one stands", () => {
  const again = { ...stands, on: promised.on };
  for (const more of [{}, { stands: null }, { stands: again }]) {
    const casing = casingFromRow("c", { ...row, ...more });
    expect(dueOn(casing)).toBe("2026-12-03");
    const said = promiseSaid(casing, day("2026-12-05"));
    expect(said.text).toContain("by the plant's forecast");
    expect(said.past).toBe(true);
  }
  expect(dueOn(casingFromRow("c", { ...row, promised: null, stands }))).toBeNull();
});
