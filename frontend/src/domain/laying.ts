/**
 * How one operation of this phone lies over the server's rows until they show it. Pure.
 *
 * A leg of the way is never taken back by an earlier one: what the plant has received is there,
 * whatever hand-over on the way to it is told later. So says the server's fold too.
 */
import type {
  CountScrap,
  Deliver,
  EmptyTrailer,
  Envelope,
  FinishDelivery,
  FinishPickup,
  HandOver,
  LeaveHere,
  PickUp,
  Relabel,
  Remind,
  Withdraw,
} from "./operation";
import { isNamed } from "./replaced";
import type { Casing, Delivery, HandedBack, Pickup, Standing, VisitLine } from "./rows";
import { fromOperation, lineFrom, sayable, toldOfLine } from "./fromTold";
import { deliveryFromRow, emptyVisit } from "./visits";

/** An operation of this phone: what became of it, and whether the rows show it yet. */
export interface Told {
  operation: Envelope;
  standing: Standing;
  /** The server keeps it, but cannot apply it yet. */
  held: boolean;
  seen: boolean;
  entered_at: number;
}

/** A hand-over that was told on this phone. */
export interface Move extends HandOver {
  id: string;
  /** Whose word it is. */
  by: string;
  at: string;
  standing: Standing;
}

export interface Laid {
  casings: Map<string, Casing>;
  visits: Map<string, Pickup>;
  /** Taken back ones too. */
  lines: Map<string, VisitLine>;
  deliveries: Map<string, Delivery>;
  moves: Move[];
  /** Whose each known yard is. */
  owners: Map<string, string>;
}

const WORSE: Standing[] = ["recorded", "waiting", "in_question", "needs_you"];
export const worse = (a: Standing, b: Standing): Standing =>
  WORSE.indexOf(a) > WORSE.indexOf(b) ? a : b;

const LAYS: Record<string, (one: Told, laid: Laid) => void> = {
  "custody.pick_up": layPickUp,
  "custody.withdraw": layWithdraw,
  "custody.relabel": layRelabel,
  "custody.remind": layRemind,
  "custody.count_scrap": layLine,
  "custody.leave_here": layLine,
  "custody.finish_pickup": layFinishPickup,
  "custody.empty_trailer": layEmptyTrailer,
  "custody.hand_over": layHandOver,
  "custody.deliver": layDeliver,
  "custody.finish_delivery": layFinishDelivery,
};

/** Lays them in the order of entry. */
export function lay(told: Told[], laid: Laid): void {
  const inOrder = [...told].sort(
    (a, b) => a.operation.stamp - b.operation.stamp || (a.operation.id < b.operation.id ? -1 : 1),
  );
  for (const one of inOrder) LAYS[one.operation.kind]?.(one, laid);
}

export const visible = (one: Told): boolean => !one.seen && one.standing !== "needs_you";

function layPickUp(one: Told, laid: Laid): void {
  const { casings, visits } = laid;
  const { operation } = one;
  const payload = operation.payload as PickUp;
  touch(visits, payload, operation.happened_at);
  const id = payload.corrects?.fact ?? operation.id;
  let { held } = one;
  if (payload.corrects == null) {
    // A refused pick_up stays in sight too: only its driver can set it right.
    if (casings.has(id))
      held = false; // what the rows show is held no more
    else if (!one.seen) casings.set(id, fromOperation(operation, payload, laid.owners));
  } else if (visible(one)) {
    const casing = casings.get(id);
    if (casing !== undefined) tellAgain(casing, payload);
  }
  const casing = casings.get(id);
  if (casing === undefined) return;
  if (payload.corrects == null) {
    casing.told_label = payload.label;
    casing.by = operation.by;
  }
  if (held || !one.held) mark(casing, one);
}

function layWithdraw(one: Told, { casings }: Laid): void {
  const { withdraws } = one.operation.payload as Withdraw;
  const casing = casings.get(withdraws.fact);
  if (casing === undefined) return;
  if (visible(one)) casings.delete(withdraws.fact);
  else mark(casing, one);
}

/** Scrap that was counted, or a casing that stays there: told, or told again. */
function layLine(one: Told, { visits, lines }: Laid): void {
  const payload = one.operation.payload as CountScrap | LeaveHere;
  touch(visits, payload, one.operation.happened_at);
  const id = payload.corrects ?? one.operation.id;
  let { held } = one;
  if (payload.corrects == null) {
    // As with a pick_up: one that was refused stays in sight, what the rows show is held no more.
    if (lines.has(id)) held = false;
    else if (!one.seen) lines.set(id, lineFrom(one.operation, payload));
  } else if (visible(one)) {
    const line = lines.get(id);
    if (line !== undefined) Object.assign(line, toldOfLine(payload));
  }
  const line = lines.get(id);
  if (line !== undefined && (held || !one.held)) mark(line, one);
}

/** What was told under the old label before stays told; whatever reads it finds the casing. */
function layRelabel(one: Told, { casings }: Laid): void {
  const { label, now } = one.operation.payload as Relabel;
  const casing = meant(casings, label, one.operation.happened_at, null);
  if (casing === null) return;
  if (visible(one)) wear(casing, now);
  mark(casing, one);
}

/** A step taken for its owner to fetch it: added to what the rows tell; nothing else changes. */
function layRemind(one: Told, { casings }: Laid): void {
  const { by, happened_at, payload } = one.operation;
  const { label, step, said = "", until = null } = payload as Remind;
  const casing = meant(casings, label, happened_at, null);
  if (casing === null) return;
  if (visible(one)) casing.reminders.push({ step, at: happened_at, by, said, until, decision: "" });
  mark(casing, one);
}

