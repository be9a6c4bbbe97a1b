/** The laws of import bite: each is broken once under tests/house/planted and must be found. */
import { createRequire } from "node:module";
import { join } from "node:path";
import { cruise, type ICruiseResult } from "dependency-cruiser";
import { expect, it } from "vitest";

const config = createRequire(import.meta.url)("../../.dependency-cruiser.cjs");
const PLANTED = join(import.meta.dirname, "planted");

async function broken(baseDir: string, paths: string[], exclude: string | null): Promise<string[]> {
  const { output } = await cruise(paths, {
    ...config.options,
    ...(exclude === null ? { exclude: { path: "^$" } } : {}),
    baseDir,
    validate: true,
    ruleSet: { forbidden: config.forbidden },
  });
  const found = (output as ICruiseResult).summary.violations;
  return found.map((violation) => `${violation.rule.name} ${violation.from}`);
}

it("every law is broken by what was planted against it", async () => {
  const found = await broken(PLANTED, ["src"], null);
  const rules = new Set(found.map((line) => line.split(" ")[0]));
  const laws = config.forbidden.map((rule: { name: string }) => rule.name);
  // Screens and main stand at the top; nothing lies above main that it could import.
  for (const law of laws) expect(rules, law).toContain(law);
  for (const layer of ["domain", "ports", "store", "sync", "bridge", "pickups", "ui", "worker"])
    expect(found.join("\n")).toContain(`src/${layer}/x.ts`);
});

it("the house itself keeps them", async () => {
  expect(await broken(join(import.meta.dirname, "../.."), ["src"], "planted")).toEqual([]);
});
