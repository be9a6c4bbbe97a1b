/**
 * What the driver sees: the server's rows with what this phone has told laid over them. Pure.
 *
 * The phone does not fold: an operation lies over the rows until its effect has been seen in them.
 * A casing is known by the id of its pick_up, which is its work order's id, so it neither
 * disappears between answer and pull nor shows twice.
 */
import type {
  Deliver,
  Envelope,
  FinishDelivery,
  FinishPickup,
  HandOver,
  PickUp,
  Withdraw,
} from "./operation";
import {
  type Casing,
  casingFromRow,
  type Delivery,
  deliveryFromRow,
  emptyVisit,
  type Pickup,
  type RowLike,
  type Standing,
  visitFromRow,
} from "./rows";

/** An operation of this phone: what became of it, and whether the rows show it yet. */
export interface Told {
  operation: Envelope;
  standing: Standing;
  /** The server keeps it, but cannot apply it yet. */
  held: boolean;
  seen: boolean;
  entered_at: number;
}

/** Everything that this phone knows of; pickups and deliveries the latest first. */
export interface View {
  casings: Map<string, Casing>;
  pickups: Pickup[];
  deliveries: Delivery[];
}

interface Laid {
  casings: Map<string, Casing>;
  visits: Map<string, Pickup>;
  deliveries: Map<string, Delivery>;
}

const WORSE: Standing[] = ["recorded", "waiting", "in_question", "needs_you"];
const worse = (a: Standing, b: Standing): Standing => (WORSE.indexOf(a) > WORSE.indexOf(b) ? a : b);

export function view(rows: RowLike[], told: Told[]): View {
  const laid: Laid = { casings: new Map(), visits: new Map(), deliveries: new Map() };
  const { casings, visits, deliveries } = laid;
  for (const row of rows) {
    if (row.body === null) continue;
    if (row.entity === "work_order") casings.set(row.id, casingFromRow(row.id, row.body));
    if (row.entity === "pickup") visits.set(row.id, visitFromRow(row.id, row.body));
    if (row.entity === "delivery") deliveries.set(row.id, deliveryFromRow(row.id, row.body));
  }
  const inOrder = [...told].sort(
    (a, b) => a.operation.stamp - b.operation.stamp || (a.operation.id < b.operation.id ? -1 : 1),
  );
  for (const one of inOrder) lay(one, laid);
  for (const casing of casings.values()) {
    if (!casing.pickup) continue;
    const visit = visits.get(casing.pickup) ?? emptyVisit(casing.pickup, casing.yard);
    visits.set(casing.pickup, visit);
    visit.casings.push(casing);
    visit.store ??= casing.store;
    visit.standing = worse(visit.standing, casing.standing);
    if (casing.picked_up_at > visit.last_at) visit.last_at = casing.picked_up_at;
  }
  for (const visit of visits.values()) {
    visit.casings.sort((a, b) => (a.picked_up_at < b.picked_up_at ? -1 : 1));
    if (visit.casings.length > 0) visit.count = visit.casings.length;
  }
  return { casings, pickups: latest(visits), deliveries: latest(deliveries) };
}

const latest = <T extends { last_at: string }>(visits: Map<string, T>): T[] =>
  [...visits.values()].sort((a, b) => (a.last_at < b.last_at ? 1 : -1));

/** The casing that wears a label now: not withdrawn, not back with its owner; the latest if two. */
export function wearing(casings: Iterable<Casing>, label: string): Casing | null {
  let found: Casing | null = null;
  for (const casing of casings) {
    if (casing.label !== label || casing.pickup === "" || casing.progress === "returned") continue;
    if (found === null || casing.picked_up_at > found.picked_up_at) found = casing;
  }
  return found;
}

const LAYS: Record<string, (one: Told, laid: Laid) => void> = {
  "custody.pick_up": layPickUp,
  "custody.withdraw": layWithdraw,
  "custody.finish_pickup": layFinishPickup,
  "custody.hand_over": layHandOver,
  "custody.deliver": layDeliver,
  "custody.finish_delivery": layFinishDelivery,
};

