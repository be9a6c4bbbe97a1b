/** Which stop is next, what it needs, and when it is done. */
import { describe, expect, it } from "vitest";
import type { Stop } from "../../src/domain/rows";
import {
  lastMade,
  loadingAt,
  runNow,
  runsOf,
  standingAt,
  windowMissed,
} from "../../src/domain/run";
import {
  AT,
  carried,
  DAY,
  DOCK,
  ended,
  gone,
  ME,
  MINE,
  move,
  RACK,
  road,
  run,
  stop,
  told,
} from "./cargo";

const SKIPPED = { skipped: { why: "closed", note: "", at: AT } };

const nextOf = (...given: Parameters<typeof runNow>) => {
  const { next } = runNow(...given);
  return next === null || next === "loading" ? next : [next.stop.uid, next.need];
};

const aboard = (id: string, some = {}) =>
  carried(id, { holder: MINE, progress: "shipped", ...some });
const back = (id: string) => carried(id, { holder: "customer:tarn", progress: "returned" });
const A = stop("a", { yard: "north", drop: ["1", "2"], fetch: 3 });
const B = stop("b", { yard: "pit", drop: ["3"] });

describe("a route", () => {
  const day = run([A, B]);

  it("begins with loading, and goes on with its first stop when all is aboard", () => {
    expect(nextOf(day, road([carried("1"), aboard("2"), aboard("3")]))).toBe("loading");
    expect(nextOf(day, road([aboard("1"), aboard("2"), aboard("3")]))).toEqual(["a", "deliver"]);
  });

  it("goes on short when its driver has driven off", () => {
    const now = road([carried("1"), aboard("2"), aboard("3")]);
    expect(nextOf(gone(day), now)).toEqual(["a", "deliver"]);
    expect(runNow(gone(day), now).stops[0]).toMatchObject({ left: 2, aboard: 1 });
  });

  it("a stop first wants its casings dropped, then what waits there fetched, then it is done", () => {
    const dropped = [back("1"), back("2"), aboard("3")];
    expect(nextOf(day, road([back("1"), aboard("2"), aboard("3")]))).toEqual(["a", "deliver"]);
    expect(nextOf(day, road(dropped))).toEqual(["a", "fetch"]);
    const { pickup } = ended("north");
    const now = runNow(day, road(dropped, { pickups: [pickup] }));
    expect(now.stops.map(({ state }) => state)).toEqual(["done", "next"]);
    expect(
      nextOf(day, road([...dropped.slice(0, 2), back("3")], { pickups: [pickup] })),
    ).toBeNull();
  });

  it("what a customer of the yard brings to the counter ends no stop", () => {
    const { pickup } = ended("north");
    const fetches = gone(run([stop("a", { yard: "north", fetch: 14 })]));
    const counter = road([], { pickups: [{ ...pickup, store: "store" }] });
    expect(nextOf(fetches, counter)).toEqual(["a", "fetch"]);
    expect(nextOf(fetches, road([], { pickups: [pickup] }))).toBeNull();
  });

  it("a visit from before the run's day, or to another yard, ends no stop", () => {
    const dropped = [back("1"), back("2"), aboard("3")];
    const before = ended("north", "2026-04-27T15:00:00.000Z").pickup;
    expect(nextOf(day, road(dropped, { pickups: [before] }))).toEqual(["a", "fetch"]);
    expect(nextOf(day, road(dropped, { pickups: [ended("pit").pickup] }))).toEqual(["a", "fetch"]);
    const open = { ...ended("north").pickup, finished_at: null };
    expect(nextOf(day, road(dropped, { pickups: [open] }))).toEqual(["a", "fetch"]);
  });

  it("a delivery that was begun for it and finished with fewer is over; what stayed is said", () => {
    const { pickup, delivery } = ended("north");
    const some = { deliveries: [delivery], pickups: [pickup] };
    const casings = [back("1"), aboard("2"), aboard("3")];
    const links = [{ visit: delivery.id, stop: "a", on: 0 }];
    expect(runNow(day, road(casings, { ...some, links })).stops[0]).toMatchObject({
      state: "done",
      left: 1,
    });
    // Another delivery at that yard today was for something else.
    expect(nextOf(day, road(casings, some))).toEqual(["a", "deliver"]);
    const open = [{ ...delivery, finished_at: null }];
    expect(nextOf(day, road(casings, { links, deliveries: open }))).toEqual(["a", "deliver"]);
  });

  it("a pickup that was begun for another stop of that yard does not count for this one", () => {
    const { pickup } = ended("north");
    const twice = run([A, stop("again", { yard: "north", fetch: 2 })]);
    const links = [{ visit: pickup.id, stop: "a", on: 0 }];
    const now = road([back("1"), back("2")], { pickups: [pickup], links });
    expect(nextOf(twice, now)).toEqual(["again", "fetch"]);
  });

  it("a stop that was skipped lets the next one be next, and what was for it stays aboard", () => {
    const skipped = told(day, { a: SKIPPED });
    const now = runNow(skipped, road([aboard("1"), aboard("2"), aboard("3")]));
    expect(now.stops[0]).toMatchObject({ state: "passed", left: 2, aboard: 2 });
    expect(now.stops[1]).toMatchObject({ state: "next", need: "deliver" });
    // What is done all the same is done.
    const done = road([back("1"), back("2"), aboard("3")], { pickups: [ended("north").pickup] });
    expect(runNow(skipped, done).stops[0]!.state).toBe("done");
  });

  it("a driver's own stop is done by whatever was done there, and comes behind the last one", () => {
    const own = { yard: "far", why_added: "" };
    const grown = gone(run([B, stop("own", own)]));
    const links = [{ visit: "d", stop: "own", on: 0 }];
    const { delivery } = ended("far");
    expect(nextOf(grown, road([back("3")]))).toEqual(["own", "fetch"]);
    expect(nextOf(grown, road([back("3")], { links, deliveries: [delivery] }))).toBeNull();
    expect(lastMade(runNow(grown, road([back("3")])))).toBe("b");
    expect(lastMade(runNow(grown, road([aboard("3")])))).toBeNull();
    const here = told(grown, { b: { arrived_at: AT } });
    expect(lastMade(runNow(here, road([aboard("3")])))).toBe("b");
  });

  it("a window is missed when it ends with nobody there, or before the truck came", () => {
    const at = (time: string) => new Date(`${DAY}T${time}`);
    const of = (some: Partial<Stop>) => {
      const one = run([stop("a", { yard: "north", from: "08:00", to: "10:00", ...some })]);
      return (clock: string) => windowMissed(one, runNow(one, road([])).stops[0]!, +at(clock));
    };
    expect(of({})("10:00")).toBe(false);
    expect(of({})("10:01")).toBe(true);
    expect(of({ to: null })("23:00")).toBe(false);
    expect(of({ arrived_at: at("09:50").toISOString() })("11:00")).toBe(false);
    expect(of({ arrived_at: at("10:20").toISOString() })("10:30")).toBe(true);
    expect(of(SKIPPED)("11:00")).toBe(false);
  });

  it("rejected ones are counted apart, and a casing that has not come to this phone counts too", () => {
    const now = runNow(day, road([aboard("1", { reason: "SEPARATION" }), aboard("3")]));
    expect(now.stops[0]).toMatchObject({ left: 2, rejected: 1, aboard: 1 });
    expect(now.stops[0]!.drops[1]).toEqual({ id: "2", casing: null, at: "away" });
    expect(now.loading.wanted).toHaveLength(3);
  });

  it("a stop at which nothing is written is a visit, and one that says 0 needs nothing", () => {
    const bare = run([stop("a", { yard: "north" }), stop("b", { yard: "pit", fetch: 0 })]);
    const now = runNow(bare, road([]));
    expect(now.stops.map(({ need, state }) => [need, state])).toEqual([
      ["fetch", "next"],
      ["none", "done"],
    ]);
  });

  it("is loaded in reverse order of its stops", () => {
    const { wanted } = loadingAt(day, -1, road([carried("2"), carried("1"), carried("3")]));
    expect(wanted.map(({ id, stop: at }) => [id, at])).toEqual([
      ["3", 2],
      ["1", 1],
      ["2", 1],
    ]);
  });

  it("at each stop the rejected go in last, since they are said apart", () => {
    const casings = [carried("1", { reason: "SEPARATION" }), carried("2"), carried("3")];
    expect(loadingAt(day, -1, road(casings)).wanted.map(({ id }) => id)).toEqual(["3", "2", "1"]);
  });

  it("what is back with its owner before it was loaded is not asked for", () => {
    expect(loadingAt(day, -1, road([back("1"), back("2"), back("3")]))).toMatchObject({
      wanted: [],
      over: true,
    });
  });
});

