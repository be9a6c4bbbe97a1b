/** A device changes hands: whose an open visit is. */
import { expect, it } from "vitest";
import { handedOn } from "../../src/domain/left";

it("what is open when it changes hands is of who had it, what was left before of who left it", () => {
  const first = handedOn({}, ["a", "b"], "maven");
  expect(first).toEqual({ a: "maven", b: "maven" });
  // Noor finished b and began c; then it goes on.
  const second = handedOn(first, ["a", "c"], "noor");
  expect(second).toEqual({ a: "maven", c: "noor" });
  expect(handedOn(second, [], "maven")).toEqual({});
});
