/** What is taken at once, what is done already, and what is asked about before it is told. */
import { describe, expect, it } from "vitest";
import { atDelivery, atLoading, atUnloading, isGrave, toHandOver } from "../../src/domain/asked";
import type { Delivery } from "../../src/domain/rows";
import { deliveryFromRow } from "../../src/domain/visits";
import { carried, DOCK, ME, MINE, RACK } from "./cargo";

const L = "LABEL1";

describe("loading", () => {
  const at = (casing: ReturnType<typeof carried> | null, sheet: string[] | null = ["1"]) =>
    atLoading(L, { casings: casing ? [casing] : [], me: ME, place: RACK }, sheet && new Set(sheet));

  it("takes what the sheet wants, wherever it was told to be", () => {
    expect(at(carried("1"))).toMatchObject({ what: "take", doubts: [] });
    expect(at(carried("1", { holder: DOCK }))).toMatchObject({ what: "take" });
  });

  it("says what is aboard already", () => {
    expect(at(carried("1", { holder: MINE })).what).toBe("again");
  });

  it.each([
    ["not_on_sheet", carried("1"), []],
    ["on_hold", carried("1", { on_hold: true }), ["1"]],
    ["in_question", carried("1", { standing: "in_question" }), ["1"]],
    ["back_with_owner", carried("1", { progress: "returned", holder: "customer:tarn" }), ["1"]],
    ["unknown", null, ["1"]],
  ])("asks: %s", (doubt, casing, sheet) => {
    expect(at(casing, sheet)).toMatchObject({ what: "ask", doubts: [doubt] });
  });

  it("without a sheet takes what stands there, and asks about what is told to be elsewhere", () => {
    expect(at(carried("1"), null).what).toBe("take");
    expect(at(carried("1", { holder: DOCK }), null).doubts).toEqual(["elsewhere"]);
  });

  it("a label worn twice means what is aboard, else what is not back yet", () => {
    const old = carried("0", { label: L, progress: "returned", holder: "customer:tarn" });
    const now = carried("1", { picked_up_at: "2026-03-01T00:00:00.000Z" });
    const place = { casings: [old, now], me: ME, place: RACK };
    expect(atLoading(L, place, new Set(["1"]))).toMatchObject({
      what: "take",
      casing: { id: "1" },
    });
    const gone = { ...place, casings: [now, carried("1", { pickup: "", holder: MINE })] };
    expect(atLoading(L, gone, new Set(["1"])).what).toBe("take");
  });
});

describe("unloading", () => {
  const at = (some: object, later: string[] = []) =>
    atUnloading(L, { casings: [carried("1", some)], me: ME, place: RACK }, new Set(later));

  it("takes what is aboard, says what is in already, asks about the rest", () => {
    expect(at({ holder: MINE }).what).toBe("take");
    expect(at({ holder: MINE, standing: "in_question" }).what).toBe("take");
    expect(at({ holder: RACK }).what).toBe("again");
    expect(at({ holder: "person:another" }).doubts).toEqual(["elsewhere"]);
    expect(at({ holder: "customer:tarn", progress: "returned" }).doubts).toEqual([
      "back_with_owner",
    ]);
    expect(at({ holder: MINE }, ["1"]).doubts).toEqual(["later_stop"]);
    const nowhere = { casings: [], me: ME, place: RACK };
    expect(atUnloading("OTHER", nowhere, new Set()).doubts).toEqual(["unknown"]);
  });
});

describe("delivering", () => {
  const north = {
    id: "north",
    name: "North",
    customer: "tarn",
    customer_name: "Tarn",
    address: "",
  };
  const ready = { holder: MINE, progress: "shipped" };
  const at = (some: object, sheet: string[] = [], delivery: Delivery | null = null) =>
    atDelivery(L, {
      casings: [carried("1", { ...ready, ...some })],
      me: ME,
      yard: north,
      delivery,
      sheet: new Set(sheet),
    });

  it("takes what is aboard for this yard", () => {
    expect(at({}).what).toBe("take");
    expect(at({ reason: "SEPARATION" }).what).toBe("take");
  });

  it("stops another customer's casing, even if the sheet names it", () => {
    const asked = at({ customer: "reed", yard: "pit" }, ["1"]);
    expect(asked.doubts).toEqual(["other_customer"]);
    expect(isGrave(asked.doubts)).toBe(true);
    expect(at({ dealers: "sold" }).doubts).toEqual(["dealers"]);
    expect(isGrave(at({ dealers: "sold" }).doubts)).toBe(true);
    expect(isGrave(at({ on_hold: true }).doubts)).toBe(true);
    expect(isGrave(at({ yard: "south" }).doubts)).toBe(false);
  });

  it.each([
    ["other_yard", { yard: "south" }],
    ["unfinished", { progress: "in_work" }],
    ["elsewhere", { holder: RACK }],
    ["back_with_owner", { progress: "returned", holder: "customer:tarn" }],
    ["in_question", { standing: "in_question" }],
    ["on_hold", { on_hold: true }],
  ])("asks: %s", (doubt, some) => {
    expect(at(some)).toMatchObject({ what: "ask", doubts: [doubt] });
  });

  it("the sheet's word is enough for another yard of theirs and for what was not loaded by scan", () => {
    expect(at({ yard: "south", holder: RACK }, ["1"]).what).toBe("take");
  });

  it("what is handed over already is said quietly, but not what could not be recorded", () => {
    const line = (standing: "waiting" | "needs_you") => ({
      ...deliveryFromRow("d", {}),
      lines: [{ id: "o", label: L, casing: "1", standing }],
    });
    expect(at({ progress: "returned" }, [], line("waiting"))).toMatchObject({ what: "again" });
    expect(at({}, [], line("needs_you")).what).toBe("take");
  });

  it("an unknown label, and a yard that has not come to this phone", () => {
    const bare = {
      casings: [carried("1", ready)],
      me: ME,
      delivery: null,
      sheet: new Set<string>(),
    };
    expect(atDelivery("OTHER", { ...bare, yard: north }).doubts).toEqual(["unknown"]);
    expect(atDelivery(L, { ...bare, yard: null }).what).toBe("take");
  });
});

it("to hand over is what the sheet names and what is aboard for the yard, the rejected last", () => {
  const held = [
    carried("3", { reason: "SEPARATION", progress: "shipped", holder: MINE }),
    carried("2", { progress: "shipped", holder: MINE }),
    carried("4", { progress: "picked_up", holder: MINE }),
    carried("5", { yard: "pit", holder: MINE }),
    carried("6", { back_to: "store", holder: MINE }),
  ];
  const sheet = [carried("9"), null, carried("8", { progress: "returned" }), held[1]!];
  const { casings, notHere } = toHandOver(held, "north", sheet);
  expect(casings.map(({ id }) => id)).toEqual(["2", "9", "3"]);
  expect(notHere).toBe(1);
});