describe("a transfer", () => {
  const there = stop("p", { site: "plant", drop: ["1", "2"] });
  const home = stop("s", { site: "store", drop: ["8", "9"] });
  const trip = run([there, home], { kind: "transfer" });
  const inward = (id: string, holder: string) => carried(id, { holder, progress: "picked_up" });
  const done = (id: string, holder: string) => carried(id, { holder });

  it("loads at the rack what goes in, and at the plant what comes home", () => {
    const casings = [
      inward("1", RACK),
      inward("2", RACK),
      done("8", DOCK),
      done("9", "road:plant"),
    ];
    const now = road(casings);
    expect(loadingAt(trip, -1, now).wanted.map(({ id }) => id)).toEqual(["1", "2"]);
    expect(loadingAt(trip, 0, now).wanted.map(({ id }) => id)).toEqual(["8", "9"]);
    expect(nextOf(trip, now)).toBe("loading");
  });

  it("goes through its whole day", () => {
    const at = (one: string, two: string, eight: string, nine: string) => [
      inward("1", one),
      inward("2", two),
      done("8", eight),
      carried("9", { holder: nine, reason: "SEPARATION", progress: "rejected" }),
    ];
    expect(nextOf(trip, road(at(MINE, MINE, DOCK, DOCK)))).toEqual(["p", "unload"]);
    expect(nextOf(trip, road(at(DOCK, MINE, DOCK, DOCK)))).toEqual(["p", "unload"]);
    expect(nextOf(trip, road(at(DOCK, DOCK, DOCK, DOCK)))).toEqual(["p", "load"]);
    expect(nextOf(trip, road(at(DOCK, DOCK, MINE, DOCK)))).toEqual(["p", "load"]);
    const loaded = road(at(DOCK, DOCK, MINE, MINE));
    expect(nextOf(trip, loaded)).toEqual(["s", "unload"]);
    expect(nextOf(trip, road(at(DOCK, DOCK, RACK, RACK)))).toBeNull();
  });

  it("one that stays behind at the plant does not hold the truck when its driver drives off", () => {
    const casings = [inward("1", DOCK), inward("2", DOCK), done("8", MINE), done("9", DOCK)];
    const left = told(trip, { p: { loaded_at: AT } });
    expect(nextOf(left, road(casings))).toEqual(["s", "unload"]);
    const unloaded = road(
      [inward("1", DOCK), inward("2", DOCK), done("8", RACK), done("9", DOCK)],
      { moves: [move("LABEL8", MINE, RACK)] },
    );
    expect(nextOf(left, unloaded)).toBeNull();
  });

  it("what was loaded without a scan is still to be unloaded before the truck is loaded anew", () => {
    const casings = [inward("1", RACK), inward("2", RACK), done("8", DOCK), done("9", DOCK)];
    expect(nextOf(gone(trip), road(casings))).toEqual(["p", "unload"]);
  });

  it("a truck that comes empty to fetch is done there when it is loaded", () => {
    const open = run([stop("p", { site: "plant", fetch: 3 }), stop("s", { site: "store" })], {
      kind: "transfer",
    });
    const loaded = told(gone(open), { p: { loaded_at: AT } });
    expect(nextOf(loaded, road([done("8", MINE)]))).toEqual(["s", "unload"]);
  });

  it("what the plant has begun with is there, whoever told what", () => {
    const casings = [carried("1", { holder: "person:another", progress: "in_work" })];
    expect(runNow(trip, road(casings)).stops[0]!.drops[0]!.at).toBe("done");
  });

  it("a sheet that names nothing takes what stands there, until its driver says that was all", () => {
    const open = run([stop("p", { site: "plant" }), stop("s", { site: "store" })], {
      kind: "transfer",
    });
    const rack = [inward("1", RACK), inward("2", RACK), done("8", RACK)];
    expect(loadingAt(open, -1, road(rack))).toMatchObject({ open: true, wanted: [], over: false });
    expect(standingAt(road(rack).casings.values(), RACK).map(({ id }) => id)).toEqual(["1", "2"]);
    expect(nextOf(open, road(rack))).toBe("loading");
    const start = gone(open);
    const onWay = [inward("1", MINE), inward("2", MINE), done("8", DOCK)];
    expect(nextOf(start, road(onWay))).toEqual(["p", "unload"]);
    const moves = [move("LABEL1", MINE, DOCK), move("LABEL2", MINE, DOCK)];
    const in_ = [inward("1", DOCK), inward("2", DOCK), done("8", DOCK)];
    expect(nextOf(start, road(in_, { moves }))).toEqual(["p", "load"]);
    const all = told(start, { p: { loaded_at: AT } });
    const home_ = [inward("1", DOCK), inward("2", DOCK), done("8", MINE)];
    expect(nextOf(all, road(home_, { moves }))).toEqual(["s", "unload"]);
    const last = [...moves, move("LABEL8", MINE, RACK)];
    const end = [inward("1", DOCK), inward("2", DOCK), done("8", RACK)];
    expect(nextOf(all, road(end, { moves: last }))).toBeNull();
  });

  it("an empty truck that comes back to the store is not back before somebody says so", () => {
    const empty = run([stop("s", { site: "store" })]);
    expect(nextOf(empty, road([]))).toEqual(["s", "unload"]);
    expect(nextOf(told(empty, { s: SKIPPED }), road([]))).toBeNull();
  });
});

it("a driver sees today's runs, then what is left of earlier ones, then later ones", () => {
  const over = run([stop("o", { yard: "north", fetch: 0 })], { id: "over", on: "2026-04-27" });
  const all = [
    over,
    run([B], { id: "left", on: "2026-04-27" }),
    run([A], { id: "today" }),
    run([A], { id: "another's", driver: "another" }),
    run([A], { id: "nobody's", driver: null }),
    run([A], { id: "tomorrow", on: "2026-04-29" }),
  ];
  const now = road([aboard("1"), aboard("2"), aboard("3")]);
  expect(runsOf(all, now, DAY).map((one) => one.run.id)).toEqual(["today", "left", "tomorrow"]);
  expect(runsOf(all, { ...now, me: "" }, DAY)).toEqual([]);
  expect(ME).not.toBe("another");
});
