/** What the phone offers: by forecast while it is in force, else by standard time; and together. */
import { expect, it } from "vitest";
import { casingFromRow, type Casing, type PromiseTable } from "../../../src/domain/rows";
import { BLANK_WANTED, wantedPayload } from "../../../src/pickups/wanted/wanted";
import {
  type About,
  aboutYard,
  inStock,
  offerFor,
  offerOfThen,
  promisedOf,
  sizeClass,
  together,
} from "../../../src/pickups/wanted/offer";
import { en } from "../../../src/pickups/words.en";
import { es } from "../../../src/pickups/words.es";

const TODAY = "2026-04-20"; // a Monday
const MADE = "2026-04-20T12:00:00.000Z";
const ENDS = "2026-04-21T12:00:00.000Z";
const AHEAD = [{ name: "Shearography", name_es: "Shearografía", count: 14 }];
const table: PromiseTable = {
  computed_on: TODAY,
  valid_until: "2026-05-03",
  version: 7,
  places: { y: { retread: ["2026-04-28"] }, store: { retread: ["2026-04-27"] } },
  forecast: {
    made_at: MADE,
    valid_until: ENDS,
    percents: [50, 90, 99],
    days: {
      retread: {
        "": { "1": [[7], [8], [9]], "2": [[8], [9], [10]], "20": [[12], [13], [14]] },
        wide: { "1": [[17], [18], [19]] },
      },
    },
    runs: { y: [1, 3] },
    ahead: AHEAD,
  },
  stock: [{ size: "11R22.5", tread_design: "Open Shoulder", count: 3 }],
};
const about: About = {
  work: "retread",
  back_to: "yard",
  yard: "y",
  size: "11R22.5",
  count: 1,
  percent: 90,
  handedOver: TODAY,
  now: MADE,
};

it("the forecast's day stands with how sure it is, when it was made and what waits", () => {
  expect(offerFor(table, about)).toEqual({
    on: "2026-04-30", // at the store on Tuesday 28th, the run of Thursday
    basis: "forecast",
    table: 7,
    confidence: 90,
    forecast_at: MADE,
    ahead: AHEAD,
    half: "2026-04-28",
    nearly: "2026-04-30",
    ended: null,
  });
  expect(offerFor(table, { ...about, back_to: "store" }).on).toBe("2026-04-28");
  expect(offerFor(table, { ...about, size: "445/50R22.5" }).on).toBe("2026-05-12");
  expect(offerFor(table, { ...about, count: 2 }).on).toBe("2026-04-30");
});

it("past its end the day is that of standard time, and it is said when it ended", () => {
  const offer = offerFor(table, { ...about, now: ENDS });
  expect(offer).toMatchObject({ on: "2026-04-28", basis: "standard_time", ended: ENDS });
  expect(offer.confidence).toBeNull();
  expect(promisedOf("", offer)).toMatchObject({ basis: "standard_time", confidence: null });
});

it("what the forecast does not tell is by standard time, without a word of an end", () => {
  const none = { ...table, forecast: null };
  expect(offerFor(none, about)).toMatchObject({ on: "2026-04-28", ended: null, table: 7 });
  expect(offerFor(table, { ...about, handedOver: "2026-04-21" })).toMatchObject({
    on: null,
    ended: null,
  });
  expect(offerFor(null, about)).toMatchObject({ on: null, table: null });
  expect(offerFor({ ...table, version: 0 }, about).table).toBeNull();
});

it("where the forecast says that no day can be promised, standard times promise none", () => {
  const { forecast } = table;
  const days = { retread: { "": { "1": [[false as const]] } } };
  const far = { ...table, forecast: { ...forecast!, days } };
  const offer = offerFor(far, { ...about, percent: 50 });
  expect(offer).toMatchObject({ on: null, ended: null, table: 7 });
  expect(promisedOf("", offer)).toBeNull();
  expect(promisedOf("2026-09-01", offer)).toMatchObject({ basis: "by_hand", offered: null });
});

it("a promise says on what it was made; a day named by hand says what was offered beside it", () => {
  const offer = offerFor(table, about);
  expect(wantedPayload(BLANK_WANTED, offer).promised).toEqual({
    on: "2026-04-30",
    basis: "forecast",
    offered: "2026-04-30",
    table: 7,
    confidence: 90,
    forecast_at: MADE,
    ahead: AHEAD,
  });
  const named = promisedOf("2026-04-25", offer);
  expect(named).toMatchObject({ on: "2026-04-25", basis: "by_hand", offered: "2026-04-30" });
});

