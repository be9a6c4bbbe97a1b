/**
 * A casing or a line of a visit in the shape of a row, from what this phone told of it. Pure; what
 * lies over what is laying.ts.
 */
import { promisedFrom, tinsFrom, treadsFrom } from "./body";
import type { CountScrap, Envelope, LeaveHere, PickUp } from "./operation";
import type { Casing, VisitLine } from "./rows";

/** Where an earlier version said it under another name. */
const ONCE: Record<string, string> = {
  picked_up_under: "label",
  tins: "tin",
  treads_32nds: "tread_32nds",
};

/** What an earlier version could not say yet stays as it was told. */
export const sayable = (payload: PickUp) =>
  Object.fromEntries(
    Object.entries(told(payload)).filter(
      ([key]) => key in payload || (ONCE[key] ?? key) in payload,
    ),
  );

const told = (payload: PickUp) => ({
  label: payload.label,
  picked_up_under: payload.label,
  line: payload.line ?? "retread",
  tins: tinsFrom({ ...payload }),
  size: payload.size ?? "",
  rating: payload.rating ?? "",
  brand: payload.brand ?? "",
  treads_32nds: treadsFrom({ ...payload }),
  position: payload.position ?? "",
  wheel: payload.wheel ?? "",
  odometer: payload.odometer ?? null,
  odometer_in: payload.odometer_in ?? "mi",
  pulled_for: payload.pulled_for ?? "",
  findings: payload.findings ?? [],
  check: payload.check ?? null,
  fleet_brand: payload.fleet_brand ?? "",
  sale: payload.sale ?? null,
  complaint: payload.complaint ?? "",
  rim: payload.rim ?? "",
  valve_out: payload.valve_out ?? false,
  work: payload.work ?? "retread",
  basis: payload.basis ?? "own",
  tread_design: payload.tread_design ?? "",
  purchase_order: payload.purchase_order ?? "",
  unit: payload.unit ?? "",
  back_to: payload.back_to ?? "yard",
  // An app of before told less of a promise, and its operations are still here.
  promised: promisedFrom(payload.promised),
  dual_with: payload.dual_with ?? "",
  note: payload.note ?? "",
  photos: payload.photos ?? [],
});

/** As the phone shows it until the server does; `owners`: whose each known yard is. */
export function fromOperation(
  operation: Envelope,
  payload: PickUp,
  owners: Map<string, string>,
): Casing {
  const store = payload.store ?? null;
  return {
    id: operation.id,
    pickup: payload.pickup,
    yard: payload.yard,
    customer: owners.get(payload.yard) ?? "",
    dealers: "",
    ...told(payload),
    void_labels: [],
    store,
    told_label: payload.label,
    progress: "picked_up",
    reason: "",
    here_since: "",
    stands: null,
    reminders: [],
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

export function toldOfLine(payload: CountScrap | LeaveHere) {
  const scrap = "count" in payload ? payload : null;
  const left = scrap === null ? (payload as LeaveHere) : null;
  return {
    yard: payload.yard,
    withdrawn: scrap === null ? (left?.taken ?? false) : scrap.count === 0,
    count: scrap?.count ?? 0,
    fee_cents: scrap?.fee_cents ?? null,
    manifest: scrap?.manifest ?? "",
    tins: left?.tins ?? [],
    size: left?.size ?? "",
    brand: left?.brand ?? "",
    findings: left?.findings ?? [],
    check: left?.check ?? null,
    note: payload.note ?? "",
    photos: payload.photos ?? [],
  };
}

export function lineFrom(operation: Envelope, payload: CountScrap | LeaveHere): VisitLine {
  return {
    id: operation.id,
    kind: operation.kind === "custody.count_scrap" ? "scrap" : "left",
    pickup: payload.pickup,
    store: payload.store ?? null,
    at: operation.happened_at,
    ...toldOfLine(payload),
    standing: "recorded",
    waiting_since: null,
    operations: [],
  };
}
