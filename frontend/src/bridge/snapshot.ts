/** What the screens show, read from the three databases in one go. */
import { reckonIn } from "../domain/days";
import type { Specification } from "../domain/eligibility";
import {
  labelRanges,
  people,
  promiseTable,
  rolls,
  runs,
  sites,
  specifications,
  spoiledLabels,
  yards,
} from "../domain/entities";
import { laidOnRuns } from "../domain/happening";
import type { Left } from "../domain/left";
import type {
  Casing,
  Delivery,
  Person,
  Pickup,
  PromiseTable,
  Roll,
  Run,
  Site,
  Yard,
} from "../domain/rows";
import type { Link } from "../domain/run";
import type { RowLike } from "../domain/rows";
import { type Move, type Told, view } from "../domain/view";
import type { Store } from "../store";
import {
  type BegunDelivery,
  type Draft,
  drafts,
  type Enrolment,
  type FloorKept,
  type Shut,
  setting,
  type Visit,
} from "../store/local";
import { held } from "../store/held";
import { leftOutPhotos } from "../store/leftOut";
import { told } from "../store/outbox";
import type { Refusal } from "../store/outbox.schema";
import { marks, present } from "../store/replica";
import type { Opened } from "../sync/opened";
import { overlay } from "../sync/overlay";

/** Common practice of shared devices is 2 to 15 minutes; no published source. */
export const IDLE_MINUTES = 10;

/** What a plant's screens are made of; they read it themselves, as other devices have none of it. */
export interface Floor {
  kept: FloorKept | null;
  rows: RowLike[];
  told: Told[];
}

const OF_A_PLANT = new Set([
  "plant_work",
  "plant_route",
  "repair_limits",
  "tread_targets",
  "consignment",
  "cure_load",
]);
const TOLD_AT_A_PLANT = new Set(["inspection.tell", "dock.count_in", "curing.load"]);

export interface NeedsYou extends Refusal {
  /** The label of the casing that it is about, where it is about one. */
  label: string | null;
}

/** `new`: nobody has a PIN here yet. `emptied`: nobody has one any more, the office has to help. */
export type Locked = "new" | "locked" | "open" | "emptied";

export interface Snapshot {
  enrolment: Enrolment | null;
  shut: Shut | null;
  locked: Locked;
  /** Who has a PIN on this device. */
  pinned: string[];
  /** Wrong PINs in a row. */
  wrongPins: number;
  idleMinutes: number;
  left: Left;
  /** Who holds it, or opened it last. */
  person: string | null;
  people: Person[];
  yards: Yard[];
  sites: Site[];
  /** Every casing that this phone knows of, by its id. */
  casings: Map<string, Casing>;
  pickups: Pickup[];
  deliveries: Delivery[];
  /** Hand-overs told on this phone, in the order of entry. */
  moves: Move[];
  /** Load sheets that are with their drivers, the next first. */
  runs: Run[];
  /** The ranges of labels that the dealer has begun; empty where this phone has not heard. */
  ranges: string[];
  /** Labels that are void though no casing wore them. */
  spoiled: string[];
  /** The rolls of labels that somebody of this store has. */
  rolls: Roll[];
  promises: PromiseTable | null;
  /** What customers accept of a casing. */
  specifications: Specification[];
  /** Begun here, with or without a casing yet. */
  visits: Visit[];
  begun: BegunDelivery[];
  links: Link[];
  drafts: Draft[];
  /** A half-filled sheet is in the memory of this page only: there was no room for it. */
  unsaved: boolean;
  waiting: number;
  waitingSince: number | null;
  photos: number;
  /** Photos of what was entered that lie with their sheet until there is room. */
  leftOut: number;
  /** Photos and signatures that the server has not answered for, refused ones too, by hash. */
  photosHere: Set<string>;
  needsYou: NeedsYou[];
  floor: Floor;
  /** This phone has heard from the server at least once. */
  heard: boolean;
}

export async function snapshot(store: Store, opened: Opened): Promise<Snapshot> {
  const { local } = store;
  const [kept, rows, seen, enrolment, shut, person, visits, begun, links, open] = await Promise.all(
    [
      told(store.outbox),
      present(store.replica),
      marks(store.replica),
      setting(local, "enrolment"),
      setting(local, "shut"),
      setting(local, "person"),
      setting(local, "visits"),
      setting(local, "deliveries"),
      setting(local, "links"),
      drafts(local),
    ],
  );
  const leftOut = await leftOutPhotos(local);
  const [pins, tries, idleMinutes, left] = await Promise.all([
    setting(local, "pins"),
    setting(local, "pin_tries"),
    setting(local, "idle_minutes"),
    setting(local, "left"),
  ]);
  const floor = await setting(local, "floor");
  const pinned = (pins?.copies ?? []).map((copy) => copy.person);
  const refused = new Set(kept.refusals.map((refusal) => refusal.id));
  const waiting = kept.entries.filter((entry) => !refused.has(entry.id));
  const laid = overlay(kept, seen);
  const labels = new Map(
    laid.map(({ operation }) => [operation.id, (operation.payload as { label?: string }).label]),
  );
  const places = sites(rows);
  // One dealer, one calendar: the last that was told stands while a pull brings the sites afresh.
  const zone = places[0]?.time_zone;
  if (zone !== undefined) reckonIn(zone);
  return {
    enrolment,
    shut,
    locked: locked(enrolment, pinned, opened),
    pinned,
    wrongPins: tries?.wrong ?? 0,
    idleMinutes: idleMinutes ?? IDLE_MINUTES,
    left: left ?? {},
    person: opened.person ?? person,
    people: people(rows),
    yards: yards(rows),
    sites: places,
    ...view(rows, laid),
    runs: laidOnRuns(runs(rows), laid),
    ranges: labelRanges(rows),
    spoiled: spoiledLabels(rows),
    rolls: rolls(rows),
    promises: promiseTable(rows, enrolment?.site ?? null),
    specifications: specifications(rows),
    visits: visits ?? [],
    begun: begun ?? [],
    links: links ?? [],
    drafts: open,
    unsaved: held(local).size > 0,
    waiting: waiting.length,
    waitingSince: waiting[0]?.entered_at ?? null,
    photos: kept.photos.filter((sha256) => !refused.has(sha256)).length + leftOut.length,
    leftOut: leftOut.length,
    photosHere: new Set([...kept.photos, ...leftOut.map(({ sha256 }) => sha256)]),
    needsYou: kept.refusals.map((r) => ({ ...r, label: labels.get(r.id) ?? null })),
    floor: {
      kept: floor,
      rows: rows.filter(({ entity }) => OF_A_PLANT.has(entity)),
      told: laid.filter(({ operation }) => TOLD_AT_A_PLANT.has(operation.kind)),
    },
    heard: seen.seen !== null,
  };
}

function locked(enrolment: Enrolment | null, pinned: string[], opened: Opened): Locked {
  if (enrolment === null) return "new";
  if (opened.token !== null && opened.person !== null && pinned.includes(opened.person))
    return "open";
  if (pinned.length > 0) return "locked";
  return enrolment.read_token === null ? "emptied" : "new";
}

/** The visits that somebody began here and nobody has finished. */
export const openHere = (now: Snapshot): string[] => [
  ...now.visits.map(({ pickup }) => pickup),
  ...now.begun.map(({ delivery }) => delivery),
  ...[...now.pickups, ...now.deliveries]
    .filter((one) => one.here && one.finished_at === null)
    .map(({ id }) => id),
];
