/** What is on the truck, what is expected off it, and what is short or over. */
import { describe, expect, it } from "vitest";
import { deliveryFromRow } from "../../src/domain/visits";
import {
  count,
  difference,
  expectedAt,
  holderAt,
  isAt,
  lastMoveOf,
  NOTHING_FURTHER,
  onTruck,
  wayFrom,
  wayOf,
} from "../../src/domain/truck";
import { carried, DOCK, ME, MINE, move, RACK, road, SITES } from "./cargo";

it.each([
  ["picked_up", "in"],
  ["received", "in"],
  ["in_work", "in"],
  ["finished", "out"],
  ["rejected", "out"],
  ["shipped", "out"],
])("%s goes %s", (progress, way) => {
  expect(wayOf(carried("1", { progress }))).toBe(way);
});

describe("the way of a casing that is handed on", () => {
  // A phone that has heard nothing since the plant received it.
  const stale = carried("1", { progress: "received", holder: DOCK });

  it("is home from a plant's dock and from its trucks, whatever is known of its work", () => {
    expect(wayFrom(DOCK, stale, null)).toBe("out");
    expect(wayFrom("road:plant", stale, null)).toBe("out");
    expect(wayFrom(DOCK, null, null)).toBe("out");
    // Loaded without a scan: by the record it stands at the dock still.
    expect(wayFrom(MINE, stale, null)).toBe("out");
  });

  it("is the one by which it came aboard", () => {
    const aboard = carried("1", { progress: "received", holder: MINE });
    expect(wayFrom(MINE, aboard, move(aboard.label, DOCK, MINE))).toBe("out");
    const toPlant = carried("1", { progress: "picked_up", holder: MINE });
    const loaded = move(toPlant.label, RACK, MINE, { way: "in" });
    expect(wayFrom(MINE, toPlant, loaded)).toBe("in");
    expect(wayFrom(MINE, toPlant, null)).toBe("in");
    expect(wayFrom(MINE, carried("1", { holder: MINE }), loaded)).toBe("out");
    // Told as "in" by mistake: a plant gave it all the same.
    expect(wayFrom(MINE, aboard, move(aboard.label, DOCK, MINE, { way: "in" }))).toBe("out");
  });

  it("is not that of an earlier trip under the same label, nor that of somebody else's truck", () => {
    const again = carried("1", { progress: "picked_up", holder: MINE });
    const before = move(again.label, DOCK, MINE, { at: "2026-03-20T15:00:00.000Z" });
    expect(wayFrom(MINE, again, before)).toBe("in");
    expect(wayFrom(RACK, again, move(again.label, DOCK, MINE))).toBe("in");
  });

  it("of one that no casing here wears is that of its last move", () => {
    expect(wayFrom(MINE, null, move("X", RACK, MINE))).toBe("out");
    expect(wayFrom(MINE, null, move("X", RACK, MINE, { way: "in" }))).toBe("in");
    expect(wayFrom(MINE, null, move("X", DOCK, MINE, { way: "in" }))).toBe("out");
    // Handed in at a plant, loaded there without a scan.
    expect(wayFrom(MINE, null, move("X", MINE, DOCK, { way: "in" }))).toBe("out");
  });

  it("is guessed where nothing tells", () => {
    expect(wayFrom(MINE, null, null)).toBe("in");
    expect(wayFrom(RACK, null, null, "out")).toBe("out");
    expect(wayFrom(RACK, null, null, "in")).toBe("in");
    expect(wayFrom(RACK, null, move("X", RACK, MINE), "in")).toBe("in");
  });

  it("is told by the last move that the office could take", () => {
    const refused = move("X", DOCK, MINE, { standing: "needs_you" });
    const [first, other] = [move("X", RACK, MINE), move("Y", DOCK, MINE)];
    expect(lastMoveOf([first, other, refused], "X")).toBe(first);
    expect(lastMoveOf([other], "X")).toBeNull();
  });
});

