/** The golden messages that server and phone share, and the shared vectors. */
import { readFileSync } from "node:fs";
import { join } from "node:path";

const FIXTURES = join(import.meta.dirname, "../../../fixtures");

// biome-ignore lint/suspicious/noExplicitAny: messages are compared, not used
export const golden = (name: string): any =>
  JSON.parse(readFileSync(join(FIXTURES, "wire", `${name}.json`), "utf8")).message;

// biome-ignore lint/suspicious/noExplicitAny: vectors are compared, not used
export const vectors = (name: string): any =>
  JSON.parse(readFileSync(join(FIXTURES, "vectors", `${name}.json`), "utf8"));
