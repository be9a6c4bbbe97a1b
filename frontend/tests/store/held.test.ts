/** A sheet that the disk has no room for is held by the page, and written when there is room. */
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import {
  draft,
  drafts,
  dropDraft,
  keepDraft,
  type LocalDb,
  openLocal,
  writeHeld,
} from "../../src/store/local";

let count = 0;
let local: LocalDb;
beforeEach(async () => {
  local = await openLocal(`held-${++count}-`);
});
afterEach(() => {
  vi.restoreAllMocks();
  local.close();
});

const sheet = (note: string, changed_at: number) => ({
  key: "casing:1",
  id: "01960000-0000-7000-8000-000000000001",
  fields: { note },
  changed_at,
});

function fullDisk(): void {
  vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(() => {
    throw new DOMException("full", "QuotaExceededError");
  });
}

it("is read back as it was left, on any screen of the page, and written when there is room", async () => {
  await keepDraft(local, sheet("first", 1));
  fullDisk();
  await expect(keepDraft(local, sheet("second", 2))).rejects.toThrow("full");
  await expect(keepDraft(local, sheet("third", 3))).rejects.toThrow("full");
  expect((await draft(local, "casing:1"))?.fields).toEqual({ note: "third" });
  expect((await drafts(local)).map(({ fields }) => fields)).toEqual([{ note: "third" }]);
  expect(await writeHeld(local)).toBe(false);
  vi.restoreAllMocks();
  expect(await writeHeld(local)).toBe(true);
  expect((await local.get("drafts", "casing:1"))?.fields).toEqual({ note: "third" });
});

it("what is written later takes its place, and what is thrown away does not come back", async () => {
  fullDisk();
  await expect(keepDraft(local, sheet("held", 1))).rejects.toThrow("full");
  vi.restoreAllMocks();
  await keepDraft(local, sheet("written", 2));
  expect(await writeHeld(local)).toBe(true);
  expect((await draft(local, "casing:1"))?.fields).toEqual({ note: "written" });
  fullDisk();
  await expect(keepDraft(local, sheet("held again", 3))).rejects.toThrow("full");
  vi.restoreAllMocks();
  await dropDraft(local, "casing:1");
  expect(await writeHeld(local)).toBe(true);
  expect(await drafts(local)).toEqual([]);
});
