/** The engine: what each answer, each fault and each trouble does to what waits. */
import { describe, expect, it } from "vitest";
import { setting } from "../../src/store/local";
import { meta } from "../../src/store/marks";
import { tryAgain } from "../../src/store/outbox";
import { marks } from "../../src/store/replica";
import { casing, rig } from "../sim/rig";

const pushes = (r: ReturnType<typeof rig>) =>
  r.net.asked.filter((ask) => ask.path === "/api/sync/push");
describe("answers", () => {
  it("accepted, contested and held end an entry; refused stays untouched and is marked", async () => {
    const r = rig();
    const phone = await r.phone();
    const ids = [];
    for (const outcome of ["accepted", "refused", "contested", "held"]) {
      const id = await phone.pickUp(casing());
      r.server.verdicts.set(id, { outcome, code: outcome });
      ids.push(id);
    }
    const before = (await phone.told()).entries[1];
    expect(await phone.sync()).toBe("reached");
    const { entries, sent, refusals } = await phone.told();
    expect(entries).toEqual([before]);
    expect(sent.map((one) => one.outcome)).toEqual(["accepted", "contested", "held"]);
    expect(refusals).toMatchObject([{ id: ids[1], code: "refused" }]);
    phone.close();
  });

  it("what was refused is not sent again until the driver wants it, and then it may pass", async () => {
    const r = rig();
    const phone = await r.phone();
    const id = await phone.pickUp(casing());
    r.server.verdicts.set(id, { outcome: "refused", code: "malformed" });
    await phone.sync();
    await phone.sync();
    expect(pushes(r)).toHaveLength(1);
    r.server.verdicts.clear();
    await tryAgain(phone.deps.store.outbox, id);
    await phone.sync();
    expect((await phone.told()).entries).toEqual([]);
    expect((await phone.told()).refusals).toEqual([]);
    phone.close();
  });

  it("an answer for another id, or in words of a later version, leaves the entry", async () => {
    const r = rig();
    const phone = await r.phone();
    const one = await phone.pickUp(casing());
    const two = await phone.pickUp(casing());
    r.server.verdicts.set(one, { id: "01960000-0000-7000-8000-00000000dead" });
    r.server.verdicts.set(two, { outcome: "adjourned" });
    await phone.sync();
    expect((await phone.told()).entries.map((entry) => entry.id)).toEqual([one, two]);
    expect((await phone.told()).sent).toEqual([]);
    expect(pushes(r)).toHaveLength(1);
    phone.close();
  });

  it("a lost answer is asked for again, and the server's repeat ends the entry", async () => {
    const r = rig();
    const phone = await r.phone();
    const id = await phone.pickUp(casing());
    r.net.fates = ["lost"];
    expect(await phone.sync()).toBe("server_away");
    expect((await phone.told()).entries).toHaveLength(1);
    expect(await phone.sync()).toBe("reached");
    expect((await phone.told()).entries).toEqual([]);
    expect(r.server.heard.get(id)).toBe(2);
    expect(r.server.operations.size).toBe(1);
    phone.close();
  });
});

it("a photo that was refused goes again when the server says that it misses it", async () => {
  const r = rig();
  const phone = await r.phone();
  const sha256 = "a".repeat(64);
  const photo = { sha256, blob: new Blob(["x"]) };
  r.server.spoilt.add(sha256);
  const id = await phone.pickUp({ ...casing(), photos: [sha256] }, undefined, [photo]);
  expect(await phone.sync()).toBe("reached");
  expect((await phone.told()).refusals.map((refusal) => refusal.id)).toEqual([sha256]);
  await phone.sync();
  expect(r.net.asked.filter((ask) => ask.method === "PUT")).toHaveLength(1);

  r.server.spoilt.clear();
  r.server.restore([id]);
  expect(await phone.sync()).toBe("reached");
  expect(r.server.photos.has(sha256)).toBe(true);
  expect(await phone.told()).toMatchObject({ photos: [], refusals: [] });
  phone.close();
});

it("a photo that the server misses and this phone has no more is nobody's fault", async () => {
  const r = rig();
  const phone = await r.phone();
  await phone.pickUp({ ...casing(), photos: ["b".repeat(64)] });
  expect(await phone.sync()).toBe("reached");
  expect((await phone.told()).refusals).toEqual([]);
  phone.close();
});

