/**
 * A phone whose databases an older build made: opened by this one, all is there and is sent. And a
 * server that is newer than this build: what it does not know is parked, and waits for a build
 * that does.
 */
import { openDB } from "idb";
import { expect, it, vi } from "vitest";
import { people } from "../../src/domain/entities";
import { draft, draftPhotos, setting } from "../../src/store/local";
import { meta } from "../../src/store/marks";
import { photo } from "../../src/store/outbox";
import { marks, openReplica, present, type Row, take, wipe } from "../../src/store/replica";
import { golden } from "../golden/read";
import { Phone } from "../sim/Phone";
import { PICKUP, rig } from "../sim/rig";

const sha = (digit: string) => digit.repeat(64);
const DEVICE = "01960000-0000-7000-8000-0000000000d1";
const INCARNATION = "01963b1c-0000-7000-8000-00000000000a";

/** As the first build made the outbox (version 1), with what its users had left in it. */
async function oldOutbox(prefix: string): Promise<string[]> {
  const db = await openDB(`${prefix}yardloop-outbox`, 1, {
    upgrade(made) {
      const entries = made.createObjectStore("entries", { keyPath: "id" });
      entries.createIndex("sequence", "sequence", { unique: true });
      const sent = made.createObjectStore("sent", { keyPath: "id" });
      sent.createIndex("sequence", "sequence", { unique: true });
      sent.createIndex("answered_at", "answered_at");
      made.createObjectStore("refusals", { keyPath: "id" });
      made.createObjectStore("photos", { keyPath: "sha256" });
      made.createObjectStore("meta", { keyPath: "key" });
    },
  });
  const kinds = ["custody.pick_up.v1", "custody.withdraw.v1", "custody.finish_pickup.v1"];
  const bodies = kinds.map((name, i) =>
    JSON.stringify({ ...golden(name), incarnation: INCARNATION, sequence: i + 1 }),
  );
  for (const [i, body] of bodies.entries()) {
    const { id } = JSON.parse(body);
    await db.put("entries", { id, body, sequence: i + 1, entered_at: 1_777_000_000_000 + i });
  }
  await db.put("photos", { sha256: sha("a"), blob: new Blob(["a photo"]) });
  for (const [key, value] of Object.entries({
    incarnation: INCARNATION,
    sequence: 3,
    stamp: 1_777_000_000_003,
    device: DEVICE,
  }))
    await db.put("meta", { key, value });
  db.close();
  return bodies;
}

/** As the first build made what only this phone knows (version 1). */
async function oldLocal(prefix: string): Promise<void> {
  const db = await openDB(`${prefix}yardloop-local`, 1, {
    upgrade(made) {
      made.createObjectStore("drafts", { keyPath: "key" });
      const photos = made.createObjectStore("draft_photos", { keyPath: ["draft", "sha256"] });
      photos.createIndex("draft", "draft");
      made.createObjectStore("settings", { keyPath: "key" });
    },
  });
  const enrolment = {
    device: DEVICE,
    name: "Truck 4 phone",
    site: "01960000-0000-7000-8000-0000000000e1",
    site_name: "Bramblewick store",
    read_token: "r.token",
  };
  await db.put("settings", { key: "enrolment", value: enrolment });
  await db.put("settings", { key: "language", value: "es" });
  const key = `casing:${PICKUP}`;
  await db.put("drafts", { key, id: sha("0"), fields: { label: "K72K54X2" }, changed_at: 5 });
  await db.put("draft_photos", { sha256: sha("b"), draft: key, blob: new Blob(["half"]) });
  db.close();
}

/** As the first builds made what the server had told: a row a value. */
async function oldReplica(prefix: string, rows: Row[], seen = "8"): Promise<void> {
  const db = await openDB(`${prefix}yardloop-replica-1`, 1, {
    upgrade(made) {
      const store = made.createObjectStore("rows", { keyPath: ["scope", "entity", "id"] });
      store.createIndex("scope", "scope");
      made.createObjectStore("meta", { keyPath: "key" });
    },
  });
  for (const row of rows) await db.put("rows", row);
  for (const [key, value] of Object.entries({ cursor: "c-8", epoch: "e", seen }))
    await db.put("meta", { key, value });
  db.close();
}
const YARD = { scope: "site:1", entity: "yard", id: "y", version: 4, gone: false, body: { n: 1 } };
const GONE = { ...YARD, id: "z", gone: true, body: null };
const names = async (prefix: string) =>
  (await indexedDB.databases())
    .flatMap(({ name }) => name ?? [])
    .filter((name) => name.startsWith(`${prefix}yardloop-replica-`));

