/** The forecast's day against the vectors that the server is held to. */
import { describe, expect, it } from "vitest";
import { promiseTable } from "../../src/domain/entities";
import { forecastDay, inForce } from "../../src/domain/forecast";
import type { PromiseTable } from "../../src/domain/rows";
import { vectors } from "../golden/read";

const told = vectors("offers") as {
  tables: Record<string, PromiseTable>;
  cases: {
    about: string;
    table: string;
    work: string;
    size_class: string;
    count: number;
    percent: number;
    place: string;
    handed_over: string;
    now: string;
    on: string | false | null;
  }[];
};

const body = (name: string) => ({ ...told.tables[name]! });

/** As it comes to the phone: a row of the feed. */
const onPhone = (name: string): PromiseTable | null =>
  promiseTable([{ entity: "promise_table", id: "s", body: body(name) }], "s");

describe("the vectors", () => {
  it.each(told.cases)("$about", (one) => {
    const { work, size_class, count, percent, place, handed_over, now } = one;
    const asked = { work, sizeClass: size_class, count, percent };
    expect(forecastDay(onPhone(one.table), asked, place, handed_over, now)).toBe(one.on);
  });
});

it("without a table, and from a server that knows of no forecasts, nothing is offered", () => {
  const asked = { work: "retread", sizeClass: "", count: 1, percent: 90 };
  expect(forecastDay(null, asked, "yard", "2026-04-20", "2026-04-20T12:00:00.000Z")).toBeNull();
  const { forecast: _, stock: __, ...older } = told.tables.usual!;
  const rows = [{ entity: "promise_table", id: "s", body: older }];
  const table = promiseTable(rows, "s");
  expect(table).toMatchObject({ forecast: null, stock: [] });
  expect(inForce(table, "2026-04-20T12:00:00.000Z")).toBeNull();
});

it.each([
  { days: { retread: 3 } },
  { days: { retread: { "": { "1": [["soon"]] } } } },
  { days: { retread: { "": { "1": "x" } } } },
  { runs: { yard: 3 } },
  { percents: ["ninety"] },
  { days: { retread: { "": { "1": [[-3.5]] } } } },
])("%o says nothing, and stops nobody", (odd) => {
  const usual = told.tables.few!;
  const row = { ...usual, forecast: { ...usual.forecast, ...odd } };
  const table = promiseTable([{ entity: "promise_table", id: "s", body: row }], "s");
  const asked = { work: "retread", sizeClass: "", count: 1, percent: 90 };
  expect(forecastDay(table, asked, "yard", "2026-04-20", "2026-04-20T12:00:00.000Z")).toBeNull();
});

it("a reason that the server would not take with a promise is left out, and the day stands", () => {
  const fits = { name: "ñ".repeat(80), name_es: "n".repeat(80), count: 99_999 };
  const odd = [
    { ...fits, name: "n".repeat(81) },
    { ...fits, name_es: "n".repeat(81) },
    { ...fits, count: 0 },
    { ...fits, count: 100_000 },
    { ...fits, count: 1.5 },
    "soon",
  ];
  const usual = told.tables.usual!;
  const ahead = (ahead: unknown) => {
    const row = { ...usual, forecast: { ...usual.forecast, ahead } };
    const table = promiseTable([{ entity: "promise_table", id: "s", body: row }], "s");
    expect(inForce(table, "2026-04-20T12:00:00.000Z")).not.toBeNull();
    return table?.forecast?.ahead;
  };
  expect(ahead([...odd, fits])).toEqual([fits]);
  expect(ahead([fits, fits, fits, fits])).toHaveLength(3);
});
