/** Trailers, piles and casings by label and size: what is told, what is asked for first. */
import { describe, expect, it, vi } from "vitest";
import type { Casing, Pickup } from "../../src/domain/rows";
import type { DraftPhoto } from "../../src/store/local";

// Words ask the browser for its language, and tell the page.
vi.stubGlobal("navigator", { language: "en" });
vi.stubGlobal("document", { documentElement: {} });
const { en: w } = await import("../../src/pickups/words.en");
const trailer = await import("../../src/pickups/yard/bulk/trailer");
const { BLANK_PILE, onSide, pileFault, pilePhotos } = await import(
  "../../src/pickups/yard/bulk/pile"
);
const waiting = await import("../../src/pickups/yard/bulk/waiting");
const { fitsQuick, goesQuick, heardAs, quickFields } = await import(
  "../../src/pickups/yard/bulk/quick"
);
const { BLANK } = await import("../../src/pickups/yard/fields");

const casing = (some: object): Casing =>
  ({
    id: "c",
    pickup: "p",
    line: "retread",
    size: "",
    tins: [],
    treads_32nds: [],
    check: null,
    progress: "picked_up",
    holder: "person:me",
    standing: "recorded",
    picked_up_at: "2026-04-21T10:00:00.000Z",
    ...some,
  }) as unknown as Casing;
const pickup = (some: object): Pickup =>
  ({
    id: "p",
    trailer: { number: "TW-118" },
    finished_at: "2026-04-21T10:00:00.000Z",
    emptied_at: null,
    ...some,
  }) as unknown as Pickup;

describe("a trailer that is taken", () => {
  const filled = { ...trailer.BLANK_TRAILER, number: " TW-118 ", seal: "0047112", left: "TW-109" };

  it("needs its number, another one left, and a count that is one", () => {
    expect(trailer.trailerFault(trailer.BLANK_TRAILER, w)?.at).toBe("trailer-number");
    expect(trailer.trailerFault({ ...filled, left: "tw-1 18" }, w)?.at).toBe("trailer-left");
    expect(trailer.trailerFault({ ...filled, count: "many" }, w)?.at).toBe("customer-count");
    expect(trailer.trailerFault(filled, w)).toBeNull();
    expect(trailer.trailerOf(filled).number).toBe("TW-118");
  });

  it("is signed for with its numbers and count: another of them has it signed again", () => {
    const line = trailer.trailerLine({ ...filled, count: "40" });
    for (const other of [{ seal: "0047113" }, { left: "" }, { count: "41" }, { number: "T" }])
      expect(trailer.trailerLine({ ...filled, count: "40", ...other })).not.toEqual(line);
  });
});

describe("a trailer that is emptied", () => {
  const read = { ...trailer.BLANK_EMPTYING, seal: "0047112", state: "whole" as const, count: "40" };

  it("is opened once the seal was read and what comes out was counted", () => {
    expect(trailer.emptyingFault({ ...read, state: "" }, w)?.at).toBe("seal-state");
    expect(trailer.emptyingFault({ ...read, seal: " " }, w)?.at).toBe("seal");
    expect(trailer.emptyingFault({ ...read, seal: "", state: "missing" }, w)).toBeNull();
    expect(trailer.emptyingFault({ ...read, count: "" }, w)?.at).toBe("own-count");
    expect(trailer.emptyingFault({ ...read, count: "4o" }, w)?.at).toBe("own-count");
    expect(trailer.emptyingFault({ ...read, count: "0" }, w)).toBeNull();
  });

  it("has its seal read once more where it reads otherwise", () => {
    expect(trailer.sealOdd("00 47112", read, w)).toBeNull();
    expect(trailer.sealOdd("0047113", read, w)).toContain("0047113");
    expect(trailer.sealOdd("", read, w)).toBe(w.empty_seal_told_none);
    expect(trailer.sealOdd("0047113", { ...read, state: "missing" }, w)).toBeNull();
  });

  it("waits among the others, the longest first, until its list is told", () => {
    const later = pickup({ id: "q", finished_at: "2026-04-22T10:00:00.000Z" });
    const over = pickup({ id: "r", emptied_at: "2026-04-22T12:00:00.000Z" });
    const plain = pickup({ id: "s", trailer: null });
    const open = pickup({ id: "t", finished_at: null });
    const found = waiting.toEmpty([later, over, plain, open, pickup({})]);
    expect(found.map(({ id }) => id)).toEqual(["p", "q"]);
    expect(waiting.daysSince("2026-04-21T10:00:00.000Z", Date.parse("2026-04-23T09:00Z"))).toBe(1);
  });
});

