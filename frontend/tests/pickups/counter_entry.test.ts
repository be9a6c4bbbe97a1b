/** A casing as a counter tells it: like a pickup, with the store that took it in. */
import { expect, it } from "vitest";
import {
  BLANK_ENTRY,
  entered,
  firstWanted,
  sizeFor,
  wantedFor,
} from "../../src/pickups/counter/entry";
import { BLANK_SEEN, seenPayload } from "../../src/pickups/seen/seen";
import { wantedPayload } from "../../src/pickups/wanted/wanted";
import { aCasing, STORE } from "./counter_things";

const AT = { pickup: "p", yard: "y", store: STORE };

it("a whole casing, tidied", () => {
  const fields = { ...BLANK_ENTRY, tin: " 4B08 2910 ", treads: "6 7, 6", note: " dented " };
  const wanted = wantedPayload({ ...firstWanted, unit: " 4417 " }, "2026-06-02", 3);
  const told = { label: "k700 0y02", size: " 11R22.5 ", fields, wanted, photos: ["a"] };
  expect(entered(AT, told)).toEqual({
    ...AT,
    label: "K7000Y02",
    ...seenPayload(BLANK_SEEN, null),
    tins: [{ tin: "4B08 2910", made: "" }],
    size: "11R22.5",
    treads_32nds: [[6, 7, 6]],
    work: "retread",
    basis: "own",
    tread_design: "",
    fleet_brand: "",
    purchase_order: "",
    unit: "4417",
    back_to: "store",
    promised: { on: "2026-06-02", basis: "standard_time", offered: "2026-06-02", table: 3 },
    note: "dented",
    photos: ["a"],
    corrects: null,
  });
});

it("the first casing is fetched at the store; the next is wanted as the one before", () => {
  expect(wantedFor(BLANK_ENTRY, undefined, "2026-05-04").back_to).toBe("store");
  const before = aCasing({ work: "repair", basis: "pool", unit: "7", back_to: "yard" });
  const wanted = wantedFor(BLANK_ENTRY, before, "2026-05-04");
  expect([wanted.work, wanted.basis, wanted.back_to]).toEqual(["repair", "pool", "yard"]);
  const own = { ...firstWanted, purchase_order: "PO 1" };
  expect(wantedFor({ ...BLANK_ENTRY, wanted: own }, before, "2026-05-04")).toBe(own);
});

it("the size is that of the one before until another is typed, an empty one too", () => {
  const before = aCasing({ size: "11R22.5" });
  expect(sizeFor(BLANK_ENTRY, before)).toBe("11R22.5");
  expect(sizeFor(BLANK_ENTRY, undefined)).toBe("");
  expect(sizeFor({ ...BLANK_ENTRY, size: "" }, before)).toBe("");
});
