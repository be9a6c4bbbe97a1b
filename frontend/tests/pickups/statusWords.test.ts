/** The line at the bottom claims no more than this phone knows. */
import { expect, it } from "vitest";
import { nothingSaid, shutSaid } from "../../src/pickups/statusWords";
import { en } from "../../src/pickups/words.en";

const calm = { heard: true, photos: 0, needsYou: 0, reach: "reached" };

it("all is recorded where the server was reached and nothing is left here", () => {
  expect(nothingSaid(calm, en)).toBe(en.all_recorded);
});

it.each([
  { heard: false },
  { photos: 1 },
  { needsYou: 1 },
  { reach: "server_away" },
  { reach: "no_signal" },
  { reach: "broken" },
  { reach: "malformed" },
])("with %j only that nothing waits", (but) => {
  expect(nothingSaid({ ...calm, ...but }, en)).toBe(en.nothing_waits);
});

it("a closing phone may be handed back when nothing is left on it, no other", () => {
  expect(shutSaid("device_closing", 0, en)).toEqual({ text: en.closing_done, good: true });
  expect(shutSaid("device_closing", 1, en)).toEqual({ text: en.closing, good: false });
  expect(shutSaid("device_revoked", 0, en)).toEqual({ text: en.revoked, good: false });
  expect(shutSaid("device_unknown", 0, en)).toEqual({ text: en.unknown_device, good: false });
});
