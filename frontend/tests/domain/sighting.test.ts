/** What the symbols in a picture amount to: ours, damaged, somebody else's, too many. */
import { expect, it } from "vitest";
import { checkSymbol } from "../../src/domain/labels";
import { comings, sighted } from "../../src/domain/sighting";

const SOUND = "K72K54X2";
const OTHER = `AB1C2DV${checkSymbol("AB1C2DV")}`;

it.each([
  [[], "nothing"],
  [["", " "], "nothing"],
  [[SOUND], "label"],
  [[`HTTPS://YARD.EXAMPLE/L/${SOUND}`], "label"],
  [[`http://another.host:8000/L/${SOUND}/?a=b#c`], "label"],
  // Both symbols of one label, or its twin beside it.
  [[`HTTP://YARD.EXAMPLE/L/${SOUND}`, SOUND], "label"],
  // What else stands on the tire does not matter once a label is read.
  [["4006381333931", SOUND, "https://maker.example/x"], "label"],
  [[`https://yard.example/item/${SOUND}`], "not_ours"],
  [[`https://yard.example/L/A/${SOUND}`], "not_ours"],
  [[`/L/${SOUND}`], "not_ours"],
  [["4006381333931"], "not_ours"],
  [["WIFI:S:yard;;"], "not_ours"],
  [["K72K54X3"], "wrong"],
  [["HTTPS://YARD.EXAMPLE/L/K72K54X"], "wrong"],
  [["https://maker.example/x", "K72K54X3"], "wrong"],
])("%j: %s", (texts, what) => {
  expect(sighted(texts).what).toBe(what);
});

it("a label is told by its code, two by both", () => {
  expect(sighted([`HTTP://YARD.EXAMPLE/L/${SOUND}`])).toEqual({ what: "label", code: SOUND });
  expect(sighted([SOUND, OTHER, SOUND])).toEqual({ what: "several", codes: [SOUND, OTHER] });
});

it("what is wrong with a damaged one is kept", () => {
  expect(sighted(["K72K54X3"])).toEqual({
    what: "wrong",
    text: "K72K54X3",
    fault: "check_does_not_fit",
  });
});

it("a label that stays in sight has come once, and comes again after it was away", () => {
  const coming = comings(2000);
  expect(coming.comes(SOUND, 0)).toBe(true);
  expect(coming.comes(SOUND, 1900)).toBe(false);
  expect(coming.comes(SOUND, 3800)).toBe(false);
  expect(coming.comes(SOUND, 5801)).toBe(true);
  expect(coming.comes(OTHER, 5900)).toBe(true);
  expect(coming.comes(SOUND, 6000)).toBe(true);
});

it("while somebody is asked nobody looks, and the label in the hand is not a new one after", () => {
  const coming = comings(2000);
  coming.comes(SOUND, 0);
  coming.stays(60_000);
  expect(coming.comes(SOUND, 61_000)).toBe(false);
  expect(coming.comes(OTHER, 61_100)).toBe(true);
});
