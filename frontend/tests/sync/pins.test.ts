/** PINs of a device: who they say it is, what they open, what wrong ones take away. */
import { expect, it, vi } from "vitest";
import { MOST_WRONG } from "../../src/domain/pin";
import { amend, drafts, keepCopy, keepDraft, set, setting } from "../../src/store/local";
import { meta } from "../../src/store/marks";
import { told } from "../../src/store/outbox";
import { present, take } from "../../src/store/replica";
import { makeEngine } from "../../src/sync/engine";
import { enrol } from "../../src/sync/enrol";
import type { Deps } from "../../src/sync/exchange";
import {
  dropStrangers,
  readToken,
  setPin,
  tryPin,
  waitMs,
  wipeAfterTen,
} from "../../src/sync/pins";
import { casing, rig } from "../sim/rig";

const MAVEN = "01960000-0000-7000-8000-0000000000b1";
const NOOR = "01960000-0000-7000-8000-0000000000b2";
const [HERS, HIS] = ["270941", "580264"];

/** A phone whose page may hold something. Few iterations: the keys are as true, and a test quick. */
async function device() {
  const it = rig();
  const phone = await it.phone();
  const opened: { token: string | null; person: string | null } = { token: null, person: null };
  const deps: Deps & { opened: typeof opened } = { ...phone.deps, opened };
  await set(deps.store.local, "pins", {
    salt: crypto.getRandomValues(new Uint8Array(16)),
    iterations: 10,
    copies: [],
  });
  return { ...it, phone, deps, opened, local: deps.store.local };
}

/** As a page that was unlocked by the one whose PIN is set first. */
async function withTwo() {
  const it = await device();
  const token = await readToken(it.deps);
  expect(await setPin(it.deps, MAVEN, HERS)).toBe("set");
  it.opened.token = token;
  expect(await setPin(it.deps, NOOR, HIS)).toBe("set");
  it.opened.token = null;
  return { ...it, token };
}

const people = (...ids: string[]) => ({
  epoch: "e",
  cursor: "c",
  horizon: "h",
  more: false,
  forget: [],
  rows: ids.map((id) => ({
    scope: "site:s",
    entity: "person",
    id,
    version: 1,
    gone: false,
    body: { name: id, role: "driver" },
  })),
});

it("a PIN says who it is, and opens the token that lies nowhere else", async () => {
  const { deps, local, token } = await withTwo();
  expect(token).toBe("r.token");
  expect((await setting(local, "enrolment"))?.read_token).toBeNull();
  const kept = await local.getAll("settings");
  const bytes = JSON.stringify(kept, (_, value) =>
    value instanceof Uint8Array ? new TextDecoder().decode(value) : value,
  );
  expect(bytes).not.toContain(token);
  expect(await readToken(deps)).toBeNull();
  expect(await tryPin(deps, HERS)).toEqual({ opened: { person: MAVEN, token } });
  expect(await tryPin(deps, HIS)).toEqual({ opened: { person: NOOR, token } });
});

it("derives a new device's keys as published, with a salt of its own", async () => {
  const it = await device();
  await set(it.local, "pins", null);
  expect(await setPin(it.deps, MAVEN, HERS)).toBe("set");
  const pins = await setting(it.local, "pins");
  expect(pins?.iterations).toBe(600_000);
  expect(pins?.salt).toHaveLength(16);
  expect(await tryPin(it.deps, HERS)).toHaveProperty("opened");
});

it("a PIN that is another's is not had twice; one's own may be set again", async () => {
  const it = await withTwo();
  it.opened.token = it.token;
  it.opened.person = NOOR;
  expect(await setPin(it.deps, NOOR, HERS)).toBe("taken");
  expect(await setPin(it.deps, NOOR, HIS)).toBe("set");
  expect(await setPin(it.deps, NOOR, "904417")).toBe("set");
  expect(await tryPin(it.deps, HIS)).toEqual({ wrong: 1 });
  expect(await tryPin(it.deps, "904417")).toHaveProperty("opened.person", NOOR);
});

it("whoever holds the device gives nobody another PIN who has one", async () => {
  const it = await withTwo();
  it.opened.token = it.token;
  it.opened.person = MAVEN;
  expect(await setPin(it.deps, NOOR, "904417")).toBe("taken");
  it.opened.token = it.opened.person = null;
  expect(await tryPin(it.deps, HIS)).toHaveProperty("opened.person", NOOR);
});

