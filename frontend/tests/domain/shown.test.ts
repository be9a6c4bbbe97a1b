/** The list that a signature covers, against the vectors that are read by Python too. */
import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import { shownText } from "../../src/domain/shown";
import { vectors } from "../golden/read";

type Case = {
  lines: [string, string][];
  scrap?: number;
  left?: number;
  text: string;
  sha256: string;
};
const { cases } = vectors("shown") as { cases: Case[] };

it.each(cases)("$text", ({ lines, scrap = 0, left = 0, text, sha256 }) => {
  const said = shownText(
    lines.map(([label, on]) => ({ label, on })),
    { scrap, left },
  );
  expect(said).toBe(text);
  expect(createHash("sha256").update(said).digest("hex")).toBe(sha256);
});
