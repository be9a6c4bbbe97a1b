/** What is wanted and promised: carried on, corrected, told, and said in one line. */
import { expect, it } from "vitest";
import { type Casing, casingFromRow } from "../../../src/domain/rows";
import {
  BLANK_WANTED,
  carriedOn,
  dayFault,
  mateApart,
  type WantedFields,
  wantedOf,
  wantedPayload,
  wantedSaid,
} from "../../../src/pickups/wanted/wanted";
import { NO_OFFER, type Offer, offerOfThen, promisedOf } from "../../../src/pickups/wanted/offer";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";

const TODAY = "2026-04-21";
const OFFER: Offer = { ...NO_OFFER, on: "2026-04-28", table: 7 };
const GROUNDS = { confidence: null, forecast_at: null, ahead: [] };
const sized = (fields: WantedFields) => ({ ...fields, size: "11R22.5" });
const casing = (body: Partial<Casing>): Casing => ({ ...casingFromRow("c", {}), ...body });
const promised = (on: string, basis: "standard_time" | "by_hand", offered: string | null) => ({
  on,
  basis,
  offered,
  table: 6,
  ...GROUNDS,
});

it("as offered is standard time; another day is by hand, beside what was offered", () => {
  expect(promisedOf("", OFFER)).toEqual({
    on: "2026-04-28",
    basis: "standard_time",
    offered: "2026-04-28",
    table: 7,
    ...GROUNDS,
  });
  expect(promisedOf("2026-04-24", OFFER)).toEqual({
    on: "2026-04-24",
    basis: "by_hand",
    offered: "2026-04-28",
    table: 7,
    ...GROUNDS,
  });
  // The same day, named by hand, is what was offered.
  expect(promisedOf("2026-04-28", OFFER)?.basis).toBe("standard_time");
});

it("without an offer a day by hand stands alone, and with neither nothing is promised", () => {
  expect(promisedOf("2026-04-24", NO_OFFER)).toEqual({
    on: "2026-04-24",
    basis: "by_hand",
    offered: null,
    table: null,
    ...GROUNDS,
  });
  expect(promisedOf("", NO_OFFER)).toBeNull();
});

it("what stands in a field that is not asked for is not told", () => {
  const fields = { ...BLANK_WANTED, tread_design: " open shoulder ", unit: " T-118 " };
  expect(wantedPayload(fields, NO_OFFER)).toMatchObject({
    tread_design: "open shoulder",
    unit: "T-118",
  });
  expect(wantedPayload({ ...fields, work: "repair" }, NO_OFFER).tread_design).toBe("");
});

it("the next casing is wanted for what the one before was, but for a day that has gone by", () => {
  const before = casing({
    work: "repair",
    basis: "pool",
    purchase_order: "PO 4471",
    unit: "T-118",
    back_to: "store",
    dual_with: "K72K54X2",
    promised: promised("2026-04-24", "by_hand", null),
  });
  const wanted = carriedOn(before, TODAY);
  expect(wanted).toEqual({
    work: "repair",
    basis: "pool",
    tread_design: "",
    fleet_brand: "",
    purchase_order: "PO 4471",
    unit: "T-118",
    back_to: "store",
    dual_with: "",
    promised_on: "2026-04-24",
  });
  expect(carriedOn(before, "2026-04-24").promised_on).toBe("2026-04-24");
  expect(carriedOn(before, "2026-04-25").promised_on).toBe("");
  expect(carriedOn(undefined, TODAY)).toEqual(BLANK_WANTED);
});

it("a promise by standard time is carried on as offered, never as a day of its own", () => {
  const before = casing({ promised: promised("2026-04-28", "standard_time", "2026-04-28") });
  expect(wantedOf(before).promised_on).toBe("");
});

it("words that a later version may tell are read as what is usual", () => {
  expect(wantedOf(casing({ work: "polish", basis: "", back_to: "moon" }))).toEqual(BLANK_WANTED);
});