it("nobody sets a PIN on a locked device, nor one for a token that was renewed meanwhile", async () => {
  const it = await withTwo();
  expect(await setPin(it.deps, NOOR, "904417")).toBe("lost");
  const { salt, copies } = (await setting(it.local, "pins"))!;
  await set(it.local, "pins", { salt: new Uint8Array(16), iterations: 10, copies: [] });
  expect(await keepCopy(it.local, salt, copies[0]!)).toBe(false);
  expect((await setting(it.local, "pins"))?.copies).toEqual([]);
});

it("a copy that was put under another name, or on another device, opens nothing", async () => {
  const { deps, local } = await withTwo();
  await amend(local, "pins", (pins) => ({
    ...pins!,
    copies: pins!.copies.map((copy) => ({ ...copy, person: copy.person === MAVEN ? NOOR : MAVEN })),
  }));
  expect(await tryPin(deps, HERS)).toEqual({ wrong: 1 });
});

it("a wrong one is counted before it is looked at: a kill between wins no try", async () => {
  const { deps, local } = await withTwo();
  const looking = tryPin(deps, "111119");
  await expect.poll(async () => (await setting(local, "pin_tries"))?.wrong).toBe(1);
  expect(await looking).toEqual({ wrong: 1 });
  expect(await tryPin(deps, HERS)).toHaveProperty("opened");
  expect(await setting(local, "pin_tries"), "the row is broken").toBeNull();
});

it("waits longer after each wrong one, however the clock is set, and looks at none meanwhile", async () => {
  const { deps, local, clock } = await withTwo();
  for (const wrong of [1, 2, 3]) expect(await tryPin(deps, "111119")).toEqual({ wrong });
  expect(await tryPin(deps, HERS), "too early, even where it is right").toEqual({ waitMs: 2_000 });
  expect((await setting(local, "pin_tries"))?.wrong).toBe(3);
  await amend(local, "pin_tries", (now) => ({ ...now!, at: clock.now() + 86_400_000 }));
  expect(await waitMs(deps)).toBe(2_000);
  clock.jump(500);
  expect(await waitMs(deps), "a clock that was set back begins the pause once").toBe(1_500);
  await amend(local, "pin_tries", (now) => ({ ...now!, at: clock.now() - 2_000 }));
  expect(await tryPin(deps, HERS)).toHaveProperty("opened");
});

it("ten wrong ones take the lists and the door, and leave and send what was entered", async () => {
  const it = await withTwo();
  const { deps, local, phone, server } = it;
  await take(deps.store.replica, people(MAVEN, NOOR));
  await phone.pickUp(casing());
  await keepDraft(local, {
    key: "sheet",
    id: deps.ids.next(),
    fields: { note: "wet" },
    changed_at: 1,
  });
  for (let wrong = 1; wrong <= MOST_WRONG; wrong++) {
    expect(await tryPin(deps, "111119")).toEqual({ wrong });
    expect(await wipeAfterTen(deps)).toBe(wrong === MOST_WRONG);
    await amend(local, "pin_tries", (now) => ({ ...now!, at: 0 }));
  }
  expect(await present(deps.store.replica)).toEqual([]);
  expect(await setting(local, "pins")).toBeNull();
  expect(await tryPin(deps, HERS)).toEqual({ wrong: MOST_WRONG });
  it.opened.token = it.token;
  expect(await readToken(deps), "another tab's is of no use any more").toBeNull();
  expect(await drafts(local)).toHaveLength(1);
  expect((await told(deps.store.outbox)).entries).toHaveLength(1);
  expect(await phone.sync()).toBe("reached");
  expect((await told(deps.store.outbox)).entries).toEqual([]);
  expect(server.operations.size).toBe(1);
  expect(phone.faults).toEqual([]);
});

it("what is left undone by a kill after the tenth is done at the next start", async () => {
  const { deps, local } = await withTwo();
  await take(deps.store.replica, people(MAVEN));
  await set(local, "pin_tries", { wrong: MOST_WRONG, at: 0 });
  expect(await wipeAfterTen(deps)).toBe(true);
  expect(await present(deps.store.replica)).toEqual([]);
  expect(await setting(local, "pins")).toBeNull();
});

