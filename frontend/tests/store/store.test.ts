/** The databases: one strict transaction an entry, a disposable replica, sheets that stay. */
import { describe, expect, it, vi } from "vitest";
import {
  amend,
  draft,
  draftPhotos,
  dropDraft,
  keepDraft,
  keepDraftPhoto,
  setting,
} from "../../src/store/local";
import { refuse, unsent, wasEntered } from "../../src/store/outbox";
import { present, type Row, take, wipe } from "../../src/store/replica";
import { KEEP_MS, prune } from "../../src/store/sent";
import { TooLong } from "../../src/sync/entering";
import { casing, rig } from "../sim/rig";

const row = (some: Partial<Row>): Row => ({
  scope: "site:1",
  entity: "yard",
  id: "a",
  version: 1,
  gone: false,
  body: { name: "North yard" },
  ...some,
});
const page = (rows: Row[], forget: string[] = []) => ({
  epoch: "e",
  cursor: "c",
  horizon: "9",
  more: false,
  rows,
  forget,
});

describe("outbox", () => {
  it("writes only by strict transactions, an entry with its photos, number and stamp by one", async () => {
    const r = rig();
    const phone = await r.phone();
    const begun = vi.spyOn(IDBDatabase.prototype, "transaction");
    await phone.pickUp(casing(), undefined, [{ sha256: "a".repeat(64), blob: new Blob(["x"]) }]);
    const entering = begun.mock.calls.filter(([, mode]) => mode === "readwrite");
    expect(entering).toHaveLength(1);
    expect([...(entering[0]![0] as string[])].sort()).toEqual([
      "entries",
      "meta",
      "photos",
      "sent",
    ]);
    await phone.sync();
    const own = new Set(["entries", "sent", "refusals", "photos"]);
    for (const [names, mode, options] of begun.mock.calls) {
      const list = typeof names === "string" ? [names] : [...(names as string[])];
      if (mode === "readwrite" && list.some((name) => own.has(name)))
        expect(options).toEqual({ durability: "strict" });
    }
    begun.mockRestore();
    phone.close();
  });

  it("enters one operation for one sheet, however often it is saved", async () => {
    const r = rig();
    const phone = await r.phone();
    const id = await phone.pickUp(casing());
    await phone.pickUp(casing("K72K6P0D"), id);
    await phone.sync();
    await phone.pickUp(casing("K72K8T90"), id);
    const { entries, sent } = await phone.told();
    expect([...entries, ...sent].map((one) => one.sequence)).toEqual([1]);
    expect(JSON.parse(sent[0]!.body).payload.label).toBe("K72K54X2");
    expect(await wasEntered(phone.deps.store.outbox, id)).toBe(true);
    phone.close();
  });

  it("gives what waits in its order, so many at most, past those that are refused or wait apart", async () => {
    const r = rig();
    const phone = await r.phone();
    const outbox = phone.deps.store.outbox;
    const ids: string[] = [];
    for (let i = 0; i < 7; i++) ids.push(await phone.pickUp(casing()));
    const nothing = { at: 1, code: "x", field: null, value: null, allowed: null };
    await refuse(outbox, { id: ids[0]!, ...nothing });
    const given = async (most: number, apart: string[] = []) =>
      (await unsent(outbox, most, new Set(apart))).map((one) => ids.indexOf(one.id));
    expect(await given(3)).toEqual([1, 2, 3]);
    expect(await given(3, [ids[1]!, ids[3]!])).toEqual([2, 4, 5]);
    expect(await given(99, ids.slice(0, 6))).toEqual([6]);
    expect(await given(99, ids)).toEqual([]);
    phone.close();
  });

  it("takes nothing in of an operation that is too long", async () => {
    const r = rig();
    const phone = await r.phone();
    const long = { ...casing(), note: "n".repeat(70_000) };
    await expect(phone.pickUp(long)).rejects.toBeInstanceOf(TooLong);
    await phone.pickUp(casing());
    expect((await phone.told()).entries.map((entry) => entry.sequence)).toEqual([1]);
    phone.close();
  });

  it("never holds text that no database can keep", async () => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp({ ...casing(), note: "a\u0000b\ud800c 🛞" });
    const { note } = JSON.parse((await phone.told()).entries[0]!.body).payload;
    expect(note).toBe("ab\ufffdc 🛞");
    phone.close();
  });

  it("forgets answered operations after 30 days, never one without an answer", async () => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing());
    await phone.sync();
    const waiting = await phone.pickUp(casing());
    await prune(phone.deps.store.outbox, r.clock.now() + KEEP_MS - 1000);
    expect((await phone.told()).sent).toHaveLength(1);
    await prune(phone.deps.store.outbox, r.clock.now() + 400 * KEEP_MS);
    expect((await phone.told()).sent).toEqual([]);
    expect((await phone.told()).entries.map((entry) => entry.id)).toEqual([waiting]);
    phone.close();
  });
});

describe("replica", () => {
  it("keeps the greater version, in whatever order they come, and what is gone stays gone", async () => {
    const r = rig();
    const phone = await r.phone();
    const { replica } = phone.deps.store;
    await take(replica, page([row({ version: 3, body: { name: "new" } }), row({ version: 2 })]));
    expect(await present(replica)).toMatchObject([{ version: 3, body: { name: "new" } }]);
    await take(replica, page([row({ version: 5, gone: true, body: null }), row({ version: 4 })]));
    expect(await present(replica)).toEqual([]);
    phone.close();
  });

  it("drops the rows of a scope that is no longer its own, and shows an id once", async () => {
    const r = rig();
    const phone = await r.phone();
    const { replica } = phone.deps.store;
    await take(replica, page([row({}), row({ scope: "run:7", version: 2 }), row({ id: "b" })]));
    expect((await present(replica)).map((one) => one.version).sort()).toEqual([1, 2]);
    await take(replica, page([], ["site:1"]));
    expect(await present(replica)).toMatchObject([{ scope: "run:7", id: "a" }]);
    await wipe(replica);
    expect(await present(replica)).toEqual([]);
    phone.close();
  });
});

it("a half-filled sheet and its photos are there after the app died, and go together", async () => {
  const r = rig();
  const phone = await r.phone();
  const kept = { key: "casing:1", id: "i", fields: { label: "K72" }, changed_at: 1 };
  await keepDraft(phone.deps.store.local, kept);
  const photo = { sha256: "a".repeat(64), draft: kept.key, blob: new Blob(["x"]) };
  await keepDraftPhoto(phone.deps.store.local, photo);
  phone.close();
  const again = await r.phone();
  expect(await draft(again.deps.store.local, kept.key)).toEqual(kept);
  expect(await draftPhotos(again.deps.store.local, kept.key)).toHaveLength(1);
  await dropDraft(again.deps.store.local, kept.key);
  expect(await draft(again.deps.store.local, kept.key)).toBeNull();
  expect(await draftPhotos(again.deps.store.local, kept.key)).toEqual([]);
  again.close();
});

it("two changes to one setting at the same time are both kept", async () => {
  const phone = await rig().phone();
  const { local } = phone.deps.store;
  const more = (stop: string) =>
    amend(local, "links", (links) => [...(links ?? []), { visit: stop, stop, on: 0 }]);
  await Promise.all([more("a"), more("b"), more("c")]);
  const kept = (await setting(local, "links")) ?? [];
  expect(kept.map(({ stop }) => stop).sort()).toEqual(["a", "b", "c"]);
  phone.close();
});
