/** The reader of symbols is pinned: its script and its WebAssembly have to be of one build. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { expect, it } from "vitest";
import { ZXING_WASM_SHA256, ZXING_WASM_VERSION } from "zxing-wasm/reader";

const own = JSON.parse(readFileSync(join(import.meta.dirname, "../../package.json"), "utf8"));

it("one exact version is named, and it is the one that is there", () => {
  expect(own.dependencies["zxing-wasm"]).toBe(ZXING_WASM_VERSION);
});

it("the WebAssembly that we serve belongs to the script", () => {
  const file = createRequire(import.meta.url).resolve("zxing-wasm/reader/zxing_reader.wasm");
  expect(createHash("sha256").update(readFileSync(file)).digest("hex")).toBe(ZXING_WASM_SHA256);
});
