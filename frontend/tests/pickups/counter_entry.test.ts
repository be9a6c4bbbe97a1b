/** A casing as a counter tells it: like a pickup, with the store that took it in. */
import { expect, it } from "vitest";
import type { Line } from "../../src/domain/operation";
import {
  BLANK_ENTRY,
  type EntryFields,
  entered,
  firstWanted,
  isPromised,
  seenFor,
  wantedFor,
} from "../../src/pickups/counter/entry";
import { BLANK_SEEN, LINES, seenPayload } from "../../src/pickups/seen/seen";
import { NO_OFFER } from "../../src/pickups/wanted/offer";
import { wantedPayload } from "../../src/pickups/wanted/wanted";
import { aCasing, STORE } from "./counter_things";

const AT = { pickup: "p", yard: "y", store: STORE };
const TODAY = "2026-05-04";

function told(fields: EntryFields, more: { unit?: string; line?: Line } = {}) {
  const { unit = "", line } = more;
  const seen = seenFor(fields, undefined, TODAY);
  return entered(AT, {
    label: fields.label,
    seen: line === undefined ? seen : { ...seen, line },
    checked: null,
    wanted: wantedPayload({ ...firstWanted, unit }, { ...NO_OFFER, on: "2026-06-02", table: 3 }),
    note: fields.note,
    photos: ["a"],
  });
}

it("a whole casing, tidied", () => {
  const fields = {
    ...BLANK_ENTRY,
    label: "k700 0y02",
    tin: " 4b08 291o, r 7rt 1219 ",
    treads: "676/6-6",
    seen: { size: " 11R22.5 ", odometer: "412,300", position: "drive" as const },
    note: " dented ",
  };
  expect(told(fields, { unit: " 4417 " })).toEqual({
    ...AT,
    label: "K7000Y02",
    ...seenPayload(BLANK_SEEN, null),
    tins: [
      { tin: "4B08 2910", made: "new" },
      { tin: "7RT 1219", made: "retread" },
    ],
    size: "11R22.5",
    odometer: 412300,
    position: "drive",
    treads_32nds: [
      [6, 7, 6],
      [6, null, 6],
    ],
    work: "retread",
    basis: "own",
    tread_design: "",
    fleet_brand: "",
    purchase_order: "",
    unit: "4417",
    back_to: "store",
    dual_with: null,
    promised: {
      on: "2026-06-02",
      basis: "standard_time",
      offered: "2026-06-02",
      table: 3,
      confidence: null,
      forecast_at: null,
      ahead: [],
    },
    note: "dented",
    photos: ["a"],
    corrects: null,
  });
});

it("a day is promised where work is done, and for nothing else", () => {
  const due = LINES.filter((line) => told(BLANK_ENTRY, { line }).promised !== null);
  expect(due).toEqual(LINES.filter(isPromised));
  expect(due).toEqual(["retread", "repair", "wheel_tire"]);
});

it("the first casing is fetched at the store; the next is wanted as the one before", () => {
  expect(wantedFor(BLANK_ENTRY, undefined, TODAY).back_to).toBe("store");
  const before = aCasing({ work: "repair", basis: "pool", unit: "7", back_to: "yard" });
  const wanted = wantedFor(BLANK_ENTRY, before, TODAY);
  expect([wanted.work, wanted.basis, wanted.unit, wanted.back_to]).toEqual([
    "repair",
    "pool",
    "7",
    "yard",
  ]);
  const own = { ...firstWanted, purchase_order: "PO 1" };
  expect(wantedFor({ ...BLANK_ENTRY, wanted: own }, before, TODAY)).toBe(own);
});

it("kind, size, brand, position and odometer are those of the one before until others are said", () => {
  const before = aCasing({
    line: "sell",
    size: "11R22.5",
    brand: "Kordan",
    position: "drive",
    rating: "LR G",
    tins: [{ tin: "2910", made: "" }],
    treads_32nds: [[6, 7]],
    odometer: 5,
    pulled_for: "worn",
    wheel: "LFO",
    findings: [{ zone: "crown", kind: "cut", side: "", mm: null, count: 1, photos: [] }],
    sale: { grade: "A", cents: 4000, pays: "price" },
  });
  expect(seenFor(BLANK_ENTRY, before, TODAY)).toEqual({
    ...BLANK_SEEN,
    line: "sell",
    size: "11R22.5",
    brand: "Kordan",
    position: "drive",
    odometer: "5",
  });
  const other = { ...BLANK_ENTRY, seen: { size: "", line: "retread" as const } };
  expect(seenFor(other, before, TODAY)).toMatchObject({ size: "", line: "retread" });
  expect(seenFor(BLANK_ENTRY, undefined, TODAY)).toEqual(BLANK_SEEN);
});
