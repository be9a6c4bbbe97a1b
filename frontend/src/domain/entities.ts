/**
 * The rows of each entity beside casings and visits, read from all that came: who, where, what is
 * promised, driven, accepted and printed. Pure.
 */
import { aheadFrom, type Body, isBody, list, number, numbers, text, texts } from "./body";
import type { Specification } from "./eligibility";
import type { Condition } from "./operation";
import { type UnclaimedDays, USUAL_DAYS } from "./reminding";
import type {
  ForecastTable,
  PromiseTable,
  Person,
  Roll,
  RowLike,
  Run,
  Site,
  Stop,
  Yard,
} from "./rows";

/** How sure a day is, in percent, where a row is older than the figure. */
const USUAL_PERCENT = 90;

const byName = (a: { name: string }, b: { name: string }): number => a.name.localeCompare(b.name);

/** The rows of one entity that are there, each as something. */
function read<T>(rows: RowLike[], entity: string, as: (id: string, body: Body) => T): T[] {
  return rows.flatMap((row) =>
    row.entity === entity && isBody(row.body) ? [as(row.id, row.body)] : [],
  );
}

export const people = (rows: RowLike[]): Person[] =>
  read(rows, "person", (id, body) => ({ id, name: text(body.name), role: text(body.role) })).sort(
    byName,
  );

export const yards = (rows: RowLike[]): Yard[] =>
  read(rows, "yard", (id, body) => ({
    id,
    name: text(body.name),
    customer: text(body.customer),
    customer_name: text(body.customer_name),
    promise_percent: number(body.promise_percent) ?? USUAL_PERCENT,
    address: text(body.address),
    contact_name: text(body.contact_name),
    contact_phone: text(body.contact_phone),
    lat: number(body.lat),
    lon: number(body.lon),
  })).sort((a, b) => a.customer_name.localeCompare(b.customer_name) || byName(a, b));

export const sites = (rows: RowLike[]): Site[] =>
  read(rows, "site", (id, body) => ({
    id,
    name: text(body.name),
    kind: text(body.kind),
    phone: text(body.phone),
    currency: /^[A-Z]{3}$/.exec(text(body.currency))?.[0] ?? "",
    time_zone: text(body.time_zone),
    unclaimed: unclaimedFrom(body.unclaimed),
  })).sort(byName);

const unclaimedFrom = (said: unknown): UnclaimedDays => {
  const told = isBody(said) ? said : {};
  return {
    call: number(told.call) ?? USUAL_DAYS.call,
    write: number(told.write) ?? USUAL_DAYS.write,
    hold: number(told.hold) ?? USUAL_DAYS.hold,
  };
};

/** What customers accept, for all of their yards or for one. */
export const specifications = (rows: RowLike[]): Specification[] =>
  read(rows, "specification", (id, body) => ({
    id,
    customer: text(body.customer),
    yard: text(body.yard) || null,
    number: number(body.number) ?? 0,
    oldest_years: number(body.oldest_years),
    most_caps: number(body.most_caps),
    most_nail_holes: number(body.most_nail_holes),
    repairs: body.repairs == null ? null : (texts(body.repairs) as Condition[]),
    brands: body.brands == null ? null : texts(body.brands),
    sizes: body.sizes == null ? null : texts(body.sizes),
    designs: isBody(body.designs) ? (body.designs as Specification["designs"]) : {},
    fleet_brand: text(body.fleet_brand),
    rejects: REJECTS.find((what) => what === body.rejects) ?? "ask",
    pull_32nds: number(body.pull_32nds),
  }));

const REJECTS: Specification["rejects"][] = ["ask", "return", "scrap", "buy"];

/** The load sheets that are with their drivers, the next first. */
export const runs = (rows: RowLike[]): Run[] =>
  read(rows, "run", runFrom)
    .filter((run) => run.state === "handed")
    .sort((a, b) => a.on.localeCompare(b.on) || a.id.localeCompare(b.id));

const runFrom = (id: string, body: Body): Run => ({
  id,
  on: text(body.on),
  kind: text(body.kind),
  state: text(body.state),
  driver: text(body.driver) || null,
  vehicle: text(body.vehicle),
  note: text(body.note),
  start: text(body.start),
  loaded_at: text(body.loaded_at) || null,
  stops: list(body.stops).filter(isBody).map(stopFrom),
});

const stopFrom = (said: Body): Stop => ({
  uid: text(said.uid),
  yard: text(said.yard) || null,
  site: text(said.site) || null,
  from: text(said.from) || null,
  to: text(said.to) || null,
  fetch: number(said.fetch),
  note: text(said.note),
  drop: texts(said.drop),
  arrived_at: text(said.arrived_at) || null,
  skipped: isBody(said.skipped)
    ? { why: text(said.skipped.why), note: text(said.skipped.note), at: text(said.skipped.at) }
    : null,
  loaded_at: text(said.loaded_at) || null,
  why_added: typeof said.why_added === "string" ? said.why_added : null,
});

/** The table of this phone's store, if it has come. */
export function promiseTable(rows: RowLike[], store: string | null): PromiseTable | null {
  const body = rows.find((row) => row.entity === "promise_table" && row.id === store)?.body;
  if (!isBody(body) || !isBody(body.places)) return null;
  const places: PromiseTable["places"] = {};
  for (const [place, works] of Object.entries(body.places)) {
    if (!isBody(works)) continue;
    const days = Object.entries(works).map(([work, offered]) => [work, list(offered).map(dayFrom)]);
    places[place] = Object.fromEntries(days) as Record<string, (string | null)[]>;
  }
  return {
    computed_on: text(body.computed_on),
    valid_until: text(body.valid_until),
    version: number(body.version) ?? 0,
    places,
    forecast: forecastFrom(body.forecast),
    stock: list(body.stock)
      .filter(isBody)
      .map((one) => ({
        size: text(one.size),
        tread_design: text(one.tread_design),
        count: number(one.count) ?? 0,
      })),
  };
}

/** The server makes it and has checked it; an older server tells none. */
function forecastFrom(said: unknown): ForecastTable | null {
  if (!isBody(said) || !isBody(said.days) || !isBody(said.runs)) return null;
  return {
    made_at: text(said.made_at),
    valid_until: text(said.valid_until),
    percents: numbers(said.percents),
    days: said.days as ForecastTable["days"],
    runs: said.runs as ForecastTable["runs"],
    ahead: aheadFrom(said.ahead),
  };
}

/** A hand-over day on which nothing can be offered stays in its place: days are counted. */
const dayFrom = (value: unknown): string | null => text(value) || null;

/** The ranges in which the dealer has printed labels. */
export const labelRanges = (rows: RowLike[]): string[] =>
  read(rows, "label_range", (_, body) => texts(body.ranges)).flat();

/** Labels that were found damaged before use, and are void. */
export const spoiledLabels = (rows: RowLike[]): string[] =>
  read(rows, "label_range", (_, body) => texts(body.void)).flat();

export const rolls = (rows: RowLike[]): Roll[] =>
  read(rows, "label_roll", (id, body) => ({
    id,
    holder: text(body.holder),
    labels: texts(body.labels),
  }));
