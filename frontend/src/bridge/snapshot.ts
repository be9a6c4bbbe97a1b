/** What the screens show, read from the three databases in one go. */
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
import type { Behind, Link } from "../domain/run";
import { type Move, view } from "../domain/view";
import type { Store } from "../store";
import {
  type BegunDelivery,
  type Draft,
  drafts,
  type Enrolment,
  type Shut,
  setting,
  type Visit,
} from "../store/local";
import { told } from "../store/outbox";
import type { Refusal } from "../store/outbox.schema";
import { marks, present } from "../store/replica";
import { overlay } from "../sync/overlay";

export interface NeedsYou extends Refusal {
  /** The label of the casing that it is about, where it is about one. */
/** Common practice of shared devices is 2 to 15 minutes; no published source. */
export const IDLE_MINUTES = 10;

  label: string | null;
}

export interface Snapshot {
  enrolment: Enrolment | null;
  shut: Shut | null;
  person: string | null;
  people: Person[];
  yards: Yard[];
  sites: Site[];
  /** Every casing that this phone knows of, by its id. */
  locked: Locked;
  /** Who has a PIN on this device. */
  pinned: string[];
  /** Wrong PINs in a row. */
  wrongPins: number;
  idleMinutes: number;
  /** Who holds it, or held it last. */
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
  behind: Behind[];
  links: Link[];
  drafts: Draft[];
  waiting: number;
  waitingSince: number | null;
  photos: number;
  needsYou: NeedsYou[];
  /** This phone has heard from the server at least once. */
  heard: boolean;
}
  /** Photos and signatures that the server has not answered for, refused ones too, by hash. */
  photosHere: Set<string>;

export async function snapshot(store: Store): Promise<Snapshot> {
  const { local } = store;
  const [kept, rows, seen, enrolment, shut, person, visits, begun, behind, links, open] =
    await Promise.all([
      told(store.outbox),
      present(store.replica),
      marks(store.replica),
      setting(local, "enrolment"),
      setting(local, "shut"),
      setting(local, "person"),
      setting(local, "visits"),
      setting(local, "deliveries"),
      setting(local, "behind"),
      setting(local, "links"),
      drafts(local),
    ]);
  const refused = new Set(kept.refusals.map((refusal) => refusal.id));
  const waiting = kept.entries.filter((entry) => !refused.has(entry.id));
  const laid = overlay(kept, seen);
  const labels = new Map(
    laid.map(({ operation }) => [operation.id, (operation.payload as { label?: string }).label]),
  );
  return {
    enrolment,
    shut,
    person,
    people: people(rows),
    yards: yards(rows),
    sites: sites(rows),
    ...view(rows, laid),
    runs: runs(rows),
    ranges: labelRanges(rows),
    spoiled: spoiledLabels(rows),
    rolls: rolls(rows),
    promises: promiseTable(rows, enrolment?.site ?? null),
    specifications: specifications(rows),
    visits: visits ?? [],
    begun: begun ?? [],
    behind: behind ?? [],
    links: links ?? [],
    drafts: open,
    waiting: waiting.length,
    waitingSince: waiting[0]?.entered_at ?? null,
    photos: kept.photos.filter((sha256) => !refused.has(sha256)).length,
    needsYou: kept.refusals.map((r) => ({ ...r, label: labels.get(r.id) ?? null })),
    heard: seen.seen !== null,
  };
}
    photosHere: new Set(kept.photos),