describe("troubles are told apart", () => {
  it.each([
    ["no_signal", "dead"],
    ["server_away", "drop"],
    ["server_away", 503],
    ["server_away", "cut"],
    ["server_away", "portal"],
  ] as const)("%s when the network does %s", async (reach, fate) => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing());
    r.net.fates = [fate];
    expect(await phone.sync()).toBe(reach);
    expect((await phone.told()).entries).toHaveLength(1);
    phone.close();
  });

  it.each([
    ["device_revoked", 401],
    ["device_unknown", 401],
  ] as const)("%s keeps the outbox", async (code, status) => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing());
    r.server.gate = () => status;
    r.server.code = code;
    expect(await phone.sync()).toBe(code);
    expect((await phone.told()).entries).toHaveLength(1);
    phone.close();
  });

  it.each([400, 401, 403, 410, 413, 415, 422])(
    "%i in another's words than ours is a server away: nothing is refused, shut or put back",
    async (status) => {
      const r = rig();
      const phone = await r.phone();
      const sha256 = "a".repeat(64);
      await phone.pickUp(casing(), undefined, [{ sha256, blob: new Blob(["x"]) }]);
      r.server.code = "not_ours";
      for (const door of ["push", sha256, "pull"]) {
        r.server.gate = (ask) => (ask.path.endsWith(door) ? status : null);
        expect(await phone.sync()).toBe("server_away");
        expect((await phone.told()).refusals).toEqual([]);
        expect(await setting(phone.deps.store.local, "shut")).toBeNull();
      }
      phone.close();
    },
  );

  it.each([
    [400, "malformed"],
    [413, "too_large"],
    [415, "media_type"],
  ])("a photo that the server itself answers %i for is marked", async (status, code) => {
    const r = rig();
    const phone = await r.phone();
    const sha256 = "a".repeat(64);
    await phone.pickUp(casing(), undefined, [{ sha256, blob: new Blob(["x"]) }]);
    r.server.gate = (ask) => (ask.method === "PUT" ? status : null);
    expect(await phone.sync()).toBe("reached");
    expect((await phone.told()).refusals).toMatchObject([{ id: sha256, code }]);
    phone.close();
  });

  it.each([
    ["device_revoked", 401, "push"],
    ["device_unknown", 401, ""],
    ["device_closing", 403, "pull"],
  ] as const)(
    "%s is kept without signal and until the phone is enrolled again; what waits goes out then",
    async (code, status, door) => {
      const r = rig();
      const phone = await r.phone();
      const id = await phone.pickUp(casing());
      const other = (path: string) => !path.endsWith("enrol") && path.endsWith(door);
      r.server.gate = (ask) => (other(ask.path) ? status : null);
      r.server.code = code;
      expect(await phone.sync()).toBe(code);
      r.net.usual = "dead";
      expect(await phone.sync()).toBe("no_signal");
      expect(await setting(phone.deps.store.local, "shut")).toBe(code);

      r.net.usual = "pass";
      r.net.fates = [];
      await phone.enrol("CODE", "Truck 4 phone");
      expect(await setting(phone.deps.store.local, "shut")).toBeNull();
      r.server.gate = () => null;
      expect(await phone.sync()).toBe("reached");
      expect(r.server.operations.has(id)).toBe(true);
      expect((await phone.told()).entries).toEqual([]);
      phone.close();
    },
  );

  it("a phone that is let in again by the office itself is shut no more", async () => {
    const r = rig();
    const phone = await r.phone();
    r.server.gate = () => 401;
    expect(await phone.sync()).toBe("device_unknown");
    r.server.gate = () => null;
    expect(await phone.sync()).toBe("reached");
    expect(await setting(phone.deps.store.local, "shut")).toBeNull();
    phone.close();
  });

  it("a phone that lost its cookie and has its read token gets a new one and sends", async () => {
    const r = rig();
    const phone = await r.phone();
    const id = await phone.pickUp(casing());
    let renewed = false;
    r.server.code = "device_unknown";
    r.server.gate = (ask) => {
      if (ask.path.endsWith("renew")) renewed = ask.headers.authorization === "Bearer r.token";
      return ask.path.endsWith("push") && !renewed ? 401 : null;
    };
    expect(await phone.sync()).toBe("reached");
    expect(r.server.operations.has(id)).toBe(true);
    phone.close();
  });

  it("a closing phone loses its copy of the rows, keeps its outbox and goes on sending", async () => {
    const r = rig();
    const phone = await r.phone();
    r.server.row("person", "p", { name: "Dale Orrin" });
    await phone.sync();
    r.server.gate = (ask) => (ask.path.endsWith("pull") ? 403 : null);
    r.server.code = "device_closing";
    const id = await phone.pickUp(casing());
    expect(await phone.sync()).toBe("device_closing");
    expect(r.server.operations.has(id)).toBe(true);
    expect(await marks(phone.deps.store.replica)).toEqual({
      cursor: null,
      epoch: null,
      seen: null,
    });
    const later = await phone.pickUp(casing());
    await phone.sync();
    expect(r.server.operations.has(later)).toBe(true);
    phone.close();
  });
});

it("two tabs and their timers send under one lock, nothing twice at once", async () => {
  const r = rig();
  const [one, two] = [await r.phone(), await r.phone()];
  const ids = [await one.pickUp(casing()), await two.pickUp(casing())];
  await Promise.all([one.sync(), two.sync(), one.sync(), two.sync()]);
  expect((r.ports.locks as unknown as { holders: number }).holders).toBe(1);
  for (const id of ids) expect(r.server.heard.get(id)).toBe(1);
  one.close();
  two.close();
});

it("the clock's offset is measured at an answer and goes into the next stamp", async () => {
  const r = rig();
  const phone = await r.phone();
  const DAYS = 2 * 24 * 3600 * 1000;
  r.clock.jump(-DAYS);
  await phone.sync();
  expect(await meta(phone.deps.store.outbox, "offset")).toBe(DAYS);
  await phone.pickUp(casing());
  const operation = JSON.parse((await phone.told()).entries[0]!.body);
  expect(operation.stamp).toBe(r.clock.trueNow());
  expect(Date.parse(operation.happened_at)).toBe(r.clock.now());
  phone.close();
});

it("a photo is dropped only when the server says that it is there", async () => {
  const r = rig();
  const phone = await r.phone();
  const sha256 = "a".repeat(64);
  await phone.pickUp(casing(), undefined, [{ sha256, blob: new Blob(["x"]) }]);
  r.server.gate = (ask) => (ask.method === "PUT" ? 500 : null);
  expect(await phone.sync()).toBe("broken");
  expect((await phone.told()).photos).toEqual([sha256]);
  expect((await phone.told()).entries).toEqual([]);
  r.server.gate = () => null;
  r.net.fates = ["lost"];
  await phone.sync();
  expect((await phone.told()).photos).toEqual([sha256]);
  await phone.sync();
  expect((await phone.told()).photos).toEqual([]);
  phone.close();
});
