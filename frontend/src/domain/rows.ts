/** The server's rows as the phone reads them; a field that is missing reads as nothing. Pure. */
import {
  type Body,
  checkFrom,
  findingsFrom,
  isBody,
  number,
  promisedFrom,
  remindersFrom,
  text,
  texts,
  tinsFrom,
  treadsFrom,
} from "./body";
import type { Reminder, UnclaimedDays } from "./reminding";
import type { Ahead, Check, Finding, Promised, Sale, Tin, Trailer } from "./operation";

/** How a thing stands, as far as this phone knows. */
export type Standing = "waiting" | "recorded" | "in_question" | "needs_you";

export interface RowLike {
  entity: string;
  id: string;
  body: Record<string, unknown> | null;
}

export interface Casing {
  id: string;
  pickup: string;
  yard: string;
  /** Whose it is; empty where not known. */
  customer: string;
  /** What made it the dealer's: "sold", "exchanged"; empty while it is the customer's. */
  dealers: string;
  label: string;
  /** Those that it wore before and that are void now. */
  void_labels: string[];
  /** The one that it was picked up under, as corrected. */
  picked_up_under: string;
  /** The label that its pick_up was first told under: a correction names it. */
  told_label: string;
  line: string;
  tins: Tin[];
  size: string;
  rating: string;
  brand: string;
  treads_32nds: (number | null)[][];
  position: string;
  wheel: string;
  odometer: number | null;
  odometer_in: string;
  pulled_for: string;
  findings: Finding[];
  check: Check | null;
  fleet_brand: string;
  sale: Sale | null;
  complaint: string;
  rim: string;
  valve_out: boolean;
  work: string;
  basis: string;
  tread_design: string;
  purchase_order: string;
  unit: string;
  back_to: string;
  promised: Promised | null;
  /** The new day that the customer was told in its place; null where the promised one stands. */
  stands: Promised | null;
  /** The label of the other casing of a pair of matched duals; "" where there is none. */
  dual_with: string;
  /** The counter that took it in; none in a yard. */
  store: string | null;
  note: string;
  photos: string[];
  progress: string;
  /** Why it was rejected; empty where it was not. It stays when a rejected casing goes home. */
  reason: string;
  station: string;
  /** `person:`, `site:`, `plant:`, `road:` or `customer:` and an id; empty where not known. */
  holder: string;
  on_hold: boolean;
  /** When it came to the rack that it lies on, on its way home; empty where that is not told. */
  here_since: string;
  /** What was done so that its owner fetches it, in order. */
  reminders: Reminder[];
  standing: Standing;
  /** Since when the oldest unsent word about it waits. */
  waiting_since: number | null;
  operations: string[];
  /** Who took it off the yard, as far as is known here. */
  by: string | null;
  picked_up_at: string;
}

/** A line of a pickup without a label: scrap that was counted, or a casing that stays there. */
export interface VisitLine {
  /** Its first telling, which the end of the visit and every correction name. */
  id: string;
  kind: "scrap" | "left";
  pickup: string;
  yard: string;
  store: string | null;
  /** Nothing was scrap after all, or it was taken after all. */
  withdrawn: boolean;
  at: string;
  /** Of scrap: how many, what the customer pays for each, the paper they travel under. */
  count: number;
  fee_cents: number | null;
  manifest: string;
  /** Of what stays: what was read and seen of it. */
  tins: Tin[];
  size: string;
  brand: string;
  findings: Finding[];
  check: Check | null;
  note: string;
  photos: string[];
  standing: Standing;
  waiting_since: number | null;
  operations: string[];
}

export interface Pickup {
  id: string;
  yard: string;
  store: string | null;
  casings: Casing[];
  /** Scrap and what stays there, in the order told; what was taken back is not among them. */
  lines: VisitLine[];
  count: number;
  customer_count: number | null;
  /** Taken closed: its casings are labelled where it is emptied. */
  trailer: Trailer | null;
  /** When the list of its trailer was told; null while it stands closed, or where there is none. */
  emptied_at: string | null;
  nobody_there: boolean;
  deposit_cents: number | null;
  deposit_note: string;
  finished_at: string | null;
  /** Something about it was told on this phone. */
  here: boolean;
  standing: Standing;
  last_at: string;
}

/** One casing handed back, as this phone has told it: a label, with or without a casing known. */
export interface HandedBack {
  /** The deliver operation, which the end of the visit names. */
  id: string;
  label: string;
  casing: string | null;
  standing: Standing;
}

/** A visit in which casings were handed back; `casings` are the ids of their work orders. */
export interface Delivery {
  id: string;
  yard: string;
  store: string | null;
  casings: string[];
  /** What was told here, in its order, each label once; another phone's is known by its count. */
  lines: HandedBack[];
  count: number;
  finished_at: string | null;
  /** Something about it was told on this phone. */
  here: boolean;
  standing: Standing;
  last_at: string;
}

/** A place on a run: a yard or a site of the dealer's. Times are written as 08:00. */
export interface Stop {
  uid: string;
  yard: string | null;
  site: string | null;
  from: string | null;
  to: string | null;
  /** How many casings are said to wait there. */
  fetch: number | null;
  note: string;
  /** The work orders to be dropped there. */
  drop: string[];
  arrived_at: string | null;
  /** It was not made; `why` is a key. */
  skipped: Skipped | null;
  /** What is taken on there is on the truck. */
  loaded_at: string | null;
  /** Why a driver has added it, perhaps in no words; null where the office wrote it. */
  why_added: string | null;
}

