/** How much goes at once, and what one bad operation may do to the others: nothing. */
import { describe, expect, it, vi } from "vitest";
import { casing, type Rig, rig } from "../sim/rig";

const pushes = (r: Rig) => r.net.asked.filter((ask) => ask.path === "/api/sync/push");
const operationsIn = (ask: { body: string | Blob }) =>
  JSON.parse(ask.body as string).operations as { id: string }[];

describe("batches", () => {
  it("hold at most 500 operations and 1 MiB, in the order of entry", async () => {
    const r = rig();
    const phone = await r.phone();
    const ids = [];
    for (let i = 0; i < 620; i++)
      ids.push(await phone.pickUp({ ...casing(), note: "n".repeat(i < 40 ? 60_000 : 9) }));
    await phone.sync();
    const sizes = pushes(r).map((ask) => operationsIn(ask).length);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(500);
    for (const ask of pushes(r))
      expect(ask.body.toString().length).toBeLessThanOrEqual(1024 * 1024);
    expect(
      pushes(r)
        .flatMap(operationsIn)
        .map((o) => o.id),
    ).toEqual(ids);
    phone.close();
  });

  it("go out one behind the other, the answers of one written while the next is away", async () => {
    const r = rig();
    const phone = await r.phone();
    for (let i = 0; i < 1200; i++) await phone.pickUp(casing());
    const before: number[] = [];
    r.server.gate = (ask) => {
      if (ask.path.endsWith("push")) before.push(r.server.operations.size);
      return null;
    };
    r.net.fates = ["pass", "pass", "lost"];
    expect(await phone.sync()).toBe("server_away");
    // Nothing of this run is still on its way: what was answered is written down, the rest waits.
    const { entries, sent } = await phone.told();
    expect(sent.map((one) => one.sequence)).toEqual(Array.from({ length: 1000 }, (_, i) => i + 1));
    expect(entries).toHaveLength(200);
    expect(await phone.sync()).toBe("reached");
    expect(before).toEqual([0, 500, 1000, 1200]);
    expect(await phone.told()).toMatchObject({ entries: [], refusals: [] });
    phone.close();
  });

  it("stop where the disk takes no answer: the entries stay, and are asked for again", async () => {
    const r = rig();
    const phone = await r.phone();
    for (let i = 0; i < 4; i++) await phone.pickUp(casing());
    r.server.gate = (ask) =>
      ask.path.endsWith("push") && operationsIn(ask).length > 1 ? 413 : null;
    const put = vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (
      this: IDBObjectStore,
    ) {
      this.transaction.abort();
      throw new DOMException("full", "QuotaExceededError");
    });
    expect(await phone.sync()).toBe("server_away");
    put.mockRestore();
    expect((await phone.told()).entries).toHaveLength(4);
    expect(await phone.sync()).toBe("reached");
    expect((await phone.told()).sent).toHaveLength(4);
    phone.close();
  });

  it("are halved on 413 until they pass", async () => {
    const r = rig();
    const phone = await r.phone();
    for (let i = 0; i < 8; i++) await phone.pickUp(casing());
    r.server.gate = (ask) =>
      ask.path.endsWith("push") && operationsIn(ask).length > 2 ? 413 : null;
    expect(await phone.sync()).toBe("reached");
    expect(pushes(r).map((ask) => operationsIn(ask).length)).toEqual([8, 4, 2, 2, 2, 2]);
    phone.close();
  });

  it.each([413, 400])(
    "one operation that alone gets %i is marked, those behind it pass",
    async (status) => {
      const r = rig();
      const phone = await r.phone();
      await phone.pickUp(casing());
      const bad = await phone.pickUp(casing());
      const good = await phone.pickUp(casing());
      r.server.gate = (ask) =>
        ask.path.endsWith("push") && operationsIn(ask).some((o) => o.id === bad) ? status : null;
      expect(await phone.sync()).toBe("reached");
      expect((await phone.told()).entries.map((entry) => entry.id)).toEqual([bad]);
      expect((await phone.told()).refusals.map((refusal) => refusal.id)).toEqual([bad]);
      expect(r.server.operations.has(good)).toBe(true);
      phone.close();
    },
  );

  it("one operation over which the server falls does not stop the others, and is tried again", async () => {
    const r = rig();
    const phone = await r.phone();
    const bad = await phone.pickUp(casing());
    for (let i = 0; i < 5; i++) await phone.pickUp(casing());
    r.server.gate = (ask) =>
      ask.path.endsWith("push") && operationsIn(ask).some((o) => o.id === bad) ? 500 : null;
    expect(await phone.sync()).toBe("broken");
    expect(r.server.operations.size).toBe(5);
    expect((await phone.told()).refusals).toEqual([]);
    r.server.gate = () => null;
    expect(await phone.sync()).toBe("reached");
    expect(r.server.operations.has(bad)).toBe(true);
    phone.close();
  });
});
