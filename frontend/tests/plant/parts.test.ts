/** Reasons that fit, the ruler and its limit, loads and lists: the pure parts of the floor. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { CONDITIONS, KINDS_BY_ZONE } from "../../src/domain/condition";
import type { RowLike } from "../../src/domain/rows";
import { limitFor } from "../../src/plant/limit";
import {
  inEnvelope,
  loads,
  missingFrom,
  openLoads,
  takesBack,
  takesIn,
} from "../../src/plant/loads";
import { likely, NEVER_RELEASED, REASONS } from "../../src/plant/reasons";
import { events } from "../../src/plant/laid";
import { countOf, isTo, listedAs, reckon, scannedFor, staysFor } from "../../src/plant/dock/reckon";
import { consignments, type Work, workFrom } from "../../src/plant/rows";
import { ruler } from "../../src/plant/ruler";
import {
  backTo,
  doneAt,
  isBehindRepair,
  moreAt,
  nextAfter,
  orderOf,
  stationsOf,
} from "../../src/plant/stations";
import { K1, K2, K3, told, toldAs, workRow } from "./things";

it("every kind that can be found has a reason of the catalogue that fits it", () => {
  for (const [zone, kinds] of Object.entries(KINDS_BY_ZONE))
    for (const kind of kinds) {
      const fit = likely([{ zone: zone as "crown", kind }], "initial-inspection");
      expect(fit.every((code) => REASONS.includes(code))).toBe(true);
      if (kind !== "other") expect(fit.length, `${zone} ${kind}`).toBeGreaterThan(0);
    }
  expect([...NEVER_RELEASED].every((code) => REASONS.includes(code))).toBe(true);
  expect(likely([{ zone: "crown", kind: "cord" }], "buffing")[0]).toBe("CORD_EXPOSED_PROCESS");
  expect(CONDITIONS.length).toBeGreaterThan(20);
});

it("find and limit lie on the ruler, whatever they are", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 3000 }),
      fc.option(fc.integer({ min: 1, max: 3000 })),
      (find, limit) => {
        const drawn = ruler(find, limit);
        expect(drawn.end).toBeGreaterThan(find);
        if (limit !== null) expect(drawn.end).toBeGreaterThan(limit);
        expect(drawn.marks.filter(({ named }) => named).length).toBeLessThan(9);
        expect(drawn.marks.at(-1)!.mm).toBe(drawn.end);
      },
    ),
  );
});

const limits = (...all: object[]): RowLike[] => [
  { entity: "repair_limits", id: "p", body: { limits: all } },
];
const nail = {
  zone: "crown",
  side: "",
  kind: "nail_hole",
  size_mm: 8,
  count: 1,
  photos: [],
} as const;
const entered = {
  zone: "crown",
  kind: "nail_hole",
  size_class: "",
  source: "Chart 7",
  active: true,
};

it("a limit that nobody entered says nothing; an entered one says beyond, or stands beside", () => {
  const find = { ...nail, photos: [] };
  expect(limitFor([], find, "").says).toBe("none");
  expect(limitFor(limits({ ...entered, most_mm: 6, active: false }), find, "").says).toBe("none");
  const six = { says: "beyond", most_mm: 6, source: "Chart 7" };
  expect(limitFor(limits({ ...entered, most_mm: 6 }), find, "11R22.5")).toMatchObject(six);
  expect(limitFor(limits({ ...entered, most_mm: 10 }), find, "11R22.5").says).toBe("beside");
  const many = limits({ ...entered, most_mm: null, most_count: 2 });
  expect(limitFor(many, { ...find, count: 3 }, "")).toMatchObject({
    says: "beyond",
    most_count: 2,
  });
  expect(limitFor(many, { ...find, size_mm: 300 }, "")).toMatchObject({
    says: "none",
    most_count: 2,
  });
  const several = limitFor(limits({ ...entered, most_mm: 10 }), { ...find, count: 4 }, "");
  expect(several).toMatchObject({ says: "beside", count_unlimited: true });
  expect(limitFor(limits({ ...entered, most_mm: 99 }), { ...find, kind: "cord" }, "").says).toBe(
    "stops",
  );
});

it("the usual stations ask for what they need, and a doubled one for the same", () => {
  const more = (station: string) => moreAt(station, stationsOf(null));
  expect(more("building")).toEqual(["tread", "lots"]);
  expect(more("repair-2")).toEqual(more("repair"));
  expect(more("repairs-desk")).toEqual([]);
  expect(
    ["receiving", "buffing", "paint", "shipping"].map((one) => doneAt(one, stationsOf(null))),
  ).toEqual(["received", "passed", "finished", "shipped"]);
  const order = orderOf(null);
  expect(isBehindRepair("initial-inspection", order)).toBe(false);
  expect(isBehindRepair("final-inspection", order)).toBe(true);
  expect(backTo("final-inspection", order)).toContain("repair");
  expect(backTo("final-inspection", order)).not.toContain("paint");
});

it("an optional station, and one without a scan, is not next; repair is where it is marked", () => {
  const stations = stationsOf(null).map((one) => ({
    ...one,
    optional: ["repair", "final-ndt"].includes(one.code),
    scans: one.code !== "cementing",
  }));
  expect(nextAfter("skiving", stations, false)).toBe("cushion-gum");
  expect(nextAfter("skiving", stations, true)).toBe("repair");
  expect(nextAfter("stripping", stations, true)).toBe("final-inspection");
  expect(nextAfter("shipping", stations, false)).toBe("");
});

const NOBODY = new Map<string, Work>();
const NOON = Date.parse("2026-04-30T12:00:00.000Z");
const word = {
  load: "l",
  number: "26-1",
  chamber: "c1",
  started_at: null,
  ended_at: null,
  lots: [],
};

it("a load told here is there at once; what went in has to come out", () => {
  const set = [K1, K2].map((label, i) =>
    told({ label, station: "curing", outcome: "passed", load: "26-1", envelope: `E${i}` }),
  );
  const head = toldAs("curing.load", word);
  const [load] = loads([], [head, ...set], NOBODY, NOON);
  expect(load).toMatchObject({ number: "26-1", chamber: "c1", state: "setting" });
  expect(load!.set_in.map(({ label }) => label)).toEqual([K1, K2]);
  expect(inEnvelope(load!, "E1")).toBe(K2);
  expect(inEnvelope(load!, "E9")).toBeNull();
  const out = told({ label: K1, station: "stripping", outcome: "passed", load: "26-1" });
  const [after] = loads([], [head, ...set, out], NOBODY, NOON);
  expect(missingFrom(after!).map(({ label }) => label)).toEqual([K2]);
  expect(openLoads([after!], "stripping")).toHaveLength(1);
  const over = {
    ...word,
    started_at: "2026-04-30T12:00:00.000Z",
    ended_at: "2026-04-30T15:00:00.000Z",
  };
  expect(loads([], [head, toldAs("curing.load", over)], NOBODY, NOON)[0]!.state).toBe("out");
});

it("a word that was answered stays until the load's own row shows it, and goes with its casing's", () => {
  const head = toldAs("curing.load", word, { seen: true });
  const set = told(
    { label: K1, station: "curing", outcome: "passed", load: "26-1" },
    { seen: true },
  );
  const works = new Map([[K1, workFrom("w", { label: K1, loads: ["26-1"] })]]);
  expect(loads([], [head, set], works, NOON)[0]).toMatchObject({
    number: "26-1",
    set_in: [{ label: K1 }],
  });
  expect(loads([], [head, set], NOBODY, NOON)[0]!.set_in).toEqual([]);
  // The row stands under an id of its own: the one that was told finds it all the same.
  const row = {
    entity: "cure_load",
    id: "r",
    body: { uid: "r", number: "26-1", state: "setting" },
  };
  const over = { ...word, started_at: "2026-04-30T12:00:00.000Z" };
  const [load] = loads([row], [head, toldAs("curing.load", over, { seen: true })], works, NOON);
  expect(load).toMatchObject({ uid: "r", also: ["l"], state: "in", started_at: over.started_at });
});

const passed = (label: string, more: object, seen = true) =>
  told({ label, station: "curing", outcome: "passed", load: "26-1", ...more }, { seen });

it("a word of the tablet lays its moments; chamber and lots that it does not say stay", () => {
  const lots = [{ kind: "cushion_gum", number: "G-9" }];
  const body = { uid: "l", number: "26-1", state: "setting", chamber: "c2", lots };
  const begins = { load: "l", number: "26-1", started_at: "2026-04-30T12:00:00.000Z" };
  const told = toldAs("curing.load", { ...begins, ended_at: null });
  const [load] = loads([{ entity: "cure_load", id: "l", body }], [told], NOBODY, NOON);
  expect(load).toMatchObject({ state: "in", chamber: "c2", lots });
});

it("what was sent and is taken back is out of the load at once, whatever its row still shows", () => {
  const row = (set_in: string[], set_out: string[] = []): RowLike => ({
    entity: "cure_load",
    id: "l",
    body: {
      uid: "l",
      number: "26-1",
      state: "setting",
      set_in: set_in.map((label) => ({ label })),
      set_out,
    },
  });
  const works = new Map([K1, K2].map((l) => [l, workFrom(l, { label: l, loads: ["26-1"] })]));
  const [wrong, right] = [passed(K1, {}), passed(K2, {})];
  const withdrawn = { label: K1, station: "curing", outcome: "withdrawn" as const };
  const back = told({ ...withdrawn, withdraws: wrong.operation.id });
  const now = (all: (typeof back)[], of = row([K1, K2]), at = works) =>
    loads([of], all, at, NOON)[0]!;
  const inside = (load: ReturnType<typeof now>) => load.set_in.map(({ label }) => label);
  expect(inside(now([wrong, right]))).toEqual([K1, K2]);
  expect(inside(now([wrong, right, back]))).toEqual([K2]);
  expect(inside(now([wrong, right, back, passed(K1, {}, false)]))).toEqual([K2, K1]);
  // Answered: the casing's own row says whether it went in again, here or on another tablet.
  const answered = { ...back, seen: true };
  expect(inside(now([wrong, right, answered]))).toEqual([K1, K2]);
  const left = new Map([...works, [K1, workFrom(K1, { label: K1 })]]);
  expect(inside(now([wrong, right, answered], row([K1, K2]), left))).toEqual([K2]);
  // Scanned out by mistake it is missing again.
  const out = passed(K1, { station: "stripping" });
  const again = told({ ...withdrawn, station: "stripping", withdraws: out.operation.id });
  const load = now([wrong, right, out, again], row([K1, K2], [K1, K2]));
  expect(missingFrom(load).map(({ label }) => label)).toEqual([K1]);
});

it("a load that is over and off the devices is not made again by an old word", () => {
  const head = toldAs("curing.load", word, { seen: true });
  expect(loads([], [head], NOBODY, NOON)).toHaveLength(1);
  expect(loads([], [head], NOBODY, NOON + 25 * 3_600_000)).toEqual([]);
  const unsent = toldAs("curing.load", word);
  expect(loads([], [unsent], NOBODY, NOON + 25 * 3_600_000)).toHaveLength(1);
});

it("the last word about a load can be taken back, and only by whoever told it last", () => {
  const [began, ended] = ["2026-04-30T12:00:00.000Z", "2026-04-30T15:00:00.000Z"];
  const say = (started_at: string | null, ended_at: string | null, seen = false) =>
    toldAs("curing.load", { ...word, started_at, ended_at }, { seen });
  const all = [say(null, null), say(began, null), say(began, ended)];
  const of = (some: typeof all, rows: RowLike[] = []) => loads(rows, some, NOBODY, NOON)[0]!;
  expect(takesBack(of(all.slice(0, 1)), all.slice(0, 1))).toBeNull();
  const first = takesBack(of(all.slice(0, 2)), all.slice(0, 2));
  expect(first).toEqual({ load: "l", number: "26-1", started_at: null, ended_at: null });
  const back = takesBack(of(all), all);
  expect(back).toMatchObject({ started_at: began, ended_at: null });
  // Told, it is in the chamber again, and its beginning can be taken back as well.
  const again = [...all, toldAs("curing.load", back!)];
  expect(of(again)).toMatchObject({ state: "in", started_at: began, ended_at: "", chamber: "c1" });
  const undone = [...again, toldAs("curing.load", takesBack(of(again), again)!)];
  expect(of(undone)).toMatchObject({ state: "setting", started_at: "", ended_at: "" });
  expect(takesIn(of(undone)) && takesIn(of(again))).toBe(true);
  expect(takesIn(of(all))).toBe(false);
  // Answered, and the row shows it: an older word of this tablet does not begin it again.
  const row = (body: object) => ({
    entity: "cure_load",
    id: "l",
    body: { uid: "l", number: "26-1", state: "setting", ...body },
  });
  const answered = undone.map((one) => ({ ...one, seen: true }));
  expect(of(answered, [row({})])).toMatchObject({ state: "setting", started_at: "" });
  // The plant's own system has told another beginning meanwhile: that stands.
  const theirs = row({ state: "in", started_at: "2026-04-30T11:55:00.000Z" });
  const mine = [say(null, null, true), say(began, null, true)];
  expect(takesBack(of(mine, [theirs]), mine)).toBeNull();
  expect(takesBack(of([], [row({ state: "held", started_at: began })]), mine)).toBeNull();
});

it("the row's word that a load is held stands over what this tablet tells of it", () => {
  const row = { entity: "cure_load", id: "l", body: { uid: "l", number: "26-1", state: "held" } };
  expect(loads([row], [toldAs("curing.load", word)], NOBODY, NOON)[0]!.state).toBe("held");
});

const truck: RowLike = {
  entity: "consignment",
  id: "t",
  body: { uid: "t", way: "in", from: "s", labels: [{ label: K1 }, { label: K2 }] },
};

it("a truck is counted first; short, over and unknown are named, a kill takes nothing", () => {
  const [list] = consignments([truck]);
  const early = told({ label: K1, station: "receiving", outcome: "received" });
  const count = toldAs("dock.count_in", { consignment: "t", way: "in", counted: 2 });
  const one = told({ label: K1, station: "receiving", outcome: "received" });
  const over = told({ label: K3, station: "receiving", outcome: "received" });
  const all = [early, count, one, over];
  expect(countOf([early], "t")).toBeNull();
  expect(countOf(all, "t")?.counted).toBe(2);
  const works = new Map();
  const scanned = scannedFor(all, events(all), list!, { lists: [list!], works });
  expect(scanned).toEqual([K3, K1]);
  expect(reckon(list!, scanned, works)).toEqual({
    short: [K2],
    over: [K3],
    stays: [],
    scanned: 2,
  });
  const to = (label: string) => isTo(label, list!, { scanned, lists: [list!], works });
  expect([K1, K2, "A0000000"].map(to)).toEqual(["again", "listed", "unknown"]);
});

it("scans of the next truck are not those of the one before, nor what was taken back", () => {
  const [list] = consignments([truck]);
  const at = { lists: [list!], works: new Map() };
  const count = toldAs("dock.count_in", { consignment: "t", way: "in", counted: 2 });
  const one = told({ label: K1, station: "receiving", outcome: "received" });
  const next = toldAs("dock.count_in", { consignment: "u", way: "in", counted: 1 });
  const two = told({ label: K3, station: "receiving", outcome: "received" });
  const back = told({ label: K1, outcome: "withdrawn", withdraws: one.operation.id });
  const all = [count, one, next, two];
  expect(scannedFor(all, events(all), list!, at)).toEqual([K1]);
  const undone = [count, one, back];
  expect(scannedFor(undone, events(undone), list!, at)).toEqual([]);
});

it("a scan is the list's that names it, whichever truck was counted last", () => {
  const other = { ...truck, id: "u", body: { uid: "u", way: "in", labels: [{ label: K3 }] } };
  const lists = consignments([truck, other]);
  const of = (uid: string) => lists.find((one) => one.uid === uid)!;
  const counted = (uid: string, n: number) =>
    toldAs("dock.count_in", { consignment: uid, way: "in", counted: n });
  const received = (label: string) => told({ label, station: "receiving", outcome: "received" });
  const all = [counted("t", 2), received(K1), counted("u", 1), received(K2), received(K3)];
  const at = { lists, works: new Map() };
  const scanned = (uid: string, some = all) => scannedFor(some, events(some), of(uid), at);
  expect([scanned("t"), scanned("u")]).toEqual([[K2, K1], [K3]]);
  expect(reckon(of("t"), scanned("t"), at.works)).toMatchObject({ short: [], over: [] });
  expect(isTo(K2, of("t"), { ...at, scanned: scanned("t") })).toBe("again");
  // Of a truck that nobody has counted yet it lies with the one that it came off.
  const early = [counted("t", 2), received(K3)];
  expect(scanned("t", early)).toEqual([K3]);
  expect(scanned("u", [...early, counted("u", 1)])).toEqual([]);
});

it("a casing is on the list by whatever label names it, and by each of them once", () => {
  const out = { ...truck, body: { uid: "t", way: "out", labels: [{ label: K1 }, { label: K2 }] } };
  const [list] = consignments([out]);
  const both = workFrom("w", { label: K3, labels: [K3, K1] });
  const works = new Map([K1, K3].map((label) => [label, both]));
  const at = { lists: [list!], works };
  expect(listedAs(K3, list!, works)).toBe(K1);
  expect(listedAs("A0000000", list!, works)).toBeNull();
  expect(isTo(K3, list!, { ...at, scanned: [] })).toBe("listed");
  const count = toldAs("dock.count_in", { consignment: "t", way: "out", counted: 2 });
  const shipped = (label: string) => told({ label, station: "shipping", outcome: "shipped" });
  const all = [count, shipped(K3), shipped(K1)];
  const scanned = scannedFor(all, events(all), list!, at);
  expect(scanned).toEqual([K1]);
  expect(reckon(list!, scanned, works)).toMatchObject({ short: [K2], over: [] });
  for (const label of [K1, K3]) expect(isTo(label, list!, { ...at, scanned })).toBe("again");
});

it("on the way out a casing is gone where somebody says so, not where its row has yet to come", () => {
  const labels = [{ label: K1 }, { label: K2, state: "gone" }, { label: K3 }];
  const [list] = consignments([{ ...truck, body: { uid: "t", way: "out", labels } }]);
  const works = new Map([[K3, workFrom("w", { label: K3, stage: "shipped" })]]);
  expect(reckon(list!, [], works).short).toEqual([K1]);
});

it("what is on hold or not finished stays, and is not short, whether the list names it or not", () => {
  const labels = [
    { label: K1, state: "on_hold" },
    { label: K2, state: "not_finished" },
  ];
  const [out] = consignments([{ ...truck, body: { uid: "t", way: "out", labels } }]);
  expect(reckon(out!, [], new Map())).toMatchObject({ short: [], stays: [K1, K2] });
  const work = (more: object) => new Map([[K2, workFrom("w", { label: K2, ...more })]]);
  const hold = { event: "e", at: "", station: "paint", note: "odd", by: "" };
  expect(staysFor(K2, out!, work({ stage: "finished" }))).toBeNull();
  expect(staysFor(K2, out!, work({ stage: "finished", holds: [hold] }))).toBe("on_hold");
  for (const stage of ["in_work", "repair"])
    expect(staysFor(K2, out!, work({ stage }))).toBe("not_finished");
  const bare = { ...out!, labels: [] };
  expect(staysFor(K2, bare, work({ stage: "in_work" }))).toBe("not_finished");
  expect(staysFor(K2, bare, new Map())).toBeNull(); // nothing is known of it here
  // What comes is taken as it comes.
  expect(staysFor(K1, { ...out!, way: "in" }, new Map())).toBeNull();
});

it("what another tablet received from the same truck is not short here", () => {
  const [list] = consignments([truck]);
  const works = new Map([[K2, {} as never]]);
  expect(reckon(list!, [K1], works).short).toEqual([]);
  expect(workRow(K1).body).toMatchObject({ label: K1 });
});