describe("by label and size", () => {
  it("a casing is to be looked at until somebody has, where whoever looks is", () => {
    const check = { verdict: "take" };
    const known = [
      casing({ id: "mine" }),
      casing({ id: "rack", holder: "site:s" }),
      casing({ id: "theirs", holder: "person:other" }),
      casing({ id: "plant", holder: "plant:x", progress: "received" }),
      casing({ id: "looked", check }),
      casing({ id: "read", tins: [{ tin: "1M3", made: "" }] }),
      casing({ id: "gauged", treads_32nds: [[null, 6]] }),
      casing({ id: "wheel", line: "wheel" }),
      casing({ id: "refused", standing: "needs_you" }),
    ];
    const found = waiting.toLookAt(known, "me", "s").map(({ id }) => id);
    expect(found).toEqual(["mine", "rack"]);
  });

  it("takes the size over, and nothing else of the one before", () => {
    const before = [casing({ size: "295/75R22.5", position: "drive", line: "repair" })];
    const told = quickFields({ ...BLANK, label: "K7000Y02" }, before);
    expect([told.size, told.line, told.position]).toEqual(["295/75R22.5", "repair", ""]);
    expect(quickFields({ ...BLANK, size: "11r22.5" }, before).size).toBe("11R22.5");
    expect(quickFields(BLANK, [casing({ line: "sell" })]).line).toBe("retread");
  });

  it("is offered as long as nothing else is on the sheet, and goes on as it began", () => {
    expect(fitsQuick({ ...BLANK, label: "K7", size: "11R22.5" }, 0)).toBe(true);
    expect(fitsQuick({ ...BLANK, note: "cut" }, 0)).toBe(false);
    expect(fitsQuick(BLANK, 1)).toBe(false);
    expect(goesQuick([])).toBe(false);
    expect(goesQuick([casing({})])).toBe(true);
    expect(goesQuick([casing({}), casing({ check: { verdict: "take" } })])).toBe(false);
  });
});

it("nobody there: a photo before and one after, told in that order", () => {
  const photo = (sha256: string) => ({ sha256 }) as DraftPhoto;
  const photos = [photo("late"), photo("early"), photo("drawing")];
  const sheet = (before: string[], after: string[]) => ({ fields: { before, after }, photos });
  expect(pileFault({ fields: BLANK_PILE, photos }, w)?.at).toBe("pile-before");
  expect(pileFault(sheet(["early"], []), w)?.at).toBe("pile-after");
  expect(pileFault(sheet(["early"], ["lost"]), w)?.at).toBe("pile-after");
  const whole = sheet(["early"], ["late"]);
  expect(pileFault(whole, w)).toBeNull();
  expect(pilePhotos(whole).map(({ sha256 }) => sha256)).toEqual(["early", "late"]);
});

describe("a label that came whole, at a pile", () => {
  const at = { stands: "", size: "11R22.5", odd: null };

  it("is saved at once, unless there is something to look at first", () => {
    expect(heardAs("K72K54X2", at)).toBe("save");
    expect(heardAs("K72K54X2", { ...at, stands: "K72K54X2" })).toBe("save");
    expect(heardAs("K72K54X2", { ...at, odd: "not of our ranges" })).toBe("look");
    expect(heardAs("K72K54X2", { ...at, size: "" })).toBe("look");
  });

  it("never takes the place of one that is asked about", () => {
    expect(heardAs("K72K54X2", { ...at, stands: "K72K6P0D" })).toBe("another");
    expect(heardAs("K72K54X2", { ...at, stands: "K72K", odd: null })).toBe("save");
  });
});

it("the photos of a pile are told in their order, whoever signs in the end", () => {
  const photo = (sha256: string) => ({ sha256, draft: "d", blob: new Blob() }) as DraftPhoto;
  const fields = { before: ["b"], after: ["a"] };
  const sheet = { fields, photos: ["drawing", "a", "b"].map(photo) };
  expect(pilePhotos(sheet).map(({ sha256 }) => sha256)).toEqual(["b", "a"]);
});

it("a photo of a pile stands for one side, whose name is kept before the photo is", () => {
  const cutOff = onSide(onSide(BLANK_PILE, "before", "a"), "after", "b");
  expect(pileFault({ fields: cutOff, photos: [] }, w)?.at, "no photo, no side").toBe("pile-before");
  expect(onSide(cutOff, "after", "a")).toEqual({ before: [], after: ["b", "a"] });
  expect(onSide(cutOff, "before", "a")).toEqual(cutOff);
});
