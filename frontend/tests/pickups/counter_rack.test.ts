/** What waits on the rack for its owner, and what drivers bring. */
import { expect, it } from "vitest";
import {
  goesToPlant,
  isReady,
  onTrucks,
  ownerOf,
  tally,
  waitingFor,
} from "../../src/pickups/counter/rack";
import { aCasing, DALE, NOOR, OTHER_STORE, PLANT, STORE, YARDS } from "./counter_things";

const on = (day: string) => ({ on: day, basis: "standard_time" });

it.each([
  ["back from the plant and on this rack", { progress: "shipped" }, true],
  ["rejected and on this rack", { progress: "rejected", reason: "SEPARATION" }, true],
  ["on its way in", { progress: "picked_up" }, false],
  ["on another store's rack", { progress: "shipped", holder: `site:${OTHER_STORE}` }, false],
  ["on a truck", { progress: "shipped", holder: `person:${DALE.id}` }, false],
  ["at the plant", { progress: "finished", holder: `plant:${PLANT}` }, false],
  ["with its owner", { progress: "returned", holder: "customer:c-tarn" }, false],
  ["on hold", { progress: "finished", on_hold: true }, false],
  ["in question", { progress: "shipped", contested: true }, false],
  ["withdrawn", { progress: "shipped", withdrawn: true }, false],
])("%s: ready is %s", (_, said, ready) => {
  const casing = aCasing(said);
  expect(isReady(casing, STORE)).toBe(ready);
  if (ready) expect(goesToPlant(casing, STORE)).toBe(false);
});

it("what was dropped off here waits for the plant, not for its owner", () => {
  expect(goesToPlant(aCasing(), STORE)).toBe(true);
  expect(goesToPlant(aCasing(), OTHER_STORE)).toBe(false);
});

it("owners stand in the order in which the oldest of theirs was promised", () => {
  const ready = { progress: "shipped" };
  const casings = [
    aCasing({ ...ready, id: "a", label: "B", promised: on("2026-06-09") }),
    aCasing({
      ...ready,
      id: "b",
      customer: "c-hollow",
      yard: "y-hollow",
      promised: on("2026-06-02"),
    }),
    aCasing({ ...ready, id: "c", label: "A", promised: on("2026-06-09") }),
    aCasing({
      ...ready,
      id: "d",
      customer: "c-hollow",
      yard: "y-hollow",
      promised: on("2026-06-30"),
    }),
    // Nothing was promised for it: it is as old as its day at the counter.
    aCasing({ ...ready, id: "e", customer: "c-perez", yard: "y-perez" }),
    aCasing({ id: "f" }),
  ];
  const owners = waitingFor(casings, STORE, YARDS);
  expect(owners.map(({ name, casings: theirs }) => [name, theirs.map(({ id }) => id)])).toEqual([
    ["Pérez e Hijos", ["e"]],
    ["Hollow Creek Dairy", ["b", "d"]],
    ["Tarn Valley Haulage", ["c", "a"]],
  ]);
});

it("finished and rejected are told apart, a rejected one that was shipped too", () => {
  const casings = [
    aCasing({ progress: "shipped" }),
    aCasing({ progress: "shipped", reason: "SEPARATION" }),
    aCasing({ progress: "rejected" }),
  ];
  expect(tally(casings)).toEqual({ ready: 1, rejected: 2 });
});

it("a casing is its customer's, whatever yard it came from; else its yard's", () => {
  const moved = aCasing({ customer: "c-hollow", yard: "y-tarn-north" });
  expect(ownerOf(moved, YARDS)).toEqual({ id: "c-hollow", name: "Hollow Creek Dairy" });
  const unknown = aCasing({ customer: "", yard: "y-perez" });
  expect(ownerOf(unknown, YARDS).id).toBe("c-perez");
  expect(ownerOf(aCasing({ customer: "", yard: "y-nowhere" }), YARDS)).toEqual({
    id: "y-nowhere",
    name: "",
  });
});

it("trucks are told by driver, with what is on them either way", () => {
  const holder = `person:${DALE.id}`;
  const casings = [
    aCasing({ id: "in", label: "B", holder }),
    aCasing({ id: "out", label: "A", holder, progress: "shipped" }),
    aCasing({ id: "home", holder, progress: "returned" }),
    aCasing({ id: "rack" }),
  ];
  const trucks = onTrucks(casings, [NOOR, DALE]);
  expect(trucks.map(({ person, casings: on }) => [person.name, on.map(({ id }) => id)])).toEqual([
    ["Dale", ["out", "in"]],
  ]);
});
