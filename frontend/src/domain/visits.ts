/** Rows of visits as the phone reads them: pickups, their lines without a label, deliveries. Pure. */
import { type Body, checkFrom, findingsFrom, isBody, number, text, texts, tinsFrom } from "./body";
import type { Trailer } from "./operation";
import type { Delivery, Pickup, VisitLine } from "./rows";

export function emptyVisit(id: string, yard: string): Pickup {
  const none = {
    store: null,
    casings: [],
    lines: [],
    count: 0,
    customer_count: null,
    trailer: null,
    emptied_at: null,
    nobody_there: false,
    deposit_cents: null,
    deposit_note: "",
    finished_at: null,
  };
  return { id, yard, ...none, here: false, standing: "recorded", last_at: "" };
}

export function visitFromRow(id: string, body: Body): Pickup {
  const count = number(body.count) ?? 0;
  const customer_count = number(body.customer_count);
  const finished_at = text(body.finished_at) || null;
  const visit = emptyVisit(id, text(body.yard));
  const store = text(body.store) || null;
  return {
    ...visit,
    store,
    count,
    customer_count,
    trailer: trailerFrom(body.trailer),
    emptied_at: text(body.emptied_at) || null,
    nobody_there: body.nobody_there === true,
    deposit_cents: number(body.deposit_cents),
    deposit_note: text(body.deposit_note),
    finished_at,
    last_at: finished_at ?? "",
  };
}

const trailerFrom = (said: unknown): Trailer | null =>
  isBody(said) ? { number: text(said.number), seal: text(said.seal), left: text(said.left) } : null;

export function visitLineFromRow(id: string, body: Body): VisitLine {
  return {
    id,
    kind: body.kind === "left" ? "left" : "scrap",
    pickup: text(body.pickup),
    yard: text(body.yard),
    store: text(body.store) || null,
    withdrawn: body.withdrawn === true,
    at: text(body.at),
    count: number(body.count) ?? 0,
    fee_cents: number(body.fee_cents),
    manifest: text(body.manifest),
    tins: tinsFrom(body),
    size: text(body.size),
    brand: text(body.brand),
    findings: findingsFrom(body),
    check: checkFrom(body),
    note: text(body.note),
    photos: texts(body.photos),
    standing: "recorded",
    waiting_since: null,
    operations: [],
  };
}

export function deliveryFromRow(id: string, body: Body): Delivery {
  const finished_at = text(body.finished_at) || null;
  return {
    id,
    yard: text(body.yard),
    store: text(body.store) || null,
    casings: [],
    lines: [],
    count: number(body.count) ?? 0,
    finished_at,
    here: false,
    standing: "recorded",
    last_at: finished_at ?? "",
  };
}
