/** What is wanted and promised: carried on, corrected, told, and said in one line. */
import { expect, it } from "vitest";
import { type Casing, casingFromRow, type PromiseTable } from "../../../src/domain/rows";
import {
  BLANK_WANTED,
  carriedOn,
  dayFault,
  offerFor,
  offerOfThen,
  promisedOf,
  wantedOf,
  wantedPayload,
  wantedSaid,
} from "../../../src/pickups/wanted/wanted";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";

const TODAY = "2026-04-21";
const OFFER = { on: "2026-04-28", table: 7 };
const casing = (body: Partial<Casing>): Casing => ({ ...casingFromRow("c", {}), ...body });
const promised = (on: string, basis: "standard_time" | "by_hand", offered: string | null) => ({
  on,
  basis,
  offered,
  table: 6,
});

it("as offered is standard time; another day is by hand, beside what was offered", () => {
  expect(promisedOf(BLANK_WANTED, OFFER)).toEqual({
    on: "2026-04-28",
    basis: "standard_time",
    offered: "2026-04-28",
    table: 7,
  });
  expect(promisedOf({ ...BLANK_WANTED, promised_on: "2026-04-24" }, OFFER)).toEqual({
    on: "2026-04-24",
    basis: "by_hand",
    offered: "2026-04-28",
    table: 7,
  });
  // The same day, named by hand, is what was offered.
  expect(promisedOf({ ...BLANK_WANTED, promised_on: "2026-04-28" }, OFFER)?.basis).toBe(
    "standard_time",
  );
});

it("without an offer a day by hand stands alone, and with neither nothing is promised", () => {
  const none = { on: null, table: null };
  expect(promisedOf({ ...BLANK_WANTED, promised_on: "2026-04-24" }, none)).toEqual({
    on: "2026-04-24",
    basis: "by_hand",
    offered: null,
    table: null,
  });
  expect(promisedOf(BLANK_WANTED, none)).toBeNull();
});

it("what stands in a field that is not asked for is not told", () => {
  const fields = { ...BLANK_WANTED, tread_design: " open shoulder ", unit: " T-118 " };
  expect(wantedPayload(fields, null, null)).toMatchObject({
    tread_design: "open shoulder",
    unit: "T-118",
  });
  expect(wantedPayload({ ...fields, work: "repair" }, null, null).tread_design).toBe("");
});

it("the next casing is wanted for what the one before was, but for a day that has gone by", () => {
  const before = casing({
    work: "repair",
    basis: "pool",
    purchase_order: "PO 4471",
    unit: "T-118",
    back_to: "store",
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
  const offer = offerOfThen(corrected, fields, { on: "2026-05-05", table: 9 });
  expect(wantedPayload(fields, offer.on, offer.table).promised).toEqual(was);
});

it("a correction of the work is promised anew", () => {
  const was = promised("2026-04-28", "standard_time", "2026-04-28");
  const corrected = casing({ work: "retread", back_to: "yard", promised: was });
  const now = { on: "2026-04-24", table: 9 };
  const repair = { ...wantedOf(corrected), work: "repair" as const };
  expect(offerOfThen(corrected, repair, now)).toEqual(now);
  const fetched = { ...wantedOf(corrected), back_to: "store" as const };
  expect(offerOfThen(corrected, fetched, now)).toEqual(now);
  expect(offerOfThen(casing({ promised: null }), BLANK_WANTED, now)).toEqual(now);
});

it("what is fetched at the store is promised by the store's own row", () => {
  const table: PromiseTable = {
    computed_on: TODAY,
    valid_until: "2026-05-04",
    version: 7,
    places: { y: { retread: ["2026-04-28"] }, store: { retread: ["2026-04-27"] } },
  };
  expect(offerFor(table, BLANK_WANTED, "y", TODAY)).toEqual(OFFER);
  const fetched = { ...BLANK_WANTED, back_to: "store" as const };
  expect(offerFor(table, fetched, "y", TODAY).on).toBe("2026-04-27");
  expect(offerFor(null, BLANK_WANTED, "y", TODAY)).toEqual({ on: null, table: null });
  expect(offerFor({ ...table, version: 0 }, BLANK_WANTED, "y", TODAY).table).toBeNull();
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
    promised_on: "",
  };
  expect(wantedSaid(all, en)).toBe(
    "Retread · open shoulder · any of the customer's back · PO\u00a04471 · unit\u00a0T-118 · back to our store",
  );
  expect(wantedSaid({ ...all, work: "repair" }, es)).toBe(
    "Solo reparación · regresa cualquiera del cliente · OC\u00a04471 · unidad\u00a0T-118 · regresa a nuestra tienda",
  );
});
