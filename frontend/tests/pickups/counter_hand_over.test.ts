/** What a label amounts to at the counter, and what is told of a hand-over. */
import { expect, it } from "vitest";
import type { Deliver, FinishDelivery } from "../../src/domain/operation";
import { judge, told } from "../../src/pickups/counter/handOver";
import { aCasing, byId, DALE, PLANT, STORE, YARDS } from "./counter_things";

const ready = { progress: "shipped" };
const casings = byId(
  aCasing({ ...ready, id: "ours", label: "K7000Y02" }),
  aCasing({ ...ready, id: "theirs", label: "K7001PRB", customer: "c-hollow", yard: "y-hollow" }),
  aCasing({ id: "plant", label: "K7002MMM", progress: "in_work", holder: `plant:${PLANT}` }),
  aCasing({ id: "home", label: "K7003ABC", progress: "returned" }),
  aCasing({
    id: "far",
    label: "K7004DEF",
    customer: "c-hollow",
    yard: "y-hollow",
    holder: `person:${DALE.id}`,
  }),
);
const at = { casings, yards: YARDS, store: STORE, customer: "c-tarn", lines: [] };

it.each([
  ["K7000Y02", "take", "ours"],
  ["K7001PRB", "foreign", "theirs"],
  ["K7002MMM", "elsewhere", "plant"],
  ["K7003ABC", "back", "home"],
  ["K7004DEF", "foreign", "far"],
])("%s: %s", (label, what, id) => {
  expect(judge(label, at)).toEqual({ what, casing: casings.get(id) });
});

it("a label that nobody wears is unknown, and one on the list is there already", () => {
  expect(judge("K72K54X2", at)).toEqual({ what: "unknown" });
  const lines = [{ casing: "ours", operation: "o1" }];
  expect(judge("K7000Y02", { ...at, lines }).what).toBe("again");
});

it("a casing that came back and was brought again is judged by its new way", () => {
  const again = byId(
    ...casings.values(),
    aCasing({ ...ready, id: "second", label: "K7003ABC", picked_up_at: "2026-06-01" }),
  );
  expect(judge("K7003ABC", { ...at, casings: again })).toEqual({
    what: "take",
    casing: again.get("second"),
  });
});

const SIGNED = { signer: "Ana", unsigned: "", signature: null, shown: "0".repeat(64) };

it("each casing is told with its own id, then the end that names them all", () => {
  const visit = { delivery: "d", end: "e", store: STORE, yard: "y-tarn-south" };
  const lines = [
    { casing: casings.get("ours")!, operation: "o1", foreign: false },
    { casing: casings.get("theirs")!, operation: "o2", foreign: true },
  ];
  const [first, second, end] = told(visit, lines, SIGNED);
  expect(first).toEqual({
    id: "o1",
    telling: {
      kind: "custody.deliver",
      version: 2,
      payload: { delivery: "d", yard: "y-tarn-north", label: "K7000Y02", store: STORE },
    },
  });
  // Who took it is told, so that the office asks: not whose it is.
  expect((second!.telling.payload as Deliver).yard).toBe("y-tarn-south");
  expect(end!.id).toBe("e");
  expect(end!.telling.payload as FinishDelivery).toEqual({
    delivery: "d",
    yard: "y-tarn-south",
    store: STORE,
    casings: ["o1", "o2"],
    ...SIGNED,
  });
});