export interface Skipped {
  why: string;
  note: string;
  at: string;
}

/** A load sheet that was handed to a driver. */
export interface Run {
  id: string;
  on: string;
  kind: string;
  state: string;
  driver: string | null;
  vehicle: string;
  note: string;
  start: string;
  /** The truck has left its start. */
  loaded_at: string | null;
  stops: Stop[];
}

export interface Site {
  id: string;
  name: string;
  kind: string;
  phone?: string;
  /** The dealer's, ISO 4217; empty where it is not known yet. */
  currency?: string;
  /** The dealer's, by its IANA name; empty where it is not known yet. */
  time_zone?: string;
  /** After how many days a step about a casing that waits is proposed. */
  unclaimed?: UnclaimedDays;
}

/**
 * What this store may promise. places: by standard times, by place (a yard's id or "store"), by
 * work, a day for each hand-over day from `computed_on` on; null where none can be offered.
 * forecast: by the plants' forecasts, as `domain/forecast.ts` reads it. stock: finished casings of
 * the dealer's own at the store.
 */
export interface PromiseTable {
  computed_on: string;
  valid_until: string;
  version: number;
  places: Record<string, Record<string, (string | null)[]>>;
  forecast: ForecastTable | null;
  stock: Stock[];
}

/** days: by work, size class and group, for each of `percents` the days from the hand-over to the
 * day at the store; false where none can be promised, null where nothing is said. runs: the weekdays (0 is Monday) of each yard's truck. */
export interface ForecastTable {
  made_at: string;
  valid_until: string;
  percents: number[];
  days: Record<string, Record<string, Record<string, (number | false | null)[][]>>>;
  runs: Record<string, number[]>;
  ahead: Ahead[];
}

export interface Stock {
  size: string;
  tread_design: string;
  count: number;
}

export interface Person {
  id: string;
  name: string;
  role: string;
}

export interface Yard {
  id: string;
  name: string;
  customer: string;
  customer_name: string;
  /** How sure its promised days are, in percent. */
  promise_percent?: number;
  address: string;
  /** Whom to call there; empty where nobody is named. */
  contact_name?: string;
  contact_phone?: string;
  /** Of its gate, in degrees (WGS 84); null where not known. */
  lat?: number | null;
  lon?: number | null;
}

/** A roll of labels that somebody has. */
export interface Roll {
  id: string;
  /** The person's id. */
  holder: string;
  /** In the order of their serials, which is that on the roll. */
  labels: string[];
}

export function casingFromRow(id: string, body: Body): Casing {
  return {
    id,
    pickup: body.withdrawn === true ? "" : text(body.pickup),
    yard: text(body.yard),
    customer: text(body.customer),
    dealers: text(body.dealers),
    label: text(body.label),
    void_labels: texts(body.void_labels),
    picked_up_under: text(body.picked_up_under) || text(body.label),
    told_label: text(body.picked_up_under) || text(body.label),
    line: text(body.line) || (text(body.work) === "repair" ? "repair" : "retread"),
    tins: tinsFrom(body),
    size: text(body.size),
    rating: text(body.rating),
    brand: text(body.brand),
    treads_32nds: treadsFrom(body),
    position: text(body.position),
    wheel: text(body.wheel),
    odometer: number(body.odometer),
    odometer_in: text(body.odometer_in),
    pulled_for: text(body.pulled_for),
    findings: findingsFrom(body),
    check: checkFrom(body),
    fleet_brand: text(body.fleet_brand),
    sale: isBody(body.sale) ? (body.sale as unknown as Sale) : null,
    complaint: text(body.complaint),
    rim: text(body.rim),
    valve_out: body.valve_out === true,
    work: text(body.work),
    basis: text(body.basis),
    tread_design: text(body.tread_design),
    purchase_order: text(body.purchase_order),
    unit: text(body.unit),
    back_to: text(body.back_to),
    promised: promisedFrom(body.promised),
    stands: promisedFrom(body.stands),
    dual_with: text(body.dual_with),
    store: text(body.store) || null,
    note: text(body.note),
    photos: texts(body.photos),
    progress: text(body.progress),
    reason: text(body.reason),
    station: text(body.station),
    holder: text(body.holder),
    on_hold: body.on_hold === true,
    here_since: text(body.here_since),
    reminders: remindersFrom(body.reminders),
    standing: body.contested === true ? "in_question" : "recorded",
    waiting_since: null,
    operations: [],
    // Who holds it may be the second or third to do so: rows do not say who took it off the yard.
    by: null,
    picked_up_at: text(body.picked_up_at),
  };
}

/** The day for which it is promised by now; null where it is for none. */
export const dueOn = ({ promised, stands }: Pick<Casing, "promised" | "stands">): string | null =>
  (promised && (stands ?? promised).on) ?? null;

/** The TIN that a casing is spoken of by: the first that was read. */
export const tinOf = (casing: { tins: Tin[] }): string => casing.tins[0]?.tin ?? "";

/** All depths that were read, in a row. */
export const depthsOf = (casing: { treads_32nds: (number | null)[][] }): number[] =>
  casing.treads_32nds.flat().filter((depth) => depth !== null);
