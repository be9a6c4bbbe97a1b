/** A device that is nearly full: nothing that a person entered is refused before all else is tried. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { pickUp } from "../../src/domain/operation";
import type { Camera } from "../../src/ports/camera";
import { dropAnswered, enterTight } from "../../src/sync/tight";
import type { Phone } from "../sim/Phone";
import { casing, rig } from "../sim/rig";

const sha = (digit: string) => digit.repeat(64);
const SMALL = sha("5");
const camera: Camera = {
  develop: async () => ({ blob: new Blob(["small"]), rung: 7 }),
  hash: async () => SMALL,
};

/** Every write of a photo, or of anything, fails as on a full disk where `full` says so. */
function disk(full: (store: string, value: { blob?: Blob }) => boolean): void {
  for (const name of ["put", "add"] as const) {
    const real = IDBObjectStore.prototype[name];
    vi.spyOn(IDBObjectStore.prototype, name).mockImplementation(function (
      this: IDBObjectStore,
      value: { blob?: Blob },
      key?: IDBValidKey,
    ) {
      if (full(this.name, value)) throw new DOMException("full", "QuotaExceededError");
      return real.call(this, value, key);
    });
  }
}
afterEach(() => vi.restoreAllMocks());

const entered = (phone: Phone, label: string, photos: string[], more: object = {}) => ({
  id: phone.deps.ids.next(),
  telling: pickUp({ ...casing(label), photos, ...more }),
  by: phone.by,
  photos: photos.map((sha256) => ({ sha256, blob: new Blob(["large, larger, largest"]) })),
});

async function only(phone: Phone): Promise<{ payload: { photos?: string[] } }> {
  const { entries } = await phone.told();
  return JSON.parse(entries.at(-1)!.body) as never;
}

describe("a device that is nearly full", () => {
  it("keeps all as it is where there is room", async () => {
    const phone = await rig().phone();
    expect(await enterTight(phone.deps, camera, entered(phone, "K72K54X2", [sha("a")]))).toBe(
      "whole",
    );
    expect((await only(phone)).payload.photos).toEqual([sha("a")]);
  });

  it("makes photos smaller, under their new names in what is told", async () => {
    const phone = await rig().phone();
    disk((store, { blob }) => store === "photos" && (blob?.size ?? 0) > 10);
    const told = entered(phone, "K72K54X2", [sha("a")], { findings: [{ photos: [sha("a")] }] });
    expect(await enterTight(phone.deps, camera, told)).toBe("smaller");
    const { payload } = await only(phone);
    expect(payload).toMatchObject({ photos: [SMALL], findings: [{ photos: [SMALL] }] });
    expect((await phone.told()).photos).toEqual([SMALL]);
  });

  it("enters the casing without photos that fit in no size", async () => {
    const phone = await rig().phone();
    disk((store) => store === "photos");
    expect(await enterTight(phone.deps, camera, entered(phone, "K72K54X2", [sha("a")]))).toBe(
      "without_photos",
    );
    expect((await only(phone)).payload.photos).toEqual([]);
    expect((await phone.told()).entries).toHaveLength(1);
  });

  it("leaves a signature as it was signed", async () => {
    const phone = await rig().phone();
    disk((store, { blob }) => store === "photos" && (blob?.size ?? 0) > 50);
    const told = entered(phone, "K72K54X2", [sha("a"), sha("e")], { signature: sha("e") });
    told.photos[0]!.blob = new Blob(["x".repeat(60)]);
    expect(await enterTight(phone.deps, camera, told)).toBe("smaller");
    expect((await phone.told()).photos.sort()).toEqual([SMALL, sha("e")].sort());
    expect((await only(phone)).payload).toMatchObject({ signature: sha("e") });
  });

  it("says so where not even a few kilobytes are there, and has entered nothing", async () => {
    const phone = await rig().phone();
    disk(() => true);
    await expect(
      enterTight(phone.deps, camera, entered(phone, "K72K54X2", [sha("a")])),
    ).rejects.toMatchObject({ name: "QuotaExceededError" });
    vi.restoreAllMocks();
    expect(await phone.told()).toMatchObject({ entries: [], photos: [] });
  });

  it("forgets what was answered and seen, and nothing that is not", async () => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing("K72K54X2"));
    await phone.sync();
    await phone.sync();
    await phone.pickUp(casing("K72K6P0D"));
    const before = await phone.view();
    expect(await dropAnswered(phone.deps)).toBe(1);
    const { entries, sent } = await phone.told();
    expect([entries.length, sent.length]).toEqual([1, 0]);
    expect([...(await phone.view()).casings.keys()]).toEqual([...before.casings.keys()]);
  });

  it("keeps what was answered as long as the server does not show it", async () => {
    const r = rig();
    const phone = await r.phone();
    await phone.pickUp(casing("K72K54X2"));
    r.net.fates = ["pass", "drop"]; // the push, then the pull
    await phone.sync();
    expect((await phone.told()).sent).toHaveLength(1);
    expect(await dropAnswered(phone.deps)).toBe(0);
    expect((await phone.told()).sent).toHaveLength(1);
  });
});
