/** What waits for an owner at this counter: since when, what is next, whom to call, what is told. */
import { describe, expect, it } from "vitest";
import { USUAL_DAYS } from "../../src/domain/reminding";
import { en } from "../../src/pickups/counter/words.en";
import { contactsOf, daysHere, lastStep, nextFor } from "../../src/pickups/counter/reminders";
import {
  BLANK_REMIND,
  idsFor,
  remindFault,
  remindsOf,
} from "../../src/pickups/counter/remindSheet";
import { waitingFor } from "../../src/pickups/counter/rack";
import { aCasing, STORE, YARDS } from "./counter_things";

const TODAY = "2026-06-20";
const called = (on: string, until: string | null = null) => ({
  step: "called",
  at: `${on}T17:00:00.000Z`,
  by: "p",
  said: "",
  until,
});
const waits = (said: Record<string, unknown> = {}) =>
  aCasing({
    progress: "shipped",
    back_to: "store",
    here_since: "2026-06-01T17:00:00.000Z",
    ...said,
  });

it("days are counted from when it came to the rack, else from when it was taken in", () => {
  expect(daysHere(waits(), TODAY)).toBe(19);
  expect(daysHere(waits({ here_since: "" }), TODAY)).toBe(47);
  expect(daysHere(waits({ here_since: "2026-06-21T17:00:00.000Z" }), TODAY)).toBe(0);
});

describe("what is next for an owner", () => {
  const next = (...all: Parameters<typeof waits>[0][]) =>
    nextFor(
      all.map((said) => waits(said)),
      TODAY,
      USUAL_DAYS,
    );
  it("is the furthest of what is next for each", () => {
    expect(next({}, { here_since: "2026-06-19T17:00:00.000Z" })?.what).toBe("call");
    expect(next({ reminders: [called("2026-06-02")] }, {})?.what).toBe("write");
  });
  it("of waits is the one that ends first", () => {
    const held = (until: string) => ({ reminders: [called("2026-06-19", until)] });
    expect(next(held("2026-07-30"), held("2026-07-01"))).toEqual({
      what: "wait",
      until: "2026-07-01",
    });
  });
  it("is nothing for what goes home by our own truck", () => {
    expect(next({ back_to: "yard" })).toBeNull();
  });
});

it("the last step is the last of any casing", () => {
  const both = [
    waits({ reminders: [called("2026-06-18")] }),
    waits({ reminders: [called("2026-06-11")] }),
  ];
  expect(lastStep(both)?.at).toBe("2026-06-18T17:00:00.000Z");
  expect(lastStep([waits()])).toBeNull();
});

it("who waits longest on the rack stands first", () => {
  const late = waits({ yard: "y-hollow", customer: "c-hollow", holder: `site:${STORE}` });
  const first = waits({ here_since: "2026-05-30T17:00:00.000Z", holder: `site:${STORE}` });
  expect(waitingFor([late, first], STORE, YARDS).map(({ id }) => id)).toEqual([
    "c-tarn",
    "c-hollow",
  ]);
});

it("a number that two yards share is called once", () => {
  const yard = YARDS[0]!;
  const contact = { contact_name: "Ines Corvo", contact_phone: "+1 (555) 555-0142" };
  const all = [
    { ...yard, ...contact },
    { ...yard, ...contact, contact_phone: "+1 555 555 0142" },
    yard,
  ];
  const phone = "+1 (555) 555-0142";
  expect(contactsOf(all)).toEqual([{ name: "Ines Corvo", phone, tel: "tel:+15555550142" }]);
  const gate = { ...yard, ...contact, contact_phone: "555 0142 ext. 12" };
  expect(contactsOf([gate]).map(({ tel }) => tel)).toEqual(["tel:5550142;ext=12"]);
  expect(contactsOf([{ ...gate, contact_phone: "12" }])).toEqual([]);
});

describe("what is noted", () => {
  const fault = (some: Partial<typeof BLANK_REMIND>) =>
    remindFault({ ...BLANK_REMIND, ...some }, TODAY, en)?.at ?? null;
  it.each([
    [{ step: "called", said: "" }, "remind-said"],
    [{ step: "called", said: " nobody " }, null],
    [{ step: "called", said: "x", until: "2026-06-19" }, "remind-until"],
    [{ step: "written" }, "remind-until"],
    [{ step: "written", until: TODAY }, null],
    [{ step: "hold" }, "remind-until"],
    [{ step: "hold", until: "2026-07-20" }, null],
    [{ step: "hold", until: "2100-01-01" }, "remind-until"],
  ] as [Partial<typeof BLANK_REMIND>, string | null][])("%j: %s", (some, at) => {
    expect(fault(some)).toBe(at);
  });
  it("is told of each casing; a call with whom it was", () => {
    const [one, two] = [
      waits({ id: "a", label: "K7000Y02" }),
      waits({ id: "b", label: "K7001PRB" }),
    ];
    const fields = { ...BLANK_REMIND, whom: "Ines", said: "on Friday", until: "2026-06-26" };
    expect(remindsOf(fields, [one, two])).toEqual(
      ["K7000Y02", "K7001PRB"].map((label, i) => ({
        casing: ["a", "b"][i],
        payload: { label, step: "called", said: "Ines: on Friday", until: "2026-06-26" },
      })),
    );
    expect(remindsOf({ ...fields, step: "hold", until: "" }, [one])[0]?.payload).toEqual({
      label: "K7000Y02",
      step: "hold",
      said: "on Friday",
      until: null,
    });
  });
  it("is told under ids decided once, whatever waits by then; the last has the sheet's own", () => {
    const [one, two, later] = ["a", "b", "c"].map((id) => waits({ id })) as ReturnType<
      typeof waits
    >[];
    let n = 0;
    const made = { sheet: "sheet", next: () => `own ${++n}` };
    const ids = idsFor({}, [one!, two!], made);
    expect(ids).toEqual({ a: "own 1", b: "sheet" });
    expect(idsFor(ids, [two!, later!], made)).toBe(ids);
  });
});