const lay = (one: Told, laid: Laid): void => LAYS[one.operation.kind]?.(one, laid);

const visible = (one: Told): boolean => !one.seen && one.standing !== "needs_you";

function layPickUp(one: Told, { casings, visits }: Laid): void {
  const { operation } = one;
  const payload = operation.payload as PickUp;
  touch(visits, payload, operation.happened_at);
  const id = payload.corrects?.fact ?? operation.id;
  let { held } = one;
  if (payload.corrects == null) {
    // A refused pick_up stays in sight too: only its driver can set it right.
    if (casings.has(id))
      held = false; // what the rows show is held no more
    else if (!one.seen) casings.set(id, fromOperation(operation, payload));
  } else if (visible(one)) {
    const casing = casings.get(id);
    if (casing !== undefined) Object.assign(casing, told(payload));
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

function layFinishPickup(one: Told, { visits }: Laid): void {
  const payload = one.operation.payload as FinishPickup;
  const visit = touch(visits, payload, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  if (!visible(one)) return;
  visit.finished_at = one.operation.happened_at;
  visit.customer_count = payload.customer_count ?? null;
}

function layHandOver(one: Told, { casings }: Laid): void {
  const payload = one.operation.payload as HandOver;
  const casing = wearing(casings.values(), payload.label);
  if (casing === null) return; // its pick_up has not come to this phone; the entry is sent all the same
  if (visible(one)) {
    casing.holder = payload.taker;
    if (payload.way === "out") casing.progress = "shipped";
  }
  mark(casing, one);
}

function layDeliver(one: Told, { casings, deliveries }: Laid): void {
  const payload = one.operation.payload as Deliver;
  const visit = touchDelivery(deliveries, payload, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  const casing =
    wearing(casings.values(), payload.label) ??
    [...casings.values()].find((c) => c.label === payload.label && c.progress === "returned");
  if (casing === undefined) return;
  if (!visit.casings.includes(casing.id)) visit.casings.push(casing.id);
  visit.count = Math.max(visit.count, visit.casings.length);
  if (visible(one)) {
    casing.holder = "customer:";
    casing.progress = "returned";
  }
  mark(casing, one);
}

function layFinishDelivery(one: Told, { deliveries }: Laid): void {
  const payload = one.operation.payload as FinishDelivery;
  const visit = touchDelivery(deliveries, payload, one.operation.happened_at);
  visit.standing = worse(visit.standing, one.standing);
  if (visible(one)) visit.finished_at = one.operation.happened_at;
}

function mark(casing: Casing, one: Told): void {
  // What the rows show by now is theirs to judge; what they do not show yet is ours.
  if (one.seen && !one.held && one.standing !== "needs_you") return;
  casing.standing = worse(casing.standing, one.standing);
  casing.operations.push(one.operation.id);
  if (one.standing === "waiting")
    casing.waiting_since = Math.min(casing.waiting_since ?? Infinity, one.entered_at);
}

const told = (payload: PickUp) => ({
  label: payload.label,
  tin: payload.tin ?? "",
  size: payload.size ?? "",
  tread_32nds: payload.tread_32nds ?? [],
  work: payload.work ?? "retread",
  basis: payload.basis ?? "own",
  tread_design: payload.tread_design ?? "",
  purchase_order: payload.purchase_order ?? "",
  unit: payload.unit ?? "",
  back_to: payload.back_to ?? "yard",
  promised: payload.promised ?? null,
  note: payload.note ?? "",
  photos: payload.photos ?? [],
});

function fromOperation(operation: Envelope, payload: PickUp): Casing {
  const store = payload.store ?? null;
  return {
    id: operation.id,
    pickup: payload.pickup,
    yard: payload.yard,
    ...told(payload),
    store,
    told_label: payload.label,
    progress: "picked_up",
    reason: "",
    station: "",
    holder: store === null ? `person:${operation.by}` : `site:${store}`,
    on_hold: false,
    standing: "recorded",
    waiting_since: null,
    operations: [],
    by: operation.by,
    picked_up_at: operation.happened_at,
  };
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
