/** A new version waits for a sheet that is being filled in, not for one that was forgotten. */
import { expect, it } from "vitest";
import { inUse } from "../../src/domain/inUse";

const DAY = 24 * 3600 * 1000;
const now = Date.parse("2026-04-14T13:40:07Z");

it.each([
  ["no sheet", [], false],
  ["one just begun", [now], true],
  ["one of this morning", [now - DAY / 3], true],
  ["one of yesterday", [now - DAY], false],
  ["one of yesterday and one of now", [now - DAY, now], true],
  ["one from before the clock was set back", [now + 2 * DAY], false],
])("%s", (_, touched, waits) => {
  const sheets = touched.map((changed_at) => ({ changed_at }));
  expect(inUse(sheets, now)).toBe(waits);
});