function wear(casing: Casing, now: string): void {
  const others = [...casing.void_labels, casing.label].filter((label) => label !== now);
  casing.void_labels = [...new Set(others)];
  casing.label = now;
}

function layFinishPickup(one: Told, { visits }: Laid): void {
  const payload = one.operation.payload as FinishPickup;
  const visit = touch(visits, payload, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  if (!visible(one)) return;
  visit.finished_at = one.operation.happened_at;
  visit.customer_count = payload.customer_count ?? null;
  visit.trailer = payload.trailer ?? null;
  visit.nobody_there = payload.nobody_there ?? false;
  visit.deposit_cents = payload.deposit_cents ?? null;
  visit.deposit_note = payload.deposit_note ?? "";
}

function layEmptyTrailer(one: Told, { visits }: Laid): void {
  const payload = one.operation.payload as EmptyTrailer;
  const visit = touch(visits, { ...payload, store: null }, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  if (visible(one)) visit.emptied_at = one.operation.happened_at;
}

function layHandOver(one: Told, { casings, moves }: Laid): void {
  const { id, by, happened_at } = one.operation;
  const payload = one.operation.payload as HandOver;
  moves.push({ ...payload, id, by, at: happened_at, standing: one.standing });
  const casing = meant(casings, payload.label, happened_at, payload.giver);
  // Its pick_up may not have come to this phone; the entry is sent all the same.
  if (casing === null || casing.progress === "returned") return;
  if (visible(one)) {
    // What a plant gives goes home, whatever way was told: so the server takes it too.
    const out = payload.way === "out" || payload.giver.startsWith("plant:");
    if (out) casing.progress = "shipped";
    // On its way to the plant a casing is handed on only until the plant has it.
    if (out || casing.progress === "picked_up") casing.holder = payload.taker;
    casing.here_since = out && payload.taker.startsWith("site:") ? happened_at : "";
  }
  mark(casing, one);
}

function layDeliver(one: Told, { casings, deliveries, owners }: Laid): void {
  const { id, happened_at } = one.operation;
  const payload = one.operation.payload as Deliver;
  const visit = touchDelivery(deliveries, payload, happened_at);
  visit.standing = worse(visit.standing, one.standing);
  const casing = meant(casings, payload.label, happened_at, null, one.seen);
  line(visit, { id, label: payload.label, casing: casing?.id ?? null, standing: one.standing });
  if (casing === null) return;
  if (visible(one)) {
    casing.holder = `customer:${owners.get(payload.yard) ?? casing.customer}`;
    casing.progress = "returned";
  }
  mark(casing, one);
}

/** Each label once; what the office could not take gives way to what was told again. */
function line(visit: Delivery, told: HandedBack): void {
  const at = visit.lines.findIndex((one) => one.label === told.label);
  if (at < 0) visit.lines.push(told);
  else if (visit.lines[at]!.standing === "needs_you") visit.lines[at] = told;
}

function layFinishDelivery(one: Told, { deliveries }: Laid): void {
  const payload = one.operation.payload as FinishDelivery;
  const visit = touchDelivery(deliveries, payload, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  if (visible(one)) visit.finished_at = one.operation.happened_at;
}

/**
 * Which casing is meant by a label that was scanned at an instant: the one that wears it, else one
 * that wore it before; not withdrawn, not back with
 * its owner if there is another; of two that wear it the giver's own, else the latest before it.
 */
function meant(
  casings: Map<string, Casing>,
  label: string,
  at: string,
  giver: string | null,
  back = false,
): Casing | null {
  const score = (casing: Casing): number =>
    (casing.label === label ? 8 : 0) +
    ((casing.progress === "returned") === back ? 4 : 0) +
    (giver !== null && casing.holder === giver ? 2 : 0) +
    (casing.picked_up_at <= at ? 1 : 0);
  let found: Casing | null = null;
  for (const casing of casings.values()) {
    if (!isNamed(casing, label) || casing.pickup === "") continue;
    const better = found === null ? 1 : score(casing) - score(found);
    if (better > 0 || (better === 0 && casing.picked_up_at > found!.picked_up_at)) found = casing;
  }
  return found;
}

function mark(it: Casing | VisitLine, one: Told): void {
  // What the rows show by now is theirs to judge; what they do not show yet is ours.
  if (one.seen && !one.held && one.standing !== "needs_you") return;
  it.standing = worse(it.standing, one.standing);
  it.operations.push(one.operation.id);
  if (one.standing === "waiting")
    it.waiting_since = Math.min(it.waiting_since ?? Infinity, one.entered_at);
}

/** A label that was replaced meanwhile stays replaced, whatever the sheet was filled in under. */
function tellAgain(casing: Casing, payload: PickUp): void {
  const replaced = isNamed(casing, payload.label);
  const { label, void_labels } = casing;
  Object.assign(casing, sayable(payload), replaced ? { label, void_labels } : { void_labels: [] });
}

interface Visited {
  yard: string;
  store?: string | null;
}

function touch(
  visits: Map<string, Pickup>,
  said: Visited & { pickup: string },
  at: string,
): Pickup {
  const visit = visits.get(said.pickup) ?? emptyVisit(said.pickup, said.yard);
  visits.set(said.pickup, visit);
  visit.here = true;
  visit.store ??= said.store ?? null;
  if (at > visit.last_at) visit.last_at = at;
  return visit;
}

function touchDelivery(
  deliveries: Map<string, Delivery>,
  said: Visited & { delivery: string },
  at: string,
): Delivery {
  const visit =
    deliveries.get(said.delivery) ??
    deliveryFromRow(said.delivery, { yard: said.yard, store: said.store });
  deliveries.set(said.delivery, visit);
  visit.here = true;
  if (at > visit.last_at) visit.last_at = at;
  return visit;
}
