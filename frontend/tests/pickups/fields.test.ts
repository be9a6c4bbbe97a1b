/** What is typed on a casing's sheet, in words and as what is told. */
import { expect, it } from "vitest";
import { type Casing, casingFromRow, type Pickup } from "../../src/domain/rows";
import {
  askedAbout,
  BLANK,
  labelFault,
  payloadOf,
  roomLeft,
  twin,
} from "../../src/pickups/yard/fields";
import { seenOf, seenPayload } from "../../src/pickups/seen/seen";
import { NO_OFFER } from "../../src/pickups/wanted/offer";
import { BLANK_WANTED, wantedOf, wantedPayload } from "../../src/pickups/wanted/wanted";
import { en } from "../../src/pickups/words.en";
import { golden } from "../golden/read";

it.each([
  ["", en.label_empty],
  ["K72K", en.label_length(4)],
  ["K72K54*2", en.label_symbol("*")],
  ["72KK54X2", en.label_first],
  ["K72K54X3", en.label_check],
  ["k72k 54x2", null],
  ["https://yard.example/L/K72K54X2?a=b", null],
])("label %j: %s", (typed, said) => {
  expect(labelFault(typed, en)).toBe(said);
});

it("a sheet is told tidied, with old and new photos once each", () => {
  const fields = {
    ...BLANK,
    label: "k72k\u200954x2",
    tins: [
      { tin: " DOT 1 ", made: "new" as const },
      { tin: " ", made: "" as const },
    ],
    treads: [[4, 0, null], [null]],
    photos: ["a"],
  };
  const at = { pickup: "p", yard: "y", store: null };
  const wanted = wantedPayload({ ...BLANK_WANTED, unit: " T-1 " }, NO_OFFER);
  expect(payloadOf(at, fields, null, wanted, ["a", "b"], null)).toEqual({
    pickup: "p",
    yard: "y",
    store: null,
    label: "K72K54X2",
    ...seenPayload(BLANK, null),
    tins: [{ tin: "DOT 1", made: "new" }],
    treads_32nds: [[4, 0, null]],
    work: "retread",
    basis: "own",
    tread_design: "",
    fleet_brand: "",
    purchase_order: "",
    unit: "T-1",
    back_to: "yard",
    dual_with: null,
    promised: null,
    note: "",
    photos: ["a", "b"],
    corrects: null,
  });
});

it("a whole sheet is told as the golden message says", () => {
  const { payload } = golden("custody.pick_up.v4");
  const { pickup, yard, store, label, photos, promised, check } = payload;
  const casing = { ...casingFromRow("c", payload), photos: [] };
  const told = wantedPayload(wantedOf(casing), {
    ...NO_OFFER,
    on: promised.offered,
    table: promised.table,
    basis: "forecast",
    confidence: promised.confidence,
    forecast_at: promised.forecast_at,
    ahead: promised.ahead,
  });
  const fields = { ...BLANK, label, ...seenOf(casing) };
  expect(payloadOf({ pickup, yard, store }, fields, check, told, photos, null)).toEqual(payload);
});

it("the same label is found on any pickup, but not on the casing corrected or one returned", () => {
  const casing = (id: string, label: string, progress = "picked_up") =>
    ({ id, label, progress, void_labels: [`${label}0`] }) as unknown as Casing;
  const pickups = [
    { id: "p", casings: [casing("1", "A"), casing("2", "B", "returned")] } as Pickup,
    { id: "q", casings: [casing("3", "C")] } as Pickup,
  ];
  expect(twin(pickups, "C", null)?.casing.id).toBe("3");
  expect(twin(pickups, "C0", null)?.casing.id).toBe("3");
  expect(twin(pickups, "A", "1")).toBeNull();
  expect(twin(pickups, "B", null)).toBeNull();
});

it("a correction asks about another casing only where it takes that casing's label", () => {
  const casing = (id: string, label: string) =>
    ({ id, label, progress: "picked_up", void_labels: [] as string[] }) as unknown as Casing;
  const doubled = casing("1", "A");
  const pickups = [
    { id: "p", casings: [doubled, casing("2", "A"), casing("3", "B")] } as unknown as Pickup,
  ];
  expect(askedAbout(pickups, "A", doubled)).toBeNull();
  expect(askedAbout(pickups, "B", doubled)?.casing.id).toBe("3");
  expect(askedAbout(pickups, "C", doubled)).toBeNull();
  expect(askedAbout(pickups, "A", null)?.casing.id).toBe("1");
});

it.each([
  [0, null],
  [439, null],
  [440, en.room_left(60)],
  [499, "1 more symbol fits."],
  [500, en.room_none(500)],
])("a note of %i symbols says: %s", (length, said) => {
  expect(roomLeft("x".repeat(length), en)).toBe(said);
});

it("one to sell or to claim for keeps its unit, order and way back; no day is promised for it", () => {
  const filled = { ...BLANK_WANTED, unit: "T-1", purchase_order: "P-9", back_to: "store" as const };
  const wanted = wantedPayload({ ...filled, promised_on: "2026-05-01" }, NO_OFFER);
  const at = { pickup: "p", yard: "y", store: null };
  for (const line of ["sell", "adjustment", "wheel"] as const) {
    const told = payloadOf(at, { ...BLANK, label: "K72K54X2", line }, null, wanted, [], null);
    expect(told).toMatchObject({ line, unit: "T-1", purchase_order: "P-9", back_to: "store" });
    expect(told.promised).toBeNull();
  }
  const told = payloadOf(at, { ...BLANK, label: "K72K54X2" }, null, wanted, [], null);
  expect(told.promised?.on).toBe("2026-05-01");
});
