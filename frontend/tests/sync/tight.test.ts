/** A device that is nearly full: nothing that a person entered is refused before all else is tried. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { FORGET_AFTER_MS } from "../../src/domain/forgettable";
import { deliver, finishDelivery, handOver, pickUp } from "../../src/domain/operation";
import type { Camera } from "../../src/ports/camera";
import { dropLeftovers } from "../../src/store/leftovers";
import { leaveOut, leftOutPhotos } from "../../src/store/leftOut";
import { draftPhotos, dropDraft, keepDraft, keepDraftPhoto } from "../../src/store/local";
import { dropAnswered, enterTight } from "../../src/sync/tight";
import type { Phone } from "../sim/Phone";
import { casing, PICKUP, rig, YARD } from "../sim/rig";

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

/** All that was told; a casing of a visit that stays open comes after it in the feed. */
async function answeredAndSeen(phone: Phone): Promise<void> {
  await phone.pickUp({ ...casing("K72K6P0D"), pickup: phone.deps.ids.next() });
  await phone.sync();
  await phone.sync();
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

  it("leaves photos that fit in no size with their sheet, and sends them when there is room", async () => {
    const r = rig();
    const phone = await r.phone();
    const { local } = phone.deps.store;
    const told = entered(phone, "K72K54X2", [sha("a")]);
    await keepDraftPhoto(local, { ...told.photos[0]!, draft: "casing:1" });
    disk((store) => store === "photos");
    expect(await enterTight(phone.deps, camera, told)).toBe("later");
    expect((await only(phone)).payload.photos).toEqual([sha("a")]);
    await dropDraft(local, "casing:1");
    await dropLeftovers(phone.deps.store);
    expect(await draftPhotos(local, "casing:1"), "not the next sheet's").toEqual([]);
    await phone.sync();
    expect((await leftOutPhotos(local)).map(({ sha256 }) => sha256)).toEqual([sha("a")]);
    vi.restoreAllMocks();
    await phone.sync();
    expect(r.server.photos.has(sha("a"))).toBe(true);
    expect([await leftOutPhotos(local), await local.getAll("draft_photos")]).toEqual([[], []]);
  });

  it("gives a sheet its photos back where a kill came before its entry", async () => {
    const phone = await rig().phone();
    const { local } = phone.deps.store;
    const told = entered(phone, "K72K54X2", [sha("a")]);
    await keepDraftPhoto(local, { ...told.photos[0]!, draft: "casing:1" });
    await leaveOut(local, told.id, [sha("a")]);
    await dropLeftovers(phone.deps.store);
    expect(await draftPhotos(local, "casing:1")).toHaveLength(1);
    expect(await leftOutPhotos(local)).toEqual([]);
  });

  it("walks the sizes from the largest that may fit, and a picture it cannot read fails nothing", async () => {
    const phone = await rig().phone();
    const tried: number[] = [];
    const walking: Camera = {
      develop: async (_, from = 0) => {
        tried.push(from);
        return { blob: new Blob(["x".repeat(80 - 10 * from)]), rung: from };
      },
      hash: async () => SMALL,
    };
    disk((store, { blob }) => store === "photos" && (blob?.size ?? 0) > 45);
    const told = entered(phone, "K72K54X2", [sha("a")]);
    told.photos[0]!.blob = new Blob(["x".repeat(80)]);
    expect(await enterTight(phone.deps, walking, told)).toBe("smaller");
    expect(tried).toEqual([1, 2, 3, 4]);
    const blind = { ...walking, develop: () => Promise.reject(new Error("no picture")) };
    const other = entered(phone, "K72K6P0D", [sha("b")]);
    other.photos[0]!.blob = new Blob(["x".repeat(80)]);
    expect(await enterTight(phone.deps, blind, other)).toBe("without_photos");
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
    await phone.finish({ pickup: PICKUP, yard: YARD, casings: [] });
    await phone.pickUp(casing("K72K54X2"));
    await phone.sync();
    await phone.sync();
    r.clock.jump(FORGET_AFTER_MS);
    await phone.pickUp(casing("K72K6P0D"));
    const before = await phone.view();
    expect(await dropAnswered(phone.deps)).toBe(2);
    const { entries, sent } = await phone.told();
    expect([entries.length, sent.length]).toEqual([1, 0]);
    expect([...(await phone.view()).casings.keys()]).toEqual([...before.casings.keys()]);
  });

  it("keeps the lines of a delivery that is still open, and of today", async () => {
    const r = rig();
    const phone = await r.phone();
    const at = { delivery: PICKUP, yard: YARD };
    await phone.tell(deliver({ ...at, label: "K72K54X2" }));
    await answeredAndSeen(phone);
    r.clock.jump(FORGET_AFTER_MS * 2);
    expect(await dropAnswered(phone.deps)).toBe(0);
    expect((await phone.view()).deliveries[0]?.lines).toHaveLength(1);
    await phone.tell(finishDelivery({ ...at, casings: [], signer: "R. Amsel" }));
    await answeredAndSeen(phone);
    expect(await dropAnswered(phone.deps), "its end is of today").toBe(1);
  });

  it("keeps what was scanned as long as a load or an unloading is half told", async () => {
    const r = rig();
    const phone = await r.phone();
    const move = { way: "in", giver: `person:${phone.by}`, taker: `site:${YARD}` } as const;
    await phone.tell(handOver({ label: "K72K54X2", ...move }));
    await answeredAndSeen(phone);
    r.clock.jump(FORGET_AFTER_MS);
    const half = { key: `unload:${phone.by}`, id: "i", fields: {}, changed_at: 1 };
    await keepDraft(phone.deps.store.local, half);
    expect(await dropAnswered(phone.deps)).toBe(0);
    expect((await phone.view()).moves).toHaveLength(1);
    await dropDraft(phone.deps.store.local, half.key);
    expect(await dropAnswered(phone.deps)).toBe(1);
  });

  it("keeps the key of a receipt", async () => {
    const r = rig();
    const phone = await r.phone();
    const receipt_key = "0".repeat(26);
    await phone.finish({ pickup: PICKUP, yard: YARD, casings: [], receipt_key });
    await answeredAndSeen(phone);
    r.clock.jump(FORGET_AFTER_MS);
    expect(await dropAnswered(phone.deps)).toBe(0);
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