it.each([
  promised("2026-04-28", "standard_time", "2026-04-28"),
  promised("2026-04-24", "by_hand", "2026-04-28"),
  promised("2026-04-24", "by_hand", null),
])("a correction leaves %o as it was, whatever the table says by now", (was) => {
  const corrected = casing({ work: "retread", basis: "own", back_to: "yard", promised: was });
  const fields = { ...wantedOf(corrected), unit: "T-9" };
  const now = { ...NO_OFFER, on: "2026-05-05", table: 9 };
  const offer = offerOfThen(was, sized(wantedOf(corrected)), sized(fields), now);
  expect(wantedPayload(fields, offer).promised).toEqual(was);
});

it("a correction of the work is promised anew", () => {
  const was = promised("2026-04-28", "standard_time", "2026-04-28");
  const corrected = casing({ work: "retread", back_to: "yard", promised: was });
  const now = { ...NO_OFFER, on: "2026-04-24", table: 9 };
  const repair = { ...wantedOf(corrected), work: "repair" as const };
  expect(offerOfThen(was, sized(wantedOf(corrected)), sized(repair), now)).toEqual(now);
  const fetched = { ...wantedOf(corrected), back_to: "store" as const };
  expect(offerOfThen(was, sized(wantedOf(corrected)), sized(fetched), now)).toEqual(now);
  expect(offerOfThen(null, sized(BLANK_WANTED), sized(BLANK_WANTED), now)).toEqual(now);
});

it.each([
  ["", null],
  ["2026-04-21", null],
  ["2027-04-22", null],
  ["2026-04-20", "fault"],
  ["2027-04-23", "fault"],
  ["0002-04-28", "fault"],
  ["20266-04-28", "fault"],
])("a day named %j: %s", (promised_on, fault) => {
  const said = dayFault({ ...BLANK_WANTED, promised_on }, TODAY, en, (day) => day);
  expect(said).toBe(fault === null ? null : en.promised_day_fault("2026-04-21", "2027-04-22"));
});

it("a dual whose mate was promised alone for another day: the pair is back on the later one", () => {
  const mates = [
    casing({ label: "A", promised: promised("2026-04-28", "standard_time", null) }),
    casing({ label: "B" }),
  ];
  const later = { alone: "2026-04-28", together: "2026-05-01" };
  expect(mateApart(mates, "A", "2026-05-01")).toEqual(later);
  expect(mateApart(mates, "A", "2026-04-24")).toEqual({ ...later, together: "2026-04-28" });
  for (const [mate, on] of [
    ["A", "2026-04-28"],
    ["A", null],
    ["B", "2026-05-01"],
    ["", "2026-05-01"],
    ["Z", "2026-05-01"],
  ] as const)
    expect(mateApart(mates, mate, on)).toBeNull();
});

it("one line says it all, but for the way back to the yard", () => {
  expect(wantedSaid(BLANK_WANTED, en)).toBe("Retread · own casing back");
  const all = {
    work: "retread" as const,
    basis: "pool" as const,
    tread_design: "open shoulder",
    fleet_brand: "",
    purchase_order: "4471",
    unit: "T-118",
    back_to: "store" as const,
    dual_with: "",
    promised_on: "",
  };
  expect(wantedSaid(all, en)).toBe(
    "Retread · open shoulder · any of the customer's back · PO\u00a04471 · unit\u00a0T-118 · back to our store",
  );
  expect(wantedSaid({ ...BLANK_WANTED, dual_with: "K72K54X2" }, en)).toMatch(
    / · dual of K72K.54X2$/,
  );
  // A draft of an app that knew of no duals.
  expect(wantedSaid({ ...BLANK_WANTED, dual_with: undefined as unknown as string }, en)).toBe(
    "Retread · own casing back",
  );
  expect(wantedSaid({ ...all, work: "repair" }, es)).toBe(
    "Solo reparación · regresa cualquiera del cliente · OC\u00a04471 · unidad\u00a0T-118 · regresa a nuestra tienda",
  );
});
