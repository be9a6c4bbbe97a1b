/** The replica against a plain table: whatever pages come, it shows what the table shows. */
import "fake-indexeddb/auto";
import fc from "fast-check";
import { expect, it } from "vitest";
import { hasAny, openReplica, type Page, present, type Row, take } from "../../src/store/replica";

let count = 0;
const open = () => openReplica(`heaps-${++count}-`);
const key = (row: Row) => `${row.scope} ${row.entity} ${row.id}`;

const row = fc.record({
  scope: fc.constantFrom("site:1", "site:2", "run:7"),
  entity: fc.constantFrom("yard", "work_order"),
  id: fc.nat(40).map(String),
  version: fc.nat(6),
  gone: fc.boolean(),
});
const page = fc.record({
  rows: fc.array(row, { maxLength: 60 }),
  forget: fc.subarray(["site:1", "site:2", "run:7"], { maxLength: 1 }),
  more: fc.boolean(),
  times: fc.constantFrom(1, 1, 1, 40),
});

const asPage = (rows: Row[], forget: string[] = [], more = false): Page => ({
  epoch: "e",
  cursor: "c",
  horizon: "9",
  more,
  rows,
  forget,
});

/** As a table of one row a key would have it, the newest of each id over all scopes. */
function shown(table: Map<string, Row>): Map<string, number> {
  const best = new Map<string, number>();
  for (const one of table.values()) {
    if (one.gone) continue;
    const id = `${one.entity} ${one.id}`;
    best.set(id, Math.max(best.get(id) ?? -1, one.version));
  }
  return best;
}

it("shows what a table of one row a key would show", { timeout: 60_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(page, { maxLength: 12 }), async (pages) => {
      const db = await open();
      const table = new Map<string, Row>();
      let spread = 0;
      // Within one pull versions come in any order; the feed never goes back behind a whole one.
      let whole = 0;
      for (const { rows, forget, more, times } of pages) {
        // Forty times over under other ids: as many rows as a store's phone has.
        const all = Array.from({ length: times }, () =>
          times === 1 ? "" : `${spread++}-`,
        ).flatMap((before) =>
          rows.map((one) => ({
            ...one,
            id: before + one.id,
            version: whole + one.version,
            body: one.gone ? null : { name: `${whole + one.version}` },
          })),
        );
        for (const scope of forget)
          for (const [at, one] of table) if (one.scope === scope) table.delete(at);
        for (const one of all)
          if (one.version > (table.get(key(one))?.version ?? -1)) table.set(key(one), one);
        for (let at = 0; at < Math.max(all.length, 1); at += 500)
          await take(db, asPage(all.slice(at, at + 500), at === 0 ? forget : [], more));
        if (!more) whole += 10;
      }
      const rows = await present(db);
      const found = new Map(rows.map((one) => [`${one.entity} ${one.id}`, one.version]));
      expect(found).toEqual(shown(table));
      for (const one of rows) expect(one.body).toEqual({ name: `${one.version}` });
      expect(await hasAny(db, "yard")).toBe(rows.some((one) => one.entity === "yard"));
      db.close();
    }),
    { numRuns: 60 },
  );
});

it("a row that changes all day does not fill the device, nor does a day of single rows", async () => {
  const db = await open();
  const one = (version: number, id = "a"): Row => ({
    scope: "site:1",
    entity: "yard",
    id,
    version,
    gone: false,
    body: { name: "North yard" },
  });
  for (let version = 1; version <= 300; version++) await take(db, asPage([one(version)]));
  for (let i = 0; i < 300; i++) await take(db, asPage([one(1, `${i}`)]));
  const lengths = (await db.getAll("heaps")).map((rows) => rows.length);
  expect(lengths.length).toBeLessThan(12); // one and one make two: as many as the number has digits
  expect(await present(db)).toHaveLength(301);

  const five = (version: number) => Array.from({ length: 500 }, (_, i) => one(version, `b${i}`));
  for (let version = 1; version <= 30; version++) await take(db, asPage(five(version)));
  const lying = (await db.getAll("heaps")).flat().length;
  expect(lying).toBeLessThan(2 * 801 + 2000 + 500);
  expect(await present(db)).toHaveLength(801);
  db.close();
});

it("of what is gone for good nothing is kept: what a plant has shipped all year weighs nothing", async () => {
  const db = await open();
  const casing = (id: string, version: number): Row => ({
    scope: "site:1",
    entity: "plant_work",
    id,
    version,
    gone: version === 2,
    body: version === 2 ? null : { label: id },
  });
  const week = (of: number) => Array.from({ length: 400 }, (_, i) => `${of}-${i}`);
  for (let of = 0; of < 52; of++) {
    await take(db, asPage(week(of).map((id) => casing(id, 1))));
    await take(db, asPage(week(of).map((id) => casing(id, 2))));
  }
  await take(db, asPage([casing("here", 1)]));
  expect(await present(db)).toHaveLength(1);
  expect((await db.getAll("heaps")).flat().length).toBeLessThan(2000 + 2 * 400 + 1);
  db.close();
});
