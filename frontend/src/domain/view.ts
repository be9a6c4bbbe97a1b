/**
 * What the driver sees: the server's rows with what this phone has told laid over them. Pure.
 *
 * The phone does not fold: an operation lies over the rows until its effect has been seen in them.
 * A casing is known by the id of its pick_up, which is its work order's id, so it neither
 * disappears between answer and pull nor shows twice.
 */
import type { Envelope, FinishPickup, PickUp, Withdraw } from "./operation";
import {
  type Casing,
  casingFromRow,
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

const WORSE: Standing[] = ["recorded", "waiting", "in_question", "needs_you"];
const worse = (a: Standing, b: Standing): Standing => (WORSE.indexOf(a) > WORSE.indexOf(b) ? a : b);

/** Every pickup that this phone knows of, the latest first. */
export function pickups(rows: RowLike[], told: Told[]): Pickup[] {
  const casings = new Map<string, Casing>();
  const visits = new Map<string, Pickup>();
  for (const row of rows) {
    if (row.body === null) continue;
    if (row.entity === "work_order") casings.set(row.id, casingFromRow(row.id, row.body));
    if (row.entity === "pickup") visits.set(row.id, visitFromRow(row.id, row.body));
  }
  const inOrder = [...told].sort(
    (a, b) => a.operation.stamp - b.operation.stamp || (a.operation.id < b.operation.id ? -1 : 1),
  );
  for (const one of inOrder) lay(one, casings, visits);
  for (const casing of casings.values()) {
    if (!casing.pickup) continue;
    const visit = visits.get(casing.pickup) ?? emptyVisit(casing.pickup, casing.yard);
    visits.set(casing.pickup, visit);
    visit.casings.push(casing);
    visit.standing = worse(visit.standing, casing.standing);
    if (casing.picked_up_at > visit.last_at) visit.last_at = casing.picked_up_at;
  }
  for (const visit of visits.values()) {
    visit.casings.sort((a, b) => (a.picked_up_at < b.picked_up_at ? -1 : 1));
    if (visit.casings.length > 0) visit.count = visit.casings.length;
  }
  return [...visits.values()].sort((a, b) => (a.last_at < b.last_at ? 1 : -1));
}

function lay(one: Told, casings: Map<string, Casing>, visits: Map<string, Pickup>): void {
  const { operation, standing } = one;
  const visible = !one.seen && standing !== "needs_you";
  if (operation.kind === "custody.pick_up") {
    const payload = operation.payload as PickUp;
    touch(visits, payload.pickup, payload.yard, operation.happened_at);
    const id = payload.corrects?.fact ?? operation.id;
    let { held } = one;
    if (payload.corrects == null) {
      // A refused pick_up stays in sight too: only its driver can set it right.
      if (casings.has(id))
        held = false; // what the rows show is held no more
      else if (!one.seen) casings.set(id, fromOperation(operation, payload));
    } else if (visible) {
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
  } else if (operation.kind === "custody.withdraw") {
    const { withdraws } = operation.payload as Withdraw;
    const casing = casings.get(withdraws.fact);
    if (casing === undefined) return;
    if (visible) casings.delete(withdraws.fact);
    else mark(casing, one);
  } else if (operation.kind === "custody.finish_pickup") {
    const payload = operation.payload as FinishPickup;
    const visit = touch(visits, payload.pickup, payload.yard, operation.happened_at);
    visit.standing = worse(visit.standing, standing);
    if (!visible) return;
    visit.finished_at = operation.happened_at;
    visit.customer_count = payload.customer_count ?? null;
  }
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
  note: payload.note ?? "",
  photos: payload.photos ?? [],
});

function fromOperation(operation: Envelope, payload: PickUp): Casing {
  return {
    id: operation.id,
    pickup: payload.pickup,
    yard: payload.yard,
    ...told(payload),
    told_label: payload.label,
    progress: "picked_up",
    on_hold: false,
    standing: "recorded",
    waiting_since: null,
    operations: [],
    by: operation.by,
    picked_up_at: operation.happened_at,
  };
}

function touch(visits: Map<string, Pickup>, id: string, yard: string, at: string): Pickup {
  const visit = visits.get(id) ?? emptyVisit(id, yard);
  visits.set(id, visit);
  visit.here = true;
  if (at > visit.last_at) visit.last_at = at;
  return visit;
}