it("whoever takes a new build without a signal has the day's rows, and goes on where they end", async () => {
  const { prefix } = rig().ports.storage;
  await oldReplica(prefix, [YARD, GONE]);
  const db = await openReplica(prefix);
  expect(await present(db)).toEqual([YARD]);
  expect(await marks(db)).toEqual({ cursor: "c-8", epoch: "e", seen: "8" });
  await vi.waitFor(async () => expect(await names(prefix)).toEqual([db.name]));
  db.close();
});

it("what this build cannot read is let lie until it has a whole pull of its own", async () => {
  const { prefix } = rig().ports.storage;
  const later = `${prefix}yardloop-replica-99`;
  (await openDB(later, 1, { upgrade: (made) => void made.createObjectStore("else") })).close();
  const db = await openReplica(prefix);
  const page = { epoch: "e", cursor: "c", horizon: "9", forget: [], rows: [YARD] };
  await take(db, { ...page, more: true });
  expect(await names(prefix)).toContain(later);
  await take(db, { ...page, more: false });
  await vi.waitFor(async () => expect(await names(prefix)).toEqual([db.name]));
  db.close();
});

it("rows that this phone may no longer see do not come back out of an older build's", async () => {
  const { prefix } = rig().ports.storage;
  const later = `${prefix}yardloop-replica-99`;
  (await openDB(later, 1, { upgrade: (made) => void made.createObjectStore("else") })).close();
  const db = await openReplica(prefix);
  await wipe(db);
  await vi.waitFor(async () => expect(await names(prefix)).toEqual([db.name]));
  db.close();
});

it("what an older build kept is all there after the upgrade, and is sent as it was entered", async () => {
  const r = rig();
  const bodies = await oldOutbox(r.ports.storage.prefix);
  await oldLocal(r.ports.storage.prefix);

  const phone = await Phone.open(r.ports);
  const { outbox, local } = phone.deps.store;
  const told = await phone.told();
  expect(told.entries.map((entry) => entry.body)).toEqual(bodies);
  expect(told.photos).toEqual([sha("a")]);
  expect(await (await photo(outbox, sha("a")))?.text()).toBe("a photo");
  expect(await meta(outbox, "sequence")).toBe(3);
  expect((await setting(local, "enrolment"))?.device).toBe(DEVICE);
  expect(await setting(local, "export_key")).toBeNull();
  expect((await draft(local, `casing:${PICKUP}`))?.fields).toEqual({ label: "K72K54X2" });
  expect(await draftPhotos(local, `casing:${PICKUP}`)).toHaveLength(1);

  await phone.sync();
  const pushed = r.net.asked.find((ask) => ask.path === "/api/sync/push");
  for (const body of bodies) expect(String(pushed?.body)).toContain(body);
  expect((await phone.told()).entries).toEqual([]);
  const next = await phone.pickUp({ pickup: PICKUP, yard: DEVICE, label: "K72K6P0D" });
  const [entry] = (await phone.told()).entries;
  expect([entry?.id, entry?.sequence]).toEqual([next, 4]);
  phone.close();
});

it("what a newer server tells of is parked: kept, shown nowhere, and there for the next build", async () => {
  const r = rig();
  const phone = await r.phone();
  const body = { degrees: 7, name: "an entity that this build has not heard of" };
  const strange = { scope: "site:1", entity: "weather", id: "w", version: 4, gone: false, body };
  const page = { epoch: "e", cursor: "after-it", horizon: "9", more: false, forget: [] };
  await take(phone.deps.store.replica, { ...page, rows: [strange] });
  const before = await phone.view();
  expect(JSON.stringify([...before.casings.values(), before.pickups])).not.toContain("heard of");
  expect(people(await present(phone.deps.store.replica))).toEqual([]);
  phone.close();

  // The next build opens the same databases: nothing has to be pulled again.
  const later = await Phone.open(r.ports);
  expect(await marks(later.deps.store.replica)).toMatchObject({ cursor: "after-it", seen: "9" });
  expect(await present(later.deps.store.replica)).toContainEqual(strange);
  await take(later.deps.store.replica, { ...page, rows: [{ ...strange, version: 3, body: {} }] });
  expect(await present(later.deps.store.replica)).toContainEqual(strange);
  later.close();
});