it("a correction keeps the forecast of then", () => {
  const was = promisedOf("", offerFor(table, about));
  const later = offerFor(table, { ...about, now: ENDS });
  const told = { ...BLANK_WANTED, size: "11R22.5" };
  const kept = offerOfThen(was, told, told, later);
  expect(promisedOf("", kept)).toEqual(was);
});

it.each([
  ["of the same class", {}, { size: "295/75R22.5" }, false],
  ["of a class that is forecast apart", {}, { size: "445/50R22.5" }, true],
  ["named a dual of another", {}, { dual_with: "K72K54X2" }, true],
  ["no dual of another any more", { dual_with: "K72K54X2" }, {}, true],
  ["as a draft of an app that knew of no duals", {}, { dual_with: undefined }, false],
])("a correction that makes it %s: from %o to %o, offered anew: %s", (_, old, some, anew) => {
  const size = "11R22.5";
  const was = promisedOf("", offerFor(table, about));
  const now = offerFor(table, { ...about, size: "445/50R22.5" });
  const first = { ...BLANK_WANTED, size, ...old };
  const is = { ...BLANK_WANTED, size, ...some } as typeof first;
  const offer = offerOfThen(was, first, is, now);
  expect(promisedOf("", offer)).toEqual(anew ? promisedOf("", now) : was);
  // Standard times know of neither.
  const standard = { ...was!, basis: "standard_time" as const, confidence: null };
  expect(promisedOf("", offerOfThen(standard, first, is, now))).toEqual(standard);
});

it("an account's confidence goes with its yard", () => {
  const yards = [
    { id: "y", name: "Y", customer: "c", customer_name: "C", address: "", promise_percent: 75 },
  ];
  const at = aboutYard({ yards }, "y", TODAY, Date.parse(MADE));
  expect(at).toEqual({ yard: "y", percent: 75, handedOver: TODAY, now: MADE });
  expect(aboutYard({ yards }, "moon", TODAY, 0).percent).toBe(90);
});

const like = (some: Partial<Casing>): Casing => ({
  ...casingFromRow("c", {}),
  work: "retread",
  basis: "own",
  back_to: "yard",
  size: "11R22.5",
  promised: promisedOf("", offerFor(table, about)),
  ...some,
});

it("a list is back together when its last is: later than each alone", () => {
  const at = { yard: "y", percent: 90, handedOver: TODAY, now: MADE };
  expect(together(table, [like({}), like({})], at)).toEqual({
    on: "2026-04-30",
    count: 2,
    percent: 90,
  });
  const fourteen = Array.from({ length: 14 }, () => like({}));
  expect(together(table, fourteen, at)).toEqual({ on: "2026-05-05", count: 14, percent: 90 });
  // What comes back otherwise, or has no day, is not waited for.
  expect(together(table, [like({}), like({ promised: null })], at)).toBeNull();
  expect(together(table, [like({}), like({ basis: "pool" })], at)).toBeNull();
  // A day that a person agreed on stands; the forecast's for all would gainsay it.
  const named = promisedOf("2026-04-25", offerFor(table, about));
  expect(together(table, [like({}), like({ promised: named })], at)).toBeNull();
  expect(together(table, [like({}), like({})], { ...at, now: ENDS })).toBeNull();
  const many = Array.from({ length: 21 }, () => like({}));
  expect(together(table, many, at), "more than any group").toBeNull();
});

it.each([
  [{}, "11R22.5", 3],
  [{ tread_design: " open shoulder " }, "11 R 22.5", 3],
  [{ tread_design: "rib" }, "11R22.5", null],
  [{ basis: "exchange" }, "11R22.5", null],
  [{ work: "repair" }, "11R22.5", null],
  [{}, "295/75R22.5", null],
  [{}, "", null],
])("one of our own in its stead: %o, %s: %s", (some, size, count) => {
  const wanted = { work: "retread", basis: "own", tread_design: "open shoulder", ...some };
  expect(inStock(table, wanted, size)?.count ?? null).toBe(count);
});

it("a size that is not read is of any class", () => {
  expect([
    sizeClass("11R22.5"),
    sizeClass("445/50R22.5"),
    sizeClass("huge"),
    sizeClass(""),
  ]).toEqual(["standard", "wide", "", ""]);
});

it("the truck that brings it is named for its day, not as the yard's next one", () => {
  for (const w of [en, es])
    for (const said of [w.offer_truck("Thu"), w.offer_truck_store("Thu")])
      expect(said).toMatch(/^(by truck|en camión) .* (on|el) Thu$/);
});