it("who is no longer of this place opens nothing; an empty list takes nobody's away", async () => {
  const { deps, local } = await withTwo();
  const pinned = async () => (await setting(local, "pins"))!.copies.map(({ person }) => person);
  await dropStrangers(deps);
  expect(await pinned(), "nothing was heard yet").toEqual([MAVEN, NOOR]);
  await take(deps.store.replica, people(MAVEN, NOOR));
  await dropStrangers(deps);
  expect(await pinned()).toEqual([MAVEN, NOOR]);
  await take(deps.store.replica, {
    ...people(NOOR),
    rows: [{ ...people(NOOR).rows[0]!, version: 2, gone: true, body: null }],
  } as never);
  await dropStrangers(deps);
  expect(await pinned()).toEqual([MAVEN]);
  expect(await tryPin(deps, HIS)).toEqual({ wrong: 1 });
});

it("a locked device only sends, asks how it stands, and says nothing of a pull", async () => {
  const { phone, server, net } = await withTwo();
  await phone.pickUp(casing());
  expect(await phone.sync()).toBe("reached");
  expect(server.operations.size).toBe(1);
  expect(server.waits).toEqual([0]);
  expect(net.asked.map(({ path }) => path)).not.toContain("/api/sync/pull");
});

it("a locked device that is closing or was lost hears it: its lists go, what it holds stays", async () => {
  const { deps, phone, server, local } = await withTwo();
  await take(deps.store.replica, people(MAVEN));
  server.closing = true;
  expect(await phone.sync()).toBe("device_closing");
  expect(await present(deps.store.replica)).toEqual([]);
  expect(await setting(local, "shut")).toBe("device_closing");

  await take(deps.store.replica, people(MAVEN));
  await phone.pickUp(casing());
  server.gate = () => 403;
  server.code = "device_revoked";
  expect(await phone.sync()).toBe("device_revoked");
  expect(await present(deps.store.replica)).toEqual([]);
  expect(await setting(local, "shut")).toBe("device_revoked");
  expect((await told(deps.store.outbox)).entries).toHaveLength(1);
});

it("a locked device that lost its cookie is not shut: the next PIN renews it", async () => {
  const { deps, opened, phone, server, local, token } = await withTwo();
  await phone.pickUp(casing());
  server.gate = ({ path }) => (path === "/api/sync/push" ? 401 : null);
  server.code = "device_unknown";
  expect(await phone.sync()).toBe("device_unknown");
  expect(await setting(local, "shut")).toBeNull();
  opened.token = token;
  let renewed = false;
  server.gate = ({ path }) => {
    renewed ||= path === "/api/devices/renew";
    return path === "/api/sync/push" && !renewed ? 401 : null;
  };
  const unlocked = makeEngine(deps, () => {});
  expect(await unlocked.sync()).toBe("reached");
  unlocked.stop();
  expect(renewed).toBe(true);
  expect(server.operations.size).toBe(1);
});

it("enrolled anew, the new token never lies beside the copies of the old one", async () => {
  const { deps, local } = await withTwo();
  const writes = vi.spyOn(IDBDatabase.prototype, "transaction");
  await enrol(deps, "CODE", "Truck 4 phone");
  const settings = writes.mock.calls.filter(
    ([stores, mode]) => mode === "readwrite" && [stores].flat().includes("settings"),
  );
  writes.mockRestore();
  expect(settings, "a kill comes before all of it or after").toHaveLength(1);
  expect(await setting(local, "pins")).toBeNull();
});

it("enrolled again it is the same device, with what is unsent and the sheets of both", async () => {
  const { deps, local, phone } = await withTwo();
  const before = await meta(deps.store.outbox, "device");
  await phone.pickUp(casing());
  for (const key of ["hers", "his"])
    await keepDraft(local, { key, id: deps.ids.next(), fields: {}, changed_at: 1 });
  const first = await enrol(deps, "CODE", "Truck 4 phone");
  const again = await enrol(deps, "CODE", "Truck 4 phone");
  expect(again.device).toBe(first.device);
  expect([null, first.device]).toContain(before);
  expect((await told(deps.store.outbox)).entries).toHaveLength(1);
  expect(await drafts(local)).toHaveLength(2);
  expect(await setting(local, "pins"), "they sealed the old token").toBeNull();
  expect(await readToken(deps)).toBe(again.read_token);
});