it("on the truck is what this driver holds: not withdrawn, not back with its owner", () => {
  const held = carried("2", { holder: MINE });
  const casings = [
    carried("1"),
    held,
    carried("3", { holder: MINE, progress: "returned" }),
    carried("4", { holder: MINE, pickup: "" }),
    carried("5", { holder: "person:another" }),
  ];
  expect(onTruck(road(casings), ME)).toEqual({ casings: [held], unknown: [] });
  expect(onTruck(road(casings), "")).toEqual({ casings: [], unknown: [] });
});

it("a label that this phone does not know is on the truck until it is handed on", () => {
  const aboard = (...moves: ReturnType<typeof move>[]) => onTruck(road([], { moves }), ME).unknown;
  const loaded = move("K72K54X2", RACK, MINE);
  expect(aboard(loaded)).toEqual(["K72K54X2"]);
  expect(aboard(loaded, move("K72K54X2", MINE, DOCK))).toEqual([]);
  expect(aboard(loaded, move("K72K54X2", MINE, DOCK), loaded)).toEqual(["K72K54X2"]);
  expect(aboard({ ...loaded, standing: "needs_you" })).toEqual([]);
  expect(aboard(move("K72K54X2", RACK, "person:another"))).toEqual([]);
});

it("an unknown label counts, and no more once it is known or delivered", () => {
  const moves = [move("K72K54X2", RACK, MINE)];
  expect(count(onTruck(road([], { moves }), ME))).toBe(1);
  const known = carried("1", { label: "K72K54X2", holder: DOCK });
  expect(count(onTruck(road([known], { moves }), ME))).toBe(0);
  const line = { id: "o", label: "K72K54X2", casing: null, standing: "waiting" as const };
  const delivery = { ...deliveryFromRow("d", {}), lines: [line] };
  expect(count(onTruck(road([], { moves, deliveries: [delivery] }), ME))).toBe(0);
});

it("a plant is a dock, a store a rack, and what is not known here a rack", () => {
  expect(holderAt(SITES, "plant")).toBe(DOCK);
  expect(holderAt(SITES, "store")).toBe(RACK);
  expect(holderAt([], "plant")).toBe("site:plant");
});

it("what a plant has shipped stands at its dock, and at no other", () => {
  const shipped = carried("1", { holder: "road:plant" });
  expect(isAt(shipped, DOCK)).toBe(true);
  expect(isAt(shipped, "plant:another")).toBe(false);
  expect(isAt(shipped, "site:plant")).toBe(false);
});

it("at the plant what goes in is expected, at a rack everything", () => {
  const inward = carried("1", { holder: MINE, progress: "picked_up" });
  const home = carried("2", { holder: MINE, progress: "shipped" });
  const truck = { casings: [inward, home], unknown: [] };
  expect(expectedAt(truck, DOCK, NOTHING_FURTHER)).toEqual([inward]);
  expect(expectedAt(truck, RACK, NOTHING_FURTHER)).toEqual([inward, home]);
});

it("what later stops are to get stays on, and for a plant that comes later what goes in", () => {
  const inward = carried("1", { holder: MINE, progress: "picked_up" });
  const home = carried("2", { holder: MINE, progress: "shipped" });
  const other = carried("3", { holder: MINE, progress: "shipped" });
  const truck = { casings: [inward, home, other], unknown: [] };
  const further = { later: new Set(["2"]), plant: true, here: new Set<string>() };
  expect(expectedAt(truck, RACK, further)).toEqual([other]);
  expect(expectedAt(truck, RACK, { ...further, here: new Set(["1", "2"]) })).toEqual([
    inward,
    home,
    other,
  ]);
});

it("short and over are told apart, each label once", () => {
  expect(difference(["a", "b", "c"], ["c", "d", "d"])).toEqual({ short: ["a", "b"], over: ["d"] });
  expect(difference([], [])).toEqual({ short: [], over: [] });
});
