/** What a label amounts to at the counter, and what is told of a hand-over. */
import { expect, it } from "vitest";
import type { Deliver, FinishDelivery } from "../../src/domain/operation";
import type { Delivery, Standing } from "../../src/domain/rows";
import { deliveryFromRow } from "../../src/domain/visits";
import {
  doubtsAbout,
  judge,
  keptSince,
  leftOver,
  listed,
  told,
} from "../../src/pickups/counter/handOver";
import { isReady } from "../../src/pickups/counter/rack";
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
  ["K7000Y02", { what: "take" }, "ours"],
  ["K7001PRB", { what: "ask", doubts: ["other_customer"] }, "theirs"],
  ["K7002MMM", { what: "ask", doubts: ["elsewhere"] }, "plant"],
  ["K7003ABC", { what: "back" }, "home"],
  ["K7004DEF", { what: "ask", doubts: ["other_customer"] }, "far"],
])("%s: %o", (label, judged, id) => {
  expect(judge(label, at)).toEqual({ ...judged, casing: casings.get(id) });
});

it("what is on hold or in question is asked about before it goes, as on the road", () => {
  const held = aCasing({ ...ready, id: "held", label: "K72K54X2", on_hold: true });
  const asked = aCasing({ ...ready, id: "asked", label: "K7005HJK", contested: true });
  const there = { ...at, casings: byId(held, asked) };
  expect(judge("K72K54X2", there)).toEqual({ what: "ask", doubts: ["on_hold"], casing: held });
  expect(judge("K7005HJK", there)).toEqual({
    what: "ask",
    doubts: ["in_question"],
    casing: asked,
  });
  const both = aCasing({ ...ready, on_hold: true, customer: "c-hollow", yard: "y-hollow" });
  expect(doubtsAbout(both, at)).toEqual(["other_customer", "on_hold"]);
});

it("what was sold to us is asked about before it leaves, and waits for nobody", () => {
  const sold = aCasing({ ...ready, id: "sold", dealers: "sold" });
  expect(doubtsAbout(sold, at)).toEqual(["dealers"]);
  expect(isReady(sold, STORE)).toBe(false);
  expect(isReady(aCasing(ready), STORE)).toBe(true);
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

const SIGNED = {
  nobody_there: false,
  refused: "" as const,
  signer: "Ana",
  signed_in: "" as const,
  unsigned: "",
  signature: null,
  shown: "0".repeat(64),
};

const KEY = "3V9K0TQ7ZD4H2M8XN5R1CJ6PWA";

const chosen = (id: string, operation: string, foreign: boolean, isTold = false) => {
  const casing = casings.get(id)!;
  return { casing, label: casing.label, operation, foreign, told: isTold };
};

it("each casing is told with its own id, then the end that names them all", () => {
  const visit = { delivery: "d", end: "e", store: STORE, yard: "y-tarn-south" };
  const lines = [chosen("ours", "o1", false), chosen("theirs", "o2", true)];
  const [first, second, end] = told(visit, lines, SIGNED, KEY);
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
    receipt_key: KEY,
  });
});

it("what is told already is not told again, and the end names it", () => {
  const visit = { delivery: "d", end: "e", store: STORE, yard: "y-tarn-north" };
  const gone = { ...chosen("ours", "o0", false, true), casing: null };
  const all = told(visit, [gone, chosen("ours", "o1", false)], SIGNED, KEY);
  expect(all.map(({ id }) => id)).toEqual(["o1", "e"]);
  expect((all[1]!.telling.payload as FinishDelivery).casings).toEqual(["o0", "o1"]);
});

const cutOff = (...lines: [string, string, string, Standing?][]): Delivery => ({
  ...deliveryFromRow("d", { yard: "y-tarn-north", store: STORE }),
  lines: lines.map(([id, label, casing, standing = "waiting"]) => ({
    id,
    label,
    casing,
    standing,
  })),
});

it("who was cut off in the middle keeps on the list what was told, ticked or not", () => {
  const sheet = [
    { casing: "a", operation: "o1" },
    { casing: "b", operation: "o2" },
  ];
  const before = sheet.map((line) => ({ ...line, told: null }));
  expect(listed(sheet, null)).toEqual(before);
  const delivery = cutOff(["o1", "K7000Y02", "a"]);
  expect(listed(sheet, delivery)).toEqual([{ ...before[0], told: "K7000Y02" }, before[1]]);
  // Unticked: it is on the list all the same; ticked anew: once, under the id that was told.
  const unticked = listed(sheet.slice(1), delivery);
  expect(unticked.map(({ operation, told }) => [operation, told])).toEqual([
    ["o2", null],
    ["o1", "K7000Y02"],
  ]);
  const anew = listed([...sheet.slice(1), { casing: "a", operation: "o3" }], delivery);
  expect(anew).toEqual(unticked);
});

it("what the office could not take is off the list, to be ticked anew with a new id", () => {
  const refused = cutOff(["o1", "K7000Y02", "a", "needs_you"]);
  expect(listed([{ casing: "a", operation: "o1" }], refused)).toEqual([]);
  const anew = { casing: "a", operation: "o2" };
  expect(listed([anew], refused)).toEqual([{ ...anew, told: null }]);
});

it("what an earlier try has left ticked is known from what is ticked now, and from what is told", () => {
  const line = (operation: string, at: number | undefined, label: string | null = null) => ({
    casing: operation,
    operation,
    told: label,
    ...(at === undefined ? {} : { at }),
  });
  const lines = [line("a", 100), line("b", 150), line("c", 250), line("d", 120, "K7000Y02")];
  expect(leftOver(lines, 200).map(({ operation }) => operation)).toEqual(["a", "b"]);
  expect(keptSince(lines, 200)).toBe(150);
  expect(keptSince(lines, 100)).toBeNull();
  expect(keptSince([line("a", undefined)], 200), "nobody knows when").toBeNull();
  expect(listed([{ casing: "a", operation: "a", at: 100 }], null)).toEqual([line("a", 100)]);
});
