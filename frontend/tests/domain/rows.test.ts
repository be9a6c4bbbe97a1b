/** Rows as the server writes them, and whatever else may stand in their place. */
import fc from "fast-check";
import { expect, it } from "vitest";
import {
  people,
  promiseTable,
  runs,
  sites,
  specifications,
  yards,
} from "../../src/domain/entities";
import { casingFromRow, type RowLike } from "../../src/domain/rows";
import { deliveryFromRow, visitFromRow } from "../../src/domain/visits";
import { view } from "../../src/domain/view";
import { golden } from "../golden/read";

const page: RowLike[] = golden("pull.page").rows.map((row: RowLike) => ({
  ...row,
  body: row.body ?? null,
}));
const STORE = "01960000-0000-7000-8000-0000000000e1";
const OWNER = "01960000-0000-7000-8000-0000000000c1";
const ORDER = "01963b1c-7a00-7c3e-8d21-5a0f3c6e0002";

it("a page's run is read with its stops, whole", () => {
  expect(runs(page)).toEqual([
    {
      id: "01963b1c-7a00-7c3e-8d21-5a0f3c6ec000",
      on: "2026-04-28",
      kind: "route",
      state: "handed",
      driver: "01960000-0000-7000-8000-0000000000b1",
      vehicle: "Truck 4",
      note: "",
      start: STORE,
      loaded_at: "2026-04-28T12:40:00.000Z",
      stops: [
        {
          uid: "01963b1c-7a00-7c3e-8d21-5a0f3c6ec001",
          yard: "01960000-0000-7000-8000-0000000000a1",
          site: null,
          from: "08:00",
          to: "10:00",
          fetch: 14,
          note: "ring at the gate",
          drop: [ORDER],
          arrived_at: "2026-04-28T14:02:00.000Z",
          skipped: { why: "closed", note: "chain on the gate", at: "2026-04-28T14:06:00.000Z" },
          loaded_at: null,
          why_added: null,
        },
      ],
    },
  ]);
});

it("a page's casing, yard, site, person, table and delivery are read", () => {
  const { casings, deliveries } = view(page, []);
  expect([...casings.values()]).toMatchObject([
    {
      id: ORDER,
      label: "K72K8T90",
      customer: OWNER,
      holder: "person:01960000-0000-7000-8000-0000000000b1",
      promised: { on: "2026-04-28", basis: "forecast", confidence: 90, table: 7 },
      stands: { on: "2026-05-04", basis: "forecast", confidence: 90 },
      purchase_order: "PO 4471",
      // Who holds it need not be who took it off the yard.
      by: null,
    },
  ]);
  expect(deliveries).toMatchObject([{ count: 1, lines: [], here: false, standing: "recorded" }]);
  expect(yards(page)).toMatchObject([{ customer: OWNER, customer_name: "Tarn Valley Haulage" }]);
  expect(sites(page)).toMatchObject([
    {
      id: STORE,
      name: "Bramblewick store",
      kind: "store",
      currency: "USD",
      time_zone: "America/Chicago",
    },
  ]);
  expect(people(page)).toMatchObject([{ name: "Dale Orrin", role: "driver" }]);
  const table = promiseTable(page, STORE);
  expect(table).toMatchObject({ version: 7, computed_on: "2026-04-14" });
  expect(table!.places.store).toEqual({ retread: ["2026-04-24", null] });
});

it("a page's specification is read whole, and a bare one asks nothing", () => {
  expect(specifications(page)).toEqual([
    {
      id: "01960000-0000-7000-8000-0000000000d1",
      customer: OWNER,
      yard: null,
      number: 2,
      oldest_years: 7,
      most_caps: 2,
      most_nail_holes: 4,
      repairs: ["old_nail_repair", "old_spot_repair"],
      brands: null,
      sizes: ["295/75R22.5", "11R22.5"],
      designs: { drive: "DL-41", trailer: "TR-12" },
      fleet_brand: "TVH",
      rejects: "ask",
      pull_32nds: 4,
    },
  ]);
  const [bare] = specifications([{ entity: "specification", id: "s", body: {} }]);
  expect(bare).toMatchObject({ yard: null, oldest_years: null, repairs: null, brands: null });
  expect(bare).toMatchObject({ sizes: null, designs: {}, rejects: "ask", pull_32nds: null });
});

const run = (id: string, body: object): RowLike => ({
  entity: "run",
  id,
  body: { state: "handed", on: "2026-04-28", stops: [], ...body },
});

it("only handed runs are read, the next day first", () => {
  const rows = [
    run("3", { on: "2026-04-29" }),
    run("2", {}),
    run("1", {}),
    run("4", { state: "back" }),
    run("5", { state: "written" }),
    { entity: "run", id: "6", body: null },
  ];
  expect(runs(rows).map(({ id }) => id)).toEqual(["1", "2", "3"]);
});

it("what is of another kind than it should be reads as nothing, in its place", () => {
  const stops = [
    null,
    7,
    [],
    { uid: "u", drop: ["a", null, 3, "b"], fetch: "14", from: 8, skipped: "no" },
  ];
  expect(runs([run("1", { stops })])[0]!.stops).toEqual([
    {
      uid: "u",
      yard: null,
      site: null,
      from: null,
      to: null,
      fetch: null,
      note: "",
      drop: ["a", "b"],
      arrived_at: null,
      skipped: null,
      loaded_at: null,
      why_added: null,
    },
  ]);
  const places = { yard: { retread: ["2026-04-24", 3, "2026-04-26"], repair: "soon" }, other: 1 };
  const table = { entity: "promise_table", id: STORE, body: { places } };
  expect(promiseTable([table], STORE)).toEqual({
    computed_on: "",
    valid_until: "",
    version: 0,
    places: { yard: { retread: ["2026-04-24", null, "2026-04-26"], repair: [] } },
    forecast: null,
    stock: [],
  });
  expect(promiseTable([{ ...table, body: { places: [] } }], STORE)).toBeNull();
  expect(promiseTable([table], null)).toBeNull();
  expect(casingFromRow("1", { tread_32nds: [4, "5", null, 6], photos: [1, "p"] })).toMatchObject({
    treads_32nds: [[4, 6]],
    photos: ["p"],
  });
});

it("no row, whatever stands in it, stops the phone from showing the others", () => {
  const entity = fc.constantFrom(
    "work_order",
    "pickup",
    "delivery",
    "run",
    "site",
    "person",
    "yard",
  );
  const key = fc.constantFrom("label", "pickup", "stops", "drop", "holder", "places", "promised");
  const body = fc.dictionary(key, fc.jsonValue(), { maxKeys: 7 });
  const rows = fc.array(fc.record({ entity, id: fc.uuid(), body: fc.option(body) }), {
    maxLength: 6,
  });
  fc.assert(
    fc.property(rows, (some) => {
      const all = [...some, ...page] as RowLike[];
      expect(view(all, []).casings.get(ORDER)?.label).toBe("K72K8T90");
      expect(runs(all).some(({ id }) => id === "01963b1c-7a00-7c3e-8d21-5a0f3c6ec000")).toBe(true);
      for (const read of [people, sites, yards]) expect(read(all).length).toBeGreaterThan(0);
      promiseTable(all, STORE);
    }),
  );
});

it("a visit's counts and ends are read, or are nothing", () => {
  expect(visitFromRow("1", { count: "2", customer_count: null, finished_at: 3 })).toMatchObject({
    count: 0,
    customer_count: null,
    finished_at: null,
    last_at: "",
  });
  expect(deliveryFromRow("1", { store: "", count: Number.NaN })).toMatchObject({
    store: null,
    count: 0,
  });
});
