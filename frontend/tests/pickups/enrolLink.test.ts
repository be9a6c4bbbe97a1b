/** The link of the office's square, whole and damaged. */
import { expect, it } from "vitest";
import { codeInLink } from "../../src/pickups/enrolLink";

it.each([
  ["#enrol=AB12-CD34", "AB12-CD34"],
  ["#enrol=AB%2012&x=1", "AB 12"],
  ["#enrol=", null],
  ["#enrol=%20", null],
  ["#enrol=%", null],
  ["#else=AB12", null],
  ["", null],
])("%j holds %j", (hash, code) => {
  expect(codeInLink(hash)).toBe(code);
});
